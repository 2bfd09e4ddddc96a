"""Steps that find two forces of known directions, which hold a point in balance with the others."""

from __future__ import annotations

from functools import lru_cache
from math import cos, radians, sin
from typing import NamedTuple

from leverstep.statics import kinds
from leverstep.statics.acting import Force
from leverstep.statics.convert import sizes_in_use
from leverstep.statics.force_axes import HORIZONTAL, PAIRS, VERTICAL, ForceAxis
from leverstep.statics.geometry import force_bearing
from leverstep.statics.kinds import Kind
from leverstep.statics.points import Numbers
from leverstep.statics.posture import Axes, Posture
from leverstep.statics.step import Draft, Expression, Pen, given_symbol, sign_of_term, symbol, total
from leverstep.statics.turn import acting_along, part, part_sign, share_along, to_axes
from leverstep.statics.turn_steps import trigonometric, write_angle, write_parts

AXES = PAIRS[Axes.LEVEL]
EQUATIONS: dict[ForceAxis, Kind] = {
    HORIZONTAL: kinds.EQUATION_X,
    VERTICAL: kinds.EQUATION_Y,
}
"""What the sum of all components along an axis is, as a line."""


LEAST_SINE = 1e-6
"""The sine of the angle between two lines from where on they count as two."""


class _Term(NamedTuple):
    """A term as one writes it: its sign, and its factors as text, those that are 1 left out."""

    sign: int
    factors: tuple[str, ...]


def write_balance(draft: Draft) -> None:
    """Write the components of known forces, both equations of balance, then the two unknowns."""
    first, second = draft.posture.unknown
    for force in _known(draft):
        write_parts(draft, force, AXES)
    for force in (first, second):
        write_angle(draft, force, Axes.LEVEL)
    for axis in AXES:
        _write_equation(draft, axis)
    _write_first(draft, first, second)
    _write_second(draft, first, second)


def pull_along_one_line(posture: Posture, numbers: Numbers) -> bool:
    """Return whether the two unknown forces lie on one line, so that they can't be told apart."""
    draft = Draft(posture, numbers)
    one, other = (
        draft.degrees(force_bearing(posture, force.direction), force) for force in posture.unknown
    )
    return abs(sin(radians(one - other))) < LEAST_SINE


def _known(draft: Draft) -> list[Force]:
    """Return the forces whose sizes are given."""
    return [force for force in draft.posture.forces if force.magnitude is not None]


def _write_equation(draft: Draft, axis: ForceAxis) -> None:
    """Write the sum of all components along an axis, which is nothing."""
    pen = Pen(draft, draft.key(EQUATIONS[axis]))
    summed, written = [], ""
    for force in draft.posture.forces:
        term = written_term(draft, force, axis)
        if term is None:
            continue
        size = symbol(force.symbol)
        if force.magnitude is None:
            size *= _function_in_equation(pen, draft, force, axis)
        else:
            size = _known_in_equation(pen, draft, force, axis)
        kept = pen.choice("flip", 1, force.symbol) * pen.choice("included", 1, force.symbol)
        summed.append(term.sign * kept * size)
        written += _joined([term], written)
    pen.write(EQUATIONS[axis], "", total(summed), f"{written} = 0")


def _function_in_equation(pen: Pen, draft: Draft, force: Force, axis: ForceAxis) -> Expression:
    """Return sine or cosine of an unknown force, with what may stand in its place; 1 for none."""
    import sympy

    turn = to_axes(draft, force, axis.pair)
    function, _ = share_along(turn, axis)
    if function == "one":
        return 1
    angle = symbol(turn.angle) * sympy.pi / 180
    right, other = (sympy.sin, sympy.cos) if function == "sin" else (sympy.cos, sympy.sin)
    swapped = pen.choice("other_function", 0, force.symbol)
    ignored = pen.choice("angle_ignored", 0, force.symbol)
    value = (1 - swapped) * right(angle) + swapped * other(angle)
    return ignored + (1 - ignored) * value


def _known_in_equation(pen: Pen, draft: Draft, force: Force, axis: ForceAxis) -> Expression:
    """Return the size of a known force or its component, with what may stand in its place."""
    _, key = part(draft, force, axis)
    size, about = symbol(key), force.symbol
    if key != about:
        whole = part_sign(draft, force, axis) * symbol(about)
        return size + pen.choice("whole_force", 0, about) * (whole - size)
    given = force.magnitude
    if given is not None and given.is_mass:
        size += pen.choice("given_used", 0, about) * (given_symbol(given) - size)
    return size


def written_term(draft: Draft, force: Force, axis: ForceAxis) -> _Term | None:
    """Return the term of a force in the sum along an axis; None where it has none."""
    if force.magnitude is not None:
        sign, key = part(draft, force, axis)
        return _Term(sign, (f"{{{key}}}",)) if key else None
    share = _share(draft, force, axis)
    return None if share is None else _Term(share.sign, (f"{{{force.symbol}}}", *share.factors))


def _share(draft: Draft, force: Force, axis: ForceAxis) -> _Term | None:
    """Return what an unknown force is multiplied by along an axis; None where it has no part."""
    turn = to_axes(draft, force, axis.pair)
    function, sign = share_along(turn, axis)
    if function == "zero":
        return None
    return _Term(sign, () if function == "one" else (f"{function}({{{turn.angle}}})",))


def function_values(draft: Draft, force: Force, axis: ForceAxis) -> tuple[float, float]:
    """Return the sine or cosine that an unknown force has along an axis, and the other of them."""
    turn = to_axes(draft, force, axis.pair)
    function, _ = share_along(turn, axis)
    if function == "one":
        return 1.0, 0.0
    bearing = radians(draft.degrees(force_bearing(draft.posture, force.direction), force))
    along, beside = abs(cos(bearing)), abs(sin(bearing))
    return (along, beside) if axis.is_first else (beside, along)


def _joined(terms: list[_Term], before: str = "") -> str:
    """Return terms as one writes them behind others, each with its sign."""
    text = ""
    for sign, factors in terms:
        text += sign_of_term(sign, before or text) + " × ".join(factors)
    return text


def _times(one: _Term, other: _Term, sign: int = 1) -> _Term:
    return _Term(sign * one.sign * other.sign, one.factors + other.factors)


def _quotient(above: list[_Term], below: list[_Term]) -> str:
    """Return a fraction in one line, beginning without a minus where that can be."""
    turn = (below if len(below) == 1 else above)[0].sign
    top, bottom = (
        [term._replace(sign=turn * term.sign) for term in side] for side in (above, below)
    )
    over = _joined(sorted(top, key=lambda term: -term.sign))
    over = f"({over})" if len(top) > 1 or top[0].sign < 0 else over
    if len(bottom) == 1 and not bottom[0].factors:
        return over
    is_plain = len(bottom) == 1 and len(bottom[0].factors) == 1
    under = _joined(bottom)
    return f"{over} ÷ {under}" if is_plain else f"{over} ÷ ({under})"


@lru_cache(maxsize=1)
def _solution() -> tuple[Expression, tuple[Expression, ...]]:
    """Return t of `a t + b u + k = 0` and `c t + d u + m = 0`, and the symbols a b k c d m."""
    from sympy import evaluate, linsolve, symbols

    a, b, k, c, d, m, t, u = symbols("a b k c d m t u")
    with evaluate(True):
        ((found, _),) = linsolve([a * t + b * u + k, c * t + d * u + m], (t, u))
    return found, (a, b, k, c, d, m)


def _coefficient(
    pen: Pen, draft: Draft, force: Force, axis: ForceAxis, has_own_sign: bool = True
) -> Expression:
    """Return what an unknown force is multiplied by along an axis, with the choices made there.

    It has no sign of its own to turn where that is the sign of the whole line.
    """
    turn = to_axes(draft, force, axis.pair)
    function, sign = share_along(turn, axis)
    if function == "zero":
        return 0
    turned = sign
    if force.symbol != pen.key and has_own_sign:
        turned *= pen.choice("flip", 1, force.symbol, axis.letter)
    if function == "one":
        return turned
    return turned * trigonometric(pen, function, turn.angle, force.symbol)


def _known_sum(pen: Pen, draft: Draft, axis: ForceAxis, have_own_signs: bool = True) -> Expression:
    """Return the sum of the known components along an axis, with the choices made there.

    A term has no sign of its own to turn where it stands alone: that is the sign of the whole line.
    """
    there = acting_along(draft, _known(draft), axis)
    sizes = sizes_in_use(pen, [force for force, _, key in there if key == force.symbol])
    alone = pen.key == draft.posture.unknown[0].symbol and len(_known(draft)) == 1
    terms = []
    for force, sign, key in there:
        term = sign * (sizes[key] if key == force.symbol else symbol(key))
        if have_own_signs:
            term *= pen.choice("flip", 1, force.symbol, axis.letter)
        if not alone:  # without it nothing would be left to balance
            term *= pen.choice("included", 1, force.symbol)
        terms.append(term)
    return total(terms)


def _known_terms(draft: Draft, axis: ForceAxis) -> list[_Term]:
    found = (written_term(draft, force, axis) for force in _known(draft))
    return [term for term in found if term is not None]


def _write_first(draft: Draft, first: Force, second: Force) -> None:
    """Write the first unknown, from both equations: the second is eliminated."""
    pen = Pen(draft, first.symbol)
    solution, places = _solution()
    several = sum(len(_known_terms(draft, axis)) for axis in AXES) > 1
    values = []
    for axis in AXES:
        values += [_coefficient(pen, draft, force, axis) for force in (first, second)]
        values.append(_known_sum(pen, draft, axis, several))
    expression = solution.xreplace(dict(zip(places, values, strict=True)))
    expression = _or_half(pen, draft, expression)
    pen.write(kinds.PAIR_FORCE, first.symbol, expression, _eliminated(draft, first, second))


def _or_half(pen: Pen, draft: Draft, right: Expression) -> Expression:
    """Return an unknown force, or half of the one known force, as if both shared it."""
    known = _known(draft)
    if len(known) > 1:
        return right
    return right + pen.choice("halved", 0) * (symbol(known[0].symbol) / 2 - right)


def _eliminated(draft: Draft, first: Force, second: Force) -> str:
    """Return the first unknown as one writes it, with the second eliminated."""
    ours, theirs = ([_share(draft, force, axis) for axis in AXES] for force in (first, second))
    for axis, own, other in zip(AXES, ours, theirs, strict=True):
        if other is None and own is not None:  # this equation has the first alone
            against = [term._replace(sign=-term.sign) for term in _known_terms(draft, axis)]
            return _quotient(against, [own])
    above: list[_Term] = []
    below: list[_Term] = []
    for place, sign in ((1, 1), (0, -1)):  # the known terms of one axis with the other's share
        beside = theirs[1 - place]
        assert beside is not None, "the second has a part along both axes"
        above += [_times(term, beside, sign) for term in _known_terms(draft, AXES[place])]
        own = ours[place]
        below += [] if own is None else [_times(own, beside, -sign)]
    return _quotient(above, below)


def _write_second(draft: Draft, first: Force, second: Force) -> None:
    """Write the second unknown, from one equation and the first: the shorter one that has it."""
    able = [axis for axis in AXES if _share(draft, second, axis) is not None]
    axis = min(able, key=lambda one: len(_known_terms(draft, one)))
    pen = Pen(draft, second.symbol)
    several = len(_known_terms(draft, axis)) > 0
    others = symbol(first.symbol) * _coefficient(pen, draft, first, axis, several)
    others += _known_sum(pen, draft, axis)
    expression = _or_half(pen, draft, -others / _coefficient(pen, draft, second, axis))
    of_first, share = written_term(draft, first, axis), _share(draft, second, axis)
    assert share is not None, "an axis along which it has a part"
    terms = [term for term in (of_first, *_known_terms(draft, axis)) if term is not None]
    against = [term._replace(sign=-term.sign) for term in terms]
    pen.write(kinds.PAIR_FORCE, second.symbol, expression, _quotient(against, [share]))
