"""What the unknown of an equation comes to, judged: right, following from the page, or wrong."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from leverstep.claims import weights
from leverstep.claims.balances import Balances
from leverstep.claims.equations_solved import EquationJudged, Solved
from leverstep.claims.following import Following
from leverstep.claims.judged_line import Claim, LineStanding
from leverstep.claims.matching import Match, Stated
from leverstep.claims.memory import Memory
from leverstep.claims.near_numbers import is_near, telling
from leverstep.claims.page_quantities import Quantity, likeliest
from leverstep.claims.proof import Proof
from leverstep.claims.subject import Subject
from leverstep.claims.traced import Traced, Tracing
from leverstep.claims.unknowns import Equation
from leverstep.claims.worth import replaced
from leverstep.entry.tree import Number
from leverstep.statics.kinds import NET_MOMENT
from leverstep.statics.units import ANGLE, MOMENT


class UnknownJudge:
    """Judges the one unknown of an equation that is solved, by what the page has written so far."""

    def __init__(
        self,
        subject: Subject,
        memory: Memory,
        following: Following,
        tracing: Tracing,
        balances: Balances,
    ) -> None:
        self.subject = subject
        self.memory = memory
        self.following = following
        self.evidence = following.evidence
        self.proof = Proof(subject, memory, following)
        self.tracing = tracing
        self.balances = balances

    def judge(self, solved: Solved) -> EquationJudged | None:
        """Return what an equation that is solved claims, None where that can't be told."""
        return (
            self.right(solved)
            or self._sought_by_another_letter(solved)
            or self._reworked(solved)
            or self._repeats(solved)
            or self._resting(solved)
            or self._from_two(solved)
            or self._traced(solved)
            or self._unbalanced(solved)
            or self._said_again(solved)
            or self._wrong(solved)
        )

    def is_own_component(self, unknown: str) -> bool:
        """Return whether an unknown is a component by the problem's symbol, which has its sign."""
        quantity = self.subject.all.get(self.subject.names.key_of(unknown))
        return quantity is not None and quantity.axis in ("x", "y") and quantity.signed

    def is_part_untold(self, unknown: str, quantity: Quantity, key: str) -> bool:
        """Return whether a quantity is a component, and the symbol has no index for it."""
        is_told = bool(self.subject.names.axis_of(unknown))
        return quantity.is_component and quantity.key != key and not is_told

    def right(self, solved: Solved) -> EquationJudged | None:
        """Return an equation right whose unknown has the value of what it may be, else None."""
        is_own = self.is_own_component(solved.equation.unknown)
        if not (is_own or self.evidence.is_of_problem(solved.equation.literals, solved.value)):
            return None
        found = list(self._having(solved.stated, solved.pool, self.subject.right))
        quantity = self._likeliest(solved, found)
        if quantity is None:
            return None
        quantity = self._balancing(solved, quantity, found)
        if quantity.key in map(self.memory.key_of, solved.equation.others):
            return EquationJudged(Claim(LineStanding.KEPT, text=solved.equation.chain.text))
        return solved.judged(LineStanding.RIGHT, quantity, self.subject.worth(quantity))

    def _balancing(self, solved: Solved, quantity: Quantity, found: Iterable[Quantity]) -> Quantity:
        """Return what an unknown moment is: that which balances the known ones, where it has the
        value of that too and its name tells no other.
        """
        names, label = self.subject.names, solved.stated.label
        if quantity.dimension != MOMENT or names.names_sum(label):
            return quantity
        is_told = names.key_of(solved.equation.unknown) == quantity.key
        net = (one for one in found if one.is_line_of(NET_MOMENT))
        return next(
            (
                one
                for one in net
                if not is_told
                and names.fit(label, quantity) - names.fit(label, one) < weights.INDEX_BY_LETTER
            ),
            quantity,
        )

    def _sought_by_another_letter(self, solved: Solved) -> EquationJudged | None:
        """Return an equation right whose unknown is what is sought, whatever letter it has.

        `80 x = 110 * 11.3 + 17 * 5.3` may be of masses: its numbers must be those of the page.
        """
        numbers = telling(solved.equation.literals)
        is_of_page = len(numbers) > 2 and self.evidence.known_share(numbers) == 1
        if solved.key or not is_of_page or not solved.equation.has_factor:
            return None
        sought = [
            quantity
            for quantity in self.subject.with_line
            if quantity.step and quantity.step.kind.found
        ]
        quantity = self._likeliest(solved, self._having(solved.stated, sought, self.subject.right))
        if quantity is None:
            return None
        return solved.judged(LineStanding.RIGHT, quantity, self.subject.worth(quantity))

    def _score(self, solved: Solved, quantity: Quantity) -> float:
        score = self.subject.names.fit(solved.stated.label, quantity)
        score += 0.0 if quantity.step is None else weights.UNKNOWN_HAS_LINE
        score += 0.0 if self.memory.has(quantity.key) else weights.TO_COME
        return score + (weights.UNKNOWN_KNOWN if quantity.key == solved.key else 0.0)

    def _having(
        self, stated: Stated, pool: list[Quantity], values: Mapping[str, float]
    ) -> Iterator[Quantity]:
        """Yield the quantities of a pool that a number is the value of."""
        for quantity in pool:
            target = values.get(quantity.key, math.nan)
            if stated.side.value < 0 and not quantity.signed:
                continue  # it would have to act the other way
            if self.subject.match(stated, quantity, target) is Match.YES:
                yield quantity

    def _reworked(self, solved: Solved) -> EquationJudged | None:
        """Judge it with the numbers of the page put right."""
        equation = solved.equation
        swapped = self.following.put_right(equation.literals)
        symbols = self.following.right_symbols(equation.known)
        if not swapped and symbols == equation.known:
            return None
        sides = tuple(replaced(side, swapped) for side in equation.chain.sides)
        again = Equation(replace(equation.chain, sides=sides), symbols, equation.unknown).solution()
        side = replace(solved.stated.side, tree=Number(again), plain=again, value=again)
        stated = replace(solved.stated, side=side)
        quantity = self._likeliest(solved, self._having(stated, solved.pool, self.subject.right))
        if quantity is None:
            return None
        meant = self.subject.worth(quantity) * solved.value / again
        amount = self.subject.scales.nearest(solved.stated.side, quantity, meant)
        return solved.judged(LineStanding.FOLLOWS, quantity, amount)

    def _likeliest(self, solved: Solved, found: Iterable[Quantity]) -> Quantity | None:
        ranked = [(self._score(solved, quantity), quantity) for quantity in found]
        return likeliest(ranked)[1] if ranked else None

    def _repeats(self, solved: Solved) -> EquationJudged | None:
        """Judge it by what its unknown came to before.

        What is worked out from a wrong equation follows; its own numbers said again do not.
        """
        equation, slack = solved.equation, solved.stated.side.slack
        alike = [
            before
            for before in reversed(self.memory.solutions)
            if before.unknown == equation.unknown and is_near(solved.value, before.value, slack)
        ]
        again = [before for before in alike if before.digits == equation.digits]
        if not alike or any(before.standing is LineStanding.WRONG for before in again):
            return None
        standing = alike[0].standing
        standing = LineStanding.FOLLOWS if standing is LineStanding.WRONG else standing
        return solved.judged(standing, self.subject.all.get(solved.key), solved.value)

    def _resting(self, solved: Solved) -> EquationJudged | None:
        """Judge it by the student's own earlier values."""
        world = self.following.world()
        quantity = self._likeliest(solved, self._having(solved.stated, solved.pool, world))
        if quantity is None:
            return None
        return solved.judged(LineStanding.FOLLOWS, quantity, world[quantity.key])

    def _traced(self, solved: Solved) -> EquationJudged | None:
        """Judge it by what its unknown exactly is once all its numbers are as they should be."""
        strict = self.subject.names.key_of(solved.equation.unknown)
        for found in self.tracing.of_unknown(solved.equation):
            fitting = [
                one
                for one in found
                if strict in ("", one.quantity.key) and self._fits_traced(solved, one)
            ]
            if fitting:
                ranked = [(self._score(solved, one.quantity), one.quantity) for one in fitting]
                _, quantity = likeliest(ranked)
                is_amiss = all(one.meaning.is_amiss for one in fitting)
                standing = LineStanding.FOLLOWS if is_amiss else LineStanding.RIGHT
                amount = self.subject.nearest(solved.stated.side, quantity)
                return solved.judged(standing, quantity, amount)
        return None

    def _fits_traced(self, solved: Solved, traced: Traced) -> bool:
        quantity, side = traced.quantity, solved.stated.side
        right = self.subject.worth(quantity)
        if quantity.dimension == ANGLE or not quantity.has_symbol:
            return False
        if self.subject.names.axis_of(solved.equation.unknown) not in ("", quantity.axis):
            return False
        if self.is_part_untold(solved.equation.unknown, quantity, solved.key):
            return False
        if not traced.meaning.is_amiss:
            return self.subject.match(solved.stated, quantity, right) is Match.YES
        own = self.subject.scales.nearest(side, quantity, traced.meaning.own)
        return is_near(abs(own), abs(traced.meaning.own), 0.0)

    def _from_two(self, solved: Solved) -> EquationJudged | None:
        """Judge it by what two equations of forces of the page lead to, one put into the other."""
        slack = solved.stated.side.slack
        for value in self.balances.worked_out(solved.key):
            if is_near(solved.value, value, slack):
                return solved.judged(LineStanding.FOLLOWS, self.subject.all[solved.key], value)
        return None

    def _unbalanced(self, solved: Solved) -> EquationJudged | None:
        """Call an equation of forces wrong that has both sought ones, and one slip in it."""
        found = self.balances.slip_in(solved.equation.chain)
        if found is None:
            return None
        claim = solved.judged(LineStanding.WRONG, None, solved.value).claim
        return EquationJudged(replace(claim, key=found.key, terms=found.terms))

    def _said_again(self, solved: Solved) -> EquationJudged | None:
        """Judge it by an equation of both sought forces that it says in other numbers."""
        if not self.balances.says_again(solved.equation.chain, self.memory.written):
            return None
        about = self.subject.all.get(solved.key)
        return EquationJudged(solved.judged(LineStanding.FOLLOWS, about, solved.value).claim)

    def _wrong(self, solved: Solved) -> EquationJudged | None:
        """Call it wrong, where enough of it is known to say of what."""
        share = self.evidence.known_share(solved.equation.literals)
        if share < weights.KNOWN_SHARE and not solved.key:
            return None
        quantity = self._sought_by(solved)
        if quantity is None:
            return None
        amount = self.subject.nearest(solved.stated.side, quantity)
        judged = solved.judged(LineStanding.WRONG, quantity, amount)
        if self.proof.of_unknown(solved.equation, solved.stated.side, quantity):
            return judged
        doubted = replace(judged.claim, standing=LineStanding.UNREAD, doubted=True)
        return replace(judged, claim=doubted)

    def _sought_by(self, solved: Solved) -> Quantity | None:
        """Return the line that a wrong equation is for."""
        if solved.key:
            return self.subject.all[solved.key]
        label, fit = solved.stated.label, self.subject.names.fit

        def likelihood(quantity: Quantity) -> float:
            is_to_come = not self.memory.has(quantity.key)
            return fit(label, quantity) + weights.TO_COME_IF_WRONG * is_to_come

        best = max(self.subject.with_line, key=likelihood, default=None)
        is_enough = best is not None and fit(label, best) >= weights.ENOUGH_TO_SEEK
        return best if is_enough else None
