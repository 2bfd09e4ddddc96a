"""The lines that stand on one working, and which values are known by them."""

from __future__ import annotations

import math
from collections.abc import Hashable, Mapping
from dataclasses import replace
from functools import cached_property, lru_cache
from typing import NamedTuple

from leverstep.claims.judged_line import Claim
from leverstep.course.problem import Question
from leverstep.entry.amount import Amount
from leverstep.entry.reading import Reading
from leverstep.statics.step import Step
from leverstep.statics.units import LENGTH, NUMBER, ONE_LENGTH, known_unit, unit_of_line
from leverstep.working.verdict import Outcome, Verdict


class Line(NamedTuple):
    """The standing entry of a step: what was typed, what it says, and its verdict.

    `claimed` is what its page took it as, None where it was read as an answer to its step.
    `implies` is the step whose value a right equation in numbers comes to, "" on any other line.
    `as_read` is its text with its commas read as decimals or thousands, "" where that was plain.
    """

    text: str
    reading: Reading | None
    verdict: Verdict
    claimed: Claim | None = None
    implies: str = ""
    as_read: str = ""


def amount_of(step: Step, value: float) -> Amount:
    """Return the value of a step, in its unit, as an amount that lines may use."""
    unit = unit_of_line(step.unit)
    number = None if unit.size == 1 else value
    return Amount(value * unit.size, unit.dimension, bare=not unit.sign, number=number)


@lru_cache(maxsize=256)
def _shared(names: frozenset[str]) -> frozenset[str]:
    """Return equal names that were met before: they are compared all the time."""
    return names


def as_typed(line: Line, text: str) -> Line:
    """Return a line that was judged with its commas read, with what was typed in their place."""
    read = line.as_read or (line.text if line.text != text else "")
    return line._replace(text=text, verdict=replace(line.verdict, text=text), as_read=read)


def is_comma(line: Line) -> bool:
    """Return whether a line was not judged since a comma of it may be decimals or thousands."""
    return line.verdict.reason is not None and line.verdict.reason.code == "comma"


class _Values(NamedTuple):
    """The values of some lines by key, and the symbols that are known beside a step."""

    lines: tuple[Line, ...]
    own: Mapping[str, float]
    known: dict[str, Mapping[str, Amount]]


class StandingLines:
    """The lines of one question by key, and the values that they give to others."""

    def __init__(self, question: Question) -> None:
        self.question = question
        self.by_key: dict[str, Line] = {}
        self._values: _Values = _Values((), {}, {})

    def _now(self) -> _Values:
        """Return what follows from the lines that stand, kept for as long as the same ones do."""
        standing = self.by_key.copy()
        lines = tuple(standing.values())
        if lines != self._values.lines:
            own = {
                key: line.reading.value
                for key, line in standing.items()
                if line.reading is not None and not line.reading.sides
            }
            self._values = _Values(lines, own, {})
        return self._values

    @property
    def own(self) -> Mapping[str, float]:
        """Return the values written on the lines, by key; an equation has none."""
        return self._now().own

    def beneath(self, key: str) -> dict[str, float]:
        """Return the values written on the lines that a step rests on, by key."""
        ancestors = self.question.derivation.ancestors(key)
        return {other: value for other, value in self.own.items() if other in ancestors}

    def beside(self, key: str) -> dict[str, float]:
        """Return the values written on all lines that do not themselves rest on a step.

        Those are all where the key is "".
        """
        rests_on = self.question.derivation.ancestors
        return {
            other: value
            for other, value in self.own.items()
            if other != key and key not in rests_on(other)
        }

    def content_beside(self, step: Step) -> tuple[Hashable, ...]:
        """Return what the verdict on an entry at a step may rest on of the lines that stand: values
        and which of them are right, and beside an equation the others that hold.
        """
        lines = self.by_key
        values = tuple(
            (key, value or lines[key].text, lines[key].verdict.outcome is Outcome.RIGHT)
            for key, value in self.beside(step.key).items()
        )
        equations = tuple(
            (key, line.reading.sides)
            for key, line in lines.items()
            if step.kind.is_equation and line.verdict.settled and line.reading is not None
        )
        return values, equations

    def carried(self, step: Step) -> tuple[dict[str, float], dict[str, float]]:
        """Return the student's values that a step rests on, and which of them are not right."""
        own = self.beneath(step.key)
        lines = self.by_key
        wrong = {k: v for k, v in own.items() if lines[k].verdict.outcome is not Outcome.RIGHT}
        return own, wrong

    def values(self) -> Mapping[str, float]:
        """Return the value of every step, the student's own in place of those written."""
        try:
            return self.question.graph.values(self.question.numbers, {}, own=self.own)
        except ArithmeticError:
            return self.question.right

    def known(self, key: str = "") -> Mapping[str, Amount]:
        """Return every symbol of the problem, with its value where it has one (else nan).

        Lines that rest on the step with this key count as without a value there.
        """
        made = self._now().known
        if key not in made:
            made[key] = self._known_now(key)
        return made[key]

    def _known_now(self, key: str) -> dict[str, Amount]:
        known = self.at_first.copy()
        for other, value in self.beside(key).items():
            if other in known:
                known[other] = amount_of(self.question.derivation.step(other), value)
        return known

    @cached_property
    def names(self) -> frozenset[str]:
        """Return every name that may stand in a line, the same object for all of one problem."""
        return _shared(frozenset(self.at_first))

    @property
    def symbols(self) -> tuple[str, ...]:
        """Return every symbol that a line may have."""
        return tuple(symbol for symbol in self.at_first if symbol != ONE_LENGTH)

    @cached_property
    def at_first(self) -> dict[str, Amount]:
        """Return every symbol of the problem, with its value where it is given or g (else nan).

        A line that is answered in words, or is an equation, has no symbol. One that is not asked
        for has its value at once, where that only carries on what is given.
        """
        derivation = self.question.derivation
        steps = [step for step in derivation.steps if step.kind.is_number]
        asked = {step.key for step in derivation.asked}
        known = {step.key: Amount(math.nan) for step in steps}
        for step in steps:
            if not step.asked and not asked & derivation.ancestors(step.key):
                value = self.question.right[step.key]
                known[step.key] = amount_of(step, value)._replace(bare=False)
        for given in self.question.givens:
            if given.sign and given.sign not in known:
                dimension = known_unit(given.unit).dimension if given.unit else NUMBER
                value, number = self.question.in_si(given), self.question.numbers[given.key]
                known[given.sign] = Amount(value, dimension, not given.unit, number)
        if self.question.problem.names_length:
            known[ONE_LENGTH] = Amount(1.0, LENGTH, bare=False)
        known["g"] = Amount(self.question.accepted["g"][0], (0, 1, -2, 0), bare=False)
        return known
