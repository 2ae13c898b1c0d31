"""One process with its texts in; pressure without a warning, first pressure without a hold, out.

Each docstring is the manual of its rule: what it looks for, why, where that comes from, what to
write instead.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from generator.check.sentences import Slip, Span, Steps, Wording, sentences
from generator.process import Operation
from generator.quantities.units import POINTS

_RAISES = re.compile(
    r"(?:pressuri[sz]e\b"
    r"|(?:raise|increase|apply|build up)\s+(?:the\s+|a\s+)?(?:[\w-]+\s+)?pressure\b)",
    re.I,
)
_OF_PRESSURE = re.compile(r"\bpressur", re.I)


def pressure_has_a_warning(wording: Wording) -> Iterator[Slip]:
    """An operation raises a pressure, and neither warning nor caution stands before it.

    Looks at operations that pressurize, raise or apply a pressure, or log one, for a warning or a
    caution of their own. The warnings of the whole job stand some sheets away, and a proof is made
    by who was not there for the first pressure; a jet of fluid or a plug that lets go gives no
    second look.
    Source: DOE-STD-1029-92, a warning stands before the step it is for; that every pressure is
    worth one: common practice, no source.
    Better: "warning: Stay behind the barrier and never in line with a plug."
    """
    for index, steps, span in _pressures(wording):
        operation = wording.process.operations[index]
        if not operation.warnings and not operation.cautions:
            told = "a pressure is raised, and no warning or caution stands before it"
            right = "warning: what may let go or jet out, and where nobody stands meanwhile"
            yield Slip(steps, span, told, right)


def first_pressure_has_a_hold(wording: Wording) -> Iterator[Slip]:
    """The first pressure of a process comes without a hold.

    Looks before the first operation that raises a pressure for a hold that speaks of pressure, or
    for any hold right before it. Until then a loose nut costs a drop of fluid; from then on it is
    a jet, and one person who is not at the pump has seen that joints, barrier and people are ready.
    Source: HSE guidance note GS4, fourth edition, 6 and 7: people apart by a written way of work,
    most of all at the first pressure; that it is a hold: common practice, no source.
    Better: an operation of kind hold, "Before first pressure: joints tight, air bled, barrier set."
    """
    for index, _, _ in _pressures(wording):
        before = wording.process.operations[:index]
        if not any(_speaks_of_pressure(each) for each in before) and not _hold(before[-1:]):
            told = "the first pressure of this process has no hold before it"
            right = 'kind: hold before it, such as "Before first pressure: barrier set, area clear"'
            yield Slip(("operations", index, "number"), (0, 0), told, right)
        return


def _pressures(wording: Wording) -> Iterator[tuple[int, Steps, Span]]:
    """Each operation that raises a pressure, once: its place, and that of the words that say so."""
    seen: set[int] = set()
    for text, operation in wording.actions:
        index = int(text.steps[1])
        spans = [
            sentence.of(*found.span())
            for sentence in sentences(text.words)
            if not sentence.forbids and (found := _RAISES.match(sentence.words, sentence.head))
        ]
        if index not in seen and (spans or _logs(operation)):
            seen.add(index)
            yield index, text.steps, spans[0] if spans else (0, len(text.words))


def _hold(operations: tuple[Operation, ...]) -> bool:
    return any(each.kind == "hold" for each in operations)


def _speaks_of_pressure(operation: Operation) -> bool:
    words = " ".join((operation.do, *operation.steps, *operation.points))
    return operation.kind == "hold" and _OF_PRESSURE.search(words) is not None


def _logs(operation: Operation) -> bool:
    """Whether a pressure is written down by the clock, so that one stands."""
    scales = operation.log.of.values() if operation.log is not None else ()
    return any(scale in POINTS and POINTS[scale][3] != "temperature" for scale in scales)
