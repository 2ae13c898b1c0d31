"""Holds with work that is done again on a rework sheet, or with values that were allowed after the
release, in; what of it stops the close, out. Days and stamps are read off the small forms by eye.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from generator.results.case import Verdict
from generator.results.entries import entry_of
from generator.results.form import Field, Form, Key
from generator.results.form_says import Stop
from generator.results.judge import judged
from tests.results.judging import BOOKS, DAY, DONE, FORM, SOUND, T, signed

GAP = (T, "10", "gap", "")
STAMP, ON = "released by inspector stamp", "released by inspector date"
HOLD, HOLD_DAY = (T, "20", "sign hold", STAMP), (T, "20", "sign hold", ON)
SIGN, SIGN_DAY = (T, "10", "sign done", DONE), (T, "10", "sign done", DAY)
WORK_DAY = (T, "30", "sign done", DAY)  # behind the hold, 2026-11-03 as the hold


def _sheet(number: str, on: str, row: str = "sign hold", who: str = "inspector"):
    """A rework sheet on which an operation is signed on a day."""
    says = "released by inspector" if row == "sign hold" else "done by volunteer"
    fields = tuple(signed(number, row, who, says))
    stops = (Stop(number, "hold", ()),) if row == "sign hold" else ()
    words = dict(zip((f.key for f in fields), ("INS2", on), strict=True))
    return Form(fields, (number,), stops), {key: entry_of(word) for key, word in words.items()}


def _told(words: dict[Key, str], again=(), later=(), **books) -> tuple[Verdict, ...]:
    entries = {key: entry_of(word) for key, word in {**SOUND, **words}.items()}
    return judged(FORM, entries, replace(BOOKS, done_again={*again}, **books), (), later)


def _stops(words: dict[Key, str], again=(), later=(), **books) -> list[str]:
    return [each.code for each in _told(words, again, later, **books) if each.blocks]


GAUGE = (T, "10", "micrometer no.", "")


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ({SIGN: "INS2"}, "class"),
        ({SIGN: "LQ99"}, "stamp"),
        ({GAUGE: "G-999"}, "instrument"),
        ({GAUGE: "G-200"}, "instrument"),
        ({GAP: "0,6"}, "number"),
        ({GAP: "unreadable"}, "unreadable"),
        ({(T, "10", "clean", ""): "perhaps"}, "choice"),
        ({GAP: "late: 0.6, written later"}, "late"),
    ],
)
def test_what_is_wrong_with_an_operation_that_is_done_again_is_told_and_stops_nothing(words, code):
    assert _stops(words) == [code]
    assert _stops(words, again=["30"]) == [code]
    (told,) = _told(words, again=["10"])
    assert (told.code, told.blocks) == (code, False)
    assert told.says.endswith((", and it is done again", "a slip is needed"))


def test_an_overdue_gauge_of_an_operation_that_is_done_again_is_told_and_stops_nothing():
    words = {SIGN_DAY: "01 DEC 2026", HOLD_DAY: "01 DEC 2026", WORK_DAY: "02 DEC 2026"}
    words |= {(T, "40", "pins", f"{n}: {who} date"): "02 DEC 2026" for n, who in (
        (1, "inspector"), (2, "independent inspector"))}  # fmt: skip
    assert _stops(words) == ["overdue"]
    assert _stops(words, again=["10"]) == []


def test_a_mean_and_a_copied_limit_of_a_feature_go_with_its_operation():
    mean = ("inspection-sheet", "", "feature 2", "mean, mm")
    fields = tuple(replace(f, of="10") if f.row == "feature 2" else f for f in FORM.fields)
    entries = {key: entry_of(word) for key, word in {**SOUND, mean: "5.02"}.items()}
    for again, wanted in (((), True), (("30",), True), (("10",), False)):
        books = replace(BOOKS, done_again={*again})
        (told,) = judged(replace(FORM, fields=fields), entries, books)
        assert (told.code, told.blocks) == ("count", wanted)


def test_a_box_that_is_not_typed_stays_open_but_for_a_signature():
    assert _stops({GAP: "", SIGN: ""}, again=["10"]) == ["missing", "hold"]
    assert _stops({SIGN: "", SIGN_DAY: ""}, again=["30"]) == ["missing", "missing", "hold"]
    assert _stops({SIGN: "", SIGN_DAY: ""}, again=["10"]) == []
    assert _stops({GAP: "N/A: forgotten"}, again=["10"]) == ["reason"]


def test_work_that_is_done_again_is_on_no_side_of_a_hold():
    late = {SIGN_DAY: "04 NOV 2026"}
    assert _stops(late) == ["overrun"]
    assert _stops(late, again=["10"]) == []
    early = {WORK_DAY: "02 NOV 2026"}
    assert _stops(early) == ["overrun"]
    assert _stops(early, again=["30"]) == []


def _on_a_record(operation: str, day: str) -> list[str]:
    """What is told of a hold where an operation has a row with a day and a stamp on its record."""
    place = ("tightening-record", operation, f"operation {operation}: 24")
    row = (Field(*place, "date", "date", ("date",)),
           Field(*place, "volunteer", "stamp", ("volunteer",), who="volunteer"))  # fmt: skip
    form = replace(FORM, fields=(*FORM.fields, *row))
    words = {**SOUND, row[0].key: day, row[1].key: "LQ12"}
    found = judged(form, {key: entry_of(word) for key, word in words.items()}, BOOKS)
    return [each.says for each in found if each.code == "overrun"]


def test_a_hold_closes_what_is_written_on_a_record_too():
    """The traveller has operation 10 on the 2nd, the release and operation 30 on the 3rd."""
    on = "on the tightening record"
    assert _on_a_record("10", "2026-11-03") == _on_a_record("30", "2026-11-03") == []
    assert _on_a_record("10", "2026-11-04") == [
        f"signed 2026-11-04 {on}, after hold 20 was released"]  # fmt: skip
    assert _on_a_record("30", "2026-11-02") == [
        f"signed 2026-11-02 {on}, before hold 20 was released"]  # fmt: skip


def test_a_hold_that_is_released_again_closes_what_was_done_until_then():
    late = {SIGN_DAY: "04 NOV 2026"}
    for on, wanted in (("2026-11-04", []), ("2026-11-03", ["overrun"])):
        assert _stops(late, ["20"], [_sheet("20R1", on)]) == wanted
    # A release on a sheet that is not complete, or for which a later one stands, is none.
    assert _stops(late, [], [_sheet("20R1", "2026-11-04")]) == ["overrun"]
    assert _stops(late, ["20", "20R1"], [_sheet("20R1", "2026-11-04")]) == ["overrun"]
    # Work behind it that began after the first release stays where it was.
    assert _stops({}, ["20"], [_sheet("20R1", "2026-11-20")]) == []


@pytest.mark.parametrize(
    "words",
    [{HOLD: "LQ14"}, {HOLD: "LQ99"}, {HOLD: "", HOLD_DAY: ""}, {HOLD_DAY: ""}, {HOLD: ""}],
)
def test_a_hold_that_nobody_could_release_is_one_only_from_its_next_release_on(words):
    """Operation 30 behind it went on on the 3rd."""
    code = _stops(words)
    assert code
    in_time = [_sheet("20R1", "2026-11-03")]
    assert _stops(words, ["20"], in_time) == []
    too_late = [_sheet("20R1", "2026-11-05")]
    assert _stops(words, ["20"], too_late) != []
    assert _stops(words, ["20", "30", "40"], too_late) == []


def test_a_hold_that_is_done_again_and_not_released_there_is_not_released():
    assert "hold" in _stops({HOLD: "", HOLD_DAY: ""}, ["20"], [])


OUT = {GAP: "0.9"}  # limits 0.5 to 0.8; the hold behind it is released on 2026-11-03


def _allowed_on(day: int) -> dict:
    return {"conceded": [(GAP, "0.9")], "conceded_on": {(GAP, "0.90"): date(2026, 11, day)}}


def test_a_hold_that_was_released_before_a_value_was_allowed_asks_for_the_inspector():
    assert _stops(OUT, **_allowed_on(3)) == []
    assert _stops(OUT, **_allowed_on(4)) == ["over"]
    (told,) = [each for each in _told(OUT, **_allowed_on(4)) if each.code == "over"]
    says = "released 2026-11-03 over operation 10, gap 0.9, which was allowed later"
    assert (told.operation, told.says) == ("20", f"{says}: the inspector decides, on a slip")
    later = _allowed_on(4)
    later["conceded"].append((HOLD_DAY, "03 NOV 2026"))
    assert _stops(OUT, **later) == []
    (told,) = [each for each in _told(OUT, **later) if each.code == "over"]
    assert told.says == f"{says}, its slip is done with"


def test_a_value_that_nothing_allows_or_of_another_place_is_told_by_itself():
    assert _stops(OUT) == ["out"]
    assert _stops(OUT, again=["10"]) == []
    assert _stops(OUT, again=["20"], later=[_sheet("20R1", "2026-11-05")], **_allowed_on(4)) == []
    other = _allowed_on(4)
    other["conceded_on"] = {((T, "30", "gap", ""), "0.9"): date(2026, 11, 4)}
    assert _stops(OUT, **other) == []


@pytest.mark.parametrize(
    "row",
    [
        (T, "10", "sign done"),
        (T, "20", "sign hold"),
        ("rigging-sheet", "10", "operation 10, as it happened"),
    ],
)
def test_a_slip_that_is_named_beside_the_signatures_was_known(row):
    slip = Field(*row, "slip no.", "words", ("slip no.",), may_be_empty=True)
    form = replace(FORM, fields=(*FORM.fields, slip))
    for word, wanted in (("NC-A-0001", []), ("", ["over"]), ("none", ["over"]), ("-", ["over"])):
        words = {**SOUND, **OUT, slip.key: word}
        entries = {key: entry_of(each) for key, each in words.items()}
        found = judged(form, entries, replace(BOOKS, **_allowed_on(4)))
        assert [each.code for each in found if each.blocks] == wanted
