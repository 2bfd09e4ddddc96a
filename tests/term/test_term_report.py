"""The report and the pages of a term: figures by hand, and what is said to whom.

All students are invented.
"""

from __future__ import annotations

import math
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import numpy
import pytest
import scipy
from helpers.classes import HOSTILE, Page, figures_of
from helpers.drill_sittings import SHELF, small_drill
from helpers.material import CATALOGUE
from helpers.terms import write_term
from leverstep.documents.blocks import Document, Table, Told
from leverstep.documents.html import html
from leverstep.documents.markdown import markdown
from leverstep.documents.spoken import spoken
from leverstep.documents.tex import tex
from leverstep.documents.text import text
from leverstep.faces.commands.cli import main
from leverstep.marking.collecting import Student
from leverstep.marking.marking import Entry, LineMark, Marked
from leverstep.reports.interval import Sums, means_interval, shares_interval
from leverstep.reports.teacher import FOR_THE_TEACHER
from leverstep.term.term_change import changed
from leverstep.term.term_figures import TermFigures
from leverstep.term.term_marking import KeptTerm, MarkedTerm, codes_noted, mark_term
from leverstep.term.term_pages import student_page
from leverstep.term.term_plan import TermDrill, TermPlan, read_term
from leverstep.term.term_report import term_report
from leverstep.working.verdict import Outcome

DRILL = small_drill()
KEYS = [step.key for step in DRILL.tasks("")[0].question.derivation.asked]
SLIP = CATALOGUE.slips["kilograms-left"]


@pytest.fixture(scope="module")
def marked(tmp_path_factory: pytest.TempPathFactory) -> MarkedTerm:
    """Return the term of four students, marked."""
    plan = read_term(write_term(tmp_path_factory.mktemp("term")), SHELF.problems)
    with ThreadPoolExecutor(1) as pool:
        return mark_term(plan, CATALOGUE, pool, codes_noted(plan))


def table(blocks: tuple[Told, ...], column: str) -> Table:
    """Return the first table that begins with a column of this name."""
    return next(one for one in blocks if isinstance(one, Table) and one.columns[0] == column)


def test_the_report_shows_each_slip_with_its_drills_and_what_became_of_it(
    marked: MarkedTerm,
) -> None:
    blocks = term_report(marked.figures)
    assert table(blocks, "Slip").rows == (
        (SLIP.name, "4", "one: 3 of 3; two: 1 of 3; three: 2 of 3", "4", "1", "3", "1"),
    )
    assert table(blocks, "Drill").rows == (
        ("one", "1", "3", "0", "1", "–"),
        ("two", "2", "3", "1", "0", "–"),
        ("three, required", "1", "3", "1", "0", "–"),
    )
    assert table(blocks, "Student").rows == (("c3 Cy Cedar", "55 %", "three", "three", "none"),)


def test_who_has_no_marks_at_all_and_lacks_a_required_drill_is_to_be_spoken_with(
    tmp_path: Path,
) -> None:
    path = write_term(tmp_path)
    for record in (tmp_path / "records").glob("*-c3.jsonl"):
        record.unlink()
    plan = read_term(path, SHELF.problems)
    with ThreadPoolExecutor(1) as pool:
        figures = mark_term(plan, CATALOGUE, pool, codes_noted(plan)).figures
    row = ("c3 Cy Cedar", "0 %", "three", "one, two, three", "none")
    assert row in table(term_report(figures), "Student").rows
    assert (figures.students, figures.absent) == (3, 1)
    of_the_teacher = text(term_report(figures)).partition(FOR_THE_TEACHER)[2]
    assert "Without any marks c3 Cy Cedar." in " ".join(of_the_teacher.split())


def test_without_names_nobody_is_named(marked: MarkedTerm) -> None:
    bare = text(term_report(marked.figures, with_names=False))
    assert FOR_THE_TEACHER not in bare
    for one in marked.students:
        assert one.student.id not in bare
        assert one.student.name not in bare
    assert "Cy Cedar" in text(term_report(marked.figures)).partition(FOR_THE_TEACHER)[2]


def test_a_page_tells_a_student_which_drills_count_and_which_slips_are_back(
    marked: MarkedTerm,
) -> None:
    ada, bo, cy, di = (tuple(student_page(marked.figures, one)) for one in marked.students)
    assert table(ada, "Drill").rows[1] == (
        "two",
        "40 %",
        "2",
        "no: the lowest drill does not count",
    )
    assert table(ada, "Slip").rows == (
        (SLIP.name, "one, three", "gone, then made again", SLIP.reason),
    )
    assert (
        table(bo, "Drill").rows[1][3]
        == "no: you have not sat it, and the lowest drill does not count"
    )
    assert table(bo, "Slip").rows[0][2] == "made again the last time"
    assert table(cy, "Drill").rows[2] == (
        "three",
        "–",
        "1",
        "as 0 %: you have not sat it, and it is required",
    )
    assert table(cy, "Slip").rows[0][2] == table(di, "Slip").rows[0][2] == "gone"
    assert table(di, "Drill").rows[0] == ("one", "–", "1", "no: you are exempt")


def made_up(number: int, rights: tuple[bool, ...], share: Fraction, slips: bool = False) -> Student:
    """Return a student with some lines right at the first try, others not, and a share of marks."""
    lines = tuple(
        LineMark(1, key, "force", Outcome.RIGHT if one else Outcome.WRONG, 1, 0, one, Fraction(one))
        for key, one in zip(KEYS, rights, strict=False)
    )
    wrong = Entry(1, KEYS[0], "force", "9", Outcome.WRONG, (SLIP.id,), True, 0, None, True, "")
    ident = f"student-{number:02}"
    entries = (wrong,) if slips else ()
    one = Marked(ident, "", "r", "", "", True, entries, lines, (10 * share,), 0, 0.0, ())
    return Student(ident, "", one, (one,), ())


def term_of(*classes: list[Student], title: str = "Spring") -> TermFigures:
    """Return the figures of a term: for each drill the students who sat it."""
    drills = tuple(
        TermDrill(f"drill {n}", replace(DRILL, id=f"drill-{n}"), Path())
        for n in range(len(classes))
    )
    kept = KeptTerm(TermPlan(title, drills), CATALOGUE)
    for place, students in enumerate(classes):
        for one in students:
            kept.add(place, one)
        kept.finish(place, figures_of(drills[place].drill, students))
    return kept.figures(kept.students())


def test_a_drill_counts_for_nobody_who_is_not_on_its_roster() -> None:
    """Each section has a drill of its own, and both have the first."""
    one, two = made_up(1, (True,), Fraction(1, 2)), made_up(2, (True,), Fraction(1, 4))
    own = [replace(DRILL, id=each.id, students={each.id: ""}) for each in (one, two)]
    drills = tuple(TermDrill(each.id, each, Path()) for each in (DRILL, *own))
    kept = KeptTerm(TermPlan("Spring", drills), CATALOGUE)
    for place, students in enumerate(([one, two], [one], [two])):
        for student in students:
            kept.add(place, student)
        kept.finish(place, figures_of(drills[place].drill, students))
    first, second = students = tuple(kept.students())
    assert (first.total, second.total) == (Fraction(1, 2), Fraction(1, 4))
    assert not first.missing | second.missing
    page = tuple(student_page(kept.figures(students), first))
    assert [row[3] for row in table(page, "Drill").rows] == ["yes", "yes", "no: not set for you"]


def test_a_line_that_the_strong_get_wrong_is_named_with_how_many_tried_it() -> None:
    """Ten students: five are right everywhere but on the last line, five on the last line alone."""
    strong, weak = (True, True, True, False), (False, False, False, True)
    half = Fraction(1, 2)
    ten = [made_up(n, strong if n < 5 else weak, half) for n in range(10)]
    (row,) = (
        one for one in term_report(term_of(ten)) if isinstance(one, Table) and "Line" in one.columns
    )
    ((drill, line, _asks, tried, facility, apart),) = row.rows
    assert (drill, tried, facility, apart) == ("drill 0", "10", "50 %", "−1.00")
    assert line.endswith("of task 1")
    few = text(term_report(term_of(ten[:9])))
    assert "Fewer than 10 students tried any line" in few


def test_two_terms_are_compared_by_means_and_by_shares() -> None:
    """Then 12 students with 40 or 60 %, half of them with a slip; now 10 % more, and no slip."""
    then = [made_up(n, (True,), Fraction(4 + 2 * (n % 2), 10), slips=n % 2 == 0) for n in range(12)]
    now = [made_up(n, (True,), Fraction(5 + 2 * (n % 2), 10)) for n in range(12)]
    change = changed(term_of(then, title="Last spring"), term_of(now))
    (drill,) = change.drills
    assert (drill.name, drill.then.mean, drill.now.mean) == (
        "drill 0",
        Fraction(1, 2),
        Fraction(3, 5),
    )
    assert drill.interval is not None
    # Of both the variance is 12 · 0.01 / 11, and t of 22 degrees of freedom is 2.074.
    half = 2.074 * math.sqrt(2 * 12 * 0.01 / 11 / 12)
    assert drill.interval == pytest.approx((0.1 - half, 0.1 + half), abs=2e-4)
    (slip,) = change.slips
    assert (slip.name, slip.then, slip.now, slip.is_sure) == (SLIP.name, 6, 0, True)
    told = text(term_report(term_of(now), change))
    assert "Beside Last spring" in told
    assert "+10.0" in told
    few = changed(term_of(then[:9]), term_of(now))
    assert few.drills[0].interval is None
    beside = next(
        b for b in term_report(term_of(now), few) if isinstance(b, Table) and "Mean" in b.columns
    )
    assert beside.rows[0][1:] == ("9", "–", "12", "60 %", "–", "–")
    assert few.slips[0].interval is None


def test_the_interval_of_two_means_is_welchs_with_whole_degrees_of_freedom() -> None:
    draw = numpy.random.default_rng(7)
    for sizes in ((10, 31), (12, 12), (40, 15)):
        parts = [[Fraction(int(v), 100) for v in draw.integers(0, 101, size)] for size in sizes]
        then, now = Sums(), Sums()
        for sums, values in zip((then, now), parts, strict=True):
            for value in values:
                sums.add(value)
        before, after = ([float(v) for v in values] for values in parts)
        found = scipy.stats.ttest_ind(after, before, equal_var=False)
        middle = sum(after) / len(after) - sum(before) / len(before)
        error = middle / found.statistic
        half = scipy.stats.t.ppf(0.975, math.floor(found.df)) * error
        assert means_interval(then, now) == pytest.approx((middle - half, middle + half))
    alone = Sums()
    alone.add(Fraction(1))
    assert means_interval(alone, then) is None


@pytest.mark.parametrize(
    ("now", "then", "low", "high"),
    [
        ((56, 70), (48, 80), 0.0524, 0.3339),
        ((9, 10), (3, 10), 0.1705, 0.8090),
        ((5, 56), (0, 29), -0.0381, 0.1926),
        ((0, 10), (0, 10), -0.2775, 0.2775),
    ],
)
def test_the_interval_of_two_shares_is_newcombes(
    now: tuple[int, int], then: tuple[int, int], low: float, high: float
) -> None:
    """Method 10 of the examples in his table II, here from memory."""
    assert shares_interval(then, now) == pytest.approx((low, high), abs=6e-5)


def test_names_of_a_plan_are_never_markup(marked: MarkedTerm) -> None:
    first, *others = marked.figures.drills
    for hostile in HOSTILE:
        named = replace(first, planned=replace(first.planned, name=hostile))
        plan = replace(marked.figures.plan, title=hostile)
        figures = replace(marked.figures, drills=(named, *others), plan=plan)
        report = Document(hostile, term_report(figures))
        Page().feed(html(report))
        assert "<script" not in markdown(report)
        for written in (markdown(report), tex(report), text(report.blocks), spoken(report.blocks)):
            assert all(sign.isprintable() or sign == "\n" for sign in written)


def test_the_command_writes_report_and_pages(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, out = str(write_term(tmp_path / "term")), tmp_path / "out"
    called = ["course", path, "--out", str(out), "--earlier", path]
    assert main([*called, "--pages", "--tex"]) == 0
    said = capsys.readouterr().out
    assert f"4 pages to give back: {out / 'course'}" in said
    assert "4 students, 3 drills." in said
    assert len(list((out / "course").glob("*.html"))) == 4
    report = (out / "course-report.md").read_text("utf-8")
    assert "## Beside Levers, spring" in report
    assert "Cy Cedar" in report
    assert main([*called, "--without-names"]) == 0
    left = f"Left over from an earlier run: {out / 'course'}, {out / 'course-report.tex'}"
    assert left in capsys.readouterr().out
    assert "Cy Cedar" not in (out / "course-report.md").read_text("utf-8")
