// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace pullsheet::fuzz {

/// Inputs kept in a text file: one a line in hexadecimal digits; lines that begin with # say what they are.
/// Throws std::runtime_error for a file that cannot be read or a line that is none.
std::vector<std::string> read_inputs(const std::filesystem::path& file);

/// Writes inputs in that form, sorted, each once.
void write_inputs(const std::filesystem::path& file, std::vector<std::string> inputs);

}  // namespace pullsheet::fuzz
