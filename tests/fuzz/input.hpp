// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <string>

namespace pullsheet::fuzz {

/// The bytes of one input, taken from the front. Past the end everything is 0, so that a short input is a
/// valid one.
class Input {
  public:
    Input(const std::uint8_t* data, std::size_t size) : data_(data), size_(size) {}

    bool at_end() const { return size_ == 0; }
    std::size_t size() const { return size_; }

    std::uint8_t byte() {
        if (size_ == 0) return 0;
        --size_;
        return *data_++;
    }
    std::uint16_t word() {
        const unsigned low = byte();
        return static_cast<std::uint16_t>(low | (unsigned{byte()} << 8));
    }
    /// A number below `count` (0 if `count` is 0).
    std::size_t below(std::size_t count) {
        if (count < 2) return 0;
        return (count <= 256 ? byte() : word()) % count;
    }
    /// −1…1
    double signed_share() { return (static_cast<double>(byte()) - 128.0) / 128.0; }
    /// 0…1
    double share() { return static_cast<double>(word()) / 65535.0; }
    /// Any eight bytes: NaN, infinite, denormal, huge.
    double any_double() {
        double value = 0.0;
        std::uint8_t bytes[sizeof value] = {};
        for (auto& one : bytes) one = byte();
        std::memcpy(&value, bytes, sizeof value);
        return value;
    }
    std::string text(std::size_t longest) {
        const std::size_t length = std::min({size_, longest, std::size_t{byte()}});
        return take(std::min(length, size_));
    }
    std::string rest() { return take(size_); }

  private:
    std::string take(std::size_t length) {
        std::string result(reinterpret_cast<const char*>(data_), length);
        data_ += length;
        size_ -= length;
        return result;
    }

    const std::uint8_t* data_;
    std::size_t size_;
};

}  // namespace pullsheet::fuzz
