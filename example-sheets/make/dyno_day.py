# SPDX-License-Identifier: Apache-2.0
"""dyno-day.fods: from the raw pulls of a day to figures that hold, and whether a change is real."""

import datetime
import math
import random

from com.sun.star.chart.ChartLegendPosition import RIGHT as LEGEND_RIGHT

from bulk import fill
from paper import CAUTIONS, Book, about_page, checks_page, column_name

TITLE = "Dyno day"
STANDARDS = ["ISO 1585", "SAE J1349", "SAE J607", "DIN 70020", "ECE R85", "80/1269/EEC", "JIS D 1001"]
PULLS = 6
ROLES = ["before", "before", "before", "after", "after", "after"]
AIR = [21.5, 22.0, 22.4, 23.1, 23.6, 23.4]
TIMES = ["10:05", "10:12", "10:19", "14:31", "14:38", "14:46"]
REMARKS = ["", "one row logged twice", "a spike of the load cell near 3900 rpm", "pasted with its heading", "fan stopped half-way", ""]
BAD_PULL = 4  # counted from 0: the charge grows hot when the fan stops

PASTE_FIRST, PASTE_LAST = 6, 245
GRID_FIRST, GRID_ROWS = 6, 93
GRID_LAST = GRID_FIRST + GRID_ROWS - 1

FIGURES = ["mean torque", "peak torque", "peak power"]


def invented_torque(speed, gain):
    """The invented engine as the bench saw it, N·m: spool-up, a plateau, breathing loss; `gain` is added on the plateau."""
    spool = 1.0 / (1.0 + math.exp(-(speed - 2350.0) / 190.0))
    breathing = 1.0 - 0.19 * max(0.0, (speed - 4700.0) / 1900.0) ** 1.6
    return 150.0 + (228.0 + gain) * spool * breathing - 150.0 * (1.0 - breathing)


def invented_pulls():
    """Six pulls with the scatter of a bench: (speed, torque) rows as a log holds them."""
    pulls = []
    for number in range(PULLS):
        noise = random.Random(1585 + number)
        level = 1.0 + [-0.0011, 0.0014, 0.0002, 0.0013, 0.0, -0.0012][number]
        gain = 25.0 if ROLES[number] == "after" else 0.0
        rows = []
        speed = 1960.0 + 6.0 * number
        while speed < 6650.0:
            torque = invented_torque(speed, gain) * level
            torque += 1.1 * math.sin(speed / 173.0 + number)
            if number == BAD_PULL and speed > 3300.0:
                torque *= 1.0 - 0.062 * (1.0 - math.exp(-(speed - 3300.0) / 700.0))
            torque += noise.gauss(0.0, 0.9)
            rows.append((round(speed), round(torque, 1)))
            speed += 50.0 + noise.uniform(-4.0, 4.0)
        if number == 1:
            rows.insert(41, rows[40])
        if number == 2:
            rows[38] = (rows[38][0], 561.4)
        for step in range(1, 6):  # lift-off: the engine brakes, the speed falls
            rows.append((rows[-1][0] - 40 - 12 * step, round(-20.0 - 4.0 * step + noise.gauss(0.0, 1.0), 1)))
        if number == 3:
            rows.insert(0, ("rpm", "N·m"))
        pulls.append(rows)
    return pulls


def build(desktop, version):
    book = Book(desktop, TITLE, "From raw pulls to figures that hold: corrected, compared, and checked against each other")
    book.version = version
    book.doc.enableAutomaticCalculation(False)
    about_page(
        book,
        [
            "For the operator of the rollers: paste up to six pulls, and read corrected curves, peaks, the band of full torque, "
            "whether the pulls repeat, whether the change between before and after is real, and whether rollers, air flow and "
            "injectors tell the same power.",
            "A pull that does not fit the others of its group is named and, if you want it so, left out of all figures. What was "
            "left out of a log (headings, repeated rows, spikes, the tail after lift-off) is said.",
        ],
        [
            "Inputs: weather, standard, what is compared; role and air temperature of each pull; the other witnesses.",
            "Pulls: paste speed and torque as logged, uncorrected. Headings and empty rows do no harm.",
            "Curves: the corrected curves over each other. Nothing to type here.",
            "Day: peaks, bands, repeatability, gain, the best pull under every standard, agreement of the witnesses.",
            "Report: one A4 page of the day for the file or the customer.",
            "Checks: expected values against computed ones. If one differs, do not hand the report out.",
        ],
        "The shop, the car and all pulls of this file are invented, with the scatter of a real bench; pull 5 is spoiled on purpose. "
        "Replace them with your own.",
    )
    inputs(book)
    pulls_page(book)
    curves_page(book)
    day(book)
    book.doc.calculateAll()  # a chart tells heads from numbers by what the cells hold when it is made
    report(book)
    checks(book)
    book.doc.enableAutomaticCalculation(True)
    return book


def labelled_inputs(page, first, rows):
    for index, (label, value, unit, name, low, high, code, note) in enumerate(rows):
        row = first + index
        page.put("A%d" % row, label, "Label")
        if isinstance(low, list):
            page.input("B%d" % row, value, name=name, choices=low)
        else:
            page.input("B%d" % row, value, code, name, low, high)
        page.put("C%d" % row, unit, "Unit")
        page.merge("D%d:G%d" % (row, row), note, "Remark")


def inputs(book):
    page = book.sheet("Inputs", [80] + [29] * 4 + [62, 10])
    page.put("A1", "Inputs", "Page title")
    page.put("A2", "All data on this page are invented.", "Subtitle")
    page.section("A4:G4", "Shop, car, day")
    for index, (label, value, name) in enumerate([
        ("Shop", "Millrace Engine Works (invented)", "shop"),
        ("Car", "Two-litre four-cylinder turbo coupé, rear drive (invented)", "car"),
        ("What was changed between before and after", "Charge cooler and intake pipe", "change"),
    ]):
        row = 5 + index
        page.put("A%d" % row, label, "Label")
        page.range("B%d:E%d" % (row, row)).merge(True)
        page.input("B%d" % row, value, name=name)
        page.style("B%d:E%d" % (row, row), "Input text")
    page.put("A8", "Date", "Label")
    page.input("B8", datetime.date(2026, 11, 18), name="day_of_pulls")

    page.section("A10:G10", "Weather")
    labelled_inputs(page, 11, [
        ("The pressure below is the", "sea-level pressure", "", "pressure_given", ["station pressure", "sea-level pressure"], None, None,
         "A forecast gives the sea-level pressure; the barometer on the wall the station pressure."),
        ("Pressure", 1016, "hPa", "pressure_read", 500, 1100, "0.0", ""),
        ("Elevation of the shop", 310, "m", "elevation", -400, 4000, "0", "Used with a sea-level pressure."),
        ("Relative humidity", 0.48, "", "humidity", 0, 1, "0 %", ""),
    ])
    page.put("A15", "Station pressure", "Label")
    page.put("B15", '=IF(pressure_given="station pressure";UNIT.CONVERT(pressure_read;"hPa";"kPa");'
             'AIR.STATION.PRESSURE(UNIT.CONVERT(pressure_read;"hPa";"kPa");elevation))', "Computed", "0.00", "station_pressure")
    page.put("C15", "kPa", "Unit")
    page.put("A16", "Air density at the mean of the pulls' temperatures", "Label")
    page.put("B16", "=AIR.DENSITY(AVERAGE(air_temperatures);station_pressure;humidity)", "Computed", "0.000", "air_density")
    page.put("C16", "kg/m³", "Unit")
    page.put("A17", "Density altitude", "Label")
    page.put("B17", "=AIR.DENSITY.ALTITUDE(AVERAGE(air_temperatures);station_pressure;humidity)", "Computed", "0", "density_altitude")
    page.put("C17", "m", "Unit")

    page.section("A19:G19", "Correction, curves, comparison")
    labelled_inputs(page, 20, [
        ("Standard for the correction", "ISO 1585", "", "standard", STANDARDS, None, None,
         "Not meant for an engine whose boost control makes up for the air: compare such pulls uncorrected."),
        ("Torque pasted in", "N·m", "", "torque_pasted", ["N·m", "lb-ft"], None, None, "As the bench measured it, not corrected."),
        ("Power shown in", "PS", "", "power_unit", ["kW", "PS", "hp"], None, None, "PS is the metric horsepower, hp the mechanical one."),
        ("Curves from", 2000, "rpm", "curves_from", 0, 20000, "0", ""),
        ("Curves to", 6600, "rpm", "curves_to", 100, 25000, "0", "93 rows between the two."),
        ("Smoothing window", 9, "rows", "smoothing", 3, 91, "0", "Odd; local parabola."),
        ("Figure compared", "mean torque", "", "figure", FIGURES, None, None,
         "A mean over a band scatters less than a peak and shows a change sooner."),
        ("Mean torque from", 3000, "rpm", "mean_from", 0, 20000, "0", ""),
        ("Mean torque to", 6000, "rpm", "mean_to", 100, 25000, "0", ""),
        ("Band of full torque: share of the peak", 0.9, "", "band_share", 0.1, 0.99, "0 %", ""),
        ("Confidence of all statements", 0.95, "", "confidence", 0.5, 0.9999, "0.0 %", ""),
        ("Standard uncertainty of one pull", 0.004, "", "pull_uncertainty", 0.0001, 0.1, "0.0 %",
         "How far pulls of one car scatter on this bench; a pull farther off stands out."),
        ("Leave out a pull that stands out", "yes", "", "leave_out", ["yes", "no"], None, None,
         "The farthest of a group of three or more."),
    ])

    page.section("A34:G34", "The six pulls")
    page.heads("A35", ["pull", "role", "", "time", "air at intake [°C]", "remark of the operator"], height=7)
    for pull in range(PULLS):
        row = 36 + pull
        page.put("A%d" % row, "Pull %d" % (pull + 1), "Row head")
        page.input("B%d" % row, ROLES[pull], choices=["before", "after", "not used"])
        page.input("D%d" % row, TIMES[pull])
        page.input("E%d" % row, AIR[pull], "0.0", None, -30, 60)
        page.input("F%d" % row, REMARKS[pull])
        page.style("F%d" % row, "Input text")
    book.name("roles", page, "B36:B41")
    book.name("air_temperatures", page, "E36:E41")

    page.section("A43:G43", "The other witnesses of the best pull, at its peak power")
    page.heads("A44", ["", "value", "unit", "standard uncertainty"], height=9)
    witnesses = [
        ("Rollers: standard uncertainty of the power", None, "", 0.025, "0.0 %", "", "", "Calibration, tyres, loss measured."),
        ("Air flow", 217.0, "g/s", 6.0, "0.0", "0.0", "air_flow", "Logged at peak power."),
        ("Lambda", 0.84, "", 0.012, "0.00", "0.000", "lambda", ""),
        ("Brake efficiency", 0.30, "", 0.008, "0.0 %", "0.0 %", "efficiency", "From a measured fuel flow of this engine."),
        ("Ethanol by volume, measured", 0.05, "", None, "0 %", None, "ethanol", ""),
        ("Injector duty", 0.84, "", 0.01, "0 %", "0 %", "duty", "Logged at peak power."),
        ("Injectors: count", 4, "", None, "0", None, "injector_count", ""),
        ("Injectors: rated flow", 440, "cc/min", 9, "0", "0", "rated_flow", "Each; n-heptane, 684 kg/m³."),
        ("Injectors: rated pressure", 3.0, "bar", None, "0.0", None, "rated_pressure", "Over the manifold."),
        ("Fuel pressure over the manifold", 4.0, "bar", 0.08, "0.0", "0.00", "fuel_pressure", "By the shop's own gauge, or as assumed."),
        ("Fuel temperature in the rail", 35, "°C", None, "0", None, "fuel_temperature", ""),
    ]
    for index, (label, value, unit, uncertainty, code, uncertainty_code, name, note) in enumerate(witnesses):
        row = 45 + index
        page.put("A%d" % row, label, "Label")
        if value is not None:
            page.input("B%d" % row, value, code, name, 0, 10000)
        page.put("C%d" % row, unit, "Unit")
        if uncertainty is not None:
            page.input("D%d" % row, uncertainty, uncertainty_code or "0.0 %", (name or "rollers") + "_uncertainty", 0, 1000)
        page.merge("E%d:G%d" % (row, row), note, "Remark")
    page.print_page("A1:G55")


def pulls_page(book):
    page = book.sheet("Pulls", [21] * 12)
    page.put("A1", "Pulls", "Page title")
    page.put("A2", "Paste each log below its heading: speed and torque, not corrected, up to 240 rows. All rows here are invented.", "Subtitle")
    data = invented_pulls()
    for pull in range(PULLS):
        speed, torque = column_name(2 * pull), column_name(2 * pull + 1)
        page.section("%s4:%s4" % (speed, torque), "Pull %d" % (pull + 1))
        page.put("%s5" % speed, "speed [rpm]", "Column head")
        page.put("%s5" % torque, '="torque ["&torque_pasted&"]"', "Column head")
        page.style("%s%d:%s%d" % (speed, PASTE_FIRST, torque, PASTE_LAST), "Input")
        fill(page, "%s%d" % (speed, PASTE_FIRST), data[pull])
        page.range("%s%d:%s%d" % (torque, PASTE_FIRST, torque, PASTE_LAST)).NumberFormat = book.number_format("0.0")
        book.name("pull_%d_speed" % (pull + 1), page, "%s%d:%s%d" % (speed, PASTE_FIRST, speed, PASTE_LAST))
        book.name("pull_%d_torque" % (pull + 1), page, "%s%d:%s%d" % (torque, PASTE_FIRST, torque, PASTE_LAST))
    longest = max(len(rows) for rows in data)
    page.print_page("A1:L%d" % (PASTE_FIRST + longest), pages_high=2, repeat_rows="A4:L5")


def curves_page(book):
    page = book.sheet("Curves", [17] * 32)
    page.put("A1", "Curves", "Page title")
    page.put("A2", '="Corrected to "&standard&"; smoothed over "&smoothing&" rows. Pulls that stand out are shown too."', "Subtitle")
    first, last = GRID_FIRST, GRID_LAST
    heads = ["speed [rpm]"]
    heads += 2 * ["Pull %d" % (pull + 1) for pull in range(PULLS)]
    page.section("A4:A4", "")
    page.section("B4:G4", "Torque, corrected [N·m]")
    page.section("H4:M4", "Power, corrected [kW]")
    page.section("O4:AF4", "Behind the curves: each pull at equal steps of speed, then smoothed, both as pasted")
    page.heads("A5", heads, height=10)
    fill(page, "A%d" % first, [["=curves_from+%d*(curves_to-curves_from)/%d" % (index, GRID_ROWS - 1)] for index in range(GRID_ROWS)],
         "Computed", "0")
    book.name("grid_speed", page, "A%d:A%d" % (first, last))
    for pull in range(PULLS):
        n = pull + 1
        raw_speed, raw = column_name(14 + 2 * pull), column_name(15 + 2 * pull)
        smooth = column_name(26 + pull)
        torque, power = column_name(1 + pull), column_name(7 + pull)
        page.array("%s5:%s%d" % (raw_speed, raw, last),
                   '=IF(COUNT(pull_%d_speed)<10;"";PULL.RESAMPLE(pull_%d_speed;pull_%d_torque;curves_from;curves_to;'
                   '(curves_to-curves_from)/%d))' % (n, n, n, GRID_ROWS - 1), "Computed", "0.0")
        page.array("%s5:%s%d" % (smooth, smooth, last),
                   '=IF(COUNT(%s%d:%s%d)<smoothing;"";PULL.SMOOTH(%s%d:%s%d;smoothing))' % (raw, first, raw, last, raw, first, raw, last),
                   "Computed", "0.0")
        rows = range(first, last + 1)
        fill(page, "%s%d" % (torque, first), [
            ['=IF(ISNUMBER(%s%d);%s%d*torque_in_newton_metres*INDEX(factors;%d);"")' % (smooth, row, smooth, row, n)] for row in rows],
            "Computed", "0.0")
        fill(page, "%s%d" % (power, first), [
            ['=IF(ISNUMBER(%s%d);ENGINE.POWER(%s%d;A%d);"")' % (torque, row, torque, row, row)] for row in rows],
            "Computed", "0.0")
        book.name("torque_%d" % n, page, "%s%d:%s%d" % (torque, first, torque, last))
        book.name("power_%d" % n, page, "%s%d:%s%d" % (power, first, power, last))
    page.put("A%d" % (last + 2), '=UNIT.CONVERT(1;torque_pasted;"N·m")', "Computed", "0.0000", "torque_in_newton_metres")
    page.put("B%d" % (last + 2), '="N·m for 1 "&torque_pasted', "Unit")
    page.print_page("A1:M%d" % (last + 2))


# Columns of the table of pulls on the page "Day".
PULL_ROW = 7  # of the first pull


def day(book):
    page = book.sheet("Day", [23] * 12 + [34, 80] + [6] + [34] * 5 + [24] * 4)
    page.put("A1", "Day", "Page title")
    page.put("A2", '="Station pressure "&FIXED(station_pressure;2;1)&" kPa, humidity "&TEXT(humidity;"0 %")&", standard "&standard',
             "Subtitle")
    page.section("A4:N4", "The pulls")
    page.heads("A5", ["pull", "role", "factor", "peak torque [N·m]", "at [rpm]", '="peak power ["&power_unit&"]"', "at [rpm]",
                      "mean torque [N·m]", "band from [rpm]", "band to [rpm]", '="compared: "&figure', "deviation, normalised",
                      "verdict", "what the log brought with it and was left out"], height=14)
    page.merge("A6:N6", '="Deviation: of each pull from the others of its group, over its uncertainty. Band: torque of at least "&'
               'TEXT(band_share;"0 %")&" of the peak. Mean torque from "&mean_from&" to "&mean_to&" rpm."', "Remark")
    a, z = PULL_ROW, PULL_ROW + PULLS - 1
    # Behind the table: place in the group, in the list of the group, and in the list of those kept.
    page.section("P4:Z4", "Behind the verdicts")
    page.heads("P5", ["place in its group", "size of its group", "first deviation", "first verdict", "kept: 1", "place among kept",
                      "before, all", "after, all", "u before", "u after", "rows pasted"], height=14)
    for pull in range(PULLS):
        r, n = a + pull, pull + 1
        empty = 'COUNT(torque_%d)<9' % n
        page.put("A%d" % r, "Pull %d" % n, "Row head")
        page.put("B%d" % r, '=IF(%s;"no data";INDEX(roles;%d))' % (empty, n), "Computed text")
        page.put("C%d" % r, "=DYNO.FACTOR(standard;INDEX(air_temperatures;%d);station_pressure;humidity)" % n, "Computed", "0.0000")
        page.put("D%d" % r, '=IF(%s;"";INDEX(PULL.PEAK(grid_speed;torque_%d);2;2))' % (empty, n), "Computed", "0.0")
        page.put("E%d" % r, '=IF(%s;"";INDEX(PULL.PEAK(grid_speed;torque_%d);3;2))' % (empty, n), "Computed", "0")
        page.put("F%d" % r, '=IF(%s;"";UNIT.CONVERT(INDEX(PULL.PEAK(grid_speed;power_%d);2;2);"kW";power_unit))' % (empty, n), "Computed", "0.0")
        page.put("G%d" % r, '=IF(%s;"";INDEX(PULL.PEAK(grid_speed;power_%d);3;2))' % (empty, n), "Computed", "0")
        page.put("H%d" % r, '=IF(%s;"";PULL.MEAN(grid_speed;torque_%d;mean_from;mean_to))' % (empty, n), "Computed", "0.0")
        page.put("I%d" % r, '=IF(%s;"";INDEX(PULL.BAND(grid_speed;torque_%d;band_share);2;2))' % (empty, n), "Computed", "0")
        page.put("J%d" % r, '=IF(%s;"";INDEX(PULL.BAND(grid_speed;torque_%d;band_share);3;2))' % (empty, n), "Computed", "0")
        page.put("K%d" % r, '=IF(OR(B{r}="before";B{r}="after");INDEX(D{r}:H{r};1;INDEX({{5;1;3}};MATCH(figure;{{"mean torque";'
                 '"peak torque";"peak power"}};0)));"")'.format(r=r), "Computed", "0.0")
        # Among those kept of its group: how many, and the agreement of the pull with the others.
        among = 'COUNTIFS($B${a}:$B${z};B{r};$T${a}:$T${z};1)'.format(r=r, a=a, z=z)
        agreement = ('CHECK.AGREEMENT(OFFSET($V${k};0;IF(B{r}="before";0;1);{n};1);OFFSET($V${k};0;IF(B{r}="before";2;3);{n};1);confidence)'
                     .format(r=r, k=a + 9, n=among))
        page.put("L%d" % r, '=IF(P{r}="";"";IF(T{r}=0;R{r};IF({n}<2;"";INDEX({agreement};4+U{r};4))))'.format(r=r, n=among, agreement=agreement),
                 "Computed", "+0.0;-0.0;0.0")
        page.put("M%d" % r, (
            '=IF(P{r}="";B{r};IF(AND(T{r}=0;leave_out="yes");"stands out: left out";IF(T{r}=0;"stands out";'
            'IF({n}<2;"alone in its group";IF(INDEX({agreement};4+U{r};7)="agrees";"agrees";"differs from the others")))))'
        ).format(r=r, n=among, agreement=agreement), "Computed text")
        pasted = "OFFSET(pull_{n}_speed;0;0;Z{r};1);OFFSET(pull_{n}_torque;0;0;Z{r};1)".format(n=n, r=r)
        page.put("N%d" % r, '=IF({e};"";IF(FUNCTION.ERROR("PULL.PEAK";{p})="";"nothing";FUNCTION.ERROR("PULL.PEAK";{p})))'
                 .format(e=empty, p=pasted), "Remark")
        page.put("Z%d" % r, "=SUMPRODUCT(MAX((pull_{n}_torque<>\"\")*(ROW(pull_{n}_torque)-{first})))".format(n=n, first=PASTE_FIRST - 1),
                 "Computed", "0")
        page.height("A%d" % r, 11)
        page.put("P%d" % r, '=IF(ISNUMBER(K{r});COUNTIF(B${a}:B{r};B{r});"")'.format(r=r, a=a), "Computed", "0")
        page.put("Q%d" % r, '=IF(P{r}="";"";COUNTIF(B${a}:B${z};B{r}))'.format(r=r, a=a, z=z), "Computed", "0")
        for column, field in (("R", 4), ("S", 7)):
            page.put("%s%d" % (column, r), (
                '=IF(P{r}="";"";IF(Q{r}<2;"";INDEX(CHECK.AGREEMENT(OFFSET($V${a};0;IF(B{r}="before";0;1);Q{r};1);'
                'OFFSET($V${a};0;IF(B{r}="before";2;3);Q{r};1);confidence);4+P{r};{f})))'
            ).format(r=r, a=a, f=field), "Computed", "0.00")
        page.put("T%d" % r, '=IF(P{r}="";"";IF(AND(Q{r}>=3;S{r}="stands out, farthest");0;1))'.format(r=r), "Computed", "0")
        page.put("U%d" % r, '=IF(P{r}="";"";IF(T{r}=0;"";COUNTIFS(B${a}:B{r};B{r};T${a}:T{r};1)))'.format(r=r, a=a), "Computed", "0")
        for column, role in (("V", "before"), ("W", "after")):
            page.put("%s%d" % (column, r), '=IFERROR(SUMIFS($K${a}:$K${z};$B${a}:$B${z};"{role}";$P${a}:$P${z};{n})'
                     '/COUNTIFS($B${a}:$B${z};"{role}";$P${a}:$P${z};{n});"")'.format(a=a, z=z, role=role, n=n), "Computed", "0.0")
        for column, source in (("X", "V"), ("Y", "W")):
            page.put("%s%d" % (column, r), '=IF(ISNUMBER({s}{r});{s}{r}*pull_uncertainty;"")'.format(s=source, r=r), "Computed", "0.00")
    book.name("factors", page, "C%d:C%d" % (a, z))
    book.name("verdicts", page, "M%d:M%d" % (a, z))
    page.conditional("M%d:M%d" % (a, z), 'LEFT(M%d;6)="stands"' % a, "Stands out")
    page.conditional("M%d:M%d" % (a, z), 'M%d="agrees"' % a, "Agrees")
    kept, used = a + 9, a + 17
    page.heads("V%d" % (kept - 1), ["before, kept", "after, kept", "u before", "u after"], height=10)
    page.heads("V%d" % (used - 1), ["before, used", "after, used"])
    for place in range(PULLS):
        r = kept + place
        for column, role in (("V", "before"), ("W", "after")):
            page.put("%s%d" % (column, r), (
                '=IFERROR(SUMIFS($K${a}:$K${z};$B${a}:$B${z};"{role}";$U${a}:$U${z};{n})'
                '/COUNTIFS($B${a}:$B${z};"{role}";$U${a}:$U${z};{n});"")'
            ).format(a=a, z=z, role=role, n=place + 1), "Computed", "0.0")
            page.put("%s%d" % (column, used + place), '=IF(leave_out="yes";%s%d;%s%d)' % (column, r, column, a + place), "Computed", "0.0")
        for column, source in (("X", "V"), ("Y", "W")):
            page.put("%s%d" % (column, r), '=IF(ISNUMBER({s}{r});{s}{r}*pull_uncertainty;"")'.format(s=source, r=r), "Computed", "0.00")
    for column, role in (("V", "before"), ("W", "after")):
        page.put("%s%d" % (column, used + 7), "=COUNT(%s%d:%s%d)" % (column, used, column, used + 5), "Computed", "0", "used_" + role)
    page.put("U%d" % (used + 7), "pulls used", "Unit")

    unit = '=IF(figure="peak power";power_unit;"N·m")'
    page.section("A14:N14", '="Repeatability and gain: "&figure&" ["&IF(figure="peak power";power_unit;"N·m")&"]"')
    page.put("P14", unit, "Unit", name="figure_unit")
    page.heads("A15", ["", "pulls used", "mean", "standard deviation", "half-width of the mean", "variation", "repeat-ability limit"],
               height=14)
    for index, (role, column) in enumerate((("before", "V"), ("after", "W"))):
        r = 16 + index
        page.put("A%d" % r, role, "Row head")
        page.put("B%d" % r, "=used_" + role, "Computed text", "0")
        for field, code in enumerate(["0.0", "0.00", "0.0", None, "0.0"]):
            cell = "INDEX(PULL.REPEATABILITY(OFFSET($%s$%d;0;0;used_%s;1);confidence);%d;2)" % (column, used, role, field + 2)
            if field == 3:
                cell = 'FIXED(100*%s;2;1)&" %%"' % cell
            page.put("%s%d" % (column_name(2 + field), r), '=IF(used_%s<2;"–";%s)' % (role, cell), "Computed text", code)
    page.merge("I15:N15", "Two single pulls differ by more than the repeatability limit once in twenty times when nothing has changed.", "Remark")
    page.heads("I16", ["gain", "low", "high", "p"], height=7)
    for field, (column, name, code) in enumerate((("I", "gain", "+0.0;-0.0"), ("J", "gain_low", "+0.0;-0.0"), ("K", "gain_high", "+0.0;-0.0"),
                                                  ("L", "gain_p", "0.0E+00"))):
        page.put("%s17" % column, '=IF(MIN(used_before;used_after)<2;"–";INDEX(PULL.GAIN(OFFSET($V${k};0;0;used_before;1);'
                 'OFFSET($W${k};0;0;used_after;1);confidence);{f};2))'.format(k=used, f=field + 2), "Headline", code, name)
    page.merge("A18:N18", (
        '=IF(NOT(ISNUMBER(gain));"Gain: at least two pulls before and two after are needed.";'
        'IF(gain_low>0;"Gain "&TEXT(gain_low;"0")&" to "&TEXT(gain_high;"0")&" "&figure_unit&" at "&ROUND(100*(confidence);1)&" %"&": the change is real.";'
        'IF(gain_high<0;"Loss "&TEXT(-gain_high;"0")&" to "&TEXT(-gain_low;"0")&" "&figure_unit&" at "&ROUND(100*(confidence);1)&" %"&": the change is real.";'
        '"No change shown: between "&TEXT(gain_low;"+0;-0;0")&" and "&TEXT(gain_high;"+0;-0;0")&" "&figure_unit&" at "&ROUND(100*(confidence);1)&" %"&".")))'
    ), "Headline", 8)
    book.name("gain_statement", page, "A18")
    standing_out = "&".join('IF(LEFT(INDEX(verdicts;%d);6)="stands";" pull %d";"")' % (n, n) for n in range(1, PULLS + 1))
    page.merge("A19:N19", '=IF(COUNTIF(verdicts;"stands out*")=0;"No pull stands out.";"Stands out from its group:"&' + standing_out +
               '&IF(leave_out="yes";"; left out of repeatability and gain.";"; kept, as asked in Inputs."))', "Body", 6)
    book.name("bad_pull_statement", page, "A19")

    page.section("A21:N21", "The best pull under every standard")
    page.put("P21", "best pull", "Unit")
    page.put("Q21", ('=MATCH(MAX(P22:P27);P22:P27;0)'), "Computed", "0", "best_pull")
    for pull in range(PULLS):
        r = a + pull
        page.put("P%d" % (22 + pull), '=IF(ISNUMBER(F{r});IF(OR(LEFT(M{r};6)="stands";M{r}="not used");0;F{r});0)'.format(r=r), "Computed", "0.0")
    page.put("R21", "=INDEX(F%d:F%d;best_pull)" % (a, z), "Computed", "0.0", "best_power")
    page.put("S21", "=INDEX(D%d:D%d;best_pull)" % (a, z), "Computed", "0.0", "best_torque")
    page.put("T21", "=INDEX(air_temperatures;best_pull)", "Computed", "0.0", "best_air")
    page.heads("A22", ['="Pull "&best_pull', "", "factor", "peak torque [N·m]", '="peak power ["&power_unit&"]"', "", "", "", "", "", "", "", "", ""],
               height=13)
    page.merge("A22:B22")
    page.merge("F22:N22", "validity of the standard on this day", "Column head")
    for index, name in enumerate(STANDARDS):
        r = 23 + index
        page.height("A%d" % r, 5)
        page.merge("A%d:B%d" % (r, r), name, "Row head")
        page.put("C%d" % r, "=DYNO.FACTOR(A%d;best_air;station_pressure;humidity)" % r, "Computed", "0.0000")
        page.put("D%d" % r, "=best_torque*C%d/INDEX(factors;best_pull)" % r, "Computed", "0.0")
        page.put("E%d" % r, '=UNIT.CONVERT(DYNO.RESTATE(UNIT.CONVERT(best_power;power_unit;"kW");standard;A%d;best_air;station_pressure;'
                 'humidity);"kW";power_unit)' % r, "Computed", "0.0")
        page.merge("F%d:N%d" % (r, r), '=IF(FUNCTION.WHY(C%d)="";"inside the limits of the standard";FUNCTION.WHY(C%d))' % (r, r), "Remark")
    page.conditional("A23:E29", "$A23=standard", "Agrees")

    page.section("A31:N31", "Do the numbers of the day agree? Crank power of the best pull as it was, not corrected [kW]")
    page.heads("A32", ["witness", "", "power [kW]", "standard uncertainty", "deviation from the others", "verdict", ""], height=14)
    page.merge("A32:B32")
    page.merge("F32:G32")
    witnesses = [
        ("rollers", '=UNIT.CONVERT(best_power;power_unit;"kW")/INDEX(factors;best_pull)', "=C33*rollers_uncertainty"),
        ("air flow", "=ENGINE.POWER.FROM.AIR(air_flow;ethanol;lambda;efficiency)",
         '=INDEX(FUNCTION.UNCERTAINTY("ENGINE.POWER.FROM.AIR";P33:P36;air_flow;ethanol;lambda;efficiency);3;2)'),
        ("injector duty", "=INJECTOR.POWER(injector_flow;injector_count;duty;ethanol;efficiency)",
         '=INDEX(FUNCTION.UNCERTAINTY("INJECTOR.POWER";Q33:Q37;injector_flow;injector_count;duty;ethanol;efficiency);3;2)'),
    ]
    page.put("P32", "u, air flow", "Unit")
    page.put("Q32", "u, injectors", "Unit")
    page.put("R32", "injector flow", "Unit")
    page.put("S32", "its u", "Unit")
    for row, formula in ((33, "=air_flow_uncertainty"), (34, "=0"), (35, "=lambda_uncertainty"), (36, "=efficiency_uncertainty")):
        page.put("P%d" % row, formula, "Computed", "0.000")
    for row, formula in ((33, "=S33"), (34, "=0"), (35, "=duty_uncertainty"), (36, "=0"), (37, "=efficiency_uncertainty")):
        page.put("Q%d" % row, formula, "Computed", "0.000")
    density = "FUEL.DENSITY(ethanol;fuel_temperature)"
    page.put("R33", "=INJECTOR.FLOW(rated_flow;rated_pressure;fuel_pressure;684;%s)" % density, "Computed", "0.0", "injector_flow")
    page.put("S33", '=INDEX(FUNCTION.UNCERTAINTY("INJECTOR.FLOW";T33:T35;rated_flow;rated_pressure;fuel_pressure;684;%s);3;2)' % density,
             "Computed", "0.0")
    for row, formula in ((33, "=rated_flow_uncertainty"), (34, "=0"), (35, "=fuel_pressure_uncertainty")):
        page.put("T%d" % row, formula, "Computed", "0.000")
    page.array("P39:V45", "=CHECK.AGREEMENT(C33:C35;D33:D35;confidence)", "Computed", "0.000")
    for index, (label, value, uncertainty) in enumerate(witnesses):
        r = 33 + index
        page.merge("A%d:B%d" % (r, r), label, "Row head")
        page.put("C%d" % r, value, "Computed", "0.0")
        page.put("D%d" % r, uncertainty, "Computed", "0.0")
        page.put("E%d" % r, "=S%d" % (43 + index), "Computed", "+0.0;-0.0;0.0")
        page.merge("F%d:G%d" % (r, r), "=V%d" % (43 + index), "Computed text")
    page.conditional("F33:G35", 'LEFT($F33;6)="stands"', "Stands out")
    page.conditional("F33:G35", '$F33="agrees"', "Agrees")
    page.merge("A36:N36", (
        '="Weighted mean "&FIXED(Q40;1;1)&" kW ± "&FIXED(R40;1;1)&" (standard uncertainty), χ² "&FIXED(Q41;1;1)&" with "&T40&'
        '" degrees of freedom, p "&FIXED(U40;3;1)&". "&IF(V40="all agree";"Rollers, air flow and injector duty agree within their '
        'uncertainties.";"They do not agree: "&IF(V43="stands out, farthest";A33;IF(V44="stands out, farthest";A34;A35))&" stands out, look there first.")'
    ), "Headline", 8)
    book.name("agreement_statement", page, "A36")
    page.merge("A37:N37", "Air flow and injector duty share the brake efficiency; the test takes the three as independent. An injector far off "
               "often means a fuel pressure or a rated flow other than assumed.", "Remark", 6)
    page.print_page("A1:N37", landscape=True)


def report(book):
    page = book.sheet("Report", [24] * 6 + [45])
    page.put("A1", "=shop", "Page title")
    page.height("A1", 10)
    page.put("A2", '="Dyno day "&YEAR(day_of_pulls)&"-"&TEXT(MONTH(day_of_pulls);"00")&"-"&TEXT(DAY(day_of_pulls);"00")&": "&car', "Subtitle")
    page.put("A3", '="Changed between before and after: "&change', "Subtitle")
    page.merge("A4:G4", "All data in this example are invented.", "Remark")
    page.merge("A5:G5", "=gain_statement", "Headline", 9)
    page.merge("A6:G6", '="Compared: "&figure&IF(figure="mean torque";" from "&mean_from&" to "&mean_to&" rpm";"")&". "&bad_pull_statement', "Body", 6)
    page.height("A7", 57)
    page.height("A8", 57)
    columns = {part: "$Curves.%s%d:%s%d" % (first, GRID_FIRST - 1, last, GRID_LAST)
               for part, first, last in (("torque", "A", "G"), ("speed", "A", "A"), ("power", "H", "M"))}
    torque = page.chart("torque_chart", "A7", (188, 56), [columns["torque"]], x_title="engine speed [rpm]",
                        y_title="torque, corrected [N·m]")
    power = page.chart("power_chart", "A8", (188, 56), [columns["speed"], columns["power"]], x_title="engine speed [rpm]",
                       y_title="power, corrected [kW]")
    for chart in (torque, power):
        chart.Legend.Alignment = LEGEND_RIGHT
    page.section("A9:G9", '="The pulls, corrected to "&standard')
    page.heads("A10", ["pull", "role", "peak torque [N·m]", "at [rpm]", '="peak power ["&power_unit&"]"', "at [rpm]", "verdict"], height=9)
    for pull in range(PULLS):
        r, s = 11 + pull, PULL_ROW + pull
        page.put("A%d" % r, "=$Day.A%d" % s, "Row head")
        fill(page, "B%d" % r, [["=$Day.%s%d" % (source, s) for source in "BDEFGM"]], "Computed text", "0")
    page.conditional("G11:G16", 'LEFT($G11;6)="stands"', "Stands out")
    page.section("A18:G18", '="Best pull (pull "&best_pull&") under every standard"')
    page.heads("A19", ["standard", "factor", "peak torque [N·m]", "", '="peak power ["&power_unit&"]"', "", ""], height=9)
    page.merge("C19:D19")
    page.merge("F19:G19", "validity on this day", "Column head")
    for index in range(len(STANDARDS)):
        r, s = 20 + index, 23 + index
        page.put("A%d" % r, "=$Day.A%d" % s, "Row head")
        page.put("B%d" % r, "=$Day.C%d" % s, "Computed text", "0.0000")
        page.merge("C%d:D%d" % (r, r), "=$Day.D%d" % s, "Computed text")
        page.style("C%d:D%d" % (r, r), "Computed text", "0")
        page.put("E%d" % r, "=$Day.E%d" % s, "Computed text", "0")
        page.merge("F%d:G%d" % (r, r), '=IF(FUNCTION.WHY($Day.C%d)="";"inside its limits";"outside: see the page Day")' % s,
                   "Computed text")
    page.section("A28:G28", "Do the numbers agree? Crank power as it was, not corrected")
    for index, label in enumerate(("rollers", "air flow", "injector duty")):
        r, s = 29 + index, 33 + index
        page.merge("A%d:B%d" % (r, r), "=$Day.A%d" % s, "Row head")
        page.merge("C%d:E%d" % (r, r), '=TEXT($Day.C%d;"0")&" kW ± "&TEXT($Day.D%d;"0")&" (standard uncertainty)"' % (s, s), "Computed text")
        page.merge("F%d:G%d" % (r, r), "=$Day.F%d" % s, "Computed text")
    page.conditional("F29:G31", 'LEFT($F29;6)="stands"', "Stands out")
    page.merge("A32:G32", "=agreement_statement", "Body", 9)
    page.merge("A33:G33", '="Conditions: station pressure "&FIXED(station_pressure;1;1)&" kPa, humidity "&TEXT(humidity;"0 %")&", air at the intake "&'
               'FIXED(MIN(air_temperatures);1;1)&" to "&FIXED(MAX(air_temperatures);1;1)&" °C, density "&FIXED(air_density;3;1)&" kg/m³, '
               'density altitude "&TEXT(density_altitude;"0")&" m."', "Body", 9)
    for index, caution in enumerate((CAUTIONS[0], CAUTIONS[4])):
        page.merge("A%d:G%d" % (34 + index, 34 + index), caution, "Caution", 4.6 * (1 + len(caution) // 120))
    page.print_page("A1:G35")
    page.for_customer("A1:G35")


def checks(book):
    day_rows = "%d:%s%d" % (PULL_ROW, "%s", PULL_ROW + PULLS - 1)
    page_range = lambda column: "$Day.%s%s" % (column, day_rows % column)
    agreement = "CHECK.AGREEMENT({3828;3350;3610;3589.75};{114.84;100.5;108.3;107.6925})"
    checks_page(
        book,
        [
            ("ISO 1585 at 15 °C, 101.325 kPa, dry", '=DYNO.FACTOR("ISO 1585";15;101.325;0)', 0.9528138, 6e-8,
             "formula of ISO 1585, worked with high precision"),
            ("SAE J607 at 60 °F and 29.92 inHg, dry", '=DYNO.FACTOR("SAE J607";"60 °F";"29.92 inHg";0)', 1.0, 1e-12, "reference state of SAE J607"),
            ("DIN 70020 at 35 °C and 100 kPa", '=DYNO.FACTOR("DIN 70020";35;100;0.6)', 1.0386064, 6e-8,
             "formula of DIN 70020 (total pressure), worked with high precision"),
            ("Standard atmosphere at 500 m [kPa]", "=AIR.STANDARD.PRESSURE(500)", 95.461, 5.3e-6,
             "ASHRAE Handbook, Fundamentals, 2017, chapter 1, table 1"),
            ("Saturation pressure of water at 25 °C [kPa]", "=AIR.VAPOUR.PRESSURE(25;1)", 3.1697, 3e-4,
             "ASHRAE Handbook, Fundamentals, 2017, chapter 1, table 3; another formula"),
            ("Smoothing: centre of the five rows 3, −2, 1, 4, 2", "=INDEX(PULL.SMOOTH({3;-2;1;4;2};5;2);4;1)", 26.0 / 35.0, 1e-12,
             "Savitzky and Golay 1964: (−3, 12, 17, 12, −3)/35"),
            ("Repeatability of five values: standard deviation", "=INDEX(PULL.REPEATABILITY({251.2;249.8;252.6;250.9;251.7});3;2)", math.sqrt(4.252 / 4.0), 1e-9,
             "sample standard deviation, closed form"),
            ("Half-width of their mean at 95 %", "=INDEX(PULL.REPEATABILITY({251.2;249.8;252.6;250.9;251.7});4;2)", 2.776445 * math.sqrt(4.252 / 20.0), 2e-7,
             "Student's t of 4 degrees of freedom is 2.776445 (tables), times s/√5"),
            ("Four maps of one car, time times power at 3 %: χ²", "=INDEX(%s;3;2)" % agreement, 10.0, 0.02,
             "common practice, no source: 660 PS 5.8 s, 670 PS 5.0 s, 760 PS 4.75 s, 865 PS 4.15 s"),
            ("… the second of the four is the farthest", '=IF(INDEX(%s;6;7)="stands out, farthest";"yes";"no")' % agreement, "yes", 0,
             "the same; its deviation from the others is about −2.7"),
            ("Peak power of pull 1 is torque times speed there", (
                '=ENGINE.TORQUE(UNIT.CONVERT($Day.F7;power_unit;"kW");$Day.G7)/PULL.AT(grid_speed;torque_1;$Day.G7)'), 1.0, 1e-9,
             "P = T·ω; identity, holds for any inputs"),
            ("Gain is the difference of the two means", '=IF(ISNUMBER(gain);gain-($Day.C17-$Day.C16);0)+1', 1.0, 1e-9, "identity; holds for any inputs"),
            ("The interval holds the gain in its middle", '=IF(ISNUMBER(gain);(gain_low+gain_high)/2-gain;0)+1', 1.0, 1e-9, "identity; holds for any inputs"),
            ("Restated to its own standard, the power stays", (
                '=DYNO.RESTATE(100;standard;standard;best_air;station_pressure;humidity)'), 100.0, 1e-12, "identity; holds for any inputs"),
            ("Power restated over power is factor over factor (SAE J607)", "=$Day.E25/best_power/($Day.C25/INDEX(factors;best_pull))", 1.0, 1e-9,
             "identity; holds for any inputs"),
            ("The mean of the witnesses is 1/u² weighted", (
                "=SUMPRODUCT($Day.C33:C35/$Day.D33:D35^2)/SUMPRODUCT(1/$Day.D33:D35^2)-$Day.Q40+1"), 1.0, 1e-9,
             "GUM: weighted mean; identity, holds for any inputs"),
        ],
    )
