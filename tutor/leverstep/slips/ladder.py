"""The hints of a line, from where to look to the line worked out."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from leverstep.course.symbols import sign_of
from leverstep.slips.catalogue import Catalogue
from leverstep.slips.explained import Explained, explained
from leverstep.slips.filling import filled, unit_given, values_before
from leverstep.slips.finding import Finding
from leverstep.slips.telling import MOST_TOLD, slips_told
from leverstep.statics.step import Step
from leverstep.working.page import line_name
from leverstep.working.rules import Reasons, Rung
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working
from leverstep.working.writing import formula, only_copies_a_given


@dataclass(frozen=True, slots=True)
class LineHint:
    """A hint of a line in words, and how much it tells."""

    rung: Rung
    text: str


def hints(working: Working, key: str, catalogue: Catalogue) -> tuple[LineHint, ...]:
    """Return the hints of a step, for the entry that stands there or before any.

    They go from where to look, over what seems to have happened and the formula, to the line worked
    out with the student's own earlier values. A rung that says nothing is left out.
    """
    line = working.lines.get(key)
    found = Explained() if line is None else explained(line.verdict, catalogue)
    return hints_for(working, key, found, catalogue)


def hints_for(
    working: Working, key: str, found: Explained, catalogue: Catalogue
) -> tuple[LineHint, ...]:
    """Return the hints of a step for the slips found there, in general where none are.

    Where several explanations fit equally well, the hints serve all that are told.
    """
    step = working.step(key)
    ways = [one.findings for one in found.explanations[:MOST_TOLD]]
    if ways:
        told = [[(catalogue.slips[f.slip].hint, f) for f in findings] for findings in ways]
        look = _either(_joined([(hint.look, f) for hint, f in way], working) for way in told)
        happened = _either(
            _joined([(hint.happened, f) for hint, f in way], working) for way in told
        )
        if working.rules.reasons is Reasons.WHEN_ASKED:
            happened = f"{slips_told(working, key, found, catalogue)} {happened}"
        hint = told[0][0][0]
    else:
        hint = catalogue.general_hint(step.kind.name, unit_given(working, step)).hint
        look, happened = (filled(text, working, step, None) for text in (hint.look, hint.happened))
    worked = _to_be_found(working, step) or (
        filled(hint.worked, working, step, None) + _resting(working, step)
    )
    texts = (look, happened, _in_symbols(working, step), worked)
    return tuple(LineHint(rung, text) for rung, text in zip(Rung, texts, strict=True) if text)


def _to_be_found(working: Working, step: Step) -> str:
    """Return what must be found first where the line worked out would tell it; "" for nothing.

    Where lines are asked for one after the other, each is led to before those that rest on it.
    """
    if not working.guidance.free:
        return ""
    before = working.question.derivation.ancestors(step.key)
    unfound = [
        line_name(one)
        for one in working.asked
        if one.key in before and one.kind.is_number and not working.done(one.key)
    ]
    return f"First find {', '.join(unfound)}: this line rests on it." if unfound else ""


def _in_symbols(working: Working, step: Step) -> str:
    """Return the formula of a line; "" where that would be the answer, or there is none."""
    symbols = formula(working.question, step)
    told = symbols and not only_copies_a_given(working.question, step)
    return f"In symbols: {symbols}" if told else ""


def because(working: Working, key: str, catalogue: Catalogue) -> str:
    """Return in one sentence why a line is written, whatever its numbers."""
    step = working.step(key)
    general = catalogue.general_hint(step.kind.name, unit_given(working, step))
    return filled(general.because, working, step, None)


def _resting(working: Working, step: Step) -> str:
    """Return which of the student's own lines a worked line rests on that are not right yet."""
    own = working.own_values(step.key)
    wrong = [
        sign_of(use)
        for use in dict.fromkeys(re.findall(r"\{(\w+)\}", step.written))
        if not step.kind.is_equation
        and use in own
        and working.lines[use].verdict.outcome is not Outcome.RIGHT
    ]
    if not wrong:
        return ""
    if values_before(working, step) is None:
        return f" (With your own {' and '.join(wrong)} there is no value: change that first.)"
    return f" (This uses your own {' and '.join(wrong)}, which is not right yet.)"


def _either(texts: Iterable[str]) -> str:
    """Return what each explanation has to say, once where they say the same."""
    return " Or: ".join(dict.fromkeys(texts))


def _joined(texts: list[tuple[str, Finding]], working: Working) -> str:
    """Return the filled texts as one, no sentence twice."""
    texts_filled = [filled(text, working, working.step(f.step), f) for text, f in texts]
    sentences = [part for text in texts_filled for part in re.split(r"(?<=[.?!]) (?=[A-Z])", text)]
    return " ".join(dict.fromkeys(sentences))
