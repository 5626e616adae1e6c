// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/memo.hpp"

#include <utility>

namespace pullsheet::catalogue {
namespace {

constexpr std::size_t most_outcomes = 1024;
constexpr std::size_t most_bytes = std::size_t{1} << 25;

std::size_t size_of(const std::pair<const std::string, Outcome>& entry) {
    const auto* table = std::get_if<Table>(&entry.second.value);
    return entry.first.size() + (table ? table->rows() * table->columns() * sizeof(Cell) : 0);
}

}  // namespace

std::optional<Outcome> Memo::find(const std::string& key) {
    const std::lock_guard lock(mutex_);
    const auto known = outcomes_.find(key);
    return known == outcomes_.end() ? std::nullopt : std::optional(known->second);
}

void Memo::add(std::string key, const Outcome& outcome) {
    const std::lock_guard lock(mutex_);
    const auto [entry, is_new] = outcomes_.try_emplace(std::move(key), outcome);
    if (!is_new) return;  // another thread has stored it
    oldest_first_.push_back(&entry->first);
    size_ += size_of(*entry);
    while (oldest_first_.size() > most_outcomes || (size_ > most_bytes && oldest_first_.size() > 1)) {
        const auto oldest = outcomes_.find(*oldest_first_.front());
        oldest_first_.pop_front();
        size_ -= size_of(*oldest);
        outcomes_.erase(oldest);
    }
}

std::string memo_key(const Function& function, std::span<const Value> arguments, Language language) {
    std::string key(function.name.view());
    key += language == Language::english ? 'e' : 'g';
    const auto add_cell = [&](const auto& content) {
        using Content = std::decay_t<decltype(content)>;
        if constexpr (std::is_same_v<Content, double>)
            key.append("n").append(reinterpret_cast<const char*>(&content), sizeof content);
        else if constexpr (std::is_same_v<Content, std::string>)
            key.append("t").append(std::to_string(content.size())).append(":").append(content);
        else if constexpr (std::is_same_v<Content, Failure>)
            key.append("f")
                .append(std::to_string(static_cast<int>(content.kind)))
                .append(":")
                .append(std::to_string(content.sentence.size()))
                .append(":")
                .append(content.sentence);
        else
            key.append("-");
    };
    for (const Value& value : arguments) {
        if (const auto* table = std::get_if<Table>(&value)) {
            key.append("r")
                .append(std::to_string(table->rows()))
                .append("x")
                .append(std::to_string(table->columns()))
                .append(":");
            for (std::size_t r = 0; r < table->rows(); ++r)
                for (std::size_t c = 0; c < table->columns(); ++c) std::visit(add_cell, table->at(r, c));
        } else {
            std::visit(
                [&](const auto& content) {
                    if constexpr (!std::is_same_v<std::decay_t<decltype(content)>, Table>) add_cell(content);
                },
                value);
        }
    }
    return key;
}

}  // namespace pullsheet::catalogue
