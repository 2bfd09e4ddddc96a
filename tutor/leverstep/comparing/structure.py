"""Arithmetic laid beside the line as it should be: which factor is missing, inverted or extra.

What was typed says what was done, whatever number it comes to. Both lines become sums of products;
each number typed is recognised by the quantities of the problem that have its value.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache

from leverstep.comparing.comparison import Comparison
from leverstep.comparing.differences import Difference
from leverstep.comparing.known import (
    Known,
    beneath_line,
    is_near,
    may_be,
    units_of_lengths,
    written_line,
)
from leverstep.comparing.shape import (
    Base,
    Factor,
    Group,
    Leaf,
    Term,
    cancelled,
    leaves,
    multiplied_out,
    negative,
    replaced,
    shape,
    value,
)
from leverstep.course.problem import Question
from leverstep.entry.tree import Tree
from leverstep.statics import kinds
from leverstep.statics.step import Step

_MOST = 2
"""More differences than this say that the line was worked out in another way."""


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
    known = Known(question, own)
    wanted, typed = written_line(question.derivation, step.key), shape(tree, known.typed)
    numbers = list(leaves(typed))
    # One number that is none of the problem, as in 1/7.61, is a value and shows no arithmetic.
    is_one = sum(leaf.values[0] != 1 for leaf in numbers) == 1
    if is_one and not any(leaf.key or known.names(leaf) for leaf in numbers):
        return None
    found = _compared(known, typed, wanted, free=step.kind.is_size)
    for in_unit in _in_other_units(question, own):
        if found is not None and not found.differences:
            break
        other = _compared(in_unit, shape(tree, in_unit.typed), wanted, free=step.kind.is_size)
        found = min(filter(None, (found, other)), key=_cost, default=None)
    return found


def structure_of_equation(
    question: Question, step: Step, sides: tuple[Tree, ...], own: Mapping[str, float]
) -> Structure | None:
    """Return how an equation differs from the moment equation, or from the one that gives a step.

    The moments are summed up where the step is what they are solved for.
    """
    found = (_equation_compared(known, step, sides) for known in _in_each_unit(question, step, own))
    shown = [one for one in found if one is not None]
    return min(shown, key=_cost, default=None)


def _in_other_units(question: Question, own: Mapping[str, float]) -> Iterator[Known]:
    """Yield the quantities of a question in each unit but metres that lengths are given in."""
    for unit in units_of_lengths(question):
        yield Known(question, own, unit)


def _in_each_unit(question: Question, step: Step, own: Mapping[str, float]) -> Iterator[Known]:
    """Yield the quantities of a question in metres, and in each unit that lengths are given in.

    What an equation is solved for is a force then, which is the same in all of them.
    """
    yield Known(question, own)
    if step.unit == "N":
        yield from _in_other_units(question, own)


def _equation_compared(known: Known, step: Step, sides: tuple[Tree, ...]) -> Structure | None:
    """Return how an equation differs with its numbers in some units; None if it is too far off."""
    left, right = (shape(side, known.typed) for side in sides)
    typed = Group(left.terms + negative(right).terms)
    typed = Group(tuple(term for term in typed.terms if not _is_nothing(term)))
    for wanted in _equations(known, step):
        found = _compared(known, typed, wanted, free=True, in_any_unit=True)
        if found is not None:
            return found
    return None


def are_known(
    question: Question, step: Step, sides: tuple[Tree, ...], own: Mapping[str, float]
) -> bool:
    """Return whether every number of an equation that gives a step is that of a quantity."""
    return any(_knows_all(known, sides) for known in _in_each_unit(question, step, own))


def _knows_all(known: Known, sides: tuple[Tree, ...]) -> bool:
    typed = (leaf for side in sides for leaf in leaves(shape(side, known.typed)))
    return all(leaf.key or known.names(leaf) for leaf in typed if leaf.values[0])


def _equations(known: Known, step: Step) -> Iterator[Group]:
    """Yield the equations that give a step, as sums that come to nothing."""
    line = written_line(known.derivation, step.key)
    if step.kind.is_equation:
        yield line
        return
    itself = Factor(Leaf(step.key, step.key, ()))
    if len(line.terms) == 1:
        (term,) = line.terms
        below = tuple(Factor(f.base, -f.power) for f in term.factors if f.power < 0)
        part = next((f.base for f in term.factors if f.power > 0), None)
        if step.kind is kinds.EFFORT and isinstance(part, Leaf) and part.key in known.steps:
            # The force comes from its part, which the moments give.
            whole = Group((Term(1, (itself, *below)),))
            of_part = next(_equations(known, known.derivation.step(part.key)))
            if known.derivation.step(part.key).kind is kinds.EFFORT_COMPONENT:
                yield replaced(of_part, part.key, whole)
        above = tuple(factor for factor in term.factors if factor.power > 0)
        below = tuple(Factor(f.base, -f.power) for f in term.factors if f.power < 0)
        # A size is worked out from the size of a moment, and turns against that.
        against = step.kind.is_size and any(
            _is_moment(known, factor.base) and value(known.filled(_alone(factor))) < 0
            for factor in above
        )
        yield Group((Term(term.sign, above), Term(1 if against else -1, (itself, *below))))
    yield Group((*line.terms, Term(-1, (itself,))))


def _is_moment(known: Known, base: Base) -> bool:
    """Return whether a part of a line is a moment, or the sum of the moments."""
    key = base.key if isinstance(base, Leaf) else ""
    return key in known.steps and known.derivation.step(key).kind in (
        kinds.MOMENT,
        kinds.COUPLE_MOMENT,
        kinds.SUM,
    )


def _alone(factor: Factor) -> Group:
    return Group((Term(1, (factor,)),))


def _is_nothing(term: Term) -> bool:
    return any(isinstance(f.base, Leaf) and not any(f.base.values) for f in term.factors)


def _compared(
    known: Known, typed: Group, wanted: Group, free: bool, in_any_unit: bool = False
) -> Structure | None:
    """Return how a line differs from the one wanted, by the reading that leaves the least.

    Lengths are in another unit than metres only where that makes no difference to the line: in an
    equation it makes none.
    """
    tried = []
    nothing: frozenset[str] = frozenset()
    readings = ((False, known.written), (False, nothing), (True, nothing), (True, known.steps))
    for closely, kept in readings:
        as_typed, opened = _opened(known, wanted, typed, closely, kept)
        if not (in_any_unit or known.is_for(as_typed)):
            continue
        comparison, found = _laid_beside(known, typed, as_typed, free)
        one = Structure(tuple(found or comparison.rounded), comparison.pins, opened)
        tried.append((_cost(one), not comparison.recognised, one))
        if not found:
            break
    *_, best = min(tried, key=lambda one: one[:2], default=(None,))
    return best if best is not None and len(best.differences) <= _MOST else None


def _laid_beside(
    known: Known, typed: Group, wanted: Group, free: bool
) -> tuple[Comparison, list[Difference]]:
    """Return a line compared with the one wanted, and what differs.

    Where what was typed has no brackets, and is as long as the line multiplied out, it is laid
    beside that first, and where something of it cancels, to the line without that; what differs
    least is what was meant.
    """
    plain, has_no_brackets = multiplied_out(wanted), typed == multiplied_out(typed)
    is_as_long = len(wanted.terms) < len(plain.terms) == len(typed.terms)
    lines = [plain, wanted] if has_no_brackets and is_as_long else [wanted]
    pairs = [(typed, line) for line in lines]
    if cancelled(wanted) != wanted:
        pairs.append((cancelled(typed), cancelled(wanted)))
    tried = [(one := Comparison(known), one.groups(*pair, free)) for pair in pairs]
    return min(tried, key=lambda one: len(one[1]))


def _cost(found: Structure) -> int:
    """Return how much a reading leaves to be explained: what is put together in a place is more."""

    def cost(one: Difference) -> int:
        together = re.search(r"[ +−]", one.typed) or re.search(r"[+−]", one.about)
        return 3 if one.what == "instead" and together else 1

    return sum(map(cost, found.differences))


def _opened(
    known: Known, wanted: Group, typed: Group, closely: bool, kept: frozenset[str]
) -> tuple[Group, frozenset[str]]:
    """Return a line with earlier lines written out as far as the entry does so, and which.

    A quantity is opened where nothing typed has its value, but something has that of what it is
    made of. A number of few figures may have many values, unless it is taken `closely`. What is
    `kept` is never opened.
    """
    wanted = known.filled(wanted)
    written = frozenset(leaves(typed))
    ones = frozenset(one for one in written if one.values[0] == 1)

    @cache
    def standing_for(leaf: Leaf) -> frozenset[Leaf]:
        return frozenset(one for one in written if may_be(one, leaf))

    @cache
    def near_to(leaf: Leaf) -> frozenset[Leaf]:
        return frozenset(one for one in standing_for(leaf) if is_near(one, leaf, closely))

    opened: set[str] = set()
    while True:
        there = {leaf.key for leaf in leaves(wanted)}
        alone = written.difference(ones, *map(near_to, leaves(wanted)))
        for leaf in leaves(wanted):
            if leaf.key not in known.steps or leaf.key in kept or near_to(leaf):
                continue
            beneath = [k for k in beneath_line(known.derivation, leaf.key) if k not in there]
            parts = (Leaf(k, k, known.values[k]) for k in beneath)
            if any(alone & standing_for(part) for part in parts):
                by = known.filled(written_line(known.derivation, leaf.key))
                wanted = replaced(wanted, leaf.key, by)
                opened.add(leaf.key)
                break
        else:
            return wanted, frozenset(opened)
