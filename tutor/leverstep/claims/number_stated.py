"""A chain that comes to a number, with all that is said beside that number."""

from __future__ import annotations

import re
from collections.abc import Mapping, Set
from dataclasses import dataclass, replace

from leverstep.claims.judged_line import Claim, LineStanding
from leverstep.claims.labels import ACROSS, ALONG, ValueLabel, label_of, place_told
from leverstep.claims.matching import MOST_ROUNDING, Stated
from leverstep.claims.memory import Memory
from leverstep.claims.near_numbers import AGREEING, is_near, telling
from leverstep.claims.page_quantities import ACROSS_AXIS, ALONG_AXIS, Quantity
from leverstep.claims.segments import Chain
from leverstep.claims.ways_along import way_along
from leverstep.claims.worth import Side, numbers_in, plain_value, replaced
from leverstep.entry.amount import unit_size
from leverstep.entry.tree import Call, Measured, Number
from leverstep.entry.vocabulary import INVERSES
from leverstep.statics.units import FORCE, LENGTH, MASS, STANDARD_GRAVITY, unit

_PLUS_SIGN = re.compile(r"=\s*\+\s*[\d.]|^\+")
_LONGEST_SIGN = 3
"""Letters of the sign of a unit; `foot` before a value is a part of the body."""
_POINTING_BACK = frozenset({"it", "its", "this", "that", "which"})


@dataclass(frozen=True, slots=True)
class NumberStated:
    """A number that a chain comes to.

    `symbol` is what it is written for, "" where nothing; `key` is the quantity that the symbol
    stands for, "" where that is unknown. `sides` are those with a number, the symbol's own left
    out; `stated` is the last of them. `literals` are the numbers of its arithmetic, `known` the
    values that symbols were taken at; `axis` is that of the symbol's index.
    """

    chain: Chain
    symbol: str
    key: str
    sides: list[Side]
    stated: Stated
    literals: list[Number]
    known: Mapping[str, float]
    axis: str = ""

    @property
    def side(self) -> Side:
        """Return the value, in the unit that is written behind or before it."""
        return self.stated.side

    @property
    def label(self) -> ValueLabel:
        """Return what is said beside it."""
        return self.stated.label

    @property
    def claims_something(self) -> bool:
        """Return whether a value alone may be one: `step 2` is none."""
        is_count = self.side.dimension is None and (self.side.figures or 0) < 2
        return bool(self.label.words) and not is_count

    @property
    def is_weight_in_kilograms(self) -> bool:
        """Return whether a weight, by its symbol or its words, is a mass in other than pounds."""
        is_weight = self.symbol[:1] == "W" or "weight" in self.label.of
        return is_weight and self.side.dimension == MASS and "lb" not in self.side.units

    def is_by_segment(self, axis: str) -> bool:
        """Return whether words say that a force is taken along a segment or across it."""
        words = ACROSS if axis == ACROSS_AXIS else ALONG
        return not self.axis and not self.label.axis and bool(self.label.beside & words)

    @property
    def arithmetic(self) -> list[Side]:
        """Return the sides in which something is worked out."""
        return [side for side in self.sides if side.is_arithmetic]

    @property
    def is_alone(self) -> bool:
        """Return whether neither arithmetic, nor a symbol, nor an equals sign goes with it."""
        return not self.arithmetic and not self.symbol and not self.chain.leads

    @property
    def is_function(self) -> bool:
        """Return whether it only says what a function comes to: `cos 50 = 0.643`."""
        first, is_said = self.sides[0].tree, len(self.sides) > 1
        is_call = isinstance(first, Call) and first.function in INVERSES
        return is_call and is_said and not self.symbol and self.side.dimension is None

    @property
    def is_angle(self) -> bool:
        """Return whether it is worked out as the angle of a sine, cosine or tangent."""
        trees = [side.tree for side in self.arithmetic]
        return any(isinstance(t, Call) and t.function in INVERSES.values() for t in trees)

    def is_along_other_axis(self, quantity: Quantity) -> bool:
        """Return whether words or the symbol call it what lies along the other axis."""
        if quantity.axis in (ALONG_AXIS, ACROSS_AXIS):
            by_axis = ((ALONG_AXIS, ALONG), (ACROSS_AXIS, ACROSS))
            axes = {axis for axis, words in by_axis if self.label.beside & words}
            return len(axes) == 1 and quantity.axis not in axes
        if quantity.along not in ("x", "y"):
            return False
        told = {self.label.axis, self.axis} - {""}
        if self.side.dimension == LENGTH and not told:
            told = set(place_told(self.label.behind))
        return bool(told) and told != {quantity.along}

    @property
    def is_conversion(self) -> bool:
        """Return whether it says how one unit is worked out: `1 lbf ft = 4.448 * 0.3048 = …`."""
        match self.sides[0].tree:
            case Measured(term=Number(value=1.0)):
                one, last = self.sides[0], self.side
                is_weight = (one.dimension, last.dimension) == (MASS, FORCE)
                size = one.value * (STANDARD_GRAVITY if is_weight else 1.0)
                is_alike = is_weight or one.dimension == last.dimension
                is_true = is_near(last.value, size, last.slack, AGREEING)
                return is_alike and is_true and bool(self.arithmetic) and not self.symbol
        return False

    def rounded(self, exact: Set[float]) -> list[Side]:
        """Return the sides, arithmetic with how far its numbers may be rounded as its slack.

        Constants are typed as the student has them.

        Args:
            exact: the sizes of the givens, which are typed as they are stated.
        """
        return [self._with_slack(side, exact) for side in self.sides]

    def _with_slack(self, side: Side, exact: Set[float]) -> Side:
        if not side.is_arithmetic or not side.plain:
            return side
        off = [
            plain_value(
                replaced(side.tree, {n.value: n.value + n.half_digit}), self.chain, self.known
            )
            - side.plain
            for n in telling(numbers_in(side.tree))
            if abs(n.value) not in exact
        ]
        spread = min(sum(map(abs, off)), MOST_ROUNDING * abs(side.plain))
        return replace(side, slack=spread * abs(side.value / side.plain))

    def claim(self, standing: LineStanding, key: str, value: float, sign: bool = False) -> Claim:
        """Return a claim of its number.

        Args:
            standing: whether it holds.
            key: the quantity, "" where it is of none.
            value: its value there, in SI.
            sign: whether only the sign is wrong.
        """
        tree = next((side.tree for side in self.arithmetic), self.side.tree)
        figures, slack = self.side.figures, self.side.slack
        return Claim(
            standing, key, value, tree, figures, slack, sign, self.chain.text, symbol=self.symbol
        )


def number_stated(
    chain: Chain, symbol: str, sides: list[Side], known: Mapping[str, float], memory: Memory
) -> NumberStated:
    """Return what a chain states.

    Args:
        chain: the chain.
        symbol: what stands alone at its beginning, "" where nothing does.
        sides: its other sides that have a number.
        known: the values that symbols were taken at.
        memory: what the page has written so far.
    """
    side = _with_unit_before(chain, sides[-1])
    stated = Stated(
        side,
        _with_lever_arm(label_of_chain(chain, symbol, memory), side, memory),
        strict=bool(symbol and memory.subject.names.key_of(symbol)),
        plus=_PLUS_SIGN.search(chain.text) is not None,
        senses=memory.senses,
    )
    key = memory.key_of(symbol) if symbol else ""
    literals = [n for side in sides if side.is_arithmetic for n in numbers_in(side.tree)]
    axis = memory.subject.names.axis_of(symbol)
    return NumberStated(chain, symbol, key, sides, stated, literals, known, axis)


def label_of_chain(chain: Chain, symbol: str, memory: Memory) -> ValueLabel:
    """Return the label of a chain; a force that is not named there was named before."""
    names = memory.subject.names
    label = label_of(names.without_axis(chain.before), symbol, chain.behind)
    along = way_along(f"{chain.before} ; {chain.behind}", memory.subject.names.words_of_axis)
    label = replace(label, of=chain.of, forces=chain.forces, along=along)
    if memory.subject.names.speaks_of_axis(chain.before):
        named = memory.subject.names
        words = label.words - named.words_of_axis - named.all_words
        label = replace(label, words=words | {"reaction"})
    if not symbol and not chain.of:
        of, forces = memory.words_of_symbols(chain.before), memory.forces_by_symbol(chain.before)
        label = replace(label, of=of, forces=forces)
    forces = memory.subject.names.all_words
    if symbol or label.of or label.words & forces:
        return label
    context = label_of(chain.context).words & forces
    if label.words & _POINTING_BACK and not context:
        context = memory.last_label.words & forces
        if memory.last_label.words & memory.subject.names.words_of_reaction:
            return label  # it may be either
    return replace(label, words=label.words | context)


def _with_lever_arm(label: ValueLabel, side: Side, memory: Memory) -> ValueLabel:
    """Return the label of a length that is called the arm of a muscle, as that of a lever arm."""
    names = memory.subject.names
    is_length = side.dimension == LENGTH and "arm" in label.words
    is_of_lever = (
        bool(label.words & (names.words_of_muscle - {"arm"})) or "arm" not in names.all_words
    )
    return replace(label, words=label.words | {"lever"}) if is_length and is_of_lever else label


def _with_unit_before(chain: Chain, side: Side) -> Side:
    """Return a side in the unit that stands before the line: `kg cm: 108.4 + 74.7 = 183.1`."""
    spellings = chain.before.strip(" ;,:[]()").split()
    if len(spellings) > 1 and spellings[0] == "in":
        spellings = spellings[1:]  # `in N: …`
    units = [known for one in spellings if len(one) <= _LONGEST_SIGN and (known := unit(one))]
    if side.dimension is not None or not units or len(units) < len(spellings):
        return side
    size = unit_size(tuple((spelling, 1) for spelling in spellings))
    return replace(
        side,
        value=side.plain * size.value,
        dimension=size.dimension,
        slack=side.slack * size.value,
        units=tuple(one.sign for one in units),
    )
