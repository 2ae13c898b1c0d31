"""The readings and logs of one process, in; pressures that could be read two ways, out.

A gauge shows a pressure above that of the air, or an absolute one: 70 bar says neither. What two
pressures differ by is the same on both scales, and says by its name or by a limit below zero that
it is such.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from generator.findings import Fault
from generator.process import GivenNumber, Process, Reading, Workshop
from generator.quantities.amount import Amount
from generator.quantities.units import POINTS, PRESSURE, unit
from generator.read import Steps

_DIFFERENCE = (
    r"(?:difference|differential|drop|fall|rise|loss|gain|change|increase|decrease|deviation"
    r"|error|spread|scatter|hysteresis)(?![-\w])"
)
_MOST = r"(?:(?:highest|lowest|largest|smallest|greatest|least|most|total|whole|mean|allowed)\s+)?"
# In front of the last word these say when a pressure was read, as in: pressure after the drop.
_WHEN = (r"(?:the|an?|at|in|on|of|to|by|for|with|after|before|during|until|since|from|while"
         r"|when)")  # fmt: skip
_BESIDE = re.compile(rf"\bpressure\s+{_DIFFERENCE}|^{_MOST}{_DIFFERENCE}", re.IGNORECASE)
_LAST = re.compile(rf"(?:^|.*\s)(?!{_WHEN}\s)\S+\s+{_DIFFERENCE}$", re.IGNORECASE)


def pressures_say_which(process: Process, workshop: Workshop) -> Iterator[Fault]:
    """A reading or a column of a log in plain bar, psi or kPa; a reading in any unit of pressure
    where its instruments have a scale that says gauge or absolute."""
    scaled = _on_a_scale(workshop)
    for i, operation in enumerate(process.operations):
        for j, reading in enumerate(operation.readings):
            here = ("operations", i, "readings", j)
            for key, text in _units(reading, process):
                faults = [*reading_fault((*here, key), reading, text, scaled)]
                yield from faults
                if faults:
                    break
        if operation.log is not None:
            for name, text in operation.log.of.items():
                if _is_plain(text) and not names_a_difference(name):
                    yield _fault(("operations", i, "log", "of", name), name, text)


def reading_fault(
    here: Steps, reading: Reading, text: str, scaled: frozenset[str] = frozenset()
) -> Iterator[Fault]:
    """The fault of a reading in that unit, if any. scaled: kinds of instruments on a scale."""
    plain = _is_plain(text) or (reading.instrument in scaled and _is_pressure(text))
    if plain and not _is_difference(reading):
        yield _fault(here, reading.name, text)


def _fault(here: Steps, name: str, text: str) -> Fault:
    wrong = f"'{name}' in {text} says neither gauge nor absolute"
    known = text if f"{text} g" in POINTS else "bar"
    right = (
        f"{known} g or {known} a; what two pressures differ by is named so, such as 'pressure drop'"
    )
    return Fault(here, "unit", wrong, right)


def _units(reading: Reading, process: Process) -> Iterator[tuple[str, str]]:
    """The units that a reading is typed in, each at its key; those of givens by name too."""
    if reading.entry != "number":
        return
    for key, limit in (("lower", reading.lower), ("upper", reading.upper),
                       ("nominal", reading.nominal)):  # fmt: skip
        given = process.given.get(limit) if isinstance(limit, str) else None
        amount = _known(given) if given is not None else limit
        if isinstance(amount, Amount):
            yield key, amount.unit.text
    if reading.unit:
        yield "unit", reading.unit


def _known(given: GivenNumber) -> Amount | None:
    return given.example if given.amount is None else given.amount


def _is_difference(reading: Reading) -> bool:
    below = (isinstance(each, Amount) and each.value < 0 for each in (reading.lower, reading.upper))
    return names_a_difference(reading.name) or any(below)


def names_a_difference(name: str) -> bool:
    """Whether a name is of what two pressures differ by: it says so next to the word pressure, or
    begins or ends with it. Elsewhere such a word says when a pressure was read, as in: highest
    pressure while the leg rises."""
    return bool(_BESIDE.search(name) or _LAST.fullmatch(name))


def _is_plain(text: str) -> bool:
    return f"{text} g" in POINTS


def _is_pressure(text: str) -> bool:
    known = unit(text)
    return known.dimension == PRESSURE and not known.point


def _on_a_scale(workshop: Workshop) -> frozenset[str]:
    """The kinds of instruments whose ranges say gauge or absolute."""
    return frozenset(
        each.kind
        for each in workshop.instruments
        if each.range is not None
        and each.range.unit.dimension == PRESSURE
        and each.range.unit.point
    )
