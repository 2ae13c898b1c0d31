"""What the tests of the sheets borrow: the demo workshop in; its sheets and their rows out."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from generator.compose import SheetFacts, Sheets
from generator.draw.parse import (
    Container,
    Runs,
    blocks_of,
    plain,
)  # fmt: skip
from generator.process import Operation
from generator.workshop import chosen, open_shop, sheets_of

SHOP = open_shop(Path(__file__).parents[2])
FILES = sorted(SHOP.processes)
FACTS = SheetFacts("A-0007", ("0003",), "2026-11-25")


def file_of(number: str) -> str:
    return chosen(SHOP, [number])[0]


@cache
def made(file: str, facts: SheetFacts = FACTS) -> Sheets:
    sheets, findings = sheets_of(SHOP, file, facts)
    assert sheets is not None, findings
    return sheets


def rows(number: str, kind: str, name: str, which: int = 0) -> list[list[str]]:
    """The words of the rows of one container of a sheet, without its header."""
    blocks = blocks_of(made(file_of(number)).sheets[kind])
    held = [b for b in blocks if isinstance(b, Container) and b.name == name]
    return [[plain(cell) for cell in row] for row in held[which].rows[1:]]


def features(number: str) -> list[list[str]]:
    """The words of all features of an inspection sheet: a strip parts their tables."""
    blocks = blocks_of(made(file_of(number)).sheets["inspection-sheet"])
    held = [b for b in blocks if isinstance(b, Container) and b.name == "features"]
    return [[plain(cell) for cell in row] for block in held for row in block.rows[1:]]


def operations(file: str) -> list[Operation]:
    return [each for each in SHOP.processes[file].operations if not each.deleted_at]


def marked(cell: Runs) -> str:
    """The words of a cell, each number with the mark that it leads to."""
    return "".join(f"{r.text}[{r.link.rpartition('#')[2]}]" if r.link else r.text for r in cell)
