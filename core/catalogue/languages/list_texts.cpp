// SPDX-License-Identifier: Apache-2.0
// Writes the texts that the catalogue holds as data: where and text in turn, each ended by a NUL. For the
// scripts that keep the text catalogues of the languages.
#include <iostream>

#include "core/catalogue/texts.hpp"

int main() {
    for (const auto& text : pullsheet::catalogue::texts())
        std::cout << text.where << '\0' << text.english << '\0';
    return std::cout.flush() ? 0 : 1;
}
