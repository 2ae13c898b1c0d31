"""Which files and programs a command reaches: the workshop's, our own, and nothing else."""

from __future__ import annotations

import ast
import os
import sys
from pathlib import Path

import pytest

import generator
from tests.hostile.shops import SHELF, shop, tree, with_text
from tests.hostile.watched import ROOT, Watched, watch

CODE = [ROOT / "generator", *map(Path, generator.__path__)]
OURS = [*CODE, ROOT / "schema", Path(sys.prefix), Path(sys.base_prefix), Path(os.devnull)]
SPELLED_OUT = ("/proc/", "/sys/", "/etc/localtime", "/dev/urandom")  # the interpreter's own

# Hooks that libraries offer to whoever can put a file into the home folder or the current one.
PLANTED = ("reportlab_mods.py", "reportlab_settings.py", ".reportlab_mods", ".reportlab_settings",
           "sitecustomize.py", "yaml.py", "jinja2.py", "local_rl_settings.py")  # fmt: skip
WORDS = ("Cut the blank", "<img src='file:///etc/hostname'> <a href='http://host.invalid/'> Cut")


@pytest.fixture(scope="module")
def watched(tmp_path_factory: pytest.TempPathFactory) -> dict[str, tuple[Path, Watched]]:
    """Commands in a workshop that tries all it can to be helped out of its folder."""
    runs = {}
    for words in ("check", "check --whole", "draft --all"):
        folder = with_text(shop(tmp_path_factory.mktemp("reach")), *WORDS)
        home = folder.parent / "home"
        home.mkdir()
        for place in (home, folder):
            for name in PLANTED:
                (place / name).write_text("raise SystemExit('run unasked')\n", encoding="utf-8")
        env = {"HOME": str(home), "RL_pageCompression": "0", "RL_invariant": "0",
               "http_proxy": "http://127.0.0.1:9", "PYTHONDONTWRITEBYTECODE": "1"}  # fmt: skip
        runs[words] = folder, watch(folder, *words.split(), env=env)
    return runs


def _named(folder: Path) -> tuple[Path, Path]:
    """What a workshop is made of: its processes, and what the program made of them itself."""
    return folder / "processes", folder / "output" / "draft"


@pytest.mark.parametrize("words", ["check", "check --whole", "draft --all"])
def test_only_the_workshop_and_our_own_files_are_read(watched, words):
    folder, ran = watched[words]
    assert ran.code == 0, ran.told
    strange = [
        path for path in ran.opened(writing=False)
        if not any(path.is_relative_to(each) for each in (*_named(folder), *OURS))
        and not str(path).startswith(SPELLED_OUT)
    ]  # fmt: skip
    assert strange == []
    assert Path(folder / SHELF) in ran.opened(writing=False)


def test_check_writes_what_it_found_out_and_nothing_else(watched):
    folder, ran = watched["check --whole"]
    drafts = folder / "output" / "draft"
    made = (folder / "output", drafts)
    strange = {p for p in ran.opened(writing=True) if not p.is_relative_to(drafts / ".kept")}
    assert strange <= set(made)


def test_draft_writes_into_its_own_folder_alone(watched):
    folder, ran = watched["draft --all"]
    written = ran.opened(writing=True)
    assert {p for p in written if not p.is_relative_to(folder / "output")} == set()
    assert any(path.name == "traveller.pdf" for path in written)


@pytest.mark.parametrize("words", ["check", "check --whole", "draft --all"])
def test_nothing_is_started_or_sent(watched, words):
    from tests.hostile.watched import OTHERS

    asked = [row for row in watched[words][1].seen if row[0] in OTHERS]
    assert asked == []


def test_home_and_environment_change_no_byte(watched, tmp_path):
    folder = with_text(shop(tmp_path), *WORDS)
    ran = watch(folder, "draft", "--all", env={"HOME": str(tmp_path)})
    assert ran.code == 0, ran.told
    for number in ("T6-P-0120", "T6-P-0310"):
        drafts = (
            each / "output" / "draft" / number for each in (folder, watched["draft --all"][0])
        )
        first, second = map(tree, drafts)
        assert first == second
        assert first


FORBIDDEN = {"eval", "exec", "compile", "__import__"}
MODULES = {
    "pickle",
    "marshal",
    "shelve",
    "socket",
    "urllib.request",
    "http",
    "ssl",
    "ftplib",
    "ctypes",
}
CLOCKS = {"time", "time_ns", "ctime", "now", "today", "utcnow", "localtime", "gmtime"}


def _trees() -> list[tuple[Path, ast.Module]]:
    files = sorted((ROOT / "generator").rglob("*.py"))
    assert len(files) > 200
    return [(file, ast.parse(file.read_text(encoding="utf-8"))) for file in files]


def test_no_text_is_ever_run_as_code_or_shell():
    found = []
    for file, code in _trees():
        for node in ast.walk(code):
            if isinstance(node, ast.Call):
                name = getattr(node.func, "id", "")
                shell = any(k.arg == "shell" for k in node.keywords)
                if (
                    name in FORBIDDEN
                    or shell
                    or ast.unparse(node.func) in ("os.system", "os.popen")
                ):
                    found.append(f"{file.name}:{node.lineno} {ast.unparse(node)[:60]}")
            names = []
            if isinstance(node, ast.Import):
                names = [each.name for each in node.names]
            elif isinstance(node, ast.ImportFrom):
                names = [node.module or ""]
            found += [
                f"{file.name} {n}" for n in names if n in MODULES or n.split(".")[0] in MODULES
            ]
    assert found == []


def test_no_clock_is_ever_read():
    """A clock that stands wrong, or is set back, can change nothing: nobody asks it."""
    found = []
    for file, code in _trees():
        for node in ast.walk(code):
            if isinstance(node, ast.Attribute) and node.attr in CLOCKS:
                owner = ast.unparse(node.value)
                if owner.split(".")[-1] in ("date", "datetime", "time"):
                    found.append(f"{file.name}:{node.lineno} {owner}.{node.attr}")
    assert found == []
