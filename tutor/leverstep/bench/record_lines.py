"""The lines of a record: which kinds there are, what each says, how one is read and written.

On the disk a line is a JSON object with its `kind` and its link (`contents.py`). What is None does
not stand there, or makes no sense as it does; it is not written. What another version wrote besides
is passed over here: it counts for the link alone.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import ClassVar

from leverstep.questions.sureness import SUREST

FORMAT = 1
"""The format of the lines that are written."""

LONGEST_CLOCK = 10**8
"""Seconds; no sitting is open for years."""

Fields = Mapping[str, object]
"""What stands on a line, as JSON has it."""

_About = tuple[str | None, float | None, int | None, str | None, str | None]


@dataclass(frozen=True, slots=True)
class RecordLine:
    """What a line of any kind may say; a line of no kind that is known here is only this.

    `time` is when it was written: ISO 8601 with its offset, as it stands there. `used` are the
    seconds that the clock of the sitting has run; practice has none. `task` is the number of the
    task that it is about, from 1, in a drill; `step` the key of the line of the working. `host`
    tells the machine from others, where one is named; "" where that is no text.
    """

    kind: ClassVar[str] = ""
    time: str | None = None
    used: float | None = None
    task: int | None = None
    step: str | None = None
    host: str | None = None


@dataclass(frozen=True, slots=True)
class PracticeBegun(RecordLine):
    """The first line of a practice: which question it is, by its problem and its seed.

    `givens` is what was shown as given, by key, with units; `own` are the values measured on the
    student's own body, by key, as fractions of SI units; `guidance` is how far the student is led;
    `shown` how many of the first lines are shown, each with its reason.
    """

    kind: ClassVar[str] = "practice"
    format: int | None = FORMAT
    problem: str | None = None
    seed: str | None = None
    givens: Mapping[str, str] | None = None
    own: Mapping[str, str] | None = None
    guidance: str | None = None
    shown: int | None = None


@dataclass(frozen=True, slots=True)
class TaskShown:
    """A task as it was shown: its problem, and what was given, by key, with units."""

    problem: str | None = None
    givens: Mapping[str, str] | None = None


@dataclass(frozen=True, slots=True)
class DrillBegun(RecordLine):
    """The first line of a sitting: of which drill, whose, and what was shown.

    `drill` is the id of the drill and `student` that of the student; `digest` is the hash of the
    drill's file, with the problems that were drawn for its mixed sets, and `start_key` what its
    start word comes to, both in hexadecimal. `items` says what tells each task from the others,
    where the drill names its items. `pin` says by which PIN the student was let in,
    and `sealed` has the secret of the record's seal, for the teacher alone.
    """

    kind: ClassVar[str] = "drill"
    format: int | None = FORMAT
    drill: str | None = None
    digest: str | None = None
    student: str | None = None
    start_key: str | None = None
    tasks: tuple[TaskShown, ...] = ()
    items: tuple[str, ...] | None = None
    pin: str | None = None
    sealed: str | None = None


@dataclass(frozen=True, slots=True)
class PractisedLine(RecordLine):
    """The numbers of some tasks of a sitting were practised on its computer before it began."""

    kind: ClassVar[str] = "practised"
    tasks: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class EntryLine(RecordLine):
    """An entry at a line of the working, with its text as it was typed.

    `sure` is how sure the student said to be, from 1 to 3; None where that was not said.
    """

    kind: ClassVar[str] = "entry"
    text: str | None = None
    sure: int | None = None


@dataclass(frozen=True, slots=True)
class WrittenLine(RecordLine):
    """An entry that says itself which line of the working it is.

    `step` is the line that was asked for, None where any might be written; `sure` as for an entry.
    """

    kind: ClassVar[str] = "line"
    text: str | None = None
    sure: int | None = None


Entered = EntryLine | WrittenLine
"""What is judged."""


@dataclass(frozen=True, slots=True)
class PlacedLine(RecordLine):
    """Something was put into a free-body diagram, which `step` names in the place of a line.

    `item` is what it is: a symbol, or a word for what has none; `point` and `direction` are the
    keys of where and which way, "" where it needs none.
    """

    kind: ClassVar[str] = "placed"
    item: str | None = None
    point: str | None = None
    direction: str | None = None


Worked = EntryLine | WrittenLine | PlacedLine
"""What a student has worked: an entry at a line, or a thing in a diagram."""


@dataclass(frozen=True, slots=True)
class HintLine(RecordLine):
    """The next hint for a line of the working was asked for."""

    kind: ClassVar[str] = "hint"


@dataclass(frozen=True, slots=True)
class LeaveLine(RecordLine):
    """A line of the working was left for later."""

    kind: ClassVar[str] = "leave"


@dataclass(frozen=True, slots=True)
class AnswerLine(RecordLine):
    """A question beside the lines was answered, by the keys of both; "" for one passed over."""

    kind: ClassVar[str] = "answer"
    question: str | None = None
    answer: str | None = None


@dataclass(frozen=True, slots=True)
class MendLine(RecordLine):
    """The working is that of an invented student, in which a slip is to be found and mended.

    `slip` is its id, `changes` the choices that it makes otherwise, by their names; `second` and
    `second_changes` are those of a second slip, on a later line.
    """

    kind: ClassVar[str] = "slip to find"
    slip: str | None = None
    changes: Mapping[str, float] | None = None
    second: str | None = None
    second_changes: Mapping[str, float] | None = None


@dataclass(frozen=True, slots=True)
class FillLine(RecordLine):
    """A line of a practice that only converts a given was filled in."""

    kind: ClassVar[str] = "filled"


@dataclass(frozen=True, slots=True)
class UnitsNamedLine(RecordLine):
    """From here on a practice takes a number without a unit in the unit that its line asks for."""

    kind: ClassVar[str] = "units named"


@dataclass(frozen=True, slots=True)
class UnitsAskedLine(RecordLine):
    """From here on a practice asks for the unit of a number again."""

    kind: ClassVar[str] = "units asked"


@dataclass(frozen=True, slots=True)
class PictureAskedLine(RecordLine):
    """The free-body diagrams of a practice are the student's own work."""

    kind: ClassVar[str] = "picture asked"


@dataclass(frozen=True, slots=True)
class TakenAwayLine(RecordLine):
    """Something was taken out of a free-body diagram."""

    kind: ClassVar[str] = "taken away"
    item: str | None = None


@dataclass(frozen=True, slots=True)
class PictureDoneLine(RecordLine):
    """A free-body diagram was said to be complete."""

    kind: ClassVar[str] = "picture done"


@dataclass(frozen=True, slots=True)
class EndLine(RecordLine):
    """A sitting was handed in, or the last line of a practice is right."""

    kind: ClassVar[str] = "end"


@dataclass(frozen=True, slots=True)
class OpenLine(RecordLine):
    """A practice that was at its end is so no more."""

    kind: ClassVar[str] = "open"


@dataclass(frozen=True, slots=True)
class AwayLine(RecordLine):
    """The student is away, and the clock stands still."""

    kind: ClassVar[str] = "away"


@dataclass(frozen=True, slots=True)
class ResumedLine(RecordLine):
    """A sitting goes on: on which host, where that is not within one run of the program.

    `pin` says by which PIN the student was let in, where one was asked for; `sealed` has the secret
    of a seal that begins here.
    """

    kind: ClassVar[str] = "resumed"
    pin: str | None = None
    sealed: str | None = None


@dataclass(frozen=True, slots=True)
class ClockLine(RecordLine):
    """The clock has run on, with nothing else to tell."""

    kind: ClassVar[str] = "clock"


@dataclass(frozen=True, slots=True)
class Statement(RecordLine):
    """No line of a record: an xAPI statement, which marking writes into a file that ends alike."""


_BARE: Mapping[str, type[RecordLine]] = {
    one.kind: one
    for one in (
        HintLine, LeaveLine, FillLine, UnitsNamedLine, UnitsAskedLine, EndLine, OpenLine, AwayLine,
        ClockLine, PictureAskedLine, PictureDoneLine,
    )
}  # fmt: skip
"""The kinds of lines that say no more than any line may."""


_TYPED: Mapping[str, type[EntryLine | WrittenLine]] = {
    EntryLine.kind: EntryLine,
    WrittenLine.kind: WrittenLine,
}


def fields_of(line: RecordLine) -> dict[str, object]:
    """Return a line as it is written, without its link."""
    said = {name: value for name, value in asdict(line).items() if value is not None}
    return {"kind": line.kind, **said}


def line_of(fields: Fields) -> RecordLine:
    """Return what a line says, whatever stands there."""
    about = _about(fields)
    kind = fields.get("kind")
    match kind:
        case str() if kind in _TYPED:
            return _TYPED[kind](*about, _text(fields.get("text")), _sureness(fields.get("sure")))
        case AnswerLine.kind:
            return AnswerLine(*about, _text(fields.get("question")), _text(fields.get("answer")))
        case MendLine.kind:
            slips = _text(fields.get("slip")), _numbers(fields.get("changes"))
            seconds = _text(fields.get("second")), _numbers(fields.get("second_changes"))
            return MendLine(*about, *slips, *seconds)
        case PlacedLine.kind:
            said = (_text(fields.get(name)) for name in ("item", "point", "direction"))
            return PlacedLine(*about, *said)
        case ResumedLine.kind:
            return ResumedLine(*about, _text(fields.get("pin")), _text(fields.get("sealed")))
        case TakenAwayLine.kind:
            return TakenAwayLine(*about, _text(fields.get("item")))
        case DrillBegun.kind | PracticeBegun.kind | PractisedLine.kind:
            return _of_beginning(kind, about, fields)
        case str() if kind in _BARE:
            return _BARE[kind](*about)
    is_statement = {"actor", "verb"} <= fields.keys()
    return (Statement if is_statement else RecordLine)(*about)


def _of_beginning(kind: str, about: _About, fields: Fields) -> RecordLine:
    """Return what a line of the beginning of a record says."""
    if kind == DrillBegun.kind:
        return _drill_begun(about, fields)
    if kind == PractisedLine.kind:
        return PractisedLine(*about, _wholes(fields.get("tasks")))
    is_own = isinstance(fields.get("own", {}), dict)
    return _practice_begun(about, fields) if is_own else RecordLine(*about)


def _about(fields: Fields) -> _About:
    time = str(fields["time"]) if "time" in fields else None
    host = (_text(fields["host"]) or "") if "host" in fields else None
    used, task, step = fields.get("used"), fields.get("task"), fields.get("step")
    return time, _seconds(used), _whole(task), _text(step), host


def _drill_begun(about: _About, fields: Fields) -> DrillBegun:
    said = (fields.get(name) for name in ("drill", "digest", "student", "start_key"))
    drill, digest, student, start_key = map(_text, said)
    tasks = fields.get("tasks")
    shown = tuple(map(_task_shown, tasks)) if isinstance(tasks, list) else ()
    number = _whole(fields.get("format"))
    items = fields.get("items")
    named = isinstance(items, list) and all(isinstance(one, str) for one in items)
    labels = tuple(items) if isinstance(items, list) and named else None
    ways = _text(fields.get("pin")), _text(fields.get("sealed"))
    return DrillBegun(*about, number, drill, digest, student, start_key, shown, labels, *ways)


def _practice_begun(about: _About, fields: Fields) -> PracticeBegun:
    own, guidance = fields.get("own"), fields.get("guidance")
    return PracticeBegun(
        *about,
        _whole(fields.get("format")),
        _text(fields.get("problem")),
        _text(fields.get("seed")),
        _texts(fields.get("givens")),
        {key: str(value) for key, value in own.items()} if isinstance(own, dict) else None,
        str(guidance) if "guidance" in fields else None,
        _whole(fields.get("shown")),
    )


def _task_shown(task: object) -> TaskShown:
    if not isinstance(task, dict):
        return TaskShown()
    return TaskShown(_text(task.get("problem")), _texts(task.get("givens")))


def _text(value: object) -> str | None:
    return value if isinstance(value, str) else None


def _texts(value: object) -> dict[str, str] | None:
    """Return a table of texts, by key."""
    if isinstance(value, dict) and all(isinstance(text, str) for text in value.values()):
        return value
    return None


def _numbers(value: object) -> dict[str, float] | None:
    """Return a table of numbers, by key."""
    if not isinstance(value, dict):
        return None
    numbers = {key: one for key, one in value.items() if type(one) in (int, float)}
    return numbers if len(numbers) == len(value) else None


def _whole(value: object) -> int | None:
    return value if isinstance(value, int) and not isinstance(value, bool) else None


def _wholes(value: object) -> tuple[int, ...]:
    """Return the whole numbers of a list; none where it is no such list."""
    numbers = [_whole(one) for one in value] if isinstance(value, list) else []
    found = tuple(one for one in numbers if one is not None)
    return found if len(found) == len(numbers) else ()


def _sureness(value: object) -> int | None:
    number = _whole(value)
    return number if number in range(1, SUREST + 1) else None


def _seconds(value: object) -> float | None:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    return float(value) if 0 <= value <= LONGEST_CLOCK else None
