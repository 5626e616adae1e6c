// SPDX-License-Identifier: Apache-2.0
#include <unistd.h>

#include <exception>
#include <iostream>

#include "harness/command_line.hpp"
#include "harness/input.hpp"

int main(int count, char** arguments) {
    std::ios::sync_with_stdio(false);
    pullsheet::harness::FileBuffer input(STDIN_FILENO, false);
    std::istream in(&input);
    const pullsheet::harness::Streams streams{in,
                                              std::cout,
                                              std::cerr,
                                              true,
                                              isatty(STDOUT_FILENO) == 1,
                                              isatty(STDERR_FILENO) == 1,
                                              pullsheet::harness::language_of_environment()};
    try {
        return pullsheet::harness::run({arguments + 1, arguments + count}, streams);
    } catch (const std::exception& error) {
        std::cerr << "pullsheet: " << error.what() << '\n';
        return pullsheet::harness::wrong_use;
    }
}
