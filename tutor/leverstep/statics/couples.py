"""Steps of couples, which turn a segment about any axis alike, and neither push nor pull it."""

from __future__ import annotations

from leverstep.statics import kinds
from leverstep.statics.acting import Couple, Force
from leverstep.statics.posture import Posture
from leverstep.statics.step import Draft, Expression, Pen, symbol
from leverstep.statics.turn import arm_key


def couple_sign(draft: Draft, couple: Couple) -> int:
    """Return the sign of a couple's moment under the posture's sign convention."""
    return couple.turns * draft.posture.positive


def couple_moment_key(posture: Posture, couple: Couple) -> str:
    """Return the key of the moment of a couple: its own where it is handed on with its sign."""
    has_sign = bool(couple.before) and couple.turns == posture.positive
    return couple.symbol if has_sign else couple.moment_key


def write_couple(draft: Draft, couple: Couple) -> None:
    """Write the moment of a couple, which is the couple itself with its sign; that of one which is
    handed on with its sign is there already.
    """
    pen = Pen(draft, couple_moment_key(draft.posture, couple))
    if pen.key == couple.symbol:
        return
    sign = couple_sign(draft, couple)
    flip = pen.choice("flip", 1, couple.symbol)
    expression = sign * flip * _as_used(pen, draft, couple)
    written = f"{{{couple.symbol}}}" if sign > 0 else f"−{{{couple.symbol}}}"
    pen.write(kinds.COUPLE_MOMENT, couple.symbol, expression, written)


def couple_term(pen: Pen, draft: Draft, couple: Couple) -> Expression:
    """Return the term of a couple in the moment equation, with the choices made there."""
    flip = pen.choice("flip", 1, couple.symbol)
    included = pen.choice("included", 1, couple.symbol)
    return couple_sign(draft, couple) * flip * included * _as_used(pen, draft, couple)


def couple_as_force(pen: Pen, couple: Couple) -> Expression:
    """Return what a balance of forces is more where a couple is counted among them (right: 0)."""
    return pen.choice("couple_as_force", 0, couple.symbol) * symbol(couple.symbol)


def _as_used(pen: Pen, draft: Draft, couple: Couple) -> Expression:
    """Return the size of a couple, with the choice to multiply it by the arm of some force."""
    size = symbol(couple.symbol)
    used = size
    for force in _with_arms(pen, draft):
        times_arm = pen.choice("couple_arm", 0, couple.symbol, force.symbol)
        used += times_arm * size * (symbol(arm_key(draft, force)) - 1)
    return used


def _with_arms(pen: Pen, draft: Draft) -> list[Force]:
    """Return the forces with a moment arm, known before what is to be found but in the equation."""
    is_equation = pen.key == draft.key(kinds.EQUATION)
    return [
        force
        for force in draft.posture.turning
        if force.offset is None and (is_equation or not draft.posture.finds_place(force))
    ]
