"""What is said of a page of working: each line's verdict, the slips behind a wrong one, what is
missing, and the conventions that the page keeps.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from leverstep.claims.judged_line import Claim, JudgedLine, LineStanding
from leverstep.claims.near_numbers import is_near
from leverstep.claims.page_of_claims import Page
from leverstep.claims.quantity_values import in_units_of_lines
from leverstep.claims.worth import numbers_in
from leverstep.course.symbols import sign_of
from leverstep.entry.reading import Reading
from leverstep.entry.tree import Reason, number_in
from leverstep.slips.amended_told import amended_slip
from leverstep.slips.catalogue import Catalogue
from leverstep.slips.explained import Explained, explained
from leverstep.slips.telling import slips_told, tell_wrong
from leverstep.statics import kinds
from leverstep.statics.step import Step
from leverstep.working.attempt import Attempt
from leverstep.working.claimed_lines import letters_untold, reading_of
from leverstep.working.guidance import Guidance, led_to
from leverstep.working.page import is_sign_of, line_name, taken_as
from leverstep.working.reasons import reason_words
from leverstep.working.rules import Rules
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.wording import ask, what_is
from leverstep.working.working import Working

_SAID = {
    LineStanding.RIGHT: "Right",
    LineStanding.FOLLOWS: "Right with your earlier value",
    LineStanding.KEPT: "Right, and not asked for",
}

_NUMBER = re.compile(r"\d+(?:[.,]\d+)?")

NOT_READ = "Not judged: say which quantity this is, by its symbol or in a word."
_TWO_UNKNOWNS = 2
_SIGNS_STATED = (
    kinds.WEIGHT_MOMENT, kinds.MASS_MOMENT, kinds.COMPONENT_AXIAL, kinds.COMPONENT_TRANSVERSE,
    kinds.COMPONENT_X, kinds.COMPONENT_Y,
)  # fmt: skip
"""Lines whose positive way is told with what they are, and is no choice of a page."""
_OTHER_SIDE = "the angle is right, but look at which side of the horizontal it lies on."

_SAME = 0.005
"""How far a value may lie from that of another line and still be that, as a share of it."""
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

    A number is found where a line puts numbers in, and the last one of a quantity counts; a formula
    in symbols finds none, nor does an equation of more than one unknown.
    """
    steps = page.question.derivation.asked
    words: set[str] = set()
    numbers: set[str] = set()
    for claim in (claim for line in page.lines for claim in line.claims):
        if claim.standing is LineStanding.RIGHT:
            words.add(claim.key)
            if claim.has_numbers and claim.unknowns < _TWO_UNKNOWNS:
                numbers.add(claim.key)
        elif _is_contradicted(page, claim):
            words.discard(claim.key)
            numbers.discard(claim.key)
    return {
        line_name(step): ask(page.question, step)
        for step in led_to(steps, Guidance.BLANK)
        if step.key not in (numbers if step.kind.is_number else words)
    }


def _is_contradicted(page: Page, claim: Claim) -> bool:
    """Return whether a claim gives a line a value that is not right, or seems not to be."""
    is_wrong = claim.standing is LineStanding.WRONG and _is_value(page, claim)
    return is_wrong or _doubted_line(page, claim) is not None


def conventions(page: Page) -> tuple[str, ...]:
    """Return what the page does otherwise than the problem, and keeps to: a sentence for each."""
    told = []
    if sense := page.other_sense:
        told.append(f"You take {sense} as positive; the problem takes the other way.")
    if page.comma:
        told.append("You write decimals with a comma.")
    usual, *others = page.question.accepted["g"]
    typed = {number for line in page.lines if line.standing.holds for number in _put_in(line)}
    typed -= set(page.question.numbers.values())  # 9.8 may be a distance
    told += [f"You take g as {g:g} m/s²; here it is {usual:g} m/s²." for g in others if g in typed]
    return tuple(told)


def _put_in(line: JudgedLine) -> Iterator[float]:
    """Yield the numbers that a line puts in, not those that it comes to; the value of g too."""
    for claim in line.claims:
        if claim.is_equation:
            yield from (float(n.replace(",", ".")) for n in _NUMBER.findall(claim.text))
        elif claim.key == "g":
            yield claim.value
        elif claim.tree is not None and number_in(claim.tree) is None:
            yield from (number.value for number in numbers_in(claim.tree))


def _asked(page: Page) -> dict[str, Step]:
    """Return the lines of the derivation that a student writes, by key."""
    return {step.key: step for step in page.question.derivation.asked}


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
        suspected = _suspected(page, line, written, catalogue)
        unread = f"Not judged: {_UNEQUAL}" if is_unequal else _not_read(page, line)
        return suspected or ToldLine(line, (), unread)
    if line.standing is not LineStanding.WRONG:
        if untold := letters_untold(line.claims):
            return ToldLine(line, (), f"Right as far as its letters tell: {reason_words(untold)}")
        told = f"{_SAID[line.standing]}{_about(page, line)}"
        return ToldLine(line, (), f"{told} But {_UNEQUAL}" if is_unequal else told)
    claim = next(claim for claim in line.claims if claim.standing is LineStanding.WRONG)
    claim = _of_only_term(page, _weighed(page, claim))
    step = _asked(page).get(claim.key)
    if step is None:
        return ToldLine(
            line, (), f"Not yet: look at {sign_of(claim.key)} again." if claim.key else "Not yet."
        )
    if claim.sign and step.kind in (kinds.REACTION_ANGLE, kinds.RESULTANT_ANGLE):
        return ToldLine(line, (), f"{sign_of(step.key)}: Not yet: {_OTHER_SIDE}")
    attempt = _attempt(page, claim, step, written)
    verdict = Verdict(step.key, line.text, Outcome.WRONG, attempt=attempt)
    found = _explained(verdict, claim, catalogue)
    working = Working(page.question, Guidance.BLANK, Rules(hints=False))
    slips = dict.fromkeys(f.slip for e in found.explanations for f in e.findings)
    told = tell_wrong(working, verdict, found, catalogue)
    if not is_sign_of(step, claim.symbol):
        told += f" {taken_as(page.question, step, claim.symbol)}"
    return ToldLine(line, tuple(slips), f"{sign_of(step.key)}: {told}")


def _explained(verdict: Verdict, claim: Claim, catalogue: Catalogue) -> Explained:
    """Return what is found behind a claim: the number that was copied wrongly, what its value
    tells for sure, or else what its arithmetic shows.
    """
    found, attempt, amendment = explained(verdict, catalogue), verdict.attempt, claim.amended
    if amendment is None or attempt is None or (_is_sure(found) and not amendment.typed):
        return found
    shown = amended_slip(attempt.question, attempt.step, amendment, catalogue)
    return Explained(explanations=shown) if shown else found


def _is_sure(found: Explained) -> bool:
    """Return whether one slip alone explains a value for sure."""
    explanations = found.explanations
    return len(explanations) == 1 and explanations[0].sure and len(explanations[0].findings) == 1


def _suspected(
    page: Page, line: JudgedLine, written: dict[str, Claim], catalogue: Catalogue
) -> ToldLine | None:
    """Return a question for a line that is not judged: which line it may be, and by which slip;
    None where no single slip is sure to explain its number.
    """
    asked = _asked(page)
    for one in line.claims:
        claim = _weighed(page, one)
        step = asked.get(claim.key)
        if step is None or not claim.doubted or math.isnan(claim.value):
            continue
        if claim.sign and step.kind not in _SIGNS_STATED:
            continue
        if not (one.is_worked_out or claim.sign or is_sign_of(step, claim.symbol)):
            continue
        verdict = Verdict(
            step.key, line.text, Outcome.WRONG, attempt=_attempt(page, claim, step, written)
        )
        found = _explained(verdict, claim, catalogue)
        slips = [finding.slip for one in found.explanations for finding in one.findings]
        if len(slips) == 1 and (claim.amended is not None or found.explanations[0].sure):
            working = Working(page.question, Guidance.BLANK, Rules(hints=False))
            told = slips_told(working, step.key, found, catalogue)
            which = f"{sign_of(step.key)}, {what_is(page.question, step)}"
            return ToldLine(line, tuple(slips), f"Not judged: is this {which}? {told}")
    return None


def _not_read(page: Page, line: JudgedLine) -> str:
    """Return what is said of a line that is not judged, though it may bear a symbol of the problem:
    who wrote it may mean something else.
    """
    step = next((step for claim in line.claims if (step := _doubted_line(page, claim))), None)
    if step is None and (untold := letters_untold(line.claims)):
        return f"Not judged: {reason_words(untold)}"
    if step is None:
        return NOT_READ
    is_other_sign = any(_is_turned(page, claim, step) for claim in line.claims)
    other = next((one for claim in line.claims if (one := _another_line(page, claim, step))), None)
    is_not = "this is not its value"
    if is_other_sign:
        is_not = "it has the other sign"
    elif other is not None:
        is_not = f"this is the value of {sign_of(other.key)}, {what_is(page.question, other)}"
    return (
        f"Not judged: {sign_of(step.key)} is {what_is(page.question, step)} here, and {is_not}. "
        "Give something else a symbol of its own."
    )


def _is_turned(page: Page, claim: Claim, step: Step) -> bool:
    """Return whether a doubted claim has the value of its line but for the sign."""
    turned = -page.question.right[step.key]
    return claim.key == step.key and is_near(claim.value, turned, claim.slack, _SAME)


def _another_line(page: Page, claim: Claim, step: Step) -> Step | None:
    """Return the line of the same kind whose value a doubted claim has, None where none has it."""
    right = page.question.right
    alike = (one for one in _asked(page).values() if one.kind is step.kind and one is not step)
    size, slack = abs(claim.value), claim.slack
    near = (one for one in alike if is_near(size, abs(right[one.key]), slack, _SAME))
    return next(near, None) if claim.key == step.key else None


def _doubted_line(page: Page, claim: Claim) -> Step | None:
    """Return the line whose own symbol has a value that seems wrong without proof, else None."""
    if not claim.doubted or not _is_value(page, claim) or claim.unequal:
        return None
    step = _asked(page).get(claim.key)
    return step if step is not None and is_sign_of(step, claim.symbol) else None


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
    asked = _asked(page)
    own = {
        claim.key: claim.symbol
        for claim in line.claims
        if claim.key in asked
        and claim.standing is not LineStanding.UNREAD
        and claim.unknowns < _TWO_UNKNOWNS
        and not is_sign_of(asked[claim.key], claim.symbol)
    }
    steps = {step.key for step in page.question.derivation.steps} - own.keys()
    names = ", ".join(sign_of(key) for key in line.about if key in steps)
    told = [taken_as(page.question, asked[key], called) for key, called in own.items()]
    return " ".join([f" ({names})." if names else ".", *told])


def _attempt(page: Page, claim: Claim, step: Step, written: dict[str, Claim]) -> Attempt:
    """Return a wrong claim with all that may explain it."""
    if claim.terms is not None:
        return Attempt(page.question.at(step), step, Reading(), {}, {}, claim.terms, claimed=True)
    before = page.question.derivation.ancestors(step.key)
    own = {key: one.value for key, one in written.items() if key in before}
    own = in_units_of_lines(page.question.derivation, own)
    wrong = {
        key: value for key, value in own.items() if written[key].standing is not LineStanding.RIGHT
    }
    size = abs(claim.value) if step.kind.is_size else claim.value
    reading = reading_of(replace(claim, value=size), step)._replace(tree=claim.tree)
    return Attempt(page.question.at(step), step, reading, own, wrong, written=own, claimed=True)
