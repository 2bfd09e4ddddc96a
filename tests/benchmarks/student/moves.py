"""The wrong moves of the student: each is made at one line, and described by one slip of `hints/`.

A move is what a slip's own words say, done to a line of `student.lines`. Nothing here is read from
the tutor's algebra; of the catalogue only the ids and the kinds of lines of each slip are used.
"""

# ruff: noqa: ARG001 (every kind of line is worked from the same three)

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache, lru_cache, partial

from helpers.material import CATALOGUE
from leverstep.statics.step import Step

from student import centre, early, further, late, sources
from student.edits import Edit, Made, shaped, whole
from student.lines import WORDS, Factor, Formula, product
from student.right import SIGNED
from student.sheet import Sheet

Values = Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Move:
    """A wrong move: the id of its slip, the line, what it is about, what was taken by mistake.

    `about` is the symbol of a force, distance or part of the reaction, "" for the whole line;
    `variant` tells apart the ways to make one slip at one place. Two moves with the same name are
    the same move, made on other values.
    """

    slip: str
    key: str
    about: str
    other: str
    variant: str
    edit: Edit

    @property
    def name(self) -> tuple[str, str, str, str, str]:
        """Return what tells the move from all others of a sheet."""
        return (self.slip, self.key, self.about, self.other, self.variant)


@cache
def catalogue() -> dict[str, frozenset[str]]:
    """Return the kinds of lines of each slip of the catalogue, by its id."""
    return {slip.id: frozenset(slip.kinds) for slip in CATALOGUE.slips.values()}


def moves(sheet: Sheet, key: str, values: Values) -> list[Move]:
    """Return every wrong move at a line, resting on the values before it."""
    return list(_moves_from(sheet, key, tuple(values.items())))


@lru_cache(maxsize=64)
def _moves_from(sheet: Sheet, key: str, before: tuple[tuple[str, float], ...]) -> list[Move]:
    """Return the moves, which are asked for again with each of them that is made."""
    values = dict(before)
    step = sheet.steps[key]
    sheet = sheet.at(step)
    found: list[Move] = []
    for make in (
        *_MOVES.get(step.kind.name, ()),
        _size_with_minus,
        _ten,
        _rounded_early,
        _other_line,
        _miscopied,
    ):
        for made in make(sheet, step, values):
            if step.kind.name in catalogue()[made.slip]:
                found.append(Move(made.slip, key, made.about, made.other, made.variant, made.edit))
    return found


def _size_with_minus(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    if step.kind.name not in (*SIGNED, *WORDS) and not step.kind.name.startswith("effort"):
        is_needless = step.kind.name in catalogue()["needless-minus"]
        slip = "needless-minus" if is_needless else "side-as-minus"
        yield Made(slip, shaped(sign=-1), step.about)


def _ten(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    for tens in (-3, -2, -1, 1, 2, 3):
        yield Made("power-of-ten", shaped(tens=tens), step.about, variant=str(tens))


def _rounded_early(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Cut all the earlier values to two figures, or only one of them."""
    line = sheet.formula(step.key, values)
    used = dict.fromkeys(f.key for f in line.all_factors if f.key in values)
    cuts = [tuple(used)] + [(key,) for key in used if len(used) > 1]
    for cut in cuts if used else []:
        yield Made("rounded-early", partial(_cut, keys=cut), variant=" ".join(cut))


def _cut(formula: Formula, keys: tuple[str, ...]) -> Formula:
    """Return a line with the values of some keys cut to two figures."""

    def cut(factors: tuple[Factor, ...]) -> tuple[Factor, ...]:
        two = ((f, float(f"{f.value:.2g}")) for f in factors)
        return tuple(replace(f, value=value) if f.key in keys else f for f, value in two)

    terms = tuple(replace(term, factors=cut(term.factors)) for term in formula.terms)
    return replace(formula, terms=terms, factors=cut(formula.factors))


def _miscopied(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Copy a given with two digits beside each other swapped."""
    line = sheet.formula(step.key, values)
    given = {one.key: one for one in sheet.question.givens}
    for key in dict.fromkeys(f.key for f in line.all_factors if f.key in given):
        number = sheet.question.written(given[key]).split(" ")[0].rstrip("°")
        places = [place for place, sign in enumerate(number) if sign.isdigit()]
        for one, other in itertools.pairwise(places):
            signs = list(number)
            signs[one], signs[other] = signs[other], signs[one]
            copy = "".join(signs)
            if "/" in copy:
                continue
            if copy != number and float(copy) > 0 and not re.match(r"0\d", copy):
                taken = partial(_taken, key=key, value=float(copy))
                yield Made("digits-miscopied", taken, other=key, variant=copy)


def _taken(formula: Formula, key: str, value: float) -> Formula:
    """Return a line with another number for one key."""

    def taken(factors: tuple[Factor, ...]) -> tuple[Factor, ...]:
        return tuple(replace(f, value=value) if f.key == key else f for f in factors)

    terms = tuple(replace(term, factors=taken(term.factors)) for term in formula.terms)
    return replace(formula, terms=terms, factors=taken(formula.factors))


def _other_line(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Copy the value of another line: one written before, or a later one of the same kind."""
    for other in sheet.steps.values():
        alike = other.kind.name in catalogue()["value-of-another-line"] and other.unit == step.unit
        if alike and other.key != step.key:
            value = values.get(other.key, sheet.reference[other.key])
            if other.key not in values and other.kind is not step.kind:
                continue
            copied = whole(product(Factor(other.key, value, "copied")))
            is_same = other.kind is step.kind and other.mark != step.mark
            slip = "value-of-another-posture" if is_same else "value-of-another-line"
            yield Made(slip, copied, other=other.key)


_MOVES: dict[str, tuple[Callable[[Sheet, Step, Values], Iterator[Made]], ...]] = {
    "segment_mass": (early.share_of_body,),
    "body_weight": (early.conversion,),
    "share": (early.share_of_body,),
    "force": (early.conversion,),
    "distance": (early.metres,),
    "fraction": (early.share_of_length,),
    "distance_sum": (early.summed,),
    "distance_by_angle": (early.by_angle,),
    "attachment_angle": (early.ends,),
    "angle": (early.angle,),
    "arm": (early.arm,),
    "component": (early.turned,),
    "component_x": (early.part,),
    "component_y": (early.part,),
    "component_axial": (early.part,),
    "component_transverse": (early.part,),
    "moment": (late.moment,),
    "handed_force": (late.handed_on,),
    "handed_moment": (late.handed_on,),
    "couple_moment": (late.couple,),
    "sum": (late.moment_sum,),
    "net_moment": (late.net_moment,),
    "effort": (late.effort,),
    "effort_component": (late.effort,),
    "arm_found": (late.place_found,),
    "distance_found": (late.place_found,),
    "angle_found": (late.angle_found,),
    "mass": (late.mass,),
    "advantage": (late.advantage,),
    "arm_advantage": (late.arm_advantage,),
    "arm_ratio": (late.arm_ratio,),
    "reaction_x": (late.reaction,),
    "reaction_y": (late.reaction,),
    "reaction_axial": (late.reaction,),
    "reaction_transverse": (late.reaction,),
    "axial_effect": (late.effect,),
    "reaction_size": (late.size,),
    "reaction_angle": (late.reaction_angle,),
    "class": (late.lever_class,),
    "reaction_direction": (late.direction,),
    "pair_force": (late.pair_force,),
    "resultant_x": (late.reaction,),
    "resultant_y": (late.reaction,),
    "resultant_size": (late.size,),
    "resultant_angle": (late.reaction_angle,),
    "resultant_direction": (late.direction,),
    "point_x": (centre.point,),
    "point_y": (centre.point,),
    "part_x": (centre.part,),
    "part_y": (centre.part,),
    "weight_moment": (centre.moment,),
    "mass_moment": (centre.moment,),
    "weight_moment_sum": (centre.products,),
    "mass_moment_sum": (centre.products,),
    "total_weight": (centre.total,),
    "total_mass": (centre.total,),
    "centre_x": (centre.centre,),
    "centre_y": (centre.centre,),
    "edge": (centre.edge,),
    "supported": (centre.supported,),
    **dict.fromkeys(further.RIGHT, (further.slips,)),
    **dict.fromkeys(sources.RIGHT, (sources.slips,)),
}
"""What makes the moves of a line of each kind."""
