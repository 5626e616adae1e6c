// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "core/catalogue/catalogue.hpp"
#include "harness/input.hpp"
#include "harness/streams.hpp"

namespace pullsheet::harness {

/// Turns the words of the command line and the fields of a file into arguments.
class ArgumentReader {
  public:
    explicit ArgumentReader(const Streams& streams, InputFormat format = {})
        : streams_(streams), format_(format) {}

    /// "@file" becomes the table in the file (@- the one on standard input), "{30|15}" a table, a number a
    /// number unless `parameter` takes texts, anything else a text. Throws FileNotReadable and WrongUse.
    catalogue::Value read(const catalogue::Parameter& parameter, const std::string& word);

    /// Called before a file is read, with what it is called; may throw.
    std::function<void(const std::string& name, const FileBuffer* file)> before_reading;

  private:
    const catalogue::Table& table(const std::string& path);

    Streams streams_;
    InputFormat format_;  ///< of the files
    static constexpr std::size_t most_kept_cells = std::size_t{1} << 22;
    std::map<std::string, catalogue::Table, std::less<>> tables_;
    std::size_t kept_cells_ = 0;
};

/// The function of that name. Throws WrongUse with the nearest name.
const catalogue::Function& function_named(std::string_view name, catalogue::Language language);

/// The parameter in which the unit of the result is chosen. Throws WrongUse if the result has no unit.
std::size_t unit_position(const catalogue::Function& function, catalogue::Language language);

/// The parameter that stands for position `i` of the arguments (all further arguments share the last one).
const catalogue::Parameter* parameter_at(const catalogue::Function& function, std::size_t i);

}  // namespace pullsheet::harness
