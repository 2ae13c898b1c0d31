"""Values and the instruments beside them in; those that the instruments cannot have read, out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

import pytest

from generator.process import Instrument
from generator.quantities.text import read_amount, read_range
from generator.results.case import Books, Case, Verdict
from generator.results.entries import entry_of
from generator.results.form import Field, Form
from generator.results.form_says import SINCE
from generator.results.judge import judged
from generator.results.judge_counts import instruments

DUE = date(2030, 1, 1)
HELD = {
    number: Instrument(number, kind, None, DUE, range=read_range(range) if range else None)
    for number, kind, range in (
        ("G-105", "internal micrometer", "4 to 10 mm"),
        ("G-101", "micrometer", "0 to 25 mm"),
        ("G-240", "torque wrench", "5 to 40 lbf·in"),
        ("G-244", "torque wrench", "10 to 100 N·m"),
        ("G-171", "thermometer", "-40 to 60 °C"),
        ("G-160", "pressure gauge", "0 to 160 bar g"),
        ("G-180", "stop watch", ""),
        ("G-102", "micrometer", ""),
        ("G-103", "micrometer", "25 to 50 mm"),
        ("G-175", "moisture meter", "5 to 30 %"),
        ("G-190", "turn counter", "0 to 100 count"),
    )
}
BOOKS = Books({}, HELD)


def _value(row: str, unit: str, kind: str, **more: str) -> Field:
    field = Field("traveller", "10", row, "", "number", (f"{row}, {unit}",), unit=unit, **more)
    return replace(field, measured_with=kind)


def _said(*told: tuple[Field, str], **instruments: str) -> list[str]:
    return [each.says for each in _told(dict(told), **instruments)]


def _told(words: Mapping[Field, str], books: Books = BOOKS, **instruments: str) -> list[Verdict]:
    return [each for each in _judged(words, books, **instruments) if each.code == "range"]


def _judged(words: Mapping[Field, str], books: Books, **instruments: str) -> tuple[Verdict, ...]:
    named = {
        Field("traveller", "10", f"{kind.replace('_', ' ')} no.", "", "words", ("no.",)): number
        for kind, number in instruments.items()
    }
    fields = {**words, **named}
    entries = {field.key: entry_of(word) for field, word in fields.items()}
    form = Form(tuple(fields), ("10",), ())
    return judged(form, entries, books)


BORE = _value("bore", "mm", "internal micrometer")
ROD = _value("rod", "mm", "micrometer")
TORQUE = _value("torque", "lbf·in", "torque wrench")


@pytest.mark.parametrize(
    ("told", "instruments", "wanted"),
    [
        ((BORE, "32.04"), {"internal_micrometer": "G-105"},
         ["32.04 mm, and G-105 reads 4 to 10 mm: it cannot have read that"]),
        ((BORE, "10.00"), {"internal_micrometer": "G-105"}, []),
        ((BORE, "3.99"), {"internal_micrometer": "G-105"},
         ["3.99 mm, and G-105 reads 4 to 10 mm: it cannot have read that"]),
        ((TORQUE, "285"), {"torque_wrench": "G-240"},
         ["285 lbf·in, and G-240 reads 5 to 40 lbf·in: it cannot have read that"]),
        # 285 lbf·in are 32.2 N·m.
        ((TORQUE, "285"), {"torque_wrench": "G-244"}, []),
        ((TORQUE, "56"), {"torque_wrench": "G-244"},
         ["56 lbf·in, and G-244 reads 10 to 100 N·m: it cannot have read that"]),
        ((_value("oil", "°C", "thermometer"), "-41"), {"thermometer": "G-171"},
         ["-41 °C, and G-171 reads -40 to 60 °C: it cannot have read that"]),
        ((_value("oil", "°C", "thermometer"), "-40"), {"thermometer": "G-171"}, []),
        # Absolute pressure on a gauge that counts from the air outside is another scale.
        ((_value("air", "bar a", "pressure gauge"), "200"), {"pressure_gauge": "G-160"}, []),
        ((_value("time", "s", "stop watch"), "9000"), {"stop_watch": "G-180"}, []),
        ((_value("turns", "count", ""), "999"), {"micrometer": "G-101"}, []),
        # What two readings differ by may be below zero, or small where the scale begins higher.
        ((ROD, "-24"), {"micrometer": "G-101"}, []),
        ((ROD, "-26"), {"micrometer": "G-101"},
         ["-26 mm, and G-101 reads 0 to 25 mm: it cannot have read that"]),
        ((replace(BORE, lower="-0.02", upper="0.02"), "0.01"),
         {"internal_micrometer": "G-105"}, []),
    ],
)  # fmt: skip
def test_a_value_is_within_the_range_of_what_it_was_read_with(told, instruments, wanted):
    assert _said(told, **instruments) == wanted


def test_each_value_is_judged_by_the_instrument_of_its_kind():
    both = {"internal_micrometer": "G-105", "micrometer": "G-101"}
    assert _said((BORE, "9.98"), (ROD, "17.98"), **both) == []
    (told,) = _said((BORE, "17.98"), (ROD, "17.98"), **both)
    assert told.startswith("17.98 mm, and G-105")


def test_where_the_sheets_do_not_say_with_which_any_instrument_of_the_operation_will_do():
    both = {"internal_micrometer": "G-105", "micrometer": "G-101"}
    unsaid = replace(BORE, measured_with="")
    assert _said((unsaid, "17.98"), **both) == []
    (told,) = _told({unsaid: "32.04"}, **both)
    says = "32.04 mm, and G-105 reads 4 to 10 mm, G-101 reads 0 to 25 mm: was it read with another?"
    assert (told.says, told.blocks) == (says, False)  # perhaps it was read with nothing
    (told,) = _told({BORE: "32.04"}, **both)
    assert told.blocks


def test_the_values_of_a_log_are_read_with_the_instruments_below_it():
    row = ("traveller", "10", "0 min")
    clock = Field(*row, "", "clock", ("0 min",), unit=SINCE)
    value = Field(*row, "pressure, bar g", "number", ("pressure, bar g",), unit="bar g")
    (told,) = _told({clock: "10:00", value: "161"}, pressure_gauge="G-160")
    assert (told.says, told.blocks) == (
        "161 bar g, and G-160 reads 0 to 160 bar g: it cannot have read that", True)  # fmt: skip


@pytest.mark.parametrize("number", ["G-101, G-103", "G-101 and G-103", "G-103 + G-101"])
def test_two_instruments_of_a_kind_may_stand_in_one_box(number):
    """The bench took a second one where the first reached no further."""
    assert [v.says for v in _told({ROD: "26"}, micrometer=number)] == []
    assert [v.blocks for v in _told({ROD: "51"}, micrometer=number)] == [True]
    box = Field("traveller", "10", "micrometer no.", "", "words", ("no.",))

    def said(word: str) -> list[str]:
        case = Case(Form((box,), ("10",), ()), {box.key: entry_of(word)}, BOOKS)
        return [v.says for v in instruments(case)]

    assert said(number) == []
    assert said(f"{number}, G-999") == ["the workshop has no instrument G-999"]
    assert said(f"G-160, {number}") == ["G-160 is a pressure gauge, no micrometer"]


def _log(*values: tuple[str, str, str], **named: str) -> list[str]:
    """A log of a sheet of its own, with values by time, unit and word, and the instruments that are
    named at the head of that sheet."""
    head = {Field("log", "", "checked", f"{k.replace('_', ' ')} no.", "words", ("no.",)): number
            for k, number in named.items()}  # fmt: skip
    words = dict(head)
    for at, unit, word in values:
        row = ("log", "10", at)
        words[Field(*row, "clock HH:MM", "clock", (at,), unit=SINCE)] = "10:00"
        words[Field(*row, unit, "number", (f"value, {unit}",), unit=unit)] = word
    return [f"{each.row} {each.says}" for each in _told(words) if each.blocks]


def test_every_quantity_of_a_row_of_a_log_is_held_against_its_own_instrument():
    """One decimal point that is lost in each: 105.0 bar g and 18.1 °C."""
    named = {"pressure_gauge": "G-160", "thermometer": "G-171"}
    rows = [("2 min", "bar g", "1050"), ("2 min", "°C", "181"), ("4 min", "bar g", "105")]
    assert _log(*rows, **named) == [
        "2 min: bar g 1050 bar g, and G-160 reads 0 to 160 bar g: it cannot have read that",
        "2 min: °C 181 °C, and G-171 reads -40 to 60 °C: it cannot have read that",
    ]
    assert _log(("2 min", "bar g", "160"), ("2 min", "°C", "60"), **named) == []
    assert _log(("2 min", "bar g", "161")) == []


def test_an_instrument_of_the_operation_goes_before_one_at_the_head_of_its_sheet():
    row = ("log", "10", "2 min")
    clock = Field(*row, "", "clock", ("2 min",), unit=SINCE)
    value = Field(*row, "°C", "number", ("oil, °C",), unit="°C")
    head = Field("log", "", "checked", "thermometer no.", "words", ("no.",))
    own = Field("log", "10", "thermometer no.", "", "words", ("no.",))
    words = {clock: "10:00", value: "100", head: "G-171", own: "G-172"}
    wide = Instrument("G-172", "thermometer", None, DUE, range=read_range("0 to 100 °C"))
    assert _told(words, Books({}, {**HELD, "G-172": wide})) == []
    assert len(_told({**words, own: ""}, Books({}, {**HELD, "G-172": wide}))) == 1


def test_one_of_two_instruments_of_a_kind_that_reads_it_or_of_which_nobody_knows_is_enough():
    """G-102 has no range: it may reach that, but where another surely does not, somebody looks."""
    with_two = {"micrometer": "G-101", "second_micrometer": "G-102"}
    assert [each.says for each in _told({ROD: "26"}, **with_two)] == [
        "26 mm, and G-101 reads 0 to 25 mm: it cannot have read that"
    ]
    reaches = {"micrometer": "G-101", "second_micrometer": "G-103"}
    assert _told({ROD: "26"}, **reaches) == []


@pytest.mark.parametrize(
    ("value", "instruments", "wanted"),
    [
        # Cracks are counted by eye beside a moisture meter in %, which has no dimension either.
        (_value("cracks found", "count", ""), {"moisture_meter": "G-175"}, 0),
        (_value("cracks found", "count", "moisture meter"), {"moisture_meter": "G-175"}, 0),
        (_value("moisture", "%", "moisture meter"), {"moisture_meter": "G-175"}, 1),
        (_value("share", "ratio", "moisture meter"), {"moisture_meter": "G-175"}, 1),
        (_value("turns", "count", "turn counter"), {"turn_counter": "G-190"}, 1),
        (_value("drops found", "count", ""), {"turn_counter": "G-190"}, 0),
    ],
)
def test_what_is_counted_is_read_with_what_counts(value, instruments, wanted):
    assert len(_told({value: "101"}, **instruments)) == wanted


def test_an_instrument_that_was_given_away_has_the_range_that_was_frozen_with_the_traveller():
    """Listed today, listed then, and which of both says what it can read."""
    none = replace(HELD["G-101"], range=None)
    for today, then, wanted in (
        ({}, HELD, 1), ({"G-101": none}, HELD, 1), (HELD, {}, 1), (HELD, {"G-101": none}, 1),
        ({"G-101": none}, {}, 0), ({"G-101": none}, {"G-101": none}, 0),
    ):  # fmt: skip
        assert len(_told({ROD: "26"}, Books({}, today, then), micrometer="G-101")) == wanted
    wider = replace(HELD["G-101"], range=read_range("0 to 50 mm"))
    assert _told({ROD: "26"}, Books({}, {"G-101": wider}, HELD), micrometer="G-101") == []


def test_a_wrench_that_is_set_beyond_its_range_is_told_and_the_drag_beside_it_is_not():
    row = ("tightening-record", "110", "operation 110")
    wrench = Field(*row, "wrench no.", "words", ("wrench no.",))
    setting = Field(*row, "wrench set to, lbf·in", "words", ("wrench set to, lbf·in",))
    drag = Field(*row, "running drag, lbf·in", "words", ("running drag, lbf·in",))
    words = {wrench: "G-240", setting: "68", drag: "2"}
    entries = {field.key: entry_of(word) for field, word in words.items()}
    form = Form(tuple(words), ("110",), ())
    told = [e.says for e in judged(form, entries, Books({}, HELD)) if e.code == "range"]
    assert told == ["68 lbf·in, and G-240 reads 5 to 40 lbf·in: it cannot have read that"]


SHEET = "functional-test-sheet"
SCALE = Field(SHEET, "", "checked", "full scale, bar g", "words", ("full scale, bar g",))
GAUGE = Field(SHEET, "", "checked", "gauge no.", "words", ("gauge no.",))
READ_WITH = Field(SHEET, "150", "pressure gauge no.", "", "words", ("pressure gauge no.",))
PROOF = Field(
    SHEET, "150", "pressure at start", "", "number", ("pressure at start, bar g",),
    lower="90.0", upper="92.0", unit="bar g",
)  # fmt: skip


def _scaled(full_scale: str, gauge: str = "G-160", scale: Field = SCALE) -> list[tuple[str, str]]:
    words = {scale: full_scale, GAUGE: gauge, READ_WITH: "G-160", PROOF: "91.0"}
    entries = {field.key: entry_of(word) for field, word in words.items()}
    found = judged(Form(tuple(words), ("150",), ()), entries, Books({}, HELD))
    return [(each.code, each.says) for each in found]


def test_a_gauge_ends_no_lower_than_what_is_read_on_it():
    says = "10 bar g, and operation 150 has 92 bar g on that gauge"
    assert _scaled("10") == [("range", says)]
    assert _scaled("92") == []
    unknown = ("instrument", "the workshop has no instrument G-999")
    assert _scaled("10", gauge="G-999") == [unknown]  # and nothing is known of its scale


def test_a_gauge_has_the_full_scale_that_was_worked_out():
    worked = replace(SCALE, kind="number", lower="113", unit="bar g")
    assert _scaled("10", scale=worked) == [("out", "10 bar g is below 113: a slip is needed")]
    assert _scaled("112", scale=worked) == [("out", "112 bar g is below 113: a slip is needed")]
    assert _scaled("160", scale=worked) == []


def test_a_scale_that_was_conceded_is_told_no_more():
    words = {SCALE: "10", GAUGE: "G-160", READ_WITH: "G-160", PROOF: "91.0"}
    entries = {field.key: entry_of(word) for field, word in words.items()}
    form = Form(tuple(words), ("150",), ())
    for value, wanted in (("10", []), ("11", ["range"])):
        books = Books({}, HELD, conceded=[(SCALE.key, value)])
        assert [each.code for each in judged(form, entries, books)] == wanted


def test_a_gauge_ends_no_lower_than_what_must_at_least_be_read_on_it():
    """A least pressure alone, before anything is read."""
    least = replace(PROOF, upper="", may_be_empty=True)
    words = {SCALE: "89", GAUGE: "G-160", READ_WITH: "G-160", least: ""}
    for top, wanted in (("89", ["range"]), ("90", [])):
        entries = {field.key: entry_of(word) for field, word in {**words, SCALE: top}.items()}
        found = judged(Form(tuple(words), ("150",), ()), entries, Books({}, HELD))
        assert [each.code for each in found] == wanted


@pytest.mark.parametrize(
    ("number", "wanted"),
    [("G-240", []), ("G-244", ["overdue"]), ("G-160", ["instrument"]), ("G-999", ["instrument"])],
)
def test_a_wrench_of_a_record_is_any_wrench_of_the_list_that_is_in_date(number, wanted):
    """The list knows kinds of wrenches, and the record asks for one of them."""
    wrench = Field("tightening-record", "130", "operation 130", "wrench no.", "words", ("no.",))
    day = Field("tightening-record", "130", "operation 130: 24", "date", "date", ("date",))
    stamp = replace(day, name="stamp", kind="stamp", may_be_empty=True)
    late = {**HELD, "G-244": replace(HELD["G-244"], check_due=date(2026, 11, 25))}
    entries = {wrench.key: entry_of(number), day.key: entry_of("26 NOV 2026")}
    found = judged(Form((wrench, day, stamp), ("130",), ()), entries, Books({}, late))
    assert [each.code for each in found] == wanted


@pytest.mark.parametrize("digits", [20, 309, 400, 5_000])
def test_a_number_longer_than_any_that_is_recorded_is_told_as_none(digits):
    """Records of before have such numbers, and are judged each time."""
    finest = replace(HELD["G-101"], reads_to=read_amount("0.001 mm"))
    words = {_value("skin", "mm", "micrometer"): "9" * digits}
    told = _judged(words, replace(BOOKS, instruments={"G-101": finest}), micrometer="G-101")
    assert [each.code for each in told if each.code in ("number", "range", "step")] == ["number"]
