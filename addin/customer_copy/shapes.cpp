// SPDX-License-Identifier: Apache-2.0
#include "addin/customer_copy/shapes.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <sstream>
#include <string_view>

#include "addin/customer_copy/vocabulary.hpp"

namespace pullsheet::addin::customer_copy {
namespace {

double length(pugi::xml_node shape, const char* attribute) {
    return millimetres(shape.attribute(attribute).value());
}

void stretch(Rectangle& around, double x, double y) {
    around.left = std::min(around.left, x);
    around.right = std::max(around.right, x);
    around.top = std::min(around.top, y);
    around.bottom = std::max(around.bottom, y);
}

constexpr double far = 1e9;

// The image of a point under a transform such as "rotate (0.5) translate (1cm 2cm)".
void transform(const std::string& text, double& x, double& y) {
    for (std::size_t at = 0; at < text.size();) {
        const auto open = text.find('(', at);
        const auto close = text.find(')', at);
        if (open == std::string::npos || close == std::string::npos || close < open) return;
        std::string name = text.substr(at, open - at);
        std::erase_if(name, [](char c) { return c == ' ' || c == ','; });
        std::istringstream values(text.substr(open + 1, close - open - 1));
        std::vector<std::string> words;
        for (std::string word; values >> word;) words.push_back(word);
        if (name == "rotate" && !words.empty()) {
            const double angle = -std::strtod(words[0].c_str(), nullptr);
            const double turned = x * std::cos(angle) - y * std::sin(angle);
            y = x * std::sin(angle) + y * std::cos(angle);
            x = turned;
        } else if (name == "translate" && !words.empty()) {
            x += millimetres(words[0]);
            if (words.size() > 1) y += millimetres(words[1]);
        } else if (name == "skewX" && !words.empty()) {
            x += y * std::tan(std::strtod(words[0].c_str(), nullptr));
        } else if (name == "scale" && !words.empty()) {
            x *= std::strtod(words[0].c_str(), nullptr);
            y *= std::strtod(words.back().c_str(), nullptr);
        }
        at = close + 1;
    }
}

// The bounding rectangle of a shape, relative to the origin of its position.
Rectangle around(pugi::xml_node shape) {
    Rectangle all{far, far, -far, -far};
    if (std::string_view(shape.name()) == "draw:g") {
        for (pugi::xml_node child : shape.children())
            if (std::string_view(child.name()).starts_with("draw:")) {
                const Rectangle one = around(child);
                if (one.left > one.right) continue;
                stretch(all, one.left, one.top);
                stretch(all, one.right, one.bottom);
            }
        return all;
    }
    if (shape.attribute("svg:x1")) {
        stretch(all, length(shape, "svg:x1"), length(shape, "svg:y1"));
        stretch(all, length(shape, "svg:x2"), length(shape, "svg:y2"));
        return all;
    }
    double width = length(shape, "svg:width"), height = length(shape, "svg:height");
    double x = length(shape, "svg:x"), y = length(shape, "svg:y");
    if (shape.attribute("svg:r")) {
        width = height = 2.0 * length(shape, "svg:r");
        x = length(shape, "svg:cx") - width / 2.0;
        y = length(shape, "svg:cy") - height / 2.0;
    }
    const std::string turned = shape.attribute("draw:transform").value();
    for (const auto& [dx, dy] : {std::pair(0.0, 0.0), {width, 0.0}, {0.0, height}, {width, height}}) {
        double px = turned.empty() ? x + dx : dx, py = turned.empty() ? y + dy : dy;
        transform(turned, px, py);
        stretch(all, px, py);
    }
    return all;
}

// The attributes that alter the appearance of a picture.
constexpr const char* changes_of_pictures[] = {
    "fo:clip",  "draw:color-mode", "draw:luminance", "draw:contrast",      "draw:gamma",
    "draw:red", "draw:green",      "draw:blue",      "draw:image-opacity", "draw:color-inversion"};

bool says_nothing(std::string_view change, std::string_view value) {
    if (change == "draw:gamma" || change == "draw:image-opacity") return value == "100%";
    return value == "rect(0cm, 0cm, 0cm, 0cm)" || value == "rect(0in, 0in, 0in, 0in)" ||
           value == "standard" || value == "0%" || value == "false";
}

bool is_chart(pugi::xml_node object) {
    return std::string_view(object.child("office:document").attribute("office:mimetype").value()) ==
           "application/vnd.oasis.opendocument.chart";
}

// The page style's name for a kind of object that it prints or omits.
const char* kind(pugi::xml_node shape) {
    if (is_plain_shape(shape.name()) || shape.child("draw:text-box")) return "drawings";
    return is_chart(shape.child("draw:object")) ? "charts" : "objects";
}

}  // namespace

bool Rectangle::meets(const Rectangle& other) const {
    return left <= other.right && other.left <= right && top <= other.bottom && other.top <= bottom;
}

bool cover(const std::vector<Rectangle>& rectangles, const Rectangle& one, double strip) {
    const double left = one.left + strip, right = one.right - strip;
    const double top = one.top + strip, bottom = one.bottom - strip;
    // The edges divide it into fields; each field lies entirely inside or outside each rectangle.
    std::vector<double> xs{std::min(left, right), std::max(left, right)};
    std::vector<double> ys{std::min(top, bottom), std::max(top, bottom)};
    for (const Rectangle& rectangle : rectangles) {
        for (const double x : {rectangle.left, rectangle.right})
            if (x > left && x < right) xs.push_back(x);
        for (const double y : {rectangle.top, rectangle.bottom})
            if (y > top && y < bottom) ys.push_back(y);
    }
    std::sort(xs.begin(), xs.end());
    std::sort(ys.begin(), ys.end());
    for (std::size_t i = 0; i + 1 < xs.size(); ++i)
        for (std::size_t j = 0; j + 1 < ys.size(); ++j) {
            const double x = (xs[i] + xs[i + 1]) / 2.0, y = (ys[j] + ys[j + 1]) / 2.0;
            if (std::none_of(rectangles.begin(), rectangles.end(), [&](const Rectangle& rectangle) {
                    return rectangle.meets({x, y, x, y});
                }))
                return false;
        }
    return true;
}

Shapes::Shapes(std::string sheet, Content& content, Sheets& sheets, const Seen& seen, const Fields& fields,
               std::function<Printed(const Rectangle&)> printed, std::function<bool(const char*)> prints)
    : sheet_(std::move(sheet)),
      content_(content),
      sheets_(sheets),
      seen_(seen),
      fields_(fields),
      printed_(std::move(printed)),
      prints_(std::move(prints)) {}

Printed Shapes::printed(pugi::xml_node shape, double left, double top) const {
    for (const char* attribute : {"draw:display", "drawooo:display"}) {
        const std::string_view display = shape.attribute(attribute).value();
        if (!display.empty() && display != "always") return Printed::nothing;
    }
    Rectangle place = around(shape);
    if (place.left > place.right) return Printed::nothing;
    place.left += left;
    place.right += left;
    place.top += top;
    place.bottom += top;
    return printed_(place);
}

bool Shapes::carry(pugi::xml_node from, pugi::xml_node to, double left, double top) {
    const std::string name = from.name();
    if (name == "draw:a") {
        for (pugi::xml_node child : from.children()) carry(child, to, left, top);
        return true;
    }
    if (!name.starts_with("draw:") && name != "dr3d:scene") return false;
    const Printed how_much = printed(from, left, top);
    if (how_much == Printed::nothing) return true;
    if (name == "draw:g") {
        pugi::xml_node group = to.append_child("draw:g");
        outline(from, group);
        for (pugi::xml_node child : from.children()) carry(child, group, left, top);
        if (!group.first_child()) to.remove_child(group);
    } else if (name == "draw:control") {
        content_.left_out.push_back({LeftOut::What::control, sheet_});
    } else if (!prints_(kind(from))) {
        return true;
    } else if (name != "draw:frame" && !is_plain_shape(name)) {
        content_.left_out.push_back({LeftOut::What::object, sheet_});
    } else if (how_much == Printed::part) {
        // A file holds a shape as a whole, including the part outside the page.
        content_.left_out.push_back({LeftOut::What::cut, sheet_});
    } else if (name == "draw:frame") {
        frame(from, to);
    } else {
        plain(from, to);
    }
    return true;
}

void Shapes::outline(pugi::xml_node from, pugi::xml_node to) {
    for (const pugi::xml_attribute attribute : from.attributes()) {
        if (is_outline(attribute.name())) put(to, attribute.name(), attribute.value());
        // Where it ends is a cell of its own sheet.
        const std::string_view name = attribute.name();
        if (name == "table:end-x" || name == "table:end-y" || name == "table:table-background")
            put(to, attribute.name(), attribute.value());
        if (name == "table:end-cell-address")
            for (const Block& end : blocks_of(attribute.value()))
                put(to, attribute.name(), cell_name(sheet_, end.first_column, end.first_row));
    }
}

void Shapes::look(pugi::xml_node from, pugi::xml_node to, bool of_picture) {
    const Styles& read = content_.styles.read();
    if (const char* style = from.attribute("draw:style-name").value(); *style) {
        Look look = read.look("graphic", style);
        look.number_format.clear();
        // Only the visible part of a picture is carried.
        if (of_picture) look = Look();
        put(to, "draw:style-name", content_.styles.add("graphic", look));
    }
    if (const char* style = from.attribute("draw:text-style-name").value(); *style && !of_picture)
        put(to, "draw:text-style-name", content_.styles.add("paragraph", read.look("paragraph", style)));
}

void Shapes::plain(pugi::xml_node from, pugi::xml_node to) {
    pugi::xml_node shape = to.append_child(from.name());
    outline(from, shape);
    look(from, shape, false);
    carry_paragraphs(from, shape, content_.styles, fields_, false);
    if (pugi::xml_node geometry = from.child("draw:enhanced-geometry")) {
        pugi::xml_node made = shape.append_child("draw:enhanced-geometry");
        outline(geometry, made);
        for (pugi::xml_node equation : geometry.children("draw:equation")) {
            pugi::xml_node copied = made.append_child("draw:equation");
            put(copied, "draw:name", equation.attribute("draw:name").value());
            put(copied, "draw:formula", equation.attribute("draw:formula").value());
        }
    }
}

// A bitmap that is fully visible, unchanged.
bool Shapes::is_plain_picture(pugi::xml_node from) const {
    const std::string name = from.attribute("draw:style-name").value();
    const pugi::xml_node image = from.child("draw:image");
    std::string kind = image.attribute("draw:mime-type").value();
    if (kind.empty()) kind = image.attribute("loext:mime-type").value();
    const bool of_dots = kind == "image/png" || kind == "image/jpeg" || kind == "image/gif" ||
                         kind == "image/bmp" || kind == "image/webp" || kind == "image/tiff";
    const pugi::xml_node look =
        content_.styles.read().style("graphic", name).child("style:graphic-properties");
    return of_dots && std::none_of(std::begin(changes_of_pictures), std::end(changes_of_pictures),
                                   [&](const char* change) {
                                       return look.attribute(change) &&
                                              !says_nothing(change, look.attribute(change).value());
                                   });
}

void Shapes::picture(pugi::xml_node from, pugi::xml_node to) {
    const std::string original = from.child("draw:image").child("office:binary-data").text().get();
    const bool is_plain = is_plain_picture(from);
    const std::string name = "picture " + std::to_string(++content_.picture_count);
    const auto drawn = seen_.pictures.find(name);
    const bool is_drawn = drawn != seen_.pictures.end();
    std::string data = is_plain ? content_.encode(original) : is_drawn ? drawn->second : original;
    if (!is_plain) content_.pictures.insert(name);
    if (original.empty() || data.empty()) {
        content_.left_out.push_back({LeftOut::What::picture, sheet_});
        return;
    }
    pugi::xml_node frame = to.append_child("draw:frame");
    outline(from, frame);
    look(from, frame, is_drawn);
    if (!is_plain) put(frame, "draw:name", name);
    if (!is_plain && !is_drawn) {
        // For rendering only: with its cropping and colour adjustments.
        const std::string style = from.attribute("draw:style-name").value();
        Look whole = content_.styles.read().look("graphic", style);
        whole.number_format.clear();
        const pugi::xml_node read =
            content_.styles.read().style("graphic", style).child("style:graphic-properties");
        for (const char* change : changes_of_pictures)
            if (read.attribute(change))
                whole.properties["style:graphic-properties"][change] = read.attribute(change).value();
        put(frame, "draw:style-name", content_.styles.add("graphic", whole));
    }
    frame.append_child("draw:image").append_child("office:binary-data").text().set(data.c_str());
}

void Shapes::frame(pugi::xml_node from, pugi::xml_node to) {
    if (pugi::xml_node object = from.child("draw:object"); object && is_chart(object)) {
        pugi::xml_node frame = to.append_child("draw:frame");
        outline(from, frame);
        look(from, frame, false);
        pugi::xml_node made = frame.append_child("draw:object");
        const std::string ranges = carry_chart(
            object.child("office:document"), made.append_child("office:document"), sheet_, content_, sheets_);
        put(made, "draw:notify-on-update-of-ranges", ranges);
    } else if (pugi::xml_node box = from.child("draw:text-box")) {
        pugi::xml_node frame = to.append_child("draw:frame");
        outline(from, frame);
        look(from, frame, false);
        pugi::xml_node made = frame.append_child("draw:text-box");
        for (const char* attribute : {"fo:min-height", "fo:min-width", "draw:corner-radius"})
            if (box.attribute(attribute)) put(made, attribute, box.attribute(attribute).value());
        carry_paragraphs(box, made, content_.styles, fields_, false);
    } else if (!from.child("draw:object") && !from.child("draw:object-ole") && from.child("draw:image")) {
        picture(from, to);
    } else {
        content_.left_out.push_back({LeftOut::What::object, sheet_});
    }
}

}  // namespace pullsheet::addin::customer_copy
