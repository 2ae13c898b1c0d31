"""The stress process through every stage, on each paper: every page of every sheet, read back from
the finished PDFs and inspected."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import cache, cached_property
from multiprocessing import get_context
from typing import Any

import pytest
import yaml

from generator.check.structure import rules
from generator.compose import KINDS, TRAVELLER, SheetFacts
from generator.draw import Box, Drawn, lay_out
from generator.workshop import chosen, open_shop, sheets_of
from tests.draw import checks
from tests.draw.inspector import Seen, letters, pages_of
from tests.draw.stress_process import NUMBER, SERIALS, process, write_workshop, yaml_of
from tests.draw.stress_steps import COUNT

PAPERS = {
    "A4": "A4",
    "Letter": "Letter",
    "A3": "A3 large print",
    "Tabloid": "Tabloid large print",
}


@dataclass
class Printed:
    """A sheet of the pack: its Markdown, its print, and its pages as they are seen."""

    kind: str
    markdown: str
    drawn: Drawn
    of: int

    @cached_property
    def pages(self) -> list[Seen]:
        return pages_of(self.drawn.pdf)


@pytest.fixture(scope="module")
def sheets(tmp_path_factory) -> Mapping[str, str]:
    """The composed sheets: read, checked and worked out without a finding."""
    shop = open_shop(write_workshop(tmp_path_factory.mktemp("stress"), "A4"))
    assert shop.findings == ()
    facts = SheetFacts("A-0001", SERIALS, "2026-11-25")
    made, findings = sheets_of(shop, chosen(shop, [NUMBER])[0], facts)
    assert findings == []
    assert made is not None
    return made.sheets


@dataclass(frozen=True)
class Inspected:
    """What the inspector says of the pack on one paper, and of its traveller the boxes; ticks: all
    check boxes of the pack, each with its sheet."""

    wrong: tuple[str, ...]
    boxes: tuple[Box, ...]
    lost: tuple[str, ...]
    ticks: tuple[tuple[str, Box], ...]


def inspected(sheets: Mapping[str, str], paper: str) -> Inspected:
    """All sheets on one paper. The paper is one row of the frame and changes no other word."""
    row = f"| paper | {paper} |"
    own = {kind: text.replace("| paper | A4 |", row) for kind, text in sheets.items()}
    pack = lay_out(own)
    prints = [Printed(kind, text, pack.sheet(kind), pack.count) for kind, text in own.items()]
    wrong = [
        f"{each.kind}: {name}: {found}"
        for each in prints
        for name, check in CHECKS.items()
        for found in check(each)
    ]
    said = letters("".join(page.text for each in prints for page in each.pages))
    (traveller,) = (each for each in prints if each.kind == TRAVELLER)
    lost = tuple(word for word in ACCENTED if word not in said)
    ticks = tuple((p.kind, box) for p in prints for box in p.drawn.boxes if box.kind == "check")
    return Inspected(tuple(wrong), traveller.drawn.boxes, lost, ticks)


@pytest.fixture(scope="module")
def papers(sheets) -> Mapping[str, Inspected]:
    """The pack on each paper, on as many processors as there are for it."""
    with ProcessPoolExecutor(mp_context=get_context("spawn")) as pool:
        found = {name: pool.submit(inspected, dict(sheets), row) for name, row in PAPERS.items()}
        return {name: each.result() for name, each in found.items()}


def test_it_is_as_large_as_it_may_be(sheets) -> None:
    assert tuple(sheets) == KINDS
    assert len(checks.instructions(sheets[TRAVELLER])) == COUNT == 60
    longest = max(len(each["places"]) for each in process()["maps"].values() if "places" in each)
    assert longest == 200


# Letters of many languages, as they were typed.
ACCENTED = (
    "Ångström", "Łukasz", "œillet", "přesně", "žluťoučký", "kőműves", "İğneada", "ñandú",
    "æðelþing", "smørbrød", "Přední", "ďábel",
)  # fmt: skip
CHECKS: Mapping[str, Callable[[Printed], Iterator[str]]] = {
    "page counts": lambda p: checks.page_counts(p.pages, p.drawn.pages, p.drawn.first, p.of),
    "margins": lambda p: checks.outside_margins(p.pages),
    "size of letters": lambda p: checks.small_letters(p.pages),
    "text on text": lambda p: checks.text_on_text(p.pages),
    "text on lines": lambda p: checks.text_on_lines(p.pages),
    "map of boxes": lambda p: checks.boxes_not_mapped(p.pages, p.drawn.boxes),
    "size of boxes": lambda p: checks.small_boxes(p.drawn.boxes),
    "boxes free": lambda p: checks.boxes_not_free(p.pages),
    "words": lambda p: checks.lost_words(p.pages, p.markdown),
    "cautions": lambda p: checks.cautions_apart(p.pages, p.markdown),
    "cautions of records": lambda p: checks.cautions_left(p.pages, p.markdown),
}


@pytest.mark.parametrize("paper", PAPERS)
def test_every_page_of_every_sheet_passes_the_inspector(papers, paper) -> None:
    assert papers[paper].wrong == ()


@pytest.mark.parametrize("paper", PAPERS)
def test_accented_names_are_on_the_pages(papers, paper) -> None:
    assert papers[paper].lost == ()


@pytest.mark.parametrize("paper", PAPERS)
def test_every_fastener_of_every_map_has_its_box_once_for_each_operation(papers, paper) -> None:
    """Also where a map goes on in parts: no number is left out at a page end, none stands twice. A
    pass is ticked on the tightening record and rivets are on the rivet map, nowhere else."""
    maps = process()["maps"]
    with_map = [each for each in process()["operations"] if "map" in each]
    assert {each["map"] for each in with_map} == set(maps)
    for operation in with_map:
        plan = maps[operation["map"]]
        if plan.get("fastening") == "rivet":
            continue
        own = [(s, b) for s, b in papers[paper].ticks if b.operation == operation["number"]]
        record = "tightening-record" if "order" in plan else TRAVELLER
        assert numbers_of(plan["item"], own) == {record: list(range(1, int(plan["fasteners"]) + 1))}
    rivets = {name: plan for name, plan in maps.items() if plan.get("fastening") == "rivet"}
    (item,) = {plan["item"] for plan in rivets.values()}
    every = [n for plan in rivets.values() for n in range(1, int(plan["fasteners"]) + 1)]
    assert numbers_of(item, papers[paper].ticks) == {"rivet-map": sorted(every)}


def numbers_of(item: str, ticks: Iterable[tuple[str, Box]]) -> dict[str, list[int]]:
    """The numbers of the fasteners that are ticked, by the sheet on which they are."""
    found: dict[str, list[int]] = {}
    for sheet, box in ticks:
        if box.meaning.startswith(item):
            found.setdefault(sheet, []).append(int(box.meaning.removeprefix(item).split()[1]))
    return {sheet: sorted(numbers) for sheet, numbers in found.items()}


@pytest.mark.parametrize("paper", PAPERS)
def test_an_operation_in_parts_is_signed_once_on_its_last_page(papers, paper) -> None:
    for operation in process()["operations"]:
        own = [b for b in papers[paper].boxes if b.operation == operation["number"]]
        stamps = [b for b in own if b.kind == "stamp"]
        if operation.get("kind") in ("work", "measure", "wait", "subcontract", "close"):
            assert len(stamps) == 1, operation["number"]
            assert stamps[0].page == max(b.page for b in own)


# --- the process asks for what the schema lets it ask for -------------------------------------

# What no single process can have: a second process, or values that come with a part. A deleted
# operation says nothing else. Units, dates and stamps have no length of their own.
NOT_ASKED = {"process", "with the part", "example", "also", "deleted at"}
# These name what a figure has.
NAMES = {"view", "on figure"}


@cache
def asked() -> Mapping[tuple[str, ...], list[Any]]:
    """Every value of the process under its way in the schema."""
    found: dict[tuple[str, ...], list[Any]] = {}
    tree = yaml.safe_load(yaml_of(process()))
    _walk({"type": "dict", "schema": rules("process")}, tree, (), found)
    return found


def _walk(rule: Any, value: Any, way: tuple[str, ...], found: dict[tuple[str, ...], list[Any]]):
    found.setdefault(way, []).append(value)
    if isinstance(value, list):
        for each in value:
            _walk(rule.get("schema", {}), each, (*way, "-"), found)
    elif isinstance(value, dict):
        inner = rule.get("schema", {})
        for key, each in value.items():
            known = key in inner and isinstance(inner[key], dict)
            if known:
                _walk(inner[key], each, (*way, key), found)
            else:
                found.setdefault((*way, "keys"), []).append(key)
                _walk(rule.get("valuesrules", {}), each, (*way, "values"), found)


def _leaves(rule: Any, way: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], Any]]:
    yield way, rule
    inner = rule.get("schema")
    kinds = rule["type"] if isinstance(rule["type"], list) else [rule["type"]]
    if "list" in kinds and inner:
        yield from _leaves(inner, (*way, "-"))
    elif "dict" in kinds and inner:
        for key, each in inner.items():
            yield from _leaves(each, (*way, key))
    for key, step in (("keysrules", "keys"), ("valuesrules", "values")):
        if key in rule:
            yield from _leaves(rule[key], (*way, step))


WAYS = dict(_leaves({"type": "dict", "schema": rules("process")}, ()))


def test_every_key_of_a_process_is_used() -> None:
    left = [way for way in WAYS if way not in asked() and not set(way) & NOT_ASKED]
    assert left == []


def test_every_text_is_as_long_as_it_may_be() -> None:
    """A list is as long as it may be as well."""
    short = [
        f"{' '.join(way)}: {max(map(len, values))} of {rule['maxlength']}"
        for way, rule in WAYS.items()
        if "maxlength" in rule and not set(way) & NAMES and (values := asked().get(way))
        if max(map(len, values)) < rule["maxlength"]
    ]
    assert short == []
