"""The commands that mark the records of a drill: into tables and reports, or to read a report."""

from __future__ import annotations

import argparse
import os
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from leverstep.course.plain_text import plain
from leverstep.faces.commands.machines import MarkingProgress, add_machines, machines
from leverstep.faces.commands.usage import (
    add_columns,
    add_command,
    add_drill_file,
    add_pages,
    add_part,
    add_plain,
    add_seal_key,
    add_without_names,
    wrong,
)
from leverstep.faces.terminal import is_plain

if TYPE_CHECKING:
    from concurrent.futures import Executor

    from leverstep.drill.codes import Noted
    from leverstep.drill.drill import Drill
    from leverstep.drill.seal_key import PrivateKey
    from leverstep.faces.commands.usage import Commands
    from leverstep.faces.material import Material
    from leverstep.marking.collecting import Gathered, Taker
    from leverstep.marking.part import OfPart
    from leverstep.reports.changes import EarlierSittings
    from leverstep.reports.gathering import ClassFigures
    from leverstep.reports.pages import StudentPages


def add_mark(own: Commands) -> None:
    """Add the command `mark` to those of `drill`."""
    mark = add_command(own, "mark", "mark records", "drill mark levers.toml records/ --out marks/")
    add_drill_file(mark)
    mark.add_argument("records", nargs="+", type=Path, metavar="RECORDS", help="files and folders")
    mark.add_argument(
        "--out", type=Path, required=True, metavar="DIR", help="where tables and reports go"
    )
    mark.add_argument("--against", type=Path, metavar="DIR", help="tables written before")
    mark.add_argument(
        "--codes", type=Path, metavar="CSV",
        help="the codes that were noted at the end: a file with the columns id and code",
    )  # fmt: skip
    add_columns(mark)
    mark.add_argument(
        "--oneroster", type=Path, metavar="PATH",
        help="also write results in OneRoster CSV, for the classes of this export",
    )  # fmt: skip
    add_pages(mark)
    mark.add_argument(
        "--sums", action="store_true",
        help="also write sums.json, to be put together with those of other parts of a course",
    )  # fmt: skip
    mark.add_argument("--statements", action="store_true", help="also write xAPI statements")
    mark.add_argument(
        "--home-page", type=_home_page, metavar="URL",
        help="of the school, for statements to say whose ids they name",
    )  # fmt: skip
    _add_whose(mark)
    add_machines(mark)
    mark.set_defaults(command=_mark)


def add_report(own: Commands) -> None:
    """Add the command `report` to those of `drill`."""
    told = "show the class report"
    report = add_command(own, "report", told, "drill report levers.toml records/")
    add_drill_file(report)
    report.add_argument("records", nargs="+", type=Path, metavar="RECORDS", help="files, folders")
    add_without_names(report)
    _add_whose(report)
    add_machines(report)
    add_plain(report)
    report.set_defaults(command=_report)


def _add_whose(parser: argparse.ArgumentParser) -> None:
    """Have a command take which records it is about, and what they were begun with."""
    add_part(parser, "mark")
    parser.add_argument(
        "--sat-with", type=Path, action="append", default=[], metavar="FILE",
        help="the drill as it was when it was sat, if it was changed since; may be given again",
    )  # fmt: skip
    add_seal_key(parser)
    parser.add_argument(
        "--earlier", type=Path, nargs=2, metavar="PATH",
        help="an earlier drill and its records, where items name a pair: did it help?",
    )  # fmt: skip


def _home_page(text: str) -> str:
    from leverstep.marking.statements import is_home_page

    if not is_home_page(text):
        raise wrong(text, "a web address such as https://example.org")
    return text


def _mark(options: argparse.Namespace, material: Material) -> int:
    """Mark records and write tables and reports; show what changed against tables from before."""
    from leverstep.drill.codes import read_codes
    from leverstep.drill.one_roster_export import read_export
    from leverstep.marking.gradebook import Gradebook, sources_of
    from leverstep.marking.gradebook_file import read_gradebook
    from leverstep.marking.one_roster_results import OneRosterResults
    from leverstep.marking.outputs import Outputs
    from leverstep.marking.statements import HOME_PAGE, Statements
    from leverstep.marking.tables import MarkTables
    from leverstep.reports.class_report import headline
    from leverstep.reports.pages import StudentPages
    from leverstep.reports.part_sums import SUMS, sums_text
    from leverstep.reports.report_files import write_report
    from leverstep.reports.to_give import with_problems_to_give

    outputs = Outputs.into(options.out)
    columns = read_gradebook(options.columns, str(options.columns)) if options.columns else None
    export = None if options.oneroster is None else read_export(options.oneroster)
    noted = None if options.codes is None else read_codes(options.codes)
    to_mark = _to_mark(options, material)
    drill = to_mark.drill
    print(to_mark.found)
    to_mark.say_left_out()
    with outputs as out, machines(options, to_mark.probes) as pool:
        collected = to_mark.figures(options, material, pool)
        pages = StudentPages(drill, material.catalogue, out, options.tex, to_mark.going_on)
        tables = MarkTables(drill, out, options.against)
        takers: list[Taker] = [collected, tables, MarkingProgress(len(to_mark.part.records))]
        if columns is not None:
            takers.append(Gradebook(columns, sources_of(drill), out))
        results = None if export is None else OneRosterResults(drill, export, out)
        takers += [] if results is None else [results]
        if options.pages:
            takers.append(pages)
        if options.statements:
            takers.append(Statements(drill, out, options.home_page or HOME_PAGE))
        to_mark.hand_to(takers, material, pool, noted)
        if options.pages:
            pages.remove_earlier()
        figures = with_problems_to_give(collected.figures(), material.shelf, material.catalogue)
        if options.sums:
            out.open(SUMS).write(sums_text(drill, collected))
        told = [*tables.finish(), *([] if results is None else results.finish())]
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
    from leverstep.marking.gradebook import GRADEBOOK
    from leverstep.marking.one_roster_results import ONE_ROSTER
    from leverstep.marking.outputs import left_over
    from leverstep.marking.statements import STATEMENTS
    from leverstep.reports.pages import pages_in
    from leverstep.reports.part_sums import SUMS
    from leverstep.reports.report_files import REPORT

    earlier = []
    if options.pages:
        number = counted(pages.count, "page")
        yield f"{number} to give back: {pages.folder}"
        if pages.held:
            whose = plain(", ".join(pages.held))
            yield f"No page yet, since a sitting begun on this computer is not handed in: {whose}"
    elif pages_in(pages.folder):
        earlier.append(pages.folder)
    # Whether each is written now, its name, and how it is told where nothing else has told it.
    others = (
        (options.tex, f"{REPORT}.tex", ""),
        (options.statements, STATEMENTS, "Statements"),
        (options.against is not None, AGAINST, ""),
        (options.columns is not None, GRADEBOOK, "For the import"),
        (options.oneroster is not None, ONE_ROSTER, ""),
        (options.sums, SUMS, "Sums"),
    )
    for is_written, name, told in others:
        path = options.out / name
        if is_written and told:
            yield f"{told}: {path}"
        elif not is_written and path.exists():
            earlier.append(path)
    yield from left_over(earlier)


def _report(options: argparse.Namespace, material: Material) -> int:
    """Mark records and show the class report, on the full screen where there is one."""
    from leverstep.documents.spoken import spoken
    from leverstep.documents.text import text
    from leverstep.reports.class_report import class_report
    from leverstep.reports.to_give import with_problems_to_give

    with_names = not options.without_names
    to_mark = _to_mark(options, material)
    to_mark.say_left_out(with_names)
    with machines(options, to_mark.probes) as pool:
        collected = to_mark.figures(options, material, pool)
        to_mark.hand_to([collected, MarkingProgress(len(to_mark.part.records))], material, pool)
    figures = with_problems_to_give(collected.figures(), material.shelf, material.catalogue)
    report = class_report(figures, with_names)
    if is_plain(options.plain):
        print(spoken(report), end="")
        return 0
    from leverstep.faces.screens.basis import OneScreenApp
    from leverstep.faces.screens.report import ReportScreen

    OneScreenApp(ReportScreen(text(report))).run()
    return 0


@dataclass(frozen=True, slots=True)
class _ToMark:
    """The drill, what was found, the records of it that are marked, and what is remarked on all.

    `seals` says why seals are not checked, where that is so; `going_on` are the students with a
    sitting of it in progress on this computer, as `same_student` has their ids.
    """

    drill: Drill
    found: Gathered
    part: OfPart
    shared: tuple[str, ...]
    seals: tuple[str, ...]
    going_on: frozenset[str]

    @property
    def probes(self) -> list[Path]:
        """Return two records, of all that lie about, by which to see whether a machine has them."""
        found = self.part.records
        return [one.path for one in (*found[:1], *found[1:][-1:])]

    def say_left_out(self, with_names: bool = True) -> None:
        """Say which records are not marked, and whether seals are not checked, where it is so."""
        for told in (self.part.left_out(with_names), *self.seals):
            if told:
                print(plain(told))

    def figures(
        self, options: argparse.Namespace, material: Material, pool: Executor
    ) -> ClassFigures:
        """Return what gathers the figures of the class, beside an earlier drill where one is."""
        from leverstep.reports.gathering import ClassFigures

        earlier = _earlier(options, self.drill, material, pool)
        strangers = self.part.strangers
        return ClassFigures(self.drill, material.catalogue, self.shared, strangers, earlier)

    def hand_to(
        self,
        takers: Sequence[Taker],
        material: Material,
        pool: Executor,
        noted: Noted | None = None,
    ) -> None:
        """Mark the records, and hand each student on; as in `mark_class`."""
        from leverstep.marking.collecting import mark_class

        catalogue, records = material.catalogue, self.part.records
        practised = self.found.practised
        mark_class(self.drill, catalogue, records, pool, takers, self.shared, noted, practised)


def _to_mark(options: argparse.Namespace, material: Material) -> _ToMark:
    """Return what is to be marked.

    Raises:
        FileError: where there is nothing to mark.
    """
    from leverstep.drill.in_progress import in_progress, refuse_marking, who_goes_on
    from leverstep.marking.collecting import shared_remarks
    from leverstep.marking.part import of_part
    from leverstep.marking.seals import with_secrets

    (drill,), seals = with_secrets([_drill_to_mark(options, material)], options.seal_key)
    found = _gathered(options.records, drill.seal_keys)
    of_drill = [one.student for one in found.records if one.drill == drill.id]
    going_on = who_goes_on(drill, in_progress(material.shelf.problems))
    refuse_marking(drill, of_drill, going_on)
    part = of_part(drill, found.records)
    shared = shared_remarks(drill, part.records)
    return _ToMark(drill, found, part, shared, seals, frozenset(going_on))


def _earlier(
    options: argparse.Namespace, later: Drill, material: Material, pool: Executor
) -> EarlierSittings | None:
    """Return what was done in the earlier drill that a later one is compared with, if any.

    Raises:
        FileError: where it has no records, or the two have no pair of problems.
    """
    from leverstep.drill.drill_file import read_drill
    from leverstep.marking.collecting import mark_class
    from leverstep.reports.changes import EarlierSittings

    if options.earlier is None:
        return None
    file, records = options.earlier
    drill = read_drill(file, material.shelf.problems, roster_needed=False)
    earlier = EarlierSittings(drill, later, str(file), str(options.file))
    mark_class(drill, material.catalogue, _gathered([records]).records, pool, [earlier])
    return earlier


def _gathered(paths: list[Path], keys: Sequence[PrivateKey] = ()) -> Gathered:
    """Return the records of some files and folders, with `keys` as `gather` takes them.

    Raises:
        FileError: where one of the paths is not there, or none has a record.
    """
    from leverstep.course.faults import Fault, FileError
    from leverstep.marking.collecting import gather

    expected = "records, or a folder of them"
    absent = [path for path in paths if not os.path.exists(path)]
    if absent:
        raise FileError([Fault(str(path), "", "it is not there", expected) for path in absent])
    found = gather(paths, keys)
    if not found.records:
        where = ", ".join(str(path) for path in paths)
        raise FileError([Fault(where, "", "no records are there", expected)])
    return found


def _drill_to_mark(options: argparse.Namespace, material: Material) -> Drill:
    """Return a drill with the earlier versions of its file, for the part of the class, named."""
    from leverstep.drill.drill_file import with_earlier
    from leverstep.drill.part_of_class import read_part

    problems = material.shelf.problems
    drill = read_part(options.file, problems, options.roster, options.section)
    for path in options.sat_with:
        drill = with_earlier(drill, path, problems)
    return drill
