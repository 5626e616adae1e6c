// SPDX-License-Identifier: Apache-2.0
#include "addin/why/formula.hpp"

#include <com/sun/star/beans/XPropertySet.hpp>
#include <com/sun/star/container/XIndexAccess.hpp>
#include <com/sun/star/container/XNameAccess.hpp>
#include <com/sun/star/sheet/ComplexReference.hpp>
#include <com/sun/star/sheet/FormulaLanguage.hpp>
#include <com/sun/star/sheet/FormulaMapGroup.hpp>
#include <com/sun/star/sheet/FormulaMapGroupSpecialOffset.hpp>
#include <com/sun/star/sheet/NameToken.hpp>
#include <com/sun/star/sheet/ReferenceFlags.hpp>
#include <com/sun/star/sheet/SingleReference.hpp>
#include <com/sun/star/sheet/XFormulaOpCodeMapper.hpp>
#include <com/sun/star/sheet/XFormulaTokens.hpp>
#include <utility>

#include "addin/convert.hpp"

namespace pullsheet::addin {
namespace {

namespace uno = com::sun::star::uno;
namespace beans = com::sun::star::beans;
namespace container = com::sun::star::container;
namespace sheet = com::sun::star::sheet;

// Names may refer to names; deeper nesting than this is treated as a circular reference.
constexpr int max_names_in_names = 16;
// The limit of nesting that protects the parser from stack overflow; no formula typed by hand is deeper.
constexpr int max_depth = 200;
// A chain of operators becomes a tree as deep as the chain is long.
constexpr int max_operators = 2000;

struct Unreadable {};

Address position_of(const sheet::SingleReference& reference, const Address& base) {
    const auto is = [&](sal_Int32 flag) { return (reference.Flags & flag) != 0; };
    using namespace sheet::ReferenceFlags;
    if (is(COLUMN_DELETED) || is(ROW_DELETED) || is(SHEET_DELETED)) throw Unreadable{};
    return {is(SHEET_RELATIVE) ? base.sheet + reference.RelativeSheet : reference.Sheet,
            is(COLUMN_RELATIVE) ? base.column + reference.RelativeColumn : reference.Column,
            is(ROW_RELATIVE) ? base.row + reference.RelativeRow : reference.Row};
}

// Calc's grammar, weakest binding first: comparison, &, + −, * /, ^, postfix %, sign, ~, !, :. All bind to
// the left.
class Reader {
  public:
    Reader(const Tokens& tokens, const Address& position, const Spreadsheet& document, const OpCodes& codes,
           int names)
        : position_(position), document_(document), codes_(codes), names_(names) {
        for (sal_Int32 i = 0; i < tokens.getLength(); ++i)
            if (tokens[i].OpCode != codes.spaces && tokens[i].OpCode != codes.whitespace)
                tokens_.push_back(tokens[i]);
    }

    Node read() {
        Node node = comparison();
        if (!at_end()) throw Unreadable{};
        return node;
    }

  private:
    bool at_end() const { return next_ >= tokens_.size(); }
    sal_Int32 code() const { return at_end() ? -1 : tokens_[next_].OpCode; }

    std::string binary_here(std::initializer_list<std::string_view> operators) const {
        const auto found = codes_.binary.find(code());
        if (found == codes_.binary.end()) return {};
        for (const auto one : operators)
            if (found->second == one) return found->second;
        return {};
    }

    void count_operator() {
        if (++operators_ > max_operators) throw Unreadable{};
    }

    template <class Operand>
    Node left_associative(std::initializer_list<std::string_view> operators, Operand operand) {
        Node node = operand();
        for (std::string name = binary_here(operators); !name.empty(); name = binary_here(operators)) {
            count_operator();
            ++next_;
            Node right = operand();
            Node both;
            both.kind = Node::Kind::binary;
            both.name = std::move(name);
            both.children.push_back(std::move(node));
            both.children.push_back(std::move(right));
            node = std::move(both);
        }
        return node;
    }

    Node comparison() {
        if (++depth_ > max_depth) throw Unreadable{};
        Node node = left_associative({"=", "<>", "<", ">", "<=", ">="}, [&] { return concatenation(); });
        --depth_;
        return node;
    }
    Node concatenation() {
        return left_associative({"&"}, [&] { return sum(); });
    }
    Node sum() {
        return left_associative({"+", "-"}, [&] { return product(); });
    }
    Node product() {
        return left_associative({"*", "/"}, [&] { return power(); });
    }
    Node power() {
        return left_associative({"^"}, [&] { return percent(); });
    }

    Node percent() {
        Node node = sign();
        while (!at_end() && is_percent(code())) {
            count_operator();
            ++next_;
            node = unary("%", std::move(node));
        }
        return node;
    }

    bool is_percent(sal_Int32 op) const {
        const auto found = codes_.unary.find(op);
        return found != codes_.unary.end() && found->second == "%";
    }

    static Node unary(std::string name, Node operand) {
        Node node;
        node.kind = Node::Kind::unary;
        node.name = std::move(name);
        node.children.push_back(std::move(operand));
        return node;
    }

    Node sign() {
        std::vector<std::string> signs;
        while (!at_end()) {
            if (const auto found = codes_.unary.find(code());
                found != codes_.unary.end() && found->second != "%")
                signs.push_back(found->second);
            else if (const std::string as_binary = binary_here({"+", "-"}); !as_binary.empty())
                signs.push_back(as_binary);
            else
                break;
            count_operator();
            ++next_;
        }
        Node node = reference_operators();
        for (; !signs.empty(); signs.pop_back()) node = unary(signs.back(), std::move(node));
        return node;
    }

    Node reference_operators() {
        return left_associative({"~", "!"},
                                [&] { return left_associative({":"}, [&] { return factor(); }); });
    }

    Node factor() {
        if (at_end()) throw Unreadable{};
        const sheet::FormulaToken token = tokens_[next_];
        ++next_;
        if (token.OpCode == codes_.open) {
            Node node = comparison();
            if (code() != codes_.close) throw Unreadable{};
            ++next_;
            return node;
        }
        if (token.OpCode == codes_.push) return pushed(token.Data);
        if (token.OpCode == codes_.missing) {
            Node node;
            node.kind = Node::Kind::constant;
            return node;
        }
        if (token.OpCode == codes_.name) return named(token.Data);
        if (token.OpCode == codes_.external) return call(Node::Kind::external, text_of(token.Data));
        if (token.OpCode == codes_.bad || token.OpCode == codes_.no_name)
            return call(Node::Kind::unknown, text_of(token.Data));
        if (const auto found = codes_.functions.find(token.OpCode); found != codes_.functions.end())
            return call(Node::Kind::function, found->second);
        throw Unreadable{};
    }

    static std::string text_of(const uno::Any& data) {
        rtl::OUString text;
        data >>= text;
        return to_utf8(text);
    }

    Node call(Node::Kind kind, std::string name) {
        Node node;
        node.kind = kind;
        node.name = std::move(name);
        if (code() != codes_.open) return node;
        ++next_;
        if (code() == codes_.close) {
            ++next_;
            return node;
        }
        while (true) {
            if (code() == codes_.separator || code() == codes_.close) {
                // Nothing between two separators.
                node.children.emplace_back();
                node.children.back().kind = Node::Kind::constant;
            } else {
                node.children.push_back(comparison());
            }
            if (code() == codes_.close) break;
            if (code() != codes_.separator) throw Unreadable{};
            ++next_;
        }
        ++next_;
        return node;
    }

    Node pushed(const uno::Any& data) const {
        Node node;
        sheet::SingleReference single;
        sheet::ComplexReference complex;
        const bool is_single = data >>= single;
        if (is_single || (data >>= complex)) {
            try {
                node.area = is_single ? Area{position_of(single, position_), position_of(single, position_)}
                                      : Area{position_of(complex.Reference1, position_),
                                             position_of(complex.Reference2, position_)};
                // A reference over several sheets is not read.
                if (node.area.first.sheet == node.area.last.sheet) node.kind = Node::Kind::reference;
            } catch (const Unreadable&) {
                node.kind = Node::Kind::broken;
            }
            return node;
        }
        node.kind = Node::Kind::constant;
        node.value = to_value(data);
        return node;
    }

    // A named range, formula or constant is read where it is used.
    Node named(const uno::Any& data) const {
        Node node;
        sheet::NameToken token;
        if (!(data >>= token) || names_ >= max_names_in_names) return node;
        uno::Reference<beans::XPropertySet> owner(document_, uno::UNO_QUERY);
        if (token.Sheet >= 0) {
            const uno::Reference<container::XIndexAccess> sheets(document_->getSheets(),
                                                                 uno::UNO_QUERY_THROW);
            owner.set(sheets->getByIndex(token.Sheet), uno::UNO_QUERY);
        }
        if (!owner.is()) return node;
        const uno::Reference<container::XNameAccess> names(owner->getPropertyValue("NamedRanges"),
                                                           uno::UNO_QUERY_THROW);
        const rtl::OUString name = written(token);
        if (!names->hasByName(name)) return node;
        const uno::Reference<sheet::XFormulaTokens> content(names->getByName(name), uno::UNO_QUERY_THROW);
        return Reader(content->getTokens(), position_, document_, codes_, names_ + 1).read();
    }

    // A name as a formula on its own sheet has it. The list of names gives no other way from number to name
    // than to look at each.
    rtl::OUString written(const sheet::NameToken& token) const {
        const sheet::FormulaToken alone(codes_.name, uno::Any(token));
        const sal_Int32 on_sheet = token.Sheet >= 0 ? token.Sheet : position_.sheet;
        return formula_parser(document_)->printFormula(
            Tokens(&alone, 1), {static_cast<sal_Int16>(on_sheet), position_.column, position_.row});
    }

    std::vector<sheet::FormulaToken> tokens_;
    std::size_t next_ = 0;
    int depth_ = 0;
    int operators_ = 0;
    Address position_;
    const Spreadsheet& document_;
    const OpCodes& codes_;
    int names_;
};

}  // namespace

OpCodes::OpCodes(const uno::Reference<com::sun::star::lang::XMultiServiceFactory>& document) {
    const uno::Reference<sheet::XFormulaOpCodeMapper> mapper(
        document->createInstance("com.sun.star.sheet.FormulaOpCodeMapper"), uno::UNO_QUERY_THROW);
    const auto mappings = [&](sal_Int32 group) {
        return mapper->getAvailableMappings(sheet::FormulaLanguage::API, group);
    };

    const auto special = mappings(sheet::FormulaMapGroup::SPECIAL);
    const auto at = [&](sal_Int32 offset) {
        return offset < special.getLength() ? special[offset].Token.OpCode : -2;
    };
    push = at(sheet::FormulaMapGroupSpecialOffset::PUSH);
    external = mapper->getOpCodeExternal();
    name = at(sheet::FormulaMapGroupSpecialOffset::NAME);
    no_name = at(sheet::FormulaMapGroupSpecialOffset::NO_NAME);
    missing = at(sheet::FormulaMapGroupSpecialOffset::MISSING);
    bad = at(sheet::FormulaMapGroupSpecialOffset::BAD);
    spaces = at(sheet::FormulaMapGroupSpecialOffset::SPACES);
    whitespace = at(sheet::FormulaMapGroupSpecialOffset::WHITESPACE);

    const auto separators = mappings(sheet::FormulaMapGroup::SEPARATORS);
    for (sal_Int32 i = 0; i < separators.getLength(); ++i) {
        if (separators[i].Name == "(") open = separators[i].Token.OpCode;
        if (separators[i].Name == ")") close = separators[i].Token.OpCode;
        if (separators[i].Name == ";") separator = separators[i].Token.OpCode;
    }
    const auto fill = [&](std::map<sal_Int32, std::string>& table, sal_Int32 group) {
        const auto entries = mappings(group);
        for (sal_Int32 i = 0; i < entries.getLength(); ++i)
            if (entries[i].Token.OpCode != external)
                table.emplace(entries[i].Token.OpCode, to_utf8(entries[i].Name));
    };
    fill(unary, sheet::FormulaMapGroup::UNARY_OPERATORS);
    fill(binary, sheet::FormulaMapGroup::BINARY_OPERATORS);
    fill(functions, sheet::FormulaMapGroup::FUNCTIONS);
}

uno::Reference<sheet::XFormulaParser> formula_parser(const Spreadsheet& document) {
    const uno::Reference<com::sun::star::lang::XMultiServiceFactory> factory(document, uno::UNO_QUERY_THROW);
    return {factory->createInstance("com.sun.star.sheet.FormulaParser"), uno::UNO_QUERY_THROW};
}

Node read_formula(const Tokens& tokens, const Address& position, const Spreadsheet& document,
                  const OpCodes& codes) {
    try {
        return Reader(tokens, position, document, codes, 0).read();
    } catch (const Unreadable&) {
        return {};
    }
}

}  // namespace pullsheet::addin
