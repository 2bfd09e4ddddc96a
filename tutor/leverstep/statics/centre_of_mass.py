"""Steps that find the centre of mass of a body from its parts, and whether it is supported.

The moment of a part about the axis is its weight times its coordinate: their sum over the total
weight is the coordinate of the centre of mass. Where every mass is known in kilograms, masses
stand for weights.
"""

from __future__ import annotations

from collections.abc import Iterator

from leverstep.statics import kinds
from leverstep.statics.acting import Force
from leverstep.statics.body_points import (
    Axis,
    Coordinate,
    coordinate_of_distance,
    coordinate_of_part,
    coordinate_of_point,
    part_key,
    place_of_part,
    point_key,
    run_sign,
)
from leverstep.statics.convert import has_mass, unit_left, used_share
from leverstep.statics.geometry import lengths
from leverstep.statics.line_keys import beside, moment_letter, moment_sum_key
from leverstep.statics.points import BodyPoint, Distance, Numbers, Support
from leverstep.statics.posture import Find, Posture
from leverstep.statics.sources import newtons
from leverstep.statics.step import Draft, Expression, Pen, given_symbol, symbol, total
from leverstep.statics.turn import Function
from leverstep.statics.turn_steps import trigonometric
from leverstep.statics.units import known_unit

INSIDE, OUTSIDE = 1, -1
"""The two answers to whether the line of gravity falls within the base of support."""

_WHOLE = 0.02
"""Parts whose total is so near to that of the whole body are all of it."""


def axes_sought(posture: Posture) -> tuple[Axis, ...]:
    """Return the axes along which the centre of mass is to be found: those that parts lie along."""
    wanted: tuple[Axis, ...] = ("x",) if posture.find is Find.LINE_OF_GRAVITY else ("x", "y")
    return tuple(
        axis
        for axis in wanted
        if any(coordinate_of_part(posture, load, axis) is not None for load in posture.loads)
    )


def part_moment_key(posture: Posture, force: Force, axis: Axis) -> str:
    """Return the key of the moment of a part: `M_t` of `W_t`, `Mx_t` where there are two axes."""
    return beside(moment_letter(_told(posture, axis)), force.symbol, posture.mark)


def part_sum_key(posture: Posture, axis: Axis) -> str:
    """Return the key of the sum of these moments."""
    return moment_sum_key(_told(posture, axis), posture.mark)


def _told(posture: Posture, axis: Axis) -> str:
    """Return the letter of an axis where it is one of two, "" where it is the only one."""
    return axis if len(axes_sought(posture)) > 1 else ""


def centre_keys(posture: Posture) -> Iterator[str]:
    """Yield the keys of the steps that a centre of mass has of its own."""
    yield from (posture.key(kind) for kind in kinds.KINDS.values() if kind.of_body and kind.key)
    for axis in axes_sought(posture):
        yield part_sum_key(posture, axis)
        for load in posture.loads:
            yield part_moment_key(posture, load, axis)
            if load.between is not None:
                yield part_key(posture, load, axis)
        for point in posture.body_points:
            if point.suffix:
                yield point_key(posture, point, axis)


def line_of_gravity(posture: Posture, numbers: Numbers) -> float:
    """Return how far across from the axis the centre of mass lies, in metres."""
    weights = [newtons(posture, load, numbers) for load in posture.loads]
    places = [place_of_part(posture, load, numbers).real for load in posture.loads]
    return sum(w * x for w, x in zip(weights, places, strict=True)) / sum(weights)


def edges(support: Support, posture: Posture, numbers: Numbers) -> tuple[float, float]:
    """Return where the edges of the base of support lie across from the axis, in metres."""
    known = lengths(posture, numbers)
    left, right = (
        0.0 if at is None else at.sign * known[at.key]
        for at in (coordinate_of_distance(support.left), coordinate_of_distance(support.right))
    )
    return left, right


def nearer_edge(support: Support, posture: Posture, numbers: Numbers) -> Distance | None:
    """Return the edge that the line of gravity is nearer to."""
    at = line_of_gravity(posture, numbers)
    left, right = edges(support, posture, numbers)
    return support.left if abs(at - left) < abs(right - at) else support.right


def write_centre(draft: Draft) -> None:
    """Write where each part lies, its moment, the sums, the centre of mass, and its support."""
    posture = draft.posture
    axes = axes_sought(posture)
    for point in posture.body_points:
        for axis in axes:
            _write_point(draft, point, axis)
    for load in posture.loads:
        for axis in axes:
            _write_part(draft, load, axis)
    for axis in axes:
        _write_moments(draft, axis)
    _write_total(draft)
    for axis in axes:
        _write_coordinate_of_centre(draft, axis)
    if posture.support is not None and "x" in axes:
        _write_edge(draft, posture.support)
        _write_supported(draft, posture.support)


def _value(at: Coordinate | None) -> Expression:
    return 0 if at is None else at.sign * symbol(at.key)


def _written(at: Coordinate | None) -> str:
    if at is None:
        return "0"
    return f"{{{at.key}}}" if at.sign > 0 else f"−{{{at.key}}}"


def _added(at: Coordinate | None, sign: int = 1) -> str:
    """Return a coordinate as it is written behind something, `sign` -1 where it is subtracted."""
    if at is None:
        return ""
    return f" {'+' if at.sign * sign > 0 else '−'} {{{at.key}}}"


def _write_point(draft: Draft, point: BodyPoint, axis: Axis) -> None:
    """Write a coordinate of a point: that of the point before it, and the way from there."""
    key = point_key(draft.posture, point, axis)
    at = coordinate_of_point(draft.posture, point.name, axis)
    if point.direction is None or point.length is None or at != Coordinate(key):
        return
    about, angle = point.suffix, point.direction.angle
    pen = Pen(draft, key)
    start = coordinate_of_point(draft.posture, point.start, axis)
    sign = run_sign(point.direction, axis)
    run = sign * symbol(point.length.symbol) * pen.choice("flip", 1, about)
    run *= unit_left(pen, draft, point.length)
    written = f"{{{point.length.symbol}}}"
    if angle is not None:
        is_cosine = (point.direction.reference != "vertical") == (axis == "x")
        function: Function = "cos" if is_cosine else "sin"
        run *= trigonometric(pen, function, angle.key, about)
        written += f" × {function}({{{angle.key}}})"
    if start is None:
        written = written if sign > 0 else f"−({written})"
    else:
        run += pen.choice("included", 1, about, start.key) * _value(start)
        written = f"{_written(start)} {'+' if sign > 0 else '−'} {written}"
    pen.write(kinds.POINT_X if axis == "x" else kinds.POINT_Y, about, run, written)


def _write_part(draft: Draft, load: Force, axis: Axis) -> None:
    """Write a coordinate of a part's centre of mass: a share of the way between two points."""
    between, key = load.between, part_key(draft.posture, load, axis)
    at = coordinate_of_part(draft.posture, load, axis)
    if between is None or at != Coordinate(key):
        return
    about = load.symbol
    pen = Pen(draft, key)
    start, end = (
        coordinate_of_point(draft.posture, name, axis) for name in (between.start, between.end)
    )
    share = used_share(pen, between.fraction, between.rows, about)
    written = f"{{{between.fraction.key}}} × "
    if start is None:
        expression = share * _value(end)
        written += f"{{{end.key}}}" if end and end.sign > 0 else f"({_written(end)})"
    else:
        kept = pen.choice("included", 1, about, start.key)
        way = _value(end) - (1 - pen.choice("in_between", 0, about)) * _value(start)
        expression = kept * _value(start) + share * way
        way_written = f"{_written(end) if end else ''}{_added(start, -1)}".strip()
        written = f"{_written(start)} + {written}({way_written})"
    pen.write(kinds.PART_X if axis == "x" else kinds.PART_Y, about, expression, written)


def weight_key(posture: Posture, load: Force) -> str:
    """Return the key of what a part is counted with: its mass where masses are summed."""
    assert load.magnitude is not None
    return load.magnitude.key if posture.sums_masses else load.symbol


def _write_moments(draft: Draft, axis: Axis) -> None:
    """Write the moment of each part that lies along an axis, and the sum of them."""
    posture = draft.posture
    placed = [
        (load, at)
        for load in posture.loads
        if (at := coordinate_of_part(posture, load, axis)) is not None
    ]
    for load, at in placed:
        _write_moment(draft, axis, load, at)
    pen = Pen(draft, part_sum_key(posture, axis))
    kind = kinds.MASS_MOMENT_SUM if posture.sums_masses else kinds.WEIGHT_MOMENT_SUM
    keys = [part_moment_key(posture, load, axis) for load, _ in placed]
    written = " + ".join(f"{{{key}}}" for key in keys)
    if len(keys) == 1:
        pen.write(kind, "", symbol(keys[0]), written, asked=False)
        return
    terms = [
        pen.choice("included", 1, load.symbol) * pen.choice("flip", 1, load.symbol) * symbol(key)
        for (load, _), key in zip(placed, keys, strict=True)
    ]
    pen.write(kind, "", total(terms) * _mixed(pen), written)


def _mixed(pen: Pen) -> Expression:
    """Return what a line is off by where masses are taken for weights, or the reverse: 1 if not."""
    return symbol("g") ** pen.choice("weighing", 0)


def _write_moment(draft: Draft, axis: Axis, load: Force, at: Coordinate) -> None:
    posture, about = draft.posture, load.symbol
    pen = Pen(draft, part_moment_key(posture, load, axis))
    counted = weight_key(posture, load)
    weight = symbol(counted)
    if not posture.sums_masses and has_mass(load):
        weight *= symbol("g") ** -pen.choice("mass_used", 0, about)
    place = right = _value(at)
    for other in posture.loads:
        taken = coordinate_of_part(posture, other, axis)
        if other is not load and taken is not None and taken != at:
            place += pen.choice("other_arm", 0, about, other.symbol) * (_value(taken) - right)
    across = coordinate_of_part(posture, load, "y" if axis == "x" else "x")
    if across is not None and len(axes_sought(posture)) > 1:
        place += pen.choice("other_coordinate", 0, about) * (_value(across) - right)
    measured = next((d for d in posture.distances if d.symbol == at.key), None)
    if measured is not None:
        place *= unit_left(pen, draft, measured)
    expression = pen.choice("flip", 1, about) * weight * place ** pen.choice("arm_power", 1, about)
    expression *= _mixed(pen)
    kind = kinds.MASS_MOMENT if posture.sums_masses else kinds.WEIGHT_MOMENT
    written = f"{{{counted}}} × {{{at.key}}}"
    pen.write(kind, about, expression, written if at.sign > 0 else f"−({written})")


def _write_total(draft: Draft) -> None:
    """Write the total of the weights of all parts, or of their masses."""
    posture = draft.posture
    kind = kinds.TOTAL_MASS if posture.sums_masses else kinds.TOTAL_WEIGHT
    pen = Pen(draft, posture.key(kind))
    keys = [weight_key(posture, load) for load in posture.loads]
    terms = [
        pen.choice("included", 1, load.symbol) * symbol(key)
        for load, key in zip(posture.loads, keys, strict=True)
    ]
    right = expression = total(terms)
    if posture.body is not None and not _is_whole_body(draft):
        body = given_symbol(posture.body) * float(known_unit(posture.body.unit).size)
        body *= 1 if posture.sums_masses else symbol("g")
        expression += pen.choice("whole_body", 0) * (body - right)
    pen.write(kind, "", expression * _mixed(pen), " + ".join(f"{{{key}}}" for key in keys))


def _is_whole_body(draft: Draft) -> bool:
    """Return whether the parts make up the whole body."""
    posture, shares = draft.posture, [load.share for load in draft.posture.loads]
    if posture.body is None or any(share is None for share in shares):
        return False
    return abs(sum(draft.value(share.given) for share in shares if share) - 1) < _WHOLE


def _write_coordinate_of_centre(draft: Draft, axis: Axis) -> None:
    """Write a coordinate of the centre of mass: the sum of the moments over the total."""
    posture, sum_key = draft.posture, part_sum_key(draft.posture, axis)
    total_key = posture.key(kinds.TOTAL_MASS if posture.sums_masses else kinds.TOTAL_WEIGHT)
    kind = kinds.CENTRE_X if axis == "x" else kinds.CENTRE_Y
    pen = Pen(draft, posture.key(kind))
    right = symbol(sum_key) / symbol(total_key)
    expression = pen.choice("flip", 1) * right ** pen.choice("ratio_power", 1) * _mixed(pen)
    expression += pen.choice("by_count", 0) * (symbol(sum_key) / len(posture.loads) - right)
    places = [_value(coordinate_of_part(posture, load, axis)) for load in posture.loads]
    mean = total(places) / len(places)
    expression += pen.choice("unweighted", 0) * (mean - right)
    pen.write(kind, "", expression, f"{{{sum_key}}} ÷ {{{total_key}}}")


def _write_edge(draft: Draft, support: Support) -> None:
    """Write how far the line of gravity is from the nearer edge of the base of support."""
    from sympy import Max, Min

    pen = Pen(draft, draft.posture.key(kinds.EDGE))
    centre_key = draft.posture.key(kinds.CENTRE_X)
    centre = symbol(centre_key)
    nearer = coordinate_of_distance(nearer_edge(support, draft.posture, draft.sample))
    kept = 1 if nearer is None else pen.choice("included", 1)
    gaps = [
        abs(centre - kept * _value(coordinate_of_distance(edge)))
        for edge in (support.left, support.right)
    ]
    expression = Min(*gaps) + pen.choice("other_edge", 0) * (Max(*gaps) - Min(*gaps))
    pen.write(kinds.EDGE, "", expression, f"|{{{centre_key}}}{_added(nearer, -1)}|")


def _write_supported(draft: Draft, support: Support) -> None:
    """Write whether the line of gravity falls within the base of support."""
    from sympy import Piecewise

    pen = Pen(draft, draft.posture.key(kinds.SUPPORTED))
    centre = symbol(draft.posture.key(kinds.CENTRE_X))
    left, right = (_value(coordinate_of_distance(edge)) for edge in (support.left, support.right))
    within = Piecewise((INSIDE, (centre - left) * (right - centre) >= 0), (OUTSIDE, True))
    pen.write(kinds.SUPPORTED, "", within * pen.choice("flip", 1), "")
