"""A whole working of an invented student who made a slip, or two, and carried that on.

It is a pure function of a question: the same numbers give the same slips. Whatever it claims is
held against the tutor itself: lines before a slip are right, the line of a slip is wrong and
explained by that slip alone, and all else that rests on it only follows.
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
from leverstep.statics.choices import Choice
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


@dataclass(frozen=True, slots=True)
class MadeSlip:
    """One slip of a working at its line, with what may be taken for it.

    `made` is the slip; `others` are other slips at that line that give other values.
    """

    step: Step
    made: Hypothesis
    others: tuple[Hypothesis, ...]


class ErroneousWorking:
    """A working with slips, and how it reads.

    `slips` are in the order of their lines, each on one of its own; `values` has the value of each
    step as that student has it.
    """

    def __init__(self, question: Question, slips: Sequence[MadeSlip], values: Values) -> None:
        self.question = question
        self.slips = tuple(slips)
        self.values = values

    @property
    def step(self) -> Step:
        """Return the line that first goes wrong."""
        return self.slips[0].step

    @cached_property
    def carried(self) -> frozenset[str]:
        """Return the keys of the lines that some slip is carried on to, none of its own there."""
        return _carried(self.question, [one.step.key for one in self.slips])

    @cached_property
    def has_arithmetic(self) -> bool:
        """Return whether it is known how the lines of the slips are worked out."""
        return all(self._slipped(one, self.values) for one in self.slips)

    def _slipped(self, slip: MadeSlip, values: Values) -> str:
        return slipped_arithmetic(self.question, slip.step, values, slip.made.changes)

    @cached_property
    def lines(self) -> tuple[ErroneousLine, ...]:
        """Return all lines, in their order.

        They show their arithmetic where that is known of the slips too, else their values alone: no
        line is told from the others by its form.
        """
        return self._lines(self.slips, self.values)

    def mended(self, mended: Sequence[MadeSlip], own: Values) -> tuple[ErroneousLine, ...]:
        """Return all lines as they follow where some of the slips are mended.

        Args:
            mended: the slips that are made no more.
            own: what stands on their lines by key, but for where that is right.

        Raises:
            ArithmeticError: where some line has no value then.
        """
        if not mended:
            return self.lines
        left = [one for one in self.slips if one not in mended]
        choices = _choices(one.made for one in left)
        values = self.question.graph.values(self.question.numbers, {}, choices, own)
        return self._lines(left, values)

    def would_be(self, slip: MadeSlip, other: Hypothesis) -> float:
        """Return the value of the line of a slip had another been made there, after those before.

        Raises:
            ArithmeticError: where it has none then.
        """
        before = self.slips[: self.slips.index(slip)]
        choices = _choices([*(one.made for one in before), other])
        values = self.question.graph.values(self.question.numbers, {}, choices=choices)
        return values[slip.step.key]

    @property
    def amounts(self) -> dict[str, Amount]:
        """Return the value of each line that has one, as the invented student has it, by key."""
        steps = (one.step for one in self.lines if one.step.kind.is_number)
        return {step.key: amount_of(step, self.values[step.key]) for step in steps}

    def line(self, key: str) -> ErroneousLine:
        """Return the line with a key; KeyError where there is none."""
        return {one.step.key: one for one in self.lines}[key]

    def _lines(self, slips: Sequence[MadeSlip], values: Values) -> tuple[ErroneousLine, ...]:
        """Return all lines with some slips, by the values that are theirs then."""
        slipped = {one.step.key: self._slipped(one, values) for one in slips}
        return tuple(
            self._line(step, values, slipped.get(step.key))
            for step in self.question.derivation.asked
        )

    def _line(self, step: Step, values: Values, slipped: str | None = None) -> ErroneousLine:
        """Return a line; `slipped` is its arithmetic where a slip is made on it, None elsewhere."""
        if step.kind.is_equation:
            text = formula(self.question, step)
            return ErroneousLine(step, text, text)
        value, worked = value_text(step, values[step.key]), ""
        if self.has_arithmetic:
            worked = right_arithmetic(self.question, step, values) if slipped is None else slipped
        return ErroneousLine(step, _shown(step, worked, value), value)

    def right_line(self, step: Step) -> ErroneousLine:
        """Return a line as it is once every slip is mended."""
        return self._line(step, self.question.right)


def erroneous_working(
    question: Question, catalogue: Catalogue, slips: int = 1
) -> ErroneousWorking | None:
    """Return the working with one slip or two that belongs to a question.

    It has one where no two would show, and is None where none would. The two are such as would be
    made alone too, each on a line of its own and no one slip made twice; only where there are no
    such two is the second on a line that nothing rests on.
    """
    before: list[ErroneousWorking] = []
    for one in _with_one_slip(question, catalogue):
        if slips == 1:
            return one
        made = one.slips[0].made
        for other in before:
            pair = _with_two_slips(question, other.slips[0].made, made, catalogue)
            if pair is not None and holds(pair, catalogue):
                return pair
        before.append(one)
    return next(_ending_in_a_slip(question, before, catalogue), next(iter(before), None))


def _ending_in_a_slip(
    question: Question, before: Sequence[ErroneousWorking], catalogue: Catalogue
) -> Iterator[ErroneousWorking]:
    """Yield workings with a slip of one `before` and one on a line that no number rests on.

    Those that show their arithmetic come first.
    """
    last = [one for one in _drawn(question, catalogue) if not _resting(question, one.step)]
    pairs = (
        _with_two_slips(question, one.slips[0].made, made, catalogue)
        for one, made in itertools.product(before, last)
    )
    there = sorted(filter(None, pairs), key=lambda pair: not pair.has_arithmetic)
    yield from (pair for pair in there if holds(pair, catalogue))


def _with_one_slip(question: Question, catalogue: Catalogue) -> Iterator[ErroneousWorking]:
    """Yield the workings with one slip, those that show their arithmetic first."""
    bare: list[ErroneousWorking] = []
    for made in itertools.islice(_drawn(question, catalogue), _MOST_TRIED):
        working = _with_slips(question, (made,), catalogue)
        if working is None or not _resting(question, made.step):
            continue
        if not working.has_arithmetic:
            bare.append(working)
        elif holds(working, catalogue):
            yield working
    yield from (one for one in bare if holds(one, catalogue))


def _with_two_slips(
    question: Question, one: Hypothesis, other: Hypothesis, catalogue: Catalogue
) -> ErroneousWorking | None:
    """Return the working with two slips; None where they are one, on one line, or don't show."""
    if one.step == other.step or one.slip.id == other.slip.id:
        return None
    keys = [step.key for step in question.derivation.asked]
    first, second = sorted((one, other), key=lambda made: keys.index(made.step))
    return _with_slips(question, (first, second), catalogue)


def erroneous_by(
    question: Question, catalogue: Catalogue, slips: Sequence[tuple[str, Mapping[str, float]]]
) -> ErroneousWorking | None:
    """Return the working with one slip or two, by ids and the choices that they change, by name.

    None where the catalogue has one of them no more, or they are no two.
    """
    there = hypotheses(question.derivation, catalogue)
    made = []
    for slip, changes in slips:
        named = (one for one in there if one.slip.id == slip and _by_name(one) == dict(changes))
        one = next(named, None)
        if one is None:
            return None
        made.append(one)
    if len(made) == 1:
        return _with_slips(question, made, catalogue)
    one, other = made
    return _with_two_slips(question, one, other, catalogue)


def _by_name(one: Hypothesis) -> dict[str, float]:
    return {choice.name: value for choice, value in one.changes}


def holds(working: ErroneousWorking, catalogue: Catalogue) -> bool:
    """Return whether the tutor finds in a working the slips that were made, and nothing else."""
    judged, wrong = Working(working.question), {one.step.key: one.made for one in working.slips}
    for line in working.lines:
        key = line.step.key
        verdict = judged.enter(key, line.entry)
        if key in wrong:
            told = explained(verdict, catalogue).explanations
            is_so = verdict.outcome is Outcome.WRONG and len(told) == 1 and told[0].sure
            is_so = is_so and [f.slip for f in told[0].findings] == [wrong[key].slip.id]
            is_so = is_so and told[0].findings[0].changes == wrong[key].changes
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


def _with_slips(
    question: Question, made: Sequence[Hypothesis], catalogue: Catalogue
) -> ErroneousWorking | None:
    """Return the working with slips, which are in the order of their lines.

    None where one shows nothing, or hardly any other is like it. Whatever rests on their lines must
    come out otherwise, each size as a size, and no line is 0.
    """
    values = _values(question, made)
    if values is None:
        return None
    derivation, wrong = question.derivation, {one.step for one in made}
    resting = (key for one in wrong for key in _resting(question, one))
    for step in map(derivation.step, {*wrong, *resting}):
        if not _shows(step, values[step.key], question.right[step.key]):
            return None
    slips = []
    for place, one in enumerate(made):
        others = tuple(itertools.islice(_decoys(question, one, made[:place], catalogue), DECOYS))
        if len(others) < DECOYS:
            return None
        slips.append(MadeSlip(derivation.step(one.step), one, others))
    return ErroneousWorking(question, slips, values)


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


def _resting(question: Question, key: str) -> tuple[str, ...]:
    """Return the keys of the lines with a number that a line is carried on to."""
    is_number = {one.key: one.kind.is_number for one in question.derivation.asked}
    return tuple(one for one in carried_to(question, key) if is_number[one])


def _carried(question: Question, wrong: Sequence[str]) -> frozenset[str]:
    """Return the keys of the lines that some of the wrong ones are carried on to, but these."""
    return frozenset().union(*(carried_to(question, key) for key in wrong)) - {*wrong}


def _values(question: Question, made: Iterable[Hypothesis]) -> Values | None:
    """Return all values with slips made; None where some line has none then."""
    try:
        return question.graph.values(question.numbers, {}, choices=_choices(made))
    except ArithmeticError:
        return None


def _choices(made: Iterable[Hypothesis]) -> dict[Choice, float]:
    """Return the choices that slips make otherwise."""
    return dict(itertools.chain.from_iterable(one.changes for one in made))


def _decoys(
    question: Question, made: Hypothesis, before: Sequence[Hypothesis], catalogue: Catalogue
) -> Iterator[Hypothesis]:
    """Yield slips that might be made at the same line and give other values, each of its own.

    `before` are the slips on lines before it. No value is that which follows from these alone.
    """
    key = made.step
    known = (question.right, _values(question, before), _values(question, (*before, made)))
    taken = [values[key] for values in known if values is not None]
    names = {told_of_slip(question, made)}
    there: Iterable[Hypothesis] = hypotheses(question.derivation, catalogue)
    there = (one for one in there if one.step == key and _may_be_made(question, one))
    for one in sorted(there, key=lambda one: _place(question, one)):
        other = _values(question, (*before, one))
        name = told_of_slip(question, one)
        if other is None or name in names:
            continue
        if all(not math.isclose(other[key], value, rel_tol=_APART) for value in taken):
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
