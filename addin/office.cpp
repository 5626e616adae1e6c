// SPDX-License-Identifier: Apache-2.0
#include "addin/office.hpp"

#include <com/sun/star/deployment/PackageInformationProvider.hpp>
#include <com/sun/star/lang/XMultiComponentFactory.hpp>
#include <com/sun/star/ucb/SimpleFileAccess.hpp>

#include "addin/convert.hpp"

namespace pullsheet::addin {

namespace uno = com::sun::star::uno;

Properties properties(std::initializer_list<std::pair<const char*, uno::Any>> values) {
    Properties result(static_cast<sal_Int32>(values.size()));
    sal_Int32 index = 0;
    for (const auto& [name, value] : values) {
        result[index].Name = rtl::OUString::createFromAscii(name);
        result[index++].Value = value;
    }
    return result;
}

uno::Any value_of(const Properties& properties, std::string_view name) {
    for (sal_Int32 i = 0; i < properties.getLength(); ++i)
        if (to_utf8(properties[i].Name) == name) return properties[i].Value;
    return {};
}

uno::Reference<uno::XInterface> create(const Context& context, const char* service) {
    const rtl::OUString name = rtl::OUString::createFromAscii(service);
    const auto made = context->getServiceManager()->createInstanceWithContext(name, context);
    if (!made.is()) throw uno::RuntimeException("The office has no service " + name + ".", {});
    return made;
}

std::string extension_folder(const Context& context) {
    return to_utf8(com::sun::star::deployment::PackageInformationProvider::get(context)->getPackageLocation(
        "pullsheet"));
}

bool exists(const Context& context, const std::string& url) {
    return com::sun::star::ucb::SimpleFileAccess::create(context)->exists(to_unicode(url));
}

}  // namespace pullsheet::addin
