// SPDX-License-Identifier: Apache-2.0
// The allow-list of a customer copy: elements and attributes of the OpenDocument format that are visible on a
// printed page. Anything not listed here is not copied.
#pragma once

#include <string_view>

namespace pullsheet::addin::customer_copy {

/// May this attribute of formatting be carried in that element ("style:text-properties", "fo:color")?
bool is_formatting(std::string_view element, std::string_view attribute);

/// May this attribute of a drawn shape be carried? It says where the shape lies and what outline it has.
bool is_outline(std::string_view attribute);

/// Is this a shape drawn with lines, areas and text alone?
bool is_plain_shape(std::string_view element);

/// May this part of a chart be carried, and this attribute of it?
bool is_chart_part(std::string_view element);
bool is_chart_attribute(std::string_view attribute);

/// May this element of a number format be carried, and this attribute of it?
bool is_number_part(std::string_view element);
bool is_number_attribute(std::string_view attribute);

/// Is this a gradient, hatch, dash, arrow head or pattern that a style names, and may this attribute of it be
/// carried?
bool is_fill_or_line(std::string_view element);
bool is_fill_or_line_attribute(std::string_view attribute);

/// May this part of a list style be carried (its levels, how a bullet or number looks), and this attribute of
/// it?
bool is_list_part(std::string_view element);
bool is_list_attribute(std::string_view attribute);

}  // namespace pullsheet::addin::customer_copy
