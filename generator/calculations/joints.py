"""A bolted or riveted joint in; its preload against proof, its limits, and its counts out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import (
    Example,
    Second,
    calculation,
    choice,
    count,
    given,
    gives,
)
from generator.calculations.preload import ESTIMATE, SCATTER_BOOK, TORQUE_FORMULA
from generator.findings import Refusal
from generator.quantities.amount import Amount
from generator.quantities.functions import step
from generator.quantities.points import between


@dataclass(frozen=True)
class AgainstProof:
    """The largest preload that a torque may leave, against the proof load."""

    largest: Annotated[
        Amount, gives("F_K1", "lbf", "largest preload, least nut factor", to="1", safe="up")
    ]
    share: Annotated[Amount, gives("s", "%", "largest preload over proof load", to="1", safe="up")]
    spare: Annotated[
        Amount, gives("ΔF", "lbf", "left below the share of the proof load", to="1", safe="down",
                      at_least="0", beyond="Less torque, or a stronger bolt: it may yield")
    ]  # fmt: skip


def _against_torque(
    torque: float, diameter: float, k_low: float, proof: float, share: float
) -> AgainstProof:
    """By the torque that would bring the bolt to its proof load."""
    torque_at_proof = k_low * diameter * proof
    used = torque / torque_at_proof
    made: Any = AgainstProof
    bare: AgainstProof = made(used * proof, used, (share - used) * proof)
    return bare


@calculation(
    source=f"{TORQUE_FORMULA} and 8-31 (0.75 for bolts that are taken out again, 0.90 for those "
    f"that stay); range of K: {SCATTER_BOOK}",
    not_covered=ESTIMATE + "; twist of the bolt while it is tightened",
    second=Second(_against_torque, "0.001 %", "the torque that brings the bolt to its proof load"),
    examples=(
        Example(
            {
                "torque": "3750 lbf·in",
                "diameter": "0.75 in",
                "k_low": "0.2",
                "proof": "31705 lbf",
                "share": "90 %",
            },
            {"largest": "25000 lbf", "share": "78.9 %"},
            "Shigley 9th edition, example 8-3, p. 439: 25 kip, A_t 0.373 in², 85 kpsi proof",
            "0.1 %",
        ),
    ),
)
def preload_against_proof(
    torque: Annotated[
        Amount,
        given("T", "lbf·in", "torque at the nut, its drag taken off", above="0", at_most="100000"),
    ],
    diameter: Annotated[
        Amount, given("D", "in", "nominal diameter of the thread", at_least="0.06", at_most="4")
    ],
    k_low: Annotated[Amount, given("K₁", "", "least nut factor", at_least="0.086", at_most="0.52")],
    proof: Annotated[
        Amount, given("F_p", "lbf", "proof load of the bolt", above="0", at_most="500000")
    ],
    share: Annotated[
        Amount, given("s_2", "%", "share of the proof load allowed", above="0", at_most="90")
    ],
) -> AgainstProof:
    """Preload against the proof load: the largest that a torque may leave, at the least nut factor.

    An estimate for the engineer: the shop tightens by a table or by approved data.
    """
    largest = step(torque / (k_low * diameter), "F_K1", "lbf", "largest preload")
    return AgainstProof(largest, largest / proof, share * proof - largest)


METALS = ("steel", "aluminium alloy")


def _over_by_ratio(metal: str, diameter: float, steel: float, light: float) -> float:
    least = {METALS[0]: steel, METALS[1]: light}[metal]
    return (diameter / least - 1) * least


@calculation(
    source="AC 43.13-1B (9/8/98) paragraph 7-41: steel from No. 10-32, aluminium alloy from 1/4 in",
    not_covered="joints that carry nothing",
    second=Second(_over_by_ratio, "0.001 %", "as a multiple of the least"),
    examples=(
        Example(
            {"metal": "aluminium alloy", "diameter": "0.3125 in"},
            {"": "0.0625 in"},
            "AC 43.13-1B paragraph 7-41: 1/4 in at the least",
            "0.00001 in",
        ),
    ),
)
def structural_bolt(
    metal: Annotated[str, choice("metal of the bolt", *METALS)],
    diameter: Annotated[
        Amount, given("D", "in", "diameter of the bolt", at_least="0.06", at_most="2")
    ],
    steel: Annotated[Amount, given("D_s", "in", "least of steel", fixed="0.19 in")],
    light: Annotated[Amount, given("D_a", "in", "least of aluminium", fixed="0.25 in")],
) -> Annotated[
    Amount,
    gives("ΔD", "in", "diameter over the least", to="0.001", safe="down", at_least="0",
          beyond="Too small for a structure"),
]:  # fmt: skip
    """Smallest bolt of a structure, by its metal."""
    return diameter - (steel if metal == METALS[0] else light)


def _cooler_by_fahrenheit(temperature: float, margin: float, most: float) -> float:
    return ((most - temperature) * 9 / 5 - margin * 9 / 5) * 5 / 9


@calculation(
    source="AC 43.13-1B (9/8/98) paragraph 7-64: fibre and nylon nuts up to 250 °F",
    not_covered="all-metal nuts, whose own specification says more",
    second=Second(_cooler_by_fahrenheit, "0.001 %", "in degrees Fahrenheit and back"),
    examples=(
        Example(
            {"temperature": "100 °C", "margin": "10 K"},
            {"": "11.1 K"},
            "AC 43.13-1B paragraph 7-64: 250 °F is 121.1 °C",
        ),
    ),
)
def fibre_nut_temperature(
    temperature: Annotated[
        Amount, given("T", "°C", "hottest that the nut gets", at_least="-60", at_most="400")
    ],
    margin: Annotated[
        Amount, given("ΔT_m", "K", "margin that is wanted", at_least="0", at_most="100")
    ],
    most: Annotated[Amount, given("T_2", "°C", "hottest for fibre or nylon",
                                  fixed="121.111111 °C")],
) -> Annotated[
    Amount,
    gives("ΔT", "K", "left below the hottest", to="1", safe="down", at_least="0",
          beyond="An all-metal nut"),
]:  # fmt: skip
    """Temperature of a fibre or nylon lock nut against the hottest that it locks at."""
    left: Amount = between(most, temperature) - margin
    return left


def _under_by_end(under_head: float, under_nut: float, both: float) -> float:
    return -(under_head + under_nut - both)


@calculation(
    source="light-sport aircraft maintenance manual, standard practices: four in all, two at one "
    "end; a maker's rule, others differ",
    not_covered="aircraft whose own manual says otherwise; the grip: bolt_grip",
    second=Second(_under_by_end, "0.001 %", "taken the other way round"),
    examples=(
        Example(
            {"under_head": "1 count", "under_nut": "1 count"},
            {"": "2"},
            "the manual's rule: four in all",
        ),
    ),
)
def washer_count(
    under_head: Annotated[
        Amount, given("n_h", "", "washers under the head", at_least="0", at_most="2")
    ],
    under_nut: Annotated[
        Amount, given("n_n", "", "washers under the nut", at_least="0", at_most="2")
    ],
    both: Annotated[Amount, given("n_b", "", "washers in all", fixed="4 ratio")],
) -> Annotated[Amount, gives("Δn", "", "washers that may still be added", to="1", at_least="0")]:
    """Washers of a bolt: how many more the rule allows to bring the grip right."""
    return both - under_head - under_nut


Places = Annotated[int, count("m", "places", at_least=0, at_most=20000)]
Takes = Annotated[int, count("z", "items at each place", at_least=1, at_most=20)]


@dataclass(frozen=True)
class Group:
    """Places of one sub-assembly, and what each of them takes."""

    places: Places
    takes: Takes


@dataclass(frozen=True)
class Issue:
    """What a kit holds of one item."""

    fitted: Annotated[Amount, gives("N", "", "items fitted", to="1", settled=True)]
    issued: Annotated[Amount, gives("N_i", "", "items issued", to="1", settled=True)]


def _issue_by_items(groups: Any, spares: int) -> Issue:
    """Every item counted one by one."""
    items = [1 for g in groups for _ in range(g.places) for _ in range(g.takes)]
    made: Any = Issue
    bare: Issue = made(float(len(items)), float(len(items) + spares))
    return bare


@calculation(
    source="sum of whole numbers",
    not_covered="what is damaged on the way: spares; items of another part number",
    method="places times what each takes, over all sub-assemblies, and the spares",
    second=Second(_issue_by_items, "0.000001", "every item counted one by one"),
    examples=(
        Example(
            {
                "groups": [{"places": "24", "takes": "2"}, {"places": "6", "takes": "1"}],
                "spares": "4",
            },
            {"fitted": "54", "issued": "58"},
            "visible: 24 · 2 + 6 + 4",
        ),
    ),
)
def fastener_count(
    groups: tuple[Group, ...],
    spares: Annotated[int, count("N_s", "spares", at_least=0, at_most=20000)],
) -> Issue:
    """Count of a fastener over all sub-assemblies, and what the kit holds with its spares."""
    fitted = sum(g.places * g.takes for g in groups)
    made: Any = Issue
    found: Issue = made(float(fitted), float(fitted + spares))
    return found


@dataclass(frozen=True)
class Counted:
    """Places of one sub-assembly, what each takes, and what was counted there."""

    places: Places
    takes: Takes
    counted: Annotated[int, count("c", "items counted there", at_least=0, at_most=400000)]


@dataclass(frozen=True)
class Kit:
    """One issue of an item, and what of it came back."""

    issued: Annotated[int, count("N_i", "items issued", at_least=1, at_most=400000)]
    returned: Annotated[int, count("N_r", "items returned", at_least=0, at_most=400000)]
    scrapped: Annotated[int, count("N_x", "items scrapped", at_least=0, at_most=400000)]


@dataclass(frozen=True)
class Reconciled:
    """Where everything is that was issued."""

    fitted: Annotated[Amount, gives("N", "", "items fitted", to="1", settled=True)]
    missing: Annotated[
        Amount, gives("Δ", "", "issued and nowhere", to="1", at_least="0", at_most="0",
                      settled=True,
                      beyond="Search: a loose article, or a wrong count; nothing is closed before")
    ]  # fmt: skip


def _found_by_items(groups: Any, kits: Any) -> Reconciled:
    """What was issued, item by item crossed off."""
    left = [1 for kit in kits for _ in range(kit.issued)]
    fitted = [1 for g in groups for _ in range(g.places) for _ in range(g.takes)]
    gone = [1 for kit in kits for _ in range(kit.returned + kit.scrapped)]
    made: Any = Reconciled
    bare: Reconciled = made(float(len(fitted)), float(len(left) - len(fitted) - len(gone)))
    return bare


@calculation(
    source="sum of whole numbers: issued = fitted + returned + scrapped",
    not_covered="an item that is fitted in the wrong place",
    method="in each sub-assembly places times what each takes must be what was counted; issued "
    "less fitted, returned and scrapped is what is missing",
    second=Second(_found_by_items, "0.000001", "items counted one by one"),
    examples=(
        Example(
            {
                "groups": [{"places": "24", "takes": "2", "counted": "48"}],
                "kits": [
                    {"issued": "50", "returned": "2", "scrapped": "0"},
                    {"issued": "2", "returned": "1", "scrapped": "1"},
                ],
            },
            {"fitted": "48", "missing": "0"},
            "visible: 52 = 48 + 3 + 1",
        ),
    ),
)
def count_reconciliation(groups: tuple[Counted, ...], kits: tuple[Kit, ...]) -> Reconciled:
    """Reconciliation of a count: sub-assembly by sub-assembly, and with all that was issued."""
    for number, group in enumerate(groups, start=1):
        wanted = group.places * group.takes
        if wanted != group.counted:
            wrong = f"sub-assembly {number}: {group.counted} counted, {wanted} belong there"
            raise Refusal("range", wrong, "the same count; a count that differs is a slip")
    fitted = sum(g.places * g.takes for g in groups)
    left = sum(kit.issued - kit.returned - kit.scrapped for kit in kits)
    made: Any = Reconciled
    found: Reconciled = made(float(fitted), float(left - fitted))
    return found
