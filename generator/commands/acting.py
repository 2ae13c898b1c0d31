"""What most acts on a traveller share: the workshop's people, an open traveller, one file of the
record."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from generator.commands.told import say
from generator.commands.waiting import waits_for
from generator.files import shop_files
from generator.findings import Finished, Refusal
from generator.process import Workshop
from generator.workshop import open_workshop

if TYPE_CHECKING:
    from generator.record import Desk, Traveller

Lists = Mapping[str, str]


def shop_of(asked: Namespace, acting: bool = True) -> Workshop:
    """The workshop's own lists. Refusal, with the first finding, where they are not sound, or where
    something is to be recorded by lists that are not committed."""
    from generator.record import is_clean

    workshop, findings = open_workshop(asked.workshop)
    if workshop is None:
        first = findings[0]
        raise Refusal(first.code, f"{first.place.path}: {first.wrong}", first.right)
    if acting:
        recovered(asked.workshop, workshop)
        for path in is_clean(asked.workshop, list(shop_files(asked.workshop))):
            right = 'git add processes, then git commit -m "why"'
            raise Refusal("uncommitted", f"{path} is not what the last commit holds", right)
    return workshop


def recovered(folder: Path, shop: Workshop | None) -> None:
    """What a killed run left is undone or finished; Finished where it was an act.

    To be asked before anything is judged by the record, and before a list that is not committed is
    refused: until then the killed run still holds git's index, and nobody can commit.
    """
    from generator.record import recover

    if shop is not None and (title := recover(folder, shop.desk)):
        raise Finished(title)


def as_recorded(asked: Namespace, serial: str, rows: Mapping[str, str] | None = None) -> Traveller:
    """The traveller, every file of it as it was recorded. Refusal where one is not. rows: as for
    sound."""
    from generator.record import traveller
    from generator.record.sound import sound

    history = traveller(asked.workshop, serial)
    sound(asked.workshop, serial, rows)
    return history


def in_use(history: Traveller) -> None:
    """Refusal where the revision of a traveller, or the one it went over to, was withdrawn."""
    from generator.record.processes import withdrawn

    number, letter = str(history.facts["process"]), str(history.facts["revision"])
    for each in history.of_kind("decide"):
        letter = str(each.tree["revision"]) if each.tree.get("decision") == "adopt" else letter
    if act := withdrawn(history.folder, number, letter):
        wrong = f"revision {letter} of {number} was withdrawn on {act.tree.get('on')}"
        right = f"witnessmark withdraw {history.serial}: it was {act.tree.get('why')}"
        raise Refusal("withdrawn", wrong, right)


def not_gone(history: Traveller) -> None:
    """Refusal where a part of the traveller was scrapped or sent back, on whatever traveller."""
    from generator.record.slips import GONE, against

    part, serials = history.facts["part"], history.facts["part serials"]
    for serial, slip in against(history.folder, part, serials):
        if slip.decision not in GONE:
            continue
        wrong = f"part {serial} went by {slip.number}: {slip.decision}"
        raise Refusal("record", wrong, f"witnessmark withdraw {history.serial}")


def alone(history: Traveller) -> None:
    """Refusal where a part of an open traveller is on the floor with another of the same process,
    as two desks that do not know of each other may issue it."""
    from generator.record.processes import issued_of
    from generator.record.sound import judged

    parts = {*history.facts["part serials"]}
    listed = issued_of(history.folder, str(history.facts["process"]))
    others = [e for e in listed if e.serial != history.serial and parts & {*e.part_serials}]
    known = judged(history.folder, [each.serial for each in others])
    for each, other in zip(others, known, strict=True):
        if other.status == "open":
            part = min(parts & {*each.part_serials})
            wrong = f"{history.serial} and {each.serial} are both open for part {part}"
            right = "look which part is which; witnessmark withdraw the other"
            raise Refusal("record", wrong, right)


def settled(history: Traveller) -> None:
    """Refusal where two desks wrote what cannot both hold, or a slip waits for somebody."""
    from generator.record.apart import at_odds
    from generator.record.slips import is_open, slips_of

    for one, other, says in at_odds(history.acts):
        wrong = f"{says} ({one.path}, {other.path})"
        raise Refusal(
            "record", wrong, "look at both; witnessmark withdraw, or an act that settles it"
        )
    for each in slips_of(history):
        if is_open(each) and (waits := waits_for(history, each)):
            raise Refusal("record", f"{each.number} waits: {each.says}", waits[1])


def head_of(kind: str, history: Traveller, asked: Namespace) -> dict[str, Any]:
    """How every act on a traveller begins: what it is, when, by whom, and after which acts."""
    return {"act": kind, "traveller": history.serial, "on": asked.on, "by": asked.stamp,
            "after": history.heads}  # fmt: skip


def open_traveller(asked: Namespace, serial: str, also: tuple[str, ...] = ()) -> Traveller:
    """The traveller. Refusal where it is neither open nor of one of the other states, or was issued
    after the day of the act."""
    history = as_recorded(asked, serial)
    if history.status not in ("open", *also):
        raise Refusal("record", f"{serial} is {history.status}", way_on(history))
    issued = str(history.facts.get("issued on", ""))
    if issued > asked.on:
        wrong = f"{serial} was issued on {issued}, after that day"
        raise Refusal("date", wrong, "--on that day or a later one")
    in_turn(history, asked.on)
    return history


def way_on(history: Traveller) -> str:
    """What is done instead, where a traveller is not open any more and what it says stays."""
    from generator.record.slips import GONE, slips_of

    serial, facts = history.serial, history.facts
    if history.status == "replaced":
        return str(history.of_kind("replace")[-1].tree.get("with", "the one that replaced it"))
    gone = any(each.decision in GONE for each in slips_of(history))
    parts = "PART-SERIAL" if gone else " ".join(facts["part serials"])
    what = "a new part" if gone else "the work done anew"
    new = f"witnessmark issue {facts['process']} --for {parts}, for {what}"
    if history.status == "closed":
        slip = f'witnessmark slip {serial} --operation N --what "...", for what is wrong on it'
        return f"{slip}; or witnessmark withdraw {serial}, then {new}"
    return new


def in_turn(history: Traveller, on: str) -> None:
    """Acts stand in the order of their days. Refusal where a later one is there already."""
    last = str(history.acts[-1].tree.get("on", "")) if history.acts else ""
    if last > on:
        wrong = f"{history.acts[-1].path} is of {last}, after {on}"
        raise Refusal("date", wrong, f"--on {last} or a later day; boxes have days of their own")


def unchanged(history: Traveller) -> None:
    """To be asked while no other run can write. Refusal where the record took something of the
    traveller since it was read: what was found then may not hold now."""
    from generator.record import traveller
    from generator.record.sound import sound

    sound(history.folder, history.serial)
    before = {each.path for each in history.acts}
    for act in traveller(history.folder, history.serial).acts:
        if act.path not in before:
            wrong = f"{act.path} was recorded by another run meanwhile"
            raise Refusal("record", wrong, "look at it, then the same again")


def acted(
    asked: Namespace,
    shop: Workshop,
    history: Traveller,
    kind: str,
    own: Mapping[str, Any],
    lists: Callable[[Desk], tuple[Mapping[str, Any], Lists]] = lambda at: ({}, {}),
) -> int:
    """Record one act on a traveller that was read before; 0.

    own: its keys. lists: further keys that need the desk's next numbers, and lines for its lists.
    """
    from generator.record import Act, perform, text_of

    serial = history.serial

    def make(at: Desk) -> Act:
        unchanged(history)
        path = at.next_file(f"output/completed/{serial}", kind)
        numbered, lines = lists(at)
        tree = {**head_of(kind, history, asked), **numbered, **own}
        return Act(path, f"{kind.capitalize()} {serial}", {path: text_of(tree)}, lines)

    act, _ = perform(asked.workshop, shop.desk, make)
    say(act.title, asked)
    return 0
