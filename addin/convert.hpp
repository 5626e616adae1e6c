// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <com/sun/star/uno/Any.hxx>
#include <com/sun/star/uno/Sequence.hxx>
#include <cstdint>

#include "addin/office/text.hpp"
#include "core/catalogue/sentences.hpp"
#include "core/catalogue/value.hpp"

namespace pullsheet::addin {

using UnoTable = com::sun::star::uno::Sequence<com::sun::star::uno::Sequence<com::sun::star::uno::Any>>;

/// True for a range too large to accept: the copies of it could exhaust the memory and crash the office.
bool is_too_large(std::int64_t rows, std::int64_t columns);
catalogue::Failure too_large(std::int64_t rows, std::int64_t columns,
                             catalogue::Language language = catalogue::Language::english);

/// The codes that Calc shows for our failures (Err:502, Err:523, #N/A).
int error_code(catalogue::FailureKind kind);

/// A number that Calc shows as the error `code`: a NaN that carries the code in its low bits.
double error_value(int code);

/// Converts an argument from Calc into a catalogue value: no value for an omitted argument, a table for a
/// range.
catalogue::Value to_value(const com::sun::star::uno::Any& any);

/// Converts a catalogue result for Calc. A number that is not finite is returned only as an error.
com::sun::star::uno::Any to_any(const catalogue::Value& value);

using office::to_unicode;
using office::to_utf8;

}  // namespace pullsheet::addin
