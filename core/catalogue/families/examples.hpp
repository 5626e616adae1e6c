// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/catalogue/value.hpp"

/// Invented data for the worked examples of the entries: one car, one engine, one day.
namespace pullsheet::catalogue::examples {

/// Numbers one below the other.
Table column(std::initializer_list<double> values);

Table vehicle();
Table weather();
Table log_times();
Table log_speeds();
Table evidence();
Table engine();
Table measured_engine();
Table parts();
Table boosted_parts();
Table stages();
Table fuels();
Table measured_pull();
Table compressor_map();
Table engine_speeds();
Table torques();

}  // namespace pullsheet::catalogue::examples
