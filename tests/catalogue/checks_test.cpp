// SPDX-License-Identifier: Apache-2.0
// The published check values that `pullsheet verify` prints.
#include <gtest/gtest.h>

#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/checks.hpp"

namespace pullsheet::catalogue {
namespace {

TEST(PublishedChecks, AllAgree) {
    EXPECT_FALSE(checks().empty());
    for (const Check& check : checks()) {
        const CheckResult result = run(check);
        EXPECT_TRUE(result.agrees) << check.function << ", published " << check.expected << " by "
                                   << check.source << ", deviation " << result.deviation << " "
                                   << result.sentence;
    }
}

TEST(PublishedChecks, NameTheirSource) {
    for (const Check& check : checks()) {
        EXPECT_NE(find_function(check.function), nullptr) << check.function;
        EXPECT_GE(check.source.size(), 10u) << check.function;
        EXPECT_GT(check.tolerance.value, 0.0) << check.function;
    }
}

TEST(PublishedChecks, AWrongValueFails) {
    const CheckResult wrong =
        run({"UNIT.CONVERT", {1.0, "PS", "W"}, 745.7, Tolerance::printed(1), "a wrong value"});
    EXPECT_FALSE(wrong.agrees);
    ASSERT_TRUE(wrong.computed);
    EXPECT_NEAR(wrong.deviation, 735.49875 - 745.7, 1e-9);
    const CheckResult refused =
        run({"UNIT.CONVERT", {1.0, "PS", "bar"}, 1.0, Tolerance::exact(), "a wrong call"});
    EXPECT_FALSE(refused.agrees);
    EXPECT_FALSE(refused.sentence.empty());
    EXPECT_FALSE(run({"UNIT.NOTHING", {}, 1.0, Tolerance::exact(), "no function"}).agrees);
}

TEST(PublishedChecks, ToleranceIsHalfAUnitOfTheLastDigit) {
    EXPECT_DOUBLE_EQ(Tolerance::printed(2).value, 0.005);
    EXPECT_DOUBLE_EQ(Tolerance::printed(0).value, 0.5);
    EXPECT_DOUBLE_EQ(Tolerance::printed(-1).value, 5.0);
    EXPECT_FALSE(Tolerance::printed(2).is_relative);
}

}  // namespace
}  // namespace pullsheet::catalogue
