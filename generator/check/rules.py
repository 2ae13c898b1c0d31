"""One process and the workshop in; every fault of meaning out. One rule, one function."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from generator.check.counted import counts_say_what_is_tightened
from generator.check.instrument_rules import uncertainties_can_be_held
from generator.check.map_rules import maps_suit_their_shape
from generator.check.pressure_rules import pressures_say_which
from generator.check.readers import LETTERS
from generator.check.reading_rules import (
    instruments_are_named,
    limits_are_in_order,
    readings_are_called_in_words,
    readings_have_a_form,
    readings_have_names_of_their_own,
)
from generator.check.record_rules import (
    loads_have_a_band,
    logs_run_out_even,
    one_place_to_write,
    sense_is_seen,
)
from generator.check.signing_rules import classes_have_somebody
from generator.check.thread_rules import threads_are_as_the_table_says, torques_are_tightened_by
from generator.findings import Fault, near_word
from generator.process import Operation, Process, Workshop
from generator.quantities.amount import Amount

Rule = Callable[[Process, Workshop], Iterator[Fault]]

# What each kind of operation must say, and what it must not.
_WORKING = {"steps", "readings", "strip", "lookup", "clock", "map", "tightens", "by"}
_NEEDS = {
    "work": ("do",),
    "measure": ("do", "readings"),
    "hold": ("do", "released by"),
    "witness": ("do", "attended by", "notice"),
    "independent": ("do", "points", "first by", "second by"),
    "subcontract": ("do",),
    "wait": ("do", "clock"),
    "close": ("do", "readings"),
}
_ONLY = {
    "released by": ("hold",),
    "attended by": ("witness",),
    "notice": ("witness",),
    "points": ("independent",),
    "first by": ("independent",),
    "second by": ("independent",),
}
_WHY = {
    "hold released by": "a hold with nobody able to release it",
    "independent points": "an independent inspection of nothing",
    "measure readings": "a measurement that writes nothing down",
    "wait clock": "a wait without a clock",
}


_APPROVE = ("lead", "inspector", "independent inspector")


def process_faults(process: Process, workshop: Workshop) -> list[Fault]:
    """Every fault of one process."""
    return [fault for rule in RULES for fault in rule(process, workshop)]


def checker_is_another(process: Process, _: Workshop) -> Iterator[Fault]:
    if process.author == process.checker:
        wrong = f"author and checker are both {process.author}"
        yield Fault(("checker",), "checker", wrong, "the stamp of a second person")
    for i, revision in enumerate(process.revisions):
        if revision.author == revision.approved_by:
            wrong = f"revision {revision.letter} is written and approved by {revision.author}"
            steps = ("revisions", i, "approved by")
            yield Fault(steps, "checker", wrong, "the stamp of a second person")


def stamps_are_known(process: Process, workshop: Workshop) -> Iterator[Fault]:
    known = {stamp.stamp: stamp for stamp in workshop.stamps}
    newest = process.revision.day
    for key, stamp in (("author", process.author), ("checker", process.checker)):
        if stamp not in known:
            near = near_word(stamp, known)
            right = f"{near}? or an entry in workshop/stamps.yaml"
            yield Fault((key,), "stamp", f"{stamp} is no stamp of this workshop", right)
        elif not known[stamp].holds_on(newest):
            wrong = f"{stamp} did not hold on {newest.isoformat()}"
            yield Fault((key,), "stamp", wrong, "a stamp that held on that day")
    for i, revision in enumerate(process.revisions):
        for key, stamp in (("author", revision.author), ("approved by", revision.approved_by)):
            steps = ("revisions", i, key)
            if stamp not in known:
                wrong = f"{stamp} is no stamp of this workshop"
                yield Fault(steps, "stamp", wrong, "a stamp of workshop/stamps.yaml")
            elif key == "approved by" and known[stamp].role not in _APPROVE:
                wrong = f"{stamp} is of class {known[stamp].role}, and approves no revision"
                yield Fault(steps, "stamp", wrong, "the stamp of a lead or an inspector")


def names_are_used_once(process: Process, _: Workshop) -> Iterator[Fault]:
    for name in process.work_out:
        if name in process.given:
            wrong = f"'{name}' is a given and is worked out as well"
            yield Fault(("work out", name), "repeated", wrong, "another name for one of them", True)


def revisions_run_on(process: Process, _: Workshop) -> Iterator[Fault]:
    seen: dict[str, int] = {}
    before = None
    for i, revision in enumerate(process.revisions):
        steps = ("revisions", i, "letter")
        if revision.letter in seen:
            wrong = f"revision {revision.letter} is used twice"
            yield Fault(steps, "revision", wrong, "the next letter that is free")
        elif before and revision.letter < before.letter:
            wrong = f"revision {revision.letter} stands after {before.letter}"
            yield Fault(steps, "revision", wrong, "the newest revision last")
        elif before and (left_out := _between(before.letter, revision.letter)):
            told = f"{left_out[0]} is" if len(left_out) == 1 else f"{', '.join(left_out)} are"
            wrong = f"revision {revision.letter} stands after {before.letter}: {told} left out"
            right = f"letter: {left_out[0]}, or the entry of {', '.join(left_out)} before it"
            yield Fault(steps, "revision", wrong, right)
        if before and revision.day < before.day:
            wrong = f"revision {revision.letter} is older than {before.letter}"
            yield Fault(("revisions", i, "date"), "revision", wrong, "days in order")
        seen[revision.letter] = i
        before = revision


def _between(one: str, other: str) -> str:
    """The letters between two, of those that the trade uses for revisions."""
    return LETTERS[LETTERS.index(one) + 1 : LETTERS.index(other)]


def operations_rise(process: Process, _: Workshop) -> Iterator[Fault]:
    before = 0
    for i, operation in enumerate(process.operations):
        if operation.number <= before:
            again = any(o.number == operation.number for o in process.operations[:i])
            what = "is used twice" if again else f"stands after {before}"
            wrong = f"operation {operation.number} {what}"
            yield Fault(
                ("operations", i, "number"), "number", wrong, "numbers that rise, never reused"
            )
        before = max(before, operation.number)


def kinds_say_enough(process: Process, _: Workshop) -> Iterator[Fault]:
    letters = {revision.letter for revision in process.revisions}
    for i, operation in enumerate(process.operations):
        here = ("operations", i)
        if operation.deleted_at:
            if operation.deleted_at not in letters:
                wrong = f"operation {operation.number} is deleted at {operation.deleted_at}, "
                wrong += "no revision here"
                yield Fault((*here, "deleted at"), "revision", wrong, ", ".join(sorted(letters)))
            continue
        if not operation.kind:
            wrong = f"operation {operation.number} has no kind"
            yield Fault((*here, "number"), "missing", wrong, "kind: " + ", ".join(_NEEDS))
            continue
        yield from _kind_faults(operation, here)


def _said(operation: Operation) -> dict[str, bool]:
    return {
        "do": bool(operation.do),
        "released by": bool(operation.released_by),
        "attended by": bool(operation.attended_by),
        "notice": operation.notice is not None,
        "points": bool(operation.points),
        "first by": bool(operation.first_by),
        "second by": bool(operation.second_by),
        "readings": bool(operation.readings or operation.sense or operation.log),
        "steps": bool(operation.steps),
        "strip": operation.strip is not None,
        "lookup": operation.lookup is not None,
        "clock": bool(operation.clock),
        "map": bool(operation.map),
        "tightens": bool(operation.tightens),
        "by": bool(operation.by),
    }


def _kind_faults(operation: Operation, here: tuple[str | int, ...]) -> Iterator[Fault]:
    said, kind = _said(operation), operation.kind
    for key in _NEEDS[kind]:
        if not said[key]:
            why = _WHY.get(f"{kind} {key}", f"{kind} needs '{key}'")
            wrong = (
                f"operation {operation.number} is {why}"
                if f"{kind} {key}" in _WHY
                else f"operation {operation.number}: {why}"
            )
            right = f"a line '{key}: ...'"
            if key in ("released by", "attended by"):
                right += " with lead, inspector, independent inspector, or lead or inspector"
            yield Fault((*here, "kind"), "missing", wrong, right)
    for key, kinds in _ONLY.items():
        if said[key] and kind not in kinds:
            wrong = f"operation {operation.number}: '{key}' does not belong to {kind}"
            yield Fault((*here, key), "kind", wrong, f"kind: {kinds[0]}", of_key=True)
    if kind in ("hold", "independent", "witness"):
        for key in sorted(_WORKING):
            if said[key]:
                wrong = f"operation {operation.number}: a {kind} has no '{key}'; "
                wrong += "it stamps work that is done"
                yield Fault(
                    (*here, key), "kind", wrong, "an operation of its own before it", of_key=True
                )


def independent_is_two_people(process: Process, workshop: Workshop) -> Iterator[Fault]:
    for i, operation in enumerate(process.operations):
        if operation.kind != "independent" or not (operation.first_by and operation.second_by):
            continue
        first = {s.stamp for s in workshop.stamps if s.role == operation.first_by}
        second = {s.stamp for s in workshop.stamps if s.role == operation.second_by}
        for key, people in (("first by", first), ("second by", second)):
            if not people:
                wrong = f"nobody of this workshop is '{getattr(operation, key.replace(' ', '_'))}'"
                yield Fault(
                    ("operations", i, key), "stamp", wrong, "a class with a stamp in stamps.yaml"
                )
        if operation.first_by == operation.second_by:
            wrong = f"operation {operation.number}: both stamps are of class '{operation.first_by}'"
            right = "two classes; the second took no part in the work"
            yield Fault(("operations", i, "second by"), "people", wrong, right)
        elif first and second and len(first | second) < 2:
            wrong = f"operation {operation.number}: both stamps can only come from {first.pop()}"
            right = "two people; the second took no part in the work"
            yield Fault(("operations", i, "second by"), "people", wrong, right)


def counts_agree(process: Process, _: Workshop) -> Iterator[Fault]:
    kit = {line.item: (i, line) for i, line in enumerate(process.kit)}
    for name, each in process.maps.items():
        for item, takes in each.each_takes.items():
            steps = ("maps", name, "each takes", item)
            if item not in kit:
                near = near_word(item, kit)
                right = f"{near}?" if near else "the words of a kit line"
                yield Fault(steps, "count", f"'{item}' is not in the kit", right, of_key=True)
                continue
            i, line = kit[item]
            wanted = takes * each.fasteners
            if line.count != wanted:
                wrong = f"map '{name}' has {each.fasteners} fasteners at {takes}: {wanted}; "
                wrong += f"the kit has {line.quantity} of '{item}'"
                yield Fault(
                    ("kit", i, "quantity"), "count", wrong, f"quantity: {wanted}, spares apart"
                )
    yield from _counts_at_maps(process)


def _counts_at_maps(process: Process) -> Iterator[Fault]:
    for i, operation in enumerate(process.operations):
        if operation.map and operation.map not in process.maps:
            near = near_word(operation.map, process.maps)
            right = f"{near}?" if near else "the name of a map under maps"
            yield Fault(
                ("operations", i, "map"), "name", f"no map is named '{operation.map}'", right
            )
        elif operation.map:
            plan = process.maps[operation.map]
            wanted = plan.fasteners
            known = {wanted, *(wanted * takes for takes in plan.each_takes.values())}
            for j, reading in enumerate(operation.readings):
                exact = reading.nominal
                if (
                    reading.entry == "count"
                    and isinstance(exact, Amount)
                    and exact.value not in known
                ):
                    wrong = (
                        f"'{reading.name}' counts {exact.typed}; map '{operation.map}' has {wanted}"
                    )
                    steps = ("operations", i, "readings", j, "exactly")
                    counts = " or ".join(str(n) for n in sorted(known))
                    yield Fault(steps, "count", wrong, f"exactly: {counts}")


def nothing_is_hidden_first(process: Process, _: Workshop) -> Iterator[Fault]:
    hidden: dict[str, int] = {}
    seen: set[str] = set()
    for i, operation in enumerate(process.operations):
        seen |= {*operation.inspects}
        for thing in operation.inspects:
            if thing in hidden:
                wrong = f"operation {operation.number} inspects '{thing}', "
                wrong += f"which operation {hidden[thing]} covers"
                right = f"an inspection before operation {hidden[thing]}"
                yield Fault(("operations", i, "inspects"), "order", wrong, right)
        for j, thing in enumerate(operation.hides):
            hidden.setdefault(thing, operation.number)
            if thing not in seen:
                wrong = f"operation {operation.number} covers '{thing}', which no operation before "
                near = near_word(thing, seen)
                right = near or f"inspects: [{thing}] at an operation before"
                yield Fault(("operations", i, "hides", j), "order", f"{wrong}it inspects", right)


def hand_agrees(process: Process, _: Workshop) -> Iterator[Fault]:
    words = f"{process.title} {process.part.name} {process.part.position}".lower()
    sides = {
        "PORT": re.search(r"\bport\b", words),
        "STBD": re.search(r"\b(stbd|starboard)\b", words),
    }
    said = [hand for hand, found in sides.items() if found]
    if len(said) == 1 and process.part.hand != said[0]:
        wrong = f"the part is called {said[0]} and its hand is {process.part.hand}"
        yield Fault(("part", "hand"), "hand", wrong, f"hand: {said[0]}, or other words")


def lookups_are_square(process: Process, _: Workshop) -> Iterator[Fault]:
    for i, operation in enumerate(process.operations):
        if operation.lookup is None:
            continue
        for j, row in enumerate(operation.lookup.rows):
            if len(row) != len(operation.lookup.columns):
                headings = len(operation.lookup.columns)
                wrong = f"row {j + 1} has {len(row)} cells under {headings} headings"
                yield Fault(
                    ("operations", i, "lookup", "rows", j),
                    "table",
                    wrong,
                    "a cell for each heading",
                )
        framed = operation.lookup.framed
        if framed and framed not in [row[0] for row in operation.lookup.rows if row]:
            wrong = f"no row begins with the framed '{framed}'"
            yield Fault(
                ("operations", i, "lookup", "framed"), "table", wrong, "the first cell of a row"
            )


def kit_reads(process: Process, _: Workshop) -> Iterator[Fault]:
    seen: set[str] = set()
    for i, line in enumerate(process.kit):
        if line.item in seen:
            yield Fault(
                ("kit", i, "item"),
                "repeated",
                f"'{line.item}' stands twice in the kit",
                "one line an item",
            )
        seen.add(line.item)


RULES: tuple[Rule, ...] = (
    checker_is_another,
    stamps_are_known,
    names_are_used_once,
    classes_have_somebody,
    revisions_run_on,
    operations_rise,
    kinds_say_enough,
    independent_is_two_people,
    limits_are_in_order,
    pressures_say_which,
    readings_have_a_form,
    readings_are_called_in_words,
    readings_have_names_of_their_own,
    instruments_are_named,
    uncertainties_can_be_held,
    maps_suit_their_shape,
    counts_agree,
    nothing_is_hidden_first,
    threads_are_as_the_table_says,
    torques_are_tightened_by,
    counts_say_what_is_tightened,
    hand_agrees,
    lookups_are_square,
    kit_reads,
    sense_is_seen,
    logs_run_out_even,
    loads_have_a_band,
    one_place_to_write,
)
