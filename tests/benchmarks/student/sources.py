"""What the student works out of where a known force comes from, and the slips of such lines."""

# ruff: noqa: ARG001 (every kind of line is worked from the same three)

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial
from typing import TYPE_CHECKING

from leverstep.statics.acting import BandSize, InertiaSize, MuscleSize, SharedSize
from leverstep.statics.points import Given
from leverstep.statics.step import Step

from student.edits import Made, inverted, put, shaped, times, without
from student.lines import Factor, Formula, Term, product

if TYPE_CHECKING:
    from student.sheet import Sheet

Values = Mapping[str, float]

PER_CM = {"cm": -1, "N/cm": 1}
"""Units that go to metres by 100, and whether that multiplies."""
AREAS = {("cm²", "MPa"): 1, ("mm²", "N/cm²"): -1}
"""Units of an area and a specific tension that need 100 mm²/cm², and whether that multiplies."""


def _given(sheet: Sheet, given: Given, role: str) -> Factor:
    return Factor(given.key, sheet.numbers[given.key], role)


def _to_metres(given: Given) -> tuple[Factor, ...]:
    power = PER_CM.get(given.unit)
    return () if power is None else (Factor("100", 100.0, "conversion", power),)


def muscle_force(sheet: Sheet, step: Step, values: Values) -> Formula:
    source = sheet.forces[step.about].source
    assert isinstance(source, MuscleSize)
    power = AREAS.get((source.area.unit, source.tension.unit), 0)
    factor = (Factor("100", 100.0, "conversion", power),) if power else ()
    return product(
        _given(sheet, source.area, "given"), *factor, _given(sheet, source.tension, "by")
    )


def stretch(sheet: Sheet, step: Step, values: Values) -> Formula:
    source = sheet.forces[step.about].source
    assert isinstance(source, BandSize)
    long, rest = (_given(sheet, one, "end") for one in (source.length, source.rest))
    terms = Term((long,), long.key), Term((rest,), rest.key, -1)
    return Formula(terms, _to_metres(source.length))


def band_force(sheet: Sheet, step: Step, values: Values) -> Formula:
    force = sheet.forces[step.about]
    assert isinstance(force.source, BandSize)
    stiffness = force.source.stiffness
    reach = Factor(force.stretch_key, values[force.stretch_key], "upper")
    return product(_given(sheet, stiffness, "given"), *_to_metres(stiffness), reach)


def inertia(sheet: Sheet, step: Step, values: Values) -> Formula:
    source = sheet.forces[step.about].source
    assert isinstance(source, InertiaSize)
    assert source.mass.unit == "kg", "the student speeds up kilograms"
    return product(_given(sheet, source.mass, "given"), _given(sheet, source.acceleration, "by"))


def share_rule(sheet: Sheet, step: Step, values: Values) -> Formula:
    source = sheet.forces[step.about].source
    assert isinstance(source, SharedSize)
    assert source.other is not None, "a rule of two areas has a line"
    below = Factor(source.other.key, sheet.numbers[source.other.key], "below", -1)
    return product(_given(sheet, source.own, "given"), below)


def rule_factor(sheet: Sheet, symbol: str, values: Values) -> Factor:
    """Return how many times the effort a muscle pulls with that shares with it, as a factor."""
    source = sheet.forces[symbol].source
    assert isinstance(source, SharedSize)
    key = sheet.keys.get(("share_rule", symbol))
    return _given(sheet, source.own, "rule") if key is None else Factor(key, values[key], "ruled")


def shared_force(sheet: Sheet, step: Step, values: Values) -> Formula:
    effort = sheet.posture.effort
    assert effort is not None
    size = Factor(effort.symbol, values[effort.symbol], "size")
    return product(rule_factor(sheet, step.about, values), size)


def shared_effort(sheet: Sheet, step: Step, values: Values) -> Formula:
    """Return the effort that balances the known moments with all that share with it."""
    arms = [Term((_arm(sheet, step.about, values),), step.about)]
    for force in sheet.posture.sharing:
        arm = _arm(sheet, force.symbol, values)
        arms.append(Term((rule_factor(sheet, force.symbol, values), arm), force.symbol))
    return Formula(tuple(arms), (sheet.total(values),), shape="size", power=-1)


def _arm(sheet: Sheet, symbol: str, values: Values) -> Factor:
    key = sheet.arm_key(sheet.forces[symbol])
    return Factor(key, values[key], "arm")


def effort_slips(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of an effort that shares with others, beside those of the sum."""
    for force in sheet.posture.sharing:
        alone = partial(Formula.without, about=force.symbol)
        yield Made("one-of-two-muscles-forgotten", alone, force.symbol)
        rule = rule_factor(sheet, force.symbol, values).role
        yield Made("rule-upside-down", inverted(rule), force.symbol)
    yield Made("arm-multiplied", shaped(power=1), step.about)
    yield Made("arm-left-out-of-moment", shaped(power=0), step.about)


RIGHT = {
    "share_rule": share_rule,
    "shared_force": shared_force,
    "muscle_force": muscle_force,
    "stretch": stretch,
    "band_force": band_force,
    "inertia": inertia,
}
"""How a line of each kind is worked."""


def slips(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of a line of any of these kinds."""
    line, about = sheet.formula(step.key, values), step.about
    match step.kind.name:
        case "muscle_force":
            yield Made("divided-by-specific-tension", inverted("by"), about)
            for power in (-1, 1):
                hundred = times(Factor("100", 100.0, "extra", power))
                yield Made("units-of-area-mixed", hundred, about, variant=str(power))
        case "stretch":
            rest = line.terms[1].about
            yield Made("length-for-stretch", partial(Formula.without, about=rest), about)
            yield Made("rest-length-added", partial(Formula.flipped, about=rest), about)
            if line.factors:
                yield Made("unit-of-length-left", without("conversion"), about)
                yield Made("length-conversion-upside-down", inverted("conversion"), about)
        case "band_force":
            yield Made("divided-by-stretch", inverted("upper"), about)
            if line.factor("conversion"):
                yield Made("stiffness-unit-left", without("conversion"), about)
                yield Made("stiffness-upside-down", inverted("conversion"), about)
        case "share_rule":
            yield Made("rule-upside-down", shaped(upside_down=True), about)
        case "shared_force":
            rule = "rule" if line.factor("rule") else "ruled"
            yield Made("rule-upside-down", inverted(rule), about)
        case "inertia":
            gravity = sheet.constants["g"]
            yield Made("gravity-for-acceleration", put("by", gravity, "g"), about)
            yield Made("weight-times-acceleration", times(Factor("g", gravity, "extra")), about)
