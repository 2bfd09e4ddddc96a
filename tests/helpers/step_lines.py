"""What a student may write at one line: what is right there, and what is wrong."""

from __future__ import annotations

from leverstep.course.problem import Question
from leverstep.statics.step import Step
from leverstep.working.writing import substituted, worked_line

_WRONG_WORDS = {
    "class": "first",
    "reaction_direction": "up",
    "resultant_direction": "up",
    "axial_effect": "tension",
    "supported": "inside",
}


def right_line(question: Question, step: Step) -> str:
    """Return the right line of a step: its numbers put in, or its words."""
    write = substituted if step.kind.is_number else worked_line
    return write(question, step, question.right)


def wrong_line(step: Step, equation: str) -> str:
    """Return a wrong line of a step, `equation` where it is one of moments."""
    words = {"equation": equation, **_WRONG_WORDS}
    return words.get(step.kind.name, f"0.0123 {step.unit}".strip())
