// SPDX-License-Identifier: Apache-2.0
#include "addin/office_language.hpp"

#include <com/sun/star/beans/NamedValue.hpp>
#include <com/sun/star/beans/XPropertySet.hpp>
#include <com/sun/star/configuration/theDefaultProvider.hpp>

#include "addin/convert.hpp"

namespace pullsheet::addin {

namespace uno = com::sun::star::uno;

catalogue::Language office_language(const uno::Reference<uno::XComponentContext>& context) noexcept {
    try {
        const uno::Any node(com::sun::star::beans::NamedValue(
            "nodepath", uno::Any(rtl::OUString("/org.openoffice.Setup/L10N"))));
        const uno::Reference<com::sun::star::beans::XPropertySet> settings(
            com::sun::star::configuration::theDefaultProvider::get(context)->createInstanceWithArguments(
                "com.sun.star.configuration.ConfigurationAccess", {&node, 1}),
            uno::UNO_QUERY_THROW);
        rtl::OUString locale;
        settings->getPropertyValue("ooLocale") >>= locale;
        return catalogue::language_of(to_utf8(locale));
    } catch (...) {
        return catalogue::Language::english;
    }
}

}  // namespace pullsheet::addin
