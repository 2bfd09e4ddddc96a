"""Verdicts and hints in words, with the student's own names and numbers put in."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from leverstep.comparing.differences import Difference
from leverstep.course.plain_text import plain
from leverstep.course.symbols import sign_of
from leverstep.slips.catalogue import Catalogue
from leverstep.slips.explained import Explained, explained
from leverstep.slips.finding import Explanation, Finding
from leverstep.statics import kinds
from leverstep.statics.balance import EQUATION
from leverstep.statics.choices import CONVENTIONS
from leverstep.statics.step import Step
from leverstep.working.page import line_example
from leverstep.working.reasons import reason_words
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.wording import (
    SIZE_OF_UNIT,
    effort_name,
    example,
    given_about,
    name_about,
)
from leverstep.working.working import Working
from leverstep.working.writing import constant, formula, quantity, worked_line

MOST_TOLD = 2
"""Explanations that fit equally well are told up to this many."""

_PLACEHOLDER = re.compile(r"\{([a-z_]+)\}")


def tell(working: Working, verdict: Verdict, catalogue: Catalogue) -> str:
    """Return what to say of a verdict: one to three sentences."""
    if verdict.outcome is Outcome.SAME:
        return "That is the line already here."
    if verdict.outcome is Outcome.KEPT:
        return "Right, and not asked for."
    if verdict.outcome is Outcome.FAILED:
        return (
            "This can't be judged: the fault is the program's, not yours. It is kept and costs "
            "nothing. Write it in another way, or skip the line."
        )
    if verdict.outcome is Outcome.UNREAD:
        if verdict.step and working.closed(verdict.step):
            return f"Not judged: {reason_words(verdict.reason)}"
        place = _place(verdict)
        reason = reason_words(verdict.reason)
        step = working.step(verdict.step) if verdict.step else working.asked[0]
        shown = line_example(step) if working.guidance.free else example(step)
        return f"Not judged{place}: {reason} For example: {shown}"
    step = working.step(verdict.step)
    if verdict.outcome is Outcome.WRONG:
        return tell_wrong(working, verdict, explained(verdict, catalogue), catalogue)
    told = "Right." if verdict.outcome is Outcome.RIGHT else "Right with your earlier value."
    if verdict.reason:
        return f"{told} Note: {reason_words(verdict.reason)}"
    line = working.lines.get(verdict.step)
    if not step.kind.is_number or line is None or line.reading is None or line.reading.figures:
        return told
    return f"{told} That is {quantity(line.reading.value, step.unit)}."


def _place(verdict: Verdict) -> str:
    """Return which character a verdict speaks of, and what stands there."""
    if verdict.place is None:
        return ""
    there = verdict.text[verdict.place :]
    word = plain("" if there[:1].isspace() else there.split(maxsplit=1)[0][:12]) if there else ""
    quoted = f', "{word}"' if word else ""
    return f" (at character {verdict.place + 1}{quoted})"


def tell_wrong(working: Working, verdict: Verdict, found: Explained, catalogue: Catalogue) -> str:
    """Return what to say of a wrong line, and of what is found behind it."""
    closed = working.closed(verdict.step)
    opening = "Not right" if closed else "Not yet"
    if reason := verdict.reason or found.reason:
        return f"{opening}: {reason_words(reason)}"
    if not found.explanations:
        typed = _tell_differences(working, found.differences)
        help_there_is = " A hint may help." if working.rules.hints and not closed else ""
        unknown = f"{opening}, and no slip we know explains it.{help_there_is}"
        return f"{opening}. {typed}" if typed else unknown
    first = found.explanations[0].findings[0]
    if first.miscopied:
        name = catalogue.slips[first.slip].name
        number = _as_stated(working, first.miscopied)
        return f"{opening}. Did you perhaps copy {number} as {first.copied} ({name})?"
    # What the name of a slip says already need not be said again.
    typed = _tell_differences(
        working, [d for d in found.differences if d.about and d.what != "rounded"]
    )
    named = [_named(working, verdict.step, told, catalogue) for told in found.explanations]
    told = list(dict.fromkeys(named))[:MOST_TOLD]
    apart = typed or ("" if closed else _told_apart(working, verdict.step, found, told))
    if not found.explanations[0].sure:
        slips = ", or ".join(told)
        return f"{opening}. Did you perhaps make this slip: {slips}? {apart}".rstrip()
    if len(told) > 1:
        return f"{opening}. It looks like either {', or '.join(told)}. {apart}".rstrip()
    slips_made = {finding.slip for finding in found.explanations[0].findings}
    seems = "this slip" if len(slips_made) == 1 else "more than one slip"
    return f"{opening}. It looks like {seems}: {told[0]}. {typed}".rstrip()


def _as_stated(working: Working, key: str) -> str:
    """Return a given as the problem states it, with its unit."""
    given = next(one for one in working.question.givens if one.key == key)
    return working.question.written(given)


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


def _tell_differences(working: Working, differences: Iterable[Difference]) -> str:
    """Return what the arithmetic of a wrong entry shows of itself, "" where there is nothing."""
    told = list(dict.fromkeys(_difference(working, one) for one in differences))
    return f"In what you typed, {' and '.join(told)}." if told else ""


def _difference(working: Working, found: Difference) -> str:
    """Return one difference as a clause: `9.81 is missing`."""
    about = _quantity_named(working, found.about)
    typed = _quantity_named(working, found.typed)
    match found.what:
        case "missing":
            return f"{about} is missing"
        case "inverted" if not found.about:
            return "the ratio is upside down"
        case "inverted":
            done, needed = (
                ("divides", "should multiply")
                if found.power > 0
                else ("multiplies", "should divide")
            )
            return f"{about} {done} where it {needed} in this line"
        case "extra":
            return f"{about or typed} is one factor too many"
        case "added":
            return f"{about} is added where it should multiply"
        case "extra term":
            return f"the term {typed} is one too many"
        case "rounded":
            return f"{typed} stands for {about}, cut to too few figures"
        case "sign" if not found.about:
            return "all signs are the wrong way round"
        case "sign":
            return f"the sign before {about} is the wrong way round"
    return f"{typed} stands where {about} belongs{_that_is(working, found)}"


def _that_is(working: Working, found: Difference) -> str:
    """Return which line has the value that stands in the place of another, "" where none has."""
    if not found.is_line:
        return ""
    is_part = (
        working.question.derivation.step(found.is_line).kind is kinds.MOMENT
        and found.about == kinds.SUM.key
    )
    return f" (that is {sign_of(found.is_line)}{' alone' if is_part else ''})"


def _quantity_named(working: Working, key: str) -> str:
    """Return how a quantity is called on paper: `W_l`, `g`, `11.0 lb`, `cos(θ)`."""
    givens = {given.key: given for given in working.question.givens}

    def named(match: re.Match[str]) -> str:
        word = match.group()
        if word in CONVENTIONS:
            return CONVENTIONS[word].sign or constant(working.question, word)
        given = givens.get(word)
        if given is None:
            return sign_of(word)
        return sign_of(given.sign) if given.unit == "deg" else working.question.written(given)

    return re.sub(r"[A-Za-z]\w*", named, key) if not key[:1].isdigit() else key


def _named(working: Working, key: str, explanation: Explanation, catalogue: Catalogue) -> str:
    """Return the names of slips, each with the forces and the line it is about where need be."""
    places: dict[tuple[str, str], list[str]] = {}
    lines: dict[tuple[str, str], list[str]] = {}
    for finding in explanation.findings:
        step = working.step(finding.step)
        lines[finding.slip, finding.step] = [choice.step for choice, _ in finding.changes]
        abouts = places.setdefault((finding.slip, finding.step), [])
        if step.kind.over_forces:
            names = working.question.problem.names
            forces = [names[about] for about in finding.abouts if about in names]
            abouts += [", or ".join(forces)] if forces else []
    told = []
    for (slip, line), abouts in places.items():
        name = catalogue.slips[slip].name
        if abouts:
            name += f" ({'; '.join(dict.fromkeys(abouts))})"
        told.append(name + _lines_of(lines[slip, line], _here(working, key)))
    return " together with ".join(told)


def _here(working: Working, key: str) -> set[str]:
    """Return the line at hand; an equation in numbers is at once the line of what it gives."""
    if key != EQUATION:
        return {key}
    return {key} | {s.key for s in working.steps if s.kind.part is kinds.Part.UNKNOWN}


def _lines_of(lines: list[str], here: set[str]) -> str:
    """Return on which lines a slip was made, "" where that is only the line at hand."""
    if set(lines) <= here:
        return ""
    others = [sign_of(line) for line in dict.fromkeys(lines)]
    return f", on the line{'s' if len(others) > 1 else ''} {' and '.join(others)}"


def hints(working: Working, key: str, catalogue: Catalogue) -> tuple[str, ...]:
    """Return the three hints of a step, for the entry that stands there or before any.

    They go from where to look, over what seems to have happened, to the line worked out with the
    student's own earlier values.
    """
    line = working.lines.get(key)
    told = () if line is None else explained(line.verdict, catalogue).explanations
    return hints_for(working, key, told[0].findings if told else (), catalogue)


def hints_for(
    working: Working, key: str, findings: tuple[Finding, ...], catalogue: Catalogue
) -> tuple[str, ...]:
    """Return the three hints of a step for the slips found there, in general where none are."""
    step = working.step(key)
    if not findings:
        hint = catalogue.general_hint(step.kind.name, _unit_given(working, step)).hint
        look, happened, worked = (_fill(t, working, step, None) for t in hint.texts)
        return (look, happened, worked + _resting(working, step))
    told = [(catalogue.slips[finding.slip].hint, finding) for finding in findings]
    look = _joined([(hint.look, finding) for hint, finding in told], working)
    happened = _joined([(hint.happened, finding) for hint, finding in told], working)
    worked = _fill(told[0][0].worked, working, step, None)
    return (look, happened, worked + _resting(working, step))


def because(working: Working, key: str, catalogue: Catalogue) -> str:
    """Return in one sentence why a line is written, whatever its numbers."""
    step = working.step(key)
    general = catalogue.general_hint(step.kind.name, _unit_given(working, step))
    return _fill(general.because, working, step, None)


def _resting(working: Working, step: Step) -> str:
    """Return which of the student's own lines a worked line rests on that are not right yet."""
    own = working.own_values(step.key)
    wrong = [
        sign_of(use)
        for use in dict.fromkeys(re.findall(r"\{(\w+)\}", step.written))
        if step.kind is not kinds.EQUATION
        and use in own
        and working.lines[use].verdict.outcome is not Outcome.RIGHT
    ]
    if not wrong:
        return ""
    if _values_before(working, step) is None:
        return f" (With your own {' and '.join(wrong)} there is no value: change that first.)"
    return f" (This uses your own {' and '.join(wrong)}, which is not right yet.)"


def _joined(texts: list[tuple[str, Finding]], working: Working) -> str:
    """Return the filled texts as one, no sentence twice."""
    filled = [_fill(text, working, working.step(f.step), f) for text, f in texts]
    sentences = [part for text in filled for part in re.split(r"(?<=[.?!]) (?=[A-Z])", text)]
    return " ".join(dict.fromkeys(sentences))


def _fill(text: str, working: Working, step: Step, finding: Finding | None) -> str:
    """Return a hint with its placeholders filled for a step and what was found there."""
    question = working.question
    problem = question.problem
    about: tuple[str, ...] = ()
    other = line = ""
    is_row = False
    if finding is not None:
        about, line = finding.abouts, finding.line
        other = finding.changes[0][0].other if finding.changes else ""
        is_row = bool(finding.changes) and finding.changes[0][0].kind == "other_row"

    def named(symbol: str) -> str:
        force = next((f for f in problem.posture.forces if symbol in f.symbols), None)
        return problem.segment if force is None else problem.names[force.symbol]

    def value(match: re.Match[str]) -> str:
        match match.group(1):
            case "symbol":
                return sign_of(step.key)
            case "name":
                names = dict.fromkeys(named(symbol) for symbol in about)
                return ", or the ".join(names) if names else name_about(question, step)
            case "other":
                return other if is_row else named(other)
            case "other_symbol":
                return sign_of(other)
            case "other_line":
                return sign_of(line)
            case "given":
                if finding is not None and finding.miscopied:
                    return _as_stated(working, finding.miscopied)
                return _given(working, step, about)
            case "formula":
                return formula(question, step)
            case "line":
                return worked_line(question, step, _values_before(working, step) or question.right)
            case "axis":
                return problem.axis
            case "segment":
                return problem.segment
            case "reaction":
                return problem.reaction
            case "effort":
                return effort_name(question)
            case "copied":
                return "" if finding is None else finding.copied
            case "size_of_unit":
                return SIZE_OF_UNIT[_unit_given(working, step)]
            case _:
                return step.unit

    return _PLACEHOLDER.sub(value, text)


def _given(working: Working, step: Step, about: tuple[str, ...]) -> str:
    """Return the given that a step starts from, as written; or that of the force it is about."""
    given = given_about(working.question, step)
    force = next((f for f in working.question.problem.posture.forces if f.symbol in about), None)
    if given is None and force is not None:
        given = force.magnitude
        if given is None:
            return f"m{force.suffix}"
    if given is None:
        return ""
    # The mass of a segment is no given, but the line before.
    known = given in working.question.givens
    return working.question.written(given) if known else sign_of(given.sign)


def _unit_given(working: Working, step: Step) -> str:
    """Return the unit of the given that a step starts from, "" where there is none."""
    given = given_about(working.question, step)
    return "" if given is None else given.unit


def _values_before(working: Working, step: Step) -> Mapping[str, float] | None:
    """Return the values that a line rests on and its own, from the student's where there are any.

    None where these leave the line without a value, as a length of zero may.
    """
    question = working.question
    if step.kind is kinds.EQUATION:
        return question.right  # its symbols have no values
    values = question.graph.on_demand(question.numbers, working.own_values(step.key))
    try:
        values[step.key]
    except ArithmeticError:
        return None
    return values
