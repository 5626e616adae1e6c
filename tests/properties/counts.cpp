// SPDX-License-Identifier: Apache-2.0
#include "tests/properties/counts.hpp"

#include "core/boost/compressor.hpp"

// The names that the linker puts in the place of the functions, and those by which they are still there.
extern "C" {
double __real__ZN9pullsheet5boost14corrected_flowEdddNS0_9ReferenceE(  // NOLINT
    double air_flow, double inlet_temperature, double inlet_pressure, pullsheet::boost::Reference reference);
double __real__ZN9pullsheet5boost22compressor_temperatureEdddNS0_3GasE(  // NOLINT
    double inlet_temperature, double pressure_ratio, double efficiency, pullsheet::boost::Gas gas);
double __real__ZN9pullsheet3air9viscosityEd(double temperature);  // NOLINT

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

double __wrap__ZN9pullsheet3air9viscosityEd(double temperature) {  // NOLINT
    ++pullsheet::counts::pipe_flows;
    return __real__ZN9pullsheet3air9viscosityEd(temperature);
}
}
