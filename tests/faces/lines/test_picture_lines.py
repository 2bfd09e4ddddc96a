"""A free-body diagram drawn in plain lines, in practice and in a drill."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.drills import SHELF, Disk
from helpers.line_students import begun, works
from helpers.material import CATALOGUE
from leverstep.bench.practice import Practice
from leverstep.bench.practice_choices import PracticeChoices, choices_kept, keep_choice
from leverstep.dialogue.practice_dialogue import PracticeDialogue
from leverstep.faces.lines.practice_line import PracticeLine
from leverstep.working.rules import Pictures

RIGHT = (
    "W_l at 35 cm, down",
    "W_f at the centre of mass, down",
    "elbow flexors at the attachment, up",
    "joint reaction at the elbow, unknown",
    "axis at the elbow",
    "distance d_l",
    "d_f",
    "distance d_m",
)


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path))


def practised(
    *typed: str,
    name: str = "elbow-full-pail",
    seed: str = "7",
    pictures: Pictures = Pictures.ASKED,
) -> list[str]:
    """Return what is heard by who practises a problem and types some lines."""
    choices = PracticeChoices(pictures=pictures)
    practice = Practice.start(SHELF.problems[name], seed, CATALOGUE, choices=choices)
    said: list[str] = []
    waiting = iter(typed)

    def listen(prompt: str) -> str:
        said.append(prompt)
        for text in waiting:
            return text
        raise EOFError

    PracticeLine(PracticeDialogue(practice), said.append, listen).run()
    return said


def test_a_whole_diagram_in_words_then_the_first_line() -> None:
    said = practised(*RIGHT, "done", "1.65*9.81 N")
    first = said.index("The free-body diagram of the forearm is yours to draw.")
    told = said[first:]
    assert not [line for line in said[:first] if "acts at" in line], "it is not told before"
    assert sum(line.startswith("Right: ") for line in told) == len(RIGHT)
    right = "The free-body diagram is complete and right. The joint reaction at the elbow is still "
    done = told.index(f"{right}to be found.")
    assert "Axis of rotation: the elbow." in told[done:]
    assert "W_f: " in told[done:]
    assert "Right. That is 16.19 N." in told[done:]


def test_lists_are_read_and_things_named_by_their_number() -> None:
    said = practised("forces", "points", "directions", "7 at 5, down", "drawn")
    assert "7: weight of the pail." in said
    assert "5: 35.0 cm from the elbow." in said
    assert "Distance d_l, 35.0 cm." in said
    assert "Straight: up, down, left or right." in said
    assert "Right: weight of the pail: 35.0 cm from the elbow, straight down." in said
    assert "Weight of the pail: 35.0 cm from the elbow, straight down." in said


@pytest.mark.parametrize(
    ("name", "told", "untold"),
    [
        ("shoulder-level-broom", "Along the arm, towards which end.", "What turns"),
        ("shoulder-level-broom", "Perpendicular to the arm, up or down.", "What turns"),
        ("plain-lamp-two-cords", "Unknown, where it is found later", "the knot, towards"),
        ("knee-boot-without-muscle", "What turns without pushing", "What slants"),
    ],
)
def test_directions_are_told_as_far_as_there_are_any(name: str, told: str, untold: str) -> None:
    said = practised("directions", name=name)
    assert any(line.startswith(told) for line in said)
    assert not any(untold in line for line in said)


def test_directions_that_slant_are_told_with_their_angle() -> None:
    said = practised("directions", name="ankle-forward-lean")
    told = "At theta 10.5° to the vertical, and to which side, such as: up and left."
    assert told in said


def test_hints_of_the_diagram_are_read_again() -> None:
    said = practised("hints", "force of motion at the elbow, up", "hint", "hint", "hints")
    assert "No hint was given for the diagram." in said
    first, second, *again = (line for line in said if line.startswith("Hint "))
    assert again == [first, second]


def test_wrong_words_hints_and_taking_away() -> None:
    said = practised(
        "force of motion at the elbow, up", "hint", "hint", "done", "take away force of motion",
        "take away W_l", "hm", "",
    )  # fmt: skip
    assert "Not yet: the force of motion does not belong in the diagram of the forearm." in said
    hints = [line for line in said if line.startswith("Hint ")]
    assert [hint.split(":")[0] for hint in hints] == [
        "Hint 1 of 4 for the diagram", "Hint 2 of 4 for the diagram",
    ]  # fmt: skip
    assert "a force that nothing exerts" in hints[1]
    assert "Taken away: force of motion." in said
    assert "Weight of the pail is not drawn." in said
    assert "Not taken: No force of the list is called hm." in said
    assert any(line.startswith("Or a word: forces, points, directions") for line in said)


def test_what_can_be_asked_at_a_working_can_be_asked_meanwhile() -> None:
    said = practised("givens", "term moment arm", "problem", "help", "stop")
    assert "m_f = 1.65 kg." in said
    assert any(line.startswith("Moment arm") for line in said)
    assert said.count("The free-body diagram of the forearm is yours to draw.") == 2
    assert "done: the diagram is complete." in said
    assert "problem: read the problem, the picture and the assumptions again." in said
    assert any(line.startswith("Stopped.") for line in said)


def test_skipping_reads_the_right_one_and_goes_on() -> None:
    said = practised("skip", "1.65*9.81 N")
    told = (
        "The free-body diagram is skipped; the right one is shown from now on. The joint reaction"
    )
    (skipped,) = (n for n, line in enumerate(said) if line.startswith(told))
    assert any(line.startswith("F_m, elbow flexors") for line in said[skipped:])
    assert "Right. That is 16.19 N." in said


def test_the_word_that_makes_the_choice() -> None:
    said = practised("picture", "skip", "picture", "picture", pictures=Pictures.GIVEN)
    assert any("You draw the free-body diagram now" in line for line in said)
    assert "From the next problem on, no free-body diagram is shown." in said
    assert any("From the next problem on, the free-body diagram is given." in line for line in said)
    assert choices_kept().pictures is Pictures.GIVEN


@pytest.mark.parametrize("text", ["lines", "Missing"])
def test_a_word_for_the_lines_is_told_to_wait_for_the_diagram(text: str) -> None:
    said = "\n".join(practised(text, "lines of the pail", "done"))
    assert f"The word {text.lower()} is for the lines. First the diagram: type done" in said
    assert said.count("Not taken: ") == 1, "the text of several words"


@pytest.mark.parametrize("text", ["41.5 N", "1.65*9.81 N", "W_l = 41.5 N", "1.25"])
def test_a_line_that_is_typed_too_soon_is_told_what_comes_first(text: str) -> None:
    said = practised(text)
    assert any("reads as a line" in line and "type done" in line for line in said)
    assert not any(line.startswith("Not taken") for line in said)


def test_an_angle_or_an_axis_alone_is_no_line_of_the_working() -> None:
    said = practised(
        "axis = shoulder", "F_m at 2, up and left", "17°", "17,0° to the horizontal",
        name="shoulder-level-broom", seed="2",
    )  # fmt: skip
    assert "Right: the axis: the shoulder." in said
    told = [line for line in said if "which angle" in line or "more than one direction" in line]
    assert len(told) == 2
    assert any(line.startswith("Right: force of the deltoid") for line in said)


def test_choices_are_made_at_an_open_diagram_too() -> None:
    keep_choice(Pictures.ASKED)
    said = "\n".join(practised("predict", "sure", "picture", "picture", "3 at 2, up"))
    assert "From now on, you are asked what you expect before the first line" in said
    assert "From now on, you are asked with each line how sure you are." in said
    assert "From the next problem on, the free-body diagram is given." in said
    assert choices_kept().pictures is Pictures.GIVEN
    assert said.count("Not yet: ") == 1, "what begins with a digit may be drawn"


def test_without_the_choice_nothing_is_said_of_it() -> None:
    said = practised("1.65*9.81 N", pictures=Pictures.GIVEN)
    assert not [line for line in said if "free-body" in line]
    assert "Right. That is 16.19 N." in said


def test_a_drill_may_show_no_diagram_at_all(tmp_path: Path) -> None:
    sitting = begun(tmp_path, 'picture = "off"')
    student = works(sitting, ["rules", "next", "problem", "stop"])
    assert "No free-body diagram is shown." in " ".join(student.said)
    assert student.heard("Anticlockwise moments are positive.")
    assert not [line for line in student.said if ": acts at" in line or "Axis of" in line]
    assert not any(bench.picture_work.pictures for bench in sitting.benches)


def test_a_drill_has_its_words_meanwhile(tmp_path: Path) -> None:
    sitting = begun(tmp_path, 'picture = "asked"\nhints = "at a cost"')
    student = works(sitting, ["hint", "next", "hint", "time", "rules", "skip", "hand in", "yes"])
    assert "Before the first line you draw the free-body diagram." in " ".join(student.said)
    assert student.heard("Hint 1 of 4 for the diagram, costs 25 % of the marks of this part")
    assert student.heard("Task 2 of 2")
    assert student.heard("No time limit")
    assert student.heard("Free-body diagram of the forearm: 0 of 8 right.")
    assert sitting.ended


def test_what_the_disk_does_not_take_is_tried_again(tmp_path: Path, disk: Disk) -> None:
    sitting = begun(tmp_path, 'picture = "asked"')
    (picture,) = sitting.benches[1].picture_work.pictures

    def breaks() -> str:
        disk.broken = [tmp_path]
        return "W_l at d_l, down"

    def mended() -> str:
        assert picture.placed == {}
        disk.broken = []
        return ""

    student = works(sitting, ["next", breaks, mended, "drawn", "stop"])
    assert student.heard("Not saved")
    assert student.heard("Right: weight of the pail")
    assert set(picture.placed) == {"W_l"}
