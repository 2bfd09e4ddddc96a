"""A slip found and mended by ear: the working is read, answers are numbered, the rest follows."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from helpers.drills import SHELF
from helpers.material import CATALOGUE, material
from leverstep.bench.practice import Practice
from leverstep.dialogue.ending import ending
from leverstep.dialogue.practice_dialogue import PracticeDialogue
from leverstep.erroneous.slip_questions import INTRODUCED, TWO_INTRODUCED
from leverstep.faces.lines.end_lines import work_on
from leverstep.faces.lines.home_line import HomeLines
from leverstep.faces.lines.practice_line import PracticeLine
from leverstep.slips.habits import Habits


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing was chosen before."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))


def heard(folder: Path, *typed: str, slips: int = 1) -> list[str]:
    problem = SHELF.problems["elbow-full-pail"]
    practice = Practice.start(problem, "1", CATALOGUE, folder, slips_to_find=slips)
    said: list[str] = []
    PracticeLine(PracticeDialogue(practice), said.append, typing(said, *typed)).run()
    return said


def test_it_is_found_and_mended_by_ear(tmp_path: Path) -> None:
    said = heard(tmp_path, "5", "1", "lines", "0.682*24 cm")
    assert INTRODUCED in said
    shown = said.index("d_f = 0.682 × 0.3600 = 0.2455 m")
    assert shown < said.index("Question 1 of 2: Which of these lines is the first that is wrong?")
    assert "5: d_f." in said
    assert "Yes. All lines before it are right." in said
    assert "> d_f: " in said
    assert said.count("d_f = 0.682 × 0.3600 = 0.2455 m") == 2
    assert any("The lines after it follow now: F_m = 589.2 N." in line for line in said)
    assert "You found the line d_f, named its slip and mended it. Well done." in said


def test_a_question_is_passed_over_and_a_number_too_high_is_told(tmp_path: Path) -> None:
    said = heard(tmp_path, "9", "skip", "skip", "lines", "back")
    assert "The answers are 1 to 7." in said
    assert "The lines before this one are not yours to change." in said
    assert "It was: the fraction of another length. Now mend the line d_f." in said
    assert said[-1].startswith("The input has ended. What was typed is kept.")


def test_where_no_line_was_mended_that_is_told_in_a_sentence(tmp_path: Path) -> None:
    """As at the end on the full screen, where all was skipped."""
    problem = SHELF.problems["elbow-full-pail"]
    practice = Practice.start(problem, "1", CATALOGUE, tmp_path, slips_to_find=1)
    account = ending(practice).account
    assert account.startswith("No line was mended, and no hint was asked for.")


def typing(said: list[str], *typed: str) -> Callable[[str], str]:
    """Return what types some lines, then nothing more."""
    lines = iter(typed)

    def listen(prompt: str) -> str:
        said.append(f"> {prompt}")
        try:
            return next(lines)
        except StopIteration:
            raise EOFError from None

    return listen


def test_a_problem_that_was_heard_is_opened_with_a_slip_by_a_word() -> None:
    said: list[str] = []
    HomeLines(material(SHELF), said.append, typing(said, "elbow", "mend 1")).run()
    assert INTRODUCED in said


def test_two_slips_are_found_and_mended_by_ear(tmp_path: Path) -> None:
    said = heard(tmp_path, "5", "1", "1", "1", "0.682*24 cm", "-66.73*0.36 N m", slips=2)
    assert TWO_INTRODUCED in said
    assert any(line.startswith("Question 3 of 4: A second slip was made") for line in said)
    assert "> d_f: " in said
    assert "> M_l: " in said
    assert any(line.endswith("Mend M_l next.") for line in said)
    assert "You found both lines, named both slips and mended them. Well done." in said


def test_a_problem_that_was_heard_is_opened_with_two_slips_by_a_word() -> None:
    said: list[str] = []
    HomeLines(material(SHELF), said.append, typing(said, "elbow", "mend two 1")).run()
    assert TWO_INTRODUCED in said


def test_from_the_end_a_word_opens_another_slip(tmp_path: Path) -> None:
    problem = SHELF.problems["elbow-full-pail"]
    practice = Practice.start(problem, "1", CATALOGUE, tmp_path, slips_to_find=1)
    said: list[str] = []
    typed = typing(said, "5", "1", "0.682*24 cm", "again", "stop")
    work_on(practice, material(SHELF), Habits(), said.append, typed)
    assert said.count(INTRODUCED) == 2


def test_while_the_slip_is_sought_that_is_missing_and_lines_that_are_shown_have_values(
    tmp_path: Path,
) -> None:
    said = heard(tmp_path, "missing", "work out 2*d_f", "5", "missing", "1", "missing", "2*d_f")
    first, second, last = (n for n, line in enumerate(said) if line == "Still to find:")
    finding = ["The slip: which slip was made there.", "Then to mend:"]
    assert said[first + 1 : first + 4] == [
        "The line: which line is the first that is wrong.",
        *finding,
    ]
    assert said[second + 1 : second + 3] == finding
    assert said[last + 1].startswith("d_f: ")
    assert any("0.491" in line for line in said[first:second])


def test_help_at_a_question_tells_how_it_is_answered(tmp_path: Path) -> None:
    said = heard(tmp_path, "help")
    asked = next(n for n, line in enumerate(said) if line.startswith("Question 1 of 2"))
    told = said[asked:]
    assert "Type a number from 1 to 7; skip passes it over, Enter says it again." in told
    assert "lines: read the working so far." in told
    assert not any(line.startswith(("hint:", "skip, or go on:")) for line in told)
