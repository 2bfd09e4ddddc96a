"""A chain that comes to a number: is it the value of a quantity, or does it follow, or repeat?"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from leverstep.claims import weights
from leverstep.claims.about_wrong import AboutWrong
from leverstep.claims.amending import AmendedLine, Amending
from leverstep.claims.evidence import Evidence
from leverstep.claims.following import Following
from leverstep.claims.judged_line import Claim, LineStanding
from leverstep.claims.matching import Match
from leverstep.claims.memory import Memory, PageResult, Solution
from leverstep.claims.near_numbers import REPEATED, agree, is_constant, is_near
from leverstep.claims.number_stated import NumberStated, number_stated
from leverstep.claims.opposite_signs import OppositeSigns
from leverstep.claims.page_quantities import Quantity, Ranked, likeliest
from leverstep.claims.proof import Proof
from leverstep.claims.ruled_out import RuledOut
from leverstep.claims.said_again import LATE_PARTS, SaidAgain
from leverstep.claims.segments import Chain
from leverstep.claims.signs_proved import SignProof
from leverstep.claims.subject import Subject
from leverstep.claims.traced import Tracing
from leverstep.claims.traced_numbers import TracedNumbers
from leverstep.claims.true_anyway import TrueAnyway
from leverstep.claims.worth import Side
from leverstep.entry.tree import Name
from leverstep.statics.kinds import SUM
from leverstep.statics.units import LENGTH, MOMENT


class NumberJudge:
    """Judges numbers, by what the page has written so far."""

    def __init__(
        self, subject: Subject, memory: Memory, following: Following, tracing: Tracing
    ) -> None:
        self.subject = subject
        self.memory = memory
        self.following = following
        self.evidence: Evidence = following.evidence
        self.proof = Proof(subject, memory, following)
        self.signs = SignProof(subject, self.proof.naming)
        self.opposites = OppositeSigns(subject, memory)
        self.true_anyway = TrueAnyway(subject, memory, following)
        self.exact = {abs(number) for number in subject.question.numbers.values()}
        self.amending = Amending(subject, memory, following)
        self.again = SaidAgain(subject, memory, following)
        self.ruled_out = RuledOut(subject, memory, self.evidence)
        self.about_wrong = AboutWrong(subject, self.evidence, self.proof, self.ruled_out)
        self.traced = TracedNumbers(subject, self.evidence, self.ruled_out, tracing)

    def judge(
        self, chain: Chain, symbol: str, sides: list[Side], known: Mapping[str, float]
    ) -> Claim | None:
        """Return what a chain claims, None where it claims nothing.

        Args:
            chain: the chain.
            symbol: what stands alone at its beginning, "" where nothing does.
            sides: its other sides that have a number, one or more.
            known: the values that symbols were taken at.
        """
        statement = number_stated(chain, symbol, sides, known, self.memory)
        if self._only_repeats_given(statement):
            if symbol:
                self.memory.put_symbol(symbol, statement.side.plain, statement.side.value)
            return self._given(statement)
        if len(sides) == 1 and statement.is_alone and not statement.claims_something:
            return self._as_named(statement, self.again.claim(statement))
        is_equal = len(sides) == 1 or agree(statement.rounded(self.exact))
        if is_equal and (statement.is_function or statement.is_conversion):
            return statement.claim(LineStanding.KEPT, "", statement.side.value)
        found, signs = self._matching(statement)
        if not is_equal:
            return self._as_named(statement, self._unequal(statement, found))
        claim = (
            self._right(statement, found, signs)
            or self._follows(statement)
            or self.again.from_other_axis(statement)
            or self._wrong_sign(statement, found, signs)
            or self._repeats(statement)
            or self._kept(statement, found)
            or self._true_anyway(statement)
            or self.again.in_sentence(statement)
            or self._not_right(statement)
        )
        return self._as_named(statement, claim)

    def _as_named(self, statement: NumberStated, claim: Claim | None) -> Claim | None:
        """Return a claim that says whether symbol or words tell which quantity a number is of."""
        if claim is None:
            return None
        quantity = self.subject.all.get(claim.key)
        if quantity is None:
            return replace(claim, named=False)
        fit = self.subject.names.fit(statement.label, quantity)
        is_named = statement.key == claim.key or fit >= weights.ENOUGH_TO_SEEK
        return replace(claim, named=is_named)

    def _only_repeats_given(self, statement: NumberStated) -> bool:
        """Return whether a value only repeats what is given."""
        if len(statement.sides) > 1 or statement.arithmetic:
            return False
        names = self.subject.names
        key = names.key_of(statement.symbol)
        is_line = bool(key) and self.subject.all[key].step is not None
        if is_line and (key not in names.given or statement.side.dimension is not None):
            return False
        return self.subject.is_given(statement.side)

    def _given(self, statement: NumberStated) -> Claim | None:
        """Return the claim that a symbol is a given in its unit, None for a given among words."""
        turned = self._turned_otherwise(statement)
        if turned is not None:
            value = -self.subject.worth(turned)
            return statement.claim(LineStanding.WRONG, turned.key, value, sign=True)
        is_told = statement.symbol and statement.side.dimension is not None
        if not is_told or not isinstance(statement.chain.sides[0], Name):
            return None
        return Claim(LineStanding.KEPT, text=statement.chain.text, symbol=statement.symbol)

    def _turned_otherwise(self, statement: NumberStated) -> Quantity | None:
        """Return the moment of a given couple that words say turns the other way, else None."""
        turn = statement.label.sense.get("turn", 0)
        keys = {given.key for given in self.subject.givens_like(statement.side)}
        for couple in self.subject.question.problem.posture.given_couples:
            if couple.magnitude.key in keys and couple.turns * turn < 0:
                return self.subject.all.get(couple.moment_key)
        return None

    def _pool(self, statement: NumberStated) -> list[Quantity]:
        """Return what a number may be of: one alone where its own symbol is written."""
        if statement.stated.strict:
            return [self.subject.all[statement.key]]
        return list(self.subject.all.values())

    def _matching(self, statement: NumberStated) -> tuple[Ranked, Ranked]:
        """Return the quantities whose value a number has, and those but for the sign."""
        found: Ranked = []
        signs: Ranked = []
        for quantity in self._pool(statement):
            how = self.subject.match(statement.stated, quantity, self.subject.worth(quantity))
            if how is not Match.NO and not self.ruled_out.is_ruled_out(statement, quantity):
                score = self.evidence.of_right(statement, quantity)
                (found if how is Match.YES else signs).append((score, quantity))
        return found, signs

    def _unequal(self, statement: NumberStated, found: Ranked) -> Claim:
        """Return the claim of a chain whose sides are not equal: its end is proved by nothing
        before it, even where that is right.
        """
        if found:
            _, quantity = likeliest(found)
            value = self.subject.worth(quantity)
            claim = _doubted(statement.claim(LineStanding.UNREAD, quantity.key, value))
        elif (amended := self.amending.result_miscopied(statement, self._matching)) is not None:
            claim = self._seems(statement, amended)
        else:
            claim = self._wrong(statement, self.about_wrong.told(statement))
        return replace(claim, unequal=bool(statement.arithmetic or statement.symbol))

    def _right(self, statement: NumberStated, found: Ranked, signs: Ranked) -> Claim | None:
        if not found:
            return None
        score, quantity = likeliest(found)
        if statement.label.along and signs and likeliest(signs)[0] >= score:
            return None  # along the segment, it would point the other way
        turned = self.opposites.of_symbol(statement, [one for _, one in found])
        if turned is not None:
            score, quantity = weights.ENOUGH_IF_RIGHT, turned
        if score < weights.ENOUGH_IF_RIGHT:
            return None
        others = [one for score, one in found if score >= weights.ENOUGH_IF_RIGHT]
        quantity = self.opposites.by_own_sign(statement, quantity, others)
        self.opposites.note_sense(statement, quantity)
        quantity = self.evidence.told_again_in(statement.side, quantity)
        is_asked = quantity.step is not None and quantity.step.asked
        right = self.subject.worth(quantity)
        value = self.subject.nearest(statement.side, quantity)
        standing = LineStanding.RIGHT if is_asked else LineStanding.KEPT
        return statement.claim(standing, quantity.key, math.copysign(value, right))

    def _wrong_sign(self, statement: NumberStated, found: Ranked, signs: Ranked) -> Claim | None:
        """Return that a value has the wrong sign, where it is likelier that than anything else."""
        if not signs:
            return None
        score, quantity = likeliest(signs)
        if score < weights.ENOUGH_IF_RIGHT or (found and likeliest(found)[0] > score):
            return None
        if self.signs.may_be_counterpart(statement, quantity):
            return statement.claim(LineStanding.KEPT, "", statement.side.value)
        value = -self.subject.worth(quantity)
        if self.signs.may_be_coordinate(statement, quantity):
            return statement.claim(LineStanding.KEPT, quantity.key, value)
        claim = statement.claim(LineStanding.WRONG, quantity.key, value, sign=True)
        return claim if self.signs.of_sign(statement, quantity) else _doubted(claim)

    def _follows(self, statement: NumberStated) -> Claim | None:
        pool = [
            q
            for q in self._pool(statement)
            if not self.ruled_out.is_part_of_another(statement, q)
            and not self.ruled_out.is_by_other_axes(statement, q)
            and not self.ruled_out.is_turned_over(statement, q)
        ]
        followed = self.following.of_number(statement, pool)
        if followed is None:
            return None
        quantity, value = followed
        return statement.claim(LineStanding.FOLLOWS, quantity.key, value)

    # ---- a number that stands on the page already

    def _repeats(self, statement: NumberStated) -> Claim | None:
        """Return the claim that a value repeats, in the same unit or in another."""
        for solution in reversed(self.memory.solutions):
            if self._is_solution(statement, solution):
                key = statement.key or self.memory.key_of(solution.unknown)
                follows = solution.standing is LineStanding.WRONG
                standing = LineStanding.FOLLOWS if follows else solution.standing
                value = self.subject.value_of(statement.side, self.subject.all.get(key))
                return statement.claim(standing, key, value)
        if statement.symbol and not statement.key:
            return None
        for result in reversed(self.memory.results):
            if self._is_result(statement, result):
                of = self.subject.all.get(result.key)
                value = self.subject.value_of(statement.side, of)
                return statement.claim(_repeated(statement, result), result.key, value)
        return None

    def _is_solution(self, statement: NumberStated, solution: Solution) -> bool:
        if statement.symbol and solution.unknown != statement.symbol:
            return False
        if not is_near(statement.side.plain, solution.value, statement.side.slack):
            return False
        of = self.subject.all.get(statement.key or self.memory.key_of(solution.unknown))
        return of is None or self.subject.scales.may_be(statement.side, of)

    def _is_result(self, statement: NumberStated, result: PageResult) -> bool:
        if statement.key and result.key != statement.key:
            return False
        side = statement.side
        values = [result.value] if side.dimension is not None else [result.value, result.plain]
        is_wrong = statement.key == result.key and result.standing is LineStanding.WRONG
        if is_wrong and math.isclose(abs(side.plain), abs(result.plain), rel_tol=REPEATED):
            values.append(side.value)  # it had no unit before
        if not any(is_near(abs(side.value), abs(v), side.slack, REPEATED) for v in values):
            return False
        of = self.subject.all.get(result.key)
        return of is None or (
            self.subject.names.is_of_sort(statement.label, of)
            and not self.ruled_out.is_of_other_force(statement, of)
            and not self.ruled_out.is_one_for_all(statement, of)
            and not self.ruled_out.is_about_joint_before(statement, of)
            and not statement.is_along_other_axis(of)
            and self.subject.scales.may_be(side, of)
            and not self._lies_elsewhere(statement, of)
        )

    def _lies_elsewhere(self, statement: NumberStated, of: Quantity) -> bool:
        """Return whether words say of a coordinate that its point lies on the other side."""
        how = self.subject.match(statement.stated, of, self.subject.worth(of))
        return of.dimension == LENGTH and how is Match.SIGN

    def _kept(self, statement: NumberStated, found: Ranked) -> Claim | None:
        """Return a claim that is true, though little says of what."""
        if not found or (len(statement.sides) < 2 and not statement.arithmetic):
            return None
        _, quantity = likeliest(found)
        if statement.key not in ("", quantity.key):
            return None  # what its symbol stands for is another
        fit = self.subject.names.fit(statement.label, quantity)
        if self.evidence.known_share(statement.literals) < 1 or fit <= weights.ENOUGH_TO_KEEP:
            return None
        if quantity.is_elsewhere and statement.symbol:
            return None  # it would be of the axis
        key = "" if quantity.step is not None else quantity.key  # it would be named if it were that
        return statement.claim(LineStanding.KEPT, key, self.subject.worth(quantity))

    def _true_anyway(self, statement: NumberStated) -> Claim | None:
        """Return a claim that is true of no line. A sum that is of a line still to come, but for
        one sign, may be meant for that.
        """
        kept = self.true_anyway.claim(statement)
        amended = self.amending.sum_to_come(statement, self._matching) if kept else None
        return kept if amended is None else self._seems(statement, amended)

    def _seems(self, statement: NumberStated, amended: AmendedLine) -> Claim:
        """Return what a line seems to be of, and with what amended."""
        value = self.subject.value_of(statement.side, amended.quantity)
        claim = statement.claim(LineStanding.UNREAD, amended.quantity.key, value)
        return _doubted(replace(claim, amended=amended.amendment))

    def _not_right(self, statement: NumberStated) -> Claim:
        """Return the claim of a number that is nothing true: traced to a quantity, or wrong."""
        about = self.about_wrong.told(statement)
        return self.traced.claim(statement, about) or self._wrong(statement, about)

    def _wrong(self, statement: NumberStated, about: Quantity | None) -> Claim:
        side, amended = statement.side, self.amending.found(statement, self._matching)
        is_sure = (
            about is not None
            and not self._rests_on_unread(statement, about)
            and self.proof.of_number(statement, about, amended)
        )
        is_part = about is not None and about.is_component and statement.label.axis
        if amended is not None and not is_sure and not is_part:
            return self._seems(statement, amended)
        if not is_sure and not statement.key and not is_part:
            suspected = self.about_wrong.likelier(statement, about)
            if suspected is not None:
                value = self.subject.value_of(side, suspected)
                return _doubted(statement.claim(LineStanding.UNREAD, suspected.key, value))
        if about is None:
            return Claim(LineStanding.UNREAD, value=side.value)
        right = self.subject.worth(about)
        value = self.subject.nearest(side, about)
        is_size = value > 0 and not statement.stated.plus and not statement.stated.strict
        turn = statement.label.sense.get("turn", 0) if about.dimension == MOMENT else 0
        if turn and value > 0:
            value *= turn * self.subject.positive
        elif about.signed and right < 0 and is_size:
            value = -value  # a size is written without its sign
        claim = statement.claim(LineStanding.WRONG, about.key, value)
        if amended is not None and amended.quantity is about:
            claim = replace(claim, amended=amended.amendment)
        return claim if is_sure else _doubted(claim)

    def _rests_on_unread(self, statement: NumberStated, about: Quantity) -> bool:
        """Return whether what a value came from was not understood, so that it may be right."""
        written = [n for n in statement.literals if not is_constant(n) or (n.figures or 0) > 1]
        if any(map(self.memory.holds_unread, written)):
            return True
        if statement.arithmetic or not self.memory.has_unread:
            return False
        # No arithmetic is shown, and a line that may lead here was not understood.
        kind = None if about.step is None else about.step.kind
        return kind is not None and (kind.part in LATE_PARTS or kind is SUM)


def _doubted(claim: Claim) -> Claim:
    """Return a claim that seems wrong without proof, as one that is not read."""
    return replace(claim, standing=LineStanding.UNREAD, doubted=True)


def _repeated(statement: NumberStated, result: PageResult) -> LineStanding:
    """Return what the repetition of a result is: a wrong one said again under its name is wrong,
    one that is worked out from other numbers than it was before follows.
    """
    if result.standing is not LineStanding.WRONG:
        return result.standing
    digits = {number.value for number in statement.literals}
    is_said_anew = bool(statement.key) and not statement.chain.leads
    is_said_anew = is_said_anew and digits in (set(), result.digits)
    return LineStanding.WRONG if is_said_anew else LineStanding.FOLLOWS
