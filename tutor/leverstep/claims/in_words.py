"""What a line says in words: the class of lever, where the reaction points, and what it does."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace

from leverstep.claims.bearings_said import standing_of_bearing
from leverstep.claims.beside_the_working import is_aside
from leverstep.claims.judged_line import Claim, LineStanding
from leverstep.course.problem import Question
from leverstep.entry.answers_in_words import WAYS, named_in_words
from leverstep.entry.reading import read_entry
from leverstep.entry.tree import Unreadable
from leverstep.statics.kinds import WordChoice
from leverstep.statics.reaction import ways_of_direction
from leverstep.statics.step import Step

_NAMES_CLASS = re.compile(r"\bclass?\b|lever_?class|\blever [123]\b", re.IGNORECASE)
_MAY_NAME_CLASS = re.compile(r"\b(?:class?|order|kind|type|effort)\b|lever_class|lever [123]\b")
_CLASS = re.compile(r"\b(first|second|third|i{1,3})\b|(?<![\d.])([123])(?![\d.])")
_ORDINAL = r"(?:first|second|third|1st|2nd|3rd|[123]|i{1,3})"
_SURELY_CLASS = re.compile(
    rf"\b{_ORDINAL}[\s-]+(?:class|order|type)\b|\blever[\s_]?(?:class|type)?\s*[:;=/]*\s*{_ORDINAL}\b"
    rf"|\b(?:class|type)(?:\s+of\s+lever)?\s*[:;=/]*\s*(?:is\s+)?(?:the\s+)?{_ORDINAL}\b"
)
"""A class said as that of a lever, not beside one."""
_SURELY_HELD = re.compile(
    r"(?:(?:so|and|it|he|she|they|the|soles?|feet|foot|shoes?|floor|still|yes|no|does|do|will"
    r"|not|won't|doesn't|don't|cannot)[\s,]+)*(?:holds?|slips?|slides?)"
)
"""What is said of a support that is to hold, and of nothing else."""
_SPEAKS_OF_REACTION = re.compile(
    r"\b(?:reaction|joint|pushes the|push the|presses|direction|r points|r acts)\b"
)
_SURELY_REACTION = re.compile(
    r"^(?:so|thus|hence|then|therefore|and|the|,|\s)*(?:joint\s+)?(?:reaction|direction|joint|r)\b"
)
"""The reaction as what a sentence begins with: what pushes, not what is pushed."""
_CORRECTED = re.compile(r"\b(?:no,? |wait,? )*(?:sorry|wait|oops|i mean|rather|no)\b[,:]?")
_POINTS = re.compile(r"^\W*(?:and |so |it |which |is )*(?:point|act|direct)(?:s|ing|ed)?\b")
"""What a line begins with that tells the direction of what the line before was of."""
_WAYS = (way for way in WAYS if way.isalpha() and way != "back")  # the back is of the body too
_DIRECTION = re.compile(rf"\b(?:{'|'.join(_WAYS)})\b")
_LETTERS = re.compile(r"[a-z](?:[\s,;]+[a-z])*")
"""Letters, which say something only where a class or a direction is asked for."""
_EFFECT = re.compile(r"\b(?:compression|compressive|compressed|tension|tensile|distraction)\b")
_DENIED = re.compile(r"\bnot\b|n't\b")
_EQUAL_CLASS = re.compile(r" = [123]")


def answer_alone(plain: str, question: Question, world: Mapping[str, float]) -> Claim | None:
    """Return what a line says that is nothing but a class or a direction: `third`, `R_dir = down`.

    Args:
        plain: the line, made plain.
        question: what it is about.
        world: what the student's own wrong values lead to, by key.
    """
    said = named_in_words(plain)
    text, named = said.answer.lower().strip(" .;"), bool(said.about)
    is_bare = not named and _LETTERS.fullmatch(text)
    if is_bare or re.fullmatch(r"[\d+-]*", text):
        return None
    is_held = _SURELY_HELD.fullmatch(text) is not None
    is_said = named or is_held or _SURELY_CLASS.search(text) is not None
    answers = (
        _answer_at(step, text, question, world, named=named)
        for step in question.derivation.steps
        if said.may_be(step)
    )
    return next(
        (one for one in answers if one and (is_said or one.standing is not LineStanding.WRONG)),
        None,
    )


def _answer_at(
    step: Step, text: str, question: Question, world: Mapping[str, float], *, named: bool
) -> Claim | None:
    """Return what a text says as the answer of a line, None where it can't be that."""
    try:
        reading = read_entry(text, step, {})
    except Unreadable:
        return None
    if reading.bearing is not None and not named:
        return None  # an angle alone may be any
    claim = _judged(step, reading.value, text, question, world, named=named)
    if reading.bearing is None:
        return claim
    return replace(claim, standing=standing_of_bearing(reading.bearing, question.at(step), world))


def _judged(
    step: Step,
    value: float,
    said: str,
    question: Question,
    world: Mapping[str, float],
    *,
    named: bool = True,
) -> Claim:
    if value == round(question.right[step.key]):
        standing = LineStanding.RIGHT
    else:
        follows = world.get(step.key) == value
        standing = LineStanding.FOLLOWS if follows else LineStanding.WRONG
    return Claim(standing, step.key, value, text=said, named=named)


def names_class(plain: str) -> bool:
    """Return whether a line speaks of the class of lever by name."""
    return _NAMES_CLASS.search(plain) is not None


def is_without_formula(plain: str) -> bool:
    """Return whether a line says nothing to be equal, `class = 2` apart."""
    return "=" not in _EQUAL_CLASS.sub("", plain)


def claim_in_words(
    plain: str,
    question: Question,
    world: Mapping[str, float],
    after_reaction: bool = False,
    posture: str = "",
) -> Claim | None:
    """Return what a line says in words, None where it says nothing of the kind.

    Args:
        plain: the line, made plain.
        question: what it is about.
        world: what the student's own wrong values lead to, by key.
        after_reaction: whether the line before was of the reaction.
        posture: the mark of the posture that the page speaks of, "" where that is not told.
    """
    text = plain.lower()
    text = _last_said(text)
    if after_reaction and _POINTS.match(text):
        text = f"reaction {text}"  # `pointing right and up` goes on with it
    if _DENIED.search(text):
        return None
    for words, read in (
        (WordChoice.CLASS, _class_in),
        (WordChoice.DIRECTION, _direction_in),
        (WordChoice.EFFECT, _effect_in),
    ):
        claims = [
            _judged(step, *found, question, world)
            for step in question.derivation.steps
            if step.kind.words is words
            and posture in ("", step.mark)
            and (found := read(text, step)) is not None
        ]
        if claims:  # of several postures that are asked for it, one may be meant
            claim = next((c for c in claims if c.standing is not LineStanding.WRONG), claims[-1])
            is_proved = not is_aside(plain) and _is_surely(words, claim, question, text)
            return claim if is_proved else _not_wrong(claim)
    return None


def _last_said(text: str) -> str:
    """Return what a line says after it corrects itself: `second, no sorry first class`."""
    last = _CORRECTED.split(text)[-1]
    return last if _SURELY_CLASS.search(last) else text


def _not_wrong(claim: Claim) -> Claim:
    """Return a claim that is not said surely enough to be called wrong."""
    is_wrong = claim.standing is LineStanding.WRONG
    return replace(claim, standing=LineStanding.UNREAD) if is_wrong else claim


def _is_surely(about: WordChoice, claim: Claim, question: Question, text: str) -> bool:
    """Return whether words speak of the class, or of the reaction, and of nothing else.

    A direction is wrong only where it points the other way, not where it tells one axis of two.
    Compression or tension may be said of anything.
    """
    if about is WordChoice.EFFECT:
        return False
    if about is WordChoice.CLASS:
        return _SURELY_CLASS.search(text) is not None
    said, right = (ways_of_direction(code) for code in (claim.value, question.right[claim.key]))
    is_other_way = any(one * other < 0 for one, other in zip(said, right, strict=True))
    return is_other_way and _SURELY_REACTION.search(text) is not None


def _class_in(text: str, step: Step) -> tuple[float, str] | None:
    """Return the class that a text names, where it names one alone, and its words."""
    if not _MAY_NAME_CLASS.search(text):
        return None
    text = " ".join(_SURELY_CLASS.findall(text)) or text
    values = {read_entry(word or digit, step, {}).value for word, digit in _CLASS.findall(text)}
    if len(values) != 1:
        return None
    (value,) = values
    return value, f"{value:g}"


def _effect_in(text: str, step: Step) -> tuple[float, str] | None:
    """Return what a text says is done lengthwise, as a number of the step, and its word."""
    words = dict.fromkeys(_EFFECT.findall(text))
    if re.search(r"\d", text) or len(words) != 1:
        return None
    (word,) = words
    return read_entry(word, step, {}).value, word


def _direction_in(text: str, step: Step) -> tuple[float, str] | None:
    """Return the direction that a text tells, as a number of the step, and its words."""
    if re.search(r"\d", text) or not _SPEAKS_OF_REACTION.search(text):
        return None
    words = " ".join(_DIRECTION.findall(text))
    try:
        value = read_entry(words, step, {}).value if words else None
    except Unreadable:
        return None
    return None if value is None else (value, words)
