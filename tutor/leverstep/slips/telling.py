"""Verdicts and hints in words, with the student's own names and numbers put in."""

from __future__ import annotations

from leverstep.course.phrases import capital, way_round
from leverstep.course.symbols import sign_of
from leverstep.slips.catalogue import Catalogue
from leverstep.slips.differences_told import differences_told
from leverstep.slips.explained import Explained, explained, has_sign
from leverstep.slips.filling import as_stated
from leverstep.slips.finding import Explanation
from leverstep.slips.where import lines_at_hand, where_wrong
from leverstep.statics import kinds
from leverstep.statics.step import Step
from leverstep.working.judge import judge_value
from leverstep.working.page import is_sign_of, line_example, taken_as
from leverstep.working.reasons import at_place, reason_words
from leverstep.working.rules import Reasons
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.wording import example, name_told_apart
from leverstep.working.working import Working
from leverstep.working.writing import quantity

_TURNING = (kinds.MOMENT, kinds.COUPLE_MOMENT, kinds.SUM)

MOST_TOLD = 2
"""Explanations that fit equally well are told up to this many."""

_FORM_IS_RIGHT = ("other_definition", "may_be")

_STANDS = {
    Outcome.RIGHT: "It is right.",
    Outcome.FOLLOWED: "It is right with your earlier value.",
    Outcome.WRONG: "It is still not right.",
}
"""How a line stands that is typed once more."""


def tell(working: Working, verdict: Verdict, catalogue: Catalogue) -> str:
    """Return what to say of a verdict: one to three sentences.

    One on a line in the student's own words says last which line that was taken as.
    """
    told, line = _tell_outcome(working, verdict, catalogue), working.lines.get(verdict.step)
    if line is None or line.claimed is None or line.verdict != verdict or not verdict.counts:
        return told
    step, called = working.step(verdict.step), line.claimed.symbol
    if is_sign_of(step, called):
        return told
    return f"{told} {taken_as(working.question, step, called)}"


def _tell_outcome(working: Working, verdict: Verdict, catalogue: Catalogue) -> str:
    """Return what came of an entry, and why."""
    if verdict.outcome is Outcome.SAME:
        return f"That is the line already here.{_how_it_stands(working, verdict.step)}"
    if verdict.outcome is Outcome.KEPT:
        return "Right, and not asked for."
    if verdict.outcome is Outcome.FAILED:
        return _NOT_YOURS
    if verdict.is_remark:
        return f"Noted: {reason_words(verdict.reason)}"
    if verdict.outcome is Outcome.UNREAD:
        return _tell_unread(working, verdict)
    if verdict.step in working.filled:
        return _tell_filled(working, working.step(verdict.step))
    if verdict.outcome is Outcome.WRONG:
        return _tell_wrong_or_where(working, verdict, catalogue)
    if verdict.in_symbols:
        return capital(reason_words(verdict.reason))  # "Right" is said of a line that is done
    return _tell_right(working, verdict)


_NOT_YOURS = (
    "This can't be judged: the fault is the program's, not yours. It is kept and costs nothing. "
    "Write it in another way, or skip the line."
)


def _tell_unread(working: Working, verdict: Verdict) -> str:
    """Return why an entry is not judged, and an example of one that is."""
    reason = reason_words(verdict.reason)
    is_done = verdict.step and (working.closed(verdict.step) or verdict.step in working.filled)
    # Nothing is the matter with the form of another definition, or of what is asked back.
    is_other = verdict.reason is not None and verdict.reason.code in _FORM_IS_RIGHT
    if is_done or is_other:
        return f"Not judged: {reason}"
    step = working.step(verdict.step) if verdict.step else (working.asked or working.steps)[0]
    shown = line_example(step) if working.guidance.free else example(step)
    return f"Not judged{at_place(verdict.text, verdict.place)}: {reason} For example: {shown}"


def _tell_filled(working: Working, step: Step) -> str:
    """Return that a line is filled in, and with which value."""
    has_value = step.kind.is_number
    value = f": {quantity(working.values()[step.key], step.unit)}" if has_value else ""
    return f"Filled in for you{value}."


def _tell_wrong_or_where(working: Working, verdict: Verdict, catalogue: Catalogue) -> str:
    """Return why a line is wrong, or only where, as far as the rules let it be told."""
    found = explained(verdict, catalogue)
    if working.rules.reasons is Reasons.AT_ONCE or working.closed(verdict.step):
        told = tell_wrong(working, verdict, found, catalogue)
    else:
        told = where_wrong(working, verdict, found)
        if working.rules.marked:
            return told
    return f"{told} {_sense_told(working, verdict)}".rstrip()


def _tell_right(working: Working, verdict: Verdict) -> str:
    """Return that a line is right, with a note or with what its arithmetic comes to."""
    step = working.step(verdict.step)
    told = "Right." if verdict.outcome is Outcome.RIGHT else "Right with your earlier value."
    if verdict.reason and not _tells_too_much(working, verdict):
        return f"{told} Note: {reason_words(verdict.reason)}"
    if note := class_note(working, step):
        return f"{told} Note: {note}"
    line = working.lines.get(verdict.step)
    if not step.kind.is_number or line is None or line.reading is None or line.reading.figures:
        return told
    if line.claimed is not None and not step.kind.is_size and not line.claimed.symbol:
        return told  # its sign is that of the line, which may not be the one that was typed
    return f"{told} That is {quantity(line.reading.value, step.unit)}."


def _how_it_stands(working: Working, key: str) -> str:
    """Return in a sentence how a line stands that was typed once more, "" in a drill."""
    if working.rules.marked or not working.rules.tells or key not in working.lines:
        return ""
    return " " + _STANDS[working.lines[key].verdict.outcome]


def class_note(working: Working, step: Step) -> str:
    """Return what the problem itself tells of the class of its lever, "" for nothing."""
    return working.question.problem.class_note if step.kind is kinds.LEVER_CLASS else ""


def _tells_too_much(working: Working, verdict: Verdict) -> bool:
    """Return whether a note works out a value that is to be written for marks."""
    reason = verdict.reason
    return working.rules.marked and reason is not None and reason.code == "implied"


def _sense_told(working: Working, verdict: Verdict) -> str:
    """Return by which sense of rotation a moment has the wrong sign, "" where that is not all."""
    attempt = verdict.attempt
    if attempt is None or attempt.step.kind not in _TURNING or attempt.reading.value == 0:
        return ""
    turned = attempt.reading._replace(value=-attempt.reading.value)
    judged = judge_value(attempt.question, attempt.step, turned, (attempt.own, attempt.wrong))
    if not (judged.right or judged.follows):
        return ""
    if working.other_sense:
        return f"In the lines before, you take {working.other_sense} as positive."
    positive = attempt.question.problem.posture.positive
    here, said = capital(way_round(positive)), "your sign says that it"
    if not has_sign(verdict.text):
        said = "a moment without a sign"
    turns = positive if attempt.reading.value > 0 else -positive
    return f"{here} is positive here; {said} is {way_round(turns)}."


def tell_wrong(working: Working, verdict: Verdict, found: Explained, catalogue: Catalogue) -> str:
    """Return what to say of a wrong line, and of what is found behind it."""
    closed = working.closed(verdict.step)
    opening = "Not right" if closed else "Not yet"
    if reason := verdict.reason or found.reason:
        return f"{opening}: {reason_words(reason)}"
    if not found.explanations:
        typed = differences_told(working, found.differences)
        help_there_is = " A hint may help." if working.rules.hints and not closed else ""
        unknown = f"{opening}, and no slip we know explains it.{help_there_is}"
        return f"{opening}. {typed}" if typed else unknown
    return f"{opening}. {slips_told(working, verdict.step, found, catalogue)}"


def slips_told(working: Working, key: str, found: Explained, catalogue: Catalogue) -> str:
    """Return which slips seem to be behind a wrong line, for which there are explanations."""
    first = found.explanations[0].findings[0]
    if first.miscopied:
        name = catalogue.slips[first.slip].name
        number = as_stated(working, first.miscopied)
        return f"Did you perhaps copy {number} as {first.copied} ({name})?"
    # What the name of a slip says already need not be said again, nor each place that it shows in.
    shown = [d for d in found.differences if d.about and d.what != "rounded"]
    made = len(found.explanations[0].findings)
    is_plain = len(shown) <= made or all(one.what in ("sign", "unsigned") for one in shown)
    typed = differences_told(working, shown) if is_plain else ""
    named = [_named(working, key, told, catalogue) for told in found.explanations]
    told = list(dict.fromkeys(named))[:MOST_TOLD]
    apart = typed or ("" if working.closed(key) else _told_apart(working, key, found, told))
    if not found.explanations[0].sure:
        slips = ", or ".join(told)
        return f"Did you perhaps make this slip: {slips}? {apart}".rstrip()
    if len(told) > 1:
        return f"It looks like either {', or '.join(told)}. {apart}".rstrip()
    slips_made = {finding.slip for finding in found.explanations[0].findings}
    seems = "this slip" if len(slips_made) == 1 else "more than one slip"
    return f"It looks like {seems}: {told[0]}. {typed}".rstrip()


def _told_apart(working: Working, key: str, found: Explained, told: list[str]) -> str:
    """Return what would tell explanations apart that give the same number, "" for one alone."""
    if len(told) < 2:
        return ""
    lines = {f.step for e in found.explanations[:MOST_TOLD] for f in e.findings}
    unwritten = [s.key for s in working.steps if s.key in lines and s.key not in working.lines]
    unwritten = [other for other in unwritten if other != key]
    if unwritten:
        return f"Write the line {sign_of(unwritten[0])} to see which."
    if not working.step(key).kind.is_number:
        return ""
    return "Type the line with its numbers put in, not only the result, to see which."


def _named(working: Working, key: str, explanation: Explanation, catalogue: Catalogue) -> str:
    """Return the names of slips, each with the forces and the line it is about where need be."""
    places: dict[tuple[str, str], list[str]] = {}
    lines: dict[tuple[str, str], list[str]] = {}
    for finding in explanation.findings:
        step = working.step(finding.step)
        lines[finding.slip, finding.step] = [choice.step for choice, _ in finding.changes]
        abouts = places.setdefault((finding.slip, finding.step), [])
        if step.kind.over_forces:
            question = working.question.at(step)
            there = [about for about in finding.abouts if about in question.problem.names]
            forces = [name_told_apart(question, about) for about in there]
            abouts += [", or ".join(forces)] if forces else []
    told = []
    for (slip, line), abouts in places.items():
        name = catalogue.slips[slip].name
        if abouts:
            name += f" ({'; '.join(dict.fromkeys(abouts))})"
        told.append(name + _lines_of(lines[slip, line], lines_at_hand(working, key)))
    return " together with ".join(told)


def _lines_of(lines: list[str], here: set[str]) -> str:
    """Return on which lines a slip was made, "" where that is only the line at hand."""
    if set(lines) <= here:
        return ""
    others = [sign_of(line) for line in dict.fromkeys(lines)]
    return f", on the line{'s' if len(others) > 1 else ''} {' and '.join(others)}"
