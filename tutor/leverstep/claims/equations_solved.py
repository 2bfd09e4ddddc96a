"""An equation solved for its unknown, and what is claimed by that."""

from __future__ import annotations

import math
from dataclasses import dataclass

from leverstep.claims.judged_line import Claim, LineStanding
from leverstep.claims.matching import Stated
from leverstep.claims.page_quantities import Quantity
from leverstep.claims.unknowns import Equation
from leverstep.entry.tree import Name


@dataclass(frozen=True, slots=True)
class EquationJudged:
    """A claim, with the unknown that came to `value`; "" where the equation was not solved.

    `digits` are those of the numbers in it.
    """

    claim: Claim
    unknown: str = ""
    value: float = math.nan
    digits: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Solved:
    """An equation, what its unknown comes to, and what that may be."""

    equation: Equation
    value: float
    stated: Stated
    key: str
    pool: list[Quantity]

    def judged(
        self, standing: LineStanding, quantity: Quantity | None, amount: float
    ) -> EquationJudged:
        """Return it judged; `amount` is the value of the quantity in SI."""
        sides = self.equation.chain.sides
        tree = next((side for side in sides if not isinstance(side, Name)), sides[0])
        text = self.equation.chain.text
        key = "" if quantity is None else quantity.key
        from_moments = bool(quantity and quantity.step and quantity.step.kind.from_moments)
        of_moments = from_moments and self.equation.has_factor
        claim = Claim(
            standing, key, amount, tree, text=text, is_equation=True, of_moments=of_moments
        )
        return EquationJudged(claim, self.equation.unknown, self.value, self.equation.digits)
