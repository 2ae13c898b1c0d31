"""What a process wants at full size in; the rows of those drawings, or faults, out.

A drawing that cannot be made is found here, where its line in the file is known.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator import figures
from generator.composing.answers import map_cells
from generator.composing.figures import figure
from generator.composing.writer import Writer
from generator.findings import Fault, Refusal
from generator.quantities.rounding import rounded
from generator.read import Steps

NOMINAL = (
    "Drawn at NOMINAL: where a strip of the traveller gives other sizes for this part, those count."
)
MOST_OFF, LEAST_OFF = 0.002, 0.3  # the bars: 0.3 mm on 150 mm, 0.5 mm on 250 mm
_MEANS = {
    "flat-pattern": "cut line",
    "development": "cut line",
    "circle": "hole centres",
    "rectangle": "hole centres",
    "placed": "hole centres",
}
_SECTIONS = "former-templates"
_NOT_DRAWN = ("order",)  # in which order fasteners are tightened: no matter when holes are made


@dataclass(frozen=True)
class Wanted:
    """A drawing at full size as the sheet needs it: its kind, its title, its rows; and what is
    measured on the whole of it: from where to where, lower and upper limit."""

    kind: str
    title: str
    rows: tuple[tuple[str, str], ...]
    checks: tuple[tuple[str, str, str], ...]


def full_size(writer: Writer) -> list[Wanted]:
    """Every drawing that a process wants at full size: figures in the order of the operations,
    then maps."""
    return [*_of_figures(writer), *_of_maps(writer)]


def _of_figures(writer: Writer) -> Iterator[Wanted]:
    for i, operation in enumerate(writer.process.operations):
        wanted = operation.figure
        if wanted is None or not wanted.full_size:
            continue
        here: Steps = ("operations", i, "figure")
        made = figure(writer, here, wanted)
        if made is None:
            continue
        more = {"operation": str(operation.number)}
        more |= {"note": NOMINAL} if made["nominal"] else {}
        cells = {**dict(made["rows"]), **_common(writer, wanted.of, wanted.line), **more}
        for kind, each in _one_by_one(made["kind"], cells):
            yield from _drawn(writer, here, kind, each)


def _one_by_one(kind: str, cells: Mapping[str, str]) -> Iterator[tuple[str, Mapping[str, str]]]:
    """The drawings of a figure: one, but of sections one for each station."""
    if kind != _SECTIONS:
        yield kind, cells
        return
    each = ("at ", "points ", "girth ")
    common = {name: text for name, text in cells.items() if not name.startswith(each)}
    count = sum(name.startswith("points ") for name in cells)
    for n in range(1, count + 1):
        own = {f"{name}1".replace("girth 1", "girth"): cells[f"{name}{n}"] for name in each}
        more = {"station": f"{cells[f'at {n}']}, {n} of {count}", "name": f"{common['name']} {n}"}
        yield "former-template", {**common, **own, **more}


def _of_maps(writer: Writer) -> Iterator[Wanted]:
    for name, plan in writer.process.maps.items():
        if plan.full_size:
            cells = {k: v for k, v in map_cells(writer, plan).items() if k not in _NOT_DRAWN}
            cells |= _common(writer, name, plan.line)
            yield from _drawn(writer, ("maps", name), plan.shape, cells)


def _common(writer: Writer, name: str, line: str) -> Mapping[str, str]:
    return {"name": name, "line": line, "hand": writer.process.part.hand}


def _drawn(writer: Writer, here: Steps, kind: str, cells: Mapping[str, str]) -> Iterator[Wanted]:
    """The drawing, or the fault that stands in its way."""
    spoken = kind.replace("-", " ")
    means = _MEANS.get(kind) or cells.get("surface", "").partition(",")[0]
    if not means:
        wrong = f"there is no drawing at full size of a {spoken}"
        right = "one of: " + ", ".join(each.replace("-", " ") for each in figures.FULL_SIZE)
        writer.faults.append(Fault((*here, "full size"), "figure", wrong, right))
    elif cells["line"] != means:
        wrong = f"the line of a {spoken} at full size is not its {cells['line']}"
        writer.faults.append(Fault((*here, "line"), "figure", wrong, f"line: {means}"))
    else:
        try:
            made = figures.full_size(kind, cells)
            checks = tuple((each.what, *_limits(each.millimetres)) for each in made.checks)
            yield Wanted(kind, made.title, tuple(cells.items()), checks)
        except Refusal as refusal:
            fault = Fault((*here, "full size"), refusal.code, refusal.wrong, refusal.right)
            writer.faults.append(fault)


def _limits(size: float) -> tuple[str, str]:
    """What a whole drawing may measure, in mm: as far off as the bars may be, 0.2 %, and not less
    than 0.3 mm; both limits rounded to the inside."""
    off = max(LEAST_OFF, MOST_OFF * size)
    return rounded(size - off, "0.1", "up"), rounded(size + off, "0.1", "down")


@dataclass(frozen=True)
class FormerOnBlock:
    """A template as the block is checked with it: its station, three of its points."""

    station: str
    points: tuple[int, ...]


def formers_on_block(drawings: Sequence[Wanted]) -> list[FormerOnBlock]:
    """The templates among the drawings: the first, the middle and the last point of each."""
    found = []
    for each in drawings:
        cells = dict(each.rows)
        if each.kind == "former-template":
            last = cells["points 1"].count(";") + 1
            station = cells["at 1"] if "at 1" in cells else cells["station"]
            found.append(FormerOnBlock(station, (1, (last + 1) // 2, last)))
    return found


def battens(formers: Sequence[FormerOnBlock]) -> list[tuple[str, str]]:
    """Three stations at a time, the last of one the first of the next."""
    last = len(formers) - 1
    return [
        (formers[k].station, formers[min(k + 2, last)].station) for k in range(0, max(last, 0), 2)
    ]
