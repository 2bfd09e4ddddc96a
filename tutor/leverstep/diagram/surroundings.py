"""Where that lies which a problem shows besides its forces, in metres.

What belongs together hangs together: a trunk on a shoulder, a shoulder on an elbow. Each place is
told from the axis, or from the point where a force acts, since a picture may move such a point.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from leverstep.course.forces import AXIS
from leverstep.course.problem import Question
from leverstep.course.shown import Kind
from leverstep.diagram.bearings import bearing_shown, toward


@dataclass(frozen=True, slots=True)
class Surrounding:
    """An outline, a surface or a point, as seen from the point of `root`: a force, or the axis.

    It lies between `start` and `end`; a surface runs across that way, through `end`, as far as
    `half` to either side, or without end where that is None. `meets` says that an outline which is
    to end at a surface does reach it.
    """

    kind: Kind
    name: str
    root: str
    start: complex
    end: complex
    end_name: str
    way: complex
    half: float | None = None
    meets: bool = True


def surroundings(
    question: Question, metres: Mapping[str, float], points: Mapping[str, complex]
) -> tuple[Surrounding, ...]:
    """Return all that a question shows besides its forces.

    Args:
        question: whose problem says what is shown.
        metres: its distances by symbol.
        points: the point of each force by its symbol, in metres from the axis.
    """
    return tuple(_found(question, metres, points))


def _found(
    question: Question, metres: Mapping[str, float], points: Mapping[str, complex]
) -> Iterator[Surrounding]:
    places = {AXIS: (AXIS, 0j), **{symbol: (symbol, 0j) for symbol in points}}
    roots = {AXIS: 0j, **points}
    surfaces: dict[str, Surrounding] = {}
    for shown in question.problem.shown:
        (root, start), way = places[shown.at], toward(bearing_shown(question, shown))
        run = 0.0 if shown.length is None else shown.length.metres(metres)
        if shown.until:
            surface = surfaces[shown.until]
            between = roots[surface.root] + surface.end - roots[root] - start
            run = _run_to(between, way, surface.way)
        meets, run = run >= 0, max(run, 0.0)
        made = Surrounding(
            shown.kind, shown.name, root, start, start + run * way, shown.end, way,
            None if shown.width is None else shown.width.metres(metres) / 2, meets,
        )  # fmt: skip
        if shown.end:
            places[shown.end] = root, made.end
        if shown.kind == "surface":
            surfaces[shown.name] = made
        yield made


def _run_to(between: complex, way: complex, across: complex) -> float:
    """Return how far a way runs to a surface; -1 where it leads past it or away from it.

    `between` leads to any place on the surface, `across` is square to it.
    """
    slope = (way * across.conjugate()).real
    run = (between * across.conjugate()).real / slope if abs(slope) > 1e-6 else -1.0
    return run if run >= 0 else -1.0
