"""The file of PINs beside the drills of a folder: read, made, and what is handed out of it."""

from __future__ import annotations

import os
import secrets
import stat
import time
from collections.abc import Collection, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from leverstep.course.faults import Fault, FileError, Reader, told
from leverstep.course.plain_text import plain, shown
from leverstep.course.sharing import put_whole
from leverstep.course.toml import parsed, quoted, text_of
from leverstep.drill.codes import LETTERS
from leverstep.drill.drill import LARGEST_DRILL, Drill, is_student, same_student, student_id
from leverstep.drill.pins import LEAST_PIN, LONGEST_PIN, Pins, as_compared
from leverstep.drill.slow_hash import SlowHash, hash_in, hash_of
from leverstep.drill.spreadsheet import column_called, rows_with

PINS = "pins.toml"
"""What the file is called."""

MOST_PINS = 5000

USUAL_DIGITS, MOST_DIGITS = 6, 12
"""Digits of a PIN that is made."""

_EXPECTED = "what `leverstep drill pins` writes"
_HEAD = """\
# Written by `leverstep drill pins`, to lie beside the drill wherever it is sat. It has no PIN,
# but a slow hash of each: whoever has this file can try one PIN after the other.
"""
_WORD_PARTS, _WORD_PART = 3, 4
"""A word for the teacher has so many parts of so many letters: nobody tries all of them."""


def pins_in(folder: Path) -> Pins:
    """Return the hashes that lie in a folder; none where there is no such file.

    Raises:
        FileError: with every fault of the file.
    """
    if not os.path.lexists(folder / PINS):
        return Pins()
    return pins_of(text_of(folder / PINS, PINS, LARGEST_DRILL))


def pins_of(text: str) -> Pins:
    """Return the hashes of a text.

    Raises:
        FileError: with every fault of it.
    """
    reader = Reader(PINS, parsed(text, PINS))
    teacher = _hash(reader, "teacher")
    table = reader.child("students")
    students: dict[str, SlowHash] = {}
    if table is not None and len(table.table) > MOST_PINS:
        reader.fault("students", f"found {len(table.table)}", f"at most {MOST_PINS}")
    elif table is not None:
        for whose in table.table:
            own, key = _hash(table, whose), same_student(whose)
            if not is_student(whose):
                table.fault("", f"found {shown(whose)}", "a student's id")
            elif key in students:
                table.fault("", f"{shown(whose)} is there twice", "each student once")
            elif own is not None:
                students[key] = own
    reader.finish()
    if reader.faults or teacher is None:
        raise FileError(told(reader.faults))
    return Pins(teacher, students)


def _hash(reader: Reader, key: str) -> SlowHash | None:
    """Return a hash, None with a fault noted where none stands there."""
    text = reader.text(key, expected=_EXPECTED)
    found = hash_in(text)
    if text and found is None:
        reader.fault(key, f"found {shown(text)}", f"{_EXPECTED}: never the PIN itself")
    return found


@dataclass(frozen=True)
class PinsMade:
    """What is new in a file of PINs: the PIN of each student by id, and the teacher's word.

    `word` is "" where the one from before stays; `seconds` is what a try took here.
    """

    pins: Pins
    new: Mapping[str, str]
    word: str
    seconds: float


def with_pins(
    before: Pins, chosen: Mapping[str, str], made_for: Collection[str], digits: int
) -> PinsMade:
    """Return PINs with some that were chosen, and some made for those who have none yet.

    Args:
        before: those that there are.
        chosen: PINs by the student's id; they take the place of others.
        made_for: the ids of those who are to have one.
        digits: how many digits one has that is made.
    """
    known = dict(before.students)
    missing = [one for one in made_for if same_student(one) not in known]
    new = {one: _made_pin(digits) for one in missing} | dict(chosen)
    word = "" if before.teacher else "-".join(_made_part() for _ in range(_WORD_PARTS))
    begun, count = time.process_time(), len(new) + bool(word)
    teacher = before.teacher or hash_of(as_compared(word))
    known |= {same_student(one): hash_of(as_compared(pin)) for one, pin in new.items()}
    each = (time.process_time() - begun) / max(1, count)
    return PinsMade(Pins(teacher, known), new, word, each)


def _made_pin(digits: int) -> str:
    return f"{secrets.randbelow(10**digits):0{digits}}"


def _made_part() -> str:
    return "".join(secrets.choice(LETTERS) for _ in range(_WORD_PART))


def pins_chosen(path: Path, drill: Drill) -> dict[str, str]:
    """Return the PINs of a table by id; a row without one is left out.

    The column of ids is that of the drill's roster, or `id`; the other is `pin`.

    Raises:
        FileError: with every fault, where it has no such columns, or what is no PIN.
    """
    ident = column_called(drill.roster_columns.id)
    expected = f"a CSV file with the columns {ident} and pin"
    faults: list[Fault] = []
    chosen: dict[str, str] = {}
    for number, row in enumerate(rows_with((ident, "pin"), path, expected), 2):
        whose, pin = student_id(row[ident]), row["pin"].strip()
        place = f"line {number}"
        if not pin:
            continue
        if not is_student(whose):
            faults.append(Fault(str(path), place, f"found {shown(whose)}", "a student's id"))
        elif not LEAST_PIN <= len(as_compared(pin)) <= LONGEST_PIN:
            wanted = f"a PIN of {LEAST_PIN} to {LONGEST_PIN} letters and digits"
            faults.append(Fault(str(path), place, "what is no PIN", wanted))
        elif not drill.is_open_to(whose):
            faults.append(Fault(str(path), place, shown(whose), "a student on the roster"))
        else:
            chosen[drill.listed(whose)] = pin
    if faults:
        raise FileError(told(faults))
    return chosen


def without_pin(drill: Drill) -> tuple[str, ...]:
    """Return the students on the roster who have no PIN, where the drill asks for one."""
    pins = drill.pins
    if pins is None:
        return ()
    return tuple(one for one in drill.students if not pins.mark(same_student(one)))


def write_pins(drill: Path, pins: Pins) -> None:
    """Write the file of PINs beside a drill, in place of the one before, with the drill's rights.

    Raises:
        OSError: where it can't be written; what was there is then as it was.
    """
    lines = [f"{_HEAD}teacher = {quoted(str(pins.teacher))}", "", "[students]"]
    lines += [f"{quoted(whose)} = {quoted(str(own))}" for whose, own in pins.students.items()]
    place = drill.with_name(PINS)
    put_whole(place, "\n".join([*lines, ""]).encode())
    with suppress(OSError):
        place.chmod(stat.S_IMODE(drill.stat().st_mode))


_A_YEAR = 365 * 24
"""In hours."""


def guessing_told(made: PinsMade) -> str:
    """Return how long it takes this computer to try all PINs as short as the shortest new one."""
    shortest = min(map(as_compared, made.new.values()), key=len)
    signs, called = (10, "digits") if shortest.isdecimal() else (36, "letters and digits")
    hours = signs ** len(shortest) * made.seconds / 3600
    took = f"{1000 * made.seconds:.0f} ms"
    long = f"{hours:.1f} hours" if hours < _A_YEAR else "more than a year"
    return (
        f"A try takes this computer {took}: with {PINS} it can try all PINs of {len(shortest)} "
        f"{called} in {long}, and several computers in less."
    )


_RULER = "- " * 36


def cards(drill: Drill, made: PinsMade) -> str:
    """Return a text to print: a card for each new PIN, and the last one for the teacher."""
    told: list[str] = []
    for whose, pin in made.new.items():
        name = drill.students.get(whose, "")
        told += [
            f"For {plain(', '.join(filter(None, (whose, name))))}",
            f"Your PIN: {plain(pin)}",
            "It is asked for whenever you begin a drill or go on with one. Tell it to nobody.",
            _RULER,
        ]
    if made.word:
        told += [
            "For the teacher alone",
            f"The word that lets in whoever forgot the PIN: {made.word}",
            "Type it yourself in place of the PIN. The record then says that you let them in.",
            _RULER,
        ]
    return "\n".join([*told, ""])
