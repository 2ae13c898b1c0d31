"""`reprint`: the sheets of an issued traveller made again from what was frozen with them."""

from __future__ import annotations

from argparse import Namespace
from hashlib import sha256
from typing import TYPE_CHECKING

from generator.beside import is_ours
from generator.check.readers import day as read_day
from generator.commands.acting import acted, open_traveller, shop_of
from generator.commands.draft import day_words, printed, write_folder
from generator.commands.freezing import FACTS, FORM, GIVEN, PROCESS, as_it_was
from generator.commands.people import because, may
from generator.commands.told import done_before, say, tell
from generator.compose import SheetFacts
from generator.findings import Refusal

if TYPE_CHECKING:
    from generator.record import Traveller


def reprint(asked: Namespace) -> int:
    """0 with a copy printed and recorded, or with every file as its sum says."""
    from generator.record import traveller

    if asked.restore:
        return _restored(asked, traveller(asked.workshop, asked.serial))
    if not (asked.on and asked.stamp and asked.why):
        wrong = "a copy needs --why, --on DAY and --stamp STAMP"
        raise Refusal("misuse", wrong, "or --restore, which puts missing files back")
    shop = shop_of(asked)
    may(shop, asked.stamp, read_day(asked.on), "lead", "archivist")
    ends = ("closed", "withdrawn", "replaced", "void")
    history = open_traveller(asked, asked.serial, ends)
    number = 1 + len(history.of_kind("copy"))
    with as_it_was(history) as order:
        day = day_words(read_day(order.on))
        facts = SheetFacts(history.serial, order.part_serials, day, order.replaces, number)
        files, findings = printed(order.shop, order.shown, facts, order.given, drafting=False)
    if findings:
        tell(findings, asked)
        return 1
    told = {"copy": str(number), "why": because(asked.why)}
    place = asked.workshop / "output" / "draft" / f"{history.serial}-copy-{number}"
    is_ours(place)
    code = acted(asked, shop, history, "copy", told)
    pdfs = {name: each for name, each in files.items() if name.endswith(".pdf")}
    done = f"copy {number} of {history.serial} is recorded and not printed; reprint makes the next"
    with done_before(lambda: done):
        say(f"{write_folder(place, pdfs)}", asked)
    return code


def _restored(asked: Namespace, history: Traveller) -> int:
    """Missing files, made again and written only where they are what the sums say."""
    from generator.record.desk import ISSUED
    from generator.record.sound import registered, sums_of

    place = asked.workshop / ISSUED / history.serial
    sums = sums_of(asked.workshop, history.serial, registered(asked.workshop))
    missing = sorted(name for name in sums if not (place / name).exists())
    if not missing:
        say(f"nothing is missing of {history.serial}; verify tells whether all is unchanged", asked)
        return 0
    _only_prints(history, missing)
    with as_it_was(history) as order:
        day = day_words(read_day(order.on))
        facts = SheetFacts(history.serial, order.part_serials, day, order.replaces)
        files, findings = printed(order.shop, order.shown, facts, order.given, drafting=False)
    if findings:
        tell(findings, asked)
        return 1
    others = [name for name in missing if sha256(files.get(name, b"")).hexdigest() != sums[name]]
    if others:
        shown = f"output/issued/{history.serial}/{others[0]}"
        wrong = f"this version does not make {others[0]} as it was"
        raise Refusal("record", wrong, f"git checkout HEAD -- {shown}")
    for name in missing:
        (place / name).write_bytes(files[name])
        say(f"{place / name}", asked)
    return 0


def _only_prints(history: Traveller, missing: list[str]) -> None:
    """Refusal where a file is missing from which the sheets are made: only git has it again."""
    from generator.record.desk import ISSUED

    made_from = (PROCESS, GIVEN, FACTS, FORM)
    gone = [each for each in missing if each in made_from or each.startswith("workshop/")]
    if gone:
        wrong = f"{gone[0]} of {history.serial} is missing, and no print makes it again"
        paths = " ".join(f"{ISSUED}/{history.serial}/{name}" for name in gone)
        raise Refusal("record", wrong, f"git checkout HEAD -- {paths}")
