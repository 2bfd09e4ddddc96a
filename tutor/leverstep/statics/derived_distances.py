"""Steps that make one distance of others: a sum, a difference, or a side of a triangle."""

from __future__ import annotations

from leverstep.statics import kinds
from leverstep.statics.convert import unit_left, write_fraction, write_measured
from leverstep.statics.points import Distance, FromOthers
from leverstep.statics.step import Draft, Expression, Pen, symbol, total
from leverstep.statics.turn import Function
from leverstep.statics.turn_steps import trigonometric, turned_over


def write_distances(draft: Draft) -> None:
    """Write one step for each distance that is known, to metres or from other distances."""
    for distance in draft.posture.distances:
        if distance.sought or draft.has(distance.symbol):
            continue
        if distance.derived is None:
            write = write_measured if distance.of is None else write_fraction
            write(draft, distance)
        elif distance.derived.angle is None:
            _write_sum(draft, distance, distance.derived)
        else:
            _write_by_angle(draft, distance, distance.derived, distance.derived.angle.key)


def _write_sum(draft: Draft, distance: Distance, derived: FromOthers) -> None:
    """Write a distance as the sum or the difference of others, each of which may be left out."""
    pen = Pen(draft, distance.symbol)
    terms = [
        _part(pen, distance.symbol, part, 0 if place == 0 else 1 if derived.how == "sum" else -1)
        for place, part in enumerate(derived.of)
    ]
    expression = total(terms) * unit_left(pen, draft, distance)
    pen.write(kinds.DISTANCE_SUM, distance.symbol, expression, derived.written)


def _part(pen: Pen, about: str, part: str, sign: int) -> Expression:
    """Return a part with its sign, 0 for the first, and the choices to leave or turn it round."""
    kept = pen.choice("included", 1, about, part)
    if not sign:
        return kept * symbol(part)
    return sign * kept * turned_over(pen, sign, about, part) * symbol(part)


def _write_by_angle(draft: Draft, distance: Distance, derived: FromOthers, angle: str) -> None:
    """Write a distance as a side of a right-angled triangle, of which another is the longest."""
    pen = Pen(draft, distance.symbol)
    (longest,) = derived.of
    expression = symbol(longest) * unit_left(pen, draft, distance)
    function: Function = "sin" if derived.how == "sine" else "cos"
    expression *= trigonometric(pen, function, angle, distance.symbol)
    pen.write(kinds.DISTANCE_BY_ANGLE, distance.symbol, expression, derived.written)
