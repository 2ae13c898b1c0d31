"""The operations of a process as they were composed, in; rows of the sheets on which numbers are
recorded, out: the same limits and the same marks as on the traveller."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from generator.composing.kinds import limited
from generator.process import Reading
from generator.quantities.units import unit

# A length that is read this fine (mm) moves with the warmth of the workshop: 100 mm of aluminium
# grow by 0.012 mm in 5 °C (23 µm/m each °C, common handbook value, from memory).
_FINE = "0.01"


def features(operations: Sequence[Mapping[str, Any]]) -> list[Mapping[str, Any]]:
    """Every reading with a limit as a numbered feature, in the order of the operations."""
    found = [
        (each["number"], row, reading)
        for each in operations
        if each["kind"] != "deleted"
        for row, reading in zip(each["readings"], each["op"].readings, strict=True)
        if limited(reading)
    ]
    return [
        {
            "number": n,
            "operation": operation,
            "what": row[0],
            "lower": row[1],
            "upper": row[2],
            "unit": row[3],
            "times": row[4],
            "instrument": reading.instrument,
            "temperature": _is_fine_length(reading),
        }
        for n, (operation, row, reading) in enumerate(found, start=1)
    ]


def _is_fine_length(reading: Reading) -> bool:
    """Whether it is a length read to 0.01 mm or finer."""
    scale = unit("mm")
    if reading.to is None or reading.to.unit.dimension != scale.dimension:
        return False
    return scale.from_base(reading.to.value) <= float(_FINE) * (1 + 1e-9)
