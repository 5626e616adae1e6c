// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <com/sun/star/beans/XPropertySet.hpp>
#include <com/sun/star/table/XCellRange.hpp>
#include <com/sun/star/uno/XComponentContext.hpp>
#include <string>

#include "core/catalogue/sentences.hpp"

namespace pullsheet::addin {

/// The reason why a cell shows an error, or the warning of its functions, in one sentence; empty if there is
/// neither. The document is read and never changed. An error that came from another cell is followed to that
/// cell. For several cells, the first that has an error or warning. The sentence is in `language`.
std::string why(const com::sun::star::uno::Reference<com::sun::star::uno::XComponentContext>& context,
                const com::sun::star::uno::Reference<com::sun::star::beans::XPropertySet>& document,
                const com::sun::star::uno::Reference<com::sun::star::table::XCellRange>& cell,
                catalogue::Language language);

}  // namespace pullsheet::addin
