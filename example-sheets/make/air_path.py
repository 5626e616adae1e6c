# SPDX-License-Identifier: Apache-2.0
"""air-path.fods: the engine on the compressor map, charge temperature, pipes, and which part gives out first."""

from paper import Book, about_page, checks_page, column_name, input_row

TITLE = "Air path"
FUELS = ["95 RON", "98 RON", "E20", "E85"]
SPEEDS = [4000, 4750, 5500, 6250, 7000]
POWER = [[140, 200, 246, 278, 290], [150, 222, 272, 306, 318], [155, 236, 288, 324, 338], [162, 256, 314, 356, 372]]
VOLUMETRIC_EFFICIENCY = [(3000, 0.88), (4000, 0.93), (5500, 0.96), (6500, 0.94), (7500, 0.88)]

# INVENTED: no compressor has these figures. Shaft speed, corrected flow, pressure ratio, efficiency.
MAP = [
    (60000, [(48, 1.33, 0.64), (85, 1.325, 0.71), (122, 1.29, 0.73), (158, 1.21, 0.69), (188, 1.08, 0.52)]),
    (80000, [(79, 1.645, 0.65), (122, 1.64, 0.72), (170, 1.59, 0.755), (219, 1.45, 0.705), (256, 1.21, 0.53)]),
    (100000, [(122, 2.09, 0.66), (170, 2.085, 0.725), (225, 2.01, 0.765), (280, 1.80, 0.715), (316, 1.43, 0.54)]),
    (120000, [(176, 2.65, 0.66), (231, 2.64, 0.725), (286, 2.55, 0.76), (341, 2.27, 0.71), (371, 1.75, 0.54)]),
    (135000, [(225, 3.17, 0.65), (280, 3.16, 0.71), (335, 3.03, 0.74), (383, 2.68, 0.69), (408, 2.05, 0.53)]),
    (150000, [(280, 3.76, 0.62), (329, 3.74, 0.67), (377, 3.57, 0.695), (417, 3.14, 0.65), (435, 2.40, 0.50)]),
]
MAP_ROWS = [(speed, *point) for speed, points in MAP for point in points]
HEADER = ["part", "kind"] + [head for index in range(5) for head in ("value %d" % (index + 1), "unit")]
AROUND = [
    ("intake pipe", "pipe", [70, "mm", "intake", None, 0.6, "m", 1.5, None, 0.35]),
    ("charge cooler", "charge cooler", [0.80, None, 9, "kPa", 300, "g/s", None, None, 65, "°C"]),
    ("charge pipe", "pipe", [60, "mm", "charge", None, 1.4, "m", 1.2, None, 0.30]),
]
STAGES = ["Stage 1", "Stage 2", "Stage 3", "Stage 4"]


def stage_parts(injector, pump, compressor, cooler, intake, charge, gearbox):
    """The parts of a stage; a compressor given as None is the one of the map."""
    return [
        ("injectors", "injectors", [injector, "cc/min", 4, None, 3, "bar", 4, "bar", 0.85]),
        *[("fuel pump", "pump", [flow, "L/h", pressure, "bar", 1, None, 4, "bar", 0.10]) for pressure, flow in zip((3, 5, 7), pump)],
        ("compressor", "compressor", [compressor[0], "g/s", compressor[1]] if compressor else [None]),
        ("charge cooler", "charge cooler", [cooler[0], None, cooler[1], "kPa", cooler[2], "g/s", None, None, 62, "°C"]),
        ("intake pipe", "pipe", [intake, "mm", "intake", None, 0.6, "m", 1.5, None, 0.35]),
        ("charge pipe", "pipe", [charge, "mm", "charge", None, 1.4, "m", 1.2, None, 0.30]),
        ("gearbox", "gearbox", [gearbox, "N·m"]),
    ]


STAGE_PARTS = [
    stage_parts(480, (172, 142, 104), (228, 0.68), (0.68, 14, 220), 63, 52, 480),
    stage_parts(480, (172, 142, 104), (228, 0.68), (0.80, 9, 300), 63, 57, 480),
    stage_parts(850, (265, 218, 158), (298, 0.72), (0.80, 9, 300), 70, 60, 620),
    stage_parts(1250, (430, 356, 262), None, (0.80, 9, 300), 80, 63, 620),
]
PART_NAMES = list(dict.fromkeys(name for name, _, _ in STAGE_PARTS[0]))
DIAMETERS = [60, 70, 80]


def build(desktop, version):
    book = Book(desktop, TITLE, "The engine on the compressor map, charge temperature, pipes, and which part gives out first")
    book.version = version
    about_page(
        book,
        [
            "For whoever chooses compressor, cooler and pipes for a wanted power: where the engine stands on the compressor map with "
            "each fuel, how hot the charge is, how fast the air runs in the pipes and what that costs in pressure, and which part of "
            "a stage gives out first.",
            "Losses depend on the flow, the charge temperature on pressure ratio and efficiency, the pressure needed on the charge "
            "temperature: all of it is solved together.",
        ],
        [
            "Inputs: day, engine, fuels, power wanted, the parts around the turbocharger, and the map as digitised.",
            "Points: one column for each fuel and engine speed, from wanted power back to the hardware.",
            "Map: the same points over the speed lines of the map.",
            "Pipes: velocity, Mach number and pressure loss for three diameters.",
            "Stages: the power that each part of a stage carries on each fuel; the smallest counts.",
            "Checks: expected values against computed ones.",
        ],
        "The car, its parts and the compressor map in this file are invented: no compressor has these figures. Replace them with "
        "your own.",
    )
    inputs(book)
    points(book)
    the_map(book)
    pipes(book)
    stages(book)
    checks(book)
    return book


def put_parts(page, first, parts):
    """A parts table as BUILD.LIMITS reads it, as inputs."""
    page.heads("A%d" % first, HEADER)
    for index, (name, kind, values) in enumerate(parts):
        row = first + 1 + index
        page.put("A%d" % row, name, "Input")
        page.put("B%d" % row, kind, "Input")
        for offset in range(10):
            value = values[offset] if offset < len(values) else None
            style = "Unit" if offset % 2 else "Input" if value is not None else None
            if value is not None:
                page.put("%s%d" % (column_name(2 + offset), row), value, style)

def inputs(book):
    page = book.sheet("Inputs", [80] + [24] * 11)
    page.put("A1", "Inputs", "Page title")
    page.put("A2", "All data on this page are invented, the compressor map above all.", "Subtitle")

    page.section("A4:L4", "Day")
    for index, row in enumerate((
            ("temperature", 22, "°C", "air_temperature", -30, 60, "0.0", ""),
            ("pressure", 98.0, "kPa", "station_pressure", 50, 110, "0.0", ""),
            ("humidity", 0.55, None, "humidity", 0, 1, "0 %", ""))):
        input_row(page, 5 + index, *row)
    book.name("day", page, "A5:C7")
    page.put("D6", "Station pressure: the barometer on the wall, not the forecast.", "Label")

    page.section("A9:L9", "Engine")
    for index, row in enumerate((
            ("displacement", 1.998, "L", "displacement", 0.1, 12, "0.000", ""),
            ("cylinders", 4, None, "cylinders", 1, 16, "0", ""))):
        input_row(page, 10 + index, *row)
    page.put("A12", "Volumetric efficiency at an engine speed [rpm] of", "Label")
    for index, (speed, value) in enumerate(VOLUMETRIC_EFFICIENCY):
        page.input("%s12" % column_name(1 + index), speed, "0", None, 500, 20000)
        page.input("%s13" % column_name(1 + index), value, "0 %", None, 0.2, 1.5)
    page.put("A13", "is, referred to the density in the manifold,", "Label")
    book.name("breathing_speeds", page, "B12:F12")
    book.name("breathing", page, "B13:F13")

    page.section("A15:L15", "Fuels, and the power wanted at full load [kW]")
    page.heads("A16", ["", *FUELS], height=6)
    book.name("fuels", page, "B16:E16")
    for index, (label, name, values, low, high, code) in enumerate((
            ("Ethanol by volume", "fuel_ethanol", [0.05, 0.05, 0.20, 0.80], 0, 1, "0 %"),
            ("Lambda at full load", "fuel_lambda", [0.82, 0.84, 0.84, 0.86], 0.6, 1.2, "0.00"),
            ("Brake efficiency at full load", "fuel_efficiency", [0.292, 0.300, 0.306, 0.322], 0.1, 0.5, "0.0 %"))):
        page.put("A%d" % (17 + index), label, "Label")
        for fuel, value in enumerate(values):
            page.input("%s%d" % (column_name(1 + fuel), 17 + index), value, code, None, low, high)
        book.name(name, page, "B%d:E%d" % (17 + index, 17 + index))
    for index, speed in enumerate(SPEEDS):
        row = 20 + index
        page.input("A%d" % row, speed, '"Power at "0" rpm"', None, 500, 20000)
        for fuel in range(4):
            page.input("%s%d" % (column_name(1 + fuel), row), POWER[fuel][index], "0", None, 1, 3000)
    book.name("speeds", page, "A20:A24")
    book.name("powers", page, "B20:E24")

    page.section("A26:L26", "The parts around the turbocharger")
    put_parts(page, 27, AROUND)
    book.name("around", page, "A27:L%d" % (27 + len(AROUND)))

    page.section("A32:L32", "Compressor map, invented: reference 25 °C and 100 kPa, digitised by the user")
    page.heads("A33", ["shaft speed [rpm]", "corrected flow [g/s]", "pressure ratio", "efficiency"], height=10)
    for index, row in enumerate(MAP_ROWS):
        for column, (value, code) in enumerate(zip(row, ("0", "0", "0.000", "0.0 %"))):
            page.input("%s%d" % (column_name(column), 34 + index), value, code)
    book.name("map", page, "A33:D%d" % (33 + len(MAP_ROWS)))
    page.freeze(1, 2)
    page.print_page("A1:L%d" % (33 + len(MAP_ROWS)))


# Where things stand on the Points sheet.
WORDS = 38
BLOCK = WORDS + 22
ENGINE_ROWS = 4 + len(VOLUMETRIC_EFFICIENCY)
BLOCK_HEIGHT = ENGINE_ROWS + 2
POINT_ROWS = 30
FIRST = 7


def engine_block(fuel):
    first = BLOCK + 2 + BLOCK_HEIGHT * fuel
    return "$Points.$A$%d:$C$%d" % (first, first + ENGINE_ROWS - 1)


def quantity(name, column):
    """A cell of the Points table by the name of its row."""
    return '=INDEX($Points.{c}${a}:{c}${b};MATCH("{n}";$Points.$A${a}:$A${b};0))'.format(
        n=name, c=column, a=FIRST, b=FIRST + POINT_ROWS - 1)


def point_column(fuel, speed):
    return column_name(2 + 5 * fuel + speed)


def points(book):
    page = book.sheet("Points", [62, 18] + [18] * 20)
    page.put("A1", "Points", "Page title")
    page.put("A2", "From the power wanted back to the hardware. A column for each fuel and engine speed.", "Subtitle")
    page.section("A4:V4", "Operating points")
    page.put("A5", "fuel", "Row head")
    page.put("A6", "engine speed [rpm]", "Row head")
    page.style("B5:B6", "Row head")
    for fuel in range(4):
        for speed in range(5):
            column = point_column(fuel, speed)
            page.put("%s5" % column, "=INDEX(fuels;1;%d)" % (fuel + 1), "Column head")
            page.put("%s6" % column, "=INDEX(speeds;%d)" % (speed + 1), "Column head", "0")
            call = "BUILD.POINT(%s;INDEX(powers;%d;%d);%s$6;INDEX(fuel_ethanol;1;%d);day;around;map)" % (
                engine_block(fuel), speed + 1, fuel + 1, column, fuel + 1)
            if fuel == 0 and speed == 0:
                # Joined with nothing, since Calc finds no text of an extension's array by MATCH.
                page.array("A%d:A%d" % (FIRST, FIRST + POINT_ROWS - 1), "=INDEX(%s;0;1)&\"\"" % call, "Label")
                page.array("B%d:B%d" % (FIRST, FIRST + POINT_ROWS - 1), "=INDEX(%s;0;3)" % call, "Unit")
            page.array("%s%d:%s%d" % (column, FIRST, column, FIRST + POINT_ROWS - 1), "=INDEX(%s;0;2)" % call, "Computed", "0.00")
    page.style("C{r}:V{r}".format(r=FIRST + 21), "Computed", "0")
    # What loads the compressor most is a pressure ratio in one column and a flow in another: no row for one label.
    page.range("A%d" % (FIRST + POINT_ROWS - 2)).Rows.IsVisible = False
    book.name("points", page, "A%d:V%d" % (FIRST, FIRST + POINT_ROWS - 1))
    page.section("A%d:V%d" % (WORDS, WORDS), "What is to be said about these points")
    for fuel in range(4):
        for speed in range(5):
            row = WORDS + 1 + 5 * fuel + speed
            column = point_column(fuel, speed)
            page.put("A%d" % row, '={c}5&" at "&{c}6&" rpm"'.format(c=column), "Label")
            page.put("B%d" % row, '=IF(FUNCTION.WHY({c}{r})="";"inside the map";FUNCTION.WHY({c}{r}))'.format(c=column, r=FIRST), "Label")
    page.section("A%d:V%d" % (BLOCK, BLOCK), "The engine on each fuel, as BUILD.POINT reads it")
    for fuel in range(4):
        first = BLOCK + 2 + BLOCK_HEIGHT * fuel
        page.put("A%d" % (first - 1), "=INDEX(fuels;1;%d)" % (fuel + 1), "Row head")
        rows = [("displacement", "=displacement", "L"), ("cylinders", "=cylinders", None),
                ("lambda", "=INDEX(fuel_lambda;1;%d)" % (fuel + 1), None),
                ("efficiency", "=INDEX(fuel_efficiency;1;%d)" % (fuel + 1), None)]
        rows += [('="volumetric efficiency at "&INDEX(breathing_speeds;1;%d)&" rpm"' % (index + 1),
                  "=INDEX(breathing;1;%d)" % (index + 1), None) for index in range(len(VOLUMETRIC_EFFICIENCY))]
        for index, (label, value, unit) in enumerate(rows):
            page.put("A%d" % (first + index), label, "Label")
            page.put("B%d" % (first + index), value, "Computed", "0.000")
            page.put("C%d" % (first + index), unit, "Unit")
    page.freeze(2, 6)
    page.print_page("A1:V%d" % (BLOCK + 1 + 4 * BLOCK_HEIGHT), landscape=True, pages_high=2)


def the_map(book):
    page = book.sheet("Map", [25] * 12)
    page.put("A1", "Map", "Page title")
    page.put("A2", "The points of full load over the invented compressor map. Left of the lines the compressor surges, right of them it chokes.",
             "Subtitle")
    heads = ["corrected flow [g/s]", *["%d rpm" % speed for speed, _ in MAP],
             *["=INDEX(fuels;1;%d)" % (fuel + 1) for fuel in range(4)]]
    top = 46
    page.heads("A%d" % top, heads, height=10)
    row = top + 1
    for line, (_, values) in enumerate(MAP):
        for _ in values:
            source = row - top + 33
            page.put("A%d" % row, "=$Inputs.B%d" % source, "Computed", "0.0")
            page.put("%s%d" % (column_name(1 + line), row), "=$Inputs.C%d" % source, "Computed", "0.000")
            row += 1
    for fuel in range(4):
        for speed in range(5):
            column = point_column(fuel, speed)
            page.put("A%d" % row, quantity("corrected flow", column), "Computed", "0.0")
            page.put("%s%d" % (column_name(1 + len(MAP) + fuel), row), quantity("pressure ratio", column), "Computed", "0.000")
            row += 1
    page.chart("map_chart", "A4", (262, 125), ["A%d:K%d" % (top, row - 1)], x_title="corrected air flow [g/s], 25 °C and 100 kPa",
               y_title="pressure ratio", symbols_for=(6, 7, 8, 9), x_range=(0, 440), y_range=(1, 4))
    page.section("A34:K34", "Room to the edges of the map, and temperatures")
    page.heads("A35", ["fuel", "engine speed [rpm]", "corrected flow [g/s]", "pressure ratio", "efficiency", "surge margin",
                       "choke margin", "shaft speed [rpm]", "behind the compressor [°C]", "charge [°C]"], height=14)
    index = 36
    for fuel in range(4):
        for speed in (0, 4):
            column = point_column(fuel, speed)
            page.put("A%d" % index, "=INDEX(fuels;1;%d)" % (fuel + 1), "Row head")
            page.put("B%d" % index, "=INDEX(speeds;%d)" % (speed + 1), "Computed", "0")
            for offset, (name, code) in enumerate((("corrected flow", "0.0"), ("pressure ratio", "0.00"), ("compressor efficiency", "0.0 %"),
                                                   ("surge margin", "0 %"), ("choke margin", "0 %"), ("shaft speed", "0"),
                                                   ("compressor outlet temperature", "0"), ("manifold temperature", "0"))):
                page.put("%s%d" % (column_name(2 + offset), index), quantity(name, column), "Computed", code)
            index += 1
    page.print_page("A1:K%d" % (row - 1), landscape=True, pages_high=2)


def pipes(book):
    page = book.sheet("Pipes", [34] + [24] * 10)
    page.put("A1", "Pipes and temperatures", "Page title")
    page.put("A2", "Below Mach 0.3 to 0.4 a pipe is large enough (common practice).", "Subtitle")
    page.put("A3", "inside diameters", "Label")
    for index, diameter in enumerate(DIAMETERS):
        page.input("%s3" % column_name(1 + index), diameter, '0" mm"', None, 10, 500)
    book.name("diameters", page, "B3:D3")
    page.put("A4", "length, loss coefficient", "Label")
    page.input("B4", 1.4, '0.0" m"', "pipe_length", 0, 100)
    page.input("C4", 1.2, "0.0", "pipe_loss", 0, 100)
    machs = ['="Mach, "&%s$3&" mm"' % column for column in "BCD"]
    losses = ['="loss [kPa], "&%s$3&" mm"' % column for column in "BCD"]
    for row, place, temperature, pressure in ((6, "Charge pipe", "manifold temperature", "manifold pressure"),
                                              (13, "Intake pipe", None, None)):
        page.section("A%d:K%d" % (row, row), place + ", full load at the highest engine speed")
        page.heads("A%d" % (row + 1), ["fuel", "air flow [g/s]", "temperature [°C]", "pressure [kPa]", *machs, *losses,
                                       "bore for Mach 0.3 [mm]"], height=10)
        for fuel in range(4):
            r = row + 2 + fuel
            column = point_column(fuel, 4)
            page.put("A%d" % r, "=INDEX(fuels;1;%d)" % (fuel + 1), "Row head")
            page.put("B%d" % r, quantity("air flow", column), "Computed", "0.0")
            page.put("C%d" % r, quantity(temperature, column) if temperature else "=air_temperature", "Computed", "0.0")
            page.put("D%d" % r, quantity(pressure, column) if pressure else "=station_pressure", "Computed", "0.0")
            page.array("E{r}:G{r}".format(r=r), "=PIPE.MACH(B{r};diameters;C{r};D{r})".format(r=r), "Computed", "0.000")
            page.array("H{r}:J{r}".format(r=r), "=PIPE.PRESSURE.LOSS(B{r};diameters;pipe_length;C{r};D{r};pipe_loss)".format(r=r),
                       "Computed", "0.00")
            page.put("K%d" % r, "=PIPE.DIAMETER(B{r};0.3;C{r};D{r})".format(r=r), "Computed", "0.0")

    page.section("A20:K20", "Intake pipe of these diameters against the air flow, on this day")
    page.heads("A21", ["air flow [g/s]", *machs, *losses], height=10)
    flows = list(range(50, 451, 50))
    last = 21 + len(flows)
    for index, flow in enumerate(flows):
        page.put("A%d" % (22 + index), flow, "Input", "0")
    for index in range(3):
        diameter = "INDEX(diameters;1;%d)" % (index + 1)
        mach, loss = column_name(1 + index), column_name(4 + index)
        page.array("%s22:%s%d" % (mach, mach, last), "=PIPE.MACH($A$22:$A$%d;%s;air_temperature;station_pressure)" % (last, diameter),
                   "Computed", "0.000")
        page.array("%s22:%s%d" % (loss, loss, last),
                   "=PIPE.PRESSURE.LOSS($A$22:$A$%d;%s;pipe_length;air_temperature;station_pressure;pipe_loss)" % (last, diameter),
                   "Computed", "0.00")
    page.chart("mach", "A32", (126, 72), ["A21:D%d" % last], x_title="air flow [g/s]", y_title="Mach number", x_range=(0, 450))
    page.chart("loss", "F32", (136, 72), ["A21:A%d" % last, "E21:G%d" % last], x_title="air flow [g/s]",
               y_title="pressure loss [kPa]", x_range=(0, 450))

    page.section("A49:K49", "Temperatures at full load [°C]")
    page.heads("A50", ["engine speed [rpm]", *['="compressor, "&INDEX(fuels;1;%d)' % (fuel + 1) for fuel in range(4)],
                       *['="charge, "&INDEX(fuels;1;%d)' % (fuel + 1) for fuel in range(4)]], height=10)
    for speed in range(5):
        r = 51 + speed
        page.put("A%d" % r, "=INDEX(speeds;%d)" % (speed + 1), "Computed", "0")
        for fuel in range(4):
            page.put("%s%d" % (column_name(1 + fuel), r), quantity("compressor outlet temperature", point_column(fuel, speed)), "Computed", "0.0")
            page.put("%s%d" % (column_name(5 + fuel), r), quantity("manifold temperature", point_column(fuel, speed)), "Computed", "0.0")
    page.chart("temperatures", "A57", (272, 92), ["A50:I55"], x_title="engine speed [rpm]", y_title="temperature [°C]",
               x_range=(SPEEDS[0], SPEEDS[-1]))
    page.print_page("A1:K78", pages_high=1)


# Where things stand on the Stages sheet.
STAGE_TOP = 37
STAGE_HEIGHT = len(STAGE_PARTS[0]) + len(PART_NAMES) + 6


def parts_area(stage):
    first = STAGE_TOP + 1 + STAGE_HEIGHT * stage
    return "$Stages.$A$%d:$L$%d" % (first, first + len(STAGE_PARTS[stage]))


def stages(book):
    page = book.sheet("Stages", [32] * 2 + [21] * 10)
    page.put("A1", "Stages", "Page title")
    page.put("A2", "The power that each part carries with all the others in place. Stage 4 has the compressor of the map.", "Subtitle")
    page.put("A3", "engine speed [rpm]", "Label")
    page.input("B3", 6500, "0", "stage_speed", 3000, 7500)
    page.section("A5:F5", "What gives out first")
    page.heads("A6", ["", *["=INDEX(fuels;1;%d)" % (fuel + 1) for fuel in range(4)]], height=6)
    page.section("A12:F12", "and at which power [kW]")
    page.heads("A13", ["", *["=INDEX(fuels;1;%d)" % (fuel + 1) for fuel in range(4)]], height=6)
    for stage in range(4):
        top = STAGE_TOP + STAGE_HEIGHT * stage
        page.section("A%d:L%d" % (top, top), "%s: parts, and the power that each carries on each fuel [kW] (≥: not known beyond, its curve or map ends)" % STAGES[stage])
        put_parts(page, top + 1, STAGE_PARTS[stage])
        first = top + 3 + len(STAGE_PARTS[stage])
        page.heads("A%d" % first, ["part", "kind", *["=INDEX(fuels;1;%d)" % (fuel + 1) for fuel in range(4)]])
        last = first + len(PART_NAMES)
        for fuel in range(4):
            column = column_name(2 + fuel)
            call = "BUILD.LIMITS(%s;%s;INDEX(fuel_ethanol;1;%d);day;;stage_speed%s)" % (
                engine_block(fuel), parts_area(stage), fuel + 1, ";map" if stage == 3 else "")
            # Without the header row and the last row.
            body = "INDEX(%s;ROW($A$2:$A$%d);%%d)" % (call, 1 + len(PART_NAMES))
            if fuel == 0:
                page.array("A%d:A%d" % (first + 1, last), "=" + body % 1, "Computed")
                page.array("B%d:B%d" % (first + 1, last), "=" + body % 2, "Computed")
            page.array("%s%d:%s%d" % (column, first + 1, column, last), 
                       '=IF(ISNUMBER({0});{0};SUBSTITUTE({0};"not known beyond ";"≥ "))'.format(body % 3), "Computed", "0.0")
            # The last row names the part that bounds the build, and up to which power the build is known to carry it.
            bound = "INDEX(%s;%d;%%d)" % (call, 2 + len(PART_NAMES))
            page.put("%s%d" % (column_name(1 + fuel), 7 + stage), '=SUBSTITUTE(%s;"gives out first: ";"")' % (bound % 1), "Computed text")
            page.put("%s%d" % (column_name(1 + fuel), 14 + stage), "=" + bound % 3, "Headline", "0")
        page.conditional("C%d:F%d" % (first + 1, last), "C%d=MIN(C$%d:C$%d)" % (first + 1, first + 1, last), "Stands out")
        page.put("A%d" % (7 + stage), STAGES[stage], "Row head")
        page.put("A%d" % (14 + stage), STAGES[stage], "Row head")
    book.name("first_to_give_out", page, "A6:E10")
    book.name("stage_powers", page, "B14:E17")
    page.chart("stages", "A19", (200, 78), ["A13:E17"], kind="column", x_title="stage", y_title="power carried [kW]")
    page.print_page("A1:L%d" % (STAGE_TOP - 1 + 4 * STAGE_HEIGHT), pages_high=2)


# Where the operating point stands that the checks turn round.
TURNED = 23
TURNED_ROWS = 36


def checks(book):
    page = checks_page(
        book,
        [
            ("Isentropic rise, 286.8 K, ratio 8 [°C]", "=COMPRESSOR.TEMPERATURE(13.65;8;1)", 519.5230938 - 273.15, 1e-8,
             "C. Bell, fluids, a Python library: isentropic_T_rise_compression"),
            ("The same at 78 % efficiency [°C]", "=COMPRESSOR.TEMPERATURE(13.65;8;0.78)", 585.1629 - 273.15, 1e-6, "the same"),
            ("Efficiency from temperatures, there and back", "=COMPRESSOR.EFFICIENCY(22;COMPRESSOR.TEMPERATURE(22;2.4;0.74);2.4)", 0.74,
             1e-10, "identity"),
            ("Corrected flow, 250 g/s at 31.85 °C and 96 kPa [g/s]", "=COMPRESSOR.CORRECTED.FLOW(250;31.85;96)", 263.39122, 1e-7,
             "ṁ·√(305/298.15)/0.96, computed apart"),
            ("Turbine balance: expansion ratio", "=TURBINE.PRESSURE.RATIO(214;849.85;COMPRESSOR.POWER(200;25;2.2;0.74);0.70)", 1.55361642,
             1e-6, "shaft power balance, computed apart; κ = 1.34, 1150 J/(kg·K)"),
            ("1 m/s in a pipe of 1 m, sea level, 15 °C [m/s]", "=PIPE.VELOCITY(962.1128;1000;15;101.325)", 1.0, 1e-4,
             "ISO 2533: 1.225 kg/m³"),
            ("Speed of sound at 15 °C [m/s]", "=PIPE.VELOCITY(100;60;15;101.325)/PIPE.MACH(100;60;15;101.325)", 340.294, 1e-4, "ISO 2533"),
            ("Cooler: 136.85 °C to 61.25 °C, coolant 31.85 °C", "=CHARGE.EFFECTIVENESS(136.85;61.25;31.85)", 0.72, 1e-10,
             "Incropera & DeWitt, definition of the effectiveness"),
            ("Efficiency at a point as digitised", "=COMPRESSOR.MAP.EFFICIENCY(map;$Inputs.B46;$Inputs.C46)", "=$Inputs.D46", 1e-6,
             "identity: the map goes through its points"),
            ("Boost is manifold over station pressure [bar]", quantity("boost", point_column(3, 4)),
             "=(%s-station_pressure)/100" % quantity("manifold pressure", point_column(3, 4))[1:], 1e-9, "identity"),
            ("Charge temperature by the cooler alone [°C]",
             "=CHARGE.TEMPERATURE(%s;air_temperature;$Inputs.C29)" % quantity("compressor outlet temperature", point_column(3, 4))[1:],
             quantity("manifold temperature", point_column(3, 4)), 1e-9, "identity: the chain against CHARGE.TEMPERATURE"),
            ("Stage 2 on E20, turned round: share of the weakest part used", 
             '=SUMPRODUCT(MAX((RIGHT($A${a}:$A${b};10)="share used")*IF(ISNUMBER($B${a}:$B${b});$B${a}:$B${b};0)))'.format(
                 a=TURNED, b=TURNED + TURNED_ROWS - 1), 1.0, 1e-6,
             "identity: BUILD.POINT at the power of BUILD.LIMITS"),
        ],
    )
    page.section("A%d:F%d" % (TURNED - 1, TURNED - 1), "Stage 2 on E20, turned round: the operating point at the power of its weakest part")
    page.array("A%d:C%d" % (TURNED, TURNED + TURNED_ROWS - 1),
               "=BUILD.POINT(%s;INDEX(stage_powers;2;3);stage_speed;INDEX(fuel_ethanol;1;3);day;%s)"
               % (engine_block(2), parts_area(1)), "Computed", "0.000")
    return page
