"""Words of the command line in; an exit code out: 0 done, 1 findings, 2 misuse.

Only argparse is imported here: a command brings in what it needs when it runs.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from generator import __version__

ABOUT = """\
witnessmark turns written workshop processes into numbered travellers for the bench.

A workshop is a folder with processes/ in it. Commands look in the current folder, or in
--workshop FOLDER. Nothing is sent anywhere; nothing is written when there is a finding.
"""

EXAMPLES = """\
examples:
  witnessmark check                             every process, all findings
  witnessmark check T6-P-0410                   one process
  witnessmark check --advice                    the advice on wording too
  witnessmark draft T6-P-0410                   print a draft into output/draft/
  witnessmark draft --all --on 2026-11-25       every draft, dated
  witnessmark draft T6-P-0210 --given FILE      with the values of one part
  witnessmark draft T6-P-0410 --only traveller  one sheet of the pack, its pages counted over all
  witnessmark issue T6-P-0410 --for 0003 --on 2026-11-25
                                                the next numbered traveller
  witnessmark enter A-0001 --blank result.yaml  a form with every box of a traveller
  witnessmark enter A-0001 result.yaml --on 2026-11-26 --stamp AR1
                                                what was written on paper, into the record
  witnessmark calculate                         what can be calculated
  witnessmark calculate jack_force pressure="70 bar g" bore="50 mm" rod="25 mm" efficiency="95 %"
  witnessmark handbook                          every calculation, table and worked example

exit codes: 0 done, 1 findings (nothing written), 2 the command cannot be understood
"""


def main(words: list[str] | None = None) -> int:
    """Run one command; no traceback ever reaches the user for what the user did."""
    asked = _parser().parse_args(_flags_first(sys.argv[1:] if words is None else words))
    if asked.command is None:
        _parser().print_help()
        return 2
    try:
        return _run(asked)
    except KeyboardInterrupt:
        print("stopped; nothing half-written is left", file=sys.stderr)
        return 2
    except BrokenPipeError:
        return _quiet_pipe()


def _flags_first(words: list[str]) -> list[str]:
    """--json may stand anywhere behind calculate: key=value words would hide it from argparse."""
    if "calculate" not in words:
        return words
    at = words.index("calculate") + 1
    flags = [word for word in words[at:] if word == "--json"]
    return [*words[:at], *flags[:1], *(word for word in words[at:] if word != "--json")]


def _quiet_pipe() -> int:
    """The reader of our output went away, such as head: not our fault and not worth a word."""
    import os

    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return 0


def _run(asked: argparse.Namespace) -> int:
    from generator.commands.told import tell
    from generator.findings import Finding, Place, Refusal

    try:
        if asked.command == "check":
            from generator.commands.check import check

            return check(asked)
        if asked.command == "draft":
            from generator.commands.draft import draft

            return draft(asked)
        if asked.command == "issue":
            from generator.commands.issue import issue

            return issue(asked)
        if asked.command == "enter":
            from generator.commands.enter import enter

            return enter(asked)
        if asked.command == "handbook":
            from generator.commands.handbook import handbook

            return handbook(asked)
        from generator.commands.calculate import calculate

        return calculate(asked)
    except Refusal as refusal:
        place = Place(f"witnessmark {asked.command}")
        tell([Finding(place, refusal.code, refusal.wrong, refusal.right)], asked)
        return 2 if refusal.code in ("misuse", "process", "folder", "date") else 1
    except BrokenPipeError:
        raise  # the reader went away: main knows what to do
    except OSError as fault:
        wrong = f"{fault.filename or 'a file'}: {fault.strerror or fault}"
        place = Place(f"witnessmark {asked.command}")
        tell(
            [Finding(place, "file", wrong, "room on the disk, and a folder that can be written")],
            asked,
        )
        return 1


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="witnessmark",
        description=ABOUT,
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"witnessmark {__version__}")
    parser.add_argument(
        "--workshop", type=Path, default=Path("."), metavar="FOLDER", help="the workshop's folder"
    )
    commands = parser.add_subparsers(dest="command", metavar="COMMAND")
    _check_words(commands)
    _draft_words(commands)
    _issue_words(commands)
    _enter_words(commands)
    _calculate_words(commands)
    _handbook_words(commands)
    return parser


def _command(
    commands: argparse._SubParsersAction[argparse.ArgumentParser],
    name: str,
    says: str,
    example: str,
) -> argparse.ArgumentParser:
    return commands.add_parser(
        name,
        help=says,
        description=says,
        epilog=f"example:\n  {example}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )


def _check_words(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    made = _command(
        commands, "check", "read, check and work out every process", "witnessmark check T6-P-0410"
    )
    made.add_argument("process", nargs="*", help="process numbers or files; none means all")
    made.add_argument("--format", choices=("text", "json"), default="text", help="json for editors")
    made.add_argument("--advice", action="store_true", help="print the advice on wording too")


def _draft_words(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    made = _command(
        commands,
        "draft",
        "print travellers marked DRAFT - NOT FOR WORK, without a serial",
        "witnessmark draft T6-P-0210 --given processes/machining/values-T6-P-0210-0001.yaml",
    )
    made.add_argument("process", nargs="*", help="process numbers or files")
    made.add_argument("--all", action="store_true", help="every process")
    made.add_argument("--given", type=Path, metavar="FILE", help="the values of one part")
    made.add_argument("--on", metavar="DAY", help="the day of printing, as 2026-11-25")
    made.add_argument(
        "--only", metavar="SHEET", help="one sheet of the pack, such as calculation-sheet"
    )


def _issue_words(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    made = _command(
        commands,
        "issue",
        "print the next numbered traveller, register it and commit it to git",
        "witnessmark issue T6-P-0410 --for 0003 --on 2026-11-25",
    )
    made.add_argument("process", help="a process number or file")
    made.add_argument(
        "--for", dest="serials", nargs="+", required=True, metavar="SERIAL", help="part serials"
    )
    made.add_argument("--given", type=Path, metavar="FILE", help="the values of one part")
    made.add_argument("--on", required=True, metavar="DAY", help="the day of issue, as 2026-11-25")


def _enter_words(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    made = _command(
        commands,
        "enter",
        "record what was written on the sheets of a traveller, and say what is wrong or open",
        "witnessmark enter A-0001 result.yaml --on 2026-11-26 --stamp AR1",
    )
    made.add_argument("serial", help="the traveller, such as A-0001")
    made.add_argument("file", nargs="?", type=Path, help="what was written, as a form filled in")
    made.add_argument("--blank", type=Path, metavar="FILE", help="write a form with blanks here")
    made.add_argument("--on", metavar="DAY", help="the day of entering, as 2026-11-26")
    made.add_argument("--stamp", help="the stamp of who types it")
    made.add_argument("--corrects", metavar="WHY", help="entries that stand already are corrected")


def _calculate_words(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    made = _command(
        commands,
        "calculate",
        "one calculation at the desk, with its working",
        'witnessmark calculate bend_allowance thickness="0.914 mm" radius="3.2 mm" bend_angle=90°',
    )
    made.add_argument("name", nargs="?", help="the calculation; none lists them all")
    made.add_argument("values", nargs="*", metavar="key=value", help="its inputs")
    made.add_argument("--json", action="store_true", help="the results for another program")


def _handbook_words(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    _command(
        commands,
        "handbook",
        "every calculation and table, with its examples run now, into output/handbook/",
        "witnessmark handbook",
    )


if __name__ == "__main__":
    sys.exit(main())
