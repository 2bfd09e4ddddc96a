"""A sitting of a drill: one student's workings, one record, one clock.

Nothing is judged before it is on the disk. The clock runs while the sitting is worked on; it stands
still while the student is away and while the computer sleeps, and goes on where the record says it
stood. Lines may be kept from one thread while the clock is kept from another.
"""

from __future__ import annotations

import hashlib
import platform
import threading
import time
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path

from leverstep.bench.contents import Contents, contents, sound
from leverstep.bench.record import NeverKept, Record, RecordError, key_of_next, read_bytes
from leverstep.bench.record_lines import (
    AwayLine,
    ClockLine,
    DrillBegun,
    EndLine,
    PractisedLine,
    RecordLine,
    ResumedLine,
    TaskShown,
)
from leverstep.bench.record_note import RecordNote
from leverstep.bench.replaying import Replay
from leverstep.course.phrases import moment, times
from leverstep.course.places import home, put_by
from leverstep.course.plain_files import is_own
from leverstep.course.reserved import NOT_RESERVED, is_reserved
from leverstep.drill.benches import benches_of
from leverstep.drill.codes import code_of
from leverstep.drill.drill import Drill, is_student
from leverstep.drill.earlier import drill_kept, is_handed_in, new_name, place_of, unfinished
from leverstep.drill.fitting import misfits
from leverstep.drill.lines import moment_of, owner_in, start_key_in, up_to_end, used_in
from leverstep.drill.practised_before import practised_before
from leverstep.drill.seal_key import new_secret
from leverstep.drill.stopwatch import Stopwatch
from leverstep.slips.catalogue import Catalogue

_TRIES, _PAUSE = 3, 0.2
"""A line that can't be written is tried again so often, with so many seconds between."""

KEPT_EVERY, KEPT_EVERY_WITHOUT_LIMIT = 10.0, 60.0
"""The clock is put on the disk after so many seconds without another line: less often where there
is no limit, since such a record may be open for days."""


class Closed(Exception):
    """A sitting that can't be begun or gone on with, with a sentence that says why."""


class NotListed(Closed):
    """An id that is none, or not on the roster."""


class Sitting:
    """One student's sitting. `benches` are the workings, in the order of the drill.

    `catalogue` holds the slips that are looked for; `record_note` lies beside the record. `begun`
    is when it began, in UTC; None where the record does not tell.
    """

    def __init__(
        self,
        drill: Drill,
        catalogue: Catalogue,
        student: str,
        record: Record,
        used: float = 0.0,
        begun: datetime | None = None,
    ) -> None:
        self.drill = drill = drill.for_student(student)
        self.begun = begun
        self.catalogue = catalogue
        self.student = student
        self.name = drill.students.get(student, "")
        self.tasks = drill.tasks(student)
        self.benches = benches_of(drill, catalogue, self.tasks, self._keep)
        self.ended = False
        self.stopwatch = Stopwatch(used)
        self.record_note = RecordNote(record.path)
        self._record = record
        self._kept = used
        self._writing = threading.Lock()

    @classmethod
    def start(
        cls,
        drill: Drill,
        catalogue: Catalogue,
        student: str,
        folder: Path | None = None,
        pin: str = "",
    ) -> Sitting:
        """Begin a sitting, with a record of its own.

        Args:
            drill: what is sat.
            catalogue: the slips that are looked for.
            student: who sits it.
            folder: where the record lies, None for the user's data folder.
            pin: by which PIN the student was let in, as a record has it; "" for none.

        Raises:
            Closed: where the student is none of the roster, or the drill is not open, or the key of
                its numbers is not known.
            RecordError: where the folder cannot be written.
        """
        student = admitted(drill, student, datetime.now(UTC))
        drill = drill.for_student(student)
        if drill.is_locked:
            needed = "its start word" if drill.start_word else "the student's own file of numbers"
            raise Closed(f"this drill needs {needed}")
        sealed, key = new_secret(drill.seal) if drill.seal else (None, None)
        first = DrillBegun(
            time=_now(),
            drill=drill.id,
            digest=drill.digest,
            student=student,
            host=host(),
            start_key=drill.start_key or None,
            tasks=tuple(
                TaskShown(task.question.problem.id, task.question.givens_written)
                for task in drill.tasks(student)
            ),
            items=drill.labels if drill.names_items else None,
            pin=pin or None,
            sealed=sealed,
        )
        record = Record.create(place_of(folder, drill, student), first, key)
        if folder is None:
            _keep_drill(drill, record.path.parent)
        sitting = cls(drill, catalogue, student, record, begun=moment_of(first.time))
        own = (task for task in sitting.tasks if not drill.task_items[task.number - 1].fixed)
        if practised := practised_before(own):
            sitting._write(PractisedLine(tasks=practised))
        for bench in sitting.benches:
            if bench.mending is not None:
                bench.mend(bench.mending)
        return sitting

    @classmethod
    def resume(
        cls,
        path: Path,
        drill: Drill,
        catalogue: Catalogue,
        folder: Path | None = None,
        pin: str = "",
    ) -> Sitting:
        """Go on with a record, on this machine or another; in `folder` where one is given.

        `pin` is as for one that begins.

        One that belongs to another account, or that was changed after it was written, is left as it
        is: what is sound of it goes on in a new one beside it.

        Raises:
            Closed: where the record is of another drill or other numbers, has ended, or the drill
                is closed.
            RecordError: where it cannot be read or written.
        """
        found, data, student, drill = _found(path, drill)
        if is_handed_in(found):
            raise Closed("this sitting has been handed in")
        admitted(drill, student, datetime.now(UTC))
        if folder is not None:
            record = _kept_so_far(path, found, data).copied(place_of(folder, drill, student))
        elif found.remarks or not _is_own(path):
            record = _kept_so_far(path, found, data).copied(path.with_name(new_name(student)))
        else:
            record = Record.reopen(path)
        begun = moment_of(found.first.time)
        sitting = cls(drill, catalogue, student, record, used_in(found), begun)
        Replay(sitting.benches).take(found.lines)
        sealed = None
        if record.key is None and drill.seal:
            sealed, record.key = new_secret(drill.seal, len(found.links))
        sitting._write(ResumedLine(host=host(), pin=pin or None, sealed=sealed))
        return sitting

    @classmethod
    def reread(cls, path: Path, drill: Drill, catalogue: Catalogue) -> Sitting:
        """Return a sitting that was handed in, to read again what came of it. Nothing is written.

        Raises:
            Closed: where the record is of another drill or other numbers.
            RecordError: where it cannot be read.
        """
        found, data, student, drill = _found(path, drill)
        reckoned = contents(data).reckoned[-1]  # as marking does, of all that stands there
        record = Record(path, found.links[-1], data[: found.size], reckoned)
        found = up_to_end(found)
        sitting = cls(drill, catalogue, student, record, used_in(found))
        sitting.stopwatch.stop()
        sitting.ended = True
        Replay(sitting.benches).take(found.lines)
        sitting._disclose()
        return sitting

    @property
    def place(self) -> Path:
        """Return where the record lies."""
        return self._record.path

    @property
    def is_kept(self) -> bool:
        """Return whether the record holds every line that was taken: others may have removed it."""
        with self._writing:
            return self._record.is_there

    @property
    def folder(self) -> Path | None:
        """Return the folder that the records were put into, None for the user's data folder."""
        folder = self.place.parent.parent
        return None if folder == home() / "drills" else folder

    @property
    def code(self) -> str:
        """Return the code of the record as it stands, "" before the sitting is handed in."""
        return code_of(self._record.reckoned) if self.ended else ""

    @property
    def used(self) -> float:
        """Return the seconds that the sitting has been worked on."""
        return self.stopwatch.look()

    @property
    def left_by_clock(self) -> float | None:
        """Return the seconds left of the minutes of the drill, None for no limit."""
        spent = self.drill.spent(self.used, self.begun, datetime.now(UTC))
        return self.drill.seconds_left(spent)

    @property
    def left(self) -> float | None:
        """Return the seconds left by the clock or until the drill closes, None for no limit."""
        by_clock = self.left_by_clock
        limits = [] if by_clock is None else [by_clock]
        if self.drill.closes is not None:
            limits.append((self.drill.closes - datetime.now(UTC)).total_seconds())
        return max(0.0, min(limits)) if limits else None

    @property
    def open_tasks(self) -> tuple[int, ...]:
        """Return the numbers of the tasks that have lines still to be done."""
        return tuple(
            task.number
            for task, bench in zip(self.tasks, self.benches, strict=True)
            if not bench.working.complete
        )

    @property
    def over(self) -> bool:
        """Return whether nothing more is taken: handed in, or out of time."""
        return self.ended or self.left == 0.0

    def hand_in(self) -> None:
        """End the sitting, once. What came of each line is told from here on.

        Raises:
            RecordError: where that cannot be written.
        """
        if self.ended:
            return
        self._write(EndLine())
        self._disclose()

    def pause(self) -> None:
        """Let the clock stand still while the student is away."""
        self.note(AwayLine)
        self.stopwatch.stop()

    def go_on(self) -> None:
        """Let the clock run again."""
        if not self.stopwatch.runs:
            self.stopwatch.go_on()
            self.note(ResumedLine)

    @property
    def is_due(self) -> bool:
        """Return whether the clock is to be put on the disk; it is to be asked each second."""
        every = KEPT_EVERY_WITHOUT_LIMIT if self.drill.minutes is None else KEPT_EVERY
        return self.stopwatch.runs and self.used - self._kept >= every

    def note(self, kind: type[RecordLine] = ClockLine) -> bool:
        """Put the clock on the disk, with a line of a kind; return whether that could be done."""
        if not self.over and self.stopwatch.runs:
            self._kept = self.used  # a disk that fails is not asked each second
            try:
                self._write(kind(), tries=1)
            except RecordError:
                return False
        return True

    def move(self, folder: Path) -> None:
        """Go on in another folder, with all that is kept so far.

        Raises:
            RecordError: where that cannot be written.
        """
        with self._writing:
            self._record = self._record.copied(place_of(folder, self.drill, self.student))
        before, self.record_note = self.record_note, RecordNote(self.place)
        self.record_note.keep_typed(before.noted.typed)
        before.keep_typed(())

    def _disclose(self) -> None:
        """Let what came of each line be told."""
        for bench in self.benches:
            bench.disclose()

    def _keep(self, line: RecordLine) -> None:
        if self.over:
            raise RecordError("the time is up" if not self.ended else "this has been handed in")
        self._write(line)

    def _write(self, line: RecordLine, tries: int = _TRIES) -> None:
        """Put a line on the disk, with the clock; try again where it can't be done at once."""
        for left in reversed(range(tries)):
            try:
                with self._writing:
                    if self.ended:
                        raise RecordError("this has been handed in")
                    used = self.used
                    self._record.append(replace(line, time=_now(), used=round(used, 1)))
                    self._kept, self.ended = used, isinstance(line, EndLine)
                return
            except RecordError as error:
                if not left or isinstance(error, NeverKept):
                    raise
                time.sleep(_PAUSE)


def _found(path: Path, drill: Drill) -> tuple[Contents, bytes, str, Drill]:
    """Return what is sound of a record, its bytes, its student, and the drill with its start word.

    Raises:
        Closed: where it is of another drill, or has another start word or other numbers.
        RecordError: where it cannot be read.
    """
    data = read_bytes(path)
    found = sound(data)
    student = owner_in(found.first, drill)
    if not student:
        raise Closed(f"{path.name} is not a record of this drill")
    drill = drill.with_key(start_key_in(found.first))
    (reason,) = misfits(drill, student, [found.first])
    if reason:
        raise Closed(reason)
    return found, data, student, drill


def _kept_so_far(path: Path, found: Contents, data: bytes) -> Record:
    """Return a record as it stands up to its last sound line."""
    return Record(path, found.links[-1], data[: found.size], key=key_of_next(path, found))


def _is_own(path: Path) -> bool:
    """Return whether a record can be added to as the user's own, not only read."""
    try:
        return is_own(path)
    except OSError:
        return False


def admitted(drill: Drill, student: str, now: datetime) -> str:
    """Return the student's id as the roster writes it.

    Raises:
        Closed: where the drill is not open.
        NotListed: where it is not for this student.
    """
    drill = drill.for_student(student)
    if not is_student(student):
        raise NotListed("a student's id is 1 to 40 printable characters")
    if is_reserved(student):
        raise NotListed(f"a student's id is {NOT_RESERVED}")
    if drill.opens and now < drill.opens:
        raise Closed(f"this drill opens on {moment(drill.opens)}")
    if drill.closes and now > drill.closes:
        raise Closed(f"this drill closed on {moment(drill.closes)}")
    if not drill.is_open_to(student):
        raise NotListed("this id is not on the list for this drill")
    return drill.listed(student)


@dataclass(frozen=True)
class NextSitting:
    """A student's next sitting: its number from 1, and the record that it goes on with, if any."""

    number: int
    path: Path | None = None
    found: Contents | None = None


def next_turn(drill: Drill, sittings: Mapping[Path, Contents]) -> NextSitting:
    """Return the sitting that a student goes on with, or begins, after some earlier ones.

    Raises:
        Closed: where the student has handed in as many as there may be.
    """
    counting = dict(list(sittings.items())[: drill.sittings])
    for path, found in reversed(unfinished(counting).items()):
        return NextSitting(list(counting).index(path) + 1, path, found)
    if drill.sittings is not None and len(sittings) >= drill.sittings:
        raise Closed(f"this drill may be sat {times(drill.sittings)}, and you have done so")
    return NextSitting(len(sittings) + 1)


def host() -> str:
    """Return what tells one machine from another, without its name."""
    return hashlib.sha256(platform.node().encode()).hexdigest()[:8]


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="milliseconds")


def _keep_drill(drill: Drill, folder: Path) -> None:
    """Keep a drill beside its records, which hold no numbers; the sitting does not need it."""
    put_by(drill_kept(folder, drill.digest), drill.text)
