"""Did it help? What changed on pairs of problems, against scipy, and what is said of few students.

All students are invented.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Sequence
from fractions import Fraction
from pathlib import Path

import numpy
import pytest
import scipy
from helpers.drill_sittings import right_entry
from helpers.drills import SHELF
from helpers.material import CATALOGUE
from leverstep.documents.text import text
from leverstep.drill.drill import Drill
from leverstep.drill.drill_file import drill_of
from leverstep.drill.sitting import Sitting
from leverstep.faces.commands.cli import main
from leverstep.marking.collecting import Student
from leverstep.marking.marking import LineMark, Marked
from leverstep.reports.changes import EarlierSittings
from leverstep.reports.class_report import class_report
from leverstep.reports.figures import Figures
from leverstep.reports.gathering import ClassFigures
from leverstep.reports.interval import LEAST, mean_interval, student_t
from leverstep.working.verdict import Outcome

EARLY = 'id = "early"\ntitle = "Week 3"\n[[item]]\nproblem = "elbow-pail-of-water"\n'
LATE = """
id = "late"
title = "Week 4"
guidance = "blank"
[[item]]
problem = "plain-seesaw"
[[item]]
problem = "plain-lamp-bracket"
pair = "elbow-pail-of-water"
"""


def drills(early: str = EARLY, late: str = LATE) -> tuple[Drill, Drill]:
    problems = SHELF.problems
    return drill_of(early, problems, "early.toml"), drill_of(late, problems, "late.toml")


def student(drill: Drill, ident: str, task: int, rights: Iterable[bool]) -> Student:
    """Return a student with the first lines of one task tried, some of them right."""
    steps = drill.tasks(ident)[task - 1].question.derivation.asked
    lines = tuple(
        LineMark(
            task, step.key, step.kind.name, Outcome.RIGHT if one else Outcome.WRONG,
            1, 0, one, Fraction(one),
        )
        for step, one in zip(steps, rights, strict=False)
    )  # fmt: skip
    nothing = tuple(Fraction(0) for _ in drill.task_items)
    marked = Marked(ident, "", "r", "", "", True, (), lines, nothing, 0, 0.0, ())
    return Student(ident, "", marked, (marked,), ())


def figures(then: Sequence[Sequence[bool]], now: Sequence[Sequence[bool]]) -> Figures:
    """Return the figures of a class, each student by the first lines of both problems."""
    early, late = drills()
    earlier = EarlierSittings(early, late, "early.toml", "late.toml")
    for number, rights in enumerate(then):
        earlier.add(student(early, f"s{number}", 1, rights))
    collected = ClassFigures(late, CATALOGUE, earlier=earlier)
    for number, rights in enumerate(now):
        collected.add(student(late, f"S{number} ", 2, rights))
    return collected.figures()


@pytest.mark.parametrize("freedom", [1, 2, 3, 8, 9, 10, 29, 120, 2001])
def test_t_agrees_with_scipy(freedom: int) -> None:
    assert student_t(freedom) == pytest.approx(scipy.stats.t.ppf(0.975, freedom), rel=1e-9)


@pytest.mark.parametrize("count", [2, 10, 31])
def test_the_interval_agrees_with_scipy(count: int) -> None:
    chance = random.Random(count)
    then, now = ([Fraction(chance.randrange(17), 16) for _ in range(count)] for _ in range(2))
    wanted = scipy.stats.ttest_rel(*(numpy.array(one, float) for one in (now, then)))
    found = mean_interval([after - before for before, after in zip(then, now, strict=True)])
    assert found == pytest.approx(tuple(wanted.confidence_interval(0.95)), rel=1e-9)


def test_differences_without_spread_have_no_interval() -> None:
    assert mean_interval([Fraction(1, 2)] * 12) is None
    assert mean_interval([Fraction(1, 2)]) is None


def test_a_class_of_twelve_by_hand() -> None:
    then = [[True, False, False, False]] * 6 + [[True, True, False, False]] * 6
    now = [[True, True, True, False]] * 12
    found = figures(then, now)
    assert found.changes is not None
    assert (found.changes.earlier, found.changes.unlike) == ("Week 3", ("guidance",))
    (one,) = found.changes.pairs
    assert (one.then, one.now, one.students) == ("A pail of water", "A lamp on a bracket", 12)
    assert (one.before, one.after, one.change) == (Fraction(3, 8), Fraction(3, 4), Fraction(3, 8))
    spread = 0.125 * (12 / 11) ** 0.5  # half of the differences are 1/2, half are 1/4
    half = 2.200985 * spread / 12**0.5
    assert one.interval == pytest.approx((0.375 - half, 0.375 + half), abs=1e-6)
    gains = [(line.before, line.after) for line in one.improved]
    assert gains == [(0, 1), (Fraction(1, 2), 1)]
    told = " ".join(text(class_report(found, with_names=False)).split())
    assert "12 students worked on both. On average they had 38 % of the marks then" in told
    assert "a difference of +37.5 points. The 95 % interval of that difference" in told
    assert "is +29.2 to +45.8 points; 0 lies outside: chance alone hardly makes that." in told
    assert "The two drills differ in guidance" in told


def test_an_interval_with_nothing_in_it_may_be_chance() -> None:
    then = [[True, False]] * 6 + [[False, False]] * 6
    now = [[False, False]] * 6 + [[True, False]] * 6
    told = " ".join(text(class_report(figures(then, now))).split())
    assert "a difference of +0.0 points." in told
    assert "0 lies in it: this may be chance." in told


def test_of_fewer_than_ten_no_claim_is_made() -> None:
    few = LEAST - 1
    found = figures([[False, False], [True, False]] * few, [[True, True]] * few)
    assert found.changes is not None
    (one,) = found.changes.pairs
    assert (one.students, one.interval, one.improved) == (few, None, ())
    told = " ".join(text(class_report(found, with_names=False)).split())
    assert "Fewer than 10 students are too few for a claim." in told
    assert "interval of that" not in told
    assert "Whatever changed, this does not say why" in told


def test_who_did_only_one_of_them_is_not_counted() -> None:
    found = figures([[True], []], [[True], [True], [True]])
    assert found.changes is not None
    assert [one.students for one in found.changes.pairs] == [1]


def test_how_many_lines_were_asked_for_is_told_where_the_first_were_shown() -> None:
    early, late = drills(f'{EARLY}guidance = "fading"\nopen = 2\n', LATE.replace("blank", "lines"))
    earlier = EarlierSittings(early, late, "early.toml", "late.toml")
    earlier.add(student(early, "s1", 1, [True]))
    collected = ClassFigures(late, CATALOGUE, earlier=earlier)
    collected.add(student(late, "s1", 2, [True]))
    told = " ".join(text(class_report(collected.figures())).split())
    lines = len(late.tasks("s1")[1].question.derivation.asked)
    assert f"Then 2 lines were asked for, now {lines}." in told
    assert "The two drills differ in guidance, which changes marks too." in told


def test_without_an_earlier_drill_nothing_is_said_of_it() -> None:
    _, late = drills()
    collected = ClassFigures(late, CATALOGUE)
    collected.add(student(late, "s1", 2, [True]))
    assert "Did it help" not in text(class_report(collected.figures()))


def sat(drill: Drill, ident: str, folder: Path, keys: int) -> None:
    """Write a record in which the first lines of the last task are right."""
    sitting = Sitting.start(drill, CATALOGUE, ident, folder)
    bench = sitting.benches[-1]
    for step in bench.working.asked[:keys]:
        bench.enter(step.key, right_entry(bench.question, step))
    sitting.hand_in()


def test_the_command_compares_two_drills_by_their_records(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for text_of, drill, keys in zip((EARLY, LATE), drills(), (2, 3), strict=True):
        (tmp_path / f"{drill.id}.toml").write_text(text_of, "utf-8")
        for ident in ("s01", "s02"):
            sat(drill, ident, tmp_path / f"{drill.id}-records", keys)
    early, late = str(tmp_path / "early.toml"), str(tmp_path / "late.toml")
    records = str(tmp_path / "late-records")
    earlier = ["--earlier", early, str(tmp_path / "early-records")]
    out = tmp_path / "marks"
    assert main(["drill", "mark", late, records, "--out", str(out), *earlier]) == 0
    for form in ("md", "html"):
        written = (out / f"report.{form}").read_text("utf-8")
        assert "A pail of water, then A lamp on a bracket: 2 students worked on both." in written
    capsys.readouterr()
    assert main(["drill", "report", late, records, "--plain", *earlier]) == 0
    assert "Fewer than 10 students are too few for a claim." in capsys.readouterr().out
    assert main(["drill", "report", early, records, "--plain", "--earlier", late, records]) == 2
    assert "early.toml: item: no item has a pair" in capsys.readouterr().err
    turned = ["--earlier", late, records]
    assert main(["drill", "report", late, records, "--plain", *turned]) == 2
    assert "late.toml: item: it does not set 'elbow-pail-of-water'" in capsys.readouterr().err
