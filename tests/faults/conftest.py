"""A workshop on the moment before an act, made once for each act, in a place where waiting for the
disk costs nothing: what would be lost is the business of the model."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.commands.conftest import copied
from tests.commands.conftest import issued_shop as issued_shop  # the fixture
from tests.faults.acts import ready
from tests.record.conftest import _nobodys_settings as _nobodys_settings  # the fixture

_MEMORY = Path("/dev/shm")


@dataclass(frozen=True)
class Moment:
    """The shop before the act, what the user has in hand, and room for copies."""

    shop: Path
    papers: Path
    beside: Path


@pytest.fixture(scope="module")
def room() -> Iterator[Path]:
    quick = _MEMORY if os.access(_MEMORY, os.W_OK) else None
    with tempfile.TemporaryDirectory(prefix="faults-", dir=quick) as place:
        yield Path(place)


@pytest.fixture
def moment(issued_shop: Path, room: Path) -> Callable[[str], Moment]:
    def made(act: str) -> Moment:
        papers, beside = room / act / "papers", room / act / "beside"
        if not papers.exists():
            papers.mkdir(parents=True)
            ready(copied(issued_shop, room / act), act, papers)
        shutil.rmtree(beside, ignore_errors=True)
        beside.mkdir()
        return Moment(room / act / "shop", papers, beside)

    return made
