// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/families/examples.hpp"

#include <string>

namespace pullsheet::catalogue::examples {
namespace {

Cell t(const char* text) { return std::string(text); }

}  // namespace

Table column(std::initializer_list<double> values) {
    Table table(values.size(), 1);
    std::size_t row = 0;
    for (const double value : values) table.at(row++, 0) = value;
    return table;
}

Table vehicle() {
    return {
        {t("mass"), 1500.0, t("kg")},
        {t("drive"), t("rear"), t("")},
        {t("tyre"), t("245/40 R18"), t("")},
        {t("drag area"), 0.66, t("m²")},
        {t("rolling resistance"), 0.013, t("")},
        {t("front share"), 0.51, t("")},
        {t("wheelbase"), 2.7, t("m")},
        {t("centre of gravity height"), 0.51, t("m")},
        {t("grip"), 1.05, t("")},
        {t("gear 1"), 3.8, t("")},
        {t("gear 2"), 2.25, t("")},
        {t("gear 3"), 1.52, t("")},
        {t("gear 4"), 1.15, t("")},
        {t("gear 5"), 0.92, t("")},
        {t("gear 6"), 0.76, t("")},
        {t("final drive"), 3.45, t("")},
        {t("shift time"), 0.25, t("s")},
        {t("driveline efficiency"), 0.87, t("")},
        {t("rev limit"), 6800.0, t("rpm")},
    };
}

Table weather() {
    return {
        {t("temperature"), 22.0, t("°C")},
        {t("pressure"), 98.0, t("kPa")},
        {t("humidity"), 0.55, t("")},
    };
}

Table engine_speeds() { return column({2000, 2500, 3000, 3500, 4000, 4500, 5000, 5500, 6000, 6500, 6800}); }

Table torques() { return column({220, 330, 410, 430, 430, 425, 415, 400, 378, 345, 320}); }

}  // namespace pullsheet::catalogue::examples
