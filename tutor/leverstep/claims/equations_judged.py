"""An equation in which some symbol has no value yet, judged by what its unknown comes to."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import replace

from leverstep.claims import weights
from leverstep.claims.balances import Balances
from leverstep.claims.components_judged import ComponentJudge
from leverstep.claims.equations_solved import EquationJudged, Solved
from leverstep.claims.following import Following
from leverstep.claims.judged_line import Claim, LineStanding
from leverstep.claims.letters_guessed import LettersGuessed
from leverstep.claims.matching import Stated
from leverstep.claims.memory import Memory, PageResult, Solution
from leverstep.claims.near_numbers import NOTHING, is_constant, is_near, is_of_si, stands_among
from leverstep.claims.page_quantities import Quantity
from leverstep.claims.segments import Chain
from leverstep.claims.subject import Subject
from leverstep.claims.traced import Tracing
from leverstep.claims.unknown_judged import UnknownJudge
from leverstep.claims.unknowns import Equation
from leverstep.claims.worth import numbers_in, plain_value, without_nothing
from leverstep.course.symbols import OF_ANGLES
from leverstep.entry.tree import Name, Number, Operation
from leverstep.statics.units import ANGLE, FORCE, LENGTH, MASS, known_unit

_MOSTLY_GIVEN = "WGmdLxa"
"""Letters of what is mostly given, so that they are guessed before an unknown is."""
_LONGEST_LETTER = 2
"""So many letters a symbol of a term has, unless it has an index; what is longer may be a word."""
_NEWTONS_OF_POUND = float(known_unit("lbf").size)
_IN_POUNDS, _IN_NEWTONS = re.compile(r"\d\s?lbf?\b(?!\s*\*)"), re.compile(r"\d\s?N\b")
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
        self.components = ComponentJudge(subject, memory)
        self._arms = [
            abs(subject.worth(one)) for one in subject.all.values() if one.family == "arm"
        ]
        self._forces_given = {
            one.unit.removesuffix("f")
            for one in subject.question.givens
            if one.unit and known_unit(one.unit).dimension in (FORCE, MASS)
        }
        self._exact = frozenset(subject.question.numbers.values())
        self.letters = LettersGuessed(subject, memory)
        self.balances = Balances(subject, memory)
        self.unknowns = UnknownJudge(subject, memory, following, tracing, self.balances)

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
            judged = self._in_pounds(chain, known, sure, unknown)
            if judged is None and self._is_in_other_unit(chain, sure):
                return None
            judged = judged or self._solved_either_way(chain, known, sure, unknown)
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
        if unknown and self._comes_to_a_line(chain, unknown, known):
            return Claim(LineStanding.KEPT, tree=side, text=chain.text)
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

    def _comes_to_a_line(self, chain: Chain, unknown: str, known: Mapping[str, float]) -> bool:
        """Return whether a sum in one letter, whose meaning was said, comes to a line with the
        value of that, and is made of numbers that are known: `5.2x + 3.9*0.65x`.
        """
        (side,) = chain.sides
        right = self.subject.right.get(self.memory.key_of(unknown), math.nan)
        numbers = list(numbers_in(side))
        is_sum = isinstance(side, Operation) and side.operator in ("+", "-")
        if not is_sum or math.isnan(right) or self.evidence.known_share(numbers) < 1:
            return False
        worth = plain_value(side, chain, {**known, unknown: abs(right)})
        lines = (abs(self.subject.worth(one)) for one in self.subject.with_line)
        return any(is_of_si(Number(abs(worth)), size) for size in lines if size)

    def _in_pounds(
        self, chain: Chain, known: Mapping[str, float], sure: Mapping[str, float], unknown: str
    ) -> EquationJudged | None:
        """Return an equation of forces right that is so with all of them in pounds, where the page
        works in these and none of them has a value yet; None for any other.
        """
        forces = {
            name: value
            for name, value in sure.items()
            if not self._is_written(name)
            and (quantity := self.memory.quantity_of(name)) is not None
            and quantity.dimension == FORCE
        }
        if not forces or len(forces) < len(sure) or self._forces_given != {"lb"}:
            return None
        if _IN_NEWTONS.search(chain.text):
            return None
        sure = {name: value / _NEWTONS_OF_POUND for name, value in forces.items()}
        judged = self._solved(Equation(chain, {**known, **sure}, unknown))
        is_right = judged is not None and judged.claim.standing is LineStanding.RIGHT
        return judged if is_right else None

    def _is_in_other_unit(self, chain: Chain, sure: Mapping[str, float]) -> bool:
        """Return whether an equation tells its forces in pounds, of which some are put in newtons:
        those that have no value on the page yet.
        """
        is_put_in = any(not self._is_written(name) for name in sure)
        return is_put_in and _IN_POUNDS.search(chain.text) is not None

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
        return self.unknowns.right(solved) if is_whole else None

    def _solved(self, equation: Equation) -> EquationJudged | None:
        """Judge an equation by what its one unknown comes to; one for an angle by whether it holds
        with that, since a small angle tells little of its cosine.
        """
        if equation.is_of_angle and (holding := self._holds(equation)) is not None:
            return holding
        solved = self._solve(equation, self._pool(equation.unknown))
        if solved is None:
            return self._holds(equation)
        return self.unknowns.judge(solved)

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
        return is_coordinate or self.unknowns.is_own_component(unknown)

    def _pool(self, unknown: str) -> list[Quantity]:
        """Return what an unknown may be: one alone where it is a symbol of the problem."""
        if strict := self.subject.names.key_of(unknown):
            return [self.subject.all[strict]]
        key, label = self.memory.key_of(unknown), self.subject.names.label_of_symbol(unknown)
        if unknown in self.memory.laid_down and self.subject.all[key].family == "force":
            return [self.subject.all[key]]  # a line said so
        return [
            quantity
            for quantity in self.subject.all.values()
            if not quantity.is_sum
            and not self.unknowns.is_part_untold(unknown, quantity, key)
            and (
                quantity.key == key
                or self.subject.names.fit(label, quantity) > self._least_fit(quantity)
            )
        ]

    @staticmethod
    def _least_fit(quantity: Quantity) -> float:
        """Return what must speak for an unknown's being of a quantity: an angle is called so."""
        return 0.0 if quantity.dimension == ANGLE else weights.ENOUGH_TO_TRY

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
