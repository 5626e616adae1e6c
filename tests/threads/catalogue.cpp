// SPDX-License-Identifier: Apache-2.0
// The catalogue used from many threads at once: the same answers as from one. Built with ThreadSanitizer by
// tests/threads/run, the same tests also see what the answers do not show.
#include "core/catalogue/catalogue.hpp"

#include <gtest/gtest.h>

#include <barrier>
#include <cstring>
#include <thread>

#include "core/catalogue/checks.hpp"
#include "core/catalogue/units.hpp"

namespace pullsheet::catalogue {
namespace {

constexpr std::size_t thread_count = 8;

/// Runs `work(thread)` in all threads, which start at the same moment.
template <class Work>
void at_once(Work work) {
    std::barrier start(static_cast<std::ptrdiff_t>(thread_count));
    std::vector<std::jthread> threads;
    for (std::size_t thread = 0; thread < thread_count; ++thread)
        threads.emplace_back([&start, &work, thread] {
            start.arrive_and_wait();
            work(thread);
        });
}

bool same(const Cell& one, const Cell& other) {
    if (one.index() != other.index()) return false;
    if (const auto* number = std::get_if<double>(&one))
        return std::memcmp(number, &std::get<double>(other), sizeof *number) == 0;
    if (const auto* text = std::get_if<std::string>(&one)) return *text == std::get<std::string>(other);
    if (const auto* failure = std::get_if<Failure>(&one))
        return failure->kind == std::get<Failure>(other).kind &&
               failure->sentence == std::get<Failure>(other).sentence;
    return true;
}

bool same(const Value& one, const Value& other) {
    const auto* table = std::get_if<Table>(&one);
    const auto* second = std::get_if<Table>(&other);
    if (!table != !second) return false;
    if (!table) {
        const auto cell = [](const Value& value) {
            Cell result;
            std::visit(
                [&](const auto& content) {
                    if constexpr (!std::is_same_v<std::decay_t<decltype(content)>, Table>) result = content;
                },
                value);
            return result;
        };
        return same(cell(one), cell(other));
    }
    if (table->rows() != second->rows() || table->columns() != second->columns()) return false;
    for (std::size_t r = 0; r < table->rows(); ++r)
        for (std::size_t c = 0; c < table->columns(); ++c)
            if (!same(table->at(r, c), second->at(r, c))) return false;
    return true;
}

// The first thing this process asks of the catalogue, so that all threads find the lists, the units, the
// bibliography, the block schemas and the gas tables not yet made.
TEST(CatalogueInThreads, FirstUseAndEveryExampleAtOnce) {
    std::vector<std::vector<Outcome>> outcomes(thread_count);
    std::vector<std::size_t> known(thread_count);
    at_once([&](std::size_t thread) {
        known[thread] = functions().size() + citation_keys().size() + checks().size() +
                        unit_symbols(Quantity::pressure).size() + (find_unit("psi") != nullptr ? 1 : 0) +
                        (find_function("AIR.DENSITY") != nullptr ? 1 : 0);
        const std::size_t count = functions().size();
        outcomes[thread].resize(count);
        // Half of the threads go the same way, so that they meet in every function; the others start
        // elsewhere.
        const std::size_t first = thread % 2 == 0 ? 0 : thread * count / thread_count;
        for (std::size_t i = 0; i < count; ++i) {
            const Function& function = functions()[(first + i) % count];
            outcomes[thread][(first + i) % count] = evaluate(function, function.example.arguments);
        }
    });
    for (std::size_t i = 0; i < functions().size(); ++i) {
        const Function& function = functions()[i];
        // A copy under another name, as it were: the memo is asked for the same call once
        // more.
        const Outcome alone = evaluate(function, function.example.arguments);
        for (std::size_t thread = 0; thread < thread_count; ++thread) {
            EXPECT_TRUE(same(outcomes[thread][i].value, alone.value))
                << function.name.view() << " in thread " << thread;
            EXPECT_EQ(outcomes[thread][i].warnings, alone.warnings)
                << function.name.view() << " in thread " << thread;
            EXPECT_EQ(known[thread], known[0]);
        }
    }
}

// More calls than are remembered, from all threads, so that entries are added, found and dropped at the same
// time.
TEST(CatalogueInThreads, WhatIsRememberedBelongsToItsCall) {
    std::size_t remembered = 0;
    for (const Function& function : functions()) {
        if (!function.remembered) continue;
        ++remembered;
        constexpr std::size_t calls = 400;
        at_once([&](std::size_t thread) {
            for (std::size_t i = 0; i < 1000; ++i) {
                const std::string mark = "mark " + std::to_string((i * (thread + 1)) % calls);
                std::vector<Value> arguments = function.example.arguments;
                arguments[0] = Failure{FailureKind::no_data, mark};
                const Outcome outcome = evaluate(function, arguments);
                const auto* failure = std::get_if<Failure>(&outcome.value);
                ASSERT_NE(failure, nullptr);
                EXPECT_TRUE(failure->sentence.ends_with(mark)) << failure->sentence << " for " << mark;
            }
        });
    }
    EXPECT_GT(remembered, 0u);
}

}  // namespace
}  // namespace pullsheet::catalogue
