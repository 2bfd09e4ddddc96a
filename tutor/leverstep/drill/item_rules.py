"""The rules that a drill and each of its items may have: how they are marked, and what is told.

An item has those of its drill but for what it names itself.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from enum import StrEnum
from fractions import Fraction
from typing import Any

from leverstep.course.faults import Reader, is_number
from leverstep.course.plain_text import shown
from leverstep.drill.drill import Counts, Feedback, Hints, Scheme
from leverstep.drill.values import number_in, whole_in
from leverstep.working.guidance import FOR_ALL, Guidance
from leverstep.working.rules import Reasons, Rung

_CHOICES: Mapping[str, type[StrEnum]] = {"feedback": Feedback, "hints": Hints, "reasons": Reasons}
"""The rules that are one of some words."""


def rules_in(reader: Reader, scheme: Scheme) -> Mapping[str, Any]:
    """Return the rules that a table names: the fields of a drill that they are, with their values.

    Args:
        reader: the table of an item.
        scheme: how its drill is marked, for what is not named.
    """
    rules: dict[str, Any] = {}
    for key, kind in _CHOICES.items():
        told = reader.choice(key, list(kind), next(iter(kind)))
        if reader.has(key):
            rules[key] = kind(told)
    if reader.table.get("guidance") in FOR_ALL:
        rules["guidance"] = Guidance(reader.table["guidance"])
    attempts, tolerance = attempts_in(reader), tolerance_in(reader)
    rules |= {} if attempts is None else {"attempts": attempts}
    rules |= {} if tolerance is None else {"tolerance": tolerance}
    calculator = reader.flag("calculator", True)
    rules |= {"calculator": calculator} if reader.has("calculator") else {}
    marked = reader.child("marking", needed=False)
    if marked is not None:
        rules["scheme"] = _costs_in(marked, scheme)
        marked.finish()
    return rules


def scheme_in(reader: Reader | None) -> Scheme:
    """Return how a drill is marked, by the table for that."""
    if reader is None:
        return Scheme()
    counts = Counts(reader.choice("counts", list(Counts), Scheme.counts))
    scheme = replace(_costs_in(reader, Scheme()), counts=counts)
    reader.finish()
    return scheme


def attempts_in(reader: Reader) -> int | None:
    """Return how often a line may be tried, None where that is not said."""
    return whole_in(reader, "attempts", 1, 100)


def tolerance_in(reader: Reader) -> Fraction | None:
    """Return how far off an entry may be, as a share; None where that is not said."""
    reader.asked.add("tolerance")
    if not reader.has("tolerance"):
        return None
    return number_in(reader, "tolerance", Fraction(1, 100), Fraction(1, 10_000), 0.1)


def _costs_in(reader: Reader, usual: Scheme) -> Scheme:
    """Return what tries, hints and following through come to, as usual where it is not said."""
    return replace(
        usual,
        wrong_try=number_in(reader, "wrong_try", usual.wrong_try, 0, 1),
        hint=_hint_costs(reader, usual.hint),
        follow_through=number_in(reader, "follow_through", usual.follow_through, 0, 1),
    )


def _hint_costs(reader: Reader, usual: tuple[Fraction, ...]) -> tuple[Fraction, ...]:
    """Return what each hint of a line costs: one share for all, or a list with one for each."""
    reader.asked.add("hint")
    if not reader.has("hint"):
        return usual
    costs = reader.table["hint"]
    if not isinstance(costs, list):
        return (number_in(reader, "hint", usual[0], 0, 1),) * len(Rung)
    shares = tuple(Fraction(cost) for cost in costs if is_number(cost) and 0 <= cost <= 1)
    if len(shares) == len(costs) == len(Rung):
        return shares
    found = ", ".join(shown(one) for one in costs[:9])
    reader.fault("hint", f"found [{found}]", f"a share from 0 to 1, or {len(Rung)} of them")
    return usual
