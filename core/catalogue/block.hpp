// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/catalogue/bounds.hpp"
#include "core/catalogue/function.hpp"
#include "core/catalogue/sentences.hpp"
#include "core/catalogue/warnings.hpp"

namespace pullsheet::catalogue {

/// One label that a block may have.
struct Label {
    /// A number of `quantity` in `unit` ("" for plain numbers), inside `range`.
    Label(Text name_, Text meaning_, Quantity quantity_, std::string_view unit_, Interval range_)
        : name(name_), meaning(meaning_), quantity(quantity_), unit(unit_), range(range_) {}
    /// A text.
    Label(Text name_, Text meaning_) : name(name_), meaning(meaning_), is_text(true) {}

    Label otherwise(double value) && {
        required = false;
        default_value = value;
        return std::move(*this);
    }
    Label optional() && {
        required = false;
        return std::move(*this);
    }
    Label established(Interval interval) && {
        established_range = interval;
        return std::move(*this);
    }

    /// Sets the figure of its value, as for a parameter.
    Label of(const Figure& figure) && {
        if (figure.is_open())
            no_bounds = figure.basis;
        else
            usual_range = in_unit(figure.usual, figure, quantity, unit);
        range = intersection(range, in_unit(figure.possible, figure, quantity, unit));
        return std::move(*this);
    }
    Label by_mass_too(double density) && {
        test_density = density;
        return std::move(*this);
    }

    std::string_view name;  ///< a plain term of the trade; "gear #" matches "gear 1", "gear 2" …
    std::string_view meaning;
    Quantity quantity = Quantity::number;
    std::string_view unit;
    Interval range = finite;
    std::optional<Interval> established_range;
    std::optional<Interval> usual_range;
    std::string_view no_bounds;  ///< why it has none
    bool required = true;
    std::optional<double> default_value;
    bool is_text = false;
    double test_density = 0.0;  ///< of an injector's flow, as in Wanted

    /// True for a numbered label.
    bool is_numbered() const { return name.find('#') != std::string_view::npos; }
};

/// The labels that a kind of block may have. Labels of one `one_of` group exclude each other.
struct BlockSchema {
    Text name;
    std::vector<Label> labels;
    std::vector<std::vector<std::string_view>> one_of = {};
};

/// A block that was read: numbers in SI.
class Block {
  public:
    bool has(std::string_view label) const;
    /// The number under `label`, or its default; std::nullopt if it has neither.
    std::optional<double> find(std::string_view label) const;
    /// The number under `label`, or its default. The schema guarantees that one of the two exists.
    double number(std::string_view label) const;
    std::string_view text(std::string_view label) const;
    /// Standard uncertainty (SI) from the fourth column, if given.
    std::optional<double> uncertainty(std::string_view label) const;
    /// The numbered labels ("gear #"): number in the label → value, in ascending order.
    std::map<double, double> numbered(std::string_view label) const;

  private:
    friend class BlockReader;
    struct Entry {
        double number = 0.0;
        std::string text;
        std::optional<double> uncertainty;
    };
    const BlockSchema* schema_ = nullptr;
    std::map<std::string, Entry, std::less<>> entries_;
    std::map<std::string, std::map<double, double>, std::less<>> numbered_;
};

/// Whether the labels of a block are the rows or the columns of the user's table; sentences use this word.
enum class LabelsAre { rows, columns };

/// Reads a block: two to four columns label, value, unit, standard uncertainty. Rows without a label are
/// skipped. Throws Refused with a sentence for a missing, doubled or unknown label or a bad value.
Block read_block(const Table& table, const BlockSchema& schema, std::string_view parameter, Language language,
                 Warnings& warnings, LabelsAre labels_are = LabelsAre::rows);

/// True if the table is a block rather than a range of numbers: its first column holds a word.
bool looks_like_block(const Table& table);

/// A normalised label: lower case, without blanks, hyphens and underscores.
std::string normal_label(std::string_view label);

/// The element of `known` with the smallest edit distance to `word`, or an empty text if none is close.
std::string_view nearest(std::string_view word, const std::vector<std::string_view>& known);

}  // namespace pullsheet::catalogue
