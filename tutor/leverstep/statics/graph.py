"""A derivation as plain functions of numbers and choices, one for each step.

Every reference, accepted band, slip and follow-through is a call of these; sympy is used once for
each step, to write its function, and once for all of them together. A value that stands in place of
a step's own cuts off what that step rests on: a length of 0 does no harm where a force was written
that once came from it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Container, Iterable, Iterator, Mapping, Sequence, Set
from copy import copy
from functools import cached_property, lru_cache

from leverstep.statics.choices import CONVENTIONS, Choice
from leverstep.statics.points import Numbers
from leverstep.statics.step import NOTHING, Derivation, Step

Values = dict[str, float]
"""The value of each step, by key, in the step's unit."""

Changes = tuple[tuple[str, float], ...]
"""Choices and constants that are taken otherwise, by name."""


class StepFunction:
    """A step as a plain function of what it uses, then of its choices."""

    def __init__(self, step: Step) -> None:
        self.key = step.key
        self.uses = step.uses
        self.places = {
            choice.name: place for place, choice in enumerate(step.choices, len(step.uses))
        }
        self._step = step
        self._right = [choice.right for choice in step.choices]

    @cached_property
    def _function(self) -> Callable[..., float]:
        from leverstep.statics.functions import function_of  # sympy takes long to load

        return function_of([*self.uses, *self.places], self._step.expression)

    def arguments(
        self, known: Mapping[str, float], changed: Mapping[str, float] | None = None
    ) -> list[float]:
        """Return what the function takes.

        Args:
            known: the value of all that the step uses, by name.
            changed: choices that are not made as they should be, by name.
        """
        found = [*map(known.__getitem__, self.uses), *self._right]
        if changed:
            for name, value in changed.items():
                if name in self.places:
                    found[self.places[name]] = value
        return found

    def value(self, arguments: list[float]) -> float:
        """Return the value of the step.

        Raises:
            ArithmeticError: where it has no finite value.
        """
        try:
            value = float(self._function(*arguments))
        except (ValueError, TypeError) as error:  # a negative number to a fractional power
            raise ArithmeticError(str(error)) from error
        if not -math.inf < value < math.inf:
            raise ArithmeticError(f"{self.key} has no finite value")
        return 0.0 if -NOTHING < value < NOTHING else value

    def rests_on(self, names: Set[str]) -> bool:
        """Return whether one of some choices, constants and steps stands in it."""
        return not (names.isdisjoint(self.uses) and names.isdisjoint(self.places))


class WholeFunction:
    """All steps as one plain function of givens and constants, each choice as it should be made.

    It is quicker than one step after another, where none has a value of its own.
    """

    def __init__(self, steps: Iterable[Step]) -> None:
        self._steps = {step.key: step for step in steps}
        self._uses: list[str] = []
        known: set[str] = set()
        for step in self._steps.values():
            self._uses += [use for use in step.uses if use not in known]
            known.update(step.uses, [step.key])
        self._choices = [choice for step in self._steps.values() for choice in step.choices]
        self._right = [choice.right for choice in self._choices]

    @cached_property
    def _function(self) -> Callable[..., list[float]]:
        from leverstep.statics.functions import functions_of  # sympy takes long to load

        names = [*self._uses, *(choice.name for choice in self._choices)]
        steps = [(step.key, step.expression) for step in self._steps.values()]
        return functions_of(names, steps)

    def values(self, known: Mapping[str, float]) -> Values:
        """Return the value of every step; `known` are the givens and constants, by name.

        Raises:
            ArithmeticError: where some step has no finite value.
        """
        try:
            found = self._function(*map(known.__getitem__, self._uses), *self._right)
            exact = [0.0 if -NOTHING < one < NOTHING else one for one in map(float, found)]
        except (ValueError, TypeError) as error:  # a negative number to a fractional power
            raise ArithmeticError(str(error)) from error
        if not all(map(math.isfinite, exact)):
            raise ArithmeticError("a step has no finite value")
        return dict(zip(self._steps, exact, strict=True))


class Graph:
    """All steps of a derivation, to be evaluated together or one at a time."""

    def __init__(self, derivation: Derivation) -> None:
        self.derivation = derivation
        steps = [step for step in derivation.steps if not step.kind.is_equation]
        self.functions = {step.key: StepFunction(step) for step in steps}
        self._whole = WholeFunction(steps)
        self.constants: Mapping[str, float] = {n: c.values[0] for n, c in CONVENTIONS.items()}

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
        if not (own or choices):
            return self._whole.values({**self.constants, **numbers, **constants})
        own = own or {}
        known = {**self.constants, **numbers, **constants, **own}
        changed = {choice.name: value for choice, value in (choices or {}).items()}
        for key, function in self.functions.items():
            if key not in own:
                known[key] = function.value(function.arguments(known, changed))
        return {key: known[key] for key in self.functions}

    def on_demand(self, numbers: Numbers, own: Mapping[str, float]) -> ValuesOnDemand:
        """Return the value of every step, each worked out only when it is asked for.

        Args:
            numbers: the givens, each in its own unit.
            own: values that stand in place of a step's own.
        """
        return ValuesOnDemand(self.functions, {**self.constants, **numbers, **own})

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
        between = _between(self, key, frozenset(own))
        return Probe(self.functions[key], known, between, between.conventions - constants.keys())

    def between(self, key: str, own: Set[str]) -> tuple[StepFunction, ...]:
        """Return the steps that a step rests on up to those with a value of their own."""
        found = self._open(key, own)
        return tuple(one for one in self.functions.values() if one.key in found)

    def stops(self, key: str, own: Mapping[str, float]) -> Set[str]:
        """Return the steps with a value of their own that a step is worked out from."""
        between = self._open(key, own) | {key}
        used = {use for step in between for use in self.functions[step].uses}
        return used & own.keys()

    def givens_behind(self, keys: Set[str], own: Set[str]) -> set[str]:
        """Return the givens and constants that some steps are worked out from, where others have a
        value of their own.
        """
        steps = {key for key in keys - own if key in self.functions}
        steps = steps.union(*(self._open(key, own) for key in steps))
        used = {use for key in steps for use in self.functions[key].uses}
        return used - self.functions.keys() - own

    def _open(self, key: str, own: Container[str]) -> Set[str]:
        """Return the steps that a step rests on through steps without a value of their own."""
        found: set[str] = set()
        waiting = [key]
        while waiting:
            for use in self.functions[waiting.pop()].uses:
                if use in self.functions and use not in own and use not in found:
                    found.add(use)
                    waiting.append(use)
        return found


class StepsBetween:
    """The steps before a step that have no value of their own.

    `conventions` are the names of those that they and the step itself take, `choices` those of the
    choices that are made in them.
    """

    def __init__(self, graph: Graph, key: str, own: frozenset[str]) -> None:
        self.steps = graph.between(key, own)
        used = frozenset(graph.functions[key].uses).union(*(one.uses for one in self.steps))
        self.conventions: Set[str] = used & CONVENTIONS.keys()
        self.choices: Set[str] = {name for one in self.steps for name in one.places}


@lru_cache(maxsize=4096)
def _between(graph: Graph, key: str, own: frozenset[str]) -> StepsBetween:
    """Return what is between the values that stand and a step, made on first use."""
    return StepsBetween(graph, key, own)


@lru_cache(maxsize=4096)
def _resting_on(between: StepsBetween, names: frozenset[str]) -> tuple[StepFunction, ...]:
    """Return those of some steps that rest on choices or constants, straight or by each other."""
    touched, found = set(names), []
    for one in between.steps:
        if one.rests_on(touched):
            found.append(one)
            touched.add(one.key)
    return tuple(found)


class ValuesOnDemand(Mapping[str, float]):
    """The value of every step, by key, each worked out when it is first asked for.

    Asking raises ArithmeticError where a step has no finite value.
    """

    def __init__(self, functions: Mapping[str, StepFunction], known: dict[str, float]) -> None:
        self._functions = functions
        self._known = known

    def __getitem__(self, key: str) -> float:
        if key not in self._known:
            function = self._functions[key]
            self._known[key] = function.value(function.arguments(self))
        return self._known[key]

    def __contains__(self, key: object) -> bool:
        return key in self._functions

    def __iter__(self) -> Iterator[str]:
        return iter(self._functions)

    def __len__(self) -> int:
        return len(self._functions)


class Probe:
    """One step as a quick function of constants and changed choices.

    `constants` are the names of those that it rests on, without those that are known to be taken.
    What lies between the values known and the step is worked out once for all that leave it alone.
    """

    def __init__(
        self,
        function: StepFunction,
        known: Mapping[str, float],
        between: StepsBetween,
        constants: Set[str],
    ) -> None:
        self.constants = constants
        self._step = function
        self._known = known
        self._between = between
        self._before: dict[Changes, list[float]] = {}

    def values(
        self, changes: Sequence[tuple[Choice, float]], ways: Iterable[Mapping[str, float]]
    ) -> list[float]:
        """Return the value of the step for each way of taking its constants.

        Raises:
            ArithmeticError: where some value is not finite.
        """
        return [self.at(changes, way) for way in ways]

    def at(
        self,
        changes: Iterable[tuple[Choice, float]],
        constants: Mapping[str, float] | None = None,
    ) -> float:
        """Return the value of the step with some choices and constants taken otherwise.

        Raises:
            ArithmeticError: where it has no finite value.
        """
        find = self._step.places.get
        here: list[tuple[int, float]] = []
        before: Changes = tuple(constants.items()) if constants else ()
        for choice, value in changes:
            name = choice.name
            place = find(name)
            if place is not None:
                here.append((place, value))
            elif name in self._between.choices:
                before += ((name, value),)
        found = self._before.get(before)
        if found is None:
            found = self._step.arguments(self._worked(dict(before)))
            self._before[before] = found
        arguments = found.copy()
        for place, value in here:
            arguments[place] = value
        return self._step.value(arguments)

    def _worked(self, changed: Mapping[str, float]) -> Mapping[str, float]:
        """Return all that is known once the steps between are worked out.

        Where these have values with nothing changed, only what rests on a change is worked out.
        """
        base = self._as_right if changed else None
        steps = self._between.steps
        if base is not None:
            steps = _resting_on(self._between, frozenset(changed))
        known = {**(base or self._known), **changed}
        for one in steps:
            known[one.key] = one.value(one.arguments(known, changed))
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
