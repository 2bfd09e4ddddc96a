"""What the columns of a roster are called, where that is not `id` and `name`, and what is kept."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from leverstep.course.faults import Reader
from leverstep.course.plain_text import shown
from leverstep.course.toml import quoted

SECTION = "section"
"""The heading of the column that says which part of a class a student is in."""

MOST_MORE = 10
"""Columns beside ids and names that are carried through."""

_HEADING = re.compile(r"[a-z][a-z0-9_-]{0,29}")

TAKEN = frozenset(
    ("id", "name", "total", "percentage", "hints", "entries", "predictions", "began", "minutes",
     "away", "sittings", "remarks", "code")
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

    @property
    def as_rule(self) -> str:
        """Return the rule that says so in the file of a drill, on one line."""
        names = [quoted(one) for one in self.name]
        name = names[0] if len(names) == 1 else f"[{', '.join(names)}]"
        pairs = {"id": quoted(self.id), "name": name}
        pairs |= {heading: quoted(column) for heading, column in self.more.items()}
        return f"{{ {', '.join(f'{key} = {text}' for key, text in pairs.items())} }}"


def named_columns(ident: str, names: Sequence[str], more: Iterable[str]) -> RosterColumns:
    """Return the columns of those names; the others have headings that are made of theirs."""
    headings: dict[str, str] = {}
    for column in more:
        made = re.sub(r"[^a-z0-9]+", "-", column.casefold()).strip("-")[:28] or "column"
        heading = made if _HEADING.fullmatch(made) and made not in TAKEN else f"x-{made}"
        headings.setdefault(heading, column)
    return RosterColumns(ident, tuple(names) or RosterColumns.name, headings)


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
        if not _HEADING.fullmatch(heading) or heading in TAKEN:
            table.asked.add(heading)
            expected = "a heading in small letters that the table of marks does not have yet"
            table.fault(heading, f"found {shown(heading)}", expected)
        else:
            column = table.text(heading, expected="the name of a column of the roster")
            more |= {heading: column} if column else {}
    if len(more) > MOST_MORE:
        reader.fault("roster_columns", f"found {len(more)} more", f"at most {MOST_MORE} more")
    return RosterColumns(ident, tuple(filter(None, name)), more)
