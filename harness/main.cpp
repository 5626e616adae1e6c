// SPDX-License-Identifier: Apache-2.0
#include <exception>
#include <iostream>

#include "harness/command_line.hpp"

int main(int count, char** arguments) {
    std::ios::sync_with_stdio(false);
    std::cin.tie(nullptr);
    const pullsheet::harness::Streams streams{std::cin, std::cout, std::cerr};
    try {
        return pullsheet::harness::run({arguments + 1, arguments + count}, streams);
    } catch (const std::exception& error) {
        std::cerr << "pullsheet: " << error.what() << '\n';
        return pullsheet::harness::wrong_use;
    }
}
