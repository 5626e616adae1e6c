#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""Writes the pages of the reference, the manual page and the completions from the catalogue.

    write_pages.py COMMAND FOLDER

COMMAND is the built `pullsheet`; the pages (reStructuredText) go to FOLDER/pages, the completions to FOLDER/completion.
"""

import pathlib
import re
import shlex
import shutil
import sys

sys.dont_write_bytecode = True

import catalogue as the_catalogue  # noqa: E402
import jinja2  # noqa: E402
import how_we_know  # noqa: E402
import how_we_know_german  # noqa: E402
from mathematics import equations, mathml  # noqa: E402

HERE = pathlib.Path(__file__).resolve().parent


def rst(text):
    """A text in which nothing means more than itself, not even "A." at its beginning, which would be a list."""
    return re.sub(r"^(\w+)\.", r"\1\\.", re.sub(r"([\\*`|_])", r"\\\1", text))


def symbols(text):
    """The legend of an equation: what follows an underscore is a subscript."""
    return re.sub(r"(\w+)\\_(\w+)", r"\1\\ :sub:`\2`\\ ", rst(text))


def underlined(text, sign):
    return "%s\n%s" % (text, sign * len(text))


def cell(content):
    if content is None or content == "":
        return "\\ "
    return rst(content if isinstance(content, str) else the_catalogue.number(content))


def answer(function):
    """What the example gives, as a line of a page."""
    example = function["example"]
    value = example["expected"]
    text = value if isinstance(value, str) else "%.10g" % value
    unit = " " + example["unit"] if example["unit"] else ""
    where = "row %d, column %d of the answer: " % (example["row"] + 1, example["column"] + 1)
    return (where if function["result"]["kind"] == "table" else "gives ") + ("**%s**" % rst(text + unit) if text else "an empty text")


def example_call(function):
    """The call with the names of the parameters in place of ranges."""
    return "=" + the_catalogue.call(function, lambda position, argument: the_catalogue.parameter_of(function, position)["name"])


def german_example_call(function):
    """The same for a German Calc; nothing where that takes the same."""
    call = example_call(function)
    german = the_catalogue.german(call)
    return None if german == call else german


def example_ranges(function):
    """The ranges of the example: name, and either a line of numbers or rows."""
    for position, argument in enumerate(function["example"]["arguments"]):
        if the_catalogue.is_table(argument):
            name = the_catalogue.parameter_of(function, position)["name"]
            if the_catalogue.is_series(argument):
                yield {"name": name, "line": "; ".join(cell(row[0]) for row in argument)}
            else:
                yield {"name": name, "rows": argument}


def example_command(function):
    """The example on the command line, where it needs no files."""
    arguments = function["example"]["arguments"]
    if any(the_catalogue.is_table(argument) for argument in arguments) or any(p["kind"] == "cell" for p in function["parameters"]):
        return None
    words = ["-" if argument is None else argument if isinstance(argument, str) else the_catalogue.number(argument)
             for argument in arguments]
    return " ".join(["pullsheet", "eval", function["name"], *(shlex.quote(word) for word in words)])


def environment():
    env = jinja2.Environment(loader=jinja2.FileSystemLoader(HERE / "templates"), undefined=jinja2.StrictUndefined,
                             trim_blocks=True, lstrip_blocks=True, keep_trailing_newline=True)
    env.filters.update(rst=rst, symbols=symbols, underlined=underlined, cell=cell, sh=shlex.quote, equations=equations, mathml=mathml,
                       anchor=lambda name: name.lower())
    env.globals.update(answer=answer, example_call=example_call, german_example_call=german_example_call, example_ranges=example_ranges,
                       example_command=example_command)
    return env


def completed_positions(function):
    """What may stand at each position of a call, where it is one of a list: position (from 1) → words."""
    for position, parameter in enumerate(function["parameters"], 1):
        if parameter["choices"]:
            yield position, parameter["choices"]


def main():
    command, folder = sys.argv[1:]
    folder = pathlib.Path(folder)
    data = the_catalogue.Catalogue(command)
    env = environment()
    pages = folder / "pages"
    completion = folder / "completion"
    for made in (pages, completion):
        shutil.rmtree(made, ignore_errors=True)
        made.mkdir(parents=True)
    everything = {"catalogue": data, "completed_positions": completed_positions}

    def write(path, template, **more):
        path.write_text(env.get_template(template).render(**everything, **more), encoding="utf-8")

    for family in data.families:
        write(pages / ("%s.rst" % family["name"].lower()), "family.rst", family=family)
        for function in family["functions"]:
            write(pages / ("%s.rst" % function["name"]), "function.rst", function=function)
    for name in ("index", "blocks", "units", "sources", "errors", "pullsheet"):
        write(pages / ("%s.rst" % name), "%s.rst" % name)
    for texts in (how_we_know, how_we_know_german):
        write(pages / ("%s.rst" % texts.WORDS["file"]), "how-we-know.rst", words=texts.WORDS, known=texts.KNOWN)
    for name in ("pullsheet.bash", "_pullsheet", "pullsheet.fish"):
        write(completion / name, name)
    shutil.copytree(HERE / "static", pages / "static")
    shutil.copy(HERE / "conf.py", pages / "conf.py")


if __name__ == "__main__":
    main()
