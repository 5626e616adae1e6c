// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <com/sun/star/beans/PropertyValue.hpp>
#include <com/sun/star/uno/Sequence.hxx>
#include <com/sun/star/uno/XComponentContext.hpp>
#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>

namespace pullsheet::addin {

using Context = com::sun::star::uno::Reference<com::sun::star::uno::XComponentContext>;
using Properties = com::sun::star::uno::Sequence<com::sun::star::beans::PropertyValue>;

/// Named values, as the office takes them.
Properties properties(std::initializer_list<std::pair<const char*, com::sun::star::uno::Any>> values);

/// The value of that name, or a void one.
com::sun::star::uno::Any value_of(const Properties& properties, std::string_view name);

/// A service of the office under its name.
com::sun::star::uno::Reference<com::sun::star::uno::XInterface> create(const Context& context,
                                                                       const char* service);

/// The folder into which the office has installed this extension, as a URL without a slash at its end.
std::string extension_folder(const Context& context);

/// True if there is such a file or folder.
bool exists(const Context& context, const std::string& url);

}  // namespace pullsheet::addin
