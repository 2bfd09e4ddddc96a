"""How many times body weight something is said to be: `2.4 BW`, `239 % of body weight`."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from typing import NamedTuple

from leverstep.course.problem import Question
from leverstep.course.symbols import spelt
from leverstep.entry.body_weight_words import BODY_WEIGHT
from leverstep.statics import kinds
from leverstep.statics.step import Step

_BODY_WEIGHTS = re.compile(
    r"\s*(?:(?P<name>[^\W\d]\w*)\s*(?:[=:≈]|\bis\b)\s*)?"
    r"(?P<times>[0-9.,]+\s*(?:%\s*of|times|[x×])?)\s*(?:the\s+)?"
    rf"{BODY_WEIGHT}\s*\.?",
    re.IGNORECASE,
)
"""A multiple in words: `2.39 times body weight`, `F_m is 239 % of body weight`, `n = 2.4 BW`."""
_OF_BODY = re.compile(r"\bBW\b")


class Multiple(NamedTuple):
    """The key of a line that asks how many times body weight, and what is said there."""

    key: str
    text: str


def multiple_said(text: str, steps: Mapping[str, Step]) -> Multiple | None:
    """Return what is said in words to be some times body weight, of its force or of none; None
    where no line of `steps`, by key, asks for it.
    """
    said = _BODY_WEIGHTS.fullmatch(text)
    lines = [step for step in steps.values() if step.kind is kinds.BODY_WEIGHTS]
    if said is None:
        return None
    name = spelt(said["name"] or "")
    of_it = [one for one in lines if name in ("n", one.key) or f"{{{name}}} ÷" in one.written]
    found = of_it if name else lines
    return Multiple(found[0].key, f"{said['times']} body weight") if len(found) == 1 else None


def with_body_weight(
    text: str, question: Question, known: Collection[str], here: Step | None
) -> str:
    """Return a line with the weight of the body for BW, where the problem gives its mass; one of a
    line that asks how many times body weight something is stays as it is.

    Args:
        text: what was typed.
        question: whose derivation counts.
        known: every symbol of the problem.
        here: the step that a bare value is for, None where it must be named.
    """
    body = question.problem.posture.body
    if body is None or "BW" not in text or _OF_BODY.search(text) is None:
        return text
    steps = {step.key: step for step in question.derivation.asked}
    is_for_force = here is not None and here.kind is not kinds.BODY_WEIGHTS and "=" not in text
    if not is_for_force and multiple_said(text, steps) is not None:
        return text
    weight = next((one.key for one in steps.values() if one.kind is kinds.BODY_WEIGHT), "")
    return _OF_BODY.sub(weight if weight in known else f"({body.sign}*g)", text)
