"""What is odd about a record as a whole, in words for whoever marks it."""

from __future__ import annotations

from collections.abc import Iterator

from leverstep.bench.contents import Contents
from leverstep.bench.record_lines import DrillBegun, PractisedLine
from leverstep.course.phrases import tasks_told, times
from leverstep.drill.drill import Drill
from leverstep.drill.lines import moment_of, taken_up_unawares, up_to_end
from leverstep.drill.start_word import is_key_of
from leverstep.marking.as_shown import AsShown

OTHER_VERSION = "sat with another version of the drill's file"
UNAWARES = "without having been left: a crash, or lines cut from the end"
"""How the remark ends on a sitting that went on without a word of why it had stopped."""

PRACTISED = "the very numbers were practised on that computer before:"
"""How the remark begins on tasks whose answers the student may have been told before."""

NO_START = "begun without the start word of the drill"
OTHER_START = "begun with a start word other than the drill's"
"""Remarks on records whose numbers may have been known before the drill began."""


def remarks_on(drill: Drill, student: str, shown: AsShown, found: Contents) -> Iterator[str]:
    """Yield what is odd about a record as a whole."""
    if not isinstance(found.first, DrillBegun) or found.first.digest != drill.digest:
        yield OTHER_VERSION
    if not is_key_of(drill.start_word, drill.start_key):
        yield OTHER_START if drill.start_key else NO_START
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
