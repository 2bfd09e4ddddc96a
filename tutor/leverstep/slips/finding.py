"""Slips that were found behind a wrong entry, and what they explain together."""

from __future__ import annotations

from dataclasses import dataclass

from leverstep.statics.choices import Choice


@dataclass(frozen=True, slots=True)
class Finding:
    """One slip at one place: the slip's id, the step where it was made, and what it changed.

    `abouts` are the forces or distances it may be about: more than one where the number typed can't
    tell them apart. `line` is the other line whose value was written, for a slip of that kind.
    `miscopied` is the key of a given whose number seems to be copied wrongly, or a number of an
    earlier line; `copied` is the number that was taken for it.
    """

    slip: str
    step: str
    changes: tuple[tuple[Choice, float], ...]
    abouts: tuple[str, ...] = ()
    line: str = ""
    miscopied: str = ""
    copied: str = ""


@dataclass(frozen=True, slots=True)
class Explanation:
    """One or two slips that together give the number that was typed.

    `sure` is False where random numbers would often be met as well, so that it is asked, not told.
    """

    findings: tuple[Finding, ...]
    sure: bool = True
