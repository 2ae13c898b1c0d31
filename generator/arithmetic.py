"""A line of small arithmetic over names in; the amount it makes, with its working, out.

Names, numbers, + - * / and brackets, at most 200 signs. Nothing else is a formula language.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Mapping

from generator.findings import Refusal
from generator.quantities.amount import Amount
from generator.quantities.units import unit

_NAME = re.compile(r"[a-zA-Z_][a-zA-Z0-9_]*(?:\.[a-zA-Z0-9_]+)*")
_RIGHT = "names, numbers, + - * / and brackets, such as flat.length + 2 * trim"
LONGEST = 200


def names(formula: str) -> list[str]:
    """The names in a formula, in their order, once each."""
    if not formula.isascii():
        raise Refusal("formula", f"'{formula}' holds signs that are no arithmetic", _RIGHT)
    return list(dict.fromkeys(_NAME.findall(formula)))


def worked(formula: str, amounts: Mapping[str, Amount]) -> Amount:
    """The amount that the formula makes of its named amounts."""
    if len(formula) > LONGEST:
        raise Refusal("formula", f"the formula is longer than {LONGEST} signs", "two entries")
    stand_ins = {name: f"n{i}" for i, name in enumerate(names(formula))}
    text = _NAME.sub(lambda match: stand_ins[match[0]], formula)
    try:
        tree = ast.parse(text, mode="eval")
    except (SyntaxError, ValueError, MemoryError, RecursionError):
        raise Refusal("formula", f"'{formula}' cannot be read as arithmetic", _RIGHT) from None
    return _amount(tree.body, {stand_ins[name]: amounts[name] for name in stand_ins}, formula)


def _amount(node: ast.expr, amounts: Mapping[str, Amount], formula: str) -> Amount:
    if isinstance(node, ast.Name):
        return amounts[node.id]
    if isinstance(node, ast.Constant) and type(node.value) in (int, float):
        return _plain(node, formula)
    if isinstance(node, ast.BinOp):
        left, right = (_amount(side, amounts, formula) for side in (node.left, node.right))
        if isinstance(node.op, ast.Add):
            return left + right
        if isinstance(node.op, ast.Sub):
            return left - right
        if isinstance(node.op, ast.Mult):
            return left * right
        if isinstance(node.op, ast.Div):
            return left / right
    raise Refusal("formula", f"'{formula}' holds more than arithmetic", _RIGHT)


def _plain(node: ast.Constant, formula: str) -> Amount:
    text = ast.unparse(node)
    if not re.match(r"\d{1,9}(\.\d{1,9})?$", text):
        raise Refusal("formula", f"the number {text} in '{formula}' cannot be read", _RIGHT)
    return Amount(float(text), unit(""), text, text, typed=text)
