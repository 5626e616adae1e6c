// SPDX-License-Identifier: Apache-2.0
#include "core/series.hpp"

namespace pullsheet {

void require_length(const char* name, std::size_t length, std::span<const double> series) {
    if (series.size() != length)
        throw InvalidArgument(name, Reason::lengths_differ, {counted(length), counted(series.size())});
}

void require_points(std::size_t points, std::size_t needed) {
    if (points < needed) throw NoData(Reason::too_few_points, {counted(points), counted(needed)});
}

void require_all(const char* name, std::span<const double> series, Interval allowed) {
    for (const double number : series) require(name, number, allowed);
}

void require_ascending(const char* name, std::span<const double> series) {
    require_all(name, series, finite);
    for (std::size_t i = 1; i < series.size(); ++i)
        if (!(series[i] > series[i - 1]))
            throw InvalidArgument(name, Reason::not_increasing, {counted(i + 1)});
}

}  // namespace pullsheet
