"""The checkout, in; what a workshop gets that never sees it: a wheel, its lock, its commands."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import sysconfig
import tomllib
import venv
import zipfile
from dataclasses import dataclass
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
DAY = "2026-11-25"


def run(*words: str | Path, cwd: Path) -> str:
    """The words' standard output; a failure shows everything that the command said."""
    surroundings = {k: v for k, v in os.environ.items() if not k.startswith("PYTHON")}
    done = subprocess.run(
        [str(word) for word in words], cwd=cwd, env=surroundings, capture_output=True, text=True
    )
    assert done.returncode == 0, f"{words}\n{done.stdout}\n{done.stderr}"
    return done.stdout


@dataclass(frozen=True)
class Installed:
    """A second venv that holds the program from its wheel; the rest it borrows from ours."""

    wheel: Path
    python: Path
    program: Path


def built_wheel(folder: Path) -> Path:
    """The wheel of a copy: a build in the checkout would take along what an old build left."""
    source = folder / "source"
    for name in ("generator", "schema"):
        shutil.copytree(
            ROOT / name, source / name, ignore=shutil.ignore_patterns("__pycache__", "*.egg-info")
        )
    for name in ("pyproject.toml", "setup.py", "LICENSE"):
        shutil.copy(ROOT / name, source / name)
    pip = (sys.executable, "-m", "pip", "wheel", "--quiet", "--no-index", "--no-deps")
    run(*pip, "--no-build-isolation", "--wheel-dir", folder, source, cwd=folder)
    return next(folder.glob("*.whl"))


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Installed:
    folder = tmp_path_factory.mktemp("wheel")
    wheel = built_wheel(folder)
    home = tmp_path_factory.mktemp("a place of its own") / "venv"
    venv.create(home, with_pip=False)
    python = home / "bin" / "python"
    site = run(python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))", cwd=folder)
    # A plain path: Python reads no .pth there, so our own editable install stays out of sight.
    Path(site.strip(), "borrowed.pth").write_text(sysconfig.get_path("purelib") + "\n")
    pip = (sys.executable, "-m", "pip", "--python", python, "install", "--quiet")
    run(*pip, "--no-index", "--no-deps", "--ignore-installed", wheel, cwd=folder)
    return Installed(wheel, python, home / "bin" / "witnessmark")


def workshop(folder: Path) -> Path:
    """A copy of the demo workshop at another place on the disk."""
    shutil.copytree(ROOT / "processes", folder / "processes")
    return folder


def drafts(folder: Path) -> dict[str, bytes]:
    """Every PDF below a workshop's drafts, by its path."""
    top = folder / "output" / "draft"
    return {str(p.relative_to(top)): p.read_bytes() for p in sorted(top.rglob("*.pdf"))}


def test_the_wheel_holds_every_file_of_the_code_and_the_schema(installed: Installed) -> None:
    held = set(zipfile.ZipFile(installed.wheel).namelist())
    code = [p for p in (ROOT / "generator").rglob("*") if p.is_file()]
    wanted = {str(p.relative_to(ROOT)) for p in code if "__pycache__" not in p.parts}
    wanted |= {f"generator/schema/{p.name}" for p in (ROOT / "schema").glob("*.yaml")}
    assert wanted - held == set()


def test_the_installed_program_is_the_one_from_the_wheel(installed: Installed) -> None:
    where = "import generator; print(generator.__file__)"
    file = Path(run(installed.python, "-c", where, cwd=installed.wheel.parent).strip())
    assert file.is_relative_to(installed.python.parent.parent)


def test_it_prints_the_demo_workshop_elsewhere_byte_for_byte(
    installed: Installed, tmp_path: Path
) -> None:
    there, here = workshop(tmp_path / "their workshop"), workshop(tmp_path / "ours")
    run(installed.program, "--workshop", there, "draft", "--all", "--on", DAY, cwd=tmp_path)
    ours = (sys.executable, "-m", "generator", "--workshop", here)
    run(*ours, "draft", "--all", "--on", DAY, cwd=ROOT)
    assert drafts(there), "no traveller was printed"
    assert drafts(there) == drafts(here)


def locked() -> dict[str, int]:
    """Each name in the lock with the number of its hashes."""
    entries = re.split(r"\n(?=\S)", (ROOT / "requirements.lock").read_text().strip())
    names = [re.match(r"([a-z0-9-]+)==[0-9][^ ]* \\\n", entry) for entry in entries]
    assert all(names), [e for e, n in zip(entries, names, strict=True) if not n]
    return {
        n[1]: len(re.findall(r"--hash=sha256:[0-9a-f]{64}\b", e))
        for n, e in zip(names, entries, strict=True)
        if n
    }


def test_the_lock_pins_and_hashes_all_that_the_project_names() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())
    lists = [project["build-system"]["requires"], project["project"]["dependencies"]]
    lists += project["project"]["optional-dependencies"].values()
    wanted = {
        re.split(r"[<>=]", name)[0].lower().replace("_", "-") for names in lists for name in names
    }
    hashes = locked()
    assert wanted - hashes.keys() == set()
    assert min(hashes.values()) >= 1


def test_the_lock_names_no_place_to_fetch_from() -> None:
    text = (ROOT / "requirements.lock").read_text()
    assert not re.search(r"://|^-|index|find-links", text, re.MULTILINE)


def test_make_help_lists_every_verb() -> None:
    makefile = (ROOT / "Makefile").read_text()
    phony = re.search(r"^\.PHONY: (.+)$", makefile, re.MULTILINE)
    assert phony
    listed = re.findall(r"^make ([a-z-]+) ", run("make", "help", cwd=ROOT), re.MULTILINE)
    assert sorted(listed) == sorted(phony[1].split())
