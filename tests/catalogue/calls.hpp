// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <stdexcept>
#include <string>
#include <vector>

#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/reader.hpp"
#include "tests/catalogue/sample.hpp"

/// Calls of functions by name, for tests that look at their answers.
namespace pullsheet::catalogue::sample {

inline Outcome outcome_of(const char* name, const std::vector<Value>& arguments) {
    const Function* function = find_function(name);
    if (!function) throw std::invalid_argument(name);
    return evaluate(*function, arguments);
}

inline double number_of(const char* name, const std::vector<Value>& arguments) {
    const Outcome outcome = outcome_of(name, arguments);
    const auto* number = std::get_if<double>(&outcome.value);
    if (!number) throw std::runtime_error(sentence(outcome.value));
    return *number;
}

inline Table table_of(const char* name, const std::vector<Value>& arguments) {
    const Outcome outcome = outcome_of(name, arguments);
    const auto* table = std::get_if<Table>(&outcome.value);
    if (!table) throw std::runtime_error(sentence(outcome.value));
    return *table;
}

/// The value beside a label in the first column of an answer.
inline double beside(const Table& answer, const std::string& label, std::size_t column = 1) {
    for (std::size_t r = 0; r < answer.rows(); ++r)
        if (cell_text(answer.at(r, 0)) == label) return std::get<double>(answer.at(r, column));
    throw std::runtime_error("no row " + label);
}

}  // namespace pullsheet::catalogue::sample
