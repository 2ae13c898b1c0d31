"""The rows of a log and the reading at its end, in; a value that the sheet itself says may not be,
out.

Held is only what the sheet says: a quantity "pressure" of the log and a reading "pressure at the
end" of the same operation in the same unit, whatever stands behind a comma, as in "pressure at the
end, last test": a log of a test that does not count shows nothing of the one that does. The last
row is taken at the end. A pressure is never above what is printed as the most at the end; any other
quantity may have been on its way there.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.findings import Refusal
from generator.quantities.units import PRESSURE, unit
from generator.results.case import Case, Verdict
from generator.results.form import Field
from generator.results.form_says import SINCE
from generator.results.judge_values import limit, on_a_slip, outside
from generator.results.values import number_in

_AT_THE_END = " at the end"


def logs(case: Case) -> Iterator[Verdict]:
    """A value of a log beyond the limits of the reading at its end."""
    rows = {f.key[:3] for f in case.form.fields if f.kind == "clock" and f.unit == SINCE}
    logged: dict[tuple[str, str, str], list[Field]] = {}
    for each in case.form.fields:
        if each.kind == "number" and each.key[:3] in rows:
            logged.setdefault((each.sheet, each.operation, each.name), []).append(each)
    for (_, operation, quantity), fields in logged.items():
        named = (operation, quantity + _AT_THE_END, "number")
        ends = [f for f in case.form.fields
                if (f.operation, f.row.partition(",")[0], f.kind) == named]  # fmt: skip
        if len(ends) == 1 and ends[0].unit == fields[-1].unit:
            yield from _held(case, fields, ends[0])


def _held(case: Case, fields: list[Field], end: Field) -> Iterator[Verdict]:
    """What is wrong with the values of one quantity, the last of them at the end."""
    for each in fields:
        number = number_in(case.written(each))
        lower = limit(case, end, "lower") if each is fields[-1] else ""
        upper = limit(case, end, "upper") if each is fields[-1] else _never_above(end)
        if number is not None and (wrong := outside(number, lower or "", upper or "")):
            says = f"{case.written(each)} {each.unit}{wrong}, as of {end.row}"
            yield on_a_slip(case, each, "out", says)


def _never_above(end: Field) -> str:
    """What a quantity may not pass all the time, "" where the sheet prints no such pressure."""
    try:
        pressure = unit(end.unit).dimension == PRESSURE
    except Refusal:
        return ""
    return end.upper if pressure else ""
