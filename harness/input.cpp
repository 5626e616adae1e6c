// SPDX-License-Identifier: Apache-2.0
#include "harness/input.hpp"

#include <fcntl.h>
#include <poll.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <system_error>

#include "core/catalogue/sentences.hpp"
#include "harness/interrupt.hpp"
#include "harness/streams.hpp"

namespace pullsheet::harness {
namespace {

constexpr std::size_t buffer_size = std::size_t{1} << 16;

// A stream that owns its buffer.
class FileStream : public std::istream {
  public:
    explicit FileStream(int descriptor) : std::istream(nullptr), buffer_(descriptor, true) { init(&buffer_); }

  private:
    FileBuffer buffer_;
};

}  // namespace

FileBuffer::FileBuffer(int descriptor, bool owned)
    : descriptor_(descriptor), owned_(owned), bytes_(buffer_size) {}

FileBuffer::~FileBuffer() {
    if (owned_) ::close(descriptor_);
}

std::uint64_t FileBuffer::consumed() const {
    return read_ - static_cast<std::uint64_t>(egptr() - gptr());
}

std::optional<std::uint64_t> FileBuffer::size() const {
    struct stat status {};
    if (::fstat(descriptor_, &status) != 0 || !S_ISREG(status.st_mode)) return std::nullopt;
    return static_cast<std::uint64_t>(status.st_size);
}

FileBuffer::int_type FileBuffer::underflow() {
    if (gptr() < egptr()) return traits_type::to_int_type(*gptr());
    if (before_waiting) {
        pollfd waiting{descriptor_, POLLIN, 0};
        if (::poll(&waiting, 1, 0) == 0) before_waiting();
    }
    while (!interrupted()) {
        const ssize_t count = ::read(descriptor_, bytes_.data(), bytes_.size());
        if (count > 0) {
            read_ += static_cast<std::uint64_t>(count);
            setg(bytes_.data(), bytes_.data(), bytes_.data() + count);
            return traits_type::to_int_type(*gptr());
        }
        if (count == 0) break;
        // The stream turns this into its bad bit.
        if (errno != EINTR) throw std::system_error(errno, std::generic_category());
    }
    return traits_type::eof();
}

std::unique_ptr<std::istream> open_file(const std::string& path, catalogue::Language language) {
    const auto refuse = [&](std::string_view reason) {
        return FileNotReadable(say(language, "{file} cannot be read: {reason}",
                                   {{"file", path}, {"reason", std::string(reason)}}));
    };
    std::error_code ignored;
    if (std::filesystem::is_directory(path, ignored)) throw refuse(translated(language, "it is a folder"));
    const int descriptor = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
    if (descriptor >= 0) return std::make_unique<FileStream>(descriptor);
    switch (errno) {
        case ENOENT: throw refuse(translated(language, "there is no such file"));
        case EACCES: throw refuse(translated(language, "reading it is not permitted"));
        default: throw refuse(std::strerror(errno));
    }
}

std::string shown_name(const std::string& path, catalogue::Language language) {
    return path == "-" ? std::string(translated(language, "standard input")) : path;
}

std::string said_at(const std::string& name, const std::string& line, const std::string& column,
                    std::string_view reason, catalogue::Language language) {
    return say(language, "{file}, line {line}, column {column}: {reason}",
               {{"file", name}, {"line", line}, {"column", column}, {"reason", std::string(reason)}});
}

std::string not_to_its_end(const std::string& name, catalogue::Language language) {
    return say(language, "{file} cannot be read to its end", {{"file", name}});
}

FileBuffer* file_behind(std::istream& in) {
    return dynamic_cast<FileBuffer*>(in.rdbuf());
}

std::size_t read_some(std::istream& in, char* to, std::size_t size) {
    if (in.peek() == std::istream::traits_type::eof()) return 0;
    return static_cast<std::size_t>(in.readsome(to, static_cast<std::streamsize>(size)));
}

bool is_same_file(const FileBuffer* file, int descriptor) {
    struct stat one {};
    struct stat other {};
    return file && ::fstat(file->descriptor(), &one) == 0 && ::fstat(descriptor, &other) == 0 &&
           S_ISREG(one.st_mode) && one.st_dev == other.st_dev && one.st_ino == other.st_ino;
}

std::optional<RowFormat> row_format_named(std::string_view name) {
    if (name == "csv") return RowFormat::csv;
    if (name == "tsv" || name == "tab") return RowFormat::tsv;
    if (name == "json") return RowFormat::json;
    if (name == "jsonl" || name == "ndjson") return RowFormat::json_lines;
    return std::nullopt;
}

std::optional<RowFormat> row_format_of_file(std::string_view path) {
    std::string extension = std::filesystem::path(path).extension().string();
    if (extension.empty()) return std::nullopt;
    std::transform(extension.begin(), extension.end(), extension.begin(),
                   [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
    return row_format_named(std::string_view(extension).substr(1));
}

}  // namespace pullsheet::harness
