"""Whether a line is unmistakably about a quantity: by its symbol, its words, or its arithmetic."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from leverstep.claims import weights
from leverstep.claims.labels import ValueLabel, label_of, words_for_axis
from leverstep.claims.memory import Memory
from leverstep.claims.near_numbers import is_of_si, stands_among, telling
from leverstep.claims.number_stated import NumberStated
from leverstep.claims.page_quantities import Quantity
from leverstep.claims.subject import Subject
from leverstep.claims.symbol_fit import index_in_words
from leverstep.claims.worth import has_call
from leverstep.entry.tree import Measured, Negative, Number, Operation
from leverstep.statics import kinds
from leverstep.statics.units import ANGLE, MOMENT

_FOR_REACTION = frozenset({"reaction", "resultant", "contact"})
"""Words for the whole reaction; `joint` stands beside any force that acts there."""
_FOR_PARTS = frozenset({"part", "component", "components"})
_COMPONENTS = 2
"""The reaction has so many components, and no more numbers than these where they are added."""
_DOES = re.compile(
    r"\b(?:reaction|resultant|contact|force|push|press|carr|hold|support|bear|tak)\w*",
    re.IGNORECASE,
)
_ADDS = re.compile(r"[−|]?\{[^{}]+\} [+−] ")
"""A line as it is written that adds up."""


class Naming:
    """Tells what lines are about for sure, by what the page has written so far."""

    def __init__(self, subject: Subject, memory: Memory) -> None:
        self.subject = subject
        self.memory = memory

    def is_named(self, statement: NumberStated, about: Quantity) -> bool:
        """Return whether a line is about a quantity, and can't well be about another."""
        label, names = statement.label, self.subject.names
        if statement.stated.strict:
            return True
        if not names.is_of_sort(label, about) or not self._is_told_apart(statement, about):
            return False
        named = names.forces_named(label)
        is_from_segment = about.family == "angle" and "between" in label.words
        if named and not about.whole and not named <= set(about.about) and not is_from_segment:
            return False
        if self._is_called_so(statement, about) or self._is_told_by_unit(statement, about):
            return True
        if self._is_arm_of_force_behind(statement, about):
            return True
        if self.told_by_numbers(statement) is about:
            return True
        if label.symbol == "F" and about.key == names.effort and not label.words:
            return statement.side.dimension is not None  # F alone is mostly the effort
        least = weights.ENOUGH_BY_LINE
        if index_in_words(label.symbol):  # it is of the force that the index tells
            least = weights.LETTER_COMMON + weights.INDEX_OF_EFFORT
        return names.fit(label, about) >= least and self._is_its_line(statement, about)

    def _is_told_apart(self, statement: NumberStated, about: Quantity) -> bool:
        """Return whether a component, a ratio or an angle is told from the others that there are.

        There are components along many axes, ratios of anything, and angles from many lines.
        """
        label, words = statement.label, statement.label.beside
        if words & _FOR_PARTS and not about.axis:
            return False
        if about.family == "ratio":
            return "advantage" in words
        if about.family == "angle":
            return bool(statement.arithmetic or statement.symbol) and "vertical" not in words
        if about.family == "reaction" and not statement.symbol:
            is_axis_told = self._is_upright_alone or bool(words & words_for_axis(about.axis))
            is_axis_told = is_axis_told or not about.axis
            return is_axis_told and bool(words & _FOR_REACTION) and says_what_joint_does(statement)
        if about.whole and not statement.symbol:
            return self.subject.names.names_whole(label) or self._is_sum_of_all(statement, about)
        if about.is_component:
            return bool(
                self.subject.names.axis_of(label.symbol) or words & words_for_axis(about.axis)
            )
        return True

    @property
    def _is_upright_alone(self) -> bool:
        """Return whether the reaction has no component but one, which is the whole of it."""
        return not self.subject.finds_whole_reaction

    def _is_called_so(self, statement: NumberStated, about: Quantity) -> bool:
        """Return whether words tell both the force and the sort, of which a unit tells one."""
        label = statement.label
        is_own_symbol = bool(statement.symbol) and statement.key != about.key
        if is_own_symbol and not label.words:
            return False
        has_sort = self._has_sort(statement, about) or statement.side.dimension is not None
        return has_sort and self.is_spoken_of(statement, about)

    def is_spoken_of(self, statement: NumberStated, about: Quantity) -> bool:
        """Return whether a symbol or words tell the force that a quantity is about, or all."""
        label, names = statement.label, self.subject.names
        if statement.key == about.key:
            return True
        if not names.is_of_sort(label, about):
            return False
        if about.whole:
            return names.names_whole(label) or self._is_sum_of_all(statement, about)
        if about.family == "reaction":
            return bool(label.words & _FOR_REACTION)
        return names.forces_named(label) == set(about.about) or self._is_only_one(label, about)

    def _is_sum_of_all(self, statement: NumberStated, about: Quantity) -> bool:
        """Return whether what is called a moment is a sum that is worked out from each known
        moment, or from the force and arm of that, and from nothing else.
        """
        if about.step is None or about.step.kind is not kinds.SUM:
            return False
        if statement.side.dimension != MOMENT or not self._has_sort(statement, about):
            return False
        numbers, used = statement.literals, 0
        for key in about.step.uses:
            step = self.subject.all[key].step
            parts = () if step is None else step.quantities
            terms = ((key,), parts)
            term = next((one for one in terms if self._stand_in(one, numbers)), ())
            if not term:
                return False
            used += len(term)
        return 1 < used == len(numbers)

    def _stand_in(self, keys: Sequence[str], numbers: list[Number]) -> bool:
        """Return whether the sizes of some quantities are among some numbers."""
        sizes = [abs(self.subject.right.get(key, 0.0)) for key in keys]
        return bool(sizes) and all(
            size and any(is_of_si(number, size) for number in numbers) for size in sizes
        )

    def _is_arm_of_force_behind(self, statement: NumberStated, about: Quantity) -> bool:
        """Return whether an arm by a letter of the page is made of all that it comes from, and its
        force is named behind it: `e = 12.0 cos 30 = 10.4 mm (tendon)`.
        """
        if about.family != "arm" or about.step is None or not statement.symbol:
            return False
        named = self.subject.names.forces_named(ValueLabel(statement.label.behind))
        inputs = self.subject.inputs_of(about)
        given = self.subject.sizes_given(frozenset(about.step.quantities))
        is_whole = all(any(is_of_si(n, size) for n in statement.literals) for size in given)
        is_alone = all(stands_among(number, inputs) for number in statement.literals)
        return named == set(about.about) and bool(given) and is_whole and is_alone

    def told_by_numbers(self, statement: NumberStated) -> Quantity | None:
        """Return what a number is unmistakably of by what it is worked out from alone: the angle of
        a reaction from its components, the sum of all moments from each of them; else None.
        """
        sums = (one for one in self.subject.with_line if self._is_sum_of_all(statement, one))
        return self._angle_of_parts(statement) or next(sums, None)

    def _angle_of_parts(self, statement: NumberStated) -> Quantity | None:
        """Return the angle of a reaction or resultant where a number is said to be an angle to the
        horizontal, and worked out from both components of that as they stand on the page, and from
        nothing else; else None.
        """
        label = statement.label
        if "horizontal" not in label.beside:
            return None
        if statement.side.dimension != ANGLE or len(statement.literals) != _COMPONENTS:
            return None
        sizes = sorted(number.value for number in statement.literals)
        return next(
            (one for one in self._angles if sorted(self._sizes_of_parts(one)) == sizes), None
        )

    @property
    def _angles(self) -> Iterator[Quantity]:
        """Yield the angles of the reactions and resultants that have a line."""
        kinds_of_angle = (kinds.REACTION_ANGLE, kinds.RESULTANT_ANGLE)
        return (q for q in self.subject.with_line if q.step and q.step.kind in kinds_of_angle)

    def _sizes_of_parts(self, angle: Quantity) -> Iterator[float]:
        """Yield the sizes of what an angle comes from, as they are written on the page."""
        uses = () if angle.step is None else angle.step.uses
        parts = (latest for use in uses if (latest := self.memory.latest(use)) is not None)
        return (abs(part.plain) for part in parts)

    def _is_told_by_unit(self, statement: NumberStated, about: Quantity) -> bool:
        """Return whether an arithmetic is made of what the one quantity in its unit comes from."""
        unit = statement.side.dimension
        alike = [one for one in self.subject.all.values() if one.dimension == unit]
        return alike == [about] and self._is_its_line(statement, about)

    def _is_only_one(self, label: ValueLabel, about: Quantity) -> bool:
        """Return whether a sort is named of which the derivation has one quantity alone."""
        names = self.subject.names
        if names.forces_named(label) - set(about.about):
            return False  # it may be what the one has to do with the other
        alike = [one for one in self.subject.with_line if one.sort == about.sort]
        return names.names_sort(label, about.sort) and alike == [about]

    def _has_sort(self, statement: NumberStated, about: Quantity) -> bool:
        """Return whether words name a sort, those of the line or else those of its heading."""
        names = self.subject.names
        heading = (ValueLabel(frozenset({word})) for word in self.memory.heading)
        return names.names_sort(statement.label) or any(
            names.names_sort(word, about.sort) for word in heading
        )

    def _is_its_line(self, statement: NumberStated, about: Quantity) -> bool:
        """Return whether an arithmetic is made of nothing but what a quantity comes from."""
        inputs, names = self.subject.inputs_of(about), self.subject.names
        numbers = telling(statement.literals)
        is_said = bool(statement.symbol) or self._has_sort(statement, about)
        if not is_said and statement.side.dimension is None:
            return False
        is_said = is_said or names.fit(statement.label, about) >= weights.SORT_NAMED
        return len(numbers) > (0 if is_said else 1) and all(
            stands_among(number, inputs) or self.memory.holds(number) for number in numbers
        )


def says_what_joint_does(statement: NumberStated) -> bool:
    """Return whether the reaction or what it does is named, or which way the joint's force points:
    `joint 40 - 17` may be a part of it, `joint: 40 - 17 = 23 N down` is all.
    """
    chain = statement.chain
    is_laid_down = chain.before.rstrip().endswith(";") and bool(label_of(chain.behind).sense)
    return chain.leads or is_laid_down or _DOES.search(f"{chain.before} {chain.behind}") is not None


def has_form_of(statement: NumberStated, about: Quantity) -> bool:
    """Return whether an arithmetic is a sum where a line is one, and none where it is a product.

    By its own symbol a sum may lack all but one of its terms; angles are added in many ways. The
    reaction to one force alone is a sum, too.
    """
    if about.step is None or not statement.arithmetic or about.dimension == ANGLE:
        return True
    if about.step.kind in (kinds.REACTION_SIZE, kinds.RESULTANT_SIZE):
        # Its components may be added without squares.
        is_plain = not any(has_call(side.tree) for side in statement.arithmetic)
        if is_plain and len(statement.literals) > _COMPONENTS:
            return False
        return statement.stated.strict or bool(statement.label.words & _FOR_REACTION)
    tree = statement.arithmetic[0].tree
    while isinstance(tree, Negative | Measured):
        tree = tree.term
    is_sum = isinstance(tree, Operation) and tree.operator in "+-"
    if _ADDS.match(about.step.written):
        return is_sum or statement.stated.strict
    return not is_sum or (about.family == "reaction" and not has_call(tree))
