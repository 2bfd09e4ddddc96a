"""What is told at the door where a PIN is asked for."""

from __future__ import annotations

import math

from leverstep.course.phrases import counted
from leverstep.drill.drill import same_student
from leverstep.drill.pins import Pins
from leverstep.drill.pins_file import PINS


def pin_asked(pins: Pins, student: str) -> str:
    """Return that the PIN of a student is asked for, or why there is none."""
    if pins.teacher is None:
        return f"The file {PINS} is not beside the drill: ask your teacher for it."
    if pins.mark(same_student(student)):
        return "Your PIN is asked for. It is not shown as you type it."
    return "There is no PIN for this id: ask your teacher to let you in."


def wrong_pin_told(left: int) -> str:
    """Return that a PIN is wrong, and how many more may be tried before a wait."""
    return (
        f"That is not the PIN of this id. {counted(left, 'more try', 'more tries')} before a wait."
    )


def pin_wait_told(seconds: int) -> str:
    """Return how long there is to wait after several wrong PINs."""
    wait = counted(math.ceil(seconds / 60), "minute")
    return f"Too many wrong PINs: wait {wait}, or ask your teacher to let you in."
