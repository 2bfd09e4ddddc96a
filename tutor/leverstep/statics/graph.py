"""A derivation as plain functions of numbers and choices, one for each step.

Every reference, accepted band, slip and follow-through is a call of these; sympy is used once for
each step, to write its function. A value that stands in place of a step's own cuts off what that
step rests on: a length of 0 does no harm where a force was written that once came from it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Set
from copy import copy
from functools import cached_property, lru_cache

from leverstep.statics import kinds
from leverstep.statics.choices import CONVENTIONS, Choice
from leverstep.statics.posture import Numbers
from leverstep.statics.step import Derivation, Step, symbol

Values = dict[str, float]
"""The value of each step, by key, in the step's unit."""

Changes = tuple[tuple[str, float], ...]
"""Choices and constants that are taken otherwise, by name."""


class Graph:
    """All steps of a derivation, to be evaluated together or one at a time."""

    def __init__(self, derivation: Derivation) -> None:
        self.derivation = derivation
        self.steps = {
            step.key: step for step in derivation.steps if step.kind is not kinds.EQUATION
        }
        self.constants: Mapping[str, float] = {n: c.values[0] for n, c in CONVENTIONS.items()}
        self._places = {
            key: {choice.name: place for place, choice in enumerate(step.choices)}
            for key, step in self.steps.items()
        }
        self._functions: dict[str, tuple[Callable[..., float], list[float]]] = {}

    def taking(self, constants: Mapping[str, float]) -> Graph:
        """Return the same graph with some constants taken otherwise unless a call names them."""
        other = copy(self)
        other.constants = {**self.constants, **constants}
        return other

    def values(
        self,
        numbers: Numbers,
        constants: Mapping[str, float],
        choices: Mapping[Choice, float] | None = None,
        own: Mapping[str, float] | None = None,
        upto: str = "",
    ) -> Values:
        """Return the value of every step, or of those alone that one rests on, and itself.

        Args:
            numbers: the givens, each in its own unit.
            constants: a value for each convention, by name; those left out stand as taken.
            choices: choices that are not made as they should be.
            own: values that stand in place of a step's own, such as what a student wrote.
            upto: the key of the step that all others are left out for, "" for none.

        Raises:
            ArithmeticError: where some step has no finite value (a division by zero).
        """
        own = own or {}
        wanted = self._open(upto, own) | own.keys() | {upto} if upto else self.steps.keys()
        known = {**self.constants, **numbers, **constants, **own}
        changed = {choice.name: value for choice, value in (choices or {}).items()}
        for key, step in self.steps.items():
            if key not in own and key in wanted:
                known[key] = self.value(step, known, changed)
        return {key: known[key] for key in self.steps if key in wanted}

    def value(self, step: Step, known: Mapping[str, float], changed: Mapping[str, float]) -> float:
        """Return the value of one step.

        Args:
            step: one of this graph.
            known: the value of all that it uses, by name.
            changed: choices that are not made as they should be, by name.

        Raises:
            ArithmeticError: where it has no finite value.
        """
        function, chosen = self._functions.get(step.key) or self._made(step)
        if changed:
            places = self._places[step.key]
            for name in changed.keys() & places.keys():
                chosen = chosen.copy()
                chosen[places[name]] = changed[name]
        try:
            value = float(function(*[known[use] for use in step.uses], *chosen))
        except (ValueError, TypeError) as error:  # a negative number to a fractional power
            raise ArithmeticError(str(error)) from error
        if not math.isfinite(value):
            raise ArithmeticError(f"{step.key} has no finite value")
        return value

    def rests_on(self, step: Step, names: Set[str]) -> bool:
        """Return whether one of some choices, constants and steps stands in a step."""
        return not (names.isdisjoint(step.uses) and names.isdisjoint(self._places[step.key]))

    def _made(self, step: Step) -> tuple[Callable[..., float], list[float]]:
        """Return a step as a plain function, made once, and its choices as they should be made.

        The function takes what the step uses, then its choices.
        """
        from sympy import lambdify

        names = [*step.uses, *(choice.name for choice in step.choices)]
        made = lambdify([symbol(name) for name in names], step.expression, modules="math")
        self._functions[step.key] = made, [choice.right for choice in step.choices]
        return self._functions[step.key]

    def probe(
        self,
        key: str,
        numbers: Numbers,
        own: Mapping[str, float],
        constants: Mapping[str, float] | None = None,
    ) -> Probe:
        """Return one step as a quick function of constants and choices.

        Args:
            key: the step.
            numbers: the givens, each in its own unit.
            own: values that stand in place of earlier steps.
            constants: a value for some conventions; the others stand as taken.
        """
        constants = constants or {}
        known = {**self.constants, **numbers, **constants, **own}
        found = self._open(key, own)
        between = tuple(step for step in self.steps.values() if step.key in found)
        varied = frozenset(self.steps[key].uses).union(*(step.uses for step in between))
        return Probe(self, key, known, between, (varied & CONVENTIONS.keys()) - constants.keys())

    def stops(self, key: str, own: Mapping[str, float]) -> Set[str]:
        """Return the steps with a value of their own that a step is worked out from."""
        between = self._open(key, own) | {key}
        used = {use for step in between for use in self.steps[step].uses}
        return used & own.keys()

    def _open(self, key: str, own: Mapping[str, float]) -> Set[str]:
        """Return the steps that a step rests on through steps without a value of their own."""
        found: set[str] = set()
        waiting = [key]
        while waiting:
            for use in self.steps[waiting.pop()].uses:
                if use in self.steps and use not in own and use not in found:
                    found.add(use)
                    waiting.append(use)
        return found


class Probe:
    """One step as a quick function of constants and changed choices.

    `constants` are the names of those that it rests on, without those that are known to be taken.
    What lies between the values known and the step is worked out once for all that leave it alone.
    """

    def __init__(
        self,
        graph: Graph,
        key: str,
        known: Mapping[str, float],
        between: tuple[Step, ...],
        constants: Set[str],
    ) -> None:
        self.constants = constants
        self._graph = graph
        self._step = graph.steps[key]
        self._here = frozenset(choice.name for choice in self._step.choices)
        self._known = known
        self._between = between
        self._names = {choice.name for step in between for choice in step.choices} | self._here
        self._before: dict[Changes, Mapping[str, float]] = {}

    def values(
        self, changes: Iterable[tuple[Choice, float]], ways: Iterable[Mapping[str, float]]
    ) -> list[float]:
        """Return the value of the step for each way of taking its constants.

        Raises:
            ArithmeticError: where some value is not finite.
        """
        placed = self.placed(changes)
        return [self.at((*placed, *way.items())) for way in ways]

    def placed(self, changes: Iterable[tuple[Choice, float]]) -> Changes:
        """Return the changed choices that the step rests on, as `at` takes them."""
        return tuple(
            (choice.name, value) for choice, value in changes if choice.name in self._names
        )

    def at(self, changes: Changes) -> float:
        """Return the value of the step with some choices and constants taken otherwise.

        Raises:
            ArithmeticError: where it has no finite value.
        """
        here = {name: value for name, value in changes if name in self._here}
        before = tuple(change for change in changes if change[0] not in self._here)
        if before not in self._before:
            self._before[before] = self._worked(dict(before))
        return self._graph.value(self._step, self._before[before], here)

    def _worked(self, changed: Mapping[str, float]) -> Mapping[str, float]:
        """Return all that is known once the steps between are worked out.

        Where these have values with nothing changed, only what rests on a change is worked out.
        """
        base = self._as_right if changed else None
        known = {**(base or self._known), **changed}
        touched = set(changed)
        for step in self._between:
            if base is None or self._graph.rests_on(step, touched):
                known[step.key] = self._graph.value(step, known, changed)
                touched.add(step.key)
        return known

    @cached_property
    def _as_right(self) -> Mapping[str, float] | None:
        """Return all that is known with nothing changed; None where some of it has no value."""
        try:
            return self._worked({})
        except ArithmeticError:
            return None


@lru_cache(maxsize=256)
def graph(derivation: Derivation) -> Graph:
    """Return the graph of a derivation, made on first use."""
    return Graph(derivation)
