// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string_view>

namespace pullsheet::catalogue {

/// A text that cannot be left out and cannot be empty: both are refused by the compiler.
class Text {
  public:
    Text() = delete;
    consteval Text(const char* text) : text_(text) {
        if (text_.empty()) throw "an entry of the catalogue needs this text";
    }
    constexpr operator std::string_view() const { return text_; }
    constexpr std::string_view view() const { return text_; }

  private:
    std::string_view text_;
};

}  // namespace pullsheet::catalogue
