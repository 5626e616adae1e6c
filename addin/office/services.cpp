// SPDX-License-Identifier: Apache-2.0
#include "addin/office/services.hpp"

#include <com/sun/star/lang/XMultiComponentFactory.hpp>
#include <com/sun/star/uno/RuntimeException.hpp>

#include "addin/office/text.hpp"

namespace pullsheet::office {

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

void add(Properties& properties, const char* name, const uno::Any& value) {
    const sal_Int32 last = properties.getLength();
    properties.realloc(last + 1);
    properties[last].Name = rtl::OUString::createFromAscii(name);
    properties[last].Value = value;
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

}  // namespace pullsheet::office
