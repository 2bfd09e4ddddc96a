"""The command line.

Exit codes: 0 done, 1 a wrong entry in `check`, 2 wrong usage or a broken file, 3 a fault of the
program.
"""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

from leverstep.course.faults import Fault, FileError
from leverstep.course.libraries import Libraries, libraries_in_use
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
        code = _run(typed)
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


def _run(typed: Sequence[str]) -> int:
    try:
        if not typed:  # so that the first screen waits for no command
            return _choose(Material(libraries_in_use()))
        return _run_call(typed)
    except FileError as error:
        print(error, file=sys.stderr)
        return 2


def _run_call(typed: Sequence[str]) -> int:
    """Run what a call of some words asks for."""
    from leverstep.faces.commands.calls import every_command

    options = every_command().parse_args([_as_entry(argument) for argument in typed])
    if options.version:
        print(f"leverstep {_version()}")
        return 0
    material = Material(_libraries(options.own_folders))
    if options.command is None:
        return _choose(material, options.plain)
    _tell_left_out(material)
    code: int = options.command(options, material)
    return code


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


def _tell_left_out(material: Material) -> None:
    """Tell which problems are left out, and why."""
    for line in material.shelf.left_out:
        print(line, file=sys.stderr)


def _forget_output() -> None:
    """Send what is still to be written nowhere, so that the end of the program does not fail."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _version() -> str:
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version("leverstep")
    except PackageNotFoundError:  # run from a clone that was never installed
        return "(not installed)"


def _choose(material: Material, plain: bool = False) -> int:
    """Open the problems to choose from, on the full screen or in plain lines.

    In plain lines who is new here is shown the tour first.
    """
    if not is_plain(plain):
        from leverstep.faces.screens.app import run_app

        return run_app(say, material)  # which reads the problems once its first screen is up
    from leverstep.dialogue.first_start import is_first_start
    from leverstep.faces.lines.home_line import HomeLines

    _tell_left_out(material)
    if not material.shelf.offered:
        raise FileError(material.shelf.faults)
    HomeLines(material, say, input).run(with_tour=sys.stdin.isatty() and is_first_start())
    return 0
