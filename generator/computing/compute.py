"""A Process and the values of one part in; every number a sheet may print, with its working, out.

Entries are worked out in the order of their needs. Numbers stay unrounded between calculations;
each is rounded once, where its text is made. Limits are taken on the givens of the whole chain.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from generator.computing import arithmetic
from generator.computing.board import Board, Runs, ShopFacts
from generator.computing.chain import AtCorner, Places
from generator.computing.second_unit import in_second_unit
from generator.computing.tolerance import Limits
from generator.computing.working import GivenLine, Number, Working, Workings, with_limits
from generator.findings import Fault, Refusal, fault, near_word
from generator.process import Along, GivenNumber, PartValues, Process, Strip, WorkOut
from generator.quantities.amount import Amount
from generator.quantities.rounding import plain
from generator.quantities.text import echo
from generator.quantities.units import Unit, named
from generator.read import Steps


def compute(
    process: Process,
    values: PartValues | None = None,
    drafting: bool = True,
    shop: ShopFacts | None = None,
) -> tuple[Workings, list[Fault]]:
    """Work everything out. Faults where it cannot be; what else can be is still worked out."""
    shop = shop or ShopFacts()
    faults = list(_value_faults(process, values))
    givens = _givens(process, values, drafting, shop, faults)
    board = Board(process, {line.number.name: line.number for line in givens}, shop, faults)
    for name in process.work_out:
        board.work(name)
    done = board.done if faults else _limited(process, board, faults)
    results = {number.name: number for working in done.values() for number in working.results}
    numbers = {**{line.number.name: line.number for line in givens}, **results}
    typed = sum(given.source == "calculated" for given in process.given.values())
    typed += sum(
        o.lookup is not None and o.lookup.source == "calculated" for o in process.operations
    )
    ordered = {name: done[name] for name in process.work_out if name in done}
    return Workings(numbers, givens, ordered, typed), faults


def _limited(process: Process, board: Board, faults: list[Fault]) -> Mapping[str, Working]:
    """Every working with its limits, from the tolerances of all givens; a fault where they cannot
    be given, or where a point inside the tolerances is refused."""
    places = _places(process, board)
    try:
        limits = places.limits()
    except AtCorner as stop:
        faults.append(_at_corner(stop, places.labels))
        return board.done
    except Refusal as refusal:
        faults.append(_told(("work out",), refusal))
        return board.done
    faults += _ends_worked_on(process, board, limits)
    done = {}
    for name, working in board.done.items():
        try:
            done[name] = with_limits(working, limits, board.also_of(name))
        except Refusal as refusal:
            faults.append(_told(("work out", name), refusal))
    return done


def _ends_worked_on(
    process: Process, board: Board, limits: Mapping[str, Limits]
) -> Iterator[Fault]:
    """An end of a window holds for the whole tolerance: it cannot be worked on at nominal."""
    ends = {n for n, number in board.numbers.items() if number.fact and number.fact.end}
    for name in board.done:
        entry = process.work_out[name]
        used = set(arithmetic.names(entry.formula)) if not entry.use else _texts(entry.inputs)
        for end in sorted(used & ends & limits.keys()):
            wrong = f"'{end}' is an end of a window that moves inside the tolerances"
            right = "the calculation that needs it before the window, or givens without tolerance"
            yield Fault(("work out", name), "range", wrong, right, of_key=True)


def _texts(typed: Any) -> set[str]:
    if isinstance(typed, str):
        return {typed}
    inside = typed.values() if isinstance(typed, Mapping) else typed
    return {text for each in inside for text in _texts(each)}


def _told(steps: Steps, refusal: Refusal) -> Fault:
    return Fault(steps, refusal.code, refusal.wrong, refusal.right, of_key=True)


def _at_corner(stop: AtCorner, labels: Mapping[str, str]) -> Fault:
    moved = ", ".join(dict.fromkeys(labels.values()))
    wrong = f"inside the tolerance of {moved}: {stop.refusal.wrong}"
    steps: Steps = ("work out", stop.entry)
    return Fault(steps, stop.refusal.code, wrong, stop.refusal.right, of_key=True)


def worked_at(
    process: Process,
    workings: Workings,
    of: Sequence[str],
    at: Mapping[str, Amount],
    shop: ShopFacts | None = None,
    runs: Runs | None = None,
) -> list[Number]:
    """The results named in `of` with other values for some givens, all else as it is.

    Everything that hangs on them is worked out again from the same functions, inside the
    tolerances of all other givens; refuses, naming the values, where that cannot be done.
    runs: those that were made with the same inputs before.
    """
    givens = {line.number.name: line.number for line in workings.givens}
    for name, value in at.items():
        givens[name] = replace(givens[name], amount=value)
    faults: list[Fault] = []
    board = Board(process, givens, shop or ShopFacts(), faults, runs)
    for name in of:
        board.work(name.partition(".")[0])
    done = board.done if faults else _limited(process, board, faults)
    numbers = {number.name: number for working in done.values() for number in working.results}
    missing = [name for name in of if name not in numbers]
    if faults or missing:
        wrong = faults[0].wrong if faults else f"no result is named '{missing[0]}'"
        where = " and ".join(value.typed for value in at.values())
        raise Refusal("strip", f"at {where}: {wrong}", "a strip inside the range")
    return [numbers[name] for name in of]


def answered_by_strips(
    process: Process, workings: Workings, shop: ShopFacts, runs: Runs
) -> frozenset[str]:
    """The results that change with a given over which a strip runs: in a step they are the ones
    at nominal, and the strip has the one for this part. runs: keeps what was worked out for it."""
    givens = {line.number.name: line.number for line in workings.givens}
    points = [p for op in process.operations if op.strip is not None for p in _points(op.strip)]
    points = [point for point in points if point.keys() <= givens.keys()]
    if not points:
        return frozenset()
    usual = _usual(workings)
    return frozenset(
        name
        for point in points
        for name, shown in _moved_to(process, givens, point, shop, runs).items()
        if shown != usual.get(name)
    )


def unanswered(
    process: Process, workings: Workings, shop: ShopFacts, runs: Runs
) -> Mapping[str, str]:
    """The results that change over the range of a given which no strip runs over -> that given: one
    number is printed for them, and the part may need another."""
    givens = {line.number.name: line.number for line in workings.givens}
    strips = [op.strip for op in process.operations if op.strip is not None]
    over = {edge.over for strip in strips for edge in (strip.along, strip.across) if edge}
    if not over <= process.given.keys():
        return {}  # which given a strip is for is told elsewhere
    found: dict[str, str] = {}
    usual: dict[str, str] | None = None
    for name, given in process.given.items():
        if given.range is None or given.with_part or name in over or name not in givens:
            continue
        usual = usual or _usual(workings)
        for end in (given.range.low, given.range.high):
            at = {name: replace(given.range, value=end, low=None, high=None)} if end else {}
            there, moves = _moved_to(process, givens, at, shop, runs), _hang_on(process, at)
            mine = (each for each in usual if each.partition(".")[0] in moves)
            changed = (each for each in mine if usual[each] != there.get(each))
            found |= {each: name for each in changed if each not in found}
    return found


def _usual(workings: Workings) -> dict[str, str]:
    """Every result as it is shown at nominal: of a window the ends at nominal, not those that hold
    for the whole tolerance."""
    shown: dict[str, str] = {}
    for name, working in workings.workings.items():
        if working.ran is None:
            shown |= {number.name: number.shown for number in working.results}
        else:
            for each in working.ran.results:
                shown[f"{name}.{each.name}" if each.name else name] = each.shown
    return shown


def _points(strip: Strip) -> list[dict[str, Amount]]:
    """The values along each edge of a strip, and the corners of a grid."""
    edges = [edge for edge in (strip.along, strip.across) if edge is not None]
    points = [{edge.over: value} for edge in edges for value in values_along(edge)]
    if len(edges) == 2:
        one, other = edges
        ends = [(a, b) for a in (one.first, one.last) for b in (other.first, other.last)]
        points += [{one.over: a, other.over: b} for a, b in ends]
    return points


def values_along(edge: Along) -> tuple[Amount, ...]:
    """The values along an edge; of one that does not rise, which is told elsewhere, its ends."""
    first, step = edge.first, edge.step.value
    rungs = round((edge.last.value - first.value) / step) if step > 0 else 0
    if not 0 < rungs < 100:
        return first, edge.last
    return tuple(_rung(first, first.value + n * step) for n in range(rungs + 1))


def _rung(first: Amount, base: float) -> Amount:
    number = plain(first.unit.from_base(base), 9).replace("\N{MINUS SIGN}", "-")
    return Amount(base, first.unit, typed=f"{number} {first.unit.text}".strip())


def _moved_to(
    process: Process,
    givens: Mapping[str, Number],
    at: Mapping[str, Amount],
    shop: ShopFacts,
    runs: Runs,
) -> dict[str, str]:
    """What is shown where some givens have other values, of all that hangs on them: the rest, which
    may be an order of two hundred bolts, stays as it is and is not worked out again."""
    moved = {name: replace(givens[name], amount=value) for name, value in at.items()}
    moves = _hang_on(process, at)
    board = Board(process, {**givens, **moved}, shop, [], runs)
    for name in moves:
        board.work(name)
    return {
        name: number.shown
        for name, number in board.numbers.items()
        if name.partition(".")[0] in moves
    }


def _hang_on(process: Process, givens: Iterable[str]) -> frozenset[str]:
    """The entries that need one of the givens, themselves or through others."""
    moves = set(givens)
    while True:
        more = {name for name, entry in process.work_out.items() if _needs(entry) & moves} - moves
        if not more:
            return frozenset(moves & process.work_out.keys())
        moves |= more


def _needs(entry: WorkOut) -> set[str]:
    """The givens and entries that an entry names, and other texts that name nothing."""
    named = _texts(entry.inputs) if entry.use else set(arithmetic.names(entry.formula))
    return {name.partition(".")[0] for name in named}


def _places(process: Process, board: Board) -> Places:
    """The entries in the order in which they were worked out, with what moves in them."""
    own = frozenset(name for name, given in process.given.items() if given.each)
    givens = {name: n.amount for name, n in board.givens.items() if n.amount is not None}
    places = Places(givens, own)
    for name, working in board.done.items():
        entry = process.work_out[name]
        if working.ran is not None:
            places.calculated(name, working.ran, entry.inputs)
        else:
            fact = board.facts[name]
            places.reckoned(name, entry.formula, fact)
    return places


def _value_faults(process: Process, values: PartValues | None) -> Iterator[Fault]:
    """Values of a part that name no given of the process are told by the caller's own file."""
    if values is None:
        return
    brought = {name for name, each in process.given.items() if each.with_part}
    for name in values.values:
        if name not in brought:
            near = near_word(name, brought)
            right = f"{near}?" if near else "one of: " + (", ".join(sorted(brought)) or "none")
            wrong = f"'{name}' is no number that comes with the part of {process.number}"
            yield Fault(("values", name), "name", wrong, right, of_key=True)


def _givens(
    process: Process,
    values: PartValues | None,
    drafting: bool,
    shop: ShopFacts,
    faults: list[Fault],
) -> tuple[GivenLine, ...]:
    lines, missing = [], []
    for n, given in enumerate(process.given.values(), start=1):
        try:
            line = _given_line(n, given, values, drafting, shop)
        except Refusal as refusal:
            faults.append(fault(("given", given.name, "also"), refusal))
            continue
        if line is None:
            missing.append(given.name)
            continue
        amount = line.number.amount
        assert amount is not None
        if given.range is not None and not _inside(amount, given.range):
            key = "is" if given.amount is not None else "example"
            steps: Steps = ("given", given.name, key)
            if values and given.name in values.values:
                steps = ("values", given.name, "is")
            faults.append(_outside(steps, line, amount.unit, given.range))
            continue
        lines.append(line)
    if missing:
        faults.append(_missing(missing))
    return tuple(lines)


def _missing(names: Sequence[str]) -> Fault:
    """One fault for all numbers that the part should have brought."""
    more = f" and {len(names) - 1} more" if len(names) > 1 else ""
    come = "come" if more else "comes"
    wrong = f"'{names[0]}'{more} {come} with the part and no value was given"
    right = f"--given FILE with {', '.join(names)}; for drafts an example here"
    return Fault(("given", names[0]), "given", wrong, right, of_key=True)


def _outside(steps: Steps, line: GivenLine, have: Unit, limits: Amount) -> Fault:
    """What keeps a given out of its range: its number, or already its kind."""
    told = f"'{line.number.name}' {line.number.text}"
    if _of_one_kind(have, limits.unit):
        return Fault(steps, "range", f"{told} lies outside its range", limits.typed)
    wrong = f"{told} is {_kind(have)}, its range {limits.typed} is {_kind(limits.unit)}"
    right = f"both in {have.text or 'ratio'}, or both in {limits.unit.text or 'ratio'}"
    return Fault(steps, "unit", wrong, right)


def _kind(of: Unit) -> str:
    """ "a torque", "a pressure (gauge)" """
    return named(of.dimension) + (f" ({of.point})" if of.point in ("gauge", "absolute") else "")


def _of_one_kind(one: Unit, other: Unit) -> bool:
    return (one.dimension, one.point) == (other.dimension, other.point)


def _inside(amount: Amount, limits: Amount) -> bool:
    if not _of_one_kind(amount.unit, limits.unit):
        return False
    slack = 1e-9 * max(abs(amount.value), 1e-9)
    ends = [x for x in (amount.value, amount.low, amount.high) if x is not None]
    assert limits.low is not None and limits.high is not None
    return all(limits.low - slack <= x <= limits.high + slack for x in ends)


def _given_line(
    n: int, given: GivenNumber, values: PartValues | None, drafting: bool, shop: ShopFacts
) -> GivenLine | None:
    typed = "TYPED" if given.source == "calculated" else ""
    amount, flag, note = given.amount, typed, given.note
    if given.with_part:
        if values and given.name in values.values:
            amount, note = values.values[given.name]
        elif drafting and given.example is not None:
            amount, flag = given.example, "EXAMPLE"
        else:
            return None
    assert amount is not None
    text = echo(amount)
    both = f"{text}{in_second_unit(amount, given.also or shop.also.get(amount.unit.text, ''))}"
    number = Number(
        given.name, f"g{n}", both, text, amount.unit.text, amount, (), flag,
        given.name.replace("_", " "),
    )  # fmt: skip
    return GivenLine(number, given.source, note)
