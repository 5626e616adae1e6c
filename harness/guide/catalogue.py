# SPDX-License-Identifier: Apache-2.0
"""The catalogue as the command tells it, read by what is made from it: reference, manual page, completion, guide sheet."""

import hashlib
import json
import re
import subprocess

# What each family is for; the order is that of the catalogue.
FAMILIES = {
    "UNIT": "Any unit of the trade converted into another of the same quantity",
    "AIR": "Density, humidity, station pressure and density altitude",
    "DYNO": "Correction standards, inertia pulls and coast-downs, crank power",
    "PULL": "Work on a measured curve: peak, band, mean, smoothing, repeatability, gain",
    "ENGINE": "Power, torque, air flow, volumetric efficiency, compression ratio, piston speed",
    "FUEL": "Stoichiometry, density, heating value, octane, charge cooling, blends, exhaust lambda",
    "INJECTOR": "Flow, duty and size of injectors, and the power that they carry",
    "PUMP": "Flow required of pumps, and the power that they carry",
    "COMPRESSOR": "Pressure ratio, temperature, efficiency and maps of the compressor",
    "CHARGE": "The charge cooler",
    "TURBINE": "The turbine that drives the compressor",
    "PIPE": "Velocity, Mach number and pressure loss in pipes",
    "CYCLE": "The working cycle of the engine, resolved by crank angle",
    "KNOCK": "Knock integral, and the spark and boost that it allows",
    "ROAD": "Times between speeds and over distances, traces, shift speeds, power from a log",
    "TYRE": "Tyre sizes",
    "BUILD": "Operating point, limits of the parts, and stages of a build",
    "CHECK": "Do the measurements of a day agree?",
    "FUNCTION": "Why a cell fails, sources, solving for an argument, uncertainty",
}


class Catalogue:
    """Everything that `pullsheet list --json` and `pullsheet --describe-commands` say."""

    def __init__(self, command):
        def run(*arguments):
            return subprocess.run([str(command), *arguments], check=True, capture_output=True, timeout=120, encoding="utf-8").stdout

        self.version = run("--version").strip()
        self.functions = [json.loads(line) for line in run("list", "--json").splitlines()]
        self.checks = [json.loads(line) for line in run("--language", "en", "verify", "--json", "--digits", "10").splitlines()]
        self.command = json.loads(run("--language", "en", "--describe-commands"))
        self.families = []
        for function in self.functions:
            if not self.families or self.families[-1]["name"] != function["family"]:
                family = function["family"]
                self.families.append({"name": family, "text": FAMILIES[family], "functions": []})
            self.families[-1]["functions"].append(function)

    def counts(self, family, kind):
        """How many check values of a kind (printed, independent, identity) a family has."""
        return sum(check[kind] is not None and check["function"].startswith(family + ".") for check in self.checks)

    def printed_values(self):
        """The check values that somebody else has printed."""
        return [check for check in self.checks if check["printed"] is not None]

    def fingerprint(self):
        """Tells whether something was made from this catalogue. What compilers round differently does not count."""
        said = [{key: value for key, value in function.items() if key != "seen"} for function in self.functions]
        return hashlib.sha256(json.dumps([self.version, said], sort_keys=True).encode()).hexdigest()

    def blocks(self):
        """The kinds of blocks, each once, with the functions that take them."""
        found = {}
        for function in self.functions:
            for block in function["blocks"]:
                found.setdefault(block["name"], {**block, "functions": []})["functions"].append(function["name"])
        return list(found.values())

    def sources(self):
        """The bibliography that is used, with the functions that rest on each entry."""
        found = {}
        for function in self.functions:
            for source in function["sources"]:
                found.setdefault(source["key"], {**source, "functions": []})["functions"].append(function["name"])
        return sorted(found.values(), key=lambda source: source["key"].lower())

    def units(self):
        """The quantities that functions take or give, with their units."""
        found = {}
        for function in self.functions:
            for one in [function["result"], *function["parameters"]]:
                if one["units"]:
                    found.setdefault(one["quantity"], one["units"])
        return sorted(found.items())


def is_table(argument):
    return isinstance(argument, list)


def is_series(argument):
    return is_table(argument) and len(argument[0]) == 1


def number(value):
    """A number as a formula writes it."""
    return repr(int(value)) if isinstance(value, float) and value == int(value) and abs(value) < 1e15 else repr(value)


def german(formula):
    """A formula with commas in its numbers, as it is typed in a German Calc; a text in quotation marks is the same in both."""
    parts = formula.split('"')
    parts[::2] = [re.sub(r"(?<![\w.])(\d*)\.(\d+)", r"\1,\2", part) for part in parts[::2]]
    return '"'.join(parts)


def literal(value):
    """A single argument as a formula writes it; an omitted one is nothing."""
    if value is None:
        return ""
    return '"%s"' % value.replace('"', '""') if isinstance(value, str) else number(value)


def parameter_of(function, position):
    """The parameter that stands at a position of the arguments; further ones share the last."""
    return function["parameters"][min(position, len(function["parameters"]) - 1)]


def call(function, write):
    """The call of the example; `write(position, argument)` writes a range of cells."""
    arguments = list(function["example"]["arguments"])
    while arguments and arguments[-1] is None:
        arguments.pop()
    return "%s(%s)" % (function["name"], "; ".join(
        write(position, argument) if is_table(argument) else literal(argument) for position, argument in enumerate(arguments)))
