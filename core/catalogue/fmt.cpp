// SPDX-License-Identifier: Apache-2.0
// The formatting library fmt, compiled once into ours: its shared library would have to be on the machine of
// whoever installs the extension, and as headers alone it is compiled in every file that formats. What is
// written out here is what fmt's own format.cc writes out.
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
