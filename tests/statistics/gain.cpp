// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/gain.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "core/error.hpp"

namespace pullsheet::statistics {
namespace {

// NIST/SEMATECH e-Handbook 1.3.5.3, AUTO83B.DAT: fuel economy of US and Japanese cars. The t and the degrees
// of freedom for unequal variances follow from the printed means and standard deviations, so to their digits.
TEST(NistHandbookPrinted, TwoSampleAuto83b) {
    const Gain result = gain(Summary{249, 20.14458, 6.41470}, Summary{79, 30.48101, 6.10771});
    EXPECT_NEAR(result.t, 12.94627, 2e-5);
    EXPECT_NEAR(result.freedom, 136.8750, 1e-3);
    EXPECT_NEAR(result.gain, 10.33643, 1e-5);
    EXPECT_LT(result.p, 1e-20);
    EXPECT_GT(result.p, 0.0);
}

// Invented torques; t, degrees of freedom, p and half-width computed with an independent library to ten
// digits.
TEST(Welch1947Independent, ComputedReference) {
    const std::vector<double> before{251.2, 249.8, 252.6, 250.9, 251.7};
    const std::vector<double> after{262.4, 259.1, 265.8, 261.0, 258.7, 263.3};
    const Gain result = gain(before, after);
    EXPECT_NEAR(result.t, 8.803576199, 5e-10 + 1e-9);
    EXPECT_NEAR(result.freedom, 6.662513345, 5e-9);
    EXPECT_NEAR(result.p, 6.579568138e-05, 1e-13);
    EXPECT_NEAR(result.gain, 10.476667, 5e-7);
    EXPECT_NEAR(result.high - result.gain, 2.8431687, 5.1e-8);
    EXPECT_NEAR(result.gain - result.low, 2.8431687, 5.1e-8);
    // The other way round is the same change backwards.
    const Gain back = gain(after, before);
    EXPECT_NEAR(back.gain, -result.gain, 1e-12);
    EXPECT_NEAR(back.p, result.p, 1e-15);
    EXPECT_NEAR(back.high, -result.low, 1e-12);
}

// JCGM 100:2008 (GUM) eq. G.2b; numbers computed independently.
TEST(GumIdentities, WelchSatterthwaite) {
    EXPECT_NEAR(effective_freedom(std::vector{0.5, 0.3}, std::vector{4.0, 9.0}), 6.9954614, 5.1e-8);
    // GUM H.1.6, end gauge: 32 nm combined of 25 (18), 9.7 (25.6), 2.9 (50), 16.6 (2) nm and parts known
    // exactly. Printed: 32 nm, 16 degrees of freedom (of the printed, rounded parts).
    constexpr double exactly = 1e12;
    EXPECT_NEAR(effective_freedom(std::vector{25.0, 9.7, 2.9, 16.6}, std::vector{18.0, 25.6, 50.0, 2.0}),
                17.0, 1.0);
    EXPECT_NEAR(effective_freedom(std::vector{1.0, 2.0}, std::vector{exactly, 5.0}), 5.0 * 25.0 / 16.0, 1e-9);
}

TEST(GainErrors, SayWhy) {
    const std::vector<double> two{1.0, 2.0};
    EXPECT_THROW(gain(std::vector{1.0}, two), NoData);
    EXPECT_THROW(gain(two, std::vector{1.0, std::nan("")}), InvalidArgument);
    EXPECT_THROW(gain(two, two, 0.0), InvalidArgument);
    EXPECT_THROW(effective_freedom(two, std::vector{4.0}), InvalidArgument);
    EXPECT_THROW(gain(std::vector{1.0, 1.0}, std::vector{2.0, 2.0}), NoSolution);
    // One series without scatter is no obstacle: its degrees of freedom do not count.
    EXPECT_NEAR(gain(std::vector{1.0, 1.0}, std::vector{2.0, 3.0}).freedom, 1.0, 1e-12);
}

}  // namespace
}  // namespace pullsheet::statistics
