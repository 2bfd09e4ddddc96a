"""What a line that is written freely is taken as: by its own, and beside the page it stands on."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from leverstep.claims.judged_line import Claim, LineStanding
from leverstep.claims.page_of_claims import Page
from leverstep.claims.plain_writing import with_points
from leverstep.course.symbols import spelt
from leverstep.entry.plain_squares import squares_marked
from leverstep.entry.reading import with_symbol
from leverstep.entry.tokens import LONGEST_ENTRY
from leverstep.entry.tree import Reason, Unreadable
from leverstep.entry.way_behind import says_way
from leverstep.statics.kinds import EQUATION, Part
from leverstep.working.asked_lines import AskedLines
from leverstep.working.body_weights import with_body_weight
from leverstep.working.claimed_lines import all_hold, is_of_one_value, reading_of_wrong
from leverstep.working.equation_lines import judge_formula
from leverstep.working.free import read_free_line
from leverstep.working.guidance import Guidance
from leverstep.working.pair_names import InSymbols, PairNames
from leverstep.working.standing_lines import Line, as_typed
from leverstep.working.understood import Understood
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.writing import quantity

_GIVEN = re.compile(
    r"\W*+(?!(?:the )?(?:[wgfp]\b|weight|force))[^\d=+*/^]*+=\s*+[\d.,]++[^\d=+*/^]*",
    re.IGNORECASE,
)
"""A name and a number, but no name of a force, in a letter of its own or a word."""


@dataclass(frozen=True, slots=True)
class Ahead:
    """A line that is written on the page before it is entered, as it is next: what it claims, and
    which sense counted as positive before it.
    """

    text: str
    claims: Sequence[Claim]
    other_sense: str


class UnderstoodLines(AskedLines):
    """The lines of one question, and what others that say themselves which they are would be.

    It keeps none of them: it has only a page of what was written, for what a line does not say.
    """

    _ahead: tuple[Ahead, ...] = ()
    """What was written on the page ahead and is not entered yet, in that order."""

    @cached_property
    def _for_page(self) -> dict[str, str]:
        """Return the last entry of each line asked for that the page has not read yet, by key."""
        return {}

    @cached_property
    def _pair_names(self) -> PairNames:
        """Return the names that the student has for a pair of forces."""
        return PairNames(self.question)

    @property
    def _here(self) -> str:
        """Return the key of the step that a bare value is for, "" where it must be named."""
        current = self.current()
        return current.key if current and self.guidance is Guidance.LANDMARKS else ""

    def _said(self, text: str, here: str) -> InSymbols:
        """Return a line in the symbols of the problem: squares, the weight of the body, and names
        for a pair of forces; a bare value is for the step `here`.
        """
        if len(text) > LONGEST_ENTRY:  # the page alone reads as much
            return InSymbols(text)
        symbols = self._standing.at_first
        text = squares_marked(text, symbols)
        text = with_body_weight(text, self.question, symbols, self._by_key.get(here))
        if not self.rules.own_words:
            return InSymbols(text)

        def is_right(said: str) -> bool:
            return self._understood(said, "").verdict.settled

        return self._pair_names.read(text, symbols, is_right)

    def _named(self, text: str, here: str) -> str:
        """Return a line, with the symbol of the step `here` before a bare value, which is its."""
        try:
            free = read_free_line(text, self.question, self._standing.known(), here)
        except Unreadable:
            return text
        is_bare = len(free.sides) == 1 and not free.is_named
        return with_symbol(text, self.step(here)) if is_bare else text

    def _for_the_page(self, key: str, text: str) -> str:
        """Return an entry of a step as a page may read it: an equation by what it comes to."""
        step, line = self.step(key), self.lines.get(key)
        said = with_symbol(text, step)
        if said == text or line is None or line.reading is None or not self._names(key, text):
            return said
        return f"{key} = {quantity(line.reading.value, step.unit)}"

    def _claims(self, text: str) -> Sequence[Claim]:
        """Write a line on the page, after the last entry of each line asked for since the line
        before; return what it claims. One that was written ahead is there.
        """
        ahead, self._ahead = self._ahead, self._ahead[1:]
        if not self.rules.own_words:
            return ()
        if ahead and ahead[0].text == text:
            return ahead[0].claims
        for before in self._for_page.values():
            self._page.write(before)
        self._for_page.clear()
        return [claim for claim in self._page.write(text).claims if not claim.is_beside]

    def _only_restates(self, text: str, unread: Verdict) -> bool:
        """Return whether a line that can't be read, and is on the page, only says what is given.

        Not where it is told by its symbol that it needs no line, or may take a mass for a weight.
        """
        if unread.outcome is not Outcome.UNREAD or not self.rules.own_words:
            return False
        if not _GIVEN.fullmatch(text):
            return False
        if unread.reason is not None and unread.reason.code == "is_given":
            return False
        claims = next((one.claims for one in self._page.lines[::-1] if one.text == text), ())
        return bool(claims) and all(claim.is_beside for claim in claims)

    def _claims_ahead(self, text: str) -> Sequence[Claim]:
        """Write a line on the page that is to be entered next; return what it claims."""
        sense, ahead, self._ahead = self.other_sense, self._ahead, ()
        claims = self._claims(text)
        self._ahead = (*ahead, Ahead(text, claims, sense))
        return claims

    @cached_property
    def _page(self) -> Page:
        """Return the page of all that was written freely, for what a line alone does not say."""
        return Page(self.question, own_sense=self.guidance.free)

    @property
    def other_sense(self) -> str:
        """Return which sense counts as positive on the page, "" where the problem's own does."""
        return self._page.other_sense if self.rules.own_words else ""

    @property
    def writes_commas(self) -> bool:
        """Return whether a line that stands, or the page of all lines, has decimal commas."""
        return super().writes_commas or (self.rules.own_words and self._page.comma)

    def _understood(self, text: str, here: str) -> Understood:
        """Return what a line is taken as by its own: its symbol, its words or its one unknown.

        A bare value is for the step `here`, "" where it must be named.
        """
        answered = [key for key in self.lines if self.stands(key) or not self.rules.tells]
        try:
            known = self._standing.known()
            free = read_free_line(text, self.question, known, here, answered)
            if free.implied is not None:
                line = self._judge_numbers(free, free.implied, text)
                return Understood(line.verdict, line, is_sure=True)
            verdict = judge_formula(self._standing, free, text, self.rules.tells)
        except Unreadable as error:
            return self._understood_otherwise(text, here, error)
        if verdict is not None and not self.closed(free.key):
            return Understood(verdict, is_sure=free.is_sure)
        line = self._judge(self.step(free.key), free.text)
        is_equation = self.step(free.key).kind is EQUATION
        unknown = is_equation and line.verdict.reason and line.verdict.counts
        if unknown and self.rules.tells:  # to refuse it would tell
            return Understood(Verdict("", text, Outcome.UNREAD, Reason("no_line")))
        is_sure = free.is_named or (free.is_equation and line.verdict.counts)
        return Understood(line.verdict, line, is_sure)

    def _understood_otherwise(self, text: str, here: str, error: Unreadable) -> Understood:
        """Return what a line is taken as that can't be read as it stands, and why it can't."""
        if error.reason.code == "comma" and self.writes_commas:
            return self._understood(with_points(text, comma=True), here)
        if (component := self._component(text, here)) is not None:
            counts = component.verdict.counts
            return Understood(component.verdict, component if counts else None, is_sure=True)
        if says_way(text):
            return Understood(Verdict("", text, Outcome.UNREAD, Reason("begin_with_symbol")))
        return Understood(Verdict("", text, Outcome.UNREAD, error.reason, error.place))

    def _understood_by_page(self, text: str, before: Understood) -> Understood:
        """Return what a line in symbols of the student's own is taken as by what these stand for,
        or else what it was taken as before.
        """
        understood = self._understood(self._page.in_symbols_of_problem(text), "")
        if understood.line is None or not understood.verdict.counts:
            return before
        line = as_typed(understood.line, text)
        return replace(understood, verdict=line.verdict, line=line)

    def _component(self, text: str, here: str) -> Line | None:
        """Judge a force with its way behind it, named by its symbol or for the step `here`; None
        for any other line.
        """
        symbol, equals, _ = text.partition("=")
        step = self._by_key.get(spelt(symbol.strip()) if equals else here)
        return None if step is None else self._judge_by_way(step, text)

    def _are_its(self, claims: Sequence[Claim], asked: str) -> bool:
        """Return whether claims hold, of the line asked for first: `369 N down` has a way too."""
        is_its = all_hold(claims) and claims[0].key == asked
        return is_its and not self._follows_only_itself(claims[0], asked)

    def _follows_only_itself(self, claim: Claim, asked: str) -> bool:
        """Return whether a value of the line asked for is but the wrong one that stood there."""
        if claim.standing is not LineStanding.FOLLOWS:
            return False
        step = self.step(asked)
        judged = self._judge_reading(step, claim.text, reading_of_wrong(claim, step))
        return not judged.verdict.settled

    def _is_elsewhere(self, understood: Understood, asked: str) -> bool:
        """Return whether a line is taken as another than the one that is asked for.

        It says so by its form, or in practice is right: elsewhere wrong ones would be tried for
        nothing, or what is taken would tell.
        """
        verdict, tells = understood.verdict, self.rules.tells
        if not verdict.step:
            return False
        if self.step(asked).kind.part is Part.BALANCE and verdict.outcome is Outcome.WRONG:
            return False  # it answers what is asked
        if tells and verdict.step != asked and verdict.outcome is Outcome.WRONG:
            said = verdict.text.partition("=")[2] or verdict.text
            fits = self._judge(self.step(asked), said).verdict.settled
            if self.stands(verdict.step) or fits:  # a slip of the pen in the name
                return False
        return understood.is_sure or (self.rules.own_words and verdict.settled)

    def _are_claimed_elsewhere(
        self, claims: Sequence[Claim], understood: Understood, asked: str
    ) -> bool:
        """Return whether a line is taken as what it claims, of other lines or of the one asked for.

        What it is of must be named, since a bare value is always for what is asked; what is wrong
        must be named rightly.
        """
        if not (all_hold(claims) or self._wrong_in(claims, understood)):
            return False
        if not all(claim.key and claim.named and claim.unknowns < 2 for claim in claims):
            return False
        others = [one for one in claims if one.key != asked and is_of_one_value(one, self._by_key)]
        return not any(self._is_misnamed(one, asked) for one in others)

    def _is_misnamed(self, claim: Claim, asked: str) -> bool:
        """Return whether a wrong claim only bears a wrong name: that of a line that stands right,
        or beside a value that is right at the line that is asked for.
        """
        step = self.step(asked)
        if self.stands(claim.key) or not step.kind.is_number:
            return self.stands(claim.key)
        return self._judge_reading(step, claim.text, reading_of_wrong(claim, step)).verdict.settled

    def _wrong_in(self, claims: Sequence[Claim], understood: Understood) -> bool:
        """Return whether a line that was not understood by its own claims a wrong value of a step.

        Where its formula goes on in a word that is not known, its value is not.
        """
        is_sure = not understood.breaks_off
        return is_sure and any(is_of_one_value(claim, self._by_key) for claim in claims)
