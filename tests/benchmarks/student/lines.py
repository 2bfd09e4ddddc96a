"""One line of a student's working: a small formula that is worked out, changed, and printed."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from leverstep.statics.kinds import KINDS, AnswerForm

WORDS = tuple(name for name, kind in KINDS.items() if kind.answer is AnswerForm.WORD)
"""The kinds of lines that are a choice of words, each a number here."""

INVERSE = {"arctangent": math.atan, "arcsine": math.asin, "arccosine": math.acos}
"""The shapes of a line that is an angle, each with what gives it."""

OTHER_FUNCTION = {"sin": "cos", "cos": "sin"}

FIGURES = 4
"""Significant figures of the values that a student writes."""


@dataclass(frozen=True, slots=True)
class Factor:
    """One quantity in a product: the key of what it stands for, its value, its part in the line.

    `power` is 1 where it multiplies, -1 where it divides, 0 where it is left out. With a `function`
    the value is an angle in degrees (in `radians`: taken as if it were in radians).
    """

    key: str
    value: float
    role: str
    power: int = 1
    function: str = ""
    radians: bool = False

    @property
    def number(self) -> float:
        """Return what it multiplies the line by."""
        base = self.value
        if self.function:
            angle = base if self.radians else math.radians(base)
            base = {"sin": math.sin, "cos": math.cos, "tan": math.tan}[self.function](angle)
        return base**self.power


@dataclass(frozen=True, slots=True)
class Term:
    """A signed product; `about` is the force, distance or angle that it is the term of."""

    factors: tuple[Factor, ...]
    about: str = ""
    sign: int = 1

    @property
    def number(self) -> float:
        """Return the value of the term."""
        return self.sign * math.prod(factor.number for factor in self.factors)


@dataclass(frozen=True, slots=True)
class Formula:
    """One line: a sum of terms, to a power, times common factors, in a shape.

    `shape` says what is done with that: "" nothing, "size" its absolute value, "root", "squares",
    "added" or "taken" the root of the squares of the terms, their sum, the terms added or one taken
    from the other without squares, one of `INVERSE` the angle in degrees whose function it is. At
    the end the value may be turned upside down, taken from an angle (`taken_from`, in degrees),
    given a minus sign, and be off by a power of ten.
    """

    terms: tuple[Term, ...]
    factors: tuple[Factor, ...] = ()
    shape: str = ""
    power: int = 1
    radians: bool = False
    upside_down: bool = False
    taken_from: float = 0.0
    sign: int = 1
    tens: int = 0

    @property
    def value(self) -> float:
        """Return what the line comes to; ArithmeticError where that is endless."""
        core = self._combined() ** self.power
        core *= math.prod(factor.number for factor in self.factors)
        if self.upside_down:
            core = 1 / core
        if self.shape in INVERSE:
            if self.shape != "arctangent" and abs(core) > 1:
                raise ArithmeticError("no angle has such a sine or cosine")
            turned = INVERSE[self.shape](abs(core))
            core = turned if self.radians else math.degrees(turned)
        if self.shape == "size":
            core = abs(core)
        if self.taken_from:
            core = self.taken_from - core
        return float(self.sign * core * 10.0**self.tens)

    def _combined(self) -> float:
        """Return the terms put together."""
        parts = [term.number for term in self.terms]
        match self.shape:
            case "root":
                return math.hypot(*parts)
            case "squares":
                return math.fsum(part * part for part in parts)
            case "added":
                return math.fsum(abs(part) for part in parts)
            case "taken":
                return abs(abs(parts[0]) - math.fsum(abs(part) for part in parts[1:]))
        return math.fsum(parts)

    @property
    def all_factors(self) -> tuple[Factor, ...]:
        """Return the factors of every term, then the common ones."""
        return tuple(f for term in self.terms for f in term.factors) + self.factors

    def factor(self, role: str) -> Factor | None:
        """Return the first factor that plays a part, None where no factor does."""
        return next((f for f in self.all_factors if f.role == role), None)

    def changed(self, role: str, **fields: object) -> Formula:
        """Return the line with some fields of all factors of one role changed."""

        def edited(factors: tuple[Factor, ...]) -> tuple[Factor, ...]:
            return tuple(replace(f, **fields) if f.role == role else f for f in factors)  # type: ignore[arg-type]

        terms = tuple(replace(term, factors=edited(term.factors)) for term in self.terms)
        return replace(self, terms=terms, factors=edited(self.factors))

    def times(self, factor: Factor) -> Formula:
        """Return the line with one more common factor."""
        return replace(self, factors=(*self.factors, factor))

    def flipped(self, about: str) -> Formula:
        """Return the line with the other sign before the term of one force or part."""
        terms = (replace(t, sign=-t.sign) if t.about == about else t for t in self.terms)
        return replace(self, terms=tuple(terms))

    def without(self, about: str) -> Formula:
        """Return the line with the term of one force or part left out."""
        return replace(self, terms=tuple(term for term in self.terms if term.about != about))


def product(*factors: Factor, about: str = "", sign: int = 1, shape: str = "") -> Formula:
    """Return a line that is one product."""
    return Formula((Term(factors, about, sign),), shape=shape)


def rounded(value: float, figures: int, kind: str = "") -> float:
    """Return a value as written with so many figures, all whole digits kept; words as they are."""
    if value == 0 or kind in WORDS:
        return value
    decimals = max(0, figures - 1 - math.floor(math.log10(abs(value))))
    return round(value, decimals)


def written(value: float, figures: int = 4) -> str:
    """Return a number as a student types it: so many figures, whole digits always kept."""
    if value == 0:
        return "0"
    decimals = max(0, figures - 1 - math.floor(math.log10(abs(value))))
    return f"{value:.{decimals}f}"


def half_digit(text: str) -> float:
    """Return half a unit of the last digit of a number as typed."""
    return 0.5 * 10.0 ** -len(text.partition(".")[2])


# As it is typed

VALUES = (
    *("size", "arm", "moment", "total", "force", "load", "effort", "part"),
    *("weight", "pressing", "upper", "lower", "ruled"),
)
"""The parts that the value of an earlier line may play."""


def with_numbers(factor: Factor) -> str:
    """Return a factor as typed with its number put in: `12.5`, `(-3.200)`, `cos(35)`."""
    given = factor.role not in VALUES
    number = f"{factor.value:g}" if given else written(factor.value)
    if factor.function:
        return f"{factor.function}({number})"
    return f"({number})" if factor.value < 0 else number


def in_symbols(factor: Factor) -> str:
    """Return a factor as typed in symbols: `W_l`, `cos(beta)`."""
    return f"{factor.function}({factor.key})" if factor.function else factor.key


def product_text(factors: Iterable[Factor], say: Callable[[Factor], str]) -> str:
    """Return a product as typed: `12.5/2.205*9.81`; "1" where nothing is left."""
    text = ""
    for factor in factors:
        if factor.power:
            mark = "/" if factor.power < 0 else "*" if text else ""
            text += (mark if text or mark == "*" else f"1{mark}" if mark else "") + say(factor)
    return text or "1"


def sum_text(terms: Iterable[Term], say: Callable[[Factor], str]) -> str:
    """Return a sum as typed, each term behind its sign."""
    text = ""
    for term in terms:
        mark = " - " if term.sign < 0 else " + "
        text += (mark if text else mark.strip(" +")) + product_text(term.factors, say)
    return text


def formula_text(line: Formula, say: Callable[[Factor], str] = with_numbers) -> str:
    """Return a line as typed as arithmetic, without its unit; of shapes that are worked rightly."""
    inner = sum_text(line.terms, say)
    if line.shape == "root":
        return "sqrt(" + " + ".join(f"{product_text(t.factors, say)}^2" for t in line.terms) + ")"
    if line.shape == "arctangent" and line.power < 0:
        return f"atan({product_text(line.factors, say)}/({inner}))"
    if line.shape == "arctangent":
        return f"atan(|{inner}|)"
    if line.shape in INVERSE:
        return f"a{line.shape[3:6]}({inner})"
    if line.sign < 0:
        inner = f"-({inner})"
    if line.shape == "size" and line.terms[0].factors[0].role == "total":
        total, *others = line.all_factors
        return product_text((total, *others), lambda f: f"|{say(f)}|" if f is total else say(f))
    if line.power < 0:
        above = product_text(line.factors, lambda f: f"|{say(f)}|" if f.role == "total" else say(f))
        return f"{above}/({inner})"
    if not line.factors:
        return inner
    first = f"({inner})" if len(line.terms) > 1 else inner
    rest = product_text((Factor("", 1.0, "one"), *line.factors), say)
    return first + rest.removeprefix("1")
