"""How the student works each kind of line rightly, as a `Formula` of the values before it."""

# ruff: noqa: ARG001 (every kind of line is worked from the same three)

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from leverstep.statics.acting import Force
from leverstep.statics.points import Offset
from leverstep.statics.step import Step

from student import further, sources
from student.centre_right import CENTRE_LINES, CENTRE_SIGNED
from student.lines import Factor, Formula, Term, product

if TYPE_CHECKING:
    from student.sheet import Sheet

CONSTANTS = {
    "g": 9.81,
    "pounds_per_kilogram": 2.205,
    "newtons_per_pound": 4.448,
    "newtons_per_kilogram_force": 9.81,
    "kilograms_per_stone": 6.35,
    "kilograms_per_ounce": 0.02835,
}
"""The constants as a course prints them: m/s², lb/kg, N/lbf, N/kgf, kg/st, kg/oz."""

CONVERSIONS: dict[str, tuple[str, float, int]] = {
    "lb": ("pounds_per_kilogram", 0.0, -1),
    "oz": ("kilograms_per_ounce", 0.0, 1),
    "st": ("kilograms_per_stone", 0.0, 1),
    "g": ("", 1000.0, -1),
    "lbf": ("newtons_per_pound", 0.0, 1),
    "kN": ("", 1000.0, 1),
    "cm": ("", 100.0, -1),
    "mm": ("", 1000.0, -1),
    "in": ("", 0.0254, 1),
    "ft": ("", 0.3048, 1),
}
"""How a unit goes to N, kg or m: a constant or else a number, and whether it multiplies (1)."""

MASSES = ("kg", "g", "lb", "oz", "st")
METRES = {"m": 1.0, "cm": 0.01, "mm": 0.001, "in": 0.0254, "ft": 0.3048, "L": 1.0}
AXIS_OF = {
    "component_x": "x", "component_y": "y", "component_axial": "a", "component_transverse": "t",
    "reaction_x": "x", "reaction_y": "y", "reaction_axial": "a", "reaction_transverse": "t",
    "resultant_x": "x", "resultant_y": "y",
}  # fmt: skip
"""The axis that a component lies along: right, up, along the segment, across it."""

SIGNED = (
    "moment", "couple_moment", "sum", "net_moment", "moment_sped_up",
    "handed_force", "handed_moment", *AXIS_OF, *CENTRE_SIGNED,
)  # fmt: skip
"""The kinds of lines whose value has a sign; all other numbers are sizes."""
NOTHING = 1e-9


def line_factor(values: Mapping[str, float], key: str, role: str, power: int = 1) -> Factor:
    """Return the value of an earlier line as a factor."""
    return Factor(key, values[key], role, power)


def converted(sheet: Sheet, unit: str) -> tuple[Factor, ...]:
    """Return the factor that brings a unit to N, kg or m; none where there is nothing to do."""
    if unit not in CONVERSIONS:
        return ()
    name, number, power = CONVERSIONS[unit]
    size = sheet.constants.get(name, number)
    return (Factor(name or f"{number:g}", size, "conversion", power),)


def gravity(sheet: Sheet, power: int = 1) -> Factor:
    """Return g as a factor."""
    return Factor("g", sheet.constants["g"], "gravity", power)


def trig(sheet: Sheet, turn: tuple[str, str], values: Mapping[str, float], power: int) -> Factor:
    """Return the sine or cosine of an angle as a factor."""
    function, key = turn
    return Factor(key, sheet.angle(key, values), "angle", power, function)


def _given(sheet: Sheet, key: str, role: str = "given") -> Factor:
    return Factor(key, sheet.numbers[key], role)


def _segment_mass(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    share, body = sheet.forces[step.about].share, sheet.posture.body
    assert share is not None
    assert body is not None
    factors = _given(sheet, share.given.key, "share"), _given(sheet, body.key, "whole")
    return product(*factors, *converted(sheet, body.unit))


def _body_weight(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    body = sheet.posture.body
    assert body is not None
    return product(_given(sheet, body.key), *converted(sheet, body.unit), gravity(sheet))


def _share(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    force = sheet.forces[step.about]
    assert force.share is not None
    assert force.magnitude is not None
    whole = line_factor(values, force.magnitude.key, "whole")
    return product(_given(sheet, force.share.given.key, "share"), whole)


def _force(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    given = sheet.forces[step.about].magnitude
    assert given is not None
    start = _given(sheet, given.key) if given.key in sheet.numbers else None
    start = start or line_factor(values, given.key, "given")
    weight = (gravity(sheet),) if given.unit in MASSES else ()
    return product(start, *converted(sheet, given.unit), *weight)


def _distance(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    given = sheet.distances[step.about].given
    return product(_given(sheet, given.key), *converted(sheet, given.unit))


def _fraction(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    distance = sheet.distances[step.about]
    assert distance.of is not None
    share = _given(sheet, distance.given.key, "share")
    return product(share, line_factor(values, distance.of, "whole"))


def _distance_sum(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    derived = sheet.distances[step.about].derived
    assert derived is not None
    rest = 1 if derived.how == "sum" else -1
    return Formula(
        tuple(
            Term((line_factor(values, part, "part"),), part, rest if place else 1)
            for place, part in enumerate(derived.of)
        )
    )


def _distance_by_angle(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    derived = sheet.distances[step.about].derived
    assert derived is not None
    assert derived.angle is not None
    turn = ("sin" if derived.how == "sine" else "cos"), derived.angle.key
    return product(line_factor(values, derived.of[0], "length"), trig(sheet, turn, values, 1))


def _attachment_angle(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    force = sheet.forces[step.about]
    ends = force.direction.attachment
    assert ends is not None
    ahead = 1 if sheet.run(force) > 0 else -1
    terms = []
    for point, side in ((ends.along, ahead), (force.at, -ahead)):
        factor = line_factor(values, point.symbol, "end")
        terms.append(Term((factor,), point.symbol, -side if point.beyond else side))
    off = line_factor(values, ends.off.symbol, "off")
    return Formula(tuple(terms), (off,), "arctangent", power=-1)


def _angle(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    """Return a + b x inclination + c x angle, found by turning each a little and looking.

    One of the two may be no part of it.
    """
    force, incline = sheet.forces[step.about], sheet.posture.inclination
    given = force.direction.angle
    assert given is not None
    acute = _acute(sheet, step, {})
    terms, rest = [], acute
    for key in (one.key for one in (incline, given) if one is not None):
        turned = _acute(sheet, step, {key: 1e-4}) - acute
        if abs(turned) < 1e-6:
            continue  # it is no part of this angle
        sign = 1 if turned > 0 else -1
        size = sheet.angle(key, values)
        terms.append(Term((Factor(key, size, "angle of a line"),), key, sign))
        rest -= sign * sheet.slant(key)
    constant = Term((Factor(f"{round(rest)}", float(round(rest)), "constant"),), "constant")
    return Formula((constant, *terms) if round(rest) else tuple(terms))


def _acute(sheet: Sheet, step: Step, nudges: Mapping[str, float]) -> float:
    """Return the acute angle between a force and its line in degrees, some angles nudged."""
    force = sheet.forces[step.about]
    x, y = sheet.along(nudges)
    across, upward = sheet.unit(force, nudges)
    if step.key.startswith("beta"):
        x, y = 1.0, 0.0
    return math.degrees(math.atan2(abs(x * upward - y * across), abs(x * across + y * upward)))


def _arm(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    force = sheet.forces[step.about]
    turn = sheet.turned(force)
    assert turn is not None
    distance = line_factor(values, force.at.symbol, "length")
    return product(distance, trig(sheet, turn, values, 1))


def _component(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    force = sheet.forces[step.about]
    turn = sheet.turned(force)
    assert turn is not None
    return product(line_factor(values, force.symbol, "size"), trig(sheet, turn, values, 1))


def _part(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    force, axis = sheet.forces[step.about], AXIS_OF[step.kind.name]
    sign = 1 if sheet.share(force, axis) > 0 else -1
    turn = trig(sheet, sheet.lying(force, axis), values, 1)
    return product(line_factor(values, force.symbol, "size"), turn, about=force.symbol, sign=sign)


def _handed_on(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    """Return what the segment before does to this one, which is turned round."""
    acting = sheet.couples if step.kind.name == "handed_moment" else sheet.forces
    return product(line_factor(values, acting[step.about].before, "before"), sign=-1)


def _moment(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    force = sheet.forces[step.about]
    if force.offset is not None:
        return Formula(_moments_of_parts(sheet, force, force.offset, values))
    size = line_factor(values, sheet.size_key(force), "size")
    arm = line_factor(values, sheet.arm_key(force), "arm")
    return product(size, arm, about=force.symbol, sign=sheet.sense(force))


def _moments_of_parts(
    sheet: Sheet, force: Force, offset: Offset, values: Mapping[str, float]
) -> tuple[Term, ...]:
    """Return the moments of the two parts of a force beside the segment: x F_y less y F_x."""
    terms = []
    for distance, axis, turns in ((offset.across, "y", 1), (offset.up, "x", -1)):
        key, sign = sheet.part(force, axis)
        if distance is not None and key:
            sign *= turns * sheet.posture.positive * (-1 if distance.beyond else 1)
            factors = (
                line_factor(values, distance.symbol, "arm"),
                line_factor(values, key, "size"),
            )
            terms.append(Term(factors, distance.symbol, sign))
    return tuple(terms)


def _couple_moment(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    couple = sheet.couples[step.about]
    sign = sheet.sense_of_couple(couple)
    return product(sheet.couple_size(couple, values), about=couple.symbol, sign=sign)


def _sum(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    return Formula(sheet.moments(values))


def _net_moment(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    return product(sheet.total(values), sign=-1)


def _found(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    """Return the force or the arm that balances the known moments."""
    force = sheet.forces[step.about]
    if step.kind.name == "effort" and ("effort_component", force.symbol) in sheet.keys:
        turn = sheet.turned(force)
        assert turn is not None
        part = line_factor(values, sheet.size_key(force), "size")
        return product(part, trig(sheet, turn, values, -1))
    if force is sheet.posture.effort and sheet.posture.sharing:
        return sources.shared_effort(sheet, step, values)
    sought = step.kind.name in ("arm_found", "distance_found")
    key, role = (sheet.size_key(force), "size") if sought else (sheet.arm_key(force), "arm")
    return product(sheet.total(values), line_factor(values, key, role, -1), shape="size")


def _angle_found(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    force = sheet.forces[step.about]
    turn = sheet.turned(force)
    assert turn is not None
    arm = line_factor(values, sheet.arm_key(force), "arm")
    distance = line_factor(values, force.at.symbol, "length", -1)
    return product(arm, distance, shape={"sin": "arcsine", "cos": "arccosine"}[turn[0]])


def _mass(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    return product(line_factor(values, step.about, "size"), gravity(sheet, -1))


def _advantage(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    effort = sheet.posture.effort
    assert effort is not None
    loads = [(line_factor(values, f.symbol, "load"), f.symbol) for f in sheet.resisting()]
    terms = tuple(Term((factor,), symbol) for factor, symbol in loads)
    return Formula(terms, (line_factor(values, effort.symbol, "effort", -1),))


def _arm_ratio(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    effort = sheet.posture.effort
    assert effort is not None
    other = sheet.arm_key(sheet.forces[step.about])
    top = line_factor(values, sheet.arm_key(effort), "arm of the effort")
    return product(top, line_factor(values, other, "arm of the load", -1))


def _reaction(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    terms = []
    for force in sheet.posture.forces:
        key, sign = sheet.part(force, AXIS_OF[step.kind.name])
        if key:
            terms.append(Term((line_factor(values, key, "force"),), force.symbol, -sign))
    return Formula(tuple(terms))


def _resultant(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    balance = _reaction(sheet, step, values)
    return replace(balance, terms=tuple(replace(t, sign=-t.sign) for t in balance.terms))


def _reaction_size(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    parts = [Term((line_factor(values, key, "part"),), key) for key in sheet.parts_of_reaction()]
    return Formula(tuple(parts), shape="root")


def _reaction_angle(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    across, upward = map(sheet.key, ("R_x", "R_y"))
    parts = line_factor(values, upward, "part"), line_factor(values, across, "part", -1)
    return product(*parts, shape="arctangent")


def _class(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    """Return the class of lever; several loads count as one, where their resultant acts."""
    effort = sheet.posture.effort
    assert effort is not None
    turning = across = 0.0
    for load in sheet.resisting():
        moment = values[sheet.size_key(load)] * values[sheet.arm_key(load)]
        turning += moment
        across += moment / sheet.place(load, values)
    load_at, effort_at = turning / across, sheet.place(effort, values)
    beyond = 2.0 if abs(effort_at) > abs(load_at) else 3.0
    return product(Factor("", 1.0 if load_at * effort_at < 0 else beyond, "word"))


def _direction(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    """Return the direction of the reaction: 3 x (1 right, -1 left) + (1 up, -1 down)."""
    code = 0.0
    for name, weight in (("R_x", 3), ("R_y", 1)):
        value = values.get(sheet.key(name), 0.0)
        code += weight * (value > NOTHING) - weight * (value < -NOTHING)
    return product(Factor("", code, "word"))


def _effect(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    """Return what the reaction does lengthwise: 1 compression, -1 tension."""
    axial = values[sheet.key("R_a")]
    return product(Factor("", float(axial > NOTHING) - float(axial < -NOTHING), "word"))


def _pair_force(sheet: Sheet, step: Step, values: Mapping[str, float]) -> Formula:
    """Return one of two forces that balance the others: Cramer's rule, or by the other of them."""
    first, second = sheet.posture.unknown
    held = [f for f in sheet.posture.forces if f.magnitude is not None]
    this, other = (first, second) if step.about == first.symbol else (second, first)
    (a, b), (c, d) = ([sheet.share(f, axis) for axis in "xy"] for f in (this, other))
    if this is first:
        terms = [
            Term((line_factor(values, f.symbol, "force"), Factor("", turned, "share")), f.symbol)
            for f in held
            if abs(turned := c * sheet.share(f, "y") - d * sheet.share(f, "x")) > NOTHING
        ]
        return Formula(tuple(terms), (Factor("", a * d - b * c, "determinant", -1),))
    alone = [sum(abs(sheet.share(f, axis)) > NOTHING for f in held) for axis in "xy"]
    axis = "y" if alone[1] < alone[0] or abs(a) < NOTHING else "x"
    terms = [
        Term((line_factor(values, f.symbol, "force"), Factor("", -share, "share")), f.symbol)
        for f in (other, *held)
        if abs(share := sheet.share(f, axis)) > NOTHING
    ]
    return Formula(tuple(terms), (Factor("", a if axis == "x" else b, "own share", -1),))


LINES: dict[str, Callable[[Sheet, Step, Mapping[str, float]], Formula]] = {
    "segment_mass": _segment_mass,
    "body_weight": _body_weight,
    "share": _share,
    "force": _force,
    "distance": _distance,
    "fraction": _fraction,
    "distance_sum": _distance_sum,
    "distance_by_angle": _distance_by_angle,
    "attachment_angle": _attachment_angle,
    "angle": _angle,
    "arm": _arm,
    "component": _component,
    "component_x": _part,
    "component_y": _part,
    "component_axial": _part,
    "component_transverse": _part,
    "moment": _moment,
    "handed_force": _handed_on,
    "handed_moment": _handed_on,
    "couple_moment": _couple_moment,
    "sum": _sum,
    "net_moment": _net_moment,
    "effort": _found,
    "effort_component": _found,
    "arm_found": _found,
    "distance_found": _found,
    "angle_found": _angle_found,
    "mass": _mass,
    "advantage": _advantage,
    "arm_advantage": _arm_ratio,
    "arm_ratio": _arm_ratio,
    "reaction_x": _reaction,
    "reaction_y": _reaction,
    "reaction_axial": _reaction,
    "reaction_transverse": _reaction,
    "axial_effect": _effect,
    "reaction_size": _reaction_size,
    "reaction_angle": _reaction_angle,
    "class": _class,
    "reaction_direction": _direction,
    "pair_force": _pair_force,
    "resultant_x": _resultant,
    "resultant_y": _resultant,
    "resultant_size": _reaction_size,
    "resultant_angle": _reaction_angle,
    "resultant_direction": _direction,
    **CENTRE_LINES,
    **further.RIGHT,
    **sources.RIGHT,
}
"""How a line of each kind is worked."""
