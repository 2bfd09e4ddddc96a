"""What a student of a drill will see, worked out, and how far the answers spread over a class."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from leverstep.bench.bench import Bench
from leverstep.bench.replaying import keep_nothing
from leverstep.course.phrases import counted, listed
from leverstep.dialogue.notice import how_shared, rules_in_words
from leverstep.drill.benches import benches_of
from leverstep.drill.drill import Drill, Task, Withdrawn
from leverstep.erroneous.erroneous_working import erroneous_working, told_of_slip
from leverstep.marking.finding_marks import marked_steps
from leverstep.slips.catalogue import Catalogue
from leverstep.working.cautions import CAUTION
from leverstep.working.page import line_name
from leverstep.working.rules import Pictures
from leverstep.working.writing import quantity, value_text, worked_line

ANYBODY = "preview"
"""Whose numbers are shown where nobody is named."""

_RECORD_IN = "the folder that is named here."
"""Where the record lies, as it is known only where the drill is sat."""

WITHOUT_ROSTER = 30
"""So many made-up students show the spread where there is no roster."""


def preview(drill: Drill, catalogue: Catalogue, student: str = "") -> Iterator[str]:
    """Yield the rules and the tasks of a student as lines of text, then the spread of answers.

    Args:
        drill: the drill.
        catalogue: the slips that somebody else may have made, where one is to be found.
        student: whose numbers to show; the first of the roster, or somebody, unless given.
    """
    whose = whose_numbers(drill, student)
    tasks = drill.tasks(whose)
    yield drill.title
    yield ""
    yield "What students are told before they begin:"
    yield f"  {CAUTION}"
    told = rules_in_words(drill, _RECORD_IN, "press F10", "press Esc")
    yield from (f"  {rule}" for rule in told)
    yield ""
    name = drill.students.get(whose, "")
    yield f"The numbers of {', '.join(part for part in (f'the id {whose}', name) if part)}:"
    if not drill.is_open_to(whose):
        yield f"{whose} is not on the roster, and can't sit this drill where the roster is in use."
    benches = benches_of(drill, catalogue, tasks, keep_nothing)
    for task, bench in zip(tasks, benches, strict=True):
        yield from _worked(task)
        item = drill.task_items[task.number - 1]
        if item.others:
            bank = listed([problem.id for problem in item.bank])
            yield f"  Drawn from a bank: {task.drawn}, of {bank}"
        elif item.is_drawn:
            yield f"  Drawn for a mixed set: {item.problem.id}"
        if item.pair is not None:
            yield f"  Pair of: {item.pair.title} ({item.pair.id})"
        if not task.slips_to_find and task.withdrawn is Withdrawn.NO:
            yield f"  {_asked_for(drill, task, bench)}"
        if task.slips_to_find:
            yield from _slipped(task, catalogue)
    yield from _spread(drill)


def whose_numbers(drill: Drill, student: str) -> str:
    """Return the id of whose numbers are shown, where "" is the first of the roster, or anybody."""
    return drill.listed(student or next(iter(drill.students), ANYBODY))


def _worked(task: Task) -> Iterator[str]:
    question = task.question
    values = question.right
    yield ""
    yield f"Task {task.number}: {question.problem.title} ({float(task.marks):g} marks)"
    yield question.statement
    for step in question.derivation.asked:
        name = f"{line_name(step)}: " if not step.kind.is_number else ""
        yield f"  {name}{worked_line(question, step, values)}"


def _asked_for(drill: Drill, task: Task, bench: Bench) -> str:
    """Return which lines are asked for, and so share the marks."""
    asked = marked_steps(bench)
    if not asked:
        return "Asked for: nothing. Every line is shown, each with its reason, without marks."
    names = "every line" if asked == bench.working.steps else ", ".join(map(line_name, asked))
    counts = {line_name(step): task.weight(step) for step in asked}
    shared = f"the {counted(task.marks, 'mark')} {how_shared(counts)}"
    also = " with the free-body diagram" if drill.picture is Pictures.ASKED else ""
    if not task.shown:
        return f"Asked for: {names}. They share {shared}{also}."
    return f"Asked for: {names}. They share {shared}; the {task.shown} before them are shown."


def _slipped(task: Task, catalogue: Catalogue) -> Iterator[str]:
    """Yield the lines that go wrong in somebody else's working, and the slip on each."""
    working = erroneous_working(task.question, catalogue, task.slips_to_find)
    if working is None:
        return
    for name, one in zip(("First wrong", "Wrong by a second slip"), working.slips, strict=False):
        yield f"  {name}: {working.line(one.step.key).text}"
        yield f"  The slip: {told_of_slip(task.question, one.made)}"


def _spread(drill: Drill) -> Iterator[str]:
    """Yield the least and the largest answer of each line over the class, by problem of a bank."""
    students = list(drill.students) or [f"student {n}" for n in range(1, WITHOUT_ROSTER + 1)]
    yield ""
    yield f"Over {len(students)}{'' if drill.students else ' made-up'} students:"
    found: dict[tuple[int, str], dict[str, list[float]]] = {}
    examples: dict[tuple[int, str], Task] = {}
    for student in students:
        for task in drill.tasks(student):
            examples.setdefault((task.number, task.drawn), task)
            lines = found.setdefault((task.number, task.drawn), {})
            for key, value in task.question.right.items():
                lines.setdefault(key, []).append(value)
    for place in sorted(found):
        yield from _spread_of(examples[place], found[place])


def _spread_of(task: Task, found: Mapping[str, list[float]]) -> Iterator[str]:
    """Yield the least and the largest answer of each line of a task."""
    if task.drawn:
        yield f"  task {task.number}, {task.drawn}:"
    for step in task.question.derivation.asked:
        if values := found.get(step.key):
            low, high = min(values), max(values)
            told = f"{quantity(low, '', 3)} to {quantity(high, step.unit, 3)}"
            if not step.kind.is_number:
                told = " or ".join(dict.fromkeys(value_text(step, v) for v in sorted(values)))
            yield f"  task {task.number}  {step.key:9} {told}"
