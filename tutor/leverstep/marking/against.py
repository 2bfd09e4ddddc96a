"""Totals beside those of tables that were written before: whose have changed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from leverstep.course.phrases import counted
from leverstep.course.plain_text import plain
from leverstep.drill.drill import same_student
from leverstep.drill.spreadsheet import cell, rows_with, table_writer
from leverstep.marking.outputs import Outputs

AGAINST = "against.csv"
COLUMNS = ("id", "name", "total before", "out of before", "total now", "out of now")


@dataclass(frozen=True, slots=True)
class Total:
    """The total of a student as a table shows it, with the name; "" where there are no marks."""

    name: str = ""
    total: str = ""
    out_of: str = ""

    def __str__(self) -> str:
        return f"{self.total} of {self.out_of}" if self.total else "no marks"


def totals_of(path: Path) -> Mapping[str, Total]:
    """Return the totals by id of a table of marks, also as a spreadsheet saved it again.

    Raises:
        FileError: where there is none that can be read.
    """
    rows = rows_with(("id", "name", "total", "out of"), path, "a table of marks")
    return {
        row["id"]: Total(row["name"], _number(row["total"]), _number(row["out of"]))
        for row in rows
        if row["id"]
    }


def _number(text: str) -> str:
    """Return a number as tables show it, where a spreadsheet may have a comma for its point."""
    number = text.strip().replace(",", ".")
    return number.rstrip("0").rstrip(".") if "." in number else number


def write_changes(old: Mapping[str, Total], new: Mapping[str, Total], out: Outputs) -> list[str]:
    """Write to `against.csv` whose total has changed, or what it is out of; return a line for each.

    Raises:
        OSError: where it can't be written.
    """
    were, are = ({same_student(one): totals[one] for one in totals} for totals in (old, new))
    shown = {same_student(one): one for one in (*new, *old)}
    both = [(shown[one], were.get(one, Total()), are.get(one, Total())) for one in shown]
    changed = [(student, was, now) for student, was, now in both if str(was) != str(now)]
    with out.open(AGAINST) as file:
        table = table_writer(file)
        table.writerow(COLUMNS)
        for student, was, now in changed:
            row = (student, now.name or was.name, was.total, was.out_of, now.total, now.out_of)
            table.writerow(map(cell, row))
    told = []
    for student, was, now in changed:
        whose = ", ".join(part for part in (student, now.name or was.name) if part)
        told.append(plain(f"{whose}: {was} before, {now} now"))
    others = sum(was.total == now.total for _, was, now in changed)
    count = len(changed) - others
    have = "totals have" if count > 1 else "total has"
    most = f"; for {counted(others, 'student')} the most that can be had has changed"
    return [*told, f"{count or 'No'} {have} changed{most * bool(others)}: {out.folder / AGAINST}"]
