// SPDX-License-Identifier: Apache-2.0
#include "addin/command.hpp"

namespace pullsheet::addin {
com::sun::star::uno::Any open_guide(const Command& command) { throw Refusal(command.in_words("The function guide is missing in the extension; install it again.")); }
}  // namespace pullsheet::addin
