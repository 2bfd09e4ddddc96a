"""The texts of hints with their placeholders filled, from the problem and a student's own lines."""

from __future__ import annotations

import re
from collections.abc import Mapping

from leverstep.course.symbols import sign_of
from leverstep.slips.finding import Finding
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

_PLACEHOLDER = re.compile(r"\{([a-z_]+)\}")


def filled(text: str, working: Working, step: Step, finding: Finding | None) -> str:
    """Return a text with its placeholders filled for a step and what was found there."""
    question = working.question.at(step)
    problem = question.problem
    about: tuple[str, ...] = ()
    other = line = ""
    is_row = False
    if finding is not None:
        about, line = finding.abouts, finding.line
        other = finding.changes[0][0].other if finding.changes else ""
        is_row = bool(finding.changes) and finding.changes[0][0].kind == "other_row"

    def value(match: re.Match[str]) -> str:
        match match.group(1):
            case "symbol":
                return sign_of(step.key)
            case "name":
                names = dict.fromkeys(name_told_apart(question, symbol) for symbol in about)
                return ", or the ".join(names) if names else name_about(question, step)
            case "other":
                return other if is_row else name_of(question, other)
            case "other_symbol":
                return sign_of(other)
            case "other_line":
                return sign_of(line)
            case "given":
                if finding is not None and finding.miscopied:
                    return as_stated(working, finding.miscopied)
                return _given(working, step, about)
            case "formula":
                return formula(question, step)
            case "line":
                return worked_line(question, step, values_before(working, step) or question.right)
            case "axis":
                return problem.axis
            case "segment":
                return problem.segment
            case "reaction":
                return problem.reaction
            case "effort":
                return effort_name(question)
            case "copied":
                return "" if finding is None else finding.copied
            case "size_of_unit":
                return SIZE_OF_UNIT[unit_given(working, step)]
            case _:
                return step.unit

    return _PLACEHOLDER.sub(value, text)


def as_stated(working: Working, key: str) -> str:
    """Return a given as the problem states it, with its unit."""
    given = next(one for one in working.question.givens if one.key == key)
    return working.question.written(given)


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
