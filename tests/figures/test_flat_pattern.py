"""The flat pattern: its lines against the rows, its labels against the print."""

from __future__ import annotations

import re
from collections import Counter

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from generator.figures.clearance import Box
from generator.figures.picture import Circle, Line, Outline, Words
from generator.findings import Refusal
from tests.figures.bent import (
    ANGLE,
    SECTIONS,
    along,
    bends,
    blank,
    flat,
    neat,
    numbers,
    rows_of,
    uprights,
)
from tests.figures.measured import (
    box,
    every,
)


@pytest.mark.parametrize("name", SECTIONS)
def test_tangent_lines_run_across_the_blank_where_the_rows_say(name: str) -> None:
    rows = SECTIONS[name]
    picture = flat(rows)
    held = blank(picture)
    across = [s for s in uprights(picture) if (s.y1, s.y2) == (held.top, held.bottom)]
    places = [along(picture, rows, line.x1) for line in across]
    told = [place for n in bends(rows) for place in numbers(rows[f"tangent {n}"])]
    assert places == pytest.approx(told)


@pytest.mark.parametrize("name", SECTIONS)
def test_each_sight_line_is_dashed_where_its_row_says(name: str) -> None:
    """Dashes of 2.2 mm one over the other, down to the lower edge, over half the blank or more."""
    rows = SECTIONS[name]
    picture = flat(rows)
    held = blank(picture)
    dashes = [s for s in uprights(picture) if s.y2 - s.y1 == pytest.approx(2.2)]
    for n in bends(rows):
        (told,) = numbers(rows[f"sight {n}"])
        here = [s for s in dashes if along(picture, rows, s.x1) == pytest.approx(told)]
        assert len(here) >= 3
        assert held.bottom - max(s.y2 for s in here) < 3.3
        assert held.bottom - min(s.y1 for s in here) > 0.5 * (held.bottom - held.top)


@pytest.mark.parametrize("name", SECTIONS)
def test_every_distance_hangs_on_the_line_it_belongs_to(name: str) -> None:
    rows = SECTIONS[name]
    picture = flat(rows)
    foot = blank(picture).bottom
    found = []
    for leader in every(picture, Outline):
        (x, y), end = leader.points[0], leader.points[-1]
        if leader.closed or y != foot:
            continue
        (words,) = (w for w in every(picture, Words) if just_under(box(w), end))
        assert along(picture, rows, x) == pytest.approx(float(words.text))
        found.append(words.text)
    told = [
        n for name, text in rows.items() if re.match("tangent|sight", name) for n in numbers(text)
    ]
    assert sorted(map(float, found)) == pytest.approx(sorted([*told, *numbers(rows["length"])]))


def just_under(held: Box, point: tuple[float, float]) -> bool:
    return held.left <= point[0] <= held.right and 0 < held.top - point[1] < 1.2


@pytest.mark.parametrize("name", SECTIONS)
def test_sights_stand_in_a_row_of_that_name_and_tangents_in_theirs(name: str) -> None:
    rows = SECTIONS[name]
    words = every(flat(rows), Words)
    named = {w.y: w.text for w in words if w.text in ("SIGHT", "tangent")}
    for n in bends(rows):
        for row, wanted in ((f"tangent {n}", "tangent"), (f"sight {n}", "SIGHT")):
            for text in re.findall(r"[0-9.]+", rows[row]):
                beside = [
                    named[y] for w in words for y in named if w.text == text and abs(w.y - y) < 1
                ]
                assert wanted in beside


@pytest.mark.parametrize(
    ("sight", "names"),
    [
        ("24.1", "tangent SIGHT tangent"),
        ("30.0", "tangent SIGHT tangent SIGHT"),
        ("15.0", "SIGHT tangent SIGHT tangent"),
    ],
)
def test_a_sight_line_beside_its_bend_has_a_row_of_its_own(sight: str, names: str) -> None:
    """Rows run down as lines run right: before the bend, in it and beyond it."""
    other = {
        "length": "124.1 mm",
        "bend 2": "90° R 3.2 mm down",
        "allowance 2": "5.66 mm",
        "tangent 2": "72.5 mm to 78.2 mm",
        "sight 2": "75.7 mm",
        "flat 3": "45.9 mm",
    }
    picture = flat({**ANGLE, **other, "sight 1": f"{sight} mm"})
    words = every(picture, Words)
    named = {w.y: w.text for w in words if w.text in ("SIGHT", "tangent")}
    assert [named[y] for y in sorted(named)] == names.split()
    (printed,) = (w for w in words if w.text == sight)
    assert printed.bold
    row = min(named, key=lambda y: abs(y - printed.y))
    assert sorted(named).index(row) == {"24.1": 1, "30.0": 3, "15.0": 0}[sight]
    assert neat(picture)


@pytest.mark.parametrize("name", SECTIONS)
def test_flats_have_dimension_lines_in_proportion(name: str) -> None:
    rows = SECTIONS[name]
    picture = flat(rows)
    held = blank(picture)
    level = [
        s
        for s in every(picture, Line)
        if s.y1 == s.y2 < held.top and s.x1 >= held.left and s.x2 <= held.right
    ]
    scale = (held.right - held.left) / numbers(rows["length"])[0]
    told = [numbers(rows[f"flat {n}"])[0] for n in range(1, len(bends(rows)) + 2)]
    # Tangents and flats are each rounded to the last place that is printed.
    slack = 0.2 if rows["length"].endswith("mm") else 0.002
    assert [(s.x2 - s.x1) / scale for s in level] == pytest.approx(told, abs=slack)


@pytest.mark.parametrize("name", SECTIONS)
def test_every_printed_text_stands_once(name: str) -> None:
    rows = SECTIONS[name]
    printed = Counter(w.text for w in every(flat(rows), Words))
    for text, count in expected(rows).items():
        assert printed.pop(text, 0) == count, text
    assert all(count == 1 for count in printed.values())
    rest = " ".join(printed)
    assert "Not to scale: measure by the figures" in rest
    assert f"Blank {numbers(rows['length'])[0]:.{3 if 'in' in rows['length'] else 1}f}" in rest
    assert rows["thickness"] in rest
    if "order" in rows:
        assert f"Bend in the order {rows['order'].replace(' ', ', ')}." in rest


def expected(rows: dict[str, str]) -> Counter[str]:
    told = Counter(["tangent", "tangent", "FIRST EDGE: measure from here"])
    inside = [
        numbers(rows[f"sight {n}"])[0] <= numbers(rows[f"tangent {n}"])[1] for n in bends(rows)
    ]
    told["SIGHT"] = len(set(inside))
    told[re.findall(r"[0-9.]+", rows["length"])[0]] += 1
    if "width" in rows:
        told[rows["width"].split()[0]] += 1
    if "grain" in rows:
        told["GRAIN"] += 1
    for name, text in rows.items():
        if name.startswith(("flat", "tangent", "sight")):
            told.update(re.findall(r"[0-9.]+", text))
        elif name.startswith("allowance"):
            told[f"BA {text.split()[0]}"] += 1
        elif name.startswith("relief"):
            told[text.removesuffix(" mm")] += 1
        elif name.startswith("nose"):
            told.update(["nose on", text] if "bend 8" in rows else [f"nose on {text}"])
        elif name.startswith("bend"):
            angle, radius, way = text.split()[0], text.split()[2], text.split()[-1]
            told.update([f"{way.upper()} {angle}", f"R {radius}", name.removeprefix("bend ")])
    return told


@pytest.mark.parametrize("name", SECTIONS)
def test_what_is_told_of_a_bend_stands_over_its_number_and_leads_to_its_middle(name: str) -> None:
    rows = SECTIONS[name]
    picture = flat(rows)
    words = every(picture, Words)
    for n in bends(rows):
        (circle,) = (
            c for c in every(picture, Circle)
            if any(w.text == str(n) and w.bold and abs(w.x - c.x) < 0.1 and 0 < w.y - c.y < 2 for w in words)
        )  # fmt: skip
        over = [w.text for w in words if w.x == circle.x and w.y < circle.y - circle.radius]
        angle, radius, way = (rows[f"bend {n}"].split()[i] for i in (0, 2, -1))
        assert over[::-1][:2] == [f"{way.upper()} {angle}", f"R {radius}"]
        (leader,) = (
            o for o in every(picture, Outline)
            if o.points[-1] == pytest.approx((circle.x, circle.y + circle.radius))
        )  # fmt: skip
        middle = sum(numbers(rows[f"tangent {n}"])) / 2
        assert along(picture, rows, leader.points[0][0]) == pytest.approx(middle)


@pytest.mark.parametrize("name", ["U", "eight"])
def test_relief_holes_lie_at_both_ends_of_their_bend_line(name: str) -> None:
    rows = SECTIONS[name]
    picture = flat(rows)
    held = blank(picture)
    scale = (held.right - held.left) / numbers(rows["length"])[0]
    holes = [c for c in every(picture, Circle) if c.y in (held.top, held.bottom)]
    told = [n for n in bends(rows) if f"relief {n}" in rows]
    assert len(holes) == 2 * len(told)
    for n in told:
        middle = sum(numbers(rows[f"tangent {n}"])) / 2
        here = [c for c in holes if along(picture, rows, c.x) == pytest.approx(middle)]
        assert sorted(c.y for c in here) == [held.top, held.bottom]
        (wide,) = numbers(rows[f"relief {n}"])
        assert [2 * c.radius / scale for c in here] == pytest.approx([wide, wide])


@pytest.mark.parametrize("way", ["along", "across"])
def test_the_grain_arrow_lies_as_the_row_says(way: str) -> None:
    bare = flat(ANGLE)
    picture = flat({**ANGLE, "grain": f"{way} the length"})
    (line,) = (m for m in every(picture, Line) if m not in every(bare, Line))
    assert (line.y1 == line.y2) is (way == "along")
    assert (line.x1 == line.x2) is (way == "across")
    held = blank(picture)
    assert (
        held.left < line.x1 <= line.x2 < held.right and held.top < line.y1 <= line.y2 < held.bottom
    )


def test_grain_without_room_between_lines_and_holes_stands_below_the_blank() -> None:
    flats = [8, *[13.0] * 7, 8]
    rows = rows_of(0.8, flats, [(90.0, 2.0, "up")] * 8, grain="along the length")
    for holes, below in (({}, False), ({f"relief {n}": "Ø 12.0 mm" for n in range(1, 9)}, True)):
        picture = flat({**rows, **holes})
        (grain,) = (w for w in every(picture, Words) if w.text == "GRAIN")
        assert (grain.y > blank(picture).bottom) is below
        assert neat(picture)


def test_a_blank_of_usual_width_is_in_proportion_across_too() -> None:
    held = blank(flat(SECTIONS["U"]))
    length, wide = numbers(SECTIONS["U"]["length"])[0], 40
    shown = (held.bottom - held.top) / (held.right - held.left)
    assert shown == pytest.approx(min(wide / length, 40 / (held.right - held.left)))


@pytest.mark.parametrize("name", SECTIONS)
def test_the_leg_under_the_nose_bar_is_told_small_and_explained_once(name: str) -> None:
    rows = SECTIONS[name]
    words = every(flat(rows), Words)
    held = [w for w in words if w.text.startswith("nose on")]
    assert len(held) == sum(row.startswith("nose") for row in rows)
    assert all(w.size == 9 and not w.bold for w in held)
    caption = " ".join(w.text for w in words if w.anchor == "start")
    explained = "Nose on: the leg that lies under the nose bar" in caption
    assert explained is bool(held)


@pytest.mark.parametrize(("nose", "sight"), [("leg 1", "24.1"), ("leg 2", "23.4")])
def test_either_leg_of_a_bend_may_lie_under_the_nose(nose: str, sight: str) -> None:
    # 20.9 + 3.2 = 24.1 from the tangent line of leg 1; 26.6 − 3.2 = 23.4 from that of leg 2.
    said = [w.text for w in every(flat({**ANGLE, "nose 1": nose, "sight 1": f"{sight} mm"}), Words)]
    assert f"nose on {nose}" in said


@pytest.mark.parametrize(
    ("nose", "wrong"),
    [
        ("leg 3", "the nose bar on 'leg 3' at bend 1"),
        ("1", "the nose bar on '1' at bend 1"),
        ("leg 2", "the sight line of bend 1 is not R 3.2 from the tangent line of leg 2"),
    ],
)
def test_a_nose_on_no_leg_of_the_bend_or_on_the_other_is_refused(nose: str, wrong: str) -> None:
    with pytest.raises(Refusal, match=re.escape(wrong)) as refused:
        flat({**ANGLE, "nose 1": nose})
    assert "leg" in refused.value.right


@pytest.mark.parametrize("wide", [165, 175])
@pytest.mark.parametrize("name", SECTIONS)
def test_no_label_touches_another_or_a_line(name: str, wide: float) -> None:
    assert neat(flat(SECTIONS[name], wide))


@pytest.mark.parametrize("name", ["one bend", "U", "joggle", "hat", "long", "inches"])
def test_five_bends_find_room_beside_the_sign_off_too(name: str) -> None:
    assert neat(flat(SECTIONS[name], 113))


lengths = st.sampled_from([6.0, 8.5, 12.0, 25.0, 60.0, 240.0, 1000.0]) | st.floats(5, 400)
turns = st.tuples(
    st.sampled_from([15.0, 30.0, 60.0, 90.0, 112.5, 135.0]),
    st.sampled_from([1.6, 3.2, 6.4]),
    st.sampled_from(["up", "down"]),
)


@st.composite
def sections(draw: st.DrawFn) -> dict[str, str]:
    made = draw(st.lists(turns, min_size=1, max_size=8))
    flats = draw(st.lists(lengths, min_size=len(made) + 1, max_size=len(made) + 1))
    rows = rows_of(draw(st.sampled_from([0.8, 1.2, 1.6])), flats, made)
    if draw(st.booleans()):
        rows["grain"] = draw(st.sampled_from(["along the length", "across the length"]))
    if draw(st.booleans()):
        rows["width"] = draw(st.sampled_from(["12 mm", "40.5 mm", "1250 mm"]))
    for n in range(1, len(made) + 1):
        if draw(st.integers(0, 4)) == 0:
            rows[f"relief {n}"] = draw(st.sampled_from(["Ø 3.2 mm", "Ø 12.0 mm"]))
    held = draw(st.booleans())
    for n in range(1, len(made) + 1) if held else ():
        start, _ = numbers(rows[f"tangent {n}"])
        if abs(start + made[n - 1][1] - numbers(rows[f"sight {n}"])[0]) < 0.15:
            rows[f"nose {n}"] = f"leg {n}"
    if draw(st.booleans()):
        rows["order"] = " ".join(map(str, draw(st.permutations(range(1, len(made) + 1)))))
    return rows


@given(rows=sections(), wide=st.sampled_from([165.0, 175.0]))
@example(rows=rows_of(0.8, [1000.0] * 9, [(112.5, 6.4, "down")] * 8), wide=165.0)
@example(rows=rows_of(0.8, [1000.0] * 9, [(15.0, 1.6, "up"), (90.0, 1.6, "up")] * 4), wide=165.0)
@example(rows=rows_of(0.8, [6.0, *[1000.0] * 8], [(15.0, 1.6, "down")] * 8), wide=165.0)
@settings(max_examples=40, deadline=None)
def test_up_to_eight_bends_always_find_room(rows: dict[str, str], wide: float) -> None:
    picture = flat(rows, wide)
    assert neat(picture)
    assert picture.width == wide and picture.height < 190
