"""Steps that compare effort and load: mechanical advantage, ratio of arms, and class of lever."""

from __future__ import annotations

from collections.abc import Iterable

from leverstep.statics import kinds
from leverstep.statics.acting import Force
from leverstep.statics.balance import resisting
from leverstep.statics.choices import Choice
from leverstep.statics.convert import sizes_in_use
from leverstep.statics.kinds import Kind
from leverstep.statics.step import Draft, Expression, Pen, Step, symbol, total
from leverstep.statics.turn import arm_key, component_key, moment_sign, passes_axis
from leverstep.statics.turn_steps import perpendicular_share


def write_ratios(draft: Draft) -> None:
    """Write the mechanical advantage, the ratio of arms and the class, as far as asked for."""
    if not resisting(draft):
        raise ValueError("no load turns against the effort")
    posture = draft.posture
    if posture.advantage == "resistance over effort":
        _write_advantage(draft)
    elif posture.advantage == "ratio of arms":
        _write_arm_ratio(draft, kinds.ARM_ADVANTAGE)
    if posture.arm_ratio_of is not None and posture.advantage != "ratio of arms":
        _write_arm_ratio(draft, kinds.ARM_RATIO)
    if posture.asks_class:
        _write_class(draft)


def other_definitions(step: Step) -> tuple[Choice, ...]:
    """Return the choices of a step that are another meaning of mechanical advantage, no slip."""
    if step.kind not in (kinds.ADVANTAGE, kinds.ARM_ADVANTAGE):
        return ()
    return tuple(choice for choice in step.choices if choice.kind == "other_ratio")


def _load_compared(draft: Draft) -> Force:
    """Return the load whose arm stands in the ratio of arms: the one named, or the last."""
    named = draft.posture.arm_ratio_of
    last = resisting(draft)[-1]
    return next((load for load in draft.posture.loads if load.symbol == named), last)


def _arm_ratio(draft: Draft, loads: Iterable[Force]) -> Expression:
    """Return the arm of the effort over that of some loads: where they act, taken as one."""
    effort = draft.posture.effort
    assert effort is not None
    parts = {load: symbol(component_key(draft, load)) for load in loads}
    if len(parts) == 1:
        return symbol(arm_key(draft, effort)) / symbol(arm_key(draft, *parts))
    turning = total(part * symbol(arm_key(draft, load)) for load, part in parts.items())
    return symbol(arm_key(draft, effort)) * total(parts.values()) / turning


def _write_advantage(draft: Draft) -> None:
    pen = Pen(draft, draft.key(kinds.ADVANTAGE))
    loads, effort = resisting(draft), draft.posture.effort
    assert effort is not None
    terms = []
    sizes = sizes_in_use(pen, loads)
    for load in loads:
        included = pen.choice("included", 1, load.symbol) if len(loads) > 1 else 1
        terms.append(included * sizes[load.symbol])
    helping = [f for f in draft.posture.loads if f not in loads and not passes_axis(draft, f)]
    terms += [pen.choice("counted", 0, load.symbol) * symbol(load.symbol) for load in helping]
    ratio = total(terms) / symbol(effort.symbol)
    power = pen.choice("ratio_power", 1)
    expression = right = ratio**power
    if len(draft.posture.loads) > 1 or draft.posture.by_components:
        asked = draft.posture.arm_ratio_of is not None
        for load in (_load_compared(draft),) if asked else loads:
            other = _arm_ratio(draft, (load,))
            expression += pen.choice("other_ratio", 0, "", load.symbol) * (other**power - right)
    if helping and len(loads) > 1:  # else it is the one load's, or the very ratio of forces
        other = _arm_ratio(draft, loads)
        expression += pen.choice("other_ratio", 0) * (other**power - right)
    resistance = " + ".join(f"{{{load.symbol}}}" for load in loads)
    if len(loads) > 1:
        resistance = f"({resistance})"
    pen.write(kinds.ADVANTAGE, "", expression, f"{resistance} ÷ {{{effort.symbol}}}")


def _write_arm_ratio(draft: Draft, kind: Kind) -> None:
    """Write the ratio of arms, on a line of its own or as the mechanical advantage."""
    pen = Pen(draft, draft.key(kind))
    effort, load = draft.posture.effort, _load_compared(draft)
    assert effort is not None
    right = _arm_ratio(draft, (load,))
    distances = symbol(effort.at.symbol) / symbol(load.at.symbol)
    used = right
    if distances != right:
        used += pen.choice("angle_ignored", 0) * (distances - right)
    if draft.posture.by_components:
        shares = perpendicular_share(draft, effort), perpendicular_share(draft, load)
        if shares != (1, 1):
            compared = pen.choice("arms_compared", 0)
            used *= shares[0] ** compared * shares[1] ** -compared
    power = pen.choice("ratio_power", 1)
    ratio = expression = used**power
    # With one load both ratios are the same number, unless distances stand for arms.
    if len(draft.posture.loads) > 1 or draft.posture.by_components:
        forces = total(symbol(load.symbol) for load in resisting(draft)) / symbol(effort.symbol)
        advantage = draft.key(kinds.ADVANTAGE)
        other = symbol(advantage) if draft.has(advantage) else forces
        expression += pen.choice("other_ratio", 0) * (other**power - ratio)
    written = f"{{{arm_key(draft, effort)}}} ÷ {{{arm_key(draft, load)}}}"
    pen.write(kind, load.symbol, expression, written)


def _place(force: Force) -> Expression:
    """Return where a force acts along the segment: positive on the segment's side of the axis."""
    return (-1 if force.at.beyond else 1) * symbol(force.at.symbol)


def _write_class(draft: Draft) -> None:
    """Write the class of lever: 1 axis between, 2 resistance between, 3 effort between.

    Several loads count as one, placed where the resultant of their perpendicular parts acts.
    Where that is a couple it has no place, and no division by it stands here.
    """
    from sympy import Piecewise

    pen = Pen(draft, draft.key(kinds.LEVER_CLASS))
    loads, effort = resisting(draft), draft.posture.effort
    assert effort is not None
    moments = [
        moment_sign(draft, load) * symbol(component_key(draft, load)) * symbol(arm_key(draft, load))
        for load in loads
    ]
    parts = [moment / _place(load) for moment, load in zip(moments, loads, strict=True)]
    turning, pressing = total(moments), total(parts)
    effort_place = _place(effort)
    taken = pen.choice("class_taken", 0)
    expression = Piecewise(
        (taken, taken > 0),
        (1, turning * pressing * effort_place < 0),
        (2, abs(effort_place * pressing) > abs(turning)),
        (3, True),
    )
    pen.write(kinds.LEVER_CLASS, "", expression, "")
