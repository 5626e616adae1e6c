# SPDX-License-Identifier: Apache-2.0
"""customer-quote.fods: what each stage makes on each fuel, what limits it, and what it costs."""

import datetime

from paper import CAUTIONS, Book, about_page, checks_page, column_name

TITLE = "Customer quote"
STAGES = ["Stage 1", "Stage 2", "Stage 3", "Stage 4"]
STAGE_PARTS = [
    "Engine map, panel filter",
    "Front-mounted charge cooler, 76 mm exhaust",
    "Larger turbocharger, injectors, in-tank pump",
    "Ball-bearing turbocharger, injectors, second pump",
]
INJECTOR_FLOW = [430, 430, 760, 1150]
COMPRESSOR_FLOW = [205, 218, 298, 385]
TORQUE_LIMIT = [420, 420, 520, 620]
PRICE = [950, 2850, 6900, 5400]
PUMP_PRESSURES = [3, 4, 5, 6, 7]
PUMP_FLOWS = [[172, 158, 142, 124, 104], [172, 158, 142, 124, 104], [310, 288, 262, 233, 200], [310, 288, 262, 233, 200]]
PUMP_COUNT = [1, 1, 1, 2]
FUELS = ["95 RON", "98 RON", "E20", "E85"]
ETHANOL = [0.05, 0.05, 0.20, 0.80]
LAMBDA = [0.82, 0.84, 0.84, 0.86]
EFFICIENCY = [0.292, 0.300, 0.306, 0.322]
PRICE_PER_LITRE = [1.72, 1.86, 1.79, 1.25]
BOOST = [
    [0.90, 1.02, 1.15, 1.28],
    [1.00, 1.15, 1.32, 1.50],
    [1.18, 1.36, 1.58, 1.85],
    [1.30, 1.52, 1.82, 2.25],
]
MEASURED = [("Stage 1", "98 RON", 221.0), ("Stage 2", "98 RON", 238.5)]


def build(desktop, version):
    book = Book(desktop, TITLE, "Power by stage and fuel, the part that limits it, and what it costs")
    book.version = version
    about_page(
        book,
        [
            "For the person who answers for the numbers of a staged conversion: what each stage makes on each fuel, which part "
            "gives out first, what it costs, on what conditions the figures rest.",
            "Every stage holds the parts of the stages above it. For each stage and fuel the sheet computes what the injectors, "
            "the pump, the compressor and the boost allowed on that fuel carry; the smallest is the figure quoted, and its name "
            "stands beside it.",
        ],
        [
            "Inputs: engine, parts, fuels, the boost you measured as safe on each fuel, weather of the measuring day, prices.",
            "Calculation: one row for each stage and fuel. Nothing to type here.",
            "Quote: the A4 page for the customer. Choose the power unit in Inputs.",
            "Checks: expected values against computed ones. If one differs, do not hand the page out.",
        ],
        "The shop, the car, its parts, prices and measurements in this file are invented. Replace them with your own.",
    )
    inputs(book)
    calculation(book)
    quote(book)
    checks(book)
    return book


def inputs(book):
    page = book.sheet("Inputs", [58, 27, 27, 27, 27, 14, 70])
    page.put("A1", "Inputs", "Page title")
    page.put("A2", "All data on this page are invented.", "Subtitle")

    page.section("A4:G4", "Shop, customer, quote")
    rows = [
        ("Shop", "Millrace Engine Works (invented)", "shop"),
        ("Car", "Two-litre four-cylinder rear-drive coupé (invented)", "car"),
        ("Customer", "R. Sample (invented)", "customer"),
    ]
    for index, (label, value, name) in enumerate(rows):
        row = 5 + index
        page.put("A%d" % row, label, "Label")
        page.range("B%d:D%d" % (row, row)).merge(True)
        page.input("B%d" % row, value, name=name)
        page.style("B%d:D%d" % (row, row), "Input text")
    page.put("A8", "Date of the quote", "Label")
    page.input("B8", datetime.date(2026, 11, 20), name="quote_date")
    page.put("A9", "Currency", "Label")
    page.input("B9", "EUR", name="currency", choices=["EUR", "GBP", "USD", "CHF"])
    page.put("A10", "Power shown in", "Label")
    page.input("B10", "PS", name="power_unit", choices=["kW", "PS", "hp"], help="PS is the metric horsepower, hp the mechanical one.")
    page.put("G10", "1 PS = 735.49875 W, 1 hp = 745.69987 W: 1.4 % apart.", "Note")
    page.put("A11", "Torque shown in", "Label")
    page.input("B11", "N·m", name="torque_unit", choices=["N·m", "lb-ft"])

    page.section("A13:G13", "Measuring day")
    day = [
        ("Air temperature at the intake", 22, "°C", "air_temperature", -30, 60, "0.0", "Measured in front of the filter."),
        ("Sea-level pressure (forecast, QNH)", 1016, "hPa", "sea_level_pressure", 900, 1080, "0.0",
         "What a forecast gives. The barometer on the wall of the shop reads less: next rows."),
        ("Elevation of the shop", 310, "m", "elevation", -400, 4000, "0", ""),
        ("Relative humidity", 0.55, "", "humidity", 0, 1, "0 %", ""),
    ]
    for index, (label, value, unit, name, low, high, code, note) in enumerate(day):
        row = 14 + index
        page.put("A%d" % row, label, "Label")
        page.input("B%d" % row, value, code, name, low, high)
        page.put("C%d" % row, unit, "Unit")
        page.put("G%d" % row, note, "Note")
    page.put("A18", "Station pressure", "Label")
    page.put("B18", '=AIR.STATION.PRESSURE(sea_level_pressure&" hPa";elevation)', "Computed", "0.00", "station_pressure")
    page.put("C18", "kPa", "Unit")
    page.put("G18", "Computed; used everywhere below.", "Note")
    page.put("A19", "Standard that figures are quoted in", "Label")
    page.input("B19", "ISO 1585", name="standard_quoted",
               choices=["ISO 1585", "SAE J1349", "SAE J607", "DIN 70020", "ECE R85", "80/1269/EEC", "JIS D 1001"])
    page.put("A20", "Correction factor of the day", "Label")
    page.put("B20", "=DYNO.FACTOR(standard_quoted;air_temperature;station_pressure;humidity)", "Computed", "0.0000", "day_factor")
    page.put("A21", "What is to be said about it", "Label")
    page.merge("B21:G21", "=IF(FUNCTION.WHY(B20)=\"\";\"inside the limits of the standard\";FUNCTION.WHY(B20))", "Note")

    page.section("A23:G23", "Engine")
    engine = [
        ("Displacement", 1.998, "L", "displacement", 0.1, 12, "0.000", ""),
        ("Cylinders", 4, "", "cylinders", 1, 16, "0", ""),
        ("Speed of peak power", 6200, "rpm", "peak_speed", 1000, 12000, "0", ""),
        ("Volumetric efficiency at that speed", 0.93, "", "volumetric_efficiency", 0.3, 1.3, "0 %",
         "Referred to the density in the manifold."),
        ("Charge temperature in the manifold", 45, "°C", "charge_temperature", 0, 150, "0", "Measured at full load."),
        ("Power of the car as delivered", 185, "kW", "power_delivered", 10, 1500, "0.0", "By its papers."),
    ]
    for index, (label, value, unit, name, low, high, code, note) in enumerate(engine):
        row = 24 + index
        page.put("A%d" % row, label, "Label")
        page.input("B%d" % row, value, code, name, low, high)
        page.put("C%d" % row, unit, "Unit")
        page.put("G%d" % row, note, "Note")

    page.section("A31:G31", "Parts of each stage and where they end")
    page.heads("A32", ["", *STAGES], height=7)
    parts = [
        ("What is added", STAGE_PARTS, "", None, None, None, "Each stage holds the parts of the stages to its left."),
        ("Injectors: rated flow", INJECTOR_FLOW, "cc/min", 50, 5000, "0", "Each; n-heptane, 684 kg/m³, at the rated pressure."),
        ("Injectors: rated pressure", [3.0] * 4, "bar", 1, 10, "0.0", "Over the manifold."),
        ("Injectors: count", [4] * 4, "", 1, 16, "0", ""),
        ("Injectors: largest duty", [0.85] * 4, "", 0.3, 1, "0 %", ""),
        ("Fuel pressure over the manifold", [4.0, 4.0, 4.0, 4.0], "bar", 1, 10, "0.0", "The rail follows the manifold."),
        ("Pumps: count", PUMP_COUNT, "", 1, 4, "0", ""),
        ("Compressor: largest air flow", COMPRESSOR_FLOW, "g/s", 10, 2000, "0", "On the day, from its map inside the choke line."),
        ("Gearbox and clutch: largest torque", TORQUE_LIMIT, "N·m", 50, 3000, "0", "By their makers."),
        ("Price of the stage, fitted", PRICE, "", 0, 1e6, "#,##0", "On top of the stages before it."),
    ]
    for index, (label, values, unit, low, high, code, note) in enumerate(parts):
        row = 33 + index
        page.put("A%d" % row, label, "Label")
        for stage, value in enumerate(values):
            page.input("%s%d" % (column_name(1 + stage), row), value, code, None, low, high)
        page.put("F%d" % row, unit, "Unit")
        page.put("G%d" % row, note, "Note")
    page.height("A33", 14)
    for name, row in (("stage_parts", 33), ("injector_flow", 34), ("injector_pressure", 35), ("injector_count", 36),
                      ("injector_duty", 37), ("fuel_pressure", 38), ("pump_count", 39), ("compressor_flow", 40),
                      ("torque_limit", 41), ("stage_price", 42)):
        book.name(name, page, "B%d:E%d" % (row, row))
    book.name("stages", page, "B32:E32")

    page.section("A44:G44", "Flow of one pump against pressure, at the voltage under load")
    page.heads("A45", ["pressure over the tank [bar]", *["flow, %s [L/h]" % stage for stage in STAGES]], height=9)
    for index, pressure in enumerate(PUMP_PRESSURES):
        row = 46 + index
        page.input("A%d" % row, pressure, "0.0", None, 0, 15)
        for stage in range(4):
            page.input("%s%d" % (column_name(1 + stage), row), PUMP_FLOWS[stage][index], "0", None, 0, 3000)
    book.name("pump_pressures", page, "A46:A50")
    book.name("pump_flows", page, "B46:E50")
    page.put("G46", "From the pump's data sheet. The pressure is that of the rail: fuel pressure plus boost.", "Note")

    page.section("A52:G52", "Fuels")
    page.heads("A53", ["", *FUELS], height=7)
    fuels = [
        ("Ethanol by volume, measured", ETHANOL, "", 0, 1, "0 %", "Pumps sell 51 to 83 % as E85: measure the tank."),
        ("Lambda at full load", LAMBDA, "", 0.6, 1.2, "0.00", ""),
        ("Brake efficiency at full load", EFFICIENCY, "", 0.1, 0.5, "0.0 %", "From a measured fuel flow of this engine."),
        ("Price per litre", PRICE_PER_LITRE, "", 0, 20, "0.00", ""),
    ]
    for index, (label, values, unit, low, high, code, note) in enumerate(fuels):
        row = 54 + index
        page.put("A%d" % row, label, "Label")
        for fuel, value in enumerate(values):
            page.input("%s%d" % (column_name(1 + fuel), row), value, code, None, low, high)
        page.put("G%d" % row, note, "Note")
    for name, row in (("fuels", 53), ("fuel_ethanol", 54), ("fuel_lambda", 55), ("fuel_efficiency", 56), ("fuel_price", 57)):
        book.name(name, page, "B%d:E%d" % (row, row))

    page.section("A59:G59", "Boost that the shop measured as free of knock [bar over the surroundings]")
    page.heads("A60", ["", *FUELS], height=7)
    for stage in range(4):
        row = 61 + stage
        page.put("A%d" % row, STAGES[stage], "Row head")
        for fuel in range(4):
            page.input("%s%d" % (column_name(1 + fuel), row), BOOST[stage][fuel], "0.00", None, 0, 4)
    book.name("boost_allowed", page, "B61:E64")
    page.put("G61", "On the rollers, with knock detection, exhaust temperature and lambda watched.", "Note")

    page.section("A66:G66", "Measured on the rollers, as the bench showed it")
    page.heads("A67", ["stage", "fuel", "crank power [kW]", "standard shown", "restated [kW]"], height=9)
    for index in range(4):
        row = 68 + index
        stage, fuel, power = MEASURED[index] if index < len(MEASURED) else ("", "", None)
        page.input("A%d" % row, stage, choices="stages")
        page.input("B%d" % row, fuel, choices="fuels")
        page.input("C%d" % row, power, "0.0", None, 0, 3000)
        page.input("D%d" % row, "DIN 70020" if power else "",
                   choices=["ISO 1585", "SAE J1349", "SAE J607", "DIN 70020", "ECE R85", "80/1269/EEC", "JIS D 1001"])
        page.put("E%d" % row, '=IF(N(C%d)=0;"";DYNO.RESTATE(C%d;D%d;standard_quoted;air_temperature;station_pressure;humidity))'
                 % (row, row, row), "Computed", "0.0")
    book.name("measured", page, "A68:E71")
    page.put("G68", "Restated: the factor of the day is undone in the standard shown and applied in the one quoted.", "Note")
    page.freeze(1, 3)
    page.print_page("A1:G71", pages_high=2)


HEADS = ["stage", "fuel", "ethanol", "lambda", "efficiency", "manifold pressure [kPa]", "air at that boost [g/s]",
         "power by boost [kW]", "power by compressor [kW]", "power by injectors [kW]", "power by pump [kW]",
         "power by gearbox [kW]", "power quoted [kW]", "what limits", "torque [N·m]", "fuel flow [kg/h]", "air flow [g/s]",
         "injector duty", "price so far", "measured [kW]"]


def calculation(book):
    page = book.sheet("Calculation", [18, 18, 15, 15, 17, 20, 20] + [20] * 6 + [26, 18, 18, 18, 18, 18, 20])
    page.put("A1", "Calculation", "Page title")
    page.put("A2", "One row for each stage and fuel. The smallest of the five powers is the one quoted.", "Subtitle")
    page.heads("A4", HEADS, height=14)
    for stage in range(4):
        for fuel in range(4):
            r = 5 + 4 * stage + fuel
            s, f = stage + 1, fuel + 1
            cells = [
                "=INDEX(stages;1;%d)" % s,
                "=INDEX(fuels;1;%d)" % f,
                "=INDEX(fuel_ethanol;1;%d)" % f,
                "=INDEX(fuel_lambda;1;%d)" % f,
                "=INDEX(fuel_efficiency;1;%d)" % f,
                '=station_pressure+UNIT.CONVERT(INDEX(boost_allowed;%d;%d);"bar";"kPa")' % (s, f),
                "=ENGINE.AIR.FLOW(displacement;peak_speed;F{r};charge_temperature;volumetric_efficiency)",
                "=ENGINE.POWER.FROM.AIR(G{r};C{r};D{r};E{r})",
                "=ENGINE.POWER.FROM.AIR(INDEX(compressor_flow;1;%d);C{r};D{r};E{r})" % s,
                "=INJECTOR.POWER(INJECTOR.FLOW(INDEX(injector_flow;1;%d);INDEX(injector_pressure;1;%d);"
                "INDEX(fuel_pressure;1;%d);684;FUEL.DENSITY(C{r};20));INDEX(injector_count;1;%d);INDEX(injector_duty;1;%d);C{r};E{r})"
                % (s, s, s, s, s),
                "=PUMP.POWER(pump_pressures;INDEX(pump_flows;0;%d);INDEX(fuel_pressure;1;%d)+INDEX(boost_allowed;%d;%d);C{r};E{r};"
                "INDEX(pump_count;1;%d))" % (s, s, s, f, s),
                "=ENGINE.POWER(INDEX(torque_limit;1;%d);peak_speed)" % s,
                "=MIN(H{r}:L{r})",
                '=INDEX({{"boost on this fuel";"compressor";"injectors";"pump";"gearbox"}};MATCH(M{r};H{r}:L{r};0))',
                "=ENGINE.TORQUE(M{r};peak_speed)",
                "=FUEL.FLOW(M{r};C{r};E{r})",
                "=ENGINE.AIR.FOR.POWER(M{r};C{r};D{r};E{r})",
                "=INJECTOR.DUTY(P{r};INDEX(injector_count;1;%d);INJECTOR.FLOW(INDEX(injector_flow;1;%d);INDEX(injector_pressure;1;%d);"
                "INDEX(fuel_pressure;1;%d);684;FUEL.DENSITY(C{r};20));C{r})" % (s, s, s, s),
                "=SUM(INDEX(stage_price;1;1):INDEX(stage_price;1;%d))" % s,
                "=SUMIFS($Inputs.$E$68:$E$71;$Inputs.$A$68:$A$71;A{r};$Inputs.$B$68:$B$71;B{r})",
            ]
            formats = [None, None, "0 %", "0.00", "0.0 %", "0.0", "0.0"] + ["0.0"] * 6 + [None, "0", "0.0", "0.0", "0 %",
                                                                                      "#,##0", "0.0;;"]
            for index, (formula, code) in enumerate(zip(cells, formats)):
                page.put("%s%d" % (column_name(index), r), formula.format(r=r),
                         "Computed text" if index in (0, 1, 13) else "Computed", code)
    page.conditional("H5:L20", "H5=$M5", "Stands out")
    book.name("stage_fuel_rows", page, "A5:T20")
    page.put("A22", "Injector flow: rated on n-heptane, turned to the pressure in use and to this fuel's density at 20 °C.", "Note")
    page.freeze(2, 4)
    page.print_page("A1:T22", landscape=True)


def quote(book):
    page = book.sheet("Quote", [30, 29, 29, 29, 29, 34])
    page.put("A1", "=shop", "Page title")
    page.height("A1", 11)
    page.put("A2", '="Quote for "&customer&", "&TEXT(quote_date;"YYYY-MM-DD")', "Subtitle")
    page.put("A3", "=car", "Subtitle")
    page.put("A4", "All data in this example are invented.", "Note")

    page.section("A6:F6", '="Power at the crank ["&power_unit&"], and what limits it"')
    page.heads("A7", ["", *["=INDEX(fuels;1;%d)" % (f + 1) for f in range(4)], "what the stage adds"], height=7)
    row = 8
    for stage in range(4):
        page.put("A%d" % row, "=INDEX(stages;1;%d)" % (stage + 1), "Row head")
        page.put("A%d" % (row + 1), "limited by", "Note")
        for fuel in range(4):
            column = column_name(1 + fuel)
            source = 5 + 4 * stage + fuel
            page.put("%s%d" % (column, row), '=UNIT.CONVERT($Calculation.M%d;"kW";power_unit)' % source, "Headline", "0")
            page.put("%s%d" % (column, row + 1), "=$Calculation.N%d" % source, "Note")
            page.range("%s%d" % (column, row + 1)).HoriJustify = 2 and __import__("uno").Enum(
                "com.sun.star.table.CellHoriJustify", "CENTER")
        page.merge("F%d:F%d" % (row, row + 1), "=INDEX(stage_parts;1;%d)" % (stage + 1), "Text")
        page.height("A%d" % row, 7.5)
        page.height("A%d" % (row + 1), 5.5)
        row += 2
    book.name("quote_table", page, "A7:F15")

    page.section("A17:F17", '="Torque at "&peak_speed&" rpm ["&torque_unit&"], price ["&currency&"]"')
    page.heads("A18", ["", *["=INDEX(fuels;1;%d)" % (f + 1) for f in range(4)], "price, all stages so far"], height=7)
    for stage in range(4):
        r = 19 + stage
        page.put("A%d" % r, "=INDEX(stages;1;%d)" % (stage + 1), "Row head")
        for fuel in range(4):
            source = 5 + 4 * stage + fuel
            page.put("%s%d" % (column_name(1 + fuel), r), '=UNIT.CONVERT($Calculation.O%d;"N·m";torque_unit)' % source,
                     "Computed text", "0")
        page.put("F%d" % r, "=$Calculation.S%d" % (5 + 4 * stage), "Computed text", "#,##0")
    page.section("A24:F24", '="Price for each "&power_unit&" gained over the car as delivered ["&currency&"]"')
    for stage in range(4):
        r = 25 + stage
        page.put("A%d" % r, "=INDEX(stages;1;%d)" % (stage + 1), "Row head")
        for fuel in range(4):
            source = 5 + 4 * stage + fuel
            page.put("%s%d" % (column_name(1 + fuel), r),
                     '=IF($Calculation.M{s}>power_delivered;$Calculation.S{s}/UNIT.CONVERT($Calculation.M{s}-power_delivered;"kW";'
                     'power_unit);"no gain")'.format(s=source), "Computed text", "0.0")
    page.put("F25", '="Delivered: "&TEXT(UNIT.CONVERT(power_delivered;"kW";power_unit);"0")&" "&power_unit', "Note")

    page.chart("power_chart", "A30", (180, 62), ["$Quote.A46:E50"[7:]], kind="column", y_title=None, columns_head=True)

    page.section("A52:F52", "Conditions")
    page.merge("A53:F53", '="Measured and computed at "&TEXT(air_temperature;"0.0")&" °C, station pressure "&TEXT(station_pressure;"0.0")'
               '&" kPa ("&TEXT(sea_level_pressure;"0")&" hPa at sea level, shop at "&TEXT(elevation;"0")&" m), humidity "&TEXT(humidity;"0 %")'
               '&". Figures quoted in "&standard_quoted&", factor "&TEXT(day_factor;"0.000")&"."', "Text", 9)
    page.merge("A54:F54", "=\"Measured on the rollers: \"&IF(SUM($Calculation.T5:T20)=0;\"nothing yet; every figure is computed from the parts.\";"
               "TEXT(COUNTIF($Calculation.T5:T20;\">0\");\"0\")&\" of 16 figures; the largest deviation of the computed from the measured power is \"&"
               "TEXT(SUMPRODUCT(MAX(IF($Calculation.T5:T20>0;ABS($Calculation.M5:M20/$Calculation.T5:T20-1);0)));\"0.0 %\")&\".\")", "Text", 9)
    page.section("A56:F56", "Cautions")
    for index, caution in enumerate(CAUTIONS):
        r = 57 + index
        page.merge("A%d:F%d" % (r, r), caution, "Caution", 4.6 * (1 + len(caution) // 125))

    # The chart's own numbers, in the unit of the page, below the print area's text.
    page.heads("A46", ["", *["=INDEX(fuels;1;%d)" % (f + 1) for f in range(4)]], style="Note")
    for stage in range(4):
        r = 47 + stage
        page.put("A%d" % r, "=INDEX(stages;1;%d)" % (stage + 1), "Note")
        for fuel in range(4):
            page.put("%s%d" % (column_name(1 + fuel), r), "=%s%d" % (column_name(1 + fuel), 8 + 2 * stage), "Note", "0")
    page.print_page("A1:F62")


def checks(book):
    checks_page(
        book,
        [
            ("750 PS in kW", '=UNIT.CONVERT(750;"PS";"kW")', 551.6240625, 1e-12, "75 kgf·m/s, exact definition"),
            ("350 N·m at 5500 rpm [kW]", "=ENGINE.POWER(350;5500)", 201.585529, 1e-8, "P = T·ω"),
            ("Moist air, 101.325 kPa, 20 °C, 50 % [kg/m³]", "=AIR.DENSITY(20;101.325;0.5)", 1.1993139, 1e-7, "CIPM-2007, Picard et al. 2008"),
            ("ISO 1585 factor at its reference state", '=DYNO.FACTOR("ISO 1585";25;100;"31.55 %")', 1.0, 1e-4, "ISO 1585: 99 kPa dry, 298 K"),
            ("Stoichiometry of ethanol", "=FUEL.STOICH.FORMULA(2;6;1)", 9.0058, 1e-5, "element balance with dry air of ISO 2533"),
            ("Ethanol at 20 °C [kg/m³]", "=FUEL.DENSITY(1;20)", 789.239, 1e-6, "OIML R 22"),
            ("440 cc/min n-heptane at 745 kg/m³", "=INJECTOR.FLOW(440;3;3;684;745)", 421.6019, 1e-6, "orifice, √ρ"),
            ("Smallest power is the one quoted, all 16 rows",
             "=SUMPRODUCT(--($Calculation.M5:M20<=$Calculation.H5:H20);--($Calculation.M5:M20<=$Calculation.J5:J20);"
             "--($Calculation.M5:M20<=$Calculation.K5:K20))", 16.0, 1e-12, "identity; holds for any inputs"),
            ("Air for the power quoted gives the power back [kW]",
             "=ENGINE.POWER.FROM.AIR(ENGINE.AIR.FOR.POWER(300;0.2;0.84;0.306);0.2;0.84;0.306)", 300.0, 1e-9, "identity"),
        ],
    )
