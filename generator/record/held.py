"""The lists of a record, in; those that do not stand as HEAD holds them, out.

An act is judged by what other desks wrote as well as by its own: a line that somebody took out of a
list of theirs would give a scrapped part a new traveller.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from pathlib import Path

from generator.findings import Finding, Place, Refusal
from generator.record.act import SUMS, Act
from generator.record.begun import ON_TRAVELLER, begun_in, begun_on
from generator.record.desk import COMPLETED, ISSUED, PROCESSES, Desk
from generator.record.each_file import not_held, sums_of
from generator.record.expected import PLACES, is_list, lists_in
from generator.record.git import NoCommit, WorkTree, begins, in_head, opened
from generator.record.line_ends import finding, plain
from generator.record.put_back import not_there, put_back
from generator.record.sound import by_traveller, sound_processes
from generator.record.trees import submodule
from generator.record.verify import below

_BUFFER = 1 << 16
_REPOSITORY = "160000"  # the mode by which git marks one in a listing
_FOLDERS = (ISSUED, COMPLETED, PROCESSES)


def lists_held(at: Desk) -> None:
    """To be asked before an act, with the desk's own register known to be right. Refusal with the
    first list of any desk that is not what HEAD holds, or the first act on a process that is not
    what the registers say. What another desk of this clone has begun may stand there in part."""
    begun = begun_in(at.tree)
    lists = {*lists_in(at.tree.folder)} - {at.register_path}
    for each in off_head(at.tree, lists, held_lists(at.tree, but=at.register_path)):
        if each.place.path not in begun.lists:
            raise Refusal("record", f"{each.place.path}: {each.wrong}", each.right)
    sound_processes(at.tree.folder, begun.files)


def lists_as_held(folder: Path) -> None:
    """To be asked where something is told by the lists alone, of travellers that may not be there.
    Refusal with the first list of any desk that is not what HEAD holds. A record that
    is in no git, or not yet, is held against nothing."""
    try:
        tree = opened(folder)
    except NoCommit:
        return
    begun = begun_in(tree)
    for each in off_head(tree, [*lists_in(folder)], held_lists(tree)):
        if each.place.path not in begun.lists:
            raise Refusal("record", f"{each.place.path}: {each.wrong}", each.right)


def none_lost(folder: Path) -> None:
    """To be asked where something is told of all travellers by the folders that are there. Refusal
    as for lists_as_held, or with the first traveller that a register names and whose sums, or whose
    whole folder, somebody took away: it would be left out without a word."""
    lists_as_held(folder)
    paths = {serial: f"{ISSUED}/{serial}/{SUMS}" for serial in by_traveller(folder)}
    lost = {each: path for each, path in paths.items() if not (folder / path).is_file()}
    begun = begun_on(folder) if lost else {}
    for path in (path for serial, path in lost.items() if serial not in begun):
        raise not_there(folder, path)


def held_files(tree: WorkTree) -> dict[str, str]:
    """What HEAD holds of the folders of the record: path -> name of its content."""
    return in_head(tree, _FOLDERS)


def own_folders(tree: WorkTree) -> None:
    """Refusal where HEAD holds another repository in the place of a folder of the record."""
    for path, kind in in_head(tree, ("output", *_FOLDERS), "-d").items():
        if kind.startswith(_REPOSITORY):
            raise submodule(path)


def travellers_held(at: Desk, act: Act) -> None:
    """Refusal with the first file of a traveller, on which the act is, that HEAD does not hold as
    it stands there: what an act stands on must be in every clone that has the act. What another
    desk of this clone has begun is left out."""
    named = filter(None, map(ON_TRAVELLER.match, act.files))
    places = sorted({f"{each}/{on[1]}" for on in named for each in (ISSUED, COMPLETED)})
    places = [each for each in places if (at.tree.folder / each).is_dir()]
    held = in_head(at.tree, places) if places else {}
    apart = {*begun_in(at.tree).files, *act.files}  # those of the act must not be there at all
    buffer = bytearray(_BUFFER)
    for place in places:
        if held.get(place, "").startswith(_REPOSITORY):
            raise submodule(place)
        for path in below(f"{at.tree.folder}/{place}", place):
            blob = held.get(path, "")
            by_git = sums_of(f"{at.tree.folder}/{path}", buffer, len(blob))[1]
            if path not in apart and (not blob or by_git != blob):
                no = not_held(path, blob)
                raise Refusal("record", f"{path}: {no.wrong}", no.right)


def off_head(tree: WorkTree, lists: Collection[str], held: Mapping[str, str]) -> Iterator[Finding]:
    """Those of the lists that are not what HEAD holds, and those that only HEAD holds."""
    for path in sorted({*lists, *held}):
        today = _content(tree.folder / path)
        if today is None:
            wrong = "HEAD holds this list, and it is not there"
            yield Finding(Place(path), "missing", wrong, put_back(tree.folder, path))
        elif path not in held:
            right = f"git log --all -- {path}, or move it out of output/"
            yield Finding(Place(path), "unexpected", "git holds no such list", right)
        elif begins(today, held[path], len(today)):
            continue
        elif begins(plain(today), held[path], len(plain(today))):
            yield finding(path)
        else:
            wrong = "it is not what git holds: lines were changed, lost or added by hand"
            yield Finding(Place(path), "changed", wrong, f"git checkout HEAD -- {path}")


def _content(file: Path) -> bytes | None:
    return file.read_bytes() if file.is_file() and not file.is_symlink() else None


def held_lists(tree: WorkTree, but: str = "") -> Mapping[str, str]:
    """The lists that HEAD holds, with the names of their blobs; all but one."""
    found = in_head(tree, PLACES)
    return {path: name for path, name in found.items() if is_list(path) and path != but}
