"""Two lines laid side by side as sums of products: what differs, and what was recognised."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from leverstep.comparing.differences import Difference
from leverstep.comparing.known import ROUGH, Known, gap, may_be
from leverstep.comparing.shape import (
    Base,
    Factor,
    Function,
    Group,
    Leaf,
    Term,
    leaves,
    power_of,
    value,
)
from leverstep.statics.choices import CONVENTIONS

ROOT = "the root"


@dataclass
class Comparison:
    """Lays what was typed beside a line as it should be, and keeps what was recognised.

    `recognised` is whether any factor of it was.
    """

    known: Known
    recognised: bool = False
    pins: dict[str, float] = field(default_factory=dict)
    rounded: list[Difference] = field(default_factory=list)

    def groups(self, typed: Group, wanted: Group, free: bool) -> list[Difference]:
        """Return the differences of two sums; with `free`, all signs may be the other way."""
        if len(typed.terms) > 1 == len(wanted.terms) and _holds_group(wanted.terms[0]):
            typed = Group((Term(1, (Factor(typed),)),))  # brackets with nothing behind them
        squares = _under_root(wanted)
        if squares is not None and _under_root(typed) is None:
            inside = self.groups(typed, squares, free=True)
            return [Difference("missing", ROOT), *inside]
        pairs, alone, missing = self._paired(typed, wanted)
        found = [Difference("missing", self._label(term)) for term in missing]
        turned = []
        for one, other in pairs:
            differences, sign = self.terms(one, other)
            found += differences
            if sign < 0:
                turned.append((one, other))
        found = self._with_terms_added(found, alone)
        if not free and len(turned) == len(pairs) > 1:
            return [*found, Difference("sign", "")]
        if free:
            # Either these signs are wrong or all others: the fewer, or those written as a minus.
            kept = [pair for pair in pairs if pair not in turned]
            turned = min(turned, kept, key=_least_likely)
        return found + [Difference("sign", self._label(other)) for _, other in turned]

    def _with_terms_added(self, found: list[Difference], alone: list[Term]) -> list[Difference]:
        """Return differences with the terms too many; one may be a factor that is added."""
        for term in alone:
            base = term.factors[0].base if len(term.factors) == 1 else None
            name = self.known.names(base) if isinstance(base, Leaf) else ""
            missing = [d for d in found if d.what == "missing" and d.about == name]
            if name and missing:
                found[found.index(missing[0])] = Difference("added", name)
            else:
                found.append(Difference("extra term", "", _product(term.factors)))
        return found

    def _label(self, term: Term) -> str:
        """Return what a product is told by: its first line, or else its first quantity."""
        parts = [leaf.key for leaf in leaves(Group((term,))) if leaf.key]
        lines = [key for key in parts if key in self.known.steps]
        return lines[0] if lines else _label(term)

    def _paired(
        self, typed: Group, wanted: Group
    ) -> tuple[list[tuple[Term, Term]], list[Term], list[Term]]:
        """Return the terms that belong together, those typed that are left, and those missing."""
        alone, missing = list(typed.terms), list(wanted.terms)
        pairs = []
        ranked = sorted(
            itertools.product(range(len(alone)), range(len(missing))),
            key=lambda places: -_likeness(typed.terms[places[0]], wanted.terms[places[1]]),
        )
        one_each = len(alone) == len(missing) == 1
        for one, other in ranked:
            first, second = typed.terms[one], wanted.terms[other]
            alike = one_each or _likeness(first, second) > 0
            if alike and first in alone and second in missing:
                pairs.append((first, second))
                alone.remove(first)
                missing.remove(second)
        if len(alone) == len(missing) == 1 and all(len(t.factors) == 1 for t in alone + missing):
            return [*pairs, (alone[0], missing[0])], [], []  # one stands for the other
        return pairs, alone, missing

    def terms(self, typed: Term, wanted: Term) -> tuple[list[Difference], int]:
        """Return the differences of two products, and whether their signs agree: 1 or -1."""
        left, right = list(typed.factors), list(wanted.factors)
        sign, either = typed.sign * wanted.sign, False
        found: list[Difference] = []
        for turned in (1, -1):
            for one, other in _closest(left, right, turned):
                if one not in left or other not in right:
                    continue
                left.remove(one)
                right.remove(other)
                self.recognised = True
                sign *= self._recognise(one, other)
                either = either or _is_of_either_sign(one, other)
                if turned < 0:
                    found.append(Difference("inverted", _name(other.base), power=other.power))
        found += self._not_raised(left, right)
        found += self._insides(left, right)
        remaining, turned = self._remaining(left, right)
        found += remaining
        if [one.what for one in found] == ["inverted"] * len(wanted.factors) != ["inverted"]:
            found = [Difference("inverted", "")]
        return found, abs(sign) if either else sign * turned

    def _not_raised(self, left: list[Factor], right: list[Factor]) -> list[Difference]:
        """Return the quantities that should stand to another power, and take these out."""
        found = []
        for one, other in itertools.product(tuple(left), tuple(right)):
            squared = one.power == 1 and other.power == 2 and gap(one.base, other.base) <= 1
            if squared and one in left and other in right:
                left.remove(one)
                right.remove(other)
                found.append(Difference("instead", f"{_name(other.base)}²", _name(one.base)))
        return found

    def _recognise(self, typed: Factor, wanted: Factor) -> int:
        """Keep the value typed for a quantity; return the sign that it brings into a product."""
        one, other = typed.base, wanted.base
        if not (isinstance(one, Leaf) and isinstance(other, Leaf)) or one.key:
            return 1
        number = min(one.values, key=lambda v: min(abs(abs(v) - abs(o)) for o in other.values))
        exact = min(other.values, key=lambda o: abs(abs(number) - abs(o)))
        is_rough = abs(abs(number) - abs(exact)) > ROUGH * abs(exact)
        if other.key in self.known.exact or (other.key in CONVENTIONS and not is_rough):
            self.pins[other.key] = math.copysign(number, exact) * self.known.size_of(other.key)
        if is_rough:
            self.rounded.append(Difference("rounded", other.key or other.text, one.text))
        return _sign_of_number(typed, wanted)

    def _insides(self, left: list[Factor], right: list[Factor]) -> list[Difference]:
        """Return the differences within brackets and functions, and take these out of the lists."""
        found: list[Difference] = []
        for one, other in itertools.product(tuple(left), tuple(right)):
            if one not in left or other not in right or one.power != other.power:
                continue
            first, second = one.base, other.base
            if isinstance(second, Group) and (inner := _within(first, second)) is not None:
                found += self.groups(inner, second, free=True)
            elif isinstance(first, Function) and isinstance(second, Function):
                if first.name != second.name:
                    found.append(Difference("function", second.name, first.name))
                found += self.groups(first.inside, second.inside, free=True)
            else:
                continue
            left.remove(one)
            right.remove(other)
        return found

    def _remaining(self, left: list[Factor], right: list[Factor]) -> tuple[list[Difference], int]:
        """Return what the factors without a partner say, and the sign that they bring."""
        left = [f for f in left if not math.isclose(power_of(f), 1.0, abs_tol=1e-9)]
        if not left and not right:
            return [], 1
        if left and (worked := _worked_out(left, right)) is not None:
            return worked, 1
        if len(right) == 1 and left and (len(left) > 1 or left[0].power != right[0].power):
            return [Difference("instead", _name(right[0].base), _product(left), right[0].power)], 1
        found, sign = [], 1
        for other in tuple(right):
            partner = next((one for one in left if one.power == other.power), None)
            if partner is None:
                found.append(Difference("missing", _name(other.base), power=other.power))
                continue
            left.remove(partner)
            key = _name(other.base)
            line = self._line_of(partner.base, key)
            found.append(Difference("instead", key, _name(partner.base), other.power, line))
            sign *= _sign_of_number(partner, other)
        return found + [self._extra(one) for one in left], sign

    def _line_of(self, base: Base, wanted: str) -> str:
        """Return the line whose value stands in the place of another of the same unit, or ""."""
        if not isinstance(base, Leaf) or base.key or wanted not in self.known.steps:
            return ""
        derivation, line = self.known.derivation, self.known.names(base)
        alike = (
            line in self.known.steps and derivation.step(line).unit == derivation.step(wanted).unit
        )
        return line if alike and line != wanted else ""

    def _extra(self, factor: Factor) -> Difference:
        base = factor.base
        key = self.known.names(base) if isinstance(base, Leaf) else ""
        if isinstance(base, Function):
            inner = [self.known.names(leaf) for leaf in leaves(base.inside)]
            key = f"{base.name}({inner[0]})" if len(inner) == 1 and inner[0] else ""
        return Difference("extra", key, _name(base), factor.power)


def _least_likely(pairs: list[tuple[Term, Term]]) -> tuple[bool, int, int]:
    """Return how little some terms can all have the wrong sign: the fewer, or those with a minus.

    A number that belongs to the line, such as 90°, hardly has it.
    """
    literal = any(not any(leaf.key for leaf in leaves(Group((other,)))) for _, other in pairs)
    return literal, len(pairs), sum(one.sign for one, _ in pairs)


def _under_root(group: Group) -> Group | None:
    """Return what stands under a root, where a sum is one root and nothing else."""
    if len(group.terms) == 1 and len(group.terms[0].factors) == 1:
        factor = group.terms[0].factors[0]
        if factor.power == 0.5 and isinstance(factor.base, Group):
            return factor.base
    return None


def _holds_group(term: Term) -> bool:
    return any(isinstance(factor.base, Group) and factor.power == 1 for factor in term.factors)


def _within(base: Base, group: Group) -> Group | None:
    """Return a sum in brackets, or the one term of a sum that stands in its place."""
    if isinstance(base, Group):
        return base
    if isinstance(base, Leaf) and any(may_be(base, leaf) for leaf in leaves(group)):
        return Group((Term(1, (Factor(base),)),))
    return None


def _sign_of_number(typed: Factor, wanted: Factor) -> int:
    """Return the sign that a quantity has of itself, where a number typed stands for it."""
    if isinstance(typed.base, Leaf) and typed.base.key:
        return 1
    return -1 if value(wanted.base) < 0 and wanted.power % 2 else 1


def _is_of_either_sign(typed: Factor, wanted: Factor) -> bool:
    """Return whether a number may stand for a line as it was written or as it is, signs apart."""
    values = wanted.base.values if isinstance(wanted.base, Leaf) else ()
    is_number = isinstance(typed.base, Leaf) and not typed.base.key
    return is_number and wanted.power % 2 == 1 and min(values, default=0) < 0 < max(values)


def _likeness(typed: Term, wanted: Term) -> float:
    """Return how many factors of two products may be the same."""
    left = [factor.base for factor in typed.factors]
    count = 0.0
    for factor in wanted.factors:
        same = [base for base in left if gap(base, factor.base) <= 1]
        if same:
            left.remove(same[0])
            count += 1
        elif any(isinstance(base, Group | Function) for base in (factor.base, *left)):
            inner = {leaf.key for leaf in leaves(Group((Term(1, (factor,)),)))} - {""}
            own = {leaf.key for base in left for leaf in leaves(Group((Term(1, (Factor(base),)),)))}
            count += 0.1 * len(inner & own)
    return count


def _closest(
    left: list[Factor], right: list[Factor], turned: int
) -> Iterator[tuple[Factor, Factor]]:
    """Yield the factors that may be the same, the closest first; `turned` is -1 for inverted."""
    gaps = [
        (gap(one.base, other.base), place, one, other)
        for place, (one, other) in enumerate(itertools.product(left, right))
        if one.power == turned * other.power
    ]
    for apart, _, one, other in sorted(gaps, key=lambda found: found[:2]):
        if apart <= 1:
            yield one, other


def _worked_out(left: list[Factor], right: list[Factor]) -> list[Difference] | None:
    """Return what differs where several factors were worked out to one number beforehand."""
    number = math.prod(power_of(factor) for factor in left)
    if not math.isfinite(number):
        return None
    rounded = [f.base for f in left if isinstance(f.base, Leaf) and value(f.base)]
    allowed = max([1e-3, *(leaf.slack / abs(value(leaf)) for leaf in rounded)])
    choices = sorted(
        itertools.product((1, -1, 0), repeat=min(len(right), 4)),
        key=lambda powers: sum(power != 1 for power in powers),
    )
    for powers in choices:
        if not any(powers) or len(right) > len(powers):
            continue
        pairs = list(zip(right, powers, strict=True))
        product = math.prod(power_of(Factor(f.base, f.power * power)) for f, power in pairs)
        if not math.isfinite(product) or abs(abs(number) - abs(product)) > allowed * abs(product):
            continue
        return [
            Difference("missing" if power == 0 else "inverted", _name(f.base), power=f.power)
            for f, power in pairs
            if power != 1
        ]
    return None


def _name(base: Base) -> str:
    """Return what a part is called: its key, its number, its function, or its sum in brackets."""
    match base:
        case Leaf():
            return base.key or base.text
        case Function():
            return f"{base.name}({_sum(base.inside)})"
    return f"({_sum(base)})" if len(base.terms) > 1 else _sum(base)


def _sum(group: Group) -> str:
    """Return a sum as it is written: `17.13 − 2.815`."""
    text = ""
    for term in group.terms:
        mark = "−" if term.sign < 0 else "+"
        text += f" {mark} " if text else mark.replace("+", "")
        text += _product(term.factors)
    return text


def _label(term: Term) -> str:
    """Return what a product is told by: its first quantity."""
    return _name(term.factors[0].base) if term.factors else ""


def _product(factors: Iterable[Factor]) -> str:
    """Return a product as it is written: `L ÷ 2`."""
    text = ""
    for factor in factors:
        mark = ("× " if text else "") if factor.power > 0 else ("÷ " if text else "1 ÷ ")
        text += f"{' ' if text else ''}{mark}{_name(factor.base)}"
    return text
