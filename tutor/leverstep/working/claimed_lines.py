"""Lines that were understood from the page they stand on: which are kept, where, and as what."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Collection, Mapping, Sequence

from leverstep.claims.judged_line import Claim, LineStanding
from leverstep.claims.labels import WORDS_OF_SORTS
from leverstep.claims.plain_writing import without_number
from leverstep.course.problem import Question
from leverstep.entry.reading import Reading
from leverstep.entry.tree import Reason, names_in, number_in
from leverstep.statics.kinds import EQUATION, HANDED_FORCE, AnswerForm
from leverstep.statics.step import Step
from leverstep.working.guidance import Guidance
from leverstep.working.rules import Rules
from leverstep.working.standing_lines import Line
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.wording import what_is
from leverstep.working.writing import quantity, value_text

_OF_FORMULA = re.compile(r"[\d=*/^+×·÷_]|\.(?=\w)")
_UNDERLINED = re.compile(r"^=+\s*([^=]*?)\s*=+$")
_PART = re.compile(
    r"\W*(?:task|part|step|question|exercise|problem)\b[\s(]*\w{1,2}\W*|\(?[a-z][).:]",
    re.IGNORECASE,
)
_GIVENS = re.compile(r"\W*(?:givens?|known|data)\s*:.*", re.IGNORECASE)
"""A list of what is given."""
_LONGEST_LETTERS = 2
"""Letters of what may be a symbol or a unit, and no word."""
_IN_HEADINGS = WORDS_OF_SORTS.union(
    ("forces", "weights", "masses", "arms", "distances", "angles", "reactions", "ratios", "torque"),
    ("torques", "given", "givens", "known", "unknown", "wanted", "sought", "find", "solution"),
    ("answer", "answers", "result", "results", "working", "equilibrium", "balance", "components"),
    ("free", "body", "diagram", "sketch", "class", "mechanical", "conversions", "units", "check"),
    ("part", "task", "step", "the", "of", "and", "about", "at", "in", "all", "m", "n"),
)
"""Words that a heading may be made of alone."""
_SAYS_NOT_OF_WHICH = frozenset({
    "unknown_word", "class_alone", "unit_alone", "unknown_unit", "no_symbol", "not_matched",
})  # fmt: skip
"""Codes of why a line is not read whose words or letters are not those of the problem."""
_WORDS_OF_AMOUNT = 2
"""A number and its unit."""


def all_hold(claims: Sequence[Claim]) -> bool:
    """Return whether a line claims something, and all of it holds."""
    return bool(claims) and all(claim.standing.holds for claim in claims)


def is_note(text: str) -> bool:
    """Return whether a line is of several words, without a digit or an equals sign."""
    return len(re.findall(r"[^\W\d_]{2,}", text)) > 2 and not re.search(r"[\d=]", text)


def is_heading(text: str) -> bool:
    """Return whether a line is a heading: words without a number or a sign of arithmetic that end
    with a colon, bear a number, or only name what the lines below are of; or a list of givens.
    """
    bare = without_number(_UNDERLINED.sub(r"\1", text.strip())).strip(" *_#")
    words = re.findall(r"[^\W\d_]+", bare)
    if _PART.fullmatch(bare) or _GIVENS.fullmatch(text):
        return True
    if _OF_FORMULA.search(bare) or not any(len(word) > _LONGEST_LETTERS for word in words):
        return False
    is_marked = bare.endswith(":") or bare != text.strip()
    return is_marked or (bool(words) and _IN_HEADINGS.issuperset(map(str.lower, words)))


def is_bare_value(claim: Claim, text: str) -> bool:
    """Return whether a line is a value with its unit alone, and only its size tells of what."""
    is_alone = not claim.named and not claim.symbol and number_in(claim.tree) is not None
    return is_alone and len(text.split()) <= _WORDS_OF_AMOUNT


def line_of_claim(claim: Claim, steps: Mapping[str, Step]) -> str:
    """Return which line a claim is kept on, "" where the derivation has none; `steps` by key."""
    if claim.key not in steps or claim.standing is LineStanding.KEPT:
        return ""
    of_posture = (s for s in steps.values() if s.mark == steps[claim.key].mark)
    equation = next((s.key for s in of_posture if s.kind is EQUATION), "")
    if claim.of_moments and equation:
        return equation
    return claim.key if claim.unknowns < 2 else ""


def claimed_line(claim: Claim, step: Step, key: str, text: str, *, is_all: bool) -> Line:
    """Return the line of a claim that holds.

    Args:
        claim: what is claimed.
        step: whose value it is about.
        key: the line that it is kept on.
        text: the line as it was typed.
        is_all: whether it claims nothing else; of `R = 369 N down` the direction keeps one word.
    """
    if not is_all and step.kind.answer is AnswerForm.WORD:
        text = value_text(step, claim.value)
    outcome = Outcome.FOLLOWED if claim.standing is LineStanding.FOLLOWS else Outcome.RIGHT
    reason, implies = None, ""
    sides = (claim.tree,) if key != claim.key and claim.tree is not None else ()
    reading = reading_of(claim, step)._replace(sides=sides)
    is_solved = claim.is_equation and claim.unknowns == 1 and claim.has_numbers
    if is_solved and not math.isnan(claim.value):
        value = quantity(reading.value, step.unit)
        reason, implies = Reason.of("implied", name=claim.key, value=value), claim.key
    return Line(text, reading, Verdict(key, text, outcome, reason), claim, implies)


def reading_of_wrong(claim: Claim, step: Step) -> Reading:
    """Return the value that a claim gives, to be judged at its step; symbols of its page are no
    more in it.
    """
    tree = None if claim.tree is None or any(names_in(claim.tree)) else claim.tree
    return reading_of(claim, step)._replace(tree=tree)


def reading_of(claim: Claim, step: Step) -> Reading:
    """Return the value that a claim gives, which is in SI, in the unit of its step."""
    worth, slack = claim.value / step.unit_size, claim.slack / step.unit_size
    return Reading(worth, slack, claim.figures, worked=worth)


def on_other_body(
    question: Question, guidance: Guidance, verdict: Verdict, claims: Sequence[Claim]
) -> Verdict | None:
    """Return the verdict of a wrong line that is not judged, None for any other.

    It has the symbol of a force handed on, and the other sign: that may be the student's own symbol
    for the force on the other body, where no list of lines has it.
    """
    if not guidance.free or verdict.outcome is not Outcome.WRONG:
        return None
    handed = (one for one in question.derivation.asked if one.kind is HANDED_FORCE)
    step = next((one for one in handed if one.key == verdict.step), None)
    if step is None or not any(one.key == step.key and one.doubted and one.sign for one in claims):
        return None
    reason = Reason.of("on_other_body", name=step.key, what=what_is(question, step))
    return Verdict("", verdict.text, Outcome.UNREAD, reason)


def letters_untold(claims: Sequence[Claim]) -> Reason | None:
    """Return why a line in letters of the student's own is not judged, None for any other."""
    letters = next((claim.letters for claim in claims if claim.letters), ())
    return Reason.of("letters_untold", names=" ".join(letters)) if letters else None


def left_unread(
    question: Question,
    rules: Rules,
    unread: Verdict,
    claims: Sequence[Claim],
    steps: Mapping[str, Step],
) -> Verdict:
    """Return the verdict of a line that was not understood, with what its page makes of it.

    Args:
        question: what is worked.
        rules: those of the working.
        unread: the verdict of the line as it was not understood.
        claims: what it may claim.
        steps: the lines of the derivation, by key.
    """
    text = unread.text
    if not claims and rules.own_words and (is_note(text) or is_heading(text)):
        return Verdict("", text, Outcome.UNREAD, Reason("nothing_to_check"))
    if any(claim.unequal for claim in claims):
        return Verdict("", text, Outcome.UNREAD, Reason("sides_differ"))
    says_which = unread.reason is None or unread.reason.code not in _SAYS_NOT_OF_WHICH
    suspected = None if rules.marked or says_which else _suspected(claims, steps)
    if suspected is None:
        return unread
    which = Reason.of("may_be", name=suspected.key, what=what_is(question, suspected))
    return Verdict("", text, Outcome.UNREAD, which)


def _suspected(claims: Sequence[Claim], steps: Mapping[str, Step]) -> Step | None:
    """Return the line that a number may be of by what it is worked out from, None for none."""
    for claim in claims:
        is_value = claim.doubted and not claim.is_equation
        if claim.key in steps and is_value and claim.is_worked_out:
            return steps[claim.key]
    return None


def beside_symbols(
    claims: Sequence[Claim], steps: Mapping[str, Step], stands_in_symbols: Callable[[str], bool]
) -> Sequence[Claim]:
    """Return claims without an equation of moments in numbers whose result is claimed too, as in
    `0.042 F = 33.4, so F = 795 N`, where that equation stands in symbols: it stays as it is.

    Args:
        claims: what a line claims.
        steps: the lines of the derivation, by key.
        stands_in_symbols: whether the line with this key does.
    """
    values = {claim.key for claim in claims if claim.standing.holds and not claim.is_equation}
    return [
        claim
        for claim in claims
        if claim.key not in values
        or not claim.is_equation
        or not stands_in_symbols(line_of_claim(claim, steps))
    ]


def is_only_in_symbols(claim: Claim, step: Step, has_value: Callable[[str], bool]) -> bool:
    """Return whether a claim is a formula of a step with symbols that have no value yet.

    Args:
        claim: what a line claims.
        step: the line of the derivation that it is of.
        has_value: whether what has this symbol has one.
    """
    if claim.has_numbers or not step.kind.is_number:  # the moment equation has no value
        return False
    return not all(map(has_value, step.uses))


def is_of_one_value(claim: Claim, keys: Collection[str]) -> bool:
    """Return whether a claim that does not hold is of the value of one of some lines."""
    is_wrong = claim.standing is LineStanding.WRONG and not claim.is_equation
    return is_wrong and claim.key in keys and not math.isnan(claim.value)


def is_of_wrong_moments(claim: Claim) -> bool:
    """Return whether a claim is an equation of moments that does not hold."""
    is_wrong = claim.standing is LineStanding.WRONG
    return is_wrong and claim.of_moments and claim.unknowns == 1
