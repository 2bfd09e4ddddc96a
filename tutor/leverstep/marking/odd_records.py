"""What is odd about a record as a whole, in words for whoever marks it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypeGuard

from leverstep.bench.contents import Contents
from leverstep.bench.record_lines import DrillBegun, PractisedLine, RecordLine, ResumedLine
from leverstep.course.phrases import tasks_told, times
from leverstep.drill.drill import Drill, same_student
from leverstep.drill.fitting import is_keyed
from leverstep.drill.lines import moment_of, start_key_in, taken_up_unawares, up_to_end
from leverstep.drill.pins import BY_TEACHER
from leverstep.marking.as_shown import AsShown

OTHER_VERSION = "sat with another version of the drill's file"
UNAWARES = "without having been left: a crash, or lines cut from the end"
"""How the remark ends on a sitting that went on without a word of why it had stopped."""

PRACTISED = "the very numbers were practised on that computer before:"
"""How the remark begins on tasks whose answers the student may have been told before."""

NO_START = "begun without the start word of the drill"
OTHER_START = "begun with a start word other than the drill's"
NO_OWN = "begun without the file of the student's own numbers"
OTHER_OWN = "begun with a file of numbers that is not the student's"
"""Remarks on records whose numbers may have been known before the drill began."""


NO_PIN = "begun or gone on with without a PIN"
OTHER_PIN = "begun or gone on with by a PIN other than the student's"
LET_IN = "let in by the teacher in place of a PIN"
"""Remarks on records of a drill that asks for PINs."""


def _by_pins(drill: Drill, student: str, found: Contents) -> Iterator[str]:
    """Yield what is odd about the PINs by which a sitting was begun and gone on with.

    Going on within one run of the program asks for none, and names no computer.
    """
    if drill.pins is None:
        return
    own = drill.pins.mark(same_student(student))
    let_in = [line.pin for line in found.lines if _lets_in(line)]
    if not all(let_in):
        yield NO_PIN
    if drill.pins.teacher and any(pin and pin not in (own, BY_TEACHER) for pin in let_in):
        yield OTHER_PIN
    if BY_TEACHER in let_in:
        yield LET_IN


def _lets_in(line: RecordLine) -> TypeGuard[DrillBegun | ResumedLine]:
    """Return whether a line was written when a student came in at the door."""
    return isinstance(line, DrillBegun) or (isinstance(line, ResumedLine) and line.host is not None)


def remarks_on(drill: Drill, student: str, shown: AsShown, found: Contents) -> Iterator[str]:
    """Yield what is odd about a record as a whole."""
    if not isinstance(found.first, DrillBegun) or found.first.digest != drill.digest:
        yield OTHER_VERSION
    key = start_key_in(found.first)
    if not is_keyed(drill, student, key):
        none, other = (NO_OWN, OTHER_OWN) if drill.own_numbers else (NO_START, OTHER_START)
        yield other if key else none
    yield from _by_pins(drill, student, found)
    yield from shown.remarks()
    yield from _practised(shown, found)
    if not drill.is_open_to(student):
        yield "not on the roster"
    hosts = {line.host for line in found.lines if line.host}
    if len(hosts) > 1:
        yield f"worked on {len(hosts)} machines"
    moments = [m for m in (moment_of(line.time) for line in found.lines) if m is not None]
    clocks = [line.used for line in found.lines[1:]]
    known = [clock for clock in clocks if clock is not None]
    if moments != sorted(moments) or known != sorted(known):
        yield "a clock was set back"
    if len(moments) < len(found.lines) or len(known) < len(clocks):
        yield "some of its times make no sense"
    if len(up_to_end(found).lines) < len(found.lines):
        yield "continued after it was handed in, which is not counted"
    if unawares := taken_up_unawares(found):
        yield f"continued {times(unawares)} {UNAWARES}"
    if drill.closes and any(moment > drill.closes for moment in moments):
        yield "continued after the drill had closed"


def _practised(shown: AsShown, found: Contents) -> Iterator[str]:
    """Yield of which tasks the numbers were practised on the same computer before."""
    lines = (one for one in found.lines if isinstance(one, PractisedLine))
    practised = {shown.number_now(number) for one in lines for number in one.tasks}
    if told := tasks_told(one.number for one in shown.tasks if one.number in practised):
        yield f"{PRACTISED} {told}"
