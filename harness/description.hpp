// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "core/catalogue/function.hpp"

namespace CLI {
class App;
}

namespace pullsheet::harness {

/// All that the catalogue says about a function, for programs: what the function guide, the reference, the
/// manual page, the completion and the tests in Calc are made from.
nlohmann::ordered_json description(const catalogue::Function& function);

/// The commands with their arguments and options.
nlohmann::ordered_json describe_commands(const CLI::App& app);

}  // namespace pullsheet::harness
