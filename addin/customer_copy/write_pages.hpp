// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "addin/customer_copy/content.hpp"

namespace pullsheet::addin::customer_copy {

/// The pages as a document of the OpenDocument format in one file. The chart sheet comes first, because the
/// office expects the data of charts before the charts.
std::string write_pages(Content& content);

}  // namespace pullsheet::addin::customer_copy
