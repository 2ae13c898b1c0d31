"""Jack sizes, gauge pressure and flow in; forces, volumes, times and hand-pump strokes out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives
from generator.quantities.amount import Amount
from generator.quantities.functions import above_ambient, circle_area, step
from generator.quantities.window import Window, window

TEXTBOOK = "textbook: force = pressure × area, volume = area × stroke, time = volume / flow"

Bore = Annotated[Amount, given("D", "mm", "bore of the jack", at_least="5", at_most="300")]
Rod = Annotated[Amount, given("d", "mm", "diameter of the rod", at_least="0", at_most="250")]
Stroke = Annotated[Amount, given("s", "mm", "stroke", above="0", at_most="3000")]
Flow = Annotated[Amount, given("Q", "L/min", "flow of the pump", above="0", at_most="200")]


@dataclass(frozen=True)
class JackForce:
    """What a jack pushes and pulls."""

    push: Annotated[Amount, gives("F_push", "kN", "push", to="0.01")]
    pull: Annotated[Amount, gives("F_pull", "kN", "pull", to="0.01")]


def _force_by_radius(pressure: float, bore: float, rod: float, efficiency: float) -> JackForce:
    made: Any = JackForce
    push = efficiency * pressure * math.pi * (bore / 2) ** 2
    ring = math.pi * (bore - rod) / 2 * (bore + rod) / 2
    bare: JackForce = made(push, efficiency * pressure * ring)
    return bare


@calculation(
    source=TEXTBOOK,
    not_covered="back pressure, acceleration, friction beyond the efficiency, buckling of the rod",
    second=Second(_force_by_radius, "0.001 %", "from radii, the ring as mean circle times width"),
    examples=(
        Example(
            {"pressure": "100 bar g", "bore": "50 mm", "rod": "28 mm", "efficiency": "100 %"},
            {"push": "19.635 kN", "pull": "13.477 kN"},
            "F = p π D²/4 and p π (D² − d²)/4 in closed form (from memory)",
            within="0.001 kN",
        ),
    ),
)
def jack_force(
    pressure: Annotated[
        Amount, given("p", "bar g", "gauge pressure", at_least="0", at_most="700", at_bench="1")
    ],
    bore: Bore,
    rod: Rod,
    efficiency: Annotated[Amount, given("η", "%", "efficiency", at_least="50", at_most="100")],
) -> JackForce:
    """Jack force: what a jack pushes on its bore and pulls on the ring round its rod."""
    area, ring = _areas(bore, rod)
    push = above_ambient(pressure)
    return JackForce(push * area * efficiency, push * ring * efficiency)


def _areas(bore: Any, rod: Any) -> tuple[Any, Any]:
    area = step(circle_area(bore), "A", "mm²", "area of the bore")
    ring = area - circle_area(rod)
    wrong = "the ring between bore and rod comes to {value}: the rod is no thinner than the bore"
    return area, step(ring, "A_r", "mm²", "area of the ring", above="0", wrong=wrong)


@dataclass(frozen=True)
class JackVolume:
    """What a jack takes in on each side."""

    push: Annotated[Amount, gives("V_push", "cm³", "volume to extend", to="1")]
    pull: Annotated[Amount, gives("V_pull", "cm³", "volume to retract", to="1")]
    difference: Annotated[Amount, gives("ΔV", "cm³", "change of the reservoir", to="1")]


def _volume_by_shells(bore: float, rod: float, stroke: float) -> JackVolume:
    made: Any = JackVolume
    whole = math.pi * (bore / 2) ** 2 * stroke
    taken = math.pi * (rod / 2) ** 2 * stroke
    bare: JackVolume = made(whole, whole - taken, taken)
    return bare


@calculation(
    source=TEXTBOOK,
    not_covered="air, hose swelling, compressed fluid",
    second=Second(_volume_by_shells, "0.001 %", "cylinder of the bore less cylinder of the rod"),
    examples=(
        Example(
            {"bore": "3.1915382 in", "rod": "0 in", "stroke": "10 in"},
            {"push": "80 in³"},
            "TM 1-1500-204-23-2 paragraph 2: 8 in² × 10 in (bore from the area)",
            within="0.01 in³",
        ),
    ),
)
def jack_volume(bore: Bore, rod: Rod, stroke: Stroke) -> JackVolume:
    """Jack volume: fluid to extend and to retract, and what the reservoir level changes by."""
    area, ring = _areas(bore, rod)
    push = step(area * stroke, "V_push", "cm³", "volume to extend")
    pull = step(ring * stroke, "V_pull", "cm³", "volume to retract")
    return JackVolume(push, pull, push - pull)


def _time_by_rate(volume: float, flow: float) -> float:
    """How many jack-fulls a minute, turned over."""
    return 60.0 / (flow * 60.0 / volume)


@calculation(
    source=TEXTBOOK,
    not_covered="pump slip, valve losses, a relief valve that opens",
    second=Second(_time_by_rate, "0.001 %", "the inverse of fills a minute"),
    examples=(
        Example(
            {"volume": "589.049 cm³", "flow": "6 L/min"},
            {"": "5.89 s"},
            "t = A L / Q for 50 mm bore, 300 mm stroke (from memory)",
        ),
    ),
)
def jack_time(
    volume: Annotated[Amount, given("V", "cm³", "volume to move", above="0", at_most="200000")],
    flow: Flow,
) -> Annotated[Amount, gives("t", "s", "time for the stroke", to="0.1")]:
    """Time for a jack to move through a volume at a steady flow."""
    return volume / flow


def _strokes_back(volume: float, displacement: float, efficiency: float) -> float:
    """Strokes whose delivered volume adds up to the volume wanted."""
    return volume / displacement / efficiency


@calculation(
    source="textbook: strokes = volume / (displacement × efficiency)",
    not_covered="air and internal leaks: many more strokes than worked out mean one or the other",
    second=Second(_strokes_back, "0.001 %", "volume over what one stroke delivers, in two steps"),
    examples=(
        Example(
            {"volume": "589.05 cm³", "displacement": "12 cm³", "efficiency": "100 %"},
            {"": "49.09"},
            "volume over displacement, unrounded (from memory)",
            within="0.05",
        ),
    ),
)
def hand_pump_strokes(
    volume: Annotated[Amount, given("V", "cm³", "volume to move", above="0", at_most="200000")],
    displacement: Annotated[
        Amount, given("q", "cm³", "displacement of one double stroke", above="0", at_most="500")
    ],
    efficiency: Annotated[
        Amount, given("η", "%", "volumetric efficiency", at_least="50", at_most="100")
    ],
) -> Annotated[Amount, gives("n", "", "double strokes of the hand pump", to="0.1")]:
    """Double strokes of a hand pump that move a volume."""
    return volume / (displacement * efficiency)


Band = Annotated[
    Amount, given("b", "%", "band to either side", above="0", at_most="50", beyond="A judgement")
]


@dataclass(frozen=True)
class StrokeTime:
    """The time of a stroke, and between which times it passes."""

    time: Annotated[Amount, gives("t", "s", "time for the stroke", to="0.1")]
    allowed: Annotated[Window, gives("t", "s", "time that passes", to="0.1")]


def _times_by_speed(volume: float, flow: float, band: float) -> StrokeTime:
    """The band about the time, from its middle and half width."""
    time = 60.0 / (flow * 60.0 / volume)
    made: Any = StrokeTime
    bare: StrokeTime = made(time, Window(time - band * time, time + band * time, "", ""))
    return bare


@calculation(
    source=f"{TEXTBOOK}; the band is a judgement of the workshop",
    not_covered="pump slip, valve losses, a relief valve that opens; fluid warmer or colder than "
    "the band was chosen for",
    second=Second(_times_by_speed, "0.001 %", "inverse of fills a minute, middle and half width"),
    examples=(
        Example(
            {"volume": "589.049 cm³", "flow": "6 L/min", "band": "10 %"},
            {"time": "5.89 s", "allowed.from": "5.30 s", "allowed.to": "6.48 s"},
            "t = A L / Q for 50 mm bore, 300 mm stroke (from memory), and a tenth of it",
        ),
    ),
)
def jack_time_band(
    volume: Annotated[Amount, given("V", "cm³", "volume to move", above="0", at_most="200000")],
    flow: Flow,
    band: Band,
) -> StrokeTime:
    """Time for a stroke with its band: longer means an inner leak, shorter a volume left out."""
    time = step(volume / flow, "t", "s", "time for the stroke")
    spread = step(band * time, "Δt", "s", "band to either side")
    return StrokeTime(time, window({"band": time - spread}, {"band": time + spread}))


@dataclass(frozen=True)
class PumpStrokes:
    """The strokes of a hand pump, and between which numbers they pass."""

    strokes: Annotated[Amount, gives("n", "", "double strokes of the hand pump", to="0.1")]
    allowed: Annotated[Window, gives("n", "", "double strokes that pass", to="0.1")]


def _strokes_by_share(
    volume: float, displacement: float, efficiency: float, band: float
) -> PumpStrokes:
    strokes = volume / displacement / efficiency
    made: Any = PumpStrokes
    bare: PumpStrokes = made(
        strokes, Window(strokes - band * strokes, strokes + band * strokes, "", "")
    )
    return bare


@calculation(
    source="textbook: strokes = volume / (displacement × efficiency); the band is a judgement of "
    "the workshop",
    not_covered="what is wrong when it takes more: air in the line, or a leak inside jack or pump",
    second=Second(_strokes_by_share, "0.001 %", "what one stroke delivers, middle and half width"),
    examples=(
        Example(
            {
                "volume": "589.05 cm³",
                "displacement": "12 cm³",
                "efficiency": "99 %",
                "band": "10 %",
            },
            {"strokes": "49.6", "allowed.from": "44.6", "allowed.to": "54.5"},
            "49.09 strokes unrounded (from memory) over 0.99, and a tenth of it",
            within="0.05",
        ),
    ),
)
def hand_pump_strokes_band(
    volume: Annotated[Amount, given("V", "cm³", "volume to move", above="0", at_most="200000")],
    displacement: Annotated[
        Amount, given("q", "cm³", "displacement of one double stroke", above="0", at_most="500")
    ],
    efficiency: Annotated[
        Amount, given("η", "%", "volumetric efficiency", at_least="50", at_most="100")
    ],
    band: Band,
) -> PumpStrokes:
    """Double strokes of a hand pump with their band."""
    strokes = step(volume / (displacement * efficiency), "n", "", "double strokes")
    spread = step(band * strokes, "Δn", "", "band to either side")
    return PumpStrokes(strokes, window({"band": strokes - spread}, {"band": strokes + spread}))
