"""The texts of hints with their placeholders filled, from the problem and a student's own lines."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from leverstep.course.problem import Question
from leverstep.course.symbols import sign_of
from leverstep.slips.finding import Finding
from leverstep.slips.hint_texts import with_places
from leverstep.statics.choices import Choice
from leverstep.statics.step import Step
from leverstep.working.wording import (
    SIZE_OF_UNIT,
    effort_name,
    given_about,
    name_about,
    name_of,
    name_told_apart,
)
from leverstep.working.working import Working
from leverstep.working.writing import formula, worked_line


@dataclass(frozen=True, slots=True)
class _Spot:
    """Where a text is told: a step of a working, and what was found there, if that is known."""

    working: Working
    step: Step
    finding: Finding | None

    @property
    def question(self) -> Question:
        """Return the question, as the posture of the step is looked at."""
        return self.working.question.at(self.step)

    @property
    def about(self) -> tuple[str, ...]:
        """Return the symbols of what was found to be wrong."""
        return () if self.finding is None else self.finding.abouts

    @property
    def change(self) -> Choice | None:
        """Return the first choice that was made otherwise."""
        changes = () if self.finding is None else self.finding.changes
        return changes[0][0] if changes else None

    @property
    def other(self) -> str:
        """Return the symbol, or the row of a table, that was taken by mistake, "" for none."""
        return "" if self.change is None else self.change.other

    @property
    def name(self) -> str:
        """Return the name of what the slip is about, or of what the step is."""
        names = dict.fromkeys(name_told_apart(self.question, symbol) for symbol in self.about)
        return ", or the ".join(names) if names else name_about(self.question, self.step)

    @property
    def other_name(self) -> str:
        """Return the name of what was taken by mistake."""
        is_row = self.change is not None and self.change.kind == "other_row"
        return self.other if is_row else name_of(self.question, self.other)

    @property
    def given(self) -> str:
        """Return the given that was copied wrongly, or that the step starts from."""
        if self.finding is not None and self.finding.miscopied:
            return as_stated(self.working, self.finding.miscopied)
        return _given(self.working, self.step, self.about)

    @property
    def worked(self) -> str:
        """Return the line worked out, with the student's own values where there are any."""
        values = values_before(self.working, self.step) or self.question.right
        return worked_line(self.question, self.step, values)


_FILLED: Mapping[str, Callable[[_Spot], str]] = {
    "symbol": lambda at: sign_of(at.step.key),
    "name": lambda at: at.name,
    "other": lambda at: at.other_name,
    "other_symbol": lambda at: sign_of(at.other),
    "other_line": lambda at: "" if at.finding is None else sign_of(at.finding.line),
    "given": lambda at: at.given,
    "formula": lambda at: formula(at.question, at.step),
    "line": lambda at: at.worked,
    "axis": lambda at: at.question.problem.axis,
    "segment": lambda at: at.question.problem.segment,
    "reaction": lambda at: at.question.problem.reaction,
    "effort": lambda at: effort_name(at.question),
    "copied": lambda at: "" if at.finding is None else at.finding.copied,
    "unit": lambda at: at.step.unit,
    "size_of_unit": lambda at: SIZE_OF_UNIT[unit_given(at.working, at.step)],
}
"""What each placeholder of a text stands for."""


def filled(text: str, working: Working, step: Step, finding: Finding | None) -> str:
    """Return a text with its placeholders filled for a step and what was found there."""
    place = _Spot(working, step, finding)
    return with_places(text, lambda name: _FILLED[name](place))


def as_stated(working: Working, key: str) -> str:
    """Return a given as the problem states it, with its unit; a number that is none as it is."""
    given = next((one for one in working.question.givens if one.key == key), None)
    return key if given is None else working.question.written(given)


def _given(working: Working, step: Step, about: tuple[str, ...]) -> str:
    """Return the given that a step starts from, as written; or that of the force it is about."""
    given = given_about(working.question, step)
    forces = working.question.at(step).problem.posture.forces
    force = next((force for force in forces if force.symbol in about), None)
    if given is None and force is not None:
        given = force.magnitude
        if given is None:
            return force.mass_key
    if given is None:
        return ""
    # The mass of a segment is no given, but the line before.
    known = given in working.question.givens
    return working.question.written(given) if known else sign_of(given.sign)


def unit_given(working: Working, step: Step) -> str:
    """Return the unit of the given that a step starts from, "" where there is none."""
    given = given_about(working.question, step)
    return "" if given is None else given.unit


def values_before(working: Working, step: Step) -> Mapping[str, float] | None:
    """Return the values that a line rests on and its own, from the student's where there are any.

    None where these leave the line without a value, as a length of zero may.
    """
    question = working.question
    if step.kind.is_equation:
        return question.right  # its symbols have no values
    values = question.graph.on_demand(question.numbers, working.own_values(step.key))
    try:
        for key in (step.key, *step.quantities):  # what is written may not be what it is found by
            values.get(key)
    except ArithmeticError:
        return None
    return values
