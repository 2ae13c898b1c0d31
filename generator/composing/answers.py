"""Strips, tables of ready answers, maps and figures of one operation in; their rows out."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from generator.composing.writer import Writer
from generator.compute import strip_rows
from generator.escape import Markdown, escape
from generator.findings import Fault, Refusal, fault, near_word
from generator.process import Operation, Strip
from generator.quantities.amount import Amount
from generator.quantities.rounding import decimals, plain, rounded, with_minus
from generator.read import Steps
from generator.working import Working

_MOST_ROWS = 11


def strip(writer: Writer, here: Steps, strip: Strip) -> Mapping[str, Any] | None:
    try:
        return _strip_rows(writer, here, strip)
    except Refusal as refusal:
        writer.faults.append(fault(here, refusal))
    return None


def _strip_rows(writer: Writer, here: Steps, strip: Strip) -> Mapping[str, Any]:
    given = writer.process.given.get(strip.over)
    nominal = writer.workings.numbers.get(strip.over)
    if given is None or nominal is None or nominal.amount is None:
        near = near_word(strip.over, writer.process.given)
        right = f"{near}?" if near else "the name of a given"
        raise Refusal("strip", f"the strip runs over '{strip.over}', which is no given here", right)
    if given.range is None:
        raise Refusal(
            "strip",
            f"'{strip.over}' has no range, so the strip has no STOP",
            f"range: under given {strip.over}",
        )
    _inside_range(strip, given.range)
    if strip.first.unit.text != nominal.unit:
        wrong = f"the strip is in {strip.first.unit.text}, '{strip.over}' in {nominal.unit}"
        raise Refusal("strip", wrong, f"from, to and step in {nominal.unit}")
    for name in strip.of:
        known = writer.workings.numbers.get(name)
        if known is not None and (known.order or not known.mark.startswith("c")):
            wrong = f"'{name}' is no number that is worked out"
            raise Refusal("strip", wrong, "a result under work out, such as flat.length")
        if known is None:
            told = writer.unnamed(here, name)
            raise Refusal(told.code, told.wrong, told.right)
    if round((strip.last.value - strip.first.value) / strip.step.value) + 1 > _MOST_ROWS:
        raise Refusal("strip", f"the strip has more than {_MOST_ROWS} columns", "a larger step")
    rows = strip_rows(
        writer.process, writer.workings, strip.of, strip.over, strip.first, strip.last, strip.step
    )
    for k, name in enumerate(strip.of):
        amounts = [results[k].amount for _, results in rows]
        if len({amount.value for amount in amounts if amount is not None}) == 1:
            wrong = f"'{name}' does not depend on '{strip.over}'"
            raise Refusal("strip", wrong, "a number that does, or another given under over")
    step = _step_text(strip)
    heads = [rounded(value.number(), step) for value, _ in rows]
    framed = [abs(v.value - nominal.amount.value) < 1e-9 * max(abs(v.value), 1e-6) for v, _ in rows]
    heads = [
        f"**{escape(h)}**" if f else str(escape(h)) for h, f in zip(heads, framed, strict=True)
    ]
    corner = f"{strip.over.replace('_', ' ')} {nominal.unit}".strip()
    lines = [
        (f"{rows[0][1][k].meaning} {rows[0][1][k].unit}".strip(), [r[k].shown for _, r in rows])
        for k in range(len(strip.of))
    ]
    return {"corner": corner, "heads": [Markdown(h) for h in heads], "lines": lines}


def lookup(operation: Operation) -> Mapping[str, Any] | None:
    lookup = operation.lookup
    if lookup is None:
        return None
    flag = " TYPED" if lookup.source == "calculated" else ""
    rows = []
    for row in lookup.rows:
        first, *others = (escape(with_minus_sign(cell)) for cell in row)
        framed = Markdown(f"**{first}**") if row[0] == lookup.framed else first
        rows.append([framed, *others])
    return {"title": lookup.title, "flag": flag, "columns": lookup.columns, "rows": rows}


def fastener_map(writer: Writer, here: Steps, operation: Operation) -> Mapping[str, str] | None:
    plan = writer.process.maps.get(operation.map)
    if plan is None:
        return None
    rows = {
        "fasteners": str(plan.fasteners),
        "item": plan.item,
        "pitch circle": plan.pitch_circle.typed,
        "first": plan.first,
        "numbering": plan.numbering,
        "looking": plan.looking,
    }
    if plan.order:
        rows |= _order(writer, here, plan.order, plan.fasteners)
    return rows


def _order(writer: Writer, here: Steps, name: str, fasteners: int) -> Mapping[str, str]:
    number = writer.workings.numbers.get(name)
    if number is None or not number.order:
        writer.faults.append(
            Fault(
                here,
                "name",
                f"'{name}' is no tightening order",
                "a working that gives an order",
            )
        )
        return {}
    if sorted(number.order) != list(range(1, fasteners + 1)):
        wrong = f"the order '{name}' is for {len(number.order)} fasteners; the map has {fasteners}"
        writer.faults.append(Fault(here, "count", wrong, f"fasteners: {fasteners} in both"))
    return {"order": number.text}


def figure(writer: Writer, here: Steps, operation: Operation) -> Mapping[str, Any] | None:
    if not operation.figure:
        return None
    working = writer.workings.workings.get(operation.figure)
    if working is None or working.ran is None or not working.ran.calculation.figure:
        writer.faults.append(
            Fault(here, "figure", f"'{operation.figure}' has no figure", "a working with a figure")
        )
        return None
    return {"kind": working.ran.calculation.figure, "rows": _bend_rows(working)}


def with_minus_sign(text: str) -> str:
    """A cell that begins with a hyphen and a digit begins with a true minus."""
    return with_minus(text) if re.match(r"-\d", text) else text


def _step_text(strip: Strip) -> str:
    """The decimals in which the entries of a strip are printed."""
    scale = strip.first.unit
    numbers = (strip.step.value / scale.factor, strip.first.number())
    places = max(decimals(plain(n).replace("\N{MINUS SIGN}", "-")) for n in numbers)
    return f"{10**-places:.{places}f}"


def _inside_range(strip: Strip, limits: Amount) -> None:
    kinds = {(a.unit.dimension) for a in (strip.first, strip.last, strip.step, limits)}
    if len(kinds) > 1:
        raise Refusal(
            "unit", "the strip's from, to and step are different kinds of quantity", "one unit"
        )
    assert limits.low is not None and limits.high is not None
    slack = 1e-9 * max(abs(limits.high), 1e-9)
    if strip.first.value < limits.low - slack or strip.last.value > limits.high + slack:
        wrong = f"the strip runs from {strip.first.typed} to {strip.last.typed}, outside the range"
        raise Refusal("strip", wrong, f"inside {limits.typed}: a strip is never extended")
    if strip.last.value <= strip.first.value or strip.step.value <= 0:
        raise Refusal("strip", "the strip does not rise from 'from' to 'to'", "from below to")
    rungs = (strip.last.value - strip.first.value) / strip.step.value
    if abs(rungs - round(rungs)) > 1e-6:
        raise Refusal(
            "strip",
            f"steps of {strip.step.typed} do not end at {strip.last.typed}",
            "a step that divides the range",
        )


def _bend_rows(working: Working) -> list[tuple[str, str]]:
    assert working.ran is not None
    inputs = working.ran.inputs
    rows = [("thickness", inputs["thickness"].numbers)]
    for n, leg in enumerate(inputs["legs"], start=1):
        rows.append((f"leg {n}", leg.numbers))
        if n <= len(inputs["bends"]):
            bend = inputs["bends"][n - 1]
            rows.append((f"bend {n}", f"{bend.bend_angle.numbers} R {bend.radius.numbers} up"))
    return rows
