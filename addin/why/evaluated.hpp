// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "addin/office/cells.hpp"
#include "core/catalogue/value.hpp"

namespace pullsheet::addin {

using office::Address;

/// The result of a formula or of a part of it.
struct Evaluated {
    catalogue::Value value;         ///< a failure's sentence is empty where only Calc's code is known
    bool is_known = true;           ///< false if it cannot be determined here
    std::optional<Address> origin;  ///< of a failure: the cell it came from

    bool failed() const { return is_known && std::holds_alternative<catalogue::Failure>(value); }
};

inline Evaluated unknown() {
    return {{}, false, {}};
}

inline Evaluated known(catalogue::Value value) {
    return {std::move(value), true, {}};
}

inline Evaluated failure(std::string_view sentence = {},
                         catalogue::FailureKind kind = catalogue::FailureKind::wrong_argument) {
    return known(catalogue::Failure{kind, std::string(sentence)});
}

/// A failure that came from another cell.
inline Evaluated from(const Address& cell,
                      catalogue::FailureKind kind = catalogue::FailureKind::wrong_argument) {
    return {catalogue::Failure{kind, {}}, true, cell};
}

}  // namespace pullsheet::addin
