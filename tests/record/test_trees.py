"""The tree of a commit, made from the touched folders alone, is the one that git makes of all."""

from __future__ import annotations

import os
import random
import subprocess
from pathlib import Path

import pytest

from generator.findings import Refusal
from generator.record import git
from generator.record.trees import trees_with

NAMES = ("a", "a.txt", "a-b", "a0", "ab", "b", "Z", "é", "with space")


def run(folder: Path, *words: str, feed: bytes = b"", index: Path | None = None) -> str:
    around = {**os.environ, **({"GIT_INDEX_FILE": str(index)} if index else {})}
    told = subprocess.run(
        ["git", *words], cwd=folder, input=feed, env=around, capture_output=True, check=True
    )
    return told.stdout.decode().strip()


def shop_of(folder: Path, kind: str, files: dict[str, str]) -> git.WorkTree:
    """A work tree with these files committed; the workshop is the folder `shop one` in it."""
    run(folder, "init", "-q", f"--object-format={kind}")
    for path, content in files.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_text(content, encoding="utf-8")
    (folder / "shop one").mkdir(exist_ok=True)
    (folder / "link").symlink_to("nowhere")
    (folder / "tool.sh").write_text("true\n", encoding="utf-8")
    (folder / "tool.sh").chmod(0o755)
    run(folder, "add", ".")
    run(folder, "-c", "user.name=A", "-c", "user.email=a@b.invalid", "commit", "-qm", "Begin")
    return git.opened(folder / "shop one")


def by_git(tree: git.WorkTree, folder: Path, blobs: dict[str, str]) -> str:
    """The same tree, made by git in an index of the whole."""
    index = folder / ".git/index-of-test"
    run(folder, "read-tree", "HEAD", index=index)
    entries = "".join(f"100644 {blob}\t{tree.prefix}{path}\0" for path, blob in blobs.items())
    words = ("update-index", "--add", "--replace", "-z", "--index-info")
    run(folder, *words, feed=entries.encode(), index=index)
    return run(folder, "write-tree", index=index)


def some_paths(chance: random.Random, count: int) -> list[str]:
    """Paths of which none is a folder of another."""
    made: list[str] = []
    while len(made) < count:
        path = "/".join(chance.choices(NAMES, k=chance.randint(1, 4)))
        if not any(
            f"{a}/".startswith(f"{b}/") for old in made for a, b in ((path, old), (old, path))
        ):
            made.append(path)
    return made


@pytest.mark.parametrize("kind", ["sha1", "sha256"])
@pytest.mark.parametrize("seed", range(6))
def test_the_tree_is_the_one_that_git_makes(tmp_path: Path, kind: str, seed: int) -> None:
    chance = random.Random(seed)
    there = {f"shop one/{path}": f"old {path}" for path in some_paths(chance, 12)}
    tree = shop_of(tmp_path, kind, there | {"beside/it": "stays"})
    for _ in range(4):
        blobs = {path: git.stored(tree, path.encode()) for path in some_paths(chance, 5)}
        made = trees_with(tree, blobs)[-1]
        assert made == by_git(tree, tmp_path, blobs)
        assert run(tmp_path, "ls-tree", "-r", made)  # every folder lies in git's store


def test_a_folder_of_files_alone_at_the_top(tmp_path: Path) -> None:
    shop_of(tmp_path, "sha1", {"a": "a"})
    tree = git.opened(tmp_path)
    blobs = {"output/new/file": git.stored(tree, b"x"), "a": git.stored(tree, b"y")}
    assert trees_with(tree, blobs)[-1] == by_git(tree, tmp_path, blobs)


def test_content_that_git_lost_is_refused(tmp_path: Path) -> None:
    tree = shop_of(tmp_path, "sha1", {"a": "a"})
    before = run(tmp_path, "count-objects")
    with pytest.raises(Refusal, match="lost a file of the act"):
        trees_with(tree, {"output/a": "1" * 40})
    assert run(tmp_path, "count-objects") == before


@pytest.mark.parametrize("lost", ["", "shop one", "shop one/output", "shop one/output/issued"])
def test_a_folder_of_head_that_git_lost_is_refused_and_not_made_anew(
    tmp_path: Path, lost: str
) -> None:
    tree = shop_of(tmp_path, "sha1", {"shop one/output/issued/A-0001/a.txt": "a"})
    name = run(tmp_path, "rev-parse", f"HEAD:{lost}")
    (tmp_path / ".git/objects" / name[:2] / name[2:]).unlink()
    blob = git.stored(tree, b"b")
    with pytest.raises(Refusal, match=r"git's store has lost the (top )?folder"):
        trees_with(tree, {"output/issued/A-0002/a.txt": blob})
