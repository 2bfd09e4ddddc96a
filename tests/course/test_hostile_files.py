"""Files of authors that mean harm: each is told as a fault, at once and with little memory."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path

import pytest
from helpers.homes import home_after_a_start
from helpers.hostile_files import files
from helpers.source import SOURCE, TESTS

FILES = dict(files())
MOST_SECONDS = 0.9
"""A second for the whole command, less the time for what ships, which is read once here."""

MOST_TOLD = 40_000
"""Characters that one file may lead to."""

SHORT = 5_000
"""Bytes of a file that is read soon."""


def short_ones() -> dict[str, bytes]:
    """Return the files that are read soon, for commands that read as another does, and then go on
    in a way of their own.
    """
    return {name: data for name, data in FILES.items() if len(data) < SHORT}


def called(command: str, paths: list[Path], home: Path) -> list[dict[str, object]]:
    """Return what came of a command for each path, all in one process with little memory."""
    program = str(TESTS / "helpers" / "hostile_files.py")
    done = subprocess.run(
        [sys.executable, program, command, *map(str, paths)],
        env=os.environ
        | {
            "PYTHONPATH": os.pathsep.join([str(SOURCE), str(TESTS)]),
            "LEVERSTEP_HOME": str(home_after_a_start(home)),
        },
        stdin=subprocess.DEVNULL,
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    told = [json.loads(line) for line in done.stdout.splitlines()][1:]
    assert len(told) == len(paths), f"{len(told)} of {len(paths)}: {done.stderr[-2000:]}"
    return told


def wrong(names: Iterable[str], told: list[dict[str, object]], code: int) -> list[str]:
    """Return what was not told in a sentence or two, and what took long."""
    found = []
    for name, one in zip(names, told, strict=True):
        said, seconds = str(one["said"]), float(str(one["seconds"]))
        lines = said.split("\n")
        if one["code"] != code:
            found.append(f"{name}: {one['code']}: {said[:300]}")
        if seconds > MOST_SECONDS:
            found.append(f"{name}: {seconds:.1f} s")
        if not 0 < len(said) < MOST_TOLD:
            found.append(f"{name}: {len(said)} characters: {said[:200]}")
        if not all(line.isprintable() for line in lines) or "Traceback" in said:
            found.append(f"{name}: {said[:300]!r}")
    return found


@pytest.mark.parametrize(
    ("command", "files"),
    [
        ("vet", FILES),
        ("vet --json", short_ones()),  # read as by `vet`
        ("drill preview", FILES),
        ("drill sit --plain --student s01", short_ones()),  # read as by `drill preview`
    ],
    ids=["vet", "json", "preview", "sit"],
)
def test_a_hostile_file_is_told_as_a_fault_at_once(
    command: str, files: dict[str, bytes], tmp_path: Path
) -> None:
    paths = []
    for number, data in enumerate(files.values()):
        paths.append(tmp_path / f"{number}.toml")
        paths[-1].write_bytes(data)
    assert wrong(files, called(command, paths, tmp_path / "home"), 2) == []


CHECK = "check elbow-full-pail 48.9 --step W_l --seed 7 --library"


@pytest.mark.parametrize(
    ("command", "code", "files"),
    [(CHECK, 1, FILES), ("problems --library", 0, short_ones())],  # read as by `check`
    ids=["check", "problems"],
)
def test_a_hostile_file_in_a_folder_of_ones_own_is_left_out(
    command: str, code: int, files: dict[str, bytes], tmp_path: Path
) -> None:
    """The same file as a problem and as hints."""
    paths = []
    for number, data in enumerate(files.values()):
        paths.append(tmp_path / f"{number}")
        for kind in ("problems", "hints"):
            (paths[-1] / kind).mkdir(parents=True)
            (paths[-1] / kind / "good.toml").write_bytes(data)
    told = called(command, paths, tmp_path / "home")
    assert wrong(files, told, code) == []
    assert all("good.toml: " in str(one["said"]) for one in told)
