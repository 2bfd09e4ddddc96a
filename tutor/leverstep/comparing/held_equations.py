"""Whether an equation in symbols holds, found once for all questions in which it is the same.

Students of a class write the same few equations. The values made up for their forces and distances
are those of every student too, so that only what else the equation rests on tells one question from
another: angles, as a rule.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from leverstep.comparing.balance_terms import balance_samples, made_up_in_balance
from leverstep.comparing.samples import EquationSample, names_among
from leverstep.comparing.terms import made_up_in_moments, samples_of
from leverstep.course.problem import Question
from leverstep.entry.tree import Tree
from leverstep.statics import kinds
from leverstep.statics.step import Derivation, Step


@dataclass(frozen=True, slots=True)
class _Asked:
    """An equation at a line, and all the numbers that it may rest on.

    `question` is any of those that have them.
    """

    derivation: Derivation
    step: str
    sides: tuple[Tree, ...]
    numbers: tuple[float, ...]
    question: Question = field(compare=False)


def samples_at(question: Question, step: Step) -> Sequence[EquationSample]:
    """Return the samples in which an equation of a line is looked at."""
    is_of_moments = step.kind is kinds.EQUATION
    return samples_of(question) if is_of_moments else balance_samples(question)


def held_in_samples(
    question: Question, step: Step, sides: tuple[Tree, ...]
) -> tuple[bool | None, ...]:
    """Return of each sample whether an equation holds in it, None where it has no value there.

    Args:
        question: whose posture the equation is of.
        step: the line that it was typed at.
        sides: the equation.

    Raises:
        Unreadable: where it cannot be evaluated.
    """
    numbers = _numbers_behind(question, step, names_among(sides))
    return _held(_Asked(question.derivation, step.key, sides, numbers, question))


@lru_cache(maxsize=1024)
def _held(asked: _Asked) -> tuple[bool | None, ...]:
    question = asked.question
    samples = samples_at(question, asked.derivation.step(asked.step))
    return tuple(sample.holds(asked.sides) for sample in samples)


def _numbers_behind(question: Question, step: Step, names: set[str]) -> tuple[float, ...]:
    """Return the numbers of a question that the samples of an equation may rest on, in order.

    Those are its constants, and the givens behind what it names or its terms are made of, as far as
    no value is made up on the way. Where an angle is to be found, all are.
    """
    posture, graph, numbers = question.problem.posture, question.graph, question.numbers
    constants = tuple(graph.constants.values())
    if posture.sought_angle is not None:
        return *constants, *numbers.values()
    is_of_moments = step.kind is kinds.EQUATION
    made_up, terms = (made_up_in_moments if is_of_moments else made_up_in_balance)(question)
    masses = {
        force.symbol
        for force in posture.forces
        if force.magnitude is not None and force.magnitude.sign in names
    }
    behind = graph.givens_behind(names | terms | masses, made_up)
    behind |= {given.key for given in question.givens if given.sign in names}
    return *constants, *(number for key, number in numbers.items() if key in behind)
