"""The wheel: it carries the problems and the hints, and works from any folder once installed."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import sysconfig
import venv
from pathlib import Path
from zipfile import ZipFile

import pytest
from helpers.packages import PROJECT
from helpers.source import ROOT, SOURCE


@pytest.fixture(autouse=True)
def _own_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))


def run(*command: str | Path, cwd: Path = ROOT, code: int = 0) -> str:
    """Return what a command prints; the test fails where it ends with another code."""
    done = subprocess.run(
        [str(part) for part in command],
        capture_output=True,
        encoding="utf-8",
        cwd=cwd,
        env={key: value for key, value in os.environ.items() if key != "PYTHONPATH"},
        check=False,
    )
    assert done.returncode == code, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the wheel, built without a network."""
    folder = tmp_path_factory.mktemp("wheel")
    run(sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", folder)
    (built,) = folder.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def scripts(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of the commands of a new environment that has the wheel.

    What the program depends on is taken from the environment that runs the tests.
    """
    home = tmp_path_factory.mktemp("installed")
    venv.create(home)
    scheme = {"base": str(home), "platbase": str(home)}
    commands = Path(sysconfig.get_path("scripts", "venv", scheme))
    install = ["install", "--no-index", "--no-deps", "--disable-pip-version-check"]
    run(sys.executable, "-m", "pip", "--python", commands / "python", *install, wheel)
    packages = Path(sysconfig.get_path("purelib", "venv", scheme))
    borrowed = {sysconfig.get_path("purelib"), sysconfig.get_path("platlib")}
    (packages / "borrowed.pth").write_text("\n".join(borrowed), "utf-8")
    return commands


def test_the_wheel_carries_every_problem_and_hint_and_module(wheel: Path) -> None:
    with ZipFile(wheel) as archive:
        carried = {name for name in archive.namelist() if "dist-info/" not in name}
    shipped = {
        *(path.relative_to(SOURCE) for path in (SOURCE).rglob("*.py")),
        *(path.relative_to(SOURCE) for path in (SOURCE).rglob("*.tcss")),
        *(
            Path("leverstep") / path.relative_to(ROOT)
            for path in (ROOT / "problems").rglob("*.toml")
        ),
        *(Path("leverstep") / path.relative_to(ROOT) for path in (ROOT / "hints").rglob("*.toml")),
    }
    assert {path.as_posix() for path in shipped} <= carried
    assert not [name for name in carried if not name.startswith("leverstep/")]


def test_the_installed_program_knows_its_version(scripts: Path, tmp_path: Path) -> None:
    told = run(scripts / "leverstep", "--version", cwd=tmp_path)
    assert told == f"leverstep {PROJECT['version']}\n"


def test_the_installed_program_lists_the_problems_it_carries(scripts: Path, tmp_path: Path) -> None:
    listed = run(scripts / "leverstep", "problems", cwd=tmp_path).splitlines()
    shipped = {path.stem for path in (ROOT / "problems").rglob("*.toml")}
    shipped -= {path.stem for path in (ROOT / "problems" / "retired").iterdir()}
    assert {line.split()[0] for line in listed} == shipped
    place = run(
        scripts / "python", "-c", "import leverstep; print(leverstep.__file__)", cwd=tmp_path
    )
    assert Path(place.strip()).is_relative_to(scripts.parent), "not the tutor of the checkout"


def test_the_installed_program_works_a_problem_out(scripts: Path, tmp_path: Path) -> None:
    options = ["working", "plain-wheelbarrow", "--seed", "1"]
    told = run(scripts / "leverstep", *options, cwd=tmp_path)
    assert "W_s = 54.0 kg × 9.81 m/s² = 529.7 N" in told


def test_the_installed_program_names_a_slip(scripts: Path, tmp_path: Path) -> None:
    check = ["check", "plain-wheelbarrow", "--seed", "1", "--step", "W_s", "54 N"]
    told = run(scripts / "leverstep", *check, cwd=tmp_path, code=1)
    assert told.startswith("Not yet. It looks like")


def test_the_wheel_carries_the_licence(wheel: Path) -> None:
    """Its name in the metadata, its text beside it, and whose it is."""
    with ZipFile(wheel) as archive:
        names = [name for name in archive.namelist() if ".dist-info/" in name]
        metadata = archive.read(next(n for n in names if n.endswith("/METADATA"))).decode()
        text = archive.read(next(n for n in names if n.endswith("/LICENSE"))).decode()
    assert "\nLicense-Expression: MIT\n" in metadata
    assert "\nAuthor: the leverstep authors\n" in metadata
    assert "Permission is hereby granted, free of charge" in text
    assert re.search(r"^Copyright \(c\) \d{4} the leverstep authors$", text, flags=re.M)
