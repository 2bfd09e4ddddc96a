"""Exploring line by line: the same as on the screen, in words."""

from __future__ import annotations

import io
from collections.abc import Iterable
from pathlib import Path

import pytest
from leverstep.course.shelf import load_shelf
from leverstep.explore.answers import ANSWERS
from leverstep.explore.exploration import Exploration
from leverstep.faces.commands.cli import main
from leverstep.faces.lines.explore_line import ExploreLines
from leverstep.faces.lines.verbs import Place, help_of, verbs_at
from leverstep.faces.terminal import STOP
from leverstep.working.cautions import CAUTION

SHELF = load_shelf()
PAIL = "elbow-full-pail"


def heard(lines: Iterable[str], name: str = PAIL, sweeps: bool = False) -> list[str]:
    """Return what is said to some lines, the end of the input after them."""
    typed, said = iter(lines), list[str]()

    def listen(prompt: str) -> str:
        said.append(prompt)
        try:
            return next(typed)
        except StopIteration:
            raise EOFError from None

    exploration = Exploration(SHELF.problems[name].question("7"))
    ExploreLines(exploration, said.append, listen).run(sweeps)
    return said


def after(said: list[str], *, count: int = 1) -> list[str]:
    """Return what was said from one prompt on up to the next."""
    places = [place for place, line in enumerate(said) if line == "Explore: "]
    end = places[count] if count < len(places) else len(said)
    return [line for line in said[places[count - 1] + 1 : end] if line]


@pytest.mark.parametrize("word", STOP)
def test_a_word_that_leaves_does_so_at_every_prompt(word: str) -> None:
    assert heard([word, "own"])[-2:] == ["Explore: ", "Stopped."]
    said = heard(["ask", word, word, "own"])
    assert "You have left the question." in said
    assert said[-2:] == ["Explore: ", "Stopped."]


def test_it_begins_with_the_problem_its_results_and_the_caution() -> None:
    said = heard([])
    assert said[0] == "A pail in the hand, numbers 7."
    assert said[2] == f"Caution: {CAUTION}"
    assert "F_m, force of the elbow flexors, 434 N." in said
    assert "R, joint reaction, 368 N, down." in said
    assert said[-2:] == ["", "Stopped."]


def test_a_given_is_changed_by_typing_it_and_results_follow() -> None:
    said = heard(["d_l = 40 cm", "d_l = 0,35 m", "d_l = 12 lb", "d_l = 400", "x = 3", "own"])
    first = after(said)
    assert first[0] == "d_l 40.0 cm, in place of 35.0 cm."
    assert first[1] == "F_m, force of the elbow flexors, 487 N: × 1.12, from 434 N."
    assert after(said, count=2)[0] == "F_m, force of the elbow flexors, 434 N."
    assert after(said, count=3)[0].startswith('Not changed: d_l is asked for in "cm"; found')
    assert after(said, count=4)[0].startswith("Not changed: d_l may be from 5.0 cm to 90.0 cm.")
    assert after(said, count=5)[0].startswith('Not changed: "x" is not a number you can give here')
    assert after(said, count=6)[0] == "All givens have the problem's own values again."


def test_nothing_is_changed_where_one_of_several_can_not_be() -> None:
    said = heard(["d_l = 40 cm; d_m = 500 cm", ""])
    assert after(said)[0].startswith("Not changed: d_m may be from")
    assert after(said, count=2)[0] == "F_m, force of the elbow flexors, 434 N."


def test_what_the_plot_shows_is_told_over_any_given() -> None:
    said = heard(["over theta", "over d_x", "theta = 90 deg"], "hip-one-leg-stance")
    told = after(said)
    assert told[0].startswith("theta, hip abductors to the vertical, goes from 1.0° to 90.0°")
    assert (
        "At theta = 90.0° the line of action of F_m passes through the hip: it has no moment there."
        in told
    )
    assert any(line.startswith("F_m is twice as large") for line in told)
    assert after(said, count=2)[0].startswith("Not done: no given d_x")
    assert after(said, count=3) == [
        "There is no equilibrium with these numbers: "
        "the line of action of F_m passes through the hip."
    ]


def test_a_question_is_predicted_before_its_answer_is_told() -> None:
    first = Exploration(SHELF.problems[PAIL].question("7")).predictions[0]
    assert first.movable.sign == "d_l"
    number = ANSWERS.index(first.answer) + 1
    said = heard(["ask", "9", str(number), "ask", ""])
    asks = first.asks.replace("→", "to")
    asked = said.index(asks)
    assert said[asked + 1 : asked + 8] == [f"{n}: it {a}." for n, a in enumerate(ANSWERS, 1)]
    assert said[asked + 9].startswith("Type a number from 1 to 7; ask says the question again")
    told = said.index(first.told(first.answer))
    assert told > asked + 9
    assert said[told].startswith("Yes. F_m goes from 434 N to ")
    assert "You have left the question." in said
    again = heard(["ask", "ask", "stop", "quit"])
    assert again.count(asks) == 2
    assert again[-4:] == ["You have left the question.", "", "Explore: ", "Stopped."]


def test_the_picture_is_told_with_the_numbers_as_they_are_now() -> None:
    said = after(heard(["d_l = 40 cm", "problem"]), count=2)
    assert "hangs 35.0 cm from the elbow" in said[1]
    assert any(
        line.endswith("acts at d_l, 40.0 cm from the elbow, pointing straight down.")
        for line in said
    )
    assert not any(
        letter in line for line in heard(["givens"], "elbow-tilted-forearm") for letter in "βθ"
    )


@pytest.mark.parametrize("name", sorted(SHELF.problems))
def test_every_problem_is_told_and_asked_about(name: str) -> None:
    """Every line is words without control signs, and every given may be typed at its ends."""
    exploration = Exploration(SHELF.problems[name].question("7"))
    one = exploration.over
    typed = [f"{one.given.sign} = {float(one.span.low)}", f"over {one.sign}", "own", "ask", "1"]
    said = heard([*typed, "givens", "help", "stop"], name)
    assert all(line.isprintable() for line in said)
    assert not any(line.startswith("Not ") for line in said if not line.startswith("Not quite: "))
    assert sum(line.startswith(("Yes. ", "Not quite: ")) for line in said) == 1
    told = help_of(verbs_at(Place.EXPLORING))
    assert len(told) == 8
    assert {*told, f"Caution: {CAUTION}"} <= set(said)


def test_the_command_explores_from_what_is_piped_in(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path))
    monkeypatch.setattr("sys.stdin", io.StringIO("d_l = 40 cm\nstop\n"))
    assert main(["explore", PAIL, "--seed", "7", "--over", "d_l"]) == 0
    out = capsys.readouterr().out
    assert "F_m is twice as large, 867 N, at d_l = 75.8 cm." in out
    assert "487 N: × 1.12, from 434 N." in out


def test_a_share_is_changed_by_a_bare_number() -> None:
    """What `over` takes and `givens` lists can be changed by its name too."""
    said = heard(["d_f = 0.5", "d_f = 0.5 m", "d_f = 7", "own"])
    assert any("d_f = 0.500 of L" in line or "0.5 of L" in line for line in after(said))
    assert any("asked for as a number without a unit" in line for line in after(said, count=2))
    assert any("may be from" in line for line in after(said, count=3))
