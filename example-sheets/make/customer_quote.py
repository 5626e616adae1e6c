# SPDX-License-Identifier: Apache-2.0
"""customer-quote.fods: what each stage makes on each fuel, what limits it, and what it costs."""

import datetime

from paper import CAUTIONS, Book, about_page, checks_page, column_name, input_row

TITLE = "Customer quote"
STAGES = ["Stage 1", "Stage 2", "Stage 3", "Stage 4"]
FUELS = ["95 RON", "98 RON", "E20", "E85"]
STANDARDS = ["ISO 1585", "SAE J1349", "SAE J607", "DIN 70020", "ECE R85", "80/1269/EEC", "JIS D 1001"]

# What stands on the Inputs sheet, one value for each stage: label, name, values, unit, lowest, highest, format, note.
PARTS = [
    ("What is added", "stage_parts",
     ["Engine map, panel filter", "Front-mounted charge cooler, 76 mm exhaust",
      "Larger turbocharger, injectors, in-tank pump, clutch", "Ball-bearing turbocharger, injectors, second pump"],
     "", None, None, None, "Each stage holds the parts of the stages to its left."),
    ("Speed of peak power", "peak_speed", [6000, 6100, 6500, 6900], "rpm", 1000, 12000, "0", "Every limit is taken there."),
    ("Injectors: rated flow", "injector_flow", [480, 480, 850, 1250], "cc/min", 50, 5000, "0",
     "Each, held open; test fluid of 684 kg/m³ at the rated pressure."),
    ("Injectors: rated pressure", "injector_pressure", [3.0] * 4, "bar", 1, 10, "0.0", "Over the manifold."),
    ("Injectors: count", "injector_count", [4] * 4, "", 1, 16, "0", ""),
    ("Injectors: largest duty", "injector_duty", [0.85] * 4, "", 0.3, 1, "0 %", ""),
    ("Injectors: dead time", "injector_dead_time", [0.9, 0.9, 1.0, 1.0], "ms", 0, 5, "0.0", "At the voltage under load."),
    ("Fuel pressure over the manifold", "fuel_pressure", [4.0] * 4, "bar", 1, 10, "0.0",
     "The rail follows the manifold, so the pump has to lift the boost as well."),
    ("Pumps: count", "pump_count", [1, 1, 1, 2], "", 1, 4, "0", "The curve of one is below."),
    ("Pumps: margin over what burns", "pump_margin", [0.10] * 4, "", 0, 0.5, "0 %", ""),
    ("Compressor: largest corrected flow", "compressor_flow", [228, 238, 298, 385], "g/s", 10, 2000, "0",
     "25 °C and 100 kPa; from its map, inside the choke line."),
    ("Compressor: efficiency there", "compressor_efficiency", [0.68, 0.68, 0.72, 0.73], "", 0.3, 0.9, "0 %", ""),
    ("Charge cooler: effectiveness", "cooler_effectiveness", [0.68, 0.80, 0.80, 0.80], "", 0, 1, "0 %", ""),
    ("Charge cooler: pressure loss", "cooler_loss", [14, 9, 9, 9], "kPa", 0, 100, "0.0", "At the flow below."),
    ("Charge cooler: at a flow of", "cooler_flow", [220, 300, 300, 300], "g/s", 10, 2000, "0", ""),
    ("Largest charge temperature", "charge_temperature_allowed", [62] * 4, "°C", 20, 150, "0", "Above it the map takes spark away."),
    ("Intake pipe: inside diameter", "intake_pipe", [63, 63, 80, 80], "mm", 20, 300, "0", "0.6 m, loss coefficient 1.5, Mach 0.35 at most."),
    ("Charge pipe: inside diameter", "charge_pipe", [52, 57, 60, 63], "mm", 20, 300, "0", "1.4 m, loss coefficient 1.2, Mach 0.30 at most."),
    ("Clutch: largest torque", "clutch_torque", [440, 440, 560, 650], "N·m", 50, 3000, "0", "By its maker."),
    ("Gearbox: largest torque", "gearbox_torque", [480, 480, 620, 620], "N·m", 50, 3000, "0", "By its maker."),
    ("Price of the stage, fitted", "stage_price", [950, 2850, 6900, 5400], "", 0, 1e6, "#,##0", "On top of the stages before it."),
]
PUMP_PRESSURES = [3, 4, 5, 6, 7]
PUMP_FLOWS = [[172, 158, 142, 124, 104], [172, 158, 142, 124, 104], [230, 211, 189, 165, 137], [230, 211, 189, 165, 137]]

# One value for each fuel.
FUEL_DATA = [
    ("Ethanol by volume, measured", "fuel_ethanol", [0.05, 0.05, 0.20, 0.80], 0, 1, "0 %",
     "What is sold as E85 holds 51 to 83 % (ASTM D5798): measure the tank."),
    ("Lambda at full load", "fuel_lambda", [0.82, 0.84, 0.84, 0.86], 0.6, 1.2, "0.00", ""),
    ("Brake efficiency at full load", "fuel_efficiency", [0.292, 0.300, 0.306, 0.322], 0.1, 0.5, "0.0 %",
     "From a measured fuel flow of this engine."),
    ("Price per litre", "fuel_price", [1.72, 1.86, 1.79, 1.25], 0, 20, "0.00", ""),
]
BOOST = [
    [0.88, 1.02, 1.10, 1.20],
    [1.00, 1.20, 1.30, 1.40],
    [1.32, 1.57, 1.75, 1.95],
    [1.70, 2.05, 2.32, 2.60],
]
CHARGE_TEMPERATURE = [50, 42, 46, 50]
MEASURED = [("Stage 1", "98 RON", 219.0), ("Stage 2", "98 RON", 246.5)]

# The parts of a stage as BUILD.LIMITS reads them: name, kind, then value and unit in turn; a text that begins with @
# is the named row of the Inputs sheet.
PART_ROWS = [
    ("injectors", "injectors", ["@injector_flow", "cc/min", "@injector_count", "", "@injector_pressure", "bar", "@fuel_pressure",
                                "bar", "@injector_duty", "", "@injector_dead_time", "ms"]),
    *[("fuel pump", "pump", ["@@%d" % index, "L/h", "@%d" % index, "bar", "@pump_count", "", "@fuel_pressure", "bar",
                             "@pump_margin", ""]) for index in range(1, 6)],
    ("compressor", "compressor", ["@compressor_flow", "g/s", "@compressor_efficiency", ""]),
    ("charge cooler", "charge cooler", ["@cooler_effectiveness", "", "@cooler_loss", "kPa", "@cooler_flow", "g/s", None, None,
                                        "@charge_temperature_allowed", "°C"]),
    ("intake pipe", "pipe", ["@intake_pipe", "mm", "intake", "", 0.6, "m", 1.5, "", 0.35, ""]),
    ("charge pipe", "pipe", ["@charge_pipe", "mm", "charge", "", 1.4, "m", 1.2, "", 0.30, ""]),
    ("clutch", "clutch", ["@clutch_torque", "N·m"]),
    ("gearbox", "gearbox", ["@gearbox_torque", "N·m"]),
]
PART_NAMES = list(dict.fromkeys(name for name, _, _ in PART_ROWS))


def build(desktop, version):
    book = Book(desktop, TITLE, "Power by stage and fuel, the part that limits it, and what it costs")
    book.version = version
    about_page(
        book,
        [
            "For the person who answers for the numbers of a staged conversion: what each stage makes on each fuel, which part "
            "gives out first, what it costs, on what conditions the figures rest.",
            "Every stage holds the parts of the stages above it. For each stage and fuel the sheet computes the power that each "
            "part carries on the day (injectors, pump, compressor, charge cooler, pipes, clutch, gearbox) and the power of the "
            "boost measured as free of knock. The smallest is the figure quoted, and its name stands beside it.",
        ],
        [
            "Inputs: engine, parts, fuels, the boost you measured as safe on each fuel, weather of the measuring day, prices.",
            "Calculation: one row for each stage and fuel, and below it the parts tables and what each part carries. Nothing to type.",
            "Quote: the A4 page for the customer. Choose the units of power and torque in Inputs.",
            "Checks: expected values against computed ones. If one differs, do not hand the page out.",
            "Any cell that shows an error: =FUNCTION.WHY(cell) says why, in words.",
        ],
        "The shop, the car, its parts, prices and measurements in this file are invented. Replace them with your own.",
    )
    inputs(book)
    calculation(book)
    quote(book)
    checks(book)
    return book


def inputs(book):
    page = book.sheet("Inputs", [60, 33, 33, 33, 33, 19, 100])
    page.put("A1", "Inputs", "Page title")
    page.put("A2", "All data on this page are invented.", "Subtitle")

    page.section("A4:G4", "Shop, customer, quote")
    for row, label, value, name in ((5, "Shop", "Millrace Engine Works (invented)", "shop"),
                                    (6, "Car", "Two-litre four-cylinder rear-drive coupé (invented)", "car"),
                                    (7, "Customer", "R. Sample (invented)", "customer")):
        page.put("A%d" % row, label, "Label")
        page.merge("B%d:D%d" % (row, row))
        page.input("B%d" % row, value, name=name)
        page.style("B%d:D%d" % (row, row), "Input text")
    page.put("A8", "Date of the quote", "Label")
    page.input("B8", datetime.date(2026, 11, 20), name="quote_date")
    page.put("A9", "Currency", "Label")
    page.input("B9", "EUR", name="currency", choices=["EUR", "GBP", "USD", "CHF"])
    page.put("A10", "Power shown in", "Label")
    page.input("B10", "PS", name="power_unit", choices=["kW", "PS", "hp"],
               help="PS is the metric horsepower, hp the mechanical one.")
    page.put("G10", "1 PS = 735.49875 W, 1 hp = 745.69987 W: 1.4 % apart.", "Remark")
    page.put("A11", "Torque shown in", "Label")
    page.input("B11", "N·m", name="torque_unit", choices=["N·m", "lb-ft"])

    page.section("A13:G13", "Measuring day")
    day = [
        ("temperature", 22, "°C", "air_temperature", -30, 60, "0.0", "In front of the air filter."),
        ("sea level pressure", 1016, "hPa", "sea_level_pressure", 900, 1080, "0.0",
         "What a forecast gives; the barometer on the wall reads less."),
        ("elevation", 310, "m", "elevation", -400, 4000, "0", "Of the shop."),
        ("humidity", 0.55, None, "humidity", 0, 1, "0 %", "Relative."),
    ]
    for index, row in enumerate(day):
        input_row(page, 14 + index, *row)
    book.name("day", page, "A14:C17")
    page.put("A18", "Station pressure", "Label")
    page.put("B18", '=AIR.STATION.PRESSURE(sea_level_pressure&" hPa";elevation)', "Computed", "0.00", "station_pressure")
    page.put("C18", "kPa", "Unit")
    page.put("A19", "Standard that figures are quoted in", "Label")
    page.input("B19", "ISO 1585", name="standard_quoted", choices=STANDARDS)
    page.put("A20", "Correction factor of the day", "Label")
    page.put("B20", "=DYNO.FACTOR(standard_quoted;air_temperature;station_pressure;humidity)", "Computed", "0.0000", "day_factor")
    page.put("A21", "What is to be said about it", "Label")
    page.merge("B21:G21", '=IF(FUNCTION.WHY(B20)="";"Inside the limits of the standard.";FUNCTION.WHY(B20))', "Remark")

    page.section("A23:G23", "Engine")
    engine = [
        ("displacement", 1.998, "L", "displacement", 0.1, 12, "0.000", ""),
        ("cylinders", 4, None, "cylinders", 1, 16, "0", ""),
        ("volumetric efficiency", 0.93, None, "volumetric_efficiency", 0.3, 1.3, "0 %",
         "At the speed of peak power, referred to the density in the manifold."),
        ("Power of the car as delivered", 185, "kW", "power_delivered", 10, 1500, "0.0", "By its papers."),
    ]
    for index, row in enumerate(engine):
        input_row(page, 24 + index, *row)

    page.section("A29:G29", "Parts of each stage and where they end")
    page.heads("A30", ["", *STAGES], height=7)
    book.name("stages", page, "B30:E30")
    for index, (label, name, values, unit, low, high, code, note) in enumerate(PARTS):
        row = 31 + index
        page.put("A%d" % row, label, "Label")
        for stage, value in enumerate(values):
            page.input("%s%d" % (column_name(1 + stage), row), value, code, None, low, high)
        page.put("F%d" % row, unit, "Unit")
        page.put("G%d" % row, note, "Remark")
        book.name(name, page, "B%d:E%d" % (row, row))
    page.height("A31", 18)
    row = 31 + len(PARTS) + 1

    page.section("A%d:G%d" % (row, row), "Flow of one pump against pressure, at the voltage under load")
    page.heads("A%d" % (row + 1), ["pressure over the tank [bar]", *["%s [L/h]" % stage for stage in STAGES]], height=7)
    first = row + 2
    for index, pressure in enumerate(PUMP_PRESSURES):
        page.input("A%d" % (first + index), pressure, "0.0", None, 0, 15)
        for stage in range(4):
            page.input("%s%d" % (column_name(1 + stage), first + index), PUMP_FLOWS[stage][index], "0", None, 0, 3000)
    book.name("pump_pressures", page, "A%d:A%d" % (first, first + 4))
    book.name("pump_flows", page, "B%d:E%d" % (first, first + 4))
    page.put("G%d" % first, "From the pump's data sheet. The pressure is that of the rail: fuel pressure plus boost.", "Remark")
    row = first + 6

    page.section("A%d:G%d" % (row, row), "Fuels")
    page.heads("A%d" % (row + 1), ["", *FUELS], height=7)
    book.name("fuels", page, "B%d:E%d" % (row + 1, row + 1))
    for index, (label, name, values, low, high, code, note) in enumerate(FUEL_DATA):
        r = row + 2 + index
        page.put("A%d" % r, label, "Label")
        for fuel, value in enumerate(values):
            page.input("%s%d" % (column_name(1 + fuel), r), value, code, None, low, high)
        page.put("G%d" % r, note, "Remark")
        book.name(name, page, "B%d:E%d" % (r, r))
    row += 2 + len(FUEL_DATA) + 1

    page.section("A%d:G%d" % (row, row), "Boost that the shop measured as free of knock [bar over the surroundings]")
    page.heads("A%d" % (row + 1), ["", *FUELS, "charge [°C]"], height=7)
    for stage in range(4):
        r = row + 2 + stage
        page.put("A%d" % r, STAGES[stage], "Row head")
        for fuel in range(4):
            page.input("%s%d" % (column_name(1 + fuel), r), BOOST[stage][fuel], "0.00", None, 0, 4)
        page.input("F%d" % r, CHARGE_TEMPERATURE[stage], '0', None, 0, 150)
    book.name("boost_allowed", page, "B%d:E%d" % (row + 2, row + 5))
    book.name("charge_temperature", page, "F%d:F%d" % (row + 2, row + 5))
    page.put("G%d" % (row + 2), "On the rollers, with knock, exhaust temperature and lambda watched.", "Remark")
    page.put("G%d" % (row + 3), "Right: charge temperature measured in the manifold at that boost.", "Remark")
    row += 7

    page.section("A%d:G%d" % (row, row), "Measured on the rollers, as the bench showed it")
    page.heads("A%d" % (row + 1), ["stage", "fuel", "crank power [kW]", "standard shown", "restated [kW]"], height=7)
    first = row + 2
    for index in range(4):
        r = first + index
        stage, fuel, power = MEASURED[index] if index < len(MEASURED) else (None, None, None)
        page.input("A%d" % r, stage, choices="stages")
        page.input("B%d" % r, fuel, choices="fuels")
        page.input("C%d" % r, power, "0.0", None, 0, 3000)
        page.input("D%d" % r, "DIN 70020" if power else None, choices=STANDARDS)
        page.put("E%d" % r, '=IF(N(C{r})=0;"";DYNO.RESTATE(C{r};D{r};standard_quoted;air_temperature;station_pressure;humidity))'
                 .format(r=r), "Computed", "0.0")
    book.name("measured_stage", page, "A%d:A%d" % (first, first + 3))
    book.name("measured_fuel", page, "B%d:B%d" % (first, first + 3))
    book.name("measured_restated", page, "E%d:E%d" % (first, first + 3))
    page.put("G%d" % first, "Restated: the factor of the day is undone in the standard shown and applied in the one quoted.", "Remark")
    page.freeze(1, 2)
    page.print_page("A1:G%d" % (first + 3))


# Where things stand on the Calculation sheet.
FIRST = 6
LAST = FIRST + 15
CHART = LAST + 3
ENGINE = CHART + 7
ENGINE_ROWS = ["displacement", "cylinders", "volumetric efficiency", "lambda", "efficiency"]
ENGINE_HEIGHT = len(ENGINE_ROWS) + 2
TABLES = ENGINE + 2 + 4 * ENGINE_HEIGHT
TABLE_HEIGHT = len(PART_ROWS) + 3
LIMITS = TABLES + 1 + 4 * TABLE_HEIGHT
LIMIT_ROWS = len(PART_NAMES) + 2
LIMIT_HEIGHT = LIMIT_ROWS + 2
BEFORE = ["stage", "fuel", "ethanol", "lambda", "efficiency", "manifold pressure [kPa]", "air at that boost [g/s]"]
BOOST_COLUMN = len(BEFORE)
AFTER = ["power on the day [kW]", "what limits", "power quoted [kW]", "torque [N·m]", "fuel flow [kg/h]", "fuel flow [L/h]",
         "air flow [g/s]", "injector duty", "price so far", "measured, restated [kW]"]
AFTER_COLUMN = BOOST_COLUMN + 1 + len(PART_NAMES)
(POWER_DAY, LIMIT, POWER, TORQUE, FUEL_FLOW, VOLUME_FLOW, AIR_FLOW, DUTY, PRICE,
 MEASURED_POWER) = (column_name(AFTER_COLUMN + index) for index in range(len(AFTER)))
END = MEASURED_POWER
FIRST_LIMIT, LAST_LIMIT = column_name(BOOST_COLUMN), column_name(AFTER_COLUMN - 1)


def row_of(stage, fuel):
    return FIRST + 4 * stage + fuel


def limits_at(stage, fuel):
    """The first row of the BUILD.LIMITS result of a stage and fuel, and its range."""
    row = LIMITS + 2 + LIMIT_HEIGHT * (4 * stage + fuel)
    return row, "A%d:G%d" % (row, row + LIMIT_ROWS - 1)


def engine_block(fuel):
    first = ENGINE + 2 + ENGINE_HEIGHT * fuel
    return "$A$%d:$C$%d" % (first, first + len(ENGINE_ROWS) - 1)


def parts_table(stage):
    first = TABLES + 2 + TABLE_HEIGHT * stage
    return "$A$%d:$N$%d" % (first, first + len(PART_ROWS))


def calculation(book):
    page = book.sheet("Calculation", [52, 25] + [22] * (AFTER_COLUMN - 2) + [19, 30] + [19] * 8)
    page.put("A1", "Calculation", "Page title")
    page.put("A2", "One row for each stage and fuel. The smallest of the powers is the one quoted, by the factor of the day.", "Subtitle")
    page.section("A4:%s4" % END, "Stage by stage")
    page.put("%s4" % FIRST_LIMIT, "power that each carries on the day [kW]", "Section")
    page.heads("A5", [*BEFORE, "boost on this fuel", *PART_NAMES, *AFTER], height=14)
    for stage in range(4):
        for fuel in range(4):
            summary_row(page, stage, fuel)
    page.conditional("%s%d:%s%d" % (FIRST_LIMIT, FIRST, LAST_LIMIT, LAST),
                     "%s%d=$%s%d" % (FIRST_LIMIT, FIRST, POWER_DAY, FIRST), "Stands out")
    book.name("stage_fuel_rows", page, "A%d:%s%d" % (FIRST, END, LAST))

    page.section("A%d:%s%d" % (CHART - 1, END, CHART - 1), "Power quoted in the customer's unit, for the chart of the quote")
    page.heads("A%d" % CHART, ["", *["=INDEX(fuels;1;%d)" % (fuel + 1) for fuel in range(4)]])
    for stage in range(4):
        page.put("A%d" % (CHART + 1 + stage), "=INDEX(stages;1;%d)" % (stage + 1), "Row head")
        for fuel in range(4):
            page.put("%s%d" % (column_name(1 + fuel), CHART + 1 + stage),
                     '=UNIT.CONVERT(%s%d;"kW";power_unit)' % (POWER, row_of(stage, fuel)), "Computed", "0")
    book.name("power_in_unit", page, "B%d:E%d" % (CHART + 1, CHART + 4))

    page.section("A%d:%s%d" % (ENGINE, END, ENGINE), "The engine on each fuel, as BUILD.LIMITS reads it")
    for fuel in range(4):
        first = ENGINE + 2 + ENGINE_HEIGHT * fuel
        page.put("A%d" % (first - 1), "=INDEX(fuels;1;%d)" % (fuel + 1), "Row head")
        values = ["=displacement", "=cylinders", "=volumetric_efficiency", "=INDEX(fuel_lambda;1;%d)" % (fuel + 1),
                  "=INDEX(fuel_efficiency;1;%d)" % (fuel + 1)]
        for index, (label, value) in enumerate(zip(ENGINE_ROWS, values)):
            page.put("A%d" % (first + index), label, "Label")
            page.put("B%d" % (first + index), value, "Computed", "0.000")
            if label == "displacement":
                page.put("C%d" % (first + index), "L", "Unit")

    page.section("A%d:%s%d" % (TABLES, END, TABLES), "The parts of each stage, as BUILD.LIMITS reads them")
    for stage in range(4):
        first = TABLES + 2 + TABLE_HEIGHT * stage
        page.put("A%d" % (first - 1), "=INDEX(stages;1;%d)" % (stage + 1), "Row head")
        page.heads("A%d" % first, ["part", "kind"] + [head for index in range(6)
                                                     for head in ("value %d" % (index + 1), "unit")])
        for index, (name, kind, values) in enumerate(PART_ROWS):
            row = first + 1 + index
            page.put("A%d" % row, name, "Label")
            page.put("B%d" % row, kind, "Label")
            for offset, value in enumerate(values):
                if value in (None, ""):
                    continue
                address = "%s%d" % (column_name(2 + offset), row)
                if isinstance(value, str) and value.startswith("@@"):
                    page.put(address, "=INDEX(pump_flows;%s;%d)" % (value[2:], stage + 1), "Computed")
                elif isinstance(value, str) and value.startswith("@") and value[1:].isdigit():
                    page.put(address, "=INDEX(pump_pressures;%s)" % value[1:], "Computed")
                elif isinstance(value, str) and value.startswith("@"):
                    page.put(address, "=INDEX(%s;1;%d)" % (value[1:], stage + 1), "Computed")
                else:
                    page.put(address, value, "Unit" if isinstance(value, str) else "Computed")

    page.section("A%d:%s%d" % (LIMITS, END, LIMITS), "What each part carries, all others in place")
    for stage in range(4):
        for fuel in range(4):
            row, area = limits_at(stage, fuel)
            page.put("A%d" % (row - 1), "=A{r}&\", \"&B{r}".format(r=row_of(stage, fuel)), "Row head")
            page.array(area, "=BUILD.LIMITS(%s;%s;INDEX(fuel_ethanol;1;%d);day;;INDEX(peak_speed;1;%d))"
                       % (engine_block(fuel), parts_table(stage), fuel + 1, stage + 1), "Computed", "0.0")
            page.style("A%d:B%d" % (row + 1, row + LIMIT_ROWS - 1), "Label")
            page.style("G%d:G%d" % (row + 1, row + LIMIT_ROWS - 1), "Unit")
            page.style("E%d:F%d" % (row + 1, row + LIMIT_ROWS - 1), "Computed", "0.00")
            page.style("A%d:G%d" % (row, row), "Column head")
    last = limits_at(3, 3)[0] + LIMIT_ROWS - 1
    page.freeze(2, 5)
    page.print_page("A1:%s%d" % (END, last), landscape=True, pages_high=4)


def summary_row(page, stage, fuel):
    r = row_of(stage, fuel)
    s, f = stage + 1, fuel + 1
    result_row, _ = limits_at(stage, fuel)
    flow = ("INJECTOR.FLOW(INDEX(injector_flow;1;{s});INDEX(injector_pressure;1;{s});INDEX(fuel_pressure;1;{s});684;"
            "FUEL.DENSITY(C{r}))").format(s=s, r=r)
    cells = [
        ("=INDEX(stages;1;%d)" % s, None),
        ("=INDEX(fuels;1;%d)" % f, None),
        ("=INDEX(fuel_ethanol;1;%d)" % f, "0 %"),
        ("=INDEX(fuel_lambda;1;%d)" % f, "0.00"),
        ("=INDEX(fuel_efficiency;1;%d)" % f, "0.0 %"),
        ('=station_pressure+UNIT.CONVERT(INDEX(boost_allowed;%d;%d);"bar";"kPa")' % (s, f), "0.0"),
        # Water vapour takes its share of the manifold; only the dry air burns fuel.
        ("=ENGINE.AIR.FLOW(displacement;INDEX(peak_speed;1;%d);F%d*(1-AIR.VAPOUR.PRESSURE(air_temperature;humidity)/station_pressure);"
         "INDEX(charge_temperature;%d);volumetric_efficiency)" % (s, r, s), "0.0"),
        ("=ENGINE.POWER.FROM.AIR(G{r};C{r};D{r};E{r})".format(r=r), "0.0"),
        *[("=C%d" % (result_row + 1 + index), "0.0") for index in range(len(PART_NAMES))],
        ("=MIN(%s%d:%s%d)" % (FIRST_LIMIT, r, LAST_LIMIT, r), "0.0"),
        ("=INDEX($%s$5:$%s$5;MATCH(%s%d;%s%d:%s%d;0))" % (FIRST_LIMIT, LAST_LIMIT, POWER_DAY, r, FIRST_LIMIT, r, LAST_LIMIT, r), None),
        ("=%s%d*day_factor" % (POWER_DAY, r), "0.0"),
        ("=ENGINE.TORQUE(%s%d;INDEX(peak_speed;1;%d))" % (POWER, r, s), "0"),
        ("=FUEL.FLOW({p}{r};C{r};E{r})".format(p=POWER_DAY, r=r), "0.0"),
        ("=FUEL.VOLUME.FLOW({p}{r};C{r})".format(p=FUEL_FLOW, r=r), "0.0"),
        ("=ENGINE.AIR.FOR.POWER({p}{r};C{r};D{r};E{r})".format(p=POWER_DAY, r=r), "0.0"),
        ("=INJECTOR.DUTY({p}{r};INDEX(injector_count;1;{s});{flow};C{r};INDEX(peak_speed;1;{s});INDEX(injector_dead_time;1;{s}))"
         .format(p=FUEL_FLOW, r=r, s=s, flow=flow), "0 %"),
        ("=SUM(INDEX(stage_price;1;1):INDEX(stage_price;1;%d))" % s, "#,##0"),
        ("=SUMIFS(measured_restated;measured_stage;A{r};measured_fuel;B{r})".format(r=r), '0.0;;"–"'),
    ]
    for index, (formula, code) in enumerate(cells):
        page.put("%s%d" % (column_name(index), r), formula, "Computed" if code else "Computed text", code)


def quote(book):
    page = book.sheet("Quote", [29, 29, 29, 29, 29, 37])
    page.put("A1", "=shop", "Page title")
    page.height("A1", 10)
    page.put("A2", '="Quote for "&customer&", "&TEXT(quote_date;"YYYY-MM-DD")', "Subtitle")
    page.put("A3", "=car", "Subtitle")
    page.height("A4", 7)
    page.merge("A4:F4", "All data in this example are invented.", "Remark")

    page.section("A5:F5", '="Power at the crank ["&power_unit&", "&standard_quoted&"], and what limits it"')
    fuels = ["=INDEX(fuels;1;%d)" % (fuel + 1) for fuel in range(4)]
    page.heads("A6", ["", *fuels, "what the stage adds"], height=6)
    for stage in range(4):
        row = 7 + 2 * stage
        page.put("A%d" % row, "=INDEX(stages;1;%d)" % (stage + 1), "Row head")
        page.put("A%d" % (row + 1), "limited by", "Quiet row head")
        for fuel in range(4):
            column = column_name(1 + fuel)
            page.put("%s%d" % (column, row), "=INDEX(power_in_unit;%d;%d)" % (stage + 1, fuel + 1), "Headline", "0")
            page.put("%s%d" % (column, row + 1), "=$Calculation.%s%d" % (LIMIT, row_of(stage, fuel)), "Quiet")
        page.merge("F%d:F%d" % (row, row + 1), "=INDEX(stage_parts;1;%d)" % (stage + 1), "Computed note")
        page.height("A%d" % row, 7)
        page.height("A%d" % (row + 1), 5.5)
    book.name("quote_table", page, "A6:F14")

    page.section("A16:F16", '="Torque at the speed of peak power ["&torque_unit&"], price ["&currency&"]"')
    page.heads("A17", ["", *fuels, "price, all stages so far"], height=6)
    page.section("A23:F23", '="Price for each "&power_unit&" gained over the car as delivered ["&currency&"]"')
    page.heads("A24", ["", *fuels, "peak power at [rpm]"], height=6)
    for stage in range(4):
        torque_row, gain_row = 18 + stage, 25 + stage
        for row in (torque_row, gain_row):
            page.put("A%d" % row, "=INDEX(stages;1;%d)" % (stage + 1), "Row head")
        for fuel in range(4):
            column, r = column_name(1 + fuel), row_of(stage, fuel)
            page.put("%s%d" % (column, torque_row), '=UNIT.CONVERT($Calculation.%s%d;"N·m";torque_unit)' % (TORQUE, r),
                     "Computed text", "0")
            page.put("%s%d" % (column, gain_row),
                     '=IF($Calculation.{p}{r}>power_delivered;$Calculation.{c}{r}/UNIT.CONVERT($Calculation.{p}{r}-power_delivered;"kW";'
                     'power_unit);"no gain")'.format(p=POWER, c=PRICE, r=r), "Computed text", "0.0")
        page.put("F%d" % torque_row, "=$Calculation.%s%d" % (PRICE, row_of(stage, 0)), "Computed text", "#,##0")
        page.put("F%d" % gain_row, "=INDEX(peak_speed;1;%d)" % (stage + 1), "Computed text", "0")

    page.chart("power_chart", "A30", (181, 60),
               ["$Calculation.A%d:E%d" % (CHART, CHART + 4)], kind="column",
               y_title="crank power, in the unit above", x_title="stage")
    for row in range(30, 43):
        page.height("A%d" % row, 4.7)

    page.section("A43:F43", "Conditions")
    measured = "$Calculation.{c}{a}:{c}{b}".format(c=MEASURED_POWER, a=FIRST, b=LAST)
    quoted = "$Calculation.{c}{a}:{c}{b}".format(c=POWER, a=FIRST, b=LAST)
    page.merge("A44:F44", '="Air "&TEXT(air_temperature;"0.0")&" °C, station pressure "&TEXT(station_pressure;"0.0")&" kPa ("'
               '&TEXT(sea_level_pressure;"0")&" hPa at sea level, shop at "&TEXT(elevation;"0")&" m), humidity "&TEXT(humidity;"0 %")'
               '&". Figures restated to "&standard_quoted&", factor of the day "&TEXT(day_factor;"0.000")&". Car as delivered: "'
               '&TEXT(UNIT.CONVERT(power_delivered;"kW";power_unit);"0")&" "&power_unit&"."', "Body", 9)
    page.merge("A45:F45", '=IF(SUM({m})=0;"Nothing measured yet: every figure is computed from the parts.";'
               'COUNTIF({m};">0")&" of 16 figures measured on the rollers; computed and measured power differ by at most "'
               '&TEXT(SUMPRODUCT(MAX(IF({m}>0;ABS({q}/{m}-1);0)));"0.0 %")&". The other figures are computed from the parts and from '
               'the boost measured as free of knock.")'.format(m=measured, q=quoted), "Body", 9)
    page.merge("A46:F46", '="Ethanol by volume: "&' + '&", "&'.join(
        'INDEX(fuels;1;{n})&" "&TEXT(INDEX(fuel_ethanol;1;{n});"0 %")'.format(n=fuel + 1) for fuel in range(4)) +
        '&". What is sold as E85 changes with the season; have the tank measured."', "Body", 9)
    page.merge("A47:F47", '=IF(FUNCTION.WHY($Inputs.B20)="";"";FUNCTION.WHY($Inputs.B20))', "Caution", 5)
    page.section("A48:F48", "Cautions")
    for index, caution in enumerate(CAUTIONS):
        row = 49 + index
        page.merge("A%d:F%d" % (row, row), caution, "Caution", 4.4 * (1 + len(caution) // 125))
    page.print_page("A1:F%d" % (48 + len(CAUTIONS)))


# Where the operating point stands that the checks turn round.
BLOCK = 25
POINT = BLOCK + 7
POINT_ROWS = 22


def checks(book):
    rows_of = {name: "$Calculation.{c}{a}:{c}{b}".format(c=column, a=FIRST, b=LAST)
               for name, column in (("power", POWER_DAY), ("quoted", POWER), ("duty", DUTY), ("boost", FIRST_LIMIT))}
    below_all = ";".join("--({p}<=IF(ISNUMBER({x});{x};1E9))".format(
        p=rows_of["power"], x="$Calculation.{c}{a}:{c}{b}".format(c=column_name(BOOST_COLUMN + index), a=FIRST, b=LAST))
        for index in range(1 + len(PART_NAMES)))
    page = checks_page(
        book,
        [
            ("750 PS in kW", '=UNIT.CONVERT(750;"PS";"kW")', 551.6240625, 1e-12, "75 kgf·m/s, exact definition"),
            ("1 hp in kW", '=UNIT.CONVERT(1;"hp";"kW")', 0.745699871582, 1e-11, "550 ft·lbf/s, NIST SP 811"),
            ("350 N·m at 5500 rpm [kW]", "=ENGINE.POWER(350;5500)", 201.585529, 1e-8, "P = T·ω, computed apart"),
            ("Moist air, 101.325 kPa, 20 °C, 50 % [kg/m³]", "=AIR.DENSITY(20;101.325;0.5)", 1.1993139, 1e-6,
             "CIPM-2007: Picard, Davis, Gläser, Fujii, Metrologia 45 (2008) 149"),
            ("ISO 1585 factor at 25 °C, 99 kPa of dry air", '=DYNO.FACTOR("ISO 1585";25;99)', 1.0, 1e-3,
             "ISO 1585: the reference state has the factor 1"),
            ("Stoichiometry of ethanol", "=FUEL.STOICH.FORMULA(2;6;1)", 9.00, 1e-3,
             "J. B. Heywood, Internal Combustion Engine Fundamentals, 1988, table D.4"),
            ("Ethanol at 20 °C [kg/m³]", "=FUEL.DENSITY(1;20)", 789.24, 1e-5, "OIML R 22, alcoholometric tables"),
            ("Heating value of ethanol [BTU/lb]", '=FUEL.HEATING.VALUE(1;"BTU/lb")', 11585, 0.01, "U.S. Department of Energy, AFDC, fuel properties"),
            ("Injector rated at 3 bar, used at 4 bar", "=INJECTOR.FLOW(480;3;4)", 554.2562584, 1e-8, "orifice: √(4/3)"),
            ("The power of the day is the smallest, in all 16 rows", "=SUMPRODUCT(%s)" % below_all, 16, 1e-12,
             "identity; holds for any inputs"),
            ("No injector beyond its largest duty, in all 16 rows", "=SUMPRODUCT(--(%s<=MAX(injector_duty)+1E-6))" % rows_of["duty"],
             16, 1e-12, "identity: BUILD.LIMITS against INJECTOR.DUTY"),
            ("Injector-limited rows: their duty [share]", duty_of_injector_rows(rows_of["duty"]), "=MAX(injector_duty)", 1e-6,
             "identity: at its limit a set of injectors is at its largest duty"),
            ("Stage 1, 98 RON: manifold pressure of BUILD.POINT at the power by boost [kPa]", "=B%d" % (POINT + 9), "=$Calculation.F%d" % row_of(0, 1),
             1e-6, "identity: speed–density one way and the other, humidity counted"),
            ("219 kW restated from DIN 70020 and back, on the day [kW]",
             '=DYNO.RESTATE(DYNO.RESTATE(219;"DIN 70020";standard_quoted;air_temperature;station_pressure;humidity);standard_quoted;'
             '"DIN 70020";air_temperature;station_pressure;humidity)', 219, 1e-9, "identity: restated and restated back"),
        ],
    )
    page.section("A%d:F%d" % (BLOCK - 1, BLOCK - 1), "Stage 1 on 98 RON, turned round: the engine with the charge temperature measured, no parts")
    block = [("displacement", "=displacement", "L"), ("cylinders", "=cylinders", None),
             ("volumetric efficiency", "=volumetric_efficiency", None), ("lambda", "=INDEX(fuel_lambda;1;2)", None),
             ("efficiency", "=INDEX(fuel_efficiency;1;2)", None), ("charge temperature", "=INDEX(charge_temperature;1)", "°C")]
    for index, (label, value, unit) in enumerate(block):
        page.put("A%d" % (BLOCK + index), label, "Label")
        page.put("B%d" % (BLOCK + index), value, "Computed", "0.000")
        page.put("C%d" % (BLOCK + index), unit, "Unit")
    page.array("A%d:C%d" % (POINT, POINT + POINT_ROWS - 1),
               "=BUILD.POINT($A$%d:$C$%d;INDEX(fuel_ethanol;1;2);$Calculation.%s%d;INDEX(peak_speed;1;1);day)"
               % (BLOCK, BLOCK + len(block) - 1, FIRST_LIMIT, row_of(0, 1)), "Computed", "0.000")
    return page


def duty_of_injector_rows(duty):
    limit = "$Calculation.{c}{a}:{c}{b}".format(c=LIMIT, a=FIRST, b=LAST)
    return '=IF(COUNTIF({l};"injectors")=0;MAX(injector_duty);SUMPRODUCT(MAX(({l}="injectors")*{d})))'.format(l=limit, d=duty)
