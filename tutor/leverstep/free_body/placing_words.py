"""Reading in words what is put into a free-body diagram: `W_f at the centre of mass, down`.

A force, a point and a direction may be named by their words, by a symbol, or by their number in the
lists as they are read out. What fits nothing or several things is told of as such.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from typing import TypeVar

from leverstep.course.phrases import listed
from leverstep.course.symbols import sign_of, spelt
from leverstep.diagram.compass import LINES, WAYS
from leverstep.free_body.body_picture import AXIS_ITEM, BodyPicture
from leverstep.free_body.candidates import Candidate
from leverstep.free_body.force_places import AXIS_POINT, ForcePlace
from leverstep.free_body.placing import Placing
from leverstep.free_body.pointings import Pointing

_T = TypeVar("_T")

_WORD = re.compile(r"\w+(?:[.,]\d+)?")
_NUMBER = re.compile(r"[0-9]{1,9}(?:[.,][0-9]{1,9})?")
_TURN = re.compile(r"(?P<one>.*?)[\s,]+(?P<way>(?:\S*clockwise|unknown|open)\b.*)", re.IGNORECASE)
_COMMA = re.compile(r",(?![0-9])")
_NO_WORDS = frozenset({"the", "a", "an", "of", "its", "it", "at", "to", "on", "from", "by", "is"})
_SAME: dict[str, str] = {
    **dict.fromkeys(("upwards", "upward"), "up"),
    **dict.fromkeys(("downwards", "downward"), "down"),
    **dict.fromkeys(("leftwards", "leftward"), "left"),
    **dict.fromkeys(("rightwards", "rightward"), "right"),
    **dict.fromkeys(("upper", "top"), "above"),
    **dict.fromkeys(("lower", "bottom"), "below"),
    "horizontally": "horizontal",
    "vertically": "vertical",
    "square": "perpendicular",
    "counterclockwise": "anticlockwise",
    "open": "unknown",
}  # fmt: skip
_BESIDE = frozenset({"straight", "yet", "direction", "angle", "degrees", "degree", "deg"}) | {
    *("and", "side", "line", "plan", "no", "told"),
}
"""Words beside those that tell a direction."""
_SHOWN = 4
"""So many of the things that a word may mean are told."""


class UnclearWordsError(Exception):
    """What was said fits nothing, or several things; the text says what was looked for."""


def read_placing(picture: BodyPicture, text: str) -> Placing:
    """Return what a text puts where.

    Raises:
        UnclearWordsError: where it does not say that, with a sentence.
    """
    said, rest = _named_first(picture, text)
    if _words(said) <= {"axis", "pivot", "mark"} and _words(said):
        return Placing(AXIS_ITEM, _place(picture, rest, None).key)
    symbol = said.removeprefix("distance ").strip()
    if not rest:
        for one in picture.distances:
            if symbol.lower() == one.item.lower():
                return Placing(one.item)
    if turn := _TURN.fullmatch(text):
        candidate = _candidate(picture, _named_first(picture, turn["one"])[0])
        if candidate.is_turning:
            return Placing(candidate.item, "", _pointing(picture, candidate, turn["way"]).key)
    candidate = _candidate(picture, said if rest else text.partition(",")[0])
    where, _, way = _COMMA.sub("\n", rest, count=1).partition("\n")
    if candidate.is_turning:
        raise UnclearWordsError(f"Say how it turns, such as: {candidate.name}, anticlockwise.")
    if picture.only_place is not None:
        said, _, way = text.partition(",")
        candidate = _candidate(picture, _named_first(picture, said)[0])
        way = _pointing(picture, candidate, way).key
        return Placing(candidate.item, picture.only_place.key, way)
    if not rest:
        raise UnclearWordsError("Say where and which way too, such as: 3 at 2, up.")
    if not way.strip():
        where, way = _parted(rest)
    place = _place(picture, where, candidate)
    return Placing(candidate.item, place.key, _pointing(picture, candidate, way).key)


def _named_first(picture: BodyPicture, text: str) -> tuple[str, str]:
    """Part what is placed from where: the name of a force may have an `at` of its own."""
    named = [one.name for one in picture.candidates if text.lower().startswith(one.name.lower())]
    longest = max(map(len, named), default=0)
    if longest == len(text):
        return text, ""
    if " at " in text[longest:] and longest:
        return text[:longest], text[longest:].partition(" at ")[2]
    said, _, rest = text.partition(" at ")
    return said, rest


def read_item(picture: BodyPicture, text: str) -> str:
    """Return which item of a picture a text names, to be taken away.

    Raises:
        UnclearWordsError: where it names none.
    """
    if _words(text) == {"axis"}:
        return AXIS_ITEM
    symbol = text.removeprefix("distance ").strip().lower()
    for one in picture.distances:
        if symbol == one.item.lower():
            return one.item
    return _candidate(picture, text).item


def _parted(rest: str) -> tuple[str, str]:
    """Part a point from a direction that follows it without a comma."""
    found = re.search(r"\s(?:straight\s|unknown|up|down|left|right)", f" {rest}", re.IGNORECASE)
    if found is None:
        raise UnclearWordsError("Say the direction behind a comma, such as: down, or unknown yet.")
    return rest[: found.start()], rest[max(found.start() - 1, 0) :]


def _words(text: str) -> frozenset[str]:
    """Return the words that tell something, in lower case, one word for what means the same."""
    found = (_SAME.get(word, word) for word in _WORD.findall(spelt(text).lower()))
    return frozenset(map(_as_number, found)) - _NO_WORDS


def _as_number(word: str) -> str:
    """Return a word, a number without what does not change it: `35` for 35.0."""
    return f"{float(word.replace(',', '.')):g}" if _NUMBER.fullmatch(word) else word


def _one(said: str, choices: Sequence[_T], names: Callable[[_T], Iterable[str]], what: str) -> _T:
    """Return the one choice that is meant by its number or its words.

    Raises:
        UnclearWordsError: where that is none or several.
    """
    if said.strip().isdecimal() and 0 < int(said) <= len(choices):
        return choices[int(said) - 1]
    words = _words(said)
    found = (
        [one for one in choices if any(name.lower() == said.strip().lower() for name in names(one))]
        or [one for one in choices if any(_words(name) == words for name in names(one) if name)]
        or [one for one in choices if words and any(words <= _words(name) for name in names(one))]
    )
    found = _shortest(found, names) or found
    if len(found) == 1:
        return found[0]
    if not found:
        raise UnclearWordsError(f"No {what} of the list is called {said.strip() or 'nothing'}.")
    shown = listed([next(iter(names(one))) for one in found[:_SHOWN]])
    raise UnclearWordsError(
        f"That fits more than one {what}: {shown}. Say more words, or its number."
    )


def _shortest(found: Sequence[_T], names: Callable[[_T], Iterable[str]]) -> list[_T]:
    """Return the one thing whose first name all others hold and add to, none where there is none.

    The pull of a muscle is meant where nothing is said of its other end.
    """
    told = [(one, _words(next(iter(names(one))))) for one in found]
    return [one for one, words in told if all(words < other for o, other in told if o is not one)]


def _candidate(picture: BodyPicture, said: str) -> Candidate:
    def names(one: Candidate) -> Iterable[str]:
        symbol = "" if one.decoy is not None else one.item
        return one.name, symbol, one.name.removeprefix("force of ")

    return _one(said, picture.candidates, names, "force")


def _place(picture: BodyPicture, said: str, candidate: Candidate | None) -> ForcePlace:
    """Return the point that is meant; a weight at the centre of mass is at its own."""

    def names(one: ForcePlace) -> Iterable[str]:
        return one.label, *one.names

    try:
        return _one(said, picture.places, names, "point")
    except UnclearWordsError:
        if candidate is None:
            raise
        own = candidate.name.partition(" of ")[2]
        fitting = [
            one for one in picture.places
            if one.key != AXIS_POINT
            and any(_words(f"{said} {own}") == _words(name) for name in names(one))
        ]  # fmt: skip
        if len(fitting) != 1:
            raise
        return fitting[0]


def _pointing(picture: BodyPicture, candidate: Candidate, said: str) -> Pointing:
    """Return the direction that is meant: the one of which all is said that tells it apart."""
    choices = [one for one in picture.pointings if picture.suits(candidate.item, one)]
    words = _words_of_direction(picture, said)
    known = {word for one in choices for word in one.words}
    if unknown := words - known:
        raise UnclearWordsError(f"No direction is told by {listed(sorted(unknown))}.")
    angled = any(one.angle and spelt(one.angle).lower() in words for one in choices)
    fitting = [
        one for one in choices
        if words and words <= {spelt(w).lower() for w in one.words} and bool(one.angle) == angled
    ]  # fmt: skip
    exact = [one for one in fitting if words == one.words]
    if exact:
        return exact[0]
    bearings = {round(one.bearing % 360, 6) for one in fitting if one.bearing is not None}
    if len(bearings) == 1:
        return fitting[0]
    if not fitting:
        raise UnclearWordsError("No direction of the list is told so.")
    shown = listed([one.label for one in fitting[:_SHOWN]])
    raise UnclearWordsError(f"That fits more than one direction: {shown}. Say more of it.")


def _words_of_direction(picture: BodyPicture, said: str) -> frozenset[str]:
    """Return what tells a direction, names and values put as the list of directions has them."""
    problem, text = picture.question.problem, spelt(said).lower()
    if problem.seen_from == "above":
        named = [*zip(WAYS["above"], ("up", "down"), strict=True)]
        named += [(told, line) for line, told in LINES["above"].items()]
        for told, stands_for in named:
            text = text.replace(told, stands_for)
    for name, stands_for in ((problem.segment, "segment"), (problem.axis, "axis")):
        text = text.replace(name.lower(), stands_for)
    text = text.replace("away from", "away").replace("far end", "other end")
    muscles = [one for one in problem.posture.forces if one.direction.attachment is not None]
    of_muscles = {word for one in muscles for word in _words(problem.names[one.symbol])}
    found = set(_words(text)) - _BESIDE - of_muscles
    for one in picture.pointings:
        sign = spelt(one.angle).lower()
        told = one.label.partition(sign_of(one.angle))[2] if one.angle else ""
        value = _NUMBER.search(told)
        if value and _as_number(value.group()) in found:
            is_told = any(spelt(other.angle).lower() in found for other in picture.pointings)
            found = (found - {_as_number(value.group())}) | (set() if is_told else {sign})
    if {"other", "end"} <= found:
        found = (found - {"other", "end"}) | {"other end"} | ({"away"} & found or {"toward"})
    return frozenset(found - {"towards"})
