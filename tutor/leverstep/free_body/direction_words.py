"""Reading in words which way a force acts: `at theta to the vertical, up and left`."""

from __future__ import annotations

import re

from leverstep.course.phrases import listed
from leverstep.course.symbols import sign_of, spelt
from leverstep.course.way_words import ways_told
from leverstep.diagram.compass import LINES, WAYS
from leverstep.free_body.body_picture import BodyPicture
from leverstep.free_body.candidates import Candidate, beyond_axis
from leverstep.free_body.pointings import Pointing, ReferenceLine
from leverstep.free_body.word_matching import (
    NUMBER,
    SHOWN,
    UnclearWordsError,
    Words,
    as_number,
    words_in,
)

_BESIDE = frozenset({"straight", "yet", "direction", "angle", "degrees", "degree", "deg"}) | {
    *("and", "side", "line", "plan", "no", "told", "level", "slightly"),
}
"""Words beside those that tell a direction."""
_GLOSS = re.compile(r"\b(\w+) \((?:to the )?(left|right)\)")
_BACK = re.compile(r"\b(back|forward|outwards)\b[^.,;()]*\((?:to the )?(left|right)\)")
"""A word of the statement with the way it means in the picture: `back towards the hip (left)`."""
_OTHER_LINE = {
    ReferenceLine.HORIZONTAL: ReferenceLine.VERTICAL.value,
    ReferenceLine.VERTICAL: ReferenceLine.HORIZONTAL.value,
}
_RIGHT_ANGLE = re.compile(r"\bright[- ]angles?\b")
_ABOVE_LEVEL = re.compile(r"\b(?:above|over) (?:the )?(?=horizontal)")
_BELOW_LEVEL = re.compile(r"\b(?:below|under) (?:the )?(?=horizontal)")
_OF_LINES = frozenset({"along", "segment", "perpendicular", "other end"})
_STRAIGHT = ({"vertical"}, {"up", "down"}), ({"horizontal"}, {"left", "right"})
"""A line, and the ways along it: straight up is vertically up."""


def pointing_meant(picture: BodyPicture, candidate: Candidate, said: str) -> Pointing:
    """Return the direction that is meant: the one of which all is said that tells it apart.

    Raises:
        UnclearWordsError: where that is none or several.
    """
    choices = [one for one in picture.pointings if picture.suits(candidate.item, one)]
    words = _words_told(picture, said)
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
    shown = listed([one.label for one in fitting[:SHOWN]])
    raise UnclearWordsError(
        f"That fits more than one direction: {shown}. Say more of it.", fits=len(fitting)
    )


def _words_told(picture: BodyPicture, said: str) -> Words:
    """Return what tells a direction, names and values put as the list of directions has them."""
    problem, text = picture.question.problem, ways_told(spelt(said).lower())
    if problem.seen_from == "above":
        named = [*zip(WAYS["above"], ("up", "down"), strict=True)]
        named += [(told, line) for line, told in LINES["above"].items()]
        for told, stands_for in named:
            text = text.replace(told, stands_for)
    for name, stands_for in ((problem.segment, "segment"), (problem.axis, "axis")):
        text = text.replace(name.lower(), stands_for)
    for name in beyond_axis(problem):
        text = re.sub(rf"(towards?) (the )?{re.escape(name.lower())}\b", r"\1 axis", text)
    text = _RIGHT_ANGLE.sub("perpendicular", text)
    text = _BELOW_LEVEL.sub("down to ", _ABOVE_LEVEL.sub("up to ", text))
    text = text.replace("away from", "away").replace("far end", "other end")
    muscles = [one for one in problem.posture.forces if one.direction.attachment is not None]
    of_muscles = {word for one in muscles for word in words_in(problem.names[one.symbol])}
    glosses = _glosses(problem.statement.lower())
    found = {glosses.get(word, word) for word in words_in(text)} - _BESIDE - of_muscles
    found = _with_angles(picture, found)
    if {"other", "end"} <= found:
        found = (found - {"other", "end"}) | {"other end"} | ({"away"} & found or {"toward"})
    signs = {spelt(one.angle).lower() for one in picture.pointings if one.angle}
    if found.isdisjoint(_OF_LINES | signs):  # an end alone tells no line
        found -= {"axis", "end"}
    found -= {"towards"}
    for line, ways in _STRAIGHT:
        if line < found <= line | ways:
            found -= line
    return frozenset(found)


def _glosses(statement: str) -> dict[str, str]:
    """Return what words of a statement mean in the picture: `back`, left."""
    found = dict((*_GLOSS.findall(statement), *_BACK.findall(statement)))
    if "facing right" in statement or "faces right" in statement:
        found |= {"forward": "right", "back": "left"}
    if found.get("forward") == "right":
        found.setdefault("back", "left")
    return found


def _with_angles(picture: BodyPicture, found: set[str]) -> set[str]:
    """Return words with the sign of an angle in the place of its value, or of what it leaves of 90.

    An angle to the horizontal is what that to the vertical leaves of a right angle.
    """
    angled = [one for one in picture.pointings if one.angle]
    values = {one.angle: _value_told(one) for one in angled}
    is_told = any(spelt(one.angle).lower() in found for one in angled)
    for angle, value in values.items():
        if value in found:
            found = (found - {value}) | (set() if is_told else {spelt(angle).lower()})
    for one in angled:
        value, other = values[one.angle], _OTHER_LINE.get(one.line)
        left = f"{90 - float(value):g}" if value else ""
        if other in found and left in found:
            found = (found - {other, left}) | {one.line.value, spelt(one.angle).lower()}
    return found


def _value_told(pointing: Pointing) -> str:
    """Return the value of the angle of a direction as it is told, "" where it is to be found."""
    value = NUMBER.search(pointing.label.partition(sign_of(pointing.angle))[2])
    return as_number(value.group()) if value else ""
