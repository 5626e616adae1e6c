// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace pullsheet::boost {

/// Charge temperature after the cooler, K: T₂ − ε·(T₂ − T_coolant). `compressor_temperature` and
/// `coolant_temperature` K > 0 (the air outside for an air-to-air cooler), `effectiveness` share 0 … 1.
/// A coolant warmer than the charge heats it. Throws InvalidArgument. Definition of effectiveness, Incropera
/// & DeWitt, Fundamentals of Heat and Mass Transfer, ch. 11, for a coolant of the larger heat capacity flow.
double charge_temperature(double compressor_temperature, double coolant_temperature, double effectiveness);

/// Effectiveness (share) from measured temperatures, K: (T_in − T_out)/(T_in − T_coolant). The outlet must
/// lie between coolant and inlet. Throws InvalidArgument; Reason::no_temperature_difference where inlet and
/// coolant are equally warm.
double charge_effectiveness(double inlet, double outlet, double coolant);

/// How charge and coolant pass one another.
enum class FlowArrangement {
    counterflow,
    parallel_flow,
    crossflow,  ///< both unmixed: plate and bar, tube and fin coolers
};

/// Effectiveness (share) from the number of transfer units, UA/C_min >= 0, and the ratio of the smaller to
/// the larger heat capacity flow, 0 … 1. Counterflow and parallel flow: Incropera & DeWitt, table 11.3 (Kays
/// & London). Crossflow: the exact series of Mason (1954), of which the usual correlation is an approximation
/// up to about 1 % above, some 1200 terms at most. Throws InvalidArgument.
double effectiveness(double transfer_units, double capacity_ratio, FlowArrangement arrangement);

/// The inverse of `effectiveness`: the number of transfer units. Throws InvalidArgument, and NoSolution with
/// Reason::effectiveness_out_of_reach (details: wanted, highest) where no cooler of that arrangement, however
/// large (1000 transfer units), reaches it. At most 103 evaluations of `effectiveness`.
double transfer_units(double effectiveness, double capacity_ratio, FlowArrangement arrangement);

}  // namespace pullsheet::boost
