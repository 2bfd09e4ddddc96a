"""Asking a teacher which classes of an export are to be on a roster, and what the ids are."""

from __future__ import annotations

from collections.abc import Sequence

from leverstep.course.phrases import counted, some_named
from leverstep.course.plain_text import near, plain
from leverstep.drill.one_roster_export import Export, ExportedClass, students_twice
from leverstep.drill.spreadsheet import column_called
from leverstep.faces.lines.questions import Questions, place_typed

_ALL = "all"
_MOST_NAMED = 5


class ExportAsker(Questions):
    """Asks what of an export goes into a roster; what can't be used is asked for again."""

    def classes(self, export: Export) -> tuple[ExportedClass, ...]:
        """Return the classes that are to be on the roster; nothing is asked where there is one.

        Raises:
            EOFError: where the input ends before that.
        """
        there = tuple(export.classes.values())
        if len(there) == 1:
            return there
        self.say("Its classes are, to be typed by number or by name, with commas between:")
        for place, one in enumerate(there, 1):
            count = sum(one.sourced_id in student.classes for student in export.students)
            called = " ".join(dict.fromkeys(filter(None, (one.code, one.title))))
            self.say(f"  {place}  {plain(called)}: {counted(count, 'student')}")

        def chosen(typed: str) -> tuple[ExportedClass, ...]:
            found = _chosen(typed, there)
            if twice := students_twice(export, found):
                named = some_named([plain(one) for one in twice], _MOST_NAMED)
                raise ValueError(f"In several of them: {named}. Choose each student once.")
            return found

        return self.until(f"Which are to be on the roster [{_ALL}]: ", chosen)

    def id_column(self, export: Export) -> str:
        """Return the column that has the ids by which students sit; one tells all of them apart.

        Raises:
            EOFError: where the input ends before that.
        """
        there = export.id_columns
        if len(there) == 1:
            return there[0]
        self.say("Students sit a drill by an id. These columns tell all of them apart:")
        for place, name in enumerate(there, 1):
            self.say(f"  {place}  {name}, such as {plain(export.students[0].ids[name])}")
        called = [column_called(one) for one in there]
        return self.until(
            f"Which has the ids [{there[0]}]: ",
            lambda typed: there[_place(typed, called)] if typed else there[0],
        )


def _chosen(typed: str, there: Sequence[ExportedClass]) -> tuple[ExportedClass, ...]:
    """Return the classes that are typed by number, code or title; all where nothing is."""
    if typed.casefold() in ("", _ALL):
        return tuple(there)
    codes = [column_called(one.code) for one in there]
    titles = [column_called(one.title) for one in there]
    found = []
    for part in filter(str.strip, typed.split(",")):
        place = codes.index(column_called(part)) if column_called(part) in codes else None
        found.append(there[_place(part, titles) if place is None else place])
    return tuple(dict.fromkeys(found))


def _place(typed: str, there: Sequence[str]) -> int:
    """Return the place of one of some names, typed as it is called or by its number."""
    place = place_typed(typed, there)
    if place is None:
        raise ValueError(f"There is none such{near(column_called(typed), there)}.")
    return place
