"""One process in; advice on its wording out. One rule, one function; its docstring is its manual.

Advice stops nothing. A workshop makes rules binding by their codes in workshop.yaml; what those
find stops the print like any finding. No two pieces are given for the same words.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping

from generator.check.sentences import Slip, Span, Steps, Wording, wording_of
from generator.check.wording_of_numbers import (
    decimals_are_said,
    each_value_has_its_own_row,
    number_starts_with_a_digit,
    numbers_have_units,
    range_has_no_dash,
    value_has_a_field,
)
from generator.check.wording_of_pressure import (
    first_pressure_has_a_hold,
    pressure_has_a_warning,
)
from generator.check.wording_of_steps import (
    command_comes_first,
    condition_comes_first,
    ensure_is_a_check,
    one_action_a_step,
    verb_has_one_meaning,
)
from generator.check.wording_of_texts import (
    long_sentence,
    modal_is_dropped,
    near_a_number,
    note_commands_nothing,
    reference_is_whole,
    vague_word,
    warning_commands_no_work,
)
from generator.check.wording_of_work import (
    check_has_a_criterion,
    check_says_what_if_not,
    repeat_has_an_end,
    time_limit_has_a_clock,
    verify_is_a_second_person,
)
from generator.findings import Fault
from generator.process import Process, Workshop

WordingRule = Callable[[Wording], Iterator[Slip]]

# Where two rules find the same words, the earlier one speaks.
WORDING_RULES: Mapping[str, WordingRule] = {
    "pressure": pressure_has_a_warning,
    "first-pressure": first_pressure_has_a_hold,
    "ensure": ensure_is_a_check,
    "verify": verify_is_a_second_person,
    "meaning": verb_has_one_meaning,
    "verb": command_comes_first,
    "actions": one_action_a_step,
    "condition": condition_comes_first,
    "criterion": check_has_a_criterion,
    "what-if-not": check_says_what_if_not,
    "field": value_has_a_field,
    "own-row": each_value_has_its_own_row,
    "decimals": decimals_are_said,
    "dash": range_has_no_dash,
    "bare-number": numbers_have_units,
    "zero": number_starts_with_a_digit,
    "vague": vague_word,
    "about": near_a_number,
    "warning": warning_commands_no_work,
    "note": note_commands_nothing,
    "reference": reference_is_whole,
    "repeat": repeat_has_an_end,
    "clock": time_limit_has_a_clock,
    "modal": modal_is_dropped,
    "long": long_sentence,
}


def kept_slips(process: Process, binding: Iterable[str] = ()) -> list[tuple[str, Slip]]:
    """The slips with the codes of their rules, the binding rules first, no words told twice."""
    bound = [code for code in WORDING_RULES if code in set(binding)]
    free = [code for code in WORDING_RULES if code not in bound]
    taken: dict[Steps, list[Span]] = {}
    kept = []
    wording = wording_of(process)
    for code in [*bound, *free]:
        for slip in WORDING_RULES[code](wording):
            spans = taken.setdefault(slip.steps, [])
            if not any(_overlap(slip.span, other) for other in spans):
                spans.append(slip.span)
                kept.append((code, slip))
    return kept


def wording_faults(process: Process, binding: Iterable[str] = ()) -> list[Fault]:
    """All that the rules find: what a binding rule finds as a fault, the rest as advice."""
    bound = set(binding)
    return [
        Fault(slip.steps, code, slip.wrong, slip.right, advice=code not in bound)
        for code, slip in kept_slips(process, bound)
    ]


def _overlap(one: Span, other: Span) -> bool:
    return one == other or (one[0] < other[1] and other[0] < one[1])


def binding_faults(process: Process, workshop: Workshop) -> list[Fault]:
    """What the rules find that this workshop made binding."""
    if not workshop.binding_advice:
        return []
    return [f for f in wording_faults(process, workshop.binding_advice) if not f.advice]


def advice(process: Process, workshop: Workshop) -> list[Fault]:
    """What the other rules find: it stops nothing."""
    return [f for f in wording_faults(process, workshop.binding_advice) if f.advice]
