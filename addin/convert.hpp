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

/// True for a range that is not taken: copies of it would fill the memory, and the office would not survive
/// that.
bool is_too_large(std::int64_t rows, std::int64_t columns);
catalogue::Failure too_large(std::int64_t rows, std::int64_t columns,
                             catalogue::Language language = catalogue::Language::english);

/// The codes that Calc shows for our failures (Err:502, Err:523, #N/A).
int error_code(catalogue::FailureKind kind);

/// A number that Calc shows as the error `code`: a NaN that carries the code in its low bits.
double error_value(int code);

/// What Calc hands over, as the catalogue takes it: nothing for an omitted argument, a table for a range.
catalogue::Value to_value(const com::sun::star::uno::Any& any);

/// What the catalogue answers, as Calc takes it. No number that is not finite passes, except as an error.
com::sun::star::uno::Any to_any(const catalogue::Value& value);

using office::to_unicode;
using office::to_utf8;

}  // namespace pullsheet::addin
