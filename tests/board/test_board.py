"""The board shows the worked solution line by line, with reasons, and judges what a class says."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from helpers.drill_screens import all_text
from helpers.material import CATALOGUE, material
from helpers.pilots import settle
from helpers.source import SOURCE
from helpers.variety import VARIED
from leverstep.board.board import Board, BoardLine
from leverstep.course.shelf import load_shelf
from leverstep.faces.lines.board_line import BoardLines
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.board_screen import BoardScreen
from leverstep.faces.screens.entrances import Showing
from leverstep.faces.screens.home import HomeScreen
from leverstep.working.verdict import Outcome
from leverstep.working.writing import worked_line
from textual.pilot import Pilot
from textual.widgets import Digits, Static

SHELF = load_shelf()
PAIL = "elbow-full-pail"


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path))
    monkeypatch.delenv("NO_COLOR", raising=False)
    return tmp_path


def board_of(name: str = PAIL, seed: str = "7") -> Board:
    return Board(SHELF.find(name).question(seed), CATALOGUE)


@pytest.mark.parametrize("name", sorted(SHELF.problems))
def test_every_line_of_every_problem_has_a_reason_and_judges_itself_right(name: str) -> None:
    """A reason is one sentence without a gap; the line on the board, said by a class, is right."""
    board = board_of(name)
    question = board.question
    values = question.graph.values(question.numbers, {})
    for number, step in enumerate(question.derivation.asked):
        board.show(number)
        coming = board.next_line
        assert coming is not None
        assert coming.worked == worked_line(question, step, values)
        assert board.judge(coming.worked)[0].outcome is Outcome.RIGHT
        assert coming.reason.endswith(".")
        assert coming.reason.count(". ") == 0
        assert not set("{}") & set(coming.reason)
        assert len(coming.reason) <= 120
    board.show(board.count)
    assert board.next_line is None
    assert [line.key for line in board.lines] == [s.key for s in question.derivation.asked]


def test_it_goes_forward_and_back_and_no_further() -> None:
    board = board_of()
    board.show(-3)
    assert board.lines == ()
    board.show(99)
    assert len(board.lines) == board.count
    board.show(board.count - 1)
    assert board.next_line is not None
    assert board.next_line.name == "direction"
    assert set(board.found) < {step.key for step in board.question.derivation.steps}


def test_what_a_class_says_is_diagnosed_and_leaves_nothing() -> None:
    """Pounds left as newtons are told as such; the right line stands as before."""
    board = board_of()
    board.show(1)
    coming = board.next_line
    assert coming is not None
    verdict, told = board.judge("11.0 N")
    assert verdict.outcome is Outcome.WRONG
    assert "pounds" in told
    assert board.judge(coming.worked)[0].outcome is Outcome.RIGHT
    assert tuple(_all(board)) == tuple(_all(board_of()))


@pytest.mark.parametrize("name", VARIED)
def test_after_the_last_line_a_class_may_say_any_again(name: str) -> None:
    """Every third line of each: all were entered before, and what is between them goes alike."""
    board, first = board_of(name), VARIED.index(name) % 3
    board.show(board.count)
    named = [line for line in board.lines if line.worked.startswith(f"{line.name} =")]
    assert named
    for line in named[first::3]:
        verdict, told = board.judge(f"{line.name} = {line.value}")
        assert verdict.outcome in (Outcome.RIGHT, Outcome.SAME), (line, told)


def test_no_hint_is_promised_where_there_is_none() -> None:
    board = board_of()
    verdict, told = board.judge("33.3 N")
    assert verdict.outcome is Outcome.WRONG
    assert told == "Not yet, and no slip we know explains it."


def test_a_changed_given_changes_all_that_rests_on_it() -> None:
    """Half the distance of the load: 11.0 ÷ 2.205 × 9.81 × 0.175 = 8.564, by hand."""
    board = board_of()
    board.show(8)
    assert not board.changed
    before = {line.key: line for line in _all(board)}
    board.change("d_l = 17.5")
    assert board.changed
    assert board.shown == 8
    after = {line.key: line for line in _all(board)}
    assert before["W_l"] == after["W_l"]
    assert before["M_l"].value == "−17.13 N·m"
    assert after["M_l"].value == "−8.564 N·m"
    assert "17.5 cm" in board.question.statement


def _all(board: Board) -> Iterator[BoardLine]:
    shown = board.shown
    board.show(board.count)
    yield from board.lines
    board.show(shown)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("x = 3", r"not a number you can give here; expected β \(in deg\) or L"),
        ("d_l = -3", "d_l must be above 0"),
        ("theta = 95", "θ must be above 0 and up to 90°"),
        ("d_l = 3 N", 'd_l is asked for in "in"'),
        ("d_l = 3+", "d_l"),
        ("", "a given and its value are missing"),
    ],
)
def test_what_cannot_be_changed_is_told_and_changes_nothing(typed: str, said: str) -> None:
    board = board_of("elbow-tilted-forearm")
    with pytest.raises(ValueError, match=said):
        board.change(typed)
    assert not board.changed


def test_numbers_without_an_equilibrium_are_refused() -> None:
    """A seesaw whose helper would have to push down can't be shown."""
    board = board_of("plain-seesaw")
    with pytest.raises(ValueError, match="no equilibrium"):
        board.change("m_y = 500")
    assert not board.changed


def test_greek_letters_may_be_typed() -> None:
    board = board_of("elbow-tilted-forearm")
    board.change("θ = 30; m_l = 20 lb")
    assert "30.0° to the vertical" in board.question.statement
    assert "20.0 lb" in board.question.statement


def lines_of(*typed: str, name: str = PAIL) -> list[str]:
    """Return what the board says line by line, for what is typed."""
    said: list[str] = []
    answers = iter(typed)

    def listen(_: str) -> str:
        try:
            return next(answers)
        except StopIteration:
            raise EOFError from None

    BoardLines(board_of(name), said.append, listen).run()
    return said


def test_line_by_line_it_says_the_same() -> None:
    said = lines_of("", "11.0 N", "change d_l = 20 cm", "change d_l = 0", "lines", "back", "help")
    assert "W_f = 1.65 kg × 9.81 m/s² = 16.19 N." in said
    assert any("pounds" in line for line in said)
    assert "Changed: all lines are updated. Type lines to hear them." in said
    assert "Not changed: d_l must be above 0." in said
    assert "0 of 16 lines are shown." in said
    assert all("\x1b" not in line for line in said)
    for word in ("stop", "quit"):
        asked, ended = lines_of(word)[-2:]
        assert asked.startswith("Next: W_f.")
        assert ended == "Stopped."


def test_what_stands_is_heard_again_with_its_reason_and_its_name() -> None:
    """An equation and a word say their name; before the first line there is a sentence too."""
    assert lines_of("lines").count("No line is on the board yet.") == 1
    assert lines_of("again").count("No line is on the board yet.") == 1
    said = lines_of("", "again")
    assert said.count("W_f = 1.65 kg × 9.81 m/s² = 16.19 N.") == 2
    board = board_of()
    board.show(1)
    assert said.count(board.lines[0].reason) == 2
    every = lines_of(*[""] * 25, "lines", name="elbow-tilted-forearm")
    assert every.count("class: third.") == 2
    assert sum(line.startswith("equation: −P_f") for line in every) == 2
    assert sum(line.startswith("gamma_m = ") for line in every) == 2
    assert not any("γ" in line or "θ" in line for line in every)


async def test_keys_turn_lines_and_the_picture_follows() -> None:
    app = LeverstepApp(material(SHELF), Showing(SHELF.find(PAIL).question("7")))
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await _ready(pilot)
        assert "A groom" in str(screen.query_one("#statement", Static).render())
        await pilot.press("right", "space")
        assert screen.board is not None
        assert screen.board.shown == 2
        assert screen.query_one("#value", Digits).value == "48.94 N"
        assert "multiplied by g" in str(screen.query_one("#reason", Static).render())
        assert "Next: L." in str(screen.query_one("#next", Static).render())
        await pilot.press("left", "pagedown", "pageup")
        assert screen.board.shown == 1
        await pilot.press("f2")
        await settle(pilot)
        assert "    The class says: as a student would type it" in all_text(pilot)
        await pilot.press(*"11 N", "enter")
        await pilot.pause()
        assert "pounds" in str(screen.query_one("#said", Static).render())
        await pilot.press("escape", "f3")
        await settle(pilot)
        assert "    Given: its symbol, and its new value" in all_text(pilot)
        await pilot.press(*"d_l=17.5", "enter")
        await pilot.pause()
        assert screen.board.changed
        assert "some changed" in str(screen.query_one("#title", Static).render())
        await pilot.press("end")
        assert screen.board.shown == screen.board.count
        assert "The class says" not in all_text(pilot)
        await pilot.press("escape")
        assert isinstance(app.screen, HomeScreen)


async def _ready(pilot: Pilot[int]) -> BoardScreen:
    """Wait until the lines are worked out."""
    while not (isinstance(pilot.app.screen, BoardScreen) and pilot.app.screen.board):
        await pilot.pause(0.02)
    return pilot.app.screen


def test_the_command_shows_it_without_a_terminal(home: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "leverstep", "board", PAIL, "--seed", "7"],
        input="\n\n",
        capture_output=True,
        text=True,
        encoding="utf-8",
        env={"PYTHONPATH": str(SOURCE), "LEVERSTEP_HOME": str(home)},
        check=True,
    )
    assert "W_l = 11.0 lb ÷ 2.205 lb/kg × 9.81 m/s² = 48.94 N." in done.stdout
    assert done.stderr == ""
