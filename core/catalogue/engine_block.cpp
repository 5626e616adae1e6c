// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/engine_block.hpp"

#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "core/catalogue/reader.hpp"
#include "core/constants.hpp"
#include "core/engine/geometry.hpp"

namespace pullsheet::catalogue {

const BlockSchema& engine_schema() {
    static const BlockSchema schema{
        .name = "engine",
        .labels =
            {
                Label("displacement", "of all cylinders", Quantity::volume, "L", between(0.02, 50))
                    .of(figures::displacement)
                    .optional(),
                Label("bore", "bore of a cylinder", Quantity::length, "mm", between(20, 300))
                    .of(figures::cylinder_length)
                    .optional(),
                Label("stroke", "stroke of the piston", Quantity::length, "mm", between(20, 300))
                    .of(figures::cylinder_length)
                    .optional(),
                Label("cylinders", "number of cylinders", Quantity::count, "", between(1, 24)),
                Label("compression ratio", "geometric", Quantity::ratio, "", between(4, 25))
                    .of(figures::compression_ratio)
                    .otherwise(9.5),
                Label("rod length", "connecting rod, centre to centre", Quantity::length, "mm",
                      between(30, 600))
                    .of(figures::rod_length)
                    .optional(),
                Label("redline", "highest permitted engine speed", Quantity::angular_speed, "rpm",
                      between(500, 25000))
                    .of(figures::engine_speed)
                    .optional(),
                Label("volumetric efficiency", "referred to the density in the manifold", Quantity::share, "",
                      between(0.2, 1.5))
                    .of(figures::volumetric_efficiency)
                    .otherwise(0.95),
                Label("volumetric efficiency at # rpm",
                      "point of the curve over engine speed; two points or more; not known below the first "
                      "and above the last",
                      Quantity::share, "", between(0.2, 1.5))
                    .of(figures::volumetric_efficiency)
                    .optional(),
                Label("lambda", "air–fuel ratio / stoichiometric air–fuel ratio, at full load",
                      Quantity::ratio, "", between(0.5, 2))
                    .of(figures::lambda)
                    .otherwise(0.85),
                Label("efficiency", "brake power / (fuel flow × lower heating value)", Quantity::share, "",
                      between(0.05, 0.6))
                    .of(figures::efficiency)
                    .otherwise(0.30),
                Label("manifold temperature", "in the manifold", Quantity::temperature, "°C",
                      between(-40, 250))
                    .of(figures::manifold_temperature)
                    .optional(),
                Label("burn duration", "crank angle from start to end of the burn", Quantity::angle, "°",
                      between(15, 150))
                    .of(figures::burn_duration)
                    .optional(),
                Label("coolant temperature", "of the engine", Quantity::temperature, "°C", between(0, 150))
                    .of(figures::coolant_temperature)
                    .otherwise(90),
                Label("octane offset", "how much less octane the engine needs than the model predicts",
                      Quantity::number, "", between(-40, 40))
                    .of(figures::octane_offset)
                    .otherwise(0),
                Label("octane index K",
                      "K of the octane index RON - K·(RON - MON); negative in modern engines, with fuels of "
                      "higher sensitivity",
                      Quantity::number, "", between(-1.5, 1))
                    .of(figures::octane_index_k)
                    .otherwise(0),
                Label("wall heat factor", "on the heat that goes to the walls after Woschni", Quantity::ratio,
                      "", between(0.5, 3))
                    .of(figures::wall_heat_factor)
                    .otherwise(1.3),
                Label("injection", "where the fuel is injected: direct (into the cylinder) or port")
                    .optional(),
                Label("evaporated",
                      "share of the latent heat that cools the charge; 0.7 with direct, 0.3 with port "
                      "injection",
                      Quantity::share, "", unit_share)
                    .of(figures::share)
                    .optional(),
                Label("exhaust heat transfer",
                      "W/K to the walls of each exhaust port and its manifold, at 0.1 kg/s of gas",
                      Quantity::number, "", between(0, 40))
                    .of(figures::exhaust_heat_transfer)
                    .otherwise(9),
                Label("probe reads low by",
                      "K that a thermocouple before the turbine reads below the gas itself", Quantity::number,
                      "", between(0, 150))
                    .of(figures::probe_reads_low)
                    .otherwise(40),
                Label("full boost from", "engine speed from which full torque is available",
                      Quantity::angular_speed, "rpm", between(500, 20000))
                    .of(figures::engine_speed)
                    .optional(),
                Label("efficiency factor",
                      "factor on the computed indicated work, from CYCLE.EFFICIENCY.FACTOR", Quantity::ratio,
                      "", between(0.3, 2))
                    .of(figures::efficiency_factor)
                    .otherwise(1),
            },
        .one_of = {{"displacement", "bore"},
                   {"displacement", "stroke"},
                   {"volumetric efficiency", "volumetric efficiency at # rpm"}},
    };
    return schema;
}

double displacement_from(const Block& block, std::string_view parameter, Language language) {
    if (const auto displacement = block.find("displacement")) return *displacement;
    const auto bore = block.find("bore");
    const auto stroke = block.find("stroke");
    if (!bore || !stroke)
        throw Refused{FailureKind::wrong_argument,
                      say(language, Phrase::engine_displacement, {{"parameter", std::string(parameter)}})};
    return engine::displacement(*bore, *stroke, block.number("cylinders"));
}

engine::VolumetricEfficiency volumetric_efficiency_from(const Block& block, std::string_view parameter,
                                                        Language language) {
    const auto curve = block.numbered("volumetric efficiency at # rpm");
    if (curve.empty()) return block.number("volumetric efficiency");
    if (curve.size() == 1)
        throw Refused{FailureKind::wrong_argument,
                      say(language, Phrase::one_point_curve,
                          {{"parameter", std::string(parameter)}, {"label", "volumetric efficiency"}})};
    const Unit* rpm = find_unit("rpm");
    std::vector<double> speeds, values;
    for (const auto& [speed, value] : curve) {
        speeds.push_back(rpm->to_si(speed, Quantity::angular_speed));
        values.push_back(value);
    }
    return {std::move(speeds), std::move(values)};
}

plan::Engine engine_from(const Block& block, std::string_view parameter, Language language) {
    plan::Engine engine{};
    engine.displacement = displacement_from(block, parameter, language);
    engine.volumetric_efficiency = volumetric_efficiency_from(block, parameter, language);
    engine.lambda = block.number("lambda");
    engine.efficiency = block.number("efficiency");
    engine.charge_temperature = block.find("manifold temperature");
    engine.redline = block.find("redline");
    return engine;
}

cycle::Cylinder cylinder_from(const Block& block, std::string_view parameter, Language language,
                              Warnings& warnings) {
    cycle::Cylinder cylinder;
    const double cylinders = block.number("cylinders");
    const double displacement = displacement_from(block, parameter, language);
    cylinder.cylinders = static_cast<int>(cylinders);
    const auto bore = block.find("bore");
    const auto stroke = block.find("stroke");
    if (bore && stroke) {
        cylinder.crank.bore = *bore;
        cylinder.crank.stroke = *stroke;
    } else {
        cylinder.crank.bore = cylinder.crank.stroke = std::cbrt(4.0 * displacement / (pi * cylinders));
        warnings.add(say(language, Phrase::engine_square, {{"parameter", std::string(parameter)}}));
    }
    if (const auto rod = block.find("rod length")) {
        cylinder.crank.rod = *rod;
    } else {
        cylinder.crank.rod = 1.7 * cylinder.crank.stroke;
        warnings.add(say(language, Phrase::engine_rod, {{"parameter", std::string(parameter)}}));
    }
    cylinder.crank.compression_ratio = block.number("compression ratio");
    cylinder.volumetric_efficiency = volumetric_efficiency_from(block, parameter, language);
    if (const auto duration = block.find("burn duration")) cylinder.burn_duration = *duration;
    cylinder.coolant_temperature = block.number("coolant temperature");
    cylinder.octane_offset = block.number("octane offset");
    cylinder.octane_index_k = block.number("octane index K");
    cylinder.wall_heat_factor = block.number("wall heat factor");
    if (block.has("injection")) {
        const std::string injection = normal_label(block.text("injection"));
        if (injection == "port")
            cylinder.evaporated = cycle::evaporated::port_injection;
        else if (injection != "direct")
            throw Refused{FailureKind::wrong_argument,
                          say(language, Phrase::engine_injection,
                              {{"parameter", std::string(parameter)},
                               {"value", std::string(block.text("injection"))}})};
    }
    if (const auto evaporated = block.find("evaporated")) cylinder.evaporated = *evaporated;
    cylinder.exhaust_heat_transfer = block.number("exhaust heat transfer");
    cylinder.probe_reads_low_by = block.number("probe reads low by");
    cylinder.efficiency_factor = block.number("efficiency factor");
    return cylinder;
}

}  // namespace pullsheet::catalogue
