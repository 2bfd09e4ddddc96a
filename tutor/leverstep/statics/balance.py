"""Steps that balance moments: the equation, each moment, their sum, and the effort."""

from __future__ import annotations

from collections.abc import Mapping

from leverstep.statics import kinds
from leverstep.statics.acting import Force
from leverstep.statics.convert import gravity, has_mass, unit_left
from leverstep.statics.couples import couple_moment_key, couple_sign, couple_term, write_couple
from leverstep.statics.force_axes import HORIZONTAL, VERTICAL
from leverstep.statics.points import Numbers, Offset
from leverstep.statics.posture import Find, Posture
from leverstep.statics.sought_angle import write_sought_angle
from leverstep.statics.sources import shared_arms, write_shared
from leverstep.statics.step import (
    Draft,
    Expression,
    Pen,
    given_symbol,
    sign_of_term,
    symbol,
    total,
)
from leverstep.statics.turn import (
    arm_key,
    component_key,
    is_slanted,
    moment_key,
    moment_sign,
    part,
    passes_axis,
    to_segment,
)
from leverstep.statics.turn_steps import other_over_right, trigonometric, trigonometric_again


def turning_against(draft: Draft, force: Force) -> tuple[Force, ...]:
    """Return the forces that turn the other way."""
    sign = moment_sign(draft, force)
    return tuple(
        other
        for other in draft.posture.turning
        if not passes_axis(draft, other) and moment_sign(draft, other) != sign
    )


def resisting(draft: Draft) -> tuple[Force, ...]:
    """Return the loads that the effort works against: those that turn the other way.

    An antagonist is no load that is overcome.
    """
    effort = draft.posture.effort
    against = () if effort is None else turning_against(draft, effort)
    return tuple(force for force in against if not force.antagonist)


def is_resisted(draft: Draft, force: Force) -> bool:
    """Return whether something turns against a force: another force, or a couple."""
    sign = moment_sign(draft, force)
    couples = (couple_sign(draft, couple) for couple in draft.posture.couples)
    return bool(turning_against(draft, force)) or any(one != sign for one in couples)


def known_moments(draft: Draft) -> list[tuple[str, str]]:
    """Return each known moment, as the symbol of its force or couple, and the key of its line."""
    forces = [(force.symbol, moment_key(force)) for force in known(draft)]
    couples = draft.posture.couples
    return forces + [(one.symbol, couple_moment_key(draft.posture, one)) for one in couples]


def known(draft: Draft) -> tuple[Force, ...]:
    """Return the forces whose moments are known before the last one is found."""
    return draft.posture.known_turning


MEASURE = 1e9
"""Times all other forces together, from where on a force is only what rounding makes of no arm."""


def opposes(posture: Posture, numbers: Numbers, values: Mapping[str, float]) -> bool:
    """Return whether what is to be found turns against the known moments, as it must."""
    balancing = posture.balancing
    if balancing is None:
        return True
    return values[posture.key(kinds.SUM)] * moment_sign(Draft(posture, numbers), balancing) < 0


def out_of_measure(posture: Posture, values: Mapping[str, float]) -> int:
    """Return whether the force to be found is only what rounding makes of it.

    1 where it is so large because its line of action passes through the axis, -1 where it is so
    small because the other forces have no moment, 0 where it is neither.
    """
    unknown = posture.balancing
    if unknown is None or posture.finds_place(unknown):
        return 0
    others = sum(abs(values[force.symbol]) for force in posture.forces if force is not unknown)
    others += sum(abs(values[couple_moment_key(posture, couple)]) for couple in posture.couples)
    found = abs(values[unknown.symbol])
    return int(found > MEASURE * others) - int(found < others / MEASURE)


def write_moments(draft: Draft) -> None:
    """Write the moment equation, then each known moment, then their sum."""
    if draft.posture.balancing is not None:
        _write_equation(draft)
    for force in known(draft):
        _write_moment(draft, force)
    for couple in draft.posture.couples:
        write_couple(draft, couple)
    _write_sum(draft)


def _arm_in_use(pen: Pen, draft: Draft, force: Force) -> Expression:
    """Return the arm of a force, with the choice of another force's arm or the wrong end."""
    arm = symbol(arm_key(draft, force))
    return arm + _arm_of_another(pen, draft, force) + _arm_from_far_end(pen, draft, force)


def _arm_of_another(pen: Pen, draft: Draft, force: Force) -> Expression:
    """Return what the arm of a force is more where that of another force is taken; 0 as it is."""
    more, right = 0, symbol(arm_key(draft, force))
    seen = {arm_key(draft, force)}
    for other in draft.posture.turning:
        # The arm that is to be found can't be taken for another before it is known.
        unknown = draft.posture.finds_place(other) and pen.key != draft.key(kinds.EQUATION)
        if other is force or other.offset is not None or unknown:
            continue
        if arm_key(draft, other) not in seen:
            seen.add(arm_key(draft, other))
            taken = symbol(arm_key(draft, other))
            more += pen.choice("other_arm", 0, force.symbol, other.symbol) * (taken - right)
    return more


def _arm_from_far_end(pen: Pen, draft: Draft, force: Force) -> Expression:
    """Return what the arm is more where the whole length, or the other end, is taken for it."""
    whole, at = draft.posture.length, force.at
    if whole is None or at.perpendicular or at.sought or whole.symbol == at.symbol:
        return 0
    length, right = symbol(whole.symbol), symbol(arm_key(draft, force))
    from_far_end = length - symbol(at.symbol)
    turned = {"": 1}
    if arm_key(draft, force) != at.symbol:  # the arm has a sine or cosine in it
        turned[arm_key(draft, force)] = right / symbol(at.symbol)
    more = 0
    for other_key, turn in turned.items():
        far = pen.choice("from_far_end", 0, force.symbol, other_key)
        all_of_it = pen.choice("whole_length", 0, force.symbol, other_key)
        more += far * (from_far_end * turn - right) + all_of_it * (length * turn - right)
    return more


def _write_equation(draft: Draft) -> None:
    """Write the moment equation in symbols; its expression is the sum of all moments."""
    pen = Pen(draft, draft.key(kinds.EQUATION))
    terms, written = [], ""
    for force in draft.posture.turning:
        sign = moment_sign(draft, force)
        flip = pen.choice("flip", 1, force.symbol)
        included = pen.choice("included", 1, force.symbol)
        size, arm = _without_angle(
            pen, draft, force, symbol(component_key(draft, force)), _arm_in_use(pen, draft, force)
        )
        size *= _slips_of_equation(pen, draft, force)
        arm **= pen.choice("arm_power", 1, force.symbol)
        terms.append(sign * flip * included * size * arm)
        written += sign_of_term(sign, written)
        written += f"{{{component_key(draft, force)}}} × {{{arm_key(draft, force)}}}"
    for couple in draft.posture.couples:
        terms.append(couple_term(pen, draft, couple))
        written += sign_of_term(couple_sign(draft, couple), written) + f"{{{couple.symbol}}}"
    pen.write(kinds.EQUATION, "", total(terms), f"{written} = 0")


def _slips_of_equation(pen: Pen, draft: Draft, force: Force) -> Expression:
    """Return the factor by which a term with the wrong function, or a mass, is off (right: 1)."""
    factor = trigonometric_again(pen, draft, force)
    if is_slanted(draft, force):
        factor *= other_over_right(draft, force) ** pen.choice("other_function", 0, force.symbol)
    if force.magnitude is not None and force.magnitude.is_mass:
        given, part_key = given_symbol(force.magnitude), component_key(draft, force)
        factor *= (given / symbol(part_key)) ** pen.choice("given_used", 0, force.symbol)
        if part_key != force.symbol:
            part_used = pen.choice("given_used", 0, force.symbol, part_key)
            factor *= (given / symbol(force.symbol)) ** part_used
    if force.magnitude is None and draft.posture.as_mass:
        factor *= symbol("g") ** -pen.choice("given_used", 0, force.symbol)
    return factor


def _without_angle(
    pen: Pen, draft: Draft, force: Force, size: Expression, arm: Expression
) -> tuple[Expression, Expression]:
    """Return size and arm with the choice to leave the angle of a slanting force out."""
    if is_slanted(draft, force) and not (
        draft.posture.finds_place(force) and pen.key != draft.key(kinds.EQUATION)
    ):
        ignored = pen.choice("angle_ignored", 0, force.symbol)
        if draft.posture.by_components:
            size += ignored * (symbol(force.symbol) - symbol(component_key(draft, force)))
        else:
            arm += ignored * (symbol(force.at.symbol) - symbol(arm_key(draft, force)))
    return size, arm


def _write_moment(draft: Draft, load: Force) -> None:
    if load.offset is not None:
        _write_moment_of_parts(draft, load, load.offset)
        return
    pen = Pen(draft, moment_key(load))
    about = load.symbol
    sign = moment_sign(draft, load)
    right = symbol(component_key(draft, load))
    size, arm = _without_angle(pen, draft, load, right, _arm_in_use(pen, draft, load))
    assert load.magnitude is not None
    wrong = []
    if load.magnitude.unit != "N":
        wrong.append(("given_used", given_symbol(load.magnitude)))
    if has_mass(load) and load.magnitude.unit != "kg":
        wrong.append(("mass_used", symbol(load.symbol) / symbol("g")))
    for kind, whole in wrong:
        size += pen.choice(kind, 0, about) * (whole - right)
        if right != symbol(about):  # or only the part of it that is perpendicular
            part_of_it = whole * right / symbol(about)
            other = component_key(draft, load)
            size += pen.choice(kind, 0, about, other) * (part_of_it - right)
    for force in known(draft):
        if force is not load:
            taken = symbol(component_key(draft, force))
            size += pen.choice("other_force", 0, about, force.symbol) * (taken - right)
    expression = sign * pen.choice("flip", 1, about) * size
    expression *= arm ** pen.choice("arm_power", 1, about) * unit_left(pen, draft, load.at)
    expression *= trigonometric_again(pen, draft, load)
    product = f"{{{component_key(draft, load)}}} × {{{arm_key(draft, load)}}}"
    written = product if sign > 0 else f"−({product})"
    pen.write(kinds.MOMENT, about, expression, written)


def _write_moment_of_parts(draft: Draft, load: Force, offset: Offset) -> None:
    """Write the moment of a force off the segment: across times F_y less up times F_x."""
    pen = Pen(draft, moment_key(load))
    about, positive = load.symbol, draft.posture.positive
    expression, written = 0, ""
    parts = [
        (distance, turned, *part(draft, load, axis))
        for distance, axis, turned in (
            (offset.across, VERTICAL, 1),
            (offset.up, HORIZONTAL, -1),
        )
        if distance is not None and part(draft, load, axis)[0]
    ]
    for distance, turned, sign, key in parts:
        sign *= turned * positive * (-1 if distance.beyond else 1)
        kept = pen.choice("flip", 1, about, distance.symbol)
        if len(parts) > 1:
            kept *= pen.choice("included", 1, about, distance.symbol)
        kept *= unit_left(pen, draft, distance)
        expression += sign * kept * symbol(distance.symbol) * symbol(key)
        written += sign_of_term(sign, written) + f"{{{distance.symbol}}} × {{{key}}}"
    pen.write(kinds.MOMENT, about, pen.choice("flip", 1, about) * expression, written)


def _write_sum(draft: Draft) -> None:
    pen = Pen(draft, draft.key(kinds.SUM))
    moments = known_moments(draft)
    written = " + ".join(f"{{{key}}}" for _, key in moments)
    if len(moments) == 1:
        pen.write(kinds.SUM, "", symbol(moments[0][1]), written, asked=False)
        return
    terms = []
    for about, key in moments:
        included = pen.choice("included", 1, about)
        flip = pen.choice("flip", 1, about)
        terms.append(included * flip * symbol(key))
    expression = pen.choice("flip", 1) * total(terms)
    pen.write(kinds.SUM, "", expression, written)


def write_found(draft: Draft) -> None:
    """Write what balances the known moments: a force, a distance, or the net joint moment."""
    balancing = draft.posture.balancing
    if balancing is None:
        if draft.posture.find is not Find.MOMENT_SUM:
            _write_net_moment(draft)
    elif passes_axis(draft, balancing):
        raise ValueError(f"{balancing.symbol} acts through the axis, so it has no moment")
    elif not is_resisted(draft, balancing):
        raise ValueError(f"no force turns against {balancing.symbol}")
    elif draft.posture.finds_place(balancing):
        _write_place(draft, balancing)
    else:
        _write_force(draft, balancing)


def _write_net_moment(draft: Draft) -> None:
    """Write the moment that the muscles about the joint must have together, with its sign."""
    pen = Pen(draft, draft.key(kinds.NET_MOMENT))
    moments = known_moments(draft)
    total_key = draft.key(kinds.SUM) if len(moments) > 1 else moments[0][1]
    expression = -pen.choice("flip", 1) * symbol(total_key)
    pen.write(kinds.NET_MOMENT, "", expression, f"−{{{total_key}}}")


def _sum_in_use(pen: Pen, draft: Draft) -> tuple[Expression, str]:
    """Return the size of the known moments, with the choice to leave one out or turn it round."""
    moments = known_moments(draft)
    summed = symbol(draft.key(kinds.SUM))
    if len(moments) == 1:
        return abs(summed), f"|{{{moments[0][1]}}}|"
    for about, key in moments:
        kept = pen.choice("included", 1, about) * pen.choice("flip", 1, about)
        summed += (kept - 1) * symbol(key)
    return abs(summed), f"|{{{draft.key(kinds.SUM)}}}|"


def _write_force(draft: Draft, force: Force) -> None:
    slanted = is_slanted(draft, force) and draft.posture.by_components
    pen = Pen(draft, component_key(draft, force))
    size, written = _sum_in_use(pen, draft)
    arm = _arm_in_use(pen, draft, force)
    if not slanted:
        _, arm = _without_angle(pen, draft, force, size, arm)
        arm *= trigonometric_again(pen, draft, force)
        if is_slanted(draft, force):
            arm *= other_over_right(draft, force) ** pen.choice("other_function", 0, force.symbol)
    arm *= unit_left(pen, draft, force.at)
    more, others = shared_arms(pen, draft)
    arm += more
    expression = size * arm ** -pen.choice("arm_power", 1, force.symbol)
    kind = kinds.EFFORT_COMPONENT if slanted else kinds.EFFORT
    divisor = f"({{{arm_key(draft, force)}}}{others})" if others else f"{{{arm_key(draft, force)}}}"
    pen.write(kind, force.symbol, expression, f"{written} ÷ {divisor}")
    write_shared(draft, force)
    if slanted:
        _write_force_from_component(draft, force)
    if draft.posture.as_mass:
        pen = Pen(draft, force.mass_key)
        used = gravity(pen, force.symbol) ** pen.choice("gravity", -1, force.symbol)
        expression = symbol(force.symbol) * used
        pen.write(kinds.MASS, force.symbol, expression, f"{{{force.symbol}}} ÷ {{g}}")


def _write_force_from_component(draft: Draft, force: Force) -> None:
    turn = to_segment(draft, force)
    assert turn is not None
    pen = Pen(draft, force.symbol)
    ratio = trigonometric(pen, turn.sine, turn.angle, force.symbol)
    component = component_key(draft, force)
    expression = symbol(component) / ratio
    written = f"{{{component}}} ÷ {turn.sine}({{{turn.angle}}})"
    pen.write(kinds.EFFORT, force.symbol, expression, written)


def _write_place(draft: Draft, force: Force) -> None:
    """Write the arm that makes a force balance the known moments, and its distance or angle."""
    key, size_key = arm_key(draft, force), component_key(draft, force)
    pen = Pen(draft, key)
    size, written = _sum_in_use(pen, draft)
    expression = size * symbol(size_key) ** -pen.choice("force_power", 1, force.symbol)
    kind = kinds.DISTANCE_FOUND if key == force.at.symbol else kinds.ARM_FOUND
    pen.write(kind, force.symbol, expression, f"{written} ÷ {{{size_key}}}")
    if key == force.at.symbol:
        return
    if draft.posture.sought_angle is not None:
        write_sought_angle(draft, force, draft.posture.sought_angle)
        return
    turn = to_segment(draft, force)
    assert turn is not None
    pen = Pen(draft, force.at.symbol)
    ratio = trigonometric(pen, turn.sine, turn.angle, force.symbol)
    written = f"{{{key}}} ÷ {turn.sine}({{{turn.angle}}})"
    pen.write(kinds.DISTANCE_FOUND, force.symbol, symbol(key) / ratio, written)
