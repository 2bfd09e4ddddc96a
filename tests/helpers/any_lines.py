"""Anything that may be typed on a line: nothing, others' values, far too much, symbols alone."""

from __future__ import annotations

import random
from collections.abc import Iterator

from leverstep.course.problem import Question
from leverstep.statics.step import Step
from leverstep.working.working import Working

FACTORS = (1.0, -1.0, 0.5, 2.0, 10.0, 9.81, 1 / 9.81, 2.2, 1e9, 1e-9)
Typed = tuple[str, str]
"""The key of a line, "" for one that says itself which it is, and what is typed."""


def amounts(question: Question, step: Step, chance: random.Random) -> Iterator[str]:
    """Yield values for a line: none, others, far too large, those of other lines, any."""
    unit = "°" if step.unit == "deg" else step.unit
    right = question.right.get(step.key, 1.0)
    other = question.right.get(chance.choice(question.derivation.asked).key, 1.0)
    factor = chance.choice(FACTORS)
    for number in (0.0, -0.0, 1e-300, 9e299, other, right * factor, chance.uniform(-500, 500)):
        yield f"{number:.4g} {unit}".replace("e+", "e").strip()


def sums(question: Question, chance: random.Random) -> Iterator[str]:
    """Yield symbols alone, and symbols and numbers with anything between them."""
    names = [step.key for step in question.derivation.steps]
    names += [given.sign for given in question.givens if given.sign] + ["g", "x", "R"]
    parts = [*names, "0", "1", "2.2", "9.81", "0.5", "100"]
    yield f"{chance.choice(names)} = {chance.choice(names)}"
    text = chance.choice(parts)
    for _ in range(chance.randrange(5)):
        text += f" {chance.choice('*/+-=')} {chance.choice(parts)}"
    yield text


def any_line(working: Working, chance: random.Random) -> Typed:
    """Return something typed on a line, or where the working is free perhaps as a line alone."""
    question = working.question
    step = chance.choice(working.steps)
    words = ("first", "third", "down", "0", "0 = 0", "0 N·m", "1", "equation", "2 equation = 5")
    kinds = (*amounts(question, step, chance), *sums(question, chance), chance.choice(words))
    text = chance.choice(kinds)
    if working.guidance.free and chance.random() < 0.7:
        return "", text if "=" in text or chance.random() < 0.3 else f"{step.key} = {text}"
    return step.key, text
