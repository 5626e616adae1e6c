// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <arkode/arkode_erkstep.h>
#include <benchmark/benchmark.h>
#include <cvode/cvode.h>
#include <fmt/core.h>
#include <nvector/nvector_serial.h>
#include <sunnonlinsol/sunnonlinsol_fixedpoint.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <ctime>
#include <limits>
#include <stdexcept>
#include <string>
#include <vector>

/// What the comparisons with SUNDIALS have in common.
namespace pullsheet::bench {

enum class Method {
    adams,  ///< CVODE: Adams's methods of orders 1 to 12, fixed-point iteration, as it is meant for what is
            ///< not stiff
    runge_kutta  ///< ARKODE, ERKStep: an explicit Runge–Kutta pair of the fifth order
};

/// SUNDIALS on N equations. `System` has slope(t, y, d) and roots(t, y, g), g with `Roots` elements.
template <class System, std::size_t N, int Roots>
class Sundials {
  public:
    using State = std::array<double, N>;

    Sundials(System& system, Method method) : method_(method) {
        SUNContext_Create(nullptr, &context_);
        y_ = N_VNew_Serial(static_cast<sunindextype>(N), context_);
        scale_ = N_VNew_Serial(static_cast<sunindextype>(N), context_);
        N_VConst(0.0, y_);
        if (method == Method::adams) {
            memory_ = CVodeCreate(CV_ADAMS, context_);
            checked(CVodeInit(memory_, slope, 0.0, y_));
            checked(CVodeSetUserData(memory_, &system));
            solver_ = SUNNonlinSol_FixedPoint(y_, 0, context_);
            checked(CVodeSetNonlinearSolver(memory_, solver_));
            if (Roots > 0) checked(CVodeRootInit(memory_, Roots, roots));
            checked(CVodeSetMaxNumSteps(memory_, 1000000));
        } else {
            memory_ = ERKStepCreate(slope, 0.0, y_, context_);
            checked(ERKStepSetUserData(memory_, &system));
            checked(ERKStepSetOrder(memory_, 5));
            if (Roots > 0) checked(ERKStepRootInit(memory_, Roots, roots));
            checked(ERKStepSetMaxNumSteps(memory_, 1000000));
        }
    }
    Sundials(const Sundials&) = delete;
    Sundials& operator=(const Sundials&) = delete;
    ~Sundials() {
        if (method_ == Method::adams) {
            CVodeFree(&memory_);
            SUNNonlinSolFree(solver_);
        } else {
            ERKStepFree(&memory_);
        }
        N_VDestroy(y_);
        N_VDestroy(scale_);
        SUNContext_Free(&context_);
    }

    /// Absolute tolerances are the relative one times `scale`.
    void set_tolerance(double relative, const State& scale) {
        for (std::size_t i = 0; i < N; ++i) N_VGetArrayPointer(scale_)[i] = relative * scale[i];
        if (method_ == Method::adams)
            checked(CVodeSVtolerances(memory_, relative, scale_));
        else
            checked(ERKStepSVtolerances(memory_, relative, scale_));
    }

    double* y() { return N_VGetArrayPointer(y_); }

    /// From `t`, which is moved, to `end` or to a root. True at a root.
    bool advance(double& t, double end) {
        int flag = 0;
        if (method_ == Method::adams) {
            checked(CVodeReInit(memory_, t, y_));
            checked(CVodeSetStopTime(memory_, end));
            checked(flag = CVode(memory_, end, y_, &t, CV_NORMAL));
            return flag == CV_ROOT_RETURN;
        }
        checked(ERKStepReInit(memory_, slope, t, y_));
        checked(ERKStepSetStopTime(memory_, end));
        checked(flag = ERKStepEvolve(memory_, end, y_, &t, ARK_NORMAL));
        return flag == ARK_ROOT_RETURN;
    }

    /// Which of the functions of the root are zero.
    std::array<int, Roots == 0 ? 1 : Roots> found() {
        std::array<int, Roots == 0 ? 1 : Roots> which{};
        checked(method_ == Method::adams ? CVodeGetRootInfo(memory_, which.data())
                                         : ERKStepGetRootInfo(memory_, which.data()));
        return which;
    }

  private:
    static void checked(int flag) {
        if (flag < 0) throw std::runtime_error("SUNDIALS failed: " + std::to_string(flag));
    }
    static int slope(realtype t, N_Vector state, N_Vector derivative, void* system) {
        static_cast<System*>(system)->slope(t, N_VGetArrayPointer(state), N_VGetArrayPointer(derivative));
        return 0;
    }
    static int roots(realtype t, N_Vector state, realtype* g, void* system) {
        static_cast<System*>(system)->roots(t, N_VGetArrayPointer(state), g);
        return 0;
    }

    Method method_;
    SUNContext context_ = nullptr;
    N_Vector y_ = nullptr, scale_ = nullptr;
    void* memory_ = nullptr;
    SUNNonlinearSolver solver_ = nullptr;
};

/// An integrator at one setting.
struct Setting {
    double error;  ///< the greatest of all runs
    double time;   ///< µs of the processor for a run
};

/// Settings of several integrators measured in turns; of each the least time in which it keeps within an
/// error.
inline void print_equal_accuracy(const std::vector<std::string>& names,
                                 const std::vector<std::vector<Setting>>& settings,
                                 const std::vector<double>& errors) {
    fmt::print("| error up to |");
    for (const std::string& name : names) fmt::print(" {}, µs |", name);
    for (std::size_t k = 1; k < names.size(); ++k) fmt::print(" {} ÷ {} |", names[0], names[k]);
    fmt::print("\n|---:|");
    for (std::size_t k = 0; k < 2 * names.size() - 1; ++k) fmt::print("---:|");
    for (const double error : errors) {
        std::vector<double> least;
        for (const std::vector<Setting>& of_one : settings) {
            least.push_back(std::numeric_limits<double>::infinity());
            for (const Setting& s : of_one)
                if (s.error <= error) least.back() = std::min(least.back(), s.time);
        }
        fmt::print("\n| {:.0e} |", error);
        for (const double t : least) fmt::print(" {:.1f} |", t);
        for (std::size_t k = 1; k < least.size(); ++k) fmt::print(" {:.2f} |", least[0] / least[k]);
    }
    fmt::print("\n");
}

/// Processor time of a job, µs: the least of several rounds.
template <class F>
double timed(F job) {
    constexpr int rounds = 9;
    int calls = 1;
    double least = std::numeric_limits<double>::infinity();
    for (int round = 0; round < rounds;) {
        const std::clock_t start = std::clock();
        for (int i = 0; i < calls; ++i) job();
        const double t = 1e6 * static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
        if (t < 3000.0) {
            calls *= 2;
            continue;
        }
        least = std::min(least, t / calls);
        ++round;
    }
    return least;
}

}  // namespace pullsheet::bench
