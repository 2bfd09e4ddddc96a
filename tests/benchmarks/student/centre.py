"""The wrong moves on the way to a centre of mass, and at the base of support."""

# ruff: noqa: ARG001 (every kind of line is worked from the same three)

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial

from leverstep.statics.step import Step

from student.centre_right import axis_of, edge_terms, part_place, weighed_by_mass
from student.early import turned, unit_left
from student.edits import Made, inverted, put, shaped, times, whole
from student.lines import Factor, Formula, Term, product
from student.right import MASSES, METRES
from student.sheet import Sheet

Values = Mapping[str, float]


def point(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of a coordinate that is reached from the point before."""
    one = next(p for p in sheet.posture.body_points if p.suffix == step.about)
    yield Made("point-before-left-out", partial(Formula.without, about="start"), step.about)
    yield Made("way-to-a-point-turned-round", partial(Formula.flipped, about="way"), step.about)
    for made in turned(sheet, step, values):
        slip = "angle-of-a-part-left-out" if made.slip == "angle-ignored" else made.slip
        yield Made(slip, made.edit, made.about, made.other, made.variant)
    unit = one.length.given.unit
    if unit != "m":
        left = Factor(unit, METRES[unit], "unit", -1)
        symbol = one.length.symbol
        yield Made("metres-missing", partial(_way_times, factor=left), symbol)


def _way_times(formula: Formula, factor: Factor) -> Formula:
    terms = (
        Term((*t.factors, factor), t.about, t.sign) if t.about == "way" else t
        for t in formula.terms
    )
    return Formula(tuple(terms))


def part(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of a share of the way between two points."""
    about, force = step.about, sheet.forces[step.about]
    share = sheet.numbers[force.between.fraction.key]
    yield Made("fraction-from-the-farther-end", put("share", 1 - share), about)
    yield Made("middle-of-the-part", put("share", 0.5), about)
    yield Made("end-of-the-part", put("share", 1.0), about)
    for name, other in force.between.rows:
        yield Made("another-row", put("share", other), about, name)
    start = partial(Formula.without, about="start")
    back = partial(Formula.without, about="back")
    yield Made("start-of-the-part-left-out", start, about)
    yield Made("nearer-end-not-subtracted", back, about)
    yield Made("fraction-of-the-far-coordinate", lambda f: back(start(f)), about)


def _weighing(sheet: Sheet, slip: str, about: str = "") -> Iterator[Made]:
    for power in (1, -1):
        factor = Factor("g", sheet.constants["g"], "weighing", power)
        yield Made(slip, times(factor), about, variant=str(power))


def moment(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of a mass or a weight times a coordinate."""
    force, about, axis = sheet.forces[step.about], step.about, axis_of(sheet, step)
    own = part_place(sheet, force, axis)
    yield Made("side-of-a-part", shaped(sign=-1), about)
    yield Made("divided-by-the-place", inverted("arm"), about)
    for other in sheet.posture.loads:
        place = part_place(sheet, other, axis)
        if other is not force and place is not None and place != own:
            yield Made("place-of-another-part", _at(place, values), about, other.symbol)
    across = part_place(sheet, force, "y" if axis == "x" else "x")
    if across is not None and {"x_c", "y_c"} <= sheet.steps.keys():
        yield Made("other-coordinate-of-the-part", _at(across, values), about)
    if own is not None and own[0] in sheet.distances:
        yield from unit_left(sheet, own[0])
    yield from _weighing(sheet, "unit-of-mass-or-weight")
    given = force.magnitude
    if not weighed_by_mass(sheet) and (given.unit in MASSES or force.share is not None):
        mass = values[force.symbol] / sheet.constants["g"]
        yield Made("kilograms-in-moment", put("size", mass), about)


def _at(place: tuple[str, int], values: Values):
    """Return the edit that puts another coordinate in, with its own sign."""
    key, sign = place

    def edit(formula: Formula) -> Formula:
        (term,) = formula.terms
        changed = formula.changed("arm", key=key, value=values[key])
        return Formula((Term(changed.terms[0].factors, term.about, sign),))

    return edit


def products(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of the sum of the products."""
    for term in sheet.formula(step.key, values).terms:
        drop = partial(Formula.without, about=term.about)
        yield Made("part-left-out-of-the-sum", drop, term.about)
        yield Made("side-of-a-part", partial(Formula.flipped, about=term.about), term.about)
    yield from _weighing(sheet, "unit-of-mass-or-weight")


def total(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of the total of the parts."""
    right = sheet.formula(step.key, values)
    for term in right.terms:
        drop = partial(Formula.without, about=term.about)
        yield Made("part-left-out-of-the-total", drop, term.about)
    body = sheet.posture.body
    if body is not None and body.unit == "kg":
        mass = sheet.numbers[body.key] * (1 if weighed_by_mass(sheet) else sheet.constants["g"])
        if abs(mass / right.value - 1) > 0.02:
            yield Made("whole-body-for-the-parts", whole(product(Factor(body.key, mass, "given"))))
    yield from _weighing(sheet, "unit-of-mass-or-weight")


def centre(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of a sum over a total."""
    axis = step.kind.name[-1]
    places = [part_place(sheet, one, axis) for one in sheet.posture.loads]
    coordinates = [0.0 if p is None else p[1] * values[p[0]] for p in places]
    count = float(len(coordinates))
    mean = product(Factor("mean", sum(coordinates) / count, "copied"))
    yield Made("plain-mean-of-places", whole(mean))
    yield Made("divided-by-how-many", put("size", count))
    yield Made("centre-upside-down", shaped(upside_down=True))
    yield Made("side-of-the-centre", shaped(sign=-1))
    yield from _weighing(sheet, "masses-and-weights-mixed")


def edge(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of the distance to the nearer edge."""
    yield Made("farther-edge", whole(edge_terms(sheet, values)[1]))
    if len(sheet.formula(step.key, values).terms) > 1:
        alone = product(Factor("x_c", abs(values["x_c"]), "copied"))
        yield Made("edge-left-out", whole(alone))


def supported(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the other of the two words."""
    yield Made("inside-for-outside", lambda f: f.changed("word", value=-f.value))
