"""Lofts against cones and spheres in closed form, and against numpy."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Any

import pytest

from generator.computing.running import Result
from generator.findings import Refusal
from tests.calculations.asking import results
from tests.calculations.test_lines_through_points import by_numpy

TURNS = [math.pi * k / 16 for k in range(17)]  # half a ring, from starboard over the crown


def ring(at: float, radius: float) -> list[dict[str, str]]:
    return [
        {
            "at": f"{at} mm",
            "across": f"{radius * math.cos(a):.7f} mm",
            "up": f"{radius * math.sin(a):.7f} mm",
        }
        for a in TURNS
    ]


def body(radius: Callable[[float], float], stations: Sequence[float]) -> list[dict[str, str]]:
    return [row for at in stations for row in ring(at, radius(at))]


def lofted(points: list[dict[str, str]], stations: Sequence[float], **more: str) -> Any:
    asked = {
        "taper": "curved", "inside": "below", "skin": "0 mm", "hand": "none",
        "wanted_hand": "none", "looking": "aft", "read_to": "0.5 mm",
    }  # fmt: skip
    at = [f"{s} mm" for s in stations]
    return results("loft", points=points, stations=at, **(asked | more))


def number(came: dict[str, Result], name: str) -> float:
    amount = came[name].amount
    assert amount is not None
    return amount.value * 1000


def rows(came: dict[str, Result]) -> list[tuple[float, float, float]]:
    """Station, across and up of every point."""
    found = []
    while f"ordinates.{len(found) + 1}.at" in came:
        n = len(found) + 1
        found.append(tuple(number(came, f"ordinates.{n}.{c}") for c in ("at", "across", "up")))
    return found  # type: ignore[return-value]


def cone(x: float) -> float:
    return 300 - 0.25 * x


@pytest.mark.parametrize("taper", ["straight", "curved"])
@pytest.mark.parametrize("skin", [0.0, 1.2])
def test_a_cone(taper: str, skin: float) -> None:
    """The skin's inside lies T/cos of the half angle inside, measured across the cone."""
    given = body(cone, (0, 200, 500))
    came = lofted(given, (0, 60, 200, 350, 500), taper=taper, skin=f"{skin} mm")
    away = skin * math.sqrt(1 + 0.25**2)
    for at, across, up in rows(came):
        assert math.hypot(across, up) == pytest.approx(cone(at) - away, abs=1e-3)
    for n, at in enumerate((0, 60, 200, 350, 500), 1):
        assert number(came, f"girths.{n}.girth") == pytest.approx(math.pi * cone(at), abs=0.02)
    assert came["line"].shown == ("inside of skin" if skin else "mould line")


def ball(x: float) -> float:
    return math.sqrt(900**2 - x * x)


def test_a_ball() -> None:
    """Points of the inside lie in their plane; away from the ball as the surface normal says."""
    given = body(ball, range(-400, 401, 50))
    came = lofted(given, (-350, -130, 0, 270, 400), skin="1 mm")
    for at, across, up in rows(came):
        away = 1.0 * 900 / ball(at)  # T over the cosine of the slope of the surface
        assert math.hypot(across, up) == pytest.approx(ball(at) - away, abs=0.01)


def test_lines_along_the_part_are_the_splines_that_numpy_finds() -> None:
    stations = [0.0, 150.0, 300.0, 420.0, 600.0, 750.0, 900.0]
    crowns = [520.0, 531.0, 538.5, 540.0, 538.0, 531.5, 522.0]
    halves = [400.0, 404.0, 409.0, 415.0, 416.0, 411.0, 402.0]
    given = []
    for x, crown, half in zip(stations, crowns, halves, strict=True):
        for across, up in ((half, 0.0), (half * 0.7, crown * 0.7), (0.0, crown), (-half, 0.0)):
            given.append({"at": f"{x} mm", "across": f"{across:.6f} mm", "up": f"{up:.6f} mm"})
    wanted = [40.0, 350.0, 500.0, 880.0]
    have = rows(lofted(given, wanted))
    for n, (up, across) in enumerate(
        zip(by_numpy(stations, crowns, wanted), by_numpy(stations, halves, wanted), strict=True)
    ):
        assert have[4 * n + 2][2] == pytest.approx(up, abs=1e-6)
        assert have[4 * n][1] == pytest.approx(across, abs=1e-6)


def test_the_other_hand_is_the_same_with_across_turned_over() -> None:
    given = body(cone, (0, 200, 500))
    given = [row | {"across": f"{float(row['across'][:-3]) + 400:.6f} mm"} for row in given]
    port = rows(lofted(given, (100,), hand="PORT", wanted_hand="PORT", skin="1 mm"))
    came = lofted(given, (100,), hand="PORT", wanted_hand="STBD", skin="1 mm")
    assert [(x, -y, z) for x, y, z in port] == rows(came)
    assert came["hand"].shown == "STBD, mirrored from PORT"


def test_names_the_unfair_points() -> None:
    def dented(x: float) -> float:
        return cone(x) + 6 * math.sin(x / 100) - (8 if x == 300 else 0)

    fair = lofted(body(lambda x: 300 - x * x / 4000, range(0, 701, 100)), (50,))
    assert fair["unfair"].shown == "none"
    shown = lofted(body(dented, range(0, 701, 100)), (50,))["unfair"].shown
    assert "at station no. 4" in shown and "at station no. 5" in shown


SOUND = body(cone, (0, 200, 500))
HALF = len(TURNS)


@pytest.mark.parametrize(
    ("points", "more", "says"),
    [
        (SOUND, {"stations": (501,)}, "beyond the end stations"),
        (SOUND, {"stations": (-1,)}, "beyond the end stations"),
        (SOUND, {"stations": (300, 100)}, "comes after"),
        (SOUND[HALF : 2 * HALF] + SOUND[:HALF], {}, "comes after"),
        (SOUND[:HALF] + SOUND[HALF : 2 * HALF][::-1] + SOUND[2 * HALF :], {}, "runs against"),
        (SOUND[:-1], {}, "has 16 points, the first has 17"),
        (SOUND[:HALF], {}, "1 section"),
        ([*SOUND[:4], SOUND[6], SOUND[5], SOUND[4], *SOUND[7:]], {}, "turns too sharply|crosses"),
        (SOUND, {"hand": "PORT"}, "PORT or STBD for both"),
        (body(lambda x: 9 - x / 500, (0, 500)), {"skin": "9 mm"}, "a skin thinner|the skin"),
        (body(lambda x: 300 - 0.55 * x, (0, 400)), {"skin": "1 mm"}, "slopes 0.55 along"),
    ],
)
def test_lofts_that_are_refused(
    points: list[dict[str, str]], more: dict[str, Any], says: str
) -> None:
    stations = more.pop("stations", (100,)) if "stations" in more else (100,)
    with pytest.raises(Refusal) as caught:
        lofted(points, stations, **more)
    assert any(each in caught.value.wrong + caught.value.right for each in says.split("|"))


def test_forty_stations() -> None:
    given = body(ball, range(-400, 401, 100))
    came = lofted(given, [-390 + 20 * k for k in range(40)], skin="1 mm")
    assert len(rows(came)) == 40 * 17
    assert "girths.40.girth" in came and "girths.41.girth" not in came
