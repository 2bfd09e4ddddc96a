"""The class report: its figures against worked numbers and scipy, and what its writers let through.

All students are invented.
"""

from __future__ import annotations

import gc
import random
import re
import tracemalloc
import unicodedata
from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import numpy
import pytest
import scipy
from helpers.classes import Page, figures_of, marked_in
from helpers.documents import check_latex, set_in_latex
from helpers.drill_sittings import small_drill
from helpers.material import CATALOGUE
from leverstep.course.phrases import capital
from leverstep.course.shelf import load_shelf
from leverstep.diagram.tex_text import tex_text
from leverstep.documents.blocks import NOT_GIVEN, Bar, Bars, Document, Heading, NewPage, Table
from leverstep.documents.html import html
from leverstep.documents.markdown import escaped, markdown
from leverstep.documents.spoken import spoken
from leverstep.documents.tex import tex
from leverstep.documents.text import WIDTH, columns_of, text
from leverstep.drill.drill import Drill
from leverstep.drill.drill_file import drill_of
from leverstep.drill.sitting import Sitting
from leverstep.faces.commands.cli import main
from leverstep.faces.screens.basis import OneScreenApp
from leverstep.faces.screens.footer import FooterKey
from leverstep.faces.screens.report import ReportScreen
from leverstep.marking.collecting import Student, by_student
from leverstep.marking.marking import Entry, LineMark, Marked
from leverstep.marking.outputs import Outputs
from leverstep.reports.alike import LEAST, number_typed
from leverstep.reports.class_report import SMALL_CLASS, class_report, headline
from leverstep.reports.figures import SMALL, Figures, Help, Who
from leverstep.reports.gathering import ClassFigures
from leverstep.reports.measures import LineSums
from leverstep.reports.pages import StudentPages, file_name
from leverstep.reports.report_files import write_report
from leverstep.reports.teacher import FOR_THE_TEACHER, MOST_SEEN
from leverstep.reports.to_give import with_problems_to_give
from leverstep.working.cautions import CAUTION
from leverstep.working.verdict import Outcome
from leverstep.working.writing import substituted, value_text
from textual.containers import VerticalScroll

SHELF = load_shelf()
FILE = 'id = "test"\ntitle = "Levers"\n[[item]]\nproblem = "plain-wheelbarrow"\n'
DRILL = drill_of(FILE, SHELF.problems, "test.toml")
NAMES = {"ada-1": "Ada Alder", "bo-2": "Bo Birch", "cy-3": "Cy Cedar", "di-4": "Di Date"}
HOSTILE = (
    "<script>alert(1)</script>",
    "=cmd|' /C calc'!A0",
    "\x1b[31mred\x07",
    "**bold** [link](https://example.org) `code` | cell",
    "www.example.org & <b>",
    "\u202egnirts \udcff",
    "../../up\nand down",
)
"""Texts that would be markup, a formula, a link or a control sign where they are not escaped."""


def document_of(figures: Figures) -> Document:
    """Return the class report as a document for a file."""
    return Document("title", class_report(figures))


def right(drill: Drill, student: str, key: str) -> str:
    """Return the right value of a line of the first task, as a student types it."""
    question = drill.tasks(student)[0].question
    step = question.derivation.step(key)
    return value_text(step, question.graph.values(question.numbers, {})[key])


def sit(
    drill: Drill, student: str, folder: Path, typed: Iterable[tuple[str, str]], end: bool = True
) -> Sitting:
    """Return a sitting in which some lines of the first task were typed."""
    sitting = Sitting.start(drill, CATALOGUE, student, folder)
    for key, entry in typed:
        sitting.benches[0].enter(key, entry)
    if end:
        sitting.hand_in()
    return sitting


def made_up(
    number: int, rights: Iterable[bool], entries: tuple[Entry, ...] = (), name: str = ""
) -> Student:
    """Return a student with some lines of the first task right at the first try, others not."""
    keys = [step.key for step in DRILL.tasks("")[0].question.derivation.asked]
    lines = tuple(
        LineMark(1, key, "force", Outcome.RIGHT if one else Outcome.WRONG, 1, 0, one, Fraction(one))
        for key, one in zip(keys, rights, strict=False)
    )
    mark = Fraction(10) * sum(line.first_right for line in lines) / len(lines)
    ident = f"student-{number}"
    marked = Marked(ident, name, "r", "", "", True, entries, lines, (mark,), 0, 0.0, ())
    return Student(ident, name, marked, (marked,), ())


def wrong_entry(typed: str, slip: str = "kilograms-left", key: str = "W_s") -> Entry:
    """Return a wrong entry behind which a slip was found."""
    return Entry(1, key, "force", typed, Outcome.WRONG, (slip,), True, 0, None, True, "")


@pytest.fixture
def small(tmp_path: Path) -> tuple[Drill, Path]:
    """Return a drill with a roster of four, and the records of three of them.

    The soil's weight is wrong first for Ada and Bo, who took its mass; Bo also did so with the
    barrow, and left both.
    """
    drill, folder = replace(DRILL, students=NAMES), tmp_path / "records"
    soil, barrow = mass_in_newtons(drill, "ada-1", "m_s"), right(drill, "ada-1", "W_b")
    sit(drill, "ada-1", folder, [("W_s", soil), ("W_s", f"+{soil}"), ("W_b", barrow)])
    left = [(f"W_{end}", mass_in_newtons(drill, "bo-2", f"m_{end}")) for end in "sb"]
    sit(drill, "bo-2", folder, left, end=False)
    whole = drill.tasks("cy-3")[0].question
    words = {"equation": "F_h*d_h - W_s*d_s - W_b*d_b = 0"}
    keys = [step.key for step in whole.derivation.asked]
    sit(drill, "cy-3", folder, [(k, words.get(k) or right(drill, "cy-3", k)) for k in keys])
    return drill, folder


def mass_in_newtons(drill: Drill, student: str, sign: str) -> str:
    """Return a mass as typed by somebody who forgets g: `54.0 N`."""
    question = drill.tasks(student)[0].question
    given = next(given for given in question.givens if given.sign == sign)
    return question.written(given).replace("kg", "N")


def test_a_small_class_by_hand(small: tuple[Drill, Path]) -> None:
    drill, folder = small
    figures = figures_of(drill, marked_in(drill, folder))
    count = len(drill.tasks("cy-3")[0].question.derivation.asked)
    assert (figures.sat, figures.finished, figures.absent, figures.unmarked) == (3, 2, 1, 0)
    assert figures.marks is not None
    assert figures.marks.bins == (2, 0, 0, 0, 0, 0, 0, 0, 0, 1)
    ada = Fraction(round(1000 / count), 10)  # one line right, Bo none, Cy all
    assert (figures.marks.lower, figures.marks.median) == (ada / 2, ada)
    lines = {line.name: line for line in figures.lines}
    assert (lines["W_s"].tried, lines["W_s"].facility) == (3, Fraction(1, 3))
    assert (lines["W_b"].tried, lines["W_b"].facility) == (3, Fraction(2, 3))
    assert (lines["F_h"].tried, lines["F_h"].facility) == (1, 1)
    assert {line.discrimination for line in figures.lines} == {None}
    (slip,) = figures.slips
    assert ([one.id for one in slip.slips], slip.times) == (["kilograms-left"], 4)
    assert (slip.name, slip.students) == ("kilograms left as newtons", 2)
    assert (slip.most_on, slip.facility) == ((1, "W_s"), Fraction(1, 3))
    assert slip.typed.endswith(" N")
    assert figures.teach == (slip,)
    assert [line.name for line in figures.hardest] == ["W_s", "W_b"]
    bo, ada_helped = figures.help
    assert (bo.who, bo.percent) == (Who("bo-2", "Bo Birch"), 0)
    (repeated,) = bo.slips
    assert (repeated[0].id, repeated[1]) == ("kilograms-left", ((1, "W_s"), (1, "W_b")))
    assert (bo.open, bo.unwritten) == (forces("W_s", "W_b"), count - 2)
    assert ada_helped.who.id == "ada-1"
    assert [places for _, places in ada_helped.slips] == [((1, "W_s"),)]
    assert (ada_helped.open, ada_helped.closed) == (forces("W_s"), ())
    assert (figures.pairs, figures.doubts) == ((), ())


def forces(*names: str) -> tuple[tuple[str, tuple[tuple[int, str], ...]], ...]:
    """Return forces of the first task as the lines that were not right in the end."""
    return (("Forces in newtons", tuple((1, name) for name in names)),)


def test_few_lines_not_right_in_the_end_are_named_and_more_are_counted(tmp_path: Path) -> None:
    names = ("W_s", "W_b", "d_s", "d_b", "d_h")
    sit(DRILL, "bo", tmp_path, [(name, "1 N" if name[0] == "W" else "9 m") for name in names])
    shown = markdown(document_of(figures_of(DRILL, marked_in(DRILL, tmp_path))))
    assert "| Distances in metres, 3; W_s of task 1, W_b of task 1; not written, " in shown


def test_the_words_say_what_the_figures_are(small: tuple[Drill, Path]) -> None:
    drill, folder = small
    figures = figures_of(drill, marked_in(drill, folder))
    told = " ".join(text(class_report(figures)).split())
    assert "3 students sat, 2 handed in. 1 of the roster has no record." in told
    missed = "Not handed in bo-2 Bo Birch. Without a record di-4 Di Date."
    assert missed in told.split(FOR_THE_TEACHER)[1]
    assert "Kilograms left as newtons: 2 of 3 students made it, most of them on W_s" in told
    assert figures.slips[0].reason in told
    assert "which 33 % got right first time" in told
    assert SMALL_CLASS in told
    assert CAUTION in told
    assert headline(figures).startswith("3 students sat, 2 handed in.")


def test_a_line_never_written_is_not_one_a_student_is_stuck_on(tmp_path: Path) -> None:
    """One slip used up the tries of one line; all that was written besides is right."""
    drill = replace(DRILL, attempts=3)
    slip = mass_in_newtons(drill, "ada-1", "m_s")
    sit(
        drill,
        "ada-1",
        tmp_path,
        [
            *[("W_s", sign + slip) for sign in ("", "+", " + ")],
            ("W_b", right(drill, "ada-1", "W_b")),
        ],
    )
    (ada,) = figures_of(drill, marked_in(drill, tmp_path)).help
    assert ada.open == forces("W_s")
    assert ada.closed == ((1, "W_s"),)
    assert [(slip.id, places) for slip, places in ada.slips] == [("kilograms-left", ((1, "W_s"),))]
    assert ada.unwritten == len(drill.tasks("ada-1")[0].question.derivation.asked) - 2
    shown = markdown(document_of(figures_of(drill, marked_in(drill, tmp_path))))
    assert "| kilograms left as newtons, on W_s of task 1 |" in shown
    assert "no tries left: W_s of task 1; not written, 13 |" in shown
    assert "The reaction, " not in shown


def test_who_has_a_tried_line_wrong_in_the_end_is_listed_whatever_the_marks(
    tmp_path: Path,
) -> None:
    keys = [step.key for step in DRILL.tasks("ada")[0].question.derivation.asked]
    words = {"equation": "F_h*d_h - W_s*d_s - W_b*d_b = 0"}
    typed = {key: words.get(key) or right(DRILL, "ada", key) for key in keys}
    sit(DRILL, "ada", tmp_path, typed.items())
    assert figures_of(DRILL, marked_in(DRILL, tmp_path)).help == ()
    sit(DRILL, "bo", tmp_path, {**typed, "W_s": "1.00 N", **_of("bo", keys, words)}.items())
    (bo,) = figures_of(DRILL, marked_in(DRILL, tmp_path)).help
    assert (bo.who.id, bo.percent > 90, bo.open) == ("bo", True, forces("W_s"))


def _of(student: str, keys: Iterable[str], words: dict[str, str]) -> dict[str, str]:
    """Return right entries of a student for all lines but the first."""
    return {k: words.get(k) or right(DRILL, student, k) for k in keys if k != "W_s"}


def test_records_to_look_at_are_named_and_counted(tmp_path: Path) -> None:
    folder = tmp_path / "records"
    for student in ("ada", "bo", "cy", "di"):
        sit(DRILL, student, folder, [("W_s", right(DRILL, student, "W_s"))])
    ada, bo, cy, _ = (next(folder.rglob(f"{name}-*")) for name in ("ada", "bo", "cy", "di"))
    typed = right(DRILL, "ada", "W_s").encode()
    ada.write_bytes(ada.read_bytes().replace(typed, b"1.00 N"))
    bo.write_bytes(bo.read_bytes()[:-9])
    cy.write_bytes(b"{}\n" + cy.read_bytes())
    figures = figures_of(DRILL, marked_in(DRILL, folder))
    assert [one.who.id.partition("-20")[0] for one in figures.doubts] == ["test/cy", "ada", "bo"]
    changed = "the record was changed after it was written, from W_s of task 1 on"
    assert figures.doubts[1].remarks == (changed,)
    shown = text(class_report(figures))
    assert "Records to look at: 3." in headline(figures)
    assert "Records to look at: 3." in shown.split("What to teach next")[0]
    assert "Records to look at" not in text(class_report(figures, with_names=False))
    in_part = " ".join(shown.split("Records to look at\n")[1].split())
    assert "the end of the record file is missing" in in_part
    assert changed in markdown(document_of(figures))


def test_numbers_drawn_anew_are_explained_where_they_are_counted(tmp_path: Path) -> None:
    for student in ("ada", "bo"):
        sit(DRILL, student, tmp_path, [("W_s", right(DRILL, student, "W_s"))])
    wider = SHELF.problems["plain-seesaw"]
    redrawn = replace(DRILL, items=(replace(DRILL.items[0], problem=wider),))
    figures = figures_of(redrawn, marked_in(redrawn, tmp_path))
    assert "Records to look at: 2 (2: other numbers were shown for task 1)." in headline(figures)
    assert "numbers that the student never saw" in " ".join(text(class_report(figures)).split())


def test_a_tie_of_lines_is_no_line_that_most_slipped_on() -> None:
    def on(*keys: str) -> tuple[Entry, ...]:
        return tuple(wrong_entry("54.0 N", key=key) for key in keys)

    def most_on(*students: tuple[Entry, ...]) -> object:
        made = [made_up(n, [False, False], one) for n, one in enumerate(students)]
        return figures_of(DRILL, made).slips[0].most_on

    assert most_on(on("W_s"), on("W_b")) is None
    assert most_on(on("W_s", "W_b"), on("W_s", "W_b")) is None
    assert most_on(on("W_s", "W_b"), on("W_s", "W_b", "W_s")) == (1, "W_s")
    assert most_on(on("W_s"), on("W_s", "W_b"), on("W_b"), on("W_b")) == (1, "W_b")
    told = [made_up(n, [False, False], on(key)) for n, key in enumerate(("W_s", "W_b"))]
    shown = " ".join(text(class_report(figures_of(DRILL, told))).split())
    assert "2 of 2 students made it, on several lines." in shown
    assert "most of them on" not in shown


def test_a_slip_spread_over_lines_outweighs_one_that_most_made_on_one_line() -> None:
    """Three make one slip on an easy line; two make another on three lines that all have wrong."""
    keys = [step.key for step in DRILL.tasks("")[0].question.derivation.asked]
    spread = tuple(wrong_entry("2.0 N", "sign-of-a-moment", key) for key in keys[1:4])
    students = [made_up(n, [n > 2, False, False, False], spread[:1]) for n in range(6)]
    spreading = [made_up(n, [True, False, False, False], spread) for n in (6, 7)]
    single = [made_up(n, [False] * 4, (wrong_entry("5.0 N"),)) for n in (8, 9, 10)]
    figures = figures_of(DRILL, [*spreading, *single, *(replace_entries(s) for s in students)])
    assert [one.students for one in figures.slips] == [3, 2]
    assert [one.name for one in figures.teach] == [
        "the sign of one moment",
        "kilograms left as newtons",
    ]
    assert "To teach next: the sign of one moment (2 students)." in headline(figures)


def replace_entries(student: Student) -> Student:
    """Return a student without entries."""
    assert student.counted is not None
    counted = replace(student.counted, entries=())
    return replace(student, counted=counted, sittings=(counted,))


def test_slips_for_the_same_reason_are_one_row() -> None:
    students = [
        made_up(1, [False], (wrong_entry("20.5 N", "pounds-left"),)),
        made_up(2, [False], (wrong_entry("201 N", "conversion-skipped"),) * 2),
        made_up(3, [False], (wrong_entry("201 N", "conversion-skipped"),)),
    ]
    (one,) = figures_of(DRILL, students).slips
    assert one.name == "not converted to kilograms or pounds left as newtons"
    assert (one.students, one.times) == (3, 4)


def test_hints_stand_in_the_tables_of_lines_and_of_who_needs_help(tmp_path: Path) -> None:
    sitting = Sitting.start(DRILL, CATALOGUE, "ada", tmp_path)
    for key in ("W_s", "W_s", "d_h"):
        assert sitting.benches[0].hint(key)
    sitting.benches[0].enter("W_s", "1.00 N")
    sitting.hand_in()
    figures = figures_of(DRILL, marked_in(DRILL, tmp_path))
    assert {line.name: line.hints for line in figures.lines if line.hints} == {"W_s": 2, "d_h": 1}
    assert [one.hints for one in figures.help] == [3]
    shown = markdown(document_of(figures))
    assert "Discrimination | Hints |" in shown
    assert "| ada | 0 % | 3 | none | W_s of task 1; not written, 14 |" in shown


def in_need(*students: tuple[str, int, str]) -> Figures:
    """Return figures in which students with an id, marks in per cent and a slip need help."""
    return replace(
        figures_of(DRILL, []),
        help=tuple(
            Help(
                Who(ident, ""), Fraction(percent), 0,
                ((CATALOGUE.slips[slip], ((1, "W_s"), (1, "W_b"))),) if slip else (), (), (), 0,
            )
            for ident, percent, slip in students
        ),
    )  # fmt: skip


def rows_of_help(figures: Figures) -> list[tuple[str, ...]]:
    """Return what to talk about with whom, by the report."""
    tables = [one for one in class_report(figures) if isinstance(one, Table)]
    (table,) = [one for one in tables if one.columns[0] == "Talk about"]
    return [tuple(row[:2]) for row in table.rows]


def test_who_needs_help_stands_by_what_to_talk_about_the_commonest_first() -> None:
    slips = ("pounds-left", "kilograms-left")
    one, other = (capital(CATALOGUE.slips[slip].name) for slip in slips)
    figures = in_need(("a", 10, slips[0]), ("b", 20, slips[1]), ("c", 30, slips[1]), ("d", 40, ""))
    assert rows_of_help(figures) == [
        (other, "b"), (other, "c"), *sorted([(one, "a"), ("What was not written", "d")]),
    ]  # fmt: skip


def test_of_many_who_need_help_only_so_many_are_listed_as_can_be_met() -> None:
    figures = in_need(*((f"s{number:02}", number, "") for number in range(40)))
    assert len(rows_of_help(figures)) == MOST_SEEN
    assert {student for _, student in rows_of_help(figures)} == {f"s{n:02}" for n in range(12)}
    assert f"{40 - MOST_SEEN} more students have a line left wrong" in " ".join(
        text(class_report(figures)).split()
    )


def test_a_report_without_names_has_no_part_for_the_teacher() -> None:
    figures = in_need(("cy-clover", 10, ""))
    assert "cy-clover" in text(class_report(figures))
    assert "cy-clover" not in text(class_report(figures, with_names=False))
    assert FOR_THE_TEACHER not in text(class_report(figures, with_names=False))


def test_the_command_shows_the_report_without_names(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sit(DRILL, "bo-briar", tmp_path / "records", [("W_s", "1.00 N")])
    path = tmp_path / "drill.toml"
    path.write_text(DRILL.text, "utf-8")
    call = ["drill", "report", str(path), str(tmp_path / "records"), "--plain"]
    assert main(call) == 0
    assert "bo-briar" in capsys.readouterr().out
    assert main([*call, "--without-names"]) == 0
    assert "bo-briar" not in capsys.readouterr().out


def test_first_tries_slips_and_hints_are_those_of_the_first_sitting(tmp_path: Path) -> None:
    """The second sitting has the same numbers, after all verdicts were told."""
    slip = mass_in_newtons(DRILL, "ada", "m_s")
    (folder := tmp_path / "records").mkdir()
    sit(DRILL, "ada", folder, [])
    first = Sitting.start(DRILL, CATALOGUE, "ada", folder)
    first.benches[0].hint("W_s")
    first.benches[0].enter("W_s", slip)
    first.hand_in()
    sit(DRILL, "ada", folder, [("W_s", right(DRILL, "ada", "W_s"))])
    figures = figures_of(DRILL, marked_in(DRILL, folder))
    assert figures.marks is not None
    assert figures.marks.median > 0, "the best sitting counts"
    line = next(line for line in figures.lines if line.name == "W_s")
    assert (line.facility, line.hints) == (0, 1)
    assert [one.name for one in figures.slips] == ["kilograms left as newtons"]
    (ada,) = figures.help
    assert (ada.percent > 0, ada.hints, ada.open) == (True, 1, ())


# R. F. Tate, Ann. Math. Statist. 25 (1954) 603-607, gives the point-biserial correlation; scipy
# works it out as Pearson's, from the data and not from sums.
@pytest.mark.parametrize("seed", range(20))
def test_the_measures_of_a_line_agree_with_scipy(seed: int) -> None:
    draw = random.Random(seed)
    rights = [draw.random() < 0.6 for _ in range(draw.randint(4, 60))] + [True, False]
    rests = [draw.randint(0, 12) + 3 * one for one in rights] + [0, 1]
    sums = LineSums()
    for one, rest in zip(rights, rests, strict=False):
        sums.add(one, rest)
    expected = scipy.stats.pointbiserialr(rights, rests[: len(rights)]).statistic
    assert sums.discrimination == pytest.approx(expected, abs=1e-12)
    assert float(sums.facility or 0) == pytest.approx(numpy.mean(rights))


def test_a_line_that_tells_nothing_apart_has_no_discrimination() -> None:
    for rights, rests in (([True] * 9, range(9)), ([False] * 9, range(9)), ([True, False], [4, 4])):
        sums = LineSums()
        for one, rest in zip(rights, rests, strict=True):
            sums.add(one, rest)
        assert sums.discrimination is None
    assert LineSums().facility is None


# S. Henrysson, Psychometrika 28 (1963) 211-218: the line itself is left out of the total.
def test_discrimination_is_with_the_total_of_the_other_lines() -> None:
    draw = random.Random(1)
    rows = [[draw.random() < strong / 28 for _ in range(15)] for strong in range(2, 27)]
    figures = figures_of(DRILL, (made_up(n, row) for n, row in enumerate(rows)))
    assert len(figures.lines) == 15
    for place, line in enumerate(figures.lines):
        column = [row[place] for row in rows]
        rest = [sum(row) - row[place] for row in rows]
        assert line.discrimination == pytest.approx(
            scipy.stats.pointbiserialr(column, rest).statistic
        )
        assert line.facility == Fraction(sum(column), len(rows))


# Definition 7 of R. J. Hyndman and Y. Fan, The American Statistician 50 (1996) 361-365, which
# numpy calls "linear".
@pytest.mark.parametrize("count", [1, 2, 3, 8, 31])
def test_median_and_quartiles_agree_with_numpy(count: int) -> None:
    draw = random.Random(count)
    students = [made_up(n, [draw.random() < 0.7 for _ in range(15)]) for n in range(count)]
    marks = figures_of(DRILL, students).marks
    assert marks is not None
    percents = [round(float(100 * s.counted.total / 10), 1) for s in students if s.counted]
    expected = numpy.percentile(percents, [25, 50, 75], method="linear")
    assert [float(v) for v in (marks.lower, marks.median, marks.upper)] == pytest.approx(expected)
    edges = numpy.histogram(percents, bins=range(0, 101, 10))[0]
    assert list(marks.bins) == list(edges)


def test_of_fewer_than_five_the_marks_are_told_one_by_one_and_no_quartiles() -> None:
    rows = [[place < 3 * n for place in range(15)] for n in range(1, 6)]
    for count, told in ((1, "Of all marks the student has "), (2, "Of all marks they have ")):
        few = markdown(document_of(figures_of(DRILL, map(made_up, range(count), rows))))
        for_all, for_the_teacher = few.split(FOR_THE_TEACHER)
        assert told in for_the_teacher
        assert "With fewer than 5 students, no marks are shown here." in for_all
        assert "Of all marks" not in for_all
        assert not re.search("median|quartile|half the class", few)
    five = markdown(document_of(figures_of(DRILL, map(made_up, range(5), rows))))
    assert "the quartiles" in five
    assert "Of all marks they" not in five


def test_figures_of_few_students_carry_a_warning_and_no_discrimination() -> None:
    rows = [[(n + place) % 3 > 0 for place in range(15)] for n in range(SMALL)]
    for count in (SMALL - 1, SMALL):
        figures = figures_of(DRILL, (made_up(n, row) for n, row in enumerate(rows[:count])))
        given = [line for line in figures.lines if line.discrimination is not None]
        assert figures.small == (count < SMALL) == (not given)
        assert (SMALL_CLASS in markdown(document_of(figures))) == (count < SMALL)


def copied(drill: Drill, folder: Path, keys: Iterable[str]) -> Figures:
    """Return the figures of Ada, who has all right, and Bo, who first typed some of her lines."""
    every = [s.key for s in drill.tasks("ada")[0].question.derivation.asked if s.unit]
    sit(drill, "ada", folder, [(key, right(drill, "ada", key)) for key in every])
    sit(drill, "bo", folder, [(key, right(drill, "ada", key)) for key in keys])
    return figures_of(drill, marked_in(drill, folder))


def test_numbers_that_are_right_for_another_are_a_pair_too_alike(tmp_path: Path) -> None:
    keys = ["W_s", "W_b", "d_h", "F_h"]
    (pair,) = copied(DRILL, tmp_path, keys).pairs
    assert (pair.right.id, pair.wrong.id) == ("ada", "bo")
    assert pair.lines == tuple((1, key) for key in keys)


def test_what_is_alike_by_nature_is_no_pair(tmp_path: Path) -> None:
    few = copied(DRILL, tmp_path / "few", ["W_s", "W_b", "F_h"][: LEAST - 1])
    assert few.pairs == ()
    fixed = replace(DRILL, items=(replace(DRILL.items[0], fixed=True),))
    assert copied(fixed, tmp_path / "fixed", ["W_s", "W_b", "F_h", "R_y"]).pairs == ()
    same_slip = [made_up(n, [True], (wrong_entry("54.5 N"),) * 5) for n in range(9)]
    assert figures_of(DRILL, same_slip).pairs == ()


@pytest.mark.parametrize(
    ("typed", "number"),
    [
        ("W_s = 475.8 N", "475.8n"),
        ("475.8N", "475.8n"),
        ("1.400 m", ""),
        ("0.0360 m", ""),
        ("0.4150 m", "0.4150m"),
        ("third", ""),
        ("F_m*d_m - W_l*d_l = 0", ""),
        ("", ""),
    ],
)
def test_only_a_number_with_three_figures_counts_as_alike(typed: str, number: str) -> None:
    assert number_typed(typed) == number


def hostile_class(typed: str) -> tuple[Drill, list[Student]]:
    """Return a class whose drill, names and entries all hold a hostile text."""
    students = [made_up(n, [n > 3] * 15, (wrong_entry(typed),), typed) for n in range(9)]
    return replace(DRILL, title=typed), students


@pytest.mark.parametrize("typed", HOSTILE)
def test_what_was_typed_is_never_markup(typed: str, tmp_path: Path) -> None:
    drill, students = hostile_class(typed)
    blocks = class_report(figures_of(drill, students))
    with Outputs(tmp_path) as files:
        pages = StudentPages(drill, CATALOGUE, files, latex=True)
        for student in students:
            pages.add(student)
    for path in pages.folder.glob("*.html"):
        Page().feed(path.read_text(encoding="utf-8"))
    for path in pages.folder.glob("*.tex"):
        check_latex(path.read_text(encoding="utf-8"))
    assert len(list(pages.folder.iterdir())) == 2 * len(students)
    report = Document(typed, blocks)
    Page().feed(html(report))
    check_latex(tex(report))
    shown = markdown(report) + text(blocks) + spoken(blocks)
    assert all(character.isprintable() or character == "\n" for character in shown)
    for mark in ("<script", "<b>", "[link](", "**bold", "https:/", "` |", " =cmd"):
        assert mark not in markdown(report)


def test_every_sign_of_markdown_is_escaped() -> None:
    assert escaped("*a* _b_ `c` [d] #e ~f~ |g|") == r"\*a\* \_b\_ \`c\` \[d\] \#e \~f\~ \|g\|"
    assert escaped("F_m = 12 N, M_sum = F_m×d") == "F_m = 12 N, M_sum = F_m×d"
    assert escaped("= ==a== a__b _ é_é") == r"\= \=\=a\=\= a\_\_b \_ é_é"
    assert escaped("<i>&amp;") == "&lt;i&gt;&amp;amp;"
    assert escaped("- a") == "&#45; a"
    assert escaped("12. a") == "1&#50;. a"
    assert escaped("-4.5 N at 12.5 %") == "-4.5 N at 12.5 %"


def test_the_page_holds_charts_the_caution_and_no_name_before_the_teachers_part(
    small: tuple[Drill, Path],
) -> None:
    drill, folder = small
    blocks = class_report(figures_of(drill, marked_in(drill, folder)))
    report = Document("title", blocks)
    shown = html(report)
    parsed = Page()
    parsed.feed(shown)
    assert CAUTION in parsed.said
    assert shown.count("<svg") == 1, "of so few there is no chart of marks"
    for written in (shown, markdown(report), text(blocks)):
        anonymous, of_the_teacher = written.split(FOR_THE_TEACHER)
        for ident, name in list(NAMES.items())[:3]:
            for word in (ident, name, name.split()[1]):
                assert word not in anonymous
        assert "Bo Birch" in of_the_teacher


def test_the_latex_of_a_class_has_all_that_its_html_has(
    small: tuple[Drill, Path], tmp_path: Path
) -> None:
    """Every figure and every sentence, of the report and of each page; the caution at each foot."""
    drill, folder = small
    students = marked_in(drill, folder)
    with Outputs(tmp_path / "out") as files:
        pages = StudentPages(drill, CATALOGUE, files, latex=True)
        for student in students:
            pages.add(student)
        list(write_report(figures_of(drill, students), files, latex=True))
    written = sorted((tmp_path / "out").rglob("*.html"))
    assert len(written) == 1 + pages.count == 4
    for path in written:
        page = Page()
        page.feed(path.read_text(encoding="utf-8"))
        shown = set_in_latex(path.with_suffix(".tex").read_text(encoding="utf-8"))
        said = [one for one in page.said[page.said.index(CAUTION) :] if one.strip()]
        assert len(said) > 40
        assert [one for one in said if tex_text(one) not in shown] == []
        foot = re.search(r"@oddfoot\}\{(.*)\}", shown)
        assert foot is not None
        assert tex_text(CAUTION) in foot[1]
        assert shown.split(r"\begin{document}")[1].count(tex_text(CAUTION)) == 1


def test_an_example_that_names_its_student_is_not_shown() -> None:
    telling = wrong_entry("Alder 54.0 N")
    figures = figures_of(DRILL, [made_up(1, [False], (telling,), "Ada Alder")])
    assert figures.slips[0].typed == ""
    both = [
        made_up(1, [False], (telling,), "Ada Alder"),
        made_up(2, [False], (wrong_entry("5 N"),)),
    ]
    assert figures_of(DRILL, both).slips[0].typed == "5 N"


def test_the_example_does_not_depend_on_whose_record_comes_first() -> None:
    students = [made_up(n, [False], (wrong_entry(f"{n}.5 N"),)) for n in range(12)]
    there, back = (figures_of(DRILL, order) for order in (students, students[::-1]))
    assert there.slips == back.slips


def test_a_class_without_a_sitting_has_a_report() -> None:
    drill = replace(DRILL, students=NAMES)
    figures = figures_of(drill, by_student(drill, []))
    assert (figures.sat, figures.absent, figures.marks, figures.lines) == (0, 4, None, ())
    told = text(class_report(figures))
    assert "0 students sat, 0 handed in. 4 of the roster have no record." in told
    Page().feed(html(document_of(figures)))


def test_one_student_has_a_report() -> None:
    figures = figures_of(DRILL, [made_up(1, [True, False])])
    assert figures.marks is not None
    assert figures.marks.lower == figures.marks.median == figures.marks.upper == 50
    assert figures.teach == ()
    assert "1 student sat" in text(class_report(figures))


def test_a_terminal_of_eighty_columns_is_enough() -> None:
    wide = "漢字" * 40
    students = [made_up(n, [n > 3] * 15, (wrong_entry("9" * 200),), wide) for n in range(9)]
    told = text(class_report(figures_of(replace(DRILL, title=wide), students)))
    assert max(columns_of(line) for line in told.splitlines()) <= WIDTH < 80


def test_memory_hardly_grows_with_what_was_typed() -> None:
    collected = ClassFigures(DRILL, CATALOGUE)

    def feed(numbers: Iterable[int]) -> None:
        for n in numbers:
            wrong = wrong_entry(f"{n}.25 N")
            right_one = wrong._replace(outcome=Outcome.RIGHT)
            collected.add(made_up(n, [True] * 15, (wrong,) * 20 + (right_one,) * 10))

    feed(range(200))
    tracemalloc.start()
    feed(range(200, 1200))
    gc.collect()
    grown, _ = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert grown / 1000 < 300, "an id, a name, and twelve bytes for a right line"


def test_a_page_of_a_student_gives_back_what_was_not_right(small: tuple[Drill, Path]) -> None:
    drill, folder = small
    students = marked_in(drill, folder)
    with Outputs(folder) as files:
        pages = StudentPages(drill, CATALOGUE, files)
        for student in students:
            pages.add(student)
    assert pages.count == 3
    shown = Page()
    shown.feed((pages.folder / file_name("bo-2")).read_text(encoding="utf-8"))
    question = drill.tasks("bo-2")[0].question
    values = question.graph.values(question.numbers, {})
    step = question.derivation.step("W_s")
    assert f"W_s = {substituted(question, step, values)} = {value_text(step, values['W_s'])}" in (
        shown.said
    )
    for told in (question.statement, CAUTION, "bo-2 Bo Birch", "not right", "not written"):
        assert told in shown.said
    assert any("It looks like kilograms left as newtons." in told for told in shown.said)
    assert mass_in_newtons(drill, "bo-2", "m_s") in shown.said
    assert not any("Ada" in told or "roster" in told for told in shown.said)


@pytest.mark.parametrize("student", [*HOSTILE, "/etc/passwd", "..", "CON", "", "Ä ö"])
def test_the_name_of_a_page_is_safe(student: str) -> None:
    name = file_name(student)
    assert name.removesuffix(".html").replace("-", "").isalnum()
    assert name.isascii()
    assert file_name(f"{student}!") != name


def test_marking_twice_writes_the_same_bytes(
    small: tuple[Drill, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _, folder = small
    file = tmp_path / "test.toml"
    file.write_text(FILE, encoding="utf-8")
    written = []
    for out in (tmp_path / "one", tmp_path / "two"):
        assert main(["drill", "mark", str(file), str(folder), "--out", str(out), "--pages"]) == 0
        files = sorted(path for path in out.rglob("*") if path.is_file())
        written.append({path.relative_to(out): path.read_bytes() for path in files})
    assert written[0] == written[1]
    names = {path.as_posix() for path in written[0]}
    assert {"marks.csv", "steps.csv", "report.md", "report.html"} <= names
    assert len([name for name in names if name.startswith("students/")]) == 3
    out = capsys.readouterr().out
    assert out.splitlines()[-1].startswith("3 students sat, 2 handed in.")


def test_marking_writes_latex_where_it_is_asked_for(
    small: tuple[Drill, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What is there of it from an earlier marking goes with the pages, or is told of."""
    _, folder = small
    file, out = tmp_path / "test.toml", tmp_path / "out"
    file.write_text(FILE, encoding="utf-8")
    call = ["drill", "mark", str(file), str(folder), "--out", str(out), "--pages"]
    assert main([*call, "--tex"]) == 0
    told = capsys.readouterr().out
    reports = ", ".join(str(out / f"report.{ending}") for ending in ("md", "html", "tex"))
    assert f"The class report: {reports}\n" in told
    assert "3 pages to give back" in told
    assert "Left over" not in told
    for ending in ("html", "tex"):
        assert len(list((out / "students").glob(f"*.{ending}"))) == 3
    assert main(call) == 0
    told = capsys.readouterr().out
    assert f"Left over from an earlier run: {out / 'report.tex'}\n" in told
    assert [path.suffix for path in (out / "students").iterdir()] == [".html"] * 3


def test_the_report_is_shown_as_plain_lines(
    small: tuple[Drill, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _, folder = small
    file = tmp_path / "test.toml"
    file.write_text(FILE, encoding="utf-8")
    assert main(["drill", "report", str(file), str(folder), "--plain"]) == 0
    figures = figures_of(DRILL, marked_in(DRILL, folder))
    out = capsys.readouterr().out
    assert out == spoken(class_report(with_problems_to_give(figures, SHELF, CATALOGUE)))
    assert "Problems to give" in out
    assert not any(sign in out for sign in ("─", "█", "==", "--"))
    (tmp_path / "empty").mkdir()
    assert main(["drill", "report", str(file), str(tmp_path / "empty"), "--plain"]) == 2
    assert "no records are there; expected records" in capsys.readouterr().err


def test_a_report_that_cannot_be_written_says_so(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("no folder", "utf-8")
    with (
        pytest.raises(OSError, match=r"Not a directory|File exists"),
        Outputs(tmp_path / "file") as files,
    ):
        write_report(figures_of(DRILL, []), files)


def test_read_out_each_row_of_a_table_is_a_sentence_with_its_columns() -> None:
    columns, row = (
        ("Line", "Asks for", "Tried", "Discrimination"),
        ("W_f", "Weight", "1", NOT_GIVEN),
    )
    blocks = [
        Heading(1, "Levers"),
        NewPage(),
        Table(columns, (row, ("class", "", "0", "0.5"))),
        Bars("Students by marks in per cent", (Bar("40 to 49", Fraction(1), "1"),)),
    ]
    assert spoken(blocks).splitlines() == [
        "Levers",
        "",
        "W_f. Asks for: Weight; tried: 1; discrimination: not given.",
        "class. Tried: 0; discrimination: 0.5.",
        "",
        "Students by marks in per cent:",
        "40 to 49: 1.",
    ]


def test_the_whole_report_read_out_has_a_line_for_each_row_and_nothing_drawn() -> None:
    students = [made_up(n, [n % 2 > 0] * 15, (wrong_entry("0.5 N"),)) for n in range(9)]
    blocks = class_report(figures_of(DRILL, students))
    lines = spoken(blocks).splitlines()
    rows = [row for block in blocks if isinstance(block, Table) for row in block.rows]
    assert rows
    assert all(any(line.startswith(f"{row[0]}. ") for line in lines) for row in rows)
    assert not any("BOX" in unicodedata.name(c, "") or c in "█=" for line in lines for c in line)


async def test_the_full_screen_shows_the_report_and_scrolls() -> None:
    students = (made_up(n, [n % 2 > 0] * 15, (wrong_entry("[b]5[/b] N"),)) for n in range(9))
    app = OneScreenApp(ReportScreen(text(class_report(figures_of(DRILL, students)))))
    async with app.run_test(size=(80, 24)) as pilot:
        scroll = app.query_one("#report", VerticalScroll)
        assert scroll.max_scroll_y > 24
        assert scroll.max_scroll_x == 0
        footer = [str(key.render()) for key in app.query(FooterKey)]
        assert {"PgDn More", "PgUp Up"} <= set(footer)
        await pilot.press("pagedown")
        await pilot.pause()
        assert scroll.scroll_target_y == scroll.size.height - 1
        await pilot.press("pageup")
        await pilot.pause()
        assert scroll.scroll_target_y == 0
        await pilot.press("f6", "escape")
    assert app.return_code == 0


@pytest.mark.parametrize("guidance", ["blank", "landmarks"])
def test_a_line_that_is_none_of_the_problem_stops_no_report(guidance: str, tmp_path: Path) -> None:
    """What was typed freely may be no line at all; the class is marked and told of all the same."""
    drill = small_drill(f'guidance = "{guidance}"', problem="elbow-full-pail")
    for student in ("s1", "s2"):
        sitting = Sitting.start(drill, CATALOGUE, student, tmp_path)
        for typed in ("hello", "123 N", "0 = 1", "Q_x = 5 N", "F_m = 1 N"):
            sitting.benches[0].write(typed)
        sitting.hand_in()
    figures = figures_of(drill, marked_in(drill, tmp_path))
    assert figures.sat == 2
    assert list(class_report(figures))
