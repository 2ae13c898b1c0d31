"""A traveller, in; its sheets, and which operations of each are in force, out.

An operation is done on one sheet: on the latest rework sheet that has it again, else on that of the
revision to which it went over, else on the traveller. What an earlier rework sheet has of it is
void, whether it was begun or not; what was entered there stays in the record.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from generator.record import Traveller
    from generator.record.history import Recorded
    from generator.results.form import Form


def sheets_beside(history: Traveller) -> list[str]:
    """The sheets of a traveller, the latest first: supplementary ones by their names, "" itself."""
    place = history.folder / "output/completed" / history.serial
    acts = history.of_kind("dispose", "decide")
    named = [str(e.tree.get("rework") or e.tree.get("revision") or "") for e in acts]
    return [*(n for n in reversed(named) if n and (place / n / "form.yaml").exists()), ""]


def text_of_operations(history: Traveller, sheet: str) -> str:
    """The sheet as Markdown, with the operations that are done on it."""
    from generator.results.supplement import is_rework

    place = history.folder / "output/completed" / history.serial / sheet
    file = place / ("rework.md" if is_rework(sheet) else "operations.md")
    if not sheet:
        file = history.folder / "output/issued" / history.serial / "traveller.md"
    return file.read_text(encoding="utf-8")


def reworks(history: Traveller) -> list[Recorded]:
    """The decisions that made a rework sheet, in their order."""
    return [act for act in history.of_kind("dispose") if act.tree.get("rework")]


def last_done_on(history: Traveller) -> dict[str, str]:
    """Operation -> the latest rework sheet that has it again."""
    from generator.record.apart import again_on

    return {number: str(act.tree["rework"]) for act in reworks(history) for number in again_on(act)}


def void_on(history: Traveller, sheet: str) -> set[str]:
    """The operations of a rework sheet that a later one has again, by the names on the sheet. One
    of another desk that did not know of it does not say so on paper: there both are in force."""
    from generator.record.apart import again_on, behind

    acts, made = history.acts, [e for e in reworks(history) if e.tree["rework"] == sheet]
    later = [
        each
        for each in reworks(history)
        if made and (each.after is None or made[0].path in behind(each, acts))
    ]
    again = {number for each in later if each is not made[0] for number in again_on(each)}
    return {f"{number}{sheet}" for each in made for number in again_on(each) if number in again}


def put_out(history: Traveller, numbers: Iterable[str]) -> list[tuple[str, list[str], list[str]]]:
    """What a rework of some operations puts out of force on earlier rework sheets: each such sheet
    with the names of those that it does, and of those that stay."""
    from generator.record.apart import again_on

    found, gone = [], {*numbers}
    for act in reworks(history):
        sheet = str(act.tree["rework"])
        void = void_on(history, sheet)
        names = {number: f"{number}{sheet}" for number in again_on(act)}
        standing = [number for number, name in names.items() if name not in void]
        if hit := [names[number] for number in standing if number in gone]:
            found.append((sheet, hit, [names[n] for n in standing if n not in gone]))
    return found


def adopted(history: Traveller) -> list[Recorded]:
    """The decisions by which the traveller went over to a newer revision."""
    return [e for e in history.of_kind("decide") if e.tree.get("decision") == "adopt"]


def changed_to(history: Traveller) -> list[str]:
    """The revisions whose changed operations have a sheet of their own."""
    place = history.folder / "output/completed" / history.serial
    letters = [str(each.tree["revision"]) for each in adopted(history)]
    return [each for each in letters if (place / each / "form.yaml").exists()]


def gone_over(history: Traveller, sheet: str) -> dict[str, str]:
    """The operations that are done on the sheet of a later revision and not on this one, each with
    the latest of them."""
    later = adopted(history)
    letters = [str(each.tree["revision"]) for each in later]
    if sheet in letters:
        later = later[letters.index(sheet) + 1 :]
    return {
        n: str(each.tree["revision"]) for each in later for n in each.tree.get("operations", ())
    }


def where_done(history: Traveller, sheet: str, numbers: Collection[str]) -> Iterator[str]:
    """A line for each later sheet on which some of the operations are done, and how to enter it."""
    gone = {n: letter for n, letter in gone_over(history, sheet).items() if n in numbers}
    for letter in dict.fromkeys(gone.values()):
        named = ", ".join(n for n, on in gone.items() if on == letter)
        how = f"enter {history.serial} --supplement {letter}"
        yield f"operation {named}: done on sheet {letter}: {how}"


def in_force(history: Traveller, sheet: str, form: Form) -> Form:
    """What of a sheet somebody still has to fill in: without what is done on a later one. Nothing
    of a rework sheet of which a later one has every operation again."""
    from generator.results.form_part import without

    void = void_on(history, sheet)
    if void and void >= {*form.operations}:
        return type(form)((), (), ())
    return without(form, {*gone_over(history, sheet), *void})
