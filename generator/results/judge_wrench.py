"""What a wrench was set to, in; a setting that is not the one that the sheet prints, or that is
ticked, out.

A setting is right where the wrench goes no nearer: within half of what the wrench reads to, or half
of the last printed digit where that is more or nobody knows the wrench.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.findings import Refusal
from generator.quantities.text import read_amount
from generator.quantities.units import unit
from generator.results.case import Case, Verdict, said
from generator.results.form import Field
from generator.results.form_figures import SET
from generator.results.judge_ticks import asked_of, spoken
from generator.results.judge_values import on_a_slip, rows_of, ticked, unticked
from generator.results.values import number_in
from generator.signs import things_in

_TORQUES = (SET, "running drag")
_HEADS = {"running drag": "drag", "wrench length": "wrench length"}  # what a strip calls them
_NUMBER = " no."
_SLACK = 1e-9


def settings(case: Case) -> Iterator[Verdict]:
    """A setting held against the one that is printed, or against the row of the column that is
    ticked; where the sheet has no unit, a torque with its own."""
    for each in case.form.fields:
        text = case.written(each)
        if text and each.kind == "words" and each.boxes[0] in _TORQUES and not _is_torque(text):
            yield said(each, "number", f"'{text}' is no torque with its unit, such as 20 N·m")
        if (value := number_in(text)) is None or not (each.set_to or each.set_by):
            continue
        found, right = f"{text} {each.unit}", each.set_to or ticked(case, each, (each.set_by,))
        if right is None:
            yield unticked(case, each, f"{found}, and no column is ticked that says the setting")
            continue
        wanted, near = number_in(right), _near(case, each, right)
        if wanted is None or abs(value - wanted) > near + _SLACK:
            says = "as printed" if each.set_to else f"as ticked: {each.set_by.partition(' ')[2]}"
            says = f"{found} is not the setting {right}, {says} (within {near:g})"
            yield on_a_slip(case, each, "out", says)


def columns(case: Case) -> Iterator[Verdict]:
    """A drag or a length beside a setting, and another column ticked in the strip that has it."""
    for each in case.form.fields:
        name, value = each.boxes[0].partition(", ")[0], number_in(case.written(each))
        if value is None or name not in _HEADS:
            continue
        sets = [f for f in case.form.fields if f.key[:3] == each.key[:3] and f.set_by]
        for head, heads, take in _ticked_for(case, sets, f"{_HEADS[name]} {each.unit}"):
            asked = asked_of(heads, [value], take)
            if head not in asked:
                right = (
                    f"asks for {' or '.join(asked)}" if asked else "is for the lead to decide on"
                )
                says = f"{case.written(each)} {each.unit} {right}, and {head} is ticked"
                yield on_a_slip(case, each, "out", says)


def _ticked_for(
    case: Case, sets: Sequence[Field], corner: str
) -> Iterator[tuple[str, Sequence[str], str]]:
    """The head that is ticked in the strip of a setting, all of its heads, and which of two is
    taken: of that side of the table whose name ends as told."""
    for of in sets:
        for sheet in (*case.later_for(of.operation), case, *case.before):
            told = [
                (used, sheet.written(used)) for _, used in rows_of(case, of, sheet, (of.set_by,))
            ]
            for used, tick in ((used, tick) for used, tick in told if tick in used.choices):
                sides = zip(used.corner.split(" / "), used.take.split(" / "), strict=False)
                for n, (side, take) in enumerate(sides):
                    heads = list(dict.fromkeys(c.split(" × ")[n] for c in used.choices))
                    if spoken(side).endswith(corner) and None not in map(number_in, heads):
                        yield tick.split(" × ")[n], heads, take
            if told:
                break


def _is_torque(text: str) -> bool:
    try:
        return read_amount(text).unit.dimension == unit("N·m").dimension
    except Refusal:
        return False


def _near(case: Case, of: Field, right: str) -> float:
    """How near to its number a setting can be asked for."""
    steps = [10.0 ** -len(right.partition(".")[2])]
    scale = unit(of.unit)
    beside = (f for f in case.form.fields if f.key[:3] == of.key[:3] and f.name.endswith(_NUMBER))
    for number in (each for f in beside for each in things_in(case.written(f))):
        held = case.held(number)
        reads_to = held.reads_to if held is not None else None
        if reads_to is not None and reads_to.unit.dimension == scale.dimension:
            steps.append(scale.from_base(reads_to.value))
    return max(steps) / 2
