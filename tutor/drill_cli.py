"""The commands for drills: write one, see what a student will see, sit it, mark its records."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tutor.course.shelf import Shelf
    from tutor.drill.drill import Drill

    Adder = Callable[[argparse._SubParsersAction[argparse.ArgumentParser], str, str, str],
                     argparse.ArgumentParser]  # fmt: skip


def add_drill(commands: argparse._SubParsersAction[argparse.ArgumentParser], add: Adder) -> None:
    """Add the command `drill` with its own commands to a parser.

    Args:
        commands: where it goes.
        add: what adds a command: with its name, a help text, and an example.
    """
    drill = add(commands, "drill", "set, sit and mark graded drills", "drill sit levers.toml")
    own = drill.add_subparsers(title="commands", metavar="COMMAND", required=True)

    new = add(own, "new", "write a drill", "drill new levers.toml elbow-full-pail plain-seesaw")
    new.add_argument("file", type=Path, metavar="FILE", help="the file to write; it must be new")
    new.add_argument("names", nargs="*", metavar="PROBLEM", help="a problem, or a file of your own")
    new.add_argument("--title", help="what the drill is called")
    new.add_argument("--minutes", type=int, help="the time there is")
    new.add_argument("--attempts", type=int, help="how often a line may be tried")
    new.set_defaults(command=_new)

    preview = add(own, "preview", "show what students will see", "drill preview levers.toml")
    preview.add_argument("file", type=Path, metavar="FILE", help="the drill")
    preview.add_argument("--student", default="preview", help="whose numbers to show")
    preview.set_defaults(command=_preview)

    mark = add(own, "mark", "mark records", "drill mark levers.toml records/ --out marks/")
    mark.add_argument("file", type=Path, metavar="FILE", help="the drill")
    mark.add_argument("records", nargs="+", type=Path, metavar="RECORDS", help="files and folders")
    mark.add_argument("--out", type=Path, required=True, metavar="DIR", help="where tables go")
    mark.add_argument("--against", type=Path, metavar="DIR", help="tables written before")
    mark.set_defaults(command=_mark)


def _drill(path: Path, shelf: Shelf) -> Drill:
    from tutor.drill.drill_file import read_drill

    return read_drill(path, shelf.problems)


def _new(options: argparse.Namespace, shelf: Shelf) -> int:
    from tutor.drill.drill_file import write_drill

    names = options.names or _asked_for(shelf)
    write_drill(options.file, names, shelf, options.title, options.minutes, options.attempts)
    print(f"{options.file} is written. It is a text file: every rule in it can be changed.")
    return 0


def _asked_for(shelf: Shelf) -> list[str]:
    """Return the problems that the teacher names when asked."""
    print("Which problems? One on each line, an empty line at the end.")
    names: list[str] = []
    while True:
        name = input("Problem: ").strip()
        if not name:
            return names
        shelf.find(name)
        names.append(name)


def _preview(options: argparse.Namespace, shelf: Shelf) -> int:
    """Show the tasks of one student, worked out, and how far the answers spread over the roster."""
    from tutor.drill.preview import preview

    for line in preview(_drill(options.file, shelf), options.student):
        print(line)
    return 0


def _mark(options: argparse.Namespace, shelf: Shelf) -> int:
    """Mark records and write the tables; show what changed against tables written before."""
    from tutor.drill.collecting import by_student, find_records, mark_all
    from tutor.drill.tables import write_tables

    drill = _drill(options.file, shelf)
    records = find_records(options.records)
    if not records:
        print("No record is there.", file=sys.stderr)
        return 2
    with ProcessPoolExecutor() as pool:
        students = by_student(drill, mark_all(drill, records, pool))
        for line in write_tables(drill, students, options.out, options.against):
            print(line)
    return 0
