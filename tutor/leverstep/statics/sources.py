"""Steps to the size of a known force from where it comes: a muscle's area, a band, inertia.

`newtons` has the size of any known force by plain numbers.
"""

from __future__ import annotations

from leverstep.statics import kinds
from leverstep.statics.acting import (
    BandSize,
    Force,
    InertiaSize,
    MuscleSize,
    SharedSize,
    SizeSource,
)
from leverstep.statics.choices import CONVENTIONS
from leverstep.statics.convert import book_size, conversion
from leverstep.statics.points import Numbers
from leverstep.statics.posture import Posture
from leverstep.statics.step import Draft, Expression, Pen, given_symbol, symbol
from leverstep.statics.turn import arm_key
from leverstep.statics.units import metres

_FACTOR_OF_AREAS = {("cm²", "MPa"): 1, ("mm²", "N/cm²"): -1}
"""The exponent of 100 mm²/cm² that brings an area times a specific tension to newtons."""


def write_sources(draft: Draft) -> None:
    """Write the size of each force that comes from somewhere."""
    for force in draft.posture.forces:
        if draft.has(force.symbol):
            continue
        match force.source:
            case MuscleSize():
                _write_muscle(draft, force, force.source)
            case BandSize():
                _write_band(draft, force, force.source)
            case InertiaSize():
                _write_inertia(draft, force, force.source)
            case SharedSize():
                _write_rule(draft, force, force.source)


def newtons(posture: Posture, force: Force, numbers: Numbers) -> float:
    """Return the size of a known force in newtons, by plain numbers."""
    if force.source is not None:
        return newtons_of(force.source, numbers)
    given, share = force.magnitude, 1.0
    if force.share is not None:
        share, given = numbers[force.share.given.key], posture.body
    assert given is not None, f"{force.symbol} is known"
    size = numbers[given.key] * share * book_size(given.unit)
    return size * CONVENTIONS["g"].values[0] if given.is_mass else size


def newtons_of(source: SizeSource, numbers: Numbers) -> float:
    """Return the size of a force in newtons by plain numbers, as worked lines convert."""
    match source:
        case MuscleSize(area, tension):
            exponent = _FACTOR_OF_AREAS.get((area.unit, tension.unit), 0)
            return numbers[area.key] * numbers[tension.key] * 100.0**exponent
        case BandSize(stiffness, length, rest):
            stretch = (numbers[length.key] - numbers[rest.key]) * metres(length.unit)
            return numbers[stiffness.key] * book_size(stiffness.unit) * stretch
        case InertiaSize():
            mass = numbers[source.mass.key] * book_size(source.mass.unit)
            return mass * numbers[source.acceleration.key]
        case SharedSize():
            raise ValueError("what is shared is found with the effort")


def _write_muscle(draft: Draft, force: Force, source: MuscleSize) -> None:
    """Write area times specific tension; which factor is due depends on the two units."""
    pen, about = Pen(draft, force.symbol), force.symbol
    exponent = _FACTOR_OF_AREAS.get((source.area.unit, source.tension.unit), 0)
    tension = given_symbol(source.tension) ** pen.choice("ratio_power", 1, about)
    amiss = pen.choice("area_factor", 0, about)
    expression = given_symbol(source.area) * tension * 100 ** (exponent + amiss)
    mark = {1: " × 100 mm²/cm²", -1: " ÷ 100 mm²/cm²", 0: ""}[exponent]
    written = f"{{{source.area.key}}}{mark} × {{{source.tension.key}}}"
    pen.write(kinds.MUSCLE_FORCE, about, expression, written)


def _write_band(draft: Draft, force: Force, source: BandSize) -> None:
    """Write how far a band is stretched, then its force."""
    pen, about = Pen(draft, force.stretch_key), force.symbol
    rest = pen.choice("included", 1, about) * given_symbol(source.rest)
    rest *= 1 - 2 * pen.choice("added", 0, about)
    size, mark = conversion(pen, source.length.unit, about)
    written = f"({{{source.length.key}}} − {{{source.rest.key}}}){mark}"
    pen.write(kinds.STRETCH, about, (given_symbol(source.length) - rest) * size, written)
    pen = Pen(draft, force.symbol)
    size, mark = conversion(pen, source.stiffness.unit, about)
    stretch = symbol(force.stretch_key) ** pen.choice("ratio_power", 1, about)
    written = f"{{{source.stiffness.key}}}{mark} × {{{force.stretch_key}}}"
    pen.write(kinds.BAND_FORCE, about, given_symbol(source.stiffness) * size * stretch, written)


def _write_inertia(draft: Draft, force: Force, source: InertiaSize) -> None:
    pen, about = Pen(draft, force.symbol), force.symbol
    size, mark = conversion(pen, source.mass.unit, about)
    acceleration = given_symbol(source.acceleration)
    used = acceleration + pen.choice("gravity_taken", 0, about) * (symbol("g") - acceleration)
    expression = given_symbol(source.mass) * size * used
    expression *= symbol("g") ** pen.choice("gravity", 0, about)
    written = f"{{{source.mass.key}}}{mark} × {{{source.acceleration.key}}}"
    pen.write(kinds.INERTIA, about, expression, written)


def _write_rule(draft: Draft, force: Force, source: SharedSize) -> None:
    """Write how many times the effort a muscle pulls with, by the two areas."""
    if source.other is None:
        return
    pen, about = Pen(draft, force.rule_key), force.symbol
    ratio = given_symbol(source.own) / given_symbol(source.other)
    ratio **= pen.choice("ratio_power", 1, about)
    written = f"{{{source.own.key}}} ÷ {{{source.other.key}}}"
    pen.write(kinds.SHARE_RULE, about, ratio, written)


def shared_arms(pen: Pen, draft: Draft) -> tuple[Expression, str]:
    """Return what the arm of the effort is more for those that share with it, and how written."""
    more: Expression = 0
    written = ""
    for force in draft.posture.sharing:
        ratio = _rule(pen, force)
        kept = pen.choice("included", 1, force.symbol)
        more += kept * ratio * symbol(arm_key(draft, force))
        written += f" + {{{force.rule_key}}} × {{{arm_key(draft, force)}}}"
    return more, written


def write_shared(draft: Draft, effort: Force) -> None:
    """Write the force of each muscle that shares with the effort."""
    for force in draft.posture.sharing:
        pen = Pen(draft, force.symbol)
        expression = _rule(pen, force) * symbol(effort.symbol)
        written = f"{{{force.rule_key}}} × {{{effort.symbol}}}"
        pen.write(kinds.SHARED_FORCE, force.symbol, expression, written)


def _rule(pen: Pen, force: Force) -> Expression:
    """Return how many times the effort a muscle pulls with, with the choice of the reverse."""
    return symbol(force.rule_key) ** pen.choice("ratio_power", 1, force.symbol)
