"""The commands for drills: write one, see what a student will see, sit it, mark its records."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from leverstep.course.plain_text import plain
from leverstep.faces.commands.usage import (
    add_command,
    add_plain,
    add_section,
    add_start_word,
    student,
    whole_number,
    wrong,
)
from leverstep.faces.crash import workers
from leverstep.faces.terminal import is_plain, say, write
from leverstep.working.guidance import FOR_ALL, Guidance

if TYPE_CHECKING:
    from concurrent.futures import Executor

    from leverstep.drill.drill import Drill
    from leverstep.faces.commands.usage import Commands
    from leverstep.faces.lines.drill_asking import Wanted
    from leverstep.faces.material import Material
    from leverstep.marking.collecting import Gathered
    from leverstep.reports.changes import EarlierSittings
    from leverstep.reports.pages import StudentPages


def add_drill(commands: Commands) -> None:
    """Add the command `drill` with its own commands to a parser."""
    told = "set, sit and mark graded drills"
    drill = add_command(commands, "drill", told, "drill sit levers.toml")
    own = drill.add_subparsers(title="commands", metavar="COMMAND", required=True)

    example = "drill new levers.toml elbow-pail-of-water plain-seesaw"
    new = add_command(own, "new", "write a drill", example)
    new.add_argument("file", type=Path, metavar="FILE", help="the file to write; it must be new")
    new.add_argument("names", nargs="*", metavar="PROBLEM", help="a problem, or a file of your own")
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

    told = "show what students will see"
    preview = add_command(own, "preview", told, "drill preview levers.toml")
    _add_file(preview)
    preview.add_argument(
        "--student", type=student, metavar="ID",
        help="whose numbers to show (the first on the roster unless given)",
    )  # fmt: skip
    add_start_word(preview)
    preview.set_defaults(command=_preview)

    told = "set the list of the class, whatever its columns are called"
    roster = add_command(own, "roster", told, "drill roster levers.toml roster.csv")
    _add_file(roster)
    roster.add_argument("roster", type=Path, metavar="CSV", help="a table with ids and names")
    roster.set_defaults(command=_roster)

    told = "show the exceptions for single students, or write what one needs to sit it"
    excepted = add_command(own, "exceptions", told, "drill exceptions levers.toml")
    _add_file(excepted)
    excepted.add_argument("--student", type=student, metavar="ID", help="one student alone")
    excepted.add_argument(
        "--out", type=Path, metavar="FILE",
        help="the file to write for that student, to lie beside the drill as exceptions.toml",
    )  # fmt: skip
    excepted.set_defaults(command=_exceptions)

    told = "set the start word, given out in the room"
    start_word = add_command(own, "start-word", told, "drill start-word levers.toml")
    _add_file(start_word)
    start_word.set_defaults(command=_start_word)

    sit = add_command(own, "sit", "sit a drill", "drill sit levers.toml --student s01")
    _add_file(sit)
    sit.add_argument("--student", default="", metavar="ID", help="your id (asked for unless given)")
    sit.add_argument(
        "--records", type=Path, metavar="DIR",
        help="the folder for the record, such as one on a share or a stick",
    )  # fmt: skip
    add_plain(sit)
    sit.set_defaults(command=_sit)

    mark = add_command(own, "mark", "mark records", "drill mark levers.toml records/ --out marks/")
    _add_file(mark)
    mark.add_argument("records", nargs="+", type=Path, metavar="RECORDS", help="files and folders")
    mark.add_argument(
        "--out", type=Path, required=True, metavar="DIR", help="where tables and reports go"
    )
    mark.add_argument("--against", type=Path, metavar="DIR", help="tables written before")
    mark.add_argument(
        "--codes", type=Path, metavar="CSV",
        help="the codes that were noted at the end: a file with the columns id and code",
    )  # fmt: skip
    mark.add_argument("--pages", action="store_true", help="a page to give back for each student")
    mark.add_argument("--tex", action="store_true", help="report and pages as LaTeX too")
    mark.add_argument("--statements", action="store_true", help="also write xAPI statements")
    mark.add_argument(
        "--home-page", type=_home_page, metavar="URL",
        help="of the school, for statements to say whose ids they name",
    )  # fmt: skip
    _add_whose(mark)
    mark.set_defaults(command=_mark)

    told = "show the class report"
    report = add_command(own, "report", told, "drill report levers.toml records/")
    _add_file(report)
    report.add_argument("records", nargs="+", type=Path, metavar="RECORDS", help="files, folders")
    report.add_argument(
        "--without-names", action="store_true", help="leave out the part for the teacher alone"
    )
    _add_whose(report)
    add_plain(report)
    report.set_defaults(command=_report)


def _add_file(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", type=Path, metavar="FILE", help="the drill")


def _add_whose(parser: argparse.ArgumentParser) -> None:
    """Have a command take which records it is about, and what they were begun with."""
    parser.add_argument(
        "--roster", type=Path, metavar="CSV", help="mark those on this list alone, such as a group"
    )
    add_section(parser)
    parser.add_argument(
        "--sat-with", type=Path, action="append", default=[], metavar="FILE",
        help="the drill as it was when it was sat, if it was changed since; may be given again",
    )  # fmt: skip
    parser.add_argument(
        "--earlier", type=Path, nargs=2, metavar="PATH",
        help="an earlier drill and its records, where items name a pair: did it help?",
    )  # fmt: skip


def _home_page(text: str) -> str:
    from leverstep.marking.statements import is_home_page

    if not is_home_page(text):
        raise wrong(text, "a web address such as https://example.org")
    return text


def _drill(path: Path, material: Material, roster_needed: bool = True) -> Drill:
    from leverstep.drill.drill_file import read_drill

    return read_drill(path, material.shelf.problems, roster_needed=roster_needed)


def _drill_to_mark(options: argparse.Namespace, material: Material) -> Drill:
    """Return a drill with the earlier versions of its file, for the part of the class, named."""
    from leverstep.drill.drill_file import with_earlier
    from leverstep.drill.part_of_class import part_of_class

    drill = _drill(options.file, material, roster_needed=options.roster is None)
    drill = part_of_class(drill, options.roster, options.section)
    for path in options.sat_with:
        drill = with_earlier(drill, path, material.shelf.problems)
    return drill


def _new(options: argparse.Namespace, material: Material) -> int:
    """Write a drill of the problems named, or of what the teacher answers when asked."""
    from leverstep.course.new_file import refuse_old
    from leverstep.drill.drill_writing import write_drill
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
    )
    of_roster = ""
    if not wanted.names:
        try:
            wanted = Asker(options.file, material.shelf, say, input).wanted(wanted)
        except EOFError:
            print("\nThe input has ended; nothing was written.", file=sys.stderr)
            return 2
    elif wanted.roster:
        wanted, of_roster = _plain_roster(options.file, wanted)
    write_drill(
        options.file, wanted.names, material.shelf, wanted.title, wanted.minutes, options.attempts,
        wanted.guidance or Guidance.LINES, wanted.roster, wanted.columns, bool(wanted.graded),
    )  # fmt: skip
    told = f"{options.file} has been written. It is a text file: every rule in it can be changed."
    print(plain(told))
    if of_roster:
        print(plain(of_roster))
    return 0


def _plain_roster(file: Path, wanted: Wanted) -> tuple[Wanted, str]:
    """Return what is wanted with the columns that a roster plainly has, and what there is to tell.

    Where none plainly has ids, a drill without that roster is wanted, and it is to be set next.
    """
    from leverstep.drill.roster import columns_in, roster_beside
    from leverstep.drill.roster_columns import RosterColumns, plain_columns

    place = roster_beside(file, wanted.roster)
    there = columns_in(place)
    columns = plain_columns(there)
    call = f"leverstep drill roster {file} {place}"
    if there and columns is None:
        told = f"It has no roster yet: which column has the ids is not plain. Run next: {call}"
        return replace(wanted, roster=""), told
    if columns is None or columns == RosterColumns():
        return wanted, ""
    names = ", ".join(one for one in columns.name if one in there) or "no column"
    told = f"Ids are read from the column {columns.id}, names from {names}. To change that: {call}"
    return replace(wanted, columns=columns), told


def _preview(options: argparse.Namespace, material: Material) -> int:
    """Show the rules, the tasks of one student worked out, and how far the answers spread."""
    from leverstep.dialogue.preview import preview
    from leverstep.drill.start_word import unlocked

    drill = unlocked(_drill(options.file, material, roster_needed=False), options.start_word)
    for line in preview(drill, material.catalogue, options.student or ""):
        print(line)
    return 0


def _roster(options: argparse.Namespace, material: Material) -> int:
    """Write into a drill where the list of its class lies and what its columns are called."""
    from leverstep.course.toml import quoted
    from leverstep.drill.drill_file import read_without_roster
    from leverstep.drill.part_of_class import roster_named
    from leverstep.drill.roster import from_drill
    from leverstep.drill.roster_columns import RosterColumns
    from leverstep.drill.rule_writing import set_rules
    from leverstep.faces.lines.drill_asking import Asker

    before = read_without_roster(options.file, material.shelf.problems).roster_columns
    try:
        asker = Asker(options.file, material.shelf, say, input)
        columns = asker.columns(options.roster, before)
    except EOFError:
        print("\nThe input has ended; nothing was written.", file=sys.stderr)
        return 2
    roster = roster_named(options.roster, columns)
    beside = from_drill(options.file, os.path.abspath(options.roster))
    rules = [f"roster = {quoted(beside)}"]
    if columns != RosterColumns() or before != RosterColumns():
        rules.append(f"roster_columns = {columns.as_rule}")
    set_rules(options.file, *rules)
    print(plain(f"{options.file} now has the roster {beside}: {len(roster.names)} students."))
    return 0


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
    """Ask for a word twice, and write its seal into a drill."""
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
    if is_plain(options.plain):
        return _sit_in_lines(path, options.student, folder, material)
    from leverstep.faces.screens.app import run_app
    from leverstep.faces.screens.entrances import Entrance

    return run_app(say, material, Entrance(path, options.student, folder))


def _sit_in_lines(path: Path, student: str, folder: Path | None, material: Material) -> int:
    from leverstep.course.phrases import sentence
    from leverstep.drill.sitting import Closed
    from leverstep.faces.lines.drill_door import sit

    try:
        drill = _drill(path, material, roster_needed=False)
        interrupt = write if sys.stdin.isatty() else None
        entrance = path, student, folder
        sit(drill, material.catalogue, entrance, say, input, interrupt=interrupt)
    except Closed as error:
        print(sentence(error), file=sys.stderr)
        return 2
    except EOFError:
        print("The input has ended before the drill was begun.", file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        say("\nLeft before the drill was begun.")
    return 0


def _mark(options: argparse.Namespace, material: Material) -> int:
    """Mark records and write tables and reports; show what changed against tables from before."""
    from leverstep.course.faults import Fault, FileError
    from leverstep.drill.codes import read_codes
    from leverstep.marking.collecting import Taker, mark_class, shared_remarks
    from leverstep.marking.outputs import Outputs
    from leverstep.marking.part import of_part
    from leverstep.marking.statements import HOME_PAGE, Statements
    from leverstep.marking.tables import MarkTables
    from leverstep.reports.class_report import headline
    from leverstep.reports.gathering import ClassFigures
    from leverstep.reports.pages import StudentPages
    from leverstep.reports.report_files import write_report

    drill, found = _drill_to_mark(options, material), _gathered(options.records)
    if options.out.exists() and not options.out.is_dir():
        raise FileError([Fault(str(options.out), "", "it is a file", "a folder for the marks")])
    catalogue = material.catalogue
    noted = None if options.codes is None else read_codes(options.codes)
    part = of_part(drill, found.records)
    shared = shared_remarks(drill, part.records)
    print(found)
    if left_out := str(part):
        print(left_out)
    with Outputs(options.out) as out, workers() as pool:
        earlier = _earlier(options, drill, material, pool)
        collected = ClassFigures(drill, catalogue, shared, part.strangers, earlier)
        pages = StudentPages(drill, catalogue, out, options.tex)
        tables = MarkTables(drill, out, options.against)
        takers: list[Taker] = [collected, tables]
        if options.pages:
            takers.append(pages)
        if options.statements:
            takers.append(Statements(drill, out, options.home_page or HOME_PAGE))
        mark_class(drill, catalogue, part.records, pool, takers, shared, noted)
        if options.pages:
            pages.remove_earlier()
        figures = collected.figures()
        told = tables.finish()
        report = ", ".join(str(path) for path in write_report(figures, out, options.tex))
        told += [f"The class report: {report}", *_beside(options, pages)]
        if noted is not None and noted.left:
            told.append(
                f"{noted.name} has codes for ids that have no record: {', '.join(noted.left)}"
            )
    for line in told:
        print(line)
    print(headline(figures))
    return 0


def _beside(options: argparse.Namespace, pages: StudentPages) -> Iterator[str]:
    """Yield what else was written, and what is there from an earlier marking."""
    from leverstep.course.phrases import counted
    from leverstep.marking.against import AGAINST
    from leverstep.marking.statements import STATEMENTS
    from leverstep.reports.pages import pages_in
    from leverstep.reports.report_files import REPORT

    earlier = []
    if options.pages:
        number = counted(pages.count, "page")
        yield f"{number} to give back: {pages.folder}"
    elif pages_in(pages.folder):
        earlier.append(pages.folder)
    latex = options.out / f"{REPORT}.tex"
    if not options.tex and latex.exists():
        earlier.append(latex)
    if options.statements:
        yield f"Statements: {options.out / STATEMENTS}"
    elif (options.out / STATEMENTS).exists():
        earlier.append(options.out / STATEMENTS)
    if options.against is None and (options.out / AGAINST).exists():
        earlier.append(options.out / AGAINST)
    if earlier:
        yield f"Left over from an earlier run: {', '.join(map(str, earlier))}"


def _report(options: argparse.Namespace, material: Material) -> int:
    """Mark records and show the class report, on the full screen where there is one."""
    from leverstep.documents.spoken import spoken
    from leverstep.documents.text import text
    from leverstep.marking.collecting import mark_class, shared_remarks
    from leverstep.marking.part import of_part
    from leverstep.reports.class_report import class_report
    from leverstep.reports.gathering import ClassFigures

    drill, found = _drill_to_mark(options, material), _gathered(options.records)
    part, catalogue = of_part(drill, found.records), material.catalogue
    shared = shared_remarks(drill, part.records)
    with workers() as pool:
        earlier = _earlier(options, drill, material, pool)
        collected = ClassFigures(drill, catalogue, shared, part.strangers, earlier)
        mark_class(drill, catalogue, part.records, pool, [collected], shared)
    report = class_report(collected.figures(), with_names=not options.without_names)
    if is_plain(options.plain):
        print(spoken(report), end="")
        return 0
    from leverstep.faces.screens.report import ReportApp

    ReportApp(text(report)).run()
    return 0


def _earlier(
    options: argparse.Namespace, later: Drill, material: Material, pool: Executor
) -> EarlierSittings | None:
    """Return what was done in the earlier drill that a later one is compared with, if any.

    Raises:
        FileError: where it has no records, or the two have no pair of problems.
    """
    from leverstep.marking.collecting import mark_class
    from leverstep.reports.changes import EarlierSittings

    if options.earlier is None:
        return None
    file, records = options.earlier
    drill = _drill(file, material, roster_needed=False)
    earlier = EarlierSittings(drill, later, str(file), str(options.file))
    mark_class(drill, material.catalogue, _gathered([records]).records, pool, [earlier])
    return earlier


def _gathered(paths: list[Path]) -> Gathered:
    """Return the records of some files and folders; say so where there is none.

    Raises:
        FileError: where one of the paths is not there, or none has a record.
    """
    from leverstep.course.faults import Fault, FileError
    from leverstep.marking.collecting import gather

    expected = "records, or a folder of them"
    absent = [path for path in paths if not os.path.exists(path)]
    if absent:
        raise FileError([Fault(str(path), "", "it is not there", expected) for path in absent])
    found = gather(paths)
    if not found.records:
        where = ", ".join(str(path) for path in paths)
        raise FileError([Fault(where, "", "no records are there", expected)])
    return found
