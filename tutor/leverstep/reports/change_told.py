"""Whether it helped: what changed since an earlier drill, in words, and what that can tell."""

from __future__ import annotations

from collections.abc import Iterator

from leverstep.course.decimals import true_minus
from leverstep.course.phrases import counted, listed
from leverstep.documents.blocks import Heading, Table, Told, Words
from leverstep.reports.changes import Changes, PairChange
from leverstep.reports.figures import Figures
from leverstep.reports.interval import LEAST
from leverstep.reports.report_phrases import percent_told

HOW_MADE = (
    "Did it help?: the share of the marks of each student who tried a line of both problems, in "
    "the first sitting of each drill, without what is lost for lateness or was set by hand. The "
    "95 % interval of the mean difference is Student's for paired differences (The probable error "
    "of a mean, Biometrika 6 (1908) 1-25). It is not given, nor is any line named, for fewer than "
    f"{LEAST} students. Of many lines some improve most by chance.",
)


def did_it_help(figures: Figures) -> Iterator[Told]:
    """Yield what changed on each pair of problems, where there is an earlier drill."""
    changes = figures.changes
    if changes is None:
        return
    yield Heading(2, "Did it help?")
    yield Words(
        f"Each problem of {changes.earlier} below was followed, in this drill, by one that is "
        "worked in the same lines. Compared are the students who worked on both."
    )
    for one in changes.pairs:
        yield Words(f"{_pair_told(one)} {_asked_told(one)}".rstrip())
        if one.improved:
            yield Words("The lines that improved most, by the share right first time:")
            rows = tuple(
                (
                    line.now,
                    line.then,
                    str(line.students),
                    percent_told(line.before),
                    percent_told(line.after),
                )
                for line in one.improved
            )
            yield Table(
                ("Line", "Line then", "Students", "Then", "Now"), rows, frozenset({2, 3, 4})
            )
    yield Words(_caution(changes))


def _pair_told(one: PairChange) -> str:
    """Return how many worked on both problems of a pair, how well, and what that says."""
    both = f"{one.then}, then {one.now}"
    if not one.students:
        return f"{both}: no student worked on both."
    told = (
        f"{both}: {counted(one.students, 'student')} worked on both. On average they had "
        f"{percent_told(one.before)} of the marks then and {percent_told(one.after)} now, a "
        f"difference of {points_told(float(one.change))} points."
    )
    if one.few:
        return f"{told} Fewer than {LEAST} students are too few for a claim."
    if one.interval is None:
        return told
    low, high = one.interval
    is_chance = low <= 0 <= high
    lies = "in it: this may be chance" if is_chance else "outside: chance alone hardly makes that"
    interval = f"{points_told(low)} to {points_told(high)} points"
    return f"{told} The 95 % interval of that difference is {interval}; 0 lies {lies}."


def _asked_told(one: PairChange) -> str:
    """Return how many lines were asked for, "" where that is the same."""
    if one.asked is None:
        return ""
    then, now = one.asked
    return f"Then {counted(then, 'line was', 'lines were')} asked for, now {now}."


def points_told(share: float) -> str:
    """Return a difference of shares in per cent points, with its sign."""
    return true_minus(f"{round(100 * share, 1) + 0:+.1f}")


def _caution(changes: Changes) -> str:
    told = "Whatever changed, this does not say why: there is no group to compare with."
    if changes.unlike:
        told += (
            f" The two drills differ in {listed(list(changes.unlike))}, which changes marks too."
        )
    return told
