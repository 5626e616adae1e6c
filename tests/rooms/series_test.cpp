// SPDX-License-Identifier: Apache-2.0
#include "core/series.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace {

using namespace pullsheet;

template <class Error, class F>
Reason reason_of(F f, std::vector<double>* details = nullptr) {
    try {
        f();
    } catch (const Error& error) {
        if (details)
            for (const Detail& detail : error.details()) details->push_back(detail.value);
        return error.reason();
    }
    ADD_FAILURE() << "nothing refused";
    return Reason::not_finite;
}

}  // namespace

TEST(Series, LengthAndNumberOfPoints) {
    const std::vector<double> three{1.0, 2.0, 3.0};
    require_length("x", 3, three);
    require_points(2, 2);
    std::vector<double> details;
    EXPECT_EQ(reason_of<InvalidArgument>([&] { require_length("x", 2, three); }, &details),
              Reason::lengths_differ);
    EXPECT_EQ(reason_of<NoData>([] { require_points(1, 2); }, &details), Reason::too_few_points);
    EXPECT_EQ(details, (std::vector<double>{2.0, 3.0, 1.0, 2.0}));
}

TEST(Series, EachNumberAndTheirOrder) {
    require_all("x", std::vector<double>{}, positive);
    require_all("x", std::vector{1.0, 2.0}, positive);
    require_ascending("x", std::vector{-1.0, 0.0, 2.0});
    for (const double bad : {0.0, -1.0, std::nan("")})
        EXPECT_EQ(reason_of<InvalidArgument>([=] {
                      require_all("x", std::vector{1.0, bad}, positive);
                  }),
                  Reason::out_of_range);
    EXPECT_EQ(reason_of<InvalidArgument>([] {
                  require_ascending("x", std::vector{0.0, std::nan("")});
              }),
              Reason::out_of_range);
    std::vector<double> details;
    EXPECT_EQ(reason_of<InvalidArgument>(
                  [] {
                      require_ascending("x", std::vector{0.0, 1.0, 1.0});
                  },
                  &details),
              Reason::not_increasing);
    EXPECT_EQ(details, std::vector{3.0});
}
