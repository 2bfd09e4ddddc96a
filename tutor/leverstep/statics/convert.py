"""Steps that bring what is given to newtons and metres."""

from __future__ import annotations

from collections.abc import Sequence

from leverstep.statics import kinds
from leverstep.statics.acting import Force, Share
from leverstep.statics.choices import CONVENTIONS
from leverstep.statics.points import Distance, Given, Rows
from leverstep.statics.posture import Relation
from leverstep.statics.step import Draft, Expression, Pen, given_symbol, symbol
from leverstep.statics.units import TABLE, BookFactor, known_unit


def factor_for(sign: str) -> BookFactor | None:
    """Return the factor that brings a unit to newtons, kilograms or metres; None for N, kg, m."""
    return TABLE[sign].factor if sign in TABLE else None


def book_size(sign: str) -> float:
    """Return what one of a unit is in newtons, kilograms or metres, as worked lines convert it."""
    factor = factor_for(sign)
    if factor is None:
        return 1.0
    constant = factor.constant
    size = CONVENTIONS[constant].values[0] if isinstance(constant, str) else constant
    return factor.size(size)


def constants_used(signs: set[str]) -> set[str]:
    """Return the names of the conventions that these units bring in."""
    found = {f.constant for sign in signs if (f := factor_for(sign)) is not None}
    names = {name for name in found if isinstance(name, str)}
    if "lbf" in signs:
        names.add("pounds_per_kilogram")
    return names | {"g"}


def write_forces(draft: Draft) -> None:
    """Write each known force in newtons, by way of its share of the body where it is one."""
    for force in draft.posture.forces:
        if force.before or force.source is not None:
            continue  # found before, or where its source is
        if force.share is not None and force.share.of == "weight":
            _write_share_of_weight(draft, force, force.share)
            continue
        if force.share is not None:
            _write_segment_mass(draft, force, force.share)
        if force.magnitude is not None:
            _write_force(draft, force, force.magnitude)
    if any(one.relation is Relation.BODY_WEIGHTS for one in draft.posture.further):
        _write_body_weight(draft)


def _body_mass(draft: Draft, pen: Pen, about: str) -> tuple[Expression, str]:
    """Return the body's mass in kilograms, and how it is written."""
    body = draft.posture.body
    assert body is not None, "shares of a body need its mass"
    size, mark = conversion(pen, body.unit, about)
    mass = given_symbol(body) * size * _as_if_pounds(pen, body, about)
    return mass, f"{{{body.key}}}{mark}"


def conversion(pen: Pen, unit: str, about: str) -> tuple[Expression, str]:
    """Return what converts a unit, with the choice of how, and how it is written behind a given."""
    factor = factor_for(unit)
    if factor is None:
        return 1, ""
    size = symbol(factor.constant) if isinstance(factor.constant, str) else factor.constant
    exponent = pen.choice("conversion", 1, about)
    return size ** (-exponent if factor.operation == "÷" else exponent), factor.written


def _as_if_pounds(pen: Pen, given: Given, about: str) -> Expression:
    """Return the factor of a given converted from pounds of mass that it is not in (right: 1)."""
    if given.unit not in ("kg", "lbf"):
        return 1
    return symbol("pounds_per_kilogram") ** -pen.choice("mass_conversion", 0, about)


def used_share(pen: Pen, given: Given, rows: Rows, about: str) -> Expression:
    """Return a share with the choice of another one: half, the rest, none, or another row's."""
    share = given_symbol(given)
    for name, value in rows:
        share += pen.choice("other_row", 0, about, name) * (value - given_symbol(given))
    constant = pen.choice("fraction_constant", 0, about)
    return constant + pen.choice("fraction_multiple", 1, about) * share


def _write_segment_mass(draft: Draft, force: Force, share: Share) -> None:
    """Write the mass of a segment as its share of the body's."""
    assert force.magnitude is not None
    pen = Pen(draft, force.magnitude.key)
    mass, written = _body_mass(draft, pen, force.symbol)
    expression = used_share(pen, share.given, share.rows, force.symbol) * mass
    written = f"{{{share.given.key}}} × {written}"
    pen.write(kinds.SEGMENT_MASS, force.symbol, expression, written)


def _write_share_of_weight(draft: Draft, force: Force, share: Share) -> None:
    """Write the body's weight, and a force as its share of that."""
    assert force.magnitude is not None
    weight = force.magnitude.key
    _write_body_weight(draft)
    pen = Pen(draft, force.symbol)
    expression = used_share(pen, share.given, share.rows, force.symbol) * symbol(weight)
    written = f"{{{share.given.key}}} × {{{weight}}}"
    pen.write(kinds.SHARE, force.symbol, expression, written)


def _write_body_weight(draft: Draft) -> None:
    """Write the body's weight, once."""
    key = draft.posture.body_weight_key
    if not draft.has(key):
        pen = Pen(draft, key)
        mass, written = _body_mass(draft, pen, "")
        used = gravity(pen, "") ** pen.choice("gravity", 1)
        pen.write(kinds.BODY_WEIGHT, "", mass * used, f"{written} × {{g}}")


def gravity(pen: Pen, about: str) -> Expression:
    """Return g, with the choice of 10 in its place."""
    return symbol("g") + pen.choice("gravity_ten", 0, about) * (10 - symbol("g"))


def _write_force(draft: Draft, force: Force, given: Given) -> None:
    pen = Pen(draft, force.symbol)
    is_force = not given.is_mass
    if draft.posture.sums_masses:  # the weight has no line: its mass goes in
        weight = given_symbol(given) * symbol("g")
        pen.write(kinds.FORCE, force.symbol, weight, f"{{{given.key}}} × {{g}}", asked=False)
        return
    size, mark = conversion(pen, given.unit, force.symbol)
    expression, written = given_symbol(given) * size, f"{{{given.key}}}{mark}"
    expression *= _as_if_pounds(pen, given, force.symbol)
    exponent = pen.choice("gravity", 0 if is_force else 1, force.symbol)
    expression *= gravity(pen, force.symbol) ** exponent
    if not is_force:
        written += " × {g}"
    pen.write(kinds.FORCE, force.symbol, expression, written)


def has_mass(force: Force) -> bool:
    """Return whether a known force is given by a mass, its own or a share of the body's weight."""
    given, share = force.magnitude, force.share
    return given is not None and (given.is_mass or (share is not None and share.of == "weight"))


def sizes_in_use(pen: Pen, forces: Sequence[Force]) -> dict[str, Expression]:
    """Return the sizes of forces by symbol, with the choices of what may go in for newtons.

    That is the mass of one of them, or of all, or one as it is given in another unit.
    """
    masses = [force for force in forces if has_mass(force)]
    all_masses = pen.choice("mass_used", 0) if len(masses) > 1 else 0
    sizes = {}
    for force in forces:
        size, given = symbol(force.symbol), force.magnitude
        sizes[force.symbol] = size
        if force in masses:
            one_mass = pen.choice("mass_used", 0, force.symbol)
            sizes[force.symbol] *= symbol("g") ** -(one_mass + all_masses)
        if given is not None and given.unit not in ("N", "kg"):
            used = pen.choice("given_used", 0, force.symbol)
            sizes[force.symbol] += used * (given_symbol(given) - size)
    return sizes


def write_measured(draft: Draft, distance: Distance) -> None:
    """Write a distance that is given as a length, in metres."""
    pen = Pen(draft, distance.symbol)
    given = distance.given
    written = f"{{{given.key}}}"
    factor = factor_for(given.unit)
    if factor is None:
        pen.write(kinds.DISTANCE, distance.symbol, given_symbol(given), written, asked=False)
        return
    size = pen.choice("factor", float(known_unit(given.unit).size), distance.symbol)
    exponent = pen.choice("conversion", 1, distance.symbol)
    expression = given_symbol(given) * size**exponent
    pen.write(kinds.DISTANCE, distance.symbol, expression, written + factor.written)


def write_fraction(draft: Draft, distance: Distance) -> None:
    """Write a distance that is a fraction of another one."""
    pen = Pen(draft, distance.symbol)
    about = distance.symbol
    assert distance.of is not None
    whole = symbol(distance.of)
    base = whole
    for other in draft.posture.distances:
        if other.is_measured and other.symbol != distance.of:
            base += pen.choice("other_length", 0, about, other.symbol) * (
                symbol(other.symbol) - whole
            )
    fraction = used_share(pen, distance.given, distance.rows, about)
    length = base ** pen.choice("length_power", 1, about)
    expression = fraction * length * unit_left(pen, draft, distance)
    written = f"{{{distance.given.key}}} × {{{distance.of}}}"
    pen.write(kinds.FRACTION, about, expression, written)


def unit_left(pen: Pen, draft: Draft, distance: Distance) -> Expression:
    """Return the factor by which a distance is off where its unit is left as given (right: 1)."""
    if distance.sought:
        return 1
    unit, *others = _units_beneath(draft, distance)
    if others or factor_for(unit) is None:
        return 1
    left = pen.choice("unit_left", 0, distance.symbol)
    return (1 / known_unit(unit).size) ** left


def _units_beneath(draft: Draft, distance: Distance) -> set[str]:
    """Return the units of the measured lengths that a distance is worked out from."""
    if not distance.rests_on:
        return {distance.given.unit}
    parts = (d for d in draft.posture.distances if d.symbol in distance.rests_on)
    return set().union(*(_units_beneath(draft, part) for part in parts))
