"""A drill for a part of a class alone: for those of another roster, or of one section."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from leverstep.course.faults import Fault, FileError
from leverstep.course.plain_text import near, shown
from leverstep.course.problem import Problem
from leverstep.drill.drill import Drill, same_student
from leverstep.drill.drill_file import read_drill
from leverstep.drill.roster import Roster, RosterTable, roster_of, roster_table
from leverstep.drill.roster_columns import SECTION, RosterColumns


def roster_named(table: RosterTable, columns: RosterColumns) -> Roster:
    """Return the roster of a table that an option names; it may have the usual columns instead.

    Raises:
        FileError: with every fault of it.
    """
    if columns.missing_in(table.columns) and RosterColumns.id in table.columns:
        columns = RosterColumns()
    faults: list[Fault] = []
    expected = "a CSV file with the columns id and name, or those that the drill names"
    roster = roster_of(
        table, lambda *told: faults.append(Fault("--roster", "", *told)), expected, columns
    )
    if faults:
        raise FileError(faults)
    return roster


def of_section(roster: Roster, section: str) -> Roster:
    """Return those of a roster who are in a section.

    Raises:
        FileError: where it names no sections, or nobody is in this one.
    """
    sections = {one: said[SECTION] for one, said in roster.details.items() if SECTION in said}
    if not sections:
        found = "the roster does not say who is in which section"
        expected = "a roster with one column that is called section, or that the drill names so"
        raise FileError([Fault("--section", "", found, expected)])
    wanted = section.strip().casefold()
    names = {one: roster.names[one] for one in sections if sections[one].casefold() == wanted}
    if not names:
        there = sorted(set(sections.values()) - {""})
        found = f"nobody is in section {shown(section)}{near(section, there)}"
        raise FileError([Fault("--section", "", found, f"one of {', '.join(there[:20])}")])
    return Roster(names, {one: roster.details[one] for one in names})


def read_part(
    path: Path, problems: Mapping[str, Problem], roster: Path | None, section: str | None
) -> Drill:
    """Return the drill of a file for a part of the class alone; as in `part_of_class`.

    Its own roster need not be there where another is named.

    Raises:
        FileError: where the drill or the roster can't be read, or nobody is in the section.
    """
    return part_of_class(read_drill(path, problems, roster_needed=roster is None), roster, section)


def part_of_class(drill: Drill, roster: Path | None, section: str | None) -> Drill:
    """Return a drill with those alone who are on a roster, and of those who are in a section.

    Args:
        drill: the drill, with a roster of its own or without.
        roster: the file of another roster, None for its own.
        section: a section of it, None for all.

    Raises:
        FileError: where the roster can't be read, or nobody is in the section.
    """
    if roster is None and section is None:
        return drill
    whole = Roster(drill.students, drill.details)
    if roster is not None:
        whole = roster_named(roster_table(roster), drill.roster_columns)
    part = whole if section is None else of_section(whole, section)
    known = {same_student(one) for one in (*drill.students, *whole.names)}
    return replace(
        drill, students=part.names, details=part.details,
        elsewhere=frozenset(known - {same_student(one) for one in part.names}),
    )  # fmt: skip
