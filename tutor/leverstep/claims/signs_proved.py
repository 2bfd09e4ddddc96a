"""Whether a number that has the right size is proved to have the wrong sign."""

from __future__ import annotations

import re

from leverstep.claims.labels import words_in
from leverstep.claims.matching import OF_PARTS, way_by_segment
from leverstep.claims.naming import Naming
from leverstep.claims.number_stated import NumberStated
from leverstep.claims.page_quantities import Quantity
from leverstep.claims.subject import Subject
from leverstep.statics import kinds
from leverstep.statics.units import MOMENT

_ON_BODY = re.compile(r"\b(?:on|against|in)\s+(?:to\s+)?(?:the|my|a|his|her)\s+([a-z]+)")
_FEELS = re.compile(
    r"\b(?:feels?|felt|third law|newton['’]?s?\s+(?:3|iii)|back on)\b", re.IGNORECASE
)
"""What tells of the force on another body."""


class SignProof:
    """Weighs what the words beside a number say of its way, and which forces have two bodies."""

    def __init__(self, subject: Subject, naming: Naming) -> None:
        self.subject = subject
        self.naming = naming

    def of_sign(self, statement: NumberStated, quantity: Quantity) -> bool:
        """Return whether a number that has the right size is proved to have the wrong sign.

        Words say which way, or the page has said which sense of moments is positive, or a size by
        its own symbol has a minus sign. What else a sign means depends on the axes of the student.
        """
        stated = statement.stated
        if statement.chain.is_aside or not self.naming.is_spoken_of(statement, quantity):
            return False
        is_unasked = quantity.family == "reaction" and quantity.step is None
        if is_unasked or self.may_be_counterpart(statement, quantity):
            return False
        if quantity.axis in stated.label.sense or "turn" in stated.label.sense:
            return True
        if way_by_segment(stated.label, quantity):
            return True
        if quantity.is_line_of(*OF_PARTS):
            return stated.strict
        if quantity.dimension == MOMENT:
            return bool(stated.senses.for_line_of(quantity) or stated.senses.before(quantity))
        if statement.side.value < 0:
            return stated.strict and not quantity.signed
        return not quantity.signed  # words behind it name another way

    def may_be_coordinate(self, statement: NumberStated, quantity: Quantity) -> bool:
        """Return whether a distance has the letter of an axis, and so the sign of its side."""
        return quantity.family == "distance" and statement.symbol[:1].lower() in ("x", "y")

    def may_be_counterpart(self, statement: NumberStated, quantity: Quantity) -> bool:
        """Return whether a force may be that on the other body, which points the other way."""
        step = quantity.step
        is_handed = step is not None and step.kind is kinds.HANDED_FORCE
        if quantity.family != "reaction" and not is_handed:
            return False
        chain, names = statement.chain, self.subject.names
        text = f"{chain.before} ; {chain.behind}"
        if step is not None and is_handed:
            own = words_in(self.subject.question.at(step).problem.segment)
            return any(word not in own for word in _ON_BODY.findall(text.lower()))
        problem = self.subject.question.problem
        own = words_in(f"{problem.segment} {problem.axis} {problem.reaction}") | names.all_words
        others = [word for word in _ON_BODY.findall(text.lower()) if word not in own]
        return bool(others or _FEELS.search(text))
