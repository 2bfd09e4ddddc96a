"""What the student works out from what was found: rightly, and with each slip of such lines."""

# ruff: noqa: ARG001 (every kind of line is worked from the same three)

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial
from typing import TYPE_CHECKING

from leverstep.statics.posture import Further
from leverstep.statics.step import Step

from student.edits import Made, inverted, put, shaped, whole, without
from student.lines import Factor, Formula, Term, product

if TYPE_CHECKING:
    from student.sheet import Sheet

Values = Mapping[str, float]

PER_UNIT = {"lbf": "newtons_per_pound", "kgf": "newtons_per_kilogram_force"}
"""The constants of units of force."""


def _about(sheet: Sheet, step: Step) -> Further:
    return next(one for one in sheet.posture.further if one.symbol == step.about)


def _sized(sheet: Sheet, key: str, values: Values, role: str, power: int = 1) -> Factor:
    """Return the size of an earlier line as a factor; a reaction may have one part alone."""
    if key == sheet.key("R") and key not in values:
        across, upward = map(sheet.key, ("R_x", "R_y"))
        key = upward if upward in values else across
    return Factor(key, abs(values[key]), role, power)


def _given(sheet: Sheet, further: Further, role: str = "given", power: int = 1) -> Factor:
    assert further.given is not None
    return Factor(further.given.key, sheet.numbers[further.given.key], role, power)


_TO_METRES = {"cm": (100.0, -1), "mm": (1000.0, -1), "in": (0.0254, 1), "ft": (0.3048, 1)}


def _unit(further: Further) -> str:
    assert further.given is not None
    return further.given.unit


def stress(sheet: Sheet, step: Step, values: Values) -> Formula:
    further = _about(sheet, step)
    factors = [_sized(sheet, further.of, values, "size"), _given(sheet, further, "area", -1)]
    if _unit(further) == "cm²":
        factors.append(Factor("100", 100.0, "conversion", -1))
    return product(*factors)


def body_weights(sheet: Sheet, step: Step, values: Values) -> Formula:
    further = _about(sheet, step)
    assert sheet.posture.body is not None
    weight = _sized(sheet, "W" + sheet.posture.body.key[1:], values, "weight", -1)
    percent = (Factor("100", 100.0, "percent"),) if further.unit else ()
    return product(_sized(sheet, further.of, values, "size"), weight, *percent)


def other_unit(sheet: Sheet, step: Step, values: Values) -> Formula:
    further = _about(sheet, step)
    name = PER_UNIT.get(further.unit, "")
    one = sheet.constants.get(name, 1000.0)
    return product(
        _sized(sheet, further.of, values, "size"), Factor(name or "1000", one, "conversion", -1)
    )


def friction_needed(sheet: Sheet, step: Step, values: Values) -> Formula:
    of = _about(sheet, step).of
    is_reaction = of == sheet.key("R")
    across, upward = map(sheet.key, ("R_x", "R_y") if is_reaction else (f"{of}x", f"{of}y"))
    return product(
        _sized(sheet, across, values, "size"), _sized(sheet, upward, values, "pressing", -1)
    )


def friction_enough(sheet: Sheet, step: Step, values: Values) -> Formula:
    """Return 1 where it holds, -1 where it slips."""
    further = _about(sheet, step)
    holds = values[further.of] <= _given(sheet, further).value
    return product(Factor("", 1.0 if holds else -1.0, "word"))


def part_shared(sheet: Sheet, step: Step, values: Values) -> Formula:
    further = _about(sheet, step)
    size = _sized(sheet, further.of, values, "size")
    if not further.others:
        return product(size, _given(sheet, further, "share"))
    areas = [Factor(one.key, sheet.numbers[one.key], "area") for one in further.givens]
    terms = tuple(Term((area,), area.key) for area in areas)
    return Formula(terms, (size, _given(sheet, further, "share")), power=-1)


def power(sheet: Sheet, step: Step, values: Values) -> Formula:
    further = _about(sheet, step)
    factors = [_sized(sheet, further.of, values, "size"), _given(sheet, further)]
    if _unit(further) == "deg/s":
        factors.append(Factor("57.2958", 57.29577951, "conversion", -1))
    return product(*factors)


def force_at_arm(sheet: Sheet, step: Step, values: Values) -> Formula:
    further = _about(sheet, step)
    factors = [_sized(sheet, further.of, values, "size"), _given(sheet, further, "arm", -1)]
    if _unit(further) == "cm":
        factors.append(Factor("100", 100.0, "conversion"))
    return product(*factors)


def moment_sped_up(sheet: Sheet, step: Step, values: Values) -> Formula:
    further = _about(sheet, step)
    (quickly,) = further.others
    factors = [_given(sheet, further), Factor(quickly.key, sheet.numbers[quickly.key], "by")]
    if quickly.unit == "deg/s²":
        factors.append(Factor("57.2958", 57.29577951, "conversion", -1))
    held = Term((Factor(further.of, values[further.of], "moment"),), "held")
    sign = further.turns * sheet.posture.positive
    return Formula((held, Term(tuple(factors), "sped up", sign)))


def _metres(further: Further) -> list[tuple[float, int]]:
    """Return what brings a given length, or one a second, to metres, and whether it divides."""
    unit = _unit(further).removesuffix("/s")
    return [_TO_METRES[unit]] if unit in _TO_METRES else []


def moved(sheet: Sheet, step: Step, values: Values) -> Formula:
    further = _about(sheet, step)
    above, below = (sheet.arm_key(sheet.forces[key]) for key in (further.of, further.over))
    factors = [_given(sheet, further)]
    factors += [Factor(f"{size:g}", size, "conversion", power) for size, power in _metres(further)]
    arms = _sized(sheet, above, values, "upper"), _sized(sheet, below, values, "lower", -1)
    return product(*factors, *arms)


def ratio(sheet: Sheet, step: Step, values: Values) -> Formula:
    further = _about(sheet, step)
    return product(
        _sized(sheet, further.of, values, "upper"), _sized(sheet, further.over, values, "lower", -1)
    )


RIGHT = {
    "stress": stress,
    "body_weights": body_weights,
    "other_unit": other_unit,
    "friction_needed": friction_needed,
    "friction_enough": friction_enough,
    "part_shared": part_shared,
    "moment_sped_up": moment_sped_up,
    "force_at_arm": force_at_arm,
    "power": power,
    "distance_moved": moved,
    "speed": moved,
    "ratio": ratio,
}
"""How a line of each kind is worked."""


def slips(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of a line of any of these kinds."""
    about, line = step.about, sheet.formula(step.key, values)
    yield from _other_forces(sheet, step, values)
    yield from _MADE[step.kind.name](sheet, line, about)


def _other_forces(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    of = _about(sheet, step).of
    for other in sheet.forces if of in (*sheet.forces, sheet.key("R")) else ():
        if other != of and other in values:
            taken = put("size", abs(values[other]), other)
            yield Made("further-from-another-force", taken, step.about, other)


def _of_stress(sheet: Sheet, line: Formula, about: str) -> Iterator[Made]:
    yield Made("area-over-force", shaped(upside_down=True), about)
    if line.factor("conversion"):
        yield Made("area-unit-left", without("conversion"), about)
        yield Made("area-converted-as-length", put("conversion", 10.0), about)
        yield Made("area-conversion-upside-down", inverted("conversion"), about)


def _of_body_weights(sheet: Sheet, line: Formula, about: str) -> Iterator[Made]:
    weight = line.factor("weight")
    assert weight is not None
    mass = weight.value / sheet.constants["g"]
    yield Made("mass-for-body-weight", put("weight", mass, "m_b"), about)
    yield from _upside_down(sheet, line, about)


def _of_other_unit(sheet: Sheet, line: Formula, about: str) -> Iterator[Made]:
    yield Made("newtons-left", without("conversion"), about)
    yield Made("newtons-multiplied", inverted("conversion"), about)


def _of_friction(sheet: Sheet, line: Formula, about: str) -> Iterator[Made]:
    yield from _upside_down(sheet, line, about)
    sides = [factor.value for factor in line.all_factors]
    whole_force = (sides[0] ** 2 + sides[1] ** 2) ** 0.5
    yield Made("friction-over-the-whole", put("pressing", whole_force, "R"), about)


def _of_word(sheet: Sheet, line: Formula, about: str) -> Iterator[Made]:
    yield Made("holds-for-slips", shaped(sign=-1), about)


def _of_part(sheet: Sheet, line: Formula, about: str) -> Iterator[Made]:
    size, share = line.factor("size"), line.factor("share")
    assert size is not None
    assert share is not None
    yield Made("part-not-taken", whole(product(size)), about)
    rest = product(Factor(size.key, size.value - line.value, "size"))
    yield Made("part-of-the-others", whole(rest), about)
    if len(line.terms) > 1:
        own = partial(Formula.without, about=line.terms[0].about)
        yield Made("own-share-not-counted", own, about)


def _of_power(sheet: Sheet, line: Formula, about: str) -> Iterator[Made]:
    if line.factor("conversion"):
        yield Made("degrees-per-second-left", without("conversion"), about)
        yield Made("radians-upside-down", inverted("conversion"), about)


def _of_force_at_arm(sheet: Sheet, line: Formula, about: str) -> Iterator[Made]:
    yield Made("arm-multiplied", _arm_turned, about)
    if line.factor("conversion"):
        yield Made("way-not-in-metres", without("conversion"), about)


def _arm_turned(line: Formula) -> Formula:
    turned = inverted("arm")(line)
    return inverted("conversion")(turned) if turned.factor("conversion") else turned


def _of_sped_up(sheet: Sheet, line: Formula, about: str) -> Iterator[Made]:
    yield Made("sped-up-the-other-way", partial(Formula.flipped, about="sped up"), about)
    yield Made("holding-left-out", partial(Formula.without, about="held"), about)
    yield from _of_power(sheet, line, about)


def _of_moved(sheet: Sheet, line: Formula, about: str) -> Iterator[Made]:
    yield Made("arms-upside-down", _arms_turned, about)
    if line.factor("conversion"):
        yield Made("way-not-in-metres", without("conversion"), about)


def _arms_turned(line: Formula) -> Formula:
    return inverted("upper")(inverted("lower")(line))


def _upside_down(sheet: Sheet, line: Formula, about: str) -> Iterator[Made]:
    """Yield the slip of a ratio turned over; a percentage is that of the ratio turned over."""
    if line.factor("percent"):
        turned = inverted("size")(inverted("weight")(line))
        yield Made("ratio-of-parts-upside-down", whole(turned), about)
    else:
        yield Made("ratio-of-parts-upside-down", shaped(upside_down=True), about)


_MADE = {
    "stress": _of_stress,
    "body_weights": _of_body_weights,
    "other_unit": _of_other_unit,
    "friction_needed": _of_friction,
    "friction_enough": _of_word,
    "part_shared": _of_part,
    "moment_sped_up": _of_sped_up,
    "force_at_arm": _of_force_at_arm,
    "power": _of_power,
    "distance_moved": _of_moved,
    "speed": _of_moved,
    "ratio": _upside_down,
}
