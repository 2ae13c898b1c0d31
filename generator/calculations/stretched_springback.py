"""A sheet stretched over a block in; how far it opens when the jaws let go, out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives
from generator.calculations.springback import Elastic, Yield
from generator.calculations.stretching import (
    BEYOND,
    BlockRadius,
    Hardening,
    Held,
    One,
    Strain,
    Strength,
    Thickness,
)
from generator.quantities.amount import Amount
from generator.quantities.functions import exponential, natural_log, square_root, step

TENSION = (
    "bending under tension: the moment of a sheet that is plastic all through is its hardening "
    "slope times its curvature, and comes off elastically (Marciniak, Hu & Duncan; from memory)"
)
TOO_LITTLE = (
    "the stretch of {value} does not bring all of the sheet past yield five times over its bend: "
    "it springs back more than this tells"
)


ToTheEdge = Annotated[
    Amount, given("w", "mm", "from the crown across to the edge", above="0", at_most="5000")
]


@dataclass(frozen=True)
class SprungSkin:
    """A skin when the jaws have let go."""

    least: Annotated[
        Amount, gives("ε_min", "%", "true strain from which this holds", to="0.01", safe="up")
    ]
    share: Annotated[Amount, gives("s", "%", "curvature that is given back", to="0.01", safe="up")]
    radius: Annotated[Amount, gives("R_f", "mm", "inside radius afterwards", to="0.1")]
    gap: Annotated[
        Amount, gives("g", "mm", "stands off the block at the edge", to="0.01", safe="up")
    ]


def _by_layers(
    thickness: float, radius: float, half_width: float, strain: float, strength: float,
    hardening: float, yield_strength: float, modulus: float,
) -> SprungSkin:  # fmt: skip
    """The moment summed over two hundred layers, over the stiffness of the sheet."""
    middle = radius + thickness / 2
    true = math.log(1 + strain)
    moment, layers = 0.0, 200
    for k in range(layers):
        z = ((k + 0.5) / layers - 0.5) * thickness
        stress = 1.155 * strength * (1.155 * (true + z / middle)) ** hardening
        moment += stress * z * thickness / layers
    stiff = modulus / (1 - 0.33**2) * thickness**3 / 12
    after = 1 / (1 / middle - moment / stiff)
    inner = after - thickness / 2
    gap = half_width * (math.tan(math.asin(half_width / radius) / 2)) - half_width * (
        math.tan(math.asin(half_width / inner) / 2)
    )
    made: Any = SprungSkin
    bends = thickness / middle / 2
    least = bends * 5 + yield_strength / modulus
    bare: SprungSkin = made(least, 1 - middle / after, inner, gap)
    return bare


@calculation(
    source=TENSION,
    not_covered="friction, which leaves the crown with less strain; the second pass, whose metal "
    "has a coupon of its own; twist, and bending along the part; ageing; what trimming sets free",
    second=Second(_by_layers, "0.8 %", "the moment summed over two hundred layers"),
    examples=(
        Example(
            {
                "thickness": "1.6 mm", "radius": "499.2 mm", "half_width": "300 mm",
                "strain": "5 %", "strength": "205 MPa", "hardening": "0.20",
                "yield_strength": "55 MPa", "modulus": "70000 MPa",
            },
            {"share": "0.695 %", "radius": "502.7 mm"},
            "closed form: 0.2 · 133.204 MPa / 0.04879 over 70000 MPa / (1 − 0.33²), the stress of "
            "6061-O from Kalpakjian & Schmid, table 2.3; 500 mm over 1 − 0.00695, less 0.8 mm",
        ),
    ),
)  # fmt: skip
def stretched_springback(
    thickness: Thickness,
    radius: BlockRadius,
    half_width: ToTheEdge,
    strain: Strain,
    strength: Strength,
    hardening: Hardening,
    yield_strength: Yield,
    modulus: Elastic,
    one: One,
    held: Held,
    poisson: Annotated[Amount, given("ν", "", "Poisson's ratio", fixed="0.33 ratio")],
    over: Annotated[Amount, given("5", "", "stretch over bend, at least", fixed="5 ratio")],
) -> SprungSkin:
    """Springback of a stretched skin: the radius that is left, and the gap at its edge.

    Holds where the stretch is five times the bend's own strain and past yield, from a true strain
    of 0.002 to the neck. Trimmed skins and skins that age may still move: the block decides.
    """
    middle = step(radius + thickness / 2, "R_m", "mm", "radius of the middle of the sheet")
    bend = step(thickness / (2 * middle), "ε_b", "", "strain of the bend")
    true = step(
        natural_log(one + strain), "ε", "", "true strain", at_least="0.002", at_most=hardening,
        wrong=BEYOND,
    )  # fmt: skip
    least = step(over * bend + yield_strength / modulus, "ε_min", "", "least true strain")
    step(true, "ε", "", "true strain", at_least=least, wrong=TOO_LITTLE)
    flow = held * strength * exponential(hardening * natural_log(held * true))
    stress = step(flow, "σ", "MPa", "flow stress, width held")
    slope = step(hardening * stress / true, "H", "MPa", "how it hardens")
    share = step((one - poisson**2) * slope / modulus, "s", "", "curvature given back")
    after = step(middle / (one - share), "R_s", "mm", "radius of the middle afterwards")
    inner = step(after - thickness / 2, "R_f", "mm", "inside radius afterwards")
    step(
        half_width, "w", "mm", "from the crown to the edge", at_most=radius,
        wrong="the edge {value} from the crown is down the side of the block",
    )  # fmt: skip
    before = step(radius - square_root(radius**2 - half_width**2), "h_1", "mm", "rise of the block")
    left = step(inner - square_root(inner**2 - half_width**2), "h_2", "mm", "rise of the skin")
    return SprungSkin(least, share, inner, before - left)
