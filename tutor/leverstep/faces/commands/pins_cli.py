"""The command that gives PINs to a class: it makes them or reads them, and keeps hashes of them."""

from __future__ import annotations

import argparse
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from leverstep.course.faults import Fault, FileError
from leverstep.course.plain_text import plain
from leverstep.faces.commands.usage import add_command, add_drill_file, student, whole_number
from leverstep.faces.terminal import say

if TYPE_CHECKING:
    from collections.abc import Iterator

    from leverstep.drill.drill import Drill
    from leverstep.drill.pins_file import PinsMade
    from leverstep.faces.commands.usage import Commands
    from leverstep.faces.material import Material

_FEW = 20
"""PINs whose hashes are made before anybody wonders."""


def add_pins(own: Commands) -> None:
    """Add the command `pins` to those of `drill`."""
    told = "give each student a PIN, asked for at the door"
    pins = add_command(own, "pins", told, "drill pins levers.toml --cards cards.txt")
    add_drill_file(pins)
    pins.add_argument(
        "table", nargs="?", type=Path, metavar="CSV",
        help="PINs of your own, a table of ids and PINs (made unless given)",
    )  # fmt: skip
    pins.add_argument(
        "--cards", type=Path, metavar="FILE", help="the file to write cards into, to be handed out"
    )
    pins.add_argument("--digits", type=whole_number, help="how long a PIN is that is made (6)")
    pins.add_argument("--student", type=student, metavar="ID", help="a new PIN for one student")
    pins.set_defaults(command=_pins)


def _pins(options: argparse.Namespace, material: Material) -> int:
    """Make PINs or read them, write cards and the file of hashes, and have the drill ask for them.

    The cards are written first, so that no PIN is in force that nobody knows.
    """
    from leverstep.course.new_file import refuse_old, write_new
    from leverstep.drill.drill import same_student
    from leverstep.drill.drill_file import read_drill
    from leverstep.drill.pins_file import cards, pins_in, with_pins, write_pins
    from leverstep.drill.rule_writing import set_rules

    if options.cards is not None:
        refuse_old(options.cards)  # before hashes are made for minutes
    drill = read_drill(options.file, material.shelf.problems)
    before = pins_in(options.file.parent)
    chosen, made_for = _wanted(options, drill)
    known = before.without(map(same_student, made_for)) if options.student else before
    if len(chosen) + len(made_for) - len(known.students) > _FEW:
        say("This takes a moment: the hashes of PINs are slow to make on purpose.")
    made = with_pins(known, chosen, made_for, _digits(options))
    if options.cards is not None:
        write_new(options.cards, cards(drill, made), secret=True)
    elif made.word or set(made.new) - set(chosen):
        raise _refused(options, "there are secrets to hand out", "--cards with a file for them")
    write_pins(options.file, made.pins)
    set_rules(options.file, "pins = true")
    for line in _told(options, drill, made):
        print(plain(line))
    return 0


def _wanted(options: argparse.Namespace, drill: Drill) -> tuple[dict[str, str], tuple[str, ...]]:
    """Return the PINs that were chosen by id, and the ids of those for whom some are to be made.

    Raises:
        FileError: where the table has faults, or nobody is named for whom to make one.
    """
    from leverstep.drill.pins_file import pins_chosen

    if options.table is not None:
        if options.student is not None:
            raise _refused(options, "--student stands beside a table", "one of the two")
        if options.digits is not None:
            raise _refused(options, "--digits stands beside a table", "one of the two")
        return pins_chosen(options.table, drill), ()
    if options.student is not None:
        if not drill.is_open_to(options.student):
            raise _refused(options, f"{options.student} is not on the roster", "a student on it")
        return {}, (drill.listed(options.student),)
    if not drill.students:
        raise _refused(options, "it has no roster", "one, --student, or a table of ids and PINs")
    return {}, tuple(drill.students)


def _digits(options: argparse.Namespace) -> int:
    """Return how many digits a PIN has that is made.

    Raises:
        FileError: where it may not have so many.
    """
    from leverstep.drill.pins import LEAST_PIN
    from leverstep.drill.pins_file import MOST_DIGITS, USUAL_DIGITS

    if options.digits is None:
        return USUAL_DIGITS
    if not LEAST_PIN <= options.digits <= MOST_DIGITS:
        expected = f"a number from {LEAST_PIN} to {MOST_DIGITS}"
        raise _refused(options, f"--digits {options.digits}", expected)
    return int(options.digits)


def _refused(options: argparse.Namespace, found: str, expected: str) -> FileError:
    return FileError([Fault(str(options.file), "", found, expected)])


def _told(options: argparse.Namespace, drill: Drill, made: PinsMade) -> Iterator[str]:
    """Yield what was made, what to do with it, and how long PINs withstand who has the file."""
    from leverstep.course.phrases import counted
    from leverstep.drill.pins_file import PINS, guessing_told, without_pin

    new = counted(len(made.new), "PIN is", "PINs are")
    yield f"{new} new. {options.file} asks for PINs now, by {options.file.with_name(PINS)}."
    yield f"Copy {PINS} to wherever the drill is sat, beside it. It has hashes, and no PIN."
    with_secrets = list(filter(None, (options.cards, options.table)))
    if with_secrets:
        named = " and ".join(map(str, with_secrets))
        yield f"Keep off computers that students use: {named}, with the PINs themselves."
    if without := without_pin(replace(drill, pins=made.pins)):
        yield f"Without a PIN, and so let in by your word alone: {', '.join(without)}"
    if made.new:
        yield guessing_told(made)
