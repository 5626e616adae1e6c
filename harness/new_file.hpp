// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <sys/types.h>

#include <filesystem>
#include <string>
#include <string_view>

#include "core/catalogue/sentences.hpp"

namespace pullsheet::harness {

/// A file that is written beside its name and takes the name when it is whole: until then the old one is as
/// it was. What is no file (a device, a pipe) is written to directly. Throws FileNotReadable with a sentence
/// in `language` for what cannot be written.
class NewFile {
  public:
    NewFile(std::string path, catalogue::Language language);
    /// Takes away what was neither put in place nor kept.
    ~NewFile();
    NewFile(const NewFile&) = delete;
    NewFile& operator=(const NewFile&) = delete;

    /// Where it is written; another program may write there, too.
    const std::string& beside() const { return beside_; }
    void write(std::string_view text);
    /// Gives it its name.
    void put_in_place();
    /// Leaves it beside, under a name that says that it is not whole; returns the name, empty if there is
    /// none.
    std::string keep();

  private:
    void close_it();

    std::string path_;  ///< as it was given
    catalogue::Language language_;
    std::filesystem::path target_;  ///< behind links
    std::string beside_;
    int descriptor_ = -1;
    bool is_beside_ = false;
};

/// A file to which whole pieces of text are added; what cannot be written whole is taken away again.
class GrowingFile {
  public:
    GrowingFile(std::string path, catalogue::Language language);
    ~GrowingFile();
    GrowingFile(const GrowingFile&) = delete;
    GrowingFile& operator=(const GrowingFile&) = delete;

    /// Its first line without the end, empty for a new file; "-" of what cannot be read back (a pipe).
    const std::string& first_line() const { return first_line_; }
    bool is_empty() const { return is_empty_; }
    void add(std::string_view text);

  private:
    std::string path_;
    catalogue::Language language_;
    int descriptor_ = -1;
    std::string first_line_;
    bool is_empty_ = true;
};

/// The sentence for a file that cannot be written; `reason` is a number of <cerrno>, 0 for none.
std::string not_written(const std::string& path, int reason, catalogue::Language language);

/// True if both paths name one file, be it there already or not.
bool is_one_file(const std::string& path, const std::string& other);

}  // namespace pullsheet::harness
