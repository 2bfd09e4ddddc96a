"""What an entry says at one step: a value in the step's unit, an equation, or a choice of words."""

from __future__ import annotations

import re
from collections.abc import Mapping
from contextlib import suppress
from typing import NamedTuple

from leverstep.course.problem import FIGURES
from leverstep.course.symbols import spelt
from leverstep.course.way_words import ARROWS
from leverstep.entry.amount import (
    Amount,
    evaluate,
    spelled,
    unit_size,
    without_units,
    written_units,
)
from leverstep.entry.answers_in_words import read_answer
from leverstep.entry.axis_labels import Labelled, after_axis_label
from leverstep.entry.bearing_typed import bearing_typed
from leverstep.entry.body_weight_words import BODY_WEIGHT
from leverstep.entry.grammar import read_line
from leverstep.entry.tokens import check_length
from leverstep.entry.tree import (
    Measured,
    Name,
    Negative,
    Tree,
    Unreadable,
    is_arithmetic,
    is_plain,
    names_in,
    precision,
)
from leverstep.statics import kinds
from leverstep.statics.step import Step
from leverstep.statics.units import (
    ANGLE,
    FORCE,
    LENGTH,
    MASS,
    MASS_LENGTH,
    MOMENT,
    NUMBER,
    POWER,
    SPEED,
    STANDARD_GRAVITY,
    STRESS,
    Dimension,
    LineUnit,
    known_unit,
    unit_of_line,
)

PERCENT = "%"
"""The unit of a line that asks for a percentage."""

_DIMENSIONS: dict[Dimension, str] = {
    FORCE: "force",
    MOMENT: "moment",
    LENGTH: "length",
    MASS: "mass",
    ANGLE: "angle",
    NUMBER: "number",
    MASS_LENGTH: "mass moment",
    STRESS: "stress",
    POWER: "power",
    SPEED: "speed",
}

_AXES = {kinds.EQUATION_X: "x", kinds.EQUATION_Y: "y"}
"""The axis that an equation of forces is along."""

_WEIGHED: dict[Dimension, Dimension] = {
    FORCE: MASS, MASS: FORCE, MOMENT: MASS_LENGTH, MASS_LENGTH: MOMENT,
}  # fmt: skip
"""What may stand for a dimension in a line where masses and weights come to the same."""


class Reading(NamedTuple):
    """A value as typed, in the unit of its step.

    `half_digit` is half a unit of the last digit typed, 0 for arithmetic and fractions; `figures`
    its significant figures, None where it is exact. `converted` is the unit it was typed in, where
    that is not the step's, and `size` how large it is in the step's. `mass_unit` is set where a
    mass stands for a force; the value is then the number as typed, and `size` its kilograms.
    `gravity` is the exponent of g that is still missing where a mass rightly stands for a weight,
    or a weight for a mass.
    `bearing` is that of a direction typed as one, in degrees anticlockwise from the right.
    `sides` holds the trees of an equation; `tree` the side that was worked out from numbers, or the
    number itself, and `worked` what it comes to. `as_number` is what it comes to with every given
    as the number that it is written with, where the unit comes from its symbols.
    """

    value: float = 0.0
    half_digit: float = 0.0
    figures: int | None = None
    converted: str = ""
    size: float = 1.0
    mass_unit: str = ""
    gravity: int = 0
    sides: tuple[Tree, ...] = ()
    tree: Tree | None = None
    worked: float = 0.0
    as_number: float | None = None
    bearing: float | None = None


def read_entry(text: str, step: Step, known: Mapping[str, Amount]) -> Reading:
    """Return what a text says at a step.

    Args:
        text: what was typed.
        step: the step it was typed at.
        known: the value of each symbol that may stand in it; every symbol of the problem that has
            none yet is in it too, with the value nan.

    Raises:
        Unreadable: where it says nothing that can be judged there.
    """
    check_length(text)
    if step.kind.words is kinds.WordChoice.DIRECTION:
        return _read_way(text)
    text = without_lead(text)
    if step.kind.words is not None:
        return Reading(read_answer(text, step.kind.words))
    if step.kind is kinds.BODY_WEIGHTS:
        text = _multiple(text, step.unit)
    elif step.kind is kinds.RATIO:
        text = _TIMES.sub("", text)
    axis = _AXES.get(step.kind, "")
    label = after_axis_label(text) if axis else Labelled("", text)
    if label.axis not in ("", axis):
        raise Unreadable("other_direction")
    if axis and "=" not in label.text:
        raise Unreadable("forces_need_equals_sign")
    sides = read_line(label.text, known)
    if step.kind.is_equation:
        if len(sides) != 2 and axis:
            raise Unreadable("forces_need_equals_sign")
        if len(sides) != 2:
            raise Unreadable("one_equals_sign")
        return Reading(sides=sides)
    return _read_value(_after_symbol(sides, step), step, known)


def _lead(arrow: str) -> re.Pattern[str]:
    """Return a pattern for the marks of a conclusion, words or arrows, before an entry."""
    return re.compile(
        rf"\s*(?:(?:(?:so|thus|hence|therefore)\b[,:]?|∴|{arrow})\s*)*", re.IGNORECASE
    )


_ARROWS = re.compile(r"(?:[=-]>|[→⇒⟹⟶➜](?!\s*:))")  # `→:` is a label
_LEAD = _lead(_ARROWS.pattern)
_LEAD_OF_WAY = _lead("[=-]>|⇒")


def without_lead(text: str) -> str:
    """Return an entry with blanks for a conclusion's mark before it, such as `=>`, `∴` or `so`.

    An arrow further on is an equals sign. Each character stays in its place.
    """
    lead = _LEAD.match(text)
    end = 0 if lead is None else lead.end()
    return " " * end + _ARROWS.sub(lambda arrow: "=".ljust(len(arrow[0])), text[end:])


def _read_way(text: str) -> Reading:
    """Return a direction, before which an arrow to the right may be a part of it or conclude.

    Raises:
        Unreadable: where it is none, or another one with that arrow than without it.
    """
    said = _LEAD_OF_WAY.sub("", text, count=1)
    rest = said.removeprefix("→")
    found: set[tuple[float, float | None]] = set()
    for one in (said,) if not ARROWS.keys().isdisjoint(rest) else (said, rest):
        with suppress(Unreadable):
            found.add((read_answer(one, kinds.WordChoice.DIRECTION), bearing_typed(one)))
    if len(found) > 1:
        raise Unreadable("no_direction")
    if not found:
        read_answer(said, kinds.WordChoice.DIRECTION)  # it says why it is none
    ((way, bearing),) = found
    return Reading(way, bearing=bearing)


def after_symbol(text: str, step: Step) -> str:
    """Return what is typed on a line without the symbol of its step and `=` before it."""
    name, equals, said = text.partition("=")
    is_named = equals and "=" not in said and spelt(name.strip()) == step.key
    return (said if is_named and not step.kind.is_equation else text).strip()


def in_unit_named(text: str, step: Step) -> str:
    """Return what is typed on a line with the unit behind it that the line asks for."""
    return f"{text.rstrip()} {step.unit}".rstrip()


def with_symbol(text: str, step: Step) -> str:
    """Return what is typed on a line with the symbol of its step before it; words stay as said."""
    is_named = spelt(text.partition("=")[0].strip()) == step.key
    return f"{step.key} = {text}" if step.kind.is_number and not is_named else text


def _after_symbol(sides: tuple[Tree, ...], step: Step) -> tuple[Tree, ...]:
    """Return the sides of `W_l = …` without the symbol, which must be the step's own."""
    if len(sides) == 2 and isinstance(sides[1], Name) and not isinstance(sides[0], Name):
        sides = (sides[1], sides[0])
    first = sides[0]
    if len(sides) == 1 or not isinstance(first, Name):
        return sides
    if first.symbol != step.key:
        raise Unreadable("another_line", first.place, name=first.symbol, here=step.key)
    return sides[1:]


def _read_value(sides: tuple[Tree, ...], step: Step, known: Mapping[str, Amount]) -> Reading:
    """Return the value of the last side, after a look whether the sides agree."""
    wanted = unit_of_line(step.unit)
    reading = _measure_at(sides[-1], step, known)
    if is_arithmetic(sides[-1]):
        reading = reading._replace(as_number=_in_numbers(sides[-1], known).value)
    # `0.606*14.3 = 8.67 in = 0.2202 m` ends in its own unit, as the line itself may; a unit behind
    # the last side may belong to all: `1236/16 = 77.25 N/cm²`.
    sizes = {1.0, 1 / wanted.size, *(_size_of(side) / wanted.size for side in sides)}
    for side in sides[:-1]:
        slack = 0.01 * abs(reading.value) + reading.half_digit
        there = [*_values_of_side(side, known), *_weights_of_side(side, wanted, known)]
        others = [other * size for other in there for size in sizes]
        nearest = min(others, key=lambda other: abs(other - reading.value))
        if abs(nearest - reading.value) > slack:
            raise Unreadable("sides_differ")
        if is_arithmetic(side):
            reading = reading._replace(tree=side, worked=nearest)
        reading = _as_fine(reading, side, nearest, known)
    return reading


def _measure_at(tree: Tree, step: Step, known: Mapping[str, Amount]) -> Reading:
    """Return the value of a tree at a step, of a mass for a weight where that is the same there."""
    wanted = unit_of_line(step.unit)
    if step.kind.weighed:
        weighed_unit = LineUnit(step.unit, _WEIGHED[wanted.dimension], 1.0)
        try:
            other = _measure(tree, weighed_unit, known)
        except Unreadable:
            pass
        else:
            if not other.mass_unit:
                unit = "kg" if wanted.dimension in (FORCE, MASS) else "kg·m"
                weighed = step.unit != unit
                return other._replace(gravity=1 if weighed else -1, converted=unit)
    return _measure(tree, wanted, known)


def _as_fine(reading: Reading, side: Tree, value: float, known: Mapping[str, Amount]) -> Reading:
    """Return a reading as fine as what stands before it: `35.05 cm = 0.35 m` has four figures.

    Arithmetic says what it comes to exactly.
    """
    half_digit, figures = precision(side)
    bare = _in_numbers(side, known).value
    is_coarse = reading.figures is not None and reading.figures < FIGURES
    if not is_coarse or (figures is not None and figures < FIGURES):
        return reading
    by = abs(value / bare) if bare else 1.0
    return reading._replace(value=value, half_digit=half_digit * by, figures=figures)


def _values_of_side(tree: Tree, known: Mapping[str, Amount]) -> list[float]:
    """Return what a middle side such as `12.5*9.81` may come to, its unit left to the end."""
    bare = _in_numbers(tree, known).value
    try:
        return [bare, evaluate(tree, known).value]
    except Unreadable:
        return [bare]


def _weights_of_side(tree: Tree, wanted: LineUnit, known: Mapping[str, Amount]) -> list[float]:
    """Return what a mass such as `9.6 lb` before a force weighs; none for any other side."""
    if wanted.dimension != FORCE or not isinstance(tree, Measured):
        return []
    amount = evaluate(tree, known)
    return [amount.value * STANDARD_GRAVITY] if amount.dimension == MASS else []


def _in_numbers(tree: Tree, known: Mapping[str, Amount]) -> Amount:
    """Return the value of a tree in bare numbers, the unit left to the end of the line."""
    named = {name.symbol for name in names_in(tree)}
    return evaluate(
        without_units(tree), {key: known[key].as_number for key in named if key in known}
    )


def _size_of(tree: Tree) -> float:
    units = list(written_units(tree))
    return unit_size(units[-1].units).value if units else 1.0


def _measure(tree: Tree, wanted: LineUnit, known: Mapping[str, Amount]) -> Reading:
    """Return the value of a tree in the unit wanted."""
    units = list(written_units(tree))
    label = units[-1] if units and _ends_with(tree, units[-1]) else None
    amount = _with_label(tree, label, len(units), wanted.dimension, known)
    if wanted.dimension in (POWER, MOMENT):
        amount = amount.without_radians
    is_ratio = wanted.sign == PERCENT and is_arithmetic(tree)  # `R/W_b`, told without %
    if amount.dimension == wanted.dimension and not (amount.bare and wanted.sign and not is_ratio):
        return _reading(tree, amount.value, label, wanted)
    if amount.bare and amount.dimension == NUMBER:
        return _nothing_at_all(tree, amount, wanted)
    if wanted.dimension == FORCE and amount.dimension == MASS:
        return _mass_for_force(tree, amount, label, known)
    if wanted.dimension == MOMENT and amount.dimension == MASS_LENGTH:
        if label is not None and isinstance(tree, Measured | Negative) and _is_pound_foot(label):
            return _reading(tree, amount.value * STANDARD_GRAVITY, label, wanted)
        raise Unreadable("mass_times_length")
    raise _other_dimension(amount.dimension, wanted.dimension)


def _nothing_at_all(tree: Tree, amount: Amount, wanted: LineUnit) -> Reading:
    """Return a number without a unit, which may only be 0: none of anything is none in any unit."""
    if amount.value == 0:
        return Reading(0.0, *precision(tree), tree=tree)
    named = "percentage" if wanted.sign == PERCENT else _DIMENSIONS[wanted.dimension]
    raise Unreadable("no_unit", wanted=named)


def _mass_for_force(
    tree: Tree, amount: Amount, label: Measured | None, known: Mapping[str, Amount]
) -> Reading:
    """Return a mass that was typed where a force is wanted, in the unit of its label."""
    if label is None:
        raise Unreadable("comes_to_mass")
    is_alone = len(list(written_units(tree))) == 1
    value = _in_numbers(tree, known).value if is_alone else amount.value
    sign = known_unit(label.units[-1][0]).sign
    kilograms = float(known_unit(sign).size)
    return Reading(value, *precision(tree), size=kilograms, mass_unit=sign, tree=tree, worked=value)


def _with_label(
    tree: Tree,
    label: Measured | None,
    units: int,
    wanted: Dimension,
    known: Mapping[str, Amount],
) -> Amount:
    """Return the amount of a tree; a unit at its very end may stand for the whole line."""
    if is_plain(tree):
        return evaluate(tree, known)
    whole = None
    if label is not None:
        size = unit_size(label.units)
        if units == 1 or size.dimension == wanted:
            bare = _in_numbers(tree, known)
            if bare.dimension == NUMBER:
                whole = Amount(bare.value * size.value, size.dimension, bare=False)
            elif bare.dimension == size.dimension == ANGLE:
                whole = bare
    try:
        carried = evaluate(tree, known)
    except Unreadable:
        if whole is None:
            raise
        return whole
    return whole if whole is not None and carried.dimension != wanted else carried


def _ends_with(tree: Tree, end: Measured) -> bool:
    """Return whether a term is the last thing written in a tree."""
    while tree is not end:
        match tree:
            case Negative():
                tree = tree.term
            case _ if hasattr(tree, "right"):
                tree = tree.right
            case _:
                return False
    return True


def _reading(tree: Tree, value: float, label: Measured | None, wanted: LineUnit) -> Reading:
    converted = ""
    size = 1.0
    if label is not None:
        worth = unit_size(label.units)
        as_moment = worth.dimension == MASS_LENGTH and wanted.dimension == MOMENT
        size = worth.value * (STANDARD_GRAVITY if as_moment else 1.0) / wanted.size
        other = worth.dimension == wanted.dimension and (abs(size - 1) > 1e-12 or _is_joule(label))
        if (other or as_moment) and len(list(written_units(tree))) == 1:
            converted = spelled(label.units)
    half_digit, figures = precision(tree)
    return Reading(
        value / wanted.size, half_digit * abs(size), figures, converted, size if converted else 1.0,
        tree=tree, worked=value / wanted.size,
    )  # fmt: skip


def _is_pound_foot(label: Measured) -> bool:
    """Return whether a unit is pounds times a length, where the pound is meant as a force."""
    return any(known_unit(spelling).sign == "lb" for spelling, _ in label.units)


def _is_joule(label: Measured) -> bool:
    return [known_unit(spelling).sign for spelling, _ in label.units] == ["J"]


def _other_dimension(found: Dimension, wanted: Dimension) -> Unreadable:
    if found not in _DIMENSIONS:
        return Unreadable("unit_does_not_fit", wanted=_DIMENSIONS[wanted])
    return Unreadable("other_dimension", quantity=_DIMENSIONS[found], wanted=_DIMENSIONS[wanted])


_OF_BODY_WEIGHT = re.compile(
    rf"(?<=[\d%)])\s*(?:times|[x×*·])?\s*(?:of\s+)?(?:the\s+)?(?:W_?b|{BODY_WEIGHT})\s*$",
    re.IGNORECASE,
)
"""What may stand behind a multiple of body weight: `2.81 times W_b`, `281 % BW`."""

_TIMES = re.compile(
    r"(?<=\d)\s*times(?:\s+as\s+(?:hard|large|much|great|strong|big|far|fast))?\s*$", re.IGNORECASE
)
"""What may stand behind any ratio: `1.5 times as hard`."""


def _multiple(text: str, unit: str) -> str:
    """Return a multiple of body weight without the words behind it, in % where that is asked."""
    said = _TIMES.sub("", _OF_BODY_WEIGHT.sub("", text))
    is_times = said != text and unit == PERCENT and PERCENT not in said
    return in_percent(said.rpartition("=")[2]) if is_times else said


def in_percent(said: str) -> str:
    """Return how many times is said, in per cent: a number stays one, with its figures."""
    is_number = re.fullmatch(r"\s*[0-9]+(?:[.,][0-9]+)?\s*", said)
    return f"{said.strip()}e2 %" if is_number else f"({said})*100 %"
