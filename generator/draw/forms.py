"""The name of a `:::` container, in; what it may hold, out: the whole list of them is here."""

from __future__ import annotations

import re
from dataclasses import dataclass

from generator.findings import Refusal, near_word


@dataclass(frozen=True)
class Form:
    """What a container holds: no cells means paragraphs, else rows of that many cells.

    header: the first row names the columns. open_ended: `cells` is the least number.
    said: a paragraph may stand above the rows, to be kept with them.
    """

    cells: int = 0
    header: bool = False
    open_ended: bool = False
    words: str = ""
    said: bool = False


FORMS: dict[str, Form] = {
    "frame": Form(2),
    "facts": Form(2),
    "warning": Form(),
    "caution": Form(),
    "note": Form(),
    "stop": Form(),
    "references": Form(2),
    "fill": Form(2, header=True, open_ended=True),
    "points": Form(5, header=True),
    "features": Form(9, header=True, open_ended=True),
    "labels": Form(2),
    "checklist": Form(1),
    "approvals": Form(2),
    "steps": Form(2),
    "state": Form(2),
    "clock": Form(2, words=r"(?:days)?"),
    "strip": Form(2, header=True, open_ended=True, said=True),
    "grid": Form(2, header=True, open_ended=True, said=True),
    "lookup": Form(2, header=True, open_ended=True),
    "map": Form(2, words=r"[a-z][a-z-]*"),
    "figure": Form(2, words=r"[a-z][a-z-]*"),
    "full-size": Form(2, words=r"[a-z][a-z-]*"),
    "readings": Form(5, header=True, open_ended=True),
    "numbers": Form(1),
    "sign": Form(2, words=r"done|hold|witness|independent"),
    "givens": Form(2, header=True, open_ended=True),
    "results": Form(2, header=True, open_ended=True),
    "working": Form(2, words=r"[ct]\d+"),
    "inputs": Form(4, header=True, words=r"c\d+"),
    "lines": Form(2, words=r"c\d+"),
}


def form_of(name: str, words: str, line: int) -> Form:
    """The form of a container, by its name and the words behind it; refuses what is not known."""
    if name not in FORMS:
        near = near_word(name, FORMS)
        known = near or ", ".join(FORMS)
        raise Refusal("sheet", f"line {line}: no container is called {name!r}", known)
    form = FORMS[name]
    if not re.fullmatch(form.words, words):
        right = f"::: {name} {form.words}".rstrip()
        raise Refusal("sheet", f"line {line}: '::: {name} {words}' is not understood", right)
    if name == "sign" and words == "independent":
        return Form(3)
    return form
