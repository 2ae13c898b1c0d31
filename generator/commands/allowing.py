"""What the record holds of a traveller's slips and of its issue, in; what a box is judged by beside
its limits, out: what concessions allow, what waits for a slip, the instruments as they were listed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from typing import TYPE_CHECKING

from generator.check.readers import day as read_day
from generator.commands.in_force import sheets_beside
from generator.process import Instrument, Workshop

if TYPE_CHECKING:
    from generator.record import Traveller
    from generator.record.slips import Slip
    from generator.results.case import Books
    from generator.results.form import Key


def waits(slip: Slip, last: Mapping[str, str]) -> Iterator[tuple[str, tuple[str, str]]]:
    """The operations that wait for a slip, and what it waits for itself; nothing for one that is
    done with, or whose rework leaves its own operation out. last: operation -> the latest rework
    sheet that has it."""
    told = {"": "waits for its decision", "use": "waits for its concession"}
    if slip.decision in told and slip.concession is None:
        yield slip.operation, (slip.number, told[slip.decision])
    elif slip.decision in ("scrap", "return"):
        yield slip.operation, (slip.number, f"says that the part goes: {slip.decision}")
    elif slip.rework and slip.decided is not None:
        again = [number for number, sheet in last.items() if sheet == slip.rework]
        names = [*again, *([slip.operation] if slip.operation.partition("R")[0] in again else ())]
        words = f"has it done again on {slip.rework}"
        yield from ((name, (slip.number, words)) for name in dict.fromkeys(names))


def begun(history: Traveller, supplement: str) -> str:
    """The day of the issue; of a supplementary sheet, that of the decision that made it."""
    acts = history.of_kind("dispose", "decide")
    for act in acts if supplement else ():
        if supplement in (act.tree.get("rework"), act.tree.get("revision")):
            return str(act.tree.get("on", ""))
    return str(history.facts.get("issued on", ""))


def listed_then(history: Traveller) -> dict[str, Instrument]:
    """What the list that was frozen with the traveller says of each instrument: its kind, when it
    was due, what it can read and how finely."""
    from generator.check.readers import amount_range, step
    from generator.record.files import as_written, quick_tree

    file = history.folder / "output/issued" / history.serial / "workshop/instruments.yaml"
    told = quick_tree(file).get("instruments", ())
    with as_written(history.serial):
        return {
            each["number"]: Instrument(
                each["number"], each["kind"],
                step(each["reads to"]) if "reads to" in each else None,
                read_day(each["check due"]),
                range=amount_range(each["range"]) if "range" in each else None,
            )
            for each in told
        }  # fmt: skip


def raised(history: Traveller) -> dict[str, list[str]]:
    """The slips, concessions and supplementary sheets of a traveller, by what the closing sheet
    calls them."""
    from generator.record.slips import slips_of

    conceded = [str(act.tree.get("concession")) for act in history.of_kind("concession")]
    return {
        "non-conformance slips": [each.number for each in slips_of(history)],
        "concession slips": [*dict.fromkeys(conceded)],
        "supplementary sheets": [name for name in reversed(sheets_beside(history)) if name],
    }


def books_of_parts(
    shop: Workshop, history: Traveller, day: date | None, supplement: str = ""
) -> Books:
    """What the workshop knows of its stamps, and the record of the parts of a traveller and where
    they sit.

    day: of entering or of closing. supplement: the sheet that is judged.
    """
    from generator.commands.waiting import parts_on
    from generator.results.case import Books
    from generator.results.values import day_of

    closed = [str(act.tree.get("on", "")) for act in history.of_kind("close")]
    return Books(
        {each.stamp: each for each in shop.stamps},
        {},
        trade=str(history.facts.get("trade", "")),
        begun=day_of(begun(history, supplement)),
        until=day,
        parts=tuple(map(str, history.facts.get("part serials", ()))),
        part=str(history.facts.get("part", "")),
        place=meant_for(history)[1] if history.status == "closed" else "",
        fitted=dict(parts_on(history)),
        closed=read_day(closed[-1]) if closed else None,
    )


def meant_for(history: Traveller) -> tuple[str, str, str]:
    """The airframe, the position and the hand that the process names."""
    from generator.record.files import as_written, quick_tree

    tree = quick_tree(history.folder / "output/issued" / history.serial / "process.yaml")
    with as_written(history.serial):
        part = tree["part"]
        return str(tree["airframe"]), str(part.get("position", "")), str(part.get("hand", "none"))


def covered(slips: Iterable[Slip]) -> Iterator[tuple[Key, str]]:
    """The values that concessions allow, each in its field."""
    for slip in slips:
        told = slip.concession.tree.get("covers", ()) if slip.concession is not None else ()
        if slip.decision == "use":
            for each in told:
                key = (each["sheet"], each["operation"], each["row"], each["name"])
                yield key, each["value"]


def since(slips: Iterable[Slip]) -> dict[tuple[Key, str], date]:
    """The first day on which a concession allowed each value."""
    since: dict[tuple[Key, str], date] = {}
    for slip in slips:
        for told in covered([slip]):
            assert slip.concession is not None
            day = read_day(str(slip.concession.tree["on"]))
            since[told] = min(day, since.get(told, day))
    return since
