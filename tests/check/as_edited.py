"""Files as an editor sees them, and the schema that it judges them by."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import Any

import yaml
from jsonschema import Draft202012Validator

from generator.calculations import calculations
from generator.editor import editor_names, editor_schema
from generator.read import Document, read_text
from tests.generated import ROOT
from tests.helping import SOUND

EDITORS = ("YAML 1.2", "YAML 1.1")
STRUCTURE = {"unknown", "missing", "choice", "kind"}
FILES = [f for at in (ROOT / "processes", SOUND) for f in sorted(at.rglob("*.yaml"))]
TEXTS = {file: file.read_text(encoding="utf-8") for file in FILES}


def kind_of(file: Path) -> str:
    """The name of the rules of a file."""
    if file.parent.name == "workshop" and file.stem in editor_names():
        return file.stem
    if file.parent.name == "tables":
        return "rows"
    return "values" if file.name.startswith("values-") else "process"


@cache
def validator(kind: str) -> Draft202012Validator:
    return Draft202012Validator(editor_schema(kind))


def takes(kind: str, tree: Any) -> bool:
    return validator(kind).is_valid(tree)


# --- as an editor reads ---------------------------------------------------------------------

_INT = re.compile(r"[-+]?[0-9]+\Z")
_HEX = re.compile(r"0x[0-9a-fA-F]+\Z|0o[0-7]+\Z")
_FLOAT = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?\Z")
_TRUTH = {"true": True, "True": True, "TRUE": True, "false": False, "False": False, "FALSE": False}
_NOTHING = ("", "~", "null", "Null", "NULL")


def seen(word: str, editor: str) -> Any:
    """What an editor makes of a plain word. A day stays text: JSON has none."""
    return _seen_1_1(word) if editor == "YAML 1.1" else _seen_1_2(word)


def _seen_1_2(word: str) -> Any:
    if word in _NOTHING:
        return None
    if _INT.match(word):
        return int(word)
    if _HEX.match(word):
        return int(word, 0)
    return float(word) if _FLOAT.match(word) else _TRUTH.get(word, word)


def _seen_1_1(word: str) -> Any:
    loader = yaml.SafeLoader("")
    tag = loader.resolve(yaml.ScalarNode, word, (True, False))
    if tag.rpartition(":")[2] not in ("null", "bool", "int", "float"):
        return word
    try:
        return loader.construct_object(yaml.ScalarNode(tag, word))
    except ValueError:
        return word


def in_editor(source: str, editor: str) -> Any:
    """A file as an editor sees it: words in quotes stay words."""

    def value(node: Any) -> Any:
        if isinstance(node, yaml.MappingNode):
            return {key.value: value(each) for key, each in node.value}
        if isinstance(node, yaml.SequenceNode):
            return [value(each) for each in node.value]
        return node.value if node.style else seen(node.value, editor)

    return value(yaml.compose(source, Loader=yaml.CBaseLoader))


def unquoted(tree: Any, editor: str) -> Any:
    """A tree of texts as an editor would see it with every quote left out."""
    if isinstance(tree, dict):
        return {key: unquoted(each, editor) for key, each in tree.items()}
    if isinstance(tree, list):
        return [unquoted(each, editor) for each in tree]
    return seen(tree, editor) if tree else tree


def read(source: str) -> Document:
    document, findings = read_text(source.encode(), "x.yaml")
    assert document is not None
    assert not findings
    return document


@cache
def tree_of(file: Path) -> Any:
    """The tree of texts of a file; to be copied before it is changed."""
    return read(TEXTS[file]).tree


# --- the calculations -----------------------------------------------------------------------

ALL = list(calculations().values())
