"""Lines that students with the same numbers write alike are judged once, and as they would be."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from helpers.drill_sittings import END, entry, hint, record, right_entries, small_drill
from helpers.material import CATALOGUE
from leverstep.drill.drill import Drill
from leverstep.entry.tokens import LONGEST_ENTRY
from leverstep.marking import marking
from leverstep.marking.marking import Marked, mark_record
from leverstep.working.asked_lines import AskedLines
from leverstep.working.judged_before import MOST_KEPT, Judged, JudgedBefore
from leverstep.working.standing_lines import Line
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.writing import value_text

DRILL = small_drill()
FIXED = replace(DRILL, items=tuple(replace(item, fixed=True) for item in DRILL.items))
OTHER_NUMBERS = replace(FIXED, id="other-numbers")
QUESTION = FIXED.tasks("anyone")[0].question
RIGHT = right_entries(QUESTION)
TWICE = {"M_s": 2 * QUESTION.right["M_s"]}
FOLLOWING = QUESTION.graph.values(QUESTION.numbers, {}, own=TWICE)
WRITTEN = {key: value_text(QUESTION.derivation.step(key), v) for key, v in FOLLOWING.items()}
CARRIED = {key: WRITTEN[key] for key in ("M_s", "M_b", "M_sum", "F_h")}
"""A moment twice as large, and what follows from it."""

OUT_OF_IT = {**CARRIED, "M_s": RIGHT["M_s"]}
IN_COMMAS = {"W_s": RIGHT["W_s"].replace(".", ","), "M_sum": "-1,255 N·m", "d_h": "1,255 m"}
EQUATIONS = {"equation": "F_h*d_h = W_s*d_s - W_b*d_b", "M_s": "-416.9*0.425 N·m", "d_h": "1.255"}
CLASS = [RIGHT, CARRIED, OUT_OF_IT, IN_COMMAS, EQUATIONS, {**OUT_OF_IT, **CARRIED}, RIGHT, CARRIED]


def marked_class(drill: Drill = FIXED) -> list[Marked]:
    """Return what each student of a class is marked with, one after the other."""
    found = []
    for number, typed in enumerate(CLASS):
        lines = [hint("F_h"), *(entry(key, text) for key, text in typed.items()), END]
        data = record(drill, f"s{number}", lines)
        found.append(mark_record(drill, CATALOGUE, "one.jsonl", data))
    return found


def test_what_is_known_from_others_is_what_would_be_judged(monkeypatch: pytest.MonkeyPatch) -> None:
    known, beside = marked_class(), marked_class(OTHER_NUMBERS)
    monkeypatch.setattr(marking, "know_lines", lambda *_: None)
    assert (known, beside) == (marked_class(), marked_class(OTHER_NUMBERS))
    assert {e.outcome for e in beside[0].entries} != {Outcome.RIGHT}, "the lines of other numbers"
    outcomes = [{e.step: e.outcome for e in one.entries}["M_sum"] for one in known[:3]]
    assert outcomes == [Outcome.RIGHT, Outcome.FOLLOWED, Outcome.WRONG], "by the values before"


@pytest.fixture
def judged(monkeypatch: pytest.MonkeyPatch) -> Counter[str]:
    """Return how often an entry is judged at each line from here on."""
    counted: Counter[str] = Counter()
    whole = AskedLines._judge

    def judge(self: AskedLines, step: object, text: str) -> Line:
        counted[step.key] += 1  # type: ignore[attr-defined]
        return whole(self, step, text)  # type: ignore[arg-type]

    monkeypatch.setattr(AskedLines, "_judge", judge)
    return counted


def test_a_line_of_the_same_numbers_is_judged_once_for_a_class(judged: Counter[str]) -> None:
    drill = replace(FIXED, id="met-for-the-first-time")
    right = right_entries(drill.tasks("s1")[0].question)
    for student in ("s1", "s2", "s3"):
        lines = [entry(key, text) for key, text in right.items()]
        found = mark_record(drill, CATALOGUE, "one.jsonl", record(drill, student, lines))
        assert [one.outcome for one in found.entries] == [Outcome.RIGHT] * len(right)
        assert judged == dict.fromkeys(right, 1)


def test_only_so_many_lines_are_kept_and_none_that_is_long() -> None:
    known = JudgedBefore()

    def keep(text: str, outcome: Outcome = Outcome.RIGHT) -> None:
        known.keep(text, Judged(Line(text, None, Verdict("W_s", text, outcome)), 1))

    for number in range(MOST_KEPT):
        keep(str(number))
    assert known.find("0") is not None
    keep("one more")
    assert (len(known), known.find("1")) == (MOST_KEPT, None), "not asked for longest"
    assert known.find("0") is not None
    keep("9" * (LONGEST_ENTRY + 1))
    keep("failed", Outcome.FAILED)
    assert (known.find("9" * (LONGEST_ENTRY + 1)), known.find("failed")) == (None, None)
