"""What a wrong move does to a line: the small changes that all moves are made of."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from student.lines import Factor, Formula, Term

Edit = Callable[[Formula], Formula]


@dataclass(frozen=True, slots=True)
class Made:
    """A slip at the line that it is made on: its id, what it does, and what it is about.

    `other` is what was taken by mistake; `variant` tells apart the ways to make it at one place.
    """

    slip: str
    edit: Edit
    about: str = ""
    other: str = ""
    variant: str = ""


def whole(formula: Formula) -> Edit:
    """Return the edit that puts another line in place of one."""
    return lambda _: formula


def without(*roles: str) -> Edit:
    """Return the edit that leaves factors out."""

    def edit(formula: Formula) -> Formula:
        for one in roles:
            formula = formula.changed(one, power=0)
        return formula

    return edit


def inverted(one: str, then_without: str = "") -> Edit:
    """Return the edit that divides by a factor instead of multiplying, or the reverse."""

    def edit(formula: Formula) -> Formula:
        factor = formula.factor(one)
        formula = formula if factor is None else formula.changed(one, power=-factor.power)
        return formula.changed(then_without, power=0) if then_without else formula

    return edit


def put(one: str, value: float, key: str = "") -> Edit:
    """Return the edit that puts another value (and key) in place of a factor's."""
    fields: dict[str, object] = {"value": value}
    if key:
        fields["key"] = key
    return lambda formula: formula.changed(one, **fields)


def times(factor: Factor) -> Edit:
    """Return the edit that adds a factor."""
    return lambda formula: formula.times(factor)


def shaped(**fields: object) -> Edit:
    """Return the edit that changes what is done with the terms."""
    return lambda formula: replace(formula, **fields)  # type: ignore[arg-type]


def in_term_of(line: Formula, about: str, edit: Edit) -> Formula:
    """Return a line with the term of one force or part edited as a line of its own."""
    terms: list[Term] = []
    for term in line.terms:
        edited = edit(Formula((term,))) if term.about == about else Formula((term,))
        terms += [replace(t, factors=(*t.factors, *edited.factors)) for t in edited.terms]
    return replace(line, terms=tuple(terms))
