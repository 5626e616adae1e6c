// SPDX-License-Identifier: Apache-2.0
// The formatting library fmt, compiled into this library once. Its shared library would have to be installed
// on the user's machine, and the header-only version would be compiled in every file that formats. The
// explicit instantiations are those of fmt's own format.cc.
#include <fmt/format-inl.h>

FMT_BEGIN_NAMESPACE
namespace detail {
template auto dragonbox::to_decimal(float) noexcept -> dragonbox::decimal_fp<float>;
template auto dragonbox::to_decimal(double) noexcept -> dragonbox::decimal_fp<double>;
template locale_ref::locale_ref(const std::locale&);
template auto locale_ref::get<std::locale>() const -> std::locale;
template auto thousands_sep_impl(locale_ref) -> thousands_sep_result<char>;
template auto decimal_point_impl(locale_ref) -> char;
template void buffer<char>::append(const char*, const char*);
template void vformat_to(buffer<char>&, string_view, basic_format_args<FMT_BUFFER_CONTEXT(char)>, locale_ref);
}  // namespace detail
FMT_END_NAMESPACE
