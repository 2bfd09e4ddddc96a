"""Reading in words what is put into a free-body diagram: `W_f at the centre of mass, down`.

A force, a point and a direction may be named by their words, by a symbol, or by their number in the
lists as they are read out. What fits nothing or several things, or only may mean one, is told of as
such: nothing is judged that was not said.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import replace

from leverstep.course.problem import Problem
from leverstep.course.symbols import joined_up
from leverstep.course.way_words import arrows_told
from leverstep.free_body.body_picture import AXIS_ITEM, BodyPicture
from leverstep.free_body.candidates import NET_MOMENT, REACTION, Candidate
from leverstep.free_body.direction_words import pointing_meant
from leverstep.free_body.force_places import AXIS_POINT, ForcePlace
from leverstep.free_body.placing import Placing, right_point
from leverstep.free_body.word_matching import (
    NUMBER,
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
_ANGLE = re.compile(rf"\s*(?:{NUMBER.pattern})\s*(?:°|deg(?:rees?)?)\s*", re.IGNORECASE)
_COMMA = re.compile(r"(?<![0-9]),|,(?![0-9])")
"""A comma that is not that of a decimal number."""
_BETWEEN = " ,:"
"""What may stand between a force, where it acts, and which way."""
_WAY = re.compile(
    r"\s(?:(?:straight|unknown|vertically|horizontally|at|(?:up|down|left|right)(?:wards?)?)\b"
    r"|(?:upper|top|lower|bottom)[ -](?:left|right)\b"
    rf"|{NUMBER.pattern}\s*(?:°|deg))",
    re.IGNORECASE,
)
"""What a direction may begin with."""
_LENGTH = re.compile(rf"({NUMBER.pattern})\s*(mm|cm|m)\b")
_METRES = {"mm": 0.001, "cm": 0.01, "m": 1.0}
_ITS, _WHOSE = re.compile(r"\b(?:its|own)\b", re.IGNORECASE), re.compile(r"['’]s?\b")
"""What says that a centre of mass is that of the thing itself, and what says whose it is."""
_CENTRE = frozenset({"centre", "mass"})
_COMPONENTS = (
    kinds.REACTION_X, kinds.REACTION_Y, kinds.REACTION_AXIAL, kinds.REACTION_TRANSVERSE,
)  # fmt: skip


def read_placings(picture: BodyPicture, text: str, tells: bool = True) -> tuple[Placing, ...]:
    """Return what a text puts where: one thing, or several distances.

    A direction alone is that of what is to be turned (`BodyPicture.to_turn`).

    Args:
        picture: the picture that it is put into.
        text: what is said.
        tells: whether it is told at once what is right.

    Raises:
        UnclearWordsError: where it does not say that, with a sentence.
    """
    text = _with_marks(picture, arrows_told(text))
    if marked := _AXIS.fullmatch(text):
        return (Placing(AXIS_ITEM, _axis_marked(picture, marked["at"].strip(_BETWEEN)).key),)
    if distances := _distances(picture, text):
        return tuple(map(Placing, distances))
    try:
        return (_force_placed(picture, text),)
    except UnclearWordsError:
        turned = _turned_alone(picture, text, picture.to_turn(tells))
        if turned is None:
            raise
        return (turned,)


def is_for_picture(text: str) -> bool:
    """Return whether a text marks the axis, or is an angle alone, though it is like a line."""
    return (_AXIS.fullmatch(text) or _ANGLE.fullmatch(text)) is not None


def _with_marks(picture: BodyPicture, text: str) -> str:
    """Return a text with its symbols as they are written: `d_l` for dl."""
    symbols = [*(one.item for one in picture.candidates), *(one.item for one in picture.distances)]
    known = {joined_up(one): one for one in symbols if "_" in one and words_in(joined_up(one))}
    return re.sub(r"\w+", lambda word: known.get(word[0], word[0]), text)


def _turned_alone(picture: BodyPicture, text: str, to_turn: Placing | None) -> Placing | None:
    """Return what is to be turned as a direction alone has it, None where it is none."""
    if to_turn is None or _names_force(picture, text):
        return None
    try:
        return _turned(picture, to_turn, text)
    except UnclearWordsError as error:
        if error.fits:
            raise
        return None


def _turned(picture: BodyPicture, placing: Placing, way: str) -> Placing:
    candidate = picture.candidate(placing.item)
    assert candidate is not None, f"{placing.item} has a direction"
    return replace(placing, pointing=_way_meant(picture, candidate, way))


def _way_meant(picture: BodyPicture, candidate: Candidate, said: str) -> str:
    """Return the key of the direction that is meant.

    Where its quarter was said before its angle was asked for, that need not be said again.
    """
    asked = picture.asked
    try:
        return pointing_meant(picture, candidate, said).key
    except UnclearWordsError as error:
        if not error.fits or asked is None or asked.item != candidate.item:
            raise
    quarter = picture.pointing_of(asked)
    assert quarter is not None, f"{asked.item} has a direction"
    return pointing_meant(picture, candidate, f"{said}, {' '.join(quarter.words)}").key


def _names_force(picture: BodyPicture, text: str) -> bool:
    """Return whether a text begins with the name of a force, or a part of one."""
    try:
        _candidate(picture, _named_first(picture, text)[0])
    except UnclearWordsError as error:
        return error.fits > 0
    return True


def _force_placed(picture: BodyPicture, text: str) -> Placing:
    """Return where a text puts a force or moment, and which way."""
    if turn := _TURN.fullmatch(text):
        candidate = _candidate(picture, _named_first(picture, turn["one"])[0])
        if candidate.is_turning:
            return Placing(candidate.item, "", _way_meant(picture, candidate, turn["way"]))
    if picture.only_place is not None:
        said, _, way = text.partition(",")
        if not way:
            said, way = _parted(text)
        candidate = _candidate(picture, _named_first(picture, said)[0])
        way = _way_meant(picture, candidate, way)
        return Placing(candidate.item, picture.only_place.key, way)
    said, rest = _named_first(picture, text)
    candidate = _candidate(picture, said)
    standing = picture.placed.get(candidate.item)
    if standing is not None and not _is_point(picture, rest, candidate):
        with suppress(UnclearWordsError):
            return _turned(picture, standing.placing, rest)
    if candidate.is_turning:
        raise UnclearWordsError(f"Say how it turns, such as: {candidate.name}, anticlockwise.")
    where, _, way = _COMMA.sub("\n", rest, count=1).partition("\n")
    if rest and not way.strip():
        where, way = _parted(rest)
    if not where.strip():
        raise UnclearWordsError("Say where and which way too, such as: 3 at 2, up.")
    place = _place(picture, where, candidate)
    return Placing(candidate.item, place.key, _way_meant(picture, candidate, way))


def _axis_marked(picture: BodyPicture, where: str) -> ForcePlace:
    if not where:
        raise UnclearWordsError("Say which point is the axis, such as: axis at 1.")
    return _place(picture, where, None)


def _distances(picture: BodyPicture, text: str) -> tuple[str, ...]:
    """Return the distances that a text names and nothing else, none where it names none."""
    told = _DISTANCE.fullmatch(text)
    named = re.findall(r"\w+", (told["which"] if told else text).lower())
    known = {one.item.lower(): one.item for one in picture.distances}
    found = tuple(dict.fromkeys(known[word] for word in named if word in known))
    if told is None:
        return found if {"and", *known}.issuperset(named) else ()
    if not found or any("_" in word and word not in known for word in named):
        raise UnclearWordsError("Say which distance by its symbol, such as: distance d_m.")
    return found


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
    text = _with_marks(picture, text)
    distances = _distances(picture, text)
    if len(distances) > 1:
        raise UnclearWordsError(f"Type one distance at a time, such as: distance {distances[0]}.")
    return distances[0] if distances else _candidate(picture, text).item


def _parted(rest: str) -> tuple[str, str]:
    """Part a point from a direction that follows it without a comma."""
    found = _WAY.search(f" {rest}")
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
    """Return the point that is meant; the segment's own weight at the centre of mass is at its own.

    So is any other that is said to be at its own, or where no other thing has one: else it is asked
    whose is meant, since a load does not act at the centre of mass of the segment.

    A part of the name of a point means it where it says what sort of point that is, or its number;
    `hand` is no centre of mass of the forearm and hand, and that is not suggested: what is held in
    the hand does not act there.
    """
    problem = picture.question.problem
    own = "" if candidate is None or candidate.is_turning else right_point(candidate)
    force = None if candidate is None else candidate.force
    is_its_centre = force is not None and (
        force.own_weight or _ITS.search(said) is not None or not _has_centre(picture, own)
    )
    said = _WHOSE.sub("", said)

    def names(one: ForcePlace) -> Iterable[str]:
        yield one.label
        yield from one.names
        if force is not None and one.key == own:
            yield problem.names[force.symbol]
        if force is not None and force.is_weight and one.key == own and is_its_centre:
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
        if error.fits != 1:
            raise
        raise UnclearWordsError(
            f"No point of the list is called {said.strip()}. Say how far from the {problem.axis} "
            "it lies, or its number in the list."
        ) from error


def _has_centre(picture: BodyPicture, besides: str) -> bool:
    """Return whether a point of a picture is a centre of mass, besides one by its key."""
    others = (one for one in picture.places if one.key != besides)
    return any(words_in(name) >= _CENTRE for one in others for name in one.names)


def _is_point(picture: BodyPicture, said: str, candidate: Candidate) -> bool:
    """Return whether words may mean a point, or several."""
    try:
        _place(picture, said, candidate)
    except UnclearWordsError as error:
        return error.fits > 0
    return True


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
