#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Breaks one constant, operator or function name of the core at a time and looks whether a test notices.

    tests/mutation/mutate.py air fuel            # 25 mutants of each of these rooms; no room: all rooms
    tests/mutation/mutate.py --survivors         # once more those that no test has noticed
    tests/mutation/mutate.py --report            # the table of what is known, and every survivor

Results are kept in build/mutation/results.jsonl, so that a run can be stopped (--seconds) and taken up again. The sample is
drawn with a fixed seed: the same sources give the same mutants.

What is changed: a number (1 % more; two digits swapped; a whole number by one), + - * / and their assignments, a comparison,
"and"/"or", a function of <cmath> or <algorithm>. What is not: the text of errors, and the bounds of arguments (lines with
`require` or `Interval`), which the boundary tests of the catalogue hold.

A mutant is judged by the tests of its room, then by the worked examples of the catalogue, then by tests/properties. "stopped" is a
mutant whose tests did not end in time, which is noticed too; "no build" does not count."""

import argparse
import concurrent.futures
import itertools
import json
import os
import pathlib
import random
import re
import shutil
import subprocess
import sys
import threading
import time

ROOT = pathlib.Path(__file__).resolve().parents[2]
WORK = ROOT / "build" / "mutation"
ROOMS = ["statistics", "air", "fuel", "engine", "injection", "boost", "cycle", "dyno", "road", "plan"]
# What is judged beside the room's own tests.
EXAMPLES = ("test_catalogue", "*Example*:*Published*")
PROPERTIES = ("test_properties", "*InversePairs*:*Monotonicity*:*ScaleInvariance*:ScaleOfCurves*")
BESIDE_THE_ROOM = [EXAMPLES, PROPERTIES]


# ---- What can be broken -----------------------------------------------------------------------------------------------

NUMBER = re.compile(r"(?<![\w.])(\d+\.\d*(?:[eE][+-]?\d+)?|\d+[eE][+-]?\d+|\d+)(?![\w.])")
OPERATOR = re.compile(r"(?<= )(\+=|-=|\*=|/=|\+|-|\*|/|<=|>=|==|!=|<|>|&&|\|\|)(?= )")
SWAPPED = {"+": "-", "-": "+", "*": "/", "/": "*", "+=": "-=", "-=": "+=", "*=": "/=", "/=": "*=", "<": "<=", "<=": "<",
           ">": ">=", ">=": ">", "==": "!=", "!=": "==", "&&": "||", "||": "&&"}
FUNCTION = re.compile(r"\bstd::(sin|cos|tan|min|max|fmin|fmax|sqrt|exp|expm1|log|log1p|floor|ceil|abs|fabs|min_element|"
                      r"max_element|lower_bound|upper_bound)(?=\()")
OTHERS = {"sin": "cos", "cos": "sin", "tan": "sin", "min": "max", "max": "min", "fmin": "fmax", "fmax": "fmin", "sqrt": "cbrt",
          "exp": "expm1", "expm1": "exp", "log": "log1p", "log1p": "log", "floor": "ceil", "ceil": "floor", "abs": "sqrt",
          "fabs": "sqrt", "min_element": "max_element", "max_element": "min_element", "lower_bound": "upper_bound",
          "upper_bound": "lower_bound"}
# Lines in which nothing is broken: the preprocessor, bounds and texts of errors, numbers that name a reason's details.
LEFT_ALONE = re.compile(r"^\s*#|\brequire\w*\(|\bInterval\b|\bthrow\b|Quantity::|Reason::|static_assert|template")


def blanked(text):
    """The source with comments and texts blanked out, so that nothing in them is found."""
    def blank(match):
        return re.sub(r"[^\n]", " ", match.group())
    return re.sub(r"//[^\n]*|/\*.*?\*/|\"(?:\\.|[^\"\\\n])*\"|'(?:\\.|[^'\\\n])+'", blank, text, flags=re.S)


def broken_number(written, rng):
    """The number with a small error in it, or None."""
    if re.fullmatch(r"\d+", written):
        return str(int(written) + 1) if int(written) > 0 else None
    value = float(written)
    if value == 0.0:
        return "0.01"
    digits = [i for i, c in enumerate(re.split("[eE]", written)[0]) if c.isdigit()]
    significant = [i for i in digits if written[:i + 1].strip("0.") != ""]
    swaps = [(a, b) for a, b in zip(significant, significant[1:]) if written[a] != written[b]]
    if swaps and rng.random() < 0.5:
        a, b = swaps[rng.randrange(len(swaps))]
        changed = list(written)
        changed[a], changed[b] = changed[b], changed[a]
        return "".join(changed)
    return repr(value * 1.01)


def mutants_of(path, rng):
    """All that can be broken in one file."""
    text = path.read_text()
    plain = blanked(text)
    seen = {}
    offset = 0
    for line, original in zip(plain.split("\n"), text.split("\n")):
        stripped = original.strip()
        nth = seen[stripped] = seen.get(stripped, -1) + 1
        if not LEFT_ALONE.search(line):
            for kind, pattern in (("number", NUMBER), ("operator", OPERATOR), ("function", FUNCTION)):
                for match in pattern.finditer(line):
                    start, end = match.span(1)
                    old = match.group(1)
                    if kind == "number":
                        # Not the sizes of arrays, indices and counts of a loop.
                        if re.search(r"[\[<]\s*$", line[:start]) or re.search(r"\bbits\b|\bsize_t\b|\bcase\b", line):
                            continue
                        new = broken_number(old, rng)
                    else:
                        new = (SWAPPED if kind == "operator" else OTHERS)[old]
                        # A reference, a pointer or a template, not an operator.
                        if kind == "operator" and old in ("*", "<", ">") and re.search(r"\b(const|auto|double|template)\s*$",
                                                                                      line[:start]):
                            continue
                    if new is not None:
                        yield {"file": str(path.relative_to(ROOT)), "line": stripped, "nth": nth,
                               "column": start - (len(original) - len(original.lstrip())), "kind": kind, "old": old, "new": new}
        offset += len(line) + 1


def sample(room, count, seed):
    """A sample of the room's mutants: numbers, operators and functions in turn, spread over the files."""
    rng = random.Random(f"{seed} {room}")
    found = {"number": [], "operator": [], "function": []}
    for path in sorted((ROOT / "core" / room).glob("*.[ch]pp")):
        for mutant in mutants_of(path, rng):
            found[mutant["kind"]].append({"room": room, **mutant})
    for of_kind in found.values():
        rng.shuffle(of_kind)
    chosen = []
    while len(chosen) < count and any(found.values()):
        for kind in ("number", "operator", "number", "operator", "function"):
            if found[kind] and len(chosen) < count:
                chosen.append(found[kind].pop())
    return chosen


def key(mutant):
    return json.dumps([mutant[k] for k in ("file", "line", "nth", "column", "new")])


def broken_text(mutant):
    """The source with the mutant in it, or None if the line is no longer there."""
    lines = (ROOT / mutant["file"]).read_text().split("\n")
    at = [i for i, line in enumerate(lines) if line.strip() == mutant["line"]]
    if len(at) <= mutant["nth"]:
        return None
    line = lines[at[mutant["nth"]]]
    start = len(line) - len(line.lstrip()) + mutant["column"]
    if line[start:start + len(mutant["old"])] != mutant["old"]:
        return None
    lines[at[mutant["nth"]]] = line[:start] + mutant["new"] + line[start + len(mutant["old"]):]
    return "\n".join(lines)


# ---- Building ----------------------------------------------------------------------------------------------------------
#
# The sources as they are come from the ordinary build. It compiles a room as one file, in which calls would not meet a mutant: so
# the sources of a room are compiled one by one here, once, then of a mutant only what holds it, and both are linked before the
# libraries, so that they stand in for the room there.

BUILD = ROOT / "build"
FLAGS = ["-std=c++20", "-O1", "-w", "-isystem", "/usr/include/eigen3", "-pthread"]
COMPILER = os.environ.get("CXX", "g++")
LINKER = (["-fuse-ld=lld"] if shutil.which("ld.lld") else []) + ["-Wl,--allow-multiple-definition"]
LIBRARIES = [*(str(BUILD / f"core/libpullsheet_{name}.a") for name in ("catalogue", "core", "fmt")), "-lgtest_main", "-lgtest"]


def run(command, **options):
    return subprocess.run([str(c) for c in command], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, **options)


def objects_of(program):
    """The objects of a test program in the ordinary build."""
    return sorted((BUILD / f"tests/CMakeFiles/{program}.dir").rglob("*.cpp.o")) + \
        sorted((BUILD / f"tests/CMakeFiles/{program}.dir").rglob("*.cxx.o"))


def room_object(source):
    return WORK / "objects" / source.parent.name / f"{source.name}.o"


def build_all(rooms, jobs):
    """The ordinary build of the tests that judge, and the headers of others compiled once for each room."""
    if not (BUILD / "build.ninja").exists():
        subprocess.run(["cmake", "--preset", "default"], cwd=ROOT, check=True, stdout=subprocess.DEVNULL)
    targets = sorted({name for room in rooms for name, _ in judges(room)})
    subprocess.run(["cmake", "--build", str(BUILD), "-j", str(jobs), "--target", *targets], check=True,
                   stdout=subprocess.DEVNULL)
    for room in rooms:
        included = []
        for path in [*sorted((ROOT / "core" / room).glob("*.[ch]pp")), *sorted((ROOT / "core").glob("*.hpp"))]:
            included += [line for line in re.findall(r"^#include <.*>$", path.read_text(), re.M) if line not in included]
        # Boost's pchip counts on the isnan of the C header.
        text = "\n".join(["#include <math.h>", *included, "#include <gtest/gtest.h>"]) + "\n"
        header = WORK / "headers" / room / "headers.hpp"
        if not header.with_suffix(".hpp.gch").exists() or header.read_text() != text:
            header.parent.mkdir(parents=True, exist_ok=True)
            header.write_text(text)
            subprocess.run([COMPILER, *FLAGS, "-x", "c++-header", str(header), "-o", f"{header}.gch"], check=True)
        newest = max(p.stat().st_mtime for p in (ROOT / "core" / room).iterdir())
        stale = [s for s in sorted((ROOT / "core" / room).glob("*.cpp"))
                 if not room_object(s).exists() or room_object(s).stat().st_mtime < newest]
        (WORK / "objects" / room).mkdir(parents=True, exist_ok=True)
        with concurrent.futures.ThreadPoolExecutor(jobs) as pool:
            for done in pool.map(lambda s: run(compile_command(room, s, room_object(s))), stale):
                done.check_returncode()


TESTS_ONCE = threading.Lock()


def object_of_test(room, source):
    """A test of the room compiled alone."""
    out = WORK / "objects" / "tests" / room / f"{source.name}.o"
    with TESTS_ONCE:
        if not out.exists() or out.stat().st_mtime < source.stat().st_mtime:
            out.parent.mkdir(parents=True, exist_ok=True)
            subprocess.run(compile_command(room, source, out), check=True)
    return out


def compile_command(room, source, out, scratch=None):
    first = [f"-I{scratch}"] if scratch else []
    return [COMPILER, *FLAGS, "-include", str(WORK / "headers" / room / "headers.hpp"), *first, f"-I{ROOT}", "-c", str(source),
            "-o", str(out)]


def users_of(header, room):
    """The sources of a room and of its tests that include a header, directly or not."""
    texts = {p: p.read_text() for folder in ("core", f"tests/{room}") for p in (ROOT / folder).rglob("*.[ch]pp")
             if "catalogue" not in p.parts}
    including = {header}
    while True:
        names = {str(p.relative_to(ROOT)) for p in including}
        more = {p for p, text in texts.items() if names & set(re.findall(r'#include "([^"]+)"', text))} | including
        if more == including:
            break
        including = more
    return sorted(p for p in including if p.suffix == ".cpp" and room in (p.parent.name,))


def run_tests(program, chosen, limit):
    """"passed", "failed" or "stopped"."""
    command = [str(program), "--gtest_brief=1", "--gtest_fail_fast"]
    if chosen:
        command.append(f"--gtest_filter={chosen}")
    try:
        done = run(command, timeout=limit)
    except subprocess.TimeoutExpired:
        return "stopped"
    return "passed" if done.returncode == 0 else "failed"


def judges(room):
    """The programs that judge a mutant of the room, in their order."""
    return [(f"test_{room}", ""), *BESIDE_THE_ROOM]


def counted_calls():
    """How the linker is told which calls the sweeps count: tests/properties/needs.cmake."""
    return [f"-Wl,{option}" for option in re.findall(r"LINKER:(--wrap=\w+)", (ROOT / "tests/properties/needs.cmake").read_text())]


def judge(mutant, seat, limits):
    """What becomes of one mutant."""
    text = broken_text(mutant)
    if text is None:
        return {"verdict": "gone"}
    scratch = WORK / f"seat{seat}"
    shutil.rmtree(scratch, ignore_errors=True)
    path = scratch / mutant["file"]
    path.parent.mkdir(parents=True)
    path.write_text(text)
    source = ROOT / mutant["file"]
    room = mutant["room"]
    replaced = {}
    for user in [source] if source.suffix == ".cpp" else users_of(source, room):
        out = scratch / (str(user.relative_to(ROOT)).replace("/", "_") + ".o")
        if run(compile_command(room, path if user == source else user, out, scratch)).returncode != 0:
            return {"verdict": "no build"}
        replaced[user] = out
    core = [replaced.get(s, room_object(s)) for s in sorted((ROOT / "core" / room).glob("*.cpp"))]
    # The tests of the room that include a mutant header; the others of that program come along.
    own_tests = [out for user, out in replaced.items() if user.is_relative_to(ROOT / "tests")]
    if own_tests:
        own_tests += [object_of_test(room, s) for s in sorted((ROOT / "tests" / room).glob("*.cpp")) if s not in replaced]
    for name, chosen in judges(room):
        objects = own_tests if own_tests and name == f"test_{room}" else objects_of(name)
        libraries = LIBRARIES + (["-lrapidcheck", *counted_calls()] if name == "test_properties" else [])
        if run([COMPILER, *LINKER, "-pthread", *core, *objects, *libraries, "-o", scratch / name]).returncode != 0:
            return {"verdict": "no build"}
        outcome = run_tests(scratch / name, chosen, limits[name])
        if outcome != "passed":
            return {"verdict": "noticed" if outcome == "failed" else "stopped", "by": name}
    return {"verdict": "survived"}


def time_limits(rooms):
    """Ten times what the tests take on the sources as they are, which must pass."""
    limits = {}
    for room in rooms:
        for name, chosen in judges(room):
            if name in limits:
                continue
            before = time.monotonic()
            if run_tests(BUILD / "tests" / name, chosen, 600) != "passed":
                sys.exit(f"{name} does not pass without a mutant")
            limits[name] = 10.0 + 10.0 * (time.monotonic() - before)
    return limits


# ---- What is known --------------------------------------------------------------------------------------------------------

def known(results):
    verdicts = {}
    if results.exists():
        for line in results.read_text().splitlines():
            entry = json.loads(line)
            verdicts[key(entry)] = entry
    return verdicts


def report(verdicts):
    """A row for each room: who was the first to notice, and how many nobody did."""
    columns = ["mutants", "by the room", "by examples", "by properties", "stopped", "survived", "no build"]

    def count(entries):
        by = [e["by"] for e in entries if e["verdict"] == "noticed"]
        verdict = [e["verdict"] for e in entries]
        return [len(entries), len(by) - by.count(EXAMPLES[0]) - by.count(PROPERTIES[0]), by.count(EXAMPLES[0]),
                by.count(PROPERTIES[0]), *(verdict.count(name) for name in columns[4:])]

    judged = [v for v in verdicts.values() if v["verdict"] != "gone"]
    print(f"{'room':12}" + "".join(f"{name:>15}" for name in columns))
    for room in [*ROOMS, "all"]:
        numbers = count([v for v in judged if room in (v["room"], "all")])
        if numbers[0]:
            print(f"{room:12}" + "".join(f"{number:15}" for number in numbers))
    for entry in verdicts.values():
        if entry["verdict"] == "survived":
            line, column = entry["line"], entry["column"]
            shown = line[:column] + f"[{entry['old']} → {entry['new']}]" + line[column + len(entry["old"]):]
            print(f"\n{entry['file']}: {shown}")


def main():
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("rooms", nargs="*", help="the rooms, all of them if none is named")
    options.add_argument("--count", type=int, default=25, help="mutants of each room (25)")
    options.add_argument("--seed", default="2026", help="seed of the sample (2026)")
    options.add_argument("--jobs", type=int, default=2, help="mutants side by side (2)")
    options.add_argument("--seconds", type=float, default=float("inf"), help="begin no mutant after this time")
    options.add_argument("--survivors", action="store_true", help="judge the survivors once more")
    options.add_argument("--report", action="store_true", help="print what is known, run nothing")
    options.add_argument("--results", type=pathlib.Path, default=WORK / "results.jsonl", help="where results are kept")
    chosen = options.parse_args()
    unknown = [room for room in chosen.rooms if room not in ROOMS]
    if unknown:
        options.error(f"no such room: {', '.join(unknown)}; rooms are {', '.join(ROOMS)}")
    rooms = chosen.rooms or ROOMS
    begin = time.monotonic()
    verdicts = known(chosen.results)
    if chosen.report:
        report(verdicts)
        return
    if chosen.survivors:
        todo = [v for v in verdicts.values() if v["verdict"] == "survived" and v["room"] in rooms]
    else:
        # A mutant of each room in turn, so that a run that is stopped has looked at all of them alike.
        samples = itertools.zip_longest(*(sample(room, chosen.count, chosen.seed) for room in rooms))
        todo = [m for turn in samples for m in turn if m is not None and key(m) not in verdicts]
    if todo:
        build_all(sorted({m["room"] for m in todo}), chosen.jobs)
        limits = time_limits({m["room"] for m in todo})
    seats = list(range(chosen.jobs))
    done = 0

    def one(mutant):
        if time.monotonic() - begin > chosen.seconds:
            return None
        seat = seats.pop()
        try:
            return {**mutant, "by": "", **judge(mutant, seat, limits)}
        finally:
            shutil.rmtree(WORK / f"seat{seat}", ignore_errors=True)
            seats.append(seat)

    chosen.results.parent.mkdir(parents=True, exist_ok=True)
    with concurrent.futures.ThreadPoolExecutor(chosen.jobs) as pool, chosen.results.open("a") as out:
        for result in pool.map(one, todo):
            if result is None:
                continue
            done += 1
            verdicts[key(result)] = result
            out.write(json.dumps(result, ensure_ascii=False) + "\n")
            out.flush()
    report(verdicts)
    if done < len(todo):
        print(f"\n{len(todo) - done} mutants were not reached; run the same command again.")


if __name__ == "__main__":
    main()
