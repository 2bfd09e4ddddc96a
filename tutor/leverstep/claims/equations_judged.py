"""An equation in which some symbol has no value yet, judged by what its unknown comes to."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from leverstep.claims import weights
from leverstep.claims.balances import Balances
from leverstep.claims.components_judged import ComponentJudge
from leverstep.claims.equations_solved import EquationJudged, Solved
from leverstep.claims.following import Following
from leverstep.claims.judged_line import Claim, LineStanding
from leverstep.claims.letters_guessed import LettersGuessed
from leverstep.claims.matching import Match, Stated
from leverstep.claims.memory import Memory, PageResult, Solution
from leverstep.claims.near_numbers import NOTHING, is_constant, is_near, stands_among, telling
from leverstep.claims.page_quantities import Quantity, likeliest
from leverstep.claims.proof import Proof
from leverstep.claims.segments import Chain
from leverstep.claims.subject import Subject
from leverstep.claims.traced import Traced, Tracing
from leverstep.claims.unknowns import Equation
from leverstep.claims.worth import plain_value, replaced, without_nothing
from leverstep.course.symbols import OF_ANGLES
from leverstep.entry.tree import Name, Number
from leverstep.statics.kinds import NET_MOMENT
from leverstep.statics.units import ANGLE, LENGTH, MOMENT

_MOSTLY_GIVEN = "WGmdLxa"
"""Letters of what is mostly given, so that they are guessed before an unknown is."""
_LONGEST_LETTER = 2
"""So many letters a symbol of a term has, unless it has an index; what is longer may be a word."""
_MOST_GUESSED = 3
"""So many symbols are guessed."""


class EquationJudge:
    """Judges equations, by what the page has written so far."""

    def __init__(
        self, subject: Subject, memory: Memory, following: Following, tracing: Tracing
    ) -> None:
        self.subject = subject
        self.memory = memory
        self.following = following
        self.evidence = following.evidence
        self.proof = Proof(subject, memory, following)
        self.components = ComponentJudge(subject, memory)
        self._arms = [
            abs(subject.worth(one)) for one in subject.all.values() if one.family == "arm"
        ]
        self._exact = frozenset(subject.question.numbers.values())
        self.letters = LettersGuessed(subject, memory)
        self.balances = Balances(subject, memory)
        self.tracing = tracing

    def judge(self, chain: Chain, symbol: str, known: Mapping[str, float]) -> EquationJudged | None:
        """Return what an equation claims, None where that can't be told.

        Args:
            chain: the equation.
            symbol: what stands alone at its beginning, "" where nothing does.
            known: the values that symbols are taken at.
        """
        if len(chain.sides) < 2 or all(isinstance(side, Name) for side in chain.sides):
            return None
        shorter = replace(chain, sides=tuple(map(without_nothing, chain.sides)))
        if any(name not in known for name in shorter.symbols_in(*shorter.sides)):
            chain = shorter
        names = dict.fromkeys(chain.symbols_in(*chain.sides))
        open_names = [name for name in names if name not in known or name == symbol]
        if not open_names:  # what was sought had the factor 0
            return None
        fixed = {name: self._value_of(name) for name in open_names}
        loose = [name for name in open_names if math.isnan(fixed[name])]
        unknown = loose[0] if loose else self._sought(open_names, symbol)
        sure = {n: v for n, v in fixed.items() if not math.isnan(v) and n != unknown}
        if len(loose) > 1:
            judged = self._by_guesses(chain, {**known, **sure}, loose)
        else:
            judged = self._solved_either_way(chain, known, sure, unknown)
        if judged is None:
            return None
        without_value = [name for name in open_names if not self._is_written(name)] or [unknown]
        return replace(judged, claim=replace(judged.claim, unknowns=len(without_value)))

    def _is_written(self, name: str) -> bool:
        """Return whether what a symbol stands for was written before, under whatever symbol."""
        return self.memory.has(self.memory.key_of(name))

    def term(self, chain: Chain, known: Mapping[str, float]) -> Claim:
        """Judge a term that stands alone, `F * 1.20`: right where its factor is one of the problem.

        Args:
            chain: the term, in which some symbol has no value.
            known: the values of the others.
        """
        (side,) = chain.sides
        loose = {name for name in chain.symbols_in(side) if name not in known}
        unknown = loose.pop() if len(loose) == 1 else ""
        is_word = unknown.lower() in self.subject.names.symbols_in_words
        if unknown and (is_word or len(unknown) <= _LONGEST_LETTER or "_" in unknown):
            one, two = (plain_value(side, chain, {**known, unknown: x}) for x in (1.0, 2.0))
            factor = Number(abs(one))
            is_told = abs(factor.value) in self._exact or not is_constant(factor)
            is_product = is_near(two, 2 * one, 0.0, NOTHING) and is_told
            if is_product and not stands_among(factor, self._arms):
                unread = PageResult(one, one, math.nan, "", LineStanding.UNREAD)
                self.memory.add(unread)  # what is written with it may rest on a wrong arm
            if is_product and stands_among(factor, self.subject.every_size):
                return Claim(LineStanding.KEPT, tree=side, text=chain.text)
        return Claim(LineStanding.UNREAD)

    def _solved_either_way(
        self, chain: Chain, known: Mapping[str, float], sure: Mapping[str, float], unknown: str
    ) -> EquationJudged | None:
        """Judge an equation with its moments as sizes, or else with their other sign."""
        judged = self._solved(Equation(chain, {**known, **sure}, unknown))
        if judged is not None and judged.claim.standing is LineStanding.RIGHT:
            return judged
        turned = {name: -v if self._is_signed(name) else v for name, v in sure.items()}
        if turned == sure:
            return judged
        again = self._solved(Equation(chain, {**known, **turned}, unknown))
        before = None if judged is None else judged.claim
        return again if again is not None and again.claim.is_better_than(before) else judged

    def _is_signed(self, name: str) -> bool:
        quantity = self.memory.quantity_of(name)
        return quantity is not None and quantity.signed

    def keep(self, chain: Chain, judged: EquationJudged) -> None:
        """Keep what an equation says, so that later lines may rest on it."""
        key = judged.claim.key
        if judged.unknown:
            standing = LineStanding.WRONG if judged.claim.doubted else judged.claim.standing
            digits = judged.digits
            self.memory.add_solution(Solution(judged.unknown, judged.value, standing, digits))
        self.components.keep_ratio(chain, key)
        self.balances.keep(chain, self.memory.written)
        is_guess = judged.claim.doubted and judged.claim.unknowns > 1
        if judged.unknown and key and not (is_guess or self.memory.key_of(judged.unknown)):
            self.memory.bound[judged.unknown] = key

    # ---- what the symbols are

    def _value_of(self, name: str) -> float:
        """Return the size of what a symbol stands for, nan where that is unknown."""
        key = self.memory.key_of(name)
        for values in (self.memory.own, self.subject.right):
            if key in values:
                return abs(values[key])
        if name in OF_ANGLES.values():
            question = self.subject.question
            angles = [given for given in question.givens if given.unit == "deg"]
            if len(angles) == 1:
                return question.numbers[angles[0].key]
        return math.nan

    def _sought(self, names: list[str], symbol: str) -> str:
        """Return which of some symbols is to be found."""
        if symbol in names:
            return symbol
        for name in names:
            quantity = self.memory.quantity_of(name)
            if quantity and quantity.step and quantity.family in ("force", "reaction"):
                return name
        return names[0]

    def _by_guesses(
        self, chain: Chain, known: Mapping[str, float], loose: list[str]
    ) -> EquationJudged | None:
        """Try what several symbols without a meaning may stand for, the likeliest first."""
        *guessed, last = sorted(loose, key=lambda name: name[0] not in _MOSTLY_GIVEN)
        if len(guessed) > _MOST_GUESSED:
            return None
        pool = self._pool(last)
        for keys in self.letters.guesses(guessed):
            values = {name: abs(self.subject.right[key]) for name, key in keys.items()}
            judged = self._found_right(Equation(chain, {**known, **values}, last), pool)
            if judged is not None:
                for name, key in keys.items():
                    self.memory.bound.setdefault(name, key)
                return judged
        claim = self.components.judge(chain, known, loose)
        return None if claim is None else EquationJudged(claim)

    # ---- what the unknown comes to

    def _found_right(self, equation: Equation, pool: list[Quantity]) -> EquationJudged | None:
        """Return an equation that is right as it stands, None for any other."""
        solved = self._solve(equation, pool)
        if solved is None:
            return self._holds(equation)
        is_whole = len(equation.chain.sides) == 2 or equation.holds(solved.value)
        return self._right(solved) if is_whole else None

    def _solved(self, equation: Equation) -> EquationJudged | None:
        """Judge an equation by what its one unknown comes to; one for an angle by whether it holds
        with that, since a small angle tells little of its cosine.
        """
        if equation.is_of_angle and (holding := self._holds(equation)) is not None:
            return holding
        solved = self._solve(equation, self._pool(equation.unknown))
        if solved is None:
            return self._holds(equation)
        return (
            self._right(solved)
            or self._sought_by_another_letter(solved)
            or self._reworked(solved)
            or self._repeats(solved)
            or self._resting(solved)
            or self._from_two(solved)
            or self._traced(solved)
            or self._unbalanced(solved)
            or self._wrong(solved)
        )

    def _solve(self, equation: Equation, pool: list[Quantity]) -> Solved | None:
        value = equation.solution()
        if math.isnan(value):
            return None
        side = equation.solved_side(value, self._exact)
        label = self.subject.names.label_of_symbol(equation.unknown)
        key = self.memory.key_of(equation.unknown)
        is_strict = self._has_own_sign(equation.unknown) and not self._has_way_said(equation, key)
        stated = Stated(side, label, strict=is_strict)
        if not self.memory.senses.is_own:
            stated = replace(stated, senses=self.memory.senses)
        return Solved(equation, value, stated, key, pool)

    def _has_way_said(self, equation: Equation, key: str) -> bool:
        """Return whether the line says which way is positive, or the page wrote the unknown as a
        size with its way: `R_y = 688 N down`.
        """
        before = self.memory.latest(key)
        is_size = before is not None and before.plain * before.value < 0
        return equation.chain.is_aside or is_size

    def _has_own_sign(self, unknown: str) -> bool:
        """Return whether an unknown is a component or coordinate by the problem's symbol."""
        quantity = self.subject.all.get(self.subject.names.key_of(unknown))
        is_coordinate = quantity is not None and quantity.signed and quantity.dimension == LENGTH
        return is_coordinate or self._is_own_component(unknown)

    def _is_own_component(self, unknown: str) -> bool:
        """Return whether an unknown is a component by the problem's symbol, which has its sign."""
        quantity = self.subject.all.get(self.subject.names.key_of(unknown))
        return quantity is not None and quantity.axis in ("x", "y") and quantity.signed

    def _pool(self, unknown: str) -> list[Quantity]:
        """Return what an unknown may be: one alone where it is a symbol of the problem."""
        if strict := self.subject.names.key_of(unknown):
            return [self.subject.all[strict]]
        key, label = self.memory.key_of(unknown), self.subject.names.label_of_symbol(unknown)
        return [
            quantity
            for quantity in self.subject.all.values()
            if not quantity.is_sum
            and not self._is_part_untold(unknown, quantity, key)
            and (
                quantity.key == key
                or self.subject.names.fit(label, quantity) > self._least_fit(quantity)
            )
        ]

    @staticmethod
    def _least_fit(quantity: Quantity) -> float:
        """Return what must speak for an unknown's being of a quantity: an angle is called so."""
        return 0.0 if quantity.dimension == ANGLE else weights.ENOUGH_TO_TRY

    def _is_part_untold(self, unknown: str, quantity: Quantity, key: str) -> bool:
        """Return whether a quantity is a component, and the symbol has no index for it."""
        is_told = bool(self.subject.names.axis_of(unknown))
        return quantity.is_component and quantity.key != key and not is_told

    def _holds(self, equation: Equation) -> EquationJudged | None:
        """Judge an equation that can't be solved by whether it is true."""
        if equation.is_identity:  # true, and yet no proof that its unknown was found
            tree, text = equation.chain.sides[-1], equation.chain.text
            kept = EquationJudged(Claim(LineStanding.KEPT, tree=tree, text=text))
            return kept if equation.works_out else None
        key = self.memory.key_of(equation.unknown)
        right = self.subject.right.get(key, math.nan)
        if not equation.holds(abs(right)):
            return None
        tree, text = equation.chain.sides[-1], equation.chain.text
        return EquationJudged(
            Claim(LineStanding.RIGHT, key, right, tree, text=text, is_equation=True)
        )

    def _right(self, solved: Solved) -> EquationJudged | None:
        is_own = self._is_own_component(solved.equation.unknown)
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
        net = (one for one in found if one.step is not None and one.step.kind is NET_MOMENT)
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
        if self._is_part_untold(solved.equation.unknown, quantity, solved.key):
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
