"""A page of working, judged line by line: what each line claims, of what, and whether it holds.

A line is right where what it says is true, however it is written; it follows where it would be
true had the student's own earlier numbers been right.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum

from leverstep.claims.labels import Label, Names, label_of
from leverstep.claims.matching import (
    TOLERANCE,
    Match,
    in_units,
    is_near,
    match,
    scales_of,
    with_units_of,
)
from leverstep.claims.plain_writing import decimal_comma, made_plain
from leverstep.claims.quantities import Quantities, Quantity
from leverstep.claims.segments import Chain, chains_of, words_of
from leverstep.claims.worth import Side, numbers_in, plain_value, replaced, sides_of
from leverstep.course.problem import Question
from leverstep.entry.amount import unit_size
from leverstep.entry.reading import read_entry
from leverstep.entry.tree import (
    Call,
    Measured,
    Name,
    Negative,
    Number,
    Operation,
    Tree,
    Unreadable,
    names_in,
)
from leverstep.statics import kinds
from leverstep.statics.units import LENGTH, MOMENT, NUMBER, Dimension, known_unit, unit

LONGEST_LINE = 400
MOST_LINES = 400


class Standing(StrEnum):
    """What a line of a page turned out to be."""

    RIGHT = "right"
    FOLLOWS = "follows"
    KEPT = "kept"
    WRONG = "wrong"
    UNREAD = "unread"
    REMARK = "remark"


@dataclass(frozen=True, slots=True)
class Claim:
    """What a chain claims: of which quantity, its value there, and whether it holds.

    `value` is in kg, m, s and degrees, nan where it has none; `key` is "" where it is of nothing that
    is known; `sign` says that only the sign is wrong.
    """

    standing: Standing
    key: str = ""
    value: float = math.nan
    tree: Tree | None = None
    figures: int | None = None
    slack: float = 0.0
    sign: bool = False
    text: str = ""
    is_equation: bool = False


@dataclass(frozen=True, slots=True)
class JudgedLine:
    """A line of a page with what came of it."""

    number: int
    text: str
    standing: Standing
    claims: tuple[Claim, ...] = ()

    @property
    def about(self) -> tuple[str, ...]:
        """Return the keys of what it is about, each once."""
        return tuple(dict.fromkeys(claim.key for claim in self.claims if claim.key))


@dataclass(frozen=True, slots=True)
class _Result:
    """A number that stands on the page: as written, in SI, what it should be, and whether it is."""

    plain: float
    value: float
    right: float
    key: str
    standing: Standing


_CONSTANTS = (
    9.81, 9.8, 9.80665, 10.0, 2.2, 2.205, 2.2046, 2.20462, 4.448, 4.45, 4.44822, 0.4536, 0.454,
    0.45359, 2.54, 0.0254, 0.3048, 30.48, 12.0, 100.0, 1000.0, 0.01, 0.001, 1.0, 2.0, 0.5, 90.0,
    180.0, 360.0, 3.0, 4.0, 6.35, 28.35, 0.02835, 32.2, 1e-2, 0.1,
)  # fmt: skip
_BETWEEN_UNITS = (
    1.0, 100.0, 0.01, 1000.0, 0.001, 0.0254, 1 / 0.0254, 2.54, 0.3048, 1 / 0.3048, 12.0, 1 / 12,
    0.45359, 2.20462, 4.4482, 1 / 4.4482, 10.0 ** 4, 1e-4,
)  # fmt: skip
_SCALES_OF_INPUTS = (1.0, 100.0, 1000.0, 1 / 0.0254, 1 / 0.3048, 1 / 4.4482, 2.20462, 0.1019716)


@dataclass
class Page:
    """The lines of one page on one question, as far as they are written."""

    question: Question
    comma: bool = False
    lines: list[JudgedLine] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.quantities = Quantities(self.question)
        self.names = Names(self.quantities)
        self.scales = scales_of(self.quantities)
        self.right = self.quantities.right
        self.bound: dict[str, str] = {}
        self.written: dict[str, float] = {}
        self.in_si: dict[str, float] = {}
        self.dimensions: dict[str, Dimension] = {}
        self.own: dict[str, float] = {}
        self.results: list[_Result] = []
        self.solutions: list[tuple[str, float, Standing, float]] = []
        self.later: list[Callable[[], None]] = []
        self.sense = 0
        self.positive = self.question.problem.posture.positive
        self.last: Side | None = None
        self.last_label = label_of("", "", "")
        self._givens()
        self._inputs: dict[str, list[float]] = {}

    def _givens(self) -> None:
        """Put in what is given under a symbol, as it is written and in SI."""
        for given in self.question.givens:
            if given.sign:
                size = float(known_unit(given.unit).size) if given.unit else 1.0
                number = self.question.numbers[given.key]
                self.written[given.sign] = number
                self.in_si[given.sign] = number * size
        self.written["g"] = self.in_si["g"] = self.question.accepted["g"][0]

    # ---- lines

    def write(self, text: str) -> JudgedLine:
        """Judge a further line."""
        number = len(self.lines) + 1
        try:
            standing, claims = self._judged(text)
        except Unreadable:
            standing, claims = Standing.UNREAD, ()
        line = JudgedLine(number, text, standing, claims)
        self.lines.append(line)
        return line

    def _judged(self, text: str) -> tuple[Standing, tuple[Claim, ...]]:
        if len(text) > LONGEST_LINE or len(self.lines) > MOST_LINES:
            return Standing.UNREAD, ()
        if not re.search(r"[^\W_]", text):
            return Standing.REMARK, ()
        if len(cells := _cells(text)) > 2:
            return self._row(cells)
        plain = made_plain(text, self.comma)
        self._note_convention(plain)
        known = set(self.written) | set(self.bound) | self.names.exact
        chains = chains_of(plain, known)
        claims = [claim for chain in chains if (claim := self._claim(chain)) is not None]
        if (
            re.search(r"\bclass\b|lever_?class", plain, re.IGNORECASE)
            and (word := self._in_words(plain)) is not None
        ):
            return word.standing, (word,)
        telling = [c for c in claims if c.standing not in (Standing.REMARK, Standing.UNREAD)]
        if not telling and "=" not in plain.replace(" = 1", "").replace(" = 2", "").replace(
            " = 3", ""
        ):
            word = self._in_words(plain)
            if word is not None:
                return word.standing, (word,)
        return _whole(claims), tuple(claims)

    def _note_convention(self, plain: str) -> None:
        """Take `clockwise positive` as the sense in which the page counts moments."""
        said = re.search(
            r"\b(anti|counter)?[\s-]?(clockwise|ccw|acw|cw)\b[^.;=\d]{0,20}(?:positive|\+)"
            r"|(?:positive|\+)[^.;=\d]{0,12}\b(anti|counter)?[\s-]?(clockwise|ccw|acw|cw)\b",
            plain,
            re.IGNORECASE,
        )
        if said is not None and not re.search(r"\d", plain):
            words = [part for part in said.groups() if part]
            turns = 1 if len(words) > 1 or words[0].lower() in ("ccw", "acw") else -1
            self.sense = turns * self.positive

    def _row(self, cells: list[str]) -> tuple[Standing, tuple[Claim, ...]]:
        """Judge a row of a table: its first cell says which force, the others are values of it."""
        known = set(self.written) | set(self.bound) | self.names.exact
        head = words_of(cells[0])
        claims = []
        for cell in cells[1:]:
            for chain in chains_of(made_plain(cell, self.comma), known):
                claim = self._claim(replace(chain, before=f"{head} {chain.before}", leads=False))
                if claim is not None and claim.standing is not Standing.UNREAD:
                    claims.append(claim)
        right = [c for c in claims if c.standing is not Standing.WRONG]
        last = claims[-1:] if claims and claims[-1].sign else []
        told = [*right, *last] if right else claims
        return _whole(told), tuple(told)

    def _in_words(self, plain: str) -> Claim | None:
        """Return what a line says in words: the class of lever, or where the reaction points."""
        text = plain.lower()
        steps = {s.kind: s for s in self.question.derivation.steps}
        if kinds.LEVER_CLASS in steps and re.search(
            r"\b(class|order|kind|type|effort)\b|lever_class", text
        ):
            found = re.findall(r"\b(first|second|third|i{1,3})\b|(?<![\d.])([123])(?![\d.])", text)
            found = [word or digit for word, digit in found]
            values = {
                {"first": 1, "1": 1, "i": 1, "second": 2, "2": 2, "ii": 2}.get(w, 3) for w in found
            }
            if len(values) == 1:
                (value,) = values
                right = value == round(self.question.right["class"])
                return Claim(
                    Standing.RIGHT if right else Standing.WRONG, "class", value, text=str(value)
                )
        if (
            kinds.REACTION_DIRECTION in steps
            and not re.search(r"\d", text)
            and re.search(r"\b(reaction|joint|pushes the|push the|presses|direction)\b", text)
        ):
            step = steps[kinds.REACTION_DIRECTION]
            words = " ".join(
                re.findall(
                    r"\b(?:up|down|left|right|upwards?|downwards?|forwards?|backwards?)\b", text
                )
            )
            words = words.replace("forwards", "forward").replace("backwards", "backward")
            ahead, behind = ("right", "left")
            words = words.replace("forward", ahead).replace("backward", behind)
            try:
                value = read_entry(words, step, {}).value if words else None
            except Unreadable:
                value = None
            if value is not None:
                right = value == round(self.question.right["R_dir"])
                standing = Standing.RIGHT if right else self._direction_follows(value)
                return Claim(standing, "R_dir", value, text=words)
        return None

    def _direction_follows(self, value: float) -> Standing:
        own = self._own_world()
        try:
            return Standing.FOLLOWS if round(own["R_dir"]) == value else Standing.WRONG
        except KeyError:
            return Standing.WRONG

    # ---- chains

    def _claim(self, chain: Chain) -> Claim | None:
        """Return what a chain claims, None where it claims nothing."""
        if chain.times and self.last is not None:
            first = Operation(
                "*" if chain.times == "*" else "/", Number(self.last.plain), chain.sides[0]
            )
            chain = Chain(
                (first, *chain.sides[1:]),
                chain.names,
                chain.before,
                chain.behind,
                False,
                "",
                chain.text,
            )
        only = chain.sides[0] if len(chain.sides) == 1 else None
        if isinstance(only, Name):
            return self._definition(chain.names[only.symbol], chain)
        if _is_nothing_to_check(chain):
            return None
        if (gravity := self._gravity(chain)) is not None:
            return gravity
        symbol, chain = _with_symbol_first(chain)
        if symbol and re.search(r"\b(?:of|for)\s*$", chain.before):
            chain = self._said_of(symbol, chain)
            symbol = ""
        if len(chain.sides) == 1 and symbol:
            return None
        symbol, chain = self._with_word_as_symbol(symbol, chain)
        if symbol and self._is_of_another_sort(symbol, chain):
            chain, symbol = self._said_of(symbol, chain), ""
        open_now = self._open(chain, symbol)
        if open_now:
            return self._equation(chain, symbol)
        return self._value(chain, symbol)

    def _gravity(self, chain: Chain) -> Claim | None:
        """Judge `g = 9.8`, which later lines take."""
        first, last = chain.sides[0], chain.sides[-1]
        if not isinstance(first, Name) or chain.names[first.symbol] != "g" or len(chain.sides) != 2:
            return None
        number = next(numbers_in(last), None)
        if number is None:
            return None
        self.written["g"] = self.in_si["g"] = number.value
        accepted = self.question.accepted["g"]
        right = any(abs(number.value - value) < 1e-3 * value for value in accepted)
        return Claim(Standing.KEPT if right else Standing.WRONG, "g", number.value)

    def _with_word_as_symbol(self, symbol: str, chain: Chain) -> tuple[str, Chain]:
        """Return `arm = 2.68 cm` as a line of a symbol, which later lines may use."""
        word = chain.before.strip(" ;,")
        if symbol or not chain.leads or not re.fullmatch(r"[A-Za-z][A-Za-z_0-9]*", word):
            return symbol, chain
        names = {**chain.names, "word_": word}
        return word, replace(
            chain, sides=(Name("word_", 0), *chain.sides), names=names, before=word
        )

    def _is_of_another_sort(self, symbol: str, chain: Chain) -> bool:
        """Return whether what a symbol stands for can't have the unit that is written."""
        key = self._key(symbol)
        if key not in self.quantities.all:
            return False
        sides = [
            s for s in sides_of(chain, self.written, self.dimensions)[1:] if not math.isnan(s.plain)
        ]
        return (
            bool(sides)
            and sides[-1].dimension is not None
            and not in_units(sides[-1], self.quantities.all[key], self.scales)
        )

    def _said_of(self, symbol: str, chain: Chain) -> Chain:
        """Return `arm of W = …` as a chain with words before it, those of the force among them."""
        key = self._key(symbol)
        about = self.quantities.all[key].about if key in self.quantities.all else ()
        words = frozenset(word for one in about for word in self.names.words_of_force.get(one, ()))
        return replace(chain, sides=chain.sides[1:], leads=True, of=words)

    def _open(self, chain: Chain, symbol: str) -> set[str]:
        """Return the symbols without a value that stand in the way of one for the chain."""
        sides = chain.sides[1:] if symbol else chain.sides
        names = [
            {chain.names[n.symbol] for n in names_in(side)} - set(self.written) for side in sides
        ]
        if symbol and not names[-1]:
            return set()  # what lies between is how it was found
        return set().union(*names)

    def _definition(self, symbol: str, chain: Chain) -> Claim | None:
        """Take `B = weight of the bucket` as what the symbol stands for."""
        label = label_of(chain.behind, "", "")
        ranked = sorted(
            (
                (self.names.fit(label, q) + 0.3 * (q.step is not None), q.key)
                for q in self.quantities.all.values()
            ),
            reverse=True,
        )
        if chain.behind and ranked and ranked[0][0] >= 1.3 and symbol not in self.names.exact:
            self.bound.setdefault(symbol, ranked[0][1])
        return None

    def _value(self, chain: Chain, symbol: str) -> Claim | None:
        """Judge a chain that comes to a number."""
        best: Claim | None = None
        for known in (self.written, self.in_si):
            sides = sides_of(chain, known, self.dimensions)
            if symbol:
                sides = sides[1:]
            closed = [side for side in sides if not math.isnan(side.plain)]
            if not closed:
                continue
            claim = self._judge_number(chain, symbol, closed, known)
            if claim is None:
                return None
            better = best is None or _RANK[claim.standing] > _RANK[best.standing]
            best = claim if better else best
            if best is not None and best.standing in (Standing.RIGHT, Standing.KEPT):
                break
        if best is None:
            return Claim(Standing.UNREAD)
        self._remember(chain, symbol, best)
        return best

    def _judge_number(
        self, chain: Chain, symbol: str, sides: list[Side], known: Mapping[str, float]
    ) -> Claim | None:
        side = sides[-1]
        label = self._label(chain, symbol)
        side = self._with_unit_before(chain, side)
        arithmetic = next((s for s in sides if s.is_arithmetic), None)
        if arithmetic is None and self._is_given(side, label, symbol, sides):
            self._note_name(symbol, side)
            return None
        literals = [n for s in sides if s.is_arithmetic for n in numbers_in(s.tree)]
        if (
            len(sides) == 1
            and arithmetic is None
            and not symbol
            and not label.words
            and not chain.leads
        ):
            return None
        broken = not _agree(sides)
        text = chain.text
        plus = bool(re.search(r"=\s*\+\s*[\d.]", text)) or text.startswith("+")
        strict_key = self.names.key_of(symbol) if symbol else ""
        if not strict_key and not symbol:
            strict_key = self._said_exactly(label)
        key = strict_key or self.bound.get(symbol, "")

        def claim(standing: Standing, key: str, value: float, sign: bool = False) -> Claim:
            tree = arithmetic.tree if arithmetic is not None else side.tree
            return Claim(
                standing,
                key,
                value,
                tree,
                side.figures,
                side.slack,
                sign,
                _entry_text(chain, symbol),
            )

        pool = list(self.quantities.all.values())
        if strict_key in self.quantities.all:
            pool = [self.quantities.all[strict_key]]
        found: list[tuple[float, Quantity, float]] = []
        signs: list[tuple[float, Quantity, float]] = []
        for quantity in pool:
            target = self.right.get(quantity.key, math.nan)
            if math.isnan(target) or (
                _AXIS_LETTER.search(symbol)
                and not strict_key
                and not quantity.axis
                and quantity.family == "force"
            ):
                continue
            how = match(
                side,
                quantity,
                target,
                self.scales,
                label,
                bool(strict_key),
                self.sense,
                plus,
                self.positive,
            )
            if how is Match.NO:
                continue
            score = self._evidence(label, quantity, literals, key, side)
            if key and quantity.key != key:
                score -= 1.2
            (found if how is Match.YES else signs).append((score, quantity, target))
        if found:
            score, quantity, target = max(found, key=lambda one: one[0])
            if score >= 1.0 and not (broken and score < 3):
                standing = Standing.RIGHT
                self._note_sense(side, quantity, target, plus)
                return claim(
                    self._asked(quantity, standing),
                    quantity.key,
                    self._signed(side, quantity, target),
                )
        if signs and not found:
            score, quantity, target = max(signs, key=lambda one: one[0])
            if score >= 1.0:
                value = -target
                return claim(Standing.WRONG, quantity.key, value, sign=True)
        followed = self._follows(chain, sides, label, key, literals, known, pool, strict_key, plus)
        if followed is not None and not broken:
            quantity, value = followed
            return claim(Standing.FOLLOWS, quantity.key if quantity else "", value)
        before = self._stands_already(side, chain, symbol, key, label)
        if before is not None:
            return claim(before.standing, before.key, before.value)
        if found and not broken and arithmetic is not None and self._all_known(literals):
            _, quantity, target = max(found, key=lambda one: one[0])
            if self.names.fit(label, quantity) > -0.5:
                return claim(Standing.KEPT, quantity.key, target)
        if (
            not broken
            and not symbol
            and arithmetic is not None
            and not label.words
            and self._is_part(side, literals)
        ):
            return claim(Standing.KEPT, "", side.value)
        is_lone = arithmetic is None and not symbol and not chain.leads
        about = (
            None if is_lone and side.dimension is None else self._about(label, key, side, literals)
        )
        if about is None:
            return Claim(Standing.UNREAD, "", side.value)
        if self._rests_on_unread(literals, about, arithmetic is None):
            return Claim(Standing.UNREAD, "", side.value)
        values = in_units(side, about, self.scales)
        value = min(
            (v for v, _ in values),
            key=lambda v: (
                abs(math.log(abs(v / self.right[about.key])))
                if v and self.right[about.key]
                else 0.0
            ),
            default=side.value,
        )
        is_bare = value > 0 and not plus and not strict_key
        if about.signed and self.right[about.key] < 0 and is_bare:
            value = -value  # a size is written without its sign
        return claim(Standing.WRONG, about.key, value)

    def _label(self, chain: Chain, symbol: str) -> Label:
        """Return the label of a chain; what is not named there was named before."""
        label = replace(label_of(chain.before, symbol, chain.behind), of=chain.of)
        forces = set().union(*self.names.words_of_force.values())
        if symbol or chain.of or label.words & forces:
            return label
        context = label_of(chain.context, "", "").words & forces
        if label.words & {"it", "its", "this", "that", "which"} and not context:
            context = self.last_label.words & forces
        return replace(label, words=label.words | context) if label.words else label

    def _with_unit_before(self, chain: Chain, side: Side) -> Side:
        """Return a side in the unit that stands before the line: `kg cm: 108.4 + 74.7 = 183.1`."""
        spellings = chain.before.strip(" ;,:[]()").split()
        units = [unit(spelling) for spelling in spellings]
        if side.dimension is not None or not units or None in units:
            return side
        worth = unit_size(tuple((spelling, 1) for spelling in spellings))
        return replace(
            side,
            value=side.plain * worth.value,
            dimension=worth.dimension,
            slack=side.slack * worth.value,
            units=tuple(u.sign for u in units if u),
        )

    def _said_exactly(self, label: Label) -> str:
        """Return the quantity whose own symbol stands among the words, "" where none does."""
        return ""

    def _signed(self, side: Side, quantity: Quantity, target: float) -> float:
        """Return a value with the sign that the problem counts it with."""
        values = [v for v, _ in in_units(side, quantity, self.scales)]
        value = min(values, key=lambda v: abs(abs(v) - abs(target)))
        return math.copysign(value, target)

    def _note_sense(self, side: Side, quantity: Quantity, target: float, plus: bool) -> None:
        if (
            quantity.dimension == MOMENT
            and quantity.signed
            and not self.sense
            and (side.plain < 0 or plus)
        ):
            self.sense = 1 if side.plain * target > 0 else -1

    def _asked(self, quantity: Quantity, standing: Standing) -> Standing:
        asked = quantity.step is not None and quantity.step.asked
        return standing if asked or standing is not Standing.RIGHT else Standing.KEPT

    def _is_given(self, side: Side, label: Label, symbol: str, sides: list[Side]) -> bool:
        """Return whether a value only repeats what is given."""
        if len(sides) > 1:
            return False
        key = self.names.key_of(symbol)
        if key and self.quantities.all[key].step is not None and key not in self.names.signs:
            return False
        return self._is_number_given(side)

    def _is_number_given(self, side: Side) -> bool:
        for given in self.question.givens:
            number = self.question.numbers[given.key]
            unit = known_unit(given.unit) if given.unit else None
            if side.dimension is None:
                if abs(side.plain - number) <= 1e-9 * abs(number):
                    return True
            elif unit is not None and side.dimension == unit.dimension:
                if abs(side.value - number * float(unit.size)) <= 1e-6 * abs(side.value):
                    return True
        return False

    def _evidence(
        self, label: Label, quantity: Quantity, literals: list[Number], key: str, side: Side
    ) -> float:
        """Return how much speaks for a number's being of a quantity, beside its value."""
        score = 3.0 if key == quantity.key else 0.0
        fit = self.names.fit(label, quantity)
        score += max(-2.0, min(fit, 3.0))
        share = self._support(literals, quantity)
        if literals:
            score += 1.2 * share if len(literals) > 1 and share == 1.0 else 0.6 * share - 0.2
        if side.dimension is not None and quantity.dimension != NUMBER:
            score += 0.4
        if quantity.step is not None:
            score += 0.3 + 0.1 * quantity.step.asked
        if quantity.family.startswith("sum"):
            score -= 0.4 + 0.1 * len(quantity.about) * (not quantity.whole)
        if (
            quantity.family == "angle"
            and side.dimension is None
            and not label.words
            and not label.symbol
        ):
            score -= 1.0
        if quantity.axis and quantity.family == "force" and not self._tells_axis(label, key):
            score -= 1.0
        if quantity.key.startswith(("M about", "from ")):
            score -= 0.0 if label.words & {"about", "check", "from", "to", "between"} else 1.0
        if self._is_to_come(quantity):
            score += 0.3
        if (
            self.last_label.words
            and not label.words
            and not label.symbol
            and any(
                self.names.words_of_force.get(s, set()) & self.last_label.words
                for s in quantity.about
            )
        ):
            score += 0.2
        return score

    def _tells_axis(self, label: Label, key: str) -> bool:
        """Return whether something says that a component is meant, not a whole force."""
        return bool(
            re.search(r"[xyhvXYHV]$", label.symbol)
            or label.words & _OF_COMPONENTS
            or label.behind & _OF_COMPONENTS
            or (key in self.quantities.all and self.quantities.all[key].axis)
        )

    def _is_to_come(self, quantity: Quantity) -> bool:
        return all(result.key != quantity.key for result in self.results)

    def _support(self, literals: list[Number], quantity: Quantity) -> float:
        """Return the share of the numbers of some arithmetic that a quantity is worked out from."""
        if not literals:
            return 0.0
        inputs = self._inputs_of(quantity)
        known = sum(_stands_among(n, inputs) or self._on_page(n, quantity) for n in literals)
        return known / len(literals)

    def _inputs_of(self, quantity: Quantity) -> list[float]:
        if quantity.key not in self._inputs:
            there = self.quantities.rests_on(quantity.key)
            found = [abs(self.right[key]) for key in there if key in self.right]
            found += [abs(number) for key, number in self.question.numbers.items() if key in there]
            for given in self.question.givens:
                if given.key in there or given.sign in there:
                    found.append(abs(self.question.numbers[given.key]))
            found += [
                abs(self.right[q.key])
                for q in self.quantities.all.values()
                if set(q.about) & set(quantity.about)
                and q.key in self.right
                and q.family != quantity.family
            ]
            if (
                quantity.family in ("force", "reaction", "moment")
                or quantity.whole
                or quantity.family.startswith("sum")
            ):
                found += [
                    abs(v)
                    for k, v in self.right.items()
                    if self.quantities.all[k].dimension in (MOMENT, LENGTH)
                    or quantity.family in ("reaction",)
                    or quantity.whole
                ]
            self._inputs[quantity.key] = [v for v in found if v]
        return self._inputs[quantity.key]

    def _on_page(self, number: Number, quantity: Quantity | None) -> bool:
        return any(_same_number(number, result.plain) for result in self.results)

    def _all_known(self, literals: list[Number]) -> bool:
        everything = [abs(v) for v in self.right.values() if v] + [
            abs(v) for v in self.question.numbers.values() if v
        ]
        return all(_stands_among(n, everything) or self._on_page(n, None) for n in literals)

    # ---- following

    def _own_world(self) -> Mapping[str, float]:
        if not self.own:
            return {}
        own = {k: v for k, v in self.own.items() if k in self.question.graph.steps}
        try:
            steps = self.question.graph.values(self.question.numbers, {}, own=own)
        except (ArithmeticError, ValueError):
            return {}
        return {
            **self.quantities.values(steps),
            **{k: steps[k] for k in ("R_dir", "class") if k in steps},
        }

    def _swapped(self, literals: Iterable[Number]) -> dict[float, float]:
        """Return the numbers that stand for wrong results of the page, with what they should be."""
        found: dict[float, float] = {}
        for number in literals:
            for result in reversed(self.results):
                if result.standing not in (Standing.WRONG, Standing.FOLLOWS) or math.isnan(
                    result.right
                ):
                    continue
                for wrong in (result.plain, result.value):
                    for by in _BETWEEN_UNITS:
                        if (
                            number.value
                            and wrong
                            and _same_number(number, wrong * by)
                            and number.value not in found
                        ):
                            found[number.value] = (
                                math.copysign(
                                    result.right
                                    * (number.value / abs(result.value))
                                    / (number.value / abs(number.value)),
                                    number.value,
                                )
                                if result.value
                                else number.value
                            )
                            found[number.value] = (
                                abs(result.right) * abs(number.value) / abs(result.value)
                            )
        return found

    def _right_names(self, known: Mapping[str, float]) -> dict[str, float]:
        """Return the values of symbols as if all that is wrong on the page were right."""
        found = dict(known)
        for symbol, value in known.items():
            key = self.names.key_of(symbol) or self.bound.get(symbol, "")
            wrong = next((r for r in reversed(self.results) if r.key == key and key), None)
            if (
                wrong is not None
                and wrong.standing in (Standing.WRONG, Standing.FOLLOWS)
                and wrong.value
            ):
                found[symbol] = value * abs(wrong.right) / abs(wrong.value)
        return found

    def _follows(
        self,
        chain: Chain,
        sides: list[Side],
        label: Label,
        key: str,
        literals: list[Number],
        known: Mapping[str, float],
        pool: list[Quantity],
        strict: str,
        plus: bool,
    ) -> tuple[Quantity | None, float] | None:
        """Return the quantity that a value would be right for, were the earlier numbers right."""
        side = sides[-1]
        swapped = self._swapped(literals)
        names = self._right_names(known)
        arithmetic = [s for s in sides if s.is_arithmetic]
        if (swapped or names != known) and arithmetic:
            for one in arithmetic:
                plain = plain_value(replaced(one.tree, swapped), chain, names)
                if (
                    math.isnan(plain)
                    or not one.plain
                    or math.isclose(plain, one.plain, rel_tol=1e-6)
                ):
                    continue
                ratio = plain / one.plain
                as_right = Side(
                    side.tree,
                    side.plain * ratio,
                    side.value * ratio,
                    side.dimension,
                    side.slack * abs(ratio),
                    side.figures,
                    (),
                    side.units,
                )
                found = []
                for quantity in pool:
                    target = self.right.get(quantity.key, math.nan)
                    if math.isnan(target):
                        continue
                    if (
                        match(
                            as_right,
                            quantity,
                            target,
                            self.scales,
                            label,
                            False,
                            0,
                            False,
                            self.positive,
                        )
                        is Match.YES
                    ):
                        found.append(
                            (self._evidence(label, quantity, [], key, side) + 0.8, quantity)
                        )
                if found:
                    score, quantity = max(found, key=lambda one: one[0])
                    if score >= 0.8:
                        values = [v for v, _ in in_units(side, quantity, self.scales)]
                        value = min(
                            values,
                            key=lambda v: (
                                abs(math.log(abs(v / self.right[quantity.key] / ratio)))
                                if v
                                else 99.0
                            ),
                        )
                        return quantity, math.copysign(value, self.right[quantity.key])
        own = self._own_world()
        found_own = []
        for quantity in pool:
            target = own.get(quantity.key, math.nan)
            if math.isnan(target) or target == self.right.get(quantity.key):
                continue
            if (
                match(
                    side,
                    quantity,
                    target,
                    self.scales,
                    label,
                    bool(strict),
                    self.sense,
                    plus,
                    self.positive,
                )
                is Match.YES
            ):
                found_own.append((self._evidence(label, quantity, [], key, side), quantity, target))
        if found_own:
            score, quantity, target = max(found_own, key=lambda one: one[0])
            if score >= 1.2 and quantity.key not in self.own:
                return quantity, self._signed(side, quantity, target)
        return None

    def _stands_already(
        self, side: Side, chain: Chain, symbol: str, key: str, label: Label
    ) -> Claim | None:
        """Return the claim that a value repeats, in the same unit or in another."""
        for name, solution, standing, right in reversed(self.solutions):
            if (name == symbol or not symbol) and any(
                is_near(side.plain * by, solution, side.slack)
                for by in ((1.0,) if symbol else (1.0,))
            ):
                bound = key or self.bound.get(name, "") or self.names.key_of(name)
                of = self.quantities.all.get(bound)
                if of is not None and not in_units(side, of, self.scales):
                    continue
                status = Standing.FOLLOWS if standing is Standing.WRONG else standing
                return Claim(status, bound, self._in_si(side, of))
        for result in reversed(self.results):
            if key and result.key != key:
                continue
            of = self.quantities.all.get(result.key)
            if of is not None and not (
                self.names.is_of_sort(label, of) and in_units(side, of, self.scales)
            ):
                continue
            values = (result.value, result.plain) if side.dimension is None else (result.value,)
            if any(
                is_near(abs(side.value), abs(value), side.slack, 0.006) for value in values
            ) and (key or not symbol):
                status = Standing.FOLLOWS if result.standing is Standing.WRONG else result.standing
                if key and result.standing is Standing.WRONG:
                    status = Standing.WRONG if not chain.leads else Standing.FOLLOWS
                return Claim(status, result.key, self._in_si(side, of))
        return None

    def _in_si(self, side: Side, quantity: Quantity | None) -> float:
        """Return a value in the unit and with the sign of what it is of."""
        target = self.right.get(quantity.key, math.nan) if quantity else math.nan
        if (
            quantity is None
            or math.isnan(target)
            or not (values := in_units(side, quantity, self.scales))
        ):
            return side.value
        value = min(
            (v for v, _ in values),
            key=lambda v: abs(math.log(abs(v / target))) if v and target else 99.0,
        )
        return math.copysign(value, target) if value > 0 and quantity.signed else value

    def _rests_on_unread(self, literals: list[Number], about: Quantity, is_bare: bool) -> bool:
        """Return whether what a wrong value came from was not understood, so that it may be right."""
        unread = [result for result in self.results if result.standing is Standing.UNREAD]
        telling = [n for n in literals if abs(n.value) not in _CONSTANTS]
        if any(_same_number(n, result.plain) for n in telling for result in unread):
            return True
        if not is_bare or not unread:
            return False
        # No arithmetic is shown, and the line that would lead here was not understood.
        return about.step is not None and about.step.kind.from_moments

    def _is_part(self, side: Side, literals: list[Number]) -> bool:
        """Return whether arithmetic is a part of what a right line holds: products of its numbers."""
        return len(literals) > 1 and self._all_known(literals) and False

    def _about(self, label: Label, key: str, side: Side, literals: list[Number]) -> Quantity | None:
        """Return what a wrong value is about, None where that can't be told."""
        if key in self.quantities.all:
            return self.quantities.all[key]
        ranked = []
        for quantity in self.quantities.all.values():
            if quantity.step is None and quantity.family not in ("mass", "angle"):
                continue
            if not in_units(side, quantity, self.scales):
                continue
            fit = self.names.fit(label, quantity)
            share = self._direct(literals, quantity)
            if not self.names.is_of_sort(label, quantity):
                continue
            if quantity.key.endswith(" horizontal") and "horizontal" in label.words | label.behind:
                fit += 0.5
            score = min(fit, 3.0) + 1.2 * share + 0.2 * self._is_to_come(quantity)
            score += 0.3 if side.dimension is not None else 0.0
            ranked.append((score, quantity.key))
        if not ranked:
            return None
        ranked.sort(reverse=True)
        return self.quantities.all[ranked[0][1]] if ranked[0][0] >= 1.5 else None

    def _direct(self, literals: list[Number], quantity: Quantity) -> float:
        """Return the share of numbers that stand in the quantity's own line."""
        if not literals or quantity.step is None:
            return 0.0
        values = []
        for use in (*quantity.step.uses, *quantity.step.quantities):
            values += [abs(self.right[use])] if use in self.right else []
            values += [abs(self.question.numbers[use])] if use in self.question.numbers else []
            for given in self.question.givens:
                if given.sign == use:
                    values.append(abs(self.question.numbers[given.key]))
        if not values:
            return 0.0
        hits = sum(any(_near_scaled(n, value) for n in literals) for value in values)
        return hits / len(values)

    # ---- equations

    def _equation(self, chain: Chain, symbol: str) -> Claim:
        """Judge an equation in which some symbol has no value yet."""
        sides = chain.sides
        best: Claim | None = None
        kept: list[Callable[[], None]] = []
        for known in (self.written, self.in_si):
            self.later = []
            claim = self._judge_equation(chain, symbol, sides, known)
            if claim is None:
                continue
            if best is None or _RANK[claim.standing] > _RANK[best.standing]:
                best, kept = claim, self.later
            if best.standing is Standing.RIGHT:
                break
        for keep in kept:
            keep()
        return best or Claim(Standing.UNREAD)

    def _judge_equation(
        self, chain: Chain, symbol: str, sides: tuple[Tree, ...], known: Mapping[str, float]
    ) -> Claim | None:
        names = list(dict.fromkeys(chain.names[n.symbol] for side in sides for n in names_in(side)))
        open_names = [name for name in names if name not in known]
        if symbol and symbol in known and symbol not in open_names:
            open_names.append(symbol)
        if len(sides) < 2:
            return None
        fixed = {name: self._right_value(name) for name in open_names}
        sure = [name for name in open_names if not math.isnan(fixed[name])]
        loose = [name for name in open_names if math.isnan(fixed[name])]
        if len(loose) > 1:
            return self._of_guesses(chain, sides, known, loose, {n: fixed[n] for n in sure})
        unknown = loose[0] if loose else self._sought(open_names, symbol)
        others = {name: fixed[name] for name in sure if name != unknown}
        return self._solved(chain, sides, {**known, **others}, unknown)

    def _sought(self, names: list[str], symbol: str) -> str:
        if symbol in names:
            return symbol
        there = {name: self.quantities.all.get(self._key(name)) for name in names}
        forces = [n for n, q in there.items() if q and q.step and q.family in ("force", "reaction")]
        return forces[0] if forces else names[0]

    def _key(self, name: str) -> str:
        return self.names.key_of(name) or self.bound.get(name, "")

    def _right_value(self, name: str) -> float:
        key = self._key(name)
        if key in self.own:
            return abs(self.own[key])
        if key in self.right:
            return abs(self.right[key])
        if name in ("alpha", "beta", "theta", "gamma", "phi"):
            angles = [q for q in self.question.givens if q.unit == "deg"]
            if len(angles) == 1:
                return self.question.numbers[angles[0].key]
        return math.nan

    def _of_guesses(
        self,
        chain: Chain,
        sides: tuple[Tree, ...],
        known: Mapping[str, float],
        loose: list[str],
        fixed: Mapping[str, float],
    ) -> Claim | None:
        """Try what several symbols without a meaning may stand for, the likeliest first."""
        *first, last = sorted(loose, key=lambda name: name[0] not in "WGmdLxa")
        if len(first) > 3:
            return None
        tries: list[dict[str, str]] = [{}]
        for name in first:
            label = label_of("", name, "")
            ranked = sorted(
                self.quantities.all.values(),
                key=lambda q: -self.names.fit(label, q) - 0.3 * (q.step is not None),
            )
            keys = [q.key for q in ranked if self.names.fit(label, q) > 0.3][:4]
            tries = [{**one, name: key} for one in tries for key in keys if key not in one.values()]
        for one in tries[:80]:
            values = {name: abs(self.right[key]) for name, key in one.items() if key in self.right}
            if len(values) < len(one):
                continue
            claim = self._solved(chain, sides, {**known, **fixed, **values}, last)
            if claim is not None and claim.standing is Standing.RIGHT:
                for name, key in one.items():
                    self.bound.setdefault(name, key)
                return claim
        return self._wrong_component(chain, sides, known, loose)

    def _wrong_component(
        self, chain: Chain, sides: tuple[Tree, ...], known: Mapping[str, float], loose: list[str]
    ) -> Claim | None:
        """Judge `Fy = F sin 20.5`, where it is wrong: its symbols say what they are."""
        first = sides[0]
        if not isinstance(first, Name) or len(loose) != 2:
            return None
        symbol = chain.names[first.symbol]
        other = next(name for name in loose if name != symbol)
        whole = self._best_of(label_of("", other, ""), lambda q: not q.axis)
        if whole is None:
            return None
        part = self._best_of(
            label_of("", symbol, ""), lambda q: bool(q.axis) and q.about == whole.about
        )
        if part is None or part.step is None:
            return None
        self.bound.setdefault(symbol, part.key)
        self.bound.setdefault(other, whole.key)
        value = plain_value(sides[1], chain, {**known, other: abs(self.right[whole.key])})
        if math.isnan(value):
            return None
        right = abs(self.right[part.key])
        standing = Standing.RIGHT if is_near(abs(value), right, 0.0) else Standing.WRONG
        self.later.append(lambda: self._remember_ratios(chain, sides, part.key))
        return Claim(
            standing,
            part.key,
            math.copysign(value, self.right[part.key]),
            sides[1],
            text=chain.text,
            is_equation=True,
        )

    def _best_of(self, label: Label, fits: Callable[[Quantity], bool]) -> Quantity | None:
        there = [
            q for q in self.quantities.all.values() if fits(q) and self.names.fit(label, q) >= 0.8
        ]
        return max(
            there, key=lambda q: self.names.fit(label, q) + 0.3 * (q.step is not None), default=None
        )

    def _solved(
        self, chain: Chain, sides: tuple[Tree, ...], known: Mapping[str, float], unknown: str
    ) -> Claim | None:
        """Judge an equation by what its one unknown comes to."""
        value = self._solution(chain, sides, known, unknown)
        literals = [n for side in sides for n in numbers_in(side)]
        key = self._key(unknown)
        label = Label(frozenset(), unknown)
        if math.isnan(value):
            return self._holds(chain, sides, known, unknown, key)
        slack = max(
            (
                n.half_digit / abs(n.value)
                for n in literals
                if n.value and n.half_digit and not self._is_exact(n)
            ),
            default=0.0,
        )
        side = Side(Number(value), value, value, None, min(slack, 0.004) * abs(value))
        strict = self.names.key_of(unknown)
        pool = (
            [self.quantities.all[strict]]
            if strict
            else [
                q
                for q in self.quantities.all.values()
                if (self.names.fit(label, q) > -0.3 or q.key == key)
                and not q.family.startswith("sum")
            ]
        )

        def claim(standing: Standing, quantity: Quantity | None, amount: float) -> Claim:
            about = "" if quantity is None else quantity.key

            def keep() -> None:
                self._keep_solution(chain, sides, unknown, value, about, standing, bool(key))

            self.later.append(keep)
            tree = next((s for s in sides if not isinstance(s, Name)), sides[0])
            return Claim(standing, about, amount, tree, None, 0.0, False, chain.text, True)

        found = []
        for quantity in pool:
            target = self.right.get(quantity.key, math.nan)
            if math.isnan(target):
                continue
            if (
                match(side, quantity, target, self.scales, label, False, 0, False, self.positive)
                is Match.YES
            ):
                score = self.names.fit(label, quantity) + 0.4 * (quantity.step is not None)
                score += 0.3 * self._is_to_come(quantity) + 1.0 * (quantity.key == key)
                found.append((score, quantity, target))
        if found:
            _, quantity, target = max(found, key=lambda one: one[0])
            return claim(Standing.RIGHT, quantity, target)
        swapped = self._swapped(literals)
        names = self._right_names(known)
        if swapped or names != dict(known):
            trees = tuple(replaced(tree, swapped) for tree in sides)
            again = self._solution(chain, trees, names, unknown)
            as_right = Side(Number(again), again, again, None, side.slack)
            for quantity in pool:
                target = self.right.get(quantity.key, math.nan)
                if (
                    not math.isnan(again)
                    and not math.isnan(target)
                    and match(
                        as_right,
                        quantity,
                        target,
                        self.scales,
                        label,
                        False,
                        0,
                        False,
                        self.positive,
                    )
                    is Match.YES
                ):
                    amounts = [v for v, _ in in_units(side, quantity, self.scales)]
                    return claim(
                        Standing.FOLLOWS,
                        quantity,
                        min(amounts, key=lambda v: abs(abs(v) - abs(self.right[quantity.key]))),
                    )
        for name, solution, standing, _ in reversed(self.solutions):
            if name == unknown and is_near(value, solution, side.slack):
                status = Standing.FOLLOWS if standing is Standing.WRONG else standing
                bound = self.quantities.all.get(self._key(unknown))
                return claim(status, bound, value)
        own = self._own_world()
        for quantity in pool:
            target = own.get(quantity.key, math.nan)
            if (
                not math.isnan(target)
                and match(
                    side, quantity, target, self.scales, label, False, 0, False, self.positive
                )
                is Match.YES
            ):
                return claim(Standing.FOLLOWS, quantity, target)
        if literals and self._known_share(literals) < 0.6 and not key:
            return None
        quantity = self._sought_by(label, key)
        if quantity is None:
            return None
        amounts = [v for v, _ in in_units(side, quantity, self.scales)]
        amount = min(
            amounts,
            key=lambda v: (
                abs(math.log(abs(v / self.right[quantity.key])))
                if v and self.right[quantity.key]
                else 99.0
            ),
        )
        return claim(Standing.WRONG, quantity, amount)

    def _sought_by(self, label: Label, key: str) -> Quantity | None:
        if key:
            return self.quantities.all[key]
        steps = [q for q in self.quantities.all.values() if q.step is not None]
        best = max(steps, key=lambda q: self.names.fit(label, q) + 0.2 * self._is_to_come(q))
        return best if self.names.fit(label, best) >= 0.5 else None

    def _known_share(self, literals: list[Number]) -> float:
        everything = [abs(v) for v in self.right.values() if v] + [
            abs(v) for v in self.question.numbers.values() if v
        ]
        hits = sum(_stands_among(n, everything) or self._on_page(n, None) for n in literals)
        return hits / len(literals)

    def _is_exact(self, number: Number) -> bool:
        values = [*self.question.numbers.values(), *_CONSTANTS]
        return any(abs(abs(number.value) - abs(v)) <= 1e-9 * abs(v) for v in values)

    def _keep_solution(
        self,
        chain: Chain,
        sides: tuple[Tree, ...],
        unknown: str,
        value: float,
        about: str,
        standing: Standing,
        is_bound: bool,
    ) -> None:
        """Keep what an unknown came to, so that later lines may rest on it."""
        right = abs(self.right[about]) if about in self.right else math.nan
        self.solutions.append((unknown, value, standing, right))
        self._remember_ratios(chain, sides, about)
        if about and not is_bound:
            self.bound[unknown] = about

    def _remember_ratios(self, chain: Chain, sides: tuple[Tree, ...], about: str) -> None:
        """Keep a number such as 0.350 of `Fy = F sin 20.5 = 0.350 F`, wrong where that line is."""
        last = sides[-1]
        if not (
            isinstance(last, Operation)
            and last.operator == "*"
            and isinstance(last.left, Number)
            and isinstance(last.right, Name)
        ):
            return
        if not isinstance(sides[0], Name) or about not in self.right:
            return
        other = self._key(chain.names[last.right.symbol])
        base = abs(self.right[other]) if other in self.right else math.nan
        if base and not math.isnan(base):
            right = abs(self.right[about]) / base
            is_right = is_near(last.left.value, right, last.left.half_digit)
            self.results.append(
                _Result(
                    last.left.value,
                    last.left.value,
                    right,
                    "",
                    Standing.RIGHT if is_right else Standing.WRONG,
                )
            )

    def _solution(
        self, chain: Chain, sides: tuple[Tree, ...], known: Mapping[str, float], unknown: str
    ) -> float:
        """Return what an unknown comes to, nan where that can't be told."""
        pairs = [(a, b) for a, b in zip(sides, sides[1:], strict=False)]
        for one, other in pairs:
            there = {chain.names[n.symbol] for side in (one, other) for n in names_in(side)}
            if unknown not in there:
                continue

            def residual(value: float, one: Tree = one, other: Tree = other) -> float:
                values = {**known, unknown: value}
                return plain_value(one, chain, values) - plain_value(other, chain, values)

            at = [residual(x) for x in (1.0, 2.0, 3.0)]
            if any(math.isnan(a) for a in at):
                continue
            size = max(map(abs, at)) or 1.0
            if abs(at[2] - 2 * at[1] + at[0]) > 1e-7 * size or abs(at[1] - at[0]) < 1e-12 * size:
                continue
            return 1.0 + at[0] / (at[0] - at[1])
        return math.nan

    def _holds(
        self,
        chain: Chain,
        sides: tuple[Tree, ...],
        known: Mapping[str, float],
        unknown: str,
        key: str,
    ) -> Claim | None:
        """Judge an equation that can't be solved for its unknown by whether it is true."""
        if not key or key not in self.right:
            return None
        values = {**known, unknown: abs(self.right[key])}
        plain = [plain_value(side, chain, values) for side in sides]
        if any(math.isnan(p) for p in plain):
            return None
        if all(is_near(p, plain[0], 0.0) for p in plain):
            return Claim(
                Standing.RIGHT, key, self.right[key], sides[-1], text=chain.text, is_equation=True
            )
        return None

    # ---- what is kept

    def _note_name(self, symbol: str, side: Side) -> None:
        if symbol:
            self.written[symbol] = side.plain
            self.in_si[symbol] = side.value

    def _remember(self, chain: Chain, symbol: str, claim: Claim) -> None:
        """Keep what a value says, so that later lines may rest on it."""
        sides = sides_of(chain, self.written, self.dimensions)
        closed = [side for side in sides if not math.isnan(side.plain)]
        if not closed:
            return
        side = closed[-1]
        self.last = side
        if chain.before.strip(" ;,:"):
            self.last_label = label_of(chain.before, symbol, "")
        if symbol:
            self.written[symbol] = side.plain
            self.in_si[symbol] = claim.value if not math.isnan(claim.value) else side.value
            if side.dimension is not None:
                self.dimensions[symbol] = side.dimension
            if (
                claim.key
                and not self.names.key_of(symbol)
                and claim.standing is not Standing.UNREAD
            ):
                self.bound[symbol] = claim.key
        right = self.right.get(claim.key, math.nan)
        # Each side of a chain is a number that later lines may take.
        for one in closed:
            if one.is_arithmetic and one is not side:
                continue
            value = claim.value if one is side or math.isnan(claim.value) else claim.value
            self.results.append(_Result(one.plain, value, right, claim.key, claim.standing))
        if (
            claim.key
            and claim.standing in (Standing.WRONG, Standing.FOLLOWS)
            and not math.isnan(claim.value)
        ):
            self.own[claim.key] = claim.value
        elif claim.key and claim.standing is Standing.RIGHT:
            self.own.pop(claim.key, None)


_AXIS_LETTER = re.compile(r"^[A-Z]_?[xyhvXYHV]$")
_OF_COMPONENTS = frozenset(
    ["horizontal", "horizontally", "vertical", "vertically", "part", "component", "components", "up", "down", "upward", "downward", "upwards", "downwards", "left", "right", "across", "along", "forward", "forwards", "back", "backwards", "perpendicular", "angles", "turns", "x", "y"]
)

_RANK = {
    Standing.RIGHT: 5, Standing.KEPT: 4, Standing.FOLLOWS: 3, Standing.WRONG: 2, Standing.UNREAD: 1,
    Standing.REMARK: 0,
}  # fmt: skip


def _whole(claims: Iterable[Claim]) -> Standing:
    """Return what a line is as a whole: wrong where one of its claims is."""
    there = {claim.standing for claim in claims} - {Standing.REMARK}
    if not there:
        return Standing.REMARK
    for standing in (Standing.WRONG, Standing.FOLLOWS, Standing.RIGHT, Standing.KEPT):
        if standing in there:
            return standing
    return Standing.UNREAD


def _cells(text: str) -> list[str]:
    """Return the cells of a row of a table, the whole line as one where it is none."""
    text = text.strip().strip("|")
    for mark in (r"\|", r"\t+", r"\s;\s|;\s(?=[\d.]+\s*(?:;|$))", r"\s{3,}"):
        cells = [cell.strip() for cell in re.split(mark, text)]
        if len(cells) > 2 and sum(bool(re.search(r"\d", cell)) for cell in cells[1:]) > 1:
            return cells
    if text.count("|") > 1:
        cells = [cell.strip() for cell in text.split("|")]
        return (
            cells
            if re.search(r"\d", cells[-1]) and not re.search(r"\d", text.rpartition("|")[0])
            else [text]
        )
    return [text]


def _is_nothing_to_check(chain: Chain) -> bool:
    """Return whether a chain is `ΣM = 0` or the like."""
    if len(chain.sides) != 2:
        return False
    one, other = chain.sides
    if isinstance(one, Measured) and isinstance(one.term, Number) and one.term.value == 1:
        return True  # `1 lb = 4.448 N`
    zero = isinstance(other, Number) and other.value == 0
    return isinstance(one, Name) and zero


def _with_symbol_first(chain: Chain) -> tuple[str, Chain]:
    """Return the symbol that stands alone on one side, and the chain with it first."""
    sides = chain.sides
    first = sides[0]
    if (
        len(sides) > 1
        and isinstance(first, Call)
        and first.function == "abs"
        and isinstance(first.term, Name)
    ):
        chain = replace(chain, sides=(first.term, *sides[1:]))
        sides = chain.sides
    if len(sides) > 1 and isinstance(sides[0], Name):
        return chain.names[sides[0].symbol], chain
    if len(sides) > 1 and isinstance(sides[-1], Name):
        turned = Chain(
            (sides[-1], *sides[:-1]),
            chain.names,
            chain.before,
            chain.behind,
            chain.leads,
            "",
            chain.text,
        )
        return chain.names[sides[-1].symbol], turned
    return "", chain


def _agree(sides: list[Side]) -> bool:
    """Return whether the sides of a chain come to one number, units and rounding apart."""
    last = sides[-1]
    for side in sides[:-1]:
        slack = 0.012 * abs(last.plain)
        half = last.slack / (abs(last.value / last.plain) if last.plain and last.value else 1.0)
        if not any(
            abs(abs(side.plain) * by - abs(last.plain)) <= slack + half * 1.001 + 1e-12
            for by in _BETWEEN_UNITS
        ):
            if (
                side.dimension is None
                or side.dimension != last.dimension
                or not is_near(side.value, last.value, last.slack + side.slack, 0.012)
            ):
                return False
    return True


def _same_number(number: Number, value: float) -> bool:
    """Return whether a number may be another, cut to its figures."""
    slack = max(number.half_digit * 1.02, 5e-4 * abs(value))
    return abs(abs(number.value) - abs(value)) <= slack


def _near_scaled(number: Number, value: float) -> bool:
    return any(_near(number, value * by) for by in _SCALES_OF_INPUTS)


def _near(number: Number, value: float) -> bool:
    return abs(abs(number.value) - value) <= max(number.half_digit * 1.02, 6e-3 * value)


def _stands_among(number: Number, values: list[float]) -> bool:
    """Return whether a number is a constant or one of some values, in some unit."""
    if any(abs(abs(number.value) - c) <= 1e-9 for c in _CONSTANTS):
        return True
    return any(_near_scaled(number, value) for value in values)


def _entry_text(chain: Chain, symbol: str) -> str:
    return chain.text


def judge_page(question: Question, texts: Iterable[str]) -> Page:
    """Judge all lines of a page."""
    lines = list(texts)
    page = Page(question, decimal_comma(lines))
    page.scales = with_units_of(page.scales, "\n".join(lines))
    for text in lines:
        page.write(text)
    return page


__all__ = ["TOLERANCE", "Claim", "JudgedLine", "Negative", "Page", "Standing", "judge_page"]
