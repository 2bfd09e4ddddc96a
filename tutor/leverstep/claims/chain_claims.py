"""What one chain of a line claims: what it is of, and which kind of judgement it needs."""

from __future__ import annotations

import math
import re
from collections.abc import Set
from dataclasses import replace
from typing import Literal

from leverstep.claims import weights
from leverstep.claims.chain_symbols import ChainSymbols
from leverstep.claims.equations_judged import EquationJudge
from leverstep.claims.equations_solved import EquationJudged
from leverstep.claims.evidence import Evidence
from leverstep.claims.following import Following
from leverstep.claims.judged_line import Claim, LineStanding
from leverstep.claims.labels import label_of
from leverstep.claims.meanings import Meanings
from leverstep.claims.memory import Memory
from leverstep.claims.names_in_use import TOTALS
from leverstep.claims.near_numbers import agree, is_near
from leverstep.claims.number_stated import label_of_chain, number_stated
from leverstep.claims.numbers_judged import NumberJudge
from leverstep.claims.quantity_values import BODY_WEIGHT_KEY
from leverstep.claims.ratios_said import ratio_of_numbered, true_quotient, with_ratio_named
from leverstep.claims.segments import Chain
from leverstep.claims.subject import Subject
from leverstep.claims.symbol_fit import SIGNS_OF_SUM
from leverstep.claims.traced import Tracing
from leverstep.claims.worth import has_call, numbers_in, sides_of
from leverstep.course.symbols import SPELT
from leverstep.entry.tree import Call, Measured, Name, Number, Operation, Tree
from leverstep.entry.vocabulary import INVERSES
from leverstep.statics import kinds
from leverstep.statics.reaction import ways_of_direction
from leverstep.statics.units import unit

_LIKE_GRAVITY = 0.2
"""A number for g that is further off than this share is in other units."""
_LONGEST_LETTER = 3
"""Letters of a symbol; what is longer is a word."""
_FEWEST_LETTERS = 2
"""More letters than these stand in an equation of which it is asked what they mean."""
_END_OF_SENTENCE = re.compile(r"(?<=[a-z]{3})\s*[.!?](?:\s+|$)")
_BODY_WEIGHT = "BW"


class ChainJudge:
    """Judges chains one after the other, and keeps what later ones may rest on."""

    def __init__(self, subject: Subject, memory: Memory) -> None:
        self.subject = subject
        self.memory = memory
        self.following = Following(subject, memory, Evidence(subject, memory))
        self.symbols = ChainSymbols(subject, memory)
        self.meanings = Meanings(subject, memory)
        tracing = Tracing(subject, self.meanings)
        self.numbers = NumberJudge(subject, memory, self.following, tracing)
        self.equations = EquationJudge(subject, memory, self.following, tracing)

    def claim(self, chain: Chain) -> Claim | None:
        """Return what a chain claims, None where it claims nothing."""
        if chain.times and len(chain.sides) < 2:
            return None
        if chain.is_torn or _ends_in_lost_unit(chain):
            return Claim(LineStanding.UNREAD)
        chain = self._carried_on(self._with_word_among_words(_of_last_sentence(chain)))
        chain = _angle_found(_without_sum_named(chain))
        if (compared := ratio_of_numbered(chain, self.subject, self.memory)) is not None:
            return compared
        chain = with_ratio_named(chain, self.subject, self.memory)
        if len(chain.sides) == 1 and isinstance(chain.sides[0], Name):
            self.symbols.define(chain.names[chain.sides[0].symbol], chain.behind)
            return None
        is_balance = _is_nothing_to_check(chain) and not self._is_of_reaction(chain)
        if is_balance or self._is_formula(chain):
            return None
        self._take_body_weight(chain)
        if BODY_WEIGHT_KEY not in self.subject.right and _is_in_body_weights(chain):
            chain = replace(chain, sides=chain.sides[:-1])  # the problem has no such weight
        if (gravity := self._gravity(chain)) is not None:
            return gravity
        claim = self._judged(*self.symbols.with_what_it_is_of(chain))
        is_wrong = claim is not None and claim.standing is LineStanding.WRONG
        is_of_weight = claim is not None and claim.key == BODY_WEIGHT_KEY
        is_open = is_wrong and is_of_weight and _is_in_body_weights(chain)
        return Claim(LineStanding.UNREAD) if is_open else claim

    def _is_of_reaction(self, chain: Chain) -> bool:
        """Return whether a chain is about a component of the reaction by its letter: `Rx = 0`."""
        first = chain.sides[0]
        name = chain.names[first.symbol] if isinstance(first, Name) else ""
        return name[:1] == "R" and bool(self.subject.names.axis_of(name))

    def _take_body_weight(self, chain: Chain) -> None:
        """Take BW as the weight of the body where words name what a multiple of it is: `trunk 0.355
        BW = 272`; that is no equation for it.
        """
        weight, first = self.subject.right.get(BODY_WEIGHT_KEY), chain.sides[0]
        is_multiple = _BODY_WEIGHT in chain.symbols_in(first) and not isinstance(first, Name)
        named = self.subject.names.forces_named(label_of(chain.before)) - {"body"}
        if weight and is_multiple and named:
            self.memory.put_unless_written(_BODY_WEIGHT, weight)

    def _judged(self, symbol: str, chain: Chain) -> Claim | None:
        """Return what a chain claims of the symbol that it is about, or of what its words name."""
        if self._has_unknown(chain, symbol):
            if len(chain.sides) == 1:
                return self._term(chain)
            claim = self._equation(chain, symbol)
            return claim if claim and claim.standing.holds else self._worked_out(chain) or claim
        sought = self._sought_again(chain, symbol)
        return self._equation(chain, sought) if sought else self._number(chain, symbol)

    def _worked_out(self, chain: Chain) -> Claim | None:
        """Return what is worked out behind a product of letters that nothing is known of, None
        where a line has no such: `F·L = 331·2.23 = 738.1 N·m`.
        """
        first, *others = chain.sides
        letters = chain.symbols_in(first)
        is_product = isinstance(first, Operation) and first.operator == "*"
        if not is_product or len(others) < 2 or next(numbers_in(first), None) is not None:
            return None
        if any(self.memory.key_of(letter) for letter in letters) or chain.symbols_in(*others):
            return None
        return self._number(replace(chain, sides=tuple(others), leads=True), "")

    def _sought_again(self, chain: Chain, symbol: str) -> str:
        """Return the symbol that an equation is about though its value is known, "" in any other.

        `0 = F*0.0157 - 15.98` says something of F, whether F was written before or not; and so does
        `F*0.0157 + 3.2 = 16.7*0.16`, whatever its other side is by itself.
        """
        if symbol or len(chain.sides) < 2 or all(chain.symbols_in(s) for s in chain.sides[:2]):
            return ""
        zero = any(isinstance(side, Number) and side.value == 0 for side in chain.sides)
        forces = [
            name
            for name in chain.symbols_in(*chain.sides)
            if name in self.memory.written
            and (quantity := self.memory.quantity_of(name)) is not None
            and quantity.family in ("force", "reaction")
        ]
        return forces[0] if forces and (zero or self._says_of_symbols(chain)) else ""

    def _says_of_symbols(self, chain: Chain) -> bool:
        """Return whether one side has symbols among numbers, and adds up or is not the other."""
        one, other = sides_of(chain, self.memory.written, {})[:2]
        side = one if chain.symbols_in(one.tree) else other
        if next(numbers_in(side.tree), None) is None:
            return False
        is_sum = isinstance(side.tree, Operation) and side.tree.operator in ("+", "-")
        return is_sum or not agree([one, other])

    def direction(self, chain: Chain, claim: Claim) -> Claim | None:
        """Return what words beside a right reaction say of where it points: `R = 369 N down`."""
        quantity = self.subject.all.get(claim.key)
        if quantity is None or quantity.family != "reaction" or not claim.standing.holds:
            return None
        sense = label_of(chain.before, "", chain.behind).sense
        ways = (sense.get("x", 0), sense.get("y", 0))
        question = self.subject.question
        question = question.at(quantity.step) if quantity.step else question
        key = question.key(kinds.REACTION_DIRECTION)
        for standing, world in (
            (LineStanding.RIGHT, self.subject.question.right),
            (LineStanding.FOLLOWS, self.following.world()),
        ):
            code = world.get(key, 0.0)
            if any(ways) and ways_of_direction(code) == ways:
                value = float(round(code))
                return Claim(standing, key, value, text=chain.text, named=claim.named)
        return None

    def _is_formula(self, chain: Chain) -> bool:
        """Return whether a chain is a formula in letters that stand for nothing yet: `W = m g`."""
        first, *others = chain.sides
        if not isinstance(first, Name) or len(others) != 1 or next(numbers_in(others[0]), None):
            return False
        names = set(chain.symbols_in(*chain.sides)) - {"g", *SPELT.values()}
        if not names.isdisjoint(self.memory.rewritten):
            return True  # it is meant of each of them
        return len(names) > 1 and not any(
            self.memory.key_of(name) or name in self.memory.written for name in names
        )

    def _with_word_among_words(self, chain: Chain) -> Chain:
        """Return `moment of bag = …` or `ratio, muscle/cuff = …` with all its words before it.

        A page that has `cuff = …` on a line of its own has it as a symbol of another sort.
        """
        first, *others = chain.sides
        if not isinstance(first, Name) or not others:
            return chain
        word = chain.names[first.symbol]
        quantity, label = self.memory.quantity_of(word), label_of(chain.before)
        is_word = len(word) > _LONGEST_LETTER and word.isalpha() and word.islower()
        is_name = quantity is None and word in self.subject.names.all_words | TOTALS
        is_other = is_word and quantity and not self.subject.names.is_of_sort(label, quantity)
        if not is_name and not is_other:
            return chain
        before = f"{chain.before} {word}"
        return replace(chain, sides=tuple(others), before=before, leads=True, times="")

    def _carried_on(self, chain: Chain) -> Chain:
        """Return a chain that begins with `* 9.81` with the last number of the page before that."""
        if not chain.times:
            return chain
        if (word := self._name_behind(chain.before)) and chain.times == "*":
            first = _with_factor(Name("word_", 0), "*", chain.sides[0])
            names = {**chain.names, "word_": word}
            return replace(chain, sides=(first, *chain.sides[1:]), names=names, times="")
        if self.memory.last is None:
            return chain
        before = Number(self.memory.last.plain)
        first = _with_factor(before, "*" if chain.times == "*" else "/", chain.sides[0])
        return replace(chain, sides=(first, *chain.sides[1:]), leads=False, times="", context="")

    def _name_behind(self, words: str) -> str:
        """Return the name of a force that words end with, as a symbol: `Rear` of `Rear * 2.45`."""
        word = words.rpartition(" ")[2]
        names = self.subject.names
        is_name = word.lower() in names.all_words or names.speaks_of_axis(word)
        return word if len(word) > _LONGEST_LETTER and is_name else ""

    def _gravity(self, chain: Chain) -> Claim | None:
        """Judge `g = 9.8`, which later lines take."""
        first, last = chain.sides[0], chain.sides[-1]
        if not isinstance(first, Name) or chain.names[first.symbol] != "g" or len(chain.sides) != 2:
            return None
        number = next(numbers_in(last), None)
        if number is None:
            return None
        accepted = self.subject.question.accepted["g"]
        is_right = any(abs(number.value - value) < 1e-3 * value for value in accepted)
        if not is_right and not is_near(number.value, accepted[0], 0.0, _LIKE_GRAVITY):
            return Claim(LineStanding.UNREAD)  # it may be in other units, or be no gravity at all
        self.memory.put_symbol("g", number.value, number.value)
        return Claim(LineStanding.KEPT if is_right else LineStanding.WRONG, "g", number.value)

    def _has_unknown(self, chain: Chain, symbol: str) -> bool:
        """Return whether symbols without a value stand in the way of one for the chain."""
        sides = chain.sides[1:] if symbol else chain.sides
        unknown = [set(chain.symbols_in(side)) - self.memory.written.keys() for side in sides]
        if symbol and not unknown[-1]:
            return False  # what lies between is how it was found
        return any(unknown)

    def _term(self, chain: Chain) -> Claim:
        """Judge a term that stands alone; one that words name is as large as what they name, and so
        it is an equation for the angle in it: `lever arm of G: 0.175 sin θ`.
        """
        claim = self.equations.term(chain, self.memory.written)
        if not has_call(chain.sides[0]) or claim.standing is not LineStanding.UNREAD:
            return claim
        label, fit = label_of_chain(chain, "", self.memory), self.subject.names.fit
        score, key = max((fit(label, quantity), key) for key, quantity in self.subject.all.items())
        worth = abs(self.memory.own.get(key, self.subject.right.get(key, math.nan)))
        if score < weights.ENOUGH_TO_SAY or math.isnan(worth):
            return claim
        judged = self._equation(replace(chain, sides=(*chain.sides, Number(worth))), "")
        return replace(judged, standing=LineStanding.KEPT) if judged.standing.holds else judged

    def _number(self, chain: Chain, symbol: str) -> Claim | None:
        """Judge a chain that comes to a number, with symbols as written and then in SI."""
        best: Claim | None = None
        for known in (self.memory.written, self.memory.in_si):
            sides = sides_of(chain, known, self.memory.dimensions)
            closed = [s for s in (sides[1:] if symbol else sides) if not math.isnan(s.plain)]
            if not closed:
                continue
            claim = self.numbers.judge(chain, symbol, closed, known)
            if claim is None:
                return None
            best = claim if claim.is_better_than(best) else best
            if claim.standing in (LineStanding.RIGHT, LineStanding.KEPT):
                break
        if best is None:
            return Claim(LineStanding.UNREAD)
        if not best.standing.holds:
            best = true_quotient(chain, self.subject, self.memory) or best
        self.memory.take(chain, symbol, best)
        self.meanings.note(chain)
        return best

    def _equation(self, chain: Chain, symbol: str) -> Claim:
        """Judge an equation by its unknown, or by its numbers where that tells nothing."""
        letters, best = self._letters_untold(chain), self._judged_best(chain, symbol)
        if best is None or not best.claim.standing.holds:
            quotient = true_quotient(chain, self.subject, self.memory)
            if quotient is not None:
                return quotient
        is_unread = best is None or best.claim.standing is LineStanding.UNREAD
        if is_unread and (number := self._number_beside(chain)) is not None:
            return number
        if is_unread:
            self._note_unread(chain)
        if best is None:
            return Claim(LineStanding.UNREAD, letters=letters)
        if best.claim.standing.holds and not _is_worked_out_alike(
            chain, self.memory, self.numbers.exact
        ):
            return Claim(LineStanding.UNREAD, best.claim.key, unequal=True)
        self.equations.keep(chain, best)
        self.meanings.note(chain)
        if letters and best.claim.standing.holds:
            return Claim(LineStanding.UNREAD, letters=letters)  # it is guessed what they mean
        return replace(best.claim, letters=letters)

    def _note_unread(self, chain: Chain) -> None:
        """Keep the symbols of an equation that was not understood, by which later lines go on:
        those of one without numbers, or with two or more that have no value yet.
        """
        symbols = set(chain.symbols_in(*chain.sides))
        is_in_symbols = not any(next(numbers_in(side), None) for side in chain.sides)
        unknown = symbols - self.memory.written.keys()
        self.memory.of_unread.update(
            symbols if is_in_symbols else unknown if len(unknown) > 1 else ()
        )

    def _judged_best(self, chain: Chain, symbol: str) -> EquationJudged | None:
        """Return what an equation claims with symbols as written, or in SI where that is better."""
        best: EquationJudged | None = None
        written, in_si = self.memory.written, self.memory.in_si
        is_same = all(written.get(n) == in_si.get(n) for n in chain.symbols_in(*chain.sides))
        for known in (written,) if is_same else (written, in_si):
            judged = self.equations.judge(chain, symbol, known)
            if judged is not None and judged.claim.is_better_than(best.claim if best else None):
                best = judged
            if best is not None and best.claim.standing is LineStanding.RIGHT:
                break
        return best

    def _number_beside(self, chain: Chain) -> Claim | None:
        """Return what the sides that are worked out say by themselves, where that holds: those
        behind a formula in letters of nothing that is known, `I * alpha = 0.41 * 69 = 28.3 N m`.
        """
        first, *others = chain.sides
        is_closed = len(others) > 1 and not chain.symbols_in(*others)
        if not is_closed or next(numbers_in(first), None) is not None:
            return None
        numbers = replace(chain, sides=tuple(others), leads=True, times="")
        sides = sides_of(numbers, self.memory.written, self.memory.dimensions)
        claim = self.numbers.judge(numbers, "", sides, self.memory.written)
        if claim is None or not claim.standing.holds or not claim.named:
            return None
        self.memory.take(numbers, "", claim)
        self.meanings.note(numbers)
        return claim

    def _letters_untold(self, chain: Chain) -> tuple[str, ...]:
        """Return the letters of an equation without numbers that nothing says the meaning of, where
        most of it is made of such; else none.
        """
        if any(number.value for side in chain.sides for number in numbers_in(side)):
            return ()
        names = dict.fromkeys(chain.symbols_in(*chain.sides))
        untold = [
            name
            for name in names
            if name not in self.memory.written and not self.memory.key_of(name)
        ]
        return tuple(untold) if 2 * len(untold) > len(names) > _FEWEST_LETTERS else ()


def _with_factor(factor: Tree, operator: Literal["*", "/"], tree: Tree) -> Tree:
    """Return a tree whose first factor is multiplied or divides: `F * 2` before `2 - 3 = …`."""
    match tree:
        case Operation(operator="+" | "-" | "*" | "/") if tree.operator != "/" or operator == "*":
            first = _with_factor(factor, operator, tree.left)
            return Operation(tree.operator, first, tree.right)
        case Measured():
            return Measured(_with_factor(factor, operator, tree.term), tree.units)
    return Operation(operator, factor, tree)


def _of_last_sentence(chain: Chain) -> Chain:
    """Return a chain with the words of its own sentence before it, where a symbol or words are."""
    last = _END_OF_SENTENCE.split(chain.before)[-1]
    is_told = isinstance(chain.sides[0], Name) or re.search(r"[^\W\d_]{2,}", last)
    return replace(chain, before=last) if is_told else chain


def _without_sum_named(chain: Chain) -> Chain:
    """Return `ΣM = 0 = …` or `ΣM = … = 0` as an equation with nothing on its other side."""
    first, *others = chain.sides
    is_named = isinstance(first, Name) and chain.names[first.symbol].startswith(("Σ", "sum"))
    is_nothing = any(isinstance(side, Number) and not side.value for side in others)
    return (
        replace(chain, sides=tuple(others))
        if is_named and len(others) > 1 and is_nothing
        else chain
    )


def _angle_found(chain: Chain) -> Chain:
    """Return `tan θ = 0.3077` as what it says of the angle: θ = atan 0.3077."""
    first, *others = chain.sides
    if not (isinstance(first, Call) and first.function in INVERSES and others):
        return chain
    if not isinstance(first.term, Name) or chain.symbols_in(*others):
        return chain
    turned = [Call(INVERSES[first.function], side) for side in others]
    return replace(chain, sides=(first.term, *turned))


def _is_nothing_to_check(chain: Chain) -> bool:
    """Return whether a chain is `ΣM = 0`, `sum M = 0 N m`, or `1 lb = 4.448 N`."""
    if len(chain.sides) != 2:
        return False
    one, other = chain.sides
    if isinstance(one, Measured) and isinstance(one.term, Number) and one.term.value == 1:
        return True
    if not isinstance(one, Name):
        return False
    is_sum = f"{chain.before}{chain.names[one.symbol]}".strip().startswith(SIGNS_OF_SUM)
    number = other.term if isinstance(other, Measured) and is_sum else other
    return isinstance(number, Number) and number.value == 0


def _ends_in_lost_unit(chain: Chain) -> bool:
    """Return whether a unit was parted from its number by a sign for equals: `W = 13.6 ~ N`."""
    *others, last = chain.sides
    is_unit = isinstance(last, Name) and unit(chain.names[last.symbol]) is not None
    return is_unit and len(others) > 1 and isinstance(others[-1], Number)


def _is_in_body_weights(chain: Chain) -> bool:
    """Return whether a force is said again as a multiple of the body's weight, which is no equation
    for that: `so it bears 1400 N = 2.3 BW`.
    """
    *others, last = chain.sides
    is_multiple = _BODY_WEIGHT in chain.symbols_in(last) and not isinstance(last, Name)
    return is_multiple and bool(others) and _BODY_WEIGHT not in chain.symbols_in(*others)


def _is_worked_out_alike(chain: Chain, memory: Memory, exact: Set[float]) -> bool:
    """Return whether the sides of an equation without a symbol in them are equal: no further step
    of `F*2.0 = 3*4 + 5*6 = 12 + 30 = 42` goes wrong.

    Args:
        chain: the equation.
        memory: what the page has written.
        exact: the sizes of the givens, which are typed as they are stated.
    """
    closed = [side for side in chain.sides if not chain.symbols_in(side)]
    if len(closed) < 2:
        return True
    worked = replace(chain, sides=tuple(closed))
    sides = sides_of(worked, memory.written, memory.dimensions)
    return agree(number_stated(worked, "", sides, memory.written, memory).rounded(exact))
