"""The commands for drills: write one, see what a student will see, sit it, mark its records."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from typing import TYPE_CHECKING

from tutor.terminal import is_plain, say, write

if TYPE_CHECKING:
    from tutor.course.shelf import Shelf
    from tutor.drill.collecting import Found
    from tutor.drill.drill import Drill
    from tutor.slips.catalogue import Catalogue
    from tutor.vetting.vet import Report

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

    sit = add(own, "sit", "sit a drill", "drill sit levers.toml --student s01")
    sit.add_argument("file", type=Path, metavar="FILE", help="the drill")
    sit.add_argument("--student", default="", metavar="ID", help="your id (asked for unless given)")
    sit.add_argument(
        "--records", type=Path, metavar="DIR",
        help="the folder for the record, such as one on a share or a stick",
    )  # fmt: skip
    sit.add_argument("--plain", action="store_true", help="plain lines, for screen readers")
    sit.set_defaults(command=_sit)

    mark = add(own, "mark", "mark records", "drill mark levers.toml records/ --out marks/")
    mark.add_argument("file", type=Path, metavar="FILE", help="the drill")
    mark.add_argument("records", nargs="+", type=Path, metavar="RECORDS", help="files and folders")
    mark.add_argument(
        "--out", type=Path, required=True, metavar="DIR", help="where tables and reports go"
    )
    mark.add_argument("--against", type=Path, metavar="DIR", help="tables written before")
    mark.add_argument("--pages", action="store_true", help="a page to give back for each student")
    mark.add_argument("--statements", action="store_true", help="also write xAPI statements")
    mark.add_argument(
        "--home-page", type=_home_page, metavar="URL",
        help="of the school, where statements say whose ids they name",
    )  # fmt: skip
    mark.set_defaults(command=_mark)

    report = add(own, "report", "show the class report", "drill report levers.toml records/")
    report.add_argument("file", type=Path, metavar="FILE", help="the drill")
    report.add_argument("records", nargs="+", type=Path, metavar="RECORDS", help="files, folders")
    report.add_argument("--plain", action="store_true", help="plain lines, for screen readers")
    report.set_defaults(command=_report)


def _home_page(text: str) -> str:
    from tutor.drill.statements import is_home_page

    if not is_home_page(text):
        raise argparse.ArgumentTypeError("expected a web address such as https://example.org")
    return text


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


def _sit(options: argparse.Namespace, shelf: Shelf) -> int:
    """Sit a drill on the full screen, or line by line."""
    path = options.file.absolute()
    folder = options.records.expanduser().absolute() if options.records else None
    if is_plain(options.plain):
        return _sit_plain(path, options.student, folder, shelf)
    from tutor.screens.app import run_app
    from tutor.screens.opening import Entrance

    return run_app(say, Entrance(path, options.student, folder), shelf)


def _sit_plain(path: Path, student: str, folder: Path | None, shelf: Shelf) -> int:
    from tutor.drill.sitting import Closed
    from tutor.drill_line import sit

    try:
        interrupt = write if sys.stdin.isatty() else None
        sit(_drill(path, shelf), (path, student, folder), say, input, interrupt=interrupt)
    except Closed as error:
        print(f"{error}.", file=sys.stderr)
        return 2
    except EOFError:
        print("The input has ended before the drill was begun.", file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        say("\nLeft before the drill was begun.")
    return 0


def _mark(options: argparse.Namespace, shelf: Shelf) -> int:
    """Mark records and write tables and reports; show what changed against tables from before."""
    from tutor.drill.collecting import by_student, mark_all
    from tutor.drill.statements import HOME_PAGE, STATEMENTS, with_statements
    from tutor.drill.tables import write_tables
    from tutor.reports.files import shown_to, write_report
    from tutor.reports.gathering import ClassFigures
    from tutor.reports.pages import StudentPages
    from tutor.reports.telling import headline

    drill, records = _drill(options.file, shelf), _records(options.records)
    if not records:
        return 2
    collected, pages = ClassFigures(drill), StudentPages(drill, options.out)
    observers = [collected.add, pages.add] if options.pages else [collected.add]
    with ProcessPoolExecutor() as pool:
        students = shown_to(by_student(drill, mark_all(drill, records, pool)), *observers)
        if options.statements:
            home_page = options.home_page or HOME_PAGE
            students = with_statements(drill, students, options.out, home_page)
        for line in write_tables(drill, students, options.out, options.against):
            print(line)
    if options.statements:
        print(f"Statements are written: {options.out / STATEMENTS}")
    figures = collected.figures()
    written = ", ".join(str(path) for path in write_report(figures, options.out))
    print(f"The class report is written: {written}")
    if options.pages:
        number = f"{pages.count} page{'' if pages.count == 1 else 's'}"
        print(f"{number} to give back: {pages.folder}")
    print(headline(figures))
    return 0


def _report(options: argparse.Namespace, shelf: Shelf) -> int:
    """Mark records and show the class report, on the full screen where there is one."""
    from tutor.drill.collecting import by_student, mark_all
    from tutor.reports.gathering import ClassFigures
    from tutor.reports.spoken import spoken
    from tutor.reports.telling import class_report
    from tutor.reports.text import text

    drill, records = _drill(options.file, shelf), _records(options.records)
    if not records:
        return 2
    collected = ClassFigures(drill)
    with ProcessPoolExecutor() as pool:
        for student in by_student(drill, mark_all(drill, records, pool)):
            collected.add(student)
    report = class_report(collected.figures())
    if is_plain(options.plain):
        print(spoken(report), end="")
        return 0
    from tutor.screens.report import ReportApp

    ReportApp(text(report)).run()
    return 0


def _records(paths: list[Path]) -> list[Found]:
    """Return the records of some files and folders; say so where there is none."""
    from tutor.drill.collecting import find_records

    records = find_records(paths)
    if not records:
        print("No record is there.", file=sys.stderr)
    return records


def vet_drills(paths: Iterable[Path], shelf: Shelf, catalogue: Catalogue) -> Iterator[Report]:
    """Yield a report for each drill, then one for each of its problems."""
    from tutor.course.faults import FileError
    from tutor.drill.drill_file import read_drill
    from tutor.vetting.vet import Report, vet_problem

    for path in paths:
        try:
            drill = read_drill(path, shelf.problems, str(path))
        except FileError as error:
            yield Report(str(path), None, error.faults)
            continue
        yield Report(str(path), None, ())
        for problem in dict.fromkeys(item.problem for item in drill.items):
            yield vet_problem(problem, f"{path}: {problem.id}", catalogue)
