"""What a free-body diagram earns in a drill, by replay of the record alone."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from helpers.classes import figures_of
from helpers.drills import drill_with, right_entry
from helpers.material import CATALOGUE
from leverstep.dialogue.sitting_result import marked_now, result_of
from leverstep.documents.text import text
from leverstep.drill.drill import Drill
from leverstep.drill.sitting import Sitting
from leverstep.free_body.body_picture import BodyPicture
from leverstep.free_body.placing import Placing
from leverstep.marking.collecting import Student
from leverstep.marking.marking import Marked, mark_record
from leverstep.marking.outputs import Outputs
from leverstep.marking.picture_marks import PictureMark
from leverstep.marking.tables import STEP_COLUMNS
from leverstep.reports.account import account
from leverstep.reports.class_report import class_report, headline
from leverstep.reports.drawn_diagrams import DrawnDiagrams
from leverstep.reports.pages import StudentPages
from leverstep.working.verdict import Outcome

ASKED = 'picture = "asked"\n'
PARTS = 8
"""Things in the diagram of the pail: three forces, the reaction, the axis, three distances."""


def sat(folder: Path, rules: str = "") -> Sitting:
    return Sitting.start(drill_with(ASKED + rules), CATALOGUE, "s01", folder)


def pail(sitting: Sitting) -> BodyPicture:
    return sitting.benches[1].picture_work.pictures[0]


def place(sitting: Sitting, *placings: Placing) -> None:
    for placing in placings:
        sitting.benches[1].picture_work.place(pail(sitting), placing)


def all_right(sitting: Sitting) -> list[Placing]:
    picture = pail(sitting)
    return [picture.right_placing(item) for item in picture.needed]


def marked(sitting: Sitting) -> Marked:
    data = sitting.place.read_bytes()
    return mark_record(sitting.drill, CATALOGUE, sitting.place.name, data)


def mark_of(sitting: Sitting) -> PictureMark:
    return next(one for one in marked(sitting).pictures if one.task == 2)


def test_without_the_rule_there_is_none(tmp_path: Path) -> None:
    sitting = Sitting.start(drill_with(), CATALOGUE, "s01", tmp_path)
    assert marked(sitting).pictures == ()


def test_a_right_diagram_earns_as_much_as_a_line(tmp_path: Path) -> None:
    sitting = sat(tmp_path)
    place(sitting, *all_right(sitting))
    sitting.benches[1].picture_work.finish(pail(sitting))
    mark = mark_of(sitting)
    assert (mark.right, mark.parts, mark.extra, mark.share) == (PARTS, PARTS, 0, 1)
    lines = len(sitting.benches[1].working.asked)
    assert marked(sitting).marks[1] == Fraction(round(400 / (lines + 1)), 100)


def test_a_whole_working_with_its_diagram_earns_all(tmp_path: Path) -> None:
    sitting = sat(tmp_path)
    for bench in sitting.benches:
        (picture,) = bench.picture_work.pictures
        for item in picture.needed:
            bench.picture_work.place(picture, picture.right_placing(item))
        assert bench.picture_work.finish(picture)
        for step in bench.working.steps:
            bench.enter(step.key, right_entry(bench, step))
    sitting.hand_in()
    assert marked(sitting).total == sitting.drill.marks


def test_each_thing_has_an_equal_share_and_one_too_many_costs_one(tmp_path: Path) -> None:
    sitting = sat(tmp_path)
    place(sitting, *all_right(sitting)[:5], Placing("decoy motion", "axis", "up"))
    mark = mark_of(sitting)
    assert (mark.right, mark.extra) == (5, 1)
    assert mark.share == Fraction(5 - 1, PARTS)
    assert mark.told == (
        "Free-body diagram of the forearm: 5 of 8 right, 1 thing too many, 1 wrong try."
    )


def test_nothing_goes_below_nothing(tmp_path: Path) -> None:
    sitting = sat(tmp_path)
    place(sitting, Placing("decoy motion", "axis", "up"), Placing("L"))
    assert mark_of(sitting).share == 0


def test_wrong_tries_and_hints_cost_of_their_own_thing(tmp_path: Path) -> None:
    rules = 'hints = "at a cost"\n[marking]\nwrong_try = 0.2\nhint = [0.1, 0.2, 0.3, 0.4]\n'
    sitting = sat(tmp_path, rules)
    place(sitting, Placing("W_l", "d_m", "down"), Placing("W_l", "d_l", "up"))
    work = sitting.benches[1].picture_work
    work.hint(pail(sitting))
    work.hint(pail(sitting))
    place(sitting, *all_right(sitting), Placing("decoy motion", "axis", "up"))
    work.take_away(pail(sitting), "decoy motion")
    mark = mark_of(sitting)
    assert mark.right == PARTS
    costs = Fraction(2, 5) + Fraction(3, 10) + Fraction(1, 5)
    assert mark.share == (PARTS - costs) / PARTS
    assert (mark.tries, mark.hints) == (3, 2)
    assert marked(sitting).hints == 2


def test_with_feedback_at_the_end_tries_cost_nothing(tmp_path: Path) -> None:
    sitting = sat(tmp_path, 'feedback = "at the end"\n[marking]\nwrong_try = 0.5\n')
    place(sitting, Placing("W_l", "d_m", "up"), *all_right(sitting))
    sitting.benches[1].picture_work.finish(pail(sitting))
    assert pail(sitting).is_closed
    assert mark_of(sitting).share == 1


def test_what_is_placed_is_a_row_of_the_table_of_entries(tmp_path: Path) -> None:
    sitting = sat(tmp_path)
    place(sitting, Placing("W_l", "d_m", "down"), Placing("W_l", "d_l", "down"))
    record = marked(sitting)
    wrong, right = record.placings
    assert (wrong.outcome, right.outcome) == (Outcome.WRONG, Outcome.RIGHT)
    row = [told(record, wrong) for told in STEP_COLUMNS.values()]
    assert (row[3], row[4], row[6]) == ("free body", "free_body", "not yet")
    assert row[5].startswith("weight of the pail: ")
    assert row[7] == "force-at-a-wrong-point"
    assert record.entries == ()


def test_the_page_to_give_back_tells_the_diagram_and_its_marks(tmp_path: Path) -> None:
    sitting = sat(tmp_path)
    place(sitting, *all_right(sitting))
    record = marked(sitting)
    task = list(account(sitting.drill, record, CATALOGUE))[1]
    (picture,) = task.beside
    assert picture.told == "Free-body diagram of the forearm: 8 of 8 right."
    assert picture.marks == Fraction(4, len(task.lines) + 1)
    assert sum((one.marks or 0 for one in task.lines), picture.marks) == picture.marks


@pytest.mark.parametrize("feedback", ["each line", "at the end"])
def test_going_on_and_marking_come_to_the_same(tmp_path: Path, feedback: str) -> None:
    sitting = sat(tmp_path, f'feedback = "{feedback}"\n')
    place(sitting, Placing("W_l", "d_l", "down"), Placing("W_l", "d_m", "down"), Placing("L"))
    sitting.benches[1].picture_work.take_away(pail(sitting), "L")
    sitting.pause()
    drill: Drill = sitting.drill
    again = Sitting.resume(sitting.place, drill, CATALOGUE)
    assert pail(again).placed == pail(sitting).placed
    assert mark_of(again).right == (1 if feedback == "each line" else 0)


def test_the_class_report_tells_what_was_right_and_which_slips_were_made(tmp_path: Path) -> None:
    sitting = sat(tmp_path, 'feedback = "at the end"\n')
    place(sitting, *all_right(sitting)[:6], Placing("W_l", "d_m", "down"))
    sitting.hand_in()
    drawn = DrawnDiagrams(CATALOGUE)
    for _ in range(2):
        drawn.add(marked(sitting))
    figures = drawn.figures()
    ((task, segment, students, right),) = (
        (one.task, one.segment, one.students, one.right) for one in figures.diagrams
    )
    assert (task, segment, students) == (2, "forearm", 2)
    assert right == Fraction(mark_of(sitting).right, PARTS)
    slips = {one.name: one.students for one in figures.slips}
    assert slips["a force at a wrong point"] == 2
    assert slips["a distance left out"] == 2


def turned_round(folder: Path, student: str) -> Sitting:
    """Return a sitting handed in with a whole diagram in which one arrow is turned round."""
    sitting = Sitting.start(
        drill_with(ASKED + 'feedback = "at the end"\n'), CATALOGUE, student, folder
    )
    wrong = [one for one in all_right(sitting) if one.item != "F_m"]
    place(sitting, *wrong, Placing("F_m", "d_m", "down"))
    sitting.hand_in()
    return sitting


def test_a_slip_of_two_students_in_diagrams_is_taught_next_and_needs_help(tmp_path: Path) -> None:
    sittings = [turned_round(tmp_path, student) for student in ("s01", "s02")]
    found = [marked(sitting) for sitting in sittings]
    students = [Student(one.student, one.name, one, (one,), ()) for one in found]
    figures = figures_of(sittings[0].drill, students)
    told = text(class_report(figures))
    assert "To teach next: an arrow turned round (2 students)." in headline(figures)
    assert "An arrow turned round: 2 of 2 students made it" in told
    assert "No slip was made by more than one student" not in told
    place_of = (2, "the diagram of the forearm")
    assert [[(one.name, at) for one, at in helped.slips] for helped in figures.help] == [
        [("an arrow turned round", (place_of,))]
    ] * 2
    assert [helped.open for helped in figures.help] == [(("Free-body diagrams", (place_of,)),)] * 2


def test_result_and_page_tell_what_was_amiss_and_what_to_remember(tmp_path: Path) -> None:
    sitting = turned_round(tmp_path, "s01")
    told = " ".join(result_of(sitting, marked_now(sitting)).tasks[1].after)
    assert "7 of 8 right, 1 wrong try. Not right in it: force of the elbow flexors." in told
    remember = "Slip: an arrow turned round, in the diagram of the forearm. Remember: A muscle"
    assert remember in told
    one = marked(sitting)
    with Outputs(tmp_path / "out") as out:
        StudentPages(sitting.drill, CATALOGUE, out).add(Student("s01", "", one, (one,), ()))
    (page,) = (tmp_path / "out" / "students").glob("*.html")
    shown = page.read_text()
    assert remember in shown
    assert "It looks like an arrow turned round." in shown
