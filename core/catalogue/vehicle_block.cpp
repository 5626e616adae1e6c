// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/vehicle_block.hpp"

#include "core/catalogue/reader.hpp"
#include "core/catalogue/tyre_size.hpp"
#include "core/road/tyre.hpp"

namespace pullsheet::catalogue {

const BlockSchema& vehicle_schema() {
    static const BlockSchema schema{
        .name = "vehicle",
        .labels =
            {
                Label("mass", "mass with driver and fuel", Quantity::mass, "kg", between(100, 20000))
                    .of(figures::vehicle_mass),
                Label("drive", "driven axles: front, rear or all"),
                Label("tyre", "size of the driven tyres, for example 255/35 R19").optional(),
                Label("rolling radius", "rolling radius of the driven tyres", Quantity::length, "m",
                      between(0.1, 1))
                    .of(figures::tyre_radius)
                    .optional(),
                Label("drag area", "drag coefficient times frontal area", Quantity::area, "m²",
                      between(0, 10))
                    .of(figures::drag_area),
                Label("rolling resistance", "rolling resistance / wheel load", Quantity::ratio, "",
                      between(0, 0.1))
                    .of(figures::rolling_resistance)
                    .otherwise(0.013),
                Label("front share", "share of the weight on the front axle at rest", Quantity::share, "",
                      between(0.05, 0.95))
                    .of(figures::front_share)
                    .otherwise(0.55),
                Label("wheelbase", "distance between the axles", Quantity::length, "m", between(1, 8))
                    .of(figures::wheelbase)
                    .otherwise(2.6),
                Label("centre of gravity height", "height above the road", Quantity::length, "m",
                      between(0, 2))
                    .of(figures::gravity_height)
                    .otherwise(0.5),
                Label("grip", "greatest tyre force / wheel load", Quantity::ratio, "", between(0.05, 5))
                    .of(figures::grip)
                    .otherwise(1.0),
                Label("gear #", "ratio of a gear, numbered from 1", Quantity::ratio, "", between(0.1, 20))
                    .of(figures::gear_ratio),
                Label("final drive", "ratio of the final drive", Quantity::ratio, "", between(0.5, 20))
                    .of(figures::final_drive),
                Label("final drive #", "final drive of a gear that has its own", Quantity::ratio, "",
                      between(0.5, 20))
                    .of(figures::final_drive)
                    .optional(),
                Label("shift time", "time without drive during an upshift", Quantity::time, "s",
                      between(0, 5))
                    .of(figures::shift_time)
                    .otherwise(0.2),
                Label("torque in shift",
                      "share of the torque kept while shifting: 0 interrupted, 1 sustained", Quantity::share,
                      "", unit_share)
                    .otherwise(0),
                Label("driveline efficiency", "wheel power / crank power", Quantity::share, "",
                      between(0.3, 1))
                    .of(figures::driveline_efficiency)
                    .otherwise(0.85),
                Label("engine inertia", "of engine, flywheel and clutch", Quantity::inertia, "kg·m²",
                      between(0, 20))
                    .of(figures::engine_inertia)
                    .otherwise(0.2),
                Label("wheel inertia", "of one wheel with tyre and brake", Quantity::inertia, "kg·m²",
                      between(0, 50))
                    .of(figures::wheel_inertia)
                    .otherwise(1),
                Label("rev limit", "engine speed at which the limiter cuts in", Quantity::angular_speed,
                      "rpm", between(500, 25000))
                    .of(figures::engine_speed)
                    .optional(),
                Label("launch speed", "engine speed held by the slipping clutch from rest",
                      Quantity::angular_speed, "rpm", between(300, 20000))
                    .of(figures::engine_speed)
                    .otherwise(3500),
                Label("rollout",
                      "distance covered before timing starts, in runs from rest; about 0.3 m at a drag strip",
                      Quantity::length, "m", between(0, 1))
                    .of(figures::rollout)
                    .otherwise(0),
                Label("rise time of torque", "time from 10 % to 90 % of the torque after the throttle opens",
                      Quantity::time, "s", between(0, 10))
                    .of(figures::rise_time)
                    .otherwise(0),
            },
        .one_of = {{"tyre", "rolling radius"}},
    };
    return schema;
}

road::Vehicle vehicle_from(const Block& block, std::string_view parameter, Language language) {
    const auto refuse = [&](Phrase phrase, Fill fill) {
        return Refused{FailureKind::wrong_argument, say(language, phrase, fill)};
    };
    road::Vehicle vehicle;
    vehicle.mass = block.number("mass");
    const std::string drive = normal_label(block.text("drive"));
    if (drive.starts_with("front"))
        vehicle.drive = road::Drive::front;
    else if (drive.starts_with("rear"))
        vehicle.drive = road::Drive::rear;
    else if (drive.starts_with("all"))
        vehicle.drive = road::Drive::all;
    else
        throw refuse(Phrase::vehicle_drive,
                     {{"parameter", std::string(parameter)}, {"value", std::string(block.text("drive"))}});
    if (block.has("tyre")) {
        const TyreSize size = read_tyre_size(block.text("tyre"), parameter, language);
        vehicle.rolling_radius = road::rolling_radius(size.width, size.aspect, size.rim);
    } else if (const auto radius = block.find("rolling radius")) {
        vehicle.rolling_radius = *radius;
    } else {
        throw refuse(Phrase::vehicle_tyre, {{"parameter", std::string(parameter)}});
    }
    vehicle.drag_area = block.number("drag area");
    vehicle.rolling_resistance = block.number("rolling resistance");
    vehicle.front_share = block.number("front share");
    vehicle.wheelbase = block.number("wheelbase");
    vehicle.centre_of_gravity_height = block.number("centre of gravity height");
    vehicle.grip = block.number("grip");
    double expected = 1.0;
    const auto gears = block.numbered("gear #");
    const auto finals = block.numbered("final drive #");
    for (const auto& [number, ratio] : gears) {
        if (number != expected)
            throw refuse(Phrase::vehicle_gear_missing,
                         {{"parameter", std::string(parameter)}, {"gear", number_text(expected, language)}});
        expected += 1.0;
        vehicle.gears.push_back(ratio);
        if (finals.empty()) continue;
        const auto own = finals.find(number);
        vehicle.final_drives.push_back(own == finals.end() ? block.number("final drive") : own->second);
    }
    for (const auto& [number, ratio] : finals)
        if (!gears.contains(number))
            throw refuse(Phrase::vehicle_gear_missing,
                         {{"parameter", std::string(parameter)}, {"gear", number_text(number, language)}});
    if (finals.empty()) vehicle.final_drives = {block.number("final drive")};
    vehicle.shift_time = block.number("shift time");
    vehicle.torque_in_shift = block.number("torque in shift");
    vehicle.driveline_efficiency = block.number("driveline efficiency");
    vehicle.engine_inertia = block.number("engine inertia");
    vehicle.wheel_inertia = block.number("wheel inertia");
    vehicle.rev_limit = block.find("rev limit");
    vehicle.launch_speed = block.number("launch speed");
    vehicle.rollout = block.number("rollout");
    vehicle.rise_time_of_torque = block.number("rise time of torque");
    return vehicle;
}

}  // namespace pullsheet::catalogue
