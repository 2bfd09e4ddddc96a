"""A page of working, judged line by line: what each line claims, of what, and whether it holds.

A line is right where what it says is true, however it is written; it follows where it would be
true had the student's own earlier numbers been right.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import lru_cache

from leverstep.claims.bearings_said import bearing_behind
from leverstep.claims.beside_the_working import (
    answered,
    goes_on_supposing,
    is_aside,
    says_constant,
    without_remark,
)
from leverstep.claims.chain_claims import ChainJudge
from leverstep.claims.columns import Column, ColumnSums, as_one_line, columns_above, header_of
from leverstep.claims.compared_forces import forces_compared
from leverstep.claims.givens_said import begins_list, givens_said
from leverstep.claims.in_words import answer_alone, claim_in_words, is_without_formula, names_class
from leverstep.claims.judged_line import Claim, JudgedLine, LineStanding, whole
from leverstep.claims.labels import words_in
from leverstep.claims.letters_laid_down import letters_called, letters_laid_down
from leverstep.claims.memory import Memory
from leverstep.claims.names_behind import parts_named
from leverstep.claims.names_in_use import TOTALS
from leverstep.claims.numbers_in_order import numbers_in_order
from leverstep.claims.pairs import components_in
from leverstep.claims.plain_writing import (
    decimal_comma,
    evenly_spaced,
    has_decimal_comma,
    has_decimal_point,
    is_numbered_class,
    made_plain,
    two_ways_in,
    with_contact_named,
    with_gravity,
    with_metres,
    with_points,
    with_turn_told,
    with_weight,
)
from leverstep.claims.postures_beside import parts_of, postures_beside
from leverstep.claims.rows import cells_of, has_unit, sense_of_moments, worked_out
from leverstep.claims.said_again import LATE_PARTS
from leverstep.claims.segments import Chain, chains_of, words_of
from leverstep.claims.senses import Senses
from leverstep.claims.subject import Subject
from leverstep.claims.ways_said import way_said
from leverstep.claims.words_multiplied import words_multiplied
from leverstep.course.phrases import way_round
from leverstep.course.problem import Question
from leverstep.statics import kinds

LONGEST_LINE = 400
"""Characters of a line that is read; a longer one is no line of working."""
MOST_LINES = 400
"""Lines of a page that are read; what stands further down is not."""

_DIGIT = re.compile(r"\d")
_SYMBOL = re.compile(r"(?<![\w.])[^\W\d]\w*")
_CLAUSE = re.compile(r"[;:,]|\b(?:so|hence|therefore|thus)\b")
_PLACE = re.compile(r"\b(?:inside|within|outside|beyond)\b", re.IGNORECASE)
_LETTER_OR_DIGIT = re.compile(r"[^\W_]")


@lru_cache(maxsize=64)
def with_other_gravity(question: Question) -> tuple[Question, ...]:
    """Return a question with the other values of g that count, as far as the tolerance tells them
    from the first.
    """
    first, *others = question.accepted["g"]
    tolerance = question.problem.share_off
    return tuple(
        replace(question, accepted={**question.accepted, "g": (other,)})
        for other in others
        if not math.isclose(other, first, rel_tol=tolerance)
    )


class Page:
    """The lines of one page on one question, as far as they are written."""

    def __init__(
        self, question: Question, comma: bool = False, text: str = "", own_sense: bool = True
    ) -> None:
        """Begin a page.

        Args:
            question: what is worked.
            comma: whether it writes decimals with a comma; the first that is sure tells too.
            text: the whole of it, where that is known: its units count for numbers without one, and
                its marks in numbers for each of them.
            own_sense: whether its signs tell which sense of rotation it counts as positive; else
                that is the problem's.
        """
        self.question = question
        self.lines: list[JudgedLine] = []
        self._has_grams = any(given.unit == "g" for given in question.givens)
        self._along_segment = re.compile(
            r"\b(along|across|perpendicular to|parallel to) the "
            rf"(?:{'|'.join(map(re.escape, words_in(question.problem.segment)))})\b"
        )
        self._names_length = question.problem.names_length
        self._has_friction = any(
            step.kind is kinds.FRICTION_NEEDED and question.key(kinds.REACTION_Y) in step.uses
            for step in question.derivation.steps
        )
        self._has_base = any(s.kind is kinds.SUPPORTED for s in question.derivation.steps)
        self._has_watts = any(step.unit == "W" for step in question.derivation.steps)
        self._subject = Subject(question, text)
        self._memory = Memory(self._subject, Senses(own_sense))
        self._chains = ChainJudge(self._subject, self._memory)
        self._columns: list[Column] = []
        self._added = ColumnSums()
        self._postures: list[str] = []  # of which the columns of the page are
        self._points = has_decimal_point(text)
        self.comma = comma or self._are_decimals(text)
        self._with_other_gravity = tuple(
            Page(one, comma, text, own_sense) for one in with_other_gravity(question)
        )

    @property
    def other_sense(self) -> str:
        """Return which sense of rotation the page counts as positive, "" where the problem does."""
        if self._memory.senses.of_page >= 0:
            return ""
        return way_round(-self._subject.positive)

    def in_symbols_of_problem(self, text: str) -> str:
        """Return a line with the problem's symbols in place of those that the page has for them."""
        symbols = {
            one: key for one, key in self._memory.bound.items() if key in self._subject.right
        }
        return _SYMBOL.sub(lambda match: symbols.get(match.group(), match.group()), text)

    def write(self, text: str) -> JudgedLine:
        """Judge a further line; one that is too long, or too far down, is unread.

        What holds with one of the values of g that count holds.
        """
        others = [page.write(text) for page in self._with_other_gravity]
        sure = [one for one in others if one.standing in (LineStanding.RIGHT, LineStanding.KEPT)]
        line = min((self._judged(text), *sure), key=lambda one: one.standing.rank)
        self.lines.append(line)
        return line

    def _judged(self, text: str) -> JudgedLine:
        if len(text) > LONGEST_LINE or len(self.lines) >= MOST_LINES:
            claims, standing = [], LineStanding.UNREAD
        else:
            self._points = self._points or has_decimal_point(text)
            self.comma = self.comma or has_decimal_comma(text) or self._are_decimals(text)
            self._memory.note_posture(words_in(text))
            is_heading = not _DIGIT.search(text) and bool(_LETTER_OR_DIGIT.search(text))
            header = header_of(text) if is_heading else []
            is_of_table = any(column.unit for column in header)
            claims = [] if is_of_table else self._claims_beside_each_other(text)
            if is_heading:
                self._postures = postures_beside(text, self._subject.names) or self._postures
                self._memory.heading = words_in(text)
                self._columns = header or self._columns
            standing = whole(claims)
        return JudgedLine(len(self.lines) + 1, text, standing, tuple(claims))

    def _are_decimals(self, text: str) -> bool:
        """Return whether commas before three digits are those of decimals: one is in a number of
        the problem only so, and none is only otherwise. Beside decimal points they are thousands.
        """
        if self._points:
            return False
        has_number = self._subject.has_number
        ways = [
            (
                has_number(float(n.replace(",", ".")), 5e-4),
                has_number(float(n.replace(",", "")), 0.5),
            )
            for n in two_ways_in(text)
        ]
        return (True, False) in ways and (False, True) not in ways

    def _claims_beside_each_other(self, text: str) -> list[Claim]:
        """Return what a line claims; one in columns, each of a posture, says something of each, and
        is read where all of it is.
        """
        text = with_points(text, self.comma)
        parts = parts_of(text, len(self._postures))
        if not parts:
            return self._claims(as_one_line(text))
        return self._claims_of_parts(parts, self._postures)

    def _claims_of_parts(self, parts: list[str], postures: list[str]) -> list[Claim]:
        """Return what the parts of a line claim, each of its posture; where one is not read, that
        alone, so that those beside it do not make it right.
        """
        claims: list[Claim] = []
        for posture, part in zip(postures, parts, strict=True):
            self._memory.speak_of(posture)
            said = self._claims(part) if _DIGIT.search(part) else []
            if posture and any(self._is_of_another(claim) for claim in said):
                return [Claim(LineStanding.UNREAD)]
            if said and whole(said) is LineStanding.UNREAD:
                return said
            claims += said
        return claims

    def _is_of_another(self, claim: Claim) -> bool:
        """Return whether a claim is of a line of another posture than the page speaks of."""
        return claim.key in self._subject.right and self._memory.is_of_other(claim.key)

    def _claims(self, text: str) -> list[Claim]:
        text = without_remark(answered(evenly_spaced(text)))
        if not _LETTER_OR_DIGIT.search(text) or says_constant(text):
            return []
        if self._names_length:
            text = with_metres(text)
        self._subject.note_units(text)
        if letters := letters_laid_down(text, self._subject):
            self._memory.lay_down(letters)
            return []
        return self._claims_of_line(text)

    def _claims_of_line(self, text: str) -> list[Claim]:
        """Judge a line that lays nothing down: a row of a table, an answer, or working."""
        if parts := parts_named(text, self._subject.names.all_words):
            return self._claims_of_parts(parts, [""] * len(parts))
        cells, plain = cells_of(text), self._made_plain(text)
        if components := components_in(plain, cells):
            return self._claims_of_components(components)
        if len(cells) > 2:
            return self._claims_of_row(text, cells)
        if (alone := self._answer_alone(plain)) is not None:
            is_item = is_numbered_class(text) and not alone.standing.holds
            return [] if is_item else [alone]  # it may be the second line of a list
        return self._claims_of_working(text, plain)

    def _claims_of_working(self, text: str, plain: str) -> list[Claim]:
        """Judge a line of working by its chains, or by its words where these tell nothing."""
        self._note_sense(plain)
        self._memory.lay_down(letters_called(text, self._subject))
        before = self.lines[-1].text if self.lines else ""
        aside = is_aside(text) or goes_on_supposing(text, before)
        plain, words = words_multiplied(plain, self._subject.names.symbols_in_words)
        known = self._memory.symbols | words
        chains = [replace(c, is_aside=aside) for c in chains_of(plain, known)]
        claims = self._claims_of_chains(chains)
        if begins_list(text) and all(claim.is_beside for claim in claims):
            return []
        is_telling = any(claim.standing is not LineStanding.UNREAD for claim in claims)
        if names_class(plain) or (not is_telling and is_without_formula(plain)):
            said = self._place_told(plain) or self._claim_in_words(plain)
            if said is not None:
                return [*(claim for claim in claims if claim.symbol or claim.is_worked_out), said]
        return claims if is_telling else self._claims_else(text, plain, chains, claims)

    def _place_told(self, plain: str) -> Claim | None:
        """Return what a line says of where the line of gravity falls, whatever stands before that:
        `heels at -4.7, toes at 18.8, so inside`.
        """
        said = next((part for part in _CLAUSE.split(plain) if _PLACE.search(part)), "")
        return self._answer_alone(said) if self._has_base and said else None

    def _answer_alone(self, plain: str) -> Claim | None:
        """Return the answer in words that is all that a line says; where the line of gravity falls
        may follow from a number that was not understood.
        """
        said = answer_alone(plain, self.question, self._world())
        if said is None or said.standing is not LineStanding.WRONG or not self._memory.has_unread:
            return said
        step = next(s for s in self.question.derivation.steps if s.key == said.key)
        is_open = step.kind is kinds.SUPPORTED
        return replace(said, standing=LineStanding.UNREAD) if is_open else said

    def _claims_else(
        self, text: str, plain: str, chains: list[Chain], claims: list[Claim]
    ) -> list[Claim]:
        """Return what a line claims beside formulas, or says of givens, where its chains are all
        unread.
        """
        is_named = any(c.symbol and c.doubted and not c.unequal for c in claims)
        beside = claims if is_named else self._claims_beside_formulas(text, plain) or claims
        given = None if beside else givens_said(text, plain, chains, self._subject)
        return beside if given is None else [given]

    def _made_plain(self, text: str) -> str:
        """Return a line in plain writing, with `g` and `W` for gravity and a weight where they are
        no units of the problem, the parts of the reaction that are called after the floor, and
        no name of a force in `along the trunk`.
        """
        plain = self._along_segment.sub(r"\1", made_plain(text))
        plain = with_turn_told(plain, self._memory.last_moment)
        if not self._has_grams:
            plain = with_gravity(plain)
        if not self._has_watts:
            plain = with_weight(plain)
        return with_contact_named(plain) if self._has_friction else plain

    def _note_sense(self, plain: str) -> None:
        """Keep which sense of rotation a line says to count as positive, if it says so."""
        if sense := sense_of_moments(plain):
            self._memory.senses.say(sense * self._subject.positive)

    def _claims_of_chains(self, chains: Iterable[Chain]) -> list[Claim]:
        """Judge what stands in a line between and beside its equals signs, from left to right."""
        claims: list[Claim] = []
        for chain in chains:
            latest = claims[-1] if claims else Claim(LineStanding.UNREAD)
            pointed = bearing_behind(chain, latest, self._subject, self._world())
            if pointed is not None:
                claims.append(pointed)
            elif (claim := self._chains.claim(chain)) is not None:
                direction = self._chains.direction(chain, claim)
                claims += [claim] if direction is None else [claim, direction]
        return claims

    def _claim_in_words(self, plain: str) -> Claim | None:
        """Return the answer in words that a line gives, which may be about the line before it."""
        of_last = self._subject.all.get(self._memory.last_key)
        after_reaction = of_last is not None and of_last.family == "reaction"
        posture = self._memory.posture
        said = claim_in_words(plain, self.question, self._world(), after_reaction, posture)
        if said is None or said.standing is not LineStanding.WRONG:
            return said
        # A direction may follow from a reaction that was not understood.
        late = {s.key for s in self.question.derivation.steps if s.kind.part in LATE_PARTS}
        may_follow = said.key in late and not late.isdisjoint(self._memory.doubted)
        return replace(said, standing=LineStanding.UNREAD) if may_follow else said

    def _claims_beside_formulas(self, text: str, plain: str) -> list[Claim]:
        """Return what a line says of forces without a formula: how they compare, or a way."""
        last, world = self._memory.last_force, self._world()
        told = forces_compared(text, self._subject, world, last)
        if (ordered := numbers_in_order(plain, self._subject, self._memory)) is not None:
            told = [ordered]
        way = way_said(plain, self._subject, world, last, self._memory.last_key)
        return told or ([way] if way is not None else [])

    def _world(self) -> Mapping[str, float]:
        """Return what every quantity comes to with the page's own wrong values, by key."""
        return self._chains.following.world()

    def _claims_of_components(self, lines: Iterable[str]) -> list[Claim]:
        """Judge components of a force; one that does not hold may be along another axis."""
        chains = [chain for line in lines for chain in chains_of(line, self._memory.symbols)]
        claims = [self._chains.claim(chain) for chain in chains]
        return [
            replace(claim, standing=LineStanding.UNREAD) if not claim.standing.holds else claim
            for claim in claims
            if claim is not None
        ]

    def _claims_of_row(self, text: str, cells: list[str]) -> list[Claim]:
        """Judge a row of a table: its first cell says which force, the others are values of it.

        A wrong cell beside right ones may be of a column that is not known: it is told where it
        has its unit or is the product of others, and where the last has only its sign wrong.
        """
        head, plain = words_of(cells[0]), [made_plain(cell) for cell in cells]
        symbols, force = self._memory.symbols, self._memory.force_by_letter(cells[0])
        of, forces = self._subject.names.words_of(force), {force.key} if force else {}
        columns = columns_above(text, cells, self._columns)
        components = [cell for one, cell in zip(columns, plain, strict=True) if one.is_of_axis]
        plus = "+" if any(cell[:1] == "-" for cell in components) else ""
        claims: list[tuple[Claim, bool]] = []
        unread: list[Claim] = []
        for column, cell in worked_out(plain):
            above = columns[column]
            is_added = self._added.adds_up(above, cell, is_sum=bool(words_in(head) & TOTALS))
            for chain in chains_of(above.filled(cell), symbols):
                words = f"{head} {above.words} {chain.before}"
                typed = "+" if cell[:1] == "+" else plus if re.match(r"\d", cell) else ""
                sign = typed if above.is_of_axis else ""
                named = replace(chain, before=words, leads=False, of=of, forces=frozenset(forces))
                named = replace(named, text=f"{sign}{chain.text}")
                claim = self._chains.claim(named)
                if claim is None:
                    continue
                if claim.standing is LineStanding.UNREAD:
                    if is_added:
                        claims.append((replace(claim, standing=LineStanding.FOLLOWS), True))
                    elif above.is_of_axis:
                        return [claim]  # those beside it do not make it right
                    unread.append(claim)
                    continue
                is_sure = has_unit(cell) or cell not in plain or above.is_of_axis
                claims.append((claim, is_sure))
        if not claims:
            return unread
        holding = any(claim.standing is not LineStanding.WRONG for claim, _ in claims)
        last = claims[-1][0] if claims else None
        return [
            claim
            for claim, is_sure in claims
            if claim.standing is not LineStanding.WRONG
            or not holding
            or is_sure
            or (claim is last and claim.sign)
        ]


def judge_page(question: Question, texts: Iterable[str]) -> Page:
    """Judge all lines of a page.

    Args:
        question: what is worked.
        texts: the lines, as they were typed.
    """
    lines = list(texts)
    page = Page(question, decimal_comma(lines), "\n".join(lines))
    for text in lines:
        page.write(text)
    return page
