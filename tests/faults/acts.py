"""A workshop with one issued traveller, in; the moment before each act of the record, and the act as
a user types it, out."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from generator.commands.enter import form_read
from generator.record import traveller
from generator.workshop import open_workshop
from tests.commands.changing import revise
from tests.commands.test_commands import approve, run
from tests.commands.test_slips import close, dispose, entered, slip
from tests.record.conftest import run_git
from tests.results.filled import filled

ON = ("--on", "2026-11-26", "--stamp")
SHELF = "T6-P-0120"
ACTS = (
    "approve", "issue", "enter", "slip", "dispose", "rework", "concede", "attach", "close", "fit",
    "replace", "withdraw", "take back", "adopt", "finish", "copy",
)  # fmt: skip


def ready(shop: Path, act: str, papers: Path) -> None:
    """Bring the shop to the moment before the act, with something staged that is the user's.

    papers: a folder outside the shop, for what the user has in hand.
    """
    (shop / ".git/info/exclude").write_text("output/draft/\noutput/media/\n", encoding="utf-8")
    before(shop, act, papers)
    (shop / "notes.txt").write_text("staged\n", encoding="utf-8")
    run_git(shop, "add", "notes.txt")


def before(shop: Path, act: str, papers: Path) -> None:
    if act in ("dispose", "rework", "concede"):
        entered(shop, {"10 thickness": "0.96"})
        assert slip(shop) == 0
    if act == "concede":
        assert dispose(shop, "NC-A-0001", "use") == 0
    if act in ("approve", "adopt", "finish"):
        revise(shop)
    if act in ("adopt", "finish"):
        approve(shop, SHELF, "2026-11-26")
    if act in ("close", "fit"):
        entered(shop)
    if act == "fit":
        assert close(shop) == 0
    if act == "attach":
        (papers / "scan.pdf").write_bytes(b"%PDF-1.4 all sheets\n" * 400)
    if act == "enter":
        instruments = {each.kind: each.number for each in open_workshop(shop)[0].instruments}
        text = filled(form_read(traveller(shop, "A-0001")), "A-0001", instruments)
        (papers / "result.yaml").write_text(text, encoding="utf-8")


def doing(shop: Path, act: str, papers: Path) -> Callable[[], int]:
    """The act, typed."""
    lead, checker = (*ON, "LQ1"), (*ON, "LQ14")
    words = {
        "approve": ("approve", SHELF, *checker),
        "issue": ("issue", SHELF, "--for", "0002", *lead),
        "enter": ("enter", "A-0001", str(papers / "result.yaml"), *lead),
        "slip": ("slip", "A-0001", "--operation", "10", "--what", "0.96 mm.", *checker),
        "dispose": ("dispose", "NC-A-0001", "--decision", "use", "--why", "Fits.", *lead),
        "rework": ("dispose", "NC-A-0001", "--decision", "rework", "--why", "Thick.", *lead),
        "concede": ("concede", "NC-A-0001", "--what", "0.96 mm allowed.", *ON, "INS2"),
        "attach": ("attach", "A-0001", str(papers / "scan.pdf"), "--as", "scan", "--sheets", "1 to 5",
                   "--side", "both", *lead),
        "close": ("close", "A-0001", *lead),
        "fit": ("fit", "A-0001", *lead),
        "replace": ("replace", "A-0001", "--why", "Lost.", *lead),
        "withdraw": ("withdraw", "A-0001", "--why", "Wrong.", *lead),
        "take back": ("withdraw", SHELF, "--revision", "A", "--why", "Wrong.", *lead),
        "adopt": ("decide", "A-0001", "--decision", "adopt", "--done", "0", "--why", "Not begun.",
                  *ON, "INS2"),
        "finish": ("decide", "A-0001", "--decision", "finish", "--why", "Small.", *lead),
        "copy": ("reprint", "A-0001", "--why", "Torn.", *lead),
    }[act]  # fmt: skip
    return lambda: run(shop, *words)
