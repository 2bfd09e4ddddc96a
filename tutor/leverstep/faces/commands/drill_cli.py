"""The commands for drills: write one, see what a student will see, set its rules, sit it."""

from __future__ import annotations

import argparse
import os
import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from leverstep.course.phrases import capital
from leverstep.course.plain_text import plain
from leverstep.faces.commands.mark_cli import add_mark, add_report
from leverstep.faces.commands.merge_cli import add_merge
from leverstep.faces.commands.numbers_cli import add_numbers
from leverstep.faces.commands.pins_cli import add_pins
from leverstep.faces.commands.seal_cli import add_seal
from leverstep.faces.commands.usage import (
    add_command,
    add_drill_file,
    add_plain,
    add_start_word,
    student,
    whole_number,
)
from leverstep.faces.commands.watch_cli import add_watch
from leverstep.faces.terminal import is_plain, say, write
from leverstep.working.guidance import FOR_ALL, Guidance

if TYPE_CHECKING:
    from leverstep.drill.drill import Drill
    from leverstep.faces.commands.usage import Commands
    from leverstep.faces.lines.drill_asking import Wanted
    from leverstep.faces.material import Material


def add_drill(commands: Commands) -> None:
    """Add the command `drill` with its own commands to a parser."""
    told = "set, sit and mark graded drills"
    drill = add_command(commands, "drill", told, "drill sit levers.toml")
    own = drill.add_subparsers(title="commands", metavar="COMMAND", required=True)
    _add_new(own)
    _add_preview(own)
    _add_roster(own)
    _add_exceptions(own)
    _add_start_word(own)
    add_numbers(own)
    add_pins(own)
    add_seal(own)
    _add_sit(own)
    add_watch(own)
    add_mark(own)
    add_report(own)
    add_merge(own)


def _add_new(own: Commands) -> None:
    """Add the command `new` to those of `drill`."""
    example = "drill new levers.toml elbow-pail-of-water plain-seesaw"
    new = add_command(own, "new", "write a drill", example)
    new.add_argument("file", type=Path, metavar="FILE", help="the file to write; it must be new")
    new.add_argument("names", nargs="*", metavar="PROBLEM", help="a problem, or a file of your own")
    new.add_argument(
        "--mixed", type=whole_number, default=0, metavar="N",
        help="N short problems of different kinds, drawn for you, the same for the whole class",
    )  # fmt: skip
    new.add_argument("--title", help="what the drill is called")
    new.add_argument(
        "--guidance", choices=[str(degree) for degree in FOR_ALL], help="how far students are led"
    )
    new.add_argument("--roster", metavar="CSV", help="the list of the class, beside the drill")
    new.add_argument("--minutes", type=whole_number, help="the time there is")
    new.add_argument("--attempts", type=whole_number, help="how often a line may be tried")
    new.add_argument(
        "--graded", action="store_true", default=None,
        help="rules that suit marks: three tries, hints at a cost, one sitting",
    )  # fmt: skip
    new.set_defaults(command=_new)


def _add_preview(own: Commands) -> None:
    """Add the command `preview` to those of `drill`."""
    told = "show what students will see"
    preview = add_command(own, "preview", told, "drill preview levers.toml")
    add_drill_file(preview)
    preview.add_argument(
        "--student", type=student, metavar="ID",
        help="whose numbers to show (the first on the roster unless given)",
    )  # fmt: skip
    add_start_word(preview)
    preview.set_defaults(command=_preview)


def _add_roster(own: Commands) -> None:
    """Add the command `roster` to those of `drill`."""
    told = "set the list of the class, whatever its columns are called"
    roster = add_command(own, "roster", told, "drill roster levers.toml roster.csv")
    add_drill_file(roster)
    roster.add_argument(
        "roster", type=Path, metavar="CSV",
        help="a table with ids and names, or an export in OneRoster CSV, as a folder or a zip",
    )  # fmt: skip
    roster.add_argument(
        "--out", type=Path, metavar="FILE",
        help="the list to write of an export (roster.csv beside the drill unless given)",
    )  # fmt: skip
    roster.set_defaults(command=_roster)


def _add_exceptions(own: Commands) -> None:
    """Add the command `exceptions` to those of `drill`."""
    told = "show the exceptions for single students, or write what one needs to sit it"
    excepted = add_command(own, "exceptions", told, "drill exceptions levers.toml")
    add_drill_file(excepted)
    excepted.add_argument("--student", type=student, metavar="ID", help="one student alone")
    excepted.add_argument(
        "--out", type=Path, metavar="FILE",
        help="the file to write for that student, to lie beside the drill as exceptions.toml",
    )  # fmt: skip
    excepted.set_defaults(command=_exceptions)


def _add_start_word(own: Commands) -> None:
    """Add the command `start-word` to those of `drill`."""
    told = "set the start word, given out in the room"
    start_word = add_command(own, "start-word", told, "drill start-word levers.toml")
    add_drill_file(start_word)
    start_word.set_defaults(command=_start_word)


def _add_sit(own: Commands) -> None:
    """Add the command `sit` to those of `drill`."""
    sit = add_command(own, "sit", "sit a drill", "drill sit levers.toml --student s01")
    add_drill_file(sit)
    sit.add_argument("--student", default="", metavar="ID", help="your id (asked for unless given)")
    sit.add_argument(
        "--records", type=Path, metavar="DIR",
        help="the folder for the record, such as one on a share or a stick",
    )  # fmt: skip
    add_plain(sit)
    sit.set_defaults(command=_sit)


def _drill(path: Path, material: Material, roster_needed: bool = True) -> Drill:
    from leverstep.drill.drill_file import read_drill

    return read_drill(path, material.shelf.problems, roster_needed=roster_needed)


def _new(options: argparse.Namespace, material: Material) -> int:
    """Write a drill of the problems named, or of what the teacher answers when asked."""
    from leverstep.course.new_file import refuse_old
    from leverstep.drill.drill_writing import write_drill
    from leverstep.drill.mixed_items import drawn_told
    from leverstep.faces.lines.drill_asking import Asker, Wanted

    refuse_old(options.file)
    guidance = Guidance(options.guidance) if options.guidance else None
    wanted = Wanted(
        tuple(options.names),
        options.title or "",
        guidance,
        options.minutes,
        options.roster or "",
        graded=options.graded,
        mixed=options.mixed,
    )
    of_roster = ""
    if not (wanted.names or wanted.mixed):
        try:
            wanted = Asker(options.file, material.shelf, say, input).wanted(wanted)
        except EOFError:
            print("\nThe input has ended; nothing was written.", file=sys.stderr)
            return 2
    elif wanted.roster:
        wanted, of_roster = _plain_roster(options.file, wanted)
    drill = write_drill(
        options.file, wanted.names, material.shelf, wanted.title, wanted.minutes, options.attempts,
        wanted.guidance or Guidance.LINES, wanted.roster, wanted.columns, bool(wanted.graded),
        wanted.mixed,
    )  # fmt: skip
    told = f"{options.file} has been written. It is a text file: every rule in it can be changed."
    print(plain(told))
    for drawn in drawn_told(drill):
        print(plain(f"{capital(drawn)}."))
    if of_roster:
        print(plain(of_roster))
    return 0


def _plain_roster(file: Path, wanted: Wanted) -> tuple[Wanted, str]:
    """Return what is wanted with the columns that a roster plainly has, and what there is to tell.

    Where none plainly has ids, a drill without that roster is wanted, and it is to be set next.
    """
    from leverstep.drill.roster import roster_beside, roster_table
    from leverstep.drill.roster_columns import RosterColumns, plain_columns

    place = roster_beside(file, wanted.roster)
    there = roster_table(place).columns
    columns = plain_columns(there)
    call = f"leverstep drill roster {file} {place}"
    if there and columns is None:
        unclear = "it is not clear which column has the ids"
        told = f"It has no roster yet: {unclear}. Run next: {call}"
        return replace(wanted, roster=""), told
    if columns is None or columns == RosterColumns():
        return wanted, ""
    names = ", ".join(one for one in columns.name if one in there) or "no column"
    told = f"Ids are read from the column {columns.id}, names from {names}. To change that: {call}"
    return replace(wanted, columns=columns), told


def _preview(options: argparse.Namespace, material: Material) -> int:
    """Show the rules, the tasks of one student worked out, and how far the answers spread."""
    from leverstep.dialogue.preview import preview, whose_numbers
    from leverstep.drill.in_progress import refuse_numbers
    from leverstep.drill.own_numbers import opened

    drill = opened(_drill(options.file, material, roster_needed=False), options.start_word)
    whose = whose_numbers(drill, options.student or "")
    refuse_numbers([task.question for task in drill.tasks(whose)], material.shelf.problems)
    for line in preview(drill, material.catalogue, whose):
        print(line)
    return 0


def _roster(options: argparse.Namespace, material: Material) -> int:
    """Write into a drill where the list of its class lies and what its columns are called."""
    from leverstep.course.toml import quoted
    from leverstep.drill.drill_file import read_without_roster
    from leverstep.drill.one_roster_export import is_export
    from leverstep.drill.part_of_class import roster_named
    from leverstep.drill.roster import from_drill, roster_table
    from leverstep.drill.roster_columns import SECTION, RosterColumns
    from leverstep.drill.rule_writing import set_rules
    from leverstep.faces.lines.drill_asking import Asker

    before = read_without_roster(options.file, material.shelf.problems).roster_columns
    path, columns = options.roster, None
    try:
        if is_export(path):
            path = _roster_of_export(path, options.out or options.file.parent / "roster.csv")
            columns = RosterColumns(more={SECTION: SECTION})
        table = roster_table(path)
        if columns is None:
            columns = Asker(options.file, material.shelf, say, input).columns(table, before)
    except EOFError:
        print("\nThe input has ended; nothing was written.", file=sys.stderr)
        return 2
    roster = roster_named(table, columns)
    beside = from_drill(options.file, os.path.abspath(path))
    rules = [f"roster = {quoted(beside)}"]
    if columns != RosterColumns() or before != RosterColumns():
        rules.append(f"roster_columns = {columns.as_rule}")
    set_rules(options.file, *rules)
    print(plain(f"{options.file} now has the roster {beside}: {len(roster.names)} students."))
    return 0


def _roster_of_export(path: Path, out: Path) -> Path:
    """Write a list of the students of an export, with nothing else that it has; return its path.

    Raises:
        EOFError: where the input ends before all is answered.
        FileError: where the export can't be read, or the list can't be written.
    """
    from leverstep.course.new_file import refuse_old, write_new
    from leverstep.drill.one_roster_export import read_export, roster_text
    from leverstep.faces.lines.export_asking import ExportAsker

    refuse_old(out)
    export = read_export(path)
    asker = ExportAsker(say, input)
    classes = asker.classes(export)
    write_new(out, roster_text(export, classes, asker.id_column(export)))
    print(plain(f"{out} has been written: ids, names and sections, and nothing else."))
    return out


def _exceptions(options: argparse.Namespace, material: Material) -> int:
    """Show which exceptions there are; write those that one student needs to sit a drill."""
    from leverstep.course.faults import Fault, FileError
    from leverstep.course.new_file import write_new
    from leverstep.drill.exceptions import EXCEPTIONS, all_told, exception_for

    drill = _drill(options.file, material, roster_needed=False)
    if options.out is None:
        for line in all_told(drill, options.student):
            print(plain(line))
        return 0
    text = None if options.student is None else exception_for(drill, options.student)
    if text is None:
        found = f"no exception in {EXCEPTIONS} matters to whoever sits the drill"
        expected = "--student with the id of one to whom something else applies"
        raise FileError([Fault(str(options.file), "", found, expected)])
    write_new(options.out, text)
    print(plain(f"{options.out} has been written. Put it beside the drill as {EXCEPTIONS}."))
    return 0


def _start_word(options: argparse.Namespace, material: Material) -> int:
    """Ask for a word twice, and write its lock into a drill."""
    from leverstep.drill.start_word import set_start_word
    from leverstep.faces.lines.drill_asking import start_word

    _drill(options.file, material, roster_needed=False)  # a broken one is told of first
    try:
        word = start_word(say, input)
    except EOFError:
        print("\nThe input has ended; nothing was written.", file=sys.stderr)
        return 2
    set_start_word(options.file, word)
    print(plain(f"{options.file} now has a start word."))
    print("The word itself is not stored anywhere: write it down.")
    print("Sittings that were begun before this can't be resumed.")
    return 0


def _sit(options: argparse.Namespace, material: Material) -> int:
    """Sit a drill on the full screen, or line by line."""
    path = options.file.absolute()
    folder = options.records.expanduser().absolute() if options.records else None
    student, in_lines = options.student, is_plain(options.plain)
    if not in_lines:
        try:
            student, in_lines = _by_exception(path, student, material)
        except EOFError:
            print("The input has ended before the drill was begun.", file=sys.stderr)
            return 2
    if in_lines:
        return _sit_in_lines(path, student, folder, material)
    from leverstep.faces.screens.app import run_app
    from leverstep.faces.screens.entrances import Entrance

    return run_app(say, material, Entrance(path, student, folder))


def _by_exception(path: Path, student: str, material: Material) -> tuple[str, bool]:
    """Return who sits a drill, and whether in plain lines, by the exceptions beside it.

    Where somebody has such a one the id is asked for in a plain line, before a screen opens.
    """
    from leverstep.course.faults import FileError
    from leverstep.drill.drill import same_student
    from leverstep.drill.exceptions import EXCEPTIONS

    if not (path.parent / EXCEPTIONS).is_file():
        return student, False
    try:
        allowances = _drill(path, material, roster_needed=False).allowances
    except FileError:  # it is told where the drill is opened
        return student, False
    in_lines = {whose for whose, own in allowances.items() if own.plain}
    if in_lines and not student:
        student = input("Your id: ")
    return student, same_student(student) in in_lines


def _sit_in_lines(path: Path, student: str, folder: Path | None, material: Material) -> int:
    from getpass import getpass

    from leverstep.course.phrases import sentence
    from leverstep.drill.sitting import Closed
    from leverstep.faces.lines.drill_door import sit

    try:
        drill = _drill(path, material, roster_needed=False)
        entrance, catalogue = (path, student, folder), material.catalogue
        if sys.stdin.isatty():
            sit(drill, catalogue, entrance, say, input, interrupt=write, listen_unseen=getpass)
        else:
            sit(drill, catalogue, entrance, say, input)
    except Closed as error:
        print(sentence(error), file=sys.stderr)
        return 2
    except EOFError:
        print("The input has ended before the drill was begun.", file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        say("\nLeft before the drill was begun.")
    return 0
