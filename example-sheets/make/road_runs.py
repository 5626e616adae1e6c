# SPDX-License-Identifier: Apache-2.0
"""road-runs.fods: what the torque on four fuels is worth in seconds, and what mass, heat and altitude cost."""

import math
import random

from com.sun.star.chart.ChartLegendPosition import RIGHT as LEGEND_RIGHT
from com.sun.star.drawing.LineStyle import NONE as NO_LINE
from com.sun.star.table.CellHoriJustify import RIGHT

from bulk import fill
from paper import Book, about_page, checks_page, column_name, symbol

TITLE = "Road runs"
CLOSED_COURSE = (
    "Closed course only. Speed runs belong on a track or an airfield closed to others, with helmet, checked tyres and brakes, room to "
    "stop, and somebody who watches. Nothing on this page is a reason to drive fast on a public road."
)
FUELS = ["95 RON", "98 RON", "E20", "E85"]
SPEEDS = [1800, 2200, 2600, 3000, 3400, 3800, 4200, 4600, 5000, 5400, 5800, 6200, 6600, 6800]
SHAPE = [0.42, 0.60, 0.82, 0.97, 1.00, 1.00, 1.00, 0.99, 0.97, 0.94, 0.90, 0.84, 0.77, 0.73]
PLATEAU = [372, 398, 436, 486]
GRID_ROWS, MOST_SHIFTS = 121, 9
UPSHIFT_COLOUR = 0xB03A48


def build(desktop, version):
    book = Book(desktop, TITLE, "What the torque on each fuel is worth in seconds, and what mass, heat and altitude cost")
    book.version = version
    book.doc.enableAutomaticCalculation(False)
    about_page(
        book,
        [
            CLOSED_COURSE,
            "For the person who is asked what a stage is worth on the road: from the car, the day and the measured torque curves the "
            "sheet predicts 100–200 km/h, 60–130 mph and the quarter mile on each fuel, shows the run with its shift points, and "
            "says what one person more, ten degrees more or 500 m of altitude cost.",
            "Measure on the rollers first: a prediction is as good as the torque curve and the grip it rests on.",
        ],
        [
            "Inputs: the car, the day, the torque curves of four fuels (paste them from the rollers), the fuel to look at closely.",
            "Log: paste up to three logged runs: time, speed, height.",
            "Runs: times, trap speed, shift points, costs, the chart. The A4 page for the file or the customer.",
            "Measured: the logged runs beside the prediction, and the power they tell beside the rollers' curve.",
            "Behind: the run at equal steps of time and the changed cars and days. Nothing to type.",
            "Checks: expected values against computed ones. If one differs, do not hand the page out.",
        ],
        "The car, the day, the curves and the logged runs in this file are invented; the third run is downhill on purpose. Replace them with your own.",
    )
    inputs(book)
    log_page(book)
    page = book.sheet("Runs", [24, *[19] * 5, 32, *[19] * 4])
    measured = book.sheet("Measured", [30, 24, 24, 24, 24, 24, 62])
    measured_table(measured)
    behind(book)
    book.doc.calculateAll()  # a chart tells heads from numbers by what the cells hold when it is made
    runs(page)
    measured_chart(measured)
    checks(book)
    book.move_before("Behind", "Runs")
    book.doc.enableAutomaticCalculation(True)
    return book


VEHICLE = [
    ("mass", 1560, "kg", "0", "With driver and fuel."),
    ("drive", "rear", "", ["front", "rear", "all"], "Driven axles."),
    ("tyre", "265/35 R19", "", None, "Of the driven wheels."),
    ("drag area", 0.68, "m²", "0.00", "Drag coefficient times frontal area."),
    ("rolling resistance", 0.013, "", "0.000", "Rolling force over wheel load."),
    ("front share", 0.52, "", "0 %", "Weight on the front axle at rest."),
    ("wheelbase", 2.72, "m", "0.00", ""),
    ("centre of gravity height", 0.50, "m", "0.00", ""),
    ("grip", 1.05, "", "0.00", "Greatest tyre force over wheel load: about 1 for a road tyre on dry asphalt."),
    ("gear 1", 3.72, "", "0.00", ""),
    ("gear 2", 2.31, "", "0.00", ""),
    ("gear 3", 1.58, "", "0.00", ""),
    ("gear 4", 1.19, "", "0.00", ""),
    ("gear 5", 0.94, "", "0.00", ""),
    ("gear 6", 0.78, "", "0.00", ""),
    ("final drive", 3.38, "", "0.00", ""),
    ("shift time", 0.25, "s", "0.00", "Time without full drive in an upshift."),
    ("torque in shift", 0, "", "0 %", "0: interrupted (clutch pedal); 100 %: sustained (double clutch)."),
    ("driveline efficiency", 0.87, "", "0 %", "Wheel power over crank power."),
    ("engine inertia", 0.22, "kg·m²", "0.00", "With flywheel and clutch."),
    ("wheel inertia", 1.2, "kg·m²", "0.0", "Of one wheel with tyre and brake."),
    ("rev limit", 6800, "rpm", "0", ""),
    ("launch speed", 3800, "rpm", "0", "Engine speed held by the slipping clutch from rest."),
    ("rise time of torque", 0.25, "s", "0.00", "From 10 to 90 % of the torque when the throttle opens."),
]
WEATHER = [
    ("temperature", 19, "°C", "0.0", ""),
    ("sea level pressure", 1018, "hPa", "0.0", "A forecast gives the sea level pressure; choose \"pressure\" for that of a barometer on the spot."),
    ("elevation", 210, "m", "0", "Of the course; used with a sea level pressure."),
    ("humidity", 0.45, "", "0 %", ""),
    ("headwind", 0, "km/h", "0", "Against the car; negative from behind."),
    ("slope", 0, "", "0.0 %", "Uphill positive."),
]
VEHICLE_FIRST = 6
VEHICLE_LAST = VEHICLE_FIRST + len(VEHICLE) - 1
WEATHER_FIRST = VEHICLE_LAST + 4
WEATHER_LAST = WEATHER_FIRST + len(WEATHER) - 1
CURVES_FIRST = WEATHER_LAST + 7


def inputs(book):
    page = book.sheet("Inputs", [72] + [29] * 4 + [60])
    page.put("A1", "Inputs", "Page title")
    page.put("A2", "All data on this page are invented.", "Subtitle")
    page.section("A4:F4", "The car")
    page.heads("A5", ["", "value", "unit"], height=6)
    for index, (label, value, unit, code, note) in enumerate(VEHICLE):
        row = VEHICLE_FIRST + index
        page.put("A%d" % row, label, "Label")
        page.input("B%d" % row, value, code if isinstance(code, str) else None, choices=code if isinstance(code, list) else None)
        page.put("C%d" % row, unit, "Unit")
        page.merge("D%d:F%d" % (row, row), note, "Remark")
        page.range("B%d" % row).HoriJustify = RIGHT
    book.name("vehicle", page, "A%d:C%d" % (VEHICLE_FIRST, VEHICLE_LAST))
    book.name("car_mass", page, "B%d" % VEHICLE_FIRST)

    page.section("A%d:F%d" % (WEATHER_FIRST - 2, WEATHER_FIRST - 2), "The day on the course")
    page.heads("A%d" % (WEATHER_FIRST - 1), ["", "value", "unit"], height=6)
    for index, (label, value, unit, code, note) in enumerate(WEATHER):
        row = WEATHER_FIRST + index
        if label == "sea level pressure":
            page.input("A%d" % row, label, choices=["sea level pressure", "pressure"])
        else:
            page.put("A%d" % row, label, "Label")
        page.input("B%d" % row, value, code)
        page.put("C%d" % row, unit, "Unit")
        page.merge("D%d:F%d" % (row, row), note, "Remark")
    first = WEATHER_FIRST
    book.name("weather", page, "A%d:C%d" % (first, WEATHER_LAST))
    book.name("air_temperature", page, "B%d" % first)
    book.name("humidity", page, "B%d" % (first + 3))
    row = WEATHER_LAST + 1
    page.put("A%d" % row, "Station pressure, computed", "Label")
    page.put("B%d" % row, '=IF(A{p}="pressure";UNIT.CONVERT(B{p};C{p};"kPa");AIR.STATION.PRESSURE(UNIT.CONVERT(B{p};C{p};"kPa");B{e}))'
             .format(p=first + 1, e=first + 2), "Computed", "0.00", "station_pressure")
    page.put("C%d" % row, "kPa", "Unit")
    page.put("A%d" % (row + 1), "Air density, computed", "Label")
    page.put("B%d" % (row + 1), "=AIR.DENSITY(air_temperature;station_pressure;humidity)", "Computed", "0.000", "air_density")
    page.put("C%d" % (row + 1), "kg/m³", "Unit")

    first = CURVES_FIRST
    page.section("A%d:F%d" % (first - 2, first - 2), "Crank torque at full load on each fuel, measured [N·m]")
    page.put("A%d" % (first - 1), "engine speed [rpm]", "Column head")
    for fuel, name in enumerate(FUELS):
        page.input("%s%d" % (column_name(1 + fuel), first - 1), name)
        page.style("%s%d" % (column_name(1 + fuel), first - 1), "Input text")
    page.height("A%d" % (first - 1), 6)
    area = fill(page, "A%d" % first, [[speed, *[round(plateau * share) for plateau in PLATEAU]] for speed, share in zip(SPEEDS, SHAPE)],
                "Input", "0")
    page.validity(area, low=0, high=20000)
    last = first + len(SPEEDS) - 1
    book.name("fuels", page, "B%d:E%d" % (first - 1, first - 1))
    book.name("curve_speeds", page, "A%d:A%d" % (first, last))
    book.name("curve_torques", page, "B%d:E%d" % (first, last))
    for fuel in range(4):
        column = column_name(1 + fuel)
        book.name("torque_%d" % (fuel + 1), page, "%s%d:%s%d" % (column, first, column, last))
    page.merge("F%d:F%d" % (first, first + 3), "As the engine makes it on the day of the run, not corrected to a standard. Paste over these rows; "
               "the curve is not continued beyond them.", "Remark")

    row = last + 2
    page.section("A%d:F%d" % (row, row), "What is looked at closely")
    settings = [
        ("Fuel", "98 RON", "", "fuel_chosen", "fuels", "For shift points and costs."),
        ("Power shown in", "PS", "", "power_unit", ["kW", "PS", "hp"], "PS is the metric horsepower, hp the mechanical one."),
        ("Chart up to", 220, "km/h", "chart_until", "0", ""),
        ("Time wanted for 100–200 km/h", 8.0, "s", "time_wanted", "0.0", "The peak power that it needs is computed."),
        ("One person more", 80, "kg", "person", "0", ""),
        ("Warmer by", 10, "K", "warmer", "0", ""),
        ("Higher by", 500, "m", "higher", "0", ""),
        ("Steepest mean slope of a logged run", 0.01, "", "slope_limit", "0.0 %", "A run that rises or falls more is refused."),
        ("Logged run whose power is shown", 1, "", "run_shown", ["1", "2", "3"], ""),
        ("Rollout before the clock of the quarter mile", 0.3, "m", "rollout", "0.00", "The beam stays covered for about a foot."),
    ]
    for index, (label, value, unit, name, code, note) in enumerate(settings):
        r = row + 1 + index
        page.put("A%d" % r, label, "Label")
        if isinstance(code, list) or code == "fuels":
            page.input("B%d" % r, value, name=name, choices=code)
        else:
            page.input("B%d" % r, value, code, name, 0, 5000)
        page.put("C%d" % r, unit, "Unit")
        page.merge("D%d:F%d" % (r, r), note, "Remark")
    page.merge("A%d:F%d" % (row + 12, row + 12), CLOSED_COURSE, "Caution", 10)
    page.print_page("A1:F%d" % (row + 12))


LOG_FIRST, LOG_LAST = 6, 505
LOG_ROWS = [(1.012, 0.0008), (1.021, -0.0011), (0.955, -0.017)]  # time over that of the model, rise over length


def invented_logs(book):
    """Three runs in 98 RON as a logger would hold them: the model's run with a scatter, a little slower, on a track not level."""
    sheets = book.doc.Sheets
    sheets.insertNewByName("Scratch", sheets.Count)
    area = sheets.getByName("Scratch").getCellRangeByName("A1:C900")
    area.setArrayFormula('=ROAD.TRACE(vehicle;curve_speeds;torque_2;218;weather;0.1)')
    book.doc.calculateAll()
    trace = [row for row in area.getDataArray() if all(isinstance(x, float) for x in row) and row[1] > 70.0]
    sheets.removeByName("Scratch")
    logs = []
    for number, (slower, rise) in enumerate(LOG_ROWS):
        noise = random.Random(100200 + number)
        start, begin = trace[0][0], trace[0][2]
        logs.append([(round((time - start) * slower, 2), round(speed + noise.gauss(0.0, 0.12), 2),
                      round(210.0 + rise * (distance - begin) + noise.gauss(0.0, 0.05), 2)) for time, speed, distance in trace])
    return logs


def log_page(book):
    page = book.sheet("Log", [24] * 9)
    page.put("A1", "Log", "Page title")
    page.put("A2", "Paste each run below its heading, up to 500 rows; without a height, leave that column empty. All rows here are invented.", "Subtitle")
    logs = invented_logs(book)
    for run in range(3):
        columns = [column_name(3 * run + k) for k in range(3)]
        page.section("%s4:%s4" % (columns[0], columns[2]), "Run %d" % (run + 1))
        page.heads("%s5" % columns[0], ["time [s]", "speed [km/h]", "height [m]"])
        page.style("%s%d:%s%d" % (columns[0], LOG_FIRST, columns[2], LOG_LAST), "Input", "0.00")
        fill(page, "%s%d" % (columns[0], LOG_FIRST), logs[run])
        for column, name in zip(columns, ("time", "speed", "height")):
            book.name("log_%d_%s" % (run + 1, name), page, "%s%d:%s%d" % (column, LOG_FIRST, column, LOG_LAST))
    page.print_page("A1:I%d" % (LOG_FIRST + max(len(log) for log in logs)), pages_high=4, repeat_rows="A4:I5")


POWER_FIRST, POWER_ROWS = 6, 47


def log_call(run, first, last):
    """ROAD.LOG.TIME and its arguments for a run; the height counts only where it was logged."""
    rows = "COUNT(log_%d_time)" % run
    columns = ["OFFSET(log_%d_%s;0;0;%s;1)" % (run, name, rows) for name in ("time", "speed", "height")]
    with_height = "%s;%s;%s;%s;%s;slope_limit" % (*columns[:2], first, last, columns[2])
    without = "%s;%s;%s;%s" % (*columns[:2], first, last)
    return with_height, without


def measured_table(page):
    page.put("A1", "Measured", "Page title")
    page.merge("A2:G2", CLOSED_COURSE, "Caution", 9)
    page.section("A4:G4", '="Logged runs beside the prediction on "&fuel_chosen')
    page.heads("A5", ["run", "100–200 km/h [s]", "over predicted", "60–130 mph [s]", "over predicted", "why a run does not count", ""], height=9)
    page.merge("F5:G5")
    for run in range(3):
        r, n = 6 + run, run + 1
        page.put("A%d" % r, "Run %d" % n, "Row head")
        for column, first, last, predicted in (("B", "100", "200", "G"), ("D", '"60 mph"', '"130 mph"', "H")):
            with_height, without = log_call(n, first, last)
            value = "IF(COUNT(log_{n}_height)=0;ROAD.LOG.TIME({b});ROAD.LOG.TIME({a}))".format(n=n, a=with_height, b=without)
            page.put("%s%d" % (column, r), '=IF(COUNT(log_%d_time)<10;"no data";IFERROR(%s;"refused"))' % (n, value), "Computed text", "0.00")
            page.put("%s%d" % (chr(ord(column) + 1), r),
                     '=IF(ISNUMBER({c}{r});{c}{r}/INDEX($Runs.{p}7:{p}10;MATCH(fuel_chosen;fuels;0))-1;"")'.format(c=column, r=r, p=predicted),
                     "Computed text", "+0.0 %;-0.0 %;0.0 %")
        with_height, without = log_call(n, "100", "200")
        page.merge("F%d:G%d" % (r, r), '=IF(ISNUMBER(B{r});"";IF(COUNT(log_{n}_height)=0;FUNCTION.ERROR("ROAD.LOG.TIME";{b});FUNCTION.ERROR("ROAD.LOG.TIME";{a})))'
                 .format(r=r, n=n, a=with_height, b=without), "Remark")
        page.height("A%d" % r, 9)
    page.conditional("B6:D8", 'B6="refused"', "Stands out")
    page.merge("A9:G9", '="Counted: "&COUNT(B6:B8)&" of 3 runs"&IF(COUNT(B6:B8)>=2;", 100–200 km/h in "&FIXED(INDEX(PULL.REPEATABILITY(OFFSET(runs_counted;0;0;COUNT(B6:B8);1));2;2);2;1)&'
               '" s, half-width of the mean at 95 % "&FIXED(INDEX(PULL.REPEATABILITY(OFFSET(runs_counted;0;0;COUNT(B6:B8);1));4;2);2;1)&" s.";".")', "Body", 6)
    page.section("A11:G11", '="Crank power of run "&run_shown&" from its log, beside the curve of the rollers"')
    page.merge("A12:G12", '=IF(power_rollers=0;"The log of this run shows no power between these speeds.";"From "&$Behind.AB6&" to "&$Behind.AB52&" km/h outside the gaps of the shifts: "&TEXT(power_log;"0")&" kW from the log (standard '
               'uncertainty of a row about "&TEXT(power_log_uncertainty;"0")&" kW), "&TEXT(power_rollers;"0")&" kW by the rollers, "&'
               'IF(power_log<power_rollers;"−";"+")&FIXED(100*ABS(power_log/power_rollers-1);1;1)&" %"&".")', "Body", 9)


def measured_chart(page):
    page.height("A13", 90)
    page.chart("log_chart", "A13", (208, 88), ["$Behind.AB5:AD%d" % (POWER_FIRST + POWER_ROWS - 1)], x_title="road speed [km/h]",
               y_title="crank power [kW]")
    page.print_page("A1:G13")


HEADS = ["fuel", "peak torque [N·m]", "at [rpm]", "peak power", "at [rpm]", "0–100 km/h [s]", "100–200 km/h [s]", "60–130 mph [s]",
         "60 ft [s]", "1/4 mile [s]", "trap speed [km/h]"]
GRID_FIRST = 6
GRID_LAST = GRID_FIRST + GRID_ROWS - 1
SHIFT_LAST = GRID_LAST + MOST_SHIFTS


def runs(page):
    page.put("A1", "Road runs", "Page title")
    page.merge("A2:K2", CLOSED_COURSE, "Caution", 9)
    page.put("A3", '="Predicted for "&FIXED(air_temperature;1;1)&" °C, "&FIXED(station_pressure;1;1)&" kPa, air density "&FIXED(air_density;3;1)&'
             '" kg/m³; car "&car_mass&" kg. All data in this example are invented."', "Subtitle")
    page.section("A5:K5", "The four fuels")
    page.heads("A6", [*HEADS[:3], '="peak power ["&power_unit&"]"', *HEADS[4:]], height=14)
    for fuel in range(4):
        r, torque = 7 + fuel, "torque_%d" % (fuel + 1)
        distance = "ROAD.DISTANCE.TIME(vehicle;curve_speeds;%s;\"0.25 mi\";weather;rollout)" % torque
        cells = [
            ("=INDEX(fuels;1;%d)" % (fuel + 1), None),
            ("=INDEX(PULL.PEAK(curve_speeds;%s);2;2)" % torque, "0"),
            ("=INDEX(PULL.PEAK(curve_speeds;%s);3;2)" % torque, "0"),
            ("=UNIT.CONVERT(INDEX(PULL.PEAK(curve_speeds;power_%d);2;2);\"kW\";power_unit)" % (fuel + 1), "0"),
            ("=INDEX(PULL.PEAK(curve_speeds;power_%d);3;2)" % (fuel + 1), "0"),
            ("=ROAD.TIME(vehicle;curve_speeds;%s;0;100;weather)" % torque, "0.00"),
            ("=ROAD.TIME(vehicle;curve_speeds;%s;100;200;weather)" % torque, "0.00"),
            ("=ROAD.TIME(vehicle;curve_speeds;%s;\"60 mph\";\"130 mph\";weather)" % torque, "0.00"),
            ("=INDEX(%s;4;3)" % distance, "0.00"),
            ("=INDEX(%s;2;3)" % distance, "0.00"),
            ("=INDEX(%s;3;4)" % distance, "0.0"),
        ]
        for index, (formula, code) in enumerate(cells):
            page.put("%s%d" % (column_name(index), r), formula, "Row head" if index == 0 else "Computed text", code)
        page.height("A%d" % r, 6)
    page.conditional("A7:K10", "$A7=fuel_chosen", "Agrees")
    page.merge("A11:K11", (
        '=IF(ISERROR(G8);FUNCTION.WHY(G8);"100–200 km/h in "&FIXED(time_wanted;1;1)&" s would need "&TEXT(UNIT.CONVERT(ROAD.POWER.FOR.TIME(vehicle;curve_speeds;torque_chosen;100;200;'
        'time_wanted;weather);"kW";power_unit);"0")&" "&power_unit&" at the peak, with the shape of the curve on "&fuel_chosen&".")'), "Body", 6)
    page.put("A12", "", "Body")
    page.height("A12", 84)
    speeds = "A%d:F%d" % (GRID_FIRST - 1, SHIFT_LAST)
    chart = page.chart("speed_chart", "A12", (226, 83), ["$Behind." + speeds], title="Speed over time, with the upshifts of the fuel chosen",
                       x_title="time from rest [s]", y_title="speed [km/h]")
    upshifts = chart.getFirstDiagram().getCoordinateSystems()[0].getChartTypes()[0].getDataSeries()[len(FUELS)]
    upshifts.setPropertyValue("LineStyle", NO_LINE)
    upshifts.setPropertyValue("Symbol", symbol(0, UPSHIFT_COLOUR))
    upshifts.setPropertyValue("Color", UPSHIFT_COLOUR)
    chart.Legend.Alignment = LEGEND_RIGHT

    page.section("A14:E14", '="Upshifts on "&fuel_chosen')
    page.heads("A15", ["from gear", "at [rpm]", "speed [km/h]", "falls to [rpm]", "because"], height=9)
    for shift in range(MOST_SHIFTS):
        r = 16 + shift
        fill(page, "A%d" % r, [[
            '=IFERROR(INDEX(ROAD.SHIFT.SPEEDS(vehicle;curve_speeds;torque_chosen;weather);%d;%d);"")' % (shift + 2, column)
            for column in range(1, 6)]], "Computed text", "0")
        page.height("A%d" % r, 8.5)
    page.section("G14:K14", '="What it costs on "&fuel_chosen&" [s]"')
    page.heads("G15", ["", "100–200 km/h", "60–130 mph", "1/4 mile", ""], height=9)
    rows = [("as it stands", 0, "torque"), ("one person more", 1, "torque"), ("warmer", 2, "torque"), ("higher", 3, "torque"),
            ("warmer, less torque", 2, "thin"), ("higher, less torque", 3, "thin")]
    for index, (label, change, torque) in enumerate(rows):
        r = 16 + index
        page.put("G%d" % r, label, "Row head")
        curve = "torque_chosen" if torque == "torque" else "torque_in_air_%d" % change
        block = ("vehicle_%d" % change, curve, "weather_%d" % change)
        formulas = [
            "ROAD.TIME(%s;curve_speeds;%s;100;200;%s)" % block,
            "ROAD.TIME(%s;curve_speeds;%s;\"60 mph\";\"130 mph\";%s)" % block,
            "INDEX(ROAD.DISTANCE.TIME(%s;curve_speeds;%s;\"0.25 mi\";%s;rollout);2;3)" % block,
        ]
        for column, formula in enumerate(formulas):
            letter = column_name(7 + column)
            page.put("%s%d" % (letter, r), "=" + formula + ("" if index == 0 else "-%s$16" % letter), "Computed text",
                     "0.00" if index == 0 else "+0.00;-0.00;0.00")
        page.put("K%d" % r, ["", '="+"&person&" kg"', '="+"&warmer&" K"', '="+"&higher&" m"', '="+"&warmer&" K"', '="+"&higher&" m"'][index], "Remark")
    page.merge("G22:K24", "Upper rows: boost control holds the torque, the air only drags less. Lower rows: the torque falls with the air as the "
               "factor of ISO 1585 says, as without boost control. The truth of a turbo engine lies between.", "Remark")
    page.print_page("A1:K24")
    page.for_customer("A1:K24")


def behind(book):
    page = book.sheet("Behind", [20] * 18 + [34] * 22)
    first, last = GRID_FIRST, GRID_LAST
    page.put("A1", "Behind", "Page title")
    page.put("A2", "The run from rest at equal steps of time; below it, the shift points. To the right, the changed cars and days.", "Subtitle")
    page.section("A4:F4", '="Speed [km/h] up to "&chart_until&" km/h"')
    page.heads("A5", ["time [s]", *["=INDEX(fuels;1;%d)" % (fuel + 1) for fuel in range(4)], "upshift"], height=7)
    page.put("H4", "time to the end [s]", "Unit")
    page.put("H5", "=MAX(H6:H9)", "Computed", "0.000", "time_of_chart")
    for fuel in range(4):
        trace = "ROAD.TRACE(vehicle;curve_speeds;torque_%d;chart_until;weather;0.05)" % (fuel + 1)
        page.put("H%d" % (6 + fuel), "=MAX(INDEX(%s;0;1))" % trace, "Computed", "0.000")
        raw = column_name(9 + 2 * fuel), column_name(10 + 2 * fuel)
        page.array("%s5:%s%d" % (raw[0], raw[1], last),
                   "=PULL.RESAMPLE(INDEX(%s;0;1);INDEX(%s;0;2);0;time_of_chart;time_of_chart/%d)" % (trace, trace, GRID_ROWS - 1),
                   "Computed", "0.00")
        fill(page, "%s%d" % (column_name(1 + fuel), first), [["=%s%d" % (raw[1], row)] for row in range(first, last + 1)], "Computed", "0.0")
    page.section("J4:Q4", "Resampled run of each fuel: time [s], speed [km/h]")
    fill(page, "A%d" % first, [["=J%d" % row] for row in range(first, last + 1)], "Computed", "0.00")
    page.style("F%d:F%d" % (first, last), "Computed")
    for shift in range(MOST_SHIFTS):
        row = last + 1 + shift
        speed = "$Runs.C%d" % (16 + shift)
        page.put("F%d" % row, '=IF(N(%s)=0;"";IF(%s<chart_until;%s;""))' % (speed, speed, speed), "Computed", "0.0")
        page.put("A%d" % row, "=IF(N(F{r})=0;0;ROAD.TIME(vehicle;curve_speeds;torque_chosen;0;F{r};weather))".format(r=row), "Computed", "0.00")
    page.style("B%d:E%d" % (last + 1, SHIFT_LAST), "Computed")
    # Power curves, and the torque of the fuel chosen as it stands and in the changed air.
    page.section("S4:Z4", "Power on each fuel [kW]; torque of the fuel chosen [N·m], as measured and in the changed air")
    page.heads("S5", ["power 1", "power 2", "power 3", "power 4", "torque", "warmer", "higher"], height=7)
    rows = len(SPEEDS)
    factors = 8 + rows
    fill(page, "S6", [
        ["=ENGINE.POWER(INDEX(torque_%d;%d);INDEX(curve_speeds;%d))" % (fuel + 1, index + 1, index + 1) for fuel in range(4)]
        + ["=INDEX(curve_torques;%d;MATCH(fuel_chosen;fuels;0))" % (index + 1)]
        + ["=W%d*$X$%d/$%s$%d" % (6 + index, factors, column, factors) for column in "YZ"]
        for index in range(rows)], "Computed", "0.0")
    end = 5 + rows
    for fuel in range(4):
        column = column_name(18 + fuel)
        book.name("power_%d" % (fuel + 1), page, "%s6:%s%d" % (column, column, end))
    page.put("AA5", "power chosen", "Column head")
    fill(page, "AA6", [["=ENGINE.POWER(W%d;INDEX(curve_speeds;%d))" % (6 + index, index + 1)] for index in range(rows)], "Computed", "0.0")
    book.name("power_chosen", page, "AA6:AA%d" % end)
    book.name("torque_chosen", page, "W6:W%d" % end)
    book.name("torque_in_air_2", page, "X6:X%d" % end)
    book.name("torque_in_air_3", page, "Y6:Y%d" % end)
    row = 8 + rows
    page.heads("W%d" % (row - 1), ["ISO 1585", "today", "warmer", "higher"], height=7)
    page.put("W%d" % row, "factor", "Row head")
    page.put("X%d" % row, '=DYNO.FACTOR("ISO 1585";air_temperature;station_pressure;humidity)', "Computed", "0.0000")
    page.put("Y%d" % row, '=DYNO.FACTOR("ISO 1585";air_temperature+warmer;station_pressure;humidity)', "Computed", "0.0000")
    page.put("Z%d" % row, '=DYNO.FACTOR("ISO 1585";air_temperature;pressure_higher;humidity)', "Computed", "0.0000")
    page.put("W%d" % (row + 1), "pressure, higher [kPa]", "Row head")
    page.put("X%d" % (row + 1), "=AIR.STANDARD.PRESSURE(AIR.PRESSURE.ALTITUDE(station_pressure)+higher)", "Computed", "0.00", "pressure_higher")
    # The changed cars and days, as blocks.
    top = row + 5
    for change, title in enumerate(["as it stands", "one person more", "warmer", "higher"]):
        start = 18 + 4 * (change % 2)
        begin = top + (len(VEHICLE) + len(WEATHER) + 6) * (change // 2)
        columns = [column_name(start + k) for k in range(3)]
        page.section("%s%d:%s%d" % (columns[0], begin, columns[2], begin), title)
        fill(page, "%s%d" % (columns[0], begin + 1), [
            ["=$Inputs.A%d" % (VEHICLE_FIRST + index),
             "=$Inputs.B%d%s" % (VEHICLE_FIRST + index, "+person" if change == 1 and label == "mass" else ""),
             '=$Inputs.C%d&""' % (VEHICLE_FIRST + index)]
            for index, (label, *_rest) in enumerate(VEHICLE)], "Computed")
        book.name("vehicle_%d" % change, page, "%s%d:%s%d" % (columns[0], begin + 1, columns[2], begin + len(VEHICLE)))
        second = begin + len(VEHICLE) + 2
        block = [("temperature", "=air_temperature" + ("+warmer" if change == 2 else ""), "°C"),
                 ("pressure", "=pressure_higher" if change == 3 else "=station_pressure", "kPa"),
                 ("humidity", "=humidity", ""), ("headwind", "=$Inputs.B%d" % (WEATHER_FIRST + 4), "km/h"),
                 ("slope", "=$Inputs.B%d" % (WEATHER_FIRST + 5), "")]
        fill(page, "%s%d" % (columns[0], second), block, "Computed")
        book.name("weather_%d" % change, page, "%s%d:%s%d" % (columns[0], second, columns[2], second + len(block) - 1))
    # Power from the log over the road speed, and the rollers' curve at the same engine speeds.
    first, last = POWER_FIRST, POWER_FIRST + POWER_ROWS - 1
    page.section("AB4:AG4", "Power [kW] over the road speed [km/h]")
    page.heads("AB5", ["road speed", "from the log", "rollers' curve", "uncertainty", "engine speed", "outside shifts"], height=9)
    rows = 'COUNT(CHOOSE(run_shown;log_1_time;log_2_time;log_3_time))'
    columns = ["OFFSET(CHOOSE(run_shown;log_1_{n};log_2_{n};log_3_{n});0;0;{rows};1)".format(n=name, rows=rows)
               for name in ("time", "speed", "height")]
    call = "ROAD.LOG.POWER(%s;%s;vehicle;weather;%s;0.4)" % tuple(columns)
    for column, field in (("AI", 4), ("AK", 5), ("AM", 6)):
        second = column_name(34 + {"AI": 0, "AK": 2, "AM": 4}[column] + 1)
        page.array("%s%d:%s%d" % (column, first - 1, second, last),
                   "=PULL.RESAMPLE(INDEX(%s;0;2);INDEX(%s;0;%d);108;200;2)" % (call, call, field), "Computed", "0.0")
    fill(page, "AB%d" % first, [
        ["=AI%d" % r, "=AJ%d" % r, '=IF(ISNUMBER(AF{r});IFERROR(PULL.AT(curve_speeds;power_chosen;AF{r});"");"")'.format(r=r), "=AL%d" % r, "=AN%d" % r,
         "=IF(AND(ISNUMBER(AC{r});ISNUMBER(AD{r}));IF(AC{r}>0.75*MAX(AC${a}:AC${z});1;0);0)".format(r=r, a=first, z=last)] for r in range(first, last + 1)], "Computed", "0.0")
    for row, column, name in ((last + 2, "AC", "power_log"), (last + 2, "AD", "power_rollers"), (last + 2, "AE", "power_log_uncertainty")):
        page.put("%s%d" % (column, row), "=IF(SUM(AG{a}:AG{z})=0;0;SUMIFS({c}{a}:{c}{z};AG{a}:AG{z};1)/MAX(1;SUM(AG{a}:AG{z})))".format(c=column, a=first, z=last), "Computed", "0.0", name)
    page.put("AB%d" % (last + 2), "mean", "Row head")
    for run in range(3):
        page.put("AB%d" % (last + 5 + run), ('=IFERROR(SMALL($Measured.B6:B8;%d);"")' % (run + 1)), "Computed", "0.00")
    book.name("runs_counted", page, "AB%d:AB%d" % (last + 5, last + 7))

    # A car and a curve with closed forms, for the checks.
    begin = top + 2 * (len(VEHICLE) + len(WEATHER) + 6)
    page.section("S%d:V%d" % (begin, begin), "A car with closed forms, for the checks")
    bare = [("mass", 1000, "kg"), ("drive", "all", ""), ("rolling radius", 0.3, "m"), ("drag area", 0, "m²"), ("rolling resistance", 0, ""),
            ("grip", 5, ""), ("gear 1", 5, ""), ("final drive", 1, ""), ("driveline efficiency", 1, ""), ("engine inertia", 0, ""),
            ("wheel inertia", 0, ""), ("rev limit", 9000, "rpm")]
    fill(page, "S%d" % (begin + 1), bare, "Computed")
    fill(page, "W%d" % (begin + 1), [(label, 0.62 if label == "drag area" else value, unit) for label, value, unit in bare], "Computed")
    end = begin + len(bare)
    book.name("bare_car", page, "S%d:U%d" % (begin + 1, end))
    book.name("bare_car_with_drag", page, "W%d:Y%d" % (begin + 1, end))
    page.heads("S%d" % (end + 2), ["rpm", "N·m", "N·m"], height=7)
    speeds = range(500, 9001, 250)
    fill(page, "S%d" % (end + 3), [[speed, 300, "=ENGINE.TORQUE(200;S%d)" % (end + 3 + index)] for index, speed in enumerate(speeds)],
         "Computed", "0.0")
    finish = end + 2 + len(speeds)
    book.name("flat_speeds", page, "S%d:S%d" % (end + 3, finish))
    book.name("flat_torques", page, "T%d:T%d" % (end + 3, finish))
    book.name("constant_power", page, "U%d:U%d" % (end + 3, finish))
    page.print_page("A1:Q%d" % SHIFT_LAST, landscape=True, pages_high=3, repeat_rows="A4:Q5")


def checks(book):
    # m dv/dt = F − k v²: t = m/√(F k) (artanh(v2 √(k/F)) − artanh(v1 √(k/F))).
    force, drag = 300.0 * 5.0 / 0.3, 0.5 * 1.22552134 * 0.62
    root = math.sqrt(drag / force)
    with_drag = 1000.0 / math.sqrt(force * drag) * (math.atanh(30.0 * root) - math.atanh(10.0 * root))
    checks_page(
        book,
        [
            ("Tyre 255/35 R19, rolling radius over 0.965 twice [mm]", '=ROUND(2*TYRE.RADIUS("255/35 R19")/0.965*1000;0)', 661.0, 1e-9,
             "ETRTO Standards Manual, design overall diameter, from memory"),
            ("Tyre 205/55 R16, the same [mm]", '=ROUND(2*TYRE.RADIUS("205/55 R16")/0.965*1000;0)', 632.0, 1e-9,
             "ETRTO Standards Manual, design overall diameter, from memory"),
            ("Constant force 5000 N, 1000 kg, 36 to 108 km/h [s]", "=ROAD.TIME(bare_car;flat_speeds;flat_torques;36;108)", 4.0, 1e-6,
             "Newton: t = m (v₂ − v₁)/F"),
            ("The same with air drag of 0.62 m² [s]", "=ROAD.TIME(bare_car_with_drag;flat_speeds;flat_torques;36;108)", with_drag, 1e-6,
             "closed form in artanh; air of CIPM-2007 at 15 °C, 101.325 kPa"),
            ("Constant power 200 kW, 1000 kg, 36 to 108 km/h [s]", "=ROAD.TIME(bare_car;flat_speeds;constant_power;36;108)", 2.0, 1e-4,
             "t = m (v₂² − v₁²)/(2 P); the curve is given at 35 points, hence the tolerance"),
            ("Pressure 500 m up in the standard atmosphere [kPa]", "=AIR.STANDARD.PRESSURE(500)", 95.461, 5.3e-6,
             "ASHRAE Handbook, Fundamentals, 2017, chapter 1, table 1"),
            ("Moist air, 101.325 kPa, 20 °C, 50 % [kg/m³]", "=AIR.DENSITY(20;101.325;0.5)", 1.1993139, 1e-7, "CIPM-2007, Picard et al. 2008"),
            ("60 mph in km/h", '=UNIT.CONVERT(60;"mph";"km/h")', 96.56064, 1e-12, "international mile, exact definition"),
            ("Quarter mile in m", '=UNIT.CONVERT(0.25;"mi";"m")', 402.336, 1e-12, "international mile, exact definition"),
            ("36–72 and 72–108 km/h against 36–108 km/h", (
                "=(ROAD.TIME(bare_car;flat_speeds;flat_torques;36;72)+ROAD.TIME(bare_car;flat_speeds;flat_torques;72;108))/"
                "ROAD.TIME(bare_car;flat_speeds;flat_torques;36;108)"), 1.0, 1e-6, "identity: one gear, no shift"),
            ("Power for the time of the curve itself is its peak power", (
                "=ROAD.POWER.FOR.TIME(vehicle;curve_speeds;torque_2;100;200;$Runs.G8;weather)/UNIT.CONVERT($Runs.D8;power_unit;\"kW\")"), 1.0, 5e-3,
             "identity; between its points the curve rises a little, hence the tolerance"),
            ("The run ends at the speed asked for [km/h]", "=MAX(INDEX(ROAD.TRACE(vehicle;curve_speeds;torque_chosen;chart_until;weather);0;2))/chart_until",
             1.0, 1e-6, "identity; holds for any inputs"),
            ("Cost: the first row is the run of the fuel chosen", "=$Runs.H16/INDEX($Runs.G7:G10;MATCH(fuel_chosen;fuels;0))", 1.0, 1e-9,
             "identity; holds for any inputs"),
            ("A log of even acceleration, 50 km/h each second: 100 to 150 km/h [s]",
             "=ROAD.LOG.TIME({0;0.2;0.4;0.6;0.8;1;1.2;1.4};{90;100;110;120;130;140;150;160};100;150)", 1.0, 1e-9, "t = (v₂ − v₁)/a"),
            ("More mass costs time; higher with less torque too", '=IF(AND($Runs.H17>0;$Runs.H21>0);"yes";"no")', "yes", 0,
             "trend of longitudinal dynamics"),
        ],
    )

