"""The editor's JSON Schema in; that it is fresh, and takes and refuses what `check` does, out.

An editor reads plain words its own way: 2 is a number to it, and to some yes is true. Both ways of
reading that are in use (YAML 1.2 and 1.1) stand here.
"""

from __future__ import annotations

import inspect
import json
import re
from collections.abc import Iterator
from copy import deepcopy
from functools import cache, partial
from pathlib import Path
from typing import Any

import pytest
import yaml
from cerberus import Validator
from hypothesis import example, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from generator.calculation import Calculation, Given, Input
from generator.calculations import calculations
from generator.check.readers import READERS
from generator.check.structure import rules, structure_faults
from generator.check.workings import work_out_faults
from generator.editor import PATTERNS, editor_names, editor_schema, leaf
from generator.findings import Refusal
from generator.read import Document, Steps, read_text
from tests.generated import ROOT, generated
from tests.helping import SOUND
from tests.test_cases import PAGES, Page, read_page, written

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


def read(source: str) -> Document:
    document, findings = read_text(source.encode(), "x.yaml")
    assert document is not None
    assert not findings
    return document


@cache
def tree_of(file: Path) -> Any:
    """The tree of texts of a file; to be copied before it is changed."""
    return read(TEXTS[file]).tree


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
    (("operations", 0, "clock"), [{"label": "end"}], False),
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


# --- the calculations -----------------------------------------------------------------------

ALL = list(calculations().values())
ENTRIES = [(what, each.given) for what in ALL for each in what.examples]
named = pytest.mark.parametrize(
    ("what", "typed"), ENTRIES, ids=lambda x: x.name if isinstance(x, Calculation) else ""
)


@cache
def entries() -> Draft202012Validator:
    made = {"$ref": "#/$defs/working", "$defs": editor_schema("process")["$defs"]}
    return Draft202012Validator(made)


def entry_taken(entry: Any) -> bool:
    return entries().is_valid(entry)


def entry_sound(entry: Any) -> bool:
    return not work_out_faults({"work out": {"x": entry}})


@named
def test_a_printed_example_is_taken(what, typed):
    entry = {"use": what.name, **typed}
    assert entry_sound(entry)
    assert entry_taken(entry)


@named
def test_an_input_missing_or_of_another_kind_is_refused(what, typed):
    for name, value in typed.items():
        entry = {"use": what.name, **typed}
        del entry[name]
        assert entry_taken(entry) == entry_sound(entry)
        other = "a" if isinstance(value, list) else ["a"]
        assert not entry_taken(entry | {name: other})
        assert not entry_sound(entry | {name: other})


FOREIGN = {item.name for each in ALL for item in each.inputs}


@named
def test_inputs_of_other_calculations_and_unknown_calculations_are_refused(what, typed):
    foreign = FOREIGN - {item.name for item in what.inputs}
    errors = entries().iter_errors({"use": what.name, **typed, **dict.fromkeys(foreign, "1 mm")})
    (strange,) = [each for each in errors if each.validator == "additionalProperties"]
    assert {*strange.instance} - {*strange.schema["properties"]} == foreign
    assert not entry_taken({"use": what.name, **typed, min(foreign): "1 mm"})
    assert not entry_taken({"use": what.name + "s", **typed})
    assert not entry_taken(dict(typed))


@named
def test_a_constant_is_no_input(what, typed):
    for item in what.inputs:
        if item.kind == "fixed":
            assert not entry_taken({"use": what.name, **typed, item.name: item.fact.fixed})


@named
def test_numbers_go_in_without_a_unit_only_where_none_belongs(what, typed):
    for item in what.inputs:
        if item.kind == "amount":
            entry = {"use": what.name, **typed}
            inside = item.fact.at_least or item.fact.at_most or item.fact.above or "1"
            good = entry_taken(entry | {item.name: json.loads(inside)})
            assert good == (item.fact.unit == "" and item.fact.above != inside)
            assert entry_taken(entry | {item.name: "some_name.result.1"})
            assert not entry_taken(entry | {item.name: "12"}) or item.fact.unit == ""


def test_an_input_of_an_unknown_kind_is_an_error(monkeypatch):
    what = ALL[0]
    strange = Input("x", "colour", what.inputs[0].fact)
    changed_one = type(what)(**{**vars(what), "inputs": (strange,)})
    monkeypatch.setattr("generator.editor.calculations", lambda: {"strange": changed_one})
    with pytest.raises(TypeError, match="kind colour"):
        editor_schema("process")


def test_a_rule_that_cannot_be_carried_is_an_error(monkeypatch):
    strange = {"a": {"type": "string", "regex": "x", "meta": {"says": "s"}}}
    monkeypatch.setattr("generator.editor.rules", lambda name: strange)
    with pytest.raises(TypeError, match="regex"):
        editor_schema("process")


def test_a_key_that_leans_on_another_is_refused_alone(monkeypatch):
    says = {"type": "string", "meta": {"says": "s"}}
    leaning = {"a": {**says, "dependencies": ["b", "c"]}, "b": says, "c": says}
    monkeypatch.setattr("generator.editor.rules", lambda name: leaning)
    made = Draft202012Validator(editor_schema("any"))
    for keys, good in {"": True, "b": True, "a": False, "ab": False, "abc": True}.items():
        assert made.is_valid(dict.fromkeys(keys, "x")) == good == Validator(leaning).validate(dict.fromkeys(keys, "x"))  # fmt: skip


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


@pytest.mark.parametrize("page", [p for _, p in READ_PAGES], ids=[f.stem for f, _ in READ_PAGES])
def test_a_page_is_taken_where_check_finds_its_structure_sound(page, tmp_path):
    written(page, tmp_path)
    for name in {change.path for change in page.changes if not change.gone}:
        file = tmp_path / name
        document, findings = read_text(file.read_bytes(), name)
        if document is None or findings or faults_of(document.tree, kind_of(file)):
            continue
        for editor in EDITORS:
            source = file.read_text(encoding="utf-8-sig")
            errors = validator(kind_of(file)).iter_errors(in_editor(source, editor))
            assert [f"{list(e.path)}: {e.message[:200]}" for e in errors] == []


# --- the leaves -----------------------------------------------------------------------------


def reads(reader: str, word: str) -> bool:
    try:
        READERS[reader](word)
    except Refusal:
        return False
    return True


@cache
def leaf_of(reader: str) -> Draft202012Validator:
    return Draft202012Validator(leaf(reader))


def leaf_takes(reader: str, value: Any) -> bool:
    return leaf_of(reader).is_valid(value)


def _words(tree: Any) -> Iterator[str]:
    if isinstance(tree, dict):
        for key, each in tree.items():
            yield key
            yield from _words(each)
    elif isinstance(tree, list):
        for each in tree:
            yield from _words(each)
    else:
        yield tree


WORDS = sorted({word for file in FILES for word in _words(tree_of(file))})
BITS = ["1", "0", "24", "1.5", "5/32", "20", " ", "-", "−", "+", "/", "±", " to ", "mm", "°", "N·m", "bar g", "A", "a", "_", ".", "digit", "s", "\n", "\u00a0", "“", "SWG", "2026-11-25", "%", "1/°", "min", "ratio", "e", "E", "true", "x", ":"]  # fmt: skip
TYPED = st.one_of(
    st.sampled_from(WORDS),
    st.lists(st.sampled_from(BITS), max_size=7).map("".join),
    st.tuples(st.sampled_from(WORDS), st.sampled_from(BITS)).map("".join),
    st.text(max_size=8),
)


@pytest.mark.parametrize("reader", READERS)
@settings(max_examples=400, deadline=None)
@given(word=TYPED)
@example("12 +0.2/-0 mm")
@example("1.0\u00a0to\u00a01.4 mm")
@example("1\nmm")
@example("1E-5")
@example("-0.5")
@example("0")
def test_what_a_reader_takes_the_leaf_takes(reader, word):
    if not reads(reader, word):
        return
    assert leaf_takes(reader, word)
    for editor in EDITORS:
        # The bare word null is nothing to an editor, whatever it is to us.
        if word not in _NOTHING:
            assert leaf_takes(reader, seen(word, editor)), editor


@pytest.mark.parametrize("reader", READERS)
def test_every_word_of_the_demo_files_that_a_reader_takes_the_leaf_takes(reader):
    taken = [word for word in WORDS if reads(reader, word)]
    assert [word for word in taken if not leaf_takes(reader, word)] == []


WRONG = {
    "code": ["lq1", "LQ 1", "A" * 25, ""],
    "name": ["Thickness", "1st", "a" * 41, "a b"],
    "line": ["one\ntwo", "“quoted”"],
    "text": ["“quoted”"],
    "day": ["28.9.2026", "2026-9-28", 2026],
    "revision_letter": ["I", "AB", "", 1],
    "operation_number": ["010", "ten", "10000", 0],
    "serial_rule": ["four digits", "0 digits", 4],
    "count": ["two", "1.5", 1.5, 0],
    "count_or_none": ["none", -1],
    "quantity_or_count": ["some", 1.5],
    "amount": ["0.914", "thick", "1.0 to 1.4 mm", 0.914, 2],
    "amount_with_limits": ["0.914", 0.914],
    "uncertainty": ["0.03", "some", "0.01 to 0.03 mm", 0.03],
    "duration": ["20", "soon", 20],
    "length": ["640", 640],
    "step": ["fine", 0, -0.1],
    "amount_range": ["1.0 mm", "4", 4],
    "amount_or_name": ["Drag", "°"],
    "desk_letter": ["a", "AB", 1],
}  # fmt: skip


@pytest.mark.parametrize("reader", PATTERNS)
def test_what_a_leaf_refuses_its_reader_refuses(reader):
    for word in WRONG[reader]:
        assert not leaf_takes(reader, word), word
        assert not reads(reader, str(word)), word


# --- no sentence is written twice -----------------------------------------------------------


def _described(node: Any) -> Iterator[str]:
    if isinstance(node, dict):
        for key, value in node.items():
            if key == "description" and isinstance(value, str):
                yield value
            else:
                yield from _described(value)
    elif isinstance(node, list):
        for each in node:
            yield from _described(each)


def _says(rule: Any) -> Iterator[str]:
    if isinstance(rule, dict):
        if isinstance(meta := rule.get("meta"), dict) and isinstance(meta.get("says"), str):
            yield meta["says"]
        for each in rule.values():
            yield from _says(each)


def _inputs() -> Iterator[Input]:
    for what in ALL:
        for item in what.inputs:
            yield from (item, *item.row)


def _facts(item: Input) -> list[str]:
    """What the facts of an input say, each bit of it."""
    fact = item.fact
    bits = [getattr(fact, "beyond", ""), fact.meaning]
    if isinstance(fact, Given):
        return [*bits, fact.range_in_words(), f"in {fact.unit}"]
    return [*bits, f"{fact.at_least} to {fact.at_most}"] if item.kind == "count" else bits


def _of_facts(sentence: str, item: Input) -> bool:
    if item.fact is None or not sentence.startswith(item.fact.meaning):
        return False
    for bit in _facts(item):
        sentence = sentence.replace(bit, "", 1) if bit else sentence
    return not sentence.strip(" ,.")


@pytest.mark.parametrize("kind", editor_names())
def test_every_sentence_stands_in_the_rules_or_with_a_calculation(kind):
    known = set(_says(rules(kind)))
    known |= {inspect.getdoc(what.body) for what in ALL}
    known |= {inspect.getdoc(item.row_type) for item in _inputs() if item.row_type}
    found = list(_described(editor_schema(kind)))
    assert found
    strange = [s for s in found if s not in known and not any(_of_facts(s, i) for i in _inputs())]
    assert strange == []


def test_every_sentence_of_the_rules_is_shown():
    for kind in editor_names():
        assert set(_says(rules(kind))) <= set(_described(editor_schema(kind)))


def test_every_input_shows_its_meaning_and_its_range():
    made = editor_schema("process")["$defs"]
    for what in ALL:
        for item in what.inputs:
            if item.kind in ("amount", "amounts"):
                shown = made[what.name]["properties"][item.name]
                limits = item.fact.range_in_words()
                assert item.fact.meaning in shown["description"]
                assert limits == "any value" or limits in shown["description"]
                assert item.fact.unit in shown["description"]
                assert shown["examples"]
