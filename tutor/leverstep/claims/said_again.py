"""A value with its unit that says again what the page found, alone or in a sentence."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace

from leverstep.claims.following import Following
from leverstep.claims.judged_line import Claim, LineStanding
from leverstep.claims.labels import place_told
from leverstep.claims.matching import Match
from leverstep.claims.memory import Memory
from leverstep.claims.near_numbers import REPEATED, is_near
from leverstep.claims.number_stated import NumberStated
from leverstep.claims.page_quantities import Quantity
from leverstep.claims.subject import Subject
from leverstep.statics.kinds import REACTION_ANGLE, Part
from leverstep.statics.units import LENGTH

LATE_PARTS = frozenset({Part.UNKNOWN, Part.RATIOS, Part.COMPONENTS, Part.REACTION, Part.RESULTANT})
"""Parts of a working that rest on what comes before them."""
_ENDS = LATE_PARTS | {Part.CENTRE}
"""Parts of a working that an answer at its end may be of."""

_CORRECTING = frozenset({"sorry", "no", "wait", "oops", "actually", "rather", "mean"})
"""Words by which a value takes the place of the one before it: `sorry, 103 N`."""


class SaidAgain:
    """Judges such values, by what the page has written so far; hardly one is called wrong."""

    def __init__(self, subject: Subject, memory: Memory, following: Following) -> None:
        self.subject = subject
        self.memory = memory
        self.following = following

    def claim(self, statement: NumberStated) -> Claim | None:
        """Return the claim of a value with its unit that is what the page found, or a component
        along the axis of the way that is said with it, None for another.

        An answer may stand alone at the end: `1.13 m to the right`.
        """
        if statement.side.dimension is None or statement.chain.is_aside:
            return None
        found = [one for one in self._ends() if self._may_be(statement, one)]
        said = self._having(statement, found, self._worlds())
        return said if said is not None else self.from_other_axis(statement)

    def in_sentence(self, statement: NumberStated) -> Claim | None:
        """Return the claim of a value in a sentence that says of no force whose it is: that of what
        the page found last of all, `so together they pull with 188 N`.
        """
        label, names = statement.label, self.subject.names
        if not statement.is_alone or statement.side.dimension is None or statement.chain.is_aside:
            return None
        last = self.subject.all.get(self.memory.last_key)
        if label.words & _CORRECTING and last is not None:
            return self._having(statement, [last], self._worlds())
        if names.forces_named(label) or label.is_empty or (statement.side.figures or 0) < 2:
            return None
        joint = names.joint_told(label.words)
        found = [
            one
            for one in self._ends()
            if self.memory.has(one.key)
            and not one.axis
            and (one.step is None or joint in ("", one.step.mark))
            and names.may_be_of_sort(label, one, statement.side.dimension)
        ]
        placed = [one for one in self._ends() if self._is_place_told(statement, one)]
        return self._having(statement, [*found, *placed], self._worlds())

    def from_other_axis(self, statement: NumberStated) -> Claim | None:
        """Return that the angle of the reaction is told from the vertical, and is the other."""
        quantity = self.subject.all.get(self.subject.question.key(REACTION_ANGLE))
        right = self.subject.worth(quantity)
        if quantity is None or not statement.label.is_from_vertical:
            return None
        if not is_near(statement.side.value, right, statement.side.slack, REPEATED):
            return None
        return statement.claim(LineStanding.WRONG, quantity.key, 90.0 - right)

    def _ends(self) -> Iterator[Quantity]:
        """Yield what an answer may be of."""
        return (
            one
            for one in self.subject.with_line
            if one.step is not None and one.step.kind.part in _ENDS
        )

    def _may_be(self, statement: NumberStated, one: Quantity) -> bool:
        """Return whether the page has found a quantity, or what is said tells that it is meant."""
        if one.step is not None and one.step.kind.part is Part.CENTRE:
            return self._is_place_told(statement, one)
        is_found = self.memory.has(one.key) or one.family == "angle"
        return is_found or one.axis in statement.label.sense

    def _is_place_told(self, statement: NumberStated, one: Quantity) -> bool:
        """Return whether words behind a length say where a point lies along an axis: `below`."""
        told = place_told(statement.label.behind).get(one.along, 0)
        is_length = one.dimension == statement.side.dimension == LENGTH
        return is_length and told * self._worth_now(one) > 0

    def _worth_now(self, one: Quantity) -> float:
        return self.memory.own.get(one.key, self.subject.worth(one))

    def _worlds(self) -> Iterator[tuple[Mapping[str, float], LineStanding]]:
        yield self.subject.right, LineStanding.RIGHT
        yield self.following.world(), LineStanding.FOLLOWS

    def _having(
        self,
        statement: NumberStated,
        among: list[Quantity],
        worlds: Iterator[tuple[Mapping[str, float], LineStanding]],
    ) -> Claim | None:
        """Return the claim of the first quantity that has a value, as right or as following."""
        for values, standing in worlds:
            for quantity in among:
                value = values.get(quantity.key, math.nan)
                is_place = self._is_place_told(statement, quantity)
                target = abs(value) if is_place else value
                if self.subject.match(statement.stated, quantity, target) is Match.YES:
                    return replace(statement.claim(standing, quantity.key, value), named=False)
        return None
