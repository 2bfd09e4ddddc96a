"""Reading numbers and moments of a drill, each within its limits."""

from __future__ import annotations

from datetime import date, datetime, time
from fractions import Fraction

from leverstep.course.faults import Reader
from leverstep.course.phrases import YEARS
from leverstep.course.plain_text import shown


def number_in(
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


def whole_in(reader: Reader, key: str, least: int, most: int) -> int | None:
    """Return a whole number within limits, None where there is none."""
    reader.asked.add(key)
    if not reader.has(key):
        return None
    return int(number_in(reader, key, Fraction(least), least, most, whole=True))


def moment_in(reader: Reader, key: str) -> datetime | None:
    """Return a moment with its offset from UTC, None where there is none."""
    reader.asked.add(key)
    value = reader.table.get(key)
    if value is None:
        return None
    if isinstance(value, datetime) and value.tzinfo is not None and value.year in YEARS:
        return value
    reader.fault(key, *_no_moment(value))
    return None


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
