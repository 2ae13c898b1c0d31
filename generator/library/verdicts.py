"""A process file of a workshop in; what was found out about it, out: is it sound, what does it
need of others. Small enough to be held for every process of a library, and to be kept.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, replace
from typing import TYPE_CHECKING, Any

from generator.findings import Finding, Place

if TYPE_CHECKING:
    from generator.computing.working import Workings
    from generator.workshop import Shop


@dataclass(frozen=True, slots=True)
class Verdict:
    """What is known of one process file.

    read, built: whether it is YAML, and whether it is a process; number: "" where none is written;
    needs: the numbers of its prerequisites in their order, "" for outside evidence; kinds: its
    sheets; whole: worked out, composed and laid out too, else read and checked only. Of whole ones:
    typed: how many of its numbers somebody typed; pieces: how much advice there is; advice itself
    is held only where it is wanted.
    """

    shown: str
    read: bool
    built: bool = False
    number: str = ""
    needs: tuple[str, ...] = ()
    kinds: tuple[str, ...] = ()
    whole: bool = False
    typed: int = 0
    pieces: int = 0
    advice: tuple[Finding, ...] = ()
    findings: tuple[Finding, ...] = ()

    @property
    def sound(self) -> bool:
        """Whether nothing is wrong with it, as far as was looked."""
        return self.built and not self.findings


def verdict_of(shop: Shop, shown: str, source: bytes | None, whole: bool) -> Verdict:
    """The verdict on a process file of these bytes; None where they could not be read.

    shop: its lists, whose processes are not asked. whole: work it out, compose and lay out too.
    """
    from generator.workshop import advice_on

    own, verdict = read_again(shop, shown, source)
    if not whole or not verdict.built:
        return replace(verdict, whole=whole)
    workings, more = _worked_out(own, shown, verdict.sound) if shop.workshop else (None, [])
    typed = workings.typed if workings else 0
    advice = tuple(advice_on(own, shown, workings))
    findings = (*verdict.findings, *more)
    return replace(
        verdict, whole=True, typed=typed, pieces=len(advice), advice=advice, findings=findings
    )


def read_again(shop: Shop, shown: str, source: bytes | None) -> tuple[Shop, Verdict]:
    """A process file of these bytes read and checked: the shop with this process alone, where it
    is one, and the verdict so far."""
    from generator.compose import kinds_of
    from generator.read import read_file, read_text
    from generator.workshop import process_of

    found = read_text(source, shown) if source else read_file(shop.folder / shown, shown)
    document, findings = found
    if document is None or findings:
        return shop, Verdict(shown, False, findings=tuple(findings))
    process = process_of(document, shop.workshop, findings)
    if process is None:
        number = str(document.tree.get("process"))
        return shop, Verdict(shown, True, number=number, findings=tuple(findings))
    own = replace(shop, documents={shown: document}, processes={shown: process})
    needs = tuple(each.process for each in process.prerequisites)
    kinds = kinds_of(process)
    told = tuple(findings)
    return own, Verdict(shown, True, True, process.number, needs, kinds, findings=told)


def _worked_out(shop: Shop, shown: str, sound: bool) -> tuple[Workings, list[Finding]]:
    """The numbers of a process, and what stands in the way of its sheets."""
    from generator.compose import SheetFacts
    from generator.workshop import composed, laid_out, work_out

    process = shop.processes[shown]
    lacking = any(g.with_part and g.example is None for g in process.given.values())
    workings, findings = work_out(shop, shown)
    # The numbers that come with the part may still be missing.
    told = [each for each in findings if each.code != "given"]
    if told or lacking or not sound:
        return workings, told
    if not findings:
        made, findings = composed(shop, shown, workings, SheetFacts("", (), "not dated"))
        if made is not None:
            findings = laid_out(shop, shown, made.sheets)
    return workings, findings


def as_text(verdict: Verdict) -> str:
    """A verdict as a line of text."""
    return json.dumps(asdict(verdict), separators=(",", ":"))


def from_text(line: str, with_advice: bool) -> Verdict:
    """The verdict of such a line; ValueError, TypeError or KeyError where it is none."""
    told: dict[str, Any] = json.loads(line)
    for key in ("needs", "kinds"):
        told[key] = tuple(told[key])
    for key in ("advice", "findings"):
        wanted = told[key] if key == "findings" or with_advice else ()
        told[key] = tuple(Finding(**{**each, "place": Place(**each["place"])}) for each in wanted)
    return Verdict(**told)
