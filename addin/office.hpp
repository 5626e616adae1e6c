// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "addin/office/services.hpp"

namespace pullsheet::addin {

using office::Context;
using office::create;
using office::Properties;
using office::properties;
using office::value_of;

/// The folder into which the office has installed this extension, as a URL without a slash at its end.
std::string extension_folder(const Context& context);

/// True if there is such a file or folder.
bool exists(const Context& context, const std::string& url);

}  // namespace pullsheet::addin
