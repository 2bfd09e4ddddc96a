"""A whole working of an invented student who made a slip, and carried it on.

It is a pure function of a question: the same numbers give the same slip. Whatever it claims is
held against the tutor itself: lines before the slip are right, the line of the slip is wrong and
explained by that slip alone, and all that rests on it only follows.
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from leverstep.course.problem import Question
from leverstep.course.symbols import sign_of
from leverstep.entry.amount import Amount
from leverstep.erroneous.slipped_arithmetic import right_arithmetic, slipped_arithmetic
from leverstep.slips.catalogue import Catalogue
from leverstep.slips.explained import explained
from leverstep.slips.hypotheses import Hypothesis, hypotheses
from leverstep.statics.graph import Values
from leverstep.statics.step import Step
from leverstep.working.page import prompt_of
from leverstep.working.standing_lines import amount_of
from leverstep.working.verdict import Outcome
from leverstep.working.wording import name_told_apart
from leverstep.working.working import Working
from leverstep.working.writing import formula, value_text

DECOYS = 3
"""So many other slips are offered beside the one that was made."""

_APART = 0.01
"""How far the values of two slips lie apart, as a share, so that they can be told apart."""

_MOST_TRIED = 60
"""So many slips are tried for one that shows."""

_NOTICED = 200.0
"""By more than this factor no line is off: nobody would carry on with an arm of a kilometre."""

_NEAREST_TENS = (-1.0, 1.0)
"""Powers of ten by which somebody slips who looks at the result at all."""


@dataclass(frozen=True, slots=True)
class ErroneousLine:
    """One line as the invented student has it.

    `text` is the whole line as it is shown, `entry` what that student would type: the value, or an
    equation.
    """

    step: Step
    text: str
    entry: str


class ErroneousWorking:
    """A working with a slip, and how it reads.

    `made` is the slip, at its line; `others` are other slips at that line that give other values,
    which may be taken for it.
    """

    def __init__(
        self, question: Question, made: Hypothesis, others: Sequence[Hypothesis], values: Values
    ) -> None:
        self.question = question
        self.made = made
        self.others = tuple(others)
        self.values = values

    @property
    def step(self) -> Step:
        """Return the line that first goes wrong."""
        return self.question.derivation.step(self.made.step)

    @cached_property
    def carried(self) -> frozenset[str]:
        """Return the keys of the lines that the one that goes wrong is carried on to."""
        return carried_to(self.question, self.made.step)

    @property
    def has_arithmetic(self) -> bool:
        """Return whether it is known how the line of the slip is worked out."""
        return bool(self._slipped)

    @cached_property
    def _slipped(self) -> str:
        at_line = self.made.changes
        return slipped_arithmetic(self.question, self.step, self.values, at_line)

    @cached_property
    def lines(self) -> tuple[ErroneousLine, ...]:
        """Return all lines, in their order.

        They show their arithmetic where that is known of the slip too, else their values alone: no
        line is told from the others by its form.
        """
        return tuple(self._line(step) for step in self.question.derivation.asked)

    @property
    def amounts(self) -> dict[str, Amount]:
        """Return the value of each line that has one, as the invented student has it, by key."""
        steps = (one.step for one in self.lines if one.step.kind.is_number)
        return {step.key: amount_of(step, self.values[step.key]) for step in steps}

    def line(self, key: str) -> ErroneousLine:
        """Return the line with a key; KeyError where there is none."""
        return {one.step.key: one for one in self.lines}[key]

    def _line(self, step: Step) -> ErroneousLine:
        if step.kind.is_equation:
            text = formula(self.question, step)
            return ErroneousLine(step, text, text)
        value = value_text(step, self.values[step.key])
        worked = self._arithmetic(step) if self.has_arithmetic else ""
        return ErroneousLine(step, _shown(step, worked, value), value)

    def _arithmetic(self, step: Step) -> str:
        if step.key == self.made.step:
            return self._slipped
        return right_arithmetic(self.question, step, self.values)

    def right_text(self, step: Step) -> str:
        """Return a line as it is shown once the slip is mended."""
        if step.kind.is_equation:
            return formula(self.question, step)
        right = self.question.right
        worked = right_arithmetic(self.question, step, right) if self.has_arithmetic else ""
        return _shown(step, worked, self.right_entry(step))

    def right_entry(self, step: Step) -> str:
        """Return what stands on a line once the slip is mended."""
        if step.kind.is_equation:
            return formula(self.question, step)
        return value_text(step, self.question.right[step.key])


def erroneous_working(question: Question, catalogue: Catalogue) -> ErroneousWorking | None:
    """Return the working with a slip that belongs to a question; None where no slip would show.

    What shows its arithmetic comes first.
    """
    bare: list[ErroneousWorking] = []
    for made in itertools.islice(_drawn(question, catalogue), _MOST_TRIED):
        working = _with_slip(question, made, catalogue)
        if working is None:
            continue
        if not working.has_arithmetic:
            bare.append(working)
        elif holds(working, catalogue):
            return working
    return next((one for one in bare if holds(one, catalogue)), None)


def erroneous_by(
    question: Question, catalogue: Catalogue, slip: str, changes: Mapping[str, float]
) -> ErroneousWorking | None:
    """Return the working with the slip of an id that changes some choices, by their names.

    None where the catalogue has no such slip any more.
    """
    for one in hypotheses(question.derivation, catalogue):
        if one.slip.id == slip and {c.name: value for c, value in one.changes} == dict(changes):
            return _with_slip(question, one, catalogue)
    return None


def holds(working: ErroneousWorking, catalogue: Catalogue) -> bool:
    """Return whether the tutor finds in a working the slip that was made, and nothing else."""
    judged, wrong = Working(working.question), working.made.step
    for line in working.lines:
        key = line.step.key
        verdict = judged.enter(key, line.entry)
        if key == wrong:
            told = explained(verdict, catalogue).explanations
            is_so = verdict.outcome is Outcome.WRONG and len(told) == 1 and told[0].sure
            is_so = is_so and [f.slip for f in told[0].findings] == [working.made.slip.id]
            is_so = is_so and told[0].findings[0].changes == working.made.changes
        elif key in working.carried and line.step.kind.is_number:
            is_so = verdict.outcome is Outcome.FOLLOWED
        else:
            is_so = verdict.settled
        if not is_so:
            return False
    return True


def _drawn(question: Question, catalogue: Catalogue) -> Iterator[Hypothesis]:
    """Yield the slips that may be made, in an order that follows from the numbers.

    A slip comes the earlier the commoner it is, however many places there are for it.
    """
    places: dict[str, list[Hypothesis]] = {}
    for one in hypotheses(question.derivation, catalogue):
        if _may_be_made(question, one):
            places.setdefault(one.slip.id, []).append(one)

    def rank(slip: str) -> float:
        return -math.log(question.lot("slip", slip)) / places[slip][0].slip.often

    rows = [
        sorted(places[slip], key=lambda one: _place(question, one))
        for slip in sorted(places, key=rank)
    ]
    for column in itertools.zip_longest(*rows):
        yield from (one for one in column if one is not None)


def _place(question: Question, one: Hypothesis) -> float:
    """Return where a slip at its place stands among others."""
    return question.lot("slip", one.slip.id, *(f"{c.name} {value}" for c, value in one.changes))


def _may_be_made(question: Question, one: Hypothesis) -> bool:
    """Return whether a slip is of a kind that somebody carries on in good faith."""
    step = question.derivation.step(one.step)
    if not step.kind.is_number or any(choice.step != one.step for choice, _ in one.changes):
        return False
    return all(
        choice.kind != "minus" and (choice.kind != "power_of_ten" or value in _NEAREST_TENS)
        for choice, value in one.changes
    )


def _with_slip(
    question: Question, made: Hypothesis, catalogue: Catalogue
) -> ErroneousWorking | None:
    """Return the working with a slip; None where it shows nothing, or hardly any other is like it.

    All that rests on the line must come out otherwise, each size as a size, and no line is 0.
    """
    values = _values(question, made)
    if values is None:
        return None
    derivation, carried = question.derivation, carried_to(question, made.step)
    resting = [s for s in derivation.asked if s.key in carried and s.kind.is_number]
    for step in (derivation.step(made.step), *resting):
        if not _shows(step, values[step.key], question.right[step.key]):
            return None
    others = tuple(itertools.islice(_decoys(question, made, values, catalogue), DECOYS))
    if not resting or len(others) < DECOYS:
        return None
    return ErroneousWorking(question, made, others, values)


def _shows(step: Step, value: float, right: float) -> bool:
    """Return whether a value can be told from the right one, and may be taken for one."""
    if value == 0 or right == 0 or (step.kind.is_size and value < 0):
        return False
    is_noticed = not 1 / _NOTICED < abs(value / right) < _NOTICED
    return not is_noticed and not math.isclose(value, right, rel_tol=_APART)


def _shown(step: Step, worked: str, value: str) -> str:
    """Return a line with its arithmetic, unless that is no more than its value."""
    is_number = re.fullmatch(r"−?\d+(?:\.\d+)?", worked)
    if worked and not (is_number and _as_number(worked) == _as_number(value.partition(" ")[0])):
        return f"{sign_of(step.key)} = {worked} = {value}"
    return f"{prompt_of(step)} {value}"


def _as_number(text: str) -> float:
    return float(text.replace("−", "-"))


def carried_to(question: Question, key: str) -> frozenset[str]:
    """Return the keys of the lines that a line is carried on to, as they are written.

    What would stand in a line only by a slip carries nothing on.
    """
    found = {key}
    for step in question.derivation.steps:
        if not step.kind.is_equation and found & set(step.quantities or step.uses):
            found.add(step.key)
    asked = {step.key for step in question.derivation.asked}
    return frozenset(found & asked - {key})


def _values(question: Question, made: Hypothesis) -> Values | None:
    """Return all values with a slip made; None where some line has none then."""
    try:
        return question.graph.values(question.numbers, {}, choices=dict(made.changes))
    except ArithmeticError:
        return None


def _decoys(
    question: Question, made: Hypothesis, values: Values, catalogue: Catalogue
) -> Iterator[Hypothesis]:
    """Yield slips that might be made at the same line and give other values, each of its own."""
    key = made.step
    taken = [values[key], question.right[key]]
    names = {told_of_slip(question, made)}
    there: Iterable[Hypothesis] = hypotheses(question.derivation, catalogue)
    there = (one for one in there if one.step == key and _may_be_made(question, one))
    for one in sorted(there, key=lambda one: _place(question, one)):
        other = _values(question, one)
        name = told_of_slip(question, one)
        if other is None or name in names:
            continue
        if all(not math.isclose(other[key], before, rel_tol=_APART) for before in taken):
            taken.append(other[key])
            names.add(name)
            yield one


def told_of_slip(question: Question, one: Hypothesis) -> str:
    """Return the name of a slip, with the force that it is about where its line has several."""
    view = question.at(question.derivation.step(one.step))
    is_of_force = question.derivation.step(one.step).kind.over_forces
    if is_of_force and one.about in view.problem.names:
        return f"{one.slip.name} ({name_told_apart(view, one.about)})"
    return one.slip.name
