"""The rows of a flat pattern, in; the blank with its bends in millimetres and in print, out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from generator.figures.bend_rows import Length, Turn, length, order, turn
from generator.findings import Refusal, near_word

GRAINS = ("along the length", "across the length")
_EACH = ("bend", "allowance", "tangent", "sight")
_MORE = ("relief", "nose")


@dataclass(frozen=True)
class Fold:
    """One bend on the flat blank; start, end and sight are from the first edge."""

    turn: Turn
    start: Length
    end: Length
    sight: Length
    allowance: Length
    relief: Length | None
    nose: int  # the leg under the nose bar, 0 where no row says it

    @property
    def middle(self) -> float:
        """The bend's centre line, in millimetres from the first edge."""
        return (self.start.millimetres + self.end.millimetres) / 2


@dataclass(frozen=True)
class Blank:
    """A blank as its rows give it: one flat more than bends."""

    length: Length
    thickness: Length
    flats: tuple[Length, ...]
    folds: tuple[Fold, ...]
    width: Length | None
    grain: str
    order: tuple[int, ...]

    @property
    def lengths(self) -> tuple[Length, ...]:
        """Every length that is printed."""
        held: list[Length | None] = [self.length, self.thickness, self.width, *self.flats]
        for fold in self.folds:
            held += [fold.turn.radius, fold.start, fold.end, fold.sight]
            held += [fold.allowance, fold.relief]
        return tuple(one for one in held if one is not None)


def blank(rows: Mapping[str, str]) -> Blank:
    """The blank of the rows.

    Refuses rows it does not know or cannot read, two units in one figure, bends that overlap or
    leave the blank, and a flat or an allowance that differs from its tangent lines.
    """
    bends = sum(name.startswith("bend ") for name in rows)
    _all_there(rows, bends)
    flats = tuple(length(rows[f"flat {n}"]) for n in range(1, bends + 2))
    folds = tuple(_fold(rows, n) for n in range(1, bends + 1))
    made = Blank(
        length(rows["length"]),
        length(rows["thickness"]),
        flats,
        folds,
        length(rows["width"]) if "width" in rows else None,
        rows.get("grain", "").strip(),
        order(rows.get("order", ""), bends),
    )
    _sound(made)
    return made


def _all_there(rows: Mapping[str, str], bends: int) -> None:
    numbers = range(1, bends + 1)
    needed = ["length", "thickness", *(f"{name} {n}" for n in numbers for name in _EACH)]
    needed += [f"flat {n}" for n in range(1, bends + 2)]
    allowed = [
        *needed,
        "width",
        "grain",
        "order",
        *(f"{name} {n}" for name in _MORE for n in numbers),
    ]
    if bends == 0:
        wrong = f"a flat pattern with the rows {', '.join(rows)}"
        raise Refusal("figure", wrong, "length, thickness, flat 1, bend 1 and so on to a last flat")
    for name in rows:
        if name not in allowed:
            right = near_word(name, allowed) or ", ".join(allowed)
            raise Refusal("figure", f"a flat pattern has no row {name!r}", right)
    missing = [name for name in needed if name not in rows]
    if missing:
        wrong = f"a flat pattern of {bends} bends without {', '.join(missing)}"
        raise Refusal("figure", wrong, "a row for each: " + ", ".join(needed))


def _fold(rows: Mapping[str, str], number: int) -> Fold:
    tangents = rows[f"tangent {number}"]
    start, to, end = tangents.partition(" to ")
    if not to:
        wrong = f"{tangents!r} are no two tangent lines"
        raise Refusal("figure", wrong, "such as 20.9 mm to 26.6 mm")
    return Fold(
        turn(rows[f"bend {number}"]),
        length(start),
        length(end),
        length(rows[f"sight {number}"]),
        length(rows[f"allowance {number}"]),
        _hole(rows[f"relief {number}"]) if f"relief {number}" in rows else None,
        _leg(rows[f"nose {number}"], number) if f"nose {number}" in rows else 0,
    )


def _hole(text: str) -> Length:
    if not text.startswith("Ø"):
        raise Refusal("figure", f"{text!r} is no relief hole", "such as Ø 3.2 mm")
    return length(text.removeprefix("Ø"))


def _leg(text: str, bend: int) -> int:
    """The leg under the nose bar: the one before the bend or the one after it."""
    beside = {f"leg {n}": n for n in (bend, bend + 1)}
    if text.strip() not in beside:
        wrong = f"the nose bar on {text!r} at bend {bend}"
        raise Refusal("figure", wrong, " or ".join(beside))
    return beside[text.strip()]


def _sound(made: Blank) -> None:
    if made.grain not in ("", *GRAINS):
        right = near_word(made.grain, GRAINS) or " or ".join(GRAINS)
        raise Refusal("figure", f"the grain runs {made.grain!r}", right)
    units = sorted({one.unit for one in made.lengths})
    if len(units) > 1:
        wrong = f"lengths in {' and in '.join(units)} in one flat pattern"
        raise Refusal("figure", wrong, "one unit: most figures are printed without it")
    _in_order(made)
    _adding_up(made)
    for number, fold in enumerate(made.folds, 1):
        _sighted(number, fold)


def _in_order(made: Blank) -> None:
    whole = made.length
    before, name = 0.0, "the first edge"
    for number, fold in enumerate(made.folds, 1):
        if not before <= fold.start.millimetres < fold.end.millimetres:
            said = f"{fold.start.figures} to {fold.end.figures} {whole.unit}"
            wrong = f"the tangent lines of bend {number}, {said}, do not follow {name}"
            raise Refusal("figure", wrong, "bends in order from the first edge, none over another")
        before, name = fold.end.millimetres, f"bend {number}"
        for line in (fold.end, fold.sight):
            if line.millimetres > whole.millimetres:
                wrong = f"a line of bend {number} is {line.figures} {line.unit} from the first edge"
                right = f"at most the length of the blank, {whole.figures} {whole.unit}"
                raise Refusal("figure", wrong, right)


def _adding_up(made: Blank) -> None:
    """What is printed between two lines is how far apart they are, but for the last places."""
    ends = [line for fold in made.folds for line in (fold.start, fold.end)]
    edges = [0.0, *(line.millimetres for line in ends), made.length.millimetres]
    steps = [0.0, *(line.step for line in ends), made.length.step]
    for i, (name, one) in enumerate(_between(made)):
        gap = edges[i + 1] - edges[i]
        if abs(gap - one.millimetres) > one.step + steps[i] + steps[i + 1]:
            apart = gap * float(one.figures) / one.millimetres
            wrong = f"{name} is {one.figures} {one.unit}, but its two lines are {apart:.3g} apart"
            raise Refusal("figure", wrong, "a flat or an allowance that leads from line to line")


def _sighted(number: int, fold: Fold) -> None:
    """The sight line is one inside radius from the tangent line of the leg under the nose bar."""
    if not fold.nose:
        return
    side, tangent = (1, fold.start) if fold.nose == number else (-1, fold.end)
    radius = fold.turn.radius
    away = abs(tangent.millimetres + side * radius.millimetres - fold.sight.millimetres)
    if away > tangent.step + radius.step + fold.sight.step:
        wrong = f"the sight line of bend {number} is not R {radius.figures} from the tangent line "
        wrong += f"of leg {fold.nose}, which the nose bar holds"
        raise Refusal("figure", wrong, "the other leg, or a sight line one inside radius from it")


def _between(made: Blank) -> Iterator[tuple[str, Length]]:
    """Flats and allowances in turn, from the first edge to the last."""
    yield "flat 1", made.flats[0]
    for number, (fold, flat) in enumerate(zip(made.folds, made.flats[1:], strict=True), 1):
        yield f"allowance {number}", fold.allowance
        yield f"flat {number + 1}", flat
