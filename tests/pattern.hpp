// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <regex.h>

#include <cctype>
#include <stdexcept>
#include <string>
#include <vector>

/// Patterns in texts, by the C library: each file that uses std::regex takes seconds to compile.
namespace pullsheet::tests {

/// A POSIX extended regular expression.
class Pattern {
  public:
    explicit Pattern(const char* expression) {
        if (regcomp(&compiled_, expression, REG_EXTENDED) != 0) throw std::invalid_argument(expression);
    }
    Pattern(const Pattern&) = delete;
    Pattern& operator=(const Pattern&) = delete;
    ~Pattern() { regfree(&compiled_); }

    /// What the expression and each of its groups found in `text`; empty if it is not found.
    std::vector<std::string> find(const std::string& text) const {
        std::vector<regmatch_t> places(compiled_.re_nsub + 1);
        std::vector<std::string> found;
        if (regexec(&compiled_, text.c_str(), places.size(), places.data(), 0) != 0) return found;
        for (const regmatch_t& place : places)
            found.push_back(place.rm_so < 0
                                ? std::string()
                                : text.substr(static_cast<std::size_t>(place.rm_so),
                                              static_cast<std::size_t>(place.rm_eo - place.rm_so)));
        return found;
    }
    bool is_in(const std::string& text) const { return !find(text).empty(); }

  private:
    regex_t compiled_{};
};

/// A text as part of the name of a test: letters and digits stay.
inline std::string in_test_name(std::string text) {
    for (char& letter : text)
        if (!std::isalnum(static_cast<unsigned char>(letter))) letter = '_';
    return text;
}

}  // namespace pullsheet::tests
