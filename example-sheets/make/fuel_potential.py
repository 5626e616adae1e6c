# SPDX-License-Identifier: Apache-2.0
"""fuel-potential.fods: what a fuel lets an engine do: spark, boost and power, anchored on one measured map."""

from com.sun.star.chart.ChartAxisPosition import START

from bulk import fill
from paper import Book, about_page, checks_page, column_name

TITLE = "Fuel potential"
PLAIN_STATEMENT = (
    "A model of a cycle is no substitute for knock detection, exhaust temperature and lambda measured on the rollers. It plans and "
    "cross-checks; it does not calibrate an engine. Raise boost and spark in small steps with all three watched, and stop at the first "
    "sign of knock."
)
FUELS = ["95 RON", "98 RON", "E20", "E85"]
ETHANOL = [0.0, 0.0, 0.20, 0.80]
RON = [95, 98, 98, 95]
MON = [85, 88, 88, 85]
LAMBDA = [0.83, 0.84, 0.84, 0.86]
SHARES = [5 * k for k in range(18)]
SPARKS = [2 * k - 10 for k in range(24)]
TRACE_STEP, TRACE_ROWS = 2, 136

ENGINE = [
    ("bore", 86, "mm", "0.0", 20, 300, ""),
    ("stroke", 86, "mm", "0.0", 20, 300, ""),
    ("rod length", 146, "mm", "0.0", 30, 600, "Centre to centre."),
    ("cylinders", 4, "", "0", 1, 24, ""),
    ("compression ratio", 9.6, "", "0.0", 4, 25, "Geometric."),
    ("volumetric efficiency", 0.95, "", "0 %", 0.2, 1.5, "Referred to the manifold."),
    ("coolant temperature", 90, "°C", "0", 0, 150, ""),
]
ENGINE_FIRST = 7
POINT = [
    ("Engine speed", 5000, "rpm", "engine_speed", 500, 12000, "0", ""),
    ("Charge temperature in the manifold", 45, "°C", "charge_temperature", -20, 150, "0", "Measured at full load."),
    ("Manifold pressure for the comparison, absolute", 190, "kPa", "manifold_pressure", 60, 600, "0", "For the pressure traces and the spark limits."),
    ("Surroundings", 98, "kPa", "ambient_pressure", 60, 110, "0.0", "Station pressure; only to show the boost."),
    ("Latest 50 % burned angle", 24, "°", "latest_half_burned", 0, 50, "0", "After top dead centre; later, the exhaust runs too hot."),
    ("Highest manifold pressure, absolute", 340, "kPa", "highest_manifold", 60, 1000, "0", "What the compressor gives."),
    ("Highest peak pressure", 140, "bar", "highest_peak", 20, 400, "0", "What pistons, rods and head gasket are trusted with."),
    ("Highest exhaust temperature", 1250, "°C", "highest_exhaust", 300, 1500, "0", "Of the gas as it leaves the cylinder; a probe downstream shows less."),
]
POINT_FIRST = ENGINE_FIRST + len(ENGINE) + 2
MEASURED_FIRST = POINT_FIRST + len(POINT) + 2
FUEL_FIRST = MEASURED_FIRST + 12


def build(desktop, version):
    book = Book(desktop, TITLE, "What a fuel lets an engine do: spark, boost and power, anchored on one measured map")
    book.version = version
    book.doc.enableAutomaticCalculation(False)
    about_page(
        book,
        [
            PLAIN_STATEMENT,
            "For planning: the same hardware makes different power on different fuels, since octane number, charge cooling, stoichiometry "
            "and heating value differ. The sheet computes the cycle of one cylinder and its knock, put on one map that the shop has "
            "measured, and from there says what spark, boost and power the other fuels allow.",
            "What the model leaves out: the exchange of gas is a filling and a back pressure, the burn a Wiebe curve, knock an integral of "
            "Livengood and Wu with the delay of Douaud and Eyzat. Above an octane number of about 100 that delay was never measured: "
            "figures for ethanol-rich fuel are an extrapolation, and the sheet says so.",
        ],
        [
            "Inputs: engine, operating point, bounds, the measured map, the fuels.",
            "Potential: spark limit, boost limit and power of each fuel, and the charts.",
            "Behind: the numbers of the charts. Nothing to type.",
            "Checks: expected values against computed ones. If one differs, do not use the figures.",
        ],
        "The engine, its measured map and its bounds are invented. Replace them with your own.",
    )
    inputs(book)
    page = potential(book)
    behind(book)
    book.doc.calculateAll()  # a chart tells heads from numbers by what the cells hold when it is made
    charts(page)
    checks(book)
    book.move_before("Behind", "Potential")
    book.doc.enableAutomaticCalculation(True)
    return book


def inputs(book):
    page = book.sheet("Inputs", [88, 26, 26, 26, 26, 40])
    page.put("A1", "Inputs", "Page title")
    page.put("A2", "All data on this page are invented.", "Subtitle")
    page.merge("A3:F3", PLAIN_STATEMENT, "Caution", 9)
    page.section("A5:F5", "The engine")
    page.heads("A6", ["", "value", "unit"], height=6)
    for index, (label, value, unit, code, low, high, note) in enumerate(ENGINE):
        row = ENGINE_FIRST + index
        page.put("A%d" % row, label, "Label")
        page.input("B%d" % row, value, code, None, low, high)
        page.put("C%d" % row, unit, "Unit")
        page.merge("D%d:F%d" % (row, row), note, "Remark")
    book.name("engine_bare", page, "A%d:C%d" % (ENGINE_FIRST, ENGINE_FIRST + len(ENGINE) - 1))

    page.section("A%d:F%d" % (POINT_FIRST - 1, POINT_FIRST - 1), "Operating point and bounds")
    for index, (label, value, unit, name, low, high, code, note) in enumerate(POINT):
        row = POINT_FIRST + index
        page.put("A%d" % row, label, "Label")
        page.input("B%d" % row, value, code, name, low, high)
        page.put("C%d" % row, unit, "Unit")
        page.merge("D%d:F%d" % (row, row), note, "Remark")

    first = MEASURED_FIRST
    page.section("A%d:F%d" % (first - 1, first - 1), "The one measured map: a full-load point at the limit of knock")
    measured = [
        ("Fuel of the measured map", "98 RON", "", "measured_fuel", "fuels", None, None, ""),
        ("Engine speed", 5000, "rpm", "measured_speed", 500, 12000, "0", ""),
        ("Manifold pressure, absolute", 185, "kPa", "measured_manifold", 60, 600, "0", ""),
        ("Charge temperature", 45, "°C", "measured_charge", -20, 150, "0", ""),
        ("Lambda", 0.84, "", "measured_lambda", 0.6, 1.3, "0.00", ""),
        ("Spark at which it began to knock, before top dead centre", 19.0, "°", "measured_spark", -20, 60, "0.0", "By knock detection, on the rollers."),
        ("Power at the crank there", 158, "kW", "measured_power", 1, 3000, "0.0", "Not corrected, as the engine made it."),
        ("Put the model on this map", "yes", "", "calibrated", ["yes", "no"], None, None, "no: the textbook model as it is."),
    ]
    for index, (label, value, unit, name, low, high, code, note) in enumerate(measured):
        row = first + index
        page.put("A%d" % row, label, "Label")
        if code is None:
            page.input("B%d" % row, value, name=name, choices=low)
        else:
            page.input("B%d" % row, value, code, name, low, high)
        page.put("C%d" % row, unit, "Unit")
        page.merge("D%d:F%d" % (row, row), note, "Remark")
    row = first + len(measured)
    point = "engine_bare;measured_speed;measured_manifold;measured_charge;measured_spark"
    mixture = "fuel_measured;measured_lambda"
    page.put("A%d" % row, "Octane offset, computed", "Label")
    page.put("B%d" % row, '=IF(calibrated="yes";KNOCK.CALIBRATE(%s;%s);0)' % (point, mixture), "Computed", "0.00", "octane_offset")
    page.merge("C%d:F%d" % (row, row), '=IF(FUNCTION.WHY(octane_offset)="";"Octane numbers by which this engine asks less than the model.";'
               'FUNCTION.WHY(octane_offset))', "Remark")
    page.put("A%d" % (row + 1), "Efficiency factor, computed", "Label")
    page.put("B%d" % (row + 1), '=IF(calibrated="yes";CYCLE.EFFICIENCY.FACTOR(%s;measured_power;%s);1)' % (point, mixture), "Computed", "0.000", "efficiency_factor")
    page.merge("C%d:F%d" % (row + 1, row + 1), "Factor on the work of the cycle that gives the measured power.", "Remark")

    first = FUEL_FIRST
    page.section("A%d:F%d" % (first - 1, first - 1), "The fuels")
    page.put("A%d" % first, "", "Column head")
    for fuel, name in enumerate(FUELS):
        page.input("%s%d" % (column_name(1 + fuel), first), name)
    book.name("fuels", page, "B%d:E%d" % (first, first))
    fuels = [
        ("Ethanol by volume, measured", ETHANOL, "0 %", 0, 1, "Pumps sell 51 to 83 % as E85: measure."),
        ("RON of the gasoline part", RON, "0.0", 60, 130, "Not AKI: a 93 on a US pump is not 93 RON."),
        ("MON of the gasoline part", MON, "0.0", 60, 130, ""),
        ("Lambda at full load", LAMBDA, "0.00", 0.6, 1.3, ""),
    ]
    for index, (label, values, code, low, high, note) in enumerate(fuels):
        row = first + 1 + index
        page.put("A%d" % row, label, "Label")
        for fuel, value in enumerate(values):
            page.input("%s%d" % (column_name(1 + fuel), row), value, code, None, low, high)
        page.put("F%d" % row, note, "Remark")
        if note:
            page.height("A%d" % row, 8)
    for name, offset in (("fuel_ethanol", 1), ("fuel_ron", 2), ("fuel_mon", 3), ("fuel_lambda", 4)):
        book.name(name, page, "B%d:E%d" % (first + offset, first + offset))
    page.put("A%d" % (first + 6), "RON of the gasoline that ethanol is blended into", "Label")
    page.input("B%d" % (first + 6), 95, "0.0", "blend_ron", 60, 130)
    page.put("A%d" % (first + 7), "Lambda of the blends", "Label")
    page.input("B%d" % (first + 7), 0.84, "0.00", "blend_lambda", 0.6, 1.3)
    page.merge("C%d:F%d" % (first + 6, first + 7), "For the chart over the ethanol share from 0 to 85 %.", "Remark")
    page.put("A%d" % (first + 8), "Power shown in", "Label")
    page.input("B%d" % (first + 8), "PS", name="power_unit", choices=["kW", "PS", "hp"])
    page.print_page("A1:F%d" % (first + 8))


def cycle(fuel, pressure="manifold_pressure", spark=None):
    """The arguments of a CYCLE function for one of the fuels."""
    return "engine;engine_speed;%s;charge_temperature;%sfuel_%d;INDEX(fuel_lambda;1;%d)" % (pressure, spark + ";" if spark else "", fuel, fuel)


def potential(book):
    page = book.sheet("Potential", [62, 31, 31, 31, 31])
    page.put("A1", "Fuel potential", "Page title")
    page.put("A2", '="At "&engine_speed&" rpm, charge at "&charge_temperature&" °C; put on the measured map: "&calibrated&". All data in this '
             'example are invented."', "Subtitle")
    page.merge("A3:E3", PLAIN_STATEMENT, "Caution", 13)
    page.heads("A4", ["", *["=INDEX(fuels;1;%d)" % (fuel + 1) for fuel in range(4)]], height=6)
    sections = [
        ("The fuel", [
            ("Octane number of the blend, RON", "=FUEL.OCTANE(INDEX(fuel_ron;1;{f});INDEX(fuel_ethanol;1;{f}))", "0.0"),
            ("Charge cooling, all fuel evaporated [K]", "=FUEL.CHARGE.COOLING(fuel_{f};INDEX(fuel_lambda;1;{f});1;charge_temperature)", "0.0"),
            ("Stoichiometric air [kg/kg]", "=FUEL.STOICH(fuel_{f})", "0.00"),
            ("Heating value [MJ/kg]", "=FUEL.HEATING.VALUE(fuel_{f})", "0.0"),
        ]),
        ('="At "&manifold_pressure&" kPa in the manifold"', [
            ("Spark: limit of knock or best torque [° before TDC]", "=KNOCK.SPARK.LIMIT(%s)" % cycle(0).replace("fuel_0", "fuel_{f}").replace(";0)", ";{f})"), "0.0"),
            ("Torque [N·m]", "=INDEX($Behind.{trace}$4:{trace}$24;4)", "0"),
            ("Power", "=UNIT.CONVERT(INDEX($Behind.{trace}$4:{trace}$24;5);\"kW\";power_unit)", "0"),
            ("Peak pressure [bar]", "=INDEX($Behind.{trace}$4:{trace}$24;6)", "0.0"),
            ("Half burned [° after TDC]", "=INDEX($Behind.{trace}$4:{trace}$24;8)", "0.0"),
            ("Exhaust temperature [°C]", "=INDEX($Behind.{trace}$4:{trace}$24;10)", "0"),
        ]),
        ("At the highest boost within the bounds", [
            ("Manifold pressure, absolute [kPa]", "=INDEX($Behind.{limit}$28:{limit}$33;1)", "0"),
            ("Boost over the surroundings [bar]", '=UNIT.CONVERT(INDEX($Behind.{limit}$28:{limit}$33;1)-ambient_pressure;"kPa";"bar")', "0.00"),
            ("Torque [N·m]", "=INDEX($Behind.{limit}$28:{limit}$33;2)", "0"),
            ("Power", '=UNIT.CONVERT(INDEX($Behind.{limit}$28:{limit}$33;3);"kW";power_unit)', "0"),
            ("Spark [° before TDC]", "=INDEX($Behind.{limit}$28:{limit}$33;4)", "0.0"),
            ("Exhaust temperature [°C]", "=INDEX($Behind.{limit}$28:{limit}$33;5)", "0"),
            ("What limits", "=INDEX($Behind.{limit}$28:{limit}$33;6)", None),
        ]),
    ]
    row = 5
    for title, lines in sections:
        page.section("A%d:E%d" % (row, row), title)
        row += 1
        for label, formula, code in lines:
            if label == "Power":
                label = '="Power ["&power_unit&"]"'
            page.put("A%d" % row, label, "Row head")
            for fuel in range(4):
                letter = column_name(1 + fuel)
                page.put("%s%d" % (letter, row), formula.format(f=fuel + 1, trace=letter, limit=letter), "Computed text", code)
            if "Spark: limit" in label:
                book.name("spark_limits", page, "B%d:E%d" % (row, row))
            row += 1
    # rows: the fuel 6-9, spark 11, torque 12, power 13, …, boost limit 18-24
    page.merge("A%d:E%d" % (row, row), '="To be said: "&' + "&".join(
        'IF(FUNCTION.WHY(%s11)="";"";INDEX(fuels;1;%d)&": "&FUNCTION.WHY(%s11)&". ")' % (column_name(1 + fuel), fuel + 1, column_name(1 + fuel))
        for fuel in range(4)) + '&IF(AND(' + ";".join('FUNCTION.WHY(%s11)=""' % column_name(1 + fuel) for fuel in range(4)) + ');"nothing.";"")',
        "Remark", 9)
    page.print_page("A1:E%d" % (CHARTS_ROW + 1))
    page.for_customer("A1:E%d" % (CHARTS_ROW + 1))
    return page


CHARTS_ROW = 26  # below the tables of the page


def charts(page):
    row = CHARTS_ROW
    page.height("A%d" % row, 67)
    page.height("A%d" % (row + 1), 67)
    trace = page.chart("trace_chart", "A%d" % row, (92, 66), ["$Behind.G27:K%d" % (27 + TRACE_ROWS)],
                       title="Pressure in the cylinder at the spark limit", x_title="crank angle after TDC [°]", y_title="pressure [bar]",
                       x_range=(-90, 120))
    knock = page.chart("knock_chart", "C%d" % row, (92, 66), ["$Behind.M27:Q%d" % (27 + len(SPARKS))],
                       title="Knock integral, 1 is the onset", x_title="spark before TDC [°]", y_title="knock integral [–]",
                       y_range=(0, 3))
    for chart in (trace, knock):
        chart.getDiagram().YAxis.CrossoverPosition = START
    limits = page.chart("blend_chart", "A%d" % (row + 1), (92, 66), ["$Behind.S27:U%d" % (27 + len(SHARES))], title="Limits over the ethanol share",
                        x_title="ethanol by volume [%]", y_title="spark [° before TDC]", x_range=(0, 85))
    second_axis(limits, 1, "manifold pressure [kPa]")
    page.chart("power_chart", "C%d" % (row + 1), (92, 66), ["$Behind.A36:C40"], kind="column", title="Power by fuel", y_title="power [kW]")


def second_axis(chart, index, title):
    """Draws one series of an xy chart against an axis of its own on the right."""
    diagram = chart.getDiagram()
    diagram.HasSecondaryYAxis = True
    diagram.SecondaryYAxis.CharHeight = 8.5
    diagram.HasSecondaryYAxisTitle = True
    diagram.SecondYAxisTitle.String = title
    diagram.SecondYAxisTitle.CharHeight = 9
    series = chart.getFirstDiagram().getCoordinateSystems()[0].getChartTypes()[0].getDataSeries()
    series[index].setPropertyValue("AttachedAxisIndex", 1)


def behind(book):
    page = book.sheet("Behind", [60] + [32] * 4 + [24] * 31)
    page.put("A1", "Behind", "Page title")
    page.section("A2:E2", "The cycle at the spark limit, at the manifold pressure for the comparison")
    page.heads("A3", ["", *["=INDEX(fuels;1;%d)" % (fuel + 1) for fuel in range(4)]], height=6)
    for fuel in range(4):
        letter = column_name(1 + fuel)
        arguments = cycle(fuel + 1, spark="INDEX(spark_limits;1;%d)" % (fuel + 1))
        page.array("%s4:%s24" % (letter, letter), "=INDEX(CYCLE.RESULT(%s);0;2)" % arguments, "Computed", "0.000")
    page.array("A4:A24", "=INDEX(CYCLE.RESULT(%s);0;1)" % cycle(1, spark="INDEX(spark_limits;1;1)"), "Row head")
    page.section("A26:E26", "The highest boost within the bounds")
    page.heads("A27", ["", *["=INDEX(fuels;1;%d)" % (fuel + 1) for fuel in range(4)]], height=6)
    bounds = "latest_half_burned;highest_manifold;highest_peak;highest_exhaust"
    for index, label in enumerate(["manifold pressure [kPa]", "torque [N·m]", "power [kW]", "spark [° before TDC]", "exhaust temperature [°C]",
                                   "what limits"]):
        page.put("A%d" % (28 + index), label, "Row head")
    for fuel in range(4):
        letter = column_name(1 + fuel)
        call = "KNOCK.BOOST.LIMIT(engine;engine_speed;charge_temperature;fuel_%d;INDEX(fuel_lambda;1;%d);%s)" % (fuel + 1, fuel + 1, bounds)
        page.array("%s28:%s33" % (letter, letter), "=INDEX(%s;ROW($A$2:$A$7);2)" % call, "Computed", "0.0")
    page.heads("A36", ["power [kW]", '="at "&manifold_pressure&" kPa"', "at the boost limit"], height=9)
    for fuel in range(4):
        letter = column_name(1 + fuel)
        page.put("A%d" % (37 + fuel), "=INDEX(fuels;1;%d)" % (fuel + 1), "Row head")
        page.put("B%d" % (37 + fuel), "=%s8" % letter, "Computed", "0")
        page.put("C%d" % (37 + fuel), "=%s30" % letter, "Computed", "0")

    # The engine put on the measured map, and the fuels as blocks.
    page.section("A43:C43", "The engine, put on the measured map")
    for index in range(len(ENGINE)):
        r = 44 + index
        page.put("A%d" % r, "=$Inputs.A%d" % (ENGINE_FIRST + index), "Label")
        page.put("B%d" % r, "=$Inputs.B%d" % (ENGINE_FIRST + index), "Computed")
        page.put("C%d" % r, '=$Inputs.C%d&""' % (ENGINE_FIRST + index), "Unit")
    end = 44 + len(ENGINE)
    page.put("A%d" % end, "octane offset", "Label")
    page.put("B%d" % end, "=octane_offset", "Computed", "0.00")
    page.put("A%d" % (end + 1), "efficiency factor", "Label")
    page.put("B%d" % (end + 1), "=efficiency_factor", "Computed", "0.000")
    book.name("engine", page, "A44:C%d" % (end + 1))
    row = end + 4
    page.section("A%d:B%d" % (row - 1, row - 1), "The fuels as blocks")
    for fuel in range(5):  # the fifth is that of the measured map
        which = str(fuel + 1) if fuel < 4 else "MATCH(measured_fuel;fuels;0)"
        for index, (label, name) in enumerate((("ethanol share", "fuel_ethanol"), ("RON", "fuel_ron"), ("MON", "fuel_mon"))):
            page.put("A%d" % (row + index), label, "Label")
            page.put("B%d" % (row + index), "=INDEX(%s;1;%s)" % (name, which), "Computed", "0.00")
        book.name("fuel_%d" % (fuel + 1) if fuel < 4 else "fuel_measured", page, "A%d:B%d" % (row, row + 2))
        row += 4

    page.section("G26:K26", "Pressure [bar] over the crank angle [° after TDC]")
    page.heads("G27", ["angle [°]", *["=INDEX(fuels;1;%d)" % (fuel + 1) for fuel in range(4)]])
    last = 27 + TRACE_ROWS
    rows = range(28, last + 1)
    for fuel in range(1, 5):  # the rows of a trace lie between its own events: brought to the same angles
        trace = "CYCLE.TRACE(%s;1)" % cycle(fuel, spark="INDEX(spark_limits;1;%d)" % fuel)
        angle, pressure = column_name(24 + 2 * fuel), column_name(25 + 2 * fuel)
        page.array("%s27:%s%d" % (angle, pressure, last),
                   "=PULL.RESAMPLE(INDEX(%s;0;1);INDEX(%s;0;3);-140;%d;%d)" % (trace, trace, -140 + TRACE_STEP * (TRACE_ROWS - 1), TRACE_STEP),
                   "Computed", "0.00")
        fill(page, "%s28" % column_name(6 + fuel), [["=%s%d" % (pressure, row)] for row in rows], "Computed", "0.00")
    fill(page, "G28", [["=AA%d" % row] for row in rows], "Computed", "0")

    page.section("M26:Q26", "Knock integral over the spark [° before TDC]")
    page.heads("M27", ["spark [°]", *["=INDEX(fuels;1;%d)" % (fuel + 1) for fuel in range(4)]])
    last = 27 + len(SPARKS)
    fill(page, "M28", [[spark] for spark in SPARKS], "Computed", "0")
    for fuel in range(4):
        letter = column_name(13 + fuel)
        page.array("%s28:%s%d" % (letter, letter, last), "=KNOCK.INTEGRAL(%s)" % cycle(fuel + 1, spark="M28:M%d" % last), "Computed", "0.000")

    page.section("S26:U26", "Limits over the ethanol share")
    page.heads("S27", ["ethanol [%]", "spark limit", "manifold pressure limit"], height=9)
    limits, blends = [], []
    for index, share in enumerate(SHARES):
        blend = "$W$%d:$X$%d" % (28 + 3 * index, 29 + 3 * index)
        limits.append([
            share,
            "=KNOCK.SPARK.LIMIT(engine;engine_speed;manifold_pressure;charge_temperature;%s;blend_lambda)" % blend,
            "=INDEX(KNOCK.BOOST.LIMIT(engine;engine_speed;charge_temperature;%s;blend_lambda;%s);2;2)" % (blend, bounds)])
        blends += [["ethanol share", "=S%d/100" % (28 + index)], ["RON", "=blend_ron"], ["", ""]]
    fill(page, "S28", limits, "Computed", "0.0")
    fill(page, "W28", blends, "Computed", "0.00")
    page.print_page("A1:U%d" % (27 + TRACE_ROWS), landscape=True, pages_high=4)


def checks(book):
    measured = "measured_speed;measured_manifold;measured_charge;measured_spark;fuel_measured;measured_lambda"
    low_load, low_load_mixture = "engine_bare;1500;95;45", "fuel_4;0.85"
    checks_page(
        book,
        [
            ("91 RON with 30 % ethanol of 108.5 RON", "=FUEL.OCTANE(91;0.3;108.5)", 99.92322, 6e-8, "Anderson et al. 2012, linear on the molar share"),
            ("Stoichiometry of isooctane", "=FUEL.STOICH.FORMULA(8;18)", 15.13, 1e-3, "Heywood 1988, table D.4, from memory"),
            ("Stoichiometry of ethanol", "=FUEL.STOICH.FORMULA(2;6;1)", 9.00, 1e-3, "Heywood 1988, table D.4, from memory"),
            ("Heating value of ethanol [BTU/lb]", '=FUEL.HEATING.VALUE(1;"BTU/lb")', 11585.0, 0.01,
             "U.S. Department of Energy, Alternative Fuels Data Center, fuel properties"),
            ("Best torque at 1500 rpm, 95 kPa: half burned [°]", "=INDEX(CYCLE.RESULT({p};KNOCK.SPARK.LIMIT({p};{m});{m});8;2)".format(
                p=low_load, m=low_load_mixture), 9.0, 0.25,
             "Heywood 1988, sections 9.3 and 15.3: near 8 to 10° after top dead centre, from memory"),
            ("Displacement of bore 86, stroke 86, four cylinders [L]", "=ENGINE.DISPLACEMENT(86;86;4)", 1.998229, 3e-7, "π/4·d²·s·z"),
            ("The measured map lies on the limit: knock integral", '=IF(calibrated="yes";KNOCK.INTEGRAL(engine;%s);1)' % measured, 1.0, 1e-3,
             "identity: what the octane offset is for"),
            ("The measured map gives its power [kW over kW]", '=IF(calibrated="yes";INDEX(CYCLE.RESULT(engine;%s);5;2)/measured_power;1)' % measured, 1.0, 1e-6,
             "identity: what the efficiency factor is for"),
            ("Torque and power of the first fuel belong together", "=ENGINE.TORQUE($Behind.B8;engine_speed)/$Behind.B7", 1.0, 1e-9, "P = T·ω"),
            ("Knock integral at the spark limit, not above 1", '=IF(MAX(%s)<1.001;"yes";"no")' % ";".join("$Behind.%s14" % c for c in "BCDE"), "yes", 0,
             "identity; holds for any inputs"),
            ("Ethanol raises the boost that knock allows", '=IF($Behind.U45>=$Behind.U28;"yes";"no")', "yes", 0,
             "Stein, Polovina, Roth et al., SAE 2012-01-1277, from memory"),
            ("Speed leaves less time to knock",
             '=IF(KNOCK.INTEGRAL(engine;6000;180;45;5;fuel_1;0.84)<KNOCK.INTEGRAL(engine;3000;180;45;5;fuel_1;0.84);"yes";"no")', "yes", 0,
             "Heywood 1988, section 9.6"),
            ("Later spark, hotter exhaust",
             '=IF(INDEX(CYCLE.RESULT(engine;4000;160;45;0;fuel_2;0.84);10;2)>INDEX(CYCLE.RESULT(engine;4000;160;45;10;fuel_2;0.84);10;2);"yes";"no")', "yes", 0,
             "Heywood 1988, section 15.3"),
            ("Less octane knocks sooner: the first fuel against the second",
             '=IF(KNOCK.INTEGRAL(engine;4000;160;45;10;fuel_1;0.84)>KNOCK.INTEGRAL(engine;4000;160;45;10;fuel_2;0.84);"yes";"no")', "yes", 0,
             "Heywood 1988, section 9.6.3"),
        ],
    )
