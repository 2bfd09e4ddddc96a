"""What is said of a page of working: each line's verdict, the slips behind a wrong one, what is
missing, and the conventions that the page keeps.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from leverstep.claims.judged_line import Claim, JudgedLine, LineStanding
from leverstep.claims.page_of_claims import Page
from leverstep.claims.quantity_values import in_units_of_lines
from leverstep.course.symbols import sign_of
from leverstep.entry.tree import Reason
from leverstep.slips.catalogue import Catalogue
from leverstep.slips.explained import explained
from leverstep.slips.telling import tell_wrong
from leverstep.statics.step import Step
from leverstep.working.attempt import Attempt
from leverstep.working.claimed_lines import reading_of
from leverstep.working.guidance import Guidance, led_to
from leverstep.working.page import is_sign_of, line_name, taken_as
from leverstep.working.reasons import reason_words
from leverstep.working.rules import Rules
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.wording import ask
from leverstep.working.working import Working

_SAID = {
    LineStanding.RIGHT: "Right",
    LineStanding.FOLLOWS: "Right with your earlier value",
    LineStanding.KEPT: "Right, and not asked for",
}

_NUMBER = re.compile(r"\d+(?:[.,]\d+)?")

NOT_READ = "Not judged: say which quantity this is, by its symbol or in a word."
_UNEQUAL = reason_words(Reason("sides_differ"))


@dataclass(frozen=True, slots=True)
class ToldLine:
    """A line of a page with the ids of the slips behind it, and what is said of it."""

    line: JudgedLine
    slips: tuple[str, ...]
    told: str


def told_page(page: Page, catalogue: Catalogue) -> Iterator[ToldLine]:
    """Yield every line of a page with what is said of it."""
    written: dict[str, Claim] = {}
    for line in page.lines:
        yield _told(page, line, written, catalogue)
        written |= {claim.key: claim for claim in line.claims if _is_value(page, claim)}


def missing(page: Page) -> dict[str, str]:
    """Return what is asked for and not right on the page: its name, and what it is.

    A number is found where a line puts numbers in; a formula in symbols finds none.
    """
    steps = page.question.derivation.asked
    right = [
        claim
        for line in page.lines
        for claim in line.claims
        if claim.standing is LineStanding.RIGHT
    ]
    words, numbers = {c.key for c in right}, {c.key for c in right if c.has_numbers}
    return {
        line_name(step): ask(page.question, step)
        for step in led_to(steps, Guidance.BLANK)
        if step.key not in (numbers if step.kind.is_number else words)
    }


def conventions(page: Page) -> tuple[str, ...]:
    """Return what the page does otherwise than the problem, and keeps to: a sentence for each."""
    told = []
    if sense := page.other_sense:
        told.append(f"You take {sense} as positive; the problem takes the other way.")
    if page.comma:
        told.append("You write decimals with a comma.")
    usual, *others = page.question.accepted["g"]
    typed = {
        float(number.replace(",", "."))
        for line in page.lines
        if line.standing.holds
        for number in _NUMBER.findall(line.text)
    }
    told += [f"You take g as {g:g} m/s²; here it is {usual:g} m/s²." for g in others if g in typed]
    return tuple(told)


def _is_value(page: Page, claim: Claim) -> bool:
    """Return whether a claim gives a line of the derivation a value."""
    return (
        claim.key in page.question.right and not claim.is_equation and not math.isnan(claim.value)
    )


def _told(
    page: Page, line: JudgedLine, written: dict[str, Claim], catalogue: Catalogue
) -> ToldLine:
    if line.standing is LineStanding.REMARK:
        return ToldLine(line, (), "")
    is_unequal = any(claim.unequal for claim in line.claims)
    if line.standing is LineStanding.UNREAD:
        return ToldLine(line, (), f"Not judged: {_UNEQUAL}" if is_unequal else NOT_READ)
    if line.standing is not LineStanding.WRONG:
        told = f"{_SAID[line.standing]}{_about(page, line)}"
        return ToldLine(line, (), f"{told} But {_UNEQUAL}" if is_unequal else told)
    claim = next(claim for claim in line.claims if claim.standing is LineStanding.WRONG)
    claim = _of_only_term(page, _weighed(page, claim))
    step = next((step for step in page.question.derivation.asked if step.key == claim.key), None)
    if step is None:
        return ToldLine(
            line, (), f"Not yet: look at {sign_of(claim.key)} again." if claim.key else "Not yet."
        )
    attempt = _attempt(page, claim, step, written)
    verdict = Verdict(step.key, line.text, Outcome.WRONG, attempt=attempt)
    found = explained(verdict, catalogue)
    working = Working(page.question, Guidance.BLANK, Rules(hints=False))
    slips = dict.fromkeys(f.slip for e in found.explanations for f in e.findings)
    told = tell_wrong(working, verdict, found, catalogue)
    if not is_sign_of(step, claim.symbol):
        told += f" {taken_as(page.question, step, claim.symbol)}"
    return ToldLine(line, tuple(slips), f"{sign_of(step.key)}: {told}")


def _weighed(page: Page, claim: Claim) -> Claim:
    """Return a wrong mass that no line is for as the weight that it leads to."""
    for force in page.question.problem.forces:
        if force.mass_key == claim.key and claim.key not in page.question.right:
            gravity = page.question.accepted["g"][0]
            slack, value = claim.slack * gravity, claim.value * gravity
            return replace(claim, key=force.symbol, value=value, slack=slack, tree=None)
    return claim


def _of_only_term(page: Page, claim: Claim) -> Claim:
    """Return a claim of a sum that no line is for, since it has one term, as one of that term."""
    step = next((step for step in page.question.derivation.steps if step.key == claim.key), None)
    if step is None or step.asked or len(step.uses) != 1:
        return claim
    return replace(claim, key=step.uses[0])


def _about(page: Page, line: JudgedLine) -> str:
    """Return which lines of the derivation a line is about: those whose symbol it has by that
    alone, the others in the words of the problem too.
    """
    asked = {step.key: step for step in page.question.derivation.asked}
    own = {
        claim.key: claim.symbol
        for claim in line.claims
        if claim.key in asked and not is_sign_of(asked[claim.key], claim.symbol)
    }
    steps = {step.key for step in page.question.derivation.steps} - own.keys()
    names = ", ".join(sign_of(key) for key in line.about if key in steps)
    told = [taken_as(page.question, asked[key], called) for key, called in own.items()]
    return " ".join([f" ({names})." if names else ".", *told])


def _attempt(page: Page, claim: Claim, step: Step, written: dict[str, Claim]) -> Attempt:
    """Return a wrong claim with all that may explain it."""
    before = page.question.derivation.ancestors(step.key)
    own = {key: one.value for key, one in written.items() if key in before}
    own = in_units_of_lines(page.question.derivation, own)
    wrong = {
        key: value for key, value in own.items() if written[key].standing is not LineStanding.RIGHT
    }
    size = abs(claim.value) if step.kind.is_size else claim.value
    reading = replace(reading_of(replace(claim, value=size), step), tree=claim.tree)
    return Attempt(page.question.at(step), step, reading, own, wrong, written=own, claimed=True)
