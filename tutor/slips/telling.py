"""Verdicts and hints in words, with the student's own names and numbers put in."""

from __future__ import annotations

import re

from tutor.slips.catalogue import Catalogue
from tutor.statics.step import Step
from tutor.working.verdict import Explanation, Finding, Outcome, Verdict
from tutor.working.wording import example, force_about, name_about
from tutor.working.working import Working
from tutor.working.writing import formula, sign_of, worked_line

_PLACEHOLDER = re.compile(r"\{([a-z_]+)\}")


def tell(working: Working, verdict: Verdict, catalogue: Catalogue) -> str:
    """Return what to say of a verdict: one to three sentences."""
    step = working.step(verdict.step)
    if verdict.outcome is Outcome.UNREAD:
        place = "" if verdict.place is None else f" (at character {verdict.place + 1})"
        reason = verdict.reason if verdict.reason.endswith("?") else f"{verdict.reason}."
        return f"Not judged{place}: {reason} For example: {example(step, working.question)}"
    if verdict.outcome is Outcome.WRONG:
        if step.kind in ("class", "reaction_direction"):
            return "Not yet. A hint may help."
        return _tell_wrong(working, verdict, catalogue)
    told = "Right." if verdict.outcome is Outcome.RIGHT else "Right with your earlier value."
    return f"{told} Note: {verdict.reason}." if verdict.reason else told


def _tell_wrong(working: Working, verdict: Verdict, catalogue: Catalogue) -> str:
    if not verdict.explanations:
        reason = f" {verdict.reason[:1].upper()}{verdict.reason[1:]}." if verdict.reason else ""
        return f"Not yet, and no slip we know explains it.{reason} A hint may help."
    named = [_named(working, told, catalogue) for told in verdict.explanations]
    named = list(dict.fromkeys(named))
    if not verdict.explanations[0].sure:
        return f"Not yet. Did you perhaps make this slip: {' or '.join(named)}?"
    if len(named) > 1:
        return f"Not yet. It looks like either {', or '.join(named)}."
    return f"Not yet. It looks like this slip: {named[0]}."


_OF_ALL_FORCES = ("equation", "sum", "effort", "effort_component", "advantage")


def _named(working: Working, explanation: Explanation, catalogue: Catalogue) -> str:
    """Return the names of slips; on a line about all forces, with the force each is about."""
    names = []
    for finding in explanation.findings:
        name = catalogue.slips[finding.slip].name
        step = working.step(finding.step)
        about = finding.changes[0][0].about if finding.changes else ""
        forces = working.question.problem.names
        if about in forces and (step.kind in _OF_ALL_FORCES or step.kind.startswith("reaction")):
            name = f"{name} ({forces[about]})"
        names.append(name)
    return ", together with ".join(dict.fromkeys(names))


def hints(working: Working, key: str, catalogue: Catalogue) -> tuple[str, ...]:
    """Return the three hints of a step, for the entry that stands there or before any.

    They go from where to look, over what seems to have happened, to the line worked out with the
    student's own earlier values.
    """
    step = working.step(key)
    line = working.lines.get(key)
    findings: tuple[Finding, ...] = ()
    if line is not None and line.verdict.explanations:
        findings = line.verdict.explanations[0].findings
    if not findings:
        return tuple(_fill(t, working, step, None) for t in catalogue.general[step.kind].texts)
    told = [(catalogue.slips[finding.slip].hint, finding) for finding in findings]
    look = _joined([(hint.look, finding) for hint, finding in told], working)
    happened = _joined([(hint.happened, finding) for hint, finding in told], working)
    worked = _fill(told[0][0].worked, working, step, None)
    return (look, happened, worked)


def _joined(texts: list[tuple[str, Finding]], working: Working) -> str:
    filled = [_fill(text, working, working.step(f.step), f) for text, f in texts]
    return " ".join(dict.fromkeys(filled))


def _fill(text: str, working: Working, step: Step, finding: Finding | None) -> str:
    """Return a hint with its placeholders filled for a step and what was found there."""
    question = working.question
    problem = question.problem
    about = other = ""
    if finding is not None and finding.changes:
        choice = finding.changes[0][0]
        about, other = choice.about, choice.other

    def named(symbol: str) -> str:
        force = next((f for f in problem.posture.forces if symbol in (f.symbol, f.at.symbol)), None)
        return problem.segment if force is None else problem.names[force.symbol]

    def value(match: re.Match[str]) -> str:
        match match.group(1):
            case "symbol":
                return sign_of(step.key)
            case "name":
                return named(about) if about else name_about(question, step)
            case "other":
                return named(other)
            case "other_symbol":
                return sign_of(other)
            case "given":
                return _given(working, step)
            case "formula":
                return formula(question, step)
            case "line":
                return worked_line(question, step, _values_before(working, step))
            case "axis":
                return problem.axis
            case "segment":
                return problem.segment
            case "effort":
                return problem.names[problem.posture.effort.symbol]
            case _:
                return step.unit

    return _PLACEHOLDER.sub(value, text)


def _given(working: Working, step: Step) -> str:
    """Return the given that a step starts from, as written."""
    question = working.question
    if step.kind in ("distance", "fraction"):
        distances = question.problem.posture.distances
        return question.written(next(d.given for d in distances if d.symbol == step.about))
    force = force_about(question, step)
    given = None if force is None else force.magnitude
    return "" if given is None else question.written(given)


def _values_before(working: Working, step: Step) -> dict[str, float]:
    """Return all values with the student's own on the lines that a step rests on."""
    question = working.question
    try:
        return question.graph.values(question.numbers, {}, own=working.own_values(step.key))
    except ArithmeticError:
        return question.graph.values(question.numbers, {})
