"""The demo processes in; every number the same on every sheet, with a way back to its calculation."""

from __future__ import annotations

import dataclasses
import re
import shutil
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path

import pytest

from generator.compose import CALCULATION_SHEET, TRAVELLER, SheetFacts, Sheets, kinds_of
from generator.composing.escape import escape
from generator.composing.kinds import TABLE_OF_ORDINATES, TIGHTENING_RECORD
from generator.composing.ordinates import ordinates
from generator.composing.workings import made_again
from generator.computing.working import Number, Workings
from generator.draw.parse import Block, Container, Heading, Paragraph, Row, Run, blocks_of, plain
from generator.draw.sheet import anchors, read_sheet
from generator.findings import Refusal
from generator.workshop import open_shop, sheets_of, work_out
from tests.helping import SOUND

SHOP = open_shop(Path(__file__).parents[2])
FILES = sorted(SHOP.processes)
FACTS = SheetFacts("", (), "2026-11-25")
TICKED = ("ticked", "as ticked")  # a strip has this limit, or this time
ELSEWHERE = f"{CALCULATION_SHEET}.pdf#"


@cache
def made(file: str) -> tuple[Sheets, Workings]:
    sheets, findings = sheets_of(SHOP, file, FACTS)
    assert sheets is not None, findings
    return sheets, work_out(SHOP, file)[0]


def blocks(file: str, kind: str) -> tuple[Block, ...]:
    return blocks_of(made(file)[0].sheets[kind])


def cells(block: Block) -> Iterator[tuple[Run, ...]]:
    if isinstance(block, Heading | Paragraph):
        yield block.runs
    else:
        rows: tuple[Row, ...] = block.rows
        yield from (cell for row in rows for cell in row)
        yield from block.paragraphs if isinstance(block, Container) else ()


def links(found: tuple[Block, ...]) -> list[Run]:
    """The linked numbers of a sheet. In a strip or a grid it is the name of a number that leads."""
    plain_blocks = [b for b in found if not is_strip(b)]
    return [run for block in plain_blocks for cell in cells(block) for run in cell if run.link]


def is_strip(block: Block) -> bool:
    return isinstance(block, Container) and block.name in ("strip", "grid")


def calculations(file: str) -> Mapping[str, str]:
    """The words of each calculation and of each given on the calculation sheet, by mark."""
    texts: dict[str, list[str]] = {}
    for block in blocks(file, CALCULATION_SHEET):
        if isinstance(block, Container) and block.name in ("working", "inputs", "lines"):
            texts.setdefault(block.words, []).extend(plain(cell) for cell in cells(block))
        if isinstance(block, Container) and block.name == "givens":
            for row in block.rows[1:]:
                texts[plain(row[0])] = [plain(cell) for cell in row[1:]]
    return {mark: "\n".join(words) for mark, words in texts.items()}


@pytest.mark.parametrize("file", FILES)
def test_a_number_of_the_traveller_stands_on_the_calculation_sheet_letter_by_letter(file):
    found, worked = links(blocks(file, TRAVELLER)), calculations(file)
    assert found
    for run in found:
        if not run.link.startswith(ELSEWHERE) and run.text not in TICKED:
            given = run.link.startswith("g")
            assert says(worked[run.link], run.text) or (
                given and padded(worked[run.link], run.text)
            )


def padded(text: str, number: str) -> bool:
    """Whether a limit that is a given stands in a text without the zeros that fill it up to the
    step of its reading."""
    whole, point, tail = number.partition(".")
    return bool(point) and says(text, f"{whole}.{tail}".rstrip("0").rstrip("."))


def says(text: str, number: str) -> bool:
    """Whether a number stands in a text, and not as part of a longer one."""
    return bool(re.search(rf"(?<![\d.\N{{MINUS SIGN}}]){re.escape(number)}(?![\d.]*\d)", text))


SHEETS = [(file, kind) for file in FILES for kind in kinds_of(SHOP.processes[file])]


@pytest.mark.parametrize(("file", "kind"), SHEETS)
def test_every_link_has_its_anchor(file, kind):
    """The numbers of the traveller and of the calculation sheet have their rows there; those of
    every other sheet lead to the calculation sheet."""
    own = (TRAVELLER, CALCULATION_SHEET)
    places = {k: {a for b in blocks(file, k) for a in anchors(b)} for k in own}
    for run in links(blocks(file, kind)):
        mark = run.link.removeprefix(ELSEWHERE)
        if run.link.startswith(ELSEWHERE):
            assert kind != CALCULATION_SHEET
            assert kind != TRAVELLER or run.text == mark
            assert mark in places[CALCULATION_SHEET]
        else:
            assert run.link in places[kind]


@pytest.mark.parametrize("file", FILES)
def test_a_named_number_is_the_same_string_on_every_sheet(file):
    """The table of numbers on the traveller, the lines of the calculation sheet, and every place
    that a text, a limit or an input names."""
    workings, worked = made(file)[1], calculations(file)
    rows = dict(numbers_of(file))
    results = [n for w in workings.workings.values() for n in w.results]
    many = {w.mark for w in workings.workings.values() if len(w.results) > 20}
    many |= set(made_again(workings))
    words = (
        (Path(__file__).parents[2] / file).read_text(encoding="utf-8").partition("operations:")[2]
    )
    left_out = [n for n in results if n.mark in many and not re.search(rf"\b{n.name}\b", words)]
    told = [number for number in results if number not in left_out]
    assert rows == {called(number): (number.mark, number.text) for number in told}
    for number in told:
        assert_worked_out(number, worked[number.mark])
    for kind in kinds_of(SHOP.processes[file]):
        for run in links(blocks(file, kind)):
            mark = run.link.removeprefix(ELSEWHERE)
            if run.text not in (mark, *TICKED):
                own = [n for n in workings.numbers.values() if n.mark == mark]
                as_given = mark.startswith("g") and says(own[0].text, run.text)
                as_limit = mark.startswith("g") and padded(own[0].text, run.text)
                same = run.text in {n.text for n in own} | {n.shown for n in own}
                titles = {each.title for one in ordinates(workings) for each in one.tables}
                as_title = kind == TABLE_OF_ORDINATES and run.text in titles
                # What a wrench is set to may be a row of a strip, by the name that it has there.
                row = {f"{n.meaning} {n.unit}" for n in own}
                as_row = kind == TIGHTENING_RECORD and run.text in row
                assert same or as_given or as_limit or as_title or as_row, run


@pytest.mark.parametrize("file", FILES)
def test_the_framed_answer_of_a_strip_is_the_number_that_its_name_leads_to(file):
    workings = made(file)[1]
    for block in blocks(file, TRAVELLER):
        if not isinstance(block, Container) or not is_strip(block):
            continue
        for name, framed in framed_answers(block):
            own = [n for n in workings.numbers.values() if n.mark == name.link]
            if ": " in name.text:  # several numbers in one strip: each with its own name
                entry = name.text.partition(": ")[0].replace(" ", "_")
                own = [n for n in own if n.name.partition(".")[0] == entry]
            asked = name.text.rpartition(": ")[2].lower()
            if asked.startswith("the same"):
                assert framed in {n.second[0] for n in own}, name
            else:
                said = {n.shown for n in own if asked.startswith(n.meaning.lower())}
                assert framed in said, name


def framed_answers(block: Container) -> Iterator[tuple[Run, str]]:
    """The name of each number that a strip or a grid answers, and its answer at nominal."""
    heads, *body = block.rows
    column = next((i for i, cell in enumerate(heads) if i and cell[0].bold), 0)
    if block.name == "strip":
        yield from ((row[0][0], plain(row[column])) for row in body if column)
        return
    name = next(run for words in block.paragraphs for run in words if run.link)
    yield from ((name, plain(row[column])) for row in body if column and row[0][0].bold)


def assert_worked_out(number: Number, text: str) -> None:
    wanted = number.text if number.amount is None else f"{number.text}, rounded"
    assert wanted in text, number.name


def called(number: Number) -> str:
    same = number.name.replace("_", " ") == number.meaning
    return number.meaning if same else f"{number.meaning} ({number.name})"


def numbers_of(file: str) -> Iterator[tuple[str, tuple[str, str]]]:
    """The rows of the traveller's table of numbers: what it is, its mark and its value."""
    for block in blocks(file, TRAVELLER):
        if isinstance(block, Container) and block.name == "results":
            for mark, name, value, *_ in block.rows[1:]:
                yield plain(name), (plain(mark), plain(value))


@pytest.mark.parametrize("file", FILES)
def test_every_input_says_where_it_comes_from(file):
    """A name leads to its number; what was typed says so; the value is the number put in."""
    workings = made(file)[1]
    for block in blocks(file, CALCULATION_SHEET):
        if not isinstance(block, Container) or block.name != "inputs":
            continue
        for _, _, value, source in block.rows[1:]:
            words = plain(source)
            if not source[0].link:
                assert words.startswith(
                    ("typed here", "table row", "constant", "nobody typed it")
                ), words
                continue
            words, _, own_unit = words.partition(": ")
            number = next(n for n in workings.numbers.values() if named(n) == words)
            assert not own_unit or own_unit == number.amount.numbers
            assert number.mark == source[0].link
            assert number.amount is not None
            assert plain(value)


def named(number: Number) -> str:
    return f"{number.mark} {number.name.replace('_', ' ')}"


@pytest.mark.parametrize("file", FILES)
def test_no_working_stands_on_the_traveller_and_no_operation_on_the_calculation_sheet(file):
    names = {b.name for b in blocks(file, TRAVELLER) if isinstance(b, Container)}
    assert not names & {"working", "inputs", "lines"}
    sheet = made(file)[0].sheets[CALCULATION_SHEET]
    assert "# Operations" not in sheet
    assert "| kind | CALCULATION SHEET |" in sheet


def test_a_process_without_calculations_says_so(tmp_path):
    words = "This job works out no numbers."
    without = {f for f in FILES if not SHOP.processes[f].work_out}
    assert {f for f in FILES if words in made(f)[0].sheets[CALCULATION_SHEET]} == without
    shutil.copytree(SOUND, tmp_path, dirs_exist_ok=True)
    path = tmp_path / "processes" / "shelf.yaml"
    text = re.sub(
        r"work out:\n.*?operations:\n", "operations:\n", path.read_text(), flags=re.DOTALL
    )
    text = re.sub(r"    strip:\n(      .*\n)+", "", text)
    text = text.replace("    range: 0.874 to 0.954 mm\n", "")
    path.write_text(re.sub(r"\{\{ .*? \}\}", "25 mm", text))
    shop = open_shop(tmp_path)
    sheets, findings = sheets_of(shop, "processes/shelf.yaml", FACTS)
    assert sheets is not None, findings
    assert words in sheets.sheets[CALCULATION_SHEET]


def test_a_changed_method_shows_in_the_fingerprint_of_the_traveller(monkeypatch):
    """The texts of the traveller stay as they are; what the calculation sheet says of a method
    does not."""
    file = next(f for f in FILES if any(w.use for w in SHOP.processes[f].work_out.values()))
    before = made(file)[0]
    entry = next(w for w in SHOP.processes[file].work_out.values() if w.use)
    from generator.calculations import calculations as known

    what = dataclasses.replace(known()[entry.use], not_covered="something else")
    changed = {**known(), entry.use: what}
    monkeypatch.setattr("generator.computing.board.calculations", lambda: changed)
    after, findings = sheets_of(SHOP, file, FACTS)
    assert after is not None, findings
    assert unmarked(after.sheets[TRAVELLER]) == unmarked(before.sheets[TRAVELLER])
    assert after.fingerprint != before.fingerprint


def unmarked(sheet: str) -> str:
    return re.sub(r"(?m)^(\| fingerprint \||Full fingerprint:).*$", "", sheet)


# --- the tolerance of a given ------------------------------------------------------------------


def test_limits_and_a_tolerance_of_each_stand_on_both_sheets(tmp_path):
    shutil.copytree(SOUND, tmp_path, dirs_exist_ok=True)
    file = tmp_path / "processes" / "shelf.yaml"
    text = file.read_text(encoding="utf-8")
    was = "  leg:\n    is: 25 mm\n"
    assert text.count(was) == 1
    file.write_text(
        text.replace(was, "  leg:\n    is: 25 ± 0.5 mm\n    tolerance: each\n"), encoding="utf-8"
    )
    sheets, findings = sheets_of(open_shop(tmp_path), "processes/shelf.yaml", FACTS)
    assert sheets is not None, findings
    for sheet in (sheets.sheets[TRAVELLER], sheets.sheets[CALCULATION_SHEET]):
        assert "| 25 ± 0.5 mm, each on its own |" in sheet
    assert "| no. | number | value | worst case |" in sheets.sheets[TRAVELLER]
    (row,) = re.findall(r"(?m)^\| \[c1\].*\(flat\.length\) \|.*$", sheets.sheets[TRAVELLER])
    nominal, low, high = re.search(r"\| (\S+) mm \| (\S+) to (\S+) mm \|", row).groups()
    # Two legs of ± 0.5 mm, each on its own: 1 mm to either side, and one step of rounding.
    assert float(high) - float(nominal) == pytest.approx(1.0, abs=0.11)
    assert float(nominal) - float(low) == pytest.approx(1.0, abs=0.11)
    assert f"{low} to {high} mm" in sheets.sheets[CALCULATION_SHEET]


# --- the one way to another file ----------------------------------------------------------------

BAD_LINKS = [
    "[c3](calculation-sheet.pdf)",
    "[c3](calculation-sheet.pdf#g3)",
    "[c3](other.pdf#c3)",
    "[c3](../calculation-sheet.pdf#c3)",
    "[c3](file:///calculation-sheet.pdf#c3)",
    "[c3](https://shop.invalid/calculation-sheet.pdf#c3)",
    "[c3](calculation-sheet.pdf#c3x)",
    '[c3](calculation-sheet.pdf#c3 "title")',
]


@pytest.mark.parametrize("link", BAD_LINKS)
def test_no_other_link_leaves_the_sheet(link):
    sheet = made(FILES[0])[0].sheets[TRAVELLER]
    with pytest.raises(Refusal) as caught:
        read_sheet(sheet.replace("## This print\n", f"## This print\n\n{link}\n", 1))
    assert re.search("a link to|loose marks", caught.value.wrong)


def test_what_a_user_types_is_never_a_link():
    typed = "[c3](calculation-sheet.pdf#c3)"
    (block,) = blocks_of(escape(typed))
    assert isinstance(block, Paragraph)
    assert block.runs == (Run(typed),)


def test_a_word_that_nobody_typed_is_not_called_typed():
    """The shelf says which leg the second bend holds, and leaves the first to the calculation."""
    (file,) = (each for each, p in SHOP.processes.items() if p.number == "T6-P-0120")
    rows = [
        [plain(cell) for cell in row]
        for block in blocks(file, CALCULATION_SHEET)
        if isinstance(block, Container) and block.name == "inputs"
        for row in block.rows
    ]
    held = "leg under the nose bar, counted from the first edge"
    assert {row[1]: row[2:] for row in rows if row[1].startswith(held)} == {
        f"{held} 1": ["leg before", "nobody typed it: taken where nothing is said"],
        f"{held} 2": ["leg after", "typed here"],
    }
