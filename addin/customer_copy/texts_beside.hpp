// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "addin/customer_copy/content.hpp"
#include "addin/office.hpp"

namespace pullsheet::addin::customer_copy {

/// The texts that are too long to stay beside the page, as the office measures them.
std::vector<LeftOut> texts_that_run_in(const Context& context, const Content& content);

}  // namespace pullsheet::addin::customer_copy
