// SPDX-License-Identifier: Apache-2.0
#include "addin/selection.hpp"

#include <com/sun/star/container/XIndexAccess.hpp>
#include <com/sun/star/frame/XController.hpp>
#include <com/sun/star/sheet/XCellRangeAddressable.hpp>
#include <com/sun/star/view/XSelectionSupplier.hpp>

namespace pullsheet::addin {
namespace {

namespace uno = com::sun::star::uno;
using Cells = uno::Reference<com::sun::star::table::XCellRange>;

Cells as_cells(const uno::Any& any) {
    const uno::Reference<com::sun::star::sheet::XCellRangeAddressable> addressable(any, uno::UNO_QUERY);
    return Cells(addressable, uno::UNO_QUERY);
}

}  // namespace

Cells selected_cells(const Command& command) {
    const uno::Reference<com::sun::star::view::XSelectionSupplier> supplier(command.frame->getController(),
                                                                            uno::UNO_QUERY_THROW);
    const uno::Any selected = supplier->getSelection();
    if (const Cells cells = as_cells(selected); cells.is()) return cells;
    const uno::Reference<com::sun::star::container::XIndexAccess> areas(selected, uno::UNO_QUERY);
    return areas.is() && areas->getCount() > 0 ? as_cells(areas->getByIndex(0)) : Cells();
}

}  // namespace pullsheet::addin
