"""What a user typed in; Markdown that reads back as exactly that, out: the only way to a sheet."""

from __future__ import annotations

import re
import unicodedata

from generator.findings import Refusal

# Nothing to escape in it: no mark, no sign that opens a block, no number of a list.
_PLAIN = re.compile(
    r"(?!\d{1,9}[.)](?:\s|$))[A-Za-z0-9](?:[A-Za-z0-9 ,.;:()/%+='!?-]*[A-Za-z0-9.,;:()%'!?])?"
)
_EVERYWHERE = re.compile(r"([\\`*_\[\]<>&|~])")
_AT_START = re.compile(r"^(?:([#:=])|([+-])(?!\d))")
_LISTED = re.compile(r"^(\d{1,9})([.)])(?=\s|$)")
_CLOSING = re.compile(r"(?<=\s)(#+)$")


class Markdown(str):
    """Text that is Markdown already; nothing else passes the template engine unescaped."""

    __slots__ = ()


def escape(text: str) -> Markdown:
    """Markdown for one line of text: parsed, it gives the text back; it can open no block.

    White space is folded to single spaces. Signs that do not print are refused.
    """
    if not text or _PLAIN.fullmatch(text):
        return Markdown(text)
    line = text if text.isascii() else unicodedata.normalize("NFC", text)
    line = " ".join(line.split(" ")).strip()
    for sign in "" if line.isprintable() else line:
        if unicodedata.category(sign) in ("Cc", "Cf", "Co", "Cn", "Cs", "Zl", "Zp"):
            name = f"U+{ord(sign):04X}"
            raise Refusal(
                "text", f"{name} is a sign that does not print", "ordinary letters and signs"
            )
    line = _EVERYWHERE.sub(_marked, line)
    line = _AT_START.sub(_marked, line)
    line = _LISTED.sub(lambda match: f"{match[1]}\\{match[2]}", line)
    return Markdown(_CLOSING.sub(lambda match: "\\#" * len(match[1]), line))


def _marked(sign: re.Match[str]) -> str:
    return f"\\{sign[0]}"


def finalize(value: object) -> Markdown:
    """What the template engine puts in: Markdown as it is, everything else escaped."""
    return value if isinstance(value, Markdown) else escape(str(value))
