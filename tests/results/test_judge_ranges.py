"""Values and the instruments beside them in; those that the instruments cannot have read, out."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from generator.process import Instrument
from generator.quantities.text import read_range
from generator.results.case import Books
from generator.results.entries import entry_of
from generator.results.form import Field, Form
from generator.results.judge import judged

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
    )
}


def _value(row: str, unit: str, kind: str, **more: str) -> Field:
    field = Field("traveller", "10", row, "", "number", (f"{row}, {unit}",), unit=unit, **more)
    return replace(field, measured_with=kind)


def _said(*told: tuple[Field, str], **instruments: str) -> list[str]:
    named = {
        Field("traveller", "10", f"{kind.replace('_', ' ')} no.", "", "words", ("no.",)): number
        for kind, number in instruments.items()
    }
    fields = {**dict(told), **named}
    entries = {field.key: entry_of(word) for field, word in fields.items()}
    form = Form(tuple(fields), ("10",), ())
    return [each.says for each in judged(form, entries, Books({}, HELD)) if each.code == "range"]


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
    (told,) = _said((unsaid, "32.04"), **both)
    assert told == "32.04 mm, and G-105 reads 4 to 10 mm, G-101 reads 0 to 25 mm: it cannot have " \
        "read that"  # fmt: skip


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
