"""Reading a drill from its file, every fault at once; problems/DRILLS.md documents the format."""

from __future__ import annotations

import os
import re
from collections.abc import Mapping
from datetime import date, datetime, time
from fractions import Fraction
from itertools import islice
from pathlib import Path

from leverstep.course.constants import constant_taken
from leverstep.course.faults import FileError, Reader, failing_as_fault, is_number, told
from leverstep.course.phrases import YEARS
from leverstep.course.plain_text import cut, shown
from leverstep.course.problem import Problem
from leverstep.course.problem_file import problem_of
from leverstep.course.reserved import NOT_RESERVED, is_reserved
from leverstep.course.toml import parsed, text_of, top_keys
from leverstep.drill.drill import (
    LARGEST_DRILL,
    Counts,
    Drill,
    DrillClock,
    Feedback,
    Hints,
    Item,
    Scheme,
    TaskForm,
    Withdrawn,
)
from leverstep.drill.roster import read_roster
from leverstep.drill.start_word import SEAL
from leverstep.statics.choices import CONVENTIONS
from leverstep.working.guidance import FIRST_OPEN, FOR_ALL, Guidance
from leverstep.working.rules import Conversions, Pictures, Reasons, Rung, Units

MOST_WORKINGS = 50
MOST_MINUTES = 1000

_NUMBERS = ("individual", "fixed")
_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9-]{0,59}")


def is_drill_file(path: Path) -> bool:
    """Return whether a file holds a drill; one that can't be read does not."""
    return "item" in top_keys(path, LARGEST_DRILL)


def read_drill(
    path: Path, problems: Mapping[str, Problem], called: str = "", roster_needed: bool = True
) -> Drill:
    """Return the drill of a file, with its roster where it names one.

    Args:
        path: the file; a roster lies beside it.
        problems: those that it may name beside its own, by id.
        called: what it is called in its faults, its bare name unless given.
        roster_needed: whether it is a fault that the roster is not there; where a drill is sat, it
            need not be, so that the names of a class stay with the teacher.

    Raises:
        FileError: with every fault of the file and of the problems inside it.
    """
    name = called or path.name or str(path)
    text = text_of(path, name, LARGEST_DRILL)
    return drill_of(text, problems, name, path.parent, roster_needed)


def drill_of(
    text: str,
    problems: Mapping[str, Problem],
    called: str,
    folder: Path | None = None,
    roster_needed: bool = True,
) -> Drill:
    """Return the drill of a text; its roster is read only where its `folder` is known.

    Raises:
        FileError: with every fault, `called` so.
    """
    reader = Reader(called, parsed(text, called))
    with failing_as_fault(called):
        drill = _DrillDraft(reader, problems, roster_needed).drill(text, folder)
    if reader.faults:
        raise FileError(told(reader.faults))
    return drill


MOST_OPEN = 99
"""More lines than any working has."""


class _DrillDraft:
    """One drill being read."""

    def __init__(
        self, reader: Reader, problems: Mapping[str, Problem], roster_needed: bool
    ) -> None:
        self.reader = reader
        self.roster_needed = roster_needed
        self.problems = problems
        self.inside: set[str] = set()

    def drill(self, text: str, folder: Path | None) -> Drill:
        reader = self.reader
        ident = reader.text("id")
        if ident and not _ID.fullmatch(ident):
            expected = "up to 60 letters, digits and hyphens"
            reader.fault("id", f"found {shown(ident)}", expected)
        elif is_reserved(ident):
            reader.fault("id", f"found {shown(ident)}", NOT_RESERVED)
        own = self._own_problems()
        hints = Hints(reader.choice("hints", list(Hints), Drill.hints))
        opens, closes = self._moment("opens"), self._moment("closes")
        if opens and closes and opens >= closes:
            reader.fault("closes", f"found {closes}", "a moment after it opens")
        roster = reader.text("roster", "")
        drill = Drill(
            id=ident,
            title=reader.text("title"),
            items=self._items(own),
            text=text,
            guidance=Guidance(reader.choice("guidance", FOR_ALL, Drill.guidance)),
            feedback=Feedback(reader.choice("feedback", list(Feedback), Drill.feedback)),
            hints=hints,
            reasons=Reasons(reader.choice("reasons", list(Reasons), Drill.reasons)),
            conversions=Conversions(
                reader.choice("conversions", list(Conversions), Drill.conversions)
            ),
            units=Units(reader.choice("units", list(Units), Drill.units)),
            calculator=reader.flag("calculator", Drill.calculator),
            picture=Pictures(reader.choice("picture", list(Pictures), Drill.picture)),
            predict=reader.flag("predict", Drill.predict),
            sense=reader.flag("sense", Drill.sense),
            sure=reader.flag("sure", Drill.sure),
            attempts=self._whole("attempts", 1, 100),
            sittings=self._whole("sittings", 1, 100),
            tolerance=self._tolerance(),
            accepted=self._constants(),
            minutes=self._whole("minutes", 1, MOST_MINUTES),
            clock=self._clock(),
            opens=opens,
            closes=closes,
            scheme=self._scheme(),
            students=self._roster(folder / roster) if roster and folder else {},
            start_word=self._start_word(),
        )
        reader.finish()
        return drill

    def _clock(self) -> DrillClock:
        """Return which time the minutes are; without minutes there is no other."""
        clock = DrillClock(self.reader.choice("clock", list(DrillClock), Drill.clock))
        if clock is not Drill.clock and "minutes" not in self.reader.table:
            self.reader.fault("clock", f'found "{clock}"', "minutes beside it, of which it tells")
        return clock

    def _start_word(self) -> str:
        """Return the seal of the start word, "" where there is none."""
        seal = self.reader.text("start_word", "")
        if seal and not SEAL.fullmatch(seal):
            expected = "what `leverstep drill start-word` writes: never the word itself"
            self.reader.fault("start_word", f"found {shown(seal)}", expected)
        return seal

    def _own_problems(self) -> dict[str, Problem]:
        """Return the problems that lie inside the file, by id."""
        table = self.reader.child("problems", needed=False)
        if table is None:
            return {}
        found = {}
        if len(table.table) > MOST_WORKINGS:
            self.reader.fault("problems", f"found {len(table.table)}", f"at most {MOST_WORKINGS}")
        for ident, text in islice(table.table.items(), MOST_WORKINGS):
            self.inside.add(ident)
            if not isinstance(text, str):
                table.fault(ident, f"found {shown(text)}", "the text of a problem file")
                continue
            try:
                found[ident] = problem_of(
                    text, Path(f"{ident}.toml"), f"{table.file}: {cut(ident)}"
                )
            except FileError as error:
                self.reader.faults.extend(error.faults)
        return found

    def _items(self, own: Mapping[str, Problem]) -> tuple[Item, ...]:
        """Return the items; of the problems beside the file's `own`, those they name are read."""
        items = []
        for reader in self.reader.children("item", "at least one [[item]]", MOST_WORKINGS):
            name = reader.text("problem")
            problems = own if name in own else self.problems
            if name and name not in problems and name not in self.inside:
                found = f'found "{name}"{reader.near(name, [*self.problems, *own])}'
                reader.fault("problem", found, "a problem that `leverstep problems` lists")
            count = int(_number(reader, "count", Fraction(1), 1, MOST_WORKINGS, whole=True))
            fixed = reader.choice("numbers", _NUMBERS, _NUMBERS[0]) == _NUMBERS[1]
            marks = _number(reader, "marks", Item.marks, Fraction(1, 100), 1000)
            if (100 * marks).denominator != 1:
                reader.fault("marks", f"found {float(marks):g}", "at most two decimals")
            form = TaskForm(reader.choice("form", list(TaskForm), Item.form))
            withdrawn = Withdrawn(reader.choice("withdrawn", list(Withdrawn), Item.withdrawn))
            open_lines = _open_lines(reader, form)
            reader.finish()
            if name in problems:
                one = problems[name]
                items.append(Item(one, count, fixed, marks, form, withdrawn, open_lines))
        if items and not any(item.worth for item in items):
            expected = "one task at least that has marks"
            self.reader.fault("item", "every task has been withdrawn", expected)
        if sum(item.count for item in items) > MOST_WORKINGS:
            expected = f"at most {MOST_WORKINGS} workings in all"
            self.reader.fault("item", "too many workings", expected)
        return tuple(items)

    def _scheme(self) -> Scheme:
        reader = self.reader.child("marking", needed=False)
        if reader is None:
            return Scheme()
        scheme = Scheme(
            wrong_try=_number(reader, "wrong_try", Scheme.wrong_try, 0, 1),
            hint=_hint_costs(reader),
            follow_through=_number(reader, "follow_through", Scheme.follow_through, 0, 1),
            counts=Counts(reader.choice("counts", list(Counts), Scheme.counts)),
        )
        reader.finish()
        return scheme

    def _constants(self) -> dict[str, tuple[float, ...]]:
        """Return the accepted values of the constants that the drill names."""
        reader = self.reader.child("constants", needed=False)
        if reader is None:
            return {}
        accepted = {}
        for name in reader.table:
            reader.asked.add(name)
            if name not in CONVENTIONS:
                expected = "one of " + ", ".join(CONVENTIONS)
                reader.fault(name, f"unknown constant{reader.near(name, CONVENTIONS)}", expected)
                continue
            if taken := constant_taken(reader, name, name):
                accepted[name] = taken
        return accepted

    def _tolerance(self) -> Fraction | None:
        self.reader.asked.add("tolerance")
        if not self.reader.has("tolerance"):
            return None
        return _number(self.reader, "tolerance", Fraction(1, 100), Fraction(1, 10_000), 0.1)

    def _whole(self, key: str, least: int, most: int) -> int | None:
        self.reader.asked.add(key)
        if not self.reader.has(key):
            return None
        return int(_number(self.reader, key, Fraction(least), least, most, whole=True))

    def _moment(self, key: str) -> datetime | None:
        """Return a moment with its offset from UTC."""
        self.reader.asked.add(key)
        value = self.reader.table.get(key)
        if value is None:
            return None
        if isinstance(value, datetime) and value.tzinfo is not None and value.year in YEARS:
            return value
        self.reader.fault(key, *_no_moment(value))
        return None

    def _roster(self, path: Path) -> dict[str, str]:
        """Return the names of a roster by id; one that is not there is not used at the door."""
        if not self.roster_needed and not os.path.exists(path):
            return {}
        return read_roster(path, lambda *told: self.reader.fault("roster", *told))


def _open_lines(reader: Reader, form: TaskForm) -> int | None:
    """Return how many of the last lines are asked for where the others are shown; else None."""
    if not reader.has("guidance"):
        if reader.has("open"):
            reader.fault("open", "found alone", f'guidance = "{Guidance.FADING}" beside it')
        reader.asked |= {"guidance", "open"}
        return None
    reader.choice("guidance", (Guidance.FADING,))
    if form is not TaskForm.WORKING:
        reader.fault("guidance", f'found beside form = "{form}"', "one of the two")
    return int(_number(reader, "open", Fraction(FIRST_OPEN), 1, MOST_OPEN, whole=True))


def _no_moment(value: object) -> tuple[str, str]:
    """Return what was found in place of a moment with its offset, and what was expected."""
    if isinstance(value, datetime) and value.year not in YEARS:
        return f"found {value.isoformat()}", f"a year from {YEARS[0]} to {YEARS[-1]}"
    if isinstance(value, datetime):
        example = f"{value.isoformat(timespec='seconds')}+01:00"
        return f"found {value:%Y-%m-%d %H:%M}, without an offset", f"for example {example}"
    found = shown(value)
    if isinstance(value, date):
        found = f"{value}, a day without a time"
    elif isinstance(value, time):
        found = f"{value}, a time without a day"
    return f"found {found}", "for example 2027-03-01T09:00:00+01:00"


def _hint_costs(reader: Reader) -> tuple[Fraction, ...]:
    """Return what each hint of a line costs: one share for all, or a list with one for each."""
    costs = reader.table.get("hint")
    if not isinstance(costs, list):
        return (_number(reader, "hint", Scheme.hint[0], 0, 1),) * len(Rung)
    reader.asked.add("hint")
    shares = tuple(Fraction(cost) for cost in costs if is_number(cost) and 0 <= cost <= 1)
    if len(shares) == len(costs) == len(Rung):
        return shares
    found = ", ".join(shown(one) for one in costs[:9])
    reader.fault("hint", f"found [{found}]", f"a share from 0 to 1, or {len(Rung)} of them")
    return Scheme.hint


def _number(
    reader: Reader,
    key: str,
    default: Fraction,
    least: Fraction | float,
    most: Fraction | float,
    whole: bool = False,
) -> Fraction:
    """Return a number within limits, a whole one where it must be."""
    value = reader.number(key, default)
    if not least <= value <= most or (whole and value.denominator != 1):
        kind = "a whole number" if whole else "a number"
        reader.fault(
            key, f"found {float(value):g}", f"{kind} from {float(least):g} to {float(most):g}"
        )
        return default
    return value
