"""Terms, arithmetic and the tour in plain lines."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from helpers.drills import SHELF, drill_with
from helpers.material import CATALOGUE, material
from helpers.records import fields_in
from leverstep.bench.practice import Practice
from leverstep.dialogue.first_start import is_first_start
from leverstep.dialogue.practice_dialogue import PracticeDialogue
from leverstep.dialogue.working_dialogue import NO_CALCULATOR
from leverstep.drill.sitting import Sitting
from leverstep.faces.commands.cli import main
from leverstep.faces.lines.drill_line import DrillLines
from leverstep.faces.lines.home_line import HomeLines
from leverstep.faces.lines.practice_line import PracticeLine
from leverstep.faces.terminal import Listen


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the user's data of somebody who is new here."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))
    return tmp_path / "home"


def typing(*typed: str) -> Listen:
    """Return what types some lines, one for each time it is asked; then the input ends."""
    lines: Iterator[str] = iter(typed)

    def listen(prompt: str) -> str:
        del prompt
        for line in lines:
            return line
        raise EOFError

    return listen


def at_working(*typed: str) -> tuple[Practice, list[str]]:
    """Return a practice of the barrow, and what is said to who types some lines there."""
    said: list[str] = []
    practice = Practice.start(SHELF.problems["plain-wheelbarrow"], "1", CATALOGUE)
    PracticeLine(PracticeDialogue(practice), said.append, typing(*typed)).run()
    return practice, said


def in_drill(folder: Path, rules: str, *typed: str) -> list[str]:
    said: list[str] = []
    sitting = Sitting.start(drill_with(rules), CATALOGUE, "s01", folder)
    DrillLines(sitting, said.append, typing(*typed), Path("d.toml"), lambda _: None).run()
    return said


def at_home(*typed: str, with_tour: bool = False) -> list[str]:
    said: list[str] = []
    HomeLines(material(SHELF), said.append, typing(*typed)).run(with_tour=with_tour)
    return said


def test_the_term_of_the_line_is_said_and_any_other_by_its_name() -> None:
    _, said = at_working("term", "Term lever arm", "terms", "term xyzzy")
    assert said.index("Mass and weight.") < said.index("Moment arm.")
    (listed,) = [line for line in said if line.startswith("The terms are: ")]
    assert "class of lever" in listed
    assert "There is no term of that name. Type terms to hear them all." in said


def test_terms_are_said_where_problems_are_chosen_and_in_a_drill(tmp_path: Path) -> None:
    assert "Class of lever." in at_home("term lever", "stop")
    assert "Type term and a word" in " ".join(at_home("term", "stop"))
    assert "Mass and weight." in in_drill(tmp_path, 'hints = "none"', "term", "stop")


def test_arithmetic_is_worked_out_and_no_entry() -> None:
    practice, said = at_working("work out 57*9.81 N", "work out a = ans/2", "Work out a", "lines")
    assert said.count("279.585 N") == 1
    assert "a = 279.585 N" in said
    assert "No line is written yet." in said
    assert not practice.working.lines
    assert practice.place is None or not [
        one for one in fields_in(practice.place) if one.get("kind") == "entry"
    ]


def test_what_has_a_value_is_said_where_nothing_is_to_be_worked_out() -> None:
    _, said = at_working("work out", "work out d_s")
    (values,) = [line for line in said if line.startswith("These have a value: ")]
    assert "m_s" in values
    assert "g 9.81 m/s^2" in values
    assert "Not worked out: d_s has no value yet." in said


def test_the_last_result_is_entered_by_a_word() -> None:
    practice, said = at_working("use result", "work out m_s*g", "use result", "use result then")
    assert "Nothing is worked out yet. Type work out, and arithmetic." in said
    assert practice.working.lines["W_s"].verdict.settled
    assert said.count("Right.") == 1


def test_a_drill_may_do_without_a_calculator(tmp_path: Path) -> None:
    typed = ("work out 2*3", "work out", "use result", "rules", "help", "stop")
    without = in_drill(tmp_path / "a", "calculator = false", *typed)
    assert without.count(NO_CALCULATOR) == 3
    assert "6" not in without
    assert not [line for line in without if line.startswith("work out, and")]
    with_one = in_drill(tmp_path / "b", "", *typed)
    assert "6" in with_one
    assert [line for line in with_one if line.startswith("work out, and")]
    assert NO_CALCULATOR not in with_one


def test_each_task_has_a_margin_of_its_own(tmp_path: Path) -> None:
    said = in_drill(
        tmp_path, "", "work out a = 3", "next", "work out a", "previous", "work out a*2"
    )
    assert "Not worked out: a is not a symbol or unit of this problem." in said
    assert said[said.index("a = 3") :].count("6") == 1


def test_the_tour_is_taken_in_words_and_leads_to_the_first_problem() -> None:
    size = "451.3*0.49"
    typed = (size, f"{size} N m", "hint", f"-{size} N m", "-W_s*d_s", "", "stop", "stop")
    said = at_home("tour", *typed)
    steps = [line.partition(".")[0] for line in said if line.startswith("Step ")]
    assert steps == [f"Step {number} of 6" for number in range(1, 7)]
    assert "For a hint, type hint." in said
    assert "Right. That is −221.1 N·m." in said
    (leads,) = [line for line in said if line.startswith("Enter opens a first problem: ")]
    title = leads.partition(": ")[2].partition(".")[0]
    assert said[said.index(leads) :].count(title) == 1
    assert said[-1] == "Stopped."


@pytest.mark.parametrize("leaves", ["skip", "stop", "quit"])
def test_the_tour_is_left_at_once_and_comes_by_itself_no_more(leaves: str) -> None:
    said = at_home(leaves, "stop", with_tour=True)
    assert [line for line in said if line.startswith("Step ")] == [
        line for line in said if line.startswith("Step 1 of 6")
    ]
    assert "Type a joint to hear its problems." in said
    assert not is_first_start()


def test_where_the_input_ends_the_tour_ends_well() -> None:
    said = at_home("go on", "again", "problem", "term", with_tour=True)
    assert "Moment." in said
    assert len([line for line in said if line.startswith("Step 2 of 6")]) == 2
    assert len([line for line in said if line.startswith("A gardener")]) == 2


@pytest.mark.parametrize(("somebody", "is_shown"), [(True, True), (False, False)])
def test_the_tour_comes_by_itself_where_somebody_new_sits_at_a_terminal(
    somebody: bool,
    is_shown: bool,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """A script that is piped in means what it says."""
    monkeypatch.setattr("builtins.input", typing("skip", "stop"))
    monkeypatch.setattr("sys.stdin.isatty", lambda: somebody, raising=False)
    for first in (True, False):
        assert main(["--plain"]) == 0
        said = capsys.readouterr().out
        assert ("A tour of one line" in said) == (is_shown and first)


def test_the_command_takes_the_tour_again(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for _ in range(2):
        monkeypatch.setattr("builtins.input", typing("skip", "stop"))
        assert main(["tour", "--plain"]) == 0
        assert "Step 1 of 6" in capsys.readouterr().out
