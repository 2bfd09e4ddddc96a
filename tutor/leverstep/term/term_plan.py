"""The plan of a term: its drills, where their records lie, and how their marks are weighed.

It stands in the file of a course's plan, beside the weeks of that; problems/DRILLS.md documents it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path

from leverstep.course.faults import Fault, FileError, Reader, failing_as_fault, told
from leverstep.course.plain_text import shown
from leverstep.course.problem import Problem
from leverstep.course.toml import parsed, text_of
from leverstep.drill.drill import Drill
from leverstep.drill.drill_file import is_drill_file, read_drill, with_earlier
from leverstep.drill.part_of_class import part_of_class
from leverstep.drill.values import number_in, whole_in

MOST_DRILLS = 60
"""No term has more."""

LONGEST_NAME = 40
"""Characters of what a drill is called in tables."""

HEAVIEST = 1000

RECORDS = "records"
"""Where the records of a drill lie beside the plan, unless it says otherwise."""

TITLE = "The course"


@dataclass(frozen=True)
class TermDrill:
    """A drill of a term: what it is called there, and where its records lie.

    `weight` is what its per cent count beside those of the others, 0 for not at all. One that is
    `required` is never left out. `codes` is where the codes lie that were noted, None for nowhere.
    """

    name: str
    drill: Drill
    records: Path
    weight: Fraction = Fraction(1)
    required: bool = False
    codes: Path | None = None

    @property
    def may_be_left_out(self) -> bool:
        """Return whether it may be among the lowest that do not count."""
        return bool(self.weight) and not self.required


@dataclass(frozen=True)
class TermPlan:
    """A term: its drills in their order, and how many of each student's lowest do not count."""

    title: str
    drills: tuple[TermDrill, ...]
    lowest_left_out: int = 0

    @property
    def lowest_told(self) -> str:
        """Return that the lowest do not count; "" where all do."""
        if not (lowest := self.lowest_left_out):
            return ""
        one = "the lowest drill does not count"
        return one if lowest == 1 else f"the lowest {lowest} drills do not count"

    def for_part(self, roster: Path | None, section: str | None) -> TermPlan:
        """Return the term for a part of the class alone; as in `part_of_class`.

        Raises:
            FileError: where the roster can't be read, or nobody is in the section.
        """
        parts = (part_of_class(one.drill, roster, section) for one in self.drills)
        both = zip(self.drills, parts, strict=True)
        return replace(self, drills=tuple(replace(one, drill=part) for one, part in both))


def read_term(
    path: Path, problems: Mapping[str, Problem], called: str = "", roster_needed: bool = True
) -> TermPlan:
    """Return the term of a plan, with every drill that it names.

    Args:
        path: the file; what it names is looked for from its folder.
        problems: those that drills may name beside their own, by id.
        called: what it is called in its faults, its bare name unless given.
        roster_needed: as in `read_drill`.

    Raises:
        FileError: with every fault of the plan and of its drills.
    """
    name = called or path.name or str(path)
    reader = Reader(name, parsed(text_of(path, name), name))
    if is_drill_file(reader.table) and not is_term(reader.table):
        raise FileError(
            [Fault(name, "", "it is a drill", "a plan that names drills, as [[drill]]")]
        )
    reader.asked.add("week")
    with failing_as_fault(name):
        term = _TermDraft(reader, path.parent, problems, roster_needed).term()
        reader.finish()
    if reader.faults:
        raise FileError(told(reader.faults))
    return term


class _TermDraft:
    """One term being read."""

    def __init__(
        self, reader: Reader, folder: Path, problems: Mapping[str, Problem], roster_needed: bool
    ) -> None:
        self.reader = reader
        self.folder = folder
        self.problems = problems
        self.roster_needed = roster_needed
        self.drills: dict[str, str] = {}
        self.names: set[str] = set()

    def term(self) -> TermPlan:
        reader = self.reader
        expected = 'one or more tables [[drill]], each with "file"'
        title = reader.text("title", TITLE)
        readers = reader.children("drill", expected, MOST_DRILLS)
        drills = tuple(one for each in readers for one in self._drill(each))
        lowest = whole_in(reader, "lowest_left_out", 0, MOST_DRILLS) or 0
        counting = sum(bool(one.weight) for one in drills)
        most = min(sum(one.may_be_left_out for one in drills), max(counting - 1, 0))
        if lowest > most and not reader.faults:
            expected = f"at most {most}: one drill has to count, and required ones are not left out"
            reader.fault("lowest_left_out", f"found {lowest}", expected)
        return TermPlan(title, drills, lowest)

    def _drill(self, reader: Reader) -> Iterator[TermDrill]:
        """Yield the drill of a table, where its file can be read."""
        file = reader.text("file", expected="the file of a drill, from the folder of this plan")
        records = reader.text("records", RECORDS, "a folder of records")
        codes = reader.text("codes", "", "a CSV file with the columns id and code")
        earlier = reader.texts("sat_with")
        weight = number_in(reader, "weight", TermDrill.weight, 0, HEAVIEST)
        required = reader.flag("required", TermDrill.required)
        named = reader.text("name", "", f"a text of at most {LONGEST_NAME} characters")
        reader.finish()
        drill = self._read(reader, file, earlier) if file else None
        if drill is None:
            return
        name = named or drill.id
        if len(name) > LONGEST_NAME:
            found = f"found {len(name)} characters{'' if named else ', the id of the drill'}"
            reader.fault("name", found, f"a name of at most {LONGEST_NAME}")
        elif name.casefold() in self.names:
            reader.fault("name", f"{shown(name)} is taken", "a name of its own")
        self.names.add(name.casefold())
        noted = self.folder / codes if codes else None
        yield TermDrill(name, drill, self.folder / records, weight, required, noted)

    def _read(self, reader: Reader, file: str, earlier: Iterable[str]) -> Drill | None:
        """Return a drill with earlier versions of its file, which other records were begun with.

        Where one can't be used, all its faults are noted, and there is none.
        """
        try:
            place = self.folder / file
            drill = read_drill(place, self.problems, file, roster_needed=self.roster_needed)
            for one in earlier:
                drill = with_earlier(drill, self.folder / one, self.problems)
        except FileError as error:
            reader.faults.extend(error.faults)
            return None
        if drill.id in self.drills:
            found = f"it is the drill {shown(drill.id)}, as {shown(self.drills[drill.id])} is"
            reader.fault("file", found, "each drill once, with an id of its own")
            return None
        self.drills[drill.id] = file
        return drill


def is_term(keys: Collection[str]) -> bool:
    """Return whether a file names the drills of a term, by the keys at its top."""
    return "drill" in keys
