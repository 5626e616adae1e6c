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

/// Do the rectangles cover this one, but for a strip of that width at its edges?
bool cover(const std::vector<Rectangle>& rectangles, const Rectangle& one, double strip);

/// How much of something is on the printed pages.
enum class Printed { nothing, part, all };

/// Carries the shapes of a sheet that its pages show.
class Shapes {
  public:
    /// `printed` says how much of a place is on the printed pages, `prints` whether the pages print a kind of
    /// thing ("charts", "objects", "drawings").
    Shapes(std::string sheet, Content& content, Sheets& sheets, const Seen& seen, const Fields& fields,
           std::function<Printed(const Rectangle&)> printed, std::function<bool(const char*)> prints);

    /// The shape, if it is seen; `left` and `top` are what its place is counted from. False for no shape at
    /// all.
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
