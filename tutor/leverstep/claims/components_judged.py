"""An equation that says what a component is of a force: `Fy = F sin 20.5 = 0.350 F`."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

from leverstep.claims import weights
from leverstep.claims.judged_line import Claim, LineStanding
from leverstep.claims.labels import label_of
from leverstep.claims.memory import Memory, PageResult
from leverstep.claims.near_numbers import is_near
from leverstep.claims.page_quantities import Quantity, likeliest
from leverstep.claims.segments import Chain
from leverstep.claims.subject import Subject
from leverstep.claims.worth import plain_value
from leverstep.entry.tree import Name, Number, Operation


class ComponentJudge:
    """Judges components, and keeps the ratios that are written for them."""

    def __init__(self, subject: Subject, memory: Memory) -> None:
        self.subject = subject
        self.memory = memory

    def judge(self, chain: Chain, known: Mapping[str, float], loose: list[str]) -> Claim | None:
        """Judge `Fy = F sin 20.5` whether right or wrong: its symbols say what they are."""
        first = chain.sides[0]
        if not isinstance(first, Name) or len(loose) != 2:
            return None
        symbol = chain.names[first.symbol]
        other = next(name for name in loose if name != symbol)
        whole = self._by_symbol(other, lambda q: not q.axis)
        if whole is None:
            return None
        part = self._by_symbol(symbol, lambda q: bool(q.axis) and q.about == whole.about)
        if part is None or part.step is None:
            return None
        self.memory.bound.setdefault(symbol, part.key)
        self.memory.bound.setdefault(other, whole.key)
        tree = chain.sides[1]
        value = plain_value(tree, chain, {**known, other: abs(self.subject.worth(whole))})
        if math.isnan(value):
            return None
        right = self.subject.worth(part)
        others = self.subject.along_other_axis(part)
        if is_near(abs(value), abs(right), 0.0):
            standing = LineStanding.RIGHT
        elif not chain.is_aside and any(
            is_near(abs(value), abs(self.subject.worth(other)), 0.0) for other in others
        ):
            standing = LineStanding.WRONG
        else:
            return None  # it may be along an axis of the student's own
        amount = math.copysign(value, right)
        return Claim(standing, part.key, amount, tree, text=chain.text, is_equation=True)

    def _by_symbol(self, symbol: str, suits: Callable[[Quantity], bool]) -> Quantity | None:
        """Return the likeliest quantity that a symbol alone tells, None where none is likely."""
        label, fit = label_of("", symbol), self.subject.names.fit
        there = [
            (fit(label, quantity) + weights.SYMBOL_HAS_LINE * (quantity.step is not None), quantity)
            for quantity in self.subject.all.values()
            if suits(quantity) and fit(label, quantity) >= weights.ENOUGH_BY_SYMBOL
        ]
        return likeliest(there)[1] if there else None

    def keep_ratio(self, chain: Chain, key: str) -> None:
        """Keep the number of `0.350 F`, wrong where that line is."""
        match chain.sides:
            case (Name(), *_, Operation(operator="*", left=Number() as number, right=Name() as of)):
                whole = self.subject.right.get(self.memory.key_of(chain.names[of.symbol]), 0.0)
            case _:
                return
        right = abs(self.subject.right.get(key, math.nan) / whole) if whole else math.nan
        if math.isnan(right):
            return
        is_right = is_near(number.value, right, number.half_digit)
        standing = LineStanding.RIGHT if is_right else LineStanding.WRONG
        self.memory.add(PageResult(number.value, number.value, right, "", standing))
