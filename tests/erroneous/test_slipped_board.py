"""Somebody else's working before a class: line by line, until the class names the wrong one."""

from __future__ import annotations

import pytest
from helpers.drills import SHELF
from helpers.material import CATALOGUE, material
from helpers.pilots import press, settle
from leverstep.erroneous.slipped_board import SlippedBoard
from leverstep.faces.lines.board_line import BoardLines
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.board_screen import BoardScreen
from leverstep.faces.screens.entrances import Showing
from leverstep.working.verdict import Outcome
from textual.widgets import Static

QUESTION = SHELF.problems["elbow-full-pail"].question("1")
RIGHT = "Yes. The slip: the fraction of another length. "


def board() -> SlippedBoard:
    return SlippedBoard(QUESTION, CATALOGUE)


def test_the_lines_are_those_of_somebody_else() -> None:
    one = board()
    one.show(one.count)
    assert [line.worked for line in one.lines] == [line.text for line in one.other.lines]
    assert one.found["F_m"] == one.other.values["F_m"]
    assert one.lines[5].value == "0.2455 m"


@pytest.mark.parametrize(
    ("said", "outcome", "told"),
    [
        ("d_f", Outcome.RIGHT, RIGHT),
        ("D_F", Outcome.RIGHT, RIGHT),
        ("L", Outcome.WRONG, "No. L is right."),
        ("F_m", Outcome.WRONG, "No. F_m is worked out rightly from a line before it"),
        ("equation", Outcome.WRONG, "No. equation is right."),
        ("0.24 m", Outcome.UNREAD, "Name a line by its symbol."),
    ],
)
def test_a_class_names_a_line(said: str, outcome: Outcome, told: str) -> None:
    verdict, answer = board().judge(said)
    assert verdict.outcome is outcome
    assert answer.startswith(told)


def test_the_right_line_is_told_with_the_slip() -> None:
    _, told = board().judge("d_f")
    assert told.endswith("Right: d_f = 0.682 × 0.2400 = 0.1637 m.")


def test_another_given_has_a_slip_of_its_own_or_is_refused() -> None:
    one = board()
    one.change("m_l = 20 lb")
    assert one.changed
    assert one.other.question is one.question


def test_it_is_heard_line_by_line() -> None:
    said: list[str] = []
    typed = iter(["", "lines", "d_f", "stop"])
    BoardLines(board(), said.append, lambda _: next(typed)).run()
    assert "Next: W_f. Say which line is the first that is wrong, by its symbol." in said
    assert any(line.startswith(RIGHT) for line in said)


def test_with_two_slips_either_line_is_right_by_its_own() -> None:
    one = SlippedBoard(QUESTION, CATALOGUE, slips=2)
    assert "Say which two lines have a slip of their own, by their symbols." in one.asks
    assert one.judge("d_f")[1].startswith(RIGHT)
    verdict, told = one.judge("M_l")
    assert verdict.outcome is Outcome.RIGHT
    assert told.startswith("Yes. The slip: divided by the arm. ")
    verdict, told = one.judge("M_f")
    assert (verdict.outcome, told[:3]) == (Outcome.WRONG, "No.")


async def test_it_is_seen_line_by_line(tmp_path: object, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path))
    app = LeverstepApp(material(SHELF), Showing(QUESTION, slips_to_find=1))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = pilot.app.screen
        assert isinstance(screen, BoardScreen)
        await press(pilot, "end")
        assert "616.8 N" in str(screen.query_one("#lines", Static).content)
        await press(pilot, "f2", *"d_f", "enter")
        assert RIGHT in str(screen.query_one("#said", Static).content)
