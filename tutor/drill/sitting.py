"""A sitting of a drill: one student's workings, one record, one clock.

Nothing is judged before it is on the disk. The clock runs while the sitting is open; it stands
still while the student is away, and goes on where the record says it stood.
"""

from __future__ import annotations

import hashlib
import platform
import secrets
import time
from collections.abc import Callable, Iterable, Mapping
from datetime import UTC, datetime
from pathlib import Path

from tutor.course.places import home
from tutor.drill.bench import Bench
from tutor.drill.drill import Drill, Feedback, Hints, Task, file_stem, is_student, same_student
from tutor.drill.record import Contents, Record, RecordError, contents, read_bytes
from tutor.slips.habits import Habits
from tutor.working.rules import Rules

FORMAT = 1
"""The format of a record's lines."""

_TRIES, _PAUSE = 3, 0.2
"""A line that can't be written is tried again so often, with so many seconds between."""


class Closed(Exception):
    """A sitting that can't be begun or gone on with, with a sentence that says why."""


def rules_of(drill: Drill) -> Rules:
    """Return the rules that each working of a drill is under."""
    tells, hints = drill.feedback is Feedback.EACH, drill.hints is not Hints.NONE
    return Rules(drill.attempts, tells, hints and tells)


def benches_of(
    drill: Drill, tasks: Iterable[Task], keep: Callable[[int, dict[str, object]], None]
) -> tuple[Bench, ...]:
    """Return a bench for each task; what is kept at one goes to `keep` with its number."""
    habits, rules = Habits(), rules_of(drill)

    def keeper(number: int) -> Callable[[dict[str, object]], None]:
        return lambda line: keep(number, line)

    return tuple(
        Bench(task.question, keeper(task.number), drill.guidance, habits, rules) for task in tasks
    )


class Sitting:
    """One student's sitting. `benches` are the workings, in the order of the drill."""

    def __init__(self, drill: Drill, student: str, record: Record, used: float = 0.0) -> None:
        self.drill = drill
        self.student = student
        self.name = drill.students.get(student, "")
        self.tasks = drill.tasks(student)
        self.benches = benches_of(drill, self.tasks, self._keep)
        self.ended = False
        self._record = record
        self._used_before = used
        self._begun = time.monotonic()

    @classmethod
    def start(cls, drill: Drill, student: str, folder: Path | None = None) -> Sitting:
        """Begin a sitting, with a record of its own in `folder` (the user's data folder).

        Raises:
            Closed: where the student is none of the roster, or the drill is not open.
            RecordError: where the folder cannot be written.
        """
        student = admitted(drill, student, datetime.now(UTC))
        first = {
            "format": FORMAT,
            "kind": "drill",
            "drill": drill.id,
            "digest": drill.digest,
            "student": student,
            "host": host(),
            "time": _now(),
            "tasks": [
                {"problem": task.question.problem.id, "givens": givens_of(task)}
                for task in drill.tasks(student)
            ],
        }
        record = Record.create(_place(folder or home() / "drills", drill, student), first)
        return cls(drill, student, record)

    @classmethod
    def resume(cls, path: Path, drill: Drill) -> Sitting:
        """Go on with a record, on this machine or another.

        Raises:
            Closed: where the record is of another drill, has ended, or the drill is closed.
            RecordError: where it cannot be read or written.
        """
        found = contents(read_bytes(path))
        first = found.lines[0] if found.lines else {}
        if first.get("kind") != "drill" or first.get("drill") != drill.id:
            raise Closed(f"{path.name} is no record of this drill")
        if any(line.get("kind") == "end" and "task" not in line for line in found.lines):
            raise Closed("this sitting has been handed in")
        student = admitted(drill, str(first.get("student", "")), datetime.now(UTC))
        sitting = cls(drill, student, Record.reopen(path), used_in(found))
        for line in found.lines[1:]:
            number = line.get("task")
            if isinstance(number, int) and 0 < number <= len(sitting.benches):
                sitting.benches[number - 1].replay(line)
        sitting._write({"kind": "resumed", "host": host()})
        return sitting

    @property
    def place(self) -> Path:
        """Return where the record lies."""
        return self._record.path

    @property
    def used(self) -> float:
        """Return the seconds that the sitting has been open."""
        return self._used_before + time.monotonic() - self._begun

    @property
    def left(self) -> float | None:
        """Return the seconds that are left, None where there is no limit."""
        minutes = self.drill.minutes
        return None if minutes is None else max(0.0, 60 * minutes - self.used)

    @property
    def over(self) -> bool:
        """Return whether nothing more is taken: handed in, or out of time."""
        return self.ended or self.left == 0.0

    def hand_in(self) -> None:
        """End the sitting.

        Raises:
            RecordError: where that cannot be written.
        """
        self._write({"kind": "end"})
        self.ended = True

    def move(self, folder: Path) -> None:
        """Go on in another folder, with all that is kept so far.

        Raises:
            RecordError: where that cannot be written.
        """
        data = read_bytes(self._record.path)
        self._record = Record.copied(_place(folder, self.drill, self.student), data)

    def _keep(self, number: int, line: dict[str, object]) -> None:
        if self.over:
            raise RecordError("the time is up" if not self.ended else "this has been handed in")
        self._write({"task": number, **line})

    def _write(self, line: dict[str, object]) -> None:
        """Put a line on the disk, with the clock; try again where it can't be done at once."""
        line |= {"time": _now(), "used": round(self.used, 1)}
        for tries in range(_TRIES):
            try:
                self._record.append(line)
                return
            except RecordError:
                if tries == _TRIES - 1:
                    raise
                time.sleep(_PAUSE)


def admitted(drill: Drill, student: str, now: datetime) -> str:
    """Return the student's id as the roster writes it.

    Raises:
        Closed: where the drill is not open, or not for this student.
    """
    if not is_student(student):
        raise Closed("a student's id is 1 to 40 printable characters")
    if drill.opens and now < drill.opens:
        raise Closed(f"this drill opens on {drill.opens:%d %B %Y at %H:%M}")
    if drill.closes and now > drill.closes:
        raise Closed(f"this drill closed on {drill.closes:%d %B %Y at %H:%M}")
    if not drill.students:
        return student.strip()
    known = {same_student(one): one for one in drill.students}
    if same_student(student) not in known:
        raise Closed("this id is not on the list of this drill")
    return known[same_student(student)]


def givens_of(task: Task) -> dict[str, str]:
    """Return what was shown as given, by key."""
    question = task.question
    return {given.key: question.written(given) for given in question.givens}


def used_in(found: Contents) -> float:
    """Return how long the clock of a record has run, in seconds."""
    used = [line.get("used") for line in found.lines]
    return max((float(u) for u in used if isinstance(u, int | float)), default=0.0)


def host() -> str:
    """Return what tells one machine from another, without its name."""
    return hashlib.sha256(platform.node().encode()).hexdigest()[:8]


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="milliseconds")


def _place(folder: Path, drill: Drill, student: str) -> Path:
    """Return the path of a new record."""
    stamp = f"{datetime.now(UTC):%Y%m%dT%H%M%S}"
    return folder / drill.id / f"{file_stem(student)}-{stamp}-{secrets.token_hex(4)}.jsonl"


def sittings_of(drill: Drill, student: str, folder: Path | None = None) -> Mapping[Path, Contents]:
    """Return the records of a student's sittings that were not handed in, the latest last."""
    found = {}
    for path in sorted(((folder or home() / "drills") / drill.id).glob("*.jsonl")):
        try:
            read = contents(read_bytes(path))
        except RecordError:
            continue
        first = read.lines[0] if read.lines else {}
        mine = same_student(str(first.get("student", ""))) == same_student(student)
        ended = any(line.get("kind") == "end" and "task" not in line for line in read.lines)
        if first.get("drill") == drill.id and mine and not ended:
            found[path] = read
    return found
