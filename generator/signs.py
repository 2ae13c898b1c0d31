"""A text in; whether its signs are such as may stand in a file, on a sheet and in the record, out.
What is typed on a command line and what is read from a file keep the same rule."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

from generator.findings import Refusal

RIGHT = "ordinary letters, signs and spaces"
# Words that are typed into a box and are no value of it, beside N/A with its reason.
LEFT_BLANK, UNREADABLE = "left blank", "unreadable"
_HIDDEN = ("Cc", "Cf", "Co", "Cn", "Cs", "Zl", "Zp")


@lru_cache(maxsize=1024)
def strange(sign: str) -> str | None:
    """What is strange about a sign that hides, reorders or fakes text; None for any other."""
    category = unicodedata.category(sign)
    if sign == "\t":
        return "a tab"
    if category in _HIDDEN:
        return "a sign that does not print"
    if category == "Zs" and sign not in (" ", "\u00a0"):
        return "a space of an odd width"
    if category.startswith("M"):
        return "a combining sign"
    if category == "Nd" and not sign.isascii():
        return "a digit of another script"
    return None


def named(sign: str) -> str:
    """A sign as a finding names it, such as U+0301 (combining acute accent)."""
    return f"U+{ord(sign):04X} ({unicodedata.name(sign, 'no name').lower()})"


def in_plain_signs(text: str, where: str) -> str:
    """The text of one line with each letter and its accent as one sign (NFC): two ways to type the
    same word are one word in the record. Refusal where a strange sign is left."""
    if text.isascii() and text.isprintable():
        return text
    composed = unicodedata.normalize("NFC", text)
    for sign in composed:
        if (why := strange(sign)) is not None:
            raise Refusal("misuse", f"{why} in {where}: {named(sign)}", RIGHT)
    return composed


def is_whole(text: str) -> bool:
    """Whether a text is one or more of the digits 0 to 9 and nothing else."""
    return text.isascii() and text.isdecimal()


def things_in(text: str) -> list[str]:
    """The things that a person wrote in one box, such as two batches: with a comma, a semicolon, a
    plus or an "and" between them, or a stroke that stands free; in "RC/22" it is of the number. Of
    signs alone it is these signs, which name nothing, so that who looks them up finds that."""
    parts = re.split(r"[,;&+]|\s(?:and|/)\s", text)
    return [each.strip() for each in parts if each.strip()] or list(filter(None, [text.strip()]))
