"""One student's account of a sitting: each task with its lines, marks, and what was not right."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from leverstep.course.problem import Question
from leverstep.drill.drill import Drill, Task, Withdrawn
from leverstep.drill.withdrawn import withdrawn_told
from leverstep.free_body.picture_told import Amiss
from leverstep.marking.finding_marks import FindingMark
from leverstep.marking.marking import Entry, LineMark, Marked, tasks_marked
from leverstep.marking.picture_marks import PictureMark
from leverstep.marking.shares import NOTHING, WHOLE, marks_each, marks_of, weight_of
from leverstep.slips.catalogue import Catalogue, Slip
from leverstep.statics.step import Step
from leverstep.working.page import line_name
from leverstep.working.verdict import Outcome
from leverstep.working.wording import ask
from leverstep.working.writing import worked_line


@dataclass(frozen=True, slots=True)
class LineAccount:
    """One line: what stands on it, what came of it, and what it earned.

    `marks` is None for a line that was not asked for. `worked` is the line worked out, "" where it
    is right; `slip` is what a wrong line was told to look like.
    """

    name: str
    asks: str
    typed: str
    outcome: Outcome | None
    tries: int
    hints: int
    marks: Fraction | None
    worked: str
    slip: Slip | None


@dataclass(frozen=True, slots=True)
class BesideAccount:
    """A diagram that the student drew, or what was found of a slip: what came of it, its marks.

    `remember` says what to remember of each slip in a diagram, `amiss` is what is not right in it,
    and `name` what it is called there.
    """

    told: str
    marks: Fraction
    remember: tuple[str, ...] = ()
    amiss: tuple[Amiss, ...] = ()
    name: str = ""


@dataclass(frozen=True, slots=True)
class TaskAccount:
    """One task: its statement with the student's numbers, its lines, and its marks.

    `withdrawn` says that it was withdrawn and what it earns, "" where it was not; `by_record`
    whether the numbers are those of the record alone, since the file has others now; `by_hand`
    whether the marks were set by hand. `lost_late` is how many of the marks earned were lost for
    lateness; `absent` says that it was not in the drill when that was sat, so that it has no lines,
    and `unknown` that its problem is no more in the bank, likewise.
    """

    number: int
    title: str
    statement: str
    lines: tuple[LineAccount, ...]
    marks: Fraction
    out_of: Fraction
    beside: tuple[BesideAccount, ...] = ()
    withdrawn: str = ""
    by_record: bool = False
    by_hand: bool = False
    lost_late: Fraction = Fraction(0)
    absent: bool = False
    unknown: bool = False


def account(drill: Drill, marked: Marked, catalogue: Catalogue) -> Iterator[TaskAccount]:
    """Yield the account of each task of a sitting."""
    for task, marks in zip(tasks_marked(drill, marked), marked.marks, strict=True):
        question = task.question
        absent = task.number in marked.absent
        earning = marked.earning(task.number)
        each = marks_each(task, weight_of(earning)) if earning else NOTHING
        lines = () if absent else tuple(_lines(task, marked, catalogue, each))
        beside = tuple(_beside(one, one.share * each) for one in marked.beside(task.number))
        yield TaskAccount(
            task.number, question.problem.title, question.statement, lines, marks, task.marks,
            beside, _withdrawn_told(drill, task), task.number in marked.unproved,
            task.number in marked.by_hand, _lost_late(task, marked, marks), absent,
            task.number in marked.unknown,
        )  # fmt: skip


def _withdrawn_told(drill: Drill, task: Task) -> str:
    """Return that a task was withdrawn for this student, "" where it was not."""
    told = withdrawn_told(drill, task.number)
    is_faulty = not told and task.withdrawn is Withdrawn.FULL_MARKS
    return "This problem has been withdrawn: you have full marks for it." if is_faulty else told


def _lost_late(task: Task, marked: Marked, marks: Fraction) -> Fraction:
    """Return how many marks of a task were lost for lateness, to hundredths; 0 for none."""
    if task.number in marked.by_hand or not marked.lost_late:
        return NOTHING
    return marks_of(task, marked.earning(task.number), WHOLE) - marks


def _beside(one: PictureMark | FindingMark, marks: Fraction) -> BesideAccount:
    if isinstance(one, FindingMark):
        return BesideAccount(one.told, marks)
    return BesideAccount(one.told, marks, one.remember, one.amiss, one.name)


def _lines(
    task: Task, marked: Marked, catalogue: Catalogue, each: Fraction
) -> Iterator[LineAccount]:
    """Yield the lines asked for or written, in the order of the working.

    One that counts 1 has `each` marks.
    """
    asked = {line.step: line for line in marked.lines if line.task == task.number}
    judged: dict[str, list[Entry]] = {}
    for entry in marked.entries:
        if entry.task == task.number and entry.counts:
            judged.setdefault(entry.step, []).append(entry)
    for step in task.question.derivation.asked:
        mark, entries = asked.get(step.key), judged.get(step.key, [])
        if mark is not None or entries:
            marks = mark.share * mark.weight * each if mark else None
            yield _line(task.question, step, (mark, entries), marks, catalogue)


def _line(
    question: Question, step: Step, made: tuple[LineMark | None, Sequence[Entry]],
    marks: Fraction | None, catalogue: Catalogue,
) -> LineAccount:  # fmt: skip
    """Return what came of a line: its mark, if it was asked for, and the entries there."""
    mark, entries = made
    last = entries[-1] if entries else None
    outcome = mark.outcome if mark else entries[-1].outcome
    is_right = outcome is Outcome.RIGHT
    return LineAccount(
        name=line_name(step),
        asks=ask(question, step),
        typed=last.text if last else "",
        outcome=outcome,
        tries=len(entries),
        hints=mark.hints if mark else 0,
        marks=marks,
        worked="" if is_right else worked_line(question, step, question.right),
        slip=_slip(last, outcome, catalogue),
    )


def _slip(last: Entry | None, outcome: Outcome | None, catalogue: Catalogue) -> Slip | None:
    """Return the slip that a line that is still wrong was told to look like."""
    if last is None or outcome is not Outcome.WRONG or not last.sure or not last.slips:
        return None
    return catalogue.slips[last.slips[0]]
