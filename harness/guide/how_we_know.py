# SPDX-License-Identifier: Apache-2.0
"""The page "How we know": what each family rests on, what was measured against it, what nobody has checked yet."""

# Family: what it rests on, what was measured against it, what nobody has checked yet.
KNOWN = {
    "UNIT": (
        "Exact definitions: yard and pound of 1959, standard gravity of 1901, the SI.",
        "The factors that NIST SP 811 prints; the program GNU Units.",
        "Nothing is open.",
    ),
    "AIR": (
        "The density of moist air of CIPM-2007 and the standard atmosphere of ISO 2533.",
        "The U.S. Standard Atmosphere and the tables of ASHRAE; steam tables; the npm package psychrolib over 0 to 60 °C.",
        "The density of moist air was not held against a value printed in the article itself. Above 60 °C vapour pressure is extrapolated.",
    ),
    "DYNO": (
        "The formulas of the correction standards; the change of kinetic energy of the rollers.",
        "Reference conditions, where each factor is 1; worked examples of a torque that speeds a body up.",
        "No standard prints a worked correction factor that could be read. No real pull was compared with an engine test bed. The loss of 15 % "
        "between crank and wheels is common practice and no measurement.",
    ),
    "PULL": (
        "Savitzky and Golay's local polynomials; the tests of Student and Welch; ISO 5725-6.",
        "The printed coefficients; certified values of NIST; the program R.",
        "How far repeated pulls of one car lie apart in practice was taken from no published series.",
    ),
    "ENGINE": (
        "Definitions, and the filling of a cylinder with an ideal gas.",
        "Worked examples of four textbooks.",
        "The volumetric efficiency that stands in for yours (0.95) and the efficiency (0.30) are assumptions; state your own.",
    ),
    "FUEL": (
        "Atoms and masses; the density of ethanol of OIML R 22, of gasoline of API MPMS 11.1; octane by mole fractions.",
        "Tables of Heywood, Çengel and Boles, the United States Department of Energy, EN 228; exhaust gas made forwards by an element balance.",
        "Measured octane numbers of real blends were compared in no series; the fuel at your pump is not the reference gasoline.",
    ),
    "INJECTOR": (
        "Bernoulli: flow with the root of pressure and of density.",
        "A table of the discharge of nozzles.",
        "Real injectors against their data sheets at several pressures; dead time over voltage.",
    ),
    "PUMP": (
        "Swept volume times speed times filling; a fuel pump by the curve of its data sheet.",
        "Worked examples of plunger pumps.",
        "Filling of high-pressure pumps at high speed (0.9 is common practice).",
    ),
    "COMPRESSOR": (
        "Isentropic compression of air with constant heat capacity.",
        "Worked examples; the Python library fluids.",
        "Reading a maker's map: compared with no second reading of a published one.",
    ),
    "CHARGE": (
        "The definition of effectiveness.",
        "Worked examples of three textbooks.",
        "How a cooler's effectiveness falls with flow and with heat soak; state the one you measure.",
    ),
    "TURBINE": (
        "One or two nozzles in a row and an efficiency parabola over blade speed.",
        "Worked examples, only within 2.5 %: their gas is another one. Parts of it against separately written programs.",
        "No published turbine map with its engine was reproduced. The pulse amplitude is an input that few can measure.",
    ),
    "PIPE": (
        "Continuity, the speed of sound, Darcy and Weisbach with Colebrook.",
        "Table I of NACA report 1135; a worked example; published friction factors.",
        "Loss coefficients of real bends, filters and joints.",
    ),
    "CYCLE": (
        "Two zones with the NASA polynomials of GRI-Mech 3.0, Woschni's heat transfer, a Wiebe burn, Chen and Flynn's friction.",
        "Printed ranges of engines (Heywood); a second cycle written separately; torque of seven production engines at their boost, nothing "
        "adjusted: 0.88 to 1.14 of rated, median 1.03.",
        "Exhaust heat transfer, wall heat factor and port evaporation are assumptions. A burn duration was compared with no published pressure "
        "trace.",
    ),
    "KNOCK": (
        "The delay of Douaud and Eyzat in the integral of Livengood and Wu.",
        "Published sensitivities of the octane requirement to spark, air and coolant temperature, pressure and compression ratio.",
        "The level. Not calibrated, it allowed a research engine of compression ratio 11.85 on 87 AKI gasoline 17 bar, where 10 were measured, and "
        "gave 30 % ethanol a gain of 1.3, where it was 2. Calibrate with the spark of one pull. Pre-ignition at low speed is outside.",
    ),
    "ROAD": (
        "Newton's law along the road, with drag, rolling resistance, rotating masses, grip and shifts.",
        "400 road tests of cars of 1970 to 1982 with one car for all: median of predicted over measured 0.99, eight of ten within 0.86 to 1.15, "
        "rank correlation 0.80. Closed solutions; a paper on times at two altitudes; worked examples of power.",
        "Modern cars with automatic gearboxes, launch control and all-wheel drive were compared with no published set.",
    ),
    "TYRE": (
        "The design dimensions of ETRTO and a rolling circumference of 3.05 diameters.",
        "Rolling circumferences of ETRTO, from memory, within 1 %.",
        "Growth at high speed and wear.",
    ),
    "BUILD": (
        "All families above, joined: the weakest part, or knock, sets the power.",
        "The limit at one speed and the match of turbine and engine against separately written programs. Nine outside cases that nothing was "
        "calibrated to: the printed band held the torque of seven production engines at their boost and one of the two knock-limited loads of "
        "a research engine; the test prints the count.",
        "No customer's car was planned with it and then measured in public. Peak pressure not stated and the latest burn on another fuel are the "
        "riskiest assumptions.",
    ),
    "CHECK": (
        "The weighted mean, χ² and Birge's ratio.",
        "The program R; a worked example of Taylor.",
        "The uncertainties that the witnesses get when none is stated are common practice.",
    ),
    "FUNCTION": (
        "The law of propagation of JCGM 100; a bracketing root search.",
        "Worked examples of a dynamometer (Doebelin and Manik).",
        "Correlated inputs are outside.",
    ),
}

WORDS = {
    "title": "How we know",
    "file": "how-we-know",
    "other": "how-we-know-de",
    "other_title": "Deutsch",
    "opening": "What each family rests on, what was measured against it, and what nobody has checked yet.",
    "kinds": [
        "**Printed**: somebody else has printed the value, in a standard, a handbook, a textbook or a report; it is met to the printed digits, or "
        "within a wider tolerance whose reason is stated.",
        "**Independent**: another program or another formula gave it; it is named, with how it was run.",
        "**Identity**: it must be so, by definition, or the cited formula was evaluated once more. It guards against a slip, not against a wrong "
        "formula, and counts as no evidence.",
    ],
    "count": "``pullsheet verify`` computes every value, prints source and deviation, and fails when there are fewer than a stated number. Of this "
        "version:",
    "family": "family",
    "printed": "printed",
    "independent": "independent",
    "identity": "identities",
    "rests": "rests on",
    "measured": "measured against",
    "open": "not checked yet",
    "values": "Every printed value",
    "values_text": "With its source, and the copy in which it was read. \"From memory\" means that the source was not at hand.",
    "function": "function",
    "value": "printed",
    "computed": "computed",
    "source": "source",
    "read": "where read",
    "memory": "from memory",
}
