"""The quantities of a question, and which of them a number that was typed may stand for."""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Mapping
from functools import cached_property, lru_cache

from leverstep.comparing.shape import (
    Base,
    Factor,
    Function,
    Group,
    Leaf,
    Term,
    leaves,
    shape,
    value,
)
from leverstep.course.problem import FIGURES, Question
from leverstep.entry.amount import spelled, unit_size
from leverstep.entry.grammar import read_line
from leverstep.entry.tree import Measured, Name, Number
from leverstep.statics.choices import CONVENTIONS
from leverstep.statics.step import Derivation
from leverstep.statics.units import known_unit

ROUGH = 0.004
"""A number this far from the quantity it stands for was cut to few figures."""

_NEAR = 1e-3
_CLOSE = 1e-6
_COARSEST = 0.05
"""Not even a number of one figure stands for a quantity that is further off than this."""

_ON_THE_WAY = 1e-3
"""A line that is worked on from rounded ones may be off by this share of its value."""

_SAME = 1e-9
"""What rounding may leave between a line in metres and in centimetres that cancel."""

CUT_OFF = 2.0001
"""How many halves of its last digit a number may be off that was cut off there, not rounded."""


@lru_cache(maxsize=4096)
def written_line(derivation: Derivation, key: str) -> Group:
    """Return a line as it should be, with a leaf of no value for each quantity."""
    step = derivation.step(key)
    keys: dict[str, str] = {}
    for match in re.finditer(r"\{([^{}]+)\}", step.written):
        keys.setdefault(match.group(1), f"q{len(keys)}")
    text = re.sub(r"\{([^{}]+)\}", lambda match: f" {keys[match.group(1)]} ", step.written)
    names = {name: key for key, name in keys.items()}
    tree = read_line(text, names)[0]  # an equation has 0 on its other side

    def leaf(part: Number | Name | Measured) -> Leaf:
        if isinstance(part, Name):
            return Leaf(names[part.symbol], names[part.symbol], ())
        number = part.term if isinstance(part, Measured) else part
        assert isinstance(number, Number), "as `shape` hands it over"
        text = f"{number.value:g}"
        if isinstance(part, Measured):
            text += f" {spelled(part.units)}"
        return Leaf(text, "", (number.value,))

    return shape(tree, leaf)


def units_of_lengths(question: Question) -> tuple[str, ...]:
    """Return the units besides metres that distances of a question are given in."""
    given = (one.given.unit for one in question.problem.posture.distances if one.of is None)
    return tuple(dict.fromkeys(unit for unit in given if unit not in ("", "m")))


@lru_cache(maxsize=4096)
def beneath_line(derivation: Derivation, key: str) -> tuple[str, ...]:
    """Return all quantities that a line rests on, each once."""
    found: dict[str, None] = {}
    for leaf in leaves(written_line(derivation, key)):
        if leaf.key:
            found[leaf.key] = None
            if any(step.key == leaf.key and step.written for step in derivation.steps):
                found |= dict.fromkeys(beneath_line(derivation, leaf.key))
    return tuple(found)


def half_digits_off(figures: int | None) -> float:
    """Return how many halves of a last digit a number may be off that was rounded to it.

    One of three `figures` or more may have been cut off there instead; None is for one that shows
    none.
    """
    return CUT_OFF if (figures or 0) >= FIGURES else 1.0001


class Known:
    """The quantities of a question with the values that they may be put in with.

    Lengths stand in metres, or in a unit that some of them are given in; moments in newtons times
    that.
    """

    def __init__(
        self, question: Question, own: Mapping[str, float], unit_of_length: str = "m"
    ) -> None:
        """Begin.

        Args:
            question: whose numbers count.
            own: what the student wrote on other lines, by key.
            unit_of_length: the unit that all lengths are in.
        """
        self.question = question
        self.own = own
        self._metres = float(known_unit(unit_of_length).size)
        self.derivation = question.derivation
        self._of_length = {s.key for s in self.derivation.steps if s.unit in ("m", "N·m")}
        self.exact = question.right
        self.written = frozenset(own)
        self.steps = frozenset(step.key for step in self.derivation.steps if step.written)
        self.values: dict[str, tuple[float, ...]] = {}
        for key, number in self.exact.items():
            values = (own[key], number) if key in own else (number,)
            self.values[key] = tuple(value / self.size_of(key) for value in values)
        for key, number in question.numbers.items():
            self.values.setdefault(key, (number,))
        self.values |= question.accepted
        self.signs = {given.sign: given.key for given in question.givens if given.sign}

    def size_of(self, key: str) -> float:
        """Return what one unit of a quantity is in the unit of its line."""
        return self._metres if key in self._of_length else 1.0

    def is_for(self, line: Group) -> bool:
        """Return whether a line comes to the same in its unit of length as in metres."""
        if self._metres == 1:
            return True
        return math.isclose(value(line), value(self._in_metres.filled(line)), rel_tol=_SAME)

    @cached_property
    def _in_metres(self) -> Known:
        return Known(self.question, self.own)

    def typed(self, part: Number | Name | Measured) -> Leaf:
        """Return what a number or a symbol that was typed may stand for."""
        if isinstance(part, Name):
            key = part.symbol
            key = key if key in self.values else self.signs.get(key, key)
            return Leaf(part.symbol, key, self.values.get(key, (math.nan,)))
        number = part.term if isinstance(part, Measured) else part
        assert isinstance(number, Number), "as `shape` hands it over"
        values = [number.value]
        if isinstance(part, Measured):
            values.append(number.value * unit_size(part.units).value)
        off = number.half_digit * half_digits_off(number.figures)
        slack = min(off, _COARSEST * abs(number.value))
        slack = max(slack, _CLOSE * abs(number.value))
        return Leaf(f"{number.value:g}", "", tuple(values), slack)

    def filled(self, group: Group) -> Group:
        """Return a line as it should be with the values of its quantities."""

        def base(part: Base) -> Base:
            match part:
                case Leaf(key=key) if key:
                    values = self.values[key]
                    on_the_way = _ON_THE_WAY * abs(values[0]) if key in self.steps else 0.0
                    return Leaf(part.text, key, values, on_the_way)
                case Function(name, inside):
                    return Function(name, self.filled(inside))
                case Group():
                    return self.filled(part)
            return part

        return Group(
            tuple(
                Term(t.sign, tuple(Factor(base(f.base), f.power) for f in t.factors))
                for t in group.terms
            )
        )

    def names(self, leaf: Leaf) -> str:
        """Return the quantity that a number typed stands for, "" where none has its value."""
        if leaf.key:
            return leaf.key
        words = {step.key for step in self.derivation.steps if not step.kind.is_number}
        # A constant is used again more often than a line that happens to have its value.
        others = [key for key in self.values if key not in CONVENTIONS and key not in words]
        limit = min(leaf.slack, ROUGH * abs(leaf.values[0]))
        for keys in (CONVENTIONS, others):
            gaps = [(abs(abs(v) - abs(leaf.values[0])), k) for k in keys for v in self.values[k]]
            distance, key = min(gaps)
            if distance <= limit:
                return key
        return ""


def is_near(typed: Leaf, wanted: Leaf, closely: bool) -> bool:
    """Return whether a number is near to a quantity, if it must be."""
    if not closely or typed.key:
        return True
    pairs = itertools.product(typed.values, wanted.values)
    return any(abs(abs(one) - abs(other)) <= _NEAR * abs(other) for one, other in pairs)


def may_be(typed: Leaf, wanted: Leaf) -> bool:
    """Return whether something typed may stand for a quantity."""
    return gap(typed, wanted) <= 1


def gap(typed: Base, wanted: Base) -> float:
    """Return how far apart two parts are, in units of what rounding allows: up to 1 is the same."""
    if isinstance(typed, Leaf) and typed.key and isinstance(wanted, Leaf):
        return 0.0 if typed.key == wanted.key else math.inf
    ones = typed.values if isinstance(typed, Leaf) else (value(typed),)
    others = wanted.values if isinstance(wanted, Leaf) else (value(wanted),)
    slack = typed.slack if isinstance(typed, Leaf) else 0.0
    if slack and isinstance(wanted, Leaf):
        slack = max(slack, wanted.slack)
    gaps = [
        abs(abs(one) - abs(other)) / max(slack, 1e-3 * abs(other) if not slack else 0.0, 1e-12)
        for one in ones
        for other in others
    ]
    return min((gap for gap in gaps if not math.isnan(gap)), default=math.inf)
