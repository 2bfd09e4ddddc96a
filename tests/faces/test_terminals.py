"""Kinds of terminals, and programs that hold one, with the real program in each."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from time import monotonic, sleep

import pytest
from helpers.drills import SHELF, drill_file, let_pass
from helpers.material import CATALOGUE
from helpers.records import fields_in
from helpers.source import SOURCE
from helpers.terminals import (
    COLOUR,
    CTRL_Q,
    PATIENCE,
    Terminal,
    been_here,
    colours,
    through_a_problem,
)
from leverstep.drill.drill_file import read_drill
from leverstep.drill.sitting import Sitting

CTRL_A, CTRL_K = "\x01", "\x0b"
FIRST = "Heels just off the floor"


def check_colours(kind: str, written: bytes) -> None:
    """Check that only the sixteen colours by number are on the wire where there are no more."""
    used = {number for numbers in colours(written) for number in numbers}
    many = b"38;5;" in written or b"38;2;" in written
    assert many is ("256color" in kind)
    if many:
        assert [38, 5] in [numbers[-6:-4] for numbers in colours(written)]
    else:
        assert not used & {38, 48}
        assert used & COLOUR


@pytest.mark.parametrize("kind", ["xterm-256color", "linux", ""])
def test_a_problem_can_be_worked_in_any_kind_of_terminal(kind: str, tmp_path: Path) -> None:
    """Also where `TERM` is empty: then with the sixteen colours all of them have.

    An empty NO_COLOR asks for nothing.
    """
    with Terminal(home=tmp_path, TERM=kind, NO_COLOR="") as terminal:
        through_a_problem(terminal)
    check_colours(kind, terminal.written)
    used = {number for numbers in colours(terminal.written) for number in numbers}
    assert "256color" in kind or used & COLOUR > {31, 35}


IN_EACH_KIND = """
import os, sys
from leverstep.faces.commands.cli import main
for kind in sys.argv[1:]:
    os.environ["TERM"] = kind
    print("ended with", main([]), flush=True)
"""


def test_it_opens_in_any_other_kind_of_terminal(tmp_path: Path) -> None:
    """Once it has opened nothing goes by the kind any more but the colours, chosen by then.

    One kind after the other, since most of a start is loading what is the same in all.
    """
    kinds = ["screen", "screen-256color", "tmux-256color", "xterm", "vt100", "of-no-kind"]
    program = [sys.executable, "-c", IN_EACH_KIND, *kinds]
    with Terminal(home=tmp_path, program=program, NO_COLOR="") as terminal:
        for kind in kinds:
            before = len(terminal.written)
            terminal.shows(FIRST, before)
            terminal.types(CTRL_Q, "\x1b[?1049l")
            terminal.shows("ended with 0", before)
            check_colours(kind, terminal.written[before:])
        assert terminal.ends() == 0


@pytest.mark.parametrize("plain", [True, False])
def test_bytes_that_are_no_utf_8_are_no_crash(plain: bool, tmp_path: Path) -> None:
    """As a terminal set to Latin-1 sends a degree sign; half a sign is none either.

    One after the other in one program, each where a line that can be read stood.
    """
    call = ["practise", "elbow-full-pail"]
    clear = "" if plain else CTRL_A + CTRL_K
    with Terminal(*call, *["--plain"] * plain, home=tmp_path) as terminal:
        terminal.shows("ine 1 of")
        odd = (b"45\xb0", b"\xff\xfe", b"45\xc2", b"\xed\xa0\x80", b"\xf0\x9f")
        for place, typed in enumerate(odd):
            terminal.types(typed + b"\r", "this character has no meaning here")
            terminal.types(f"{clear}{place}.99 N\r", "ot yet")
            terminal.types(clear, "")
        terminal.types(b"stop\r" if plain else CTRL_Q, "kept" if plain else "\x1b[?1049l")
        assert terminal.ends() == 0
    assert b"Traceback" not in terminal.written


@pytest.mark.parametrize("colours", [{}, {"NO_COLOR": "1"}])
def test_no_text_on_the_full_screen_commands_the_terminal(
    colours: dict[str, str], tmp_path: Path
) -> None:
    """Neither what is pasted nor the name of a folder; nor does it turn a line round."""
    odd = "\u202e\x9bc"
    folder = tmp_path / f"\x1b]0;b{odd}"
    folder.mkdir()
    call = ["drill", "sit", str(drill_file(folder)), "--student", "s01"]
    with Terminal(*call, home=folder, **colours) as terminal:
        terminal.shows("Levers")
        terminal.types("\r", "W_s")
        terminal.types(f"\x1b[200~12{odd} N\x1b[201~", "12??c N")
        terminal.types("\r", "this character has no meaning here")
        terminal.types(CTRL_Q, "?]0;b??c")
        assert terminal.ends() == 0
    with Terminal("drill", "sit", f"{folder.name}.toml", home=folder, **colours) as asking:
        asking.shows("there is no such file")
        asking.shows("/]0;bc.toml")
        asking.types(CTRL_Q, "\x1b[?1049l")
        assert asking.ends() == 0
    for sign in ("\x1b]0;b", "\u202e", "\x9b"):
        assert sign.encode() not in terminal.written + asking.written


@pytest.mark.parametrize("kind", ["dumb", "unknown"])
def test_where_there_is_no_full_screen_the_lines_are_plain(kind: str, tmp_path: Path) -> None:
    """It is said why, once and before anything else, and what to type to have it so."""
    with Terminal(home=tmp_path, TERM=kind) as terminal:
        terminal.shows("Type a joint")
        terminal.types("elbow\r", "Type the number")
        terminal.types("1\r", "Line 1")
        terminal.types("stop\r", "kept")
        terminal.types("stop\r", "Stopped.")
        assert terminal.ends() == 0
    told = f"TERM={kind} has no full screen: here are plain lines, as --plain gives them.\r\n"
    assert terminal.written.decode().startswith(told)
    assert terminal.written.count(b"--plain") == 1
    assert b"\x1b" not in terminal.written


@pytest.fixture
def left(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[int], Terminal]:
    """Return what goes on with a sitting that has some seconds left once it is open."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path))
    path = drill_file(tmp_path, "minutes = 2")
    sitting = Sitting.start(read_drill(path, SHELF.problems), CATALOGUE, "s01")

    def go_on(seconds: int) -> Terminal:
        let_pass(sitting, 60 * 2 - seconds)
        sitting.pause()
        return Terminal("drill", "sit", str(path), "--plain", "--student", "s01", home=tmp_path)

    return go_on


def test_the_time_is_told_while_a_line_is_typed_and_nothing_typed_is_lost(
    left: Callable[[int], Terminal],
) -> None:
    """By ear, in a real terminal, which holds what is typed; without control signs."""
    with left(60 + 3) as terminal:
        terminal.shows("stop leaves: ")
        terminal.types("\r", "W_s: ")
        terminal.types("1.0", "1.0")
        terminal.shows("1 minute is left.\r\nW_s: ")
        terminal.types("0 N\r", "Not yet")
        terminal.types("lines\r", "W_s: 1.00 N. Not yet")
        terminal.types("stop\r", "it is not handed in")
        assert terminal.ends() == 0
    assert b"\x1b" not in terminal.written


def test_what_there_is_is_handed_in_when_the_time_is_up(
    left: Callable[[int], Terminal], tmp_path: Path
) -> None:
    """Though nobody types anything."""
    with left(3) as terminal:
        terminal.shows("stop leaves: ")
        terminal.types("\r", "W_s: ")
        terminal.shows("Time is up; what has been saved is handed in. Press Enter for the result.")
        (record,) = tmp_path.rglob("s01-*.jsonl")
        assert fields_in(record)[-1]["kind"] == "end"
        terminal.types("\r", "Handed in: Levers, of s01")
        assert terminal.ends() == 0


def command(home: Path) -> str:
    """Return what is typed to start the tutor within another program."""
    return f"env LEVERSTEP_HOME={been_here(home)} PYTHONPATH={SOURCE} {sys.executable} -m leverstep"


def wait_for(shown: Callable[[], str], text: str) -> None:
    """Wait until a text is on a screen."""
    deadline = monotonic() + PATIENCE
    while text not in (screen := shown()):
        assert monotonic() < deadline, screen
        sleep(0.1)


def test_within_tmux(tmp_path: Path) -> None:
    """A problem is worked in a window of tmux, on a server of its own; nothing where it is not."""
    if (tmux := shutil.which("tmux")) is None:
        assert not Path("/usr/bin/tmux").exists()
        return
    socket = str(tmp_path / "socket")

    def ask(*arguments: str) -> str:
        asked = [tmux, "-f", os.devnull, "-S", socket, *arguments]
        return subprocess.run(asked, capture_output=True, check=True, text=True).stdout

    def shown() -> str:
        return ask("capture-pane", "-p", "-J")  # a line that is broken at the edge is one

    ask("new-session", "-d", "-x", "80", "-y", "24", "sh")
    try:
        ask("send-keys", command(tmp_path), "Enter")
        wait_for(shown, FIRST)
        ask("send-keys", "Enter")
        wait_for(shown, "line 1 of")
        ask("send-keys", "9.99 N", "Enter")
        wait_for(shown, "ot yet")
        ask("send-keys", "F2")
        wait_for(shown, "Hint 1")
        ask("send-keys", "C-q")
        wait_for(shown, "-m leverstep")  # what was there before is there again
        wait_for(lambda: ask("display-message", "-p", "#{pane_current_command}"), "sh")
    finally:
        ask("kill-server")


def test_within_gnu_screen(tmp_path: Path) -> None:
    """A problem is worked in a window of GNU Screen; nothing where it is not."""
    if (screen := shutil.which("screen")) is None:
        assert not Path("/usr/bin/screen").exists()
        return
    folder = tmp_path / "S"
    folder.mkdir(mode=0o700)
    with Terminal(home=tmp_path, program=[screen, "-c", os.devnull, "sh"],
                  SCREENDIR=str(folder)) as terminal:  # fmt: skip
        terminal.types(f"{command(tmp_path)}\r", FIRST)
        terminal.types("\r", "line 1 of")
        terminal.types("9.99 N\r", "ot yet")
        terminal.types(CTRL_Q, "")
        terminal.types("echo it is o''ver\r", "it is over")
        terminal.types("exit\r", "terminating")
        assert terminal.ends() == 0
