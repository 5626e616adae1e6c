// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/units.hpp"
#include "tests/pattern.hpp"

/// For tests that take every function of the catalogue.
namespace pullsheet::catalogue::sample {

inline std::vector<const Function*> all_functions() {
    std::vector<const Function*> result;
    for (const Function& function : functions()) result.push_back(&function);
    return result;
}

inline std::string test_name(const testing::TestParamInfo<const Function*>& info) {
    return tests::in_test_name(std::string(info.param->name.view()));
}

/// Whether a result of this quantity can be asked for in a unit.
inline bool has_units(Quantity quantity) {
    return quantity != Quantity::share && !unit_symbols(quantity).empty();
}

}  // namespace pullsheet::catalogue::sample
