"""What stands on a student's page and what is still to be found, for every face alike."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from leverstep.course.problem import Question
from leverstep.course.symbols import joined_up, sign_of, spelt
from leverstep.entry.grammar import read_line
from leverstep.entry.reading import without_lead
from leverstep.entry.tree import Name, Unreadable
from leverstep.statics.kinds import KINDS, Part
from leverstep.statics.line_keys import mark_behind
from leverstep.statics.step import Step
from leverstep.working.guidance import Guidance
from leverstep.working.standing_lines import Line
from leverstep.working.verdict import Outcome
from leverstep.working.wording import ask, example, what_is
from leverstep.working.working import Working
from leverstep.working.writing import quantity, value_text

_CALLED = {
    "class": "class",
    "reaction_direction": "direction",
    "axial_effect": "effect",
    "resultant_direction": "direction",
    "equation": "equation",
    "equation_x": "horizontal equation",
    "equation_y": "vertical equation",
}
"""What the lines are called that are no number."""

_LONGEST_CALLED = 20
"""Letters of a symbol of the student's own that is repeated in a sentence."""


def posture_of(question: Question, step: Step) -> str:
    """Return which of several postures a line is of: `Then the bent arm`; "" for the only one.

    What follows from more than one of them is of none.
    """
    if not question.problem.stages:
        return ""
    marks = {one.mark for one in question.derivation.steps if one.key in step.quantities}
    if step.kind.part is Part.FURTHER and marks - {step.mark}:
        return "The postures compared"
    return question.at(step).introduced


def line_name(step: Step) -> str:
    """Return what a line is called: its sign, or a word."""
    return called(step.kind.name, step.key)


def called(kind: str, key: str) -> str:
    """Return what a line of some kind is called, by its key; an entry of no line has no kind."""
    if kind not in _CALLED:
        return sign_of(key)
    return f"{_CALLED[kind]} {mark_behind(KINDS[kind].key, key)}".rstrip()


def key_named(steps: Iterable[Step], name: str) -> str | None:
    """Return the key of the line with this name or key, in its own case before any other."""
    steps = tuple(steps)
    keys = {step.key: step.key for step in steps} | {line_name(step): step.key for step in steps}
    low = {other.lower(): key for other, key in reversed(keys.items())}
    return keys.get(name) or low.get(spelt(name).lower())


def is_sign_of(step: Step, called: str) -> bool:
    """Return whether a symbol is that of a line, with its index set off or not: `W_l`, `Wl`."""
    return joined_up(spelt(called)) == joined_up(step.key)


def taken_as(question: Question, step: Step, called: str) -> str:
    """Return in a sentence which line was understood, where it did not bear its own symbol.

    Args:
        question: what is worked.
        step: the line.
        called: the symbol that the student has for it, "" where there is none.
    """
    is_alias = 0 < len(called) <= _LONGEST_CALLED and not is_sign_of(step, called)
    head = f"{sign_of(called)} is taken" if is_alias else "Taken"
    sign = f"{sign_of(step.key)}, " if step.kind.is_number else ""
    return f"{head} as {sign}{what_is(question, step)}."


def prompt_of(step: Step) -> str:
    """Return what stands before an entry: `W_l =`."""
    return f"{line_name(step)}{' =' if step.kind.is_number else ':'}"


def named_line(step: Step, text: str) -> str:
    """Return an entry of a line as it is written where any line may be: with what it is of."""
    text = text.strip()
    return text if "=" in text or step.kind.is_equation else f"{prompt_of(step)} {text}"


def written_line(step: Step, line: Line) -> str:
    """Return a line as it stands on paper: named, and with the value that its arithmetic gives."""
    text, reading = without_lead(line.text).strip(), line.reading
    before, equals, _ = text.partition("=")
    is_arithmetic = step.kind.is_number and _is_of_numbers(text)
    shown = f"{prompt_of(step)} {text}" if is_arithmetic else named_line(step, text)
    if reading is None or not step.kind.is_number or reading.half_digit:
        return shown
    value = quantity(reading.value, step.unit)
    is_its = not equals or is_arithmetic or is_sign_of(step, before.strip())
    return f"{shown} = {value}" if is_its else f"{shown}, so {prompt_of(step)} {value}"


def _is_of_numbers(text: str) -> bool:
    """Return whether an entry is arithmetic and what it comes to, with no symbol but g."""
    try:
        sides = read_line(text, ("g",))
    except Unreadable:
        return False
    return len(sides) > 1 and not isinstance(sides[0], Name)


def line_example(step: Step) -> str:
    """Return a line that says itself which one it is, with numbers of no problem."""
    return f"{sign_of(step.key)} = {example(step)}" if step.kind.is_number else example(step)


def on_page(working: Working) -> tuple[Step, ...]:
    """Return the lines to be seen: written or left, and what is asked for but on a blank sheet."""
    asked = set() if working.guidance is Guidance.BLANK else {step.key for step in working.asked}
    seen = (asked - working.shown) | set(working.lines) | working.left
    return tuple(step for step in working.steps if step.key in seen)


def givens(question: Question) -> tuple[str, ...]:
    """Return what is given under a symbol, one by one: `m_l 18.0 lb`."""
    return tuple(f"{sign_of(g.sign)} {question.written(g)}" for g in question.givens if g.sign)


def fractions_given(question: Question) -> tuple[str, ...]:
    """Return the distances given as a fraction: `d_f 0.682 of L`; none to look up in a table."""
    distances = [d for d in question.problem.distances if d.of is not None and not d.rows]
    return tuple(f"{sign_of(d.symbol)} {question.written(d.given)} of {d.of}" for d in distances)


def shares_given(question: Question) -> tuple[str, ...]:
    """Return the forces given as a share: `W_u 0.84 of the body`; none to look up in a table."""
    forces = (force for posture in question.problem.postures for force in posture.forces)
    shares = {f.symbol: f.share for f in forces if f.share is not None and not f.share.rows}
    return tuple(
        f"{sign_of(symbol)} {question.written(share.given)} of the body"
        for symbol, share in shares.items()
    )


def forces_found(question: Question, values: Mapping[str, float]) -> tuple[str, ...]:
    """Return the forces of a posture whose lines stand: `W_l 44.49 N`; `values` are all found."""
    steps = {step.key: step for step in question.derivation.steps if step.key in values}
    symbols = [f.symbol for f in question.problem.posture.forces if f.symbol in steps]
    return tuple(f"{sign_of(key)} {value_text(steps[key], values[key])}" for key in symbols)


def given_and_taken(question: Question) -> tuple[str, ...]:
    """Return all that is given, and then g and the factors to take: `m_l 18.0 lb`, `g = …`."""
    factors = (factor.text for factor in question.factors)
    return (*givens(question), *shares_given(question), *fractions_given(question), *factors)


def not_written(working: Working, steps: Iterable[Step]) -> str:
    """Return those of some lines that are not written: `F_m, MA`."""
    return ", ".join(line_name(step) for step in steps if step.key not in working.lines)


def outcomes(working: Working) -> dict[str, Outcome]:
    """Return what came of each standing line; nothing while that is not to be told."""
    if not working.rules.tells:
        return {}
    return {key: line.verdict.outcome for key, line in working.lines.items()}


def found(working: Working) -> dict[str, float]:
    """Return the values of the lines that are known to stand, for the picture and its words."""
    known = outcomes(working)
    return {
        key: line.reading.value
        for key, line in dict(working.lines).items()
        if key in known
        and line.verdict.settled
        and line.reading is not None
        and not line.reading.sides
    }


def key_to_do(working: Working) -> str:
    """Return the key of the line that is asked for now, "" at the end."""
    current = working.current()
    return "" if current is None else current.key


def within_reach(working: Working) -> tuple[str, ...]:
    """Return the keys of the lines that can be gone to: written, left, or still to be done.

    The one still to be done comes last where it is not on the page; it is "" at the end.
    """
    to_do = key_to_do(working)
    touched = {to_do} | working.written | working.left
    keys = tuple(step.key for step in on_page(working) if step.key in touched)
    return keys if to_do in keys else (*keys, to_do)


def neighbour(working: Working, chosen: str, way: int) -> str | None:
    """Return the key of the line before (-1) or after (1) within reach; None where none is.

    The one still to be done is "", as it is where none is chosen.
    """
    to_do, keys = key_to_do(working), within_reach(working)
    place = keys.index(chosen or to_do) + way
    if not 0 <= place < len(keys):
        return None
    return "" if keys[place] == to_do else keys[place]


def first_to_do(working: Working) -> str:
    """Return the key of the first line to go to that is not done, "" for the one asked for now.

    Where nothing is asked for any more, that is the first of those that were skipped.
    """
    left = working.to_find
    return left[0].key if left and working.current() is None else ""


def to_find(working: Working) -> str:
    """Return what is still to be found: `F_m, MA, class`."""
    return ", ".join(line_name(step) for step in working.to_find)


def missing(working: Working) -> dict[str, dict[str, str]]:
    """Return headings, each with what is missing: the names of lines, and what they ask for.

    First all that is still to be found, then the lines that lead to the first of it, then those
    that are written but not right, where that may be told. No line is told twice.
    """
    *leading, goal = working.missing() or (None,)
    told = {}
    wrong = [s for s in working.steps if s.key in working.lines and not working.stands(s.key)]
    if not working.rules.tells:
        wrong = []
    if goal is not None:
        told["Still to find"] = _asks(working, (s for s in working.to_find if s not in wrong))
        lead = (s for s in leading if s not in wrong)
        told[f"Lines that lead to {line_name(goal)}"] = _asks(working, lead)
    told["Not right yet"] = _asks(working, wrong)
    return {heading: asks for heading, asks in told.items() if asks} or {"Nothing is missing.": {}}


def _asks(working: Working, steps: Iterable[Step]) -> dict[str, str]:
    return {line_name(step): ask(working.question, step) for step in steps}
