"""Every key of the sound files, misspelt or left out, in; exactly one finding each, out."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.check.readers import READERS
from generator.check.structure import rules, schema_folder, structure_faults
from generator.check.workings import work_out_faults
from generator.findings import Fault
from generator.read import Document, Steps, read_text
from generator.tables import table
from tests.helping import SOUND

SCHEMAS = sorted(file.stem for file in schema_folder().glob("*.yaml"))
SOURCES = {
    "shelf": ("process", SOUND / "processes/shelf.yaml"),
    "ring": ("process", SOUND / "processes/ring.yaml"),
    "workshop": ("workshop", SOUND / "processes/workshop/workshop.yaml"),
    "stamps": ("stamps", SOUND / "processes/workshop/stamps.yaml"),
    "instruments": ("instruments", SOUND / "processes/workshop/instruments.yaml"),
}
# Below these the writer chooses the keys.
OWN_NAMES = {("given",), ("work out",), ("maps",)}


def read(source: str) -> Document:
    document, findings = read_text(source.encode(), "x.yaml")
    assert document is not None
    assert not findings
    return document


def faults_of(document: Document, schema: str) -> list[Fault]:
    faults = structure_faults(document, schema)
    return faults + (work_out_faults(document.tree) if schema == "process" else [])


def _keys() -> list[tuple[str, Steps]]:
    keys = []
    for name, (_, file) in SOURCES.items():
        document = read(file.read_text(encoding="utf-8"))
        keys += [(name, steps) for steps in document.keys if not _own(steps)]
    return keys


def _own(steps: Steps) -> bool:
    return steps[:-1] in OWN_NAMES or "each takes" in steps[:-1]


KEYS = _keys()
ALL = pytest.mark.parametrize(("name", "steps"), KEYS, ids=lambda x: x if isinstance(x, str) else ".".join(map(str, x)))  # fmt: skip


def _lines(file: Path) -> list[str]:
    return file.read_text(encoding="utf-8").split("\n")


@ALL
def test_a_misspelt_key_is_one_finding_at_its_place(name, steps):
    schema, file = SOURCES[name]
    lines = _lines(file)
    mark = read("\n".join(lines)).keys[steps]
    key = str(steps[-1])
    line = lines[mark.line - 1]
    misspelt = key + key[-1]
    at = mark.column - 1
    lines[mark.line - 1] = line[:at] + misspelt + line[at + len(key) :]
    document = read("\n".join(lines))
    (fault,) = faults_of(document, schema)
    place = document.place(fault.steps, fault.of_key)
    assert (fault.code, place.line, place.column) == ("unknown", mark.line, mark.column)
    assert misspelt in fault.wrong
    assert f"'{key}'" in fault.right


@ALL
def test_a_key_left_out_is_no_finding_or_one_that_names_it(name, steps):
    schema, file = SOURCES[name]
    document = read(file.read_text(encoding="utf-8"))
    parent = document.tree
    for step in steps[:-1]:
        parent = parent[step]
    del parent[steps[-1]]
    faults = faults_of(document, schema)
    assert len(faults) <= 1
    for fault in faults:
        assert fault.code in ("missing", "choice", "empty")
        assert str(steps[-1]) in f"{fault.wrong} {fault.right}"


@pytest.mark.parametrize("name", SOURCES)
def test_the_sound_files_have_no_fault(name):
    schema, file = SOURCES[name]
    assert faults_of(read(file.read_text(encoding="utf-8")), schema) == []


# --- the schema itself ----------------------------------------------------------------------


def _rules(rule, way=()):
    """Every rule set: the values of a level of keys, and what is below."""
    yield way, rule
    for inner in ("schema", "keysrules", "valuesrules"):
        below = rule.get(inner)
        if not isinstance(below, dict):
            continue
        if inner == "schema" and not {"type", "meta", "check_with"} & set(below):
            for key, value in below.items():
                yield from _rules(value, (*way, key))
        else:
            yield from _rules(below, (*way, inner))


EVERY_RULE = [(name, way, rule) for name in SCHEMAS for key, top in rules(name).items() for way, rule in _rules(top, (key,))]  # fmt: skip


@pytest.mark.parametrize(("name", "way", "rule"), EVERY_RULE, ids=lambda x: x if isinstance(x, str) else None)  # fmt: skip
def test_every_rule_carries_a_sentence_for_people(name, way, rule):
    assert rule.get("meta", {}).get("says"), f"{name}: {way}"


def test_every_reader_that_a_rule_names_is_there_and_every_reader_is_named():
    named = {rule["check_with"] for _, _, rule in EVERY_RULE if "check_with" in rule}
    assert named <= set(READERS)
    assert named == set(READERS)


def test_the_rules_have_no_oneof():
    """A person cannot read what a oneof says; the kind is asked instead."""
    words = {"oneof", "anyof", "allof", "noneof", "coerce", "default", "rename", "purge_unknown"}
    assert not [(name, way) for name, way, rule in EVERY_RULE if words & set(rule)]


def test_the_readme_names_the_families_of_cautions_that_the_table_has():
    text = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    (line,) = [line for line in text.split("\n") if line.startswith("- **safety**: ")]
    named = line.partition("at least one of: ")[2].partition(". Their words")[0]
    assert named.split(", ") == list(table("safety")["families"])
