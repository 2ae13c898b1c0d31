"""Whatever decides a print is in the sums; and a sum that differs draws again."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import pytest

import generator
from generator.library import deciders
from generator.library.deciders import lists_sum, program_sum
from tests.library.looking import ROOT, changed, drafts, process_file, run, said


@pytest.fixture
def program(tmp_path, monkeypatch) -> Path:
    """A copy of the program's files, a font and a library, which the sums are taken of."""
    leave = shutil.ignore_patterns("__pycache__")
    shutil.copytree(ROOT / "generator", tmp_path / "house" / "generator", ignore=leave)
    shutil.copytree(ROOT / "schema", tmp_path / "house" / "schema", ignore=leave)
    (tmp_path / "font.ttf").write_bytes(b"a font")
    library = tmp_path / "site" / "reportlab-1.0.dist-info"
    library.mkdir(parents=True)
    (library / "RECORD").write_text("reportlab/__init__.py,sha256=abc,12\n")
    monkeypatch.setattr(deciders, "HERE", tmp_path / "house" / "generator")
    monkeypatch.setattr(deciders, "_in_package", lambda *_: str(tmp_path / "font.ttf"))
    monkeypatch.setattr(sys, "path", [*sys.path, str(tmp_path / "site")])
    return tmp_path


@pytest.mark.parametrize(
    "file",
    [
        "house/generator/compose.py",
        "house/generator/__main__.py",
        "house/generator/draw/blocks/strips.py",
        "house/generator/templates/traveller.md.j2",
        "house/generator/tables/torque.yaml",
        "house/schema/process.yaml",
        "font.ttf",
        "site/reportlab-1.0.dist-info/RECORD",
    ],
)
def test_every_file_of_the_program_decides(program, file) -> None:
    before = program_sum()
    assert program_sum() == before
    with (program / file).open("ab") as opened:
        opened.write(b"\n")
    assert program_sum() != before


def test_a_new_file_a_lost_one_and_another_version_decide(program, monkeypatch) -> None:
    seen = [program_sum()]
    (program / "house" / "generator" / "calculations" / "own.py").write_text("")
    seen.append(program_sum())
    (program / "house" / "generator" / "tables" / "torque.yaml").unlink()
    seen.append(program_sum())
    (program / "site" / "reportlab-1.0.dist-info").rename(program / "site/reportlab-1.1.dist-info")
    seen.append(program_sum())
    monkeypatch.setattr(sys, "version", "3.99")
    seen.append(program_sum())
    monkeypatch.setenv("RL_useA85", "1")
    seen.append(program_sum())
    assert len(set(seen)) == len(seen)


def test_a_time_of_a_file_decides_nothing(program) -> None:
    before = program_sum()
    (program / "house" / "generator" / "compose.py").touch()
    assert program_sum() == before


def test_the_library_that_draws_and_the_faces_are_found() -> None:
    """The sums are of something: without a place the font would count as missing for ever."""
    names = [name for name, _ in deciders._installed()]
    for library in ("reportlab", "pyyaml", "cerberus", "jinja2", "markdown_it_py", "fontpkg_fira"):
        assert any(name.startswith(library) for name in names)
    for package, name in deciders.FILES.values():
        assert Path(deciders._in_package(package, name)).is_file()


LISTS = ("workshop", "stamps", "instruments")


@pytest.mark.parametrize("name", LISTS)
def test_a_changed_list_draws_all_again(shop, capsys, name) -> None:
    assert run(shop, "draft", "--all") == 0
    with (shop / "processes" / "workshop" / f"{name}.yaml").open("a") as opened:
        opened.write("\n")
    assert said(capsys, shop, "draft", "--all")[1].count("PDFs") == 6
    assert said(capsys, shop, "draft", "--all")[1] == "0 drawn, 6 unchanged\n"


OWN = """rows:
  - {thread: 2 BA, nut: tension, lubrication: oil-free, lower: 18 lbf·in, upper: 22 lbf·in, source: LQ-T-03 issue A}
"""


def test_lists_that_come_and_own_tables_decide(shop) -> None:
    seen = [lists_sum(shop)]
    tables = shop / "processes" / "workshop" / "tables"
    tables.mkdir()
    (tables / "torque.yaml").write_text(OWN, encoding="utf-8")
    seen.append(lists_sum(shop))
    (tables / "torque.yaml").write_text(OWN.replace("22", "23"), encoding="utf-8")
    seen.append(lists_sum(shop))
    (tables / "torque.yaml").rename(tables / "nuts.yaml")
    seen.append(lists_sum(shop))
    (tables.parent / "materials.yaml").write_text("materials: []\n")
    seen.append(lists_sum(shop))
    assert len(set(seen)) == len(seen)


def test_another_program_draws_all_again_and_checks_all_again(shop, capsys, monkeypatch) -> None:
    assert run(shop, "draft", "--all") == 0
    before = drafts(shop)
    for room in (
        "generator.library.deciders",
        "generator.library.survey",
        "generator.commands.draft",
    ):
        monkeypatch.setattr(f"{room}.program_sum", lambda: "another")
    assert said(capsys, shop, "draft", "--all")[1].count("PDFs") == 6
    assert drafts(shop) == before
    assert said(capsys, shop, "draft", "--all")[1] == "0 drawn, 6 unchanged\n"


def test_options_decide(shop, capsys) -> None:
    number = ("draft", "T6-P-0701")
    assert run(shop, *number) == 0
    undated = drafts(shop)
    assert run(shop, *number, "--on", "2026-11-25") == 0
    dated = drafts(shop)
    assert dated != undated
    assert (
        said(capsys, shop, *number, "--on", "2026-11-25")[1]
        == "./output/draft/T6-P-0701 unchanged\n"
    )
    assert run(shop, *number) == 0
    assert drafts(shop) == undated
    assert run(shop, *number, "--only", "traveller") == 0
    assert said(capsys, shop, *number)[1] == "./output/draft/T6-P-0701 unchanged\n"
    assert said(capsys, shop, *number, "--only", "traveller")[1].endswith("-traveller unchanged\n")


VALUES = """process: T6-P-0701
part serial: "0001"
values:
  thickness: {is: 0.920 mm, from: "A-0007 operation 10, LQ14"}
"""


def test_values_of_a_part_decide(shop, capsys) -> None:
    """The same file of values again draws nothing; another value, another place or none does."""
    old = "    is: 0.914 mm\n    range: 0.874 to 0.954 mm\n"
    new = "    with the part: yes\n    example: 0.914 mm\n    range: 0.874 to 0.954 mm\n"
    changed(process_file(shop, 1), old, new)
    values = shop / "values.yaml"
    values.write_text(VALUES, encoding="utf-8")
    words = ("draft", "T6-P-0701", "--given", str(values))
    unchanged = "./output/draft/T6-P-0701 unchanged\n"
    assert run(shop, *words) == 0
    first = drafts(shop)
    assert b"A-0007 operation 10" in first["T6-P-0701/traveller.md"]
    assert said(capsys, shop, *words)[1] == unchanged
    values.write_text(VALUES.replace("0.920", "0.921"), encoding="utf-8")
    assert said(capsys, shop, *words)[1] != unchanged
    assert drafts(shop) != first
    assert said(capsys, shop, "draft", "T6-P-0701")[1] != unchanged
    assert b"EXAMPLE" in drafts(shop)["T6-P-0701/traveller.md"]
    values.write_text(VALUES, encoding="utf-8")
    assert run(shop, *words) == 0
    assert drafts(shop) == first


def test_a_byte_of_a_process_draws_it_again_and_no_other(shop, capsys) -> None:
    assert run(shop, "draft", "--all") == 0
    with process_file(shop, 2).open("a") as opened:
        opened.write("\n")
    told = said(capsys, shop, "draft", "--all")[1]
    assert told == "./output/draft/T6-P-0702: 14 PDFs\n1 drawn, 5 unchanged\n"


def test_a_program_that_cannot_be_summed_is_never_the_same(program, monkeypatch) -> None:
    monkeypatch.setattr(deciders, "HERE", program / "archive.zip" / "generator")
    assert program_sum() != program_sum()


def test_the_code_that_is_summed_is_that_of_the_whole_house():
    assert [str(deciders.HERE)] == list(generator.__path__)
