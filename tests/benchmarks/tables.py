"""Counts of what came of the entries, and how they are shown."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass, field

KEPT = 4
"""So many failures of each kind are kept for the list."""


@dataclass
class Tally:
    """What came of the entries: counts by measure, group and outcome, and the first of each."""

    counts: Counter[tuple[str, str, str]] = field(default_factory=Counter)
    examples: dict[tuple[str, str, str], list[str]] = field(default_factory=dict)

    def add(self, measure: str, group: str, outcome: str, example: str = "") -> None:
        """Count one entry, and keep it where it is one of the first."""
        self.counts[measure, group, outcome] += 1
        kept = self.examples.setdefault((measure, group, outcome), [])
        if example and len(kept) < KEPT:
            kept.append(example)

    def include(self, other: Tally) -> None:
        """Add the counts and examples of another tally."""
        self.counts.update(other.counts)
        for key, examples in other.examples.items():
            kept = self.examples.setdefault(key, [])
            kept += examples[: KEPT - len(kept)]

    def total(self, measure: str, *outcomes: str, group: str | None = None) -> int:
        """Return how many entries of a measure (and group) had one of some outcomes."""
        return sum(
            count
            for (m, g, o), count in self.counts.items()
            if m == measure and o in outcomes and group in (None, g)
        )


@dataclass(frozen=True)
class Table:
    """How one measure is shown: its outcomes that count as success, as failure, and apart."""

    measure: str
    good: tuple[str, ...]
    bad: tuple[str, ...]
    apart: tuple[str, ...] = ()
    say: str = "right"

    def sum_up(self, tally: Tally) -> None:
        """Print the measure in one line, and the group that fares worst where groups differ."""
        groups = {g for m, g, _ in tally.counts if m == self.measure}
        tried = tally.total(self.measure, *self.good, *self.bad)
        right = tally.total(self.measure, *self.good)
        share = f"{100 * right / tried:8.2f}" if tried else "       –"
        line = f"{self.measure:28} {tried:8} {share} % {self.say}"
        if self.say == "sure":  # the less, the better, for every kind of line
            shares = {g: self._share(tally, g) for g in groups}
            worst = max(shares, key=lambda group: shares[group])
            line += f", {100 * shares[worst]:.2f} % of the kind {worst}"
        print(line)

    def _share(self, tally: Tally, group: str) -> float:
        tried = tally.total(self.measure, *self.good, *self.bad, group=group)
        return tally.total(self.measure, *self.good, group=group) / tried if tried else 0.0

    def show(self, tally: Tally) -> None:
        """Print the measure as a whole, then a line for each of its groups."""
        groups = sorted({g for m, g, _ in tally.counts if m == self.measure})
        if not groups:
            return
        columns = [*self.good, *self.bad, *self.apart]
        print(f"\n{self.measure:34} {'count':>7} {self.say:>8}  " + "  ".join(columns))
        for group in [None, *groups] if len(groups) > 1 else groups:
            counts = [tally.total(self.measure, outcome, group=group) for outcome in columns]
            tried = sum(counts[: len(self.good) + len(self.bad)])
            share = sum(counts[: len(self.good)]) / tried if tried else math.nan
            cells = "  ".join(f"{n:>{len(c)}}" for n, c in zip(counts, columns, strict=True))
            print(f"{group or 'all':34} {tried:7} {100 * share:7.2f}%  {cells}")


_SLIPS = (
    ("named", "tie", "asked"),
    (
        "named later",
        "another told",
        "another asked",
        "nothing told",
        "accepted",
        "right called wrong",
    ),
    ("hidden", "not judged"),
)
_ARITHMETIC = (
    ("right", "factor named", "slip named"),
    ("another told", "nothing told", "accepted", "right called wrong"),
    ("hidden", "not judged"),
)
_EQUATIONS = (
    ("right", "named", "tie"),
    ("another told", "nothing told", "accepted", "right called wrong", "not judged"),
    ("hidden",),
)
_KEPT = ("right",), ("right called wrong", "not judged")
_RANDOM = ("told as sure",), ("asked", "nothing told"), ("right", "followed", "unread")
TABLES = (
    Table("student and tutor", ("same",), ("not the same",), say="same"),
    Table("one slip", *_SLIPS),
    Table("one slip, line skipped", *_SLIPS),
    Table("same slip on skipped lines", *_SLIPS),
    Table("two slips", *_SLIPS),
    Table("right answers", ("right",), ("wrong", "unread")),
    Table("random, lines before", *_RANDOM, say="sure"),
    Table("random, nothing before", *_RANDOM, say="sure"),
    Table("follow-through", ("right or followed",), ("wrong", "unread"), say="followed"),
    Table("arithmetic", *_ARITHMETIC),
    Table("equations", *_EQUATIONS),
    Table("the other sense kept", *_KEPT, say="seen"),
    Table("decimal commas, blank sheet", *_KEPT, say="seen"),
    Table("decimal commas, lines asked", *_KEPT, say="seen"),
)
"""Every table that is shown. Shares are of the entries that were called wrong, or all of them."""


def show_failures(tally: Tally) -> None:
    """Print the first failures of each measure and group."""
    for table in TABLES:
        failures = table.good if table.say == "sure" else table.bad
        print(f"\n{table.measure}: the first failures of each kind")
        for (measure, group, outcome), examples in sorted(tally.examples.items()):
            if measure == table.measure and outcome in failures:
                print("\n".join(f"  {group}, {outcome}: {example}" for example in examples))
