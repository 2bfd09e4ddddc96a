"""The command that writes a problem to start from: what it asks, refuses and writes."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from leverstep.course.problem_file import read_problem
from leverstep.faces.commands.cli import main

Ask = Callable[..., int]
LOAD = ("pail", "2 to 4 kg", "30 cm", "")
EFFORT = ("elbow flexors", "4 cm", "", "")


@pytest.fixture
def ask(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Ask:
    """Return what runs `problems --new my-pail.toml`, with answers as they are typed."""

    def asked(*answers: str, name: str = "my-pail.toml") -> int:
        typed: Iterator[str] = iter(answers)

        def listen(prompt: str) -> str:
            print(prompt, end="")
            try:
                return next(typed)
            except StopIteration:
                raise EOFError from None

        monkeypatch.setattr("builtins.input", listen)
        done = main(["problems", "--new", str(tmp_path / name)])
        assert not list(typed), "all that is typed was asked for"
        return done

    return asked


def test_enter_alone_takes_what_is_usual(
    ask: Ask, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ask("", "", "", "arm", "pivot", "", "", *LOAD, "", *EFFORT) == 0
    problem = read_problem(tmp_path / "my-pail.toml")
    assert (problem.title, problem.joint, problem.axis) == ("my-pail", "plain", "pivot")
    assert [force.symbol for force in problem.posture.forces] == ["W_p", "F_m"]
    assert "`leverstep vet` finds no fault." in capsys.readouterr().out


def test_what_can_not_be_used_is_asked_for_again(
    ask: Ask, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ask(
        "A pail", "ebow", "elbow", "efort", "effort", "", "fore{arm}", "forearm", "", "lef", "left",
        "120", "20 to 30", "horizontal", "falls", *LOAD[:1], "4", "4 kgs", "4 kg", "30", "30 cm",
        "fa", "near",
        "cup", "3,5 N", "20 cm", "", "horizontal", "down", "", "elbow flexors", "4 cm", "", "down",
        "angle", "70", "", "", "above",
    ) == 0  # fmt: skip
    said = capsys.readouterr().out
    for told in (
        'No problem has this joint (did you mean "elbow"?). Type it again for a new one.',
        'moment sum, reaction, other (did you mean "effort"?).',
        "A name is needed.",
        "A name has up to 40 letters, digits, spaces and hyphens.",
        'Type right, left (did you mean "left"?).',
        "An angle is at most 90 degrees; which way is asked for next.",
        "Found 4: it has no unit. Units are kg, g, lb,",
        'Found 4 kgs: kgs is no unit here (did you mean "kg"?).',
        "the effort turns the same way as every load; expected an effort against some load.",
    ):
        assert told in said
    problem = read_problem(tmp_path / "my-pail.toml")
    posture = problem.posture
    assert (
        posture.points,
        posture.rises,
        problem.ranges["W_c" if "W_c" in problem.ranges else "given_F_c"].low,
    ) == ("left", False, 3.5)
    assert posture.effort is not None
    assert posture.effort.direction.angle is not None


def test_a_load_may_be_what_is_to_be_found(
    ask: Ask, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Enter alone for one size, and the effort has one of its own."""
    found = ("box", "", "30 cm", "", "")
    effort = ("hand", "200 N", "50 cm", "", "")
    assert ask("", "", "load", "arm", "pivot", "", "", *LOAD, "", *found, "", *effort) == 0
    assert "press Enter alone where its size is asked for" in capsys.readouterr().out
    problem = read_problem(tmp_path / "my-pail.toml")
    assert problem.posture.balancing is problem.posture.loads[1]


def test_an_angle_may_be_to_the_vertical_and_a_direction_a_bearing(
    ask: Ask, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    cord = ("cord", "80 N", "30 cm", "", "bearing", "80 to 110", "180", "120 to 130")
    seen = ("", "", "moment", "arm", "pivot", "", "20 to 35", "vertical", "", *cord, *LOAD, "")
    assert ask(*seen) == 0
    told = capsys.readouterr().out
    assert told.count("A bearing lies between two of 0, 90, 180, 270 and 360 degrees.") == 2
    assert "`leverstep vet` finds no fault." in told
    problem = read_problem(tmp_path / "my-pail.toml")
    assert problem.posture.inclined_to == "vertical"
    assert problem.posture.loads[0].direction.reference == "bearing"
    statement = problem.question("1").statement
    assert "to the vertical." in statement
    assert "measured anticlockwise from the right" in statement


@pytest.mark.parametrize("find", ["moment", "moment sum"])
def test_a_moment_has_no_effort(find: str, ask: Ask, tmp_path: Path) -> None:
    assert ask("", "", find, "arm", "pivot", "", "", *LOAD, "") == 0
    assert read_problem(tmp_path / "my-pail.toml").asks in ("net moment", "moment")


def test_a_reaction_asks_for_no_distance(ask: Ask, tmp_path: Path) -> None:
    cords = ("left cord", "40 N", "angle", "30", "horizontal", "left", "above")
    more = ("box", "5 kg", "right cord", "30 N", "right", "")
    assert ask("", "", "reaction", "ring", "middle", "", "", *cords, *more) == 0
    assert read_problem(tmp_path / "my-pail.toml").asks == "reaction"


def test_what_vetting_finds_is_told_and_the_file_is_there(
    ask: Ask, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    helping = ("hand", "5 to 90 N", "30 cm", "", "up")
    assert ask("", "", "", "arm", "pivot", "", "", *LOAD, *helping, "", *EFFORT) == 0
    told = capsys.readouterr().out
    assert "To be mended: " in told
    assert "F_m would have to turn the other way" in told
    assert (tmp_path / "my-pail.toml").exists()


def test_where_nothing_is_typed_again_and_again_it_is_given_up(
    ask: Ask, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """At the third time in a row; an answer that can't be used begins the count anew."""
    assert ask("", "", "", "", "", "?", "", "", "") == 2
    told = capsys.readouterr()
    assert told.out.count("A name is needed.") == 5
    assert told.out.endswith("Nothing was typed three times in a row, so it ends here.\n")
    assert told.err == "\nThe input has ended; nothing was written.\n"
    assert list(tmp_path.iterdir()) == []


def test_where_the_input_ends_or_a_file_is_there_nothing_is_written(
    ask: Ask, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ask("", "", "") == 2
    assert "The input has ended; nothing was written." in capsys.readouterr().err
    assert ask(name="My Pail.toml") == 2
    assert "expected 2 to 61 lower-case letters, digits and hyphens" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []
    (tmp_path / "my-pail.toml").write_text("kept", "utf-8")
    assert ask() == 2
    assert "it already exists" in capsys.readouterr().err
    assert (tmp_path / "my-pail.toml").read_text("utf-8") == "kept"


def test_other_forms_are_told_and_copied_from_a_whole_example(
    ask: Ask, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ask("My arm", "wrist", "other", "chian", "chain") == 0
    told = capsys.readouterr().out
    assert "  centre of mass: that of several parts" in told
    assert '(did you mean "chain"?)' in told
    assert "It is a copy of wrist-then-elbow" in told
    assert "`leverstep vet` finds no fault." in told
    assert read_problem(tmp_path / "my-pail.toml").title == "My arm"


def test_no_comment_of_a_new_file_begins_twice(ask: Ask, tmp_path: Path) -> None:
    assert ask("", "", "", "arm", "pivot", "", "", *LOAD, "", *EFFORT) == 0
    lines = (tmp_path / "my-pail.toml").read_text("utf-8").splitlines()
    assert not [line for line in lines if line.startswith("# #")]
