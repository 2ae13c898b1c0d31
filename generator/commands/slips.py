"""`slip`, `dispose` and `concede`: what is not as it should be, and what becomes of it."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from generator.check.readers import day as read_day
from generator.commands.acting import (
    Lists,
    acted,
    head_of,
    open_traveller,
    shop_of,
    unchanged,
)
from generator.commands.draft import day_words
from generator.commands.freezing import form_file
from generator.commands.in_force import last_done_on, put_out, reworks
from generator.commands.people import because, may
from generator.commands.told import say
from generator.composing.escape import escape
from generator.findings import Refusal

if TYPE_CHECKING:
    from datetime import date

    from generator.process import Workshop
    from generator.record import Act, Desk, Traveller
    from generator.record.slips import Slip
    from generator.results.form import Field, Form

_THIRD = 3
_AFTER = ("closed", "withdrawn")  # what is found then is found all the same
_BEYOND = ("out", "between", "ticked", "strip", "range", "over")


def slip(asked: Namespace) -> int:
    """0 with the slip numbered and recorded."""
    shop = shop_of(asked)
    may(shop, asked.stamp, read_day(asked.on))
    history = open_traveller(asked, asked.serial, _AFTER)
    operation = _operation(history, asked.operation)
    says = because(asked.what, "--what")
    taken: list[str] = []

    def numbered(at: Desk) -> tuple[Mapping[str, Any], Lists]:
        number = at.next_of("slips", "NC")
        taken.append(number)
        row = f"{number} {history.serial} {operation} {says}\n"
        return {"slip": number}, {at.list_path("slips"): row}

    own = {"operation": operation, "says": says}
    if asked.part:
        own["part serial"] = _part(history, asked.part)
    code = acted(asked, shop, history, "slip", own, numbered)
    for number in taken:  # told once it is in the record, and not where a killed run came first
        say(number, asked)
    return code


def _part(history: Traveller, serial: str) -> str:
    """The part of a set that a slip is on."""
    known = list(history.facts["part serials"])
    if serial not in known:
        wrong = f"{history.serial} is not of part {serial}"
        raise Refusal("misuse", wrong, "one of: " + ", ".join(known))
    return serial


def dispose(asked: Namespace) -> int:
    """0 with the decision on a slip recorded, and where it is rework its sheet printed."""
    from generator.record.apart import two_words
    from generator.record.slips import slip_named

    shop = shop_of(asked)
    history, found = slip_named(asked.workshop, asked.slip)
    trade = str(history.facts.get("trade", ""))
    may(shop, asked.stamp, read_day(asked.on), "lead", "inspector", trade=trade)
    open_traveller(asked, history.serial, _AFTER)
    if found.decided is not None and not two_words(history.acts, "dispose", found.number):
        wrong = f"{found.number} was decided on {found.decided.tree.get('on')}: {found.decision}"
        raise Refusal("record", wrong, "a new slip, where something is wrong again")
    why = because(asked.why)
    if asked.decision == "rework":
        open_traveller(asked, history.serial)
        return _rework(asked, shop, history, found, why)
    if asked.operations:
        raise Refusal("misuse", f"--operations with {asked.decision}", "only with rework")
    if asked.decision == "use":
        _somebody_concedes(shop, asked.stamp, read_day(asked.on), trade)
    own = {"slip": found.number, "decision": asked.decision, "why": why}
    code = acted(asked, shop, history, "dispose", own)
    if asked.decision == "use":
        right = f'witnessmark concede {found.number} --what "..." --stamp INSPECTOR'
        say(f"to use it as it is needs a concession: {right}", asked)
    return code


def _somebody_concedes(shop: Workshop, stamp: str, day: date, trade: str) -> None:
    """Refusal where nobody could concede it then: no inspector holds for the trade on that day, or
    the only one is who decides."""
    inspectors = [e for e in shop.stamps if e.role == "inspector" and e.holds_on(day)]
    able = {each.stamp for each in inspectors if each.holds_for(trade)}
    of = trade or "the trade"
    if not able:
        wrong = f"no inspector could concede it: none holds for {of} on {day.isoformat()}"
        right = f"an inspector whose stamp holds for {of}, in stamps.yaml"
        raise Refusal("stamp", wrong, right)
    if able == {stamp}:
        wrong = f"who decides does not concede, and {of} has no other inspector"
        right = "the lead's stamp for the decision; or a second inspector in stamps.yaml"
        raise Refusal("stamp", wrong, right)


def concede(asked: Namespace) -> int:
    """0 with the concession numbered and recorded."""
    from generator.record.slips import slip_named

    shop = shop_of(asked)
    history, found = slip_named(asked.workshop, asked.slip)
    trade = str(history.facts.get("trade", ""))
    may(shop, asked.stamp, read_day(asked.on), "inspector", trade=trade)
    open_traveller(asked, history.serial, _AFTER)
    _may_be_conceded(history, found, asked.stamp)
    taken: list[str] = []

    def numbered(at: Desk) -> tuple[Mapping[str, Any], Lists]:
        number = at.next_of("concessions", "CN")
        taken.append(number)
        row = f"{number} {found.number} {history.serial}\n"
        return {"concession": number}, {at.list_path("concessions"): row}

    told = [*_covered(asked, history, found), *_out_now(shop, history, found)]
    covers = [each for i, each in enumerate(told) if each not in told[:i]]
    own = {
        "slip": found.number,
        "operation": found.operation,
        "says": because(asked.what, "--what"),
        "covers": covers,
    }
    code = acted(asked, shop, history, "concession", own, numbered)
    if not taken:
        return code
    say(taken[0], asked)
    for each in covers:
        say(f"allowed: {each['row']} {each['name']}: {each['value']}".replace(" :", ":"), asked)
    if not covers:
        say("no value is allowed by it: nothing out of limits is entered at its operation", asked)
    return code


def _may_be_conceded(history: Traveller, found: Slip, stamp: str) -> None:
    """Nothing, or the refusal of a concession on a slip that cannot have one by this stamp."""
    from generator.record.apart import two_words

    if found.decision not in ("use", "rework"):
        wrong = f"{found.number} is not to be used or reworked: {found.decision or 'undecided'}"
        raise Refusal("record", wrong, f"witnessmark dispose {found.number}, first")
    if found.concession is not None and not two_words(history.acts, "concession", found.number):
        wrong = f"{found.number} has the concession {found.concession.tree.get('concession')}"
        raise Refusal("record", wrong, "one concession a slip")
    if found.decided is not None and found.decided.tree.get("by") == stamp:
        wrong = f"{stamp} decided on {found.number}"
        raise Refusal("stamp", wrong, "a concession by another than who decided")


def _out_now(shop: Workshop, history: Traveller, slip: Slip) -> Iterator[dict[str, str]]:
    """The values at the operation of a slip that are entered and beyond their limits."""
    from generator.commands.enter import beside, books_of, entries_of, form_read
    from generator.record.slips import sheet_of
    from generator.results.case import Case
    from generator.results.judge import judged

    sheet = sheet_of(history, slip.operation)
    form = form_read(history, sheet)
    entries = entries_of(history, form, sheet)
    books = books_of(shop, history, None, sheet)
    beyond = {(v.sheet, v.operation, v.row) for v in judged(
        form, entries, books, *beside(history, sheet)
    ) if v.code in _BEYOND and v.blocks}  # fmt: skip
    for field in form.fields:
        if slip.operation in (field.operation, field.of, *field.used_in) and (
            field.sheet, field.operation, field.label) in beyond:  # fmt: skip
            yield _covers(field, Case(form, entries, books).value(field))


def _covered(asked: Namespace, history: Traveller, slip: Slip) -> Iterator[dict[str, str]]:
    """The values that are named: of the operation of the slip, or of a sheet as a whole such as a
    feature of the inspection sheet."""
    from generator.commands.enter import form_read
    from generator.record.slips import sheet_of

    form = form_read(history, sheet_of(history, slip.operation))
    fields = [f for f in form.fields if _may_be_named(f, slip.operation)]
    for told in asked.covers or ():
        name, equals, value = (each.strip() for each in told.rpartition("="))
        named = [f for f in fields if name in (f.label, f.row)]
        if not equals or not value or len(named) != 1:
            wrong = f"'{told}' names {len(named) or 'no'} box of operation {slip.operation}"
            labels = ", ".join(dict.fromkeys(f.label for f in named or fields))
            raise Refusal("misuse", wrong, f'"BOX=VALUE" with one of: {labels}')
        yield _covers(named[0], _with_its_day(form, named[0], value))


def _with_its_day(form: Form, field: Field, value: str) -> str:
    """A value that is named for a box; a time with a day beside it is named with that day."""
    from generator.results.values import Moment, day_of, minutes_of

    if field.kind != "clock" or form.day_box(field) is None:
        return value
    day, minutes = day_of(value.rpartition(" ")[0]), minutes_of(value.rpartition(" ")[2])
    if day is None or minutes is None:
        right = f'"{field.label}=2026-11-26 14:05", its day and its time'
        raise Refusal("misuse", f"'{value}' is no time with its day", right)
    return str(Moment(minutes, day))


def _may_be_named(field: Field, operation: str) -> bool:
    """Whether a concession at an operation may allow what stands in a box: one of the operation, or
    one of a sheet that no operation names."""
    from generator.results.judge_stores import WORDS

    if _lasts_for(field, operation):
        return True
    at = {field.operation, field.of} - {""} or {operation}
    judged = field.kind in ("number", "choice", "clock") or field.boxes[0] in WORDS
    return judged and operation in at


def _lasts_for(field: Field, operation: str) -> bool:
    """Whether a field says until when something of an operation holds: a reading of it, or a line
    of a list that it uses or that no operation names."""
    at = {*field.used_in, field.operation} - {""} or {operation}
    return field.lasts and operation in at


def _covers(field: Field, value: str) -> dict[str, str]:
    sheet, operation, row, name = field.key
    return {"sheet": sheet, "operation": operation, "row": row, "name": name, "value": value}


def _operation(history: Traveller, number: str) -> str:
    """The operation, which must be on the traveller or one of its rework sheets."""
    from generator.draw.sheet import read_sheet
    from generator.record.apart import again_on
    from generator.record.slips import gone_to
    from generator.results.supplement import operations_of

    known = [e.number for e in operations_of(read_sheet(history.sheets["traveller"]).parts)]
    for act in reworks(history):
        known += [f"{n}{act.tree['rework']}" for n in again_on(act)]
    known += [each for each in gone_to(history) if each not in known]
    if number not in known:
        wrong = f"{history.serial} has no operation {number}"
        raise Refusal("misuse", wrong, "one of: " + ", ".join(known))
    return number


def _rework(asked: Namespace, shop: Workshop, history: Traveller, found: Slip, why: str) -> int:
    """Record the decision with its supplementary sheet, in one act."""
    from generator.commands.begun import begun_by_record
    from generator.draw.sheet import read_sheet
    from generator.record import perform
    from generator.record.slips import gone_to
    from generator.results.supplement import operations_of, void_behind

    operations = operations_of(read_sheet(history.sheets["traveller"]).parts)
    numbers = [each.number for each in operations]
    again = _in_order(numbers, asked.operations, found)
    begun = _begun(numbers, asked.done, again, found)
    come = [*begun_by_record(history, numbers), *last_done_on(history)]
    begun = max([begun, *(each for each in come if each in numbers)], key=numbers.index)
    void = void_behind(operations, again, begun)
    if gone := [each for each in (*again, *void) if each in gone_to(history)]:
        wrong = f"operation {', '.join(gone)} went over to a newer revision, whose sheet it is on"
        right = f"witnessmark withdraw {history.serial}, and a traveller of that revision"
        raise Refusal("record", wrong, right)
    name = _next_sheet(asked, shop, history)
    whole = [e.number for e in operations if e.number in (*again, *void)]
    day = day_words(read_day(asked.on))
    earlier = put_out(history, whole)
    words = [*_decided(asked, found, why, again, void), *_out_of_force(earlier)]
    files = _sheet_files(history, name, whole, words, day)

    def make(at: Desk) -> Act:
        unchanged(history)
        return _act(at, asked, history, found, files, (name, again, void, why))

    act, _ = perform(asked.workshop, shop.desk, make)
    say(act.title, asked)
    say(f"void behind it: {', '.join(void) or 'none'}", asked)
    for sheet, gone_there, _ in earlier:
        say(f"void by it on rework sheet {sheet}: {', '.join(gone_there)}", asked)
    say(f"{asked.workshop / act.folder / 'rework.pdf'}", asked)
    return 0


def _next_sheet(asked: Namespace, shop: Workshop, history: Traveller) -> str:
    """The name of the next rework sheet. Another desk has its letter behind it, or two clones would
    both make a folder R1. Refusal where the third is not decided on by an inspector."""
    from generator.record.git import opened
    from generator.record.recording import letter_of

    number = 1 + len(reworks(history))
    if number >= _THIRD:
        may(shop, asked.stamp, read_day(asked.on), "inspector")
    desk = letter_of(opened(asked.workshop), shop.desk)
    return f"R{number}" + ("" if desk == history.serial[0] else desk)


def _decided(
    asked: Namespace, found: Slip, why: str, again: Sequence[str], void: Sequence[str]
) -> list[str]:
    """What the head of the supplementary sheet says."""
    behind = ", ".join(void) or "none"
    return [
        f"Slip {found.number}, operation {found.operation}: {found.says}",
        f"Decided on {asked.on} by {asked.stamp}: rework.",
        f"As decided: {why}",
        f"To be done again: {', '.join(again)}. Void by it, to be done again behind it: {behind}.",
        "What was written on the traveller stays as it is. Done before, and worked over by this: "
        "the lead says on the sheet what is undone first.",
    ]


def _out_of_force(earlier: Iterable[tuple[str, Sequence[str], Sequence[str]]]) -> Iterator[str]:
    """A line for each earlier rework sheet of which something is void by this one, so that no two
    valid sheets for the same work lie on the bench."""
    for name, gone, left in earlier:
        stays = f"Still in force there: {', '.join(left)}." if left else "Nothing there is left."
        yield (
            f"Void by it on rework sheet {name}, begun or not: {', '.join(gone)}. The lead crosses "
            f"them out there, with a stamp; what is written stays readable. {stays}"
        )


def _in_order(known: Sequence[str], wanted: Sequence[str], found: Slip) -> tuple[str, ...]:
    """The operations to be done again, in their order; without words that of the slip."""
    numbers = list(wanted) or [found.operation.partition("R")[0]]
    strange = [each for each in numbers if each not in known]
    if strange:
        right = "some of: " + ", ".join(known)
        raise Refusal("misuse", f"there is no operation {strange[0]}", right)
    return tuple(each for each in known if each in numbers)


def _begun(known: Sequence[str], done: str | None, again: Sequence[str], found: Slip) -> str:
    """The last operation that was begun; without words the one at which the slip was raised."""
    last = done or found.operation.partition("R")[0]
    if last not in known or known.index(last) < known.index(again[-1]):
        wrong = f"the work has come to operation {last}, and {again[-1]} is to be done again"
        raise Refusal("misuse", wrong, "--done, the last operation that was begun")
    return last


def _sheet_files(
    history: Traveller, rework: str, numbers: Sequence[str], words: Sequence[str], day: str
) -> Mapping[str, bytes]:
    """The supplementary sheet, its boxes and its form."""
    from generator.draw import box_map, lay_out
    from generator.results.supplement import supplement

    told = [str(escape(each)) for each in words]
    kind = (f"REWORK {rework}", rework)
    before = {number: f"{number}{name}" for number, name in last_done_on(history).items()}
    text = supplement(history.sheets, kind, numbers, told, day, before)
    drawn = lay_out({"traveller": text}).sheet("traveller")
    boxes = box_map({"traveller": drawn}).encode()
    form = form_file({"traveller.md": text.encode(), "boxes.json": boxes})
    return {"rework.md": text.encode(), "rework.pdf": drawn.pdf, "boxes.json": boxes,
            "form.yaml": form}  # fmt: skip


def _act(
    at: Desk,
    asked: Namespace,
    history: Traveller,
    found: Slip,
    files: Mapping[str, bytes],
    decided: tuple[str, Sequence[str], Sequence[str], str],
) -> Act:
    from generator.record import Act, text_of

    rework, again, void, why = decided
    path = at.next_file(f"output/completed/{history.serial}", "dispose")
    place = f"output/completed/{history.serial}/{rework}"
    tree = {
        **head_of("dispose", history, asked), "slip": found.number, "decision": "rework",
        "why": why, "rework": rework,
        "operations": list(again), "void": list(void),
    }  # fmt: skip
    whole = {f"{place}/{name}": content for name, content in files.items()}
    words = f"Dispose {found.number} of {history.serial}: rework {rework}"
    return Act(path, words, {**whole, path: text_of(tree)}, {}, place)
