"""The tree of a file of the record, in; what is not of the shape in which it is written, out.

A record is copied between desks, so that a file may come from anyone. What reads it further on may
count on texts where there are texts.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from generator.read import read_text

_LISTS = ("after", "operations", "void", "slips", "part serials")
_ROWS = {
    "files": ("file", "path", "sha256"),
    "covers": ("sheet", "operation", "row", "name", "value"),
}
_NEEDED = {
    "result": ("on", "by", "boxes"),
    "slip": ("on", "by", "slip", "operation", "says"),
    "dispose": ("on", "by", "slip", "decision"),
    "decide": ("on", "by", "decision", "revision"),
    "attach": ("on", "by", "files"),
    "approve": ("on", "by", "revision", "fingerprint"),
    "facts": ("process", "revision", "part", "part serials", "issued on", "fingerprint"),
}
ACT = re.compile(r"output/(completed|processes)/([^/]+)/[A-Z]-[0-9]{3,}-([a-z-]+)\.yaml")
_MEDIA = re.compile(r"output/media(/[A-Za-z0-9_][A-Za-z0-9_ .+-]*)+")
_APPROVAL = re.compile(r"(output/processes/[A-Z0-9-]+/[A-Z]-[0-9]{3,}-approve\.yaml)?")
_SUPPLEMENT = re.compile(r"[A-Za-z0-9]*")


def fault_in(path: str, content: bytes) -> str:
    """Why a file of the record, by its path from the workshop folder, could not be read by those
    who read it later: an act, the facts of an issue, a form; "" where it can, and for other files.
    """
    named = ACT.fullmatch(path)
    if named is None and not path.endswith(("/facts.yaml", "/form.yaml")):
        return ""
    document, findings = read_text(content, path)
    if document is None or findings:
        first = findings[0]
        at = f"line {first.place.line}: " if first.place.line else ""
        return f"{at}{first.wrong}"
    if path.endswith("/form.yaml"):
        return ""
    return fault_of(named[3] if named else "facts", document.tree)


def fault_of(kind: str, tree: Any) -> str:
    """What is wrong with the file of an act of this kind, or with the facts of an issue; "" for
    nothing."""
    if not isinstance(tree, Mapping):
        return "it holds no keys"
    missing = next((key for key in _NEEDED.get(kind, ("on", "by")) if key not in tree), "")
    if missing:
        return f"it has no '{missing}'"
    strange = next((key for key, value in tree.items() if not _fits(key, value)), None)
    return "" if strange is None else f"'{strange}' is not what is written there"


def _fits(key: str, value: Any) -> bool:
    if key in _LISTS:
        return _are_texts(value)
    if key in _ROWS:
        return isinstance(value, list) and all(_is_row(key, each) for each in value)
    if key == "boxes":
        return _are_boxes(value)
    if key == "corrects":
        return isinstance(value, Mapping) and _are_texts(list(value.values()))
    if key == "approval":
        return isinstance(value, str) and bool(_APPROVAL.fullmatch(value))
    if key in ("supplement", "rework", "revision"):  # names of folders
        return isinstance(value, str) and bool(_SUPPLEMENT.fullmatch(value))
    return isinstance(value, str)


def _are_texts(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(each, str) for each in value)


def _is_row(key: str, row: Any) -> bool:
    if not isinstance(row, Mapping) or not _are_texts(list(row.values())):
        return False
    leads_away = key == "files" and not _MEDIA.fullmatch(row.get("path", ""))
    return all(each in row for each in _ROWS[key]) and not leads_away


def _are_boxes(value: Any) -> bool:
    """Sheet, operation, row; below a row a word, words, words by their names, or ticks."""
    if not isinstance(value, Mapping):
        return False
    for operations in value.values():
        if not isinstance(operations, Mapping):
            return False
        for rows in operations.values():
            if not isinstance(rows, Mapping) or not all(map(_is_box, rows.values())):
                return False
    return True


def _is_box(value: Any) -> bool:
    if isinstance(value, Mapping):
        return all(isinstance(each, str) or _are_texts(each) for each in value.values())
    return isinstance(value, str) or _are_texts(value)
