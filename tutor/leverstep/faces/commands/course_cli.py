"""The command `course`: mark all drills of a course together."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from leverstep.faces.commands.machines import add_machines, machines
from leverstep.faces.commands.usage import (
    add_columns,
    add_command,
    add_pages,
    add_part,
    add_seal_key,
    add_without_names,
)

if TYPE_CHECKING:
    from leverstep.faces.commands.usage import Commands
    from leverstep.faces.material import Material
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
    add_columns(course)
    add_seal_key(course)
    add_pages(course)
    add_without_names(course)
    add_part(course, "mark")
    add_machines(course)
    course.set_defaults(command=_course)


def _course(options: argparse.Namespace, material: Material) -> int:
    """Mark the drills of a term, and write table, report and pages of what they come to."""
    from leverstep.course.phrases import counted
    from leverstep.documents.blocks import Document
    from leverstep.drill.in_progress import in_progress
    from leverstep.marking.gradebook import GRADEBOOK, Gradebook
    from leverstep.marking.gradebook_file import read_gradebook
    from leverstep.marking.outputs import Outputs, left_over
    from leverstep.reports.pages import pages_in
    from leverstep.reports.report_files import write_document
    from leverstep.term.term_change import changed
    from leverstep.term.term_marking import codes_noted, mark_term, probes_of
    from leverstep.term.term_pages import PAGES, write_pages
    from leverstep.term.term_report import summary, term_report
    from leverstep.term.term_table import TABLE, term_sources, write_table

    outputs = Outputs.into(options.out)
    columns = read_gradebook(options.columns, str(options.columns)) if options.columns else None
    plan, before = _plan(options, material), _plan_before(options, material)
    catalogue, with_names = material.catalogue, not options.without_names
    noted = codes_noted(plan)
    going_on = in_progress(material.shelf.problems)
    noted_before = () if before is None else codes_noted(before)
    with outputs as out, machines(options, probes_of(plan)) as pool:
        book = None if columns is None else Gradebook(columns, term_sources(plan), out)
        marked = mark_term(plan, catalogue, pool, noted, options.seal_key, going_on)
        figures, change = marked.figures, None
        if before is not None:
            earlier = mark_term(before, catalogue, pool, noted_before, going_on=going_on)
            change = changed(earlier.figures, figures)
        write_table(plan, marked.students, out)
        if book is not None:
            for one in marked.students:
                book.add(one)
        blocks = term_report(figures, change, with_names)
        report = Document(f"{plan.title}: course report", blocks)
        written = write_document(report, REPORT, out, options.tex)
        told = [f"{options.out / TABLE}, {', '.join(map(str, written))}"]
        gradebook = options.out / GRADEBOOK
        told += [] if book is None else [f"For the import: {gradebook}"]
        folder, latex = options.out / PAGES, options.out / f"{REPORT}.tex"
        old = [folder] if not options.pages and pages_in(folder) else []
        old += [latex] if not options.tex and latex.exists() else []
        old += [gradebook] if book is None and gradebook.exists() else []
        if options.pages:
            pages = write_pages(figures, marked.students, out, options.tex)
            told.append(f"{counted(pages.count, 'page')} to give back: {pages.folder}")
        told += left_over(old)
    for line in (*marked.left_out(with_names), *told, summary(figures)):
        print(line)
    return 0


def _plan(options: argparse.Namespace, material: Material) -> TermPlan:
    """Return the plan of the term, for the part of the class that is named.

    Raises:
        FileError: where it can't be read.
    """
    from leverstep.term.term_plan import read_term

    needed = options.roster is None
    plan = read_term(options.file, material.shelf.problems, str(options.file), needed)
    return plan.for_part(options.roster, options.section)


def _plan_before(options: argparse.Namespace, material: Material) -> TermPlan | None:
    """Return the plan of the earlier term that this one is compared with, None for none.

    Raises:
        FileError: where it can't be read.
    """
    from leverstep.term.term_plan import read_term

    if options.earlier is None:
        return None
    called = str(options.earlier)
    return read_term(options.earlier, material.shelf.problems, called, roster_needed=False)
