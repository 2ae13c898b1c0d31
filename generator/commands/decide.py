"""`decide`: what becomes of an open traveller when its process has a newer revision."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from generator.check.readers import day as read_day
from generator.commands.acting import (
    acted,
    head_of,
    open_traveller,
    shop_of,
    unchanged,
)
from generator.commands.alike import alike, unnamed
from generator.commands.compare import newer
from generator.commands.draft import day_words
from generator.commands.freezing import GIVEN, form_file
from generator.commands.issue_rules import drafted, unapproved
from generator.commands.people import because, may
from generator.commands.told import say, tell
from generator.compose import SheetFacts
from generator.findings import Refusal
from generator.signs import is_whole
from generator.workshop import Shop, chosen, open_shop, read_values, sheets_of

if TYPE_CHECKING:
    from generator.process import Workshop
    from generator.record import Act, Desk, Traveller
    from generator.results.changes import Change


def decide(asked: Namespace) -> int:
    """0 with the decision recorded, and where the traveller goes over its change sheet printed."""
    workshop = shop_of(asked)
    shop = open_shop(asked.workshop)
    if shop.findings:
        tell(shop.findings, asked)
        return 1
    history = open_traveller(asked, asked.serial)
    trade = str(history.facts.get("trade", ""))
    may(workshop, asked.stamp, read_day(asked.on), "lead", "inspector", trade=trade)
    shown = chosen(shop, [str(history.facts["process"])])[0]
    letter = shop.processes[shown].revision.letter
    if letter == history.facts["revision"]:
        wrong = f"{asked.serial} is of revision {letter}, and there is no newer one"
        raise Refusal("record", wrong, "a new revision in the process, first")
    if any(act.tree.get("revision") == letter for act in history.of_kind("decide")):
        wrong = f"it is decided what becomes of {asked.serial} at revision {letter}"
        raise Refusal("record", wrong, "nothing more")
    own = {"revision": letter, "decision": asked.decision, "why": because(asked.why)}
    if asked.decision == "finish":
        return acted(asked, workshop, history, "decide", own)
    return _go_over(asked, shop, shown, history, own)


def _go_over(
    asked: Namespace, shop: Shop, shown: str, history: Traveller, own: Mapping[str, str]
) -> int:
    """The change sheet and the operations that changed, as the new revision has them."""
    from generator.results.changes import changed_operations, changes

    seen, findings = drafted(shop, shown)
    if seen is not None:
        findings += unapproved(shop, shown, seen.fingerprint)
    place = history.folder / "output/issued" / history.serial / GIVEN
    given, wrong = read_values(place) if place.exists() else (None, [])
    serials = tuple(history.facts["part serials"])
    facts = SheetFacts(history.serial, serials, day_words(read_day(asked.on)))
    made, more = sheets_of(shop, shown, facts, given, drafting=False)
    then, _ = alike(shop, shown, history, given, drafting=False)
    findings += [*wrong, *more]
    if findings or made is None or then is None:
        tell(findings, asked)
        return 1
    found = changes(history.sheets, then.sheets)
    if blind := unnamed(found, then, history):
        right = f"--decision finish, or witnessmark withdraw {history.serial}"
        raise Refusal("record", blind, right)
    numbers = changed_operations(found)
    assert shop.workshop is not None
    _possible(asked, shop.workshop, found, numbers, history)
    here = [n for n in numbers if f"\n## {n} " in made.sheets["traveller"]]
    revisions = newer(shop.processes[shown].revisions, str(history.facts["revision"]))
    files = _sheet_files(made.sheets, found, here, (own["revision"], history, revisions, facts.day))
    return _recorded(asked, shop.workshop, history, {**own, "operations": list(numbers)}, files)


def _possible(
    asked: Namespace, shop: Workshop, found: Sequence[Change], numbers: Sequence[str],
    history: Traveller,
) -> None:  # fmt: skip
    """Nothing that was begun may have changed; what weighs, the inspector sees."""
    from generator.commands.begun import begun_by_record

    if asked.done is None:
        right = "--done, the last operation that was begun; --done 0 before the first"
        raise Refusal("misuse", "how far the work has come is not said", right)
    if not is_whole(asked.done) or len(asked.done) > 4:
        raise Refusal("misuse", f"'{asked.done}' is no operation", "--done 40")
    entered = begun_by_record(history, numbers)
    begun = [each for each in numbers if int(each) <= int(asked.done) or each in entered]
    if begun:
        wrong = f"operation {', '.join(begun)} changed and is begun"
        right = "--decision finish, or withdraw it and issue a new traveller"
        raise Refusal("record", wrong, right)
    if any(each.weighs for each in found):
        may(shop, asked.stamp, read_day(asked.on), "inspector")


def _sheet_files(
    sheets: Mapping[str, str],
    found: Sequence[Change],
    numbers: Sequence[str],
    told: tuple[str, Traveller, Sequence[object], str],
) -> Mapping[str, bytes]:
    from generator.draw import box_map, draw_sheet, lay_out
    from generator.results.change_sheet import change_sheet
    from generator.results.supplement import supplement

    letter, history, revisions, day = told
    was = f"revision {history.facts['revision']}, as issued"
    change = change_sheet(sheets["traveller"], found, was, revisions, (), day)  # type: ignore[arg-type]
    files = {"change-sheet.md": change.encode(), "change-sheet.pdf": draw_sheet(change).pdf}
    if numbers:
        words = [
            f"{history.serial} goes over to revision {letter}. These operations are done and "
            "signed here, and no more on the traveller; the change sheet goes with it."
        ]
        text = supplement(sheets, (f"CHANGE {letter}", ""), numbers, words, day)
        drawn = lay_out({"traveller": text}).sheet("traveller")
        boxes = box_map({"traveller": drawn}).encode()
        form = form_file({"traveller.md": text.encode(), "boxes.json": boxes})
        files |= {"operations.md": text.encode(), "operations.pdf": drawn.pdf,
                  "boxes.json": boxes, "form.yaml": form}  # fmt: skip
    return files


def _recorded(
    asked: Namespace,
    shop: Workshop,
    history: Traveller,
    own: Mapping[str, object],
    files: Mapping[str, bytes],
) -> int:
    from generator.record import Act, perform, text_of

    def make(at: Desk) -> Act:
        _of_one_desk(at, history)
        unchanged(history)
        path = at.next_file(f"output/completed/{history.serial}", "decide")
        place = f"output/completed/{history.serial}/{own['revision']}"
        tree = {**head_of("decide", history, asked), **own}
        whole = {f"{place}/{name}": content for name, content in files.items()}
        words = f"Decide {history.serial}: over to revision {own['revision']}"
        return Act(path, words, {**whole, path: text_of(tree)}, {}, place)

    act, _ = perform(asked.workshop, shop.desk, make)
    say(act.title, asked)
    for name in sorted(files):
        if name.endswith(".pdf"):
            say(f"{asked.workshop / act.folder / name}", asked)
    return 0


def _of_one_desk(at: Desk, history: Traveller) -> None:
    """Refusal at another desk than that of the serial: the sheets have a folder by the revision
    alone, and git could not merge two of them, nor could any list tell which one holds."""
    own = history.serial[0]
    if at.letter != own:
        wrong = f"{history.serial} is of desk {own}, and goes over there alone"
        right = f"the same at desk {own}; or --decision finish, or withdraw it"
        raise Refusal("record", wrong, right)
