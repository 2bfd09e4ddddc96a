"""Asking a teacher what a new drill is to hold, one thing after the other, in plain lines."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from pathlib import Path

from leverstep.course.faults import Fault, FileError
from leverstep.course.plain_text import near, plain, shown
from leverstep.course.shelf import Shelf
from leverstep.drill.drill import MOST_WORKINGS
from leverstep.drill.drill_writing import title_after
from leverstep.drill.exceptions import MOST_MINUTES
from leverstep.drill.mixed_items import MOST_DRAWN
from leverstep.drill.roster import (
    TITLE_ABOVE,
    RosterTable,
    begins_with_title,
    roster_beside,
    roster_of,
    roster_table,
)
from leverstep.drill.roster_columns import (
    MOST_MORE,
    RosterColumns,
    heading_of,
    is_heading,
    plain_columns,
)
from leverstep.drill.slow_hash import as_spoken
from leverstep.drill.spreadsheet import column_called
from leverstep.drill.start_word import LEAST_WORD, LONGEST_WORD
from leverstep.faces.lines.questions import Questions, place_typed, title_of
from leverstep.faces.terminal import Listen, Say
from leverstep.working.guidance import FOR_ALL, Guidance

_FAULTS_SHOWN = 5

NO_COLUMN = "none"
"""What is typed for no column, where Enter alone takes some."""


@dataclass(frozen=True)
class Wanted:
    """What a new drill is to hold; "", 0 and None stand for what is usual."""

    names: tuple[str, ...]
    title: str = ""
    guidance: Guidance | None = None
    minutes: int | None = None
    roster: str = ""
    columns: RosterColumns | None = None
    graded: bool | None = None
    mixed: int = 0


class Asker(Questions):
    """Asks for what a new drill is to hold; what can't be used is asked for again."""

    def __init__(self, path: Path, shelf: Shelf, say: Say, listen: Listen) -> None:
        """Begin.

        Args:
            path: where the drill will lie.
            shelf: the problems there are.
            say: what says a line.
            listen: what asks for one, with a prompt.
        """
        super().__init__(say, listen)
        self._path = path
        self._shelf = shelf
        self._mixed = 0

    def wanted(self, given: Wanted) -> Wanted:
        """Return what is wanted; what is `given` already is not asked for.

        Raises:
            EOFError: where the input ends before that.
        """
        say = self.say
        say("Press Enter alone to take what is in brackets.")
        title = given.title or self.until(f"Title [{title_after(self._path)}]: ", title_of)
        names = self._problems()
        led = "How far students are led: lines, landmarks or blank [lines]: "
        guidance = given.guidance or self.until(led, _guidance)
        minutes = given.minutes or self.until("Minutes [no limit]: ", _minutes)
        graded = given.graded
        if graded is None:
            say("For practice hints are free and nothing is limited. For marks a line has three")
            say("tries, hints and wrong tries cost a share of it, and the drill is sat once.")
            graded = self.one_of("What it is for", ("practice", "marks"), "practice") == "marks"
        if not given.roster:
            say("A roster is a table in CSV, of ids and names. It is best beside the drill.")
        roster, table = given.roster, None
        if roster:
            table = roster_table(roster_beside(self._path, roster))
        else:
            asked = "Name of its file [none: anyone may sit it]: "
            roster, table = self.until(asked, self._roster)
        columns = self.columns(table) if table else None
        return Wanted(names, title, guidance, minutes, roster, columns, graded, self._mixed)

    def columns(self, table: RosterTable, before: RosterColumns | None = None) -> RosterColumns:
        """Return what the columns of a roster are called; Enter alone takes what is in brackets.

        Those `before` stand there where they fit, else those that are plain. Nothing is asked where
        there are none but the usual.

        Raises:
            EOFError: where the input ends before that.
            FileError: where the table begins with a title in place of headings.
        """
        if begins_with_title(table):
            found, expected = "the first row looks like a title", "headings there: delete that row"
            raise FileError([Fault(str(table.path), "", found, expected)])
        there = tuple(filter(None, table.columns))
        if not set(there) - {RosterColumns.id, *RosterColumns.name}:
            return RosterColumns()
        usual = before if before and not before.missing_in(there) else plain_columns(there)
        ident, names, more = "", tuple[str, ...](), dict[str, str]()
        if usual is not None:
            ident, more = usual.id, dict(usual.more)
            names = tuple(one for one in usual.name if column_called(one) in there)
        self.say(f"The columns of {plain(table.path.name)} are, to be typed by number or by name:")
        for number, one in enumerate(there, 1):
            self.say(f"  {number}  {plain(one)}")
        in_brackets = f" [{plain(ident)}]" if ident else ""
        ident = self.until(
            f"Which of them has the ids{in_brackets}: ",
            lambda typed: _column(typed or ident, there),
        )
        self.say("Columns that make up a name together have commas between: given name, surname.")
        names = self.until(
            f"Which has the names [{plain(', '.join(names)) or NO_COLUMN}]: ",
            lambda typed: _columns(typed, there) if typed else names,
        )
        self.say("Others can stand in the tables of marks, with commas between, and called as you")
        self.say("like: section = lab group. The option --section goes by that one.")
        carried = ", ".join(f"{heading} = {column}" for heading, column in more.items())
        more = self.until(
            f"Which others are to stand there [{plain(carried) or NO_COLUMN}]: ",
            lambda typed: _headed(typed, there) if typed else more,
        )
        return RosterColumns(ident, names or RosterColumns.name, more)

    def _problems(self) -> tuple[str, ...]:
        """Return the problems that are named, one on each line."""
        joints = tuple(dict.fromkeys(card.joint for card in self._shelf.offered))
        self.say("Type the name of each problem, or the path of a file of your own.")
        self.say(f"Type a joint to list its problems: {', '.join(joints)}.")
        self.say(
            "Type mixed 5, or another number, for short ones of different kinds, drawn for you."
        )
        names: list[str] = []
        while (number := len(names) + self._mixed) < MOST_WORKINGS:
            typed = self.listen(f"Problem {number + 1}{' [no more]' * bool(number)}: ").strip()
            if typed.casefold() in joints:
                self._list(typed.casefold())
            elif typed.casefold().split()[:1] == ["mixed"]:
                self._mix(typed)
            elif typed and self._is_known(typed):
                names.append(typed)
            elif not typed and number:
                break
            elif not typed:
                self.say("A drill needs at least one problem.")
        return tuple(names)

    def _mix(self, typed: str) -> None:
        """Take how many short problems of different kinds are to be drawn, of one set in all."""
        number = typed.split()[-1]
        if number.isdecimal() and 1 <= int(number[:9]) <= MOST_DRAWN:
            self._mixed = int(number)
            self.say(f"  A mixed set of {self._mixed}, which come last; mixed again changes that.")
        else:
            self.say(f"Type mixed and a whole number from 1 to {MOST_DRAWN}.")

    def _list(self, joint: str) -> None:
        """Say the problems of a joint."""
        cards = [card for card in self._shelf.offered if card.joint == joint]
        width = max(len(card.id) for card in cards)
        for card in cards:
            self.say(f"  {card.id:{width}}  {card.title}")

    def _is_known(self, name: str) -> bool:
        """Say the title of a problem, or why there is none of this name."""
        try:
            self.say(f"  {self._shelf.find(name).title}")
        except FileError as error:
            self.say(str(error))
            return False
        return True

    def _roster(self, typed: str) -> tuple[str, RosterTable | None]:
        """Return a roster as it is named, with its table; no table where none is named."""
        if not typed:
            return "", None
        faults: list[str] = []
        table = roster_table(roster_beside(self._path, typed))
        if begins_with_title(table):
            raise ValueError(TITLE_ABOVE)
        if not table.columns or RosterColumns.id in table.columns:
            roster_of(table, lambda found, expected: faults.append(f"{found}; expected {expected}"))
        if faults:
            raise ValueError(" ".join(map(plain, faults[:_FAULTS_SHOWN])))
        return typed, table


def _column(typed: str, there: Sequence[str]) -> str:
    """Return the name of one of some columns, typed as it is called or by its number."""
    place, column = place_typed(typed, there), column_called(typed)
    if place is not None:
        return there[place]
    if not column:
        raise ValueError("Nothing is in brackets here: type the number or the name of a column.")
    raise ValueError(f"There is no such column{near(column, there)}.")


def _parts(typed: str, there: Collection[str]) -> list[str]:
    """Return what stands between commas, all as one where a column has the comma in its name."""
    heading, is_headed, column = typed.partition("=")
    is_one = is_headed and "," not in heading and column_called(column) in there
    return [typed] if is_one or column_called(typed) in there else typed.split(",")


def _columns(typed: str, there: Sequence[str]) -> tuple[str, ...]:
    """Return the names of some of some columns, with commas between."""
    if typed.casefold() == NO_COLUMN and NO_COLUMN not in there:
        return ()
    return tuple(_column(one, there) for one in _parts(typed, there) if one.strip())


def _headed(typed: str, there: Sequence[str]) -> dict[str, str]:
    """Return some of some columns by their headings, each `heading = column` or its name alone."""
    if typed.casefold() == NO_COLUMN and NO_COLUMN not in there:
        return {}
    headed: dict[str, str] = {}
    for one in filter(str.strip, _parts(typed, there)):
        heading, _, column = one.rpartition("=")
        column = _column(column, there)
        heading = heading.strip().casefold() or heading_of(column)
        if not is_heading(heading):
            raise ValueError(
                f"{shown(heading)} can't be a heading: it has small letters, digits and hyphens, "
                "and the tables of marks have none that is called so."
            )
        headed.setdefault(heading, column)
    if len(headed) > MOST_MORE:
        raise ValueError(f"At most {MOST_MORE} others may stand there.")
    return headed


def start_word(say: Say, listen: Listen) -> str:
    """Return the start word of a drill, typed twice alike.

    Raises:
        EOFError: where the input ends before that.
    """
    say(f"Choose two or more words that nobody would guess, at least {LEAST_WORD} letters in all.")
    say("You give them out in the room when the drill begins. Capitals and spaces do not matter.")
    while True:
        word = listen("Start word: ")
        if not LEAST_WORD <= len(as_spoken(word)) <= LONGEST_WORD:
            say(f"It must have {LEAST_WORD} to {LONGEST_WORD} letters.")
        elif as_spoken(listen("The same again: ")) == as_spoken(word):
            return word
        else:
            say("The two did not match. Please type it again.")


def _guidance(typed: str) -> Guidance:
    if typed.casefold() not in ("", *FOR_ALL):
        raise ValueError(f"There is no such guidance{near(typed.casefold(), FOR_ALL)}.")
    return Guidance(typed.casefold() or Guidance.LINES)


def _minutes(typed: str) -> int | None:
    if not typed:
        return None
    if not typed.isdecimal() or not 1 <= int(typed[:9]) <= MOST_MINUTES:
        raise ValueError(f"Type a whole number from 1 to {MOST_MINUTES}.")
    return int(typed)
