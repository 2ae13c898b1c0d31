"""The editor's JSON Schema in; that it is fresh, and takes and refuses what `check` does, out.

An editor reads plain words its own way: 2 is a number to it, and to some yes is true. Both ways of
reading that are in use (YAML 1.2 and 1.1) stand here.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from copy import deepcopy
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from generator.check.structure import structure_faults
from generator.check.workings import work_out_faults
from generator.editor import editor_names, editor_schema
from generator.read import Document, Steps, read_text
from tests.check.as_edited import (
    EDITORS,
    FILES,
    STRUCTURE,
    TEXTS,
    in_editor,
    kind_of,
    takes,
    tree_of,
    unquoted,
    validator,
)
from tests.generated import ROOT, generated
from tests.helping import SOUND
from tests.test_cases import PAGES, Page, read_page, written

# --- fresh, and a schema --------------------------------------------------------------------


@pytest.mark.parametrize("path", generated(), ids=str)
def test_the_stored_file_is_what_is_generated_now(path):
    file = ROOT / path
    stored = file.read_text(encoding="utf-8") if file.exists() else ""
    assert stored == generated()[path], f"{path} is stale: make generated"


def test_nothing_lies_there_that_is_not_generated():
    stored = {file.relative_to(ROOT) for file in (ROOT / "schema/editor").iterdir()}
    assert stored == {path for path in generated() if path.parts[:2] == ("schema", "editor")}


@pytest.mark.parametrize("kind", editor_names())
def test_it_is_json_schema_of_2020_12(kind):
    made = editor_schema(kind)
    assert made["$schema"] == Draft202012Validator.META_SCHEMA["$id"]
    Draft202012Validator.check_schema(made)


# --- what is sound is taken -----------------------------------------------------------------


@pytest.mark.parametrize("editor", EDITORS)
@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_every_sound_file_is_taken(file, editor):
    errors = list(validator(kind_of(file)).iter_errors(in_editor(TEXTS[file], editor)))
    assert [f"{list(e.path)}: {e.message[:200]}" for e in errors] == []


def faults_of(tree: Any, kind: str) -> set[str]:
    """The codes of what our own checker says of the structure of a tree."""
    document = Document("x.yaml", (), tree, {}, {}, b"")
    found = structure_faults(document, kind)
    return {fault.code for fault in found + (work_out_faults(tree) if kind == "process" else [])}


@pytest.mark.parametrize("editor", EDITORS)
@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_quotes_change_nothing(file, editor):
    assert takes(kind_of(file), unquoted(tree_of(file), editor))


# --- what check refuses for its structure is refused ----------------------------------------

SMALL = [file for file in FILES if SOUND in file.parents]


def _places(tree: Any, here: Steps = ()) -> Iterator[Steps]:
    if here:
        yield here
    inner = tree.items() if isinstance(tree, dict) else enumerate(tree)
    for step, each in inner if isinstance(tree, dict | list) else ():
        yield from _places(each, (*here, step))


def _own_name(steps: Steps) -> bool:
    """Where the writer chooses the key."""
    return steps[:-1] in (("given",), ("work out",), ("maps",)) or "each takes" in steps[:-1]


PLACES = [(file, steps) for file in SMALL for steps in _places(tree_of(file))]
KEYS = [(f, steps) for f, steps in PLACES if isinstance(steps[-1], str) and not _own_name(steps)]


def _shown(value: Any) -> str:
    return value.stem if isinstance(value, Path) else ".".join(map(str, value))


def changed(file: Path, steps: Steps, change: Any) -> Any:
    """The tree of a file with one block or list changed: change gets it, and the last step."""
    tree = deepcopy(tree_of(file))
    parent = tree
    for step in steps[:-1]:
        parent = parent[step]
    change(parent, steps[-1])
    return tree


def agree(tree: Any, kind: str) -> None:
    """What our checker finds no fault in is taken; a fault of structure is refused."""
    codes = faults_of(tree, kind)
    if not codes:
        assert takes(kind, unquoted(tree, "YAML 1.2"))
    elif codes & {*STRUCTURE, "calculation"}:
        assert not takes(kind, unquoted(tree, "YAML 1.2")), codes


@pytest.mark.parametrize(("file", "steps"), KEYS, ids=_shown)
def test_an_unknown_key_is_refused(file, steps):
    def misspell(parent, key):
        parent[key + key[-1]] = parent.pop(key)

    tree = changed(file, steps, misspell)
    assert "unknown" in faults_of(tree, kind_of(file))
    assert not takes(kind_of(file), unquoted(tree, "YAML 1.2"))


@pytest.mark.parametrize(("file", "steps"), KEYS, ids=_shown)
def test_a_key_left_out_is_refused_where_it_must_be_there(file, steps):
    agree(changed(file, steps, lambda parent, key: parent.pop(key)), kind_of(file))


@pytest.mark.parametrize(("file", "steps"), PLACES, ids=_shown)
def test_another_kind_or_choice_is_refused_where_check_refuses_it(file, steps):
    for other in ([], ["x"], {"x": "y"}, "nonsense", "7"):
        put = partial(changed, file, steps)
        agree(put(lambda parent, key, new=other: parent.__setitem__(key, new)), kind_of(file))
    nothing = changed(file, steps, lambda parent, key: parent.__setitem__(key, ""))
    if steps[0] == "work out":
        # Our checker refuses it only when it works it out: the table has no such row.
        assert not takes(kind_of(file), nothing)
    else:
        agree(nothing, kind_of(file))


PART = {"with the part": "yes", "from": "judgement"}
PIECES = [
    (("given", "leg"), {**PART, "example": "1 mm"}, True),
    (("given", "leg"), {**PART, "is": "1 mm"}, False),
    (("given", "leg"), {"is": "1 mm", "example": "1 mm", "from": "judgement"}, False),
    (("given", "leg"), {"example": "1 mm", "from": "judgement"}, False),
    (("given", "leg"), {"from": "judgement"}, False),
    (("prerequisites", 0), {"process": "A", "evidence": "b", "says": "c"}, False),
    (("operations", 0, "readings", 0), {"name": "a", "unit": "mm"}, True),
    (("operations", 0, "readings", 0), {"name": "a", "unit": "mm", "wanted": "1 ± 0.1 mm"}, False),
    (("operations", 0, "readings", 0), {"name": "a", "wanted": "1 ± 0.1 mm", "lower": "1 mm"}, False),
    (("operations", 0, "readings", 0), {"name": "a", "exactly": "24"}, True),
    (("operations", 0, "strip", "of"), ["flat.length"], True),
    (("operations", 1, "warning"), ["One.", "Two."], True),
    (("operations", 1, "steps"), ["a"] * 25, False),
    (("operations", 1, "steps"), [], False),
    (("operations", 0, "clock"), ["start", {"label": "end", "add": "20 min"}], True),
    (("operations", 0, "clock"), [{"label": "end", "not after": "the window ends"}], True),
    (("operations", 0, "clock"), [{"add": "20 min"}], False),
    (("operations", 0, "clock"), [{"label": "e", "add": "20 min", "not after": "f"}], False),
    (("operations", 0, "by"), "foreman", False),
    (("operations", 2, "released by"), "lead or inspector", True),
    (("safety",), ["sharks"], False),
    (("title",), "T" * 61, False),
    (("kit", 0, "spares"), "two", False),
    (("work out", "x y"), {"is": "leg", "to": "1 mm"}, False),
    (("work out", "sight_line"), {"is": "leg", "to": "1 mm", "safe": "sideways"}, False),
    (("work out", "sight_line"), {"is": "leg", "to": "1 mm", "safe": "up"}, True),
    (("work out", "sight_line"), {"is": "leg"}, False),
    (("work out", "sight_line"), {"is": "leg", "to": "1 mm", "also": "in"}, True),
    (("work out", "sight_line"), "leg + radius", False),
]  # fmt: skip


@pytest.mark.parametrize(("steps", "piece", "good"), PIECES, ids=repr)
def test_pieces_of_a_process(steps, piece, good):
    file = SOUND / "processes/shelf.yaml"
    tree = changed(file, steps, lambda parent, key: parent.__setitem__(key, piece))
    assert (not faults_of(tree, "process"), takes("process", unquoted(tree, "YAML 1.2"))) == (
        good,
        good,
    )


@pytest.mark.parametrize("editor", EDITORS)
@pytest.mark.parametrize(
    "steps",
    [("given", "leg", "is"), ("given", "thickness", "range"), ("operations", 0, "strip", "from")],
    ids=_shown,
)
def test_a_bare_number_where_a_unit_belongs_is_refused(steps, editor):
    file = SOUND / "processes/shelf.yaml"
    for bare in ("25", "0.5", "1e3"):
        tree = changed(file, steps, lambda parent, key, bare=bare: parent.__setitem__(key, bare))
        assert not takes("process", unquoted(tree, editor))


# --- the pages of slips ---------------------------------------------------------------------

# What an editor cannot be told, as our checker says it, by code: no rule in schema/ says it.
BY_KIND = "what a kind of operation needs or may not say is judged in check/rules.py on the process"
BY_SHAPE = "what a shape of map needs or may not say is judged on the map"
BY_TABLE = "the columns are those of the table that the file is named after"
NOT_STRUCTURE = {
    "missing": {r"operation \d+ ": BY_KIND, "map '": BY_SHAPE, "the row has no ": BY_TABLE},
    "kind": {r"operation \d+: ": BY_KIND, "a deleted operation ": BY_KIND, "map '": BY_SHAPE},
    "choice": {"map '": BY_SHAPE},
    "unknown": {"'[^']*' is no column ": BY_TABLE},
}


def _told(page: Page) -> set[str]:
    """The files in which a page has findings that the rules in schema/ can tell."""
    files = set()
    for place, wrong, _ in page.findings:
        code, _, says = wrong.partition(": ")
        if not any(re.match(start, says) for start in NOT_STRUCTURE[code]):
            files.add(place.split(":")[0])
    return files


READ_PAGES = [(file, read_page(file.read_text(encoding="utf-8"))) for file in PAGES]
OF_STRUCTURE = [
    (file, page)
    for file, page in READ_PAGES
    if page.findings and {wrong.split(":")[0] for _, wrong, _ in page.findings} <= STRUCTURE
]


def test_there_are_pages_of_structure():
    assert sum(bool(_told(page)) for _, page in OF_STRUCTURE) >= 12


@pytest.mark.parametrize(
    "page", [p for _, p in OF_STRUCTURE], ids=[f.stem for f, _ in OF_STRUCTURE]
)
def test_a_page_whose_slips_are_of_structure_is_refused(page, tmp_path):
    written(page, tmp_path)
    for name in _told(page):
        source = (tmp_path / name).read_text(encoding="utf-8")
        assert not takes(kind_of(tmp_path / name), in_editor(source, "YAML 1.2")), name


# Each page by one of the two in `make test`, in turn, and by both in `make prove`.
@pytest.mark.parametrize("turn", [0, pytest.param(1, marks=pytest.mark.prove)])
@pytest.mark.parametrize(
    ("number", "page"), [*enumerate(p for _, p in READ_PAGES)], ids=[f.stem for f, _ in READ_PAGES]
)
def test_a_page_is_taken_where_check_finds_its_structure_sound(number, page, turn, tmp_path):
    written(page, tmp_path)
    editor = EDITORS[(number + turn) % 2]
    for name in {change.path for change in page.changes if not change.gone}:
        file = tmp_path / name
        document, findings = read_text(file.read_bytes(), name)
        if document is None or findings or faults_of(document.tree, kind_of(file)):
            continue
        source = file.read_text(encoding="utf-8-sig")
        errors = validator(kind_of(file)).iter_errors(in_editor(source, editor))
        assert [f"{list(e.path)}: {e.message[:200]}" for e in errors] == []
