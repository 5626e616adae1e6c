# SPDX-License-Identifier: Apache-2.0
"""customer-quote.fods: what each stage makes on each fuel, what limits it, and what it costs."""

import datetime

from paper import CAUTIONS, Book, about_page, checks_page, column_name, input_row

TITLE = "Customer quote"
STAGES = ["Stage 1", "Stage 2", "Stage 3", "Stage 4"]
FUELS = ["95 RON", "98 RON", "E20", "E85"]
PLAIN_STATEMENT = ("A model of a cycle is no substitute for knock detection, exhaust temperature and lambda measurement on the rollers: "
                   "it plans and cross-checks, it does not calibrate an engine.")
STANDARDS = ["ISO 1585", "SAE J1349", "SAE J607", "DIN 70020", "ECE R85", "80/1269/EEC", "JIS D 1001"]

# What stands on the Inputs sheet, one value for each stage: label, name, values, unit, lowest, highest, format, note.
PARTS = [
    ("What is added", "stage_parts",
     ["Engine map, panel filter", "Front-mounted charge cooler, 76 mm exhaust, larger compressor wheel",
      "Larger turbocharger, injectors, in-tank pump, clutch", "Forged pistons and rods, ball-bearing turbocharger, injectors, second pump"],
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
    ("Compressor: largest corrected flow", "compressor_flow", [224, 250, 305, 385], "g/s", 10, 2000, "0",
     "25 °C and 100 kPa; from its map, inside the choke line."),
    ("Compressor: efficiency there", "compressor_efficiency", [0.68, 0.68, 0.72, 0.73], "", 0.3, 0.9, "0 %", ""),
    ("Charge cooler: effectiveness", "cooler_effectiveness", [0.68, 0.80, 0.80, 0.80], "", 0, 1, "0 %", ""),
    ("Charge cooler: pressure loss", "cooler_loss", [14, 9, 9, 9], "kPa", 0, 100, "0.0", "At the flow below."),
    ("Charge cooler: at a flow of", "cooler_flow", [220, 300, 300, 300], "g/s", 10, 2000, "0", ""),
    ("Largest charge temperature", "charge_temperature_allowed", [65] * 4, "°C", 20, 150, "0", "Above it the map takes spark away."),
    ("Intake pipe: inside diameter", "intake_pipe", [63, 63, 80, 80], "mm", 20, 300, "0", "0.6 m, loss coefficient 1.5, Mach 0.35 at most."),
    ("Charge pipe: inside diameter", "charge_pipe", [52, 57, 60, 63], "mm", 20, 300, "0", "1.4 m, loss coefficient 1.2, Mach 0.30 at most."),
    ("Clutch: largest torque", "clutch_torque", [440, 440, 560, 650], "N·m", 50, 3000, "0", "By its maker."),
    ("Gearbox: largest torque", "gearbox_torque", [480, 480, 620, 620], "N·m", 50, 3000, "0", "By its maker."),
    ("Engine: largest peak pressure", "peak_pressure_allowed", [100, 100, 100, 130], "bar", 20, 400, "0",
     "In the cylinder, by who built the engine. Empty: 1.2 times the highest measured one is assumed, and the page says so."),
    ("Engine: compression ratio", "stage_compression", [9.6, 9.6, 9.6, 8.9], "", 4, 25, "0.0", "Geometric, with the pistons of that stage."),
    ("Price of the stage, fitted", "stage_price", [950, 3400, 6900, 8400], "", 0, 1e6, "#,##0", "On top of the stages before it."),
]
PUMP_PRESSURES = [3, 4, 5, 6, 7]
PUMP_FLOWS = [[172, 158, 142, 124, 104], [172, 158, 142, 124, 104], [230, 211, 189, 165, 137], [230, 211, 189, 165, 137]]

# One value for each fuel.
FUEL_DATA = [
    ("Ethanol by volume, measured", "fuel_ethanol", [0.05, 0.05, 0.20, 0.80], 0, 1, "0 %",
     "What is sold as E85 holds 51 to 83 % (ASTM D5798): measure the tank."),
    ("Lambda at full load", "fuel_lambda", [0.82, 0.84, 0.84, 0.86], 0.6, 1.2, "0.00", ""),
    ("RON of the gasoline part", "fuel_ron", [93, 96, 95, 93], 60, 130, "0.0",
     "Research octane number before ethanol is added; AKI on a US pump is not RON."),
    ("MON of the gasoline part", "fuel_mon", [83.5, 86, 85, 83.5], 60, 130, "0.0", "Motor octane number."),
    ("Brake efficiency at full load", "fuel_efficiency", [0.292, 0.300, 0.306, 0.322], 0.1, 0.5, "0.0 %",
     "From a measured fuel flow; for the cross-check on Calculation, the prediction computes its own."),
    ("Price per litre", "fuel_price", [1.72, 1.86, 1.79, 1.25], 0, 20, "0.00", ""),
]
# The engine block of the prediction: label, value, unit, name, lowest, highest, format, note.
ENGINE_DATA = [
    ("bore", 86, "mm", "bore", 20, 300, "0.0", ""),
    ("stroke", 86, "mm", "stroke", 20, 300, "0.0", ""),
    ("rod length", 146, "mm", "rod_length", 30, 600, "0.0", "Centre to centre."),
    ("cylinders", 4, None, "cylinders", 1, 16, "0", ""),
    ("compression ratio", 9.6, None, "compression_ratio", 4, 25, "0.0", "Geometric."),
    ("volumetric efficiency", 0.93, None, "volumetric_efficiency", 0.3, 1.3, "0 %",
     "At the speed of peak power, referred to the density in the manifold."),
    ("redline", 7000, "rpm", "redline", 1000, 20000, "0", "Highest engine speed; the prediction ends there."),
    ("full boost from", 2900, "rpm", "full_boost_from", 500, 20000, "0", "Engine speed from which the full torque is there."),
]
ENGINE_DATA_FIRST = 24
PARTS_FIRST = ENGINE_DATA_FIRST + len(ENGINE_DATA) + 5
# The car, for the times: label, value, unit, format or choices, note.
VEHICLE = [
    ("mass", 1420, "kg", "0", "With driver and fuel."),
    ("drive", "rear", "", ["front", "rear", "all"], "Driven axles."),
    ("tyre", "245/40 R18", "", None, "Of the driven wheels."),
    ("drag area", 0.66, "m²", "0.00", "Drag coefficient times frontal area."),
    ("rolling resistance", 0.013, "", "0.000", "Rolling force over wheel load."),
    ("front share", 0.52, "", "0 %", "Weight on the front axle at rest."),
    ("wheelbase", 2.60, "m", "0.00", ""),
    ("centre of gravity height", 0.50, "m", "0.00", ""),
    ("grip", 1.05, "", "0.00", "Greatest tyre force over wheel load: about 1 for a road tyre on dry asphalt."),
    ("gear 1", 3.63, "", "0.00", ""),
    ("gear 2", 2.19, "", "0.00", ""),
    ("gear 3", 1.54, "", "0.00", ""),
    ("gear 4", 1.21, "", "0.00", ""),
    ("gear 5", 1.00, "", "0.00", ""),
    ("gear 6", 0.77, "", "0.00", ""),
    ("final drive", 3.45, "", "0.00", ""),
    ("shift time", 0.25, "s", "0.00", "Time without full drive in an upshift."),
    ("driveline efficiency", 0.87, "", "0 %", "Wheel power over crank power."),
    ("engine inertia", 0.18, "kg·m²", "0.00", "With flywheel and clutch."),
    ("wheel inertia", 1.1, "kg·m²", "0.0", "Of one wheel with tyre and brake."),
    ("rise time of torque", 0.25, "s", "0.00", "From 10 to 90 % of the torque when the throttle opens."),
]
BOOST = [
    [0.88, 1.02, 1.10, 1.20],
    [1.00, 1.20, 1.30, 1.40],
    [1.32, 1.57, 1.75, 1.95],
    [1.70, 2.05, 2.32, 2.60],
]
CHARGE_TEMPERATURE = [50, 42, 46, 50]
MEASURED = [("Stage 1", "98 RON", 220.0), ("Stage 2", "98 RON", 246.0)]
# The measured curve: engine speed, torque shown, manifold pressure, manifold temperature, lambda, knock-limited spark.
CURVE = [
    (2500, 310, 196, 44, 0.84, 3.0), (3000, 350, 212, 45, 0.84, 5.5), (3500, 366, 218, 46, 0.84, 8.0), (4000, 370, 218, 47, 0.84, 10.0),
    (4500, 370, 217, 48, 0.84, 12.0), (5000, 368, 215, 49, 0.84, 14.0), (5500, 362, 213, 50, 0.84, 16.0), (6000, 350, 208, 51, 0.84, 18.0),
    (6500, 324, 197, 52, 0.84, 20.0),
]
CURVE_ROWS = 30
UNCORRECTED = "none: not corrected"

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
# What BUILD.TABLE reads of a stage beside its parts; "?" marks a value that may be empty.
STAGE_ROWS = [*PART_ROWS, ("engine", "engine", [None] * 6 + ["?peak_pressure_allowed", "bar", None, None, None, None, "?stage_compression", ""])]
STAGE_VALUES = 7


def build(desktop, version):
    book = Book(desktop, TITLE, "Power by stage and fuel, the part that limits it, and what it costs")
    book.version = version
    book.doc.enableAutomaticCalculation(False)
    about_page(
        book,
        [
            "For the person who answers for the numbers of a staged conversion: what each stage makes on each fuel, which part "
            "gives out first, what it costs, on what conditions the figures rest.",
            "Every stage holds the parts of the stages above it. For each stage and fuel the power is predicted from the curve that the "
            "shop has measured: at every engine speed the smallest of what the parts carry and what knock, gas temperature and peak pressure "
            "allow counts. What limits stands beside the figure, and so does its band, low and high at two standard uncertainties.",
            PLAIN_STATEMENT,
        ],
        [
            "Inputs: engine, parts, fuels, car, weather of the measuring day, prices.",
            "Measured: the curve from the rollers, one row for each engine speed; further stages and fuels if you have them. With one row "
            "the rest is further from what was measured, without any it is a guess; both are said.",
            "Prediction: power, limit, times, price and bands of each stage on each fuel. Nothing to type.",
            "Quote: two A4 pages for the customer, the offer and what its figures rest on. Choose the units of power and torque in Inputs.",
            "Calculation: the cross-check, what each part carries at the efficiency typed in. Nothing to type.",
            "Checks: expected values against computed ones. If one differs, do not hand the page out.",
            "Any cell that shows an error: =FUNCTION.WHY(cell) says why, in words.",
        ],
        "The shop, the car, its parts, prices and measurements in this file are invented. Replace them with your own.",
    )
    inputs(book)
    measured(book)
    calculation(book)
    prediction(book)
    # From here on, since a chart reads the cells when it is made; before, every input would start the prediction anew.
    book.doc.enableAutomaticCalculation(True)
    book.doc.calculateAll()
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
    for index, row in enumerate(ENGINE_DATA):
        input_row(page, ENGINE_DATA_FIRST + index, *row)
    row = ENGINE_DATA_FIRST + len(ENGINE_DATA)
    book.name("engine_block", page, "A%d:C%d" % (ENGINE_DATA_FIRST, row - 1))
    page.put("A%d" % row, "Displacement", "Label")
    page.put("B%d" % row, "=ENGINE.DISPLACEMENT(bore;stroke;cylinders)", "Computed", "0.000", "displacement")
    page.put("C%d" % row, "L", "Unit")
    input_row(page, row + 1, "Power of the car as delivered", 185, "kW", "power_delivered", 10, 1500, "0.0", "By its papers.")

    page.section("A{r}:G{r}".format(r=PARTS_FIRST - 2), "Parts of each stage and where they end")
    page.heads("A%d" % (PARTS_FIRST - 1), ["", *STAGES], height=7)
    book.name("stages", page, "B{r}:E{r}".format(r=PARTS_FIRST - 1))
    for index, (label, name, values, unit, low, high, code, note) in enumerate(PARTS):
        row = PARTS_FIRST + index
        page.put("A%d" % row, label, "Label")
        for stage, value in enumerate(values):
            page.input("%s%d" % (column_name(1 + stage), row), value, code, None, low, high)
        page.put("F%d" % row, unit, "Unit")
        page.put("G%d" % row, note, "Remark")
        book.name(name, page, "B%d:E%d" % (row, row))
    page.height("A%d" % PARTS_FIRST, 18)
    row = PARTS_FIRST + len(PARTS) + 1

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

    page.section("A%d:G%d" % (row, row), "Peak power measured, as the bench showed it; the quote sets it against the prediction")
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
    row = first + 5

    page.section("A%d:G%d" % (row, row), "The car, for the times")
    for index, (label, value, unit, code, note) in enumerate(VEHICLE):
        r = row + 1 + index
        page.put("A%d" % r, label, "Label")
        if isinstance(code, list):
            page.input("B%d" % r, value, choices=code)
        else:
            page.input("B%d" % r, value, code)
        page.put("C%d" % r, unit, "Unit")
        page.put("G%d" % r, note, "Remark")
    book.name("vehicle", page, "A%d:C%d" % (row + 1, row + len(VEHICLE)))
    page.freeze(1, 2)
    page.print_page("A1:G%d" % (row + len(VEHICLE)), pages_high=2)


# Where the rows of the Measured sheet begin.
CURVE_FIRST = 9
CURVE_LAST = CURVE_FIRST + CURVE_ROWS - 1


def measured(book):
    page = book.sheet("Measured", [29, 29, 25, 27, 29, 31, 22, 31, 24, 31, 27, 80])
    page.put("A1", "Measured", "Page title")
    page.put("A2", "The curve that every other figure is predicted from, one row for each engine speed. All data on this page are invented.",
             "Subtitle")
    page.put("A4", "Standard that the torque is shown in", "Label")
    page.merge("C4:D4")
    page.input("C4", "DIN 70020", name="curve_standard", choices=[*STANDARDS, UNCORRECTED])
    page.style("C4:D4", "Input text")
    page.put("A5", "Its factor of the day", "Label")
    page.put("C5", '=IF(curve_standard="%s";1;DYNO.FACTOR(curve_standard;air_temperature;station_pressure;humidity))' % UNCORRECTED, "Computed",
             "0.0000", "curve_factor")
    page.put("E5", "Undone for the prediction: it needs the torque of the day.", "Remark")
    page.section("A7:L7", "The pull, with knock, gas temperature and lambda watched")
    page.heads("A8", ["stage", "fuel", "engine speed [rpm]", "torque shown [N·m]", "manifold pressure [kPa]", "manifold temperature [°C]", "lambda",
                      "knock-limited spark [°]", "knock began", "power peaks at the end", "power of the day [kW]"], height=14)
    limits = {"C": (500, 20000, "0"), "D": (0, 3000, "0"), "E": (50, 800, "0"), "F": (-40, 200, "0"), "G": (0.6, 1.5, "0.00"),
              "H": (-30, 60, "0.0")}
    for index in range(CURVE_ROWS):
        r = CURVE_FIRST + index
        values = CURVE[index] if index < len(CURVE) else (None,) * 6
        is_used = index < len(CURVE)
        page.input("A%d" % r, "Stage 1" if is_used else None, choices="stages")
        page.input("B%d" % r, "98 RON" if is_used else None, choices="fuels")
        for (column, (low, high, code)), value in zip(limits.items(), values):
            page.input("%s%d" % (column, r), value, code, None, low, high)
        page.input("I%d" % r, "yes" if is_used else None, choices=["yes", "no"])
        page.input("J%d" % r, "yes" if is_used else None, choices=["yes", "no"])
        page.put("K%d" % r, '=IF(N(D{r})=0;"";ENGINE.POWER(D{r}/curve_factor;C{r}))'.format(r=r), "Computed", "0.0")
    for offset, note in enumerate((
            "Pressures are absolute: add the pressure of the surroundings to a boost gauge.",
            "Torque at the crank. What a roller shows at the wheels lacks the losses of the driveline.",
            "Spark where knock began, by knock detection. Where a reserve was kept, write no under \"knock began\".",
            "\"power peaks at the end\": yes where power no longer rose at the highest speed measured; above it the power is then held.",
            "Rows may come in any order and from several stages and fuels; an empty row is left out.")):
        page.put("L%d" % (CURVE_FIRST + offset), note, "Remark")
    for name, column in (("curve_stage", "A"), ("curve_fuel", "B"), ("curve_speed", "C"), ("curve_torque", "D"), ("curve_pressure", "E"),
                         ("curve_temperature", "F"), ("curve_lambda", "G"), ("curve_spark", "H"), ("curve_power", "K")):
        book.name(name, page, "{c}{a}:{c}{b}".format(c=column, a=CURVE_FIRST, b=CURVE_LAST))
    below = CURVE_LAST + 1
    page.put("A%d" % below, '=IF(COUNTA(A{a}:J{b})=0;"Room for {n} rows ends here.";"Rows below this line are not used: insert rows above it.")'
             .format(a=below + 1, b=below + 500, n=CURVE_ROWS), "Remark")
    page.put("A6", "Row of greatest power", "Label")
    page.put("C6", '=IF(COUNT(curve_power)=0;"";MATCH(MAX(curve_power);curve_power;0))', "Computed", "0", "curve_peak")
    page.freeze(2, 8)
    page.print_page("A1:L%d" % below, landscape=True)


# Where things stand on the Calculation sheet.
FIRST = 6
LAST = FIRST + 15
ENGINE = LAST + 3
ENGINE_ROWS = ["displacement", "cylinders", "volumetric efficiency", "lambda", "efficiency"]
ENGINE_HEIGHT = len(ENGINE_ROWS) + 2
TABLES = ENGINE + 2 + 4 * ENGINE_HEIGHT
TABLE_HEIGHT = len(PART_ROWS) + 3
LIMITS = TABLES + 1 + 4 * TABLE_HEIGHT
LIMIT_ROWS = len(PART_NAMES) + 2
LIMIT_HEIGHT = LIMIT_ROWS + 2
BEFORE = ["stage", "fuel", "ethanol", "lambda", "efficiency", "manifold pressure [kPa]", "air at that boost [g/s]"]
BOOST_COLUMN = len(BEFORE)
AFTER = ["power on the day [kW]", "what limits", "power restated [kW]", "torque [N·m]", "fuel flow [kg/h]", "fuel flow [L/h]",
         "air flow [g/s]", "injector duty"]
AFTER_COLUMN = BOOST_COLUMN + 1 + len(PART_NAMES)
POWER_DAY, LIMIT, POWER, TORQUE, FUEL_FLOW, VOLUME_FLOW, AIR_FLOW, DUTY = (
    column_name(AFTER_COLUMN + index) for index in range(len(AFTER)))
END = DUTY
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
    page = book.sheet("Calculation", [52] + [22] * AFTER_COLUMN + [30] + [22] * 6)
    page.put("A1", "Calculation", "Page title")
    page.put("A2", "Cross-check of the prediction: what each part carries at the efficiency typed in, and the power of the boost measured as free of knock.", "Subtitle")
    page.section("A4:%s4" % END, "Stage by stage")
    page.put("%s4" % FIRST_LIMIT, "power that each carries on the day [kW]", "Section")
    page.heads("A5", [*BEFORE, "boost on this fuel", *PART_NAMES, *AFTER], height=14)
    for stage in range(4):
        for fuel in range(4):
            summary_row(page, stage, fuel)
    page.conditional("%s%d:%s%d" % (FIRST_LIMIT, FIRST, LAST_LIMIT, LAST),
                     "%s%d=$%s%d" % (FIRST_LIMIT, FIRST, POWER_DAY, FIRST), "Stands out")
    book.name("stage_fuel_rows", page, "A%d:%s%d" % (FIRST, END, LAST))

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
            part_values(page, row, values, stage)

    page.section("A%d:%s%d" % (LIMITS, END, LIMITS), "What each part carries, all others in place")
    for stage in range(4):
        for fuel in range(4):
            row, area = limits_at(stage, fuel)
            page.put("A%d" % (row - 1), "=A{r}&\", \"&B{r}".format(r=row_of(stage, fuel)), "Row head")
            page.array(area, "=BUILD.LIMITS(%s;%s;INDEX(fuel_ethanol;1;%d);day;;INDEX(peak_speed;1;%d))"
                       % (engine_block(fuel), parts_table(stage), fuel + 1, stage + 1), "Computed", "0.0")
            page.style("A%d:B%d" % (row + 1, row + LIMIT_ROWS - 1), "Label")
            page.style("G%d:G%d" % (row + 1, row + LIMIT_ROWS - 1), "Unit")
            page.style("D%d:D%d" % (row + 1, row + LIMIT_ROWS - 1), "Computed", "0.0 %")
            page.style("E%d:F%d" % (row + 1, row + LIMIT_ROWS - 1), "Computed", "0.00")
            page.style("A%d:G%d" % (row, row), "Column head")
            page.height("A%d" % row, 8)
    last = limits_at(3, 3)[0] + LIMIT_ROWS - 1
    page.freeze(2, 5)
    page.print_page("A1:%s%d" % (END, last), landscape=True, pages_high=4)


def part_values(page, row, values, stage, first_column=2):
    """The values and units of one part of a stage, each read from the Inputs sheet."""
    for offset, value in enumerate(values):
        if value in (None, ""):
            continue
        address = "%s%d" % (column_name(first_column + offset), row)
        if isinstance(value, str) and value.startswith("@@"):
            page.put(address, "=INDEX(pump_flows;%s;%d)" % (value[2:], stage + 1), "Computed")
        elif isinstance(value, str) and value.startswith("@") and value[1:].isdigit():
            page.put(address, "=INDEX(pump_pressures;%s)" % value[1:], "Computed")
        elif isinstance(value, str) and value.startswith("?"):
            page.put(address, '=IF(INDEX({n};1;{s})="";"";INDEX({n};1;{s}))'.format(n=value[1:], s=stage + 1), "Computed")
        elif isinstance(value, str) and value.startswith("@"):
            page.put(address, "=INDEX(%s;1;%d)" % (value[1:], stage + 1), "Computed")
        else:
            page.put(address, value, "Unit" if isinstance(value, str) else "Computed")


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
    ]
    for index, (formula, code) in enumerate(cells):
        page.put("%s%d" % (column_name(index), r), formula, "Computed" if code else "Computed text", code)


# Where things stand on the Prediction sheet: the table of BUILD.TABLE, beside it what the quote makes of it.
PREDICTED = 8
TABLE_COLUMNS = 23
FIRST_QUOTED = TABLE_COLUMNS
TABLE_LAST = column_name(TABLE_COLUMNS - 1)
REMARK = TABLE_LAST
GAIN = column_name(TABLE_COLUMNS - 2)
PREDICTED_LAST = PREDICTED + 15
(QUOTED, QUOTED_LOW, QUOTED_HIGH, QUOTED_TORQUE, PRICE_OF_GAIN, MEASURED_POWER, DEVIATION,
 BESIDE, NO_GAIN) = (column_name(FIRST_QUOTED + index) for index in range(9))
CHART = PREDICTED_LAST + 3
FUEL_TABLE = CHART + 7
CURVE_TABLE = FUEL_TABLE + 8
STAGE_TABLE = CURVE_TABLE + CURVE_ROWS + 4
CURVE_LABELS = ["stage", "fuel", "engine speed [rpm]", "torque [N·m]", "manifold pressure [kPa]", "manifold temperature [°C]", "lambda",
                "knock-limited spark [°]", "knock began", "peak power of the pull"]


def predicted_row(stage, fuel):
    return PREDICTED + 4 * stage + fuel


def prediction(book):
    page = book.sheet("Prediction", [30] * 4 + [42] + [22] * 15 + [52, 22, 110] + [22] * 7 + [62, 62])
    page.put("A1", "Prediction", "Page title")
    page.put("A2", "Every stage on every fuel, predicted from what was measured; powers on the day, low and high at two standard "
             "uncertainties.", "Subtitle")
    page.merge("A3:Q3", PLAIN_STATEMENT, "Caution", 6)
    page.put("A4", "To be said", "Row head")
    page.merge("B4:Q4", '=IF(FUNCTION.WHY(A{t})="";"";FUNCTION.WHY(A{t})&".")'.format(t=PREDICTED - 1), "Remark", 14)
    page.section("A6:%s6" % TABLE_LAST, "What each stage makes on each fuel, on the day")
    page.section("%s6:%s6" % (QUOTED, NO_GAIN), '="Restated to "&standard_quoted&", for the quote"')
    page.array("A%d:%s%d" % (PREDICTED - 1, TABLE_LAST, PREDICTED_LAST),
               "=IF(COUNT(curve_power)=0;BUILD.TABLE(engine_block;stages_table;fuels_table;vehicle;day;;power_delivered/day_factor);"
               "BUILD.TABLE(engine_block;stages_table;fuels_table;vehicle;day;curve_table;power_delivered/day_factor))", "Computed", "0.0")
    page.style("A%d:%s%d" % (PREDICTED - 1, TABLE_LAST, PREDICTED - 1), "Column head")
    page.height("A%d" % (PREDICTED - 1), 14)
    page.style("A%d:B%d" % (PREDICTED, PREDICTED_LAST), "Label")
    page.style("E%d:E%d" % (PREDICTED, PREDICTED_LAST), "Computed text")
    page.style("F%d:F%d" % (PREDICTED, PREDICTED_LAST), "Computed", "0.00")
    page.style("M%d:N%d" % (PREDICTED, PREDICTED_LAST), "Computed", "0.00")
    page.style("I%d:I%d" % (PREDICTED, PREDICTED_LAST), "Computed", "#,##0")
    page.style("Q%d:R%d" % (PREDICTED, PREDICTED_LAST), "Computed", "0")
    page.style("U%d:U%d" % (PREDICTED, PREDICTED_LAST), "Computed text")
    page.style("{r}{a}:{r}{b}".format(r=REMARK, a=PREDICTED, b=PREDICTED_LAST), "Computed text")
    page.heads("%s%d" % (QUOTED, PREDICTED - 1), ["power [kW]", "low [kW]", "high [kW]", "torque [N·m]", "price of one unit of power gained",
                                        "measured [kW]", "predicted over measured", "measured / predicted, in the customer's unit",
                                        "said where a stage gains less than 3 %"], height=14)
    for stage in range(4):
        for fuel in range(4):
            r = predicted_row(stage, fuel)
            names = {"r": r, "s": stage + 1, "f": fuel + 1, "q": QUOTED, "m": MEASURED_POWER, "gain": GAIN, "remark": REMARK}
            cells = [
                ("=D{r}*day_factor", "0.0"), ("=K{r}*day_factor", "0.0"), ("=L{r}*day_factor", "0.0"), ("=C{r}*day_factor", "0"),
                ('=IF(ISTEXT(J{r});"no gain";J{r}/day_factor/UNIT.CONVERT(1;"kW";power_unit))', "0.0"),
                ("=IFERROR(AVERAGEIFS(measured_restated;measured_stage;INDEX(stages;1;{s});measured_fuel;INDEX(fuels;1;{f}));0)", '0.0;;"–"'),
                ('=IF({m}{r}>0;{q}{r}/{m}{r}-1;"")', "+0.0 %;-0.0 %"),
                ('=IF({m}{r}>0;INDEX(stages;1;{s})&", "&INDEX(fuels;1;{f})&" "&TEXT(UNIT.CONVERT({m}{r};"kW";power_unit);"0")&" / "&'
                 'TEXT(UNIT.CONVERT({q}{r};"kW";power_unit);"0")&" "&power_unit;"")', None),
                ('=IF(AND(ISNUMBER({gain}{r});{remark}{r}<>"");IF({gain}{r}<0.03*D{r};UPPER(LEFT({remark}{r};1))&MID({remark}{r};2;500)&".";"");"")', None),
            ]
            for index, (formula, code) in enumerate(cells):
                page.put("%s%d" % (column_name(FIRST_QUOTED + index), r), formula.format(**names), "Computed" if code else "Computed text", code)

    page.section("A%d:Q%d" % (CHART - 1, CHART - 1), "Power quoted in the customer's unit, for the chart of the quote")
    page.heads("A%d" % CHART, ["", *["=INDEX(fuels;1;%d)" % (fuel + 1) for fuel in range(4)]])
    for stage in range(4):
        page.put("A%d" % (CHART + 1 + stage), "=INDEX(stages;1;%d)" % (stage + 1), "Row head")
        for fuel in range(4):
            page.put("%s%d" % (column_name(1 + fuel), CHART + 1 + stage),
                     '=UNIT.CONVERT(%s%d;"kW";power_unit)' % (QUOTED, predicted_row(stage, fuel)), "Computed", "0")
    book.name("power_in_unit", page, "B%d:E%d" % (CHART + 1, CHART + 4))
    # Brake efficiency that the measured curve shows at its greatest power: that power over what its air gives at 30 %.
    page.put("G%d" % CHART, "Brake efficiency at the measured peak power", "Label")
    page.put("K%d" % CHART, "=IFERROR(0.3*MAX(curve_power)/ENGINE.POWER.FROM.AIR(ENGINE.AIR.FLOW(displacement;INDEX(curve_speed;curve_peak);"
             "INDEX(curve_pressure;curve_peak)*(1-AIR.VAPOUR.PRESSURE(air_temperature;humidity)/station_pressure);"
             "INDEX(curve_temperature;curve_peak);volumetric_efficiency);INDEX(fuel_ethanol;1;MATCH(INDEX(curve_fuel;curve_peak);fuels;0));"
             "INDEX(curve_lambda;curve_peak);0.3);0)", "Computed", "0.0 %", "map_efficiency")

    page.section("A%d:Q%d" % (FUEL_TABLE - 1, FUEL_TABLE - 1), "The fuels, as BUILD.TABLE reads them")
    page.heads("A%d" % FUEL_TABLE, ["name", "ethanol share", "RON", "MON", "lambda"])
    for fuel in range(4):
        r = FUEL_TABLE + 1 + fuel
        page.put("A%d" % r, "=INDEX(fuels;1;%d)" % (fuel + 1), "Row head")
        for column, name, code in (("B", "fuel_ethanol", "0 %"), ("C", "fuel_ron", "0.0"), ("D", "fuel_mon", "0.0"), ("E", "fuel_lambda", "0.00")):
            page.put("%s%d" % (column, r), "=INDEX(%s;1;%d)" % (name, fuel + 1), "Computed", code)
        label, value = column_name(6 + 2 * fuel), column_name(7 + 2 * fuel)
        page.put("%s%d" % (label, FUEL_TABLE), "=INDEX(fuels;1;%d)" % (fuel + 1), "Column head")
        page.put("%s%d" % (value, FUEL_TABLE), "as a block", "Column head")
        for index, (head, column, code) in enumerate((("ethanol share", "B", "0 %"), ("RON", "C", "0.0"), ("MON", "D", "0.0"))):
            page.put("%s%d" % (label, FUEL_TABLE + 1 + index), head, "Label")
            page.put("%s%d" % (value, FUEL_TABLE + 1 + index), "=%s%d" % (column, r), "Computed", code)
        page.put("%s%d" % (label, FUEL_TABLE + 4), "spark limit [°]", "Label")
        page.put("%s%d" % (value, FUEL_TABLE + 4),
                 '=IF(N(curve_peak)=0;"–";KNOCK.SPARK.LIMIT(engine_block;INDEX(curve_speed;curve_peak);INDEX(curve_pressure;curve_peak);'
                 'INDEX(curve_temperature;curve_peak);{v}{a}:{w}{b};E{r}))'
                 .format(v=label, w=value, a=FUEL_TABLE + 1, b=FUEL_TABLE + 3, r=r), "Computed", "0.0")
    page.put("O%d" % (FUEL_TABLE + 4), "At the boost of the measured peak power, by the model before it is calibrated.", "Label")
    book.name("fuels_table", page, "A%d:E%d" % (FUEL_TABLE, FUEL_TABLE + 4))

    page.section("A%d:Q%d" % (CURVE_TABLE - 1, CURVE_TABLE - 1), "The measured curve, as BUILD.TABLE reads it: torque of the day")
    page.heads("A%d" % CURVE_TABLE, CURVE_LABELS)
    codes = ["", "", "0", "0.0", "0.0", "0", "0.00", "0.0", "", ""]
    for index in range(CURVE_ROWS):
        r, of = CURVE_TABLE + 1 + index, CURVE_FIRST + index
        for column, code in zip("ABCDEFGHIJ", codes):
            value = "$Measured.%s%d" % (column, of)
            page.put("%s%d" % (column, r), '=IF({v}="";"";{v}{undone})'.format(v=value, undone="/curve_factor" if column == "D" else ""),
                     "Computed" if code else "Computed text", code or None)
    book.name("curve_table", page, "A%d:J%d" % (CURVE_TABLE, CURVE_TABLE + CURVE_ROWS))

    page.section("A%d:Q%d" % (STAGE_TABLE - 1, STAGE_TABLE - 1), "The stages and their parts, as BUILD.TABLE reads them")
    page.heads("A%d" % STAGE_TABLE, ["stage", "part", "kind"] + [head for index in range(STAGE_VALUES) for head in ("value %d" % (index + 1), "unit")] +
               ["price"])
    row = STAGE_TABLE
    for stage in range(4):
        for index, (name, kind, values) in enumerate(STAGE_ROWS):
            row += 1
            page.put("A%d" % row, "=INDEX(stages;1;%d)" % (stage + 1), "Row head")
            page.put("B%d" % row, name, "Label")
            page.put("C%d" % row, kind, "Label")
            part_values(page, row, values, stage, 3)
            if index == 0:
                page.put("R%d" % row, "=INDEX(stage_price;1;%d)" % (stage + 1), "Computed", "#,##0")
    book.name("stages_table", page, "A%d:R%d" % (STAGE_TABLE, row))
    page.freeze(2, PREDICTED - 1)
    page.print_page("A1:%s%d" % (BESIDE, row), landscape=True, pages_high=2)


def quote(book):
    page = book.sheet("Quote", [29, 29, 29, 29, 29, 37])
    page.put("A1", "=shop", "Page title")
    page.height("A1", 10)
    page.put("A2", '="Quote for "&customer&", "&YEAR(quote_date)&"-"&TEXT(MONTH(quote_date);"00")&"-"&TEXT(DAY(quote_date);"00")', "Subtitle")
    page.put("A3", "=car", "Subtitle")
    page.height("A4", 5)
    page.merge("A4:F4", "All data in this example are invented.", "Remark")

    page.section("A5:F5", '="Power at the crank ["&power_unit&", "&standard_quoted&"], low–high, and what limits it"')
    fuels = ["=INDEX(fuels;1;%d)" % (fuel + 1) for fuel in range(4)]
    page.heads("A6", ["", *fuels, "what the stage adds"], height=6)
    for stage in range(4):
        row = 7 + 3 * stage
        page.put("A%d" % row, "=INDEX(stages;1;%d)" % (stage + 1), "Row head")
        page.put("A%d" % (row + 1), "low–high", "Quiet row head")
        page.put("A%d" % (row + 2), "limited by", "Quiet row head")
        for fuel in range(4):
            column, r = column_name(1 + fuel), predicted_row(stage, fuel)
            page.put("%s%d" % (column, row), "=INDEX(power_in_unit;%d;%d)" % (stage + 1, fuel + 1), "Headline", "0")
            page.put("%s%d" % (column, row + 1),
                     '="("&TEXT(UNIT.CONVERT($Prediction.{a}{r};"kW";power_unit);"0")&"–"&TEXT(UNIT.CONVERT($Prediction.{b}{r};"kW";power_unit);'
                     '"0")&")"'.format(a=QUOTED_LOW, b=QUOTED_HIGH, r=r), "Quiet")
            page.put("%s%d" % (column, row + 2), '=$Prediction.E%d&""' % r, "Quiet")
        page.merge("F%d:F%d" % (row, row + 2), "=INDEX(stage_parts;1;%d)" % (stage + 1), "Computed note")
        for offset, height in enumerate((6.2, 4.4, 4.6)):
            page.height("A%d" % (row + offset), height)
    book.name("quote_table", page, "A6:F18")

    tables = [
        (20, '="Greatest torque ["&torque_unit&"], price ["&currency&"]"', "price of the stage",
         '=UNIT.CONVERT($Prediction.%s{r};"N·m";torque_unit)' % QUOTED_TORQUE, "0", "=INDEX(stage_price;1;{s})", "#,##0"),
        (27, '="Price for each "&power_unit&" gained over the car as delivered ["&currency&"]"', "price, all stages so far",
         "=$Prediction.%s{r}" % PRICE_OF_GAIN, "0.0", "=$Prediction.I{first}", "#,##0"),
        (34, "100–200 km/h on the flat [s], low–high", '="¼ mile, "&INDEX(fuels;1;2)&" [s]"',
         '=IF(ISTEXT($Prediction.F{r});"not reached";FIXED($Prediction.F{r};1;1)&IF(AND(ISNUMBER($Prediction.M{r});'
         'ISNUMBER($Prediction.N{r}));" ("&FIXED($Prediction.M{r};1;1)&"–"&FIXED($Prediction.N{r};1;1)&")";""))', None,
         '=IF(ISTEXT($Prediction.H{second});"–";$Prediction.H{second})', "0.0"),
    ]
    for row, title, last_head, formula, code, last_formula, last_code in tables:
        page.height("A%d" % (row - 1), 3)
        page.section("A%d:F%d" % (row, row), title)
        page.heads("A%d" % (row + 1), ["", *fuels, last_head], height=6)
        for stage in range(4):
            r = row + 2 + stage
            page.put("A%d" % r, "=INDEX(stages;1;%d)" % (stage + 1), "Row head")
            for fuel in range(4):
                page.put("%s%d" % (column_name(1 + fuel), r), formula.format(r=predicted_row(stage, fuel)), "Computed text", code)
            page.put("F%d" % r, last_formula.format(s=stage + 1, first=predicted_row(stage, 0), second=predicted_row(stage, 1)),
                     "Computed text", last_code)

    for row in range(40, 50):
        page.height("A%d" % row, 4.2)
    page.chart("power_chart", "A40", (181, 41),
               ["$Prediction.A%d:E%d" % (CHART, CHART + 4)], kind="column", y_title="power, unit as above")

    page.section("A50:F50", "Conditions")
    measured = "$Prediction.{c}{a}:{c}{b}".format(c=MEASURED_POWER, a=PREDICTED, b=PREDICTED_LAST)
    quoted = "$Prediction.{c}{a}:{c}{b}".format(c=QUOTED, a=PREDICTED, b=PREDICTED_LAST)
    beside = "$Prediction.{c}{a}:{c}{b}".format(c=BESIDE, a=PREDICTED, b=PREDICTED_LAST)
    page.merge("A51:F51", '="Air "&FIXED(air_temperature;1;1)&" °C, station pressure "&FIXED(station_pressure;1;1)&" kPa ("'
               '&TEXT(sea_level_pressure;"0")&" hPa at sea level, shop at "&TEXT(elevation;"0")&" m), humidity "&TEXT(humidity;"0 %")'
               '&". Figures restated to "&standard_quoted&", factor of the day "&FIXED(day_factor;3;1)&". Car as delivered: "'
               '&TEXT(UNIT.CONVERT(power_delivered;"kW";power_unit);"0")&" "&power_unit&"."', "Body", 8.5)
    page.merge("A52:F52", '=IF(SUM({m})=0;"Nothing measured yet.";"Measured / predicted: "&TEXTJOIN("; ";TRUE();{b})&"; largest deviation "'
               '&FIXED(100*(SUMPRODUCT(MAX(IF({m}>0;ABS({q}/{m}-1);0))));1;1)&" %"&". ")&IF(COUNT(curve_power)=0;"No curve was measured: every figure is a guess from the engine\'s dimensions";"Every figure is predicted from the curve measured on "'
               '&INDEX(curve_stage;curve_peak)&", "&INDEX(curve_fuel;curve_peak)&" at "&COUNT(curve_power)&" engine speeds")&"; low–high is two standard uncertainties."'
               .format(m=measured, q=quoted, b=beside), "Body", 12.8)
    page.merge("A53:F53", '="Ethanol by volume: "&' + '&", "&'.join(
        'INDEX(fuels;1;{n})&" "&TEXT(INDEX(fuel_ethanol;1;{n});"0 %")'.format(n=fuel + 1) for fuel in range(4)) +
        '&". What is sold as E85 changes with the season; have the tank measured."', "Body", 8.5)
    page.merge("A54:F54", '=IF(FUNCTION.WHY($Inputs.B20)="";"";FUNCTION.WHY($Inputs.B20)&". ")&'
               'IF(SUMPRODUCT(ISNUMBER(FIND("(assumed)";$Prediction.E{a}:E{b})))=0;"";"Where it says peak pressure (assumed), not knock but our '
               'assumption limits this fuel. ")&TEXTJOIN(" ";TRUE;$Prediction.{n}{a}:{n}{b})'.format(a=PREDICTED, b=PREDICTED_LAST, n=NO_GAIN),
               "Caution", 16)
    page.section("A55:F55", "Cautions")
    cautions = [PLAIN_STATEMENT, *CAUTIONS]
    for index, caution in enumerate(cautions):
        row = 56 + index
        page.merge("A%d:F%d" % (row, row), caution, "Caution", 4.2 * (1 + len(caution) // 125))
    last = basis_page(page, 56 + len(cautions), fuels)
    page.print_page("A1:F%d" % last, scale=80)
    page.for_customer("A1:F%d" % last)


# What stands for each stage on the second page: label, column of the stage table, unit of the label, format.
BASIS_ROWS = [
    ("boost [bar]", "over the surroundings",
     '=IF(ISNUMBER($Prediction.O{r});UNIT.CONVERT($Prediction.O{r}-station_pressure;"kPa";"bar");"–")', "0.00"),
    ("spark [°]", "before top dead centre", "=$Prediction.P{r}", "0"),
    ("50 % burned [°]", "after top dead centre", "=$Prediction.T{r}", "0"),
    ("gas [°C]", "before the turbine, by a probe", "=$Prediction.R{r}", "0"),
    ("peak pressure [bar]", "in the cylinder", "=$Prediction.S{r}", "0"),
    ("peak at [rpm]", "engine speed of greatest power", "=$Prediction.Q{r}", "0"),
    ("basis", "measured, between measured ones, or extrapolated and in what", '=$Prediction.U{r}&""', None),
]


def basis_page(page, first, fuels):
    """The second page: what stands behind each figure. Its last row."""
    page.sheet.Rows.getByIndex(first - 1).IsStartOfNewPage = True
    page.section("A%d:F%d" % (first, first), "What the figures rest on, at the engine speed of greatest power")
    page.heads("A%d" % (first + 1), ["", *fuels, "what it is"], height=6)
    row = first + 2
    for stage in range(4):
        page.put("A%d" % row, "=INDEX(stages;1;%d)" % (stage + 1), "Row head")
        page.height("A%d" % row, 6)
        for index, (label, meaning, formula, code) in enumerate(BASIS_ROWS):
            r = row + 1 + index
            page.put("A%d" % r, label, "Quiet row head")
            page.put("F%d" % r, meaning if stage == 0 else "", "Remark")
            for fuel in range(4):
                page.put("%s%d" % (column_name(1 + fuel), r), formula.format(r=predicted_row(stage, fuel)),
                         "Computed" if code else "Computed note", code)
            page.height("A%d" % r, 4.8 if code else 13)
        row += 1 + len(BASIS_ROWS)
    page.merge("A%d:F%d" % (row, row), "Spark, boost and temperatures are what the model finds, not a map to load: knock detection, a gas temperature "
               "probe and lambda decide on the rollers.", "Caution", 8.5)
    remarks = "$Prediction.{r}{a}:{r}{b}".format(r=REMARK, a=PREDICTED, b=PREDICTED_LAST)
    page.merge("A%d:F%d" % (row + 1, row + 1), '=IF(TEXTJOIN("";TRUE;{m})="";"";"What a stage adds: "&TEXTJOIN("; ";TRUE;{m})&".")'.format(m=remarks),
               "Body", 45)
    return row + 1


# Where the operating point stands that the checks turn round.
BLOCK = 29
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
            ("No predicted power beyond what the parts carry, in all 16 rows", "=SUMPRODUCT(%s)" % within_parts(), 16, 1e-12,
             "BUILD.TABLE against BUILD.LIMITS at that efficiency; 12 % for spark and speed"),
            ("Low, value and high in order, power and 100–200 km/h, in all 16 rows", "=SUMPRODUCT(%s)" % in_order(), 16, 1e-12,
             "identity; holds for any inputs"),
            ("No row below the room for the measured curve", "=COUNTA($Measured.A%d:J%d)" % (CURVE_LAST + 2, CURVE_LAST + 501), 0, 1e-12,
             "what stands there is not used: insert rows above the line"),
            ("Measured rows: each has a stage, a fuel, an engine speed and a torque", '=SUMPRODUCT((curve_torque<>"")*(curve_stage<>"")*(curve_fuel<>"")*'
             '(curve_speed<>""))', '=SUMPRODUCT(--((curve_torque<>"")+(curve_stage<>"")+(curve_fuel<>"")+(curve_speed<>"")>0))', 1e-12,
             "a row that lacks one of them is not what was meant"),
            ("219 kW restated from DIN 70020 and back, on the day [kW]",
             '=DYNO.RESTATE(DYNO.RESTATE(219;"DIN 70020";standard_quoted;air_temperature;station_pressure;humidity);standard_quoted;'
             '"DIN 70020";air_temperature;station_pressure;humidity)', 219, 1e-9, "identity: restated and restated back"),
        ],
    )
    page.section("A%d:F%d" % (BLOCK - 1, BLOCK - 1), "Stage 1 on 98 RON, turned round: the engine with the charge temperature measured, no parts")
    block = [("displacement", "=displacement", "L"), ("cylinders", "=cylinders", None),
             ("volumetric efficiency", "=volumetric_efficiency", None), ("lambda", "=INDEX(fuel_lambda;1;2)", None),
             ("efficiency", "=INDEX(fuel_efficiency;1;2)", None), ("manifold temperature", "=INDEX(charge_temperature;1)", "°C")]
    for index, (label, value, unit) in enumerate(block):
        page.put("A%d" % (BLOCK + index), label, "Label")
        page.put("B%d" % (BLOCK + index), value, "Computed", "0.000")
        page.put("C%d" % (BLOCK + index), unit, "Unit")
    page.array("A%d:C%d" % (POINT, POINT + POINT_ROWS - 1),
               "=BUILD.POINT($A$%d:$C$%d;$Calculation.%s%d;INDEX(peak_speed;1;1);INDEX(fuel_ethanol;1;2);day)"
               % (BLOCK, BLOCK + len(block) - 1, FIRST_LIMIT, row_of(0, 1)), "Computed", "0.000")
    return page


def within_parts():
    """1 for each row whose predicted power the parts carry. BUILD.LIMITS rests on the efficiency typed in, BUILD.TABLE on that of the
    cycle: where the measured map shows a better one than typed in, the parts carry that much more."""
    smallest = column_name(BOOST_COLUMN + 1)
    rows = ";".join("--({p}<=1.12*MAX(1;map_efficiency/$Calculation.E{r})*MIN($Calculation.{a}{r}:{z}{r}))".format(
        p="$Prediction.D%d" % (PREDICTED + index), r=FIRST + index, a=smallest, z=LAST_LIMIT) for index in range(16))
    return rows.replace(";--", "+--")


def in_order():
    ranges = {name: "$Prediction.{c}{a}:{c}{b}".format(c=column, a=PREDICTED, b=PREDICTED + 15)
              for name, column in (("power", "D"), ("low", "K"), ("high", "L"), ("time", "F"), ("fast", "M"), ("slow", "N"))}
    return "({low}<{power})*({power}<{high})*IF(ISNUMBER({time});({fast}<{time})*({time}<{slow});1)".format(**ranges)


def duty_of_injector_rows(duty):
    limit = "$Calculation.{c}{a}:{c}{b}".format(c=LIMIT, a=FIRST, b=LAST)
    return '=IF(COUNTIF({l};"injectors")=0;MAX(injector_duty);SUMPRODUCT(MAX(({l}="injectors")*{d})))'.format(l=limit, d=duty)
