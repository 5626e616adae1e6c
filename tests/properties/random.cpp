// SPDX-License-Identifier: Apache-2.0
#include "tests/properties/random.hpp"

#include <rapidcheck.h>

#include <cstdlib>

namespace pullsheet::catalogue::properties {
namespace {

// The same random points on every machine: RapidCheck reads its seed from the environment and prints it.
// Another seed, or more points:  RC_PARAMS="seed=7 max_success=10000" ctest -R properties
const int seed_is_set = setenv("RC_PARAMS", "seed=20260101", 0);

}  // namespace

bool holds(const std::function<void()>& property) {
    return rc::check(property);
}

void property_fails(const std::string& why) {
    RC_FAIL(why);
}

double random_share() {
    return *rc::gen::resize(100, rc::gen::inRange<int>(0, 1000001)) / 1e6;
}

std::size_t random_position(std::size_t count) {
    return *rc::gen::inRange<std::size_t>(0, count);
}

std::vector<double> random_shares(const Function& function) {
    std::vector<double> shares(function.parameters.size());
    for (double& share : shares) share = random_share();
    return shares;
}

}  // namespace pullsheet::catalogue::properties
