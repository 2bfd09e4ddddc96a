"""What mechanical advantage means in a problem, and what comes of the other meaning.

OpenStax, College Physics 2e (2022), section 9.5, defines it as the force that is got out over the
force that is put in, and shows that for a lever with one load it is the ratio of the arms. Courses
of physical education commonly define it by the arms at once. With several loads these are different
numbers.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from helpers.material import CATALOGUE
from helpers.problem_texts import read_text
from leverstep.board.board import Board
from leverstep.course.faults import FileError
from leverstep.course.places import shipped
from leverstep.course.problem import Problem, Question
from leverstep.course.shelf import load_shelf
from leverstep.slips.ladder import hints
from leverstep.slips.telling import tell
from leverstep.statics import kinds
from leverstep.working.guidance import Guidance
from leverstep.working.rules import Rules
from leverstep.working.verdict import Outcome
from leverstep.working.wording import ask
from leverstep.working.working import Working

PROBLEMS = load_shelf([shipped("problems")]).problems
PAIL = shipped("problems") / "retired" / "elbow-full-pail.toml"
PAIL_7 = PROBLEMS["elbow-full-pail"].question("7")  # arms 4.6 and 35 cm: 0.1314; forces 0.1502
STICK_3 = PROBLEMS["hip-stick-in-hand"].question("3")  # arms 6.19 and 8.38 cm; forces 1.012


def asked(question: Question, key: str = "MA") -> str:
    return ask(question, question.derivation.step(key))


@pytest.mark.parametrize("text", ["0.1314", "0.131", "4.6/35", "MA = d_m/d_l", "4.6 cm / 35 cm"])
def test_the_ratio_of_arms_costs_nothing_and_is_asked_about_again(text: str) -> None:
    working = Working(PAIL_7)
    working.enter("d_m", "4.6 cm")
    working.enter("d_l", "35 cm")
    verdict = working.enter("MA", text)
    assert verdict.outcome is Outcome.UNREAD
    assert "MA" not in working.attempts
    assert not working.done("MA")
    told = tell(working, verdict, CATALOGUE)
    assert told.startswith("Not judged: that is the ratio of arms, elbow flexors over pail; here")
    assert told.endswith("means total resistance over the force of the elbow flexors.")
    assert working.enter("MA", "0.150").outcome is Outcome.RIGHT


def test_it_is_seen_with_the_students_own_values_too() -> None:
    working = Working(PAIL_7)
    working.enter("d_m", "0.056 m")
    assert working.enter("MA", "0.160").reason.code == "other_definition"


def test_where_nothing_is_told_it_is_right_and_remarked_on() -> None:
    working = Working(PAIL_7, rules=Rules(tells=False))
    verdict = working.enter("MA", "0.1314")
    assert verdict.outcome is Outcome.RIGHT
    assert "that is the ratio of arms" in tell(working, verdict, CATALOGUE)


def test_a_number_that_only_comes_near_it_is_wrong() -> None:
    for text in ("0.1325", "0.133", "7.609"):
        assert Working(PAIL_7).enter("MA", text).outcome is Outcome.WRONG


def test_the_ratio_of_arms_itself_has_one_meaning() -> None:
    """The ratio of forces on its line is a slip, as before."""
    working = Working(PAIL_7)
    assert working.enter("AR", "0.1502").outcome is Outcome.WRONG
    assert "the other ratio" in tell(working, working.enter("AR", "0.15021"), CATALOGUE)


def test_on_a_blank_sheet_it_is_said_as_well() -> None:
    working = Working(PAIL_7, Guidance.BLANK)
    verdict = working.write("MA = 4.6/35")
    assert (verdict.outcome, verdict.step) == (Outcome.UNREAD, "MA")
    assert "that is the ratio of arms" in tell(working, verdict, CATALOGUE)


def test_a_stick_that_helps_takes_no_part_in_the_advantage() -> None:
    """As the ratio of arms it is that of the lever, whatever the stick bears."""
    step = STICK_3.derivation.step("MA")
    assert step.kind is kinds.ARM_ADVANTAGE
    assert asked(STICK_3) == (
        "Mechanical advantage: moment arm of the hip abductors over that of the trunk, head and "
        "arms"
    )
    values = STICK_3.right
    assert values["MA"] == pytest.approx(values["r_m"] / values["d_t"])
    working = Working(STICK_3)
    told = tell(working, working.enter("MA", "1.012"), CATALOGUE)
    assert told.startswith("Not judged: that is resistance over effort; here")
    assert working.enter("MA", "0.738").outcome is Outcome.RIGHT


def with_ask(problem: Problem, **changes: object) -> Problem:
    return replace(problem, posture=replace(problem.posture, **changes))


def test_where_a_load_helps_the_arm_of_all_resistance_is_seen() -> None:
    """The resistance of 668.2 N acts 10.14 cm from the hip; the abductors pull at 6.19 cm."""
    forces = with_ask(STICK_3.problem, advantage="resistance over effort", arm_ratio_of=None)
    question = forces.question("3")
    assert question.right["MA"] == pytest.approx(1.012, abs=5e-4)
    for text, found in (
        ("0.610", "the ratio of arms;"),
        ("0.738", "the ratio of arms, hip abductors over trunk, head and arms;"),
        ("0.353", "the ratio of arms, hip abductors over lifted leg;"),
    ):
        working = Working(question)
        assert f"that is {found}" in tell(working, working.enter("MA", text), CATALOGUE)


def test_distances_are_compared_where_forces_are_split() -> None:
    problem = with_ask(PROBLEMS["shoulder-lantern-held-out"], advantage="ratio of arms")
    question = problem.question("1")
    assert asked(question).startswith("Mechanical advantage: distance along the arm to the deltoid")
    values = question.right
    assert values["MA"] == pytest.approx(values["d_m"] / values["d_l"])
    assert "AR" not in values


def test_no_advantage_is_asked_for_where_a_problem_has_none() -> None:
    keys = [
        s.key for s in with_ask(PAIL_7.problem, advantage="none").question("7").derivation.asked
    ]
    assert "MA" not in keys
    assert {"AR", "class"} <= set(keys)


def read(ask_table: str) -> Problem:
    asked = '[ask]\narm_ratio_of = "W_l"'
    return read_text(PAIL.read_text("utf-8"), (asked, f"[ask]\n{ask_table}"))


def test_the_file_says_what_is_meant() -> None:
    assert read("").posture.advantage == "resistance over effort"
    arms = read('advantage = "ratio of arms"\narm_ratio_of = "W_f"').question("7")
    assert arms.right["MA"] == pytest.approx(0.046 / (0.682 * 0.255))
    assert [s.key for s in arms.derivation.asked if s.kind.part is kinds.Part.RATIOS] == [
        "MA",
        "class",
    ]
    assert read('advantage = "none"\nclass = false').asks == "effort"


@pytest.mark.parametrize(
    ("written", "key", "said"),
    [
        ('advantage = "ratio of arm"', "ask.advantage", 'did you mean "ratio of arms"'),
        ('advantage = "ratio of arms"', "ask.arm_ratio_of", "the load whose arm counts: W_f, W_l"),
        (
            'ratios = false\nadvantage = "resistance over effort"',
            "ask.advantage",
            "asked for without ratios; expected ratios = true",
        ),
        (
            'ratios = false\nclass_note = "A note."',
            "ask.class_note",
            "ratios = true, or no class_note",
        ),
        ('class_note = "No full stop"', "ask.class_note", "a sentence with a full stop"),
    ],
)
def test_what_can_not_be_meant_is_a_fault(written: str, key: str, said: str) -> None:
    with pytest.raises(FileError) as caught:
        read(written)
    (fault,) = caught.value.faults
    assert fault.key == key
    assert said in str(fault)


@pytest.mark.parametrize(
    ("name", "lever", "other"),
    [
        ("ankle-calf-raise", "second", "first"),
        ("ankle-tiptoe-one-foot", "first", "second"),
        ("ankle-forward-lean", "first", "second"),
    ],
)
def test_why_two_axes_give_two_classes_is_told(name: str, lever: str, other: str) -> None:
    """With the class that is right, and on the board, not before."""
    question = PROBLEMS[name].question("7")
    note = question.problem.class_note
    assert f"lever of the {other} class" in note
    working = Working(question)
    assert not any(note in one.text for one in hints(working, "class", CATALOGUE))
    wrong = tell(working, working.enter("class", other), CATALOGUE)
    assert note not in wrong
    assert tell(working, working.enter("class", lever), CATALOGUE) == f"Right. Note: {note}"
    board = Board(question, CATALOGUE)
    board.show(board.count)
    (line,) = [line for line in board.lines if line.key == "class"]
    assert line.note == note
    assert not any(line.note for line in board.lines if line.key != "class")
