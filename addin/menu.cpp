// SPDX-License-Identifier: Apache-2.0
// The component of the menu "Pullsheet": the office dispatches to it every command with the protocol of
// Pullsheet.
#include <com/sun/star/frame/DispatchResultState.hpp>
#include <com/sun/star/frame/XDispatchProvider.hpp>
#include <com/sun/star/frame/XNotifyingDispatch.hpp>
#include <com/sun/star/lang/XInitialization.hpp>
#include <com/sun/star/lang/XServiceInfo.hpp>
#include <cppuhelper/implbase4.hxx>
#include <cppuhelper/supportsservice.hxx>

#include "addin/command.hpp"
#include "addin/convert.hpp"
#include "addin/menu_entries.hpp"
#include "addin/office_language.hpp"

namespace pullsheet::addin {
namespace {

namespace uno = com::sun::star::uno;
namespace frame = com::sun::star::frame;
namespace util = com::sun::star::util;
using uno::Any;

using Done = Any (*)(const Command&);

Done command_named(std::string_view name) {
    if (name == "new") return new_from_template;
    if (name == "why") return explain_selection;
    if (name == "copy") return write_customer_copy;
    if (name == "checks") return failed_checks;
    if (name == "guide") return open_guide;
    if (name == "help") return help;
    if (name == "about") return show_about;
    return nullptr;
}

class Menu final : public cppu::WeakImplHelper4<frame::XDispatchProvider, frame::XNotifyingDispatch,
                                                com::sun::star::lang::XInitialization,
                                                com::sun::star::lang::XServiceInfo> {
  public:
    explicit Menu(Context context) : context_(std::move(context)) {}

    void SAL_CALL initialize(const uno::Sequence<Any>& arguments) override {
        if (arguments.getLength() > 0) arguments[0] >>= frame_;
    }

    uno::Reference<frame::XDispatch> SAL_CALL queryDispatch(const util::URL& url, const rtl::OUString&,
                                                            sal_Int32) override {
        return is_ours(to_utf8(url.Complete)) ? this : nullptr;
    }
    uno::Sequence<uno::Reference<frame::XDispatch>> SAL_CALL
    queryDispatches(const uno::Sequence<frame::DispatchDescriptor>& wanted) override {
        uno::Sequence<uno::Reference<frame::XDispatch>> found(wanted.getLength());
        for (sal_Int32 i = 0; i < wanted.getLength(); ++i)
            found[i] = queryDispatch(wanted[i].FeatureURL, wanted[i].FrameName, wanted[i].SearchFlags);
        return found;
    }

    void SAL_CALL dispatch(const util::URL& url, const Properties& arguments) override {
        dispatchWithNotification(url, arguments, nullptr);
    }
    void SAL_CALL
    dispatchWithNotification(const util::URL& url, const Properties& arguments,
                             const uno::Reference<frame::XDispatchResultListener>& listener) override {
        const uno::Reference<uno::XInterface> alive(static_cast<cppu::OWeakObject*>(this));
        frame::DispatchResultEvent result;
        result.Source = alive;
        result.State = frame::DispatchResultState::FAILURE;
        try {
            result.Result = carry_out(to_utf8(url.Complete), arguments);
            result.State = frame::DispatchResultState::SUCCESS;
        } catch (const Refusal& refusal) {
            result.Result <<= to_unicode(refusal.what());
        } catch (...) {
            // No exception may end the office.
        }
        if (listener.is()) listener->dispatchFinished(result);
    }

    void SAL_CALL addStatusListener(const uno::Reference<frame::XStatusListener>& listener,
                                    const util::URL& url) override {
        if (!listener.is()) return;
        frame::FeatureStateEvent state;
        state.FeatureURL = url;
        state.Source.set(static_cast<cppu::OWeakObject*>(this));
        state.IsEnabled = true;
        listener->statusChanged(state);
    }
    void SAL_CALL removeStatusListener(const uno::Reference<frame::XStatusListener>&,
                                       const util::URL&) override {}

    rtl::OUString SAL_CALL getImplementationName() override { return "pullsheet.MenuImplementation"; }
    sal_Bool SAL_CALL supportsService(const rtl::OUString& name) override {
        return cppu::supportsService(this, name);
    }
    uno::Sequence<rtl::OUString> SAL_CALL getSupportedServiceNames() override {
        const rtl::OUString name("pullsheet.Menu");
        return {&name, 1};
    }

  private:
    catalogue::Language language_of(const Properties& arguments) const {
        rtl::OUString asked;
        if (!(value_of(arguments, "Language") >>= asked)) return office_language(context_);
        return asked == "de" ? catalogue::Language::german : catalogue::Language::english;
    }

    static bool is_ours(const std::string& url) { return url.starts_with(command_protocol); }

    Any carry_out(const std::string& url, const Properties& arguments) const {
        if (!is_ours(url)) return {};
        const std::string wanted = url.substr(command_protocol.size());
        const auto question_mark = wanted.find('?');
        const Done command = command_named(wanted.substr(0, question_mark));
        if (command == nullptr) return {};
        const Command given{context_, frame_,
                            question_mark == std::string::npos ? "" : wanted.substr(question_mark + 1),
                            arguments, language_of(arguments)};
        try {
            return command(given);
        } catch (const Refusal& refusal) {
            if (given.is_silent()) throw;
            show(given, "Pullsheet", refusal.what());
        } catch (const uno::Exception& failure) {
            const std::string sentence =
                given.words("The office could not do this.") + " " + to_utf8(failure.Message);
            if (given.is_silent()) throw Refusal(sentence);
            show(given, "Pullsheet", sentence);
        }
        return {};
    }

    Context context_;
    uno::Reference<frame::XFrame> frame_;
};

}  // namespace
}  // namespace pullsheet::addin

/// The factory function that the office calls.
extern "C" __attribute__((visibility("default"))) com::sun::star::uno::XInterface* pullsheet_menu(
    com::sun::star::uno::XComponentContext* context,
    const com::sun::star::uno::Sequence<com::sun::star::uno::Any>&) {
    return cppu::acquire(static_cast<cppu::OWeakObject*>(new pullsheet::addin::Menu(context)));
}
