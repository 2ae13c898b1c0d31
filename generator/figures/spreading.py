"""Places wanted along a line, in; places that keep their order and their distance, out."""

from __future__ import annotations

from collections.abc import Callable, Sequence

_HAIR = 1e-9


def spread(
    wanted: Sequence[float],
    lowest: Sequence[float],
    highest: Sequence[float],
    apart: Callable[[int, int], float],
) -> tuple[float, ...] | None:
    """Places near those wanted; None where there is no room for all of them.

    apart(i, j) is the least distance of place j from place i before it. Places pushed only right
    and places pushed only left both keep all distances, and so does the mean of the two.
    """
    least = _pushed_right(lowest, lowest, apart)
    most = _pushed_left(highest, highest, apart)
    if any(low > high + _HAIR for low, high in zip(least, most, strict=True)):
        return None
    right = _pushed_right([min(w, m) for w, m in zip(wanted, most, strict=True)], lowest, apart)
    left = _pushed_left([max(w, n) for w, n in zip(wanted, least, strict=True)], highest, apart)
    return tuple((a + b) / 2 for a, b in zip(left, right, strict=True))


def _pushed_right(
    wanted: Sequence[float], lowest: Sequence[float], apart: Callable[[int, int], float]
) -> list[float]:
    places: list[float] = []
    for j, (want, low) in enumerate(zip(wanted, lowest, strict=True)):
        places.append(max(want, low, *(places[i] + apart(i, j) for i in range(j))))
    return places


def _pushed_left(
    wanted: Sequence[float], highest: Sequence[float], apart: Callable[[int, int], float]
) -> list[float]:
    count = len(wanted)
    turned = _pushed_right(
        [-w for w in reversed(wanted)],
        [-h for h in reversed(highest)],
        lambda i, j: apart(count - 1 - j, count - 1 - i),
    )
    return [-place for place in reversed(turned)]
