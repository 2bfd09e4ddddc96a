"""Arithmetic laid beside the line as it should be: which factor is missing, inverted or extra.

What was typed says what was done, whatever number it comes to. Both lines become sums of products;
each number typed is recognised by the quantities of the problem that have its value.
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache

from tutor.course.problem import Question
from tutor.statics.balance import EQUATION
from tutor.statics.choices import CONVENTIONS
from tutor.statics.step import SIZES, WORDS, Derivation, Step
from tutor.working.amount import spelled, unit_size
from tutor.working.grammar import read_line
from tutor.working.shape import (
    Factor,
    Function,
    Group,
    Leaf,
    Term,
    leaves,
    negative,
    power_of,
    replaced,
    shape,
    value,
)
from tutor.working.tree import Measured, Name, Number, Tree
from tutor.working.verdict import Difference

ROUGH = 0.004
"""A number this far from the quantity it stands for was cut to few figures."""

_NEAR = 1e-3
_CLOSE = 1e-6
_COARSEST = 0.05
"""Not even a number of one figure stands for a quantity that is further off than this."""

_CUT = 2.0001
"""A number may have been cut off at its last digit instead of rounded."""

_FIGURES = 3
_MOST = 2
"""More differences than this say that the line was worked out in another way."""

_Base = Leaf | Function | Group


@dataclass(frozen=True, slots=True)
class Structure:
    """What arithmetic shows: how it differs, and the values that it takes for known quantities.

    `pins` holds the number typed for each earlier line and constant that was recognised; `opened`
    are the earlier lines that are worked out once more in the entry.
    """

    differences: tuple[Difference, ...]
    pins: Mapping[str, float]
    opened: frozenset[str] = frozenset()


def structure(
    question: Question, step: Step, tree: Tree, own: Mapping[str, float]
) -> Structure | None:
    """Return how the arithmetic of an entry differs from its line; None where it is too far off.

    Args:
        question: whose numbers count.
        step: the step it was typed at.
        tree: what was read.
        own: what the student wrote on other lines, by key.
    """
    known = _Known(question, own)
    wanted = _written(question.derivation, step.key)
    return _compared(known, shape(tree, known.typed), wanted, free=step.kind in SIZES)


def structure_of_equation(
    question: Question, step: Step, sides: tuple[Tree, ...], own: Mapping[str, float]
) -> Structure | None:
    """Return how an equation differs from the moment equation, or from the one that gives a step.

    The moments are summed up where the step is what they are solved for.
    """
    known = _Known(question, own)
    left, right = (shape(side, known.typed) for side in sides)
    typed = Group(left.terms + negative(right).terms)
    typed = Group(tuple(term for term in typed.terms if not _is_nothing(term)))
    for wanted in _equations(known, step):
        found = _compared(known, typed, wanted, free=True)
        if found is not None:
            return found
    return None


def _equations(known: _Known, step: Step) -> Iterator[Group]:
    """Yield the equations that give a step, as sums that come to nothing."""
    line = _written(known.derivation, step.key)
    if step.kind == EQUATION:
        yield line
        return
    itself = Factor(Leaf(step.key, step.key, ()))
    if len(line.terms) == 1:
        (term,) = line.terms
        above = tuple(factor for factor in term.factors if factor.power > 0)
        below = tuple(Factor(f.base, -f.power) for f in term.factors if f.power < 0)
        sign = -1
        for factor in above if step.kind in SIZES else ():
            # A size is worked out from the size of a moment, and turns against that.
            is_moment = isinstance(factor.base, Leaf) and factor.base.key.startswith("M_")
            sign = 1 if is_moment and value(known.filled(_alone(factor))) < 0 else sign
        yield Group((Term(term.sign, above), Term(sign, (itself, *below))))
    yield Group((*line.terms, Term(-1, (itself,))))


def _alone(factor: Factor) -> Group:
    return Group((Term(1, (factor,)),))


def _is_nothing(term: Term) -> bool:
    return any(isinstance(f.base, Leaf) and not any(f.base.values) for f in term.factors)


def _compared(known: _Known, typed: Group, wanted: Group, free: bool) -> Structure | None:
    """Return how a line differs from the one wanted, by the reading that leaves the least."""
    tried = []
    for closely in (False, True):
        as_typed, opened = _opened(known, wanted, typed, closely)
        comparison = _Comparison(known)
        found = comparison.groups(typed, as_typed, free)
        tried.append(Structure(tuple(found or comparison.rounded), comparison.pins, opened))
        if not found:
            break
    best = min(tried, key=lambda one: len(one.differences))
    return best if len(best.differences) <= _MOST else None


@lru_cache(maxsize=4096)
def _written(derivation: Derivation, key: str) -> Group:
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


class _Known:
    """The quantities of a question with the values that they may be put in with."""

    def __init__(self, question: Question, own: Mapping[str, float]) -> None:
        self.question = question
        self.derivation = question.derivation
        self.exact = question.graph.values(question.numbers, {})
        self.steps = {step.key for step in self.derivation.steps if step.written}
        self.values: dict[str, tuple[float, ...]] = {}
        for key, number in self.exact.items():
            self.values[key] = (own[key], number) if key in own else (number,)
        for key, number in question.numbers.items():
            self.values.setdefault(key, (number,))
        for name, convention in CONVENTIONS.items():
            self.values[name] = convention.values
        self.signs = {given.sign: given.key for given in question.givens if given.sign}

    def typed(self, part: Number | Name | Measured) -> Leaf:
        """Return what a number or a symbol that was typed may stand for."""
        if isinstance(part, Name):
            key = part.symbol
            key = key if key in self.values else self.signs.get(key, key)
            return Leaf(part.symbol, key, self.values.get(key, (math.nan,)))
        number = part.term if isinstance(part, Measured) else part
        assert isinstance(number, Number), "as `shape` hands it over"
        cut = _CUT if (number.figures or 0) >= _FIGURES else 1.0001
        values = [number.value]
        if isinstance(part, Measured):
            values.append(number.value * unit_size(part.units).value)
        slack = min(number.half_digit * cut, _COARSEST * abs(number.value))
        slack = max(slack, _CLOSE * abs(number.value))
        return Leaf(f"{number.value:g}", "", tuple(values), slack)

    def filled(self, group: Group) -> Group:
        """Return a line as it should be with the values of its quantities."""

        def base(part: _Base) -> _Base:
            match part:
                case Leaf(key=key) if key:
                    return Leaf(part.text, key, self.values[key])
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

    def beneath(self, key: str) -> Iterator[str]:
        """Yield all quantities that a line rests on."""
        for leaf in leaves(_written(self.derivation, key)):
            if leaf.key:
                yield leaf.key
                if leaf.key in self.steps:
                    yield from self.beneath(leaf.key)

    def names(self, leaf: Leaf) -> str:
        """Return the quantity that a number typed stands for, "" where none has its value."""
        if leaf.key:
            return leaf.key
        words = {step.key for step in self.derivation.steps if step.kind in WORDS}
        # A constant is used again more often than a line that happens to have its value.
        others = [key for key in self.values if key not in CONVENTIONS and key not in words]
        limit = min(leaf.slack, ROUGH * abs(leaf.values[0]))
        for keys in (CONVENTIONS, others):
            gaps = [(abs(abs(v) - abs(leaf.values[0])), k) for k in keys for v in self.values[k]]
            distance, key = min(gaps)
            if distance <= limit:
                return key
        return ""


def _opened(
    known: _Known, wanted: Group, typed: Group, closely: bool
) -> tuple[Group, frozenset[str]]:
    """Return a line with earlier lines written out as far as the entry does so, and which.

    A quantity is opened where nothing typed has its value, but something has that of what it is
    made of. A number of few figures may have many values, unless it is taken `closely`.
    """
    wanted = known.filled(wanted)
    written = list(leaves(typed))
    opened: set[str] = set()
    while True:
        there = {leaf.key for leaf in leaves(wanted)}
        alone = [
            one
            for one in written
            if not any(_may_be(one, w) and _is_near(one, w, closely) for w in leaves(wanted))
        ]
        alone = [one for one in alone if one.values[0] != 1]
        for leaf in leaves(wanted):
            stands = any(_may_be(one, leaf) and _is_near(one, leaf, closely) for one in written)
            if leaf.key not in known.steps or stands:
                continue
            beneath = [Leaf(k, k, known.values[k]) for k in known.beneath(leaf.key)]
            beneath = [part for part in beneath if part.key not in there]
            if any(_may_be(one, part) for part in beneath for one in alone):
                by = known.filled(_written(known.derivation, leaf.key))
                wanted = replaced(wanted, leaf.key, by)
                opened.add(leaf.key)
                break
        else:
            return wanted, frozenset(opened)


def _is_near(typed: Leaf, wanted: Leaf, closely: bool) -> bool:
    """Return whether a number is near to a quantity, if it must be."""
    if not closely or typed.key:
        return True
    pairs = itertools.product(typed.values, wanted.values)
    return any(abs(abs(one) - abs(other)) <= _NEAR * abs(other) for one, other in pairs)


def _may_be(typed: Leaf, wanted: Leaf) -> bool:
    """Return whether something typed may stand for a quantity."""
    return _gap(typed, wanted) <= 1


def _gap(typed: _Base, wanted: _Base) -> float:
    """Return how far apart two parts are, in units of what rounding allows: up to 1 is the same."""
    if isinstance(typed, Leaf) and typed.key and isinstance(wanted, Leaf):
        return 0.0 if typed.key == wanted.key else math.inf
    ones = typed.values if isinstance(typed, Leaf) else (value(typed),)
    others = wanted.values if isinstance(wanted, Leaf) else (value(wanted),)
    slack = typed.slack if isinstance(typed, Leaf) else 0.0
    gaps = [
        abs(abs(one) - abs(other)) / max(slack, 1e-3 * abs(other) if not slack else 0.0, 1e-12)
        for one in ones
        for other in others
    ]
    return min((gap for gap in gaps if not math.isnan(gap)), default=math.inf)


@dataclass
class _Comparison:
    """Lays what was typed beside a line as it should be, and keeps what was recognised."""

    known: _Known
    pins: dict[str, float] = field(default_factory=dict)
    rounded: list[Difference] = field(default_factory=list)

    def groups(self, typed: Group, wanted: Group, free: bool) -> list[Difference]:
        """Return the differences of two sums; with `free`, all signs may be the other way."""
        if len(typed.terms) > 1 == len(wanted.terms) and _holds_group(wanted.terms[0]):
            typed = Group((Term(1, (Factor(typed),)),))  # brackets with nothing behind them
        pairs, alone, missing = self._paired(typed, wanted)
        found = [Difference("missing", _label(term)) for term in missing]
        found += [Difference("extra term", "", _product(term.factors)) for term in alone]
        turned = []
        for one, other in pairs:
            differences, sign = self.terms(one, other)
            found += differences
            if sign < 0:
                turned.append((one, other))
        if not free and len(turned) == len(pairs) > 1:
            return [*found, Difference("sign", "")]
        if free:
            # Either these signs are wrong or all others: the fewer, or those written as a minus.
            kept = [pair for pair in pairs if pair not in turned]
            turned = min(turned, kept, key=lambda some: (len(some), sum(p[0].sign for p in some)))
        return found + [Difference("sign", _label(other)) for _, other in turned]

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
        sign = typed.sign * wanted.sign
        found: list[Difference] = []
        for turned in (1, -1):
            for one, other in _closest(left, right, turned):
                if one not in left or other not in right:
                    continue
                left.remove(one)
                right.remove(other)
                sign *= self._recognise(one, other)
                if turned < 0:
                    found.append(Difference("inverted", _name(other.base), power=other.power))
        if len(found) == len(wanted.factors) > 1 and not left:
            found = [Difference("inverted", "")]
        found += self._insides(left, right)
        remaining, turned = self._remaining(left, right)
        return found + remaining, sign * turned

    def _recognise(self, typed: Factor, wanted: Factor) -> int:
        """Keep the value typed for a quantity; return the sign that it brings into a product."""
        one, other = typed.base, wanted.base
        if not (isinstance(one, Leaf) and isinstance(other, Leaf)) or one.key:
            return 1
        number = min(one.values, key=lambda v: min(abs(abs(v) - abs(o)) for o in other.values))
        exact = min(other.values, key=lambda o: abs(abs(number) - abs(o)))
        if other.key in self.known.exact or other.key in CONVENTIONS:
            self.pins[other.key] = math.copysign(number, exact)
        if abs(abs(number) - abs(exact)) > ROUGH * abs(exact):
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
            found.append(Difference("instead", key, _name(partner.base), other.power))
            sign *= _sign_of_number(partner, other)
        return found + [self._extra(one) for one in left], sign

    def _extra(self, factor: Factor) -> Difference:
        base = factor.base
        key = self.known.names(base) if isinstance(base, Leaf) else ""
        if isinstance(base, Function):
            inner = [self.known.names(leaf) for leaf in leaves(base.inside)]
            key = f"{base.name}({inner[0]})" if len(inner) == 1 and inner[0] else ""
        return Difference("extra", key, _name(base), factor.power)


def _holds_group(term: Term) -> bool:
    return any(isinstance(factor.base, Group) for factor in term.factors)


def _within(base: _Base, group: Group) -> Group | None:
    """Return a sum in brackets, or the one term of a sum that stands in its place."""
    if isinstance(base, Group):
        return base
    if isinstance(base, Leaf) and any(_may_be(base, leaf) for leaf in leaves(group)):
        return Group((Term(1, (Factor(base),)),))
    return None


def _sign_of_number(typed: Factor, wanted: Factor) -> int:
    """Return the sign that a quantity has of itself, where a number typed stands for it."""
    if isinstance(typed.base, Leaf) and typed.base.key:
        return 1
    return -1 if value(wanted.base) < 0 and wanted.power % 2 else 1


def _likeness(typed: Term, wanted: Term) -> float:
    """Return how many factors of two products may be the same."""
    left = [factor.base for factor in typed.factors]
    count = 0.0
    for factor in wanted.factors:
        same = [base for base in left if _gap(base, factor.base) <= 1]
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
        (_gap(one.base, other.base), place, one, other)
        for place, (one, other) in enumerate(itertools.product(left, right))
        if one.power == turned * other.power
    ]
    for gap, _, one, other in sorted(gaps, key=lambda found: found[:2]):
        if gap <= 1:
            yield one, other


def _worked_out(left: list[Factor], right: list[Factor]) -> list[Difference] | None:
    """Return what differs where several factors were worked out to one number beforehand."""
    number = math.prod(power_of(factor) for factor in left)
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
        product = math.prod(power_of(f) ** power for f, power in pairs)
        if math.isnan(product) or abs(abs(number) - abs(product)) > allowed * abs(product):
            continue
        return [
            Difference("missing" if power == 0 else "inverted", _name(f.base), power=f.power)
            for f, power in pairs
            if power != 1
        ]
    return None


def _name(base: _Base) -> str:
    """Return what a part is called: its key, its number, or its function."""
    match base:
        case Leaf():
            return base.key or base.text
        case Function():
            return f"{base.name}({_name(base.inside)})"
    return _label(base.terms[0]) if len(base.terms) == 1 else "+".join(map(_label, base.terms))


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
