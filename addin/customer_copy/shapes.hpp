// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <pugixml.hpp>
#include <string>
#include <vector>

#include "addin/customer_copy/chart.hpp"
#include "addin/customer_copy/content.hpp"
#include "addin/customer_copy/texts.hpp"

namespace pullsheet::addin::customer_copy {

/// A rectangle on a sheet, in mm.
struct Rectangle {
    double left = 0.0, top = 0.0, right = 0.0, bottom = 0.0;
    bool meets(const Rectangle& other) const;
};

/// True if the rectangles cover this one except for a margin of that width.
bool cover(const std::vector<Rectangle>& rectangles, const Rectangle& one, double strip);

/// The extent to which an object is on the printed pages.
enum class Printed { nothing, part, all };

/// Copies the shapes of a sheet that are on its pages.
class Shapes {
  public:
    /// `printed` tells how much of a rectangle is on the printed pages, `prints` whether the pages print a
    /// kind of object ("charts", "objects", "drawings").
    Shapes(std::string sheet, Content& content, Sheets& sheets, const Seen& seen, const Fields& fields,
           std::function<Printed(const Rectangle&)> printed, std::function<bool(const char*)> prints);

    /// Adds the shape if it is visible; `left` and `top` are the origin of its position. False if the element
    /// is no shape.
    bool carry(pugi::xml_node from, pugi::xml_node to, double left, double top);

  private:
    Printed printed(pugi::xml_node shape, double left, double top) const;
    void frame(pugi::xml_node from, pugi::xml_node to);
    bool is_plain_picture(pugi::xml_node from) const;
    void picture(pugi::xml_node from, pugi::xml_node to);
    void plain(pugi::xml_node from, pugi::xml_node to);
    void outline(pugi::xml_node from, pugi::xml_node to);
    void look(pugi::xml_node from, pugi::xml_node to, bool of_picture);

    std::string sheet_;
    Content& content_;
    Sheets& sheets_;
    const Seen& seen_;
    const Fields& fields_;
    std::function<Printed(const Rectangle&)> printed_;
    std::function<bool(const char*)> prints_;
};

}  // namespace pullsheet::addin::customer_copy
