// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/families/examples.hpp"

#include <string>

namespace pullsheet::catalogue::examples {
namespace {

Cell t(const char* text) {
    return std::string(text);
}

}  // namespace

Table column(std::initializer_list<double> values) {
    Table table(values.size(), 1);
    std::size_t row = 0;
    for (const double value : values) table.at(row++, 0) = value;
    return table;
}

Table vehicle() {
    return {
        {t("mass"), 1500.0, t("kg")},
        {t("drive"), t("rear"), t("")},
        {t("tyre"), t("245/40 R18"), t("")},
        {t("drag area"), 0.66, t("m²")},
        {t("rolling resistance"), 0.013, t("")},
        {t("front share"), 0.51, t("")},
        {t("wheelbase"), 2.7, t("m")},
        {t("centre of gravity height"), 0.51, t("m")},
        {t("grip"), 1.05, t("")},
        {t("gear 1"), 3.8, t("")},
        {t("gear 2"), 2.25, t("")},
        {t("gear 3"), 1.52, t("")},
        {t("gear 4"), 1.15, t("")},
        {t("gear 5"), 0.92, t("")},
        {t("gear 6"), 0.76, t("")},
        {t("final drive"), 3.45, t("")},
        {t("shift time"), 0.25, t("s")},
        {t("driveline efficiency"), 0.87, t("")},
        {t("rev limit"), 6800.0, t("rpm")},
    };
}

Table weather() {
    return {
        {t("temperature"), 22.0, t("°C")},
        {t("pressure"), 98.0, t("kPa")},
        {t("humidity"), 0.55, t("")},
    };
}

Table engine() {
    return {
        {t("displacement"), 1.998, t("L")},
        {t("cylinders"), 4.0, t("")},
        {t("compression ratio"), 9.6, t("")},
        {t("redline"), 6800.0, t("rpm")},
        {t("volumetric efficiency"), 0.95, t("")},
        {t("lambda"), 0.84, t("")},
        {t("efficiency"), 0.30, t("")},
    };
}

Table log_times() {
    Table times(61, 1);
    for (std::size_t i = 0; i < times.rows(); ++i) times.at(i, 0) = 0.2 * static_cast<double>(i);
    return times;
}

// 90 km/h, then 10 km/h more each second.
Table log_speeds() {
    Table speeds(61, 1);
    for (std::size_t i = 0; i < speeds.rows(); ++i) speeds.at(i, 0) = 90.0 + 2.0 * static_cast<double>(i);
    return speeds;
}

Table evidence() {
    return {
        {t("rollers"), 240.0, t("kW"), 6.0},
        {t("air flow"), 236.0, t("g/s"), 6.0},
        {t("injector duty"), 0.62, t(""), 0.01},
        {t("injectors"), 4.0, t(""), t("")},
        {t("injector flow"), 760.0, t("cc/min"), 15.0},
    };
}

Table measured_engine() {
    return {
        {t("bore"), 86.0, t("mm")},           {t("stroke"), 86.0, t("mm")},
        {t("rod length"), 146.0, t("mm")},    {t("cylinders"), 4.0, t("")},
        {t("compression ratio"), 9.6, t("")}, {t("volumetric efficiency"), 0.95, t("")},
        {t("redline"), 6800.0, t("rpm")},
    };
}

Table parts() {
    return {
        {t("part"), t("kind"), t("value"), t("unit"), t("value 2"), t("unit"), t("value 3"), t("unit"),
         t("value 4"), t("unit")},
        {t("port injectors"), t("injectors"), 760.0, t("cc/min"), 4.0, t(""), 3.0, t("bar"), 4.0, t("bar")},
        {t("in-tank pump"), t("pump"), 310.0, t("L/h"), 3.0, t("bar"), 1.0, t(""), 4.0, t("bar")},
        {t("in-tank pump"), t("pump"), 262.0, t("L/h"), 5.0, t("bar"), 1.0, t(""), 4.0, t("bar")},
        {t("in-tank pump"), t("pump"), 200.0, t("L/h"), 7.0, t("bar"), 1.0, t(""), 4.0, t("bar")},
        {t("turbocharger"), t("compressor"), 310.0, t("g/s"), 0.72, t("")},
        {t("front cooler"), t("charge cooler"), 0.75, t(""), 8.0, t("kPa"), 250.0, t("g/s")},
        {t("charge pipe"), t("pipe"), 60.0, t("mm"), t("charge"), t(""), 1.6, t("m"), 1.2, t("")},
        {t("gearbox"), t("gearbox"), 520.0, t("N·m")},
    };
}

Table boosted_parts() {
    const Cell no{};
    return {
        {t("part"), t("kind"), t("compressor efficiency"), t("wheel diameter [mm]"), t("effectiveness"),
         t("pressure loss [kPa]"), t("reference flow [g/s]"), t("effective area [cm²]"), t("inertia [kg·m²]"),
         t("largest boost [bar]")},
        {t("compressor"), t("compressor"), 0.72, 60.0, no, no, no, no, no, no},
        {t("turbine"), t("turbine"), no, no, no, no, no, 9.0, 5e-5, no},
        {t("front cooler"), t("charge cooler"), no, no, 0.75, 8.0, 250.0, no, no, no},
        {t("exhaust"), t("exhaust system"), no, no, no, 20.0, 250.0, no, no, no},
        {t("controller"), t("boost control"), no, no, no, no, no, no, no, 1.0},
    };
}

Table stages() {
    return {
        {t("stage"), t("part"), t("kind"), t("value"), t("unit"), t("value 2"), t("unit"), t("value 3"),
         t("unit"), t("value 4"), t("unit"), t("price")},
        {t("Stage 1"), t("injectors"), t("injectors"), 430.0, t("cc/min"), 4.0, t(""), 3.0, t("bar"), 4.0,
         t("bar"), 950.0},
        {t("Stage 1"), t("pump"), t("pump"), 150.0, t("L/h"), 7.0, t("bar"), 1.0, t(""), 4.0, t("bar"),
         t("")},
        {t("Stage 1"), t("turbocharger"), t("compressor"), 215.0, t("g/s"), 0.70, t(""), t(""), t(""), t(""),
         t(""), t("")},
        {t("Stage 1"), t("charge cooler"), t("charge cooler"), 0.6, t(""), 8.0, t("kPa"), 200.0, t("g/s"),
         t(""), t(""), t("")},
        {t("Stage 2"), t("large injectors"), t("injectors"), 1000.0, t("cc/min"), 4.0, t(""), 3.0, t("bar"),
         4.0, t("bar"), 4200.0},
        {t("Stage 2"), t("large pump"), t("pump"), 340.0, t("L/h"), 7.0, t("bar"), 1.0, t(""), 4.0, t("bar"),
         t("")},
        {t("Stage 2"), t("large turbocharger"), t("compressor"), 330.0, t("g/s"), 0.74, t(""), t(""), t(""),
         t(""), t(""), t("")},
        {t("Stage 2"), t("front cooler"), t("charge cooler"), 0.75, t(""), 6.0, t("kPa"), 250.0, t("g/s"),
         t(""), t(""), t("")},
    };
}

Table fuels() {
    return {
        {t("name"), t("ethanol share"), t("RON"), t("lambda")},
        {t("95 RON"), 0.05, 93.0, 0.83},
        {t("E20"), 0.20, 93.0, 0.85},
    };
}

Table measured_pull() {
    return {
        {t("stage"), t("fuel"), t("engine speed [rpm]"), t("power [kW]"), t("manifold pressure [kPa]"),
         t("manifold temperature"), t("knock-limited spark")},
        {t("Stage 1"), t("95 RON"), 3500.0, 95.0, 170.0, 40.0, 11.5},
        {t(""), t(""), 4500.0, 127.0, 172.0, 42.0, 15.0},
        {t(""), t(""), 5500.0, 150.0, 166.0, 45.0, 18.5},
        {t(""), t(""), 6300.0, 158.0, 158.0, 48.0, 22.5},
    };
}

Table compressor_map() {
    return {
        {t("shaft speed [rpm]"), t("flow [g/s]"), t("ratio"), t("efficiency")},
        {80000.0, 60.0, 1.55, 0.66},
        {80000.0, 100.0, 1.50, 0.72},
        {80000.0, 140.0, 1.40, 0.71},
        {80000.0, 170.0, 1.22, 0.58},
        {110000.0, 105.0, 2.15, 0.67},
        {110000.0, 160.0, 2.08, 0.75},
        {110000.0, 210.0, 1.90, 0.74},
        {110000.0, 245.0, 1.60, 0.60},
        {135000.0, 155.0, 2.85, 0.66},
        {135000.0, 215.0, 2.76, 0.75},
        {135000.0, 270.0, 2.50, 0.74},
        {135000.0, 305.0, 2.05, 0.60},
        {155000.0, 205.0, 3.55, 0.64},
        {155000.0, 260.0, 3.45, 0.72},
        {155000.0, 315.0, 3.10, 0.71},
        {155000.0, 345.0, 2.55, 0.58},
    };
}

Table engine_speeds() {
    return column({2000, 2500, 3000, 3500, 4000, 4500, 5000, 5500, 6000, 6500, 6800});
}

Table torques() {
    return column({220, 330, 410, 430, 430, 425, 415, 400, 378, 345, 320});
}

}  // namespace pullsheet::catalogue::examples
