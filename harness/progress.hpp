// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <chrono>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <ostream>
#include <string>

#include "core/catalogue/sentences.hpp"

namespace pullsheet::harness {

/// How far a file is read, on one line of a terminal that is written again and again and is gone at the end.
class Progress {
  public:
    /// Shows nothing if not `wanted`. Without `total` bytes there is no share and no remaining time.
    Progress(std::ostream& error, bool wanted, std::optional<std::uint64_t> total,
             catalogue::Language language = catalogue::Language::english);
    ~Progress();
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;

    bool is_wanted() const { return wanted_; }
    /// Shows the state if it was not shown just now.
    void update(std::uint64_t bytes, std::size_t rows);
    /// Takes the line away, so that something else can be written; the next update shows it again.
    void clear();

  private:
    using Clock = std::chrono::steady_clock;

    std::ostream& error_;
    bool wanted_;
    std::optional<std::uint64_t> total_;
    catalogue::Language language_;
    Clock::time_point began_ = Clock::now();
    Clock::time_point shown_ = began_;
    bool is_shown_ = false;
};

/// The line that is shown, at most `width` columns wide.
std::string progress_line(std::uint64_t bytes, std::optional<std::uint64_t> total, std::size_t rows,
                          double seconds, std::size_t width,
                          catalogue::Language language = catalogue::Language::english);

}  // namespace pullsheet::harness
