// SPDX-License-Identifier: Apache-2.0
#include "harness/new_file.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <system_error>

#include "harness/streams.hpp"

namespace pullsheet::harness {
namespace {

namespace fs = std::filesystem;

// Where the name leads, also where there is no file yet.
fs::path behind_links(const std::string& path) {
    std::error_code error;
    fs::path target = path;
    for (int hops = 0; hops < 40 && fs::is_symlink(target, error); ++hops) {
        const fs::path next = fs::read_symlink(target, error);
        if (error) break;
        target = next.is_absolute() ? next : target.parent_path() / next;
    }
    return target;
}

// Writes all of it; false with errno if that fails.
bool write_all(int descriptor, std::string_view text) {
    while (!text.empty()) {
        const ssize_t count = ::write(descriptor, text.data(), text.size());
        if (count < 0 && errno == EINTR) continue;
        if (count < 0) return false;
        text.remove_prefix(static_cast<std::size_t>(count));
    }
    return true;
}

}  // namespace

std::string not_written(const std::string& path, int reason, catalogue::Language language) {
    if (reason == 0) return say(language, "{file} cannot be written", {{"file", path}});
    return say(language, "{file} cannot be written: {reason}",
               {{"file", path}, {"reason", std::strerror(reason)}});
}

bool is_one_file(const std::string& path, const std::string& other) {
    std::error_code error;
    if (fs::equivalent(path, other, error)) return true;
    const auto place = [&](const std::string& name) {
        return fs::weakly_canonical(fs::absolute(behind_links(name), error), error).lexically_normal();
    };
    return place(path) == place(other);
}

NewFile::NewFile(std::string path, catalogue::Language language)
    : path_(std::move(path)), language_(language), target_(behind_links(path_)) {
    const auto refuse = [&](int reason) { return FileNotReadable(not_written(path_, reason, language_)); };
    struct stat old {};
    const bool is_there = ::stat(target_.c_str(), &old) == 0;
    if (is_there && !S_ISREG(old.st_mode)) {
        beside_ = target_.string();
        descriptor_ = ::open(beside_.c_str(), O_WRONLY | O_CLOEXEC);
        if (descriptor_ < 0) throw refuse(errno);
        return;
    }
    // A file that is protected stays as it is.
    if (is_there && ::access(target_.c_str(), W_OK) != 0) throw refuse(errno);
    const std::string ending = ".partial";
    beside_ = target_.string() + ".XXXXXX" + ending;
    descriptor_ = ::mkstemps(beside_.data(), static_cast<int>(ending.size()));
    if (descriptor_ < 0) throw refuse(errno);
    is_beside_ = true;
    const mode_t mask = ::umask(0);
    ::umask(mask);
    ::fchmod(descriptor_, is_there ? old.st_mode & 07777 : 0666 & ~mask);
}

NewFile::~NewFile() {
    if (descriptor_ >= 0) ::close(descriptor_);
    if (is_beside_) ::unlink(beside_.c_str());
}

void NewFile::write(std::string_view text) {
    if (!write_all(descriptor_, text)) throw FileNotReadable(not_written(path_, errno, language_));
}

void NewFile::close_it() {
    if (descriptor_ < 0) return;
    // Only then is it known whether there was room for it.
    const bool is_good = !is_beside_ || ::fsync(descriptor_) == 0;
    int reason = is_good ? 0 : errno;
    if (::close(descriptor_) != 0 && reason == 0) reason = errno;
    descriptor_ = -1;
    if (reason != 0) throw FileNotReadable(not_written(path_, reason, language_));
}

void NewFile::put_in_place() {
    close_it();
    if (!is_beside_) return;
    if (::rename(beside_.c_str(), target_.c_str()) != 0)
        throw FileNotReadable(not_written(path_, errno, language_));
    is_beside_ = false;
}

std::string NewFile::keep() {
    close_it();
    if (!is_beside_) return {};
    is_beside_ = false;
    return beside_;
}

GrowingFile::GrowingFile(std::string path, catalogue::Language language)
    : path_(std::move(path)), language_(language) {
    const auto refuse = [&] { return FileNotReadable(not_written(path_, errno, language_)); };
    struct stat old {};
    const bool is_stream = ::stat(path_.c_str(), &old) == 0 && !S_ISREG(old.st_mode);
    descriptor_ =
        ::open(path_.c_str(), (is_stream ? O_WRONLY : O_RDWR | O_CREAT) | O_APPEND | O_CLOEXEC, 0666);
    if (descriptor_ < 0) throw refuse();
    char last = '\n';
    char letter = 0;
    bool in_first = true;
    char buffer[4096];
    for (ssize_t size; !is_stream && (size = ::read(descriptor_, buffer, sizeof buffer)) > 0;) {
        is_empty_ = false;
        last = buffer[size - 1];
        for (ssize_t i = 0; in_first && i < size; ++i) {
            letter = buffer[i];
            in_first = letter != '\n';
            if (in_first) first_line_ += letter;
        }
        if (in_first) continue;
        // The end only.
        const off_t end = ::lseek(descriptor_, 0, SEEK_END);
        if (end > 0 && ::pread(descriptor_, &last, 1, end - 1) != 1) throw refuse();
        break;
    }
    // A row that was cut off is closed, so that the next begins on a line of its own.
    if (last != '\n') add("\n");
}

GrowingFile::~GrowingFile() {
    if (descriptor_ >= 0) ::close(descriptor_);
}

void GrowingFile::add(std::string_view text) {
    const off_t before = ::lseek(descriptor_, 0, SEEK_END);
    if (write_all(descriptor_, text)) return;
    const int reason = errno;
    if (before >= 0 && ::ftruncate(descriptor_, before) != 0) {
        // Half a row stays; the reason is said all the same.
    }
    throw FileNotReadable(not_written(path_, reason, language_));
}

}  // namespace pullsheet::harness
