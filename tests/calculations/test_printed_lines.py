"""The printed working is what ran: worked again from its own text, and changed with its body.

A pocket calculator is given each line as it stands on paper; no test here names a calculation.
"""

from __future__ import annotations

import ast
import dataclasses
import inspect
import operator
import textwrap
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from types import CodeType, FunctionType
from typing import Annotated, Any

import pytest

from generator.calculation import Calculation, Given, calculation, given, gives
from generator.compose import CALCULATION_SHEET, SheetFacts
from generator.computing.compute import compute
from generator.computing.running import Run, run
from generator.computing.working import printed_lines
from generator.draw.parse import Container, blocks_of, plain
from generator.findings import Refusal
from generator.quantities.amount import Amount, Step
from generator.quantities.functions import step
from generator.quantities.text import read_amount
from generator.quantities.units import unit
from generator.workshop import open_shop, sheets_of, shop_facts
from tests.calculations.asking import ALL, ran, values
from tests.calculations.pocket import printed_values, slack, worked, worked_in_base_units

TRACED = [
    what for what in ALL if not what.method and any(out.kind != "order" for out in what.outputs)
]
EXAMPLES = [
    pytest.param(what, each.given, id=f"{what.name}-{n}")
    for what in TRACED
    for n, each in enumerate(what.examples, start=1)
]
CONSTANTS = {
    item.fact.symbol: read_amount(item.fact.fixed).value
    for what in ALL
    for item in what.inputs
    if item.kind == "fixed"
}
SHOP = open_shop(Path(__file__).parents[2])


@pytest.mark.parametrize(
    ("line", "answer"),
    [
        ("12 in + 6 in · cos(60°)", 15.0),
        ("(0.5 1/° · 4 mm + 0.25 1/° · 2 mm) · 90°", 225.0),
        ("100 bar · 20 mm² · 50 % · 0.0001 kN/(bar·mm²)", 0.1),
        ("(3 mm)² / 2 \N{MINUS SIGN} 0.5 mm²", 4.0),
        ("6 cm³ / 2 L/min · 0.06 s/(cm³/(L/min))", 0.18),
        ("(45° · π/180°) · 4 mm", 3.141592653589793),
    ],
)
def test_the_pocket_calculator_itself(line, answer):
    """Lines whose answers anybody can work out in the head."""
    assert worked(line) == pytest.approx(answer, rel=1e-12)


def assert_worked_again(line: Step) -> None:
    again = worked(line.numbers)
    for number, rounding in printed_values(line.result):
        assert abs(again - number) <= (rounding + slack(line.numbers)) * (1 + 1e-9), line


@pytest.mark.parametrize(("what", "typed"), EXAMPLES)
def test_a_pocket_calculator_gets_the_printed_result(what, typed):
    lines = list(printed_lines(ran(what, typed)))
    assert lines
    for line in lines:
        assert_worked_again(line)


@pytest.mark.parametrize("file", sorted(SHOP.processes))
def test_a_pocket_calculator_agrees_with_every_calculation_sheet(file):
    """Read back from the sheet: all but what belongs to a calculation and tolerance lines."""
    made, findings = sheets_of(SHOP, file, SheetFacts("", (), "not dated"))
    assert made is not None, findings
    lines = list(sheet_lines(made.sheets[CALCULATION_SHEET]))
    workings, _ = compute(SHOP.processes[file], shop=shop_facts(SHOP))
    # A line whose formula is its number, such as one treatment, is printed once.
    steps = [s for w in workings.workings.values() for s in w.lines if s.formula]
    expected = sum(len({s.formula, s.numbers, s.result}) > 1 for s in steps)
    assert len(lines) == expected
    for line in lines:
        assert_worked_again(line)


UNWORKED = {"what", "row from", "second method", "holds for", "does not cover", "source", "method"}
UNWORKED_MEANINGS = ("worst case", "root sum square")


def sheet_lines(sheet: str) -> Iterator[Step]:
    """The lines of a calculation sheet that a calculator can work: key, formula, numbers, result."""
    groups: list[list[str]] = []
    for block in blocks_of(sheet):
        if not isinstance(block, Container) or block.name not in ("working", "lines"):
            continue
        for row in block.rows[1 if block.name == "working" else 0 :]:
            key, text = (plain(cell) for cell in row)
            if key:
                groups.append([key])
            groups[-1].append(text.removeprefix("= "))
    for key, *texts in groups:
        if key in UNWORKED or key.endswith(UNWORKED_MEANINGS) or len(texts) == 1:
            continue
        yield Step(key, "", texts[0], texts[-2], texts[-1])


@pytest.mark.parametrize(("what", "typed"), EXAMPLES)
def test_the_formula_in_symbols_gives_the_result(what, typed):
    """Each symbol stands for what the line before, or the input, says it is; nothing else is used."""
    came = ran(what, typed)
    for result in came.results:
        if result.amount is None:
            continue
        symbols = dict(CONSTANTS) | dict(leaves(came))
        for named in result.amount.steps:
            symbols[named.symbol] = worked_in_base_units(named.formula, symbols)
        again = worked_in_base_units(result.amount.formula, symbols)
        assert again == pytest.approx(result.amount.value, rel=1e-9, abs=1e-15), result.name


def leaves(came: Run) -> Iterator[tuple[str, float]]:
    """Every symbol that goes in, cells of table rows among them, with its value in base units."""
    todo = [*came.inputs.values(), *came.arguments.values()]
    while todo:
        each = todo.pop()
        if isinstance(each, Amount):
            yield each.formula, each.value
        elif isinstance(each, tuple):
            todo += each
        elif dataclasses.is_dataclass(each) and not isinstance(each, type):
            todo += [getattr(each, f.name) for f in dataclasses.fields(each)]


@pytest.mark.parametrize(("what", "typed"), EXAMPLES)
def test_every_result_has_its_line(what, typed):
    came = ran(what, typed)
    told = " ".join(line.result for line in printed_lines(came))
    numbers = [result for result in came.results if result.amount is not None]
    assert all(f"{result.text}, rounded" in told for result in numbers)


# --- one operator changed ----------------------------------------------------------------------

Length = Annotated[Amount, given("a", "mm", "one length", above="0")]
Other = Annotated[Amount, given("b", "mm", "another length", above="0")]
Sum = Annotated[Amount, gives("s", "mm", "both together", to="0.1")]


def small(body: Callable[..., Any]) -> Calculation:
    """A calculation with a body of one line."""

    def wrapped(one: Length, other: Other) -> Sum:
        """Two lengths together."""
        return body(one, other)

    return calculation(source="a book", not_covered="the rest")(wrapped)


def lines_of(what: Calculation) -> list[Step]:
    return list(printed_lines(ran(what, {"one": "5 mm", "other": "3 mm"})))


@pytest.mark.parametrize(
    ("body", "formula", "numbers", "result"),
    [
        (operator.add, "a + b", "5 mm + 3 mm", "8.0 mm"),
        (operator.sub, "a − b", "5 mm − 3 mm", "2.0 mm"),
        (lambda a, b: a + 2 * b, "a + 2 · b", "5 mm + 2 · 3 mm", "11.0 mm"),
        (lambda a, b: (a - b) / 2, "(a − b) / 2", "(5 mm − 3 mm) / 2", "1.0 mm"),
        (lambda a, b: a * b / a, "a · b / a", "5 mm · 3 mm / 5 mm", "3.0 mm"),
    ],
)
def test_another_operator_prints_another_formula(body, formula, numbers, result):
    (line,) = lines_of(small(body))
    assert (line.symbol, line.formula, line.numbers) == ("s", formula, numbers)
    assert line.result == f"{result}, rounded to 0.1 mm"


@pytest.mark.parametrize("body", [operator.mul, operator.truediv])
def test_an_operator_that_makes_another_quantity_is_refused(body):
    with pytest.raises(Refusal) as caught:
        lines_of(small(body))
    assert caught.value.code == "unit"


@pytest.mark.parametrize(
    "body",
    [
        lambda a, b: a + b if a > b else a - b,
        lambda a, b: a and b,
        lambda a, b: a + 2.5,
        lambda a, b: a * 1.1,
    ],
)
def test_a_branch_or_a_bare_number_is_refused(body):
    with pytest.raises(TypeError, match=r"no branches|bare number"):
        lines_of(small(body))


def test_a_limit_stands_on_a_named_line():
    short = small(lambda a, b: step(a - b, "d", "mm", "difference", at_least="4") + b)
    with pytest.raises(Refusal, match="d comes to 2 mm"):
        lines_of(short)


SWAPS: dict[type[ast.operator], ast.operator] = {
    ast.Add: ast.Sub(), ast.Sub: ast.Add(), ast.Mult: ast.Div(), ast.Div: ast.Mult(),
}  # fmt: skip


def pieces(what: Calculation) -> list[Callable[..., Any]]:
    """The body, and the functions of calculations that it calls by name."""
    called = [what.body.__globals__.get(name) for name in names_in(what.body.__code__)]
    return [
        what.body,
        *(f for f in called if inspect.isfunction(f)
          and f.__module__.startswith("generator.calculations.")),
    ]  # fmt: skip


def names_in(code: CodeType) -> dict[str, None]:
    """The names that a body uses, also inside what it does for each row."""
    inside = [each for each in code.co_consts if isinstance(each, CodeType)]
    return dict.fromkeys([*code.co_names, *(name for each in inside for name in names_in(each))])


def written(piece: Callable[..., Any]) -> ast.FunctionDef:
    """A function as it is written, without its facts and examples."""
    (tree,) = ast.parse(textwrap.dedent(inspect.getsource(piece))).body
    assert isinstance(tree, ast.FunctionDef)
    tree.decorator_list, tree.returns = [], None
    for argument in [*tree.args.args, *tree.args.kwonlyargs]:
        argument.annotation = None
    return tree


def operators(tree: ast.FunctionDef) -> list[ast.BinOp]:
    """The operators of a function, save those inside the text of a message."""
    in_text = {n for t in ast.walk(tree) if isinstance(t, ast.JoinedStr) for n in ast.walk(t)}
    every = [n for n in ast.walk(tree) if isinstance(n, ast.BinOp) and type(n.op) in SWAPS]
    return [n for n in every if n not in in_text]


def changed(what: Calculation, piece: Callable[..., Any], place: int) -> Calculation:
    """The calculation with one operator of one of its functions turned into its opposite."""
    tree = written(piece)
    spot = operators(tree)[place]
    spot.op = SWAPS[type(spot.op)]
    made: dict[str, Any] = dict(piece.__globals__)
    module = ast.fix_missing_locations(ast.Module([tree], []))
    exec(compile(module, "changed", "exec"), made)
    if piece is what.body:
        return dataclasses.replace(what, body=made[piece.__name__])
    names = {**what.body.__globals__, piece.__name__: made[piece.__name__]}
    body = FunctionType(what.body.__code__, names, what.name, what.body.__defaults__)
    return dataclasses.replace(what, body=body)


CHANGES = [
    pytest.param(what, piece, place, id=f"{what.name}-{piece.__name__}-{place}")
    for what in TRACED
    for piece in pieces(what)
    for place in range(len(operators(written(piece))))
]


@pytest.mark.parametrize(("what", "piece", "place"), CHANGES)
def test_an_operator_changed_is_a_line_changed(what, piece, place):
    """Where units or ranges do not stop it already; the second method is left out here."""
    spoilt = dataclasses.replace(changed(what, piece, place), second=None)
    inputs = everyday(what)
    sound = list(printed_lines(run(what, inputs)))
    assert stopped(spoilt, inputs) or list(printed_lines(run(spoilt, inputs))) != sound


@pytest.mark.parametrize(("what", "piece", "place"), CHANGES)
def test_an_operator_changed_is_stopped(what, piece, place):
    """By units, a range, or the second method that still does it the old way."""
    assert stopped(changed(what, piece, place), everyday(what))


def stopped(what: Calculation, inputs: Mapping[str, Any]) -> bool:
    try:
        run(what, inputs)
    except (Refusal, TypeError, IndexError):
        return True
    return False


def everyday(what: Calculation) -> dict[str, Any]:
    """The first example moved off the ends of its ranges and off nothing, where 0 and 100 % hide a
    mistake."""
    inputs = values(what, what.examples[0].given)
    for item in what.inputs:
        if item.kind == "amount":
            inputs[item.name] = off_the_end(item.fact, inputs[item.name])
        elif item.kind == "amounts":
            inputs[item.name] = [off_the_end(item.fact, each) for each in inputs[item.name]]
    return inputs


def off_the_end(fact: Given, amount: Amount) -> Amount:
    scale = unit(fact.unit)
    number = scale.from_base(amount.value)
    for end, away in ((fact.at_least, 1.1), (fact.at_most, -5.3), ("0", 1.1)):
        if end and abs(number - float(end)) < 1e-9:
            return dataclasses.replace(amount, value=scale.to_base(number + away))
    return amount


def test_operators_were_found_to_change():
    assert {p.values[0].name for p in CHANGES} == {what.name for what in TRACED}  # type: ignore[attr-defined]


def test_every_method_in_words_has_a_second_one():
    """The calculation sheet says so of all that is no formula."""
    assert [what.name for what in ALL if what.method and what.second is None] == []
    assert sum(bool(what.method) for what in ALL) > 40
