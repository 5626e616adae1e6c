// SPDX-License-Identifier: Apache-2.0
#include "harness/progress.hpp"

#include <gtest/gtest.h>

#include <sstream>

namespace pullsheet::harness::test {
namespace {

TEST(Progress, ShareRowsRateAndRemainingTime) {
    // A quarter in 30 s leaves 90 s.
    EXPECT_EQ(progress_line(250, 1000, 3000, 30.0, 120),
              "[######..................]  25 %  3000 rows, 100 rows/s, 1:30 left");
    EXPECT_EQ(progress_line(1000, 1000, 3000, 30.0, 120),
              "[########################]  99 %  3000 rows, 100 rows/s, 0:00 left");
    EXPECT_EQ(progress_line(1, 1001, 1, 10.0, 120),
              "[........................]   0 %  1 rows, 0 rows/s, 2:46:40 left");
    EXPECT_EQ(progress_line(2000000, std::nullopt, 500, 10.0, 120), "500 rows, 50 rows/s, 2.0 MB, 0:10");
    EXPECT_EQ(progress_line(250, 1000, 3000, 30.0, 120, catalogue::Language::german),
              "[######..................]  25 %  3000 Zeilen, 100 Zeilen/s, noch 1:30");
    EXPECT_EQ(progress_line(0, 1000, 0, 0.0, 120), "[........................]   0 %  0 rows, 0 rows/s");
}

TEST(Progress, ANarrowTerminalIsNotOverrun) {
    for (std::size_t width = 0; width < 100; ++width)
        EXPECT_LE(progress_line(250, 1000, 3000, 30.0, width).size(), width);
}

TEST(Progress, NothingIsWrittenWhereNothingIsWanted) {
    std::ostringstream out;
    {
        Progress progress(out, false, 1000);
        progress.update(10, 10);
        progress.clear();
    }
    EXPECT_EQ(out.str(), "");
}

}  // namespace
}  // namespace pullsheet::harness::test
