// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/agreement.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "core/error.hpp"

namespace pullsheet::statistics {
namespace {

// Three estimates of one power; weighted mean, chi-squared and Birge ratio computed independently.
TEST(Birge1932Identities, ThreeEstimates) {
    const Agreement result = agreement(std::vector{221.0, 214.0, 209.0}, std::vector{5.0, 3.5, 6.0});
    EXPECT_NEAR(result.mean, 214.94445288, 5.1e-9);
    EXPECT_NEAR(result.uncertainty, 2.58707811, 5.1e-9);
    EXPECT_NEAR(result.chi_squared, 2.52117165, 5.1e-9);
    EXPECT_EQ(result.freedom, 2U);
    EXPECT_NEAR(result.p, 0.283488, 5.1e-7);
    EXPECT_NEAR(result.birge_ratio, 1.1227581, 5.1e-8);
    EXPECT_TRUE(result.agrees);
    for (const Comparison& comparison : result.comparisons) EXPECT_TRUE(comparison.agrees);
}

// Common practice of the trade, no source: time × power hardly changes between the maps of one car. Four maps
// of one car measured in a day, 100 to 200 km/h.
TEST(TimeTimesPower, FourMapsOfOneCar) {
    const std::vector<double> products{660 * 5.8, 670 * 5.0, 760 * 4.75, 865 * 4.15};
    const auto with_share = [&products](double share) {
        std::vector<double> uncertainties;
        for (const double value : products) uncertainties.push_back(share * value);
        return agreement(products, uncertainties);
    };
    const Agreement tight = with_share(0.03);
    EXPECT_NEAR(tight.chi_squared, 10.0, 0.05);
    EXPECT_EQ(tight.freedom, 3U);
    EXPECT_NEAR(tight.p, 0.019, 5e-4);
    EXPECT_FALSE(tight.agrees);
    EXPECT_NEAR(tight.comparisons[0].deviation, 2.5, 0.05);
    EXPECT_NEAR(tight.comparisons[1].deviation, -2.7, 0.05);
    EXPECT_FALSE(tight.comparisons[0].agrees);
    EXPECT_FALSE(tight.comparisons[1].agrees);
    EXPECT_TRUE(tight.comparisons[2].agrees);
    EXPECT_TRUE(tight.comparisons[3].agrees);
    EXPECT_EQ(tight.farthest, 1U);
    const Agreement loose = with_share(0.06);
    EXPECT_NEAR(loose.chi_squared, 2.5, 0.05);
    EXPECT_TRUE(loose.agrees);
    for (const Comparison& comparison : loose.comparisons) EXPECT_TRUE(comparison.agrees);
}

// A balance of three flows, one measured grossly wrong: Narasimhan & Jordache, Data Reconciliation and Gross
// Error Detection (2000), table 4.1, bilinear column. The inflow and the sum of the outflows are two
// comparisons of one flow.
TEST(NarasimhanJordache2000Printed, GrossErrorInAColumnBalance) {
    const Agreement result =
        agreement(std::vector{1095.475, 478.402 + 488.232}, std::vector{4.8, std::hypot(3.9, 4.4)});
    EXPECT_NEAR(result.chi_squared, 288.14448, 5e-6 + 1e-5);
    EXPECT_FALSE(result.agrees);
    EXPECT_FALSE(result.comparisons[0].agrees);
    EXPECT_NEAR(result.comparisons[0].others, 966.634, 1e-9);
}

TEST(AgreementIdentities, LeaveOneOut) {
    // χ² of all is χ² of the others plus the square of the deviation from them.
    const std::vector<double> values{10.0, 12.0, 9.0, 15.0};
    const std::vector<double> u{1.0, 2.0, 0.5, 3.0};
    const Agreement all = agreement(values, u);
    const Agreement others = agreement(std::vector{10.0, 12.0, 9.0}, std::vector{1.0, 2.0, 0.5});
    EXPECT_NEAR(all.comparisons[3].others, others.mean, 1e-12);
    EXPECT_NEAR(all.chi_squared, others.chi_squared + std::pow(all.comparisons[3].deviation, 2), 1e-12);
}

// One value outweighs the others by 1e18: what the others say is not lost in it.
TEST(AgreementIdentities, LeaveOneOutOfUnequalOnes) {
    const Agreement all = agreement(std::vector{7.0, 10.0, 12.0}, std::vector{1e-9, 1.0, 2.0});
    EXPECT_NEAR(all.comparisons[0].others, 10.4, 1e-12);
    EXPECT_NEAR(all.comparisons[0].others_uncertainty, std::sqrt(0.8), 1e-12);
}

// As many values as a column may hold, without a sum over all of them for each.
TEST(AgreementIdentities, ManyValues) {
    const std::size_t n = 500000;
    std::vector<double> values(n, 5.0);
    values[3] = 6.0;
    const Agreement all = agreement(values, std::vector<double>(n, 2.0));
    EXPECT_NEAR(all.mean, 5.0 + 1.0 / static_cast<double>(n), 1e-12);
    EXPECT_EQ(all.farthest, 3u);
    EXPECT_NEAR(all.comparisons[3].others, 5.0, 1e-12);
}

TEST(AgreementErrors, SayWhy) {
    const std::vector<double> two{1.0, 2.0};
    EXPECT_THROW(agreement(std::vector{1.0}, std::vector{1.0}), NoData);
    EXPECT_THROW(agreement(two, std::vector{1.0}), InvalidArgument);
    EXPECT_THROW(agreement(two, std::vector{1.0, 0.0}), InvalidArgument);
    EXPECT_THROW(agreement(two, std::vector{1.0, std::nan("")}), InvalidArgument);
    EXPECT_THROW(agreement(std::vector{1.0, std::nan("")}, two), InvalidArgument);
    EXPECT_THROW(agreement(two, two, 95.0), InvalidArgument);
    EXPECT_EQ(agreement(std::vector{-1e200, 1e200}, std::vector{1e-200, 1e-200}).p, 0.0);
}

// Two values agree at 95 % up to a difference of 1.959964 of its standard uncertainty: the two-sided normal
// quantile (printed in any table of the normal distribution), since chi-squared of one degree is its square.
TEST(NormalTable, TwoValuesAgreeUpToTheQuantile) {
    const std::vector<double> uncertainties{1.0, 1.0};
    for (const double share : {0.97, 1.03}) {
        const std::vector<double> values{0.0, share * 1.959964 * std::sqrt(2.0)};
        EXPECT_EQ(agreement(values, uncertainties).agrees, share < 1.0) << share;
    }
}

}  // namespace
}  // namespace pullsheet::statistics
