// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <com/sun/star/lang/XMultiServiceFactory.hpp>
#include <com/sun/star/sheet/FormulaToken.hpp>
#include <com/sun/star/sheet/XFormulaParser.hpp>
#include <com/sun/star/uno/Reference.hxx>
#include <map>
#include <string>
#include <vector>

#include "addin/office/cells.hpp"
#include "core/catalogue/value.hpp"

namespace pullsheet::addin {

using Tokens = com::sun::star::uno::Sequence<com::sun::star::sheet::FormulaToken>;
using office::Address;
using office::Area;
using office::Spreadsheet;

/// One node of a formula.
struct Node {
    enum class Kind {
        constant,   ///< a number, a text, an array, or an omitted argument: `value`
        reference,  ///< `area`
        broken,     ///< a reference to deleted cells
        unary,      ///< `name` is the operator (the percent sign too), one child
        binary,     ///< `name` is the operator, two children
        function,   ///< a built-in function under its English `name`
        external,   ///< a function of an extension under its programmatic `name`
        unknown     ///< an unknown name or an unsupported expression; `name` as written
    };
    Kind kind = Kind::unknown;
    std::string name;
    catalogue::Value value;
    Area area;
    std::vector<Node> children;
};

/// The codes of operators and functions in the tokens of this office.
class OpCodes {
  public:
    explicit OpCodes(
        const com::sun::star::uno::Reference<com::sun::star::lang::XMultiServiceFactory>& document);

    sal_Int32 push = 0, external = 0, name = 0, no_name = 0, missing = 0, bad = 0, spaces = 0, whitespace = 0;
    sal_Int32 open = 0, close = 0, separator = 0;
    std::map<sal_Int32, std::string> unary;
    std::map<sal_Int32, std::string> binary;
    std::map<sal_Int32, std::string> functions;
};

/// The office's conversion of formula texts into tokens and back, for the cells of a document.
com::sun::star::uno::Reference<com::sun::star::sheet::XFormulaParser> formula_parser(
    const Spreadsheet& document);

/// Reads the tokens of the formula of the cell `position`. What cannot be read becomes an unknown
/// node.
Node read_formula(const Tokens& tokens, const Address& position, const Spreadsheet& document,
                  const OpCodes& codes);

}  // namespace pullsheet::addin
