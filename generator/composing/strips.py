"""A strip of one operation in; its ready answers over one or two measured numbers, as rows, out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from generator.composing.charts import Plot, no_more_than_fit
from generator.composing.entries import Entries, entries_of
from generator.composing.escape import Markdown, escape
from generator.composing.writer import Writer
from generator.computing.compute import worked_at
from generator.computing.working import Number
from generator.findings import Refusal, fault
from generator.process import Along, Strip
from generator.read import Steps

_MOST, _MOST_ROWS, _MOST_COLUMNS = 11, 11, 6
_TAKE = {
    "nearer": "take the nearer; half way, tell the lead",
    "larger": "take the larger",
    "smaller": "take the smaller",
    "stop": "tell the lead",
}
_STOP = "At STOP the answers end: work out none, tell the lead."


@dataclass(frozen=True)
class Place:
    """Where the strip stands, and whose numbers it asks for."""

    writer: Writer
    here: Steps

    def answers(self, of: Sequence[str], at: Mapping[str, Any]) -> list[Number]:
        """The results with the measured numbers at these values."""
        writer = self.writer
        return worked_at(writer.process, writer.workings, of, at, writer.shop, writer.runs)


def strip(writer: Writer, here: Steps, strip: Strip) -> Mapping[str, Any] | None:
    """What the template needs of a strip, or of a grid; a fault where it cannot be worked out.

    block: strip or grid; says: the words above it; corner, heads, lines: its cells; answers: the
    row of each number of a strip, by its name; plot: what its chart shows, or None.
    """
    place = Place(writer, here)
    try:
        return _strip(place, strip) if strip.across is None else _grid(place, strip, strip.across)
    except Refusal as refusal:
        writer.faults.append(fault(here, refusal))
    return None


def _strip(place: Place, strip: Strip) -> Mapping[str, Any]:
    along = strip.along
    entries = entries_of(place.writer, place.here, along, _MOST, "columns")
    _worked_out(place, strip.of)
    columns = [place.answers(strip.of, {along.over: value}) for value in entries.values]
    for k, name in enumerate(strip.of):
        _depends(name, along.over, [[column[k] for column in columns]])
    meanings = [number.meaning for number in columns[0]]
    lines = [
        line
        for k, meaning in enumerate(meanings)
        for line in _lines([c[k] for c in columns], meanings.count(meaning) > 1)
    ]
    return {
        "block": "strip",
        "says": f"Tick the value used. Between two values: {_TAKE[along.between]}. {_STOP}",
        "corner": entries.title,
        "heads": [_head(h, f) for h, f in zip(entries.heads, entries.framed, strict=True)],
        "lines": lines,
        "answers": {
            name: [column[k].shown for column in columns] for k, name in enumerate(strip.of)
        },
        "plot": _plot(strip, entries, columns) if strip.chart else None,
    }


def _plot(strip: Strip, entries: Entries, columns: Sequence[Sequence[Number]]) -> Plot:
    """The curves of the numbers that have the unit of the first."""
    first = columns[0][0]
    shown = [k for k, number in enumerate(columns[0]) if number.unit == first.unit]
    no_more_than_fit(len(shown), "a strip of its own for the others")
    names = tuple(strip.of[k] for k in shown)
    up = f"{first.meaning} {first.unit}" if len(shown) == 1 else first.unit
    curves = [(_called(strip.of[k]), tuple(column[k].shown for column in columns)) for k in shown]
    return Plot(entries.title, up.strip(), entries.heads, _nominal(entries), tuple(curves), names)


def _called(name: str) -> str:
    """A number by the last part of its name, as words."""
    owner, _, own = name.partition(".")
    of, _, place = (own or owner).partition(".")
    # One of a list is called by one: pass 1 of passes, flat 2 of flats.
    one = of.removesuffix("es" if of.endswith("sses") else "s") if place else of
    return f"{one} {place}".strip().replace(".", " ").replace("_", " ")


def _nominal(entries: Entries) -> str:
    pairs = zip(entries.heads, entries.framed, strict=True)
    return next((head for head, framed in pairs if framed), "")


def _grid_plot(
    strip: Strip, down: Entries, over: Entries, rows: Sequence[Sequence[Number]]
) -> Plot:
    """A curve for each column, named by the value on top."""
    assert strip.across is not None
    no_more_than_fit(len(over.heads), "fewer columns across")
    first, called = rows[0][0], strip.across.over.replace("_", " ")
    curves = [
        (f"{called} {head}", tuple(row[k].shown for row in rows))
        for k, head in enumerate(over.heads)
    ]
    up = f"{first.meaning} {first.unit}".strip()
    return Plot(down.title, up, down.heads, _nominal(down), tuple(curves))


def _lines(numbers: Sequence[Number], twice: bool) -> Iterator[tuple[Markdown, list[str]]]:
    """The answers of one number, and below them the same in its second unit where it has one.

    twice: another number of the strip means the same, so that each is told with its entry.
    """
    first = numbers[0]
    named = _entry(first) if twice else ""
    yield _label(first, f"{named}{first.meaning}", first.unit), [n.shown for n in numbers]
    if first.second[1]:
        yield _label(first, f"{named}the same in", first.second[1]), [n.second[0] for n in numbers]


def _entry(number: Number) -> str:
    return f"{number.name.partition('.')[0].replace('_', ' ')}: "


def row_of(writer: Writer, strip: Strip, name: str) -> Markdown:
    """The row of a strip that answers a number, as the strip calls it, or the whole of a grid."""
    numbers = writer.workings.numbers
    if strip.across is not None:
        return _whole(numbers[name])
    one, meanings = numbers[name], [numbers[each].meaning for each in strip.of]
    named = _entry(one) if meanings.count(one.meaning) > 1 else ""
    return _label(one, f"{named}{one.meaning}", one.unit)


def _grid(place: Place, strip: Strip, across: Along) -> Mapping[str, Any]:
    along = strip.along
    if len(strip.of) != 1 or along.over == across.over:
        wrong = "a strip with 'across' is of one number over two different givens"
        raise Refusal("strip", wrong, "one name under of; a strip of its own for each other")
    down = entries_of(place.writer, place.here, along, _MOST_ROWS, "rows")
    over = entries_of(place.writer, place.here, across, _MOST_COLUMNS, "columns")
    _worked_out(place, strip.of)
    rows = [
        [place.answers(strip.of, {along.over: a, across.over: b})[0] for b in over.values]
        for a in down.values
    ]
    _depends(strip.of[0], along.over, list(zip(*rows, strict=True)))
    _depends(strip.of[0], across.over, rows)
    return {
        "block": "grid",
        "says": _grid_words(rows[0][0], along, across),
        "corner": f"{down.title} / {over.title}",
        "heads": [_head(h, f) for h, f in zip(over.heads, over.framed, strict=True)],
        "lines": [
            (_head(head, framed), _cells(row, framed, over.framed))
            for head, framed, row in zip(down.heads, down.framed, rows, strict=True)
        ],
        "answers": {},
        "plot": _grid_plot(strip, down, over, rows) if strip.chart else None,
    }


def _grid_words(number: Number, along: Along, across: Along) -> Markdown:
    down, over = along.over.replace("_", " "), across.over.replace("_", " ")
    take = f"Between two rows: {_TAKE[along.between]}. "
    take += f"Between two columns: {_TAKE[across.between]}."
    if along.between == across.between:
        take = f"Between two rows or two columns: {_TAKE[along.between]}."
    rest = f"{down} at the left, {over} on top. Tick the one used. {take} {_STOP}"
    return Markdown(f"{_whole(number)}: {escape(rest)}")


def _whole(number: Number) -> Markdown:
    """What all cells of a grid are."""
    unit = f" in {number.unit}" if number.unit else ""
    meaning = f"{number.meaning[:1].upper()}{number.meaning[1:]}"
    return Markdown(f"[{escape(f'{meaning}{unit}')}](#{number.mark})")


def _cells(row: Sequence[Number], row_framed: bool, framed: Sequence[bool]) -> list[Markdown]:
    return [_head(n.shown, row_framed and f) for n, f in zip(row, framed, strict=True)]


def _head(text: str, framed: bool) -> Markdown:
    """A cell; bold is how the sheet says that it is framed."""
    return Markdown(f"**{escape(text)}**") if framed else escape(text)


def _label(number: Number, meaning: str, unit: str) -> Markdown:
    """What a row of answers gives, with the mark of its calculation."""
    return Markdown(f"[{escape(f'{meaning} {unit}'.strip())}](#{number.mark})")


def _worked_out(place: Place, of: Sequence[str]) -> None:
    """Refuses a name that is no number worked out here."""
    for name in of:
        known = place.writer.workings.numbers.get(name)
        if known is None:
            told = place.writer.unnamed(place.here, name)
            raise Refusal(told.code, told.wrong, told.right)
        if known.order or not known.mark.startswith("c"):
            wrong = f"'{name}' is no number that is worked out"
            raise Refusal("strip", wrong, "a result under work out, such as flat.length")


def _depends(name: str, over: str, lines: Sequence[Sequence[Number]]) -> None:
    """Refuses a result that is the same at every value of one given."""
    if all(len({n.amount.value for n in line if n.amount is not None}) == 1 for line in lines):
        wrong = f"'{name}' does not depend on '{over}'"
        raise Refusal("strip", wrong, "a number that does, or another given under over")
