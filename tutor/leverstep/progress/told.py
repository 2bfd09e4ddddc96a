"""One's own progress in words, as blocks for every writer alike."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date, timedelta
from fractions import Fraction

from leverstep.course.decimals import whole_percent
from leverstep.course.phrases import capital, counted
from leverstep.documents.blocks import Heading, Listing, Table, Told, Words
from leverstep.documents.spoken import spoken
from leverstep.documents.text import WIDTH, text, wrapped
from leverstep.progress.progress import Progress
from leverstep.progress.review import (
    CLEAN_LINES,
    CLEAN_WORKINGS,
    LATEST,
    SHARE,
    AmountWorked,
    DrawnSlip,
    Sign,
    SlipFigures,
)
from leverstep.progress.suggestions import Suggestion, due_slips
from leverstep.working.cautions import CAUTION

SOURCE = (
    "Drawn from the records of this account alone, whoever worked them: practice, and drills once "
    "they are handed in. A slip counts only where it was certain."
)
"""Where the figures come from, and where not."""

MOST_SIGNS = 12
"""Of each slip so many lines are shown, the last ones."""

_SIGNS = {Sign.MADE: "✗", Sign.RIGHT: "✓", Sign.OTHER: "·"}
_LEGEND = (
    "Each sign is a line where the slip could be made, the latest on the right: ✗ it was made, ✓ "
    "right first time without a hint, · neither."
)
_GONE = (
    f"A slip counts as gone when, since it was last made, {CLEAN_LINES} lines or more where it "
    f"could be made were right first time without a hint, in {CLEAN_WORKINGS} later "
    f"workings or more, and {whole_percent(SHARE)} or more of the last {LATEST} of these lines. "
    "It is checked all the same, with other numbers: a day after it was made, then "
    "after 2, 4, 8, 16 and 32 days without it."
)
_FEW = "too few to tell"

MOST_NAMED = 2
"""So many slips are named in short; the others are counted."""

APART = Fraction(1, 5)
"""The kind with the least share of right lines is named where it is so far from the best."""

MORE = "All figures: leverstep progress --all"
"""How the rest is come to on the command line."""


def in_short(progress: Progress) -> tuple[str, str, str]:
    """Return in a line each what to do next, what is getting better, and what is not yet."""
    better, others = _named(progress, better=True), _named(progress, better=False)
    return (
        f"Next: {_next(progress)}",
        f"Getting better: {better or 'nothing to tell yet'}.",
        f"Not yet: {others or 'nothing'}.{_least_right(progress)}",
    )


def short_report(progress: Progress) -> str:
    """Return the whole in short as plain text, with how to begin and where the rest is."""
    return text(_short(progress))


def spoken_short_report(progress: Progress) -> str:
    """Return the whole in short as sentences for a screen reader."""
    return spoken(_short(progress))


def progress_report(progress: Progress) -> str:
    """Return the whole as plain text, to be read from the first line to the last."""
    return text(_whole(progress))


def spoken_report(progress: Progress) -> str:
    """Return the whole as sentences for a screen reader: no picture, since they tell the same."""
    return spoken(_whole(progress, pictures=False))


def account(progress: Progress) -> str:
    """Return what lies behind the suggestions, as plain text: slips, and what was practised."""
    return text((*_slips(progress), *_practised(progress), Words(source(progress))))


def source(progress: Progress) -> str:
    """Return where the figures come from, and how many records could not be used."""
    left_out = progress.unusable
    if not left_out:
        return SOURCE
    records = counted(left_out, "record")
    return f"{SOURCE} {records} could not be used: damaged, or of a problem or drill not here now."


def heading(progress: Progress) -> str:
    """Return what the suggestions are."""
    suggested = sum(len(one.slips) for one in progress.next)
    if not suggested:
        return "What to practise next: no slip is due"
    waiting = len(due_slips(progress.slips, progress.today)) - suggested
    more = counted(waiting, "more slip is", "more slips are")
    return f"What to practise next ({more} due after these)" if waiting else "What to practise next"


def problem(suggestion: Suggestion, progress: Progress) -> str:
    """Return which problem is suggested: `A pail of water (Elbow, level 1)`."""
    return progress.words.placed(suggestion.card)


def why(suggestion: Suggestion, progress: Progress) -> str:
    """Return what a suggestion is for: the slips, each with how long it is due."""
    if suggestion.slips:
        slips = (f"{slip.name} ({_due(slip, progress.today)})" for slip in suggestion.slips)
        return f"for {', '.join(slips)}"
    if suggestion.card.joint not in dict(progress.joints):
        return "a joint not practised yet"
    return "not worked for a long time, or never"


def suggested_lines(suggestion: Suggestion, progress: Progress) -> tuple[str, ...]:
    """Return a suggestion for a list: the problem, and what it is for set in beneath."""
    for_what = wrapped(why(suggestion, progress), WIDTH - 2)
    return (problem(suggestion, progress), *(f"  {line}" for line in for_what))


def _due(slip: SlipFigures, today: date) -> str:
    days = (today - slip.due).days
    return {0: "due today", 1: "due since yesterday"}.get(days, f"due for {days} days")


def picture(slip: SlipFigures) -> str:
    """Return the last lines where a slip could be made, a sign for each."""
    return "".join(_SIGNS[one.sign] for one in slip.occasions[-MOST_SIGNS:])


def _next(progress: Progress) -> str:
    """Return the first problem that is suggested, and what it is for."""
    if not progress.next:
        return "no problem is here to work."
    first = progress.next[0]
    due = _some([slip.name for slip in first.slips])
    return f"{problem(first, progress)}, {f'for {due}' if due else why(first, progress)}."


def _named(progress: Progress, better: bool) -> str:
    """Return some slips by name, each with how it stands, and how many more there are.

    They are those that are `better`, or the others; slips in diagrams come last.
    """
    on_lines = [f"{s.name} ({_stands(s)})" for s in progress.slips if s.is_better is better]
    drawn = [f"{s.name} ({_stands_drawn(s)})" for s in progress.drawn if s.is_better is better]
    return _some([*on_lines, *drawn])


def _stands_drawn(one: DrawnSlip) -> str:
    """Return in how many diagrams a slip was made, and whether in those drawn since."""
    told = f"in {one.made} of {counted(one.of_all, 'diagram')}"
    last = "one" if one.since == 1 else str(one.since)
    return f"{told}, not in the last {last}" if one.since else told


def _least_right(progress: Progress) -> str:
    """Return the kind of problem with the least share of right lines, "" where none stands out."""
    kinds = sorted((one for one in progress.kinds if one[1].enough), key=lambda one: one[1].share)
    if len(kinds) < 2 or kinds[-1][1].share - kinds[0][1].share < APART:
        return ""
    kind, amount = kinds[0]
    name = capital(progress.words.kind(kind))
    share, lines = whole_percent(amount.share), counted(amount.lines, "line")
    return f" Least right, by what is to be found: {name} ({share} of {lines})."


def _some(told: Sequence[str]) -> str:
    """Return the first of what is told, and how many more there are."""
    more = len(told) - MOST_NAMED
    return ", ".join([*told[:MOST_NAMED], *([f"{more} more"] if more > 0 else [])])


def _stands(slip: SlipFigures) -> str:
    """Return in a few words how a slip stands, by the latest lines since it was made."""
    if not slip.since:
        return str(slip.state)
    lines = counted(len(slip.latest), "line")
    of = "of the last" if len(slip.since) > LATEST else "of"
    told = f"right first time on {slip.right_latest} {of} {lines} since"
    if slip.gone:
        return f"gone, {told}"
    return told if slip.workings_since else f"{told}, in no later working"


def _short(progress: Progress) -> Iterator[Told]:
    yield Heading(1, "Your progress")
    yield Words(CAUTION)
    yield from map(Words, in_short(progress))
    begin = [f"To begin: leverstep practise {one.card.id}" for one in progress.next[:1]]
    yield Listing((*begin, MORE))


def _whole(progress: Progress, pictures: bool = True) -> Iterator[Told]:
    yield Heading(1, "Your progress")
    yield Words(CAUTION)
    yield from map(Words, in_short(progress))
    yield Words(source(progress))
    yield Heading(2, heading(progress))
    yield Listing(tuple(_suggested(one, progress) for one in progress.next))
    yield from _slips(progress, pictures)
    yield from _practised(progress)


def _suggested(one: Suggestion, progress: Progress) -> str:
    told = why(one, progress)
    return f"leverstep practise {one.card.id}: {problem(one, progress)}, {told}."


def _slips(progress: Progress, pictures: bool = True) -> Iterator[Told]:
    yield Heading(2, "Slips")
    if progress.slips:
        yield from _slips_on_lines(progress, pictures)
    else:
        yield Words(f"No slip{' on a line' if progress.drawn else ''} was certain.")
    if progress.drawn:
        yield Heading(3, "In free-body diagrams")
        yield Listing(tuple(_drawn(one, progress.today) for one in progress.drawn))


def _drawn(one: DrawnSlip, today: date) -> str:
    """Return a slip in diagrams with when it was made last, and the rule to remember."""
    made = f"{_stands_drawn(one)}; made last {_day(one.last.date(), today)}"
    return f"{one.name}: {made}. {one.words.reason_anywhere}"


def _slips_on_lines(progress: Progress, pictures: bool) -> Iterator[Told]:
    if pictures:
        yield Words(_LEGEND)
        rows = tuple((s.name, picture(s), str(s.state)) for s in progress.slips)
        yield Table(("Slip", "Last lines", "State"), rows)
    yield Words(_GONE)
    for told, which in _GROUPS.items():
        slips = sorted(filter(which, progress.slips), key=lambda slip: slip.due)
        if slips:
            yield Heading(3, told)
            yield Listing(tuple(_slip(slip, progress.today) for slip in slips))


_GROUPS: dict[str, Callable[[SlipFigures], bool]] = {
    "Not yet, the first due first": lambda slip: not slip.is_better,
    "Getting better": lambda slip: slip.is_better and not slip.gone,
    "Gone": lambda slip: slip.gone,
}
"""The headings that slips stand under, each with which of them do."""


def _slip(slip: SlipFigures, today: date) -> str:
    """Return all figures of a slip in sentences."""
    first, last = slip.made[0].time.date(), slip.made[-1].time.date()
    when = f"first {_day(first, today)}, last {_day(last, today)}"
    if first == last:
        when = _day(last, today)
    told = f"{slip.name}: made on {counted(len(slip.made), 'line')}, {when}."
    if slip.since:
        lines = counted(len(slip.since), "line")
        told += f" Since then right first time on {len(slip.right_since)} of {lines}, in "
        told += f"{_workings(slip.workings_since)}: {slip.state}."
    else:
        told += " Since then no line where it could be made."
    return f"{told} {_comes(slip, today)} {slip.reason}"


def _comes(slip: SlipFigures, today: date) -> str:
    """Return when a slip is to be met again; one that is gone is only checked."""
    if slip.due <= today:
        return "A check is due." if slip.gone else "It is due."
    return f"{'Next check' if slip.gone else 'It comes back'} {_day(slip.due, today)}."


def _practised(progress: Progress) -> Iterator[Told]:
    yield Heading(2, "What you have practised")
    if not progress.amount.begun:
        yield Words("Nothing yet. Every line that you write in practice will count here.")
        return
    joints = [(progress.words.joint(joint), amount) for joint, amount in progress.joints]
    rows = [
        (name, str(amount.begun), str(amount.finished), *_lines(amount))
        for name, amount in (*joints, ("All", progress.amount))
    ]
    yield _figures(("Joint", "Begun", "Finished"), rows)
    yield Words("The same lines by what was to be found, the least right first:")
    kinds = sorted(progress.kinds, key=lambda one: (not one[1].enough, one[1].share))
    by_kind = [
        (capital(progress.words.kind(kind)), str(one.begun), *_lines(one)) for kind, one in kinds
    ]
    yield _figures(("To be found", "Begun"), by_kind)


def _figures(first: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> Table:
    """Return lines and their share by what the first columns have."""
    columns = (*first, "Lines", "Right first time", "Share")
    return Table(columns, tuple(rows), frozenset(range(1, len(columns))))


def _lines(amount: AmountWorked) -> tuple[str, str, str]:
    """Return how many lines there are, how many were right first time, and their share."""
    share = whole_percent(amount.share) if amount.enough else _FEW
    return str(amount.lines), str(amount.right), share


def _day(day: date, today: date) -> str:
    """Return a day as one says it: `today`, `yesterday`, `on 5 November 2026`."""
    near = {-1: "yesterday", 0: "today", 1: "tomorrow"}
    return near.get((day - today) // timedelta(days=1), f"on {day.day} {day:%B %Y}")


def _workings(count: int) -> str:
    return counted(count, "later working") if count else "no later working"
