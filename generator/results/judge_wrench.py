"""What a wrench was set to, in; a setting that is not the one that the sheet prints, or that is
ticked, out.

A setting is right where the wrench goes no nearer: within half of what the wrench reads to, or half
of the last printed digit where that is more or nobody knows the wrench.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.findings import Refusal
from generator.quantities.text import read_amount
from generator.quantities.units import unit
from generator.results.case import Case, Verdict, said
from generator.results.form import Field
from generator.results.form_figures import SET
from generator.results.judge_values import on_a_slip, ticked, unticked
from generator.results.values import number_in

_TORQUES = (SET, "running drag")
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


def _is_torque(text: str) -> bool:
    try:
        return read_amount(text).unit.dimension == unit("N·m").dimension
    except Refusal:
        return False


def _near(case: Case, of: Field, right: str) -> float:
    """How near to its number a setting can be asked for."""
    steps = [10.0 ** -len(right.partition(".")[2])]
    scale = unit(of.unit)
    for each in (f for f in case.form.fields if f.key[:3] == of.key[:3]):
        held = case.held(case.written(each)) if each.name.endswith(_NUMBER) else None
        reads_to = held.reads_to if held is not None else None
        if reads_to is not None and reads_to.unit.dimension == scale.dimension:
            steps.append(scale.from_base(reads_to.value))
    return max(steps) / 2
