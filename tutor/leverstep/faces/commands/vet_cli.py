"""The command `vet`: look for faults in files of problems, hints and drills."""

from __future__ import annotations

import argparse
import os
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from leverstep.course.faults import Fault, FileError
from leverstep.faces.commands.usage import add_command, add_json
from leverstep.faces.terminal import say_json
from leverstep.working.cautions import CAUTION

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

    from leverstep.course.problem import Problem
    from leverstep.course.shelf import Shelf
    from leverstep.drill.drill import Drill
    from leverstep.faces.commands.usage import Commands
    from leverstep.faces.material import Material
    from leverstep.slips.catalogue import Catalogue
    from leverstep.vetting.vet import Report


def add_vet(commands: Commands) -> None:
    """Add the command `vet` to a parser."""
    vet = add_command(commands, "vet", "look for faults in your own files", "vet my-course/")
    vet.add_argument(
        "paths", nargs="*", type=Path, metavar="PATH",
        help="files of problems, hints, drills, a course's plan or a gradebook, and folders "
        "(all that ship unless given)",
    )  # fmt: skip
    add_json(vet)
    vet.set_defaults(command=_vet)


def _vet(options: argparse.Namespace, material: Material) -> int:
    """Vet files of problems, hints and drills; all that ship where no path is given."""
    from leverstep.course.places import shipped
    from leverstep.course.shelf import problem_files
    from leverstep.drill.exceptions import EXCEPTIONS
    from leverstep.drill.pins_file import PINS

    files = list(problem_files(options.paths or [shipped("problems"), shipped("hints")]))
    paths = [path for path in files if path.name not in (EXCEPTIONS, PINS)]
    if not paths:
        where = ", ".join(str(path) for path in options.paths)
        found, expected = "there is no file to vet", "files that end in .toml"
        if files:
            found, expected = f"{files[0].name} is vetted with its drill", "the file of the drill"
        raise FileError([Fault(where, "", found, expected)])
    reports = _reports(paths, material.shelf)
    if options.json:
        say_json([_as_data(report) for report in reports])
    else:
        _say(reports)
    return 2 if any(report.faults for report in reports) else 0


def _reports(paths: Sequence[Traversable], shelf: Shelf) -> list[Report]:
    """Return a report for each file, and one for each problem of a drill among them."""
    from leverstep.course.course_plan import is_plan
    from leverstep.course.places import shipped
    from leverstep.course.toml import top_keys
    from leverstep.drill.drill import LARGEST_DRILL
    from leverstep.drill.drill_file import is_drill_file
    from leverstep.marking.gradebook_file import is_gradebook_file
    from leverstep.slips.catalogue import load_catalogue
    from leverstep.term.term_plan import is_term
    from leverstep.vetting.vet import vet_files
    from leverstep.vetting.vet_hints import is_hint_file, vet_hint_files

    keys = {path: top_keys(path, LARGEST_DRILL) for path in paths}
    books = [path for path in paths if is_gradebook_file(keys[path])]
    paths = [path for path in paths if path not in books]
    terms = [path for path in paths if is_term(keys[path])]
    plans = [path for path in paths if is_plan(path) or path in terms]
    hints = [path for path in paths if path not in plans and is_hint_file(keys[path])]
    known = [path for path in paths if isinstance(path, Path) and path not in (*hints, *plans)]
    drills = [path for path in known if is_drill_file(keys[path])]
    problems = [path for path in paths if path not in (*hints, *drills, *plans)]
    catalogue = load_catalogue([], [shipped("hints")])  # without those that are broken
    joints = {card.joint for card in shelf.cards if card.id not in shelf.own}
    reports = [*vet_files(problems, catalogue, joints)]
    ids = [*shelf.problems, *(one.problem.id for one in reports if one.problem is not None)]
    reports += vet_hint_files(hints, shelf.problems)
    reports += _plans(plans, terms, ids, shelf.problems)
    return [*reports, *_books(books), *_drills(drills, shelf, catalogue)]


def _books(paths: Iterable[Traversable]) -> Iterator[Report]:
    """Yield a report for each file of columns of a gradebook."""
    from leverstep.marking.gradebook_file import read_gradebook
    from leverstep.vetting.vet import Report

    for path in paths:
        try:
            read_gradebook(Path(str(path)), str(path))
        except FileError as error:
            yield Report(str(path), None, error.faults)
        else:
            yield Report(str(path), None, ())


def _say(reports: Sequence[Report]) -> None:
    """Print what was found in each file, and the caution where there are answers among it."""
    for report in reports:
        for fault in report.faults:
            print(fault)
        if not report.faults:
            print(f"{report.file}: no faults")
        for span in report.spans:
            print(f"  {span.step.key:8} {span.text}")
        for remark in report.remarks:
            print(f"  remark: {remark.key}: {remark.found}")
    if any(report.spans for report in reports):
        print(CAUTION)


def _as_data(report: Report) -> dict[str, object]:
    """Return a report of vetting for JSON."""
    return {
        "file": report.file,
        "faults": [asdict(fault) for fault in report.faults],
        "remarks": [asdict(remark) for remark in report.remarks],
        "answers": [
            {"line": s.step.key, "unit": s.step.unit, "low": s.low, "high": s.high}
            for s in report.spans
        ],
        "caution": CAUTION,
    }


def _plans(
    paths: Iterable[Traversable],
    terms: Collection[Traversable],
    ids: Sequence[str],
    problems: Mapping[str, Problem],
) -> Iterator[Report]:
    """Yield a report for the plan of each course.

    Args:
        paths: where they lie.
        terms: those of them that have the drills of a term.
        ids: those of all problems there are; a plan may name those that lie beside it, too.
        problems: those that the drills of a term may set.
    """
    from leverstep.course.course_plan import is_plan, read_plan
    from leverstep.course.places import toml_files
    from leverstep.course.shelf import load_shelf
    from leverstep.vetting.vet import Report

    for path in paths:
        folder = Path(str(path)).parent
        beside = [one.stem for found in ("*.toml", "*/*.toml") for one in folder.glob(found)]
        others = [one for one in toml_files(folder) if not is_plan(one)]
        joints = {card.joint for card in load_shelf(own=others).cards}
        plan = read_plan(path, [*ids, *beside], joints, str(path))[1]
        faults, remarks = _term(Path(str(path)), problems) if path in terms else ((), ())
        yield Report(str(path), None, tuple(dict.fromkeys((*plan, *faults))), remarks)


def _term(
    path: Path, problems: Mapping[str, Problem]
) -> tuple[tuple[Fault, ...], tuple[Fault, ...]]:
    """Return what is wrong in the plan of a term, and what is remarked on it."""
    from leverstep.term.term_plan import read_term

    try:
        term = read_term(path, problems, str(path))
    except FileError as error:
        return error.faults, ()
    expected = "records, by the time it is marked"
    absent = [one.records for one in term.drills if not one.records.exists()]
    found = [f"{one} is not there yet" for one in dict.fromkeys(absent)]
    return (), tuple(Fault(str(path), "records", one, expected) for one in found)


def _drills(paths: Iterable[Path], shelf: Shelf, catalogue: Catalogue) -> Iterator[Report]:
    """Yield a report for each drill, then one for each of its problems."""
    from leverstep.drill.drill_file import read_drill
    from leverstep.drill.problem_pairs import unlike_pairs
    from leverstep.vetting.vet import Report, vet_problem

    for path in paths:
        try:
            drill = read_drill(path, shelf.problems, str(path))
        except FileError as error:
            yield Report(str(path), None, error.faults)
            continue
        remarks = tuple(_remarks(path, drill))
        yield Report(str(path), None, tuple(unlike_pairs(drill, str(path))), remarks)
        tasks = enumerate(drill.task_items, 1)
        as_set = (drill.at(number).as_set(one) for number, item in tasks for one in item.bank)
        for problem in dict.fromkeys(as_set):
            called = f"{path}: {problem.id}"
            yield vet_problem(problem, called, catalogue, drill.accepted)


def _remarks(path: Path, drill: Drill) -> Iterator[Fault]:
    """Yield what the author of a drill may not have meant."""
    from leverstep.course.phrases import moment
    from leverstep.course.plain_text import shown
    from leverstep.drill.banks import BANK, banks_told
    from leverstep.drill.exceptions import EXCEPTIONS, all_marks_told
    from leverstep.drill.mixed_items import drawn_told
    from leverstep.drill.pins_file import PINS, without_pin
    from leverstep.drill.seal_key import place_of_private

    if drill.closes and drill.closes < datetime.now(UTC):
        found = f"it closed on {moment(drill.closes)}"
        yield Fault(str(path), "closes", found, "a time in the future")
    for one in drill.allowances:
        if not drill.is_open_to(one):
            yield Fault(
                str(path), EXCEPTIONS, f"{shown(one)} is not on the roster", "a student on it"
            )
    if drill.pins is not None and drill.pins.teacher is None:
        found = "it is not beside the drill, so nobody is let in"
        yield Fault(str(path), PINS, found, "what `leverstep drill pins` writes")
    elif without := without_pin(drill):
        found = f"no PIN for {', '.join(map(shown, without))}"
        yield Fault(str(path), PINS, found, "one for each student")
    if drill.seal and not os.path.lexists(place_of_private(drill.seal)):
        found = "its private key is not kept here"
        yield Fault(str(path), "seal", found, "the key here, where records are marked")
    yield from (Fault(str(path), "mixed", one, "a mixed set") for one in drawn_told(drill))
    expected = "problems that are alike in length"
    yield from (Fault(str(path), BANK, one, expected) for one in banks_told(drill))
    expected = "marks for this very task"
    yield from (Fault(str(path), EXCEPTIONS, one, expected) for one in all_marks_told(drill))
