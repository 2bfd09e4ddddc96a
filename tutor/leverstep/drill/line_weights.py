"""What the lines of an item count beside one another, as its file has it."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from leverstep.course.faults import Reader
from leverstep.course.problem import SAMPLE, Problem
from leverstep.drill.drill import Item, TaskForm, lines_asked
from leverstep.drill.values import number_in
from leverstep.statics.step import Step
from leverstep.working.guidance import Guidance

LEAST, MOST = Fraction(1, 100), 100
"""What a line may count; one that is asked for counts something."""

_SAMPLES = (SAMPLE, "2", "3", "4", "5")
"""Numbers that a problem is tried with, since some may open other lines."""


def weights_in(reader: Reader, form: TaskForm) -> Mapping[str, Fraction]:
    """Return what the lines of an item count, by key or kind of line, where that is said."""
    table = reader.child("weights", needed=False)
    if table is None:
        return {}
    if form is not TaskForm.WORKING:
        reader.fault("weights", f'found beside form = "{form}"', "one of the two")
    return {key: number_in(table, key, Fraction(1), LEAST, MOST) for key in table.table}


def check_weights(reader: Reader, item: Item, guidance: Guidance) -> None:
    """Note a fault for each weight of a line that a problem of an item does not ask for.

    Args:
        reader: the item.
        item: what was read of it.
        guidance: how far students are led in it.
    """
    table = reader.child("weights", needed=False) if item.weights else None
    for problem in item.bank if table is not None else ():
        assert table is not None
        asked = [step for seed in _SAMPLES for step in _asked(problem, item, seed, guidance)]
        keys = dict.fromkeys(step.key for step in asked)
        kinds = dict.fromkeys(step.kind.name for step in asked)
        for key in item.weights:
            if key not in keys and key not in kinds:
                found = f"{problem.id} does not ask for it{reader.near(key, keys)}"
                table.fault(key, found, f"one of {', '.join(keys)}; or a kind: {', '.join(kinds)}")


def _asked(problem: Problem, item: Item, seed: str, guidance: Guidance) -> tuple[Step, ...]:
    """Return the lines that a problem asks for with the numbers of a seed."""
    return lines_asked(problem.question(seed).derivation.asked, guidance, item.open_lines)
