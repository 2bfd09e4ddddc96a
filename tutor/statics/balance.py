"""Steps that balance moments: the equation, each moment, their sum, the effort, and the ratios."""

from __future__ import annotations

from tutor.statics.convert import unit_left
from tutor.statics.posture import Force
from tutor.statics.step import Draft, Expression, Pen, given_symbol, symbol, total
from tutor.statics.turn import (
    arm_key,
    component_key,
    is_slanted,
    moment_sign,
    passes_axis,
    to_segment,
    trigonometric,
    trigonometric_again,
)

SUM = "M_sum"
ADVANTAGE = "MA"
ARM_RATIO = "AR"
LEVER_CLASS = "class"
EQUATION = "equation"


def moment_key(force: Force) -> str:
    """Return the key of the moment of a force: `M_l` for `W_l`."""
    return f"M{force.suffix}"


def resisting(draft: Draft) -> tuple[Force, ...]:
    """Return the loads that the effort works against: those that turn the other way."""
    effort = moment_sign(draft, draft.posture.effort)
    return tuple(
        load
        for load in draft.posture.loads
        if moment_sign(draft, load) != effort and not passes_axis(draft, load)
    )


def write_moments(draft: Draft) -> None:
    """Write the moment equation, then the moment of each load, then their sum."""
    _write_equation(draft)
    for load in draft.posture.loads:
        _write_moment(draft, load)
    _write_sum(draft)


def _arm_in_use(pen: Pen, draft: Draft, force: Force) -> Expression:
    """Return the arm of a force, with the choice of another force's arm or the wrong end."""
    posture = draft.posture
    arm = right = symbol(arm_key(draft, force))
    for other in posture.forces:
        if other is not force and arm_key(draft, other) != arm_key(draft, force):
            taken = symbol(arm_key(draft, other))
            arm += pen.choice("other_arm", 0, force.symbol, other.symbol) * (taken - right)
    if posture.length is not None and not force.at.perpendicular:
        length = symbol(posture.length.symbol)
        if posture.length.symbol != force.at.symbol:
            from_far_end = length - symbol(force.at.symbol)
            arm += pen.choice("from_far_end", 0, force.symbol) * (from_far_end - right)
            arm += pen.choice("whole_length", 0, force.symbol) * (length - right)
    return arm


def _write_equation(draft: Draft) -> None:
    """Write the moment equation in symbols; its expression is the sum of all moments."""
    pen = Pen(draft, EQUATION)
    terms, written = [], ""
    for force in draft.posture.forces:
        sign = moment_sign(draft, force)
        flip = pen.choice("flip", 1, force.symbol)
        included = pen.choice("included", 1, force.symbol)
        size, arm = _without_angle(
            pen, draft, force, symbol(component_key(draft, force)), _arm_in_use(pen, draft, force)
        )
        arm **= pen.choice("arm_power", 1, force.symbol)
        terms.append(sign * flip * included * size * arm)
        written += _mark(sign, written)
        written += f"{{{component_key(draft, force)}}} × {{{arm_key(draft, force)}}}"
    pen.write(EQUATION, "", "", total(terms), f"{written} = 0")


def _without_angle(
    pen: Pen, draft: Draft, force: Force, size: Expression, arm: Expression
) -> tuple[Expression, Expression]:
    """Return size and arm with the choice to leave the angle of a slanting force out."""
    if is_slanted(draft, force):
        ignored = pen.choice("angle_ignored", 0, force.symbol)
        if draft.posture.by_components:
            size += ignored * (symbol(force.symbol) - symbol(component_key(draft, force)))
        else:
            arm += ignored * (symbol(force.at.symbol) - symbol(arm_key(draft, force)))
    return size, arm


def _mark(sign: int, before: str) -> str:
    """Return the sign of a term as written behind the terms before it."""
    if not before:
        return "" if sign > 0 else "−"
    return " + " if sign > 0 else " − "


def _write_moment(draft: Draft, load: Force) -> None:
    pen = Pen(draft, moment_key(load))
    about = load.symbol
    sign = moment_sign(draft, load)
    right = symbol(component_key(draft, load))
    size, arm = _without_angle(pen, draft, load, right, _arm_in_use(pen, draft, load))
    assert load.magnitude is not None
    if load.magnitude.unit != "N":
        given = given_symbol(load.magnitude)
        size += pen.choice("given_used", 0, about) * (given - right)
    expression = sign * pen.choice("flip", 1, about) * size
    expression *= arm ** pen.choice("arm_power", 1, about) * unit_left(pen, draft, load.at)
    expression *= trigonometric_again(pen, draft, load)
    product = f"{{{component_key(draft, load)}}} × {{{arm_key(draft, load)}}}"
    written = product if sign > 0 else f"−({product})"
    pen.write("moment", about, "N·m", expression, written)


def _write_sum(draft: Draft) -> None:
    pen = Pen(draft, SUM)
    loads = draft.posture.loads
    written = " + ".join(f"{{{moment_key(load)}}}" for load in loads)
    if len(loads) == 1:
        pen.write("sum", "", "N·m", symbol(moment_key(loads[0])), written, asked=False)
        return
    terms = []
    for load in loads:
        included = pen.choice("included", 1, load.symbol)
        flip = pen.choice("flip", 1, load.symbol)
        terms.append(included * flip * symbol(moment_key(load)))
    expression = pen.choice("flip", 1) * total(terms)
    pen.write("sum", "", "N·m", expression, written)


def write_effort(draft: Draft) -> None:
    """Write the effort: the size of the known moments over its arm."""
    effort = draft.posture.effort
    if passes_axis(draft, effort):
        raise ValueError(f"{effort.symbol} acts through the axis, so it has no moment")
    if not resisting(draft):
        raise ValueError(f"no load turns against {effort.symbol}")
    slanted = is_slanted(draft, effort) and draft.posture.by_components
    key = component_key(draft, effort)
    pen = Pen(draft, key)
    known = symbol(SUM)
    for load in draft.posture.loads:
        if len(draft.posture.loads) > 1:
            kept = pen.choice("included", 1, load.symbol) * pen.choice("flip", 1, load.symbol)
            known += (kept - 1) * symbol(moment_key(load))
    arm = _arm_in_use(pen, draft, effort)
    if not slanted:
        _, arm = _without_angle(pen, draft, effort, known, arm)
        arm *= trigonometric_again(pen, draft, effort)
    arm *= unit_left(pen, draft, effort.at)
    expression = abs(known) * arm ** -pen.choice("arm_power", 1, effort.symbol)
    written = f"|{{{SUM if len(draft.posture.loads) > 1 else moment_key(draft.posture.loads[0])}}}|"
    written += f" ÷ {{{arm_key(draft, effort)}}}"
    kind = "effort_component" if slanted else "effort"
    pen.write(kind, effort.symbol, "N", expression, written)
    if slanted:
        _write_effort_from_component(draft, effort)


def _write_effort_from_component(draft: Draft, effort: Force) -> None:
    turn = to_segment(draft, effort)
    assert turn is not None
    pen = Pen(draft, effort.symbol)
    ratio = trigonometric(pen, turn.sine, turn.angle, effort.symbol)
    component = component_key(draft, effort)
    expression = symbol(component) / ratio
    written = f"{{{component}}} ÷ {turn.sine}({{{turn.angle}}})"
    pen.write("effort", effort.symbol, "N", expression, written)


def write_ratios(draft: Draft) -> None:
    """Write the mechanical advantage, the ratio of arms where asked for, and the lever's class."""
    _write_advantage(draft)
    if draft.posture.arm_ratio_of is not None:
        _write_arm_ratio(draft)
    _write_class(draft)


def _load_compared(draft: Draft) -> Force:
    """Return the load whose arm stands in the ratio of arms: the one named, or the last."""
    named = draft.posture.arm_ratio_of
    last = resisting(draft)[-1]
    return next((load for load in draft.posture.loads if load.symbol == named), last)


def _arm_ratio(draft: Draft) -> Expression:
    effort, load = draft.posture.effort, _load_compared(draft)
    return symbol(arm_key(draft, effort)) / symbol(arm_key(draft, load))


def _write_advantage(draft: Draft) -> None:
    pen = Pen(draft, ADVANTAGE)
    loads, effort = resisting(draft), draft.posture.effort
    terms = []
    for load in loads:
        included = pen.choice("included", 1, load.symbol) if len(loads) > 1 else 1
        terms.append(included * symbol(load.symbol))
    ratio = total(terms) / symbol(effort.symbol)
    expression = ratio ** pen.choice("ratio_power", 1)
    if len(draft.posture.loads) > 1 and not draft.posture.by_components:
        expression += pen.choice("other_ratio", 0) * (_arm_ratio(draft) - expression)
    resistance = " + ".join(f"{{{load.symbol}}}" for load in loads)
    if len(loads) > 1:
        resistance = f"({resistance})"
    pen.write("advantage", "", "", expression, f"{resistance} ÷ {{{effort.symbol}}}")


def _write_arm_ratio(draft: Draft) -> None:
    pen = Pen(draft, ARM_RATIO)
    effort, load = draft.posture.effort, _load_compared(draft)
    ratio = _arm_ratio(draft) ** pen.choice("ratio_power", 1)
    expression = ratio + pen.choice("other_ratio", 0) * (symbol(ADVANTAGE) - ratio)
    written = f"{{{arm_key(draft, effort)}}} ÷ {{{arm_key(draft, load)}}}"
    pen.write("arm_ratio", load.symbol, "", expression, written)


def _place(force: Force) -> Expression:
    """Return where a force acts along the segment: positive on the segment's side of the axis."""
    return (-1 if force.at.beyond else 1) * symbol(force.at.symbol)


def _write_class(draft: Draft) -> None:
    """Write the class of lever: 1 axis between, 2 resistance between, 3 effort between.

    Several loads count as one, placed where their resultant acts.
    """
    from sympy import Piecewise

    pen = Pen(draft, LEVER_CLASS)
    loads, effort = resisting(draft), draft.posture.effort
    size = total(symbol(load.symbol) for load in loads)
    moment = total(symbol(load.symbol) * _place(load) for load in loads)
    resistance, effort_place = moment / size, _place(effort)
    taken = pen.choice("class_taken", 0)
    expression = Piecewise(
        (taken, taken > 0),
        (1, resistance * effort_place < 0),
        (2, abs(effort_place) > abs(resistance)),
        (3, True),
    )
    pen.write("class", "", "", expression, "")
