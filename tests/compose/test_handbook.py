"""The handbook says what the program says, and what the print says; a stale one is a failure."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterator
from pathlib import Path

import pypdfium2
import pytest

from generator.__main__ import main
from generator.calculations import calculations
from generator.check.workings import work_out_faults
from generator.composing.handbook import handbook
from generator.draw import draw_sheet
from generator.findings import Refusal
from generator.read import read_text
from generator.tables import table, table_names
from tests.generated import HANDBOOK, ROOT, generated
from tests.helping import texts_in

ALL = calculations()
TEXT = generated()[HANDBOOK]
FOUND = re.compile(
    r"(?P<said>[^\s°;]+)( ?(?P<unit>[^;]*?))?; now: (?P<now>[^\s°;]+)( ?(?P=unit))?; asked .*"
)


def _parts() -> dict[str, str]:
    """What stands under each heading of a calculation or a table, by that heading."""
    found = [each.split("\n# ")[0] for each in re.split(r"(?m)^::: working \w+$", TEXT)[1:]]
    return {rows(each)[0][0]: each for each in found}


def rows(text: str) -> list[list[str]]:
    """Every row of every table, its cells as a reader sees them."""
    lines = (line for line in text.splitlines() if line.startswith("|") and "---" not in line)
    return [[_seen(cell) for cell in re.split(r"(?<!\\)\|", line)[1:-1]] for line in lines]


def _seen(cell: str) -> str:
    linked = re.sub(r"\[(.*?)\]\(#\w+\)", r"\1", cell.strip())
    return re.sub(r"\\(.)", r"\1", linked)


def under(text: str, words: str) -> str:
    """What stands under one small heading."""
    return next(each for each in text.split("\n### ") if words in each.partition("\n")[0])


def lines_under(text: str, words: str) -> str:
    """The rows under one small heading, and nothing of the next."""
    return under(text, words).split("\n:::\n")[0]


PARTS = _parts()


def test_the_stored_handbook_is_what_is_composed_today() -> None:
    stored = (ROOT / HANDBOOK).read_text(encoding="utf-8")
    assert stored == TEXT, "output/handbook is stale: make generated, and commit it"


def test_composed_twice_it_is_the_same() -> None:
    assert handbook(ALL, table_names()) == TEXT


@pytest.mark.parametrize("name", ALL)
def test_every_calculation_stands_in_it_with_its_facts(name: str) -> None:
    what = ALL[name]
    said = texts_in(PARTS[what.title])
    assert name in said
    assert what.source in said
    assert what.not_covered in said
    assert all(" ".join(p.split()) in said for p in what.about.split("\n\n") if p)
    assert any(what.second.says in each and what.second.within in each for each in said)
    assert all(example.where in said for example in what.examples)
    assert not what.method or what.method in said


@pytest.mark.parametrize("name", ALL)
def test_every_key_stands_in_it_with_its_range(name: str) -> None:
    what = ALL[name]
    table_of_inputs = {row[0]: row for row in rows(under(PARTS[what.title], ": goes in"))}
    for item in what.inputs:
        cells = {f"{item.name}: {c.name}": c for c in item.row} or {item.name: item}
        for key, cell in cells.items():
            if cell.kind == "fixed":
                continue
            said = " ".join(table_of_inputs[key])
            assert cell.fact.meaning in said
            for end in ("symbol", "unit", "above", "at_least", "at_most", "at_bench"):
                assert str(getattr(cell.fact, end, "")) in said
            assert all(word in said for word in getattr(cell.fact, "words", ()))


@pytest.mark.parametrize("name", ALL)
def test_every_result_of_an_example_has_its_name_in_it(name: str) -> None:
    what = ALL[name]
    names = {row[0] for row in rows(under(PARTS[what.title], ": comes out"))}
    for example in what.examples:
        for result in example.gives:
            first = re.sub(r"\.\d+(?=\.|$)", ".1", f".{result}")
            assert (first if result else "the entry's name") in names


@pytest.mark.parametrize("name", ALL)
def test_what_came_out_is_what_the_print_says(name: str) -> None:
    what = ALL[name]
    verdicts = [row for row in rows(PARTS[what.title]) if row[0].startswith("the print")]
    wanted = [(e, said) for e in what.examples for said in e.gives.values()]
    assert len(verdicts) == len(wanted)
    for (_, words), (example, said) in zip(verdicts, wanted, strict=True):
        if words.endswith("; now: the same"):
            assert words.startswith(said)
            continue
        found = FOUND.fullmatch(words)
        assert found, words
        assert [found["said"], *(found["unit"] or "").split()] == said.replace("°", " °").split()
        gap = abs(number(found["now"]) - number(found["said"]))
        assert gap <= allowed(example.within, found["said"], found["unit"] or "") * 1.01


def number(text: str) -> float:
    return float(text.replace("\N{MINUS SIGN}", "-"))


def allowed(within: str, said: str, unit: str) -> float:
    """Half of the last digit, a share, or an amount in the unit of the print; one in a unit of
    another kind is of another result."""
    digits, _, own = within.partition(" ")
    if within and own == "%":
        return float(digits) * abs(number(said)) / 100
    if not within or own != unit:
        return 0.5 * 10.0 ** -len(said.partition(".")[2])
    return float(digits)


@pytest.mark.parametrize("name", ALL)
def test_what_it_shows_for_a_process_can_be_typed_there(name: str) -> None:
    what = ALL[name]
    typed = rows(lines_under(PARTS[what.title], ": in a process"))
    text = "work out:\n  answer:\n" + "".join(f"    {key}: {value}\n" for key, value in typed)
    document, findings = read_text(text.encode(), "typed.yaml")
    assert document is not None, findings
    assert document.tree["work out"]["answer"] == {"use": name, **what.examples[0].given}
    assert work_out_faults(document.tree) == []


@pytest.mark.parametrize("name", ALL)
def test_what_it_shows_for_the_desk_runs_there(name: str, capsys) -> None:
    (line,) = [row[1] for row in rows(PARTS[ALL[name].title]) if row[0] == "at the desk"]
    words = re.findall(r'(\w+="[^"]*"|[\w-]+)(?: |$)', line)
    assert words[:3] == ["witnessmark", "calculate", name]
    assert main([word.replace('"', "") for word in words[1:]]) == 0
    assert ALL[name].title in capsys.readouterr().out


@pytest.mark.parametrize("name", table_names())
def test_every_table_stands_in_it_with_every_row(name: str) -> None:
    whole, said = table(name), PARTS[name]
    assert whole["source"] in texts_in(said) and whole["note"] in texts_in(said)
    heads, *body = rows(said.partition("\n:::\n")[2])
    assert len(body) == len(whole["rows"])
    letters = {row[0].removeprefix("source "): row[1] for row in rows(said) if "source " in row[0]}
    for printed, row in zip(body, whole["rows"], strict=True):
        cells = dict(zip(heads, printed, strict=True))
        source = cells.pop("source", "-")
        assert letters.get(source, "") == row.get("source", "")
        assert {k: v for k, v in cells.items() if v != "-"} == {
            key.replace("_", " "): value for key, value in row.items() if key != "source"
        }


@pytest.mark.parametrize("name", table_names())
def test_no_cell_of_a_table_is_empty(name: str) -> None:
    """A comma in a source without quotes would part it in two, and its end would be a key."""
    assert all(all(row.values()) for row in table(name)["rows"])


def test_the_contents_lead_to_everything() -> None:
    contents = TEXT.partition("## Contents")[2].partition("\n# ")[0]
    linked = re.findall(r"\[(.*?)\]\(#(\w+)\)", contents.replace("\\", ""))
    assert sorted(name for name, _ in linked) == sorted([*ALL, *table_names()])
    assert {mark for _, mark in linked} == set(re.findall(r"(?m)^::: working (\w+)$", TEXT))


def test_an_example_that_does_not_come_to_its_print_stops_it() -> None:
    what = ALL["jack_time"]
    (example,) = what.examples
    wrong = dataclasses.replace(example, gives={"": "5.90 s"})
    with pytest.raises(Refusal) as told:
        handbook({"jack_time": dataclasses.replace(what, examples=(wrong,))}, ())
    assert told.value.code == "example"
    assert "5.90 s" in told.value.wrong and "5.8905 s" in told.value.wrong
    right = dataclasses.replace(example, gives={"": "5.90 s"}, within="0.01 s")
    assert handbook({"jack_time": dataclasses.replace(what, examples=(right,))}, ())


@pytest.fixture(scope="module")
def made(tmp_path_factory) -> Path:
    """A folder that is no workshop, with the handbook written into it."""
    folder = tmp_path_factory.mktemp("desk")
    assert main(["--workshop", str(folder), "handbook"]) == 0
    return folder


def pages(folder: Path) -> list[str]:
    document = pypdfium2.PdfDocument((folder / "output/handbook/handbook.pdf").read_bytes())
    return [" ".join(page.get_textpage().get_text_range().split()) for page in document]


def outline(folder: Path) -> Iterator[str]:
    document = pypdfium2.PdfDocument((folder / "output/handbook/handbook.pdf").read_bytes())
    yield from (entry.get_title() for entry in document.get_toc())


def test_the_command_writes_text_and_pdf_and_nothing_else(made: Path) -> None:
    written = {f.relative_to(made).as_posix() for f in made.rglob("*") if f.is_file()}
    assert written == {"output/handbook/handbook.md", "output/handbook/handbook.pdf"}
    assert (made / HANDBOOK).read_text(encoding="utf-8") == TEXT


def test_the_pdf_reads_back_with_every_title(made: Path) -> None:
    whole, entries = " ".join(pages(made)), set(outline(made))
    marks = dict(re.findall(r"(?m)^::: working (\w+)\n\| (.*?) \|", TEXT.replace("\\", "")))
    for mark, title in marks.items():
        assert title in whole
        assert f"{mark} {title}" in entries
    assert set(marks.values()) == {what.title for what in ALL.values()} | set(table_names())


def test_every_page_is_a_page_of_the_handbook_and_none_is_a_work_sheet(made: Path) -> None:
    all_pages = pages(made)
    assert all("HANDBOOK" in page and f"of {len(all_pages)}" in page for page in all_pages)
    assert not any("Stopped" in page or "is in the register" in page for page in all_pages)
    assert not any("part none" in page or "revision none" in page for page in all_pages)
    assert draw_sheet(TEXT).boxes == ()


def test_a_long_table_names_its_columns_on_every_page(made: Path) -> None:
    rows_of = [page for page in pages(made) if len(re.findall(r"shear oil-free", page)) > 2]
    assert len(rows_of) > 1
    assert all("thread nut lubrication lower upper" in page for page in rows_of)


def test_made_again_it_is_the_same_bytes(made: Path) -> None:
    pdf = made / "output/handbook/handbook.pdf"
    first = pdf.read_bytes()
    assert main(["--workshop", str(made), "handbook"]) == 0
    assert pdf.read_bytes() == first


@pytest.mark.parametrize("name", ["output", "output/handbook"])
def test_a_file_in_the_way_is_a_finding_and_stays(tmp_path: Path, capsys, name: str) -> None:
    file = tmp_path / name
    file.parent.mkdir(exist_ok=True)
    file.write_text("mine", encoding="utf-8")
    assert main(["--workshop", str(tmp_path), "handbook"]) == 1
    told = capsys.readouterr().err
    assert "witnessmark handbook: file: " in told and "Right: " in told
    assert file.read_text(encoding="utf-8") == "mine"
    assert [f for f in tmp_path.rglob("*") if f.is_file()] == [file]


def test_a_folder_that_is_not_there_is_misuse(tmp_path: Path, capsys) -> None:
    assert main(["--workshop", str(tmp_path / "none"), "handbook"]) == 2
    assert "there is no folder" in capsys.readouterr().err
    assert not list(tmp_path.iterdir())
