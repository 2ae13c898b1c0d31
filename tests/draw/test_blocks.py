"""Each kind of block, printed and read back: its boxes by kind, and what a new page says again."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest

from generator.draw import Box, draw_sheet
from generator.draw.forms import FORMS
from generator.findings import Refusal
from tests.draw.inspector import pages_of

SAMPLE = (Path(__file__).parent / "sample.md").read_text(encoding="utf-8")
FRAME = SAMPLE.partition("\n:::\n")[0] + "\n:::\n\n# Main leg retraction\n\n"
DONE = "::: sign done\n| done by | volunteer |\n| --- | --- |\n:::\n"


def rows(opening: str, *lines: str) -> str:
    dashes = "| --- " * (lines[0].count("|") - 1) + "|"
    return "\n".join([opening, lines[0], dashes, *lines[1:], ":::", ""])


def sections(*blocks: str) -> str:
    return FRAME + "## Front\n\n" + "\n".join(blocks)


def operation(kind: str, *blocks: str) -> str:
    return f"{FRAME}# Operations\n\n## 10 {kind}\n\nCHECK it.\n\n" + "\n".join(blocks)


def readings(*lines: str) -> str:
    return rows("::: readings", "| reading | lower | upper | unit | times |", *lines)


def boxes(sheet: str) -> list[Box]:
    """All boxes but those of the foot, which stand on every page."""
    return [box for box in draw_sheet(sheet).boxes if box.row != "stopped here"]


def test_the_sample_holds_every_block_that_there_is() -> None:
    used = set(re.findall(r"^::: ([a-z-]+)", SAMPLE, re.MULTILINE))
    assert used == set(FORMS)


MEANT = [
    (sections(rows("::: references", "| T6-P-0405 | jack |")), {"write": 1, "check": 1}),
    (sections(rows("::: checklist", "| lamp |", "| rope |")), {"check": 2}),
    (sections(rows("::: approvals", "| prepared | LQ1 |")), {"stamp": 1, "date": 1}),
    (operation("work", DONE), {"check": 2, "stamp": 1, "date": 1, "write": 1}),
    (operation("work", rows("::: steps", "| a | Go. |", "| b | Come. |")), {"check": 4}),
    (
        operation("wait", rows("::: clock", "| start | |", "| end | + 20 min |")),
        {"check": 2, "clock": 6},
    ),
    (
        operation(
            "wait",
            rows(
                "::: clock days",
                "| start | |",
                "| earliest end | + 24 h |",
                "| taken out | not before: earliest end |",
            ),
        ),
        {"check": 2, "date": 4, "clock": 8},
    ),
    (
        operation("measure", readings("| angle | 1 | 2 | ° | 1 |", "| sound | - | - | tick | 1 |")),
        {"check": 4, "write": 1},
    ),
    (operation("measure", readings("| gap | - | - | mm | 7 |")), {"check": 2, "write": 7}),
    (operation("work", rows("::: numbers", "| gauge no. |")), {"check": 2, "write": 1}),
    (
        operation("work", rows("::: strip", "| in | 1 | **2** | 3 |", "| out | 4 | 5 | 6 |")),
        {"check": 5},
    ),
    (
        operation(
            "work", rows("::: grid", "| a / b | 1 | **2** |", "| 4 | 5 | 6 |", "| 7 | 8 | 9 |")
        ),
        {"check": 6},
    ),
    (
        operation("work", rows("::: lookup", "| in | out |", "| 1 | 4 |", "| **2** | 5 |")),
        {"check": 4},
    ),
    (
        operation("hold", rows("::: sign hold", "| released by | inspector |")),
        {"stamp": 1, "date": 1, "write": 1},
    ),
    (
        operation("witness", rows("::: sign witness", "| notice | 3 days |", "| by | inspector |")),
        {"date": 3, "write": 1, "check": 2, "stamp": 2},
    ),
    (
        operation("independent", rows("::: sign independent", "| pins | first | second |")),
        {"stamp": 2, "date": 2},
    ),
]


@pytest.mark.parametrize(("sheet", "kinds"), MEANT)
def test_a_block_has_the_boxes_that_it_is_for(sheet: str, kinds: dict[str, int]) -> None:
    assert Counter(box.kind for box in boxes(sheet)) == kinds


def test_no_hold_has_a_box_for_the_operator() -> None:
    said = {
        box.meaning
        for box in boxes(operation("hold", rows("::: sign hold", "| released by | inspector |")))
    }
    assert said == {"released by inspector stamp", "released by inspector date", "slip no."}


@pytest.mark.parametrize("blocks", [(), (DONE,), (rows("::: sign hold", "| by | me |"), DONE)])
def test_a_hold_without_its_release_or_with_an_operators_is_refused(blocks: tuple[str]) -> None:
    with pytest.raises(Refusal):
        draw_sheet(operation("hold", *blocks))


def test_boxes_taken_over_to_a_new_page_are_named_again() -> None:
    sheet = operation("measure", readings("| depth of groove | 1.25 | 1.50 | mm | 99 |"), DONE)
    drawn = draw_sheet(sheet)
    pages = pages_of(drawn.pdf)
    assert len(pages) > 1
    for page in pages:
        assert "depth of groove" in page.text
        assert "1.25" in page.text
    assert Counter(box.row for box in drawn.boxes)["depth of groove"] == 99


def test_a_list_longer_than_a_page_goes_on_over_the_page() -> None:
    tools = [
        f"| tool {n}, with a name that is too long for half the width of a page of paper |"
        for n in range(1, 61)
    ]
    drawn = draw_sheet(sections(rows("::: checklist", *tools)))
    pages = pages_of(drawn.pdf)
    assert len(pages) > 1
    together = "".join(page.text for page in pages)
    assert [n for n in range(1, 61) if f"tool {n}," not in together] == []


def test_the_operator_signs_above_what_the_witness_fills_in() -> None:
    notice = rows("::: sign witness", "| notice | 3 days |", "| by | inspector |")
    found = boxes(operation("witness", notice, DONE))
    done = max(box.y + box.height for box in found if box.row == "sign done")
    assert done < min(box.y for box in found if box.row in ("notice", "sign witness"))


def test_limits_stand_with_their_points_one_below_the_other() -> None:
    sheet = operation(
        "measure", readings("| a | 9.5 | 10 | mm | 1 |", "| b | 120.25 | 130 | mm | 1 |")
    )
    page = pages_of(draw_sheet(sheet).pdf)[0]
    figure = {said.text: said.place for said in page.said if said.text in ("9.5", "120.25")}
    letter = figure["120.25"].width / 6
    points = (figure["9.5"].x + 1.5 * letter, figure["120.25"].x + 3.5 * letter)
    assert abs(points[0] - points[1]) < 0.35


def test_a_kind_word_ends_before_the_words_beside_it() -> None:
    page = pages_of(draw_sheet(operation("subcontract", DONE)).pdf)[0]
    kind = next(said for said in page.said if said.text == "subcontract")
    step = next(said for said in page.said if said.text.startswith("CHECK it"))
    assert kind.place.x + kind.place.width < step.place.x - 1.0


def test_a_sign_that_no_face_has_is_drawn_and_not_left_out() -> None:
    plain = draw_sheet(operation("work", "Drill  6.5 mm."))
    signed = draw_sheet(operation("work", "Drill ⌀ 6.5 mm at ∠ 30° ⟂ □ ■ ▶ 5′ 6″ ∛ 8."))
    assert len(signed.pdf) > len(plain.pdf)
    assert "6.5" in pages_of(signed.pdf)[0].text


def test_a_draft_says_so_large_on_every_page_and_is_never_called_controlled() -> None:
    draft = SAMPLE.replace(
        "| serial | A-0042 |", "| serial | DRAFT |\n| draft | DRAFT - NOT FOR WORK |"
    )
    for page in pages_of(draw_sheet(draft).pdf):
        large = [said for said in page.said if "DRAFT - NOT FOR WORK" in said.text]
        assert large
        assert max(said.size for said in large) >= 14
        assert "A draft is never worked to." in page.text
        assert "Uncontrolled unless" not in page.text


def test_numbers_of_a_table_stand_with_their_points_one_below_the_other() -> None:
    head = "| no. | number | value | source | note |"
    told = ("| g1 | a | 9.5 mm | judgement | - |", "| g2 | b | 120.25 mm | judgement | - |")
    page = pages_of(draw_sheet(sections(rows("::: givens", head, *told))).pdf)[0]
    placed = {s.text.split()[0]: s.place for s in page.said if s.text[:3] in ("9.5", "120")}
    # Six signs of one width stand in "120.25"; the last box ends with the unit or with the digit.
    letter = 10.5 * 0.6 * 25.4 / 72
    assert abs((placed["9.5"].x + letter) - (placed["120.25"].x + 3 * letter)) < 0.35


def test_a_list_of_numbers_in_a_column_of_values_is_no_number() -> None:
    head = "| no. | number | value |"
    told = ("| c1 | order | 1 13 7 19 |", "| c2 | length | 120.25 mm |")
    page = pages_of(draw_sheet(sections(rows("::: results", head, *told))).pdf)[0]
    assert any(said.text.startswith("1 13 7 19") for said in page.said)


def test_what_stands_behind_the_underscore_of_a_symbol_is_a_subscript() -> None:
    line = rows("::: lines c1", "| T\\_f final torque | T\\_f · L / rivet\\_grip |")
    page = pages_of(draw_sheet(sections(line)).pdf)[0]
    low = [said for said in page.said if said.text.startswith("f") and said.size < 8]
    assert low
    assert "rivet_grip" in page.text
    assert "T_f" not in page.text
