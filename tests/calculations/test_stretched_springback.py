"""A stretched skin that springs back, against integrals by numpy and against its own limits."""

from __future__ import annotations

import math

import numpy as np
import pytest

from generator.findings import Refusal
from tests.calculations.asking import answer, results

SKIN = {
    "thickness": "0.914 mm", "radius": "494 mm", "half_width": "430 mm", "strain": "3.04 %",
    "strength": "310 MPa", "hardening": "0.20", "yield_strength": "75 MPa",
    "modulus": "70000 MPa",
}  # fmt: skip
PLACES, WEIGHTS = np.polynomial.legendre.leggauss(9)


def given_back(middle: float, sheet: float, true: float, strength: float, n: float) -> float:
    """The share of the curvature: moment of the plastic sheet over its stiffness, each integrated
    through the thickness (plane strain, modulus 70000 MPa, Poisson's ratio 0.33)."""
    z = PLACES * sheet / 2
    stress = 1.155 * strength * (1.155 * (true + z / middle)) ** n
    moment = (WEIGHTS * stress * z).sum() * sheet / 2
    stiffness = 70000 / (1 - 0.33**2) * (WEIGHTS * z * z).sum() * sheet / 2
    return float(moment / stiffness * middle)


@pytest.mark.parametrize(
    ("strain", "radius", "n"),
    [(3.04, 494, 0.2), (2.0, 520, 0.2), (5.0, 300, 0.16), (4.0, 2000, 0.1)],
)
def test_the_share_is_the_moment_over_the_stiffness(strain: float, radius: float, n: float) -> None:
    typed = SKIN | {"strain": f"{strain} %", "radius": f"{radius} mm", "hardening": str(n)}
    typed |= {"half_width": "100 mm"}
    middle = radius + 0.457
    share = given_back(middle, 0.914, math.log(1 + strain / 100), 310, n)
    assert answer("stretched_springback", "", "share", **typed) == pytest.approx(share, rel=0.006)
    inner = answer("stretched_springback", "mm", "radius", **typed)
    assert inner == pytest.approx(middle / (1 - share) - 0.457, rel=1e-3)


def test_the_gap_is_that_between_two_circles() -> None:
    inner = answer("stretched_springback", "mm", "radius", **SKIN)
    wanted = (494 - math.sqrt(494**2 - 430**2)) - (inner - math.sqrt(inner**2 - 430**2))
    assert answer("stretched_springback", "mm", "gap", **SKIN) == pytest.approx(wanted, abs=1e-9)


def test_what_does_not_harden_does_not_spring_back() -> None:
    # Bending under tension (Hosford & Caddell; from memory): all fibres past yield and no
    # hardening leave no moment.
    shares = [
        answer("stretched_springback", "", "share", **(SKIN | {"hardening": str(n)}))
        for n in (0.2, 0.1, 0.05)
    ]
    assert shares == sorted(shares, reverse=True)
    soft = SKIN | {"hardening": "0.02", "strain": "1.0 %"}
    assert answer("stretched_springback", "", "share", **soft) < 0.012


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"strain": "0.5 %"}, "does not bring all of the sheet past yield"),
        ({"radius": "60 mm", "half_width": "30 mm"}, "does not bring all of the sheet past yield"),
        ({"strain": "0.1 %"}, "law of the coupon"),
        ({"hardening": "0.03", "strain": "4 %"}, "necks and tears"),
        ({"half_width": "495 mm"}, "down the side of the block"),
    ],
)
def test_skins_for_which_nothing_is_told(typed: dict[str, str], says: str) -> None:
    with pytest.raises(Refusal, match=says):
        results("stretched_springback", **(SKIN | typed))
