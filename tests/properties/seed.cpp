// SPDX-License-Identifier: Apache-2.0
// The same random points on every machine: RapidCheck reads its seed from the environment and prints it.
// Another seed, or more points:  RC_PARAMS="seed=7 max_success=10000" ctest -R properties
#include <cstdlib>

namespace {

const int seed_is_set = setenv("RC_PARAMS", "seed=20260101", 0);

}  // namespace
