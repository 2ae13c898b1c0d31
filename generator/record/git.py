"""A folder and words for the git command line, in; what git answers, or a refusal, out."""

from __future__ import annotations

import errno
import os
import re
import subprocess
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from hashlib import sha1, sha256
from pathlib import Path
from typing import Any

from generator.findings import Refusal

# A caller's own git (a hook, an alias) may point these elsewhere, or read names and history in
# another way; only the folder decides here.
_POINTERS = (
    "GIT_DIR",
    "GIT_WORK_TREE",
    "GIT_INDEX_FILE",
    "GIT_COMMON_DIR",
    "GIT_OBJECT_DIRECTORY",
    "GIT_ALTERNATE_OBJECT_DIRECTORIES",
    "GIT_NAMESPACE",
    "GIT_PREFIX",
    "GIT_IMPLICIT_WORK_TREE",
    "GIT_QUARANTINE_PATH",
    "GIT_CONFIG",
    "GIT_GRAFT_FILE",
    "GIT_SHALLOW_FILE",
    "GIT_LITERAL_PATHSPECS",
    "GIT_GLOB_PATHSPECS",
    "GIT_NOGLOB_PATHSPECS",
    "GIT_ICASE_PATHSPECS",
)

# No hooks: a hook that stops or rewrites a commit would leave a number taken and not recorded.
# No fsmonitor: its daemon would inherit the desk's lock and hold it for ever.
# No replace objects, and below no grafts: a ref or a file of the user's own could show another
# history than is there.
# fsync=all: git does not flush loose objects by itself, and the register must not outlive them.
_FIXED = (
    "--literal-pathspecs",
    "--no-replace-objects",
    "-c",
    f"core.hooksPath={os.devnull}",
    "-c",
    "core.fsmonitor=false",
    "-c",
    "core.fsync=all",
    "-c",
    "i18n.commitEncoding=utf-8",
)

_UNDER_WAY = {
    "rebase-merge": "rebase",
    "rebase-apply": "rebase",
    "MERGE_HEAD": "merge",
    "CHERRY_PICK_HEAD": "cherry-pick",
    "REVERT_HEAD": "revert",
}

# The facts of a plain file in a listing of git's, before the name of its content.
_FILES = ("100644 blob ", "100755 blob ")

# What the machine refused, as git says it with LC_ALL=C.
_FAULTS = "EIO ENOSPC EDQUOT EROFS EACCES EPERM EMFILE ENFILE ENOMEM"
_NO_ROOM = [os.strerror(getattr(errno, name)).encode() for name in _FAULTS.split()]

_COMMIT = "HEAD^{commit}"
_LOST = re.compile(r"Could not read|missing object|bad object|unable to read|bad file|corrupt")
STILL_THERE = "git fsck, and a clone or a copy that still has it"


class NoCommit(Refusal):
    """There is no git work tree, or no commit in it: nothing that a record could be held against.
    Where git is there and fails, it is a plain Refusal."""


@dataclass(frozen=True)
class WorkTree:
    """A folder inside a git work tree.

    prefix: the way from the top of the work tree to the folder, "" or "shop/".
    own: git's folder for this work tree; common: the one that all its work trees share.
    held: open files that git's children keep open with us (the lock).
    """

    folder: Path
    prefix: str
    own: Path
    common: Path
    held: tuple[int, ...] = ()

    def holding(self, lock: int) -> WorkTree:
        return replace(self, held=(*self.held, lock))

    def asked(self, *words: str, feed: bytes = b"", index: Path | None = None) -> bytes | None:
        """What git writes, or None where it says no."""
        ran = _ran(self.folder, words, feed, index, self.held)
        return None if ran.returncode else ran.stdout

    def told(self, *words: str, feed: bytes = b"", index: Path | None = None) -> bytes:
        """What git writes. Refusal with git's own words where it fails."""
        ran = _ran(self.folder, words, feed, index, self.held)
        if ran.returncode:
            raise _said_no(ran)
        return ran.stdout

    def setting(self, key: str) -> str:
        """A setting of git's, "" where it has none. Refusal where the settings cannot be read."""
        ran = _ran(self.folder, ("config", "--get", key), held=self.held)
        if ran.returncode > 1:
            raise _said_no(ran)
        return os.fsdecode(ran.stdout).strip()

    def settings(self, keys: str) -> dict[str, str]:
        """The settings of git's whose keys fit, by their keys; of one that stands twice the last.
        Refusal as for setting."""
        ran = _ran(self.folder, ("config", "-z", "--get-regexp", keys), held=self.held)
        if ran.returncode > 1:
            raise _said_no(ran)
        rows = os.fsdecode(ran.stdout).split("\0")[:-1]
        return {key: value for key, _, value in (row.partition("\n") for row in rows)}

    def one(self, *words: str, feed: bytes = b"", index: Path | None = None) -> str:
        """What git writes, as one line without its end."""
        return os.fsdecode(self.told(*words, feed=feed, index=index)).rstrip("\n")


def opened(folder: Path) -> WorkTree:
    """The work tree that the folder stands in. Refusal where there is none, or no commit yet."""
    facts = ("--path-format=absolute", "--absolute-git-dir", "--git-common-dir", "--show-prefix")
    words = ("rev-parse", "--is-inside-work-tree", *facts)
    ran = whole = _ran(folder, (*words, _COMMIT))
    if whole.returncode:  # without the commit it says which of the two is missing
        ran = _ran(folder, words)
    lines = os.fsdecode(ran.stdout).split("\n")
    if ran.returncode or lines[0] != "true":
        right = f"git init in {folder}, then git add and git commit"
        if ran.returncode and b"not a git repository" not in ran.stderr:
            raise _said_no(ran)
        raise NoCommit("record", "the workshop folder stands in no git work tree", right)
    tree = WorkTree(folder, lines[3], Path(lines[1]), Path(lines[2]))
    if whole.returncode and tree.asked("rev-parse", "--verify", "--quiet", _COMMIT) is None:
        raise _no_commit(tree)
    return tree


def _no_commit(tree: WorkTree) -> Refusal:
    named = tree.asked("rev-parse", "--verify", "--quiet", "HEAD")
    if named is None:
        right = "git add processes, then git commit"
        return NoCommit("record", "git has no commit here yet", right)
    wrong = f"git's store has lost the commit {os.fsdecode(named)[:12]}, which HEAD names"
    return Refusal("record", wrong, STILL_THERE)


def branch(tree: WorkTree) -> str:
    """The full name of the branch that stands checked out. Refusal where a commit has no place."""
    for name, work in _UNDER_WAY.items():
        if (tree.own / name).exists():
            right = f"git {work} --continue or git {work} --abort first"
            raise Refusal("record", f"a git {work} is under way in the workshop", right)
    full = tree.asked("symbolic-ref", "--quiet", "HEAD")
    if full is None:
        wrong = "git stands on no branch (detached HEAD), where a record would be lost"
        raise Refusal("record", wrong, "git switch to the branch of the record, such as main")
    return os.fsdecode(full).strip()


def head_commit(folder: Path) -> str:
    """The full name of the commit that the workshop stands on. Refusal where there is none."""
    return head(opened(folder))


def head(tree: WorkTree) -> str:
    return tree.one("rev-parse", "--verify", _COMMIT)


def is_clean(folder: Path, paths: Sequence[str]) -> list[str]:
    """Those of the workshop-relative paths that are not, byte for byte, what HEAD holds.

    A path may be a file or a folder. A path that is in neither place is not clean either. What is
    only staged counts as not committed; line ends are compared as git stores them.
    """
    tree = opened(folder)
    committed = in_head(tree, paths)
    standing = {path: _files_of(tree, path) for path in paths}
    shown = sorted({each for files in standing.values() for each in files or ()})
    names = tree.one("hash-object", "--", *shown).split("\n") if shown else []
    blobs = dict(zip(shown, names, strict=True))
    return [
        path
        for path in paths
        if standing[path] is None
        or {each: blobs[each] for each in standing[path] or ()}
        != {n: b for n, b in committed.items() if n == path or n.startswith(f"{path}/")}
        or not standing[path]
    ]


def _files_of(tree: WorkTree, path: str) -> list[str] | None:
    """The files of a path, itself or those below; None where one of them is no plain file."""
    there = tree.folder / path
    files = sorted(each for each in there.rglob("*") if not each.is_dir()) if there.is_dir() else []
    shown = [each.relative_to(tree.folder).as_posix() for each in files] or [path]
    return shown if all((tree.folder / each).is_file() for each in shown) else None


def in_head(tree: WorkTree, paths: Iterable[str], how: str = "-r") -> dict[str, str]:
    """What HEAD holds of these paths and below them: path from the workshop folder -> name of its
    content, with its kind before it where it is no plain file. how: -d for folders alone."""
    listed = tree.told("ls-tree", how, "-z", "HEAD", "--", *paths)
    rows = (row.split("\t", 1) for row in os.fsdecode(listed).split("\0")[:-1])
    return {path: facts[12:] if facts.startswith(_FILES) else facts for facts, path in rows}


def stored(tree: WorkTree, content: bytes) -> str:
    """The name of the content in git's store, where it now lies, byte for byte as given."""
    return tree.one("hash-object", "-w", "--no-filters", "--stdin", feed=content)


def stored_files(tree: WorkTree, files: Sequence[Path]) -> list[str]:
    """The names of the files' contents in git's store, in one run of git.

    git reads such names from the top of its work tree, wherever it was called: they are absolute.
    """
    feed = b"".join(_quoted(os.fsencode(file.absolute())) + b"\n" for file in files)
    words = ("hash-object", "-w", "--no-filters", "--stdin-paths")
    return tree.one(*words, feed=feed).split("\n")


def _quoted(path: bytes) -> bytes:
    """A path as git reads it on a line of its own, whatever signs it has."""
    coded = path.replace(b"\\", b"\\\\").replace(b'"', b'\\"').replace(b"\n", b"\\n")
    return b'"%s"' % coded


def begins(content: bytes, name: str, size: int) -> bool:
    """Whether the blob of that name and size is the beginning of the content."""
    if size > len(content):
        return False
    sums = sums_by_git(size, len(name))
    sums.update(memoryview(content)[:size])
    return bool(sums.hexdigest() == name)


def sums_by_git(size: int, width: int) -> Any:
    """What takes the sum by which git names a content of that size, its names so many signs long;
    the content is to be fed to it."""
    sums = sha1(usedforsecurity=False) if width == 40 else sha256()
    sums.update(b"blob %d\0" % size)
    return sums


def signed(tree: WorkTree, desk: str) -> None:
    """Refusal where git would sign no commit of the desk: a name of no letters, a day of none."""
    words = signature(tree, desk)
    for of in ("GIT_AUTHOR_IDENT", "GIT_COMMITTER_IDENT"):
        tree.told(*words, "var", of)


def signature(tree: WorkTree, desk: str) -> tuple[str, ...]:
    """Words that sign for the desk where git knows no person; none where it does."""
    fallback = {
        "user.name": f"witnessmark desk {desk}",
        "user.email": f"desk-{desk}@workshop.invalid",
    }
    told = tree.settings("^user\\.(name|email)$")
    missing = [key for key in fallback if not told.get(key, "").strip()]
    return tuple(word for key in missing for word in ("-c", f"{key}={fallback[key]}"))


def _ran(
    folder: Path,
    words: Sequence[str],
    feed: bytes = b"",
    index: Path | None = None,
    held: tuple[int, ...] = (),
) -> subprocess.CompletedProcess[bytes]:
    around = {name: value for name, value in os.environ.items() if name not in _POINTERS}
    around |= {"LC_ALL": "C", "GIT_OPTIONAL_LOCKS": "0", "GIT_GRAFT_FILE": os.devnull}
    if index is not None:
        around["GIT_INDEX_FILE"] = str(index)
    line = ["git", "-C", str(folder), *_FIXED, *words]
    try:
        ran = subprocess.run(
            line, input=feed, env=around, capture_output=True, pass_fds=held, check=False
        )
    except FileNotFoundError:
        raise Refusal("record", "git is not installed", "install git") from None
    if _broke_down(ran):
        raise _said_no(ran)
    return ran


def _broke_down(ran: subprocess.CompletedProcess[bytes]) -> bool:
    """Whether git could not do its work, which must not be taken for the answer no: a desk without
    a letter of its own, a register that HEAD does not hold."""
    if ran.returncode in (0, 1):
        return False
    return ran.returncode != 128 or any(word in ran.stderr for word in _NO_ROOM)


def _said_no(ran: subprocess.CompletedProcess[bytes]) -> Refusal:
    lines = ran.stderr.decode(errors="replace").strip().split("\n")
    faults = [each for each in lines if each.startswith(("fatal:", "error:"))]
    said = "; ".join(faults[:3] or lines[:1]) or "nothing"  # not what it only warns of
    if ran.returncode < 0:
        wrong = f"git was stopped by signal {-ran.returncode}"
        return Refusal("record", wrong, "memory and room on the disk, then run again")
    own = (each.strip() for each in lines if each[:1].isspace() and each.split()[:1] == ["git"])
    right = next(own, "") or (STILL_THERE if _LOST.search(said) else "put right what git names")
    return Refusal("record", f"git says: {said}", f"{right}, then run again")
