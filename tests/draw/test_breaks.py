"""Two hundred random sheets, printed and read back: no word and no box is lost, pages end where
they may."""

from __future__ import annotations

import re
from collections import Counter
from functools import cache
from itertools import pairwise

import pytest

from generator.draw import Drawn, draw_sheet
from generator.draw.frame import page_frame
from generator.draw.pages import Fragment, paginate
from generator.draw.paper import paper_named
from generator.draw.sections import units_of
from generator.draw.sheet import read_sheet
from tests.draw.inspector import Seen, pages_of
from tests.draw.planned import Plan, Planned, planned


# A seeded part in `make test`, as many again in `make prove`.
@pytest.fixture(params=[range(100), pytest.param(range(100, 200), marks=pytest.mark.prove)])
def seeds(request: pytest.FixtureRequest) -> range:
    return request.param


WORD = re.compile(r"k\d+x")
Place = tuple[float, float, float, float]


@cache
def printed(seed: int) -> tuple[Plan, Drawn, list[Seen]]:
    plan = planned(seed)
    drawn = draw_sheet(plan.markdown)
    return plan, drawn, pages_of(drawn.pdf)


@cache
def page_of_each_word(seed: int) -> dict[str, list[int]]:
    found: dict[str, list[int]] = {}
    for number, page in enumerate(printed(seed)[2], start=1):
        for word in WORD.findall(page.text):
            found.setdefault(word, []).append(number)
    return found


def test_every_word_stands_once_and_what_a_new_page_repeats_at_least_once(seeds: range) -> None:
    for seed in seeds:
        plan, where = printed(seed)[0], page_of_each_word(seed)
        assert [w for w in plan.once if len(where.get(w, ())) != 1] == [], seed
        assert [w for w in plan.again if w not in where] == [], seed
        assert set(where) == {*plan.once, *plan.again}, seed


def test_every_operation_has_all_its_boxes(seeds: range) -> None:
    for seed in seeds:
        plan, drawn, _ = printed(seed)
        found = Counter(box.operation for box in drawn.boxes if box.operation)
        assert found == {one.number: one.boxes for one in plan.operations}, seed


def test_the_pen_meets_every_mapped_box_in_the_finished_print(seeds: range) -> None:
    for seed in seeds:
        _, drawn, pages = printed(seed)
        for number, page in enumerate(pages, start=1):
            mapped = sorted((b.x, b.y, b.width, b.height) for b in drawn.boxes if b.page == number)
            found = sorted((b.x, b.y, b.width, b.height) for b in page.boxes)
            assert same_places(mapped, found), (seed, number)


def same_places(mapped: list[Place], found: list[Place]) -> bool:
    """Whether two lists of rectangles are the same to less than a tenth of a millimetre, in any order."""
    left = Counter(tuple(round(v * 10) for v in place) for place in found)
    for place in mapped:
        near = [
            key
            for key in left
            if all(abs(v * 10 - k) < 0.7 for v, k in zip(place, key, strict=True))
        ]
        if not near:
            return False
        left[near[0]] -= 1
        left += Counter()
    return not left


def test_a_warning_is_never_parted_from_its_step(seeds: range) -> None:
    for seed in seeds:
        plan, where = printed(seed)[0], page_of_each_word(seed)
        for one in plan.operations:
            assert len({where[word][0] for word in [*one.warning, *one.instruction]}) == 1, seed


def test_a_heading_is_never_parted_from_what_follows_it(seeds: range) -> None:
    for seed in seeds:
        plan, where = printed(seed)[0], page_of_each_word(seed)
        for heading, first in plan.sections:
            assert where[heading][0] == where[first][0], (seed, heading)


def pages_with(seed: int, one: Planned) -> list[int]:
    """The pages on which an operation has its first words or any of its boxes."""
    boxed = {box.page for box in printed(seed)[1].boxes if box.operation == one.number}
    return sorted(boxed | {page_of_each_word(seed)[one.instruction[0]][0]})


def test_a_parted_operation_says_so_at_both_ends(seeds: range) -> None:
    parted = 0
    for seed in seeds:
        plan, _, pages = printed(seed)
        for one in plan.operations:
            first, last = pages_with(seed, one)[0], pages_with(seed, one)[-1]
            for number, page in enumerate(pages, start=1):
                said = bool(re.search(rf"\b{one.number} continued", page.text))
                assert said == (first < number <= last), (seed, one.number, number)
                overleaf = bool(
                    re.search(rf"\b{one.number} continues on the next sheet", page.text)
                )
                assert overleaf == (first <= number < last), (seed, one.number, number)
            parted += last > first
    assert parted > 50  # enough to mean something


def rows_by_page(drawn: Drawn, one: Planned) -> dict[int, int]:
    """How many rows of readings of an operation stand on each page."""
    rows = {
        (box.page, round(box.y + box.height))
        for box in drawn.boxes
        if box.operation == one.number and box.row in one.readings
    }
    return Counter(page for page, _ in rows)


def test_two_rows_stay_at_each_end_of_a_parted_operation(seeds: range) -> None:
    for seed in seeds:
        plan, drawn, _ = printed(seed)
        for one in plan.operations:
            rows = rows_by_page(drawn, one)
            if len(rows) > 1:
                assert min(rows.values()) >= 2, (seed, one.number, rows)


def test_the_sign_off_stands_with_the_last_rows(seeds: range) -> None:
    for seed in seeds:
        plan, drawn, _ = printed(seed)
        for one in plan.operations:
            boxes = [box for box in drawn.boxes if box.operation == one.number]
            signed = {box.page for box in boxes if box.row in ("sign done", "sign hold")}
            assert signed <= {max(box.page for box in boxes)}, (seed, one.number)


def laid_out(seed: int) -> tuple[list[list[Fragment]], float]:
    sheet = read_sheet(printed(seed)[0].markdown)
    paper = paper_named(sheet.frame["paper"])
    frame = page_frame(sheet.frame, paper)
    room = frame.bottom - frame.top
    return paginate(units_of(sheet.parts, paper), room), room


def height(fragments: list[Fragment]) -> float:
    return sum(f.height for f in fragments) + sum(f.unit.gap for f in fragments[1:])


def company(page: list[Fragment], room: float) -> list[list[Fragment]]:
    """Every tail of a page that could stand before a hold on the next page."""
    tails = []
    for cut, one in enumerate(page):
        starts = [b for b in one.unit.breaks(room) if one.start + 2 <= b < one.end]
        for start in [*([one.start] if cut else []), *starts]:
            tails.append([Fragment(one.unit, start, one.end), *page[cut + 1 :]])
    return [t for t in tails if t[0].unit.operation and not (t[0].unit.hold and not t[0].start)]


def test_no_page_is_fuller_than_it_can_be(seeds: range) -> None:
    for seed in seeds:
        pages, room = laid_out(seed)
        assert all(height(page) <= room + 0.01 for page in pages), seed
        for before, after in pairwise(f for page in pages for f in page):
            assert after.start == (before.end if after.unit is before.unit else 0), seed


def test_a_hold_is_first_on_a_page_only_where_nothing_before_it_fits_with_it(seeds: range) -> None:
    holds = 0
    for seed in seeds:
        pages, room = laid_out(seed)
        for before, page in pairwise(pages):
            first = page[0]
            if not first.unit.hold or first.start or first.unit.new_page:
                continue
            holds += 1
            for tail in company(before, room):
                with_it = [*tail, Fragment(first.unit, 0, first.unit.size)]
                assert height(with_it) > room, (seed, first.unit.operation)
    assert holds < 40  # about one page in seventy has no company to offer
