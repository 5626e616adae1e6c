// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/block.hpp"

#include <algorithm>
#include <numeric>

#include "core/catalogue/reader.hpp"

namespace pullsheet::catalogue {
namespace {

Refused refuse(Language language, Phrase phrase, Fill fill) {
    return {FailureKind::wrong_argument, say(language, phrase, fill)};
}

// The label of the schema that `written` stands for; for a numbered label the number in it goes to `number`.
const Label* match(const BlockSchema& schema, std::string_view written, double& number) {
    const std::string normal = normal_label(written);
    for (const Label& label : schema.labels)
        if (!label.is_numbered() && normal_label(label.name) == normal) return &label;
    for (const Label& label : schema.labels) {
        if (!label.is_numbered()) continue;
        const std::string pattern = normal_label(label.name);
        const auto hash = pattern.find('#');
        const std::string_view head(pattern.data(), hash);
        const std::string tail = pattern.substr(hash + 1);
        if (normal.size() <= head.size() || !normal.starts_with(head)) continue;
        NumberText parsed;
        if (split_number(std::string_view(normal).substr(head.size()), parsed) && parsed.tidy &&
            (normal_label(parsed.unit) == tail || (!tail.empty() && parsed.unit.empty()))) {
            number = parsed.number;
            return &label;
        }
    }
    return nullptr;
}

const Unit* unit_of(const Label& label) {
    return label.unit.empty() ? nullptr : find_unit(label.unit);
}

}  // namespace

std::string normal_label(std::string_view label) {
    constexpr std::string_view no_break_space = "\u00a0";
    std::string result;
    for (std::size_t i = 0; i < label.size(); ++i) {
        const char c = label[i];
        if (c == ' ' || c == '\t' || c == '-' || c == '_' || c == '\r' || c == '\n') continue;
        if (label.substr(i).starts_with(no_break_space)) {
            i += no_break_space.size() - 1;
            continue;
        }
        result += (c >= 'A' && c <= 'Z') ? static_cast<char>(c - 'A' + 'a') : c;
    }
    return result;
}

std::string_view nearest(std::string_view word, const std::vector<std::string_view>& known) {
    const std::string wanted = normal_label(word);
    std::string_view best;
    std::size_t best_distance = std::max<std::size_t>(2, wanted.size() / 3) + 1;
    std::vector<std::size_t> row;
    for (const auto candidate : known) {
        const std::string other = normal_label(candidate);
        // There are at least as many edits as the lengths differ by.
        if (std::max(wanted.size(), other.size()) - std::min(wanted.size(), other.size()) >= best_distance)
            continue;
        // Edit distance of Levenshtein (1966), one row at a time.
        row.resize(other.size() + 1);
        std::iota(row.begin(), row.end(), std::size_t{0});
        for (std::size_t i = 1; i <= wanted.size(); ++i) {
            std::size_t diagonal = row[0];
            row[0] = i;
            for (std::size_t j = 1; j <= other.size(); ++j) {
                const std::size_t above = row[j];
                row[j] = std::min(
                    {row[j] + 1, row[j - 1] + 1, diagonal + (wanted[i - 1] == other[j - 1] ? 0u : 1u)});
                diagonal = above;
            }
        }
        if (row.back() < best_distance) {
            best_distance = row.back();
            best = candidate;
        }
    }
    return best;
}

bool looks_like_block(const Table& table) {
    if (table.columns() < 2 || table.columns() > 4) return false;
    for (std::size_t r = 0; r < table.rows(); ++r) {
        const Cell& cell = table.at(r, 0);
        if (is_blank(cell)) continue;
        const auto* text = std::get_if<std::string>(&cell);
        NumberText parsed;
        return text && !split_number(*text, parsed);
    }
    return false;
}

bool Block::has(std::string_view label) const {
    return entries_.contains(normal_label(label)) || numbered_.contains(normal_label(label));
}

std::optional<double> Block::find(std::string_view label) const {
    const auto found = entries_.find(normal_label(label));
    if (found != entries_.end()) return found->second.number;
    for (const Label& known : schema_->labels)
        if (known.name == label && known.default_value) {
            const Unit* unit = unit_of(known);
            return unit ? unit->to_si(*known.default_value, known.quantity) : *known.default_value;
        }
    return std::nullopt;
}

double Block::number(std::string_view label) const {
    return find(label).value();
}

std::string_view Block::text(std::string_view label) const {
    const auto found = entries_.find(normal_label(label));
    return found == entries_.end() ? std::string_view{} : std::string_view(found->second.text);
}

std::optional<double> Block::uncertainty(std::string_view label) const {
    const auto found = entries_.find(normal_label(label));
    return found == entries_.end() ? std::nullopt : found->second.uncertainty;
}

std::map<double, double> Block::numbered(std::string_view label) const {
    const auto found = numbered_.find(normal_label(label));
    return found == numbered_.end() ? std::map<double, double>{} : found->second;
}

/// Reads a block row by row.
class BlockReader {
  public:
    BlockReader(const Table& table, const BlockSchema& schema, std::string_view parameter, Language language,
                Warnings& warnings, LabelsAre labels_are)
        : table_(table),
          schema_(schema),
          parameter_(parameter),
          language_(language),
          warnings_(warnings),
          in_columns_(labels_are == LabelsAre::columns) {
        block_.schema_ = &schema;
    }

    Block read() && {
        if (table_.columns() < 2 || table_.columns() > 4)
            throw refuse(language_, Phrase::block_two_columns,
                         {{"parameter", parameter_}, {"columns", std::to_string(table_.columns())}});
        for (std::size_t row = 0; row < table_.rows(); ++row) read_row(row);
        for (const auto& group : schema_.one_of) require_at_most_one(group);
        for (const Label& label : schema_.labels)
            if (label.required && !block_.has(label.name)) throw missing(label);
        return std::move(block_);
    }

  private:
    void read_row(std::size_t row) {
        const Cell& label_cell = table_.at(row, 0);
        if (is_blank(label_cell)) return;
        if (const auto* failure = std::get_if<Failure>(&label_cell))
            throw Refused{failure->kind, say(language_, Phrase::error_in_argument,
                                             {{"parameter", parameter_}, {"value", failure->sentence}})};
        written_ = cell_text(label_cell);
        double number_in_label = 0.0;
        const Label* label = match(schema_, written_, number_in_label);
        if (!label) throw unknown_label();
        // A row with a label but no value counts as absent, so that a form may be filled in partly.
        if (is_blank(table_.at(row, 1))) return;

        Block::Entry entry;
        if (label->is_text) {
            entry.text = cell_text(table_.at(row, 1));
        } else {
            entry.number = read_value(row, *label);
            if (table_.columns() > 3 && !is_blank(table_.at(row, 3)))
                entry.uncertainty = read_uncertainty(row, *label);
        }
        const std::string key = normal_label(label->name);
        const bool is_new = label->is_numbered()
                                ? block_.numbered_[key].emplace(number_in_label, entry.number).second
                                : block_.entries_.emplace(key, entry).second;
        if (!is_new)
            throw refuse(language_, Phrase::block_label_doubled,
                         {{"parameter", parameter_}, {"label", written_}});
    }

    double read_value(std::size_t row, const Label& label) {
        const std::string shown = say(language_, in_columns_ ? Phrase::column_value : Phrase::block_value,
                                      {{"parameter", parameter_}, {"label", written_}});
        const Wanted wanted{shown,
                            label.quantity,
                            unit_of(label),
                            label.range,
                            label.established_range ? &*label.established_range : nullptr,
                            Over::surroundings,
                            label.test_density,
                            true,
                            label.usual_range ? &*label.usual_range : nullptr};
        return read_number(with_unit(row, table_.at(row, 1)), wanted, language_, warnings_);
    }

    double read_uncertainty(std::size_t row, const Label& label) {
        const std::string shown =
            say(language_, Phrase::block_uncertainty, {{"parameter", parameter_}, {"label", written_}});
        const Quantity as = label.quantity == Quantity::temperature ? Quantity::temperature_change
                            : label.quantity == Quantity::pressure  ? Quantity::pressure_difference
                                                                    : label.quantity;
        const Wanted wanted{
            shown, as, unit_of(label), from(0), nullptr, Over::surroundings, label.test_density};
        return read_number(with_unit(row, table_.at(row, 3)), wanted, language_, warnings_);
    }

    /// Reads the value of a row with the unit in the next column.
    Cell with_unit(std::size_t row, const Cell& content) const {
        const Cell unit_cell = table_.columns() > 2 ? table_.at(row, 2) : Cell{};
        if (is_blank(unit_cell)) return content;
        const std::string unit_text = cell_text(unit_cell);
        if (unit_text == "-" || unit_text == "–" || unit_text == "1") return content;
        // "85" beside "%" means 85 %; Calc has already divided a cell shown as 85 %.
        if (const auto* number = std::get_if<double>(&content))
            return with_decimal_mark(exact_text(*number), language_) + " " + unit_text;
        NumberText parsed;
        const std::string text = cell_text(content);
        if (split_number(text, parsed) && !parsed.unit.empty())
            throw refuse(
                language_, Phrase::block_unit_twice,
                {{"parameter", parameter_}, {"label", written_}, {"value", text}, {"unit", unit_text}});
        return text + " " + unit_text;
    }

    void require_at_most_one(const std::vector<std::string_view>& group) const {
        std::string_view given;
        for (const auto name : group) {
            if (!block_.has(name)) continue;
            if (!given.empty())
                throw refuse(
                    language_, Phrase::block_one_of,
                    {{"parameter", parameter_}, {"label", std::string(given)}, {"other", std::string(name)}});
            given = name;
        }
    }

    Refused unknown_label() const {
        std::vector<std::string_view> names;
        for (const Label& label : schema_.labels) names.push_back(label.name);
        const auto near = nearest(written_, names);
        if (near.empty())
            return refuse(language_, Phrase::block_label_unknown,
                          {{"parameter", parameter_}, {"label", written_}, {"labels", joined(names)}});
        return refuse(language_, Phrase::block_label_unknown_near,
                      {{"parameter", parameter_}, {"label", written_}, {"near", std::string(near)}});
    }

    Refused missing(const Label& label) const {
        const std::string allowed = allowed_text(label.range, label.quantity, unit_of(label), language_);
        return refuse(language_, in_columns_ ? Phrase::column_value_missing : Phrase::block_label_missing,
                      {{"parameter", parameter_},
                       {"label", std::string(label.name)},
                       {"meaning", std::string(translated(language_, label.meaning))},
                       {"wanted", say(language_, Phrase::wanted, {{"allowed", allowed}})}});
    }

    const Table& table_;
    const BlockSchema& schema_;
    std::string parameter_;
    Language language_;
    Warnings& warnings_;
    bool in_columns_;
    std::string written_;  // the label of the row being read
    Block block_;
};

Block read_block(const Table& table, const BlockSchema& schema, std::string_view parameter, Language language,
                 Warnings& warnings, LabelsAre labels_are) {
    return BlockReader(table, schema, parameter, language, warnings, labels_are).read();
}

}  // namespace pullsheet::catalogue
