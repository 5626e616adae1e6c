// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <functional>
#include <istream>
#include <memory>
#include <optional>
#include <streambuf>
#include <string>
#include <string_view>
#include <vector>

#include "core/catalogue/sentences.hpp"

namespace pullsheet::harness {

/// Reads a file or a pipe as its bytes arrive; says how far it came.
class FileBuffer : public std::streambuf {
  public:
    /// Takes the descriptor over if `owned`.
    FileBuffer(int descriptor, bool owned);
    ~FileBuffer() override;
    FileBuffer(const FileBuffer&) = delete;
    FileBuffer& operator=(const FileBuffer&) = delete;

    /// Called before waiting for bytes that are not there yet.
    std::function<void()> before_waiting;
    /// The bytes that were handed out.
    std::uint64_t consumed() const;
    /// The bytes of the whole file; nothing for a pipe.
    std::optional<std::uint64_t> size() const;
    int descriptor() const { return descriptor_; }

  protected:
    int_type underflow() override;

  private:
    int descriptor_;
    bool owned_;
    std::vector<char> bytes_;
    std::uint64_t read_ = 0;
};

/// Opens a file for reading; its rdbuf() is a FileBuffer. Throws FileNotReadable.
std::unique_ptr<std::istream> open_file(const std::string& path, catalogue::Language language);

/// What a file is called in a sentence: its path, or "standard input" for "-".
std::string shown_name(const std::string& path, catalogue::Language language);

/// "{file}, line {line}, column {column}: {reason}". The column counts from 1.
std::string said_at(const std::string& name, const std::string& line, const std::string& column,
                    std::string_view reason, catalogue::Language language);

/// The sentence for a file whose reading failed on the way.
std::string not_to_its_end(const std::string& name, catalogue::Language language);

/// The FileBuffer of the stream, or nullptr.
FileBuffer* file_behind(std::istream& in);

/// Some bytes, at most `size`, as soon as there are any; 0 at the end and when reading fails (then in.bad()).
std::size_t read_some(std::istream& in, char* to, std::size_t size);

/// True if both name the same file.
bool is_same_file(const FileBuffer* file, int descriptor);

/// How rows are written in a file.
enum class RowFormat { csv, tsv, json, json_lines };

/// The format with that name ("csv", "tsv", "json", "jsonl"), or the one of a file's name ("a.ndjson").
std::optional<RowFormat> row_format_named(std::string_view name);
std::optional<RowFormat> row_format_of_file(std::string_view path);

/// How a file is to be read; what is not given is found from its name, else from its beginning.
struct InputFormat {
    std::optional<RowFormat> format;
    bool is_windows_1252 = false;  ///< the bytes are Windows-1252 (or its part Latin-1) and no UTF-8
};

}  // namespace pullsheet::harness
