// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/evidence/evidence.hpp"

namespace pullsheet::catalogue::evidence {

namespace {

// Rows at equal distances of time, from the first to the last value.
Table rising(double first, double last, int rows) {
    Table table;
    for (int i = 0; i < rows; ++i) table.add_row({first + (last - first) * i / (rows - 1)});
    return table;
}

// A body without drag on a constant rolling resistance.
Table body(double mass, double rolling_resistance, double efficiency) {
    return {{std::string("mass"), mass, std::string("kg")},
            {std::string("drive"), std::string("rear")},
            {std::string("rolling radius"), 0.3, std::string("m")},
            {std::string("drag area"), 0.0, std::string("m²")},
            {std::string("rolling resistance"), rolling_resistance},
            {std::string("gear 1"), 1.0},
            {std::string("final drive"), 1.0},
            {std::string("driveline efficiency"), efficiency},
            {std::string("engine inertia"), 0.0, std::string("kg·m²")},
            {std::string("wheel inertia"), 0.0, std::string("kg·m²")}};
}

}  // namespace

// Worked examples of physics: what the wheels or the engine hand over.
std::vector<Check> road() {
    const Reference giancoli{"D. C. Giancoli, Physics: Principles with Applications"};
    const Reference openstax{"OpenStax, University Physics, volume 1, power"};
    const std::string_view level = "resistance of 700 N; at the end of the run";
    const std::string_view hill =
        "resistance of 700 N, 10°, 80 km/h; the example rounds to two digits on the way";
    const std::string_view grade = "a quarter of the engine's power goes to resistance";
    const Table times = rising(0.0, 6.0, 61);
    const Table steady = rising(80.0, 80.0, 61);
    const Table uphill = rising(90.0, 90.0, 61);
    const double car = 700.0 / (1400.0 * 9.80665);
    // Heights along the road, by its angle.
    const Table ten_degrees = rising(0.0, 80.0 / 3.6 * 6.0 * 0.173648178, 61);
    const Table fifteen_percent = rising(0.0, 90.0 / 3.6 * 6.0 * 0.148340453, 61);
    return {
        printed("ROAD.LOG.POWER", {times, rising(90.0, 110.0, 61), body(1400.0, car, 1.0)}, 61.0, 0, giancoli,
                "power needs of a car, (b): 6.1e4 W", level)
            .at(61, 2),
        printed("ROAD.LOG.POWER", {times, steady, body(1400.0, car, 1.0), Value{}, ten_degrees}, 68.0, 0,
                giancoli, "power needs of a car, (a): 6.8e4 W")
            .within(Tolerance::relative(0.01), hill)
            .at(31, 2),
        printed("ROAD.LOG.POWER", {times, uphill, body(1200.0, 0.0, 0.75), Value{}, fifteen_percent}, 58.0, 0,
                openstax, "automobile driving uphill, 1200 kg, 15 %, 90 km/h", grade)
            .at(31, 3),
    };
}

// Worked examples of a torque that speeds a body up.
std::vector<Check> roller() {
    const Reference khurmi{
        "R. S. Khurmi, J. K. Gupta, Theory of Machines",
        "FOSSEE, Python Textbook Companions, Theory_Of_Machines_by_R._S._Khurmi_And_J._K._Gupta"};
    const Reference openstax{"OpenStax, College Physics, dynamics of rotational motion"};
    const std::string_view backwards = "the printed acceleration gives the torque back";
    // A run at a constant angular acceleration, in rpm, over ten seconds.
    const auto run = [](double acceleration) {
        return rising(0.0, acceleration * 10.0 * 30.0 / 3.14159265358979, 101);
    };
    const Table times = rising(0.0, 10.0, 101);
    return {
        printed("DYNO.ROLLER.PULL", {times, run(0.6), 2500.0}, 1500.0, 0, khurmi,
                "example 16.2, page 573: 0.6 rad/s²", backwards)
            .at(51, 2),
        printed("DYNO.ROLLER.PULL", {times, run(6.67), 56.25}, 375.0, 0, openstax,
                "merry-go-round, empty: 6.67 rad/s²", backwards)
            .at(51, 2),
        printed("DYNO.ROLLER.PULL", {times, run(4.44), 84.38}, 375.0, 0, openstax,
                "merry-go-round, with a child: 4.44 rad/s²", backwards)
            .at(51, 2),
    };
}

std::vector<Check> tyre() {
    const Reference etrto{citation("ETRTO")};
    const std::string_view rolling = "3.05 diameters roll off freely; under drive up to 1 % less";
    return {
        printed("TYRE.RADIUS", {"255/35 R19", "mm"}, 320.91, 2, etrto, "rolling circumference")
            .within(Tolerance::relative(0.01), rolling),
        printed("TYRE.RADIUS", {"195/65 R15", "mm"}, 308.24, 2, etrto, "rolling circumference")
            .within(Tolerance::relative(0.01), rolling),
        printed("TYRE.RADIUS", {"205/55 R16", "mm"}, 306.74, 2, etrto, "rolling circumference")
            .within(Tolerance::relative(0.01), rolling),
    };
}

}  // namespace pullsheet::catalogue::evidence
