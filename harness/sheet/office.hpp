// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <sys/types.h>

#include <atomic>
#include <chrono>
#include <com/sun/star/uno/XComponentContext.hpp>
#include <filesystem>
#include <mutex>
#include <string>
#include <thread>

#include "core/catalogue/sentences.hpp"

namespace pullsheet::harness {

/// An office that runs unseen, with a profile of its own in a temporary folder. When it is over, also by
/// Ctrl-C or when the time is up, neither the process nor the folder is left.
class Office {
  public:
    /// Starts the office in `folder` with the unpacked `extension` (empty: it is installed in the office).
    /// After `timeout` the program ends with the sentence `too_late`. Throws FileNotReadable with a sentence
    /// in `language`.
    Office(const std::filesystem::path& folder, const std::filesystem::path& extension,
           std::chrono::seconds timeout, std::string too_late, catalogue::Language language);
    ~Office();
    Office(const Office&) = delete;
    Office& operator=(const Office&) = delete;

    const com::sun::star::uno::Reference<com::sun::star::uno::XComponentContext>& context() const {
        return context_;
    }

  private:
    void prepare_profile(const std::filesystem::path& extension);
    void start();
    void connect();
    void watch();
    void clean_up() noexcept;

    std::filesystem::path folder_;
    std::filesystem::path home_;  ///< the temporary folder
    std::string pipe_;
    std::chrono::steady_clock::time_point deadline_;
    std::string too_late_;
    catalogue::Language language_;
    std::atomic<pid_t> process_ = 0;
    std::mutex cleaning_;
    std::thread watcher_;
    com::sun::star::uno::Reference<com::sun::star::uno::XComponentContext> context_;
};

/// The unpacked extension: the folder asked for, else the one beside the program; empty where the office has
/// it installed. Throws FileNotReadable with a sentence if there is none.
std::filesystem::path find_extension(const std::filesystem::path& office, const std::string& asked,
                                     catalogue::Language language);

}  // namespace pullsheet::harness
