"""Grids and strips, printed and read back: their boxes, their words, STOP on every side."""

from __future__ import annotations

import re
from itertools import combinations, product

import pytest

from generator.draw import Box, Drawn, draw_sheet
from generator.draw.pen import LEAST
from generator.findings import Refusal
from tests.draw.inspector import Rect, Seen, pages_of
from tests.draw.test_blocks import operation

SAYS = "Developed length in mm: thickness at the left. Tick the one used. At STOP tell the lead."


def grid(rows: int, columns: int, answer: str = "56.7", framed: tuple[int, int] = (1, 1)) -> str:
    """A grid whose row and column of those numbers, counted from 0, are the nominal's."""

    def cell(words: str, bold: bool) -> str:
        return f"**{words}**" if bold else words

    heads = [cell(f"3.{n}", n == framed[1]) for n in range(columns)]
    lines = [f"| thickness mm / radius mm | {' | '.join(heads)} |", "| --- " * (columns + 1) + "|"]
    for n in range(rows):
        cells = [cell(answer, (n, c) == framed) for c in range(columns)]
        lines.append(f"| {cell(f'0.9{n:02}', n == framed[0])} | {' | '.join(cells)} |")
    return "\n".join(["::: grid", SAYS, "", *lines, ":::", ""])


def printed(*blocks: str) -> tuple[Drawn, Seen]:
    drawn = draw_sheet(operation("work", *blocks))
    (page,) = pages_of(drawn.pdf)
    return drawn, page


def used(drawn: Drawn) -> list[Box]:
    return [box for box in drawn.boxes if box.row == "used"]


SIZES = [
    (5, 3, "56.7"),
    (11, 6, "104.93"),
    (2, 2, "7"),
    (1, 6, "56.7"),
    (11, 1, "−0.25"),
    (5, 6, "1104.93"),
]


@pytest.mark.parametrize(("rows", "columns", "answer"), SIZES)
def test_every_cell_has_its_box_and_the_map_says_which(
    rows: int, columns: int, answer: str
) -> None:
    drawn, page = printed(grid(rows, columns, answer))
    assert [box.meaning for box in used(drawn)] == [
        f"used 0.9{r:02} × 3.{c}" for r, c in product(range(rows), range(columns))
    ]
    for box in used(drawn):
        assert min(box.width, box.height) >= max(LEAST["check"]) >= 5
        assert [b for b in page.boxes if _apart(b, box) < 0.02] != []
    for one, other in combinations(page.boxes, 2):
        assert one.overlap(other) == 0
    for box, said in product(page.boxes, page.said):
        assert box.overlap(said.place) < 0.05, said


def _apart(one: Rect, other: Box) -> float:
    pairs = (
        (one.x, other.x),
        (one.y, other.y),
        (one.width, other.width),
        (one.height, other.height),
    )
    return max(abs(a - b) for a, b in pairs)


@pytest.mark.parametrize(("rows", "columns", "answer"), SIZES)
def test_a_box_lies_by_its_own_answer_row_and_column(rows: int, columns: int, answer: str) -> None:
    """The nearest answer of a box is one, and no two boxes have the same."""
    drawn, page = printed(grid(rows, columns, answer))
    answers = [said.place for said in page.said if said.text == answer]
    assert len(answers) == rows * columns
    nearest = [min(range(len(answers)), key=lambda n: _far(answers[n], box)) for box in used(drawn)]
    assert sorted(nearest) == list(range(rows * columns))
    for c in range(columns):
        (head,) = [said.place for said in page.said if said.text == f"3.{c}"]
        for box in used(drawn)[c::columns]:
            assert abs(head.x + head.width / 2 - box.x - box.width / 2) < 12
    for r in range(rows):
        (name,) = [said.place for said in page.said if said.text == f"0.9{r:02}"]
        for box in used(drawn)[r * columns : (r + 1) * columns]:
            assert abs(name.y + name.height / 2 - box.y - box.height / 2) < 6


def _far(answer: Rect, box: Box) -> float:
    across = abs(answer.x + answer.width / 2 - box.x - box.width / 2)
    return across + abs(answer.y + answer.height / 2 - box.y - box.height / 2)


def test_a_grid_says_stop_on_all_four_sides() -> None:
    drawn, page = printed(grid(5, 3))
    assert page.text.replace("\r\n", "").count("STOP") == 4 + SAYS.count("STOP")
    boxes, bars = used(drawn), [s.place for s in page.said if s.text and s.text in "STOP"]
    assert any(bar.x + bar.width < min(b.x for b in boxes) for bar in bars)
    assert any(bar.x > max(b.x + b.width for b in boxes) for bar in bars)
    assert any(bar.y + bar.height < min(b.y for b in boxes) for bar in bars)
    assert any(bar.y > max(b.y + b.height for b in boxes) for bar in bars)


def test_the_words_of_a_grid_stand_above_it_on_its_own_page_at_a_size_to_be_read() -> None:
    """Two grids that do not fit one page: each has its words with it."""
    steps = "::: steps\n| a | Go. |\n| --- | --- |\n" + "| b | Come. |\n" * 6 + ":::\n"
    drawn = draw_sheet(operation("work", steps, grid(8, 5, "104.93"), grid(9, 5, "104.93")))
    pages = pages_of(drawn.pdf)
    assert len(pages) > 1
    for number, page in enumerate(pages, start=1):
        words = [said for said in page.said if said.text.startswith("Developed length in mm")]
        tops = [
            box.y for box in used(drawn) if box.page == number and box.meaning == "used 0.900 × 3.0"
        ]
        assert len(words) == len(tops)
        for said, top in zip(words, tops, strict=True):
            assert said.place.y < top
            assert said.size >= 10


def test_a_grid_too_wide_for_the_page_is_refused_with_advice() -> None:
    with pytest.raises(Refusal, match=r"a grid is \d+ mm wide") as told:
        printed(grid(3, 6, "123456789"))
    assert "fewer columns" in told.value.right


@pytest.mark.parametrize("columns", [5, 11])
def test_the_words_of_a_strip_stand_above_it_whichever_way_it_is_read(columns: int) -> None:
    heads = " | ".join(f"0.9{n:02}" for n in range(columns))
    answers = " | ".join(f"1{n:02}.75" for n in range(columns))
    strip = f"::: strip\n{SAYS}\n\n| in | {heads} |\n{'| --- ' * (columns + 1)}|\n| out | {answers} |\n:::\n"
    drawn, page = printed(strip)
    assert len(used(drawn)) == columns
    (words,) = [said for said in page.said if said.text.startswith("Developed length in mm")]
    assert words.place.y < min(said.place.y for said in page.said if said.text == "0.900")


LONG = "least wrench setting, bound by lower torque of the table row lbf·in"


def wide_strip(answers: int, columns: int = 11) -> str:
    """Answers with long names that lead to their working, each again in its second unit."""
    heads = " | ".join(str(4 + 2 * n) for n in range(columns))
    lines = [f"| drag lbf·in | {heads} |", "| --- " * (columns + 1) + "|"]
    for k in range(answers):
        lines += [
            f"| [{name}](calculation-sheet.pdf#c7) | "
            + " | ".join(f"{k + 1}{n:02}.{unit}" for n in range(columns))
            + " |"
            for unit, name in enumerate((LONG, "the same in N·m"))
        ]
    return "\n".join(["::: strip", SAYS, "", *lines, ":::", ""])


def test_eleven_columns_of_four_answers_in_two_units_are_read_down() -> None:
    drawn, page = printed(wide_strip(4))
    assert [box.meaning for box in used(drawn)] == [f"used {4 + 2 * n}" for n in range(11)]
    for n, box in enumerate(used(drawn)):
        beside = " ".join(s.text for s in page.said if box.y <= s.place.y <= box.y + box.height)
        assert [f"{k}{n:02}.{unit}" for k in range(1, 5) for unit in (0, 1)] == beside.split()[1:]
    assert set(LONG.split()) <= set(page.text.split())  # no word is cut between its letters


def test_answers_that_no_page_holds_are_refused_with_their_operation_and_how_many_fit() -> None:
    with pytest.raises(Refusal, match=r"^operation 10: a table of 14 answers .* mm wide") as told:
        printed(wide_strip(7))
    fit = re.match(r"the first (\d+), and a table of their own", told.value.right)
    assert fit is not None
    assert 8 <= int(fit[1]) < 14


@pytest.mark.parametrize(
    "inside",
    [
        f"{SAYS}\n",
        f"| a | b |\n| --- | --- |\n| c | d |\n\n{SAYS}\n",
        f"{SAYS}\n\n{SAYS}\n\n| a | b |\n| --- | --- |\n| c | d |\n",
        f"{SAYS}\n\n| a | b |\n| --- | --- |\n",
    ],
)
def test_a_strip_or_a_grid_holds_one_paragraph_and_then_one_table(inside: str) -> None:
    for name in ("strip", "grid"):
        with pytest.raises(Refusal):
            printed(f"::: {name}\n{inside}:::\n")


def test_no_other_container_holds_words_above_its_rows() -> None:
    with pytest.raises(Refusal):
        printed(f"::: lookup\n{SAYS}\n\n| a | b |\n| --- | --- |\n| c | d |\n:::\n")
