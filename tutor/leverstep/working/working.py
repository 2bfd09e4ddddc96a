"""One student's working on one question: lines at their steps, and lines written freely."""

from __future__ import annotations

import logging
from collections.abc import Callable, Hashable, Sequence
from dataclasses import replace

from leverstep.claims.judged_line import Claim, LineStanding
from leverstep.entry.reading import with_symbol
from leverstep.entry.tree import Reason
from leverstep.entry.way_behind import says_way
from leverstep.statics.step import Step
from leverstep.working.claimed_lines import (
    all_hold,
    beside_symbols,
    claimed_line,
    is_bare_value,
    is_heading,
    is_of_one_value,
    is_of_wrong_moments,
    is_only_in_symbols,
    left_unread,
    letters_untold,
    line_of_claim,
    on_other_body,
    reading_of_wrong,
)
from leverstep.working.free import is_open, is_read
from leverstep.working.judged_before import Judged, JudgedBefore
from leverstep.working.standing_lines import Line, as_typed
from leverstep.working.understood import note_of_sign
from leverstep.working.understood_lines import UnderstoodLines
from leverstep.working.verdict import Outcome, Verdict

_log = logging.getLogger(__name__)


class Working(UnderstoodLines):
    """The lines of one question, entered at their steps or written freely, on a page of their own.

    `enter`, `enter_open` and `write` judge; all else only tells how things stand.
    """

    _foreseen: tuple[object, Line] | None = None
    """What `may_count` judged last, with all that it rests on."""

    judged_before: JudgedBefore | None = None
    """Lines that were judged in other workings of the same question, which it may take from."""

    def enter(self, key: str, text: str) -> Verdict:
        """Judge an entry at a step as `AskedLines` does, and remember it for the page."""
        try:
            return self._in_symbols(text, key, lambda said: self._entered(key, said))
        except Exception:  # noqa: BLE001  (a fault of ours must not take the sitting down)
            return self._failed(key, text)

    def _entered(self, key: str, text: str) -> Verdict:
        verdict = super().enter(key, text)
        if verdict.counts and self.rules.own_words:
            self._for_page.pop(key, None)
            self._for_page[key] = self._for_the_page(key, verdict.text)
        return verdict

    def is_open(self, key: str, text: str) -> bool:
        """Return whether an entry at a step may be another line, for `enter_open` to judge."""
        try:
            known, own_words = self._standing.known(), self.rules.own_words
            said = self._said(text, key).text
            if is_open(said, self.step(key), self.question, known, own_words):
                return True
            if self.says_more(key, said):  # in a drill a wrong one would be tried for nothing
                is_right = self.rules.tells and self._understood(said, "").verdict.settled
                return own_words or is_right
            return own_words and is_heading(said) and not is_read(said, self.step(key), known)
        except Exception:  # noqa: BLE001  (what can't be told is for the step)
            _log.exception("A line of %s could not be told", self.question.problem.id)
            return False

    def may_count(self, key: str, text: str) -> bool:
        """Return whether an entry may be judged, so far as that is known before; nothing comes of
        asking.

        `key` is that of the line it is for, "" where it says itself which one it is. Entered next,
        it is not judged again.
        """
        self._ahead = ()
        try:
            said = self._said(text, key or self._here).text
            if key and not self.is_open(key, text):
                line = self._judge(self.step(key), said)
                self._foreseen = self._beside(key, said), line
                return (self._refused(key, said) or line.verdict).counts
            return self._may_count_elsewhere(said, key) if key else self._may_count_freely(said)
        except Exception:  # noqa: BLE001  (what can't be told is asked as ever)
            return True

    def _may_count_freely(self, text: str) -> bool:
        """Return whether a line that says itself which one it is may be judged."""
        understood = self._understood(text, self._here)
        claims = self._claims_ahead(self._named(text, self._here))
        if understood.verdict.outcome is Outcome.UNREAD and any(map(is_of_wrong_moments, claims)):
            understood = self._understood_by_page(text, understood)
        if on_other_body(self.question, self.guidance, understood.verdict, claims):
            return False
        if self._may_take(understood.verdict, text):
            return True
        may_hold = all_hold(claims) and not understood.is_clear
        is_of_page = may_hold or (understood.line is None and self._wrong_in(claims, understood))
        return is_of_page and self._may_keep(claims, text)

    def _may_count_elsewhere(self, text: str, asked: str) -> bool:
        """Return whether an entry at a step that may be another line may be judged."""
        understood, claims = self._understood(text, ""), self._claims_ahead(text)
        if self._is_elsewhere(understood, asked):
            return self._may_take(understood.verdict, text)
        is_elsewhere = self._are_claimed_elsewhere(claims, understood, asked)
        if is_elsewhere and any(line_of_claim(claim, self._by_key) for claim in claims):
            return self._may_keep(claims, text)
        names_other = any(claim.named and claim.key not in ("", asked) for claim in claims)
        if is_elsewhere or not names_other:
            said = self._own_words_for(text, asked)
            own = self._claims_ahead(said) if said else ()
            if self._are_its(own, asked):
                return self._may_keep(own, text)
        if is_elsewhere:
            return self._may_keep(claims, text)
        is_unread = letters_untold(claims) is not None and not understood.verdict.counts
        return not is_unread and self._may_take(self._judge(self.step(asked), text).verdict, text)

    def _may_take(self, verdict: Verdict, text: str) -> bool:
        """Return whether a line is judged, as it is understood, and not refused."""
        return verdict.counts and not (verdict.step and self._refused(verdict.step, text))

    def _may_keep(self, claims: Sequence[Claim], text: str) -> bool:
        """Return whether one of the claims of a line may be kept as a try of its line."""
        return any(self._may_keep_claim(claim, text) for claim in claims)

    def _may_keep_claim(self, claim: Claim, text: str) -> bool:
        if is_of_one_value(claim, self._by_key):
            return self._refused(claim.key, text) is None
        key = line_of_claim(claim, self._by_key) if claim.standing.holds else ""
        is_kept = bool(key) and not is_only_in_symbols(claim, self.step(key), self._has_value)
        return is_kept and self._refused(key, text) is None

    def _judge(self, step: Step, text: str) -> Line:
        """Judge an entry at a step; what `may_count` judged beside the same lines stays."""
        if self._foreseen is not None and self._foreseen[0] == self._beside(step.key, text):
            return self._foreseen[1]
        if self.judged_before is None:
            return super()._judge(step, text)
        return self._judge_once(self.judged_before, step, text)

    def _judge_once(self, known: JudgedBefore, step: Step, text: str) -> Line:
        """Judge an entry at a step, unless one was judged before with the same content."""
        said = self.question, step.key, text, self.rules, self.guidance
        judged = known.find(said)
        content: Hashable = said
        if judged is None:
            content = *said, self.writes_commas, *self._standing.content_beside(step)
            judged = known.find(content)
        if judged is not None:
            self.judgings += judged.judgings
            return judged.line
        before, line = self.judgings, super()._judge(step, text)
        is_alone = self._is_right_alone(step, line)
        known.keep(said if is_alone else content, Judged(line, self.judgings - before))
        return line

    def _beside(self, key: str, text: str) -> object:
        """Return all that the verdict on an entry at a step rests on, so that none is stale."""
        return key, text, self.rules, self.writes_commas, tuple(self.lines.values())

    def enter_open(self, key: str, text: str) -> Verdict:
        """Judge an entry at a step that may be another line; what is none is one of the step."""

        def entered(said: str) -> Verdict:
            verdict = self._written_elsewhere(said, key) if self.is_open(key, said) else None
            return verdict or self._entered(key, said)

        try:
            return self._in_symbols(text, key, entered)
        except Exception:  # noqa: BLE001  (a fault of ours must not take the sitting down)
            return self._failed(key, text)

    def write(self, text: str) -> Verdict:
        """Judge a line that says itself which one it is, and keep it where it could be read.

        The verdict names the line it was taken as, "" where it is none of this problem.
        """
        try:
            before = self._ahead[0].other_sense if self._ahead else self.other_sense
            verdict = self._in_symbols(text, self._here, self._written)
            return verdict if before == self.other_sense else self._with_sense(verdict)
        except Exception:  # noqa: BLE001  (a fault of ours must not take the sitting down)
            return self._failed("", text)

    def _in_symbols(self, text: str, here: str, judged: Callable[[str], Verdict]) -> Verdict:
        """Judge a line in the symbols of the problem, and keep it as it was typed.

        Names that it has for a pair of forces count from now on, and are told once.
        """
        said = self._said(text, here)
        verdict = judged(said.text)
        if said.text == text:
            return verdict if verdict.text == text else replace(verdict, text=text, place=None)
        if said.names and verdict.outcome is not Outcome.UNREAD:
            self._pair_names.keep(said)
            if verdict.settled and verdict.reason is None:
                (one, first), (other, second) = said.names.items()
                note = Reason.of("names_taken", one=one, name=first, other=other, here=second)
                verdict = self._with_note(verdict, note)
        line = self.lines.get(verdict.step)
        if line is not None and line.verdict is verdict:
            self.lines[verdict.step] = typed = as_typed(line, text)
            return typed.verdict
        return replace(verdict, text=text, place=None)

    def _with_sense(self, verdict: Verdict) -> Verdict:
        """Return a verdict that says once which sense the page turns out to count as positive."""
        sense = self.other_sense
        if not sense:
            return verdict
        for line in list(self.lines.values()):  # the size of a moment has its sign by that
            if line.verdict.reason is not None and line.verdict.reason.code == "as_size":
                self.lines[line.verdict.step] = line._replace(
                    verdict=replace(line.verdict, reason=None)
                )
        if verdict.reason == Reason("nothing_to_check"):
            return replace(verdict, reason=Reason.of("sense_said", sense=sense))
        if verdict.settled and verdict.reason is None:
            return self._with_note(verdict, Reason.of("sense_kept", sense=sense))
        return verdict

    def _with_note(self, verdict: Verdict, note: Reason) -> Verdict:
        """Return a verdict with a note, which is from now on that of the line it stands on."""
        noted, line = replace(verdict, reason=note), self.lines.get(verdict.step)
        if line is not None and line.verdict is verdict:
            self.lines[verdict.step] = line._replace(verdict=noted)
        return noted

    def _written(self, text: str) -> Verdict:
        here = self._here
        claims = self._claims(self._named(text, here))
        understood = self._understood(text, here)
        if self._breaks_sense(claims, understood.verdict):
            return self._keep_claims(claims, text)
        if understood.verdict.outcome is Outcome.UNREAD and any(map(is_of_wrong_moments, claims)):
            understood = self._understood_by_page(text, understood)
        if not understood.is_clear and (untold := letters_untold(claims)) is not None:
            return Verdict("", text, Outcome.UNREAD, untold)
        is_bare = any(is_bare_value(claim, text) for claim in claims)  # it is for what is asked
        if not understood.is_clear and all_hold(claims) and not is_bare:  # never called wrong
            verdict = self._keep_claims(claims, text)
            note = None if self.other_sense else note_of_sign(self.question, verdict, understood)
            return verdict if note is None else self._with_note(verdict, note)
        if unsure := on_other_body(self.question, self.guidance, understood.verdict, claims):
            return unsure
        if understood.line is not None:
            return self._keep_unless_refused(understood.line)
        if understood.verdict.outcome is not Outcome.UNREAD:
            return understood.verdict
        if self._wrong_in(claims, understood):
            return self._keep_claims(claims, text)
        if self._only_restates(text, understood.verdict):
            return Verdict("", text, Outcome.UNREAD, Reason("nothing_to_check"))
        return left_unread(self.question, self.rules, understood.verdict, claims, self._by_key)

    def _breaks_sense(self, claims: Sequence[Claim], verdict: Verdict) -> bool:
        """Return whether a moment has its sign by the problem's sense, on a page that took the
        other one as positive up to there.
        """
        wrong = (one for one in claims if one.sign and one.standing is LineStanding.WRONG)
        return bool(self.other_sense) and any(one.key == verdict.step for one in wrong)

    def _written_elsewhere(self, text: str, asked: str) -> Verdict | None:
        """Judge an entry as another line than the one that is asked for, or as that one in words
        of the student's own; None where it is neither.

        One that is skipped stays so until it is right, so that nothing else is asked for by this.
        """
        claims, left, verdict = self._claims(text), set(self.left), None
        understood = self._understood(text, "")
        if self._is_elsewhere(understood, asked):
            verdict = understood.verdict
            if understood.line is not None:
                verdict = self._keep_unless_refused(understood.line)
        elif self._are_claimed_elsewhere(claims, understood, asked):
            is_of_line = any(line_of_claim(claim, self._by_key) for claim in claims)
            verdict = None if is_of_line else self._in_own_words(text, asked)
            verdict = verdict or self._keep_claims(claims, text)
        elif not any(claim.named and claim.key not in ("", asked) for claim in claims):
            verdict = self._in_own_words(text, asked)
        untold = letters_untold(claims)
        if verdict is None and untold is not None and not understood.verdict.counts:
            verdict = Verdict(asked, text, Outcome.UNREAD, untold)
        is_remark = is_heading(text) or self._only_restates(text, understood.verdict)
        if verdict is None and not claims and is_remark:
            verdict = Verdict("", text, Outcome.UNREAD, Reason("nothing_to_check"))
        self.left |= {key for key in left if key != asked and not self.done(key)}
        return verdict

    def _in_own_words(self, text: str, asked: str) -> Verdict | None:
        """Judge a value of the line that is asked for by how a page reads it; None if not right."""
        said = self._own_words_for(text, asked)
        claims = self._claims(said) if said else ()
        return self._keep_claims(claims, text) if self._are_its(claims, asked) else None

    def _own_words_for(self, text: str, asked: str) -> str:
        """Return a value as a page reads it as that of a line, "" where it says itself of what."""
        said = with_symbol(text, self.step(asked))
        return "" if said == text else said

    def _keep_unless_refused(self, line: Line) -> Verdict:
        return self._refused(line.verdict.step, line.text) or self._keep(line)

    def _keep_claims(self, claims: Sequence[Claim], text: str) -> Verdict:
        """Keep what a line claims of steps of the derivation.

        Return the verdict on the first that is not right, else that on the first.
        """
        claims = beside_symbols(claims, self._by_key, self._stands_in_symbols)
        is_all = len(claims) == 1
        told = [self._keep_claim(claim, text, is_all=is_all) for claim in claims]
        verdicts = [verdict for verdict in told if verdict is not None]
        wrong = [verdict for verdict in verdicts if verdict.outcome is Outcome.WRONG]
        return [*wrong, *verdicts, Verdict("", text, Outcome.KEPT)][0]

    def _has_value(self, key: str) -> bool:
        return not self.has(key) or self.stands(key)

    def _stands_in_symbols(self, key: str) -> bool:
        return self.stands(key) and not self.lines[key].implies

    def _keep_claim(self, claim: Claim, text: str, *, is_all: bool) -> Verdict | None:
        """Keep what is claimed of a step of the derivation; None where it is of none.

        A formula whose symbols have no values yet holds, and is not kept: its value would tell what
        is still to be found.
        """
        key = line_of_claim(claim, self._by_key)
        if claim.standing.holds and key:
            if is_only_in_symbols(claim, self.step(key), self._has_value):
                return Verdict(key, text, Outcome.RIGHT, Reason("in_symbols"), in_symbols=True)
            self.judgings += 1
            line = claimed_line(claim, self.step(claim.key), key, text, is_all=is_all)
        elif is_of_one_value(claim, self._by_key):
            step = self.step(claim.key)
            line = self._judge_claim(step, text, reading_of_wrong(claim, step), claim)
            if claim.sign and step.kind.is_size and says_way(text):
                reason = Reason.of("other_way", name=step.key)
                line = line._replace(verdict=replace(line.verdict, reason=reason))
        else:
            return None
        return self._keep_unless_refused(line)
