"""The quick look at the structure of a document says what Cerberus says, of sound documents and of
documents that were broken in every way that a slip or a stray copy may break them."""

from __future__ import annotations

import copy
import random
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from generator.check.structure import _plainly_sound, _validator
from generator.read import read_file

ROOT = Path(__file__).parents[2] / "processes"
LISTS = ("workshop", "stamps", "instruments", "materials")
STRANGE = ("", "x" * 400, "1 mm", "yes", "12", [], {}, ["a"], {"a": "b"})
Way = tuple[Any, ...]


def schema_of(file: Path) -> str:
    if file.parent.name == "tables":
        return "rows"
    if file.parent.name == "workshop":
        return file.stem
    return "values" if file.name.startswith("values-") else "process"


FILES = {
    file.relative_to(ROOT).as_posix(): schema_of(file) for file in sorted(ROOT.rglob("*.yaml"))
}


@cache
def tree(file: str) -> Any:
    document, findings = read_file(ROOT / file, file)
    assert document is not None and not findings
    return document.tree


def by_cerberus(document: Any, schema: str) -> bool:
    validator = _validator(schema)
    validator.validate(document, normalize=False)
    return not validator._errors


def ways(document: Any, way: Way = ()) -> Iterator[Way]:
    if way:
        yield way
    pairs = (
        document.items()
        if isinstance(document, dict)
        else enumerate(document)
        if isinstance(document, list)
        else ()
    )
    for step, inside in pairs:
        yield from ways(inside, (*way, step))


def at(document: Any, way: Way) -> Any:
    for step in way:
        document = document[step]
    return document


def broken(document: Any, chance: random.Random) -> Any:
    """The document with one or two of its parts taken out, renamed, replaced, wrapped or copied."""
    made = copy.deepcopy(document)
    for _ in range(chance.choice((1, 1, 2))):
        known = list(ways(made))
        if not known:
            break
        way, other = chance.choice(known), chance.choice(known)
        holder, step = at(made, way[:-1]), way[-1]
        copied = copy.deepcopy(at(made, other))
        match chance.randrange(6):
            case 0:
                del holder[step]
            case 1:
                holder[step] = copy.deepcopy(chance.choice(STRANGE))
            case 2 if isinstance(holder, dict):
                holder[f"{step}x"] = holder.pop(step)
            case 3 if isinstance(holder, dict) and isinstance(other[-1], str):
                holder[other[-1]] = copied
            case 4:
                holder[step] = [holder[step]]
            case _:
                holder[step] = copied
    return made


def agree(seed: int) -> bool:
    """Whether both look alike at one broken document; which is what Cerberus says."""
    chance = random.Random(seed)
    file = chance.choice(list(FILES))
    document, schema = broken(tree(file), chance), FILES[file]
    told = by_cerberus(document, schema)
    assert _plainly_sound(schema)(document) == told, (file, seed)
    return told


@pytest.mark.parametrize("file", FILES)
def test_every_sound_document_is_passed_at_a_glance(file: str) -> None:
    assert by_cerberus(tree(file), FILES[file])
    assert _plainly_sound(FILES[file])(tree(file))


@pytest.mark.parametrize("first", range(0, 300, 100))
def test_a_broken_document_is_passed_where_cerberus_passes_it_and_nowhere_else(first: int) -> None:
    told = [agree(seed) for seed in range(first, first + 100)]
    assert 10 < sum(told) < 90


@pytest.mark.prove
@pytest.mark.parametrize("first", range(1000, 11000, 1000))
def test_ten_thousand_broken_documents(first: int) -> None:
    for seed in range(first, first + 1000):
        agree(seed)


@pytest.mark.parametrize("document", [[], "x", None, {}])
def test_what_is_no_process_at_all_is_not_passed(document: Any) -> None:
    assert not _plainly_sound("process")(document)
