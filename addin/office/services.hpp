// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <com/sun/star/beans/PropertyValue.hpp>
#include <com/sun/star/uno/Sequence.hxx>
#include <com/sun/star/uno/XComponentContext.hpp>
#include <initializer_list>
#include <string_view>
#include <utility>

namespace pullsheet::office {

using Context = com::sun::star::uno::Reference<com::sun::star::uno::XComponentContext>;
using Properties = com::sun::star::uno::Sequence<com::sun::star::beans::PropertyValue>;

/// Named values, as the office takes them.
Properties properties(std::initializer_list<std::pair<const char*, com::sun::star::uno::Any>> values);

/// Appends a named value.
void add(Properties& properties, const char* name, const com::sun::star::uno::Any& value);

/// The value of that name, or a void one.
com::sun::star::uno::Any value_of(const Properties& properties, std::string_view name);

/// A service of the office under its name. Throws RuntimeException if the office has none.
com::sun::star::uno::Reference<com::sun::star::uno::XInterface> create(const Context& context,
                                                                       const char* service);

}  // namespace pullsheet::office
