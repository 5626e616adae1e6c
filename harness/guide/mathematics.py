# SPDX-License-Identifier: Apache-2.0
"""The equations of the catalogue, written as they would be typed ("P = T·ω"), as MathML.

Python's own parser reads them: products with ·, powers with ^, roots with √(…), sums Σ(…), integrals ∫(…), subscripts
after an underscore. What cannot be read is an error, so that no equation is shown half understood.
"""

import ast
from xml.sax.saxutils import escape

PYTHON = {"·": "*", "^": "**", "√": "sqrt", "∫": "Integral", "Δ": "Delta_", "ṁ": "mdot"}
LETTERS = {"mdot": "ṁ"}
FUNCTIONS = {"exp", "log10", "ln"}
# How tightly an operation binds, for brackets where the tree needs them.
SUM, PRODUCT, SIGN, POWER, ATOM = range(5)


class NotAnEquation(ValueError):
    pass


def row(*parts):
    return "<mrow>%s</mrow>" % "".join(parts)


def operator(sign):
    return "<mo>%s</mo>" % sign


def bracketed(inner):
    return row(operator("("), inner, operator(")"))


def letter(name):
    """A name: its first part, and what follows an underscore as its subscript."""
    change = ""
    if name.startswith("Delta_"):
        change, name = "Δ", name.removeprefix("Delta_")
    head, _, below = name.partition("_")
    text = "<mi>%s%s</mi>" % (change, escape(LETTERS.get(head, head)))
    return "<msub>%s<mi>%s</mi></msub>" % (text, escape(below)) if below else text


class Writer(ast.NodeVisitor):
    """Gives each node its MathML and how tightly it binds."""

    def write(self, node, at_least=SUM):
        text, binds = self.visit(node)
        return text if binds >= at_least else bracketed(text)

    def generic_visit(self, node):
        raise NotAnEquation("not understood: %s" % type(node).__name__)

    def visit_Name(self, node):
        return letter(node.id), ATOM

    def visit_Constant(self, node):
        return "<mn>%r</mn>" % node.value, ATOM

    def visit_UnaryOp(self, node):
        if not isinstance(node.op, ast.USub):
            return self.generic_visit(node)
        return row(operator("−"), self.write(node.operand, PRODUCT)), SUM

    def visit_BinOp(self, node):
        left, right = node.left, node.right
        if isinstance(node.op, ast.Div):
            return "<mfrac>%s%s</mfrac>" % (row(self.write(left)), row(self.write(right))), ATOM
        if isinstance(node.op, ast.Pow):
            is_fraction = isinstance(left, ast.BinOp) and isinstance(left.op, ast.Div)
            base = bracketed(self.write(left)) if is_fraction else self.write(left, ATOM)
            return "<msup>%s%s</msup>" % (row(base), row(self.write(right))), POWER
        if isinstance(node.op, ast.Mult):
            return row(self.write(left, PRODUCT), operator("⋅"), self.write(right, PRODUCT)), PRODUCT
        if isinstance(node.op, ast.Add):
            return row(self.write(left), operator("+"), self.write(right)), SUM
        if isinstance(node.op, ast.Sub):
            return row(self.write(left), operator("−"), self.write(right, PRODUCT)), SUM
        return self.generic_visit(node)

    def visit_Call(self, node):
        name = node.func.id if isinstance(node.func, ast.Name) else None
        if len(node.args) != 1 or node.keywords:
            return self.generic_visit(node)
        inside = node.args[0]
        if name == "sqrt":
            return "<msqrt>%s</msqrt>" % self.write(inside), ATOM
        if name in ("Σ", "Integral"):
            sign = "∑" if name == "Σ" else "∫"
            return row(operator(sign), self.write(inside, PRODUCT)), PRODUCT
        head = "<mi>%s</mi>" % name if name in FUNCTIONS else self.write(node.func)
        return row(head, bracketed(self.write(inside))), ATOM


def side(text):
    for typed, read in PYTHON.items():
        text = text.replace(typed, read)
    try:
        tree = ast.parse(text.strip(), mode="eval")
    except SyntaxError as error:
        raise NotAnEquation("%s: %s" % (text, error)) from error
    return Writer().write(tree.body)


def mathml(equation):
    """One equation as a MathML element."""
    try:
        sides = [side(part) for part in equation.split(" = ")]
    except NotAnEquation as error:
        raise NotAnEquation("%s (%s)" % (equation, error)) from error
    return '<math display="block">%s</math>' % row(operator("=").join(sides))


def equations(formula):
    """The equations of an entry, which are separated by semicolons."""
    return [part.strip() for part in formula.split(";") if part.strip()]
