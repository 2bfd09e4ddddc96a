"""The sums of components at a point, in symbols, right and with one thing wrong in one term."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from leverstep.statics.acting import Force
from leverstep.statics.step import Step

from student.edits import Edit, Made
from student.lines import OTHER_FUNCTION, Factor, Formula, Term
from student.moves import Move
from student.right import NOTHING, line_factor, trig
from student.sheet import Sheet

AXES = {"equation_x": "x", "equation_y": "y"}
"""The axis along which a line of each kind adds up all components."""


def balance(sheet: Sheet, step: Step) -> Formula:
    """Return the components of all forces along an axis as the terms of a sum."""
    axis, values, terms = AXES[step.kind.name], sheet.reference, []
    for force in sheet.posture.forces:
        share = sheet.share(force, axis)
        if abs(share) < NOTHING:
            continue
        if force.magnitude is not None:
            part, sign = sheet.part(force, axis)
            terms.append(Term((line_factor(values, part, "size"),), force.symbol, sign))
            continue
        factors: tuple[Factor, ...] = (line_factor(values, force.symbol, "size"),)
        if force.direction.angle is not None:
            factors += (trig(sheet, sheet.lying(force, axis), values, 1),)
        terms.append(Term(factors, force.symbol, 1 if share > 0 else -1))
    return Formula(tuple(terms))


def balance_moves(sheet: Sheet, step: Step) -> list[Move]:
    """Return every wrong move in such a sum, each in the term of one force."""
    found = []
    for term in balance(sheet, step).terms:
        for made in _moves(sheet.forces[term.about], term):
            name = made.slip, step.key, term.about, made.other, made.variant
            found.append(Move(*name, made.edit))
    return found


def _moves(force: Force, term: Term) -> Iterator[Made]:
    yield Made("sign-in-the-balance", partial(Formula.flipped, about=force.symbol))
    yield Made("left-out-of-the-balance", partial(Formula.without, about=force.symbol))
    angle = next((factor for factor in term.factors if factor.role == "angle"), None)
    if angle is not None:
        swapped = replace(angle, function=OTHER_FUNCTION[angle.function])
        yield Made("sine-for-cosine", _with(force.symbol, (term.factors[0], swapped)))
        yield Made("angle-ignored", _with(force.symbol, term.factors[:1]))


def _with(about: str, factors: tuple[Factor, ...]) -> Edit:
    """Return the edit that gives the term of a force other factors."""

    def edit(line: Formula) -> Formula:
        terms = (replace(t, factors=factors) if t.about == about else t for t in line.terms)
        return replace(line, terms=tuple(terms))

    return edit
