// SPDX-License-Identifier: Apache-2.0
#include "core/plan/band.hpp"

#include <cmath>

namespace pullsheet::plan {

double Effects::spread() const {
    double variance = 0.0;
    for (const double effect : effects_) variance += effect * effect;
    return std::sqrt(variance);
}

double Effects::spread_of_gain(const Effects& over) const {
    Effects difference = *this;
    for (std::size_t i = 0; i < effects_.size(); ++i) difference.effects_[i] -= over.effects_[i];
    difference[Assumption::part_rating] =
        std::hypot((*this)[Assumption::part_rating], over[Assumption::part_rating]);
    return difference.spread();
}

}  // namespace pullsheet::plan
