"""The command `course`: mark all drills of a course together."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from leverstep.faces.commands.usage import add_command, add_section
from leverstep.faces.crash import workers

if TYPE_CHECKING:
    from concurrent.futures import Executor

    from leverstep.faces.commands.usage import Commands
    from leverstep.faces.material import Material
    from leverstep.term.term_change import TermChange
    from leverstep.term.term_figures import TermFigures
    from leverstep.term.term_plan import TermPlan

REPORT = "course-report"
"""What the files of the report are called, beside those of a drill."""


def add_course(commands: Commands) -> None:
    """Add the command `course` to a parser."""
    told = "mark all drills of a course together"
    course = add_command(commands, "course", told, "course course.toml --out marks/")
    course.add_argument("file", type=Path, metavar="FILE", help="the plan that names the drills")
    course.add_argument(
        "--out", type=Path, required=True, metavar="DIR", help="where table and report go"
    )
    course.add_argument(
        "--earlier", type=Path, metavar="FILE", help="the plan of an earlier term, with its records"
    )
    course.add_argument("--pages", action="store_true", help="a page to give back for each student")
    course.add_argument("--tex", action="store_true", help="report and pages as LaTeX too")
    course.add_argument(
        "--without-names", action="store_true", help="leave out the part for the teacher alone"
    )
    course.add_argument(
        "--roster", type=Path, metavar="CSV", help="mark those on this list alone, such as a group"
    )
    add_section(course)
    course.set_defaults(command=_course)


def _course(options: argparse.Namespace, material: Material) -> int:
    """Mark the drills of a term, and write table, report and pages of what they come to."""
    from leverstep.course.phrases import counted
    from leverstep.documents.blocks import Document
    from leverstep.marking.outputs import Outputs
    from leverstep.reports.pages import pages_in
    from leverstep.reports.report_files import write_document
    from leverstep.term.term_marking import mark_term
    from leverstep.term.term_pages import PAGES, write_pages
    from leverstep.term.term_report import summary, term_report
    from leverstep.term.term_table import TABLE, write_table

    plan, with_names = _plan(options, material), not options.without_names
    with Outputs(options.out) as out, workers() as pool:
        marked = mark_term(plan, material.catalogue, pool)
        figures = marked.figures
        change = _change(options, material, figures, pool)
        write_table(plan, marked.students, out)
        blocks = term_report(figures, change, with_names)
        report = Document(f"{plan.title}: course report", blocks)
        written = write_document(report, REPORT, out, options.tex)
        told = [f"{options.out / TABLE}, {', '.join(map(str, written))}"]
        if options.pages:
            pages = write_pages(figures, marked.students, out, options.tex)
            told.append(f"{counted(pages.count, 'page')} to give back: {pages.folder}")
        elif pages_in(options.out / PAGES):
            told.append(f"Left over from an earlier run: {options.out / PAGES}")
    for line in (*marked.left_out(with_names), *told, summary(figures)):
        print(line)
    return 0


def _plan(options: argparse.Namespace, material: Material) -> TermPlan:
    """Return the plan of the term, for the part of the class that is named.

    Raises:
        FileError: where it can't be read, or there is a file in place of the folder.
    """
    from leverstep.course.faults import Fault, FileError
    from leverstep.term.term_plan import read_term

    if options.out.exists() and not options.out.is_dir():
        raise FileError([Fault(str(options.out), "", "it is a file", "a folder for the marks")])
    needed = options.roster is None
    plan = read_term(options.file, material.shelf.problems, str(options.file), needed)
    return plan.for_part(options.roster, options.section)


def _change(
    options: argparse.Namespace, material: Material, now: TermFigures, pool: Executor
) -> TermChange | None:
    """Return what is otherwise than in an earlier term, None where none is named.

    Raises:
        FileError: where its plan can't be read.
    """
    from leverstep.term.term_change import changed
    from leverstep.term.term_marking import mark_term
    from leverstep.term.term_plan import read_term

    if options.earlier is None:
        return None
    problems, called = material.shelf.problems, str(options.earlier)
    plan = read_term(options.earlier, problems, called, roster_needed=False)
    return changed(mark_term(plan, material.catalogue, pool).figures, now)
