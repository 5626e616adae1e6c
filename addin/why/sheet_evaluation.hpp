// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <com/sun/star/uno/XComponentContext.hpp>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "addin/why/book.hpp"
#include "addin/why/evaluated.hpp"
#include "addin/why/formula.hpp"
#include "core/catalogue/catalogue.hpp"

namespace pullsheet::addin {

/// Re-evaluates the formula of a cell, without changing the document, to find the cause of an error or its
/// warnings. Functions of the catalogue are computed by the catalogue, built-in ones by the office; sentences
/// are in the language given.
class SheetEvaluation {
  public:
    SheetEvaluation(com::sun::star::uno::Reference<com::sun::star::uno::XComponentContext> context,
                    const Book& book, const Address& cell, catalogue::Language language);

    Evaluated run();

    /// The warnings of the calls that succeeded, with the function's name before them.
    const std::vector<std::string>& warnings() const { return warnings_; }
    /// The sentence of the first call of the catalogue that failed, wherever it stands.
    const std::string& first_failure() const { return first_failure_; }
    /// The cells that the formula names.
    std::vector<Area> references() const;

  private:
    struct Element {
        sal_Int32 row;
        sal_Int32 column;
    };
    using Wanted = std::optional<Element>;

    Evaluated value_of(const Node& node, const Wanted& wanted);
    Evaluated content(const Area& area, const Wanted& wanted) const;
    catalogue::Value element_of(const Area& area, const Element& element) const;
    std::optional<Area> area_of(const Node& node);
    Evaluated unary(const Node& node, const Wanted& wanted);
    Evaluated binary(const Node& node, const Wanted& wanted);
    Evaluated function(const Node& node, const Wanted& wanted);
    std::optional<Evaluated> own_way(const Node& node, const Wanted& wanted);
    // The functions with special evaluation. No value: the office computes the function.
    std::optional<Evaluated> if_function(const Node& node, const Wanted& wanted);
    std::optional<Evaluated> ifs_function(const Node& node, const Wanted& wanted);
    std::optional<Evaluated> switch_function(const Node& node, const Wanted& wanted);
    std::optional<Evaluated> choose_function(const Node& node, const Wanted& wanted);
    std::optional<Evaluated> if_error_function(const Node& node, const Wanted& wanted);
    std::optional<Evaluated> is_error_function(const Node& node, const Wanted& wanted);
    std::optional<Evaluated> position_function(const Node& node, const Wanted& wanted);
    std::optional<Evaluated> index_function(const Node& index, const Wanted& wanted);
    Evaluated argument(const Node& node, std::size_t index, const Wanted& wanted);
    /// The single value of an argument, or what the whole call gives where it has none.
    std::variant<catalogue::Cell, Evaluated> single_argument(const Node& node, std::size_t index,
                                                             const Wanted& wanted);
    Evaluated built_in(const std::string& name, const Node& node, const Wanted& wanted);
    Evaluated of_catalogue(const catalogue::Function& function, const Node& node, const Wanted& wanted);
    std::optional<Evaluated> refused_area(const catalogue::Function& function, const Area& area) const;
    catalogue::Value area_argument(const catalogue::Parameter* parameter, const Area& area,
                                   const Wanted& element) const;
    Evaluated result_of(const catalogue::Function& function, catalogue::Outcome outcome,
                        const Wanted& wanted);
    std::optional<double> number_of(const Node& node, const Wanted& wanted);

    com::sun::star::uno::Reference<com::sun::star::uno::XComponentContext> context_;
    const Book& book_;
    catalogue::Language language_;
    Address cell_;
    Address base_;  ///< where the formula stands
    bool is_array_ = false;
    Wanted element_;  ///< the element of an array formula in this cell
    Node formula_;
    std::vector<std::string> warnings_;
    std::string first_failure_;
};

/// The function of the catalogue with this programmatic name ("pullsheet.Functions.airDensity"), or nullptr.
const catalogue::Function* catalogue_function(std::string_view programmatic_name);

}  // namespace pullsheet::addin
