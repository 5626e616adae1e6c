// SPDX-License-Identifier: Apache-2.0
#include "core/cycle/autoignition.hpp"

#include <gtest/gtest.h>

#include <array>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <boost/numeric/odeint/stepper/runge_kutta4.hpp>

#include "core/solve.hpp"

using namespace pullsheet;
using namespace pullsheet::cycle;

// Douaud & Eyzat (1978) as in Heywood (1988), eq. 9.50, p in atmospheres, evaluated with an independent
// library.
TEST(DouaudEyzat1978Identities, Delay) {
    const struct {
        double octane, atmospheres, temperature, milliseconds;
    } rows[] = {{100, 20, 800, 12.5496050}, {95, 30, 800, 5.2904257}, {90, 40, 900, 1.5922128},
                {95, 50, 850, 1.6788070},   {80, 25, 750, 5.5172385}, {98, 60, 900, 1.0677364}};
    for (const auto& row : rows)
        EXPECT_NEAR(1e3 * douaud_eyzat::delay(row.octane, 101325.0 * row.atmospheres, row.temperature),
                    row.milliseconds, 5e-8);
}

// Pressure taken in bar instead of atmospheres would change every delay by 1.01325^1.7, 2.26 %.
TEST(DouaudEyzat1978Identities, PressureIsInAtmospheres) {
    EXPECT_NEAR(douaud_eyzat::delay(95.0, 30e5, 800.0) / douaud_eyzat::delay(95.0, 30.0 * 101325.0, 800.0),
                1.0226293, 5e-8);
}

namespace {

/// ∫ dt/τ on a ramp: p = 20 + 8 t bar (t in ms), T = 700 K (p/20)^(0.33/1.33), octane number 95.
double ramp_integral(double milliseconds) {
    const auto rate = [](double t) {
        const double p = 20.0 + 8.0 * t;
        const double temperature = 700.0 * std::pow(p / 20.0, 0.33 / 1.33);
        return 1e-3 / douaud_eyzat::delay(95.0, 1e5 * p, temperature);
    };
    return ::boost::math::quadrature::gauss_kronrod<double, 31>::integrate(rate, 0.0, milliseconds, 8, 1e-13);
}

}  // namespace

// Livengood & Wu (1955): constant state, the integral is 1 after one delay; a ramp, integrated with an
// independent library to 1e-12. There the delay's pressure was read in bar from a table of atmospheres: p
// [atm] = p [bar]/1.01325.
TEST(LivengoodWu1955Identities, Ramp) {
    EXPECT_NEAR(ramp_integral(5.0), 2.1699372455, 5e-10);
    EXPECT_NEAR(root_between([](double t) { return ramp_integral(t) - 1.0; }, 1.0, 5.0, Reason::not_finite),
                3.64832963, 5e-9);
}
