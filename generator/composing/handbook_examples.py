"""A calculation in; its worked examples, run now and held against what the print says, out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from generator.calculation import Calculation, Example
from generator.composing.figures import figure_rows
from generator.composing.working_lines import Rows, line_rows
from generator.computing.running import Result, run, with_unit
from generator.computing.typed import values_of, yaml_text
from generator.computing.working import working_of
from generator.findings import Refusal
from generator.quantities.rounding import decimals, rounded
from generator.quantities.units import unit

_HALF = "half of the last printed digit"


@dataclass(frozen=True)
class Worked:
    """One example as it ran: its rows from print to verdict, and those of its figure."""

    rows: Rows
    pictures: Mapping[str, Rows]


def worked_examples(what: Calculation) -> Iterator[Worked]:
    """Every example of a calculation; refuses one that does not come to what its print says."""
    for example in what.examples:
        ran = run(what, values_of(what, example.given))
        working = working_of(what.name, "", ran)
        came = {result.name: result for result in ran.results}
        rows = [("printed in", example.where), *_given(example), *line_rows(working.lines)]
        rows += [(r.fact.meaning, r.text) for r in ran.results if r.amount is None]
        rows += [(name, text) for name, text in ran.looked_up.items() if name == "row from"]
        rows += [_verdict(what, example, name, came) for name in example.gives]
        rows.append(("second method", ran.second))
        yield Worked(rows, {kind: figure_rows(working, kind) for kind in what.figures})


def _given(example: Example) -> Iterator[tuple[str, str]]:
    """What was typed: short inputs on one line, a list on its own."""
    texts = {name: f"{name}: {yaml_text(value)}" for name, value in example.given.items()}
    lists = [text for name, text in texts.items() if not isinstance(example.given[name], str)]
    short = "; ".join(text for text in texts.values() if text not in lists)
    lines = [text for text in (short, *lists) if text]
    yield from (("" if n else "given", text) for n, text in enumerate(lines))


def _verdict(
    what: Calculation, example: Example, name: str, came: Mapping[str, Result]
) -> tuple[str, str]:
    """What the print says, what came out now, and how near that is asked to be."""
    said, result = example.gives[name], came[name]
    label = f"the print, .{name}" if name else "the print"
    if result.amount is None:
        if result.shown != said:
            raise _apart(what, example, name, result.shown)
        return label, f"{said}; now: the same"
    digits, _, unit_text = said.partition(" ")
    number = unit(unit_text).from_base(result.amount.value)
    shown = with_unit(rounded(number, _finer(digits)), unit_text)
    gap = _allowed(example.within, digits, unit_text)
    if abs(number - float(digits)) > gap * (1 + 1e-9):
        raise _apart(what, example, name, shown)
    asked = example.within if _is_for(example.within, unit_text) else _HALF
    return label, f"{with_unit(digits, unit_text)}; now: {shown}; asked within {asked}"


def _is_for(within: str, unit_text: str) -> bool:
    """Whether a gap is one for results in a unit: a share, or in a unit of the same kind."""
    own = within.partition(" ")[2]
    return own == "%" or (bool(within) and unit(own).dimension == unit(unit_text).dimension)


def _apart(what: Calculation, example: Example, name: str, shown: str) -> Refusal:
    said = example.gives[name]
    wrong = f"{what.name}: {example.where} says {name or 'the result'} is {said}; {shown} came out"
    return Refusal("example", wrong, f"agreement within {example.within or _HALF}")


def _finer(digits: str) -> str:
    """A step finer than the last printed digit, so that a reader can see the gap."""
    places = decimals(digits) + (2 if "." in digits else 1)
    return f"{10**-places:.{places}f}"


def _allowed(within: str, digits: str, unit_text: str) -> float:
    """The gap in the unit of the print. One in a unit of another kind is of another result."""
    number, _, own = within.partition(" ")
    if not _is_for(within, unit_text):
        return 0.5 * 10.0 ** int(Decimal(digits).as_tuple().exponent)
    if own == "%":
        return float(number) / 100 * abs(float(digits))
    return float(unit(unit_text).from_base(unit(own).to_base(float(number))))
