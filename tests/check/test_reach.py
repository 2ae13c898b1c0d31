"""Readings and the instruments of the workshop in; limits that none of them reaches, and dates
without their bound, out."""

from __future__ import annotations

from dataclasses import replace

from generator.check.instrument_rules import guard_advice, out_of_reach
from generator.check.reading_rules import bound_advice
from generator.composing.lists import instrument_rows
from generator.process import DAY_OF_USE
from generator.quantities.text import read_amount, read_range
from generator.workshop import chosen, open_shop
from tests.sample import ROOT

SHOP = open_shop(ROOT)
PROCESS = SHOP.processes[chosen(SHOP, ["T6-P-0210"])[0]]
GAUGE = replace(
    next(i for i in SHOP.workshop.instruments if i.kind == "micrometer"),
    number="G-900", range=read_range("0 to 25 mm"),
)  # fmt: skip


def _of(lower: str | None, upper: str | None, *held, **amounts):
    reading = replace(
        next(r for o in PROCESS.operations for r in o.readings),
        name="bore", entry="number", instrument="micrometer", nominal=None,
        lower=read_amount(lower) if lower else None,
        upper=(amounts and "bore_high") or (read_amount(upper) if upper else None),
    )  # fmt: skip
    operation = replace(PROCESS.operations[0], readings=(reading,))
    process = replace(PROCESS, operations=(operation,))
    return [each.limit for each in out_of_reach(process, held, amounts)]


def test_limits_that_no_instrument_of_the_kind_reaches():
    assert _of("31.98 mm", "32.10 mm", GAUGE) == ["32.1 mm"]
    assert _of("24.98 mm", "25.00 mm", GAUGE) == []
    assert _of("24.98 mm", "25.01 mm", GAUGE) == ["25.01 mm"]
    assert _of(None, None, GAUGE, bore_high=read_amount("26 mm")) == ["26 mm"]


def test_each_end_may_be_read_with_another_instrument():
    second = replace(GAUGE, number="G-901", range=read_range("25 to 50 mm"))
    assert _of("24.98 mm", "25.01 mm", GAUGE, second) == []
    assert _of("24.98 mm", "50.01 mm", GAUGE, second) == ["50.01 mm"]
    assert _of("0 mm", "30 mm", second) == []  # nothing is seen, not measured


def test_a_guarded_limit_of_nothing_is_told():
    first = replace(
        next(r for o in PROCESS.operations for r in o.readings), name="bow", nominal=None,
        instrument="micrometer", lower=read_amount("0 mm"), upper=read_amount("0.5 mm"),
    )  # fmt: skip
    shop = replace(SHOP.workshop, guarded=True)

    def told(workshop, **other):
        operation = replace(PROCESS.operations[0], readings=(replace(first, **other),))
        process = replace(PROCESS, operations=(operation,))
        return [each.wrong for each in guard_advice(process, workshop)]

    wrong = "'bow' of nothing is not accepted: its lower limit is guarded like any other"
    assert told(shop) == [wrong]
    assert told(replace(shop, guarded=False)) == []
    assert told(shop, lower=None) == told(shop, upper=None) == told(shop, instrument="") == []
    assert told(shop, lower=read_amount("-0.1 mm")) == []
    assert told(shop, lower=read_amount("0 °C"), upper=read_amount("9 °C")) == []  # a point


def test_nothing_is_said_where_nobody_knows():
    assert _of("31.98 mm", "32.10 mm") == []
    assert _of("31.98 mm", "32.10 mm", GAUGE, replace(GAUGE, range=None)) == []
    assert _of("31.98 s", "32.10 s", GAUGE) == []
    assert _of("-0.02 mm", "0.02 mm", replace(GAUGE, range=read_range("4 to 10 mm"))) == []


def test_the_tool_list_says_that_none_reaches():
    kind = replace(PROCESS.instruments[0], kind="micrometer")
    first = replace(
        next(r for o in PROCESS.operations for r in o.readings),
        instrument="micrometer", lower=None, upper=read_amount("32.10 mm"), nominal=None,
    )  # fmt: skip
    operation = replace(PROCESS.operations[0], readings=(first,))
    process = replace(PROCESS, operations=(operation,), instruments=(kind,))
    shop = replace(SHOP.workshop, instruments=(GAUGE,))
    (row,) = instrument_rows(process, shop, None)
    due = GAUGE.check_due.isoformat()
    said = f"G-900 due {due}; NONE REACHES 32.1 mm of operation {operation.number}"
    assert row["found"] == said


def test_advice_tells_it_and_the_demo_workshop_reaches_all():
    from generator.workshop import advice_on, work_out

    for shown in SHOP.processes:
        workings, _ = work_out(SHOP, shown)
        assert [f for f in advice_on(SHOP, shown, workings) if f.code == "range"] == []
    short = replace(SHOP.workshop, instruments=tuple(
        replace(i, range=read_range("0 to 0.5 mm")) if i.kind == "micrometer" else i
        for i in SHOP.workshop.instruments))  # fmt: skip
    shown = chosen(SHOP, ["T6-P-0120"])[0]
    workings, _ = work_out(SHOP, shown)
    told = [f for f in advice_on(replace(SHOP, workshop=short), shown, workings)
            if f.code == "range"]  # fmt: skip
    assert told
    assert all(each.advice for each in told)


def _dated(name: str, bound: str = "") -> list[tuple[str, bool]]:
    first = next(r for o in PROCESS.operations for r in o.readings)
    reading = replace(first, name=name, entry="date", lower=None, upper=None, nominal=None,
                      not_before=bound)  # fmt: skip
    operation = replace(PROCESS.operations[0], readings=(reading,))
    found = bound_advice(replace(PROCESS, operations=(operation,)))
    return [(each.right, each.advice) for each in found]


def test_a_date_that_by_its_name_must_hold_is_advised_a_bound():
    told = [("not before: day of use", True)]
    for name in ("seal life date", "Use by", "next check is due on", "expiry of the sealant"):
        assert _dated(name) == told
        assert _dated(name, DAY_OF_USE) == []
    assert _dated("day of the test") == _dated("residue seen on") == []


def test_the_demo_has_a_bound_wherever_one_is_advised():
    assert [f for each in SHOP.processes.values() for f in bound_advice(each)] == []
