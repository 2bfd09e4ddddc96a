"""The step to an angle that is to be found, from the moment arm that its force must have.

The angle is less than a right one: a file says by its words which way the force or the segment
lies, so that no other angle fits.
"""

from __future__ import annotations

from leverstep.statics import kinds
from leverstep.statics.acting import Force
from leverstep.statics.convert import unit_left
from leverstep.statics.points import Given
from leverstep.statics.step import Draft, Pen, symbol
from leverstep.statics.turn import arm_key, to_segment


def write_sought_angle(draft: Draft, force: Force, angle: Given) -> None:
    """Write an angle as the inverse sine or cosine of arm over distance."""
    from sympy import acos, asin, atan, pi

    turn = to_segment(draft, force)
    assert turn is not None, f"{force.symbol} lies on the segment"
    pen = Pen(draft, angle.key)
    arm, about = arm_key(draft, force), force.symbol
    ratio = symbol(arm) / (symbol(force.at.symbol) * unit_left(pen, draft, force.at))
    right, other = (asin, acos) if turn.sine == "sin" else (acos, asin)
    swapped, tangent = pen.choice("other_function", 0, about), pen.choice("tangent", 0, about)
    found = (1 - swapped - tangent) * right(ratio) + swapped * other(ratio) + tangent * atan(ratio)
    found *= (180 / pi) ** pen.choice("angle_conversion", 1, about)
    found += pen.choice("supplement", 0, about) * (180 - 2 * found)
    written = f"a{turn.sine}({{{arm}}} ÷ {{{force.at.symbol}}})"
    pen.write(kinds.ANGLE_FOUND, about, found, written)
