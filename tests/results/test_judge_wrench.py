"""What a wrench was set to, in; settings that are not those of the sheet, out."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from generator.composing.recorded import BETWEEN
from generator.draw.parse import blocks_of
from generator.draw.sheet import Section
from generator.process import Instrument
from generator.quantities.text import read_amount
from generator.results.case import Books, Case, Verdict
from generator.results.entries import Entries, entry_of
from generator.results.form import Field, Form
from generator.results.form_figures import figure, settings_of
from generator.results.judge_values import limits
from generator.results.judge_wrench import columns, settings
from tests.compose.sheets import file_of
from tests.results.judging import BOOKS
from tests.results.test_form import form
from tests.results.test_judge_clocks import entered
from tests.results.test_supplement import again
from tests.results.test_supplement import form as rework_form

ROW = ("tightening-record", "130", "operation 130")
WRENCH = Instrument("G-241", "torque wrench", read_amount("0.5 lbf·in"),
                    BOOKS.instruments["G-200"].check_due)  # fmt: skip
HELD = replace(BOOKS, instruments={"G-241": WRENCH})


filled = cache(entered)


@cache
def on_rework(numbers: tuple[str, ...]) -> Form:
    return rework_form(again(file_of("T6-P-0310"), numbers))


def judged(own: Form, entries: Entries, books: Books) -> list[Verdict]:
    case = Case(own, entries, books)
    return [*limits(case), *settings(case), *columns(case)]


def told(written: dict[str, str], books: Books = HELD, number: str = "T6-P-0310") -> list[str]:
    """What is said of the rows of a wrench on a record that was filled in well but for some boxes,
    each called by its operation and its name, and with G-241."""
    own, entries = filled(file_of(number))
    words = dict(entries)
    rows = {f.key[:3] for f in own.fields if f.boxes[0].startswith("wrench set to")}
    for each in (f for f in own.fields if f.key[:3] in rows):
        name = each.boxes[0].partition(",")[0]
        word = "G-241" if name == "wrench no." else written.get(f"{each.operation} {name}")
        words |= {each.key: entry_of(word)} if word else {}
    found = judged(own, words, books)
    return [f"{v.operation} {v.code}: {v.says}" for v in found
            if (v.sheet, v.operation) in {r[:2] for r in rows} and v.row.startswith("operation")
            and v.blocks]  # fmt: skip


def test_a_wrench_that_was_set_as_ticked_is_right():
    """Of a drag of 4 lbf·in, the first column: pass 1 at 18.3, pass 2 at 38.3, then 53.3."""
    assert told({}) == []
    right = {"130": "18.3", "140": "38.3", "150": "53.3", "160": "53.3"}
    assert told({f"{n} wrench set to": word for n, word in right.items()}) == []


@pytest.mark.parametrize("box", ["wrench set to", "running drag", "wrench length"])
def test_what_is_no_figure_is_none(box):
    assert told({f"130 {box}": "abc"}) == ["130 number: 'abc' is no number"]


@pytest.mark.parametrize(
    ("word", "wrong"),
    # 18.3 as ticked; a wrench that reads to 0.5 goes no nearer than 18.5, or 18.05 at its finest.
    [("18.5", False), ("18.0", True), ("18.1", False), ("18.55", False), ("18.56", True),
     ("38.3", True)],
)  # fmt: skip
def test_a_setting_is_that_of_its_pass_as_near_as_the_wrench_goes(word, wrong):
    says = (f"130 out: {word} lbf·in is not the setting 18.3, as ticked: wrench setting of pass 1 "
            "lbf·in (within 0.25): a slip is needed")  # fmt: skip
    assert told({"130 wrench set to": word}) == [says] * wrong


@pytest.mark.parametrize(("word", "wrong"), [("4", 0), ("4.5", 0), ("5", 1), ("8", 1), ("15", 1)])
def test_the_drag_beside_a_setting_is_that_of_the_column_that_is_ticked(word, wrong):
    """Of columns of 4, 6, 8 and so on the nearer is taken, half way and beyond them the lead's."""
    assert len(told({"130 running drag": word})) == wrong
    if word == "8":
        says = "8 lbf·in asks for 8, and 4 is ticked: a slip is needed"
        assert told({"130 running drag": word}) == [f"130 out: {says}"]


def test_of_a_wrench_that_nobody_knows_the_setting_is_right_to_its_last_digit():
    for word, wanted in (("18.35", 0), ("18.4", 1), ("18.25", 0), ("18.2", 1)):
        assert len(told({"130 wrench set to": word}, BOOKS)) == wanted


def test_a_setting_that_is_conceded_blocks_no_more():
    own, _ = form(file_of("T6-P-0310"))
    key = next(f.key for f in own.fields if f.key[:3] == ROW and f.set_by)
    books = replace(HELD, conceded=[(key, "21.5")])
    assert told({"130 wrench set to": "21.5"}, books) == []
    assert len(told({"130 wrench set to": "22.0"}, books)) == 1


def test_a_setting_of_which_no_column_is_ticked_is_not_passed_over():
    own, entries = filled(file_of("T6-P-0310"))
    used = ("traveller", "128", "used", "")
    found = judged(own, {**entries, used: entry_of("")}, HELD)
    assert [(v.operation, v.code) for v in found if v.sheet == ROW[0] and v.code == "strip"] == [
        (n, "strip") for n in ("130", "140", "150", "160")
    ]


def test_each_pass_of_one_operation_has_its_row_and_its_setting():
    own, _ = form(file_of("T6-P-0210"))
    rows = {f.row: f.set_by.partition(" ")[2] for f in own.fields if f.set_by}
    assert rows == {
        "operation 200, wrench setting of pass 1": "wrench setting of pass 1 lbf·in",
        "operation 200, wrench setting": "wrench setting lbf·in",
    }
    assert told({}, number="T6-P-0210") == []
    assert len(told({"200 wrench set to": "24.0"}, number="T6-P-0210")) == 1  # of pass 2 alone


@pytest.mark.parametrize(
    ("numbers", "word", "wrong"),
    # The strip is done again, and the last column ticked in it; or the first column still holds.
    [(("128", "130"), "26.7", 0), (("128", "130"), "18.3", 1), (("130",), "18.3", 0),
     (("130",), "26.7", 1)],
)  # fmt: skip
def test_a_pass_that_is_done_again_is_set_by_the_column_of_the_latest_sheet(numbers, word, wrong):
    rework, first = on_rework(numbers), filled(file_of("T6-P-0310"))
    fields = [f for f in rework.fields if f.set_by]
    assert [f.operation for f in fields] == ["130R1"]
    words = {f.key: entry_of(word) for f in fields}
    words |= {f.key: entry_of("14") for f in rework.fields if f.row == "used" and f.choices}
    case = Case(rework, words, HELD, before=(Case(*first, HELD),))
    assert len([v for v in settings(case) if v.blocks]) == wrong


# --- as other sheets print it --------------------------------------------------------------------


def _printed(says: str) -> Field:
    text = f"::: facts\n| Setting | {says} |\n| --- | --- |\n:::\n\n"
    text += ("::: fill\n| used | wrench no. | wrench set to |\n| --- | --- | --- |\n"
             "| operation 130 | box | box N·m |\n:::\n")  # fmt: skip
    part = Section("Operation 130", tuple(blocks_of(text)))
    ((key, said),) = settings_of({ROW[0]: [part]})
    assert key == ROW
    made = figure(ROW[0], "wrench set to, N·m", said)
    return replace(Field(*ROW, "wrench set to", "words", ("wrench set to, N·m",)), **made)


@pytest.mark.parametrize(
    ("says", "good", "bad"),
    [
        ("[6.40 N·m (56.7 lbf·in)](#c3)", ["6.40", "6.4", "6.405"], ["6.41", "6.39", "56.7"]),
        ("[5.6 N·m](#c3) to [7.9 N·m](#c4)", ["5.6", "7", "7.9"], ["5.5", "8.0"]),
        ("as the operation says", ["3"], ["three"]),
    ],
)
def test_a_setting_that_is_printed_is_held_against_its_number(says, good, bad):
    field = _printed(says)
    for word, wanted in [*((w, False) for w in good), *((w, True) for w in bad)]:
        found = judged(Form((field,), ("130",), ()), {field.key: entry_of(word)}, BOOKS)
        assert bool([v for v in found if v.blocks]) == wanted, word


@pytest.mark.parametrize(("word", "wanted"), [("abc", 1), ("20", 1), ("20 mm", 1), ("20 N·m", 0)])
def test_where_the_sheet_has_no_unit_a_torque_has_its_own(word, wanted):
    field = Field(*ROW, "wrench set to", "words", ("wrench set to",))
    found = judged(Form((field,), ("130",), ()), {field.key: entry_of(word)}, BOOKS)
    assert len(found) == wanted


def test_a_setting_may_stand_in_a_grid_or_between_two_rows_of_a_strip():
    own, _ = form(file_of("T6-P-0310"))
    in_grid = _printed("as ticked in operation 126: [Wrench setting in N·m](#c25)").set_by
    told = [a for a in own.answers if in_grid.replace("N·m", "lbf·in") in a.marks]
    assert [(a.operation, len(a.values)) for a in told] == [("126", 30)]
    window = _printed(f"as ticked in operation 50: [{BETWEEN}](#c3)")
    assert (window.lower_by, window.upper_by, window.set_by) == ("c3", "c3", "")
