"""Files of authors that mean harm: each is told as a fault, at once and with little memory."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterable
from itertools import islice
from pathlib import Path

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


Call = tuple[str, list[Path]]
"""A command, and the files that it is called for, one after the other."""


def called(calls: list[Call], home: Path) -> list[list[dict[str, object]]]:
    """Return what came of each call for each path, all in one process with little memory."""
    asked = home_after_a_start(home) / "calls.json"
    asked.write_text(json.dumps([(command, [*map(str, paths)]) for command, paths in calls]))
    done = subprocess.run(
        [sys.executable, str(TESTS / "helpers" / "hostile_files.py"), str(asked)],
        env=os.environ
        | {
            "PYTHONPATH": os.pathsep.join([str(SOURCE), str(TESTS)]),
            "LEVERSTEP_HOME": str(home),
        },
        stdin=subprocess.DEVNULL,
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    lines = iter([json.loads(line) for line in done.stdout.splitlines()])
    told = [[*islice(lines, len(paths) + 1)][1:] for _, paths in calls]
    for (command, paths), came in zip(calls, told, strict=True):
        ended = f"{command}: {len(came)} of {len(paths)}: {done.stderr[-2000:]}"
        assert len(came) == len(paths), ended
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


def test_a_hostile_file_is_told_as_a_fault_at_once(tmp_path: Path) -> None:
    """Each command reads it as another does and goes on, or reads it in a way of its own."""
    paths = {name: tmp_path / f"{number}.toml" for number, name in enumerate(FILES)}
    for name, path in paths.items():
        path.write_bytes(FILES[name])
    tried = [
        ("vet", FILES),
        ("vet --json", short_ones()),  # read as by `vet`
        ("drill preview", FILES),
        ("drill sit --plain --student s01", short_ones()),  # read as by `drill preview`
    ]
    calls = [(command, [paths[name] for name in names]) for command, names in tried]
    for (command, names), told in zip(tried, called(calls, tmp_path / "home"), strict=True):
        assert wrong(names, told, 2) == [], command


CHECK = "check elbow-full-pail 48.9 --step W_l --seed 7 --library"


def test_a_hostile_file_in_a_folder_of_ones_own_is_left_out(tmp_path: Path) -> None:
    """The same file as a problem and as hints."""
    folders = {name: tmp_path / f"{number}" for number, name in enumerate(FILES)}
    for name, folder in folders.items():
        for kind in ("problems", "hints"):
            (folder / kind).mkdir(parents=True)
            (folder / kind / "good.toml").write_bytes(FILES[name])
    short = [folders[name] for name in short_ones()]
    calls = [(CHECK, [*folders.values()]), ("problems --library", short)]  # read as by `check`
    checked, listed = called(calls, tmp_path / "home")
    assert wrong(FILES, checked, 1) == []
    assert wrong(short_ones(), listed, 0) == []
    assert all("good.toml: " in str(one["said"]) for one in (*checked, *listed))
