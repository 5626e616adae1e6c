// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <utility>

#include "core/error.hpp"

namespace pullsheet {

/// A parameter and what it may be.
struct Check {
    const char* parameter;
    Interval allowed;
};

/// The checks of several parameters, made together: formulas of a few multiplications would otherwise spend
/// most of their time in comparisons. Made from constants; the call takes the values in the order of the list
/// and throws InvalidArgument for the first that is refused, as `require` would one after another.
///
///     static constexpr Checks checks({{"power", not_negative}, {"efficiency", possible::efficiency}});
///     checks(power, efficiency);
template <std::size_t N>
class Checks {
  public:
    consteval explicit Checks(const Check (&list)[N]) {
        for (std::size_t i = 0; i < N; ++i) {
            list_[i] = list[i];
            low_[i] = least(list[i].allowed);
            high_[i] = greatest(list[i].allowed);
        }
        if (N % 2 == 1) {  // a pair is filled up with the last value, which is checked twice
            low_[N] = low_[N - 1];
            high_[N] = high_[N - 1];
        }
    }

    template <class... Values>
    void operator()(Values... values) const {
        static_assert(sizeof...(Values) == N);
        const std::array<double, N> x{values...};
        if (!within(x, std::make_index_sequence<(N + 1) / 2>())) refuse(values...);
    }

  private:
    // Two numbers in one register, compared by one instruction.
    using Pair [[gnu::vector_size(16)]] = double;

    template <std::size_t... I>
    bool within(const std::array<double, N>& x, std::index_sequence<I...>) const {
        const auto inside =
            (inside_of(Pair{x[2 * I], x[2 * I + 1 < N ? 2 * I + 1 : 2 * I]},
                       Pair{low_[2 * I], low_[2 * I + 1]}, Pair{high_[2 * I], high_[2 * I + 1]}) &
             ...);
        const Pair outside = inside ? Pair{0.0, 0.0} : Pair{-1.0, -1.0};
#ifdef __SSE2__
        return __builtin_ia32_movmskpd(outside) == 0;  // the signs
#else
        return outside[0] + outside[1] == 0.0;
#endif
    }
    static auto inside_of(Pair x, Pair low, Pair high) {
        return (x >= low) & (x <= high);
    }

    template <class... Values>
    [[gnu::noinline, gnu::cold]] void refuse(Values... values) const {
        const std::array<double, N> x{values...};
        for (std::size_t i = 0; i < N; ++i) require(list_[i].parameter, x[i], list_[i].allowed);
    }

    // The least and the greatest number of an interval: one that is open ends at the number next to its end.
    static consteval double least(const Interval& in) {
        return in.low_open ? next(in.low) : in.low;
    }
    static consteval double greatest(const Interval& in) {
        return in.high_open ? -next(-in.high) : in.high;
    }
    static consteval double next(double x) {
        if (x == 0.0) return std::numeric_limits<double>::denorm_min();
        const auto bits = std::bit_cast<std::uint64_t>(x);
        return std::bit_cast<double>(x > 0.0 ? bits + 1 : bits - 1);
    }

    std::array<Check, N> list_{};
    alignas(Pair) std::array<double, N + N % 2> low_{};
    alignas(Pair) std::array<double, N + N % 2> high_{};
};

}  // namespace pullsheet
