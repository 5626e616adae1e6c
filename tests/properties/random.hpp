// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "core/catalogue/function.hpp"

/// Properties at random points (RapidCheck). Its header is read by random.cpp alone: it takes long to
/// compile.
namespace pullsheet::catalogue::properties {

/// Whether a property holds at a hundred random points. It draws what it needs by the functions below and
/// says by `property_fails` that it does not hold; the smallest case found is printed.
bool holds(const std::function<void()>& property);

/// Ends a property with the reason why it does not hold.
void property_fails(const std::string& why);

/// A random share, 0 … 1, both ends included.
double random_share();

/// A random position among `count` things.
std::size_t random_position(std::size_t count);

/// Random shares for every parameter of a function.
std::vector<double> random_shares(const Function& function);

}  // namespace pullsheet::catalogue::properties
