"""Which records are marked where a part of a class is marked alone."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from leverstep.course.phrases import counted, some_named
from leverstep.course.plain_text import plain
from leverstep.drill.drill import Drill, same_student
from leverstep.marking.collecting import Found

MOST_NAMED = 20
"""So many ids without a place on the roster are named, more are counted."""


@dataclass(frozen=True, slots=True)
class OfPart:
    """The records of the part of a class that is marked, and how many are of the others.

    `strangers` are the ids that no roster has.
    """

    records: tuple[Found, ...]
    others: int = 0
    strangers: tuple[str, ...] = ()

    def left_out(self, with_names: bool = True) -> str:
        """Return which records are not marked, "" for none; strangers by their ids, or how many."""
        told = [f"{counted(self.others, 'record')} of other parts of the class"] * bool(self.others)
        if self.strangers and not with_names:
            told.append(f"{counted(len(self.strangers), 'id')} not on the roster")
        elif self.strangers:
            named = some_named([plain(one) for one in self.strangers], MOST_NAMED)
            told.append(f"not on the roster: {named}")
        return f"Not marked: {'; '.join(told)}." if told else ""


def of_part(drill: Drill, records: Iterable[Found]) -> OfPart:
    """Return the records that are to be marked: all of them, unless it is a part of the class.

    One that can't be read is marked always, since nobody knows whose it is.
    """
    found = tuple(records)
    if drill.elsewhere is None:
        return OfPart(found)
    kept, others, strangers = [], 0, dict[str, str]()
    for one in found:
        if not one.student or one.drill != drill.id or drill.is_open_to(one.student):
            kept.append(one)
        elif same_student(one.student) in drill.elsewhere:
            others += 1
        else:
            strangers.setdefault(same_student(one.student), one.student)
    return OfPart(tuple(kept), others, tuple(strangers.values()))
