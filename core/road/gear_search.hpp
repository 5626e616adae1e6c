// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "core/error.hpp"
#include "core/road/run.hpp"

namespace pullsheet::road {

/// The road speed at which to leave a gear: the lowest from which the next gear accelerates the car harder
/// all the way to the rev limit, or the rev limit itself.
double best_upshift(const Car& car, std::size_t gear);

/// What a driver who wants the best time does: branch and bound over the gear in which the run starts and the
/// gear that is held to the end. It refers to its arguments, which must outlive it.
class GearSearch {
  public:
    GearSearch(const Car& car, const Task& task, const RunOptions& options);

    /// The quickest run. Throws what speed_run throws.
    Course quickest();

    /// How many runs have been integrated, from the start or from an upshift on.
    std::size_t runs() const { return runs_; }

  private:
    void require_below_rev_limit(std::size_t gear) const;
    void start_in(std::size_t gear);
    void keep(Course course);
    template <class F>
    void attempt(F run);

    const Car& car_;
    const Task& task_;
    const RunOptions& options_;
    std::vector<double> shift_speeds_;
    Course best_;
    Incumbent incumbent_;
    std::optional<NoSolution> refusal_;
    std::size_t runs_ = 0;
};

}  // namespace pullsheet::road
