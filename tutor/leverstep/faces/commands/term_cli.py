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


def add_term(commands: Commands) -> None:
    """Add the command `term` to a parser."""
    told = "mark all drills of a term together"
    term = add_command(commands, "term", told, "term course.toml --out marks/")
    term.add_argument("file", type=Path, metavar="FILE", help="the plan that names the drills")
    term.add_argument(
        "--out", type=Path, required=True, metavar="DIR", help="where table and report go"
    )
    term.add_argument(
        "--roster", type=Path, metavar="CSV", help="mark those on this list alone, such as a group"
    )
    add_section(term)
    term.set_defaults(command=_term)


def _term(options: argparse.Namespace, material: Material) -> int:
    """Mark the drills of a term, and write what they come to."""
    from leverstep.marking.outputs import Outputs
    from leverstep.term.term_marking import mark_term
    from leverstep.term.term_table import write_table

    plan = _plan(options, material)
    with Outputs(options.out) as out, workers() as pool:
        marked = mark_term(plan, material.catalogue, pool)
        write_table(plan, marked.students, out)
    for line in marked.left_out(with_names=True):
        print(line)
    return 0


def _plan(options: argparse.Namespace, material: Material) -> TermPlan:
    """Return the plan of the term, for the part of the class that is named.

    Raises:
        FileError: where it can't be read.
    """
    from leverstep.course.faults import Fault, FileError
    from leverstep.term.term_plan import read_term

    if options.out.exists() and not options.out.is_dir():
        raise FileError([Fault(str(options.out), "", "it is a file", "a folder for the marks")])
    needed = options.roster is None
    plan = read_term(options.file, material.shelf.problems, str(options.file), needed)
    return plan.for_part(options.roster, options.section)
