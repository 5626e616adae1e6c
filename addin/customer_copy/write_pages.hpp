// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "addin/customer_copy/content.hpp"

namespace pullsheet::addin::customer_copy {

/// The pages as a document of the OpenDocument format in one file. The sheet for charts stands first, where
/// the office expects what charts show.
std::string write_pages(Content& content);

}  // namespace pullsheet::addin::customer_copy
