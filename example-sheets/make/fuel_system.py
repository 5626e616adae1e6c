# SPDX-License-Identifier: Apache-2.0
"""fuel-system.fods: mixing the tank, what a blend is, and injectors and pumps that carry it."""

from paper import Book, about_page, checks_page, column_name, input_row

TITLE = "Fuel system"
FUELS = ["95 RON", "98 RON", "E20", "E85"]
SPEEDS = list(range(2000, 7001, 500))
POWER = [52, 84, 126, 168, 205, 238, 266, 288, 302, 310, 306]
PUMP_PRESSURES = [3, 4, 5, 6, 7]
PUMP_FLOWS = [310, 288, 262, 233, 200]
SHARES = [index / 20 for index in range(21)]


def build(desktop, version):
    book = Book(desktop, TITLE, "Mixing the tank, what a blend is, and injectors and pumps that carry it")
    book.version = version
    about_page(
        book,
        [
            "For whoever fills the tank and chooses injectors and pumps: how many litres of which fuel give the ethanol share "
            "wanted, what such a blend is, and whether injectors and pump carry it at every engine speed.",
            "E85 is a name, not a share: what is sold under it holds 51 to 83 % ethanol (ASTM D5798). A gauge that shows 14.7 at "
            "lambda 1 is set for petrol, whatever burns; with E85 lambda 1 is about 9.8 kg of air for each kg of fuel.",
        ],
        [
            "Inputs: tank, fuels, engine, injectors, pump.",
            "Tank: litres to add, litres of two fuels that fill the tank to the brim, and a table of targets.",
            "Blend: stoichiometry, density, heating value, octane against the ethanol share, with charts.",
            "Injectors: size needed, power carried, duty at every engine speed for each fuel; direct injection at the end.",
            "Pump: what the pump gives at the rail pressure against what the engine asks for.",
            "Checks: expected values against computed ones.",
        ],
        "The car, its parts and its power curve in this file are invented. Replace them with your own.",
    )
    inputs(book)
    tank(book)
    blend(book)
    injectors(book)
    pump(book)
    checks(book)
    return book


def inputs(book):
    page = book.sheet("Inputs", [66] + [28] * 5 + [92])
    page.put("A1", "Inputs", "Page title")
    page.put("A2", "All data on this page are invented.", "Subtitle")

    page.section("A4:G4", "Tank")
    for index, row in enumerate((
            ("Tank holds", 60, "L", "tank_capacity", 1, 500, "0.0", ""),
            ("In the tank now", 18, "L", "tank_volume", 0, 500, "0.0", ""),
            ("Ethanol in the tank", 0.05, None, "tank_ethanol", 0, 1, "0 %", "Measured; or from the sensor, next row."),
            ("Frequency of the flex-fuel sensor", 55, "Hz", "sensor_frequency", 50, 150, "0.0", "50 Hz is 0 %, 150 Hz is 100 %."),
            ("Ethanol in fuel a", 0.05, None, "ethanol_a", 0, 1, "0 %", "Premium petrol with up to 5 % ethanol."),
            ("Ethanol in fuel b", 0.80, None, "ethanol_b", 0, 1, "0 %", "What the pump called E85 really holds: measure it."),
            ("Price of fuel a", 1.86, "a litre", "price_a", 0, 20, "0.00", ""),
            ("Price of fuel b", 1.25, "a litre", "price_b", 0, 20, "0.00", ""),
            ("Ethanol wanted", 0.40, None, "target", 0, 1, "0 %", ""),
            ("RON of the petrol part", 97, None, "base_ron", 80, 110, "0", "RON, not the AKI of a North American pump."),
            ("Fuel temperature", 30, "°C", "fuel_temperature", -20, 60, "0", "In the tank and rail."))):
        input_row(page, 5 + index, *row)

    page.section("A17:G17", "Engine")
    for index, row in enumerate((
            ("Cylinders", 4, None, "cylinders", 1, 16, "0", "One injector each."),
            ("Boost at full load", 1.6, "bar", "boost", 0, 5, "0.00", "Over the surroundings."),)):
        input_row(page, 18 + index, *row)
    page.heads("A21", ["", *FUELS], height=6)
    book.name("fuels", page, "B21:E21")
    for index, (label, name, values, low, high, code, note) in enumerate((
            ("Ethanol by volume", "fuel_ethanol", [0.05, 0.05, 0.20, 0.80], 0, 1, "0 %", ""),
            ("Lambda at full load", "fuel_lambda", [0.82, 0.84, 0.84, 0.86], 0.6, 1.2, "0.00", ""),
            ("Brake efficiency at full load", "fuel_efficiency", [0.292, 0.300, 0.306, 0.322], 0.1, 0.5, "0.0 %",
             "From a measured fuel flow of this engine."))):
        r = 22 + index
        page.put("A%d" % r, label, "Label")
        for fuel, value in enumerate(values):
            page.input("%s%d" % (column_name(1 + fuel), r), value, code, None, low, high)
        page.put("G%d" % r, note, "Remark")
        book.name(name, page, "B%d:E%d" % (r, r))

    page.section("A26:G26", "Injectors and pump")
    for index, row in enumerate((
            ("Injectors: rated flow", 650, "cc/min", "rated_flow", 50, 5000, "0", "Each, held open; test fluid of 684 kg/m³."),
            ("Injectors: rated pressure", 3.0, "bar", "rated_pressure", 1, 10, "0.0", ""),
            ("Fuel pressure over the manifold", 4.0, "bar", "fuel_pressure", 1, 10, "0.0", "The rail follows the manifold."),
            ("Injectors: dead time", 1.0, "ms", "dead_time", 0, 5, "0.00", "At the voltage under load."),
            ("Injectors: largest duty", 0.85, None, "max_duty", 0.3, 1, "0 %", "Common practice."),
            ("Pumps: count", 1, None, "pump_count", 1, 4, "0", ""),
            ("Pump: margin over what burns", 0.10, None, "pump_margin", 0, 0.5, "0 %", ""))):
        input_row(page, 27 + index, *row)
    page.heads("A35", ["pressure the pump lifts [bar]", "one pump [L/h]"], height=6)
    for index, (pressure, flow) in enumerate(zip(PUMP_PRESSURES, PUMP_FLOWS)):
        page.input("A%d" % (36 + index), pressure, "0.0", None, 0, 15)
        page.input("B%d" % (36 + index), flow, "0", None, 0, 3000)
    book.name("pump_pressures", page, "A36:A40")
    book.name("pump_flows", page, "B36:B40")
    page.put("G36", "From the pump's data sheet, at the voltage under load.", "Remark")

    page.section("A42:G42", "Power wanted at full load")
    page.heads("A43", ["engine speed [rpm]", "power [kW]"], height=6)
    for index, (speed, power) in enumerate(zip(SPEEDS, POWER)):
        page.input("A%d" % (44 + index), speed, "0", None, 500, 15000)
        page.input("B%d" % (44 + index), power, "0", None, 1, 3000)
    last = 43 + len(SPEEDS)
    book.name("speeds", page, "A44:A%d" % last)
    book.name("powers", page, "B44:B%d" % last)

    page.section("A%d:G%d" % (last + 2, last + 2), "Direct injection: high-pressure pump and window")
    for index, row in enumerate((
            ("Plunger diameter", 10, "mm", "plunger_diameter", 1, 50, "0.0", ""),
            ("Lift of the cam", 4.0, "mm", "cam_lift", 0.5, 30, "0.0", ""),
            ("Lobes", 4, None, "lobes", 1, 12, "0", ""),
            ("Volumetric filling", 0.85, None, "filling", 0.1, 1, "0 %", ""),
            ("Injection begins", 300, "° before TDC", "window_open", -180, 360, "0", "Top dead centre of ignition."),
            ("Injection ends", 60, "° before TDC", "window_close", -180, 360, "0", "Before the spark."))):
        input_row(page, last + 3 + index, *row)
    page.freeze(1, 2)
    page.print_page("A1:G%d" % (last + 8))


def tank(book):
    page = book.sheet("Tank", [78, 30, 30, 30, 30, 30])
    page.put("A1", "Tank", "Page title")
    page.put("A2", "How many litres of which fuel give the ethanol share wanted.", "Subtitle")
    page.section("A4:F4", "Today")
    rows = [
        ("Ethanol in the tank by the sensor", "=FUEL.SENSOR.ETHANOL(sensor_frequency)", "0 %", ""),
        ("Litres of fuel b to add, nothing else", '=IFERROR(FUEL.BLEND.ADD(tank_volume;tank_ethanol;ethanol_b;target);"not possible")',
         "0.0", "L"),
        ("Does that fit?", '=IF(ISNUMBER(B6);IF(B6<=tank_capacity-tank_volume;"yes";"no: only "&FIXED(tank_capacity-tank_volume;1;1)&'
         '" L fit");"no")', None, ""),
        ("Fill to the brim: litres of fuel a", '=IFERROR(INDEX(FUEL.BLEND.FILL(tank_capacity;tank_volume;tank_ethanol;ethanol_a;'
         'ethanol_b;target);2;2);"not possible")', "0.0", "L"),
        ("Fill to the brim: litres of fuel b", '=IFERROR(INDEX(FUEL.BLEND.FILL(tank_capacity;tank_volume;tank_ethanol;ethanol_a;'
         'ethanol_b;target);3;2);"not possible")', "0.0", "L"),
        ("What the filling costs", '=IF(ISNUMBER(B8);B8*price_a+B9*price_b;"–")', "0.00", ""),
        ("Octane of the full tank", "=FUEL.OCTANE(base_ron;target)", "0.0", "RON"),
        ("Stoichiometric ratio of the full tank", "=FUEL.STOICH(target)", "0.00", "kg/kg"),
        ("Least ethanol that a full tank can have", "=(tank_volume*tank_ethanol+(tank_capacity-tank_volume)*MIN(ethanol_a;ethanol_b))"
         "/tank_capacity", "0.0 %", ""),
        ("Most ethanol that a full tank can have", "=(tank_volume*tank_ethanol+(tank_capacity-tank_volume)*MAX(ethanol_a;ethanol_b))"
         "/tank_capacity", "0.0 %", ""),
    ]
    for index, (label, formula, code, unit) in enumerate(rows):
        row = 5 + index
        page.put("A%d" % row, label, "Label")
        page.put("B%d" % row, formula, "Computed" if code else "Computed text", code)
        page.put("C%d" % row, unit, "Unit")
    page.section("A16:F16", "Every target")
    page.heads("A17", ["ethanol wanted in the full tank", "fuel a [L]", "fuel b [L]", "mixed again", "octane [RON]", "costs"], height=7)
    for index in range(16):
        row = 18 + index
        page.put("A%d" % row, 0.05 * (index + 1), "Input", "0 %")
        for column, which in (("B", 2), ("C", 3)):
            page.put("%s%d" % (column, row), '=IFERROR(INDEX(FUEL.BLEND.FILL(tank_capacity;tank_volume;tank_ethanol;ethanol_a;ethanol_b;'
                     'A%d);%d;2);"not possible")' % (row, which), "Computed", "0.0")
        page.put("D%d" % row, '=IF(ISNUMBER(B{r});(tank_volume*tank_ethanol+B{r}*ethanol_a+C{r}*ethanol_b)/tank_capacity;"–")'
                 .format(r=row), "Computed", "0.0 %")
        page.put("E%d" % row, "=FUEL.OCTANE(base_ron;A%d)" % row, "Computed", "0.0")
        page.put("F%d" % row, '=IF(ISNUMBER(B{r});B{r}*price_a+C{r}*price_b;"–")'.format(r=row), "Computed", "0.00")
    book.name("fillings", page, "A18:F33")
    page.put("A35", "Volumes are taken to add; mixing ethanol and petrol gains less than 0.3 %.", "Remark")
    page.print_page("A1:F35")


def blend(book):
    page = book.sheet("Blend", [24] * 10)
    page.put("A1", "Blend", "Page title")
    page.put("A2", "Reference petrol of 745 kg/m³ and 43.4 MJ/kg with ethanol. Fuel temperature from Inputs for the last density.", "Subtitle")
    heads = ["ethanol by volume", "air–fuel ratio at lambda 1", "density at 15 °C [kg/m³]", "density, fuel warm [kg/m³]",
             "heating value [MJ/kg]", "heating value [MJ/L]", "latent heat [kJ/kg]", "oxygen by mass", "octane [RON]",
             "charge cooling at most [K]"]
    page.heads("A4", heads, height=14)
    last = 4 + len(SHARES)
    for index, share in enumerate(SHARES):
        page.put("A%d" % (5 + index), share, "Input", "0 %")
    area = "$A$5:$A$%d" % last
    for column, formula, code in (
            ("B", "FUEL.STOICH(%s)", "0.00"), ("C", "FUEL.DENSITY(%s)", "0.0"), ("D", "FUEL.DENSITY(%s;fuel_temperature)", "0.0"),
            ("E", "FUEL.HEATING.VALUE(%s)", "0.00"), ("F", "FUEL.ENERGY.DENSITY(%s)", "0.00"), ("G", "FUEL.LATENT.HEAT(%s)", "0"),
            ("H", "FUEL.OXYGEN(%s)", "0.0 %"), ("I", "FUEL.OCTANE(base_ron;%s)", "0.0"),
            ("J", "FUEL.CHARGE.COOLING(%s)", "0.0")):
        page.array("%s5:%s%d" % (column, column, last), "=" + formula % area, "Computed", code)
    for index, (name, column, title, limits) in enumerate((
            ("stoichiometry", "B", "air–fuel ratio at lambda 1 [kg/kg]", (8, 16)), ("heating", "E", "heating value [MJ/kg]", (24, 46)),
            ("density", "C", "density at 15 °C [kg/m³]", (740, 800)))):
        page.chart(name, "%s%d" % ("AEH"[index], last + 2), ((94, 70, 70)[index], 70),
                   ["A4:A%d" % last, "%s4:%s%d" % (column, column, last)], legend=False,
                   x_title="ethanol share by volume", y_title=title, x_range=(0, 1), y_range=limits)
    page.print_page("A1:J%d" % (last + 20), landscape=True)


def injectors(book):
    page = book.sheet("Injectors", [96, 26, 26, 26, 26, 26, 26, 26, 26])
    page.put("A1", "Injectors", "Page title")
    page.put("A2", "Port injection, one opening a cycle. Above the largest duty the mixture leans out.", "Subtitle")
    page.section("A4:I4", "The set on each fuel")
    page.heads("A5", ["", *["=INDEX(fuels;1;%d)" % (fuel + 1) for fuel in range(4)]], height=6)
    rows = [
        ("Flow at the pressure in use [cc/min]", "=INJECTOR.FLOW(rated_flow;rated_pressure;fuel_pressure;684;FUEL.DENSITY({e};fuel_temperature))", "0"),
        ("Power that they carry at the largest duty, no dead time [kW]", "=INJECTOR.POWER({c}6;cylinders;max_duty;{e};{n})", "0"),
        ("Fuel flow at the power wanted [kg/h]", "=FUEL.FLOW(MAX(powers);{e};{n})", "0.0"),
        ("Fuel flow at the power wanted [L/h]", "=FUEL.VOLUME.FLOW({c}8;{e};fuel_temperature)", "0.0"),
        ("Flow that each would need, at the pressure in use [cc/min]", "=INJECTOR.SIZE({c}8;cylinders;max_duty;{e})", "0"),
        ("The same as it is rated: test fluid, rated pressure [cc/min]",
         "=INJECTOR.FLOW({c}10;fuel_pressure;rated_pressure;FUEL.DENSITY({e};fuel_temperature);684)", "0"),
        ("Largest duty on the curve, dead time counted", "=MAX({d}16:{d}%d)" % (15 + len(SPEEDS)), "0 %"),
        ("Carried at every speed?", '=IF({c}12<=max_duty;"yes";"no")', None),
    ]
    for index, (label, formula, code) in enumerate(rows):
        row = 6 + index
        page.put("A%d" % row, label, "Label")
        for fuel in range(4):
            page.put("%s%d" % (column_name(1 + fuel), row), formula.format(
                c=column_name(1 + fuel), d=column_name(2 + fuel), e="INDEX(fuel_ethanol;1;%d)" % (fuel + 1),
                n="INDEX(fuel_efficiency;1;%d)" % (fuel + 1)), "Computed" if code else "Computed text", code)
    page.conditional("B13:E13", 'B13="no"', "Stands out")
    page.conditional("B13:E13", 'B13="yes"', "Agrees")

    page.heads("A15", ["engine speed [rpm]", "power [kW]", *["=\"duty, \"&INDEX(fuels;1;%d)" % (fuel + 1) for fuel in range(4)],
                       "largest duty", "window, direct injection [ms]", "high-pressure pump gives [L/h]"], height=15)
    last = 15 + len(SPEEDS)
    page.array("A16:A%d" % last, "=speeds", "Computed", "0")
    page.array("B16:B%d" % last, "=powers", "Computed", "0")
    for fuel in range(4):
        column = column_name(2 + fuel)
        page.array("%s16:%s%d" % (column, column, last),
                   "=INJECTOR.DUTY(FUEL.FLOW(powers;{e};{n});cylinders;${c}$6;{e};speeds;dead_time)".format(
                       e="INDEX(fuel_ethanol;1;%d)" % (fuel + 1), n="INDEX(fuel_efficiency;1;%d)" % (fuel + 1),
                       c=column_name(1 + fuel)), "Computed", "0 %")
    page.conditional("C16:F%d" % last, "C16>max_duty", "Stands out")
    for row in range(16, last + 1):
        page.put("G%d" % row, "=max_duty", "Computed", "0 %")
    page.array("H16:H%d" % last, "=INJECTOR.WINDOW(window_open;window_close;speeds)", "Computed", "0.00")
    page.array("I16:I%d" % last, "=PUMP.PLUNGER.FLOW(plunger_diameter;cam_lift;lobes;speeds;filling)", "Computed", "0")
    book.name("duties", page, "C16:F%d" % last)
    page.chart("duty", "A%d" % (last + 2), (205, 80), ["A15:A%d" % last, "C15:G%d" % last], title="Injector duty at full load",
               x_title="engine speed [rpm]", y_title="duty [share of the time]", x_range=(2000, 7000))
    page.print_page("A1:I%d" % (last + 20), landscape=True)


def pump(book):
    page = book.sheet("Pump", [88, 27, 27, 27, 27, 27, 27])
    page.put("A1", "Pump", "Page title")
    page.put("A2", "The pump lifts fuel pressure plus boost; what it gives falls as that rises.", "Subtitle")
    page.section("A4:G4", "At the power wanted")
    page.heads("A5", ["", *["=INDEX(fuels;1;%d)" % (fuel + 1) for fuel in range(4)]], height=6)
    rows = [
        ("Pressure that the pump lifts [bar]", "=fuel_pressure+boost", "0.00"),
        ("Fuel that the engine asks for, margin counted [L/h]", "=PUMP.DEMAND(FUEL.FLOW(MAX(powers);{e};{n});{e};pump_margin)", "0.0"),
        ("Power that the pump carries, margin counted [kW]",
         "=PUMP.POWER(pump_pressures;pump_flows;{c}6;{e};{n};pump_count)/(1+pump_margin)", "0"),
        ("Share of the pump used", "=MAX(powers)/{c}8", "0 %"),
        ("Carried?", '=IF({c}9<=1;"yes";"no")', None),
    ]
    for index, (label, formula, code) in enumerate(rows):
        row = 6 + index
        page.put("A%d" % row, label, "Label")
        for fuel in range(4):
            page.put("%s%d" % (column_name(1 + fuel), row), formula.format(
                c=column_name(1 + fuel), e="INDEX(fuel_ethanol;1;%d)" % (fuel + 1), n="INDEX(fuel_efficiency;1;%d)" % (fuel + 1)),
                     "Computed" if code else "Computed text", code)
    page.conditional("B10:E10", 'B10="no"', "Stands out")
    page.conditional("B10:E10", 'B10="yes"', "Agrees")
    page.merge("A11:G11", '=IF(FUNCTION.WHY(E8)="";"";FUNCTION.WHY(E8))', "Caution")
    page.section("A12:G12", "Against pressure")
    page.heads("A13", ["pressure the pump lifts [bar]", "pumps give [L/h]", *["=\"asked for, \"&INDEX(fuels;1;%d)" % (fuel + 1)
                                                                          for fuel in range(4)]], height=10)
    last = 13 + len(PUMP_PRESSURES)
    page.array("A14:A%d" % last, "=pump_pressures", "Computed", "0.0")
    page.array("B14:B%d" % last, "=pump_flows*pump_count", "Computed", "0")
    for row in range(14, last + 1):
        for fuel in range(4):
            page.put("%s%d" % (column_name(2 + fuel), row), "=$%s$7" % column_name(1 + fuel), "Computed", "0")
    page.chart("pump", "A%d" % (last + 2), (200, 80), ["A13:F%d" % last], title="Pump and demand",
               x_title="pressure the pump lifts [bar]", y_title="fuel flow [L/h]", x_range=(PUMP_PRESSURES[0], PUMP_PRESSURES[-1]))
    page.section("A%d:G%d" % (last + 22, last + 22), "At every engine speed")
    top = last + 23
    page.heads("A%d" % top, ["engine speed [rpm]", "power [kW]", *["=\"asked for, \"&INDEX(fuels;1;%d)&\" [L/h]\"" % (fuel + 1)
                                                               for fuel in range(4)]], height=10)
    end = top + len(SPEEDS)
    page.array("A%d:A%d" % (top + 1, end), "=speeds", "Computed", "0")
    page.array("B%d:B%d" % (top + 1, end), "=powers", "Computed", "0")
    for fuel in range(4):
        column = column_name(2 + fuel)
        page.array("%s%d:%s%d" % (column, top + 1, column, end), "=PUMP.DEMAND(FUEL.FLOW(powers;{e};{n});{e};pump_margin)".format(
            e="INDEX(fuel_ethanol;1;%d)" % (fuel + 1), n="INDEX(fuel_efficiency;1;%d)" % (fuel + 1)), "Computed", "0.0")
    page.print_page("A1:G%d" % end)


def checks(book):
    afdc = "U.S. Department of Energy, Alternative Fuels Data Center, fuel properties"
    heywood = "J. B. Heywood, Internal Combustion Engine Fundamentals, 1988, table D.4"
    checks_page(
        book,
        [
            ("Stoichiometry of iso-octane", "=FUEL.STOICH.FORMULA(8;18)", 15.13, 1e-3, heywood),
            ("Stoichiometry of ethanol", "=FUEL.STOICH.FORMULA(2;6;1)", 9.00, 1e-3, heywood),
            ("Stoichiometry of methanol", "=FUEL.STOICH.FORMULA(1;4;1)", 6.47, 1e-3, heywood),
            ("Ethanol at 20 °C [kg/m³]", "=FUEL.DENSITY(1;20)", 789.24, 1e-5, "OIML R 22, alcoholometric tables"),
            ("Ethanol at 40 °C [kg/m³]", "=FUEL.DENSITY(1;40)", 771.9323, 1e-7, "OIML R 22, computed apart from its coefficients"),
            ("Heat in a gallon of petrol [BTU/gal]", '=FUEL.ENERGY.DENSITY(0;15;"BTU/gal")', 116090, 0.005, afdc),
            ("Heat in a gallon of ethanol [BTU/gal]", '=FUEL.ENERGY.DENSITY(1;15;"BTU/gal")', 76330, 0.005, afdc),
            ("Latent heat of ethanol [BTU/lb]", '=FUEL.LATENT.HEAT(1;"BTU/lb")', 396, 0.005, afdc),
            ("Oxygen in petrol with 10 % ethanol", "=FUEL.OXYGEN(0.1)", 0.037, 0.01, "EN 228: at most 3.7 % by mass"),
            ("Lambda from exhaust, 11.57 % CO₂, 5.61 % CO", '=FUEL.EXHAUST.LAMBDA("11.568576 %";"5.608220 %";0;0)', 0.85, 1e-6,
             "the gas computed by an equilibrium balance of its own; Brettschneider 1979"),
            ("AKI of petrol with RON 98, MON 88", "=FUEL.AKI(98;88)", 93, 1e-12, "16 CFR 306"),
            ("Gauge at lambda 1 on 85 % ethanol", "=FUEL.AIR.FUEL.RATIO(1;0.85)", 9.8, 0.005, "common practice"),
            ("Sensor at 150 Hz", "=FUEL.SENSOR.ETHANOL(150)", 1, 1e-12, "common practice"),
            ("550 cc/min at 3 bar, used at 4 bar", "=INJECTOR.FLOW(550;3;4)", 635.0852961, 1e-8, "orifice: √(4/3)"),
            ("Plunger pump, 10 mm, 4 mm, 4 lobes, 6000 rpm, 85 % [L/h]", "=PUMP.PLUNGER.FLOW(10;4;4;6000;0.85)", 192.26547, 1e-7,
             "4 · π/4 · d² · lift · 3000 rpm · 0.85, computed apart"),
            ("Window from 300° to 60° at 6000 rpm [ms]", "=INJECTOR.WINDOW(300;60;6000)", 20 / 3, 1e-9, "240° at 36° a millisecond"),
            ("Mixed again, every filling that is possible, is the ethanol wanted",
             "=SUMPRODUCT(--($Tank.A18:A33>0);--ISNUMBER($Tank.D18:D33);--(ABS(IF(ISNUMBER($Tank.D18:D33);$Tank.D18:D33;9)-$Tank.A18:A33)<1E-9))",
             "=COUNT($Tank.D18:D33)", 1e-12, "identity; holds for any inputs"),
            ("Size and power of injectors, there and back [kW]",
             "=INJECTOR.POWER(INJECTOR.SIZE(FUEL.FLOW(300;0.2;0.306);4;0.85;0.2);4;0.85;0.2;0.306)", 300, 1e-9, "identity"),
        ],
    )
