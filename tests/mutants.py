"""The text of a subject in; every mutant of it, one small change each, out.

What is changed: an arithmetic, comparison or boolean operator, a sign, a number, the text of a fact
that decides a number (limit, constant, rounding), a function for the one it is mistaken for. The
examples and the nearness of a second method are left alone: they judge numbers and print none.
"""

from __future__ import annotations

import ast
import builtins
import importlib
import importlib.util
import re
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path
from typing import Any

Container = Any  # the fields of a node as a dict, or a list of nodes

OPERATORS: dict[type, type] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult,
    ast.Pow: ast.Mult, ast.Mod: ast.Mult, ast.FloorDiv: ast.Div, ast.And: ast.Or, ast.Or: ast.And,
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq, ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot, ast.IsNot: ast.Is,
}  # fmt: skip
SIBLINGS = {
    "sin": "cos", "cos": "sin", "tan": "sin", "min": "max", "max": "min", "floor": "ceil",
    "ceil": "floor", "largest": "smallest", "smallest": "largest",
}  # fmt: skip
LIMITS = ("fixed", "above", "at_least", "at_most")
SAFE = {"nearest": "up", "up": "down", "down": "up"}


@dataclass(frozen=True)
class Mutant:
    """One changed subject. function: where the change is; change: "a + b -> a - b".

    second: whether it is in a second method, which prints nothing and stops a wrong first one.
    """

    module: str
    file: str
    line: int
    column: int
    function: str
    change: str
    source: str
    second: bool = False

    @property
    def key(self) -> str:
        """What names it in the list of accepted ones: no line number, so that edits leave it."""
        return f"{self.file} | {self.function} | {self.change}"


@dataclass(frozen=True)
class Spot:
    """A node, the place that holds it, and its ancestors from the module down."""

    node: ast.AST
    holder: Container
    at: str | int
    above: tuple[ast.AST, ...]


@dataclass(frozen=True)
class Edit:
    """What to put where; told: the node whose text before and after says what was changed."""

    holder: Container
    at: str | int
    new: Any
    told: ast.AST


def mutants_of(module: str, file: str, source: str) -> list[Mutant]:
    """Every mutant of a source text, in the order of the text."""
    tree = ast.parse(source)
    seconds = _second_methods(tree)
    made = []
    for spot in _spots(tree, ()):
        for edit in _edits(tree, spot):
            function = _where(spot)
            change, text = _applied(tree, edit)
            line, column = _position(spot)
            second = function.split(".")[0] in seconds
            made.append(Mutant(module, file, line, column, function, change, text, second))
    return _told_apart(sorted(made, key=lambda m: (m.line, m.column)))


def _told_apart(made: Sequence[Mutant]) -> list[Mutant]:
    """The same change twice in a function gets a #2 to its name."""
    seen: Counter[str] = Counter()
    apart = []
    for mutant in made:
        seen[mutant.key] += 1
        again = seen[mutant.key]
        change = f"{mutant.change} #{again}" if again > 1 else mutant.change
        apart.append(replace(mutant, change=change))
    return apart


def _spots(node: ast.AST, above: tuple[ast.AST, ...]) -> Iterator[Spot]:
    """Every node under this one; not the examples, which are checks themselves."""
    above = (*above, node)
    for field, value in ast.iter_fields(node):
        for holder, at, each in _held(node, field, value):
            if _is_a_check(node, each):
                continue
            yield Spot(each, holder, at, above)
            yield from _spots(each, above)


def _held(node: ast.AST, field: str, value: Any) -> Iterator[tuple[Container, str | int, ast.AST]]:
    if isinstance(value, ast.AST):
        yield vars(node), field, value
    elif isinstance(value, list):
        yield from ((value, n, each) for n, each in enumerate(value) if isinstance(each, ast.AST))


def _is_a_check(parent: ast.AST, node: ast.AST) -> bool:
    """An example, or a fact of a second method: they judge numbers and print none."""
    called = [_called(each) for each in (parent, node) if isinstance(each, ast.Call)]
    examples = isinstance(node, ast.keyword) and node.arg == "examples"
    return examples or "Example" in called or called[:1] == ["Second"]


def _called(call: ast.Call) -> str:
    return ast.unparse(call.func).rsplit(".", 1)[-1]


def _applied(tree: ast.Module, edit: Edit) -> tuple[str, str]:
    """The change in words and the whole changed text; the tree is left as it was."""
    before, old = ast.unparse(edit.told), edit.holder[edit.at]
    edit.holder[edit.at] = edit.new
    after = ast.unparse(edit.new if edit.told is old else edit.told)
    text = ast.unparse(tree)
    edit.holder[edit.at] = old
    return " ".join(f"{before} -> {after}".split()), text


def _edits(tree: ast.Module, spot: Spot) -> Iterator[Edit]:
    node = spot.node
    if isinstance(node, ast.BinOp | ast.BoolOp) and type(node.op) in OPERATORS:
        yield Edit(vars(node), "op", OPERATORS[type(node.op)](), node)
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub | ast.Not):
        yield Edit(spot.holder, spot.at, node.operand, node)
    elif isinstance(node, ast.Compare):
        for n, operator in enumerate(node.ops):
            yield Edit(node.ops, n, OPERATORS[type(operator)](), node)
    elif isinstance(node, ast.Constant):
        for number in _other_numbers(node.value):
            yield Edit(vars(node), "value", number, _telling(spot))
    elif isinstance(node, ast.keyword) and isinstance(node.value, ast.Constant):
        for text in _other_texts(node.arg or "", node.value.value):
            yield Edit(vars(node.value), "value", text, node)
    elif isinstance(node, ast.Call):
        yield from _sibling(tree, node)


def _other_numbers(number: Any) -> list[Any]:
    """One more, and for a number with a point one hundredth more; none where it is no number."""
    if type(number) not in (int, float):
        return []
    if isinstance(number, int) or number == 0:
        return [number + 1]
    return [number + 1, float(Decimal(str(number)) * Decimal("1.01"))]


def _other_texts(fact: str, text: Any) -> list[str]:
    """The other texts of a fact that decides a number: a limit, a constant, a rounding."""
    if fact == "safe" and text in SAFE:
        return [SAFE[text]]
    match = re.fullmatch(r"(-?\d+(?:\.\d+)?)(.*)", text) if isinstance(text, str) else None
    if match is None:
        return []
    number, rest = Decimal(match[1]), match[2]
    if fact == "to":
        others = [number * 10, number / 10]
    elif fact in LIMITS:
        others = [number + 1, number * Decimal("1.01")][: 2 if "." in match[1] else 1]
    else:
        return []
    return [f"{other.normalize():f}{rest}" for other in others]


def _telling(spot: Spot) -> ast.AST:
    """The node about a number that says where the number stands."""
    return next(
        node for node in reversed(spot.above) if not isinstance(node, ast.UnaryOp | ast.Tuple)
    )


def _sibling(tree: ast.Module, call: ast.Call) -> Iterator[Edit]:
    """The function that one could have taken for this one, where its module has it too."""
    name = _called(call)
    if name not in SIBLINGS or not isinstance(call.func, ast.Name | ast.Attribute):
        return
    other = SIBLINGS[name]
    if isinstance(call.func, ast.Attribute):
        home = ast.unparse(call.func.value)
        if _defines(home, other):
            new: ast.AST = ast.Attribute(call.func.value, other, ast.Load())
            yield Edit(vars(call), "func", new, call)
    elif hasattr(builtins, name) or _bound(tree, other):
        yield Edit(vars(call), "func", ast.Name(other, ast.Load()), call)
    elif (home := _imported_from(tree, name)) and _defines(home, other):
        fetched = ast.parse(f"__import__({home!r}, fromlist=['x']).{other}", mode="eval").body
        yield Edit(vars(call), "func", fetched, call)


def _bound(tree: ast.Module, name: str) -> bool:
    """Whether a file has this name at its top: by its own def, or by an import."""
    own = any(isinstance(s, ast.FunctionDef) and s.name == name for s in tree.body)
    return own or bool(_imported_from(tree, name))


def _imported_from(tree: ast.Module, name: str) -> str:
    for statement in tree.body:
        if isinstance(statement, ast.ImportFrom) and name in {a.name for a in statement.names}:
            return statement.module or ""
    return ""


def _defines(module: str, name: str) -> bool:
    """Whether a module has this function, read from its text: the project is not imported here."""
    spec = importlib.util.find_spec(module)
    if spec is None or not spec.origin or not spec.origin.endswith(".py"):
        return module in sys.stdlib_module_names and hasattr(importlib.import_module(module), name)
    return _bound(ast.parse(Path(spec.origin).read_text("utf-8")), name)


def _where(spot: Spot) -> str:
    """The function, class or named fact that a node stands in, and its parameter or field."""
    names = []
    for node in (*spot.above, spot.node):
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            names.append(node.name)
        elif isinstance(node, ast.arg):
            names.append(node.arg)
        elif isinstance(node, ast.AnnAssign) and not _in_function(spot):
            names.append(ast.unparse(node.target))
        elif isinstance(node, ast.Assign) and not _in_function(spot):
            names.append(ast.unparse(node.targets[0]))
    return ".".join(names) or "(top)"


def _in_function(spot: Spot) -> bool:
    return any(isinstance(node, ast.FunctionDef) for node in spot.above)


def _position(spot: Spot) -> tuple[int, int]:
    """Line and column, from 1; Python 3.11 knows no places inside an f-string, only its start."""
    texts = [node for node in spot.above if isinstance(node, ast.JoinedStr)]
    placed = [node for node in (*spot.above, spot.node) if hasattr(node, "lineno")]
    node: Any = texts[0] if texts else placed[-1]
    return node.lineno, node.col_offset + 1


def _second_methods(tree: ast.Module) -> set[str]:
    """The functions named in Second(...), and those that only they call."""
    calls = [n for n in ast.walk(tree) if isinstance(n, ast.Call) and _called(n) == "Second"]
    facts = [fact for c in calls for fact in (*c.args, *(k.value for k in c.keywords))]
    ways = {fact.id for fact in facts if isinstance(fact, ast.Name)}
    own = {s.name: s for s in tree.body if isinstance(s, ast.FunctionDef)}
    printed = {name for name, function in own.items() if function.decorator_list}
    return (_reached(ways, own) | ways) - _reached(printed, own)


def _reached(names: set[str], own: dict[str, ast.FunctionDef]) -> set[str]:
    """These functions of a file and all that they call by name, one calling the next."""
    reached, todo = set(), [n for n in names if n in own]
    while todo:
        name = todo.pop()
        reached.add(name)
        used = {n.id for s in own[name].body for n in ast.walk(s) if isinstance(n, ast.Name)}
        todo += sorted(used & own.keys() - reached)
    return reached
