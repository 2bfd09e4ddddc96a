"""How the figures of a term are made, in sentences."""

from __future__ import annotations

from collections.abc import Iterator

from leverstep.documents.blocks import Heading, Listing, Told
from leverstep.reports.interval import LEAST
from leverstep.reports.needs import NEEDS_HELP
from leverstep.term.term_figures import APART, STAYING

_OF_CHANGE = (
    "The 95 % interval of a difference of means is Welch's (Biometrika 34 (1947) 28-35), that of a "
    "difference of shares Newcombe's from the score intervals of both (Statistics in Medicine 17 "
    f"(1998) 873-890). None is given where either term has fewer than {LEAST} students. Drills are "
    "compared by their names in the plans."
)


def how_made(with_change: bool) -> Iterator[Told]:
    """Yield how the figures are made; with those of an earlier term where there is one."""
    yield Heading(2, "How these figures are made")
    yield Listing(
        (
            "The total is the mean of the per cent of the drills that count, each by its weight. A "
            "drill that others sat and a student did not counts as 0 %, unless the student is "
            "exempt or not on its roster. Left out is the lowest per cent, never where that would "
            "lower the total.",
            "A slip counts where it was certain, in the first sitting of a drill. Slips with the "
            "same reason count as one. Made in: how many made it, of those of whom the drill shows "
            "whether they do: they made it, or had a line that could show it right at the first "
            "try, without a hint. In free-body diagrams one is not made where a diagram that "
            "could show it came to be right without a hint.",
            "Met again: how often a student who had made a slip in a drill came to a later one "
            "that shows whether it is still made. In the next of these it was made again "
            "(staying), or was not (gone). Back: how many students made it again after that.",
            "Discrimination is that of the class report of a drill: the correlation of a line with "
            "the number of other lines right first time. As is common practice, a line below "
            f"{APART} is one to look at; none is named that fewer than {LEAST} students tried.",
            f"Whom to speak with: whose total is below {NEEDS_HELP} %, who lacks a required drill, "
            f"or whose last drills show {STAYING} slips or more that stay or are back.",
            *((_OF_CHANGE,) if with_change else ()),
        )
    )
