"""Pages that are wrong on purpose, one way each, in; the check that must see it sees it, out.

They are drawn with the plain library, so that nothing of our own draws keeps them right.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from io import BytesIO

import pytest
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from generator.draw import draw_sheet
from generator.draw.pen import Box
from tests.draw import checks
from tests.draw.inspector import Seen, pages_of
from tests.draw.stress import stress_sheet

A4 = (210.0, 297.0)
FACE = "Helvetica"
Draw = Callable[[Canvas], object]


def page(*draws: Draw) -> list[Seen]:
    """One page in millimetres from the top left corner, which says that it is one of one."""
    target = BytesIO()
    canvas = Canvas(target, pagesize=(A4[0] * mm, A4[1] * mm))
    words("sheet 1 of 1", 120, 10)(canvas)
    for draw in draws:
        draw(canvas)
    canvas.save()
    return pages_of(target.getvalue())


def words(text: str, x: float, y: float, size: float = 11.0) -> Draw:
    def draw(canvas: Canvas) -> None:
        canvas.setFont(FACE, size)
        canvas.drawString(x * mm, (A4[1] - y) * mm, text)

    return draw


def box(x: float, y: float, width: float, height: float) -> Draw:
    def draw(canvas: Canvas) -> None:
        canvas.setLineWidth(0.25 * mm)
        canvas.rect(x * mm, (A4[1] - y - height) * mm, width * mm, height * mm)

    return draw


def mapped(x: float, y: float, width: float, height: float, kind: str = "write") -> Box:
    return Box(1, kind, "10", "thickness", x, y, width, height, "thickness, mm")


SOUND = [words("MEASURE the sheet.", 40, 60), box(40, 80, 30, 9)]


def test_a_sound_page_passes_every_check() -> None:
    pages = page(*SOUND)
    assert [*checks.page_counts(pages, 1)] == []
    assert [*checks.outside_margins(pages)] == []
    assert [*checks.small_letters(pages)] == []
    assert [*checks.text_on_text(pages)] == []
    assert [*checks.text_on_lines(pages)] == []
    assert [*checks.boxes_not_mapped(pages, [mapped(40, 80, 30, 9)])] == []
    assert [*checks.small_boxes([mapped(40, 80, 30, 9)])] == []
    assert [*checks.boxes_not_free(pages)] == []


def test_a_page_too_few_and_one_that_does_not_count_are_seen() -> None:
    assert [*checks.page_counts(page(*SOUND), 2)] == ["1 pages, not 2"]
    said = replace(page(*SOUND)[0], text="sheet 1 of 3")
    assert [*checks.page_counts([said], 1)] == ["page 1 does not say so"]


@pytest.mark.parametrize(
    ("text", "x", "y", "says"),
    [
        ("in the punch holes", 12, 60, "margin"),
        ("over the right edge of the page", 150, 60, "margin"),
        ("under a code", 172, 12, "corner"),
        ("under a code", 172, 290, "corner"),
    ],
)
def test_text_in_a_margin_or_a_corner_is_seen(text: str, x: float, y: float, says: str) -> None:
    (wrong,) = checks.outside_margins(page(*SOUND, words(text, x, y)))
    assert says in wrong


def test_a_page_of_a_pack_that_counts_wrong_is_seen() -> None:
    said = replace(page(*SOUND)[0], text="sheet 7 of 12")
    assert [*checks.page_counts([said], 1, first=7, of=12)] == []
    assert [*checks.page_counts([said], 1, first=6, of=12)] == ["page 6 does not say so"]
    assert [*checks.page_counts([said], 1, first=7, of=13)] == ["page 7 does not say so"]


def test_letters_that_are_too_small_are_seen() -> None:
    (wrong,) = checks.small_letters(page(*SOUND, words("who can read this", 40, 100, 6.0)))
    assert wrong == "'who can read this' has 6.0 points"


def test_text_on_text_is_seen() -> None:
    over = page(*SOUND, words("RECORD every value.", 42, 61.0))
    assert [*checks.text_on_text(over)]


@pytest.mark.parametrize(
    "boxes",
    [
        [],
        [mapped(40, 80, 30, 9), mapped(40, 100, 30, 9)],
        [mapped(40.1, 80, 30, 9)],
        [mapped(40, 80, 30.1, 9)],
        [replace(mapped(40, 80, 30, 9), page=2)],
    ],
)
def test_a_map_that_is_not_what_the_strokes_are_is_seen(boxes: list[Box]) -> None:
    assert [*checks.boxes_not_mapped(page(*SOUND), boxes)]


@pytest.mark.parametrize(
    ("kind", "width", "height"),
    [("write", 24.0, 9.0), ("write", 30.0, 8.0), ("stamp", 18.0, 20.0), ("check", 5.0, 5.5),
     ("clock", 10.0, 9.0), ("date", 25.0, 8.0)],
)  # fmt: skip
def test_a_box_too_small_for_its_kind_is_seen(kind: str, width: float, height: float) -> None:
    assert [*checks.small_boxes([mapped(40, 80, width, height, kind)])]


@pytest.mark.parametrize(
    "through",
    [
        lambda canvas: canvas.line(45 * mm, 236 * mm, 45 * mm, 240 * mm),  # upright
        lambda canvas: canvas.line(30 * mm, 238 * mm, 60 * mm, 238 * mm),  # struck out
        lambda canvas: canvas.line(42 * mm, 230 * mm, 50 * mm, 246 * mm),
        lambda canvas: canvas.circle(45 * mm, 238 * mm, 3 * mm),
        lambda canvas: canvas.rect(30 * mm, 238 * mm, 60 * mm, 20 * mm),  # the foot of a frame
    ],
    ids=["upright", "struck out", "aslant", "round", "frame"],
)
def test_a_line_through_words_is_seen(through: Draw) -> None:
    (wrong,) = set(checks.text_on_lines(page(*SOUND, through)))
    assert wrong == "page 1: a line runs through 'MEASURE the sheet.'"


@pytest.mark.parametrize(
    "beside",
    [
        lambda canvas: canvas.line(38 * mm, 236.4 * mm, 90 * mm, 236.4 * mm),  # a rule below
        lambda canvas: canvas.rect(38 * mm, 234 * mm, 60 * mm, 8 * mm),  # a frame round them
        lambda canvas: canvas.circle(55 * mm, 238 * mm, 25 * mm),
    ],
    ids=["rule", "frame", "round"],
)
def test_a_line_beside_words_is_none_through_them(beside: Draw) -> None:
    assert [*checks.text_on_lines(page(*SOUND, beside))] == []


def test_what_a_tile_does_not_show_of_a_line_runs_through_nothing() -> None:
    def clipped(canvas: Canvas) -> None:
        edge = canvas.beginPath()
        edge.rect(100 * mm, 200 * mm, 50 * mm, 60 * mm)
        canvas.saveState()
        canvas.clipPath(edge, stroke=0, fill=0)
        canvas.line(30 * mm, 238 * mm, 140 * mm, 238 * mm)
        canvas.restoreState()

    (seen,) = page(*SOUND, clipped)
    assert [*checks.text_on_lines([seen])] == []
    (line,) = (s for s in seen.strokes if abs(s.y1 - 59) + abs(s.y2 - 59) < 0.01)
    assert (line.x1, line.x2) == (pytest.approx(100, abs=0.1), pytest.approx(140, abs=0.1))


def test_boxes_on_each_other_and_print_in_a_box_are_seen() -> None:
    assert [*checks.boxes_not_free(page(*SOUND, box(60, 84, 30, 9)))]
    assert [*checks.boxes_not_free(page(*SOUND, words("0.914", 42, 86)))]
    assert [*checks.boxes_not_free(page(*SOUND, words("mm", 62, 86)))] == []  # its unit


SHEET = stress_sheet(operations=6)


@pytest.fixture(scope="module")
def printed() -> list[Seen]:
    return pages_of(draw_sheet(SHEET).pdf)


def test_a_sheet_as_drawn_loses_no_word_and_parts_no_caution(printed) -> None:
    assert [*checks.lost_words(printed, SHEET)] == []
    assert [*checks.cautions_apart(printed, SHEET)] == []
    assert [*checks.cautions_left(printed, SHEET)] == []


def test_a_word_that_no_page_has_is_seen(printed) -> None:
    more = SHEET.replace("\n## ", "\n## Unseen words\n\nquixotic\n\n## ", 1)
    assert "'quixotic' is lost" in [*checks.lost_words(printed, more)]
    less = [replace(each, text="") for each in printed[:1]] + printed[1:]
    assert [*checks.lost_words(less, SHEET)]


def test_a_sign_that_the_face_lacks_is_seen() -> None:
    """Helvetica has no Ω: the library draws something else, and the text of the page says so."""
    drawn = page(words("\N{GREEK CAPITAL LETTER OMEGA}mega spring", 40, 60))
    sheet = "::: frame\n:::\n\n# Title\n\n\N{GREEK CAPITAL LETTER OMEGA}mega spring\n"
    assert [*checks.lost_words(drawn, sheet.replace("# Title\n\n", ""))]


def test_a_caution_on_another_page_than_its_step_is_seen(printed) -> None:
    """A page is cut in two right behind each of its warnings, as a careless break would."""
    blank = [replace(each, text="") for each in printed]
    assert [*checks.cautions_apart(blank, SHEET)]
    assert [*checks.cautions_left(blank, SHEET)]
    bodies = re.split(r"(?m)^## \d+ [a-z]+.*$", SHEET)[1:]
    found = (
        (number, alert[1])
        for (number, _), body in zip(checks.instructions(SHEET), bodies, strict=True)
        if (alert := re.search(r"(?s)::: (?:warning|caution)\n(.*?)\n:::", body.split("\n# ")[0]))
    )
    operation, words_of_it = next(found)
    start = " ".join(words_of_it.split()[:4])
    one = next(i for i, each in enumerate(printed) if start in " ".join(each.text.split()))
    text = " ".join(printed[one].text.split())
    at = text.index(start) + len(start) + 30
    cut = [*printed[:one], replace(printed[one], text=text[:at]),
           replace(printed[one], text=text[at:]), *printed[one + 1 :]]  # fmt: skip
    assert [each for each in checks.cautions_apart(cut, SHEET) if f"operation {operation}:" in each]
