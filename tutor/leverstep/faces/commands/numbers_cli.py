"""The command that has each student's numbers come from a file of the student's own."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from leverstep.course.plain_text import plain
from leverstep.faces.commands.usage import add_command, add_drill_file, student

if TYPE_CHECKING:
    from leverstep.drill.drill import Drill
    from leverstep.faces.commands.usage import Commands
    from leverstep.faces.material import Material


def add_numbers(own: Commands) -> None:
    """Add the command `numbers` to those of `drill`."""
    told = "have each student's numbers come from a file of the student's own"
    numbers = add_command(own, "numbers", told, "drill numbers levers.toml --out numbers/")
    add_drill_file(numbers)
    numbers.add_argument(
        "--out", type=Path, required=True, metavar="DIR", help="where the files of students go"
    )
    numbers.add_argument("--student", type=student, metavar="ID", help="the file of one student")
    numbers.set_defaults(command=_numbers)


def _numbers(options: argparse.Namespace, material: Material) -> int:
    """Make a secret for a drill, where it has none, and write the files of its students."""
    from leverstep.course.phrases import counted
    from leverstep.drill.drill_file import read_drill
    from leverstep.drill.own_numbers import make_secret, opened, place_of_secret
    from leverstep.drill.rule_writing import set_rules

    problems = material.shelf.problems
    drill = read_drill(options.file, problems, roster_needed=options.student is None)
    whose = _whose(options, drill)
    is_new = not drill.own_numbers
    if is_new:
        _refuse_others(options.file, drill)
        set_rules(options.file, f'own_numbers = "{make_secret()}"')
        drill = read_drill(options.file, problems, roster_needed=False)
    drill = opened(drill, None)
    written = _write(options.out, drill, whose)
    there = len(whose) - written
    print(plain(f"{options.file} takes each student's numbers from a file of the student's own."))
    already = f", and {there} there already" if there else ""
    print(plain(f"{counted(written, 'file')} written{already}: {options.out}"))
    print(
        "Give each student the one with their id: it must lie beside the drill where that is sat."
    )
    place = place_of_secret(drill.own_numbers)
    print(plain(f"The secret that they come from is {place}"))
    print("Marking goes by that file: keep a copy, where no student can read it.")
    if is_new:
        print("Sittings that were begun before this can't be resumed.")
    return 0


def _whose(options: argparse.Namespace, drill: Drill) -> tuple[str, ...]:
    """Return the ids of those whose files are wanted.

    Raises:
        FileError: where nobody is named, or who is named is not on the roster.
    """
    from leverstep.course.faults import Fault, FileError

    fault = ""
    if options.student is None and not drill.students:
        fault, expected = "it has no roster", "one, or --student"
    elif options.student is not None and not drill.is_open_to(options.student):
        fault, expected = f"{options.student} is not on the roster", "a student who is"
    if fault:
        raise FileError([Fault(str(options.file), "", fault, expected)])
    return tuple(drill.students) if options.student is None else (drill.listed(options.student),)


def _refuse_others(path: Path, drill: Drill) -> None:
    """Refuse a drill whose numbers come of something else.

    Raises:
        FileError: where they do.
    """
    from leverstep.course.faults import Fault, FileError
    from leverstep.drill.drill_file import beside_own_numbers

    faults = [Fault(str(path), *told) for told in beside_own_numbers(drill)]
    if faults:
        raise FileError(faults)


def _write(folder: Path, drill: Drill, whose: tuple[str, ...]) -> int:
    """Write the files that are not there yet, for their owner alone; return how many these are.

    Raises:
        FileError: where one can't be written, or another one of its name is there.
    """
    from leverstep.course.new_file import refuse_link, write_new
    from leverstep.course.plain_files import read_text
    from leverstep.course.sharing import make_folder
    from leverstep.drill.own_numbers import file_name, file_text

    refuse_link(folder.parent)
    make_folder(folder)
    written = 0
    for one in whose:
        path, text = folder / file_name(drill, one), file_text(drill, one)
        if not path.is_file() or read_text(path, len(text.encode())) != text:
            write_new(path, text, secret=True)
            written += 1
    return written
