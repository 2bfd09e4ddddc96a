"""What came of a sitting that was handed in: its code, its marks, and every line, for any face."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from leverstep.bench.bench import Bench
from leverstep.bench.record import RecordError, read_bytes
from leverstep.course.phrases import counted
from leverstep.dialogue.lookback import expected_told, held_wrong, slips_to_remember, sure_told
from leverstep.dialogue.meaning import meaning
from leverstep.dialogue.notice import code_told, handed_in, marks_told, of_marks
from leverstep.drill.drill import Task
from leverstep.drill.sitting import Sitting
from leverstep.marking.finding_marks import finding_marks, marked_steps
from leverstep.marking.marking import Marked, mark_record
from leverstep.marking.picture_marks import PictureMark, picture_marks
from leverstep.statics.step import Step
from leverstep.working.page import not_written, on_page
from leverstep.working.standing_lines import Line

_log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class ResultLine:
    """One line as it was handed in, and what is said of it."""

    step: Step
    line: Line
    told: str


@dataclass(frozen=True, slots=True)
class ResultTask:
    """One task: its heading with its marks, its lines, and what was not written, "" for none.
    Of the lines those come first that the student was sure of and wrong.

    `slips` are those made for sure, each told with what to remember; `meaning` says what the result
    means and `expected` what was expected, nothing where that would tell an answer. `pictures` says
    what came of the diagrams that the student drew and of a slip to be found, `sure` how often the
    student was sure, and rightly.
    """

    heading: str
    bench: Bench
    lines: tuple[ResultLine, ...]
    unwritten: str
    slips: tuple[str, ...]
    meaning: tuple[str, ...]
    pictures: tuple[str, ...] = ()
    expected: tuple[str, ...] = ()
    sure: tuple[str, ...] = ()

    @property
    def after(self) -> tuple[str, ...]:
        """Return what is said after the lines; `sure` is said before them."""
        unwritten = (f"Not written: {self.unwritten}.",) if self.unwritten else ()
        slips = (f"Slip: {told}" for told in self.slips)
        return (*unwritten, *self.pictures, *slips, *self.meaning, *self.expected)


@dataclass(frozen=True, slots=True)
class SittingResult:
    """A whole sitting: what was handed in, its code, and each task.

    `total` says the marks by the rules of the drill, "" where the record can't be read to count.
    """

    handed_in: str
    code: str
    total: str
    tasks: tuple[ResultTask, ...]


def marked_now(sitting: Sitting) -> Marked | None:
    """Return the marks of what is on the disk, as the teacher will count them; None without."""
    try:
        data = read_bytes(sitting.place)
        return mark_record(sitting.drill, sitting.catalogue, sitting.place.name, data)
    except RecordError:
        return None
    except Exception:  # noqa: BLE001  (it is handed in, whatever becomes of the marks)
        _log.exception("The marks of %s could not be counted", sitting.drill.id)
        return None


def result_of(sitting: Sitting, marked: Marked | None) -> SittingResult:
    """Return what came of a sitting that was handed in, with its marks where they are counted."""
    earned = [None] * len(sitting.tasks) if marked is None else list(marked.marks)
    return SittingResult(
        handed_in(sitting),
        code_told(sitting),
        "" if marked is None else marks_told(sitting.drill, marked),
        tuple(
            ResultTask(
                heading(sitting, task, marks), bench, tuple(_lines(bench)),
                not_written(bench.working, marked_steps(bench)),
                (*(slip.told for slip in slips_to_remember(bench)), *_remembered(pictures)),
                meaning(bench.question) if bench.is_all_right else (),
                (
                    *(f"{one.told} {one.amiss_told}".rstrip() for one in pictures),
                    *(one.told for one in finding_marks(task.number, bench)),
                ),
                expected_told(bench) if bench.is_all_right else (),
                sure_told(bench),
            )
            for task, bench, marks in zip(sitting.tasks, sitting.benches, earned, strict=True)
            for pictures in [picture_marks(sitting.drill.at(task.number), task.number, bench)]
        ),
    )  # fmt: skip


def _remembered(pictures: tuple[PictureMark, ...]) -> Iterator[str]:
    return (told for one in pictures for told in one.remember)


def task_title(sitting: Sitting, task: Task) -> str:
    """Return which task it is, with its title."""
    return f"Task {task.number} of {len(sitting.tasks)}: {task.question.problem.title}"


def heading(sitting: Sitting, task: Task, earned: Fraction | None = None) -> str:
    """Return which task it is, with its marks, and what was earned of them where that is told."""
    marks = counted(task.marks, "mark") if earned is None else of_marks(earned, task.marks)
    return f"{task_title(sitting, task)} ({marks})"


def _lines(bench: Bench) -> list[ResultLine]:
    lines, held = bench.working.lines, held_wrong(bench)
    handed_out = bench.working.filled if bench.mending else set()
    page = [step for step in on_page(bench.working) if not bench.shows(step.key)]
    own = [step for step in page if step.key in lines and step.key not in handed_out]
    own.sort(key=lambda step: step.key not in held)
    written = [(step, lines[step.key]) for step in own]
    return [ResultLine(step, line, bench.tell(line.verdict)) for step, line in written]
