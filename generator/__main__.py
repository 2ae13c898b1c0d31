"""Words of the command line in; an exit code out: 0 done, 1 findings, 2 misuse.

Only argparse and the words are imported here: a command brings in what it needs when it runs.
"""

from __future__ import annotations

import argparse
import gc
import sys
from collections.abc import Callable
from pathlib import Path

from generator import __version__
from generator.commands.words import COMMANDS

ABOUT = """\
witnessmark turns written workshop processes into numbered travellers for the bench.

A workshop is a folder with processes/ in it. Commands look in the current folder, or in
--workshop FOLDER. Nothing is sent anywhere; no sheet is written when there is a finding.
"""

EXAMPLES = """\
examples:
  witnessmark check                             the library read and checked
  witnessmark check T6-P-0410                   one process, with its numbers and sheets
  witnessmark check --advice                    the advice on wording too
  witnessmark draft T6-P-0410                   print a draft into output/draft/
  witnessmark draft --all --on 2026-11-25       every draft, dated
  witnessmark draft T6-P-0210 --given FILE      with the values of one part
  witnessmark draft T6-P-0410 --only traveller  one sheet of the pack, its pages counted over all
  witnessmark approve T6-P-0410 --stamp LQ14 --on 2026-11-25
                                                the checker has looked at it as it stands
  witnessmark issue T6-P-0410 --for 0003 --on 2026-11-25 --stamp LQ1
                                                the next numbered traveller
  witnessmark enter A-0001 --blank result.yaml  a form with every box of a traveller
  witnessmark enter A-0001 result.yaml --on 2026-11-26 --stamp AR1
                                                what was written on paper, into the record
  witnessmark close A-0001 --on 2026-11-28 --stamp AR1
                                                refused with the list while anything is open
  witnessmark verify                            is the record what was written?
  witnessmark calculate                         what can be calculated
  witnessmark calculate jack_force pressure="70 bar g" bore="50 mm" rod="25 mm" efficiency="95 %"
  witnessmark handbook                          every calculation, table and worked example

exit codes: 0 done, 1 findings (nothing written), 2 the command cannot be understood
"""

_OF_FILES = ("process",)  # a number, or the name of a file; all others of files are paths


def main(words: list[str] | None = None) -> int:
    """Run one command; no traceback ever reaches the user for what the user did."""
    try:
        _print_any_sign()
        collect_seldom()
        asked = _parser().parse_args(_flags_first(sys.argv[1:] if words is None else words))
        if asked.command is None:
            _parser().print_help()
            return 2
        code = _run(asked)
        if sys.stdout:
            sys.stdout.flush()
    except KeyboardInterrupt:
        print("stopped; what was begun, the next run finishes or undoes", file=sys.stderr)
        return 2
    except BrokenPipeError:
        return _quiet_pipe()
    except OSError as fault:  # a full disk behind > FILE
        _quiet_pipe()
        print(f"what was said could not be written: {fault.strerror or fault}", file=sys.stderr)
        print("look at what was done before typing it again", file=sys.stderr)
        return 1
    return code


def collect_seldom() -> None:
    """A print makes some hundred thousand small things, nearly all of which live until it is done:
    looking through them after every 700 is a tenth of its time."""
    gc.set_threshold(10_000, 10, 10)


def _print_any_sign() -> None:
    """A terminal that knows ASCII alone gets \\xb7 for a sign it lacks, not an error."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")


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


def _cannot_say() -> bool:
    """Whether it is our own output that cannot be written."""
    try:
        sys.stdout.write("\n")
        sys.stdout.flush()
    except OSError:
        return True
    return False


def _run(asked: argparse.Namespace) -> int:
    from generator.commands.told import MENDED, say, tell
    from generator.findings import Finding, Finished, Place, Refusal
    from generator.odd_files import refuse_links

    try:
        refuse_links(asked.workshop)
        plain = _in_plain_signs(asked)
        _are_days(plain)
        return _function(plain.command)(plain)
    except Finished as act:
        say(f"{act.title}, which an interrupted run had begun, is finished", asked)
        say("look at it; what was typed now is not done: type it again where it still is", asked)
        return 0
    except Refusal as refusal:
        place = Place(f"witnessmark {asked.command}")
        finding = Finding(place, refusal.code, refusal.wrong, refusal.right)
        tell([finding], asked, refusal.ends and f"; {refusal.ends}")
        return 2 if refusal.code in ("misuse", "process", "folder", "date") else 1
    except BrokenPipeError:
        raise  # the reader went away: main knows what to do
    except OSError as fault:
        if fault.filename is None and _cannot_say():
            raise
        wrong = f"{fault.filename or 'a file'}: {fault.strerror or fault}"
        place = Place(f"witnessmark {asked.command}")
        tell([Finding(place, "file", wrong, MENDED)], asked)
        return 1


def _are_days(asked: argparse.Namespace) -> None:
    """Refusal where a word that is a day is none, whether the command would look at it or not."""
    words = next(each.words for each in COMMANDS if each.name == asked.command)
    for word in words:
        told = getattr(asked, word.names[-1].lstrip("-").replace("-", "_"), None)
        if word.told.get("metavar") == "DAY" and told is not None:
            from generator.check.readers import day

            day(told)


def _in_plain_signs(asked: argparse.Namespace) -> argparse.Namespace:
    """The same words with letters and accents as one sign. Refusal where a word holds a sign that
    no file may hold: recorded, it could not be read again. Names of files are as the disk has them.
    """
    from generator.signs import in_plain_signs

    told = dict(vars(asked))
    for word in next(each.words for each in COMMANDS if each.name == asked.command):
        called = word.names[-1]
        key = word.told.get("dest") or called.lstrip("-").replace("-", "_")
        value = told[key]
        if isinstance(value, str) and key not in _OF_FILES:
            told[key] = in_plain_signs(value, called)
        elif isinstance(value, list) and key not in _OF_FILES:
            told[key] = [in_plain_signs(w, called) if isinstance(w, str) else w for w in value]
    return argparse.Namespace(**told)


def _function(command: str) -> Callable[[argparse.Namespace], int]:
    """The function of a command; its file, with all that it imports, is read now."""
    from importlib import import_module

    file = next(each.file or each.name for each in COMMANDS if each.name == command)
    found: Callable[[argparse.Namespace], int] = getattr(
        import_module(f"generator.commands.{file}"), command
    )
    return found


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
    for each in COMMANDS:
        made = commands.add_parser(
            each.name,
            help=each.says,
            description=each.says,
            epilog=f"example:\n  {each.example}",
            formatter_class=argparse.RawDescriptionHelpFormatter,
            allow_abbrev=False,
        )
        for word in each.words:
            made.add_argument(*word.names, **word.told)
    return parser


if __name__ == "__main__":
    sys.exit(main())
