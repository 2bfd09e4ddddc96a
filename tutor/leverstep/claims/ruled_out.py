"""What a number can't be of by how it is written: it names another sort, force or axis."""

from __future__ import annotations

import re

from leverstep.claims.evidence import Evidence
from leverstep.claims.labels import words_in
from leverstep.claims.memory import Memory
from leverstep.claims.near_numbers import stands_among, telling
from leverstep.claims.number_stated import NumberStated
from leverstep.claims.page_quantities import ACROSS_AXIS, ALONG_AXIS, Quantity
from leverstep.claims.subject import Subject
from leverstep.claims.symbol_fit import is_reaction_by_segment
from leverstep.statics.kinds import HANDED_FORCE, HANDED_MOMENT
from leverstep.statics.units import ANGLE, MASS, MOMENT

_COMPONENT_SYMBOL = re.compile(r"^[A-Z]_?[xyhvXYHV]$")


class RuledOut:
    """Rules quantities out, by what the page has written so far."""

    def __init__(self, subject: Subject, memory: Memory, evidence: Evidence) -> None:
        self.subject = subject
        self.memory = memory
        self.evidence = evidence

    def is_ruled_out(self, statement: NumberStated, quantity: Quantity) -> bool:
        """Return whether a number can't be of a quantity by how it is written."""
        if self.is_by_other_axes(statement, quantity) or self.is_part_of_another(
            statement, quantity
        ):
            return True
        if self.is_one_for_all(statement, quantity):
            return True
        if self._is_in_other_unit(statement, quantity):
            return True
        if quantity.is_by_segment and not statement.is_by_segment(quantity.axis):
            return True
        if quantity.is_elsewhere and quantity.dimension == MOMENT and self._is_of_axis(statement):
            return True
        if self._is_about_joint_before(statement, quantity):
            return True
        if statement.key != quantity.key and self._is_said_of_another(statement, quantity):
            return True
        if self.is_turned_over(statement, quantity):
            return True
        return bool(statement.symbol) and self._is_ruled_out_by_symbol(statement, quantity)

    @staticmethod
    def _is_in_other_unit(statement: NumberStated, quantity: Quantity) -> bool:
        """Return whether a number is an angle or a weight by its form, and a quantity is none."""
        if statement.is_angle and quantity.dimension != ANGLE:
            return True
        if quantity.dimension == MASS and statement.is_weight_in_kilograms:
            return True
        is_force_in_kilograms = quantity.family == "force" and quantity.dimension == MASS
        return is_force_in_kilograms and statement.side.dimension is None

    def is_by_other_axes(self, statement: NumberStated, quantity: Quantity) -> bool:
        """Return whether a quantity lies along another axis than words tell: along the other one of
        two, or level or upright where they tell of the segment, and there are lines for that.
        """
        if statement.is_along_other_axis(quantity):
            return True
        by_segment = (ALONG_AXIS, ACROSS_AXIS)
        if quantity.axis not in ("x", "y") or not any(map(statement.is_by_segment, by_segment)):
            return False
        return any(
            one.axis in by_segment and one.family == quantity.family and one.about == quantity.about
            for one in self.subject.with_line
        )

    def is_turned_over(self, statement: NumberStated, quantity: Quantity) -> bool:
        """Return whether a quantity is the reverse of a ratio, and words name the ratio that is
        asked for; `15.6 : 1` says which way round.
        """
        is_told = ":" not in statement.chain.text and self.subject.names.names_sort(statement.label)
        return quantity.is_upside_down and is_told

    def is_one_for_all(self, statement: NumberStated, quantity: Quantity) -> bool:
        """Return whether words speak of a sum of moments and name no force, and a quantity is the
        moment of one.
        """
        names, label = self.subject.names, statement.label
        is_one = quantity.family == "moment" and len(quantity.about) == 1 and not quantity.whole
        is_told = names.names_sum(label) and not names.forces_named(label)
        return is_one and is_told and statement.key != quantity.key

    def _is_ruled_out_by_symbol(self, statement: NumberStated, quantity: Quantity) -> bool:
        """Return whether a number can't be of a quantity by the symbol that it has."""
        if quantity.is_sum and not quantity.whole:
            return True  # no symbol stands for some of the forces
        is_whole = quantity.family == "force" and not quantity.axis
        is_part = statement.axis and _COMPONENT_SYMBOL.search(statement.symbol)
        if is_whole and not statement.stated.strict and is_part:
            return True
        return self._is_part_untold(statement, quantity)

    def is_part_of_another(self, statement: NumberStated, quantity: Quantity) -> bool:
        """Return whether a symbol is that of a component of a force that the page has by a letter,
        and a quantity is of another: `A_x`, where A is the pull.
        """
        letter = _COMPONENT_SYMBOL.search(statement.symbol)
        if letter is None or not statement.axis or statement.key or statement.symbol[0] == "F":
            return False  # F is the letter of any force
        whole = self.memory.quantity_of(statement.symbol[0])
        if whole is None or whole.family not in ("force", "weight", "reaction"):
            return False
        return quantity.about != whole.about

    def _is_said_of_another(self, statement: NumberStated, quantity: Quantity) -> bool:
        """Return whether words name another sort, or another force, than a quantity is of, or what
        is worked out is another.
        """
        names, side = self.subject.names, statement.side
        if self.evidence.adds_components(statement, quantity):
            return True
        if not names.may_be_of_sort(statement.label, quantity, side.dimension):
            return not self._is_handed_on(quantity)
        if quantity.is_component and not self.evidence.tells_axis(statement.label, statement.key):
            is_named = bool(names.forces_named(statement.label)) and not statement.label.of
            is_whole = is_named and names.is_force_whole(quantity)
            return is_whole or self.is_of_other_force(statement, quantity)
        return self.is_of_other_force(statement, quantity)

    def _is_handed_on(self, quantity: Quantity) -> bool:
        """Return whether a quantity is the force at the joint on the segment that the page speaks
        of: what the segment before bears there, turned round.
        """
        step = quantity.step
        if step is None or step.kind is not HANDED_FORCE:
            return False
        return self.memory.posture == step.mark

    def _is_about_joint_before(self, statement: NumberStated, quantity: Quantity) -> bool:
        """Return whether words name the joint of a later posture alone, and a quantity is what all
        forces come to about the one before it, or is handed on from there.
        """
        step, told = quantity.step, self.subject.names.joint_told(words_in(statement.chain.before))
        if not told or quantity.dimension != MOMENT or statement.key == quantity.key:
            return False
        if step is None:  # what has no line is of the first posture
            return told > self.subject.question.problem.posture.mark
        if step.kind is HANDED_MOMENT:
            return told == step.mark and bool(statement.arithmetic)
        return quantity.whole and told > step.mark

    def _is_of_axis(self, statement: NumberStated) -> bool:
        """Return whether a sort or a force is named, and no other point than the axis."""
        label, names = statement.label, self.subject.names
        is_named = names.names_sort(label) or bool(names.forces_named(label))
        return is_named and not self.evidence.tells_point(label)

    def _is_part_untold(self, statement: NumberStated, quantity: Quantity) -> bool:
        """Return whether a quantity is a component, and nothing about the symbol tells an axis."""
        has_whole = quantity.family == "force" or self.subject.finds_whole_reaction
        is_part = quantity.axis not in ("", ACROSS_AXIS) and has_whole
        if is_part and (
            is_reaction_by_segment(statement.symbol, quantity)
            or self._is_summed_along(statement, quantity)
        ):
            return False
        return is_part and not self.evidence.tells_axis(statement.label, statement.key)

    def _is_summed_along(self, statement: NumberStated, quantity: Quantity) -> bool:
        """Return whether a reaction along the segment is worked out from what it comes from."""
        numbers, inputs = telling(statement.literals), self.subject.inputs_of(quantity)
        is_reaction = quantity.family == "reaction" and quantity.axis == ALONG_AXIS
        return is_reaction and len(numbers) > 1 and all(stands_among(n, inputs) for n in numbers)

    def is_of_other_force(self, statement: NumberStated, quantity: Quantity) -> bool:
        """Return whether words or symbols name a force by itself, and a quantity is of others."""
        label = statement.label
        named = label.forces or self.subject.names.forces_named(label)
        return bool(named and quantity.about) and not named & set(quantity.about)
