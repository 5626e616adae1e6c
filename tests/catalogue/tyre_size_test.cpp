// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/tyre_size.hpp"

#include <gtest/gtest.h>

#include "core/catalogue/reader.hpp"

namespace pullsheet::catalogue {
namespace {

TEST(TyreSize, IsReadInAnyUsualWriting) {
    for (const char* written : {"255/35 R19", "255/35R19", "255/35ZR19", "255/35 ZR 19", "255/35-19",
                                "255/35 - R - 19", "P255/35R19", " p 255 / 35 zr19 ", "255/35 RF 19",
                                "255/35 R19 96Y", "255/35 R19, summer", "\t255/35\tR19\n"}) {
        const TyreSize size = read_tyre_size(written, "size", Language::english);
        EXPECT_DOUBLE_EQ(size.width, 0.255) << written;
        EXPECT_DOUBLE_EQ(size.aspect, 0.35) << written;
        EXPECT_DOUBLE_EQ(size.rim, 19 * 0.0254) << written;
    }
    for (const char* written : {"385/65 R22.5", "385/65 R22,5 160K"})
        EXPECT_DOUBLE_EQ(read_tyre_size(written, "size", Language::english).rim, 22.5 * 0.0254) << written;
}

TEST(TyreSize, WhatIsNoneIsRefused) {
    for (const char* written : {"", " ", "255", "255/", "255/35", "255/35 R", "255/35 R1", "255/35 R190",
                                "25/35 R19", "2555/35 R19", "255/355 R19", "255/35 R19x", "255/35 R22.55",
                                "R19 255/35", "255-35 R19", "31x10.5 R15", "-255/35 R19"}) {
        try {
            read_tyre_size(written, "size", Language::english);
            ADD_FAILURE() << "taken: " << written;
        } catch (const Refused& refused) {
            EXPECT_NE(refused.sentence.find("255/35 R19"), std::string::npos) << refused.sentence;
        }
    }
}

}  // namespace
}  // namespace pullsheet::catalogue
