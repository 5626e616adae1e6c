// SPDX-License-Identifier: Apache-2.0
#include "addin/dialog.hpp"

#include <algorithm>
#include <com/sun/star/awt/FontWeight.hpp>
#include <com/sun/star/awt/Rectangle.hpp>
#include <com/sun/star/awt/Toolkit.hpp>
#include <com/sun/star/awt/XButton.hpp>
#include <com/sun/star/awt/XLayoutConstrains.hpp>
#include <com/sun/star/awt/XUnitConversion.hpp>
#include <com/sun/star/awt/XWindow.hpp>
#include <com/sun/star/lang/XComponent.hpp>
#include <com/sun/star/util/MeasureUnit.hpp>
#include <cppuhelper/implbase1.hxx>

#include "addin/convert.hpp"

namespace pullsheet::addin {
namespace {

namespace uno = com::sun::star::uno;
namespace awt = com::sun::star::awt;
using uno::Any;

constexpr int margin = 7;
constexpr int gap = 4;
constexpr int button_height = 15;
constexpr int line_height = 9;

Any text_of(const std::string& text) {
    return Any(to_unicode(text));
}

/// Ends the dialogue with the number of the button that was pressed.
class Pressed final : public cppu::WeakImplHelper1<awt::XActionListener> {
  public:
    Pressed(uno::Reference<awt::XDialog2> dialog, sal_Int32 number)
        : dialog_(std::move(dialog)), number_(number) {}
    void SAL_CALL actionPerformed(const awt::ActionEvent&) override { dialog_->endDialog(number_); }
    void SAL_CALL disposing(const com::sun::star::lang::EventObject&) override { dialog_.clear(); }

  private:
    uno::Reference<awt::XDialog2> dialog_;
    sal_Int32 number_;
};

}  // namespace

Dialog::Dialog(Context context, Window parent, const std::string& title, int width)
    : context_(std::move(context)), parent_(std::move(parent)), width_(width), y_(margin) {
    model_.set(create(context_, "com.sun.star.awt.UnoControlDialogModel"), uno::UNO_QUERY_THROW);
    models_.set(model_, uno::UNO_QUERY_THROW);
    names_.set(model_, uno::UNO_QUERY_THROW);
    model_->setPropertyValue("Title", text_of(title));
    model_->setPropertyValue("Width", Any(sal_Int32(width)));
    model_->setPropertyValue("Height", Any(sal_Int32(100)));
    model_->setPropertyValue("Closeable", Any(true));
    control_.set(create(context_, "com.sun.star.awt.UnoControlDialog"), uno::UNO_QUERY_THROW);
    control_->setModel(uno::Reference<awt::XControlModel>(model_, uno::UNO_QUERY_THROW));
    controls_.set(control_, uno::UNO_QUERY_THROW);
    // The window exists before its parts, so that they can be measured.
    uno::Reference<awt::XWindow>(control_, uno::UNO_QUERY_THROW)->setVisible(false);
    const uno::Reference<awt::XToolkit> toolkit(awt::Toolkit::create(context_), uno::UNO_QUERY_THROW);
    control_->createPeer(toolkit, parent_);
}

Dialog::~Dialog() {
    try {
        uno::Reference<com::sun::star::lang::XComponent>(control_, uno::UNO_QUERY_THROW)->dispose();
    } catch (...) {
        // It has been disposed of already.
    }
}

Dialog::Placed Dialog::add(const char* service, std::initializer_list<std::pair<const char*, Any>> values) {
    Placed placed;
    placed.model.set(models_->createInstance(rtl::OUString::createFromAscii(service)), uno::UNO_QUERY_THROW);
    for (const auto& [name, value] : values)
        placed.model->setPropertyValue(rtl::OUString::createFromAscii(name), value);
    const rtl::OUString name = "part" + rtl::OUString::number(sal_Int32(placed_.size()));
    names_->insertByName(name, Any(placed.model));
    placed.control = controls_->getControl(name);
    placed_.push_back(placed);
    return placed;
}

int Dialog::needed_height(const Placed& placed, int width) const {
    const uno::Reference<awt::XUnitConversion> units(control_->getPeer(), uno::UNO_QUERY_THROW);
    const uno::Reference<awt::XLayoutConstrains> layout(placed.control, uno::UNO_QUERY_THROW);
    constexpr sal_Int16 unit = com::sun::star::util::MeasureUnit::APPFONT;
    const awt::Size pixels = units->convertSizeToPixel({width, 1000}, unit);
    const awt::Size needed = layout->calcAdjustedSize({pixels.Width, 0});
    return units->convertSizeToLogic(needed, unit).Height + 1;
}

int Dialog::needed_width(const Placed& placed) const {
    const uno::Reference<awt::XUnitConversion> units(control_->getPeer(), uno::UNO_QUERY_THROW);
    const uno::Reference<awt::XLayoutConstrains> layout(placed.control, uno::UNO_QUERY_THROW);
    return units->convertSizeToLogic(layout->getPreferredSize(), com::sun::star::util::MeasureUnit::APPFONT)
               .Width +
           1;
}

void Dialog::place(const Placed& placed, int x, int width, int height) {
    placed.model->setPropertyValue("PositionX", Any(sal_Int32(x)));
    placed.model->setPropertyValue("PositionY", Any(sal_Int32(y_)));
    placed.model->setPropertyValue("Width", Any(sal_Int32(width)));
    placed.model->setPropertyValue("Height", Any(sal_Int32(height)));
}

void Dialog::heading(const std::string& text) {
    const Placed placed =
        add("com.sun.star.awt.UnoControlFixedTextModel",
            {{"Label", text_of(text)}, {"MultiLine", Any(true)}, {"FontWeight", Any(awt::FontWeight::BOLD)}});
    if (y_ > margin) y_ += gap;
    const int height = needed_height(placed, width_ - 2 * margin);
    place(placed, margin, width_ - 2 * margin, height);
    y_ += height + gap / 2;
}

void Dialog::text(const std::string& text) {
    const Placed placed = add("com.sun.star.awt.UnoControlFixedTextModel",
                              {{"Label", text_of(text)}, {"MultiLine", Any(true)}, {"NoLabel", Any(true)}});
    const int height = needed_height(placed, width_ - 2 * margin);
    place(placed, margin, width_ - 2 * margin, height);
    y_ += height + gap;
}

void Dialog::passage(const std::string& text, int lines) {
    const Placed placed = add(
        "com.sun.star.awt.UnoControlEditModel",
        {{"Text", text_of(text)}, {"MultiLine", Any(true)}, {"ReadOnly", Any(true)}, {"VScroll", Any(true)}});
    const int height = lines * line_height + 4;
    place(placed, margin, width_ - 2 * margin, height);
    y_ += height + gap;
}

std::size_t Dialog::tick(const std::string& text, bool ticked) {
    const Placed placed =
        add("com.sun.star.awt.UnoControlCheckBoxModel",
            {{"Label", text_of(text)}, {"State", Any(sal_Int16(ticked ? 1 : 0))}, {"MultiLine", Any(true)}});
    const int height = std::max(needed_height(placed, width_ - 2 * margin), 10);
    place(placed, margin, width_ - 2 * margin, height);
    y_ += height + gap;
    return placed_.size() - 1;
}

std::vector<std::size_t> Dialog::ticks_in_a_row(const std::vector<std::pair<std::string, bool>>& boxes) {
    std::vector<std::size_t> numbers;
    int x = margin;
    for (const auto& [text, ticked] : boxes) {
        const Placed placed = add("com.sun.star.awt.UnoControlCheckBoxModel",
                                  {{"Label", text_of(text)}, {"State", Any(sal_Int16(ticked ? 1 : 0))}});
        const int width = needed_width(placed);
        place(placed, x, width, 10);
        x += width + 3 * gap;
        numbers.push_back(placed_.size() - 1);
    }
    y_ += 10 + gap;
    return numbers;
}

std::size_t Dialog::list(const std::vector<std::string>& lines, const std::vector<bool>& chosen) {
    uno::Sequence<rtl::OUString> items(static_cast<sal_Int32>(lines.size()));
    uno::Sequence<sal_Int16> selected;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        items[static_cast<sal_Int32>(i)] = to_unicode(lines[i]);
        if (!chosen[i]) continue;
        selected.realloc(selected.getLength() + 1);
        selected[selected.getLength() - 1] = static_cast<sal_Int16>(i);
    }
    const Placed placed = add(
        "com.sun.star.awt.UnoControlListBoxModel",
        {{"MultiSelection", Any(true)}, {"StringItemList", Any(items)}, {"SelectedItems", Any(selected)}});
    const int height = std::clamp(static_cast<int>(lines.size()), 3, 10) * line_height + 6;
    place(placed, margin, width_ - 2 * margin, height);
    y_ += height + gap;
    return placed_.size() - 1;
}

std::size_t Dialog::secret() {
    const Placed placed = add("com.sun.star.awt.UnoControlEditModel", {{"EchoChar", Any(sal_Int16('*'))}});
    place(placed, margin, (width_ - 2 * margin) / 2, button_height - 2);
    y_ += button_height - 2 + gap;
    return placed_.size() - 1;
}

void Dialog::put_into_the_middle() {
    if (!parent_.is()) return;
    const uno::Reference<awt::XUnitConversion> units(control_->getPeer(), uno::UNO_QUERY_THROW);
    const awt::Rectangle window = uno::Reference<awt::XWindow>(parent_, uno::UNO_QUERY_THROW)->getPosSize();
    const awt::Size size =
        units->convertSizeToLogic({window.Width, window.Height}, com::sun::star::util::MeasureUnit::APPFONT);
    model_->setPropertyValue("PositionX", Any(sal_Int32(std::max(0, (size.Width - width_) / 2))));
    model_->setPropertyValue("PositionY", Any(sal_Int32(std::max(0, (size.Height - y_) / 3))));
}

std::size_t Dialog::run(const std::vector<std::string>& buttons) {
    const uno::Reference<awt::XDialog2> dialog(control_, uno::UNO_QUERY_THROW);
    y_ += gap;
    int x = width_ - margin;
    for (std::size_t i = 0; i < buttons.size(); ++i) {
        const Placed placed = add("com.sun.star.awt.UnoControlButtonModel",
                                  {{"Label", text_of(buttons[i])}, {"DefaultButton", Any(i == 0)}});
        const int width = std::max(50, needed_width(placed) + 8);
        x -= width;
        place(placed, x, width, button_height);
        x -= gap;
        uno::Reference<awt::XButton>(placed.control, uno::UNO_QUERY_THROW)
            ->addActionListener(new Pressed(dialog, static_cast<sal_Int32>(i) + 1));
        if (i == 0) uno::Reference<awt::XWindow>(placed.control, uno::UNO_QUERY_THROW)->setFocus();
    }
    y_ += button_height + margin;
    model_->setPropertyValue("Height", Any(sal_Int32(y_)));
    put_into_the_middle();
    const sal_Int32 pressed = dialog->execute();
    return pressed > 0 && static_cast<std::size_t>(pressed) <= buttons.size()
               ? static_cast<std::size_t>(pressed) - 1
               : buttons.size() - 1;
}

bool Dialog::is_ticked(std::size_t tick) const {
    sal_Int16 state = 0;
    placed_.at(tick).model->getPropertyValue("State") >>= state;
    return state == 1;
}

std::vector<bool> Dialog::chosen(std::size_t list) const {
    const auto& model = placed_.at(list).model;
    uno::Sequence<rtl::OUString> items;
    uno::Sequence<sal_Int16> selected;
    model->getPropertyValue("StringItemList") >>= items;
    model->getPropertyValue("SelectedItems") >>= selected;
    std::vector<bool> chosen(static_cast<std::size_t>(items.getLength()));
    for (sal_Int32 i = 0; i < selected.getLength(); ++i)
        chosen.at(static_cast<std::size_t>(selected[i])) = true;
    return chosen;
}

std::string Dialog::typed(std::size_t field) const {
    rtl::OUString text;
    placed_.at(field).model->getPropertyValue("Text") >>= text;
    return to_utf8(text);
}

}  // namespace pullsheet::addin
