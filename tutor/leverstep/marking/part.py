"""Which records are marked where a part of a class is marked alone."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace

from leverstep.course.phrases import counted, some_named
from leverstep.course.plain_text import plain
from leverstep.drill.drill import Drill, same_student
from leverstep.marking.collecting import Found

MOST_NAMED = 20
"""So many ids without a place on the roster are named, more are counted."""


@dataclass(frozen=True, slots=True)
class OfPart:
    """The records of the part of a class that is marked, and how many are of the others.

    `strangers` are the ids that no roster has, `going_on` the students left out since a sitting of
    theirs goes on.
    """

    records: tuple[Found, ...]
    others: int = 0
    strangers: tuple[str, ...] = ()
    going_on: tuple[str, ...] = ()

    def left_out(self, with_names: bool = True) -> str:
        """Return which records are not marked, "" for none; students by their ids, or how many."""
        told = [f"{counted(self.others, 'record')} of other parts of the class"] * bool(self.others)
        for ids, what, why in (
            (self.strangers, "id", "not on the roster"),
            (self.going_on, "sitting", "begun on this computer and not handed in"),
        ):
            named = some_named([plain(one) for one in ids], MOST_NAMED)
            if ids:
                told.append(f"{why}: {named}" if with_names else f"{counted(len(ids), what)} {why}")
        return f"Not marked: {'; '.join(told)}." if told else ""


def without_going_on(part: OfPart, going_on: Collection[str]) -> OfPart:
    """Return a part without the records of some students, as `same_student` has their ids.

    Their sittings go on, so that what is made of their records would tell them the answers.
    """
    whose = {one.student for one in part.records if same_student(one.student) in going_on}
    kept = tuple(one for one in part.records if one.student not in whose)
    return replace(part, records=kept, going_on=tuple(sorted(whose)))


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
