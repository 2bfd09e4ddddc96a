"""The command for practice: a problem worked on the full screen or line by line, or its page."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from leverstep.course.faults import Fault, FileError
from leverstep.faces.commands.usage import (
    add_command,
    add_plain,
    add_slips,
    seed,
    slips_to_find,
    whole_number,
    wrong,
)
from leverstep.faces.openings import Opening
from leverstep.faces.terminal import is_plain, say
from leverstep.progress.mixed_set import FEWEST, MOST, USUAL
from leverstep.working.guidance import Guidance

if TYPE_CHECKING:
    from leverstep.course.problem import Problem
    from leverstep.course.shelf import Shelf
    from leverstep.faces.commands.usage import Commands
    from leverstep.faces.material import Material


def add_practise(commands: Commands) -> None:
    """Add the command `practise` to a parser."""
    practise = add_command(
        commands, "practise", "work a problem", "practise elbow-pail-of-water --plain"
    )
    what = practise.add_mutually_exclusive_group(required=True)
    what.add_argument(
        "name", metavar="NAME", nargs="?", help="a problem, or the path of a problem file"
    )
    what.add_argument(
        "--mixed", metavar="N", nargs="?", type=_set_size, const=USUAL,
        help=f"a mixed set: {FEWEST} to {MOST} short problems of different kinds, {USUAL} unless "
        "given; one that is begun is gone on with",
    )  # fmt: skip
    practise.add_argument(
        "--seed", type=seed, help="the numbers to work with (new ones unless given)"
    )
    practise.add_argument(
        "--go-on", action="store_true",
        help="go on with the last unfinished working, with --seed the last with these numbers",
    )  # fmt: skip
    practise.add_argument(
        "--anew", action="store_true",
        help="begin anew without asking, though the same with these numbers, or a mixed set, is "
        "unfinished",
    )  # fmt: skip
    practise.add_argument(
        "--own", action="append", default=[], metavar="SYMBOL=VALUE",
        help="a number measured on your own body, for a problem that takes one",
    )  # fmt: skip
    practise.add_argument(
        "--guidance", choices=[str(degree) for degree in Guidance], default=Guidance.LINES,
        help="how far you are led: every line, landmarks only, a blank sheet, or an example whose "
        "first lines are shown, fewer each time",
    )  # fmt: skip
    add_slips(practise)
    practise.add_argument(
        "--page", metavar="FILE", help="write the last working of it to a new file, ending in "
        ".html, .md, .tex or .txt, in place of working it",
    )  # fmt: skip
    add_plain(practise)
    practise.set_defaults(command=_practise)


def _practise(options: argparse.Namespace, material: Material) -> int:
    """Open a problem on the full screen, or line by line; or a mixed set of them."""
    if options.mixed is not None:
        return _practise_set(options, material)
    problem = material.shelf.find(options.name)
    material = material.including(problem)
    if options.page is not None:
        return _write_page(material, problem, options.page)
    seed, record = options.seed or "", None
    if options.go_on:
        record = _last_record(material.shelf, problem, seed)
    guidance = Guidance(options.guidance)
    opening = Opening(
        problem, seed, record, tuple(options.own), guidance, options.anew, slips_to_find(options)
    )
    if is_plain(options.plain):
        return _in_lines(material, opening)
    from leverstep.faces.screens.app import run_app

    return run_app(say, material, opening)


def _set_size(text: str) -> int:
    """Return how many problems a mixed set is to have."""
    count = whole_number(text)
    if not FEWEST <= count <= MOST:
        raise wrong(text, f"{FEWEST} to {MOST} problems")
    return count


def _practise_set(options: argparse.Namespace, material: Material) -> int:
    """Work a mixed set on the full screen, or line by line."""
    from leverstep.faces.openings import set_at_hand

    for option in ("--seed", "--own", "--page", "--find-slip", "--slips"):
        if getattr(options, option.removeprefix("--").replace("-", "_")):
            expected = "--mixed without it, or the name of a problem"
            raise FileError([Fault("--mixed", "", f"found {option} too", expected)])
    for fault in material.catalogue.faults:
        print(fault, file=sys.stderr)
    opened = set_at_hand(material, options.mixed, Guidance(options.guidance), options.anew)
    if is_plain(options.plain):
        from leverstep.faces.lines.set_lines import work_set
        from leverstep.slips.habits import Habits

        work_set(opened, material, Habits(), say, input)
        return 0
    from leverstep.faces.screens.app import run_app

    return run_app(say, material, opened)


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
    from leverstep.drill.in_progress import refuse_numbers
    from leverstep.sheets.own_page import keep_page

    record = last_record(material.shelf, problem)
    if record is None:
        raise FileError([Fault(problem.id, "", "nothing is kept of it", "a working begun before")])
    try:
        bench = reread(record, material.shelf, material.catalogue)
    except RecordError as error:
        print(error, file=sys.stderr)
        return 2
    refuse_numbers([bench.question], material.shelf.problems)
    kept = keep_page(bench, typed)
    print(kept.told, file=sys.stdout if kept.path else sys.stderr)
    return 0 if kept.path else 2


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
