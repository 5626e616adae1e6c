// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

namespace pullsheet::catalogue {

/// The sentences that travel beside one value. A caller that shows none asks for none: then they are not even
/// written, and where a value fails the sentence that says why may stay empty too.
class Warnings {
  public:
    explicit Warnings(bool wanted) : wanted_(wanted) {}

    /// False if nobody reads them: ask before a sentence is put together.
    bool wanted() const { return wanted_; }
    /// Adds a sentence once; of more than eight the rest is counted only.
    void add(std::string sentence) {
        constexpr std::size_t most = 8;
        if (!wanted_ || std::find(sentences_.begin(), sentences_.end(), sentence) != sentences_.end()) return;
        if (sentences_.size() < most)
            sentences_.push_back(std::move(sentence));
        else
            ++dropped_;
    }
    /// How many there was no room for.
    std::size_t dropped() const { return dropped_; }
    std::vector<std::string> take() { return std::exchange(sentences_, {}); }

  private:
    bool wanted_;
    std::size_t dropped_ = 0;
    std::vector<std::string> sentences_;
};

}  // namespace pullsheet::catalogue
