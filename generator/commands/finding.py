"""`index` and `trace`: what is where in the record, and what else hangs on it."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Sequence
from itertools import groupby
from typing import TYPE_CHECKING

from generator.check.readers import day as read_day
from generator.commands.told import say
from generator.files import no_record
from generator.findings import Refusal

if TYPE_CHECKING:
    from generator.record.facts_of import Row

_MOST = 40  # rows of one kind that are shown without --all


def index(asked: Namespace) -> int:
    """0 with output/index.csv made from the files."""
    from generator.record.index import INDEX, indexed

    _is_there(asked)
    (asked.workshop / INDEX).unlink(missing_ok=True)
    made = indexed(asked.workshop)
    rows = made.text.count("\n") - 2
    say(f"{asked.workshop / INDEX}: {made.read} travellers, {rows} rows", asked)
    return 0


def trace(asked: Namespace) -> int:
    """0 with everything that hangs on a word, 1 where nothing does."""
    from generator.record.index import found_in, indexed, rows_in

    _is_there(asked)
    if not asked.word.strip():
        raise Refusal("misuse", "nothing is asked for", "a batch, a stamp, a serial or the like")
    text = indexed(asked.workshop).text
    rows = [row for row in found_in(text, asked.word) if _wanted(asked, row)]
    if not rows and asked.kind and asked.kind not in (kinds := {r.kind for r in rows_in(text)}):
        wrong = f"nothing in the record is of the kind '{asked.kind}'"
        raise Refusal("misuse", wrong, "one of: " + ", ".join(sorted(kinds)))
    if not rows:
        raise Refusal("record", f"nothing in the record is '{asked.word}'", _near(text, asked))
    _told(asked, sorted(rows, key=lambda r: (r.kind, r.value, r.traveller, r.operation)))
    serials = list(dict.fromkeys(row.traveller for row in rows))
    hangs = _of_travellers(text, serials, {(r.kind, r.value) for r in rows})
    _on_the_same(asked, serials, hangs)
    return 0


def _is_there(asked: Namespace) -> None:
    if not (asked.workshop / "output").is_dir():
        raise no_record(asked.workshop)


def _wanted(asked: Namespace, row: Row) -> bool:
    if asked.kind and row.kind != asked.kind:
        return False
    if not (asked.since or asked.until):
        return True
    day = _iso(row.day)
    since = read_day(asked.since).isoformat() if asked.since else ""
    until = read_day(asked.until).isoformat() if asked.until else "9999"
    return bool(day) and since <= day <= until


def _iso(day: str) -> str:
    from generator.results.values import day_of

    found = day_of(day)
    return found.isoformat() if found else ""


def _near(text: str, asked: Namespace) -> str:
    from generator.findings import near_word
    from generator.record.index import rows_in

    values = {row.value for row in rows_in(text) if not asked.kind or row.kind == asked.kind}
    near = near_word(asked.word, sorted(values))
    return f"{near}?" if near else "a batch, charge, instrument, stamp, part, process or old name"


def _told(asked: Namespace, rows: Sequence[Row]) -> None:
    """What was looked for: kind and value once, then where it stands."""
    for (kind, value), group in groupby(rows, key=lambda r: (r.kind, r.value)):
        say(f"{kind} {value}", asked)
        found = list(group)
        for row in found if asked.all else found[:_MOST]:
            at = f"operation {row.operation}, " if row.operation else ""
            note = f": {row.note}" if row.note else ""
            say(f"  {row.traveller}  {row.day}  {at}{row.where}{note}", asked)
        if len(found) > _MOST and not asked.all:
            say(f"  and {len(found) - _MOST} more: --all", asked)


_SHOWN = ("part", "process", "position", "batch", "charge", "furnace", "coupon", "instrument",
          "slip", "concession", "replaces", "replaced by", "measured on", "certificate", "stamp",
          "drawing", "old name", "scan")  # fmt: skip


def _of_travellers(
    text: str, serials: Sequence[str], known: set[tuple[str, str]]
) -> dict[str, dict[str, list[str]]]:
    """What else is on the travellers: serial -> kind -> values."""
    from generator.record.index import rows_of_traveller

    found: dict[str, dict[str, list[str]]] = {}
    for serial in serials[:_MOST]:
        for row in rows_of_traveller(text, serial):
            if row.kind in _SHOWN and (row.kind, row.value) not in known:
                values = found.setdefault(serial, {}).setdefault(row.kind, [])
                if row.value not in values:
                    values.append(row.value)
    return found


def _on_the_same(
    asked: Namespace, serials: Sequence[str], found: dict[str, dict[str, list[str]]]
) -> None:
    for serial in serials[:_MOST]:
        say(f"on {serial}:", asked)
        for kind in _SHOWN:
            if values := found.get(serial, {}).get(kind):
                say(f"  {kind}: {', '.join(values)}", asked)
    if len(serials) > _MOST:
        say(f"and {len(serials) - _MOST} more travellers", asked)
