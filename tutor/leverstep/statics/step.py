"""What a derivation is made of, and the pen that writes it step by step."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING, Any

from leverstep.statics.acting import Force
from leverstep.statics.choices import Choice
from leverstep.statics.geometry import Bearing, slant
from leverstep.statics.kinds import Kind
from leverstep.statics.points import Given, Numbers
from leverstep.statics.posture import Posture
from leverstep.statics.units import unit_of_line

if TYPE_CHECKING:
    from sympy import Symbol

Expression = Any
"""A sympy expression. sympy ships no types, so mypy sees `Any`."""


NOTHING = 1e-9
"""A value of a line that is smaller than this, in its unit, is what rounding leaves of none."""


@dataclass(frozen=True, slots=True)
class Step:
    """One line of working.

    `kind` is what the line does, `about` the symbol of the force or distance that it is about.
    `expression` holds the
    symbols of givens, constants, earlier steps and choices. `written` is the same line as one
    writes it, with `{key}` for each quantity; with numbers put in it can be read back as an entry.
    A step that is not `asked` only carries a value on, where there is nothing to convert. `unit` is
    the sign of the unit of its value, "" for a bare number. `mark` is that of its posture.
    """

    key: str
    kind: Kind
    about: str
    expression: Expression
    written: str
    choices: tuple[Choice, ...] = ()
    asked: bool = True
    uses: tuple[str, ...] = ()
    unit: str = ""
    mark: str = ""

    @property
    def unit_size(self) -> float:
        """Return what one of its unit is in kilograms, metres, seconds and degrees."""
        return unit_of_line(self.unit).size

    @property
    def quantities(self) -> tuple[str, ...]:
        """Return the keys of the quantities that stand in it as it is written."""
        return _quantities_in(self.written)


@lru_cache(maxsize=4096)
def _quantities_in(written: str) -> tuple[str, ...]:
    return tuple(re.findall(r"\{([^{}]+)\}", written))


@dataclass(frozen=True, eq=False)
class Derivation:
    """All steps of a working, each after those that it uses. One is equal only to itself.

    `postures` are those that it is about, most often one, in the order in which they are worked.
    `sample` are the numbers that it was first made for; all that share it have the same signs.
    """

    postures: tuple[Posture, ...]
    sample: Numbers
    steps: tuple[Step, ...]

    def posture(self, mark: str) -> Posture:
        """Return the posture with a mark."""
        return next(posture for posture in self.postures if posture.mark == mark)

    @cached_property
    def asked(self) -> tuple[Step, ...]:
        """Return the steps that a student writes."""
        return tuple(step for step in self.steps if step.asked)

    def step(self, key: str) -> Step:
        """Return the step with this key; KeyError where there is none."""
        return self._by_key[key]

    def ancestors(self, key: str) -> frozenset[str]:
        """Return the keys of all steps that this one rests on, itself left out."""
        return self._ancestors[key]

    def resting_on(self, key: str) -> tuple[Step, ...]:
        """Return the steps that a student writes and that rest on this one, first to last."""
        return self._resting[key]

    @cached_property
    def _resting(self) -> dict[str, tuple[Step, ...]]:
        return {
            step.key: tuple(one for one in self.asked if step.key in self.ancestors(one.key))
            for step in self.steps
        }

    @cached_property
    def _by_key(self) -> dict[str, Step]:
        return {step.key: step for step in self.steps}

    @cached_property
    def _ancestors(self) -> dict[str, frozenset[str]]:
        """Return the same of every step, each of which comes after those that it uses."""
        found: dict[str, frozenset[str]] = {}
        for step in self.steps:
            used = found.keys() & set(step.uses)
            found[step.key] = frozenset(used).union(*(found[use] for use in used))
        return found


def symbol(name: str) -> Symbol:
    """Return the real sympy symbol of a given, a constant, a step or a choice.

    The underscore keeps an author's symbol apart from the functions and constants of sympy.
    """
    from sympy import Symbol

    return Symbol(f"_{name}", real=True)


@dataclass(slots=True)
class Draft:
    """A derivation being written: the posture, sample numbers, and the steps so far.

    The sample numbers decide what cannot change within one derivation: which side a line of
    action passes the axis on, and so the sign of each moment. `beside` are the other postures of
    the working, whose angles may be taken by mistake.
    """

    posture: Posture
    sample: Numbers
    steps: list[Step] = field(default_factory=list)
    beside: tuple[Posture, ...] = ()

    def value(self, given: Given | None) -> float:
        """Return the sample value of a given, 0 where there is none."""
        return 0.0 if given is None else self.sample[given.key]

    def degrees(self, bearing: Bearing, force: Force | None = None) -> float:
        """Return a bearing in degrees for the sample numbers, turned by the angle of a force."""
        turned = 0.0 if force is None else slant(self.posture, force, self.sample)
        return bearing.degrees(self.value(self.posture.inclination), turned)

    def key(self, kind: Kind) -> str:
        """Return the key of the one line of a kind in this posture."""
        return self.posture.key(kind)

    def has(self, key: str) -> bool:
        """Return whether a step with this key is written."""
        return any(step.key == key for step in self.steps)

    def unit(self, key: str) -> str:
        """Return the unit of a step that is written; KeyError where it is not."""
        units = {step.key: step.unit for step in self.steps}
        return units[key]


class Pen:
    """Writes one step: hands out the symbols of its choices, then adds it to the draft."""

    def __init__(self, draft: Draft, key: str) -> None:
        self.draft = draft
        self.key = key
        self.choices: list[Choice] = []

    def choice(self, kind: str, right: float, about: str = "", other: str = "") -> Symbol:
        """Return the symbol of a choice made at this step."""
        choice = Choice(kind, self.key, about, right, other)
        if choice not in self.choices:  # it may change several places at once
            self.choices.append(choice)
        return symbol(choice.name)

    def write(
        self,
        kind: Kind,
        about: str,
        expression: Expression,
        written: str,
        asked: bool = True,
        unit: str | None = None,
    ) -> None:
        """Add the step; a number may be off by a power of ten, and a size have a minus sign.

        `unit` is that of its value, that of its kind unless another is named.
        """
        if asked and kind.is_size:
            expression *= self.choice("minus", 1, about)
        if asked and kind.is_number and kind.unit != "deg":
            expression = expression * 10 ** self.choice("power_of_ten", 0, about)
        unit = self.draft.posture.unit_of_lines(kind.unit if unit is None else unit)
        names = {choice.name for choice in self.choices}
        found = (s.name.removeprefix("_") for s in expression.free_symbols)
        uses = tuple(sorted(name for name in found if name not in names))
        choices = tuple(self.choices) if asked else ()
        mark = self.draft.posture.mark
        self.draft.steps.append(
            Step(self.key, kind, about, expression, written, choices, asked, uses, unit, mark)
        )


def sign_of_term(sign: int, before: str) -> str:
    """Return the sign of a term as it is written behind the terms before it, "" for none."""
    if not before:
        return "" if sign > 0 else "−"
    return " + " if sign > 0 else " − "


def given_symbol(given: Given) -> Symbol:
    """Return the symbol of a given."""
    return symbol(given.key)


def total(terms: Iterable[Expression]) -> Expression:
    """Return the sum of the terms."""
    from sympy import Add

    return Add(*terms)
