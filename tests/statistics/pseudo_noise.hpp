// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <random>

namespace pullsheet::statistics {

/// Noise of standard deviation 1, nearly normal (sum of twelve), the same on every machine.
class PseudoNoise {
  public:
    explicit PseudoNoise(unsigned seed) : generator_(seed) {}
    double operator()() {
        double sum = -6.0;
        for (int i = 0; i < 12; ++i) sum += static_cast<double>(generator_()) / 4294967296.0;
        return sum;
    }

  private:
    std::mt19937 generator_;  // its sequence is laid down by the C++ standard
};

}  // namespace pullsheet::statistics
