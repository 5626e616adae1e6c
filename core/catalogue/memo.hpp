// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <deque>
#include <mutex>
#include <optional>
#include <span>
#include <string>
#include <unordered_map>

#include "core/catalogue/evaluate.hpp"

namespace pullsheet::catalogue {

/// A cache of the latest outcomes of slow functions. A pure function gives the same outcome for the same
/// arguments, so the cache cannot change a result. Bounded and thread-safe.
class Memo {
  public:
    /// The outcome kept under a key, if there is one.
    std::optional<Outcome> find(const std::string& key);
    /// Stores an outcome and evicts the oldest ones if necessary.
    void add(std::string key, const Outcome& outcome);

  private:
    std::mutex mutex_;
    std::unordered_map<std::string, Outcome> outcomes_;
    std::deque<const std::string*> oldest_first_;  ///< the keys of `outcomes_`
    std::size_t size_ = 0;
};

/// The key of a call: everything that its outcome depends on.
std::string memo_key(const Function& function, std::span<const Value> arguments, Language language);

}  // namespace pullsheet::catalogue
