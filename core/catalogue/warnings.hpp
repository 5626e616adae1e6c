// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

namespace pullsheet::catalogue {

/// The warnings that accompany one value. For a caller that does not show them they are not composed, and the
/// sentence of a failure may be empty too.
class Warnings {
  public:
    explicit Warnings(bool wanted) : wanted_(wanted) {}

    /// False if they are not shown: check it before composing a sentence.
    bool wanted() const { return wanted_; }
    /// Adds a sentence once; from the ninth on they are only counted.
    void add(std::string sentence) {
        constexpr std::size_t most = 8;
        if (!wanted_ || std::find(sentences_.begin(), sentences_.end(), sentence) != sentences_.end()) return;
        if (sentences_.size() < most)
            sentences_.push_back(std::move(sentence));
        else
            ++dropped_;
    }
    /// The number of warnings beyond the capacity.
    std::size_t dropped() const { return dropped_; }
    std::vector<std::string> take() { return std::exchange(sentences_, {}); }

  private:
    bool wanted_;
    std::size_t dropped_ = 0;
    std::vector<std::string> sentences_;
};

}  // namespace pullsheet::catalogue
