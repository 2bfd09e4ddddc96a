"""The rules of a drill and its clock in words, for every face alike."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from pathlib import Path

from leverstep.bench.record_lines import Worked
from leverstep.course.decimals import percent
from leverstep.course.phrases import capital, counted, listed, moment, tasks_told, times
from leverstep.course.symbols import sign_of
from leverstep.dialogue.working_dialogue import NO_CALCULATOR
from leverstep.drill.allowance import Late
from leverstep.drill.benches import rules_of
from leverstep.drill.drill import Drill, DrillClock, Feedback, Hints, Item
from leverstep.drill.earlier import folder_of
from leverstep.drill.lines import left_in
from leverstep.drill.sitting import NextSitting, Sitting
from leverstep.drill.withdrawn import all_withdrawn_told
from leverstep.marking.marking import Marked
from leverstep.questions.sureness import MARKS
from leverstep.statics.kinds import KINDS
from leverstep.working.conversions import CLEAN_IN_A_ROW
from leverstep.working.guidance import Guidance
from leverstep.working.rules import Conversions, Pictures, Reasons, Rung, Units

WARNED_AT = (60, 300)
"""Seconds: a warning is due when no more than so many are left."""

GOES_ON = "You have a sitting that is not handed in yet. It goes on from where you left it."

_A_DAY = 24 * 60

_RUNGS = {
    Rung.LOOK: "where to look",
    Rung.HAPPENED: "the likely slip",
    Rung.FORMULA: "the formula",
    Rung.WORKED: "the line worked out",
}

_LED = {
    Guidance.LINES: "Every line is asked for, one after the other.",
    Guidance.LANDMARKS: "Only the main results are asked for; which lines lead there is up to you.",
    Guidance.BLANK: "The page is blank, and which lines you write is up to you.",
}
"""How far students are led, where that is not told with the first lines that are shown."""


def rules_in_words(
    drill: Drill, folder: Path | str | None, hand_in: str, leave: str
) -> Iterator[str]:
    """Yield the rules, a sentence or two at a time.

    Args:
        drill: whose rules they are.
        folder: where the record will lie, None for the user's data folder; a text says it in words.
        hand_in: how the face at hand has it handed in, as a clause.
        leave: how it is left, likewise.
    """
    number = counted(len(drill.task_items), "task")
    yield f"{number}, {counted(drill.marks, 'mark')} in all. {_marks(drill)}"
    yield _time(drill)
    if drill.late is not None:
        yield _late(drill.late)
    if drill.start_word:
        yield "To begin you need the start word, given out in the room; to go on you do not."
    if drill.own_numbers:
        yield "Your numbers come from a file of your own, which your teacher gave you."
    if drill.pins is not None:
        yield "You are asked for your PIN whenever you begin or go on. Tell it to nobody."
    yield _tries(drill)
    yield _hints(drill)
    if drill.feedback is Feedback.EACH:
        yield _reasons(drill)
    yield from _less_to_type(drill)
    if drill.picture is Pictures.ASKED:
        yield _pictures(drill)
    if drill.picture is Pictures.OFF:
        yield "No free-body diagram is shown. You may draw your own on paper."
    yield from _slips_to_find(drill)
    yield from _examples(drill)
    yield from _unlike(drill)
    yield from _otherwise(drill)
    yield from all_withdrawn_told(drill)
    yield _calculator(drill)
    yield from _thinking(drill)
    yield _sittings(drill)
    yield _feedback(drill)
    place = folder if isinstance(folder, str) else folder_of(drill, folder)
    yield f"Every line is saved before it is judged. Your record is in {place}"
    if drill.seal:
        yield "Each line of it is sealed: a change made later shows when it is marked."
    yield f"To hand in, {hand_in}. After that nothing can be changed."
    yield f"To leave, {leave}: you can come back until you hand in."


def _otherwise(drill: Drill) -> Iterator[str]:
    """Yield what is otherwise in some tasks, by the rules of their own."""
    usual, unlike = set(_by_rules(drill)), dict[tuple[str, ...], list[int]]()
    for number in range(1, len(drill.task_items) + 1):
        told = tuple(one for one in _by_rules(drill.at(number)) if one not in usual)
        unlike.setdefault(told, []).append(number)
    for sentences, numbers in unlike.items():
        if sentences:
            yield f"In {tasks_told(numbers)} it is otherwise: {' '.join(sentences)}"


def _by_rules(drill: Drill) -> Iterator[str]:
    """Yield what follows from the rules that an item may have of its own."""
    if drill.guidance in _LED:
        yield _LED[drill.guidance]
    yield from (_marks(drill), _tries(drill), _hints(drill))
    if drill.feedback is Feedback.EACH:
        yield _reasons(drill)
    yield from (_calculator(drill), _feedback(drill))


def _calculator(drill: Drill) -> str:
    """Return whether a calculator is at hand."""
    if drill.calculator:
        return (
            "A calculator is at hand; what you work out with it is not recorded, and costs nothing."
        )
    return NO_CALCULATOR


def _feedback(drill: Drill) -> str:
    """Return when it is told what came of a line."""
    if rules_of(drill).tells:
        return "You are told at once whether each line is right."
    return "You are told which lines are right once you have handed in."


def _marks(drill: Drill) -> str:
    share = drill.scheme.follow_through
    earns = "earns its marks too" if share == 1 else f"earns {percent(share)} of its marks"
    return f"A line that is right with your own earlier value {earns}."


def _time(drill: Drill) -> str:
    told = "There is no time limit."
    if drill.minutes is not None:
        goes = "stops" if drill.clock is DrillClock.WORKING else "runs on"
        told = (
            f"You have {counted(drill.minutes, 'minute')}, and the clock {goes} while you are away."
        )
        told += " It starts when you press Enter. When time is up, what you have is handed in."
    if drill.closes is not None:
        told += f" It closes on {moment(drill.closes)}."
    return told


def _late(late: Late) -> str:
    """Return when it is due, and what is lost after that."""
    grace = f", and {counted(late.grace, 'minute')} of grace" if late.grace else ""
    told = f"It is due on {moment(late.due)}{grace}. Each day begun after that costs "
    told += f"{percent(late.per_day)} of the marks"
    return told + (f", down to {percent(late.floor)} of them." if late.floor else ".")


def _tries(drill: Drill) -> str:
    told = "A line may be tried as often as you like"
    if drill.attempts is not None:
        told = f"A line may be tried {times(drill.attempts)}"
    if drill.feedback is Feedback.END:
        same = " The same entry again does not count as a try." if drill.attempts else ""
        return f"{told}.{same} The last entry on a line is the one that counts."
    cost = drill.scheme.wrong_try
    if drill.attempts == 1:
        told += "; a wrong entry can't be changed."
    else:
        told += f"; a wrong try costs {f'{percent(cost)} of its marks' if cost else 'nothing'}."
    free = " A right entry, or the same entry again, uses up no try."
    return told + (free if drill.attempts else "")


def _hints(drill: Drill) -> str:
    if not rules_of(drill).hints:
        return "There are no hints."
    if drill.hints is Hints.FREE:
        return "Hints cost nothing."
    costs = drill.scheme.hint
    told = f"Each hint costs {percent(costs[0])} of the marks of its line"
    if len(set(costs)) > 1:
        told = "A hint costs part of the marks of its line: " + ", ".join(
            f"{percent(cost)} for {_RUNGS[rung]}" for rung, cost in zip(Rung, costs, strict=True)
        )
    if drill.guidance.free:
        told += "; if that is not asked for, of the first line asked for that still needs it"
    return f"{told}."


def _reasons(drill: Drill) -> str:
    """Return when a likely slip is named, where verdicts are told at all."""
    if drill.reasons is Reasons.AT_ONCE:
        return "The likely slip behind a wrong line is named at once."
    late = "the likely slip is named at the end"
    asked = "a hint names the likely slip" if rules_of(drill).hints else late
    return f"You are told where a line is wrong; {asked}."


def _less_to_type(drill: Drill) -> Iterator[str]:
    """Yield which lines are filled in, and how a number without a unit is taken."""
    match rules_of(drill).conversions:
        case Conversions.GIVEN:
            yield "Lines that only convert a unit are filled in for you; they carry no marks."
        case Conversions.UNTIL_CLEAN:
            yield (
                f"Once you got {CLEAN_IN_A_ROW} lines in a row that only convert one unit right at "
                "the first try, such lines are filled in for you; these carry no marks."
            )
    if drill.units is Units.NAMED:
        yield "A number without a unit is taken in the unit that the line asks for."


def _thinking(drill: Drill) -> Iterator[str]:
    """Yield what is asked beside the lines."""
    if drill.predict:
        yield (
            "Before the first line of a task you are asked what you expect: a digit each, without "
            "marks."
        )
    if drill.sure:
        yield (
            "With each entry you are asked how sure you are, from 1 to 3; that costs nothing. A "
            f"line of a blank sheet, or of several that are pasted, ends with {MARKS} instead."
        )
    if drill.sense and rules_of(drill).tells:
        yield (
            "Once all lines of a task are right, you are asked whether the result makes sense: a "
            "digit each, without marks."
        )


def _pictures(drill: Drill) -> str:
    """Return that the free-body diagrams are the student's own work, and how they are marked."""
    told = (
        "Before the first line you draw the free-body diagram. It is marked as one line more, each "
        "thing in it with an equal share; one that does not belong costs as much."
    )
    if drill.feedback is Feedback.EACH:
        return f"{told} It may be changed until it is complete, or skipped."
    return f"{told} It may be changed until you say that it is complete, or skip it."


def _slips_to_find(drill: Drill) -> Iterator[str]:
    """Yield in which tasks slips are to be found, nothing where in none."""
    if tasks := _tasks_told(drill, lambda item: item.slips_to_find == 1):
        yield (
            f"In {tasks} you find the slip in somebody else's working: the line, the slip and its "
            "mending each earn a third of the marks. Both answers count as they are first given."
        )
    if tasks := _tasks_told(drill, lambda item: item.slips_to_find == 2):
        yield (
            f"In {tasks} you find two slips in somebody else's working: each line, each slip and "
            "each mending earns a sixth of the marks, or a third where there is but one slip. "
            "Answers count as they are first given."
        )


def _examples(drill: Drill) -> Iterator[str]:
    """Yield in which tasks the first lines are shown, nothing where in none."""
    if tasks := _tasks_told(drill, lambda item: item.open_lines == 0):
        yield (
            f"In {tasks} the whole working is shown to you, line by line, each with its reason. "
            "You read it, and now and then you are asked why a line is so: a digit. There are no "
            "marks for that."
        )
    if tasks := _tasks_told(drill, lambda item: bool(item.open_lines)):
        drawn = ", and no diagram is drawn" if drill.picture is Pictures.ASKED else ""
        yield (
            f"In {tasks} the first lines are shown to you, each with its reason; they carry no "
            f"marks{drawn}. Now and then you are asked why one is so: a digit, without marks."
        )


def _unlike(drill: Drill) -> Iterator[str]:
    """Yield in which tasks students have unlike problems, and in which lines count unlike."""
    if tasks := _tasks_told(drill, lambda item: bool(item.others)):
        yield f"In {tasks} others may have a different problem from yours."
    for number, item in enumerate(drill.task_items, 1):
        if item.weights:
            named = {_called(name): one for name, one in item.weights.items()}
            yield f"The lines of task {number} share its marks {how_shared(named)}."


def _called(name: str) -> str:
    """Return what lines are called that have a weight, by their key or what kind they are."""
    return name.replace("_", " ") if name in KINDS else sign_of(name)


def how_shared(counts: Mapping[str, Fraction]) -> str:
    """Return how lines share the marks of a task, by what those count that are named."""
    unlike = [f"{name} {float(one):g}" for name, one in counts.items() if one != 1]
    return f"by what they count: {listed(unlike)}, any other line 1" if unlike else "evenly"


def _tasks_told(drill: Drill, fits: Callable[[Item], bool]) -> str:
    """Return which tasks are of items that fit: `tasks 2 and 3`; "" for none."""
    items = enumerate(drill.task_items, 1)
    return tasks_told(number for number, item in items if fits(item))


def hint_cost(drill: Drill, rung: Rung, line: str = "") -> str:
    """Return what a hint costs that tells so much, to be said with it; "" where it costs nothing.

    `line` is what the line is called that bears it, "" for the one at hand.
    """
    cost = drill.scheme.hint[rung]
    if drill.hints is not Hints.COST or not cost:
        return ""
    whose = f"the marks of {line}" if line else "this line's marks"
    return f"{percent(cost)} of {whose}"


def _sittings(drill: Drill) -> str:
    if drill.sittings == 1:
        return "You may sit it once."
    told = "You may sit it as often as you like"
    if drill.sittings is not None:
        told = f"You may sit it {times(drill.sittings)}"
    return f"{told}, each time with the same numbers; the {drill.scheme.counts} one counts."


def turn_told(drill: Drill, turn: NextSitting) -> str:
    """Return which sitting it is where it is not the first, and how far it came; or ""."""
    told = []
    if turn.number > 1:
        of = f" of {drill.sittings}" if drill.sittings else ""
        told.append(f"This is sitting {turn.number}{of}; the numbers are the same as before.")
    if turn.found is not None:
        entries = sum(isinstance(line, Worked) for line in turn.found.lines)
        far = f"{GOES_ON} So far: {counted(entries, 'entry', 'entries')}"
        if left := time_left(left_in(turn.found, drill)):
            far += f", {left}"
        told.append(f"{far}.")
    return " ".join(told)


def time_left(seconds: float | None) -> str:
    """Return the time that is left; "" where there is no limit, or none for today."""
    whole = 0 if seconds is None else math.ceil(seconds)
    minutes, rest = divmod(whole, 60)
    if seconds is None or whole > 60 * _A_DAY:
        return ""
    if not whole:
        return "time is up"
    if whole < 60:
        return f"{counted(whole, 'second')} left"
    if whole < WARNED_AT[-1]:
        return f"{minutes} min {rest:02} s left" if rest else f"{minutes} min left"
    hours, minutes = divmod(math.ceil(whole / 60), 60)
    return f"{hours} h {minutes:02} min left" if hours else f"{minutes} min left"


def warned_at(seconds: float | None) -> int:
    """Return which of WARNED_AT is reached, 0 while none is or when the time is up."""
    return next((most for most in WARNED_AT if seconds and seconds <= most), 0)


def warning(seconds: float | None) -> str:
    """Return a sentence when little time is left, else ""; it is true to some seconds."""
    if not seconds or not warned_at(seconds):
        return ""
    whole = 5 * math.ceil(seconds / 5) if seconds > 10 else math.ceil(seconds)
    minutes, rest = divmod(whole, 60)
    told = " and ".join(
        counted(n, name) for n, name in ((minutes, "minute"), (rest, "second")) if n
    )
    return f"{told} {'is' if told in ('1 minute', '1 second') else 'are'} left."


def tasks_left(sitting: Sitting) -> str:
    """Return how many tasks have lines still to be done."""
    number = len(sitting.open_tasks)
    return f"{counted(number, 'task')} left" if number else "all tasks done"


def open_still(sitting: Sitting) -> str:
    """Return what to ask before a sitting is handed in."""
    told = "Every line is done."
    if tasks := tasks_told(sitting.open_tasks):
        have = "has" if len(sitting.open_tasks) == 1 else "have"
        told = f"{capital(tasks)} {have} lines still to do."
    return f"{told} Hand in now? After that nothing can be changed."


def command(path: Path, folder: Path | None, in_lines: bool) -> str:
    """Return the command that resumes a sitting, in plain lines where it was begun so."""
    records = "" if folder is None else f' --records "{folder}"'
    return f'leverstep drill sit "{path}"{records}{" --plain" if in_lines else ""}'


def left_behind(sitting: Sitting, path: Path, in_lines: bool = False) -> tuple[str, ...]:
    """Return what to say when a sitting is left; `path` is that of the drill's file."""
    back = command(path, sitting.folder, in_lines)
    kept = f"Every line that you entered is saved at {sitting.place}"
    return (
        f"You have left {sitting.drill.title}; it is not handed in yet.",
        kept if sitting.is_kept else f"{record_gone(sitting)} Tell your teacher.",
        f"{_while_away(sitting)}To come back: {back}",
    )


def record_gone(sitting: Sitting) -> str:
    """Return what to say where the record is not there as it was written."""
    return f"The record is no longer at {sitting.place}: it was removed or replaced."


def _while_away(sitting: Sitting) -> str:
    """Return how time goes on while a sitting is left, "" where there is no limit."""
    drill, told = sitting.drill, ""
    if drill.minutes is not None:
        goes = "is stopped" if drill.clock is DrillClock.WORKING else "runs on"
        told = f"The clock {goes} ({time_left(sitting.left_by_clock)}). "
    return told + (f"It closes on {moment(drill.closes)}. " if drill.closes else "")


def of_marks(earned: Fraction, most: Fraction) -> str:
    """Return what was earned of what there is: `4.5 of 6 marks`."""
    return f"{float(earned):g} of {counted(most, 'mark')}"


def marks_told(drill: Drill, marked: Marked) -> str:
    """Return what a sitting earned by the rules that it was sat under."""
    return f"Under the rules of this drill: {of_marks(marked.total, drill.marks)}."


def code_told(sitting: Sitting) -> str:
    """Return the code of a sitting that was handed in, and what it is for."""
    return f"Its code is {sitting.code}. Write it down: your teacher may ask for it."


def handed_in(sitting: Sitting) -> str:
    """Return how much of the student's own was handed in, and where it lies."""
    whose = f"{sitting.student}, {sitting.name}" if sitting.name else sitting.student
    lines = sum(len(bench.working.written) for bench in sitting.benches)
    tasks = counted(len(sitting.tasks), "task")
    return (
        f"Handed in: {sitting.drill.title}, of {whose}: {counted(lines, 'line')} in {tasks}. "
        f"The record is at {sitting.place}"
    )
