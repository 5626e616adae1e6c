// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace pullsheet {

/// Why an error was thrown or a warning given. The catalogue holds one sentence for each reason and language;
/// the numbers that belong to it follow as details, in the order written here.
enum class Reason {
    out_of_range,             ///< the value lies outside what is allowed (InvalidArgument only)
    not_finite,               ///< the result is not a finite number
    lengths_differ,           ///< two series that belong together differ in length: length, length
    too_few_points,           ///< fewer points than needed: given, needed
};

}  // namespace pullsheet
