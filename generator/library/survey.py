"""A workshop folder in; the verdict on each of its processes, in the order of their files, and what
is wrong between them, out.

What is kept is taken over; all else is read, checked and, where it is wanted, worked out, composed
and laid out, on all cores. No process and no document is held: only verdicts are.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from generator.files import no_folder, not_named, process_files, source_of
from generator.findings import Fault, Finding, Place, Refusal
from generator.library.cores import on_all_cores
from generator.library.deciders import Deciders, deciders, lists_sum, program_sum
from generator.library.kept import added, forget, keep, recall
from generator.library.standing import Wanted, stands
from generator.library.verdicts import Verdict, verdict_of
from generator.odd_files import odd_files

if TYPE_CHECKING:
    from generator.workshop import Shop

Counted = Callable[[Iterable[Verdict], int], Iterator[Verdict]]
"""Shows how far a long run is, and gives on what it gets."""

_AT_ONCE = 50  # files in a look at what is kept
_MANY = 400  # files from which two cores look at what is kept in less time than one


@dataclass(frozen=True)
class Library:
    """The verdicts on all processes of a workshop by file, and what is wrong with its lists and
    between the processes. standing: the files whose print stands, where that was asked; shop: its
    lists, where they had to be opened."""

    folder: Path
    sums: Deciders
    verdicts: Mapping[str, Verdict]
    lists: tuple[Finding, ...]
    between: tuple[Finding, ...]
    standing: frozenset[str] = frozenset()
    shop: Shop | None = None

    @property
    def findings(self) -> list[Finding]:
        """All that is wrong: the lists, each file, and what only the set shows."""
        own = [finding for each in self.verdicts.values() for finding in each.findings]
        return [*self.lists, *own, *self.between]

    def about(self, files: Collection[str]) -> list[Finding]:
        """What is wrong with the lists and with these files."""
        own = [finding for each in files for finding in self.verdicts[each].findings]
        return [*self.lists, *own, *(f for f in self.between if f.place.path in files)]


def surveyed(
    folder: Path, whole: bool, with_advice: bool = False, anew: bool = False,
    wanted: Wanted | None = None, counted: Counted = lambda verdicts, total: iter(verdicts),
) -> Library:  # fmt: skip
    """The library of a workshop. whole: every process is worked out and laid out too; anew:
    nothing that is kept is believed; wanted: it is asked of every print whether it stands."""
    if not (folder / "processes").is_dir():
        return Library(folder, Deciders("", ""), {}, (no_folder(folder),), ())
    files = process_files(folder)
    library = Library(folder, deciders(folder), {}, tuple(odd_files(folder)), ())
    verdicts: dict[str, Verdict | None] = dict.fromkeys(files)
    standing = set()
    for verdict, stood in _recalled(library, () if anew else files, wanted, with_advice):
        verdicts[verdict.shown] = verdict
        if stood:
            standing.add(verdict.shown)
    lacking = [file for file, v in verdicts.items() if v is None or (whole and not v.whole)]
    if lacking or not files:
        library = opened(library)
        for each in counted(_judged(library, lacking, whole, with_advice), len(lacking)):
            verdicts[each.shown] = each
    told = {file: each for file, each in verdicts.items() if each is not None}
    between = tuple(_between(folder, told))
    return replace(library, verdicts=told, between=between, standing=frozenset(standing))


def completed(library: Library, files: Sequence[str], with_advice: bool) -> Library:
    """The library with these files worked out, composed and laid out too."""
    lacking = [file for file in files if not library.verdicts[file].whole]
    if not lacking:
        return library
    library = opened(library)
    judged = {v.shown: v for v in _judged(library, lacking, True, with_advice)}
    return replace(library, verdicts={**library.verdicts, **judged})


def opened(library: Library) -> Library:
    """The library with its lists opened and judged; they must be those of the sums."""
    from generator.workshop import Shop, open_workshop

    if library.shop is not None:
        return library
    workshop, findings = open_workshop(library.folder)
    if lists_sum(library.folder) != library.sums.lists:
        raise Refusal("file", "a list of the workshop changed while it was read", "the same again")
    return replace(
        library, shop=Shop(library.folder, workshop, {}, {}), lists=(*library.lists, *findings)
    )


def _recalled(
    library: Library, files: Sequence[str], wanted: Wanted | None, with_advice: bool
) -> Iterator[tuple[Verdict, bool]]:
    """The verdicts that are kept and still hold, each with whether its print stands."""
    parts = [files[i : i + _AT_ONCE] for i in range(0, len(files), _AT_ONCE)]
    look = partial(_kept_of, library.folder, library.sums, wanted, with_advice)
    for found in on_all_cores(look, parts, least=_MANY // _AT_ONCE):
        yield from found


def _kept_of(
    folder: Path, sums: Deciders, wanted: Wanted | None, with_advice: bool, files: Sequence[str]
) -> list[tuple[Verdict, bool]]:
    found = []
    for shown in files:
        source = source_of(folder, shown)
        kept = recall(folder, shown, sums.key(shown, source), with_advice) if source else None
        if kept is not None:
            found.append((kept.verdict, wanted is not None and stands(folder, kept, wanted)))
    return found


def _judged(
    library: Library, files: Sequence[str], whole: bool, with_advice: bool
) -> Iterator[Verdict]:
    """The verdicts on these files, made anew and kept."""
    assert library.shop is not None
    judge = partial(_verdict, library.shop, library.sums, whole, with_advice)
    yield from on_all_cores(judge, files)
    if program_sum() != library.sums.program:  # it was changed meanwhile: who knows what ran
        forget(library.folder, files)


def _verdict(shop: Shop, sums: Deciders, whole: bool, with_advice: bool, shown: str) -> Verdict:
    source = source_of(shop.folder, shown)
    verdict = verdict_of(shop, shown, source, whole)
    if source is not None and verdict.sound and shop.workshop is not None:
        key = sums.key(shown, source)
        before = recall(shop.folder, shown, key, True)
        kept = added(before, key, verdict)
        if kept != before:
            # A draft that is refused leaves nothing in a workshop that never had one.
            keep(shop.folder, shown, kept, begin=whole)
    return verdict if with_advice else replace(verdict, advice=())


def _between(folder: Path, verdicts: Mapping[str, Verdict]) -> Iterator[Finding]:
    """What only the set shows; a file is read again where its place is wanted."""
    from generator.check.between import Needs, set_faults

    named = {file: Needs(v.number, v.needs) for file, v in verdicts.items() if v.built}
    unsound = [v.number for v in verdicts.values() if v.read and not v.built]
    all_read = all(v.read for v in verdicts.values())
    for shown, fault in set_faults(named, unsound, all_read):
        yield _placed(folder, shown, fault)


def _placed(folder: Path, shown: str, fault: Fault) -> Finding:
    from generator.read import read_file
    from generator.workshop import found

    document, _ = read_file(folder / shown, shown)
    if document is None:
        return Finding(Place(shown), fault.code, fault.wrong, fault.right, fault.advice)
    return found(document, fault)


def named(library: Library, words: Sequence[str]) -> list[str]:
    """The files that the words name, sound or not: a process number, or the path of a file."""
    numbers: dict[str, list[str]] = {}
    for file, verdict in library.verdicts.items():
        if verdict.number:
            numbers.setdefault(verdict.number, []).append(file)
    return list(dict.fromkeys(file for word in words for file in _named(library, numbers, word)))


def _named(library: Library, numbers: Mapping[str, list[str]], word: str) -> list[str]:
    if word in library.verdicts:
        return [word]
    if word in numbers:
        return numbers[word]
    if (path := _by_path(library, word)) is not None:
        return [path]
    # The number may stand in a file that could not be read: its findings are the answer then.
    unread = [file for file, each in library.verdicts.items() if not each.read]
    if unread and not word.endswith(".yaml"):
        return unread
    raise not_named(library.folder, word, [each for each in numbers if each != str(None)])


def _by_path(library: Library, word: str) -> str | None:
    try:
        shown = Path(word).resolve().relative_to(library.folder.resolve()).as_posix()
    except ValueError:
        return None
    return shown if shown in library.verdicts else None


def with_prerequisites(library: Library, files: Sequence[str]) -> list[str]:
    """The files with those of all their prerequisites, and theirs, as far as they are known."""
    numbers = {each.number: file for file, each in library.verdicts.items() if each.number}
    found = dict.fromkeys(files)
    ahead = list(files)
    while ahead:
        for needed in library.verdicts[ahead.pop()].needs:
            file = numbers.get(needed)
            if file is not None and file not in found:
                found[file] = None
                ahead.append(file)
    return list(found)
