"""What stands in an answer key: answers for quick marking, then each student's working in full."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from leverstep.course.decimals import number, percent
from leverstep.course.phrases import counted
from leverstep.course.problem import Question
from leverstep.documents.blocks import (
    NOT_GIVEN,
    Block,
    Heading,
    NewPage,
    Table,
    Whole,
    Words,
)
from leverstep.drill.drill import Task
from leverstep.erroneous.erroneous_working import ErroneousWorking, told_of_slip
from leverstep.free_body.body_picture import BodyPicture
from leverstep.free_body.picture_told import placed_told
from leverstep.marking.shares import marks_by_weight, marks_each
from leverstep.sheets.handout import EVERYONE, Copy, Handout, explained_line
from leverstep.sheets.sheet import heading
from leverstep.statics.choices import CONVENTIONS
from leverstep.statics.step import Step
from leverstep.working.guidance import Guidance, led_to
from leverstep.working.judge import accepted
from leverstep.working.page import givens, line_name
from leverstep.working.writing import quantity, value_text, worked_line

_COLUMNS = ("Line", "Worked out", "Accepted")


def answer_key(handout: Handout) -> Iterator[Block]:
    """Yield the answer key of all students; one working serves all who have the same numbers."""
    copies = handout.copies[:1] if handout.is_alike else handout.copies
    yield Heading(1, f"{handout.title}: answer key")
    yield Heading(2, "Answers for quick marking")
    for place in range(len(copies[0].tasks)):
        tasks = [(_whose(handout, copy), copy.tasks[place]) for copy in copies]
        for drawn in dict.fromkeys(one.drawn for _, one in tasks):
            those = [(whose, one) for whose, one in tasks if one.drawn == drawn]
            yield Whole((Heading(3, heading(copies[0], those[0][1])), _quick(handout, those)))
    for copy in copies:
        yield NewPage()
        yield Heading(2, f"Worked out for {_whose(handout, copy)}")
        for task in copy.tasks:
            yield _worked(handout, copy, task)


def _whose(handout: Handout, copy: Copy) -> str:
    return EVERYONE if len(handout.copies) > 1 and handout.is_alike else copy.whose or EVERYONE


def _quick(handout: Handout, tasks: list[tuple[str, Task]]) -> Table:
    """Return the final answers of one task, a row for each student; of lines that are shown none.

    Of each slip to find they are the line, the slip and the mending.
    """
    first = tasks[0][1]
    if first.slips_to_find:
        lines = ("First wrong line", "Second line")[: first.slips_to_find]
        columns: tuple[str, ...] = ("Student",)
        for line in lines:
            columns += (line, "Slip", "Mended")
        slips = tuple((whose, *_slip_row(handout, task)) for whose, task in tasks)
        return Table(columns, slips, frozenset(range(3, len(columns), 3)))
    asked = first.asked(Guidance.LINES) or first.question.derivation.asked
    shown = [
        one for one in led_to(first.question.derivation.asked, Guidance.LANDMARKS) if one in asked
    ] or asked
    rows = tuple((whose, *_row(task.question, shown)) for whose, task in tasks)
    columns = ("Student", *(line_name(step) for step in shown))
    return Table(columns, rows, frozenset(range(1, len(columns))))


def _row(question: Question, steps: Sequence[Step]) -> Iterator[str]:
    yield from (value_text(step, question.right[step.key]) for step in steps)


def _slip_row(handout: Handout, task: Task) -> Iterator[str]:
    """Yield of each slip its line, itself and the line as it should be; that none show, else."""
    slipped = handout.slipped.get(task.question)
    slips = () if slipped is None else slipped.slips
    for one in slips:
        yield line_name(one.step)
        yield told_of_slip(task.question, one.made)
        yield value_text(one.step, task.question.right[one.step.key])
    none = (NOT_GIVEN, "none would show: see the working", NOT_GIVEN)
    yield from none * (task.slips_to_find - len(slips))


def limits(question: Question, step: Step) -> str:
    """Return between what values a line is right, "" for one in words.

    The limits are rounded as entries are: typed as they stand, they are accepted.
    """
    if not step.kind.is_number:
        return ""
    band = accepted(question, step.key)
    return f"{quantity(band.low, '')} to {quantity(band.high, step.unit)}"


def _worked(handout: Handout, copy: Copy, task: Task) -> Whole:
    """Return the working of a task, with the marks of each line where it is marked."""
    question = task.question
    steps = question.derivation.asked
    lines = [
        (line_name(step), worked_line(question, step, question.right), limits(question, step))
        for step in steps
    ]
    title, terms = Heading(3, heading(copy, task)), _terms(question)
    if (slipped := handout.slipped.get(question)) is not None:
        told = Words(_slip_told(slipped, task))
        return Whole((title, told, Words(terms), Table(_COLUMNS, tuple(lines), frozenset({2}))))
    drawn = tuple(Words(_drawn(one)) for one in handout.to_draw(question))
    if question in handout.reasons:
        terms = f"Why {line_name(explained_line(task))} is so: {handout.reasons[question]} {terms}"
    if not task.marks:
        return Whole((title, *drawn, Words(terms), Table(_COLUMNS, tuple(lines), frozenset({2}))))
    asked = task.asked(handout.guidance)
    each = marks_by_weight(task, asked)
    marks = [number(each[step.key]) if step.key in each else "" for step in steps]
    rows = tuple((*line, earned) for line, earned in zip(lines, marks, strict=True))
    how = "by what they count" if len(set(each.values())) > 1 else "equally"
    shared = f"Marks: {number(task.marks)}, shared {how} by {counted(len(asked), 'line')}."
    table = Table((*_COLUMNS, "Marks"), rows, frozenset({2, 3}))
    return Whole((title, *drawn, Words(f"{terms} {shared}"), table))


def _drawn(picture: BodyPicture) -> str:
    """Return what belongs in a free-body diagram, and how."""
    things = (placed_told(picture, picture.right_placing(one)) for one in picture.missing)
    return f"Free-body diagram of the {picture.question.problem.segment}: {'; '.join(things)}."


def _slip_told(working: ErroneousWorking, task: Task) -> str:
    """Return what is to be found in somebody else's working, and what that earns."""
    names = ("The first line that is wrong", "The line with the second slip")
    told = "".join(
        f"{name}: {line_name(one.step)}. The slip: {told_of_slip(working.question, one.made)}. "
        f"The reason, in whatever words: {one.made.slip.reason} "
        for name, one in zip(names, working.slips, strict=False)
    )
    is_one = len(working.slips) == 1
    if not task.marks:
        mended = "the line is" if is_one else "the lines are"
        return f"{told}Mended, {mended} as worked out here."
    each = number(marks_each(task, Fraction(3 * len(working.slips))))
    which = "Line, slip and mending" if is_one else "Each line, slip and mending"
    ends = "marks each; the reason bears" if is_one else "marks; the reasons bear"
    return f"{told}{which}: {each} {ends} none of {'its' if is_one else 'their'} own."


def _terms(question: Question) -> str:
    """Return what is given, and how widely an answer is accepted with which constants."""
    share = percent(question.problem.tolerance)
    given = givens(question)
    told = f"Given: {' · '.join(given)}. " if given else ""
    told += f"Accepted within {share}"
    constants = "; ".join(_constants(question))
    return f"{told}, with {constants}." if constants else f"{told}."


def _constants(question: Question) -> Iterator[str]:
    """Yield in words which values of each constant count: `g = 9.81 or 9.8 m/s²`."""
    for name in question.constants:
        convention = CONVENTIONS[name]
        values = " or ".join(f"{value:g}" for value in question.accepted[name])
        sign = f"{convention.sign} = " if convention.sign else ""
        yield f"{sign}{values} {convention.unit}"
