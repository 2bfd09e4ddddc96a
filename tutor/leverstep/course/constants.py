"""Reading what a file takes for a constant of `CONVENTIONS`: the values that count with it."""

from __future__ import annotations

from leverstep.course.faults import Reader, is_number
from leverstep.course.plain_text import shown
from leverstep.statics.choices import CONVENTIONS

MOST_TAKEN = 10
"""Values of one constant that a file accepts at once."""


def constant_taken(reader: Reader, key: str, name: str) -> tuple[float, ...]:
    """Return the values of a constant that a key names, the one to be printed first.

    They are one number or a list of some near the usual one; none where that is a fault.
    """
    reader.asked.add(key)
    values = reader.table[key]
    listed = values if isinstance(values, list) else [values]
    numbers = [value for value in listed if is_number(value)]
    usual = CONVENTIONS[name].values[0]
    if len(listed) > MOST_TAKEN:
        reader.fault(key, f"found {len(listed)} numbers", f"at most {MOST_TAKEN}")
    elif not numbers or len(numbers) < len(listed):
        reader.fault(key, f"found {shown(values)}", "a number or a list of numbers")
    elif any(abs(float(number) / usual - 1) > 0.1 for number in numbers):
        reader.fault(key, f"found {shown(values)}", f"numbers near {usual:g}")
    else:
        return tuple(map(float, numbers))
    return ()
