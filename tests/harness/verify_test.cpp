// SPDX-License-Identifier: Apache-2.0
#include "harness/verify.hpp"

#include <gtest/gtest.h>

#include "core/catalogue/checks.hpp"
#include "tests/harness/run.hpp"

namespace pullsheet::harness::test {
namespace {

TEST(Verify, PrintsEveryCheckWithItsSource) {
    const Answer answer = pullsheet({"verify", "--csv"});
    EXPECT_EQ(answer.code, done) << answer.error;
    EXPECT_EQ(lines(answer.out), catalogue::checks().size() + 1);
    for (const auto& check : catalogue::checks())
        EXPECT_TRUE(contains(answer.out, check.source.substr(0, check.source.find('"')))) << check.source;
    EXPECT_TRUE(contains(answer.error, "check values agree"));
    EXPECT_FALSE(contains(answer.out, "FAILS"));
    EXPECT_TRUE(contains(answer.out, "function,arguments,printed,independent,identity,computed"));
    const catalogue::Counts counts = catalogue::count(catalogue::checks());
    EXPECT_TRUE(contains(answer.error, "printed " + std::to_string(counts.printed) + " (")) << answer.error;
    EXPECT_TRUE(contains(answer.error, "independent " + std::to_string(counts.independent) + ","));
    EXPECT_TRUE(contains(answer.error, "identities " + std::to_string(counts.identities)));
    EXPECT_FALSE(contains(answer.error, "fewer"));
}

TEST(Verify, OneFamilyOrFunction) {
    EXPECT_EQ(pullsheet({"verify", "unit"}).out, pullsheet({"verify", "UNIT.CONVERT"}).out);
    EXPECT_EQ(pullsheet({"verify", "NOTHING"}).code, wrong_use);
}

TEST(Verify, FormatsHoldTheSameRows) {
    const std::size_t count = catalogue::checks().size();
    EXPECT_EQ(lines(pullsheet({"verify"}).out), count + 1);
    EXPECT_EQ(lines(pullsheet({"verify", "--tsv"}).out), count + 1);
    EXPECT_EQ(lines(pullsheet({"verify", "--json"}).out), count);
}

}  // namespace
}  // namespace pullsheet::harness::test
