"""The answers of a strip or of a typed table in; the rows of its chart, out.

A chart is drawn from printed texts alone, so that it shows the numbers of the table above it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from generator.composing.answers import with_minus_sign
from generator.composing.readings import unlinked
from generator.composing.writer import Writer
from generator.findings import Fault, Refusal, fault
from generator.process import Lookup
from generator.quantities.units import unit
from generator.read import Steps

MOST_CURVES = 5
VERDICT = "verdict"
_NUMBER = re.compile(r"[+\N{MINUS SIGN}-]?\d+(\.\d+)?")
Rows = list[tuple[str, str]]


@dataclass(frozen=True)
class Plot:
    """What a chart shows, as text: across and up with their units; the entries; each curve with
    its name; names: the numbers worked out that the curves are, "" for a typed column."""

    across: str
    up: str
    entries: tuple[str, ...]
    nominal: str
    curves: tuple[tuple[str, tuple[str, ...]], ...]
    names: tuple[str, ...] = ()
    verdicts: tuple[str, ...] = ()


def no_more_than_fit(curves: int, right: str) -> None:
    """Refuses a chart of more curves than can be told apart."""
    if curves > MOST_CURVES:
        raise Refusal("chart", f"a chart of {curves} curves", f"at most {MOST_CURVES}: {right}")


def chart(operations: Sequence[Mapping[str, Any]], plot: Plot) -> Rows:
    """The rows of a chart, with the limits of the readings whose numbers it shows."""
    rows: Rows = [("across", plot.across), ("up", plot.up)]
    if len(plot.curves) > 1:
        rows.append(("curves", "; ".join(name for name, _ in plot.curves)))
    rows += [
        (f"at {entry}", "; ".join(cells[n] for _, cells in plot.curves))
        for n, entry in enumerate(plot.entries)
    ]
    if plot.nominal:
        rows.append(("nominal", plot.nominal))
    rows += [(f"verdict {x}", word) for x, word in zip(plot.entries, plot.verdicts, strict=False)]
    limits = list(dict.fromkeys(_limits(operations, plot)))
    return [*rows, ("no-go", "; ".join(limits))] if limits else rows


def _limits(operations: Sequence[Mapping[str, Any]], plot: Plot) -> Iterator[str]:
    """The fixed limits of every reading that a strip answers; one that is ticked is a curve."""
    labels = dict(zip(plot.names, (label for label, _ in plot.curves), strict=False))
    for each in operations:
        if each["kind"] == "deleted":
            continue
        for row, reading in zip(each["readings"], each["op"].readings, strict=True):
            if reading.nominal not in labels:
                continue
            whose = f" for {labels[reading.nominal]}" if len(plot.curves) > 1 else ""
            for side, cell in (("below", row[1]), ("above", row[2])):
                text = unlinked(cell)
                if _NUMBER.fullmatch(text):
                    yield f"{side} {text}{whose}"


# --- typed tables -----------------------------------------------------------------------------


def plot_of(writer: Writer, here: Steps, lookup: Lookup) -> Plot | None:
    """The plot of a typed table, of the columns in the unit of the second; a fault where a cell
    is no number, an entry follows out of order, or a heading names no unit."""
    if any(len(row) != len(lookup.columns) for row in lookup.rows):
        return None  # told where the table is checked
    try:
        return _plot_of(lookup)
    except Refusal as refusal:
        writer.faults.append(fault((*here, "chart"), refusal))
    except _CellRefused as cell:
        steps = (*here, "rows", cell.row, cell.column)
        right = "a number in every cell, or no chart"
        writer.faults.append(Fault(steps, "chart", f"'{cell.text}' is no number to plot", right))
    return None


class _CellRefused(Exception):
    """A cell that is no number."""

    def __init__(self, row: int, column: int, text: str) -> None:
        super().__init__(text)
        self.row, self.column, self.text = row, column, text


def _plot_of(lookup: Lookup) -> Plot:
    units = [_unit_of(heading) for heading in lookup.columns]
    for heading, of in zip(lookup.columns[:2], units[:2], strict=True):
        if not of:
            wrong = f"the heading '{heading}' names no unit, and an axis needs one"
            raise Refusal("chart", wrong, f"its unit last, such as: {heading} mm")
    shown = [k for k, of in enumerate(units) if k and of == units[1]]
    no_more_than_fit(len(shown), "fewer columns in that unit")
    entries = _column(lookup, 0)
    _in_order(entries)
    return Plot(
        lookup.columns[0],
        lookup.columns[shown[0]] if len(shown) == 1 else units[1],
        entries,
        with_minus_sign(lookup.framed),
        tuple((_named(lookup.columns[k], units[k]), _column(lookup, k)) for k in shown),
        verdicts=_verdicts(lookup),
    )


def _unit_of(heading: str) -> str:
    """The unit with which a heading ends; "" where it names none."""
    words = heading.split()
    for count in (2, 1):
        text = " ".join(words[-count:])
        if len(words) > count and _is_unit(text):
            return text
    return ""


def _is_unit(text: str) -> bool:
    try:
        return bool(unit(text).text)
    except Refusal:
        return False


def _named(heading: str, of: str) -> str:
    return heading.removesuffix(of).strip()


def _column(lookup: Lookup, k: int) -> tuple[str, ...]:
    cells = tuple(with_minus_sign(row[k]) for row in lookup.rows)
    for n, cell in enumerate(cells):
        if not _NUMBER.fullmatch(cell):
            raise _CellRefused(n, k, cell)
    return cells


def _in_order(entries: Sequence[str]) -> None:
    values = [Decimal(text.replace("\N{MINUS SIGN}", "-")) for text in entries]
    if len(values) < 2:
        raise Refusal("chart", "a chart of one row", "2 rows or more")
    rising, once = sorted(values), len(set(values)) == len(values)
    if not once or values not in (rising, rising[::-1]):
        wrong = "the first column of a chart neither rises nor falls from row to row"
        raise Refusal("chart", wrong, "the rows in the order of their first cell, each once")


def _verdicts(lookup: Lookup) -> tuple[str, ...]:
    """GO or NO-GO for each row, where a column says so in every one."""
    if VERDICT not in lookup.columns:
        return ()
    cells = tuple(row[lookup.columns.index(VERDICT)] for row in lookup.rows)
    return cells if all(re.match(r"(NO-)?GO\b", cell) for cell in cells) else ()
