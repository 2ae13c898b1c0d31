"""The words of every command: what it is for, an example, what stands behind it. Data alone, so
that `--help` imports no more than argparse.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any


@dataclass(frozen=True)
class Word:
    """One argument: its names, and what argparse is told of it."""

    names: tuple[str, ...]
    told: Mapping[str, Any]


@dataclass(frozen=True)
class Command:
    """A command. Its function has its name and stands in generator/commands/, in a file of that
    name unless another is given."""

    name: str
    says: str
    example: str
    words: tuple[Word, ...] = ()
    file: str = ""


def _word(*names: str, **told: Any) -> Word:
    return Word(names, told)


def _day(says: str, required: bool = True) -> Word:
    return _word("--on", required=required, metavar="DAY", help=f"{says}, as 2026-11-25")


_PROCESS = _word("process", help="a process number or file")
_STAMP = _word("--stamp", required=True, help="the stamp of who does it")
_SERIAL = _word("serial", help="the traveller, such as A-0001")
_WHY = _word("--why", required=True, help="the reason, in a sentence")
_ANEW = _word("--anew", action="store_true", help="believe nothing that is kept of earlier runs")
_GIVEN = _word("--given", type=Path, metavar="FILE", help="the values of one part")

COMMANDS = (
    Command(
        "check",
        "read and check the library; work out and lay out what is named",
        "witnessmark check T6-P-0410",
        (
            _word(
                "process",
                nargs="*",
                help="process numbers or files; none: the whole library is read and checked",
            ),
            _word("--format", choices=("text", "json"), default="text", help="json for editors"),
            _word("--advice", action="store_true", help="print the advice on wording too"),
            _word(
                "--whole",
                action="store_true",
                help="work out and lay out all, as is done for a process that is named",
            ),
            _ANEW,
        ),
    ),
    Command(
        "draft",
        "print travellers marked DRAFT - NOT FOR WORK, without a serial",
        "witnessmark draft T6-P-0210 --given processes/machining/values-T6-P-0210-0001.yaml",
        (
            _word("process", nargs="*", help="process numbers or files"),
            _word("--all", action="store_true", help="every process"),
            _GIVEN,
            _day("the day of printing", required=False),
            _word(
                "--only", metavar="SHEET", help="one sheet of the pack, such as calculation-sheet"
            ),
            _ANEW,
        ),
    ),
    Command(
        "approve",
        "record that the checker has checked a process as it stands",
        "witnessmark approve T6-P-0410 --stamp LQ14 --on 2026-11-25",
        (_PROCESS, _STAMP, _day("the day of approval")),
    ),
    Command(
        "issue",
        "print the next numbered traveller, register it and commit it to git",
        "witnessmark issue T6-P-0410 --for 0003 --on 2026-11-25 --stamp LQ1",
        (
            _PROCESS,
            _word(
                "--for",
                dest="serials",
                nargs="+",
                required=True,
                metavar="SERIAL",
                help="part serials",
            ),
            _GIVEN,
            _day("the day of issue"),
            _STAMP,
        ),
    ),
    Command(
        "enter",
        "record what was written on the sheets of a traveller, and say what is wrong or open",
        "witnessmark enter A-0001 result.yaml --on 2026-11-26 --stamp AR1",
        (
            _SERIAL,
            _word("file", nargs="?", type=Path, help="what was written, as a form filled in"),
            _word("--blank", type=Path, metavar="FILE", help="write a form with blanks here"),
            _day("the day of entering", required=False),
            _word("--stamp", help="the stamp of who types it"),
            _word(
                "--supplement",
                metavar="R1",
                default="",
                help="of this sheet beside the traveller: R1 of a rework, B of a revision",
            ),
            _word("--corrects", metavar="WHY", help="entries that stand already are corrected"),
        ),
    ),
    Command(
        "slip",
        "number what is not as it should be",
        'witnessmark slip A-0001 --operation 30 --what "Hole off." --on 2026-11-26 --stamp LQ14',
        (
            _SERIAL,
            _word("--operation", required=True, metavar="N", help="where it was found"),
            _word("--what", required=True, help="what is wrong, in a sentence"),
            _word("--part", metavar="SERIAL", help="which part of a set; none means all of it"),
            _day("the day"),
            _STAMP,
        ),
        "slips",
    ),
    Command(
        "dispose",
        "decide on a slip: use it as it is, rework (its sheet is printed), scrap, or return it",
        'witnessmark dispose NC-A-0001 --decision rework --operations 20 --why "Bend it again." '
        "--on 2026-11-26 --stamp LQ1",
        (
            _word("slip", help="the slip, such as NC-A-0001"),
            _word(
                "--decision",
                required=True,
                choices=("use", "rework", "scrap", "return"),
                help="what becomes of the part",
            ),
            _word(
                "--operations",
                nargs="+",
                default=[],
                metavar="N",
                help="what is done again; none means the operation of the slip",
            ),
            _word("--done", metavar="N", help="the last operation begun; none means that one too"),
            _WHY,
            _day("the day"),
            _STAMP,
        ),
        "slips",
    ),
    Command(
        "concede",
        "number the inspector's leave to go on with what a slip says",
        'witnessmark concede NC-A-0001 --what "0.962 mm allowed." --on 2026-11-26 --stamp INS2',
        (
            _word("slip", help="the slip, such as NC-A-0001"),
            _word("--what", required=True, help="what is allowed, in a sentence"),
            _word(
                "--covers",
                action="append",
                metavar="BOX=VALUE",
                help="a value that is allowed, where it is not entered yet or is of a feature",
            ),
            _day("the day"),
            _STAMP,
        ),
        "slips",
    ),
    Command(
        "compare",
        "what changed between an issued revision and the process today, and its change sheet",
        "witnessmark compare T6-P-0410",
        (
            _PROCESS,
            _word(
                "--since",
                metavar="SERIAL",
                help="the traveller to compare with; else the last that is open",
            ),
        ),
    ),
    Command(
        "decide",
        "what becomes of an open traveller at a new revision: it is finished, or goes over",
        'witnessmark decide A-0001 --decision finish --why "Nothing in it changed." '
        "--on 2026-11-27 --stamp LQ1",
        (
            _SERIAL,
            _word(
                "--decision",
                required=True,
                choices=("finish", "adopt"),
                help="to withdraw it: witnessmark withdraw",
            ),
            _word("--done", metavar="N", help="the last operation that was begun; 0 for none"),
            _WHY,
            _day("the day"),
            _STAMP,
        ),
    ),
    Command(
        "attach",
        "keep scans, certificates, furnace charts, photographs in output/media/, their sums in git",
        'witnessmark attach A-0001 A-0001.pdf --as scan --sheets "1 to 22" --side both '
        "--on 2026-11-28 --stamp AR1",
        (
            _SERIAL,
            _word("files", nargs="+", type=Path, metavar="FILE", help="the files"),
            _word(
                "--as",
                dest="kind",
                required=True,
                help="what they are",
                choices=("scan", "certificate", "furnace chart", "photograph", "other"),
            ),
            _word("--sheets", metavar="N", help='of a scan: 3, or "1 to 22"'),
            _word("--side", choices=("front", "back", "both"), help="of a scan"),
            _word("--what", help="what they show, in a sentence"),
            _day("the day"),
            _STAMP,
        ),
    ),
    Command(
        "close",
        "end a traveller; refused with the list while anything is open, blank or unsigned",
        "witnessmark close A-0001 --on 2026-11-28 --stamp AR1",
        (_SERIAL, _day("the day"), _STAMP),
    ),
    Command(
        "fit",
        "record where a part of a closed traveller sits, or that it was taken off",
        'witnessmark fit A-0001 --position "radio bay" --on 2026-12-01 --stamp LQ14',
        (
            _SERIAL,
            _word("--part", metavar="SERIAL", help="which part, where there are several"),
            _word("--position", help="the place; none means that of the process"),
            _word("--airframe", help="the airframe; none means that of the process"),
            _word("--removed", action="store_true", help="it was taken off"),
            _word("--what", help="why it was taken off, in a sentence"),
            _day("the day"),
            _STAMP,
        ),
    ),
    Command(
        "replace",
        "a lost traveller: the same sheets again under a new serial, both cross-referenced",
        'witnessmark replace A-0001 --why "Lost in the yard." --on 2026-11-27 --stamp LQ1',
        (_SERIAL, _WHY, _day("the day"), _STAMP),
        "ending",
    ),
    Command(
        "withdraw",
        "take a traveller off the floor, or a revision of a process out of use",
        'witnessmark withdraw A-0001 --why "Wrong sheet." --on 2026-11-27 --stamp LQ1',
        (
            _word("what", help="a traveller, such as A-0001, or a process number"),
            _word("--revision", metavar="LETTER", help="of the process; none means the latest"),
            _WHY,
            _day("the day"),
            _STAMP,
        ),
        "ending",
    ),
    Command(
        "reprint",
        "make the sheets of a traveller again: a marked copy, or with --restore a lost file",
        'witnessmark reprint A-0001 --why "Soaked in oil." --on 2026-11-27 --stamp LQ1',
        (
            _SERIAL,
            _word("--restore", action="store_true", help="put missing files back, byte for byte"),
            _word("--why", help="the reason for a copy, in a sentence"),
            _day("the day", required=False),
            _word("--stamp", help="the stamp of who does it"),
        ),
    ),
    Command(
        "list",
        "the open travellers and whom each waits for; --print makes the inspector's visit sheet",
        "witnessmark list --print --on 2026-11-26",
        (
            _word("--print", action="store_true", help="the visit sheet as PDF too"),
            _day("the day of printing", required=False),
        ),
    ),
    Command(
        "trace",
        "what hangs on a batch, charge, instrument, stamp, part, process, drawing or old name",
        "witnessmark trace MIC-04 --since 2026-01-01",
        (
            _word("word", help="what is looked for, as it was written"),
            _word("--kind", help="only where it is this, such as batch or instrument"),
            _word("--since", metavar="DAY", help="only from that day on"),
            _word("--until", metavar="DAY", help="only up to that day"),
            _word("--all", action="store_true", help="every place, however many"),
        ),
        "finding",
    ),
    Command(
        "affected",
        "which issued travellers and approvals carry a number that would differ today",
        "witnessmark affected T6-P-0310",
        (_word("process", nargs="*", help="process numbers; none means all"),),
    ),
    Command(
        "index",
        "make output/index.csv anew: a row for every fact of the record",
        "witnessmark index",
        (),
        "finding",
    ),
    Command(
        "dossier",
        "everything of an assembly as a bag (RFC 8493) that needs no special program",
        "witnessmark dossier T6-P-0310 --into handed-over --on 2026-12-01",
        (
            _word("what", nargs="+", help="travellers, processes, parts or an airframe"),
            _word("--into", required=True, type=Path, metavar="FOLDER", help="a new folder"),
            _day("the day"),
        ),
    ),
    Command(
        "verify",
        "is the record what was written? missing, changed, unexpected and rewritten files by name",
        "witnessmark verify --scans-by 2026-12-31",
        (
            _word(
                "--whole-history",
                action="store_true",
                help="hold lists against every commit, not against the latest and some between",
            ),
            _word("--scans-by", metavar="DAY", help="tell what was closed before and not scanned"),
        ),
    ),
    Command(
        "calculate",
        "one calculation at the desk, with its working",
        'witnessmark calculate bend_allowance thickness="0.914 mm" radius="3.2 mm" bend_angle=90°',
        (
            _word("name", nargs="?", help="the calculation; none lists them all"),
            _word("values", nargs="*", metavar="key=value", help="its inputs"),
            _word("--json", action="store_true", help="the results for another program"),
        ),
    ),
    Command(
        "handbook",
        "every calculation and table, with its examples run now, into output/handbook/",
        "witnessmark handbook",
    ),
)
