// SPDX-License-Identifier: Apache-2.0
// What `pullsheet sheet` starts: the same command line, with the office.
#include <unistd.h>

#include <cstdlib>
#include <exception>
#include <iostream>

#include "harness/command_line.hpp"
#include "harness/sheet/recompute.hpp"

int main(int count, char** arguments) {
    using namespace pullsheet::harness;
    const Streams streams{std::cin,
                          std::cout,
                          std::cerr,
                          true,
                          isatty(STDOUT_FILENO) == 1,
                          isatty(STDERR_FILENO) == 1,
                          language_of_environment()};
    try {
        if (!std::getenv("URE_BOOTSTRAP")) {
            std::cerr << translated(streams.language, "pullsheet-sheet is started by: pullsheet sheet FILE")
                      << '\n';
            return wrong_use;
        }
        return run({arguments + 1, arguments + count}, streams, recompute);
    } catch (const std::exception& error) {
        std::cerr << "pullsheet: " << error.what() << '\n';
        return wrong_use;
    }
}
