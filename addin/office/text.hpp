// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <rtl/ustring.hxx>
#include <string>
#include <string_view>

namespace pullsheet::office {

inline rtl::OUString to_unicode(std::string_view text) {
    return {text.data(), static_cast<sal_Int32>(text.size()), RTL_TEXTENCODING_UTF8};
}

inline std::string to_utf8(const rtl::OUString& text) {
    const rtl::OString bytes = rtl::OUStringToOString(text, RTL_TEXTENCODING_UTF8);
    return {bytes.getStr(), static_cast<std::size_t>(bytes.getLength())};
}

}  // namespace pullsheet::office
