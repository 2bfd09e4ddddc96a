"""Steps that turn a slanting force: its angle, its moment arm, its components."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from leverstep.statics import kinds
from leverstep.statics.acting import Force
from leverstep.statics.convert import unit_left
from leverstep.statics.force_axes import ForceAxis
from leverstep.statics.geometry import Bearing, force_bearing, run_to_attachment
from leverstep.statics.points import Attachment, Given
from leverstep.statics.posture import Axes
from leverstep.statics.step import Draft, Expression, Pen, symbol, total
from leverstep.statics.turn import (
    Function,
    Turn,
    arm_key,
    component_key,
    from_axes,
    from_segment,
    has_own_angle,
    part,
    parts_needed,
    quadrant,
    share_along,
    to_axes,
    to_segment,
)


def write_turns(draft: Draft) -> None:
    """Write angle, then moment arm or component, of each force that needs them."""
    for force in draft.posture.forces:
        if force.direction.attachment is not None:
            _write_attachment_angle(draft, force, force.direction.attachment)
    for force in draft.posture.turning:
        if force.offset is not None:
            write_parts(draft, force, parts_needed(force.offset))
        elif (turn := to_segment(draft, force)) is not None:
            _write_turn(draft, force, turn)


def _write_turn(draft: Draft, force: Force, turn: Turn) -> None:
    """Write angle, then moment arm or component, of a force that is turned to the segment."""
    if turn.sine == "one":
        return
    if turn.sine == "zero":
        _write_no_lever(draft, force)
        return
    bearing = from_segment(draft, force)
    if has_own_angle(draft, force, bearing):
        _write_angle(draft, force, turn.angle, bearing)
    if draft.posture.by_components and force.magnitude is not None:
        _write_component(draft, force, turn)
    elif not draft.posture.by_components and not draft.posture.finds_place(force):
        _write_arm(draft, force, turn)


def _write_angle(draft: Draft, force: Force, key: str, bearing: Bearing) -> None:
    """Write the acute angle that a bearing makes with its reference line."""
    parts = (
        (bearing.inclined, draft.posture.inclination),
        (bearing.turned, force.direction.angle),
    )
    degrees = draft.degrees(bearing, force)
    half_turns = (quadrant(degrees) + 1) // 2
    sign = -1 if quadrant(degrees) % 2 else 1
    constant = sign * (bearing.constant - 180 * half_turns)
    pen = Pen(draft, key)
    terms = [(sign * times, given) for times, given in parts if times and given is not None]
    terms.sort(key=lambda term: -term[0])
    right = total([constant])
    for coefficient, given in terms:
        part = symbol(given.key)
        if len(terms) > 1:  # one alone can only be measured otherwise
            part *= pen.choice("included", 1, force.symbol, given.key)
        if len(terms) > 1 and (constant or given is not terms[0][1]):
            part *= turned_over(pen, coefficient, force.symbol, given.key)
        right += coefficient * part
    expression = right
    for kind, whole in (("complement", 90), ("supplement", 180)):
        expression += pen.choice(kind, 0, force.symbol) * (whole - 2 * right)
    expression += all_round(pen, right, force.symbol)
    # Of two parts, one as it is and the other left out are the same.
    for _, given in terms if constant else ():
        alone = pen.choice("other_angle", 0, force.symbol, given.key)
        expression += alone * (symbol(given.key) - right)
    pen.write(kinds.ANGLE, force.symbol, expression, _angle_written(constant, terms))


def _angle_written(constant: int, terms: Sequence[tuple[int, Given]]) -> str:
    """Return an angle as it is written: the multiple of 90 degrees, then the angles that go on."""
    if constant < 0 and len(terms) == 1:
        return f"{{{terms[0][1].key}}} − {-constant}°"
    pieces = [f"{constant}°"] if constant else []
    for coefficient, given in terms:
        mark = "" if not pieces and coefficient > 0 else ("+ " if coefficient > 0 else "− ")
        pieces.append(f"{mark}{{{given.key}}}")
    return " ".join(pieces)


def all_round(pen: Pen, angle: Expression, about: str) -> Expression:
    """Return what an angle is more where it is measured on to the opposite or the whole way."""
    way = pen.choice("all_round", 0, about)
    return way * (way + 1) / 2 * 180 + way * (way - 1) / 2 * (360 - 2 * angle)


def turned_over(pen: Pen, sign: int, about: str, other: str) -> Expression:
    """Return 1 with the choice of -1: adding a part that should be subtracted, or the reverse."""
    return 1 - 2 * pen.choice("subtracted" if sign > 0 else "added", 0, about, other)


def _write_attachment_angle(draft: Draft, force: Force, ends: Attachment) -> None:
    """Write the angle of a muscle to its segment, from the points where its two ends are."""
    from sympy import atan2, pi

    angle = force.direction.angle
    assert angle is not None
    pen = Pen(draft, angle.key)
    far, near = ends.along, force.at
    run = run_to_attachment(draft.posture, force, draft.sample)
    kept = {one.symbol: pen.choice("included", 1, force.symbol, one.symbol) for one in (far, near)}
    length = {name: keep * symbol(name) for name, keep in kept.items()}
    if far.beyond != near.beyond:
        first, second, sign, mark = near, far, 1, "+"
    else:
        first, second = (far, near) if (run > 0) != far.beyond else (near, far)
        sign, mark = -1, "−"
    turned = turned_over(pen, sign, force.symbol, second.symbol)
    along = length[first.symbol] + sign * turned * length[second.symbol]
    written = f"({{{first.symbol}}} {mark} {{{second.symbol}}})"
    power = pen.choice("ratio_power", 1, force.symbol)
    right = atan2(symbol(ends.off.symbol), abs(along))
    used = pi / 4 + power * (right - pi / 4)
    used += pen.choice("supplement", 0, force.symbol) * (pi - 2 * used)
    expression = used * (180 / pi) ** pen.choice("angle_conversion", 1, force.symbol)
    written = f"atan({{{ends.off.symbol}}} ÷ {written})"
    pen.write(kinds.ATTACHMENT_ANGLE, force.symbol, expression, written)


def trigonometric(pen: Pen, function: Function, angle: str, about: str) -> Expression:
    """Return sine or cosine of an angle in degrees, with the choices a student makes there."""
    from sympy import cos, pi, sin, tan

    degrees = symbol(angle)
    for key in angle_keys(pen.draft):
        if key not in (angle, _made_of_one(pen.draft, angle)):
            taken = symbol(key) - symbol(angle)
            degrees += pen.choice("other_angle", 0, about, key) * taken
    radians = degrees * (pi / 180) ** pen.choice("angle_conversion", 1, about)
    right, other = (sin, cos) if function == "sin" else (cos, sin)
    swapped = pen.choice("other_function", 0, about)
    tangent = pen.choice("tangent", 0, about)
    ignored = pen.choice("angle_ignored", 0, about)
    value = (1 - swapped - tangent) * right(radians) + swapped * other(radians)
    value += tangent * tan(radians)
    return (ignored + (1 - ignored) * value) ** pen.choice("trig_power", 1, about)


def _made_of_one(draft: Draft, angle: str) -> str:
    """Return the one given that an acute angle is made of, "" where it is made of more or none.

    Sine and cosine are as good of the one as of the other, but for a sign.
    """
    uses = next((s.uses for s in draft.steps if s.key == angle and s.kind is kinds.ANGLE), ())
    return uses[0] if len(uses) == 1 else ""


def angle_keys(draft: Draft) -> list[str]:
    """Return the keys of the angles that are given in the working or found so far."""
    givens = (given for one in (draft.posture, *draft.beside) for given in one.givens())
    given = [given.key for given in dict.fromkeys(givens) if given.unit == "deg"]
    found = (kinds.ANGLE, kinds.ATTACHMENT_ANGLE, kinds.ANGLE_FOUND)
    return given + [step.key for step in draft.steps if step.kind in found]


def trigonometric_again(pen: Pen, draft: Draft, force: Force) -> Expression:
    """Return the factor by which a line is off that turns a slanting force once more (right: 1)."""
    share = perpendicular_share(draft, force)
    return 1 if share == 1 else share ** pen.choice("trig_again", 0, force.symbol)


def perpendicular_share(draft: Draft, force: Force) -> Expression:
    """Return the share of a force that is perpendicular to the segment: a sine or cosine, or 1."""
    from sympy import cos, pi, sin

    turn = to_segment(draft, force)
    if turn is None or turn.sine not in ("sin", "cos"):
        return 1
    function = sin if turn.sine == "sin" else cos
    return function(symbol(turn.angle) * pi / 180)


def other_over_right(draft: Draft, force: Force) -> Expression:
    """Return sine over cosine, or cosine over sine: the wrong function over the right one."""
    from sympy import pi, tan

    turn = to_segment(draft, force)
    assert turn is not None, f"{force.symbol} slants"
    tangent = tan(symbol(turn.angle) * pi / 180)
    return 1 / tangent if turn.sine == "sin" else tangent


def _write_no_lever(draft: Draft, force: Force) -> None:
    """Write the arm or component of a force whose line of action passes through the axis: none."""
    if not draft.posture.by_components:
        Pen(draft, arm_key(draft, force)).write(kinds.ARM, force.symbol, total(()), "0", False)
    elif force.magnitude is not None:
        key = component_key(draft, force)
        Pen(draft, key).write(kinds.COMPONENT, force.symbol, total(()), "0", False)


def _write_arm(draft: Draft, force: Force, turn: Turn) -> None:
    pen = Pen(draft, arm_key(draft, force))
    distance = force.at.symbol
    expression = symbol(distance) * unit_left(pen, draft, force.at)
    expression *= trigonometric(pen, turn.sine, turn.angle, force.symbol)
    written = f"{{{distance}}} × {turn.sine}({{{turn.angle}}})"
    pen.write(kinds.ARM, force.symbol, expression, written)


def _write_component(draft: Draft, force: Force, turn: Turn) -> None:
    pen = Pen(draft, component_key(draft, force))
    expression = symbol(force.symbol) * trigonometric(pen, turn.sine, turn.angle, force.symbol)
    written = f"{{{force.symbol}}} × {turn.sine}({{{turn.angle}}})"
    pen.write(kinds.COMPONENT, force.symbol, expression, written)


def write_parts(draft: Draft, force: Force, axes: Iterable[ForceAxis]) -> None:
    """Write the parts of a slanting force along some axes, those that are not there yet."""
    for axis in axes:
        write_angle(draft, force, axis.pair)
        _, key = part(draft, force, axis)
        if key and key != force.symbol and not draft.has(key):
            _write_part(draft, force, axis, key)


def write_angle(draft: Draft, force: Force, pair: Axes) -> None:
    """Write the angle of a force to a pair of axes, where it has a step and is not there yet."""
    turn, bearing = to_axes(draft, force, pair), from_axes(draft, force, pair)
    if has_own_angle(draft, force, bearing) and not draft.has(turn.angle):
        _write_angle(draft, force, turn.angle, bearing)


def _write_part(draft: Draft, force: Force, axis: ForceAxis, key: str) -> None:
    turn = to_axes(draft, force, axis.pair)
    function, sign = share_along(turn, axis)
    pen = Pen(draft, key)
    expression = sign * pen.choice("flip", 1, force.symbol) * symbol(force.symbol)
    expression *= trigonometric(pen, function, turn.angle, force.symbol)
    if axis.pair is Axes.SEGMENT:
        expression += _level_instead(pen, draft, force, axis, expression)
    product = f"{{{force.symbol}}} × {function}({{{turn.angle}}})"
    written = product if sign > 0 else f"−({product})"
    pen.write(axis.component, force.symbol, expression, written)


def _level_instead(
    pen: Pen, draft: Draft, force: Force, axis: ForceAxis, right: Expression
) -> Expression:
    """Return what a part is more where it is taken along the horizontal or the vertical."""
    taken, size = level_part(draft, force, axis), symbol(force.symbol)
    if draft.posture.inclination is None or taken in (0, size, -size):
        return 0
    return pen.choice("level_axes", 0, force.symbol) * (taken - right)


def level_part(draft: Draft, force: Force, axis: ForceAxis) -> Expression:
    """Return the horizontal or vertical part of a force, as one from its bearing would have it.

    It is simplified, so that none and all of the force are known as such.
    """
    from sympy import cos, evaluate, pi, sin

    bearing = force_bearing(draft.posture, force.direction)
    function = cos if axis.is_first else sin
    with evaluate(True):
        degrees = total([bearing.constant])
        for times, given in (
            (bearing.inclined, draft.posture.inclination),
            (bearing.turned, force.direction.angle),
        ):
            if times and given is not None:
                degrees += times * symbol(given.key)
        return symbol(force.symbol) * function(degrees * pi / 180)
