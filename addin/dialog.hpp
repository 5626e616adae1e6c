// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <com/sun/star/awt/XControl.hpp>
#include <com/sun/star/awt/XControlContainer.hpp>
#include <com/sun/star/awt/XDialog2.hpp>
#include <com/sun/star/beans/XPropertySet.hpp>
#include <com/sun/star/container/XNameContainer.hpp>
#include <com/sun/star/lang/XMultiServiceFactory.hpp>
#include <string>
#include <vector>

#include "addin/office.hpp"

namespace pullsheet::addin {

/// A dialogue built from top to bottom. Every line gets the height that its text needs in the office's font,
/// so that it fits in any language.
class Dialog {
  public:
    using Window = com::sun::star::uno::Reference<com::sun::star::awt::XWindowPeer>;

    /// A dialogue of that width (in units of the office's dialogues, about a quarter of a letter).
    Dialog(Context context, Window parent, const std::string& title, int width = 280);
    ~Dialog();
    Dialog(const Dialog&) = delete;
    Dialog& operator=(const Dialog&) = delete;

    void heading(const std::string& text);
    void text(const std::string& text);
    /// A text that can be selected and copied, and scrolled if it is longer than that many lines.
    void passage(const std::string& text, int lines);
    /// A box to tick; several are put side by side. The answer is asked for by its number.
    std::size_t tick(const std::string& text, bool ticked);
    std::vector<std::size_t> ticks_in_a_row(const std::vector<std::pair<std::string, bool>>& boxes);
    /// A list of which several lines can be chosen.
    std::size_t list(const std::vector<std::string>& lines, const std::vector<bool>& chosen);

    /// A field for a password, which is not shown.
    std::size_t secret();

    /// Shows the dialogue with these buttons from right to left, and says which one was pressed; the last
    /// one, which closes without doing anything, also stands for Escape. The first is the one that Enter
    /// presses.
    std::size_t run(const std::vector<std::string>& buttons);

    bool is_ticked(std::size_t tick) const;
    std::vector<bool> chosen(std::size_t list) const;
    std::string typed(std::size_t field) const;

  private:
    struct Placed {
        com::sun::star::uno::Reference<com::sun::star::awt::XControl> control;
        com::sun::star::uno::Reference<com::sun::star::beans::XPropertySet> model;
    };
    Placed add(const char* service,
               std::initializer_list<std::pair<const char*, com::sun::star::uno::Any>> values);
    int needed_height(const Placed& placed, int width) const;
    int needed_width(const Placed& placed) const;
    void place(const Placed& placed, int x, int width, int height);

    void put_into_the_middle();

    Context context_;
    Window parent_;
    com::sun::star::uno::Reference<com::sun::star::beans::XPropertySet> model_;
    com::sun::star::uno::Reference<com::sun::star::lang::XMultiServiceFactory> models_;
    com::sun::star::uno::Reference<com::sun::star::container::XNameContainer> names_;
    com::sun::star::uno::Reference<com::sun::star::awt::XControl> control_;
    com::sun::star::uno::Reference<com::sun::star::awt::XControlContainer> controls_;
    std::vector<Placed> placed_;
    int width_;
    int y_;
};

}  // namespace pullsheet::addin
