"""Boxes that are written off by N/A, with and without the line that says why, in; what is said of
them, out. Every expected verdict is read off the sheet's own words on boxes that do not apply.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.process import Stamp
from generator.results.entries import entry_of
from generator.results.form import Field, Form, Key
from generator.results.form_says import Stop
from generator.results.judge import judged
from tests.results.judging import BEGAN, BOOKS, T, signed

KIT, TOOLS, HEAT, MAP = "kit-list", "tool-list", "heat-treatment-record", "rivet-map"
WHY = "which box, and the reason"


def line(sheet: str) -> list[Field]:
    kinds = {"operation or line": "words", WHY: "words", "date": "date", "stamp": "stamp"}
    return [Field(sheet, "", "first", n, k, (n,), may_be_empty=True) for n, k in kinds.items()]


def box(sheet: str, operation: str, row: str, name: str = "", kind: str = "words", **own) -> Field:
    return Field(sheet, operation, row, name, kind, (name or row,), **own)


BOXES = {
    "done": box(T, "20", "operation", "20 done", "tick"),
    "a": box(T, "20", "a", kind="tick"),
    "b": box(T, "20", "b", kind="tick"),
    "wait": box(T, "20", "wait at the rig", kind="tick"),
    "at the rig": box(T, "20", "wait at the rig, again", kind="tick"),
    "batch": box(KIT, "", "5 sealant", "batch"),
    "paper": box(KIT, "", "5 sealant", "release paper"),
    "use by": box(KIT, "", "5 sealant", "use by", "date"),
    "sheet": box(KIT, "", "1 clad sheet, 20 SWG", "batch"),
    "rivet": box(MAP, "", "rivet no. 1", kind="tick"),
    "condition": box(TOOLS, "", "2 test rig", "condition"),
    "coupon": box(HEAT, "", "charge", "coupon no.", of="130"),
    "soak": box(HEAT, "", "soak ends", "time", "clock", of="130"),
    "clock": box(T, "20", "into the oven", "time", "clock"),
    "verdict": box("inspection-sheet", "", "feature 7", "in", "choice",
                   choices=("in", "between", "out")),
}  # fmt: skip
BOOKS_OF = replace(BOOKS, stamps={**BOOKS.stamps, "LQ1": Stamp("LQ1", "lead", BEGAN, None)})


def _said(
    words: dict[Key, str], fields: list[Field], stops: tuple[Stop, ...] = (), books=BOOKS_OF
) -> list[tuple[str, str]]:
    form = Form(tuple(fields), ("20",), stops)
    found = judged(form, {key: entry_of(word) for key, word in words.items()}, books)
    return [(each.code, each.says) for each in found]


def _left_out(which: str, where: str, why: str, stamp: str = "LQ1", sheet: str = "") -> list[str]:
    of = BOXES[which]
    lines = line(sheet or of.sheet)
    words = {of.key: "N/A: it is so"}
    words |= dict(zip((f.key for f in lines), (where, why, "2026-11-03", stamp), strict=True))
    others = [f for f in BOXES.values() if f is not of and f.sheet == of.sheet]
    found = _said(words, [of, *others, *lines])
    return [code for code, _ in found if code != "missing"]


@pytest.mark.parametrize(
    ("place", "why", "stamp", "wanted"),
    [
        ("20", "b: no compound on this joint", "LQ1", []),
        ("operation 20", "a, b: no compound", "LQ1", []),
        ("20", "b: no compound on this joint", "LQ12", ["class"]),
        ("20", "a: no compound on this joint", "LQ1", ["missing"]),
        ("30", "b: no compound on this joint", "LQ1", ["missing"]),
        ("20R1", "b: no compound on this joint", "LQ1", ["missing"]),
        ("20", "b: no compound on this joint", "", ["missing"]),
        ("20", "done: it was not", "LQ1", ["missing"]),
        ("20", "whole operation: it was not done", "LQ1", ["missing"]),
    ],
)
def test_a_step_that_is_not_ticked_is_left_out_by_its_line_alone(place, why, stamp, wanted):
    """All ticks of an operation are typed at once: those that are not ticked have no words."""
    for operation in ("20", "20R1"):
        at = place.replace("20R1", "21").replace("20", operation)
        done = box(T, operation, "operation", f"{operation} done", "tick")
        steps = [box(T, operation, row, kind="tick") for row in "abc"]
        lines = line(T)
        words = {f.key: "x" for f in (done, *steps)} | {steps[1].key: ""}
        told = zip((f.key for f in lines), (at, why, "2026-11-03", stamp), strict=True)
        found = _said({**words, **dict(told)}, [done, *steps, *lines])
        assert [code for code, _ in found if code != "unsigned"] == wanted


def test_a_step_at_a_stop_is_left_out_by_an_inspector():
    step, lines = box(T, "20", "a", kind="tick"), line(T)
    told = ("20", "a: no compound", "2026-11-03")
    stops = (Stop("20", "hold", ()),)
    for stamp, wanted in (("LQ1", ["class"]), ("INS2", [])):
        words = dict(zip((f.key for f in lines), (*told, stamp), strict=True))
        found = _said(words, [step, *lines], stops)
        assert [code for code, _ in found] == wanted


def test_the_tick_that_an_operation_is_done_is_no_step():
    done, lines = box(T, "20", "operation", "20 done", "tick"), line(T)
    told = ("20", "done: it was not", "2026-11-03", "LQ1")
    words = dict(zip((f.key for f in lines), told, strict=True))
    assert [code for code, _ in _said(words, [done, *lines])] == ["missing"]


@pytest.mark.parametrize("which", BOXES)
def test_nothing_is_left_out_without_a_line(which):
    of = BOXES[which]
    heat = " of a heat treatment" if of.sheet == HEAT else ""
    says = f"N/A{heat}, and no line of the sheet gives its reason with a stamp"
    assert _said({of.key: "N/A: it is so"}, [of]) == [("reason", says)]


@pytest.mark.parametrize("stamp", ["LQ1", "INS2", "IND4", "LQ12"])
@pytest.mark.parametrize("which", ["done", "batch", "use by", "rivet", "coupon"])
def test_a_line_has_the_stamp_of_lead_or_inspector(which, stamp):
    of = BOXES[which]
    found = _left_out(which, of.operation or of.row, f"whole line, whole operation {of.operation}",
                      stamp)  # fmt: skip
    assert found == (["class"] if stamp == "LQ12" else [])


@pytest.mark.parametrize(
    ("which", "where", "why"),
    [
        ("done", "20", "done: not wanted"),
        ("done", "operation 20", "20 done"),
        ("a", "20", "a, b: not wanted"),
        ("b", "20", "a and b: not wanted"),
        ("wait", "20", "wait at the rig; the rig is away"),
        ("at the rig", "20", "wait at the rig, again: the rig is away"),
        ("batch", "5 sealant", "batch, use by: label torn off"),
        ("use by", "5", "batch, use by: label torn off"),
        ("use by", "sealant", "Use by: label torn off"),
        ("use by", "whole line 5", "label torn off"),
        ("sheet", "1", "batch: no label"),
        ("rivet", "rivet no. 1", "the hole is not there"),
        ("rivet", "map", "whole sheet: no rivets in this bay"),
        ("coupon", "charge", "coupon no.: none made"),
        ("coupon", "130", "coupon no.: none made"),
        ("soak", "130", "soak ends: nobody looked"),
        ("soak", "130", "whole operation: done by the order"),
        ("clock", "20", "into the oven: nobody looked"),
        ("verdict", "feature 7", "verdict: no gauge"),
        ("verdict", "7", "whole line: no gauge"),
    ],
)
def test_a_line_excuses_the_box_that_it_names(which, where, why):
    assert _left_out(which, where, why) == []


@pytest.mark.parametrize(
    ("which", "where", "why"),
    [
        ("soak", "130", "coupon no.: none made"),  # one box is not the whole treatment
        ("done", "20", "a, b: not wanted"),
        ("a", "20", "b: not a step of this bay"),  # behind the colon stands the reason
        ("a", "20", "not a step of this bay"),
        ("a", "30", "a: not wanted"),  # another operation
        ("wait", "20", "wait at the rig, again: the rig is away"),  # a longer name is another box
        ("use by", "5", "batch: label torn off, use by unknown"),
        ("use by", "1", "use by: label torn off"),
        ("sheet", "20", "batch: no label"),  # 20 SWG is no number of a line
        ("verdict", "70", "whole line: no gauge"),
        ("clock", "20", "time: nobody looked"),
        ("soak", "130", "time: nobody looked"),
        ("batch", "20", "whole operation"),
    ],
)
def test_what_a_line_does_not_name_is_not_excused(which, where, why):
    assert _left_out(which, where, why) == ["reason"]


def test_the_whole_of_a_sheet_is_left_out_on_it_or_by_its_name():
    assert _left_out("rivet", "whole sheet", "no rivets here", sheet=T) == ["reason"]
    assert _left_out("rivet", "rivet map", "whole sheet: no rivets here", sheet=T) == []
    assert _left_out("done", "whole sheet", "nothing done", sheet=T) == ["reason"]


DUE = box(TOOLS, "", "2 test rig", "check due", "date")
NONE = box(TOOLS, "", "2 test rig", "N/A", may_be_empty=True)
NO_PAPER = box(KIT, "", "5 sealant", "N/A", may_be_empty=True)


def test_a_tool_that_needs_no_check_is_ticked_so_and_needs_no_line():
    assert _said({NONE.key: "x"}, [DUE, NONE]) == []
    assert _said({DUE.key: "N/A: no check"}, [DUE, NONE]) == []
    assert _said({}, [DUE, NONE]) == [("missing", "the box is empty")]
    other = replace(NONE, row="3 bench")
    assert _said({other.key: "x"}, [DUE, other]) == [("missing", "the box is empty")]


def test_release_paper_that_is_ticked_off_has_its_reason_below_as_the_list_says():
    boxes = [BOXES["paper"], BOXES["use by"], NO_PAPER]
    by_hand = {BOXES["use by"].key: "2027-01-01", NO_PAPER.key: "x"}
    says = "N/A, and no line of the sheet gives its reason with a stamp"
    assert _said(by_hand, boxes) == [("reason", says)]
    below = line(KIT)
    told = ("5", "release paper: own stock", "2026-11-03", "LQ1")
    words = {**by_hand, **dict(zip((f.key for f in below), told, strict=True))}
    assert _said(words, [*boxes, *below]) == []
    # The tick is of the release paper, and not of the day behind it.
    words.pop(BOXES["use by"].key)
    assert _said(words, [*boxes, *below]) == [("missing", "the box is empty")]


def test_the_day_of_a_stamp_is_left_out_no_more_than_the_stamp():
    sign = signed("20", "sign done", "volunteer", "done by volunteer")
    words = {sign[0].key: "LQ12", sign[1].key: "N/A: forgotten"}
    assert [code for code, _ in _said(words, sign)] == ["missing", "unsigned"]


@pytest.mark.parametrize(
    ("row", "right"),
    [
        ("operation", "the operation is, with its line and its stamp"),
        ("notice", "it is waited for"),
    ],
)
def test_who_may_not_leave_a_stamp_out_is_told_what_may_be(row, right):
    """A hold and a point of two people have no N/A for the whole of them."""
    none = box(T, "20", row, "20 N/A", may_be_empty=True)
    (stamp,) = [f for f in signed("20", "sign hold", "inspector", "by") if f.kind == "stamp"]
    says = f"a stamp is not left out by N/A: {right}"
    assert _said({stamp.key: "N/A: nobody there"}, [none, stamp]) == [("missing", says)]


def test_a_box_of_a_stop_has_the_stamp_of_an_inspector():
    notice = box(T, "20", "notice", "given on", "date")
    lines, stop = line(T), (Stop("20", "witness", ()),)
    for stamp, wanted in (("LQ1", ["class"]), ("INS2", [])):
        told = ("20", "notice: he lives here", "2026-11-03", stamp)
        words = dict(zip((f.key for f in lines), told, strict=True))
        found = _said({**words, notice.key: "N/A: he lives here"}, [notice, *lines], stop)
        assert [code for code, _ in found] == wanted


CAME = box(T, "20", "attendance", kind="choice", choices=("came", "did not come"))


@pytest.mark.parametrize(
    ("came", "signs", "wanted"),
    [
        ("came", ("sign witness",), []),
        ("came", ("go on without",), ["missing"]),
        ("did not come", ("go on without",), []),
        ("did not come", ("sign witness",), ["witness"]),
        ("did not come", ("sign witness", "go on without"), ["witness"]),
    ],
)
def test_a_witness_who_came_has_signed(came, signs, wanted):
    stamps = [box(T, "20", row, kind="stamp") for row in ("sign witness", "go on without")]
    words = {CAME.key: came, **{f.key: "INS2" for f in stamps if f.row in signs}}
    stop = (Stop("20", "witness", ()),)
    assert [code for code, _ in _said(words, [CAME, *stamps], stop)] == wanted


READ = box(T, "20", "gap", kind="number", unit="mm", measured_with="micrometer")
COUNT = box(T, "20", "burrs", kind="number", unit="count")
WIDTH = box(T, "20", "width", kind="number", unit="mm")
GAUGE = box(T, "20", "micrometer no.")


@pytest.mark.parametrize(
    ("values", "wanted"),
    [
        ({READ: "0.5"}, ["instrument"]),
        ({READ: "N/A: gauge away"}, []),
        ({READ: "N/A: gauge away", COUNT: "3"}, []),
        ({READ: "N/A: gauge away", WIDTH: "120"}, []),  # the sheet says which was read with it
        ({READ: "0.5", WIDTH: "N/A: no drawing"}, ["instrument"]),
        ({WIDTH: "120"}, ["instrument"]),
        ({COUNT: "3"}, []),
    ],
)
def test_the_number_of_an_instrument_stands_where_something_was_read_with_it(values, wanted):
    lines = line(T)
    told = ("20", "whole operation: the micrometer is away", "2026-11-03", "INS2")
    words = dict(zip((f.key for f in lines), told, strict=True))
    words |= {f.key: word for f, word in values.items()}
    words[GAUGE.key] = "N/A: borrowed one, not in the list"
    found = _said(words, [*values, GAUGE, *lines])
    assert [code for code, _ in found] == wanted
    again = replace(BOOKS_OF, done_again={"20"})
    assert _said(words, [*values, GAUGE, *lines], books=again) == []


def test_a_wrench_that_was_set_has_its_number():
    wrench, to = (box("tightening-record", "20", "pass 1", name) for name in (
        "wrench no.", "wrench set to, N·m"))  # fmt: skip
    words = {wrench.key: "N/A: borrowed", to.key: "20"}
    assert _said(words, [wrench, to]) == [("instrument", "N/A, and pass 1 was read with it")]


CHARGE = Field(HEAT, "", "charge", "coupon no.", "words", ("coupon no.",))
PAPER = Field("subcontract-order", "", "certificate", "there", "tick", ("there",))
SIGNED_OFF = (
    Field(HEAT, "", "first", "operation or line", "words", ("line",), may_be_empty=True),
    Field(HEAT, "", "first", "which box, and the reason", "words", ("why",), may_be_empty=True),
    Field(HEAT, "", "first", "date", "date", ("date",), may_be_empty=True),
    Field(HEAT, "", "first", "stamp", "stamp", ("stamp",), may_be_empty=True),
)


@pytest.mark.parametrize(
    ("line", "stamp", "wanted"),
    [
        ("charge", "INS2", []),
        ("charge", "LQ14", ["class"]),
        ("charge", "", ["reason"]),
        ("papers", "INS2", ["reason"]),
    ],
)
def test_what_a_heat_treatment_leaves_out_has_the_stamp_of_lead_or_inspector(line, stamp, wanted):
    """A line without a limit as well: nobody here saw what was done."""
    words = {CHARGE.key: "N/A: no coupon", SIGNED_OFF[0].key: line, SIGNED_OFF[1].key: "coupon no.: none",
             SIGNED_OFF[2].key: "2026-11-03", SIGNED_OFF[3].key: stamp}  # fmt: skip
    entries = {key: entry_of(word) for key, word in words.items()}
    found = judged(Form((CHARGE, *SIGNED_OFF), (), ()), entries, BOOKS)
    assert [each.code for each in found if each.row == CHARGE.label] == wanted


def test_the_order_and_return_of_a_heat_treatment_is_one_of_its_papers():
    entries = {PAPER.key: entry_of("N/A: no certificate"), CHARGE.key: entry_of("7")}
    for fields, heat in (((PAPER, CHARGE), " of a heat treatment"), ((PAPER,), "")):
        (told,) = judged(Form(fields, (), ()), entries, BOOKS)
        assert (told.code, told.says.partition(",")[0]) == ("reason", f"N/A{heat}")


@pytest.mark.parametrize(
    ("why", "says"),
    [
        ("the rig is away", []),
        ("Not fitted: a and b are for the other hull", []),
        ("whole operation: the rig is away", []),
        ("into the oven: nobody looked", ["N/A, and its line is of one box alone, and not "
                                          "'whole operation: reason'"]),
        ("a, b: not wanted", ["N/A, and its line is of one box alone, and not "
                              "'whole operation: reason'"]),
    ],
)  # fmt: skip
def test_a_line_of_one_box_leaves_no_whole_operation_out(why, says):
    none = box(T, "20", "operation", "20 N/A", may_be_empty=True)
    fields = [none, BOXES["done"], BOXES["a"], BOXES["b"], BOXES["clock"], *line(T)]
    words = {none.key: "x", **dict(zip((f.key for f in line(T)), ("20", why, "2026-11-03", "LQ1"),
                                       strict=True))}  # fmt: skip
    assert [each for _, each in _said(words, fields)] == says


def test_of_two_lines_of_an_operation_either_leaves_it_out():
    none = box(T, "20", "operation", "20 N/A", may_be_empty=True)
    second = [replace(f, row="second") for f in line(T)]
    words = {none.key: "x"}
    for of, why in ((line(T), "the rig is away"), (second, "into the oven: nobody looked")):
        told = ("20", why, "2026-11-03", "LQ1")
        words |= dict(zip((f.key for f in of), told, strict=True))
    assert _said(words, [none, BOXES["clock"], *line(T), *second]) == []


def test_what_is_done_is_not_left_out_too():
    none = box(T, "20", "operation", "20 N/A", may_be_empty=True)
    told = ("20", "the rig is away", "2026-11-03", "LQ1")
    words = {none.key: "x", BOXES["done"].key: "x"}
    words |= dict(zip((f.key for f in line(T)), told, strict=True))
    assert _said(words, [none, BOXES["done"], *line(T)]) == [
        ("out", "ticked N/A and done, and it is one of them: a slip is needed")]  # fmt: skip
