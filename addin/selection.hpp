// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <com/sun/star/table/XCellRange.hpp>

#include "addin/command.hpp"

namespace pullsheet::addin {

/// The selected cells; of several areas, the first; nothing if no cell is selected.
com::sun::star::uno::Reference<com::sun::star::table::XCellRange> selected_cells(const Command& command);

}  // namespace pullsheet::addin
