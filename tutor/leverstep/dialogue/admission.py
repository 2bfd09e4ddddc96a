"""Who stands at the door of a drill, and what may be done there: begin, go on, read a result."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from leverstep.bench.contents import Contents
from leverstep.bench.record_lines import EndLine
from leverstep.course.phrases import moment, sentence
from leverstep.dialogue.notice import turn_told
from leverstep.drill.drill import Drill
from leverstep.drill.earlier import earlier, is_handed_in
from leverstep.drill.exceptions import allowed_told
from leverstep.drill.lines import moment_of
from leverstep.drill.sitting import Closed, NextSitting, NotListed, admitted, next_turn


@dataclass(frozen=True)
class Admission:
    """A student who is known at the door.

    `turn` is the sitting that begins or goes on, None where there is none any more; `result` the
    record of the one handed in last, None where none was. `told` says of both what there is to say.
    """

    student: str
    name: str
    turn: NextSitting | None
    result: Path | None
    told: str

    @property
    def whose(self) -> str:
        """Return who it is: `You are s01, Ida Example.`"""
        return f"You are {', '.join(part for part in (self.student, self.name) if part)}."

    @property
    def does(self) -> str:
        """Return what Enter does: "begins", "goes on", "leaves"."""
        if self.turn is None:
            return "leaves"
        return "begins" if self.turn.path is None else "goes on"

    def needs_start_word(self, drill: Drill) -> bool:
        """Return whether a sitting is to begin, with a start word that is not known yet."""
        return drill.is_locked and self.turn is not None and self.turn.path is None


def admission(drill: Drill, typed: str, folder: Path | None, now: datetime) -> Admission:
    """Return who a student is, and what may be done. The records are looked for in `folder` too.

    Raises:
        Closed: where nothing can be done: it is not open, or as often sat as it may be, and no
            sitting was handed in.
        NotListed: where the drill is not for this student.
    """
    allowed = "; ".join(allowed_told(drill, typed))
    drill = drill.for_student(typed)
    closed = _why_closed(drill, typed, now)
    student = drill.listed(typed)
    found = earlier(drill, student, folder)
    turn, reason = (None, closed) if closed else _turn(drill, found.records)
    result = _handed_in_last(found.records)
    if turn is None and result is None:
        raise Closed(reason)
    told = [sentence(reason)] if turn is None else [turn_told(drill, turn)]
    if result is not None:
        told.insert(0, f"You have handed in a sitting{_when(found.records[result])}.")
        if turn is not None:
            told.append(f"The {drill.scheme.counts} one counts.")
    if allowed and turn is not None:
        told.append(f"For you alone: {allowed}.")
    told += found.remarks
    name = drill.students.get(student, "")
    return Admission(student, name, turn, result, " ".join(part for part in told if part))


def _why_closed(drill: Drill, typed: str, now: datetime) -> str:
    """Return why a drill can't be sat at this time, "" where it can.

    Raises:
        NotListed: where the drill is not for this student.
    """
    try:
        admitted(drill, typed, now)
    except NotListed:
        raise
    except Closed as error:
        return str(error)
    return ""


def _turn(drill: Drill, records: Mapping[Path, Contents]) -> tuple[NextSitting | None, str]:
    """Return the sitting that begins or goes on after some records, or else why there is none."""
    try:
        return next_turn(drill, records), ""
    except Closed as error:
        return None, str(error)


def _handed_in_last(sittings: dict[Path, Contents]) -> Path | None:
    """Return the record of the last sitting that was handed in."""
    return next((path for path in reversed(sittings) if is_handed_in(sittings[path])), None)


def _when(found: Contents) -> str:
    """Return when a sitting was handed in, as its record says; "" where that makes no sense."""
    ends = [moment_of(line.time) for line in found.lines if isinstance(line, EndLine)]
    return f", on {moment(ends[-1])}" if ends[-1] else ""
