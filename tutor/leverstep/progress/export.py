"""One's own progress for other programs."""

from __future__ import annotations

from datetime import date

from leverstep.progress.progress import Progress
from leverstep.progress.review import AmountWorked, DrawnSlip, SlipFigures
from leverstep.progress.suggestions import Suggestion
from leverstep.progress.told import SOURCE
from leverstep.working.cautions import CAUTION


def as_data(progress: Progress) -> dict[str, object]:
    """Return the progress as plain data, for JSON.

    - `caution`, `source`: what the figures are not for, and where they come from.
    - `today`: the day that they hold for. All days are of the user's time zone, as `2026-11-25`.
    - `unusable_records`: how many records could not be used.
    - `practised`: `all`, each of the `joints` with its `joint`, and each of the `kinds` of problems
      with what it `asks` for. Each has `workings_begun`, `workings_finished`, `lines` written, and
      `lines_right` at the first try without a hint.
    - `slips`: each habit that was made for sure, the one made last first. `ids` are its slips of
      the catalogue, `name` that of the last one, `reason` why it is wrong. `lines_made` with
      `first` and `last`; since then `lines_since`, where it could have been made, `right_since` of
      them right at the first try, in `workings_since` later workings. `gone`; `state` in words;
      `due`, the day of the next review; `signs`: for each line where it could be made, the earliest
      first, `made`, `right at the first try` or `not right at first, for another reason`.
    - `diagram_slips`: each slip made in free-body diagrams, the one made last first: `ids` and
      `name`, in how many `diagrams_made` it was made of all the `diagrams`, when `last`, and the
      `diagrams_since`.
    - `next`: what to practise, the most overdue first: the `problem` by id, its `title`, `joint`
      and `difficulty`, and the `slips` that it is for: the `ids` of each, and the `days` that it
      has been due. No slip there means that nothing is due.
    """
    return {
        "caution": CAUTION,
        "source": SOURCE,
        "today": progress.today.isoformat(),
        "unusable_records": progress.unusable,
        "practised": {
            "all": _amount(progress.amount),
            "joints": [{"joint": joint, **_amount(amount)} for joint, amount in progress.joints],
            "kinds": [{"asks": kind, **_amount(amount)} for kind, amount in progress.kinds],
        },
        "slips": [_slip(slip) for slip in progress.slips],
        "diagram_slips": [_drawn(one) for one in progress.drawn],
        "next": [_suggestion(one, progress.today) for one in progress.next],
    }


def _amount(amount: AmountWorked) -> dict[str, object]:
    return {
        "workings_begun": amount.begun,
        "workings_finished": amount.finished,
        "lines": amount.lines,
        "lines_right": amount.right,
    }


def _slip(slip: SlipFigures) -> dict[str, object]:
    return {
        "ids": _ids(slip),
        "name": slip.name,
        "reason": slip.reason,
        "lines_made": len(slip.made),
        "first": slip.made[0].time.date().isoformat(),
        "last": slip.made[-1].time.date().isoformat(),
        "lines_since": len(slip.since),
        "right_since": len(slip.right_since),
        "workings_since": slip.workings_since,
        "gone": slip.gone,
        "state": str(slip.state),
        "due": slip.due.isoformat(),
        "signs": [str(one.sign) for one in slip.occasions],
    }


def _drawn(one: DrawnSlip) -> dict[str, object]:
    return {
        "ids": [str(one.words.id)],
        "name": one.name,
        "diagrams_made": one.made,
        "diagrams": one.of_all,
        "last": one.last.date().isoformat(),
        "diagrams_since": one.since,
    }


def _suggestion(one: Suggestion, today: date) -> dict[str, object]:
    return {
        "problem": one.card.id,
        "title": one.card.title,
        "joint": one.card.joint,
        "difficulty": one.card.difficulty,
        "slips": [{"ids": _ids(slip), "days": (today - slip.due).days} for slip in one.slips],
    }


def _ids(slip: SlipFigures) -> list[str]:
    return [one.id for one in slip.slips]
