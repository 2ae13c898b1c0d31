"""Torques at a share of the proof load, worked out apart from the code: no agreement with print.

They guard against mistakes in the chain from thread to torque; nothing here may be counted as a
published answer.
"""

from __future__ import annotations

import pytest

from tests.calculations.asking import answer

# T = K s A_s S_p d with ISO 898-1 areas and proof stresses; worked separately.
# size, pitch, class, share, K -> preload N, torque N·m.
CHAINS = [
    ("12", "1.75", "8.8 up to 16 mm", "70", "0.2", 34226.0, 82.1),
    ("8", "1.25", "8.8 up to 16 mm", "75", "0.2", 15921.0, 25.47),
    ("10", "1.5", "10.9", "75", "0.15", 36105.0, 54.16),
    ("6", "1", "12.9", "75", "0.16", 14622.8, 14.04),
    ("20", "2.5", "8.8 over 16 mm", "75", "0.2", 110250.0, 441.0),
]


@pytest.mark.parametrize(("size", "pitch", "name", "share", "factor", "force", "torque"), CHAINS)
def test_torque_at_a_share_of_the_proof_load(
    size: str, pitch: str, name: str, share: str, factor: str, force: float, torque: float
) -> None:
    typed = {"property_class": name, "diameter": f"{size} mm", "pitch": f"{pitch} mm"}
    preload = answer("preload_of_proof_metric", "N", "preload", **typed, share=f"{share} %")
    assert preload == pytest.approx(force, rel=0.0015)  # the areas there have three figures
    asked = {"preload": f"{preload:.6f} N", "diameter": f"{size} mm"}
    asked |= {"k_low": "0.1", "k_nominal": factor, "k_high": "0.3"}
    have = answer("nut_factor_torque", "N·m", "torque", **asked)
    assert have == pytest.approx(torque, rel=0.002)


def test_the_printed_preload_never_passes_its_share() -> None:
    # 75 % of 580 MPa on M8: rounded down, because more is the dangerous side.
    typed = {"property_class": "8.8 up to 16 mm", "diameter": "8 mm", "pitch": "1.25 mm"}
    have = answer("preload_of_proof_metric", "N", "preload", **typed, share="75 %")
    assert 0.75 * 580 * 36.6 < have < 0.75 * 580 * 36.62
