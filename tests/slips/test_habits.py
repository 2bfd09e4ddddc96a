"""Habits: the same slip on two lines of a sitting is named once, with the general reason."""

from __future__ import annotations

from pathlib import Path

from helpers.material import CATALOGUE
from leverstep.bench.practice import Practice
from leverstep.bench.practice_choices import PracticeChoices
from leverstep.course.places import shipped
from leverstep.course.shelf import load_shelf
from leverstep.slips.habits import Habits
from leverstep.working.rules import Reasons, Rung

SHELF = load_shelf([shipped("problems")])
HABIT = "A habit to watch"


def begun(name: str, folder: Path, habits: Habits | None = None) -> Practice:
    problem = SHELF.problems[name]
    return Practice.start(
        problem, "7", CATALOGUE, folder, habits=habits, choices=PracticeChoices(Reasons.AT_ONCE)
    )


def told(practice: Practice, key: str, text: str) -> str:
    return practice.tell(practice.enter(key, text))


def test_the_same_slip_on_a_second_line_is_named_as_a_habit_once(tmp_path: Path) -> None:
    """In a curl both weights are in pounds: the second without a conversion shows a habit."""
    practice = begun("elbow-tilted-forearm", tmp_path)
    assert HABIT not in told(practice, "W_f", "31.39 N")  # 3.2 lb times g
    assert HABIT not in told(practice, "W_f", "31.4 N")  # trying the line again is none
    second = told(practice, "W_l", "122.6 N")  # 12.5 lb times g
    assert f"{HABIT}: not converted to kilograms, twice so far." in second
    assert CATALOGUE.slips["conversion-skipped"].reason in second
    assert HABIT not in told(practice, "W_l", "122.7 N")


def test_different_slips_are_no_habit(tmp_path: Path) -> None:
    """A conversion left out, and then one turned round, are two slips made once."""
    practice = begun("elbow-tilted-forearm", tmp_path)
    assert HABIT not in told(practice, "W_f", "31.39 N")
    assert HABIT not in told(practice, "W_l", "270.4 N")  # 12.5 lb times 2.205 times g
    assert HABIT not in told(practice, "L", "77 m")


def test_a_habit_goes_over_several_questions(tmp_path: Path) -> None:
    """The pail and the plank are one sitting where they share their habits."""
    habits = Habits()
    first = begun("elbow-full-pail", tmp_path, habits)
    assert HABIT not in told(first, "W_l", "107.9 N")  # 11.0 lb times g
    second = begun("body-plank-two-supports", tmp_path, habits)
    assert HABIT in told(second, "W_b", "1570 N")  # 160 lb times g


def test_a_habit_is_known_again_when_a_working_is_gone_on_with(tmp_path: Path) -> None:
    """Replaying the record counts what was made before, and does not tell it once more."""
    practice = begun("elbow-tilted-forearm", tmp_path)
    told(practice, "W_f", "31.39 N")
    assert practice.place is not None
    again = Practice.resume(
        practice.place, SHELF, CATALOGUE, choices=PracticeChoices(Reasons.AT_ONCE)
    )
    assert HABIT in told(again, "W_l", "122.6 N")


def test_what_is_only_asked_is_no_habit(tmp_path: Path) -> None:
    """A slip that chance would meet as well is not held against anyone."""
    practice = begun("elbow-full-pail", tmp_path)
    first = told(practice, "W_f", "48.94 N")  # the value of another line: asked, not told
    assert "Did you perhaps" in first
    assert HABIT not in told(practice, "W_l", "16.19 N")


def test_where_slips_are_told_only_when_asked_for_so_is_a_habit(tmp_path: Path) -> None:
    """The verdict names no habit; the hint that names the slip does, and no other."""
    practice = begun("elbow-tilted-forearm", tmp_path)
    practice.follow(Reasons.WHEN_ASKED)
    assert HABIT not in told(practice, "W_f", "31.39 N")
    assert HABIT not in told(practice, "W_l", "122.6 N")
    given = [practice.hint("W_l") for _ in Rung]
    assert [hint.rung for hint in given if hint and HABIT in hint.text] == [Rung.HAPPENED]
