"""A line of small arithmetic over names in; the amount it makes, with its working, out.

Names, numbers, + - * / and brackets, at most 200 signs. Nothing else is a formula language.
"""

from __future__ import annotations

import ast
import operator
import re
from collections.abc import Callable, Mapping
from typing import Any
from warnings import catch_warnings, simplefilter

from generator.findings import Refusal
from generator.quantities.amount import Amount, spaced
from generator.quantities.units import unit

_NAME = re.compile(r"[a-zA-Z_][a-zA-Z0-9_]*(?:\.[a-zA-Z0-9_]+)*")
_WITH_UNIT = re.compile(
    r"(?<![a-zA-Z0-9_.])(\d+(?:\.\d+)?) ?((?:[a-zA-Zµ°%][²³]?[·/]?)+(?: [ag]\b)?)"
)
_RIGHT = "names, numbers, + - * / and brackets, such as flat.length + 2 * trim"
LONGEST = 200


def names(formula: str) -> list[str]:
    """The names in a formula, in their order, once each."""
    if not formula.isascii():
        raise Refusal("formula", f"'{formula}' holds signs that are no arithmetic", _RIGHT)
    return list(dict.fromkeys(_NAME.findall(formula)))


def without_amounts(formula: str) -> None:
    """Refuses an amount with its unit: what has no name has no source and no way back."""
    for number, scale in _WITH_UNIT.findall(formula):
        if _is_unit(scale):
            typed = f"{number}{spaced(scale)}"
            wrong = f"'{typed}' stands in '{formula}' without a name and a source"
            right = f"extra: {{is: {typed}, from: its source}} under given, and that name here"
            raise Refusal("formula", wrong, right)


def _is_unit(text: str) -> bool:
    try:
        unit(text)
    except Refusal:
        return False
    return True


OCCURRENCE = ".of"


def numbered(formula: str, apart: frozenset[str]) -> str:
    """The formula with each occurrence of some names made a name of its own: pad.of1, pad.of2."""
    count: dict[str, int] = {}

    def spelt(match: re.Match[str]) -> str:
        if match[0] not in apart:
            return match[0]
        count[match[0]] = count.get(match[0], 0) + 1
        return f"{match[0]}{OCCURRENCE}{count[match[0]]}"

    return _NAME.sub(spelt, formula)


def worked(formula: str, amounts: Mapping[str, Amount]) -> Amount:
    """The amount that the formula makes of its named amounts."""
    if len(formula) > LONGEST:
        raise Refusal("formula", f"the formula is longer than {LONGEST} signs", "two entries")
    amount: Amount = _worked(formula, amounts, _plain)
    return amount


def on_numbers(formula: str, numbers: Mapping[str, Any]) -> Any:
    """What the formula makes of plain numbers in base units, or of spreads."""
    return _worked(formula, numbers, lambda node, _: float(node.value))  # type: ignore[arg-type]


def _worked(
    formula: str, numbers: Mapping[str, Any], of_constant: Callable[[ast.Constant, str], Any]
) -> Any:
    stand_ins = {name: f"n{i}" for i, name in enumerate(names(formula))}
    text = _NAME.sub(lambda match: stand_ins[match[0]], formula)
    try:
        with catch_warnings():
            simplefilter("ignore")  # Python's own doubts about a text that is refused anyway
            tree = ast.parse(text, mode="eval")
    except (SyntaxError, ValueError, MemoryError, RecursionError):
        raise Refusal("formula", f"'{formula}' cannot be read as arithmetic", _RIGHT) from None
    known = {stand_ins[name]: numbers[name] for name in stand_ins}

    def value(node: ast.expr) -> Any:
        if isinstance(node, ast.Name):
            return known[node.id]
        if isinstance(node, ast.Constant) and type(node.value) in (int, float):
            return of_constant(node, formula)
        if isinstance(node, ast.BinOp) and type(node.op) in _SIGNS:
            return _SIGNS[type(node.op)](value(node.left), value(node.right))
        raise Refusal("formula", f"'{formula}' holds more than arithmetic", _RIGHT)

    return value(tree.body)


_SIGNS: Mapping[type[ast.operator], Callable[[Any, Any], Any]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
}


def _plain(node: ast.Constant, formula: str) -> Amount:
    text = ast.unparse(node)
    if not re.match(r"\d{1,9}(\.\d{1,9})?$", text):
        raise Refusal("formula", f"the number {text} in '{formula}' cannot be read", _RIGHT)
    return Amount(float(text), unit(""), text, text, typed=text)
