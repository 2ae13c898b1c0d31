"""The dialect is strict: what the parser library mends in silence is refused here."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.draw import draw_sheet
from generator.draw.parse import Block, _by_library, _closing_lines, _of_usual_layout
from generator.draw.runs import Runs, _of_usual_form, _runs_by_library
from generator.findings import Refusal
from tests.draw.stress import stress_sheet

SAMPLE = (Path(__file__).parent / "sample.md").read_text(encoding="utf-8")


def with_block(block: str) -> str:
    """The sample with a block put in front of the first sign-off."""
    return SAMPLE.replace("::: sign done", f"{block}\n\n::: sign done", 1)


WRONG = [
    ("a container nobody knows", "::: stamp\ntext\n:::"),
    ("a container that is never closed", "::: warning\ntext"),
    ("a container in a container", "::: warning\n::: note\ntext\n:::\n:::"),
    ("a closing line that closes nothing", ":::"),
    (
        "a row with a cell too many",
        "::: state\n| start | cold |\n| --- | --- |\n| a | b | c |\n:::",
    ),
    ("a row with a cell too few", "::: state\n| start | cold |\n| --- | --- |\n| a |\n:::"),
    ("a table without its dashes", "::: state\n| start | cold |\n| a | b |\n:::"),
    ("a row that does not end", "::: state\n| start | cold |\n| --- | --- |\n| a | b\n:::"),
    ("words after the rows", "::: state\n| start | cold |\n| --- | --- |\nand more\n:::"),
    ("an empty container", "::: warning\n:::"),
    ("a table where words belong", "::: warning\n| a |\n| --- |\n:::"),
    ("words where a table belongs", "::: steps\nwords\n:::"),
    ("a strip that nobody marks", "::: strips\n| a | b |\n| --- | --- |\n:::"),
    ("a link to nowhere", "[5 mm](#c99)"),
    ("a link out of the sheet", "[5 mm](http://example.invalid)"),
    ("loose marks", "**never closed"),
    ("a figure nobody draws", "::: figure spaceship\n| a | b |\n| --- | --- |\n:::"),
    ("a heading too deep", "#### deep"),
    ("a sign nobody knows", "::: sign forged\n| done by | me |\n| --- | --- |\n:::"),
    ("a sign without a glyph", "snowman ☃"),
]


@pytest.mark.parametrize(("what", "block"), WRONG, ids=[what for what, _ in WRONG])
def test_refuses(what: str, block: str) -> None:
    with pytest.raises(Refusal) as told:
        draw_sheet(with_block(block))
    assert told.value.code in ("sheet", "glyph", "figure", "layout")
    assert told.value.wrong


def test_what_is_no_block_of_ours_is_text_or_refused() -> None:
    for block in ("<b>bold</b>", "```\ncode\n```", "> quote", "- item", "1. item", "![p](x.png)"):
        try:
            drawn = draw_sheet(with_block(block))
        except Refusal:
            continue
        assert len(drawn.boxes) == len(draw_sheet(SAMPLE).boxes)


def test_a_sheet_begins_with_its_frame() -> None:
    with pytest.raises(Refusal):
        draw_sheet("# Title\n\ntext\n")


@pytest.mark.parametrize("row", ["| serial | A-0042 |\n", "| hand | PORT |\n", "| fingerprint |"])
def test_a_frame_without_a_row_is_refused(row: str) -> None:
    start = SAMPLE.index(row)
    end = SAMPLE.index("\n", start) + 1
    with pytest.raises(Refusal):
        draw_sheet(SAMPLE[:start] + SAMPLE[end:])


def test_a_text_taller_than_a_page_is_refused_with_its_height() -> None:
    words = "word " * 4000
    with pytest.raises(Refusal, match="mm high"):
        draw_sheet(with_block(f"::: warning\n{words}\n:::"))


@pytest.mark.parametrize("seed", range(2, 14))
def test_random_sheets_draw_and_lose_no_box(seed: int) -> None:
    text = stress_sheet(seed, operations=25)
    drawn = draw_sheet(text)
    signs = sum(text.count(f"::: sign {kind}") for kind in ("done", "hold"))
    stamps = [b for b in drawn.boxes if b.kind == "stamp" and b.operation]
    points = text.count("| inspector | independent inspector |")
    witnesses = text.count("::: sign witness")
    assert len(stamps) == signs + 2 * points + 2 * witnesses


# What inline marks are made of; a short text of them is in the dialect, or ambiguous, or neither.
PIECES = (
    "**", "*", "\\", "[", "]", "(", ")", "#c1", "](#c1)", "](calculation-sheet.pdf#c2)", "c1", "a", "b ",
    "1", " ", ".", "°", "\\*", "\\[", "\\\\", "_", "!", "é", "\u00a0", ",", "[v](#c1)", "**b**", "<", "&", "`", "~", "\n",
)  # fmt: skip


def told(way: Callable[[str, int], Runs | None], words: str) -> Runs | str | None:
    try:
        return way(words, 1)
    except Refusal as refusal:
        return refusal.wrong


@settings(max_examples=1500, deadline=None)
@given(st.lists(st.sampled_from(PIECES), min_size=1, max_size=7).map("".join))
def test_marks_in_their_usual_forms_are_read_as_the_library_reads_them(words: str) -> None:
    quick = told(_of_usual_form, words)
    assert quick is None or quick == told(_runs_by_library, words)


@pytest.mark.parametrize(
    "words",
    [
        "a",
        "**A** b",
        "x [56.7 lbf·in](#c3) **NOMINAL** y",
        "5 \\* 3",
        "[c3](calculation-sheet.pdf#c3)",
    ],
)
def test_the_usual_forms_need_no_library(words: str) -> None:
    assert _of_usual_form(words, 1) == _runs_by_library(words, 1)


SAMPLES = sorted((Path(__file__).parents[2] / "output" / "sample").rglob("*.md"))
LINES = (
    "# Title", "## 10 work", "### small", "#no", "# a #", "words", "**A** words", "- words", "1. x", "    deep",
    "> x", "---", "===", "", "", "", "| a | b |", "| --- | --- |", "| :-- | --: |", "| c | d |", "| e |", "|", "a | b",
    "| f \\| g | h |", "::: note", "::: facts", "::: strip", "::: checklist", ":::", ":::", " ", " words", "words ", "a\\",
)  # fmt: skip


def laid_out(lines: list[str], quick: bool) -> list[Block] | str | None:
    try:
        closes = _closing_lines(lines)
        if quick:
            return _of_usual_layout(lines, closes, 0, len(lines))
        return list(_by_library(lines, closes))
    except Refusal as refusal:
        return refusal.wrong


@settings(max_examples=1500, deadline=None)
@given(st.lists(st.sampled_from(LINES), min_size=1, max_size=9))
def test_lines_in_their_usual_layout_are_read_as_the_library_reads_them(lines: list[str]) -> None:
    quick = laid_out(lines, True)
    assert quick is None or quick == laid_out(lines, False)


@pytest.mark.parametrize("file", SAMPLES, ids=lambda file: file.stem)
def test_a_composed_sheet_needs_no_library_and_is_read_as_it_reads(file: Path) -> None:
    lines = file.read_text(encoding="utf-8").split("\n")
    quick = laid_out(lines, True)
    assert quick is not None
    assert quick == laid_out(lines, False)
