"""The wrong moves on the way to newtons, metres, angles, arms and parts of forces."""

# ruff: noqa: ARG001 (every kind of line is worked from the same three)

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from functools import partial

from leverstep.statics.step import Step

from student.edits import Made, inverted, put, shaped, times, whole, without
from student.lines import OTHER_FUNCTION, Factor, Formula, Term, product
from student.right import AXIS_OF, MASSES, METRES, NOTHING, converted
from student.sheet import Sheet

Values = Mapping[str, float]


def conversion(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips on the way from a given to newtons."""
    force = sheet.forces.get(step.about)
    given = sheet.posture.body if force is None else force.magnitude
    assert given is not None
    unit, about = given.unit, step.about
    if unit == "lb":
        yield Made("pounds-left", without("conversion", "gravity"), about)
    if unit in ("lbf", "kN"):
        yield Made("force-unit-left", without("conversion"), about)
    if unit == "kg":
        yield Made("kilograms-left", without("gravity"), about)
    if unit in MASSES:
        yield Made("ten-for-gravity", put("gravity", 10.0), about)
    else:
        extra = Factor("g", sheet.constants["g"], "extra")
        yield Made("force-times-gravity", times(extra), about)
    if unit in MASSES:
        yield Made("divided-by-gravity", inverted("gravity"), about)
    yield from _as_if_pounds(sheet, unit, about)
    if unit in MASSES and unit != "kg":
        yield Made("gravity-forgotten", without("gravity"), about)
        yield Made("conversion-skipped", without("conversion"), about)
        both = inverted("conversion", then_without="gravity")
        yield Made("conversion-upside-down-no-gravity", both, about)
    if unit not in ("kg", "N"):
        yield Made("conversion-upside-down", inverted("conversion"), about)
    if unit == "lbf":
        as_mass = product(
            Factor(given.key, sheet.numbers[given.key], "given"), *converted(sheet, "lb")
        )
        yield Made("pound-force-as-mass", whole(as_mass), about)


def _as_if_pounds(sheet: Sheet, unit: str, about: str) -> Iterator[Made]:
    """Yield the slip of kilograms that are turned into kilograms or pounds."""
    if unit == "kg":
        per_pound = sheet.constants["pounds_per_kilogram"]
        for power in (-1, 1):
            extra = Factor("pounds_per_kilogram", per_pound, "extra", power)
            yield Made("kilograms-taken-for-pounds", times(extra), about, variant=str(power))


def share_of_body(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of a mass or a weight that is a share of the body's."""
    force = sheet.forces[step.about]
    assert force.share is not None
    share = sheet.numbers[force.share.given.key]
    yield Made("share-forgotten", without("share"), step.about)
    yield Made("rest-of-the-body", put("share", 1 - share), step.about)
    for name, other in force.share.rows:
        yield Made("another-row", put("share", other), step.about, name)
    if step.kind.name == "segment_mass":
        assert sheet.posture.body is not None
        yield from _as_if_pounds(sheet, sheet.posture.body.unit, step.about)
    if step.kind.name == "segment_mass" and sheet.formula(step.key, values).factor("conversion"):
        yield Made("conversion-skipped", without("conversion"), step.about)
        yield Made("conversion-upside-down", inverted("conversion"), step.about)


def metres(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips on the way from a given distance to metres."""
    given, about = sheet.distances[step.about].given, step.about
    number = sheet.numbers[given.key]
    yield Made("unit-of-length-left", without("conversion"), about)
    yield Made("length-conversion-upside-down", inverted("conversion"), about)
    imperial = given.unit in ("in", "ft")
    slip = "other-length-unit" if imperial else "inches-for-centimetres"
    for other in ("mm", "cm", "in", "ft") if imperial else ("in", "ft"):
        if other != given.unit:
            line = product(Factor(given.key, number, "given"), *converted(sheet, other))
            yield Made(slip, whole(line), about, variant=other)
    for size in (1 / 12, 12.0) if imperial else ():
        line = product(Factor(given.key, number, "given"), Factor("12", size, "conversion"))
        yield Made("feet-and-inches", whole(line), about, variant=f"{size:.2f}")


def share_of_length(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of a distance that is a share of another."""
    distance, about = sheet.distances[step.about], step.about
    share = sheet.numbers[distance.given.key]
    yield Made("fraction-forgotten", without("share"), about)
    yield Made("half-the-length", put("share", 0.5), about)
    yield Made("fraction-from-wrong-end", put("share", 1 - share), about)
    yield Made("share-for-the-distance", without("whole"), about)
    for name, other in distance.rows:
        yield Made("another-row", put("share", other), about, name)
    for other in sheet.distances.values():
        if other.is_measured and other.symbol not in (distance.of, about):
            taken = put("whole", values.get(other.symbol, 0.0), other.symbol)
            yield Made("fraction-of-another-length", taken, about, other.symbol)
    yield from unit_left(sheet, about)


def summed(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of a distance that others add up to, or are left of."""
    line, about = sheet.formula(step.key, values), step.about
    for place, term in enumerate(line.terms):
        drop = partial(Formula.without, about=term.about)
        edit = lambda f, drop=drop: _positive(drop(f))  # noqa: E731
        yield Made("part-of-a-distance-left-out", edit, about, term.about)
        if place and line.flipped(term.about).value > 0:
            flip = partial(Formula.flipped, about=term.about)
            yield Made(_other_way(term), flip, about, variant=term.about)
    yield from unit_left(sheet, about)


def by_angle(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of a distance that is a side of a triangle."""
    yield from turned(sheet, step, values)
    yield Made("angle-left-out-of-a-distance", without("angle"), step.about)
    yield from unit_left(sheet, step.about)


def unit_left(sheet: Sheet, symbol: str, power: int = -1) -> Iterator[Made]:
    """Yield the slip of a distance that goes in as it was given, in centimetres or inches."""
    unit = sheet.unit_of(symbol)
    if METRES[unit] != 1:
        yield Made("metres-missing", times(Factor(unit, METRES[unit], "unit", power)), symbol)


# Angles, arms and parts


def turned(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of a line that is a force or a distance times a sine or cosine."""
    turn = sheet.formula(step.key, values).factor("angle")
    if turn is None:
        return
    about = step.about
    other = OTHER_FUNCTION[turn.function]
    yield Made("sine-for-cosine", lambda f: f.changed("angle", function=other), about)
    yield Made("angle-ignored", without("angle"), about)
    yield Made("degrees-as-radians", lambda f: f.changed("angle", radians=True), about)
    yield Made("divided-by-the-function", inverted("angle"), about)
    yield Made("tangent-used", lambda f: f.changed("angle", function="tan"), about)
    for key in _angles_before(sheet, step.key):
        if key != turn.key:
            edit = put("angle", sheet.angle(key, {**sheet.reference, **values}), key)
            yield Made("another-angle", edit, about, key)


def _angles_before(sheet: Sheet, key: str) -> list[str]:
    """Return the keys of the angles that are given, or found on a line before this one."""
    order = list(sheet.steps)
    lines = [k for (kind, _), k in sheet.keys.items() if kind in ("angle", "attachment_angle")]
    given = [given.key for given in sheet.question.givens if given.unit == "deg"]
    return [*given, *(k for k in lines if order.index(k) < order.index(key))]


def arm(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of a moment arm, a distance times a sine or cosine."""
    yield from turned(sheet, step, values)
    yield from unit_left(sheet, sheet.forces[step.about].at.symbol)


def part(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of the part of a force along an axis."""
    yield from turned(sheet, step, values)
    for slip in ("sign-of-a-component", "sign-along-or-across"):
        yield Made(slip, shaped(sign=-1), step.about)
    yield from level_instead(sheet, step, values, (step.about,))


def level_instead(
    sheet: Sheet, step: Step, values: Values, forces: Iterable[str], sign: int = 1
) -> Iterator[Made]:
    """Yield the slip of a component along x or y in place of one along or across the segment."""
    level = {"a": "x", "t": "y"}.get(AXIS_OF[step.kind.name])
    if level is None or sheet.posture.inclination is None:
        return
    shares = {about: sheet.share(sheet.forces[about], level) for about in forces}
    if len(shares) == 1 and any(abs(abs(one) - 0.5) > 0.5 - NOTHING for one in shares.values()):
        return  # the whole force, or none of it
    parts = sum(values[about] * share for about, share in shares.items())
    if abs(parts) > NOTHING:
        copied = whole(product(Factor("", sign * parts, "copied")))
        yield Made("horizontal-for-along", copied, step.about)


def angle(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of an angle that two others add up to, or that one alone leads to."""
    line, about = sheet.formula(step.key, values), step.about
    angles = [term for term in line.terms if term.about != "constant"]
    for term in angles:
        if len(angles) > 1:
            yield from _angle_of_two(line, term, about)
        yield Made("angle-as-given", whole(product(*term.factors)), about, term.about)
    yield Made("angle-to-the-other-line", shaped(taken_from=90.0), about)
    yield Made("obtuse-angle", shaped(taken_from=180.0), about)
    yield from measured_on(about)


def _angle_of_two(line: Formula, term: Term, about: str) -> Iterator[Made]:
    """Yield the slips of one of the two angles that another comes of."""
    if 0 < line.flipped(term.about).value < 180:
        flip = partial(Formula.flipped, about=term.about)
        yield Made(_other_way(term), flip, about, variant=term.about)
    drop = partial(Formula.without, about=term.about)
    yield Made("one-angle-left-out", lambda f: _positive(drop(f)), about, term.about)


def measured_on(about: str) -> Iterator[Made]:
    """Yield the slip of an angle that is measured on past a straight line."""
    yield Made("angle-measured-on-round", shaped(taken_from=360.0), about, variant="360")
    on = shaped(taken_from=-180.0, sign=-1)
    yield Made("angle-measured-on-round", on, about, variant="180")


def _other_way(term: Term) -> str:
    """Return the slip of a part that goes in with the other sign."""
    return "part-subtracted" if term.sign > 0 else "part-added"


def _positive(formula: Formula) -> Formula:
    """Return a line whose value a student writes as a size."""
    return replace(formula, sign=-1) if formula.value < 0 else formula


def ends(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of the angle of a muscle from its two ends."""
    line, about = sheet.formula(step.key, values), step.about
    second = next((term for term in line.terms if term.sign < 0), line.terms[-1])
    yield Made(_other_way(second), partial(Formula.flipped, about=second.about), about)
    for term in line.terms:
        yield Made(
            "one-end-left-out", partial(Formula.without, about=term.about), about, term.about
        )
    yield Made("ratio-upside-down", shaped(upside_down=True), about)
    yield Made("angle-in-radians", shaped(radians=True), about)
    yield Made("obtuse-angle", shaped(taken_from=180.0), about)
