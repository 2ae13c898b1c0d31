"""The sheets of a traveller, read, in; what a wrench is set to there, and which boxes that nobody
gave limits take a figure all the same, out."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from generator.composing.kinds import FULL_SIZE_PAGES
from generator.composing.recorded import BETWEEN, LOAD
from generator.draw.parse import Block, Container, Row, plain
from generator.draw.sheet import Part
from generator.results.form_says import Limits, ordinal, with_operations
from generator.results.values import number_in

SET = "wrench set to"
SENT_ON, WANTED, RETURNED_ON = "sent on", "wanted back on", "returned on"
SENT, RETURNED = "count sent", "count returned"
REJECTED, REPLACED = "rejected", "replaced"  # of the rivets of a row
_BESIDE = ("wrench length", "running drag")  # in the row of a wrench, and not read with it
# Nothing is cut from a tile whose bars measure otherwise: the limits as every tile prints them.
_BARS = {"bar across": ("149.7", "150.3"), "bar down": ("249.5", "250.5")}
_FACT = "Setting"  # what the sheet calls the line that says what the wrench is set to
_AS_TICKED = re.compile(r"as ticked(?: in operation \S+)?: (.+)")
LimitsByRow = Mapping[tuple[str, str, str], Limits]
_SECOND = re.compile(r" \([^()]*\)")
_TO = " to "
_SAID = ("lower", "upper", "lower_by", "upper_by", "set_to", "set_by")


def figure(sheet: str, meaning: str, limits: Limits | None) -> dict[str, Any]:
    """What a field is besides words where its box takes a figure: what is counted, a bar that is
    measured, a box beside a wrench, and for what the wrench is set to what the sheet says of it;
    nothing for all else."""
    name, comma, scale = meaning.partition(", ")
    rivets = meaning in (REJECTED, REPLACED) and limits is not None and limits.unit == "count"
    if rivets or meaning in (SENT, RETURNED):
        return {"kind": "number", "unit": "count"}
    if sheet == FULL_SIZE_PAGES and name in _BARS:
        lower, upper = _BARS[name]
        return {"kind": "number", "lower": lower, "upper": upper, "unit": "mm"}
    if not comma or name not in (SET, *_BESIDE):
        return {}
    number = {"kind": "number", "unit": scale}
    if name != SET or limits is None:
        return number
    return number | {each: getattr(limits, each) for each in _SAID}


def is_beside(meaning: str) -> bool:
    """Whether a box is of the nut or of the lever, and was not read with the wrench of its row."""
    return meaning.partition(", ")[0] in _BESIDE


def settings_of(
    parts: Mapping[str, Iterable[Part]],
) -> Iterator[tuple[tuple[str, str, str], Limits]]:
    """What the wrench is set to, by kind of sheet, operation and row: each line that says it is of
    the row in the same place below."""
    for kind, has in parts.items():
        for operation, part in with_operations(has):
            for row, limits in _in_blocks(part.blocks) if operation else ():
                yield (kind, operation, row), limits


def _in_blocks(blocks: Sequence[Block]) -> Iterator[tuple[str, Limits]]:
    told: list[Row] = []
    for block in blocks:
        if not isinstance(block, Container):
            continue
        if block.name == "facts":
            told = [row for row in block.rows if plain(row[0]) == _FACT]
        elif block.name == "fill" and told and SET in map(plain, block.rows[0]):
            for row, said in zip(block.rows[1:], told, strict=True):
                yield plain(row[0]), _setting(said)
            told = []


def furnaces_of(limits: LimitsByRow) -> Iterator[tuple[tuple[str, str, str], Limits]]:
    """The temperature of a load that is set without a band: within the narrowest band around it
    that a reading of the same treatment prints, such as that of the furnace."""
    for (kind, operation, row), own in limits.items():
        at = number_in(own.set_to) if row.partition(" (")[0] == LOAD else None
        if at is None:
            continue
        of = ordinal(own.of or operation)
        bands = [
            (high - low, each) for (sheet, number, _), each in limits.items()
            if (sheet, ordinal(number), each.unit) == (kind, of, own.unit)
            and (low := number_in(each.lower)) is not None
            and (high := number_in(each.upper)) is not None and low <= at <= high
        ]  # fmt: skip
        for _, band in sorted(bands, key=lambda told: told[0])[:1]:
            told = replace(own, lower=band.lower, upper=band.upper, set_to="")
            yield (kind, operation, row), told


def _setting(row: Row) -> Limits:
    """A setting that is printed, both ends of one, or the row of the strip that has it."""
    says = plain(row[1])
    mark = next((run.link.rpartition("#")[2] for run in row[1] if run.link), "")
    ticked = _AS_TICKED.fullmatch(says)
    if ticked and ticked[1] == BETWEEN:
        return Limits(lower_by=mark, upper_by=mark)
    if ticked:
        return Limits(set_by=f"{mark} {ticked[1]}")
    ends = [each.partition(" ")[0] for each in _SECOND.sub("", says).split(_TO)]
    if not all(number_in(each) is not None for each in ends):
        return Limits()
    return Limits(lower=ends[0], upper=ends[1]) if len(ends) > 1 else Limits(set_to=ends[0])
