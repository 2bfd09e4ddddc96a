"""One student's working on one question: the lines so far, and the one verb `enter`."""

from __future__ import annotations

import logging
import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TypeVar

from leverstep.claims.judged_line import Claim, LineStanding
from leverstep.claims.page_of_claims import Page
from leverstep.comparing.equation import TermFindings, judge_equation
from leverstep.comparing.structure import (
    Structure,
    are_known,
    structure,
    structure_of_equation,
)
from leverstep.comparing.terms import has_value
from leverstep.course.problem import Question
from leverstep.entry.amount import Amount
from leverstep.entry.reading import Reading, after_symbol, read_entry
from leverstep.entry.tree import Name, Reason, Unreadable, is_arithmetic, names_in
from leverstep.statics import kinds
from leverstep.statics.balance import EQUATION
from leverstep.statics.choices import CONVENTIONS
from leverstep.statics.step import Step
from leverstep.statics.units import OF_LINES, known_unit
from leverstep.working.free import FreeLine, read_free_line
from leverstep.working.guidance import Guidance, leading_to, led_to
from leverstep.working.judge import is_coarse, judge_value
from leverstep.working.rules import Rules
from leverstep.working.verdict import Explanation, Outcome, Verdict
from leverstep.working.wording import given_about
from leverstep.working.writing import quantity, unit_words

_log = logging.getLogger(__name__)


@dataclass(frozen=True)
class Attempt:
    """A wrong entry, with all that may explain it.

    `own` holds the values that the student wrote on earlier lines, `wrong` those of them that are
    not right, `written` the values on all other lines. `terms` is what was found in an equation,
    `structure` what arithmetic shows of itself, `taken` the constants known to stand in it.
    """

    question: Question
    step: Step
    reading: Reading
    own: Mapping[str, float]
    wrong: Mapping[str, float]
    terms: TermFindings | None = None
    structure: Structure | None = None
    written: Mapping[str, float] = field(default_factory=dict)
    taken: Mapping[str, float] = field(default_factory=dict)

    @cached_property
    def values(self) -> Mapping[str, float]:
        """Return the value of every step with the own values, none where one has no end."""
        try:
            return self.question.graph.values(self.question.numbers, {}, own=self.own)
        except ArithmeticError:
            return {}


_Found = TypeVar("_Found")

Explain = Callable[[Attempt], tuple[Explanation, ...]]
"""What finds the slips behind a wrong entry; the room of slips has it."""


@dataclass(frozen=True, slots=True)
class Line:
    """The standing entry of a step: what was typed, what it says, and its verdict.

    `claimed` marks a line that was understood from its page, not as an answer to its step.
    """

    text: str
    reading: Reading | None
    verdict: Verdict
    claimed: bool = False


@dataclass(frozen=True, slots=True)
class _Understood:
    """What a line that was written freely is taken as, before it is kept.

    `plainly` says that it gives a value to the problem's own symbol, so that there is no doubt what
    it is about.
    """

    verdict: Verdict
    key: str = ""
    text: str = ""
    line: Line | None = None
    plainly: bool = False


class Working:
    """The lines of one question. `enter` and `write` judge; all else only tells how things stand.

    `steps` are all lines, `asked` those that the student is led to, by the degree of guidance.
    `attempts` counts the entries judged for a line, `judgings` what was judged or judged again.
    Where `explains` is taken back, a wrong line is only said to be wrong.
    """

    def __init__(
        self,
        question: Question,
        explain: Explain,
        guidance: Guidance = Guidance.LINES,
        rules: Rules | None = None,
    ) -> None:
        self.question = question
        self.guidance = guidance
        self.rules = rules or Rules()
        self.steps = question.derivation.asked
        self.asked = led_to(self.steps, guidance)
        self._by_key = {step.key: step for step in self.steps}
        self.lines: dict[str, Line] = {}
        self.attempts: dict[str, int] = {}
        self.left: set[str] = set()
        self.judgings = 0
        self.explains = True
        self._tries: dict[str, int] = {}
        self._explain = explain

    def step(self, key: str) -> Step:
        """Return the asked step with this key; KeyError where there is none."""
        return self._by_key[key]

    def has(self, key: str) -> bool:
        """Return whether there is an asked step with this key."""
        return key in self._by_key

    def enter(self, key: str, text: str) -> Verdict:
        """Judge an entry at a step, and keep it where it could be read.

        Later lines that rest on it are judged again.
        """
        return self._refused(key, text) or self._keep(key, self._judge(self.step(key), text))

    def _refused(self, key: str, text: str) -> Verdict | None:
        """Return the verdict on what is not judged: all tries are used, or it stands there."""
        if self.closed(key):
            return Verdict(key, text, Outcome.UNREAD, Reason("tries_used"))
        standing, step = self.lines.get(key), self.step(key)
        if standing and after_symbol(standing.text, step) == after_symbol(text, step):
            return Verdict(key, text, Outcome.SAME)
        return None

    def _keep(self, key: str, line: Line) -> Verdict:
        if line.verdict.counts:
            self.attempts[key] = self.attempts.get(key, 0) + 1
            if not (self.rules.tells and line.verdict.settled):
                self._tries[key] = self._tries.get(key, 0) + 1
            self.lines[key] = line
            self.left.discard(key)
            self._judge_later(key)
        return line.verdict

    def write(self, text: str) -> Verdict:
        """Judge a line that says itself which one it is, and keep it where it could be read.

        The verdict names the line it was taken as, "" where it is none of this problem.
        """
        try:
            claimed = self._page.write(text).claims if self.rules.own_words else ()
            understood = self._understood(text)
            if claims := self._better(claimed, understood):
                return self._keep_claims(claims, text)
            if understood.line is None:
                return understood.verdict
            key = understood.key
            return self._refused(key, understood.text) or self._keep(key, understood.line)
        except Exception:  # noqa: BLE001  (a fault of ours must not take the sitting down)
            return self._failed("", text)

    def _understood(self, text: str) -> _Understood:
        """Return what a line is taken as by its own: its symbol, its words or its one unknown."""
        current = self.current()
        here = current.key if current and self.guidance is Guidance.LANDMARKS else ""
        try:
            free = read_free_line(text, self.question, self._known(None), here)
            if free.implied is not None:
                line = self._judge_implied(free, free.implied, text)
                return _Understood(line.verdict, free.key, text, line)
            verdict = self._judge_formula(free, text)
        except Unreadable as error:
            return _Understood(Verdict("", text, Outcome.UNREAD, error.reason, error.place))
        if verdict is not None and not self.closed(free.key):
            return _Understood(verdict)
        line = self._judge(self.step(free.key), free.text)
        unknown = free.key == EQUATION and line.verdict.reason and line.verdict.counts
        if unknown and self.rules.tells:  # to refuse it would tell
            return _Understood(Verdict("", text, Outcome.UNREAD, Reason("no_line")))
        plainly = free.key != EQUATION
        return _Understood(line.verdict, free.key, free.text, line, plainly)

    @cached_property
    def _page(self) -> Page:
        """Return the page of all that was written freely, for what a line alone does not say."""
        return Page(self.question)

    def _better(self, claims: Iterable[Claim], understood: _Understood) -> tuple[Claim, ...]:
        """Return what the page makes of a line, where that is more than the line says alone.

        A line that holds is never called wrong. Where verdicts are not shown, to take only what
        holds would tell.
        """
        if understood.plainly or understood.verdict.settled or not self.rules.own_words:
            return ()
        good = tuple(claim for claim in claims if claim.standing.holds)
        return good if len(good) == len(tuple(claims)) else ()

    def _keep_claims(self, claims: tuple[Claim, ...], text: str) -> Verdict:
        """Keep what a line claims of steps of the derivation; return the verdict on the first."""
        verdicts = []
        for claim in claims:
            key = self._key_of(claim)
            if not key:
                continue
            line = self._claimed_line(claim, key, text)
            verdicts.append(self._refused(key, text) or self._keep(key, line))
        return verdicts[0] if verdicts else Verdict("", text, Outcome.KEPT)

    def _key_of(self, claim: Claim) -> str:
        """Return the line that a claim is kept on, "" where the derivation has none."""
        if claim.key not in self._by_key or claim.standing is LineStanding.KEPT:
            return ""
        if claim.of_moments and EQUATION in self._by_key:
            return EQUATION
        return claim.key if claim.unknowns < 2 else ""

    def _claimed_line(self, claim: Claim, key: str, text: str) -> Line:
        """Return the line of a claim that holds."""
        self.judgings += 1
        follows = claim.standing is LineStanding.FOLLOWS
        outcome = Outcome.FOLLOWED if follows else Outcome.RIGHT
        step = self.step(claim.key)
        reason = None
        if claim.is_equation and claim.unknowns == 1 and not math.isnan(claim.value):
            value = quantity(claim.value, step.unit)
            reason = Reason.of("implied", name=claim.key, value=value)
        sides = (claim.tree,) if key != claim.key and claim.tree is not None else ()
        reading = Reading(claim.value, claim.slack, claim.figures, sides=sides, worked=claim.value)
        return Line(text, reading, Verdict(key, text, outcome, reason), claimed=True)

    def leave(self, key: str) -> None:
        """Let a line stand that is not right yet, to go on with the next."""
        self.left.add(key)

    def current(self) -> Step | None:
        """Return the first step asked for that is neither done nor left; None at the end."""
        return next((step for step in self.to_find if step.key not in self.left), None)

    @property
    def to_find(self) -> tuple[Step, ...]:
        """Return the steps asked for that are not done, those that were left among them."""
        return tuple(step for step in self.asked if not self.done(step.key))

    @property
    def complete(self) -> bool:
        """Return whether every line asked for is done."""
        return not self.to_find

    def done(self, key: str) -> bool:
        """Return whether nothing more is asked for on a line: it stands, or can't be tried again.

        Where verdicts are not shown, it is enough that it is written.
        """
        unseen = not self.rules.tells and key in self.lines
        return self.stands(key) or self.closed(key) or unseen

    def closed(self, key: str) -> bool:
        """Return whether all tries for a line are used."""
        return self.tries_left(key) == 0

    def tries_left(self, key: str) -> int | None:
        """Return how often a line may still be tried, None for any number of times.

        A right entry uses up no try where verdicts are shown: else each one does, so that the
        number tells nothing.
        """
        most = self.rules.attempts
        return None if most is None else max(0, most - self._tries.get(key, 0))

    def stands(self, key: str) -> bool:
        """Return whether a line is written and right, as it is or with an earlier value."""
        return key in self.lines and self.lines[key].verdict.settled

    def leads_to(self, key: str) -> Step:
        """Return the line asked for that a line leads to first: itself, or one that rests on it.

        Nothing rests on an equation or on the angle of the reaction: there it is the next one.
        """
        rests_on = self.question.derivation.ancestors
        place = self.steps.index(self.step(key))
        after = [step for step in self.asked if step in self.steps[place:]] or self.asked[-1:]
        return next((s for s in after if s.key == key or key in rests_on(s.key)), after[0])

    def missing(self) -> tuple[Step, ...]:
        """Return the lines that lead to the first thing still to be found, itself the last.

        What was left comes after all the others.
        """
        goal = self.current() or next(iter(self.to_find), None)
        return () if goal is None else leading_to(goal, self.steps, set(self.lines))

    def own_values(self, key: str) -> dict[str, float]:
        """Return the values written on the lines that a step rests on, by key."""
        ancestors = self.question.derivation.ancestors(key)
        return {
            other: line.reading.value
            for other, line in self.lines.items()
            if other in ancestors and line.reading is not None and not line.reading.sides
        }

    def _written(self, key: str | None) -> dict[str, float]:
        """Return the values written on all lines that do not themselves rest on a step."""
        return {
            other: line.reading.value
            for other, line in self.lines.items()
            if other != key
            and line.reading is not None
            and not line.reading.sides
            and key not in self.question.derivation.ancestors(other)
        }

    def values(self) -> Mapping[str, float]:
        """Return the value of every step, the student's own in place of those written."""
        own = {
            key: line.reading.value
            for key, line in self.lines.items()
            if line.reading is not None and not line.reading.sides
        }
        try:
            return self.question.graph.values(self.question.numbers, {}, own=own)
        except ArithmeticError:
            return self.question.right

    def _judge_later(self, key: str) -> None:
        """Judge again the lines that rest on a step, first to last."""
        rests_on = self.question.derivation.ancestors
        for step in [s for s in self.steps if s.key in self.lines and key in rests_on(s.key)]:
            line = self.lines[step.key]
            if step.kind is not kinds.EQUATION:  # symbols rest on no values
                again = self._judged_again(step, line)
                if again.verdict.counts:
                    self.lines[step.key] = again

    def _judged_again(self, step: Step, line: Line) -> Line:
        """Judge a standing line once more, by what it says now."""
        if not line.claimed or line.reading is None:
            return self._judge(step, line.text)
        if not step.kind.is_number:
            return line
        again = self._judge_reading(step, line.text, line.reading)
        return replace(again, claimed=True)

    def _judge(self, step: Step, text: str) -> Line:
        try:
            return self._judged(step, text)
        except Exception:  # noqa: BLE001  (a fault of ours must not take the sitting down)
            return Line(text, None, self._failed(step.key, text))

    def _failed(self, key: str, text: str) -> Verdict:
        """Return the verdict on a line that a fault of the program keeps from being judged."""
        _log.exception("A line of %s could not be judged", self.question.problem.id)
        return Verdict(key, text, Outcome.FAILED)

    def _judged(self, step: Step, text: str) -> Line:
        try:
            reading = read_entry(text, step, self._known(step))
            if step.kind is kinds.EQUATION:
                return self._judge_terms(step, text, reading)
        except Unreadable as error:
            verdict = Verdict(step.key, text, Outcome.UNREAD, error.reason, error.place)
            return self._judge_equation_again(step, text) or Line(text, None, verdict)
        return self._judge_reading(step, text, reading)

    def _judge_equation_again(self, step: Step, text: str) -> Line | None:
        """Judge a line that was written as an equation with numbers; None where it is not one."""
        if not self.guidance.free:
            return None
        try:
            free = read_free_line(text, self.question, self._known(step))
            if free.key == step.key and free.implied is not None:
                return self._judge_implied(free, free.implied, text)
        except Unreadable:
            return None
        return None

    def _known(self, step: Step | None) -> dict[str, Amount]:
        """Return every symbol of the problem, with its value where it has one (else nan).

        Lines that rest on `step` count as without a value there.
        """
        known = self._at_first.copy()
        for key, value in self._written(step.key if step else None).items():
            if key in known:
                unit = self.step(key).unit
                known[key] = Amount(value, OF_LINES[unit], bare=unit == "")
        return known

    @cached_property
    def _at_first(self) -> dict[str, Amount]:
        """Return every symbol of the problem, with its value where it is given or g (else nan).

        A line that is answered in words, or is an equation, has no symbol.
        """
        steps = [step for step in self.question.derivation.steps if step.kind.is_number]
        known = {step.key: Amount(math.nan) for step in steps}
        for given in self.question.givens:
            if given.sign and given.sign not in known:
                worth = known_unit(given.unit)
                number = self.question.numbers[given.key]
                value = number * float(worth.size)
                known[given.sign] = Amount(value, worth.dimension, bare=False, number=number)
        known["g"] = Amount(self.question.accepted["g"][0], (0, 1, -2, 0), bare=False)
        return known

    def _judge_implied(self, free: FreeLine, implied: Reading, text: str) -> Line:
        """Judge an equation with numbers in it by what its one unknown comes to."""
        self.judgings += 1
        step = self.step(free.of)
        own, wrong = self._carried(step)
        shown = structure_of_equation(self.question, step, free.sides, self._written(step.key))
        if shown is None and not self.rules.tells:
            raise Unreadable("numbers_not_seen")
        if shown is not None:  # numbers typed stand for lines that may not be written
            pins = {key: v for key, v in shown.pins.items() if key not in CONVENTIONS}
            own, wrong = {**pins, **own}, {**pins, **wrong}
        judged = judge_value(self.question, step, implied, (own, wrong))
        kept = replace(implied, sides=free.sides) if free.key != free.of else implied
        real = () if shown is None else shown.differences
        real = tuple(one for one in real if one.what != "rounded")
        known = are_known(self.question, free.sides, self._written(step.key))
        if (judged.right or judged.follows) and (not real or known):
            if shown is None and not known:
                raise Unreadable("numbers_from_where")
            followed = not judged.right and bool(self._carried(step)[1])
            outcome = Outcome.FOLLOWED if followed else Outcome.RIGHT
            reason = Reason.of("implied", name=free.of, value=quantity(implied.value, step.unit))
            return Line(text, kept, Verdict(free.key, text, outcome, reason))
        size = abs(implied.value) if step.kind.is_size else implied.value
        slipped = replace(implied, value=size, worked=size)
        if shown is not None and judge_value(self.question, step, slipped, (own, wrong)).right:
            # Only a sign is wrong, so no slip is behind the size.
            verdict = Verdict(free.key, text, Outcome.WRONG, differences=shown.differences)
            return Line(text, kept, verdict)
        attempt = Attempt(self.question, step, slipped, own, wrong, structure=shown)
        verdict = replace(self._wrong(attempt, text), step=free.key)
        if shown is None and not verdict.explanations:
            raise Unreadable("not_matched")
        return Line(text, kept, verdict)

    def _judge_formula(self, free: FreeLine, text: str) -> Verdict | None:
        """Judge a line in symbols that have no value yet; None where it is no such line."""
        step = self.step(free.key)
        if not step.kind.is_number or len(free.sides) != 2 or not step.written:
            return None
        side = free.sides[1] if isinstance(free.sides[0], Name) else free.sides[0]
        known = self._known(step)
        if any(name.symbol == step.key for name in names_in(side)):
            raise Unreadable("on_both_sides", name=step.key)
        if not any(math.isnan(known[name.symbol].value) for name in names_in(side)):
            return None
        if not has_value(self.question, side):
            raise Unreadable("not_finite")
        shown = structure(self.question, step, side, self._written(step.key))
        if shown is None or not self.rules.tells:
            raise Unreadable("symbols_without_value")
        if shown.differences:
            return Verdict(step.key, text, Outcome.WRONG, differences=shown.differences)
        reason = Reason("in_symbols")
        return Verdict(step.key, text, Outcome.RIGHT, reason)

    def _judge_terms(self, step: Step, text: str, reading: Reading) -> Line:
        self.judgings += 1
        terms = judge_equation(self.question, reading.sides)
        if not terms.changes and not terms.unknown:
            return Line(text, reading, Verdict(step.key, text, Outcome.RIGHT))
        shown = structure_of_equation(self.question, step, reading.sides, {})
        if shown and 0 < len(shown.differences) < len(terms.changes) + 3 * len(terms.unknown):
            # What stands in the equation says it more plainly than a slip in each of its terms.
            verdict = Verdict(step.key, text, Outcome.WRONG, differences=shown.differences)
            return Line(text, reading, verdict)
        verdict = self._wrong(Attempt(self.question, step, reading, {}, {}, terms), text)
        if terms.unknown:
            verdict = replace(verdict, reason=_unknown_terms(terms))
        return Line(text, reading, verdict)

    def _judge_reading(self, step: Step, text: str, reading: Reading) -> Line:
        self.judgings += 1
        reading = self._in_given_unit(step, reading)
        own, wrong = self._carried(step)
        judged = judge_value(self.question, step, reading, (own, wrong))
        if not (judged.right or judged.follows) and reading.as_number is not None:
            # `m_l/2.205*g` takes the number of pounds, though its symbol stands for a mass.
            as_number = replace(reading, value=reading.as_number)
            judged = judge_value(self.question, step, as_number, (own, wrong))
            reading = as_number if judged.right or judged.follows else reading
        if judged.empty and self.rules.tells:
            reason = Reason("zero_follows")
            return Line(text, None, Verdict(step.key, text, Outcome.UNREAD, reason))
        if judged.coarse or (not self.rules.tells and is_coarse(step, reading)):
            reason = Reason("too_coarse")
            return Line(text, None, Verdict(step.key, text, Outcome.UNREAD, reason))
        if not (judged.right or judged.follows):
            attempt = Attempt(
                self.question, step, reading, own, wrong, written=self._written(step.key)
            )
            wrong_at_least = Verdict(step.key, text, Outcome.WRONG)
            verdict = self._looked_for(
                lambda: self._wrong_unit(attempt, text) or self._wrong_value(attempt, text),
                wrong_at_least,
            )
            return Line(text, reading, verdict)
        followed = not judged.right and bool(wrong)
        outcome = Outcome.FOLLOWED if followed else Outcome.RIGHT
        verdict = Verdict(step.key, text, outcome, _remark(step, reading))
        return Line(text, reading, verdict)

    def _carried(self, step: Step) -> tuple[dict[str, float], dict[str, float]]:
        """Return the student's values that a step rests on, and which of them are not right."""
        own = self.own_values(step.key)
        wrong = {k: v for k, v in own.items() if self.lines[k].verdict.outcome != Outcome.RIGHT}
        return own, wrong

    def _in_given_unit(self, step: Step, reading: Reading) -> Reading:
        """Return a mass typed for a force in kilograms, unless it is in the unit of the given."""
        if not reading.mass_unit:
            return reading
        given = given_about(self.question, step)
        if given is not None and given.unit == reading.mass_unit:
            return reading
        half_digit = reading.half_digit * reading.size
        return replace(reading, value=reading.value * reading.size, half_digit=half_digit)

    def _looked_for(self, look: Callable[[], _Found], otherwise: _Found) -> _Found:
        """Return what looking for a reason finds; where that fails the verdict stands without."""
        try:
            return look()
        except Exception:  # noqa: BLE001  (it is wrong, whatever becomes of the reason)
            _log.exception("No reason could be looked for in %s", self.question.problem.id)
            return otherwise

    def _wrong_unit(self, attempt: Attempt, text: str) -> Verdict | None:
        """Return the verdict on a right number that has another unit; None where it is not one."""
        step, reading = attempt.step, attempt.reading
        written = reading.mass_unit or reading.converted
        if not written:
            return None
        size = 1.0 if reading.mass_unit else abs(reading.size)
        number = replace(
            reading, value=reading.value / size, half_digit=reading.half_digit / size, mass_unit=""
        )
        judged = judge_value(self.question, step, number, (attempt.own, attempt.wrong))
        if not (judged.right or judged.follows):
            return None
        reason = Reason.of("fits_in_unit", unit=unit_words(step), found=written)
        return Verdict(step.key, text, Outcome.WRONG, reason)

    def _wrong_value(self, attempt: Attempt, text: str) -> Verdict:
        """Return the verdict on a wrong value, by what its arithmetic shows and by its slips."""
        tree = attempt.reading.tree
        if tree is None or not self.explains:
            return self._wrong(attempt, text)
        if is_arithmetic(tree):
            shown = structure(self.question, attempt.step, tree, attempt.written)
            return self._wrong(replace(attempt, structure=shown), text)
        verdict = self._wrong(attempt, text)
        if verdict.explanations:
            return verdict
        shown = structure(self.question, attempt.step, tree, attempt.written)
        if shown is None:
            return verdict
        # A number alone may be one factor of its line, without the others.
        is_part = [one.what for one in shown.differences] == ["missing"]
        return replace(verdict, differences=shown.differences if is_part else ())

    def _wrong(self, attempt: Attempt, text: str) -> Verdict:
        shown = () if attempt.structure is None else attempt.structure.differences
        nothing: tuple[Explanation, ...] = ()
        explanations = nothing
        if self.explains:
            explanations = self._looked_for(lambda: self._explain(attempt), nothing)
        return Verdict(
            attempt.step.key, text, Outcome.WRONG, explanations=explanations, differences=shown
        )


def _unknown_terms(terms: TermFindings) -> Reason:
    """Return which terms of an equation are not understood."""
    names = [name for name in terms.unknown if name]
    if not names:
        return Reason("term_without_force")
    return Reason.of("term", names=" ".join(names))


def _remark(step: Step, reading: Reading) -> Reason | None:
    """Return what to note about a right entry in another unit."""
    if not reading.converted:
        return None
    if reading.converted == "J":
        return Reason("joule")
    return Reason.of("converted", unit=step.unit, value=quantity(reading.value, step.unit))
