// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/summary.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "core/error.hpp"
#include "core/statistics/repeatability.hpp"
#include "tests/statistics/nist_univariate.hpp"

namespace pullsheet::statistics {
namespace {

// NIST Statistical Reference Datasets, univariate summary statistics: certified values, 15 digits.
TEST(NistStrdPrinted, UnivariateMichelsoMavroLew) {
    const Summary light = summarise(michelso);
    EXPECT_EQ(light.count, 100U);
    EXPECT_NEAR(light.mean, 299.852400000000, 5e-13);
    EXPECT_NEAR(light.standard_deviation, 0.0790105478190518, 1e-14 + 0.0790105478190518 * 1e-12);
    const Summary filter = summarise(mavro);
    EXPECT_EQ(filter.count, 50U);
    EXPECT_NEAR(filter.mean, 2.00185600000000, 5e-15);
    EXPECT_NEAR(filter.standard_deviation, 0.000429123454003053, 0.000429123454003053 * 1e-12);
    const Summary beam = summarise(lew);
    EXPECT_EQ(beam.count, 200U);
    EXPECT_NEAR(beam.mean, -177.435000000000, 5e-13);
    EXPECT_NEAR(beam.standard_deviation, 277.332168044316, 5e-13);
}

// NumAcc1 … 4: small scatter on a large mean, where a one-pass variance loses all digits. The numbers as
// stored are not the decimal ones, which limits the standard deviation of NumAcc3 and 4 to about 9 and 8
// digits.
TEST(NistStrdPrinted, UnivariateNumAcc) {
    const Summary one = summarise(std::vector{10000001.0, 10000003.0, 10000002.0});
    EXPECT_EQ(one.mean, 10000002.0);
    EXPECT_EQ(one.standard_deviation, 1.0);
    const auto pairs = [](double middle) {
        std::vector<double> values{middle + 0.2};
        for (int i = 0; i < 500; ++i) {
            values.push_back(middle + 0.1);
            values.push_back(middle + 0.3);
        }
        return values;
    };
    const Summary two = summarise(pairs(1.0));
    EXPECT_NEAR(two.mean, 1.2, 1e-15);
    EXPECT_NEAR(two.standard_deviation, 0.1, 1e-14);
    const Summary three = summarise(pairs(1000000.0));
    EXPECT_NEAR(three.mean, 1000000.2, 1e-9);
    EXPECT_NEAR(three.standard_deviation, 0.1, 1e-10);
    const Summary four = summarise(pairs(10000000.0));
    EXPECT_NEAR(four.mean, 10000000.2, 1e-8);
    EXPECT_NEAR(four.standard_deviation, 0.1, 1e-9);
}

TEST(Repeatability, MichelsoInterval) {
    // 95 % half-width of the mean of Michelso: Student's t (99 degrees of freedom) 1.9842170, computed
    // reference.
    const Repeatability light = repeatability(michelso);
    EXPECT_NEAR(light.half_width, 0.0156774068, 5e-11);
    EXPECT_NEAR(*light.variation, 0.0790105478190518 / 299.8524, 1e-15);
    EXPECT_NEAR(light.limit, 2.8 * 0.0790105478190518, 1e-12);
}

// Quantiles of Student's distribution, as in any table; here computed to ten digits with an independent
// library.
TEST(Repeatability, StudentQuantiles) {
    const std::vector<std::pair<double, double>> t{{1, 12.7062047}, {2, 4.3026527},  {3, 3.1824463},
                                                   {4, 2.7764451},  {5, 2.5705818},  {9, 2.2621572},
                                                   {19, 2.0930241}, {29, 2.0452296}, {99, 1.9842170}};
    for (const auto& [freedom, quantile] : t) EXPECT_NEAR(student_t(0.95, freedom), quantile, 5.1e-8);
}

TEST(RepeatabilityErrors, SayWhy) {
    EXPECT_THROW(repeatability(std::vector{1.0}), NoData);
    EXPECT_THROW(repeatability(std::vector<double>{}), NoData);
    EXPECT_THROW(repeatability(std::vector{1.0, std::nan("")}), InvalidArgument);
    EXPECT_THROW(repeatability(std::vector{1.0, 2.0}, 1.0), InvalidArgument);
    EXPECT_THROW(repeatability(std::vector{1.0, 2.0}, std::nan("")), InvalidArgument);
    EXPECT_FALSE(repeatability(std::vector{-1.0, 1.0}).variation.has_value());
}

}  // namespace
}  // namespace pullsheet::statistics
