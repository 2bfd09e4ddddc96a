"""The benches of a sitting: one for each task, under the rules of its drill."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from weakref import WeakSet

from leverstep.bench.bench import Bench
from leverstep.bench.questions_beside import Keep
from leverstep.drill.drill import Drill, Feedback, Hints, Task
from leverstep.slips.catalogue import Catalogue
from leverstep.slips.habits import Habits
from leverstep.working.conversions import CleanConversions
from leverstep.working.guidance import Guidance
from leverstep.working.rules import Conversions, Pictures, Rules


def rules_of(drill: Drill) -> Rules:
    """Return the rules that each working of a drill is under."""
    tells, hints = drill.feedback is Feedback.EACH, drill.hints is not Hints.NONE
    conversions = drill.conversions
    if conversions is Conversions.UNTIL_CLEAN and not tells:  # what is filled in would tell
        conversions = Conversions.ASKED
    return Rules(
        drill.attempts, tells, hints and tells, marked=True, reasons=drill.reasons,
        conversions=conversions, units=drill.units, calculator=drill.calculator,
        pictures=drill.picture,
        thinking=drill.thinking,
    )  # fmt: skip


def benches_of(
    drill: Drill, catalogue: Catalogue, tasks: Iterable[Task], keep: Keep
) -> tuple[Bench, ...]:
    """Return a bench for each task; what is kept at one goes to `keep` with its number.

    Lines are filled in at all of them as soon as the rules say so, here and as entries are taken:
    never by what a record says, so that marking comes to the same. Where slips are to be found, the
    lines to be mended are asked for by themselves; neither there nor where the first lines are
    shown is a diagram drawn. What is shown of habits and clean conversions at tasks that tell comes
    of these tasks alone.
    """
    beside = {tells: (Habits(), CleanConversions()) for tells in (True, False)}

    def keeper(number: int) -> Keep:
        return lambda line: keep(replace(line, task=number))

    def bench_of(task: Task) -> DrillBench:
        own = drill.at(task.number)
        rules = rules_of(own)
        if rules.pictures is Pictures.ASKED and (task.slips_to_find or task.shown):
            rules = replace(rules, pictures=Pictures.GIVEN)
        habits, conversions = beside[rules.tells]
        return DrillBench(
            task.question, catalogue, keeper(task.number), _guidance_of(own, task), habits, rules,
            conversions, slips_to_find=task.slips_to_find, shown=task.shown,
        )  # fmt: skip

    benches = tuple(map(bench_of, tasks))
    beside_one_another = WeakSet(benches)
    for bench in benches:
        bench.beside = beside_one_another
        bench.fill()
    return benches


def _guidance_of(drill: Drill, task: Task) -> Guidance:
    """Return how far a student is led in a task."""
    if task.slips_to_find:
        return Guidance.LINES
    if task.open_lines is None:
        return drill.guidance
    return Guidance.FADING if task.shown else Guidance.LINES


class DrillBench(Bench):
    """Where a task of a drill is worked, `beside` the benches of all its tasks.

    They hold one another weakly, so that those of a record go as soon as it is marked.
    """

    beside: WeakSet[DrillBench]

    def fill(self) -> None:
        """Fill in the lines that are to be filled in now."""
        for key in self.to_fill:
            self.working.fill(key)

    def taken(self) -> None:
        """Fill in, at every task, what an entry shows to be known."""
        if self.working.rules.conversions is not Conversions.ASKED:
            for bench in self.beside:
                bench.fill()
