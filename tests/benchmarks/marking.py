"""Whether what the tutor says of an entry is right, by the student's own work.

A diagnosis is right where it names the slips that were made, or other slips which, made by the
student at that place, give the very number that was typed.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from helpers.material import CATALOGUE
from leverstep.course.problem import Question
from leverstep.slips.explained import explained
from leverstep.slips.finding import Explanation, Finding
from leverstep.statics.choices import CONVENTIONS
from leverstep.statics.step import Step
from leverstep.working.reasons import reason_words
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.working import Working
from student.lines import FIGURES, WORDS, half_digit, written
from student.moves import Move, moves
from student.right import SIGNED
from student.sheet import Sheet

COPIES = frozenset({"value-of-another-line", "value-of-another-posture"})
"""Slips that copy the value of another line."""

WITH_SIGN = ("needless-minus", "side-as-minus", "negative-effort", *COPIES)
"""Slips after which a size is typed with the sign that it comes to."""

Strand = tuple[Move, ...]
"""One slip: a move, or the same move at several lines."""


def typed(step: Step, value: float, figures: int = FIGURES) -> str:
    """Return a value as a student types it at a line: `-4.560 N·m`, or words."""
    if step.kind.name == "class":
        return {1: "first", 2: "second", 3: "third"}[round(value)]
    if step.kind.name == "friction_enough":
        return {1: "holds", -1: "slips"}[round(value)]
    if step.kind.words == "direction":
        across = round(value / 3)
        words = {1: "up", -1: "down"}.get(round(value) - 3 * across, ""), {1: "right", -1: "left"}
        return " and ".join(word for word in (words[0], words[1].get(across, "")) if word) or "none"
    if step.kind.name == "axial_effect":
        return {1: "compression", -1: "tension"}.get(round(value), "neither")
    if step.kind.name == "supported":
        return "inside" if value > 0 else "outside"
    return f"{written(value, figures)} {step.unit}".strip()


@dataclass(frozen=True)
class Place:
    """Where an entry is made: its line, the values that stand before it, and the lines skipped."""

    sheet: Sheet
    key: str
    before: Mapping[str, float]
    skipped: tuple[str, ...] = ()

    @property
    def step(self) -> Step:
        """Return the line that is asked for."""
        return self.sheet.steps[self.key]

    def reach(self) -> dict[str, list[Move]]:
        """Return the moves of the line and of those skipped before it, by line."""
        values = dict(self.before)
        found = {}
        for key in (*self.skipped, self.key):
            found[key] = moves(self.sheet, key, values)
            values[key] = self.sheet.right(key, values)
        return found

    def value(self, made: Iterable[Move]) -> float:
        """Return what the line comes to with some moves made; nan where that has no end."""
        names = [move.name for move in made]
        values = dict(self.before)
        try:
            for key in (*self.skipped, self.key):
                line = self.sheet.formula(key, values)
                here = {m.name: m for m in moves(self.sheet, key, values)} if names else {}
                for name in names:
                    line = here[name].edit(line) if name in here else line
                values[key] = line.value
        except (ArithmeticError, ValueError):
            return math.nan
        # A size is typed without its sign, unless the sign is the slip or was copied.
        minus = any(name[:2] in self._signs for name in names)
        signed = minus or self.step.kind.name in (*SIGNED, *WORDS)
        return values[self.key] if signed else abs(values[self.key])

    @property
    def _signs(self) -> tuple[tuple[str, str], ...]:
        """Return the slips after which a size is typed with its sign, each with the line."""
        return tuple((slip, self.key) for slip in WITH_SIGN)

    def fits(self, made: Iterable[Move], text: str) -> bool:
        """Return whether some moves give a text, to the figures typed."""
        value = self.value(made)
        if not math.isfinite(value):
            return False
        if self.step.kind.name in WORDS:
            return typed(self.step, value) == text
        number = text.split(" ")[0]
        return abs(value - float(number)) <= half_digit(number) * (1 + 1e-6)


def is_named(finding: Finding, strand: Strand) -> bool:
    """Return whether a finding is a slip that was made: its id, line, and what it is about."""
    first, keys = strand[0], {move.key for move in strand}
    lines = {choice.step for choice, _ in finding.changes} or {finding.step}
    if finding.slip == first.slip == "rounded-early":
        return True  # it says that a value on the way was cut, not which
    if finding.miscopied and finding.slip == first.slip:
        # Copied wrongly is the given, whatever line it was first put into.
        return (finding.miscopied, finding.copied) == (first.other, first.variant)
    if finding.slip != first.slip or not (keys <= lines if len(keys) > 1 else keys == lines):
        return False
    if len(keys) > 1:
        return True
    others = {choice.other for choice, _ in finding.changes if choice.other} | {finding.line} - {""}
    about = not finding.abouts or first.about in finding.abouts
    return about and (not others or not first.other or first.other in others)


def names(explanation: Explanation, truth: Sequence[Strand]) -> bool:
    """Return whether an explanation is the slips that were made, no more and no less."""
    findings = explanation.findings
    return len(findings) == len(truth) and any(
        all(is_named(f, s) for f, s in zip(findings, order, strict=True))
        for order in itertools.permutations(truth)
    )


def simulated(place: Place, explanation: Explanation) -> Iterator[list[Move]]:
    """Yield every way in which the student would make the slips of an explanation."""
    reach = place.reach()
    choices: list[list[Move]] = []
    for finding in explanation.findings:
        lines = {choice.step for choice, _ in finding.changes} or {finding.step}
        for key in lines & reach.keys():
            about = finding.abouts if len(lines) == 1 else ()
            found = [m for m in reach[key] if m.slip == finding.slip]
            found = [m for m in found if not about or m.about in about]
            found = [m for m in found if finding.copied in ("", m.variant)]
            choices.append([m for m in found if finding.line in ("", m.other)])
    if choices:
        yield from ([*made] for made in itertools.islice(itertools.product(*choices), 300))


def is_tie(place: Place, explanation: Explanation, text: str) -> bool:
    """Return whether the slips told give the number typed, by the student's own work."""
    exact = {key: place.sheet.reference.get(key, value) for key, value in place.before.items()}
    places = place, Place(place.sheet, place.key, exact, place.skipped)
    return any(p.fits(made, text) for p in places for made in simulated(p, explanation))


class Desk:
    """One student's sheet and the tutor's working of the same question.

    `values` are the right values as written, with four figures, each worked on from those before.
    """

    def __init__(self, question: Question) -> None:
        self.question = question
        self.sheet = Sheet(question)
        self.values = self.sheet.worked(FIGURES)
        self.working = Working(question)
        self.bands = self._bands()

    def _bands(self) -> dict[str, tuple[float, float]]:
        """Return the least and largest right value of each line, over the accepted constants."""
        sheets = (Sheet(self.question, constants) for constants in conventions(self.question))
        found = [sheet.reference for sheet in sheets]
        return {k: (min(v[k] for v in found), max(v[k] for v in found)) for k in self.values}

    def lines(self) -> Iterator[Place]:
        """Yield each line in turn, with all lines before it written right."""
        before = self.sheet.start()
        for key, step in self.sheet.steps.items():
            if step.kind.is_equation:
                continue
            yield Place(self.sheet, key, dict(before))
            before[key] = self.values[key]
            self.working.enter(key, typed(step, self.values[key]))

    def entered(self, place: Place, text: str) -> Verdict:
        """Return the verdict on an entry, with the lines skipped not written, and take it back."""
        kept = dict(self.working.lines)
        for key in place.skipped:
            self.working.lines.pop(key, None)
        verdict = self.working.enter(place.key, text)
        self.working.lines.clear()
        self.working.lines.update(kept)
        return verdict

    def is_right(self, place: Place, text: str) -> bool:
        """Return whether a text is within the tolerance of a right value of its line."""
        if place.step.kind.name in WORDS:
            return text == typed(place.step, self.values[place.key])
        return self.within(self.bands[place.key], text)

    def within(self, band: tuple[float, float], text: str) -> bool:
        """Return whether a number as typed is within the tolerance of a band."""
        low, high = band
        number = text.split(" ")[0]
        slack = float(self.question.problem.tolerance) * max(abs(low), abs(high))
        slack = (slack + half_digit(number)) * (1 + 1e-9)
        return low - slack <= float(number) <= high + slack

    def follows(self, place: Place, text: str) -> bool:
        """Return whether a text is within the tolerance of what follows from the lines written."""
        sheets = (Sheet(self.question, constants) for constants in conventions(self.question))
        values = [Place(s, place.key, place.before, place.skipped).value([]) for s in sheets]
        return self.within((min(values), max(values)), text)

    def said(self, place: Place, text: str, verdict: Verdict) -> str:
        """Return an entry and what was said of it, for the list."""
        told = told_in_short(verdict)
        skipped = f" without {', '.join(place.skipped)}" if place.skipped else ""
        ident = f"{self.question.problem.id} seed {self.question.seed}"
        reason = verdict.reason or explained(verdict, CATALOGUE).reason
        why = told or reason_words(reason)
        return f"{ident}: {place.key} = {text}{skipped} -> {verdict.outcome}: {why}"


def told_in_short(verdict: Verdict) -> str:
    """Return the explanations of a verdict by the ids of their slips, those asked with a mark."""
    return " | ".join(
        " + ".join(f"{f.slip}@{f.step}{list(f.abouts) or ''}{f.line}" for f in e.findings)
        + ("" if e.sure else " ?")
        for e in explained(verdict, CATALOGUE).explanations
    )


def conventions(question: Question) -> Iterator[dict[str, float]]:
    """Yield the ways of taking the constants: the first, least and largest of each."""
    names = question.constants
    ends = [dict.fromkeys((v[0], min(v), max(v))) for v in (CONVENTIONS[n].values for n in names)]
    for values in itertools.product(*ends):
        yield dict(zip(names, values, strict=True))


def outcome_of(
    desk: Desk, place: Place, text: str, verdict: Verdict, truth: Sequence[Strand]
) -> str:
    """Return what came of an entry with known slips.

    "named", "tie" and "asked" are right; the last is right, but put as a question.
    """
    if desk.is_right(place, text):
        return "hidden" if verdict.outcome is not Outcome.WRONG else "right called wrong"
    if verdict.outcome is Outcome.UNREAD:
        return "not judged"
    if verdict.settled:
        return "hidden" if desk.follows(place, text) else "accepted"
    told = explained(verdict, CATALOGUE).explanations
    if not told:
        return "nothing told"
    most = 1 if len(truth) == 1 else 3
    right = any(names(explanation, truth) for explanation in told[:most])
    if right or is_tie(place, told[0], text):
        return "asked" if not told[0].sure else "named" if right else "tie"
    if any(names(explanation, truth) for explanation in told):
        return "named later"
    return "another told" if told[0].sure else "another asked"
