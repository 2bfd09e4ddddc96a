"""Which line of a working is meant by what was typed; where none can be, why is said."""

from __future__ import annotations

from leverstep.faces.lines.line_reading import ReadOut
from leverstep.working.page import line_name, within_reach


def line_meant(reading: ReadOut, name: str) -> str | None:
    """Return the key of the line that a hint is for; None, and why, where there is none.

    `name` is "" for the line at hand.
    """
    working = reading.working
    if not name:
        return reading.dialogue.hinted or working.steps[-1].key
    return line_reached(reading, name, anywhere=working.guidance.free)


def line_reached(reading: ReadOut, name: str, anywhere: bool = False) -> str | None:
    """Return the key of the line with this name; None, and why, where it can't be gone to."""
    working, wanted = reading.working, reading.named(name)
    if wanted is None:
        names = ", ".join(map(line_name, working.steps))
        reading.say(f"There is no such line. The lines are {names}.")
    elif wanted in working.filled:
        reading.say(reading.standing(wanted))
    elif not anywhere and wanted not in within_reach(working):
        name = line_name(working.step(wanted))
        free = f"{name} is not written yet. Write it with its symbol."
        led = f"{name} comes later: first the lines before it."
        reading.say(free if working.guidance.free else led)
    else:
        return wanted
    return None
