"""Settings that hold for every test: the same examples every day, no race with a clock, small workers."""

from collections.abc import Iterator

import pytest
from hypothesis import settings

settings.register_profile("workshop", derandomize=True, deadline=None, database=None)
settings.load_profile("workshop")

# Rooms whose tests make children by fork, which takes the longer the more a worker holds already.
_FIRST = ("faults", "record", "commands", "library", "hostile")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    items.sort(key=lambda item: item.path.parent.name not in _FIRST)


@pytest.fixture(scope="module", autouse=True)
def _nothing_is_kept(request: pytest.FixtureRequest) -> Iterator[None]:
    """What a file of tests kept by a cache of its own goes with it: layouts of all the demo, say."""
    yield
    for kept in vars(request.module).values():
        if hasattr(kept, "cache_clear") and kept.__module__ == request.module.__name__:
            kept.cache_clear()
