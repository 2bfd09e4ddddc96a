"""Completion: each shell is asked what it would complete, with its script and the real program."""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from helpers.source import SOURCE
from helpers.terminals import Terminal
from leverstep.faces.commands.calls import every_command
from leverstep.faces.commands.cli import main
from leverstep.faces.commands.completion_cli import FREE, SHELLS, arguments

BEGUN = [
    ("leverstep prac", "practise"),
    ("leverstep drill ma", "mark"),
    ("leverstep practise elbow-pail-o", "elbow-pail-of-water"),
    ("leverstep practise plain-wheelbarrow --gui", "--guidance"),
    ("leverstep practise plain-wheelbarrow --guidance la", "landmarks"),
    ("leverstep problems --un", "--units"),
    ("leverstep problems --asks dist", "distance"),
    ("leverstep drill new my-l", "my-levers.toml"),
    ("leverstep drill new my-levers.toml wrist-ham", "wrist-hammer"),
    ("leverstep drill mark my-levers.toml my-rec", "my-records"),
    ("leverstep working my-l", "my-levers.toml"),
    ("leverstep board --plain knee-kn", "knee-kneecap"),
    ("leverstep completion fi", "fish"),
]
"""What is begun, and what alone its last word can become."""

LOAD = {
    "bash": ". ./script.bash",
    "zsh": 'autoload -Uz compinit; compinit -u -D; eval "$(cat script.zsh)"',
}
ALONE = {"bash": ["bash", "--norc", "-i"], "zsh": ["zsh", "-f", "-i"]}
"""The shells without anything of the user's own."""


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with the command, a script for each shell, and files to complete."""
    folder = tmp_path_factory.mktemp("place")
    (folder / "my-records").mkdir()
    (folder / "my-levers.toml").touch()
    command = folder / "bin" / "leverstep"
    command.parent.mkdir()
    places = f"LEVERSTEP_HOME={folder / 'home'} PYTHONPATH={SOURCE}"
    told = f'{places} exec {sys.executable} -m leverstep "$@"'
    command.write_text(f"#!/bin/sh\n{told}\n", encoding="utf-8")
    command.chmod(0o755)
    for shell in SHELLS:
        made = subprocess.run([command, "completion", shell], capture_output=True, check=True)
        (folder / f"script.{shell}").write_bytes(made.stdout)
    return folder


def path_with(place: Path) -> dict[str, str]:
    return {"PATH": f"{place / 'bin'}{os.pathsep}{os.environ['PATH']}"}


def is_there(shell: str) -> bool:
    """Return whether a shell can be asked; where it can't, it is truly absent."""
    found = shutil.which(shell) is not None
    assert found or not any((Path(f) / shell).exists() for f in ("/bin", "/usr/bin"))
    return found


@pytest.mark.parametrize("shell", ["bash", "zsh"])
def test_tab_completes(shell: str, place: Path) -> None:
    """In a shell of its own, where the lines are typed; nothing is asked where there is none."""
    if not is_there(shell):
        return
    with Terminal(
        home=place, program=ALONE[shell], quiet=0.1, ZDOTDIR=str(place), TERM="xterm",
        **path_with(place),
    ) as terminal:  # fmt: skip
        terminal.types(f"cd {place}; {LOAD[shell]}; set +o histexpand; echo rea''dy\r", "ready")
        for begun, becomes in BEGUN:
            # Tab, then the line is made the argument of a command that shows each word of it.
            terminal.types(f"{begun}\t", begun[-2:])
            terminal.types("\x01printf '<%s>' \x05 end\r", "<end>")
            shown = terminal.written.decode().rsplit("<leverstep>", 1)[1]
            assert shown.startswith("".join(f"<{word}>" for word in begun.split()[1:-1]))
            assert shown.split("<end>")[0].replace("/>", ">").endswith(f"<{becomes}>")


def test_fish_completes(place: Path) -> None:
    """Asked for all it would offer; nothing is asked where there is no fish."""
    if not is_there("fish"):
        return
    for begun, becomes in BEGUN:
        asked = ["fish", "--no-config", "-c", "source script.fish; complete -C $argv", begun]
        environment = os.environ | path_with(place) | {"HOME": str(place)}
        done = subprocess.run(asked, cwd=place, env=environment, capture_output=True, text=True)
        found = [line.split("\t")[0].rstrip("/") for line in done.stdout.splitlines()]
        assert found == [becomes]


def test_zsh_and_fish_complete_choices_of_several_words(place: Path) -> None:
    """Bash parts what it finds at spaces; there they are not offered."""
    for shell in SHELLS:
        script = (place / f"script.{shell}").read_text("utf-8")
        (line,) = (one for one in script.splitlines() if "SI" in one.split())
        assert ("SI 'US customary' 'mixed units'" in line) is (shell != "bash")
        assert ("customary" in line) is (shell != "bash")


def test_every_argument_is_completed_or_is_the_users_own() -> None:
    known = {"NAME", "PROBLEM", "FILE", "RECORDS", "PATH", "CSV", "DIR", "COMMAND", *FREE}
    named = {one.metavar for one in arguments(every_command()) if one.metavar}
    assert named == known


def test_every_command_is_in_every_script(place: Path) -> None:
    commands = [
        one for one in arguments(every_command()) if isinstance(one, argparse._SubParsersAction)
    ]
    names = {name for command in commands for name in command.choices}
    assert {"practise", "completion", "mark"} < names
    for shell in SHELLS:
        script = (place / f"script.{shell}").read_text("utf-8")
        assert [name for name in names if name not in script] == []


def test_a_shell_that_there_is_not_is_told_which_there_are(
    capsys: pytest.CaptureFixture[str],
) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["completion", "ksh"])
    assert ended.value.code == 2
    assert "expected one of" in (told := capsys.readouterr().err)
    assert all(shell in told for shell in SHELLS)
