// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <stdexcept>
#include <string>
#include <vector>

#include "addin/office.hpp"

namespace pullsheet::addin::customer_copy {

struct File {
    std::string url;
    std::string bytes;
};

/// Why a file could not be written.
class NotWritten : public std::runtime_error {
  public:
    enum class Why { write_protected, no_space, exists, other };
    NotWritten(Why reason, const std::string& said) : std::runtime_error(said), why(reason) {}
    Why why;
};

/// Writes the files into their folder: all, or none. Each is written under a temporary name and renamed when
/// all are complete; existing files are not overwritten. Throws NotWritten.
void write_files(const Context& context, const std::vector<File>& files);

}  // namespace pullsheet::addin::customer_copy
