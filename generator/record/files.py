"""A tree of plain words, in; the YAML text of a file of the record, out, and back again."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import Any

import yaml

from generator.files import LARGEST
from generator.findings import Finding, Refusal
from generator.read import read_text, source_of


class _Plain(yaml.SafeDumper):
    """Writes every word where it stands: an alias would be one place for two facts."""

    def ignore_aliases(self, data: Any) -> bool:
        return True


class _Quick(getattr(yaml, "CSafeDumper", yaml.SafeDumper)):  # type: ignore[misc]
    """The same by libyaml, four times as fast."""

    def ignore_aliases(self, data: Any) -> bool:
        return True


def text_of(tree: Mapping[str, Any]) -> bytes:
    """The tree as YAML, in its own order; days as 2026-11-26, all else as plain words."""
    words = _worded(tree)
    try:
        return _dumped(words, _Quick)
    except (
        UnicodeEncodeError
    ):  # half of a sign, as in a file's name; libyaml has no way to write it
        return _dumped(words, _Plain)


def _dumped(words: Any, dumper: Any) -> bytes:
    told = yaml.dump(words, Dumper=dumper, sort_keys=False, allow_unicode=True, width=100)
    return str(told).encode()


def tree_of(file: Path) -> Any:
    """The tree of a file of the record, every scalar as text. Refusal where it cannot be read."""
    return tree_from(source_of(file, file.name), file)


def tree_from(source: bytes | Finding, file: Path) -> Any:
    """The tree of what was read from a file of the record. Refusal as for tree_of."""
    document, findings = (
        read_text(source, file.name) if isinstance(source, bytes) else (None, [source])
    )
    if document is None or findings:
        why = f": {findings[0].wrong}" if findings else ""
        wrong = f"{file.name} of {file.parent.name} cannot be read{why}"
        raise Refusal("record", wrong, f"git log -p -- {file}, and git checkout of a whole one")
    return document.tree


def quick_tree(file: Path) -> Any:
    """The tree of a file of the record without its places, every scalar as text, for reading
    thousands of them; {} where it cannot be read, which verify tells."""
    try:
        with file.open("rb") as opened:
            source = opened.read(LARGEST + 1)
    except OSError:
        return {}
    if len(source) > LARGEST:
        return {}
    if b"&" in source:  # it may be an anchor, by which a small file becomes an endless tree
        document, findings = read_text(source, file.name)
        return document.tree if document is not None and not findings else {}
    loader = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
    try:
        tree = yaml.load(source, Loader=loader)  # base: texts, lists and maps alone
    except (yaml.YAMLError, ValueError, RecursionError):
        return {}
    return tree if isinstance(tree, dict) else {}


@contextmanager
def as_written(of: str) -> Iterator[None]:
    """Where frozen files are read by their keys: a Refusal where they are not what was issued."""
    try:
        yield
    except (AttributeError, KeyError, TypeError, ValueError):
        wrong = f"a frozen file of {of} is not what was issued"
        raise Refusal("record", wrong, "witnessmark verify, which says which one") from None


def _worded(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {str(key): _worded(each) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [_worded(each) for each in value]
    if isinstance(value, date):
        return value.isoformat()
    return value if value is None else str(value)
