"""Where a wrong line is wrong, as far as that is certain, without the slip that is behind it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from leverstep.comparing.differences import Difference
from leverstep.course.phrases import listed
from leverstep.course.symbols import sign_of
from leverstep.slips.differences_told import quantity_named
from leverstep.slips.explained import Explained
from leverstep.slips.finding import Explanation, Finding
from leverstep.statics import kinds
from leverstep.working.reasons import reason_words
from leverstep.working.verdict import Verdict
from leverstep.working.working import Working


def where_wrong(working: Working, verdict: Verdict, found: Explained) -> str:
    """Return what to say of a wrong line where its slip is told only when it is asked for."""
    if reason := verdict.reason or found.reason:
        return f"Not yet: {reason_words(reason)}"
    more = " A hint tells more." if working.rules.hints else ""
    help_there_is = " A hint may help." if working.rules.hints else ""
    shown = list(dict.fromkeys(_places(working, verdict.step, found.differences)))
    if shown:
        return f"Not yet. {' '.join(shown)}{more}"
    if not found.explanations:
        return f"Not yet, and no slip we know explains it.{help_there_is}"
    where = _of_slips(working, verdict.step, found.explanations)
    return f"Not yet. {where}{more}" if where else f"Not yet.{more}"


def _places(working: Working, key: str, differences: Iterable[Difference]) -> Iterator[str]:
    """Yield where to look in what was typed, by what its arithmetic shows: a sentence for each sort
    of place.
    """
    step, looks = working.step(key), []
    for one in differences:
        about, typed = quantity_named(working, one.about), quantity_named(working, one.typed)
        match one.what:
            case "missing" if step.kind.over_forces and one.about in working.question.problem.names:
                yield f"{about} is missing from what you typed."
            case "missing":
                yield "Something is missing from what you typed."
            case "inverted" | "sign" | "unsigned" if not one.about:
                pass  # that is the whole line
            case "sign":
                looks.append(f"at the sign before {about}")
            case "unsigned":
                does = "turn" if step.unit == "N·m" else "act"
                yield f"No sign stands before {about}: which way does it {does}?"
            case "inverted" | "added":
                looks.append(f"at {about}")
            case _:
                looks.append(f"at {typed or about}")
    if looks:
        yield f"Look {listed(list(dict.fromkeys(looks)))} in what you typed."


def _of_slips(working: Working, key: str, explanations: tuple[Explanation, ...]) -> str:
    """Return on which line the slips are, at which force where there is one; "" if not certain."""
    findings = [finding for one in explanations for finding in one.findings]
    is_word = working.step(key).kind.words is not None
    if is_word or not explanations[0].sure or any(finding.miscopied for finding in findings):
        return ""
    lines = list(dict.fromkeys(finding.step for finding in findings))
    if len(lines) > 1:
        return ""
    if lines[0] not in lines_at_hand(working, key):
        return f"The slip lies earlier, in {sign_of(lines[0])}."
    force = _force(working, findings)
    return f"The slip is in this line, at the {force}." if force else "The slip is in this line."


def lines_at_hand(working: Working, key: str) -> set[str]:
    """Return the line at hand; an equation in numbers is at once the line of what it gives."""
    step = working.step(key)
    if step.kind is not kinds.EQUATION:
        return {key}
    unknown = (s for s in working.steps if s.kind.part is kinds.Part.UNKNOWN)
    return {key} | {s.key for s in unknown if s.mark == step.mark}


def _force(working: Working, findings: Iterable[Finding]) -> str:
    """Return the one force of a sum that all findings are about, "" where there is none."""
    names = working.question.problem.names
    abouts = {
        names.get(about, "") if working.step(finding.step).kind.over_forces else ""
        for finding in findings
        for about in finding.abouts or ("",)
    }
    return abouts.pop() if len(abouts) == 1 else ""
