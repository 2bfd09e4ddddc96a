"""The command line.

Exit codes: 0 done, 1 a wrong entry in `check`, 2 wrong usage or a broken file, 3 a fault of the
program.
"""

from __future__ import annotations

import argparse
import os
import re
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

from leverstep.course.faults import Fault, FileError
from leverstep.course.libraries import Libraries, libraries_in_use
from leverstep.faces.commands.board_cli import add_board
from leverstep.faces.commands.completion_cli import add_completion
from leverstep.faces.commands.drill_cli import add_drill
from leverstep.faces.commands.explore_cli import add_explore
from leverstep.faces.commands.page_cli import add_page
from leverstep.faces.commands.problem_cli import add_check, add_problems, add_working
from leverstep.faces.commands.progress_cli import add_progress
from leverstep.faces.commands.sheet_cli import add_sheet
from leverstep.faces.commands.tour_cli import add_tour
from leverstep.faces.commands.usage import (
    Usage,
    add_command,
    add_name,
    add_plain,
    library_option,
    seed,
)
from leverstep.faces.commands.vet_cli import add_vet
from leverstep.faces.crash import report_faults, told_of
from leverstep.faces.material import Material
from leverstep.faces.terminal import (
    is_plain,
    look_for_garbage_seldom,
    not_written,
    open_streams,
    plain_output,
    say,
)
from leverstep.working.guidance import Guidance
from leverstep.working.wording import CAUTION

if TYPE_CHECKING:
    from leverstep.course.problem import Problem
    from leverstep.course.shelf import Shelf
    from leverstep.faces.commands.usage import Commands
    from leverstep.faces.openings import Opening

    Command = Callable[[argparse.Namespace, Material], int]


def run() -> NoReturn:
    """Run the program, and end with its exit code."""
    look_for_garbage_seldom()
    sys.exit(main())


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit code."""
    open_streams()
    for stream in (sys.stdin, sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    report_faults()
    with plain_output():
        return _called(sys.argv[1:] if arguments is None else arguments)


def _called(typed: Sequence[str]) -> int:
    try:
        code = _run(_parser().parse_args([_as_entry(argument) for argument in typed]))
        sys.stdout.flush()  # so that a reader who has gone is noticed here
        return code
    except BrokenPipeError:
        _forget_output()  # whoever read it has gone; nothing more can be said
        return 0
    except OSError as error:
        _forget_output()
        print(not_written(error), file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        return 130
    except Exception as error:  # noqa: BLE001  (nobody but us can do anything with a traceback)
        print(told_of(error), file=sys.stderr)
        return 3


def _as_entry(argument: str) -> str:
    """Return an argument such as `-3.1 N·m` so that argparse takes it for an entry, no option."""
    return f" {argument}" if re.match(r"-[0-9.(]|-[A-Za-z]+_", argument) else argument


def _run(options: argparse.Namespace) -> int:
    if options.version:
        print(f"leverstep {_version()}")
        return 0
    try:
        return _run_command(options, Material(_libraries(options.own_folders)))
    except FileError as error:
        print(error, file=sys.stderr)
        return 2


def _libraries(folders: Sequence[str]) -> Libraries:
    """Return the teacher's own libraries: the folders that a call names, and those there are.

    Raises:
        FileError: where one that is named is no folder.
    """
    absent = [folder for folder in folders if not os.path.isdir(folder)]
    if absent:
        found, expected = "there is no such folder", "a folder of your own problems and hints"
        raise FileError([Fault(f"--library {folder}", "", found, expected) for folder in absent])
    return libraries_in_use(Path(folder) for folder in folders)


def _run_command(options: argparse.Namespace, material: Material) -> int:
    if options.command is _open and options.name is None and not is_plain(options.plain):
        from leverstep.faces.screens.app import run_app

        return run_app(say, material)  # which reads the problems once its first screen is up
    for line in material.shelf.left_out:
        print(line, file=sys.stderr)
    command: Command = options.command
    return command(options, material)


def _forget_output() -> None:
    """Send what is still to be written nowhere, so that the end of the program does not fail."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _parser() -> argparse.ArgumentParser:
    parser: argparse.ArgumentParser = Usage(
        prog="leverstep",
        description="Practise joint statics line by line: from a posture to muscle force, "
        f"mechanical advantage and joint reaction. {CAUTION}",
        epilog="example: leverstep practise elbow-full-pail",
        parents=[library_option([])],
    )
    parser.add_argument("--version", action="store_true", help="show the version")
    add_plain(parser, default=False)
    parser.set_defaults(command=_open, name=None, seed=None, own=[], page=None)
    parser.set_defaults(go_on=False, anew=False)
    parser.set_defaults(guidance=Guidance.LINES)
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")
    for add in (
        _add_practise, add_problems, add_working, add_check, add_page, add_vet, add_explore,
        add_drill, add_progress, add_board, add_sheet, add_tour,
    ):  # fmt: skip
        add(commands)
    add_completion(commands, parser)
    return parser


def _add_practise(commands: Commands) -> None:
    practise = add_command(
        commands, "practise", "work a problem", "practise elbow-full-pail --plain"
    )
    add_name(practise)
    practise.add_argument(
        "--seed", type=seed, help="the numbers to work with (new ones unless given)"
    )
    practise.add_argument(
        "--go-on", action="store_true",
        help="go on with the last unfinished working, with --seed the last with these numbers",
    )  # fmt: skip
    practise.add_argument(
        "--anew", action="store_true",
        help="begin anew without asking, though the same with these numbers is unfinished",
    )  # fmt: skip
    practise.add_argument(
        "--own", action="append", default=[], metavar="SYMBOL=VALUE",
        help="a number measured on your own body, for a problem that takes one",
    )  # fmt: skip
    practise.add_argument(
        "--guidance", choices=[str(degree) for degree in Guidance], default=Guidance.LINES,
        help="how far you are led: every line, landmarks only, or a blank sheet",
    )  # fmt: skip
    practise.add_argument(
        "--page", metavar="FILE", help="write the last working of it to a new file, ending in "
        ".html, .md or .tex, in place of working it",
    )  # fmt: skip
    add_plain(practise)
    practise.set_defaults(command=_open)


def _version() -> str:
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version("leverstep")
    except PackageNotFoundError:  # run from a clone that was never installed
        return "(not installed)"


def _open(options: argparse.Namespace, material: Material) -> int:
    """Open a problem on the full screen, or line by line."""
    if options.name is None:
        return _choose_in_lines(material)
    from leverstep.faces.openings import Opening

    problem = material.shelf.find(options.name)
    material = material.including(problem)
    if options.page is not None:
        return _write_page(material, problem, options.page)
    seed, record = options.seed or "", None
    if options.go_on:
        record = _last_record(material.shelf, problem, seed)
    guidance = Guidance(options.guidance)
    opening = Opening(problem, seed, record, tuple(options.own), guidance, options.anew)
    if is_plain(options.plain):
        return _in_lines(material, opening)
    from leverstep.faces.screens.app import run_app

    return run_app(say, material, opening)


def _last_record(shelf: Shelf, problem: Problem, seed: str) -> Path:
    """Return the record of the last working of a problem, with some numbers or any, to go on."""
    from leverstep.faces.openings import last_unfinished

    last = last_unfinished(shelf, problem, seed)
    if last is None:
        expected = "a working begun before; leave out --go-on to begin one"
        raise FileError([Fault(problem.id, "", "nothing is unfinished", expected)])
    return last.path


def _write_page(material: Material, problem: Problem, typed: str) -> int:
    """Write the page of the last working of a problem to a file; the record stays as it is."""
    from leverstep.bench.practice import last_record, reread
    from leverstep.bench.record import RecordError
    from leverstep.sheets.own_page import keep_page

    record = last_record(material.shelf, problem)
    if record is None:
        raise FileError([Fault(problem.id, "", "nothing is kept of it", "a working begun before")])
    try:
        bench = reread(record, material.shelf, material.catalogue)
    except RecordError as error:
        print(error, file=sys.stderr)
        return 2
    kept = keep_page(bench, typed)
    print(kept.told, file=sys.stdout if kept.path else sys.stderr)
    return 0 if kept.path else 2


def _choose_in_lines(material: Material) -> int:
    """Ask for problems in plain lines, and work them; who is new here is shown the tour first."""
    from leverstep.dialogue.first_start import is_first_start
    from leverstep.faces.lines.home_line import HomeLines

    if not material.shelf.cards:
        raise FileError(material.shelf.faults)
    HomeLines(material, say, input).run(with_tour=sys.stdin.isatty() and is_first_start())
    return 0


def _in_lines(material: Material, opening: Opening) -> int:
    """Work a problem in plain lines."""
    from leverstep.bench.record import RecordError
    from leverstep.faces.lines.end_lines import work_on
    from leverstep.faces.lines.kept_asking import tell_begun, which_working
    from leverstep.faces.openings import is_begun_before, open_practice
    from leverstep.slips.habits import Habits
    from leverstep.working.own import OwnError

    if is_begun_before(opening, material.shelf):
        ident = opening.problem.id
        say(f"There is an unfinished working: practise {ident} --go-on takes it up.")
    if sys.stdin.isatty():
        chosen = which_working(opening, material.shelf, say, input)
        if chosen is None:
            return 0
        opening = chosen
    else:
        tell_begun(opening, material.shelf, say)
    try:
        habits = Habits()
        practice = open_practice(opening, material, habits)
    except OwnError as error:
        print(f"--own: {error}", file=sys.stderr)
        return 2
    except RecordError as error:
        print(error, file=sys.stderr)
        return 2
    for fault in material.catalogue.faults:
        print(fault, file=sys.stderr)
    work_on(practice, material, habits, say, input)
    return 0
