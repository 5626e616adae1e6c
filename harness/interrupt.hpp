// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace pullsheet::harness {

/// From now on Ctrl-C, a hang-up and a request to end are noted instead of ending the program at once; the
/// second one ends it.
void catch_interrupts();

/// The number of the signal that was noted, 0 if there was none.
int interrupted();

}  // namespace pullsheet::harness
