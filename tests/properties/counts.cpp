// SPDX-License-Identifier: Apache-2.0
#include "tests/properties/counts.hpp"

#include "core/boost/compressor.hpp"
#include "core/statistics/monotone_curve.hpp"

#ifdef __clang__
#pragma clang diagnostic ignored "-Wreturn-type-c-linkage"
#endif

// The names that the linker puts in the place of the functions, and those by which they are still there.
extern "C" {
double __real__ZN9pullsheet5boost14corrected_flowEdddNS0_9ReferenceE(  // NOLINT
    double air_flow, double inlet_temperature, double inlet_pressure, pullsheet::boost::Reference reference);
double __real__ZN9pullsheet5boost22compressor_temperatureEdddNS0_3GasE(  // NOLINT
    double inlet_temperature, double pressure_ratio, double efficiency, pullsheet::boost::Gas gas);

pullsheet::statistics::MonotoneCurve __real__ZNK9pullsheet10statistics13MonotoneCurve6scaledEd(  // NOLINT
    const pullsheet::statistics::MonotoneCurve* curve, double factor);

double __wrap__ZN9pullsheet5boost14corrected_flowEdddNS0_9ReferenceE(  // NOLINT
    double air_flow, double inlet_temperature, double inlet_pressure, pullsheet::boost::Reference reference) {
    ++pullsheet::counts::chains;
    return __real__ZN9pullsheet5boost14corrected_flowEdddNS0_9ReferenceE(air_flow, inlet_temperature,
                                                                         inlet_pressure, reference);
}

double __wrap__ZN9pullsheet5boost22compressor_temperatureEdddNS0_3GasE(  // NOLINT
    double inlet_temperature, double pressure_ratio, double efficiency, pullsheet::boost::Gas gas) {
    ++pullsheet::counts::air_paths;
    return __real__ZN9pullsheet5boost22compressor_temperatureEdddNS0_3GasE(inlet_temperature, pressure_ratio,
                                                                           efficiency, gas);
}

pullsheet::statistics::MonotoneCurve __wrap__ZNK9pullsheet10statistics13MonotoneCurve6scaledEd(  // NOLINT
    const pullsheet::statistics::MonotoneCurve* curve, double factor) {
    ++pullsheet::counts::scaled_curves;
    return __real__ZNK9pullsheet10statistics13MonotoneCurve6scaledEd(curve, factor);
}
}
