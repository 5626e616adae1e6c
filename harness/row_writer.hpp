// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "harness/batch.hpp"
#include "harness/new_file.hpp"
#include "harness/streams.hpp"

namespace pullsheet::harness {

/// Writes rows to a file or to standard output, whole rows only.
class RowWriter {
  public:
    RowWriter(const BatchRequest& request, const Streams& streams);

    /// Opens the output and begins it with the titles, if the format has such.
    void open(const std::string& titles);
    /// The text that is written next.
    std::string& text() { return text_; }
    void end_row();
    void flush();
    /// Writes the rest; a new file takes its name.
    void close();
    /// The same for rows that are incomplete: an old file stays. Returns the name under which the rows are
    /// kept, empty if they are where they were wanted.
    std::string close_unfinished();
    /// Drops what has been written; an old file stays.
    void abandon();

  private:
    void begin_growing(const std::string& titles);
    void write_to_standard(const std::string& text);

    std::string path_;
    bool appends_;
    std::ostream& standard_;
    catalogue::Language language_;
    std::optional<NewFile> new_;
    std::optional<GrowingFile> growing_;
    std::string text_;
    bool is_open_ = false;
};

}  // namespace pullsheet::harness
