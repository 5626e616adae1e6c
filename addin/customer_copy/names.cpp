// SPDX-License-Identifier: Apache-2.0
#include "addin/customer_copy/names.hpp"

#include <utility>

namespace pullsheet::addin::customer_copy {

void declare_names(pugi::xml_node document) {
    constexpr std::pair<const char*, const char*> names[] = {
        {"xmlns:calcext", "urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0"},
        {"xmlns:chart", "urn:oasis:names:tc:opendocument:xmlns:chart:1.0"},
        {"xmlns:chartooo", "http://openoffice.org/2010/chart"},
        {"xmlns:config", "urn:oasis:names:tc:opendocument:xmlns:config:1.0"},
        {"xmlns:css3t", "http://www.w3.org/TR/css3-text/"},
        {"xmlns:dr3d", "urn:oasis:names:tc:opendocument:xmlns:dr3d:1.0"},
        {"xmlns:draw", "urn:oasis:names:tc:opendocument:xmlns:drawing:1.0"},
        {"xmlns:drawooo", "http://openoffice.org/2010/draw"},
        {"xmlns:fo", "urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0"},
        {"xmlns:loext", "urn:org:documentfoundation:names:experimental:office:xmlns:loext:1.0"},
        {"xmlns:number", "urn:oasis:names:tc:opendocument:xmlns:datastyle:1.0"},
        {"xmlns:office", "urn:oasis:names:tc:opendocument:xmlns:office:1.0"},
        {"xmlns:ooo", "http://openoffice.org/2004/office"},
        {"xmlns:style", "urn:oasis:names:tc:opendocument:xmlns:style:1.0"},
        {"xmlns:svg", "urn:oasis:names:tc:opendocument:xmlns:svg-compatible:1.0"},
        {"xmlns:table", "urn:oasis:names:tc:opendocument:xmlns:table:1.0"},
        {"xmlns:tableooo", "http://openoffice.org/2009/table"},
        {"xmlns:text", "urn:oasis:names:tc:opendocument:xmlns:text:1.0"},
        {"xmlns:xlink", "http://www.w3.org/1999/xlink"},
    };
    for (const auto& [name, place] : names) document.append_attribute(name).set_value(place);
}

}  // namespace pullsheet::addin::customer_copy
