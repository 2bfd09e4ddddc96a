"""What the columns of a roster are called, where that is not `id` and `name`, and what is kept."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field

from leverstep.course.faults import Reader
from leverstep.course.plain_text import shown
from leverstep.course.toml import quoted
from leverstep.drill.spreadsheet import column_called

SECTION = "section"
"""The heading of the column that says which part of a class a student is in."""

MOST_MORE = 10
"""Columns beside ids and names that are carried through."""

_HEADING = re.compile(r"[a-z][a-z0-9_-]{0,29}")

TAKEN = frozenset(
    ("id", "name", "total", "percentage", "hints", "entries", "predictions", "began", "minutes",
     "away", "seal", "sittings", "remarks", "code")
)  # fmt: skip
"""Headings of one word that the table of marks has already."""


@dataclass(frozen=True)
class RosterColumns:
    """Which columns of a roster hold what, by their names in its file.

    `name` has one or more, which are put together; `more` has those that are carried into tables
    and reports, by the heading that they have there.
    """

    id: str = "id"
    name: tuple[str, ...] = ("name",)
    more: Mapping[str, str] = field(default_factory=dict, hash=False)

    def missing_in(self, there: Collection[str]) -> str | None:
        """Return the first that a table lacks, None where all are there; the usual name may be.

        Args:
            there: the columns of the table, as they are compared.
        """
        names = () if self.name == RosterColumns.name else self.name
        needed = (self.id, *names, *self.more.values())
        return next((one for one in needed if column_called(one) not in there), None)

    @property
    def as_rule(self) -> str:
        """Return the rule that says so in the file of a drill, on one line."""
        names = [quoted(one) for one in self.name]
        name = names[0] if len(names) == 1 else f"[{', '.join(names)}]"
        pairs = {"id": quoted(self.id), "name": name}
        pairs |= {heading: quoted(column) for heading, column in self.more.items()}
        return f"{{ {', '.join(f'{key} = {text}' for key, text in pairs.items())} }}"


_PLAIN_IDS = (
    "id", "studentid", "studentnumber", "studentno", "number", "no",
    "matriculationnumber", "matriculationno", "matriculation",
)  # fmt: skip
_PLAIN_NAMES = (
    ("name",), ("studentname",), ("fullname",), ("student",), ("firstname", "surname"),
    ("firstname", "lastname"), ("givenname", "familyname"), ("surname",), ("lastname",),
)  # fmt: skip
"""Columns that hold ids or names by the letters of what they are called, the plainest first."""


def plain_columns(there: Collection[str]) -> RosterColumns | None:
    """Return which of some columns plainly hold ids and names, None where none is one of ids."""
    shortest_last = sorted(there, key=len, reverse=True)
    by_letters = {"".join(filter(str.isalpha, one)): one for one in shortest_last}
    ident = next((by_letters[one] for one in _PLAIN_IDS if one in by_letters), None)
    if ident is None:
        return None
    whole = (parts for parts in _PLAIN_NAMES if all(one in by_letters for one in parts))
    names = (tuple(by_letters[one] for one in parts) for parts in whole)
    return RosterColumns(ident, next(names, RosterColumns.name))


def section_column(columns: RosterColumns, there: Sequence[str]) -> str | None:
    """Return which column of a roster says who is in which section, None where none does alone.

    It is the one that is called so; else the only one with that word in its name or heading.
    """
    if SECTION in columns.more:
        return columns.more[SECTION]
    if SECTION in there:
        return SECTION
    said = [column for heading, column in columns.more.items() if SECTION in heading]
    said += [column for column in there if SECTION in column]
    found = {column_called(column) for column in said}
    return found.pop() if len(found) == 1 else None


def heading_of(column: str) -> str:
    """Return a heading for a column that is carried, made of its name."""
    made = re.sub(r"[^a-z0-9]+", "-", column.casefold()).strip("-")[:28] or "column"
    return made if is_heading(made) else f"x-{made}"


def is_heading(text: str) -> bool:
    """Return whether a text can be the heading of a column that is carried."""
    return bool(_HEADING.fullmatch(text)) and text not in TAKEN


def columns_of(reader: Reader) -> RosterColumns:
    """Return what the table `roster_columns` of a drill says, the usual where there is none."""
    table = reader.child("roster_columns", needed=False)
    if table is None:
        return RosterColumns()
    ident = table.text("id", "id", "the name of the column that holds the ids")
    is_list = isinstance(table.table.get("name"), list)
    name = table.texts("name") if is_list else (table.text("name", "name"),)
    more: dict[str, str] = {}
    for heading in table.table:
        if heading in ("id", "name"):
            continue
        if not is_heading(heading):
            table.asked.add(heading)
            expected = "a heading in small letters that the table of marks does not have yet"
            table.fault(heading, f"found {shown(heading)}", expected)
        else:
            column = table.text(heading, expected="the name of a column of the roster")
            more |= {heading: column} if column else {}
    if len(more) > MOST_MORE:
        reader.fault("roster_columns", f"found {len(more)} more", f"at most {MOST_MORE} more")
    return RosterColumns(ident, tuple(filter(None, name)), more)
