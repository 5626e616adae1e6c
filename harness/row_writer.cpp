// SPDX-License-Identifier: Apache-2.0
#include "harness/row_writer.hpp"

#include <cerrno>
#include <cstring>
#include <ostream>
#include <utility>

#include "harness/output.hpp"

namespace pullsheet::harness {

RowWriter::RowWriter(const BatchRequest& request, const Streams& streams)
    : path_(request.output), appends_(request.append), standard_(streams.out), language_(streams.language) {}

void RowWriter::open(const std::string& titles) {
    if (path_.empty()) {
        text_ = titles;
    } else if (appends_) {
        begin_growing(titles);
    } else {
        new_.emplace(path_, language_);
        text_ = titles;
    }
    is_open_ = true;
}

void RowWriter::end_row() {
    constexpr std::size_t buffer_size = std::size_t{1} << 16;
    if (text_.size() > buffer_size) flush();
}

void RowWriter::flush() {
    if (!is_open_) return;
    is_open_ = false;  // unless all goes well
    const std::string text = std::exchange(text_, {});
    if (new_)
        new_->write(text);
    else if (growing_)
        growing_->add(text);
    else
        write_to_standard(text);
    is_open_ = true;
}

void RowWriter::close() {
    if (!is_open_) return;
    flush();
    is_open_ = false;
    if (new_) new_->put_in_place();
}

std::string RowWriter::close_unfinished() {
    if (!new_) {
        close();
        return {};
    }
    if (!is_open_) return {};
    flush();
    is_open_ = false;
    return new_->keep();
}

void RowWriter::abandon() {
    is_open_ = false;
    new_.reset();
}

void RowWriter::begin_growing(const std::string& titles) {
    growing_.emplace(path_, language_);
    if (growing_->is_empty()) {
        text_ = titles;
        return;
    }
    std::string known = growing_->first_line();
    if (known.ends_with('\r')) known.pop_back();
    if (known.starts_with("\xEF\xBB\xBF")) known.erase(0, 3);
    if (!titles.empty() && known + "\n" != titles)
        throw WrongUse(say(language_,
                           "{file} begins with other columns than those that would be added to it; write to "
                           "another file",
                           {{"file", path_}}));
}

void RowWriter::write_to_standard(const std::string& text) {
    errno = 0;
    standard_.write(text.data(), static_cast<std::streamsize>(text.size()));
    standard_.flush();
    if (standard_) return;
    std::string sentence = say(language_, "the output cannot be written", {});
    if (errno) sentence.append(": ").append(std::strerror(errno));
    throw FileNotReadable(sentence);
}

}  // namespace pullsheet::harness
