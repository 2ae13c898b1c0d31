"""A workshop folder, in; everything in its record that is missing, changed, unexpected or at odds
with itself, each by its name, out. Read only: nothing is repaired, no link is followed."""

from __future__ import annotations

import os
import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from generator.beside import is_room
from generator.findings import Finding, Place, Refusal
from generator.record import line_ends
from generator.record.apart import at_odds
from generator.record.begun import NOTHING, Begun
from generator.record.desk import COMPLETED
from generator.record.each_file import wrong_files
from generator.record.expected import ISSUED_LIST, Expected, expected
from generator.record.git import WorkTree
from generator.record.history import ENDS, acts_in
from generator.record.put_back import is_sparse, lost_with, way_back, way_back_of_deleted
from generator.record.shapes import ACT

_KEPT = ("issued", "completed", "processes")
_BESIDE = ("draft", "handbook", "sample", "media", "index.csv")
_LOST = "a register names this traveller, and its folder is not there"
_HALF = ".index.csv.new"
_SERIAL = re.compile(r"([A-Z])-([0-9]{4,})")
# Lists with a line for each act of a kind: the keys of the act with which its line begins.
_NUMBERED = {
    "slips": ("slip", ("slip", "traveller")),
    "concessions": ("concession", ("concession", "slip", "traveller")),
    "processes": ("approve", ("entry", "process", "revision")),
}
_FOLDER = re.compile(r"output/issued/([^/]+)/sums\.txt")


def verified(
    folder: Path, begun: Begun = NOTHING, held: Mapping[str, str] | None = None
) -> tuple[list[Finding], Expected]:
    """All findings on the files of the record, and what its lists say. What of begun acts stands
    there is left out; each of them is a finding by itself. held: what HEAD holds of the folders of
    the record; None where git is not asked."""
    told = expected(folder, begun.lists)
    there = set(_there(folder, told))
    ours = begun.files | begun.lists.keys()
    findings = [*begun.findings(), *told.found]
    missing = sorted(told.sums.keys() - there)
    findings += _missing(folder, missing, held)
    read = sorted(told.sums.keys() & there)
    now = None if held is None else {**held, **begun.blobs}
    wrong = wrong_files(folder, told.sums, read, now)
    findings += _or_line_ends(folder, told, wrong)
    changed = [*missing, *(each.place.path for each in wrong if each.code == "changed")]
    lost = [path for path in changed if path.endswith("/sums.txt")]
    listed = told.sums.keys() | set(told.lists)
    findings += _only_in_head(sorted((held or {}).keys() - there - listed), lost)
    findings += _unexpected(folder, sorted(there - ours - listed), lost, held)
    findings += _disagreeing(folder, told)
    return findings, told


def _there(folder: Path, told: Expected) -> Iterator[str]:
    """Every file, link and other thing below the folders of the record, and what is strange beside
    them; folders are known by what is in them, an empty one by itself."""
    output = folder / "output"
    with os.scandir(output) as entries:
        for entry in entries:
            if entry.name == _HALF or is_room(Path(entry.path)):
                continue  # a killed run left it; the next of its kind takes it away
            if entry.name in _KEPT and entry.is_dir(follow_symlinks=False):
                yield from below(entry.path, f"output/{entry.name}")
            elif entry.name not in _BESIDE:
                yield f"output/{entry.name}"


def below(place: str, shown: str) -> Iterator[str]:
    """Everything below a folder, links not followed: an empty folder by itself, with a slash."""
    with os.scandir(place) as entries:
        for entry in entries:
            name = f"{shown}/{entry.name}"
            if entry.is_dir(follow_symlinks=False):
                inside = list(below(entry.path, name))
                yield from inside or [f"{name}/"]
            else:
                yield name if entry.is_file(follow_symlinks=False) else f"{name} (no plain file)"


def _or_line_ends(folder: Path, told: Expected, wrong: Sequence[Finding]) -> Iterator[Finding]:
    """The same findings; of a file of which no more than line ends were changed, that alone."""
    changed = {each.place.path for each in wrong if each.code == "changed"}
    alone = {path for path in changed if line_ends.differ_alone(folder / path, told.sums[path])}
    yield from map(line_ends.finding, sorted(alone))
    yield from (each for each in wrong if each.place.path not in alone)


def _unexpected(
    folder: Path, paths: Sequence[str], lost: Sequence[str], held: Mapping[str, str] | None
) -> Iterator[Finding]:
    """Files that stand in no list. lost: the sums of folders that are missing or changed, and may
    have named the files beside them: those are no fault of their own."""
    left = list(paths)
    for sums in lost:
        inside = sums.removesuffix("sums.txt")
        named = [path for path in left if path.startswith(inside)]
        left = [path for path in left if not path.startswith(inside)]
        if named and lost_with(folder, sums) == sums:  # else no more than the empty folder is left
            wrong = f"{len(named)} files beside it stand in no list, as it is not what was recorded"
            gone = held is not None and sums not in held
            right = way_back_of_deleted(sums) if gone else way_back(sums, sparse=False)
            yield Finding(Place(sums), "unexpected", wrong, f"{right}, then verify again")
    for path in left:
        right = f"move {path} out of output/"
        yield Finding(Place(path), "unexpected", "it stands in no list", right)


def passing_in_git(tree: WorkTree) -> Iterator[Finding]:
    """What git holds of rooms and half-written files, which pass: of ours nothing is committed."""
    output = tree.folder / "output"
    names = (each for each in output.iterdir() if each.name == _HALF or is_room(each))
    rooms = sorted(f"output/{each.name}" for each in names)
    if not rooms:
        return
    told = tree.told("ls-files", "-z", "--", *rooms)
    told += tree.told("ls-tree", "-r", "-z", "--name-only", "HEAD", "--", *rooms)
    for path in sorted({*os.fsdecode(told).split("\0")} - {""}):
        right = f"git rm --cached -- {path}, then git commit; and look who put it there"
        yield Finding(Place(path), "unexpected", "git holds it, and nothing of ours", right)


def _missing(
    folder: Path, paths: Sequence[str], held: Mapping[str, str] | None
) -> Iterator[Finding]:
    wrong = "a list names it, and it is not there"
    sparse = bool(paths) and is_sparse(folder)
    for path in paths:
        what = lost_with(folder, path)
        gone = held is not None and path not in held
        right = way_back_of_deleted(what) if gone else way_back(what, sparse)
        yield Finding(Place(what), "missing", wrong if what == path else _LOST, right)


def _only_in_head(paths: Sequence[str], lost: Sequence[str]) -> Iterator[Finding]:
    """What HEAD alone holds. lost: as for _unexpected; what they named comes back with them."""
    wrong = "HEAD holds it, it stands in no list, and it is not there"
    inside = tuple(sums.removesuffix("sums.txt") for sums in lost)
    for path in (each for each in paths if not each.startswith(inside)):
        yield Finding(Place(path), "unexpected", wrong, f"git log -- {path}, git rm {path}")


# --- what the files say of each other -------------------------------------------------------


def _disagreeing(folder: Path, told: Expected) -> Iterator[Finding]:
    """Gaps and twins in numbers, folders and lists that disagree, acts on what was not issued."""
    folders = (_FOLDER.fullmatch(path) for path in told.sums)
    serials = {named[1] for named in folders if named}
    yield from _gaps(sorted(serials))
    yield from _listed(folder, told, serials)
    desks: dict[str, set[str]] = {}
    for path in sorted(told.sums):
        named = ACT.fullmatch(path)
        if named and named[1] == "completed":
            if named[2] not in serials:
                wrong = f"{named[2]} was never issued"
                yield Finding(Place(path), "serial", wrong, f"git log -- {path}")
            desks.setdefault(named[2], set()).add(path.rpartition("/")[2][0])
    for serial in (serial for serial, letters in desks.items() if len(letters) > 1):
        yield from _written_apart(folder, serial)


def _written_apart(folder: Path, serial: str) -> Iterator[Finding]:
    """Acts of two desks on one traveller that cannot both hold."""
    try:
        found = list(at_odds(list(acts_in(folder, f"{COMPLETED}/{serial}"))))
    except Refusal as no:
        yield Finding(Place(f"{COMPLETED}/{serial}"), no.code, no.wrong, no.right)
        return
    for one, other, says in found:
        right = f"look at both; an act on {serial} that settles it, or witnessmark withdraw"
        yield Finding(Place(other.path), "apart", f"{says} ({one.path})", right)


def _gaps(serials: Sequence[str]) -> Iterator[Finding]:
    desks: dict[str, list[int]] = {}
    for serial in serials:
        if named := _SERIAL.fullmatch(serial):
            desks.setdefault(named[1], []).append(int(named[2]))
        else:
            yield Finding(Place(f"output/issued/{serial}"), "serial", "no serial", "such as A-0001")
    for desk, numbers in desks.items():
        for number in sorted(set(range(1, max(numbers) + 1)) - set(numbers)):
            wrong = f"{desk}-{number:04d} is missing, and {desk}-{max(numbers):04d} was issued"
            right = f"git log -- output/register-{desk}.txt"
            yield Finding(Place(f"output/register-{desk}.txt"), "gap", wrong, right)


def _listed(folder: Path, told: Expected, serials: set[str]) -> Iterator[Finding]:
    """The lists with a number in each line, and those of the travellers of each process."""
    issued: dict[str, str] = {}
    for path in told.lists:
        name = path.rpartition("/")[2]
        rows = told.text(folder, path).splitlines()
        for number, row in enumerate(rows, start=1):
            first = row.partition(" ")[0]
            if name.startswith("issued-"):
                if first in issued or first not in serials:
                    wrong = f"line {number}: {first} is listed twice or was never issued"
                    yield Finding(Place(path), "serial", wrong, f"git log -p -- {path}")
                issued[first] = path
            elif not name.startswith("register-"):
                wanted = f"-{name[-5]}-{number:04d}"
                if not first.endswith(wanted):
                    wrong = f"line {number} has the number {first}, not one that ends in {wanted}"
                    yield Finding(Place(path), "gap", wrong, f"git log -p -- {path}")
    yield from _numbered(folder, told)
    yield from _made_twice(folder, told)
    for serial in sorted(serials - issued.keys()):
        wrong = f"{serial} is in no list of the travellers of its process"
        right = f"git log --stat -- output/issued/{serial}"
        yield Finding(Place(f"output/issued/{serial}"), "serial", wrong, right)


def _made_twice(folder: Path, told: Expected) -> Iterator[Finding]:
    """Parts with two open travellers of one process: `issue` refuses the second, and two desks that
    do not know of each other issue one each, so that two parts get one serial."""
    ended = {n[2] for path in told.sums if (n := ACT.fullmatch(path)) and n[3] in ENDS}
    found: dict[tuple[str, str], str] = {}
    for path in (each for each in told.lists if ISSUED_LIST.fullmatch(each.rpartition("/")[2])):
        process = path.split("/")[2]
        for row in told.text(folder, path).splitlines():
            serial, _, *parts = [*row.split(" "), ""]
            for part in () if serial in ended else filter(None, parts):
                other = found.setdefault((process, part), serial)
                if other != serial:
                    wrong = f"{serial} and {other} are both open for part {part} of {process}"
                    right = "look which part is which; witnessmark withdraw the other"
                    yield Finding(Place(f"output/issued/{serial}"), "twice", wrong, right)


def _numbered(folder: Path, told: Expected) -> Iterator[Finding]:
    """Acts with a number that has no line in its list, or another one; lines without their act. One
    of two with a number is the one that its list does not name, or both are of one line."""
    for name, (kind, line) in _NUMBERED.items():
        lines: dict[str, tuple[str, str]] = {}
        for path in (each for each in told.lists if each.startswith(f"output/{name}-")):
            for row in told.text(folder, path).splitlines():
                lines.setdefault(row.partition(" ")[0], (row, path))
        acts = sorted(each for each in told.sums if each.endswith(f"-{kind}.yaml"))
        gone = {each for each in acts if not os.path.lexists(folder / each)}
        for path in (each for each in acts if each not in gone):
            words = [_value(folder, path, key) for key in line]
            row, listed = lines.pop(
                words[0], ("", f"output/{name}-{path.rpartition('/')[2][0]}.txt")
            )
            if not f"{row} ".startswith(f"{' '.join(words)} "):
                wrong = f"{words[0] or 'it'} on {words[1]} has no line of its own in {listed}"
                yield Finding(Place(path), "number", wrong, f"git log -p -- {listed}")
        lost = Counter(each.split("/")[2] for each in gone)
        for number, path in _without_act(lines, line, lost):
            wrong = f"{number} has a line and no act"
            yield Finding(Place(path), "number", wrong, f"git log -p -- {path}")


def _without_act(
    lines: Mapping[str, tuple[str, str]], keys: Sequence[str], lost: Mapping[str, int]
) -> Iterator[tuple[str, str]]:
    """The number and the list of each line that no act has. lost: how many acts of a traveller or
    process are told as missing; as many lines of it are theirs, and of more nobody knows which."""
    at = next(place for place, key in enumerate(keys) if key in ("traveller", "process"))
    of = {number: [*row.split(" "), *keys][at] for number, (row, _) in lines.items()}
    many = Counter(of.values())
    for number, (_, path) in lines.items():
        if many[of[number]] > lost.get(of[number], 0):
            yield number, path


def _value(folder: Path, path: str, key: str) -> str:
    """What an act says under a key at its margin, one word; "" for nothing."""
    file = folder / path
    content = file.read_bytes() if file.is_file() and not file.is_symlink() else b""
    text = line_ends.plain(content).decode("utf-8", "replace")
    found = re.search(rf"^{key}: '?([A-Z0-9-]+)'?$", text, re.M)
    return found[1] if found else ""
