// SPDX-License-Identifier: Apache-2.0
#include "harness/show.hpp"

#include <gtest/gtest.h>

#include "core/catalogue/block.hpp"
#include "core/catalogue/catalogue.hpp"
#include "tests/harness/run.hpp"

namespace pullsheet::harness::test {
namespace {

TEST(Show, SaysAllOfEveryFunction) {
    for (const auto& function : catalogue::functions()) {
        const std::string name(function.name.view());
        const Answer answer = pullsheet({"show", name});
        EXPECT_EQ(answer.code, done) << name;
        EXPECT_TRUE(answer.out.starts_with(name + "(")) << name;
        EXPECT_TRUE(contains(answer.out, std::string(function.method.view()))) << name;
        EXPECT_TRUE(contains(answer.out, std::string("=").append(name).append("(")))
            << name << ": the example";
        for (const auto key : function.sources.keys)
            EXPECT_TRUE(contains(answer.out, std::string(catalogue::citation(key)))) << name << ": " << key;
        for (const auto& parameter : function.parameters) {
            EXPECT_TRUE(contains(answer.out, std::string(parameter.meaning)))
                << name << ": " << parameter.name;
            EXPECT_TRUE(contains(answer.out, std::string("[").append(parameter.unit).append("]")) ||
                        parameter.unit.empty());
            for (const auto choice : parameter.choices)
                EXPECT_TRUE(contains(answer.out, std::string(choice))) << name;
            if (!parameter.schema) continue;
            for (const auto& label : parameter.schema->labels)
                EXPECT_TRUE(contains(answer.out, std::string(label.meaning))) << name << ": " << label.name;
        }
        for (const auto& column : function.result.columns)
            EXPECT_TRUE(contains(answer.out, "column " + std::string(column.name))) << name;
    }
}

TEST(Show, AnUnknownFunctionGetsTheNearestName) {
    const Answer answer = pullsheet({"show", "UNIT.CONVRT"});
    EXPECT_EQ(answer.code, wrong_use);
    EXPECT_TRUE(contains(answer.error, "UNIT.CONVERT"));
}

TEST(List, HasOneLineAFunction) {
    EXPECT_EQ(lines(pullsheet({"list"}).out), catalogue::functions().size());
    const Answer family = pullsheet({"list", "unit"});
    EXPECT_EQ(family.code, done);
    EXPECT_TRUE(family.out.starts_with("UNIT.CONVERT  ")) << family.out;
    EXPECT_EQ(lines(family.out), 1u);
    const Answer unknown = pullsheet({"list", "NOTHING"});
    EXPECT_EQ(unknown.code, wrong_use);
    EXPECT_TRUE(contains(unknown.error, "UNIT")) << unknown.error;
}

}  // namespace
}  // namespace pullsheet::harness::test
