"""Units with known heights, in; which part of which unit stands where on which page, out.

One pass, before anything is drawn, so that "sheet n of N" is known. An operation parts only
between rows of readings; a hold takes company from the page before where that fits.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from generator.draw.sections import SectionUnit, Unit
from generator.findings import Refusal

WORTH_BREAKING = 70.0
"""An operation parts only where moving it whole would leave more than this blank (mm)."""

_SLACK = 1e-6
_HALF = 0.5  # of the room of a page: a new part of a sheet begins on one that is filled less
_LITTLE = 0.3  # of the room of a page: one that is fuller is worth its paper
_KEPT = 2  # rows that stay at each end of a parted operation


@dataclass(frozen=True)
class Fragment:
    """The pieces of a unit from start up to end, on one page."""

    unit: Unit
    start: int
    end: int

    @cached_property
    def height(self) -> float:
        """Height of these pieces (mm): asked for again with every unit that comes behind."""
        return self.unit.height(self.start, self.end)

    @property
    def whole(self) -> bool:
        return self.start == 0 and self.end == self.unit.size


Page = list[Fragment]


def paginate(units: Iterable[Unit], room: float) -> list[Page]:
    """Pages whose height is at most the room (mm); refuses what is taller than a page."""
    pages: list[Page] = [[]]
    for unit in units:
        if unit.new_page and used(pages[-1]) > _HALF * room:
            pages.append([])
        _place(unit, pages, room)
    return pages


def used(page: Page) -> float:
    """Height (mm) of what stands on a page."""
    return sum(f.height + (f.unit.gap if i else 0.0) for i, f in enumerate(page))


def evened(pages: list[Page], room: float) -> list[Page]:
    """The pages; a last one with little on it takes sections from the page before, so that nobody
    signs a page on which nothing stands."""
    while len(pages) > 1 and used(pages[-1]) < _LITTLE * room:
        *before, page, last = pages
        *kept, moved = page
        if not kept or not moved.whole or moved.unit.operation:
            break
        taken = [moved, *last]
        if used(taken) > room or used(kept) < _LITTLE * room:
            break
        pages = [*before, kept, taken]
    return pages


def _place(unit: Unit, pages: list[Page], room: float) -> None:
    start = 0
    while start < unit.size:
        left = room - used(pages[-1]) + _SLACK - (unit.gap if pages[-1] else 0.0)
        end = _end_on_page(unit, start, left, room)
        if end:
            pages[-1].append(Fragment(unit, start, end))
            start = end
        elif not pages[-1]:
            raise _too_tall(unit, start, room)
        if start < unit.size:
            # The rows drawn over in front of a hold are chosen while its page is still empty.
            company = _company(unit, pages, room) if unit.hold and not start else None
            company = _last_section(unit, pages, room) if unit.closes else company
            pages.append(company or [])


def _end_on_page(unit: Unit, start: int, left: float, room: float) -> int:
    """How far the unit goes in the height that is left; 0 where nothing of it may stand there."""
    if unit.height(start, unit.size) <= left:
        return unit.size
    little = WORTH_BREAKING if unit.operation else room / 2 if unit.of else 0.0
    if start == 0 and left <= little:
        return 0
    end = _last_end(unit, start, left, unit.breaks(room))
    if end or start or left <= (1 - _LITTLE) * room or not isinstance(unit, SectionUnit):
        return end
    # What has to part anyway begins here: next to nothing would stand on the page otherwise.
    parts = bool(unit.of) and unit.height(0, unit.size) > room
    return _last_end(unit, start, left, unit.eased) if parts else 0


def _last_end(unit: Unit, start: int, left: float, ends: Sequence[int]) -> int:
    """The last of the places at which a unit may end that lies in the height that is left."""
    end = 0
    for each in ends:
        if each > start:
            if unit.height(start, each) <= left:
                end = each
            elif not unit.operation:
                break  # pieces stand below each other: what ends further on is no lower
    return end


def _too_tall(unit: Unit, start: int, room: float) -> Refusal:
    ends = [b for b in unit.breaks(room) if b > start]
    height = unit.height(start, ends[0] if ends else unit.size)
    name = unit.name or "a section"
    return Refusal(
        "layout",
        f"{name} is {height:.0f} mm high and cannot be parted; a page holds {room:.0f} mm",
        "fewer words, or two operations",
    )


def _company(hold: Unit, pages: list[Page], room: float) -> Page | None:
    """What leaves the last page to stand before a hold on the next: the whole of the operation
    before it, or its last rows."""
    page = pages[-1]
    least = _least(hold, room)
    for cut in range(len(page) - 1, -1, -1):
        fragment = page[cut]
        if not fragment.unit.operation:
            return None
        for moved in _ways_to_move(fragment, cut, room):
            taken = [moved, *page[cut + 1 :]]
            if moved.unit.hold and moved.start == 0:
                continue
            if used(taken) + hold.gap + least <= room + _SLACK:
                kept = page[:cut]
                if moved.start > fragment.start:
                    kept.append(Fragment(fragment.unit, fragment.start, moved.start))
                pages[-1] = kept
                return taken
    return None


def _last_section(end: Unit, pages: list[Page], room: float) -> Page | None:
    """What leaves the last page so that the end of a sheet does not stand alone: the section
    before it, where that leaves something behind."""
    *kept, last = pages[-1]
    if not kept or not last.whole or last.unit.operation:
        return None
    if last.height + end.gap + end.height(0, end.size) > room + _SLACK:
        return None
    pages[-1] = kept
    return [last]


def _least(hold: Unit, room: float) -> float:
    ends = hold.breaks(room)
    return hold.height(0, ends[0] if ends else hold.size)


def _ways_to_move(fragment: Fragment, before: int, room: float) -> Iterator[Fragment]:
    """The whole fragment where it leaves something behind, else as few of its last rows as may
    stand alone; two rows or more stay behind."""
    if before:
        yield fragment
    for start in reversed(fragment.unit.breaks(room)):
        if fragment.start + _KEPT <= start < fragment.end:
            yield Fragment(fragment.unit, start, fragment.end)
