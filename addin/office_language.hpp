// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <com/sun/star/uno/XComponentContext.hpp>

#include "core/catalogue/sentences.hpp"

namespace pullsheet::addin {

/// The language of the office's menus and dialogues, read from its configuration; English where there are no
/// texts in it.
catalogue::Language office_language(
    const com::sun::star::uno::Reference<com::sun::star::uno::XComponentContext>& context) noexcept;

}  // namespace pullsheet::addin
