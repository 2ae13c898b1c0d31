"""Every word that a pack prints, changed one by one; each change, told."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from generator.compose import SheetFacts
from generator.results.changes import changes
from generator.workshop import open_shop, sheets_of

SHOP = open_shop(Path(__file__).parents[2])
PACKS = {process.number: shown for shown, process in SHOP.processes.items()}
FACTS = SheetFacts("A-0001", ("0001",), "2026-11-25", "A-0000")
# What belongs to one print, by the first cell of its row.
OF_ONE_PRINT = ("kind", "serial", "part serial", "fingerprint", "printed", "replaces", "Traveller",
                "Serial")  # fmt: skip
# Names of columns by which a row is found, and columns that only count.
FOUND_BY = ("operation", "no.", "what")


def sheets(number: str) -> dict[str, str]:
    made, findings = sheets_of(SHOP, PACKS[number], FACTS)
    assert made is not None, findings
    return dict(made.sheets)


def cells_of(lines: list[str]) -> Iterator[tuple[int, int]]:
    """Where something is printed: the number of a line, and of a cell in it or 0 for words."""
    opened, heads = "", []
    for n, line in enumerate(lines):
        if line.startswith(":::"):
            opened, heads = line.removeprefix(":::").strip().partition(" ")[0], []
        elif line.startswith("|"):
            cells = [cell.strip() for cell in line.split("|")]
            if not set(line) - set("|- "):
                continue
            first, heads = not heads, heads or cells
            if cells[1] in OF_ONE_PRINT and opened in ("frame", "facts", "labels"):
                continue
            for i, cell in enumerate(cells):
                anchor = re.fullmatch(r"(\[?[cgt]\d+\]?(\(.*\))?)", cell)
                found_by = heads[i] in FOUND_BY and (first or heads[i] != "what")
                if cell and not anchor and not (found_by or (first and opened == "features")):
                    yield n, i
        elif line and not line.startswith(("Full fingerprint: ", "# End of ", "## ")):
            heads = []
            yield n, 0
        elif line:
            heads = []
        else:
            heads = heads if opened else []


def changed(text: str) -> tuple[str, int]:
    """A sheet with a word of its own in every place where something is printed, and how many."""
    head, mark, body = text.partition("\n:::\n")
    frame = re.sub(r"(?m)^\| (title|units) \| (.*) \|$", r"| \1 | \2 X |", head)
    lines = body.split("\n")
    count = 0
    for n, i in cells_of(lines):
        count += 1
        if i:
            cells = lines[n].split("|")
            cells[i] = f"{cells[i].rstrip()} Q{count}q "
            lines[n] = "|".join(cells)
        else:
            lines[n] += f" Q{count}q"
    # The title stands in every frame as it stands at the top.
    title = re.search(r"(?m)^\| title \| (.*) \|$", frame)
    assert title is not None
    first = next(n for n, line in enumerate(lines) if line.startswith("# "))
    lines[first] = f"# {title[1]}"
    return frame + mark + "\n".join(lines), count


@pytest.mark.parametrize("number", sorted(PACKS))
def test_any_word_that_changes_on_any_sheet_is_told(number):
    was = sheets(number)
    for kind, text in was.items():
        now, count = changed(text)
        told = changes(was, {**was, kind: now})
        said = " ".join(each.new for each in told)
        missed = [n for n in range(2, count + 1) if f"Q{n}q" not in said]
        assert count > 8, kind
        assert not missed, kind
        assert any(each.new.startswith("title: ") for each in told), kind


def test_a_limit_of_the_inspection_sheet_alone_weighs_at_its_operation():
    was = sheets("T6-P-0120")
    row = re.search(r"(?m)^\| 1 \| (\d+) \| ([^|]*) \| ([^|]*) \|.*$", was["inspection-sheet"])
    assert row is not None
    now = row[0].replace(f"| {row[3]} |", "| 0.001 |", 1)
    told = changes(was, {**was, "inspection-sheet": was["inspection-sheet"].replace(row[0], now)})
    assert [(e.operation, e.what, e.weighs) for e in told] == [(row[1], "limit", True)]
    assert told[0].place == f"operation {row[1]}, inspection sheet"
    assert f"lower {row[3]}" in told[0].old
    assert "lower 0.001" in told[0].new


def test_a_mark_alone_is_told_as_it_stands():
    was = sheets("T6-P-0120")
    now = re.sub(r"#c1\)", "#c2)", was["traveller"], count=1)
    assert now != was["traveller"]
    told = changes(was, {**was, "traveller": now})
    assert {each.where for each in told} == {"traveller: as it stands"}
    assert changes(was, dict(was)) == ()


def test_what_stands_at_the_head_of_every_page_is_told_once():
    was = sheets("T6-P-0120")
    now = {k: t.replace("| airframe | 6-03 |", "| airframe | 6-04 |") for k, t in was.items()}
    assert [(e.where, e.new) for e in changes(was, now)] == [
        ("traveller: head of every page", "airframe: 6-04")
    ]


@pytest.mark.parametrize(("word", "other"), [("warning", "caution"), ("caution", "warning")])
def test_a_warning_is_told_as_a_warning_and_a_caution_as_a_caution(word, other):
    """They say whether people or parts are hurt: one must never be told by the other's name."""
    was = sheets("T6-P-0410")
    new = f"::: {word}\nA hose that lets go kills.\n:::\n\n**PRESSURIZE**"
    now = was["traveller"].replace("**PRESSURIZE**", new, 1)
    told = changes(was, {**was, "traveller": now})
    assert [(e.what, e.old, e.new, e.weighs) for e in told] == [
        (word, "", "A hose that lets go kills.", True)
    ]
    before = now.replace(new, new.replace(word, other))
    instead = changes({**was, "traveller": before}, {**was, "traveller": now})
    assert [(e.old, e.new) for e in instead if "hose" in e.new] == [
        (f"{other}: A hose that lets go kills.", f"{word}: A hose that lets go kills.")
    ]


def test_what_stands_on_the_traveller_and_on_a_record_says_where():
    was = sheets("T6-P-0410")
    now = {kind: text.replace("A plug that lets go kills", "A plug that flies kills")
           for kind, text in was.items()}  # fmt: skip
    own = [each for each in changes(was, now) if each.operation == "80"]
    assert [(each.what, each.place) for each in own] == [
        ("warning", "operation 80"),
        ("warning", "operation 80, functional test sheet"),
    ]
