"""The command `term`: mark all drills of a term together."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from leverstep.faces.commands.usage import add_command, add_section
from leverstep.faces.crash import workers

if TYPE_CHECKING:
    from leverstep.faces.commands.usage import Commands
    from leverstep.faces.material import Material
    from leverstep.term.term_plan import TermPlan

REPORT = "term-report"
"""What the files of the report are called, beside those of a drill."""


def add_term(commands: Commands) -> None:
    """Add the command `term` to a parser."""
    told = "mark all drills of a term together"
    term = add_command(commands, "term", told, "term course.toml --out marks/")
    term.add_argument("file", type=Path, metavar="FILE", help="the plan that names the drills")
    term.add_argument(
        "--out", type=Path, required=True, metavar="DIR", help="where table and report go"
    )
    term.add_argument(
        "--against", type=Path, metavar="FILE", help="the plan of an earlier term, with its records"
    )
    term.add_argument("--pages", action="store_true", help="a page to give back for each student")
    term.add_argument("--tex", action="store_true", help="report and pages as LaTeX too")
    term.add_argument(
        "--without-names", action="store_true", help="leave out the part for the teacher alone"
    )
    term.add_argument(
        "--roster", type=Path, metavar="CSV", help="mark those on this list alone, such as a group"
    )
    add_section(term)
    term.set_defaults(command=_term)


def _term(options: argparse.Namespace, material: Material) -> int:
    """Mark the drills of a term, and write table, report and pages of what they come to."""
    from leverstep.course.phrases import counted
    from leverstep.documents.blocks import Document
    from leverstep.marking.outputs import Outputs
    from leverstep.reports.pages import pages_in
    from leverstep.reports.report_files import write_document
    from leverstep.term.term_change import changed
    from leverstep.term.term_marking import codes_noted, mark_term
    from leverstep.term.term_pages import PAGES, write_pages
    from leverstep.term.term_report import summary, term_report
    from leverstep.term.term_table import TABLE, write_table

    plan, before = _plan(options, material), _plan_before(options, material)
    catalogue, with_names = material.catalogue, not options.without_names
    noted = codes_noted(plan)
    noted_before = () if before is None else codes_noted(before)
    with Outputs(options.out) as out, workers() as pool:
        marked = mark_term(plan, catalogue, pool, noted)
        figures, change = marked.figures, None
        if before is not None:
            change = changed(mark_term(before, catalogue, pool, noted_before).figures, figures)
        write_table(plan, marked.students, out)
        blocks = term_report(figures, change, with_names)
        report = Document(f"{plan.title}: term report", blocks)
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


def _plan_before(options: argparse.Namespace, material: Material) -> TermPlan | None:
    """Return the plan of the earlier term that this one is compared with, None for none.

    Raises:
        FileError: where it can't be read.
    """
    from leverstep.term.term_plan import read_term

    if options.against is None:
        return None
    called = str(options.against)
    return read_term(options.against, material.shelf.problems, called, roster_needed=False)
