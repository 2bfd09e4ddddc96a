"""Steps that go on from what was found: stress, multiples, other units, friction, power, range.

`measurable` says what a posture has to go on from; each relation has its function in `_WRITERS`.
"""

from __future__ import annotations

from collections.abc import Callable

from leverstep.statics import kinds
from leverstep.statics.acting import Force
from leverstep.statics.convert import conversion, factor_for
from leverstep.statics.force_axes import HORIZONTAL, PAIRS, VERTICAL
from leverstep.statics.points import Given
from leverstep.statics.posture import Axes, Find, Further, Relation
from leverstep.statics.reaction import PARTS
from leverstep.statics.step import Draft, Expression, Pen, given_symbol, symbol, total
from leverstep.statics.turn import acting_along, arm_key, moment_key, part, passes_axis
from leverstep.statics.units import AREA, TABLE

HOLDS, SLIPS = 1, -1
"""The value of the line that says whether a support holds or slips."""


def measurable(draft: Draft) -> dict[str, str]:
    """Return the quantities that something further may be worked out from, with their units.

    Signed ones count by their size. Nothing is derived for it.
    """
    posture = draft.posture
    found = {force.symbol: "N" for force in posture.forces}
    found |= {distance.symbol: "m" for distance in posture.distances}
    for force in posture.turning:
        if force in posture.known_turning:
            found[moment_key(force)] = "N·m"
        if not passes_axis(draft, force) and not force.offset:
            found[arm_key(draft, force)] = "m"
    if posture.find is Find.NET_MOMENT:
        found[posture.key(kinds.NET_MOMENT)] = "N·m"
    if posture.reaction:
        axes = [axis for pair in posture.resolved for axis in PAIRS[pair]]
        found[posture.key(kinds.REACTION_SIZE)] = "N"
        there = [axis for axis in axes if acting_along(draft, posture.forces, axis)]
        found |= {posture.key(axis.reaction): "N" for axis in there}
    return {key: posture.unit_of_lines(unit) for key, unit in found.items()}


def component_keys(draft: Draft, key: str) -> tuple[str, str] | None:
    """Return the keys of the horizontal and the vertical part of the reaction or of a force.

    None where one of them is not worked out.
    """
    posture = draft.posture
    if not posture.reaction or Axes.LEVEL not in posture.resolved:
        return None
    if key == posture.key(kinds.REACTION_SIZE):
        axes = (HORIZONTAL, VERTICAL)
        has_both = all(acting_along(draft, posture.forces, axis) for axis in axes)
        both = posture.key(kinds.REACTION_X), posture.key(kinds.REACTION_Y)
        return both if has_both else None
    force = next((one for one in posture.forces if one.symbol == key), None)
    if force is None:
        return None
    across, upward = part(draft, force, HORIZONTAL)[1], part(draft, force, VERTICAL)[1]
    return (across, upward) if key not in (across, upward) and across and upward else None


def path_key(draft: Draft, force: Force) -> str:
    """Return the key of the length that a force's point moves by, for each radian turned.

    Along the line of the force that is its moment arm; "" where none is worked out.
    """
    has_arm = not (force.offset or passes_axis(draft, force))
    key = arm_key(draft, force) if has_arm and not draft.posture.by_components else ""
    return "" if force.at.sought and key != force.at.symbol else key


def write_further(draft: Draft) -> None:
    """Write all that is worked out from what was found."""
    for further in draft.posture.further:
        _WRITERS[further.relation](draft, further)


def _size(draft: Draft, key: str) -> tuple[Expression, str]:
    """Return the size of a quantity, and how it is written; a sign it has is left out."""
    posture = draft.posture
    if key == posture.key(kinds.REACTION_SIZE) and not draft.has(key):  # it has one part alone
        key = next(one for one in map(posture.key, PARTS) if draft.has(one))
    signed = {step.key for step in draft.steps if not step.kind.is_size}
    if key in signed:
        return abs(symbol(key)), f"|{{{key}}}|"
    return symbol(key), f"{{{key}}}"


def _size_in_use(pen: Pen, draft: Draft, further: Further) -> tuple[Expression, str]:
    """Return the size that a further line begins with, with the choice of another force's."""
    size, written = _size(draft, further.of)
    forces = [force.symbol for force in draft.posture.forces]
    right = size
    size_key = draft.posture.key(kinds.REACTION_SIZE)
    for other in forces if further.of in (*forces, size_key) else ():
        if other != further.of:
            taken = pen.choice("other_force", 0, further.symbol, other)
            size += taken * (symbol(other) - right)
    return size, written


def _converted(pen: Pen, given: Given, about: str) -> tuple[Expression, str]:
    """Return a given in the unit of its line, with the choice of how it is converted."""
    size, mark = conversion(pen, given.unit, about)
    if mark and TABLE[given.unit].dimension == AREA:
        size **= 1 - pen.choice("as_length", 0, about) / 2
    return given_symbol(given) * size, f"{{{given.key}}}{mark}"


def _write_stress(draft: Draft, further: Further) -> None:
    assert further.given is not None
    pen = Pen(draft, further.symbol)
    force, written = _size_in_use(pen, draft, further)
    area, below = _converted(pen, further.given, further.symbol)
    if " " in below:
        below = f"({below})"
    ratio = (force / area) ** pen.choice("ratio_power", 1, further.symbol)
    pen.write(kinds.STRESS, further.symbol, ratio, f"{written} ÷ {below}")


def _write_body_weights(draft: Draft, further: Further) -> None:
    pen = Pen(draft, further.symbol)
    force, written = _size_in_use(pen, draft, further)
    key = draft.posture.body_weight_key
    weight = symbol(key) * symbol("g") ** -pen.choice("mass_used", 0, further.symbol)
    ratio = (force / weight) ** pen.choice("ratio_power", 1, further.symbol)
    written = f"{written} ÷ {{{key}}}"
    if further.unit:
        ratio *= 100
        written += " × 100 %"
    pen.write(kinds.BODY_WEIGHTS, further.symbol, ratio, written, unit=further.unit)


def _write_other_unit(draft: Draft, further: Further) -> None:
    factor = factor_for(further.unit)
    assert factor is not None, f"{further.unit} is not newtons"
    pen = Pen(draft, further.symbol)
    force, written = _size_in_use(pen, draft, further)
    if isinstance(factor.constant, str):
        size, divisor = symbol(factor.constant), f"{{{factor.constant}}}"
    else:
        size, divisor = factor.constant, f"{factor.constant:g} {factor.unit}"
    value = force * size ** -pen.choice("conversion", 1, further.symbol)
    pen.write(kinds.OTHER_UNIT, further.symbol, value, f"{written} ÷ {divisor}", unit=further.unit)


def _write_friction_needed(draft: Draft, further: Further) -> None:
    parts = component_keys(draft, further.of)
    assert parts is not None, f"{further.of} has two parts"
    pen = Pen(draft, further.symbol)
    across, upward = (abs(symbol(key)) for key in parts)
    ratio = (across / upward) ** pen.choice("ratio_power", 1, further.symbol)
    of_whole = across / (across**2 + upward**2) ** 0.5
    ratio += pen.choice("whole_force", 0, further.symbol) * (of_whole - ratio)
    written = " ÷ ".join(f"|{{{key}}}|" for key in parts)
    pen.write(kinds.FRICTION_NEEDED, further.symbol, ratio, written)


def _write_friction_enough(draft: Draft, further: Further) -> None:
    from sympy import Piecewise

    assert further.given is not None
    pen = Pen(draft, further.symbol)
    holds = symbol(further.of) <= given_symbol(further.given)
    answer = Piecewise((HOLDS, holds), (SLIPS, True)) * pen.choice("flip", 1, further.symbol)
    pen.write(kinds.FRICTION_ENOUGH, further.symbol, answer, "")


def _write_part_shared(draft: Draft, further: Further) -> None:
    """Write the part that falls to one: a given share, or its area over all areas."""
    assert further.given is not None
    pen, about = Pen(draft, further.symbol), further.symbol
    whole, written = _size_in_use(pen, draft, further)
    own = given_symbol(further.given)
    share, written = own, f"{written} × {{{further.given.key}}}"
    if further.others:
        others = total(given_symbol(other) for other in further.others)
        share = own / (pen.choice("included", 1, about) * own + others)
        written += f" ÷ ({' + '.join(f'{{{one.key}}}' for one in further.givens)})"
    constant = pen.choice("fraction_constant", 0, about)
    share = constant + pen.choice("fraction_multiple", 1, about) * share
    unit = draft.unit(further.of) if draft.has(further.of) else "N"
    pen.write(kinds.PART_SHARED, about, whole * share, written, unit=unit)


def _write_moment_sped_up(draft: Draft, further: Further) -> None:
    """Write the moment that holds the segment, and what speeds it up besides."""
    assert further.given is not None
    (acceleration,) = further.others
    pen, about = Pen(draft, further.symbol), further.symbol
    sign = further.turns * draft.posture.positive
    quickly, by = _converted(pen, acceleration, about)
    inertia = sign * pen.choice("flip", 1, about) * given_symbol(further.given) * quickly
    held = pen.choice("included", 1, about) * symbol(further.of)
    mark = "+" if sign > 0 else "−"
    written = f"{{{further.of}}} {mark} {{{further.given.key}}} × {by}"
    pen.write(kinds.MOMENT_SPED_UP, about, held + inertia, written)


def _write_force_at_arm(draft: Draft, further: Further) -> None:
    assert further.given is not None
    pen, about = Pen(draft, further.symbol), further.symbol
    moment, written = _size(draft, further.of)
    arm, below = _converted(pen, further.given, about)
    if " " in below:
        below = f"({below})"
    force = moment * arm ** -pen.choice("arm_power", 1, about)
    pen.write(kinds.FORCE_AT_ARM, about, force, f"{written} ÷ {below}")


def _write_power(draft: Draft, further: Further) -> None:
    assert further.given is not None
    pen = Pen(draft, further.symbol)
    moment, written = _size(draft, further.of)
    velocity, by = _converted(pen, further.given, further.symbol)
    pen.write(kinds.POWER, further.symbol, moment * velocity, f"{written} × {by}")


def _write_moved(draft: Draft, further: Further) -> None:
    """Write how far or how fast the point of one force moves with that of another."""
    assert further.given is not None
    pen, posture = Pen(draft, further.symbol), draft.posture
    by, written = _converted(pen, further.given, further.symbol)
    above, below = (path_key(draft, posture.force(key)) for key in (further.of, further.over))
    ratio = (symbol(above) / symbol(below)) ** pen.choice("ratio_power", 1, further.symbol)
    is_far = further.relation is Relation.DISTANCE_MOVED
    kind = kinds.DISTANCE_MOVED if is_far else kinds.SPEED
    pen.write(kind, further.symbol, by * ratio, f"{written} × {{{above}}} ÷ {{{below}}}")


def _write_ratio(draft: Draft, further: Further) -> None:
    pen = Pen(draft, further.symbol)
    above, written = _size(draft, further.of)
    below, divisor = _size(draft, further.over)
    ratio = (above / below) ** pen.choice("ratio_power", 1, further.symbol)
    pen.write(kinds.RATIO, further.symbol, ratio, f"{written} ÷ {divisor}")


_WRITERS: dict[Relation, Callable[[Draft, Further], None]] = {
    Relation.STRESS: _write_stress,
    Relation.BODY_WEIGHTS: _write_body_weights,
    Relation.OTHER_UNIT: _write_other_unit,
    Relation.FRICTION_NEEDED: _write_friction_needed,
    Relation.FRICTION_ENOUGH: _write_friction_enough,
    Relation.PART_SHARED: _write_part_shared,
    Relation.MOMENT_SPED_UP: _write_moment_sped_up,
    Relation.FORCE_AT_ARM: _write_force_at_arm,
    Relation.POWER: _write_power,
    Relation.DISTANCE_MOVED: _write_moved,
    Relation.SPEED: _write_moved,
    Relation.RATIO: _write_ratio,
}
