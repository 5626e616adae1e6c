// SPDX-License-Identifier: Apache-2.0
#include "harness/progress.hpp"

#include <fmt/format.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>

namespace pullsheet::harness {
namespace {

constexpr std::size_t bar_width = 24;
constexpr auto pause = std::chrono::milliseconds(100);

std::size_t terminal_width() {
    winsize size{};
    return ::ioctl(STDERR_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0 ? size.ws_col : 80u;
}

std::string duration(double seconds) {
    const auto whole = static_cast<std::uint64_t>(std::min(seconds, 3.6e8) + 0.5);
    return whole < 3600 ? fmt::format("{}:{:02}", whole / 60, whole % 60)
                        : fmt::format("{}:{:02}:{:02}", whole / 3600, whole / 60 % 60, whole % 60);
}

}  // namespace

std::string progress_line(std::uint64_t bytes, std::optional<std::uint64_t> total, std::size_t rows,
                          double seconds, std::size_t width, catalogue::Language language) {
    std::string line;
    const double rate = seconds > 0.0 ? static_cast<double>(rows) / seconds : 0.0;
    const std::string counts = say(language, "{rows} rows, {rate} rows/s",
                                   {{"rows", std::to_string(rows)}, {"rate", fmt::format("{:.0f}", rate)}});
    if (total && *total > 0) {
        const double share = std::min(1.0, static_cast<double>(bytes) / static_cast<double>(*total));
        const auto full = static_cast<std::size_t>(share * static_cast<double>(bar_width));
        line = fmt::format("[{}{}] {:3.0f} %  {}", std::string(full, '#'), std::string(bar_width - full, '.'),
                           std::min(99.0, 100.0 * share), counts);
        if (share > 0.0)
            line +=
                ", " + say(language, "{time} left", {{"time", duration(seconds * (1.0 - share) / share)}});
    } else {
        line = fmt::format(
            "{}, {} MB, {}", counts,
            catalogue::with_decimal_mark(fmt::format("{:.1f}", static_cast<double>(bytes) / 1e6), language),
            duration(seconds));
    }
    return line.substr(0, width > 0 ? width - 1 : 0);
}

Progress::Progress(std::ostream& error, bool wanted, std::optional<std::uint64_t> total,
                   catalogue::Language language)
    : error_(error), wanted_(wanted), total_(total), language_(language) {}

Progress::~Progress() {
    clear();
}

void Progress::update(std::uint64_t bytes, std::size_t rows) {
    if (!wanted_) return;
    const auto now = Clock::now();
    // A file that is done at once shows nothing.
    if (now - shown_ < pause) return;
    shown_ = now;
    is_shown_ = true;
    const double seconds = std::chrono::duration<double>(now - began_).count();
    error_ << '\r' << progress_line(bytes, total_, rows, seconds, terminal_width(), language_) << "\x1b[K"
           << std::flush;
}

void Progress::clear() {
    if (!is_shown_) return;
    error_ << "\r\x1b[K" << std::flush;
    is_shown_ = false;
}

}  // namespace pullsheet::harness
