"""A derivation as one plain function of numbers and choices.

Every reference, accepted band, slip and follow-through is a call of `Graph.values`; sympy is used
once, to write the function.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Set
from copy import copy
from functools import lru_cache
from typing import Any

from tutor.statics.balance import EQUATION
from tutor.statics.choices import CONVENTIONS, Choice
from tutor.statics.posture import Numbers
from tutor.statics.step import Derivation, symbol

Values = dict[str, float]
"""The value of each step, by key, in the step's unit."""


class Graph:
    """All steps of a derivation, evaluated together."""

    def __init__(self, derivation: Derivation) -> None:
        """Write the function of a derivation. Takes some hundredths of a second; see `graph`."""
        steps = [step for step in derivation.steps if step.kind != EQUATION]
        self.derivation = derivation
        self.keys = tuple(step.key for step in steps)
        self.choices = tuple(choice for step in steps for choice in step.choices)
        givens = dict.fromkeys(given.key for given in derivation.posture.givens())
        names = [*givens, *CONVENTIONS, *(choice.name for choice in self.choices)]
        names += [f"own__{key}" for key in self.keys] + [f"open__{key}" for key in self.keys]
        self._place = {name: place for place, name in enumerate(names)}
        self._givens = tuple(givens)
        self._start = [0.0] * len(names)
        for choice in self.choices:
            self._start[self._place[choice.name]] = choice.right
        self._constants = {name: c.values[0] for name, c in CONVENTIONS.items()}
        for name, value in self._constants.items():
            self._start[self._place[name]] = value
        # Where the value of a step stands that is put in place of its own, and what opens that.
        self._own = {k: (self._place[f"own__{k}"], self._place[f"open__{k}"]) for k in self.keys}
        for _, opened in self._own.values():
            self._start[opened] = 1.0
        self._rests_on: dict[str, frozenset[str]] = {}
        for step in steps:
            before = [self._rests_on[use] for use in step.uses if use in self._rests_on]
            self._rests_on[step.key] = frozenset(step.uses).union(*before)
        self._alone: dict[str, tuple[Callable[..., list[float]], dict[str, int]]] = {}
        pairs = [(symbol(s.key), _own_or_derived(s.key, s.expression)) for s in steps]
        self._function = _plain_function(names, pairs)

    def taking(self, constants: Mapping[str, float]) -> Graph:
        """Return the same graph with some constants taken otherwise unless a call names them."""
        other = copy(self)
        other._constants = {**self._constants, **constants}
        other._start = self._start.copy()
        for name, value in other._constants.items():
            other._start[self._place[name]] = value
        return other

    def values(
        self,
        numbers: Numbers,
        constants: Mapping[str, float],
        choices: Mapping[Choice, float] | None = None,
        own: Mapping[str, float] | None = None,
    ) -> Values:
        """Return the value of every step.

        Args:
            numbers: the givens, each in its own unit.
            constants: a value for each convention, by name; those left out stand as taken.
            choices: choices that are not made as they should be.
            own: values that stand in place of a step's own, such as what a student wrote.

        Raises:
            ArithmeticError: where some step has no finite value (a division by zero).
        """
        vector = self._vector(numbers, own or {}, constants)
        for choice, value in (choices or {}).items():
            vector[self._place[choice.name]] = value
        try:
            return dict(zip(self.keys, self._function(*vector), strict=True))
        except (ValueError, TypeError) as error:  # a negative number to a fractional power
            raise ArithmeticError(str(error)) from error

    def _vector(
        self, numbers: Numbers, own: Mapping[str, float], constants: Mapping[str, float]
    ) -> list[float]:
        """Return the arguments of the whole function, every choice as it should be made."""
        vector = self._start.copy()
        for key in self._givens:
            vector[self._place[key]] = numbers[key]
        for key, value in own.items():
            instead, opened = self._own[key]
            vector[instead], vector[opened] = value, 0.0
        for name, value in constants.items():
            vector[self._place[name]] = value
        return vector

    def probe(
        self,
        key: str,
        numbers: Numbers,
        own: Mapping[str, float],
        constants: Mapping[str, float] | None = None,
    ) -> Probe:
        """Return a quick function for one step.

        A step whose earlier lines are all written gets a function of its own, made on first use;
        else the function of all steps serves.

        Args:
            key: the step.
            numbers: the givens, each in its own unit.
            own: values that stand in place of earlier steps.
            constants: a value for some conventions; the others stand as taken.
        """
        constants = constants or {}
        step = self.derivation.step(key)
        if any(use in self._own and use not in own for use in step.uses):
            vector = self._vector(numbers, own, constants)
            varied = self._rests_on[key] & CONVENTIONS.keys() - constants.keys()
            return Probe(self._function, self._place, vector, self.keys.index(key), varied)
        if key not in self._alone:
            names = [*step.uses, *(choice.name for choice in step.choices)]
            function = _plain_function(names, [(symbol(key), step.expression)])
            self._alone[key] = (function, {name: place for place, name in enumerate(names)})
        function, place = self._alone[key]
        known = {**self._constants, **numbers, **own, **constants}
        start = [known[use] for use in step.uses] + [choice.right for choice in step.choices]
        return Probe(
            function, place, start, 0, place.keys() & CONVENTIONS.keys() - constants.keys()
        )


Placed = tuple[tuple[int, float], ...]


class Probe:
    """One step as a quick function of constants and changed choices.

    `constants` are the names of those that it rests on, without those that are known to be taken.
    """

    def __init__(
        self,
        function: Callable[..., list[float]],
        place: Mapping[str, int],
        start: list[float],
        target: int,
        constants: Set[str],
    ) -> None:
        self.constants = constants
        self._function = function
        self._place = place
        self._start = start
        self._target = target

    def values(
        self, changes: Iterable[tuple[Choice, float]], ways: Iterable[Mapping[str, float]]
    ) -> list[float]:
        """Return the value of the step for each way of taking its constants.

        Raises:
            ArithmeticError: where some value is not finite.
        """
        placed, place = self.placed(changes), self._place
        return [self.at((*placed, *((place[n], v) for n, v in way.items()))) for way in ways]

    def placed(self, changes: Iterable[tuple[Choice, float]]) -> Placed:
        """Return changed choices as places in the function, for `at`."""
        place = self._place
        return tuple((place[c.name], value) for c, value in changes if c.name in place)

    def at(self, placed: Placed) -> float:
        """Return the value of the step for what `placed` gave; for many calls in a row.

        Raises:
            ArithmeticError: where it has no finite value.
        """
        vector = self._start.copy()
        for place, value in placed:
            vector[place] = value
        try:
            return float(self._function(*vector)[self._target])
        except (ValueError, TypeError) as error:  # a negative number to a fractional power
            raise ArithmeticError(str(error)) from error


def _own_or_derived(key: str, expression: Any) -> Any:
    return symbol(f"own__{key}") + symbol(f"open__{key}") * expression


def _plain_function(
    names: Iterable[str], pairs: list[tuple[Any, Any]]
) -> Callable[..., list[float]]:
    """Return a plain function of `names` that gives the value of each pair in turn.

    sympy takes the steps as its common subexpressions, so that each is written once and in order.
    """
    from sympy import lambdify

    outputs = [name for name, _ in pairs]
    made = lambdify(
        [symbol(name) for name in names], outputs, modules="math", cse=lambda _: (pairs, outputs)
    )
    function: Callable[..., list[float]] = made
    return function


@lru_cache(maxsize=256)
def graph(derivation: Derivation) -> Graph:
    """Return the graph of a derivation, made on first use."""
    return Graph(derivation)
