"""The command for paper: worksheets of problems or of a drill, and the key to them."""

from __future__ import annotations

import argparse
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from leverstep.course.faults import Fault, FileError
from leverstep.course.plain_text import plain
from leverstep.faces.commands.usage import (
    add_command,
    add_section,
    add_slips,
    add_start_word,
    seed,
    slips_to_find,
    student,
)
from leverstep.faces.terminal import say
from leverstep.working.guidance import FOR_ALL, Guidance

if TYPE_CHECKING:
    from leverstep.course.shelf import Shelf
    from leverstep.drill.roster_columns import RosterColumns
    from leverstep.faces.commands.usage import Commands
    from leverstep.faces.material import Material
    from leverstep.sheets.handout import Handout

FORMATS = ("html", "md", "tex", "txt")
FIRST = "1"
"""The seed where none is given: sheets and key that are made apart belong together."""


def add_sheet(commands: Commands) -> None:
    """Add the command `sheet` to a parser."""
    example = "sheet elbow-pail-of-water plain-seesaw --seed 7 --out levers.html"
    sheet = add_command(commands, "sheet", "worksheets for paper, and their answer key", example)
    sheet.add_argument(
        "names", nargs="+", metavar="PROBLEM", help="problems or files of your own, or one drill"
    )
    whose = sheet.add_mutually_exclusive_group()
    whose.add_argument(
        "--seed", type=seed, help=f"the numbers, the same for all ({FIRST} unless given)"
    )
    whose.add_argument(
        "--student",
        type=student,
        metavar="ID",
        help="one student, with the numbers for that id",
    )
    whose.add_argument(
        "--roster", type=Path, metavar="CSV",
        help="a sheet for each student of a file with the columns id and name",
    )  # fmt: skip
    sheet.add_argument(
        "--guidance", choices=[str(degree) for degree in FOR_ALL],
        help="what is ruled for problems: every line, landmarks, or blank (a drill says it itself)",
    )  # fmt: skip
    add_slips(sheet)
    add_section(sheet)
    add_start_word(sheet)
    sheet.add_argument("--key", action="store_true", help="the answer key in place of the sheets")
    sheet.add_argument("--format", choices=FORMATS, help="unless given, as FILE ends, or else html")
    sheet.add_argument("--out", type=Path, metavar="FILE", help="the file to write; it must be new")
    sheet.set_defaults(command=_sheet)


def _sheet(options: argparse.Namespace, material: Material) -> int:
    """Write worksheets or their key to a file, or to the output."""
    from leverstep.course.new_file import write_new
    from leverstep.drill.in_progress import refuse_numbers
    from leverstep.sheets.handout import with_reasons
    from leverstep.sheets.sheet_files import document

    handout = _handout(options, material.shelf)
    if options.key:
        refuse_numbers(handout.questions, material.shelf.problems)
    handout = with_reasons(handout, material.catalogue)
    written = document(handout, _form(options), options.key)
    if options.out is None:
        say(written.rstrip("\n"))
        return 0
    write_new(options.out, written)
    say(plain(f"{options.out} has been written."))
    return 0


def _form(options: argparse.Namespace) -> str:
    """Return the format that is asked for: by its name, or by the ending of the file."""
    ending = "" if options.out is None else options.out.suffix.removeprefix(".").lower()
    return str(options.format or (ending if ending in FORMATS else "html"))


def _handout(options: argparse.Namespace, shelf: Shelf) -> Handout:
    """Return what the command names.

    Raises:
        FileError: where that is no problem and no drill, or doesn't go together.
    """
    from leverstep.course.toml import top_keys
    from leverstep.drill.drill import LARGEST_DRILL
    from leverstep.drill.drill_file import is_drill_file, read_drill
    from leverstep.drill.own_numbers import opened
    from leverstep.drill.part_of_class import part_of_class
    from leverstep.drill.roster_columns import RosterColumns
    from leverstep.sheets.handout import of_drill, of_problems

    drills = [name for name in options.names if is_drill_file(top_keys(Path(name), LARGEST_DRILL))]
    if not drills and options.start_word is not None:
        raise _fault("--start-word", "problems have none", "a drill")
    if not drills:
        problems = [shelf.find(name) for name in options.names]
        guidance = Guidance(options.guidance or Guidance.LINES)
        students = _students(options, RosterColumns())
        return of_problems(
            problems, guidance, options.seed or FIRST, students, slips_to_find(options)
        )
    if len(options.names) > 1:
        raise _fault(drills[0], "a drill beside something else", "a drill alone")
    if options.seed or options.guidance:
        found = "a drill has numbers and guidance of its own"
        raise _fault(drills[0], found, "no --seed and no --guidance")
    if slips_to_find(options):
        found = "a drill says itself where a slip is to be found"
        raise _fault(drills[0], found, "no --find-slip and no --slips")
    drill = read_drill(Path(drills[0]), shelf.problems)
    students = _students(options, drill.roster_columns)
    if options.section is not None and options.roster is None:
        drill = part_of_class(drill, None, options.section)
    return of_drill(opened(drill, options.start_word), students)


def _students(options: argparse.Namespace, columns: RosterColumns) -> Mapping[str, str]:
    """Return the names by id of those who are named, by an option or by a roster.

    Raises:
        FileError: where the roster can't be read or names nobody.
    """
    from leverstep.drill.part_of_class import of_section, roster_named
    from leverstep.drill.roster import roster_table

    if options.roster is None:
        return {} if options.student is None else {options.student: ""}
    roster = roster_named(roster_table(options.roster), columns)
    return (roster if options.section is None else of_section(roster, options.section)).names


def _fault(place: str, found: str, expected: str) -> FileError:
    return FileError([Fault(place, "", found, expected)])
