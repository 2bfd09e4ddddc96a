"""Reading in words what is put into a free-body diagram: `W_f at the centre of mass, down`.

A force, a point and a direction may be named by their words, by a symbol, or by their number in the
lists as they are read out. What fits nothing or several things, or only may mean one, is told of as
such: nothing is judged that was not said.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from leverstep.course.problem import Problem
from leverstep.free_body.body_picture import AXIS_ITEM, BodyPicture
from leverstep.free_body.candidates import NET_MOMENT, REACTION, Candidate
from leverstep.free_body.direction_words import pointing_meant
from leverstep.free_body.force_places import AXIS_POINT, ForcePlace
from leverstep.free_body.placing import Placing, right_point
from leverstep.free_body.word_matching import (
    NUMBER,
    PartOfNameError,
    UnclearWordsError,
    Words,
    one_meant,
    words_in,
    words_of_force,
)
from leverstep.statics import kinds

_TURN = re.compile(r"(?P<one>.*?)[\s,]+(?P<way>(?:\S*clockwise|unknown|open)\b.*)", re.IGNORECASE)
_AXIS = re.compile(r"(?:mark )?(?:the )?(?:axis|pivot)\b(?:\s+(?:at|is)\b|[:,=])?(?P<at>.*)",
                   re.IGNORECASE)  # fmt: skip
_DISTANCE = re.compile(r"distances?\b:?(?P<which>.*)", re.IGNORECASE)
_COMMA = re.compile(r",(?![0-9])")
_BETWEEN = " ,:"
"""What may stand between a force, where it acts, and which way."""
_LENGTH = re.compile(rf"({NUMBER.pattern})\s*(mm|cm|m)\b")
_METRES = {"mm": 0.001, "cm": 0.01, "m": 1.0}
_COMPONENTS = (
    kinds.REACTION_X, kinds.REACTION_Y, kinds.REACTION_AXIAL, kinds.REACTION_TRANSVERSE,
)  # fmt: skip


def read_placing(picture: BodyPicture, text: str) -> Placing:
    """Return what a text puts where.

    Raises:
        UnclearWordsError: where it does not say that, with a sentence.
    """
    if marked := _AXIS.fullmatch(text):
        return Placing(AXIS_ITEM, _axis_marked(picture, marked["at"].strip(_BETWEEN)).key)
    if distance := _distance(picture, text):
        return Placing(distance)
    if turn := _TURN.fullmatch(text):
        candidate = _candidate(picture, _named_first(picture, turn["one"])[0])
        if candidate.is_turning:
            return Placing(candidate.item, "", pointing_meant(picture, candidate, turn["way"]).key)
    if picture.only_place is not None:
        said, _, way = text.partition(",")
        candidate = _candidate(picture, _named_first(picture, said)[0])
        way = pointing_meant(picture, candidate, way).key
        return Placing(candidate.item, picture.only_place.key, way)
    said, rest = _named_first(picture, text)
    candidate = _candidate(picture, said)
    if candidate.is_turning:
        raise UnclearWordsError(f"Say how it turns, such as: {candidate.name}, anticlockwise.")
    where, _, way = _COMMA.sub("\n", rest, count=1).partition("\n")
    if rest and not way.strip():
        where, way = _parted(rest)
    if not where.strip():
        raise UnclearWordsError("Say where and which way too, such as: 3 at 2, up.")
    place = _place(picture, where, candidate)
    return Placing(candidate.item, place.key, pointing_meant(picture, candidate, way).key)


def _axis_marked(picture: BodyPicture, where: str) -> ForcePlace:
    if not where:
        raise UnclearWordsError("Say which point is the axis, such as: axis at 1.")
    return _place(picture, where, None)


def _distance(picture: BodyPicture, text: str) -> str:
    """Return the distance that a text names and nothing else, "" where it names none."""
    told = _DISTANCE.fullmatch(text)
    named = re.findall(r"\w+", (told["which"] if told else text).lower())
    found = [
        one.item for one in picture.distances
        if one.item.lower() in named
    ]  # fmt: skip
    known = {one.lower() for one in found}
    if told and len(found) + any("_" in word and word not in known for word in named) > 1:
        raise UnclearWordsError(f"Type one distance at a time, such as: distance {found[0]}.")
    if told and not found:
        raise UnclearWordsError("Say which distance by its symbol, such as: distance d_m.")
    return found[0] if found and (told or len(named) == 1) else ""


def _named_first(picture: BodyPicture, text: str) -> tuple[str, str]:
    """Part what is placed from where: the name of a force may have an `at` of its own."""
    named = [name for one in picture.candidates for name in _names(picture, one) if name]
    begun = [name for name in named if re.match(rf"{re.escape(name)}(?!\w)", text, re.IGNORECASE)]
    longest = max(map(len, begun), default=0)
    said, rest = text[:longest], text[longest:]
    before_comma = _COMMA.split(rest, maxsplit=1)[0]
    if " at " in before_comma:
        more, _, rest = rest.partition(" at ")
        return said or more, rest
    rest = rest.strip(_BETWEEN)
    if not said:
        said, _, rest = _COMMA.sub("\n", rest, count=1).partition("\n")
    elif " at " in said and rest and not _COMMA.search(rest):
        said, _, where = said.partition(" at ")
        return said, f"{where}, {rest}"
    return said, rest.strip(_BETWEEN).removeprefix("at ")


def read_item(picture: BodyPicture, text: str) -> str:
    """Return which item of a picture a text names, to be taken away.

    Raises:
        UnclearWordsError: where it names none.
    """
    if words_in(text) == {"axis"}:
        return AXIS_ITEM
    return _distance(picture, text) or _candidate(picture, text).item


def _parted(rest: str) -> tuple[str, str]:
    """Part a point from a direction that follows it without a comma."""
    found = re.search(r"\s(?:straight\s|unknown|up|down|left|right)", f" {rest}", re.IGNORECASE)
    if found is None:
        raise UnclearWordsError("Say the direction behind a comma, such as: down, or unknown yet.")
    return rest[: found.start()], rest[max(found.start() - 1, 0) :]


def _candidate(picture: BodyPicture, said: str) -> Candidate:
    """Return the force or moment that is meant; one that does not act, only by all its words."""
    question = picture.question
    if said.strip() in {question.key(kind) for kind in _COMPONENTS}:
        raise UnclearWordsError(
            f"{said.strip()} is a part of the reaction: draw the whole of it, such as: R at 1, "
            "unknown."
        )

    def names(one: Candidate) -> Iterable[str]:
        return _names(picture, one)

    def is_enough(one: Candidate, _: Words) -> bool:
        return one.decoy is None

    return one_meant(said, picture.candidates, names, "force", words_of_force, is_enough)


def _names(picture: BodyPicture, one: Candidate) -> Iterable[str]:
    """Yield what a force or moment may be called, first as the list has it."""
    question, problem = picture.question, picture.question.problem
    yield one.name
    yield one.name.removeprefix("force of ")
    if one.decoy is None and not one.is_turning:
        whole = problem.reaction if one.item == REACTION else one.name
        yield f"{whole} on the {problem.segment}"
    if one.item == REACTION:
        yield question.key(kinds.REACTION_SIZE)
    elif one.item == NET_MOMENT:
        yield question.key(kinds.NET_MOMENT)
    elif one.decoy is None:
        yield one.item
    if one.force is not None:
        yield from _other_names(problem, problem.names[one.item])


def _other_names(problem: Problem, name: str) -> Iterable[str]:
    """Yield what the statement calls something in brackets: `knee extensors (quadriceps)`."""
    for told in re.findall(rf"{re.escape(name)} \((?:mainly )?([^)]*)\)", problem.statement):
        yield from re.split(r",| and ", told)


def _place(picture: BodyPicture, said: str, candidate: Candidate | None) -> ForcePlace:
    """Return the point that is meant; a weight at the centre of mass is at its own.

    A part of the name of a point means it where it says what sort of point that is, or its number;
    `hand` is no centre of mass of the forearm and hand, and that is not suggested: what is held in
    the hand does not act there.
    """
    problem = picture.question.problem
    own = "" if candidate is None or candidate.is_turning else right_point(candidate)
    force = None if candidate is None else candidate.force

    def names(one: ForcePlace) -> Iterable[str]:
        yield one.label
        yield from one.names
        if force is not None and one.key == own:
            yield problem.names[force.symbol]
        if force is not None and force.is_weight and one.key == own:
            yield "centre of mass"

    def is_enough(one: ForcePlace, words: Words) -> bool:
        sorts = (words_in(name.rpartition(" of the ")[0]) - {"middle"} for name in one.names)
        is_its = force is not None and not force.is_weight and one.key == own
        return is_its or any(map(NUMBER.fullmatch, words)) or any(s and s <= words for s in sorts)

    said = _as_axis(problem, said)
    try:
        return one_meant(said, picture.places, names, "point", words_in, is_enough)
    except UnclearWordsError as error:
        lying = list(_lying(picture, said))
        if len(lying) == 1:
            return lying[0]
        if not isinstance(error, PartOfNameError):
            raise
        raise UnclearWordsError(
            f"No point of the list is called {said.strip()}. Say how far from the {problem.axis} "
            "it lies, or its number in the list."
        ) from error


def _as_axis(problem: Problem, said: str) -> str:
    """Return the axis for what else the statement calls it: `left hip`, `hip joint`."""
    told = said.strip().lower().removeprefix("the ")
    is_so = told.endswith(f" {problem.axis.lower()}") and told in problem.statement.lower()
    return AXIS_POINT if is_so or told == f"{problem.axis.lower()} joint" else said


def _lying(picture: BodyPicture, said: str) -> Iterable[ForcePlace]:
    """Yield the points that lie as far from the axis as is said, in any metric unit."""
    length = _LENGTH.search(said)
    if length is None:
        return
    number, unit = length.groups()
    size = float(number.replace(",", "."))
    near = 0.5 * 10.0 ** -len(re.split("[.,]", number)[1] if re.search("[.,]", number) else "")
    for one in picture.places:
        station = one.station if one.is_exact else None
        if station and abs(abs(station) / _METRES[unit] - size) <= near * (1 + 1e-9):
            yield one
