// SPDX-License-Identifier: Apache-2.0
// The component that Calc loads: one method per function of the catalogue. All methods are generated; each
// passes its arguments to the catalogue and returns the result.
#include <com/sun/star/lang/XServiceInfo.hpp>
#include <com/sun/star/uno/XComponentContext.hpp>
#include <cppuhelper/implbase2.hxx>
#include <cppuhelper/supportsservice.hxx>
#include <pullsheet/XFunctions.hpp>
#include <vector>

#include "addin/convert.hpp"
#include "addin/office_language.hpp"
#include "addin/why/why.hpp"
#include "core/catalogue/catalogue.hpp"

namespace pullsheet::addin {
namespace {

namespace uno = com::sun::star::uno;
using uno::Any;
using CellRange = uno::Reference<com::sun::star::table::XCellRange>;
using Document = uno::Reference<com::sun::star::beans::XPropertySet>;
using Further = uno::Sequence<Any>;

class Functions final
    : public cppu::WeakImplHelper2<pullsheet::XFunctions, com::sun::star::lang::XServiceInfo> {
  public:
    Functions(const uno::Reference<uno::XComponentContext>& context, catalogue::Language language)
        : context_(context), language_(language) {}

    // The methods, generated from the catalogue.
#include "functions.inc"

    rtl::OUString SAL_CALL getImplementationName() override {
        return "pullsheet.FunctionsImplementation";
    }
    sal_Bool SAL_CALL supportsService(const rtl::OUString& name) override {
        return cppu::supportsService(this, name);
    }
    uno::Sequence<rtl::OUString> SAL_CALL getSupportedServiceNames() override {
        const rtl::OUString name("pullsheet.Functions");
        return {&name, 1};
    }

  private:
    // No exception may reach Calc.
    template <class F>
    static Any guarded(F&& compute) noexcept {
        try {
            return compute();
        } catch (...) {
            return Any(error_value(error_code(catalogue::FailureKind::no_solution)));
        }
    }

    /// The function at `index` of the catalogue, with these arguments.
    template <class... Arguments>
    Any answer(std::size_t index, const Arguments&... arguments) const noexcept {
        return guarded([&] {
            const catalogue::Value values[] = {to_value(arguments)..., {}};
            return addin::to_any(catalogue::value_of(catalogue::functions()[index],
                                                     {values, sizeof...(arguments)}, language_));
        });
    }

    /// The same for a function that takes all further arguments.
    template <class... Arguments>
    Any answer_list(std::size_t index, const Further& further, const Arguments&... arguments) const noexcept {
        return guarded([&] {
            std::vector<catalogue::Value> values{to_value(arguments)...};
            for (sal_Int32 i = 0; i < further.getLength(); ++i) values.push_back(to_value(further[i]));
            return addin::to_any(catalogue::value_of(catalogue::functions()[index], values, language_));
        });
    }

    /// The same for a function that takes a cell reference instead of a value.
    Any answer_cell(const Document& document, const CellRange& cell) const noexcept {
        return guarded([&] { return Any(to_unicode(why(context_, document, cell, language_))); });
    }

    uno::Reference<uno::XComponentContext> context_;
    catalogue::Language language_;  ///< of the sentences that FUNCTION.WHY and FUNCTION.ERROR return
};

}  // namespace
}  // namespace pullsheet::addin

/// The factory function that the office calls. The caller may name the language of the sentences ("de"); the
/// default is that of the office.
extern "C" __attribute__((visibility("default"))) com::sun::star::uno::XInterface* pullsheet_functions(
    com::sun::star::uno::XComponentContext* context,
    const com::sun::star::uno::Sequence<com::sun::star::uno::Any>& arguments) {
    using namespace pullsheet;
    rtl::OUString named;
    const bool is_named = arguments.getLength() == 1 && (arguments[0] >>= named);
    const auto language =
        is_named ? catalogue::language_of(addin::to_utf8(named)) : addin::office_language(context);
    return cppu::acquire(static_cast<cppu::OWeakObject*>(new addin::Functions(context, language)));
}
