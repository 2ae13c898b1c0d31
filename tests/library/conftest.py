"""A workshop of six small processes in a folder of its own, for tests of what is kept."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.helping import SOUND


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """Six shelves; each but the first waits for the one before it."""
    folder = tmp_path / "shop"
    shutil.copytree(SOUND / "processes" / "workshop", folder / "processes" / "workshop")
    text = (SOUND / "processes" / "shelf.yaml").read_text(encoding="utf-8")
    for n in range(1, 7):
        before = f"process: T6-P-{700 + n - 1:04d}" if n > 1 else "evidence: EV-0310"
        own = text.replace("process: T6-P-0310", before, 1)
        own = own.replace("process: T6-P-0120", f"process: T6-P-{700 + n:04d}", 1)
        own = own.replace("four places", f"{n + 3} places")
        (folder / "processes" / f"shelf-{n}.yaml").write_text(own, encoding="utf-8")
    return folder
