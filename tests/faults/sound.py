"""A workshop, in; whether its record, git and what the user staged are as they must be at any time
between two acts, out."""

from __future__ import annotations

import subprocess
from hashlib import sha256
from pathlib import Path

from tests.record.conftest import run_git
from tests.record.proving import assert_whole

Kept = dict[str, str]
_BESIDE = ("draft", "media", "index.csv")


def recorded(shop: Path) -> Kept:
    """Every file of the record, with its sum; the lists, which grow, with their content."""
    output = shop / "output"
    files = [each for each in output.rglob("*") if each.is_file()]
    ours = [each for each in files if each.relative_to(output).parts[0] not in _BESIDE]
    return {str(each.relative_to(shop)): _told(each) for each in ours}


def noted(shop: Path) -> bool:
    """Whether an act is decided and not finished."""
    return any((shop / ".git/witnessmark").glob("act-*.json"))


def _told(file: Path) -> str:
    content = file.read_bytes()
    return (
        content.decode()
        if file.suffix == ".txt" and file.name != "sums.txt"
        else sha256(content).hexdigest()
    )


def assert_nothing_lost(shop: Path, before: Kept) -> None:
    """What was recorded before is there and the same; lists were added to."""
    now = recorded(shop)
    for path, told in before.items():
        assert path in now, f"{path} is lost"
        same = now[path].startswith(told) if len(told) != 64 else now[path] == told
        assert same, f"{path} was changed"


def assert_sound(shop: Path, before: Kept) -> list[str]:
    """Record, sums and git are whole, nothing is lost, nothing lies about; gives the serials."""
    serials = assert_whole(shop)
    assert_nothing_lost(shop, before)
    lists = [*shop.glob("output/register-*.txt"), *shop.glob("output/issued/*/sums.txt")]
    names = [str(each.relative_to(shop)) for each in lists]
    told = subprocess.run(
        ["sha256sum", "-c", "--strict", "--quiet", *names],
        cwd=shop,
        capture_output=True,
        check=False,
    )
    assert told.returncode == 0, told.stdout + told.stderr
    own = Path(run_git(shop, "rev-parse", "--absolute-git-dir").strip())
    assert [each.name for each in own.rglob("*.lock")] == []
    left = {each.name for each in (own / "witnessmark").iterdir()} - {"lock", "index-token"}
    assert not left, left
    return serials


def assert_git_whole(shop: Path, staged: str) -> None:
    """git finds nothing wrong, and what the user staged is staged, and nothing else."""
    told = subprocess.run(
        ["git", "-C", str(shop), "fsck", "--full", "--strict", "--no-dangling"],
        capture_output=True,
        check=False,
    )
    assert told.returncode == 0, told.stdout + told.stderr
    assert not told.stdout.strip(), told.stdout
    assert run_git(shop, "diff", "--cached", "--name-status") == staged
