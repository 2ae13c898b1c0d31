"""What is kept never stands in for something else: altered prints are made anew, what is damaged
is passed over, no finding is hidden, and a run that is killed leaves nothing that counts."""

from __future__ import annotations

import os
import random
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.library.looking import (
    ROOT,
    changed,
    drafts,
    process_file,
    run,
    said,
    started,
)

PDF = "output/draft/T6-P-0701/traveller.pdf"
STAND = "0 drawn, 6 unchanged\n"


def flipped(file: Path) -> None:
    """Another byte in the same place, by a hand that sets the old times again."""
    content = bytearray(file.read_bytes())
    content[len(content) // 2] ^= 1
    told = file.stat()
    with file.open("r+b") as opened:
        opened.write(content)
    os.utime(file, ns=(told.st_atime_ns, told.st_mtime_ns))


def cut(file: Path) -> None:
    os.truncate(file, file.stat().st_size // 2)


def emptied(file: Path) -> None:
    file.write_bytes(b"")


def gone(file: Path) -> None:
    file.unlink()


def all_gone(file: Path) -> None:
    shutil.rmtree(file.parent)


def another_beside(file: Path) -> None:
    (file.parent / "notes.txt").write_text("mine")


def a_folder(file: Path) -> None:
    file.unlink()
    file.mkdir()


def a_link(file: Path) -> None:
    shutil.move(file, file.parents[1] / "elsewhere.pdf")
    file.symlink_to(file.parents[1] / "elsewhere.pdf")


@pytest.mark.parametrize(
    "done", [flipped, cut, emptied, gone, all_gone, another_beside, a_folder, a_link]
)
def test_an_altered_print_is_made_anew(shop, capsys, done: Callable[[Path], None]) -> None:
    assert run(shop, "draft", "T6-P-0701") == 0
    before = drafts(shop)
    done(shop / PDF)
    assert PDF in said(capsys, shop, "draft", "T6-P-0701")[1]
    (shop / "output/draft/elsewhere.pdf").unlink(missing_ok=True)
    assert drafts(shop) == before
    assert said(capsys, shop, "draft", "T6-P-0701")[1] == "./output/draft/T6-P-0701 unchanged\n"


def test_a_copy_of_the_workshop_is_known_by_its_contents(shop, capsys, tmp_path) -> None:
    assert run(shop, "draft", "--all") == 0
    copy = tmp_path / "copy"
    shutil.copytree(shop, copy)
    assert said(capsys, copy, "draft", "--all")[1] == STAND
    flipped(copy / PDF)
    assert said(capsys, copy, "draft", "--all")[1].endswith("1 drawn, 5 unchanged\n")
    assert drafts(copy) == drafts(shop)


def a_torn(file: Path) -> None:
    file.write_bytes(file.read_bytes()[:-7])


def a_foreign(file: Path) -> None:
    file.write_text('{"sound": true}\n')


def of_another(file: Path) -> None:
    other = next(f for f in sorted(file.parent.iterdir()) if len(f.name) == 32 and f != file)
    shutil.copy(other, file)


def a_pipe(file: Path) -> None:
    file.unlink()
    os.mkfifo(file)


def endless(file: Path) -> None:
    file.unlink()
    file.symlink_to("/dev/zero")


def unreadable(file: Path) -> None:
    file.write_bytes(bytes(range(256)))


@pytest.mark.parametrize(
    "done",
    [flipped, cut, emptied, gone, a_folder, a_torn, a_foreign, of_another, a_pipe, endless,
     unreadable],
)  # fmt: skip
def test_what_is_damaged_is_passed_over(shop, capsys, done: Callable[[Path], None]) -> None:
    assert run(shop, "check", "--whole") == 0
    whole = said(capsys, shop, "check", "--whole")
    for file in sorted((shop / "output/draft/.kept").iterdir()):
        if len(file.name) == 32:
            done(file)
    assert said(capsys, shop, "check", "--whole") == whole
    changed(process_file(shop, 3), "{{ flat.length }}", "{{ flat.lenth }}")
    code, _, told = said(capsys, shop, "check", "--whole")
    assert code == 1 and "shelf-3.yaml" in told and "1 finding" in told


AHEAD = "read and checked; none is worked out and laid out yet: check --whole\n"


def test_the_library_is_read_and_checked_and_nothing_called_sound(shop, capsys) -> None:
    assert said(capsys, shop, "check") == (0, f"6 processes {AHEAD}", "")
    assert not (shop / "output").exists(), "nothing was found out that is worth keeping"
    changed(process_file(shop, 3), "is: 25 mm", "is: 1 mm")
    changed(process_file(shop, 4), "Deburr all edges.", "Deburr all edges properly.")
    assert said(capsys, shop, "check") == (0, f"6 processes {AHEAD}", "")
    code, _, told = said(capsys, shop, "check", "--whole")
    assert code == 1 and "shelf-3.yaml" in told
    some = AHEAD.replace("none is", "1 not")
    assert said(capsys, shop, "check") == (0, f"6 processes {some}", ""), "the others are known"
    assert said(capsys, shop, "check", "T6-P-0703")[0] == 1, "what is named is taken whole"
    changed(process_file(shop, 3), "is: 1 mm", "is: 25 mm")
    code, told, _ = said(capsys, shop, "check", "T6-P-0703")
    assert code == 0 and told.startswith("1 process sound; ")
    code, told, _ = said(capsys, shop, "check")
    assert code == 0 and told.startswith("6 processes sound; "), "with nothing left to do"
    assert "of advice: check --advice" in told


def test_a_check_of_the_library_finds_what_reading_and_checking_find(shop, capsys) -> None:
    changed(process_file(shop, 3), "kind: hold\n", "kind: holt\n")
    changed(process_file(shop, 4), "process: T6-P-0703\n    says", "process: T6-P-0777\n    says")
    first = said(capsys, shop, "check")
    assert first[0] == 1 and "2 findings" in first[2]
    assert said(capsys, shop, "check", "--whole")[2] == first[2]


def test_advice_is_on_all_that_was_laid_out(shop, capsys) -> None:
    changed(process_file(shop, 4), "Deburr all edges.", "Deburr all edges properly.")
    code, told, _ = said(capsys, shop, "check", "--advice")
    assert code == 0 and "6 processes sound; " in told and "properly" in told


@pytest.mark.parametrize("name", [".kept", "."])
def test_a_file_in_the_place_of_the_folder_stops_no_check(shop, capsys, name) -> None:
    whole = said(capsys, shop, "check", "--whole", "--anew")
    room = (shop / "output" / "draft" / name).resolve()
    shutil.rmtree(room)
    room.write_text("mine")
    assert said(capsys, shop, "check", "--whole") == whole
    assert room.read_text() == "mine"


EDITS: list[tuple[str, str]] = [
    ("title: Battery", "titel: Battery"),
    ("process: T6-P-0702", "process: T6-P-0705"),
    ("process: T6-P-0701\n    says", "process: T6-P-0706\n    says"),
    ("process: T6-P-0703\n    says", "process: T6-P-0777\n    says"),
    ("{{ flat.length }}", "{{ flat.lenth }}"),
    ("is: 25 mm", "is: 26 mm"),
    ("is: 25 mm", "is: 1 mm"),
    ("Deburr all edges.", "Deburr all edges properly."),
    ("kind: hold\n", "kind: holt\n"),
    ("lower: 0.874 mm", "lower: 0.99 mm"),
    ("four", "\tfour"),
]


def edited(folder: Path, chance: random.Random) -> None:
    """One slip, or one thing put right again: a file changed, lost, doubled or brought back."""
    file = process_file(folder, chance.randrange(1, 7))
    kept = folder.parent / "sound" / file.name
    text = file.read_text(encoding="utf-8") if file.exists() else ""
    able = [(old, new) for old, new in EDITS if old in text]
    what = chance.random()
    if not text or what < 0.4:
        shutil.copy(kept, file)
    elif what < 0.5:
        file.unlink()
    elif what < 0.55:
        shutil.copy(file, file.with_name("double.yaml"))
    elif what < 0.6:
        file.with_name("double.yaml").unlink(missing_ok=True)
    elif able:
        old, new = chance.choice(able)
        file.write_text(text.replace(old, new, 1), encoding="utf-8")


@pytest.mark.parametrize("seed", [0, pytest.param(1, marks=pytest.mark.prove)])
def test_after_any_edits_check_says_what_it_says_without_what_is_kept(shop, capsys, seed) -> None:
    chance = random.Random(seed)
    shutil.copytree(shop / "processes", shop.parent / "sound", dirs_exist_ok=True)
    codes = set()
    for step in range(9):
        if step % 4 == 3:
            shutil.rmtree(shop / "processes")
            shutil.copytree(shop.parent / "sound", shop / "processes")
        else:
            edited(shop, chance)
        words = (
            ("check", "--advice")
            if chance.random() < 0.5
            else ("check", "--whole", "--format", "json")
        )
        told = said(capsys, shop, *words)
        assert told == said(capsys, shop, *words, "--anew")
        codes.add(told[0])
    assert codes == {0, 1}


def test_after_any_edits_the_drafts_are_those_of_a_clean_run(shop, capsys) -> None:
    chance = random.Random(5)
    sound = shop.parent / "sound"
    shutil.copytree(shop / "processes", sound)
    for step in range(3):
        for n in range(1, 7):
            shutil.copy(sound / f"shelf-{n}.yaml", process_file(shop, n))
        changed(process_file(shop, chance.randrange(1, 7)), "is: 25 mm", f"is: {26 + step} mm")
        if step % 2:
            flipped(shop / f"output/draft/T6-P-070{chance.randrange(1, 7)}/pack.pdf")
        code, told, _ = said(capsys, shop, "draft", "--all")
        assert code == 0
        clean = shop.parent / f"clean-{step}"
        shutil.copytree(shop / "processes", clean / "processes")
        assert run(clean, "draft", "--all") == 0
        assert drafts(shop) == drafts(clean)
        if step:  # the one that was changed, the one that was put back, the one that was altered
            assert told.splitlines()[-1].endswith("unchanged") and told.count("PDFs") <= 3


def test_a_finding_while_drawing_leaves_every_draft_as_it_was(shop, capsys) -> None:
    assert run(shop, "draft", "--all") == 0
    before = drafts(shop)
    for n in range(1, 7):
        changed(process_file(shop, n), "is: 25 mm", "is: 26 mm")
    changed(process_file(shop, 4), "{{ flat.length }}", "{{ flat.lenth }}")
    code, _, told = said(capsys, shop, "draft", "--all")
    assert code == 1 and "shelf-4.yaml" in told and told.endswith("1 finding, nothing written\n")
    assert drafts(shop) == before


def test_a_finding_while_drawing_leaves_nothing_in_a_new_workshop(shop) -> None:
    changed(process_file(shop, 4), "{{ flat.length }}", "{{ flat.lenth }}")
    assert run(shop, "draft", "--all") == 1
    assert not (shop / "output").exists()


def test_a_draft_waits_for_what_its_process_needs_and_for_no_other(shop, capsys) -> None:
    changed(process_file(shop, 4), "title: Battery", "titel: Battery")
    code, told, _ = said(capsys, shop, "draft", "T6-P-0703")
    assert code == 0 and told.endswith("1 finding elsewhere: witnessmark check\n")
    for number in ("T6-P-0704", "T6-P-0705", "T6-P-0706"):
        code, _, told = said(capsys, shop, "draft", number)
        assert code == 1 and "shelf-4.yaml" in told and "did you mean 'title'?" in told
    changed(shop / "processes/workshop/stamps.yaml", "stamps:", "stamp:")
    assert run(shop, "draft", "T6-P-0703") == 1


def test_two_processes_of_one_number_are_drafted_neither(shop, capsys) -> None:
    assert run(shop, "draft", "T6-P-0701") == 0
    changed(process_file(shop, 5), "process: T6-P-0705", "process: T6-P-0701")
    code, _, told = said(capsys, shop, "draft", "T6-P-0701")
    assert code == 1 and "is also processes/shelf-1.yaml" in told


def test_nothing_that_draws_is_brought_in_where_nothing_is_drawn(shop) -> None:
    assert run(shop, "draft", "--all") == 0
    code = (
        "import sys; from generator.__main__ import main\n"
        f"done = main(['--workshop', {str(shop)!r}, 'draft', '--all'])\n"
        "heavy = {'yaml', 'cerberus', 'jinja2', 'markdown_it', 'reportlab', 'generator.process'}\n"
        "sys.exit(str(heavy & set(sys.modules)) if heavy & set(sys.modules) else done)"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True)
    assert (done.returncode, done.stdout) == (0, STAND), done.stderr


def test_what_is_kept_of_a_process_that_is_gone_goes(shop) -> None:
    assert run(shop, "check", "--whole") == 0
    kept = shop / "output" / "draft" / ".kept"
    before = {f.name for f in kept.iterdir() if len(f.name) == 32}
    process_file(shop, 6).unlink()
    assert run(shop, "draft", "T6-P-0701") == 0
    after = {f.name for f in kept.iterdir() if len(f.name) == 32}
    assert len(before) == 6 and len(after) == 5 and after < before


def test_git_sees_nothing_of_what_is_kept(shop) -> None:
    subprocess.run(["git", "init", "-q"], cwd=shop, check=True)
    assert run(shop, "check", "--whole") == 0
    told = subprocess.run(
        ["git", "status", "--porcelain", "-uall"], cwd=shop, capture_output=True, text=True
    )
    assert "output" not in told.stdout


def test_a_run_that_is_killed_leaves_nothing_that_counts(shop, capsys) -> None:
    """At any moment, its helpers with it or not: the next run ends as one that never was killed."""
    clean = shop.parent / "clean"
    shutil.copytree(shop / "processes", clean / "processes")
    start = time.monotonic()
    assert started(clean, "draft", "--all").wait() == 0
    takes = time.monotonic() - start
    chance = random.Random(1)
    for at in range(3):
        shutil.rmtree(shop / "output", ignore_errors=at % 2 == 0)
        one = started(shop, "draft", "--all")
        time.sleep(chance.uniform(0.3, 1.1) * takes)
        one.kill()
        one.communicate()  # the pipes end with the last helper
        assert run(shop, "draft", "--all") == 0
        assert drafts(shop) == drafts(clean)
        assert said(capsys, shop, "draft", "--all")[1] == STAND


def test_a_run_that_is_stopped_by_hand_says_so_and_leaves_nothing(shop) -> None:
    """The key goes to all processes of the terminal at once: only the first one speaks."""
    assert run(shop, "draft", "T6-P-0701") == 0
    before = drafts(shop)
    for after in (0.0, 0.2):
        one = started(shop, "draft", "--all", "--anew", "--on", "2026-11-25")
        while not list((shop / "output" / "draft").glob(".new-*")):
            assert one.poll() is None
            time.sleep(0.01)
        time.sleep(after)
        os.killpg(one.pid, signal.SIGINT)
        out, err = one.communicate()
        assert (one.returncode, out) == (2, b"")
        assert err == b"stopped; what was begun, the next run finishes or undoes\n"
        assert drafts(shop) == before


def test_two_runs_at_once_spoil_nothing(shop, capsys) -> None:
    for _ in range(1):
        runs = [
            started(shop, "draft", "--all", "--anew"),
            started(shop, "draft", "--all", "--anew", "--on", "2026-11-25"),
            started(shop, "check", "--whole", "--anew"),
        ]
        for each in runs:
            _, err = each.communicate()
            assert (each.returncode, err) == (0, b"")
    assert run(shop, "draft", "--all") == 0
    clean = shop.parent / "clean"
    shutil.copytree(shop / "processes", clean / "processes")
    assert run(clean, "draft", "--all") == 0
    assert drafts(shop) == drafts(clean)
