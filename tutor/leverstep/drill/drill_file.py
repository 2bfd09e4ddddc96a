"""Reading a drill from its file, every fault at once; problems/DRILLS.md documents the format."""

from __future__ import annotations

import os
import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import UTC, datetime
from fractions import Fraction
from itertools import islice
from pathlib import Path

from leverstep.course.constants import constant_taken
from leverstep.course.faults import Fault, FileError, Reader, failing_as_fault, told
from leverstep.course.plain_text import cut, shown
from leverstep.course.problem import Problem
from leverstep.course.problem_file import problem_of
from leverstep.course.reserved import NOT_RESERVED, is_reserved
from leverstep.course.toml import parsed, text_of
from leverstep.drill.allowance import Late
from leverstep.drill.banks import BANK, bank_in, faulty_in, is_found
from leverstep.drill.drill import (
    LARGEST_DRILL,
    MOST_WORKINGS,
    Drill,
    DrillClock,
    Feedback,
    Hints,
    Item,
    Scheme,
    TaskForm,
    Withdrawn,
)
from leverstep.drill.exceptions import MOST_MINUTES, exceptions_in
from leverstep.drill.item_rules import attempts_in, rules_in, scheme_in, tolerance_in
from leverstep.drill.line_weights import check_weights, weights_in
from leverstep.drill.mixed_items import MixedItems, drawn_problems, mixed_set
from leverstep.drill.own_key import MARK
from leverstep.drill.pins import Pins
from leverstep.drill.pins_file import pins_in
from leverstep.drill.roster import Roster, roster_of, roster_table
from leverstep.drill.roster_columns import RosterColumns, columns_of
from leverstep.drill.seal_key import PUBLIC
from leverstep.drill.start_word import LOCK
from leverstep.drill.values import moment_in, number_in, whole_in
from leverstep.statics.choices import CONVENTIONS
from leverstep.working.guidance import FIRST_OPEN, FOR_ALL, Guidance
from leverstep.working.rules import MOST_SLIPS, Conversions, Pictures, Reasons, Units

MOST_OPEN = 99
"""More lines than any working has."""

_NUMBERS = ("individual", "fixed")
_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9-]{0,59}")
_ITEM_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9-]{0,19}")


def is_drill_file(keys: Collection[str]) -> bool:
    """Return whether a file holds a drill, by the keys at its top."""
    return "item" in keys


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
    drill = drill_of(text, problems, name, path.parent, roster_needed)
    allowances = exceptions_in(path.parent, drill)
    return replace(drill, allowances=allowances) if allowances else drill


def read_without_roster(path: Path, problems: Mapping[str, Problem]) -> Drill:
    """Return the drill of a file, whatever its roster is like; `problems` as in `read_drill`.

    Raises:
        FileError: with every fault of the file and of the problems inside it.
    """
    return drill_of(text_of(path, str(path), LARGEST_DRILL), problems, str(path))


def with_earlier(drill: Drill, path: Path, problems: Mapping[str, Problem]) -> Drill:
    """Return a drill with an earlier version of its file beside it; the roster is not read again.

    Raises:
        FileError: where that can't be read, or is another drill.
    """
    name, earlier = str(path), read_without_roster(path, problems)
    if earlier.id != drill.id:
        found = f"it is the drill {shown(earlier.id)}"
        expected = f"an earlier version of {shown(drill.id)}"
        raise FileError([Fault(name, "id", found, expected)])
    return replace(drill, sat_with=(*drill.sat_with, earlier))


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


class _DrillDraft:
    """One drill being read.

    `places` is how many items there are so far, a mixed set as many as its problems; `met` is which
    item of the file each id and each place without one belongs to.
    """

    def __init__(
        self, reader: Reader, problems: Mapping[str, Problem], roster_needed: bool
    ) -> None:
        self.reader = reader
        self.roster_needed = roster_needed
        self.problems = problems
        self.inside: set[str] = set()
        self.items_read: list[Reader] = []
        self.places = 0
        self.met: dict[str, int] = {}

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
        opens, closes = moment_in(reader, "opens"), moment_in(reader, "closes")
        if opens and closes and opens >= closes:
            reader.fault("closes", f"found {closes}", "a moment after it opens")
        named, columns = reader.text("roster", ""), columns_of(reader)
        roster = self._roster(folder / named, columns) if named and folder else Roster()
        guidance = Guidance(reader.choice("guidance", FOR_ALL, Drill.guidance))
        scheme = scheme_in(reader.child("marking", needed=False))
        drill = Drill(
            id=ident,
            title=reader.text("title"),
            items=self._items(own, ident, guidance, scheme),
            text=text,
            guidance=guidance,
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
            attempts=attempts_in(reader),
            sittings=whole_in(reader, "sittings", 1, 100),
            tolerance=tolerance_in(reader),
            accepted=self._constants(),
            minutes=whole_in(reader, "minutes", 1, MOST_MINUTES),
            clock=self._clock(),
            opens=opens,
            closes=closes,
            scheme=scheme,
            students=roster.names,
            roster_columns=columns,
            details=roster.details,
            start_word=self._made(
                "start_word", LOCK, "`leverstep drill start-word` writes: never the word itself"
            ),
            own_numbers=self._made("own_numbers", MARK, "`leverstep drill numbers` writes"),
            pins=self._pins(folder),
            seal=self._made("seal", PUBLIC, "`leverstep drill seal` writes"),
            late=self._late(closes),
        )
        for item in self.items_read:
            _finish_item(item, reader.asked)
        for fault in beside_own_numbers(drill) if drill.own_numbers else ():
            reader.fault(*fault)
        reader.finish()
        return drill

    def _clock(self) -> DrillClock:
        """Return which time the minutes are; without minutes there is no other."""
        clock = DrillClock(self.reader.choice("clock", list(DrillClock), Drill.clock))
        if clock is not Drill.clock and "minutes" not in self.reader.table:
            self.reader.fault("clock", f'found "{clock}"', "minutes beside it, of which it tells")
        return clock

    def _late(self, closes: datetime | None) -> Late | None:
        """Return what is lost by working after the drill was due, None where it never is."""
        reader = self.reader.child("late", needed=False)
        if reader is None:
            return None
        due = moment_in(reader, "due")
        late = Late(
            due=due or datetime.max.replace(tzinfo=UTC),
            grace=whole_in(reader, "grace", 0, 100_000) or Late.grace,
            per_day=number_in(reader, "per_day", Late.per_day, 0, 1),
            floor=number_in(reader, "floor", Late.floor, 0, 1),
        )
        if not reader.has("due"):
            reader.fault("due", "missing", "the moment when it is due, with an offset from UTC")
        elif due and closes and due >= closes:
            reader.fault("due", f"found {due}", "a moment before it closes")
        reader.finish()
        return late

    def _made(self, key: str, form: re.Pattern[str], expected: str) -> str:
        """Return what a command has put into the file, "" where it has not; it has its `form`."""
        text = self.reader.text(key, "", f"what {expected}")
        if text and not form.fullmatch(text):
            self.reader.fault(key, f"found {shown(text)}", f"what {expected}")
            return ""
        return text

    def _pins(self, folder: Path | None) -> Pins | None:
        """Return the hashes that lie beside the file, None where no PIN is asked for."""
        if not self.reader.flag("pins", False) or folder is None:
            return None
        try:
            return pins_in(folder)
        except FileError as error:
            self.reader.faults.extend(error.faults)
            return None

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

    def _items(
        self, own: Mapping[str, Problem], drill: str, guidance: Guidance, scheme: Scheme
    ) -> tuple[Item, ...]:
        """Return the items of a drill by its id, a mixed set as the items that it is drawn to be.

        Of the problems beside the file's `own`, those they name are read.
        """
        items: list[Item] = []
        readers = self.reader.children("item", "at least one [[item]]", MOST_WORKINGS)
        for reader in readers:
            mixed, place = mixed_set(reader), self.places + 1
            ids = self._item_ids(reader, mixed)
            pair, count = None, 1
            banks: list[tuple[Problem, ...]]
            if mixed is None:
                banks = [self._bank(reader, own)]
                pair = self._named(reader, "pair", reader.text("pair", ""), own)
                count = int(number_in(reader, "count", Fraction(1), 1, MOST_WORKINGS, whole=True))
            else:
                words = "\x1f".join((drill, ids[0] or str(place)))
                banks = [(one,) for one in drawn_problems(reader, mixed, self.problems, words)]
            fixed = reader.choice("numbers", _NUMBERS, _NUMBERS[0]) == _NUMBERS[1]
            form = TaskForm(reader.choice("form", list(TaskForm), Item.form))
            open_lines = _open_lines(reader, form)
            marks = _marks(reader, open_lines)
            if (100 * marks).denominator != 1:
                reader.fault("marks", f"found {float(marks):g}", "at most two decimals")
            withdrawn = Withdrawn(reader.choice("withdrawn", list(Withdrawn), Item.withdrawn))
            slips = _slips(reader, form)
            weights = weights_in(reader, form) if marks else {}
            rules = rules_in(reader, scheme)
            self.items_read.append(reader)
            read = [
                Item(
                    bank[0], count, fixed, marks, form, withdrawn, ident, open_lines, pair,
                    slips, mixed is not None or is_found(reader), bank[1:], weights, rules,
                    faulty_in(reader, bank),
                )
                for ident, bank in zip(ids, banks, strict=False)
                if bank
            ]  # fmt: skip
            for one in read:
                check_weights(reader, one, rules.get("guidance", guidance))
            items += read
        self._check_items(items)
        return tuple(items)

    def _check_items(self, items: Sequence[Item]) -> None:
        """Note where nothing has marks, as what was withdrawn, or where there is too much."""
        if items and not any(item.worth for item in items):
            expected = "one task at least that has marks"
            is_whole = any(item.open_lines == 0 for item in items)
            found = "no task has marks" if is_whole else "every task has been withdrawn"
            self.reader.fault("item", found, expected)
        if sum(item.count for item in items) > MOST_WORKINGS:
            expected = f"at most {MOST_WORKINGS} workings in all"
            self.reader.fault("item", "too many workings", expected)

    def _item_ids(self, reader: Reader, mixed: MixedItems | None) -> tuple[str, ...]:
        """Return the ids of what becomes of an item, of a mixed set one for each of its problems.

        They are "" where it has none: such are told from the others by their place, which no other
        may be called.
        """
        ident, count = reader.text("id", ""), 1 if mixed is None else mixed.count
        keys = [ident] if mixed is None else [f"{ident}-{one}" for one in range(1, count + 1)]
        if ident and not all(map(_ITEM_ID.fullmatch, keys)):
            behind = "" if mixed is None else f' with "{keys[-1].removeprefix(ident)}" behind them'
            expected = f"up to 20 letters, digits and hyphens{behind}"
            reader.fault("id", f"found {shown(ident)}", expected)
        for place in range(count):
            key = keys[place] if ident else str(self.places + 1 + place)
            if key in self.met:
                found = f'"{key}" is that of item {self.met[key]} too'
                expected = "an id that no other item has; without one it is its place"
                reader.fault("id", found, expected)
            self.met[key] = len(self.items_read) + 1
        self.places += count
        return tuple(keys) if ident else ("",) * count

    def _bank(self, reader: Reader, own: Mapping[str, Problem]) -> tuple[Problem, ...]:
        """Return the problem of an item, or all of its bank; () where a fault was noted."""
        if reader.has(BANK):
            return bank_in(reader, lambda name: self._named(reader, BANK, name, own), self.problems)
        problem = self._named(reader, "problem", reader.text("problem"), own)
        return () if problem is None else (problem,)

    def _named(
        self, reader: Reader, key: str, name: str, own: Mapping[str, Problem]
    ) -> Problem | None:
        """Return the problem that an item names, None where it names none that is there."""
        problems = own if name in own else self.problems
        if name and name not in problems and name not in self.inside:
            found = f'found "{name}"{reader.near(name, [*self.problems, *own])}'
            reader.fault(key, found, "a problem that `leverstep problems` lists")
        return problems.get(name)

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

    def _roster(self, path: Path, columns: RosterColumns) -> Roster:
        """Return the roster; one that is not there is not used at the door."""
        if not self.roster_needed and not os.path.exists(path):
            return Roster()
        table = roster_table(path)
        return roster_of(table, lambda *told: self.reader.fault("roster", *told), columns=columns)


def beside_own_numbers(drill: Drill) -> Iterator[tuple[str, str, str]]:
    """Yield what can't stand in a drill beside numbers from files of the students' own: where, what
    was found, what is expected.
    """
    if drill.start_word:
        yield "start_word", "numbers come from files of the students' own", "no start word beside"
    if any(item.fixed for item in drill.items):
        found = 'an item has the same numbers for all, by numbers = "fixed"'
        yield "own_numbers", found, "numbers to each their own"


def _finish_item(reader: Reader, rules: Collection[str]) -> None:
    """Note what an item has and does not know; of `rules` of the drill, that they are such."""
    misplaced = [key for key in reader.table if key in rules and key not in reader.asked]
    for key in misplaced:
        expected = "it in the lines above the first [[item]], for all items"
        reader.fault(key, "it is a rule of the whole drill", expected)
    table = {key: value for key, value in reader.table.items() if key not in misplaced}
    replace(reader, table=table).finish()


def _open_lines(reader: Reader, form: TaskForm) -> int | None:
    """Return how many of the last lines are asked for where the others are shown; else None."""
    reader.choice("guidance", list(Guidance), Guidance.LINES)
    if reader.has("guidance") and form is not TaskForm.WORKING:
        reader.fault("guidance", f'found beside form = "{form}"', "one of the two")
    if reader.table.get("guidance") != Guidance.FADING:
        if reader.has("open"):
            reader.fault("open", "found alone", f'guidance = "{Guidance.FADING}" beside it')
        reader.asked.add("open")
        return None
    return int(number_in(reader, "open", Fraction(FIRST_OPEN), 0, MOST_OPEN, whole=True))


def _marks(reader: Reader, open_lines: int | None) -> Fraction:
    """Return the marks of each working of an item; none where nothing is asked for there."""
    if open_lines != 0:
        return number_in(reader, "marks", Item.marks, Fraction(1, 100), 1000)
    for key in ("marks", "weights"):
        reader.asked.add(key)
        if reader.has(key):
            reader.fault(key, "found beside open = 0", "no marks where every line is shown")
    return Fraction(0)


def _slips(reader: Reader, form: TaskForm) -> int:
    """Return how many slips are to be found, where any are."""
    if reader.has("slips") and form is not TaskForm.FIND_SLIP:
        reader.fault("slips", "found alone", f'form = "{TaskForm.FIND_SLIP}" beside it')
    return int(number_in(reader, "slips", Fraction(Item.slips), 1, MOST_SLIPS, whole=True))
