// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/tyre_size.hpp"

#include <optional>
#include <string>

#include "core/catalogue/reader.hpp"

namespace pullsheet::catalogue {
namespace {

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}
bool is_letter(char c) {
    return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
}

// Scans from the beginning. (Not std::regex: in libstdc++ it fills a table of its locale while matching,
// which is a data race between threads.)
class Scanner {
  public:
    explicit Scanner(std::string_view text) : rest_(text) {}

    char next() const { return rest_.empty() ? '\0' : rest_.front(); }
    void skip_blanks() {
        while (next() == ' ' || (next() >= '\t' && next() <= '\r')) rest_.remove_prefix(1);
    }
    /// Consumes the character if it is next, a letter in upper or lower case, and the blanks after it.
    bool take(char wanted) {
        const char c = next();
        if (c != wanted && !(is_letter(wanted) && c == wanted - 'A' + 'a')) return false;
        rest_.remove_prefix(1);
        skip_blanks();
        return true;
    }
    std::optional<double> digits(std::size_t count) {
        if (rest_.size() < count) return std::nullopt;
        double value = 0.0;
        for (std::size_t i = 0; i < count; ++i) {
            if (!is_digit(rest_[i])) return std::nullopt;
            value = 10.0 * value + (rest_[i] - '0');
        }
        rest_.remove_prefix(count);
        return value;
    }
    /// ".5" or ",5"
    bool take_half() {
        if (rest_.size() < 2 || (rest_[0] != '.' && rest_[0] != ',') || rest_[1] != '5') return false;
        rest_.remove_prefix(2);
        return true;
    }

  private:
    std::string_view rest_;
};

// "P 255 / 35 - ZR 19": text after the rim, such as the load index, is ignored.
std::optional<TyreSize> scan(std::string_view text) {
    Scanner scanner(text);
    scanner.skip_blanks();
    scanner.take('P');
    const auto width = scanner.digits(3);
    scanner.skip_blanks();
    if (!width || !scanner.take('/')) return std::nullopt;
    const auto aspect = scanner.digits(2);
    scanner.skip_blanks();
    if (!aspect) return std::nullopt;
    scanner.take('-');
    for (const char letter : {'Z', 'R', 'F', '-'}) scanner.take(letter);
    auto rim = scanner.digits(2);
    if (!rim) return std::nullopt;
    if (scanner.take_half()) *rim += 0.5;
    if (is_digit(scanner.next()) || is_letter(scanner.next()) || scanner.next() == '_') return std::nullopt;
    return TyreSize{*width / 1000.0, *aspect / 100.0, *rim * 0.0254};
}

}  // namespace

TyreSize read_tyre_size(std::string_view written, std::string_view parameter, Language language) {
    if (const auto size = scan(written)) return *size;
    throw Refused{FailureKind::wrong_argument,
                  say(language, Phrase::tyre_size,
                      {{"parameter", std::string(parameter)}, {"value", std::string(written)}})};
}

}  // namespace pullsheet::catalogue
