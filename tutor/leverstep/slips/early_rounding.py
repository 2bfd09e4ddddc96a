"""Earlier values that were cut to few figures, as what a wrong number came from."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping

from leverstep.slips.finding import Explanation, Finding
from leverstep.slips.slip_search import SlipSearch
from leverstep.statics.step import Step
from leverstep.working.attempt import Attempt
from leverstep.working.judge import Band, spread


def rounded_early(
    search: SlipSearch,
    reachable: Callable[[SlipSearch, int], Iterable[Band | None]],
) -> tuple[Explanation, ...]:
    """Return early rounding, where the values used, cut to few figures, can give the number.

    Args:
        search: that behind the wrong entry; the slips say to how many figures values may be cut.
        reachable: what the line can come to where values are cut to some figures.
    """
    attempt, key = search.attempt, search.attempt.step.key
    for slip in search.catalogue.slips.values():
        if not slip.rounding or attempt.step.kind.name not in slip.kinds:
            continue
        found = Explanation((Finding(slip.id, key, ()),), sure=False)
        bands = filter(None, reachable(search, slip.rounding))
        if any(band.holds(search.value, search.slack) for band in bands):
            return (found,)
    return ()


def _cuts(attempt: Attempt, step: Step, figures: int) -> Iterator[Mapping[str, float]]:
    """Yield the values that a line is worked from, each cut to some figures.

    There are two where a value half way between may have been rounded up or down.
    """
    exact = attempt.values
    up, down = (
        {use: float(f"{exact[use] * nudge:.{figures}g}") for use in step.uses if use in exact}
        for nudge in (1 + 1e-9, 1 - 1e-9)
    )
    yield up
    if up != down:
        yield down


def cut_once(search: SlipSearch, figures: int) -> Iterator[Band | None]:
    """Yield what the line comes to where all values that a line is worked from are cut, or one.

    That is the line itself, or the next before it that are not written.
    """
    attempt = search.attempt
    for key in search.near:
        step = attempt.question.derivation.step(key)
        for cut in _cuts(attempt, step, figures):
            for some in (cut, *({use: value} for use, value in cut.items())):
                own = {**attempt.own, **some}
                yield spread(attempt.question, attempt.step.key, own, attempt.taken)


def between(search: SlipSearch, figures: int) -> Iterator[Band | None]:
    """Yield all that a line can come to where any of the values that it rests on may be cut.

    These may in turn have come from cut values, so each lies anywhere within its last figure.
    """
    for cut in _cuts(search.attempt, search.attempt.step, figures):
        yield from _all_between(search.attempt, cut, figures)


def _all_between(attempt: Attempt, cut: Mapping[str, float], figures: int) -> Iterator[Band | None]:
    question, key, own = attempt.question, attempt.step.key, attempt.own
    exact = attempt.values
    right = spread(question, key, own, attempt.taken)
    if right is None:
        return
    low, high = right.low, right.high
    for use, value in cut.items():
        off = abs(value - exact[use])
        if use not in own and value:
            off = max(off, 0.5 * 10 ** (math.floor(math.log10(abs(value))) + 1 - figures))
        for end in (exact[use] - off, exact[use] + off):
            moved = spread(question, key, {**own, use: end}, attempt.taken)
            if moved is None:
                return
            low += min(0.0, moved.low - right.low)
            high += max(0.0, moved.high - right.high)
    yield Band(low, high)
