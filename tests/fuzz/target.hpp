// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <cstdint>

/// What every target defines: takes one input and breaks off if it finds a promise broken.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);
