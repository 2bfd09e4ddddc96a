"""The marks of a term and its slips, against figures worked out by hand."""

from __future__ import annotations

import csv
import itertools
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from helpers.drill_sittings import END, SHELF, record, small_drill
from helpers.drills import drill_with
from helpers.material import CATALOGUE
from helpers.terms import PLAN, write_term
from leverstep.drill.sitting import Sitting
from leverstep.faces.commands.cli import main
from leverstep.free_body.placing import Placing
from leverstep.marking.marking import code_reckoned, mark_record
from leverstep.slips.picture_slips import PictureSlip
from leverstep.term.slips_followed import (
    SlipState,
    extended,
    is_back,
    next_signs,
    signs,
    state_of,
)
from leverstep.term.term_marking import MarkedTerm, codes_noted, mark_term
from leverstep.term.term_plan import TermDrill, read_term
from leverstep.term.weighing import weighed

DRILL = small_drill()
LATER = '\n[[drill]]\nfile = "later.toml"\n'


def drills(*weights: int, required: int | None = None) -> list[TermDrill]:
    """Return drills of which only weight and whether one is required matter."""
    numbered = enumerate(map(Fraction, weights))
    return [TermDrill(str(n), DRILL, Path(), weight, n == required) for n, weight in numbered]


@pytest.mark.parametrize(
    ("weights", "required", "shares", "lowest", "total", "left_out"),
    [
        ((1, 2, 1), None, ("1", "2/5", "1/5"), 0, "1/2", []),
        ((1, 2, 1), None, ("1", "2/5", "1/5"), 1, "3/5", [2]),
        ((1, 2, 1), 2, ("1", "2/5", "1/5"), 1, "3/5", [1]),
        ((1, 2, 1), None, ("1", "2/5", "1/5"), 2, "1", [1, 2]),
        ((1, 2, 1), None, ("1/3", "1/3", "1/3"), 1, "1/3", [1]),
        ((1, 2, 0), None, ("1", "1/4", "0"), 1, "1", [1]),
        ((2, 1), 1, ("3/5", "1/5"), 1, "7/15", []),
        ((1, 1), None, ("1/2", "0"), 5, "1/2", [1]),
        ((0, 0), None, ("1/2", "0"), 0, None, []),
    ],
)
def test_marks_are_weighed_without_the_lowest(
    weights: tuple[int, ...],
    required: int | None,
    shares: tuple[str, ...],
    lowest: int,
    total: str | None,
    left_out: list[int],
) -> None:
    by_place = dict(enumerate(map(Fraction, shares)))
    found = weighed(drills(*weights, required=required), by_place, lowest)
    assert found.total == (None if total is None else Fraction(total))
    assert sorted(found.left_out) == left_out


def test_to_leave_the_lowest_out_never_lowers_a_total() -> None:
    levels = [Fraction(n, 2) for n in range(3)]
    for shares in itertools.product(levels, repeat=3):
        for required in (None, 0, 1):
            planned, by_place = drills(1, 2, 3, required=required), dict(enumerate(shares))
            totals = [weighed(planned, by_place, lowest).total for lowest in range(4)]
            assert totals == sorted(totals, key=lambda one: one or Fraction(0))


@pytest.mark.parametrize(
    ("track", "after", "back", "state"),
    [
        ("x", "", False, SlipState.OPEN),
        ("x--", "", False, SlipState.OPEN),
        ("x-x", "x", False, SlipState.STAYING),
        ("-x-o", "o", False, SlipState.GONE),
        ("xoo", "o", False, SlipState.GONE),
        ("xo-x", "o", True, SlipState.BACK),
        ("xoxx", "ox", True, SlipState.STAYING),
        ("xoxo", "oo", True, SlipState.GONE),
    ],
)
def test_a_slip_is_followed_to_the_next_drill_that_shows_it(
    track: str, after: str, back: bool, state: SlipState
) -> None:
    assert "".join(next_signs(track)) == after
    assert is_back(track) is back
    assert state_of(track) is state


@pytest.mark.parametrize(
    ("first", "hints", "is_made", "is_avoided"),
    [
        ((Placing("W_l", "d_l", "up"),), 0, True, False),
        ((), 0, False, True),
        ((Placing("decoy motion", "axis", "up"),), 1, False, False),
    ],
)
def test_a_slip_in_a_diagram_is_followed_too(
    first: tuple[Placing, ...], hints: int, is_made: bool, is_avoided: bool, tmp_path: Path
) -> None:
    """It is avoided in a diagram that came to be right without a hint, and could show it."""
    sitting = Sitting.start(drill_with('picture = "asked"\n'), CATALOGUE, "s01", tmp_path)
    work = sitting.benches[1].picture_work
    (picture,) = work.pictures
    for placing in first:
        work.place(picture, placing)
    for _ in range(hints):
        work.hint(picture)
        work.take_away(picture, first[0].item)
    for item in picture.needed:
        work.place(picture, picture.right_placing(item))
    data = sitting.place.read_bytes()
    made, avoided = signs(mark_record(sitting.drill, CATALOGUE, "s01", data), CATALOGUE)
    words = CATALOGUE.diagram_slips[PictureSlip.NOT_DOWN]
    assert (words.reason_anywhere in made) is is_made
    assert (words.reason_anywhere in avoided) is is_avoided
    assert not is_made or made[words.reason_anywhere] == (words.name,)
    weight_forgotten = CATALOGUE.diagram_slips[PictureSlip.WEIGHT_MISSING].reason_anywhere
    assert (weight_forgotten in avoided) is (hints == 0)


def test_a_track_has_one_letter_for_each_drill() -> None:
    assert extended("", 2, "x") == "--x"
    assert extended("--x", 5, "o") == "--x--o"


@pytest.fixture(scope="module")
def marked(tmp_path_factory: pytest.TempPathFactory) -> MarkedTerm:
    """Return the term of four students, marked."""
    plan = read_term(write_term(tmp_path_factory.mktemp("term")), SHELF.problems)
    with ThreadPoolExecutor(1) as pool:
        return mark_term(plan, CATALOGUE, pool, codes_noted(plan))


def test_each_student_has_the_marks_worked_out_by_hand(marked: MarkedTerm) -> None:
    """Left out is two for Ada (40 %) and Bo (not sat); that would lower what Cy and Di have."""
    found = {one.student.id: one for one in marked.students}
    assert {ident: one.total for ident, one in found.items()} == {
        "a1": Fraction(3, 5),  # (100 + 20) / 2
        "b2": Fraction(1, 2),  # (20 + 80) / 2
        "c3": Fraction(11, 20),  # (60 + 2 · 80 + 0) / 4: without one it would be 53.3 %
        "d4": Fraction(8, 15),  # (2 · 60 + 40) / 3: without two it would be 40 %
    }
    assert {ident: sorted(one.left_out) for ident, one in found.items()} == {
        "a1": [1], "b2": [1], "c3": [], "d4": []
    }  # fmt: skip
    assert {ident: sorted(one.missing) for ident, one in found.items()} == {
        "a1": [], "b2": [1], "c3": [2], "d4": []
    }  # fmt: skip
    assert found["d4"].student.excused == {0}


def test_the_figures_of_the_drills_are_those_of_their_class_reports(marked: MarkedTerm) -> None:
    one, two, three = marked.figures.drills
    assert [(d.sat, d.excused) for d in (one, two, three)] == [(3, 1), (3, 0), (3, 0)]
    assert marked.figures.missing == (0, 1, 1)
    assert [d.sums.mean for d in (one, two, three)] == [
        Fraction(3, 5),
        Fraction(3, 5),
        Fraction(7, 15),
    ]
    assert marked.figures.students == marked.figures.sums.count == 4
    assert list(marked.left_out(with_names=True)) == []


def test_the_slip_is_counted_in_each_drill_and_followed(marked: MarkedTerm) -> None:
    """Ada makes it, avoids it, makes it again; Bo keeps it; with Cy and Di it is gone."""
    reason = CATALOGUE.slips["kilograms-left"].reason
    (slip,) = (one for one in marked.figures.slips if one.reason == reason)
    assert slip.students == 4
    assert slip.made == (3, 1, 2)
    assert slip.shown == (3, 3, 3)
    assert (slip.met, slip.stayed, slip.gone, slip.back) == (4, 1, 3, 1)
    tracks = {one.student.id: one.student.tracks[reason] for one in marked.students}
    assert tracks == {"a1": "xox", "b2": "x-x", "c3": "xo", "d4": "-xo"}


def test_the_command_writes_a_row_for_each_student(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = write_term(tmp_path / "term", PLAN + LATER)
    (tmp_path / "term" / "later.toml").write_text(
        (tmp_path / "term" / "one.toml").read_text("utf-8").replace('"one"', '"later"'), "utf-8"
    )
    assert main(["course", str(path), "--out", str(tmp_path / "out")]) == 0
    said = capsys.readouterr().out
    assert "later: no marks yet, and not counted" in said
    rows = list(csv.DictReader((tmp_path / "out" / "course.csv").open(encoding="utf-8")))
    assert rows[1] == {
        "id": "b2", "name": "Bo Birch", "one %": "20", "two %": "", "three %": "80", "later %": "",
        "total %": "50", "left out": "two", "not sat": "two", "required, not sat": "",
        "exempt": "", "remarks": "",
    }  # fmt: skip
    assert [row["total %"] for row in rows] == ["60", "50", "55", "53.3"]
    assert [row["required, not sat"] for row in rows] == ["", "", "three", ""]
    assert main(["course", str(path), "--out", str(tmp_path / "part"), "--section", "l2"]) == 0
    assert "one: Not marked: 2 records of other parts of the class" in capsys.readouterr().out
    part = list(csv.DictReader((tmp_path / "part" / "course.csv").open(encoding="utf-8")))
    assert [row["id"] for row in part] == ["c3", "d4"]


def test_what_is_not_marked_is_told_and_a_noted_code_counts(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Bo has another code than the one noted, which is remarked on in the row, and in no other."""
    coded = PLAN.replace('file = "one.toml"', 'file = "one.toml"\ncodes = "codes.csv"')
    path = write_term(tmp_path, coded)
    with (tmp_path / "class.csv").open("a", encoding="utf-8") as roster:
        roster.write("e5,Eve Elder,L1\n")
    records = tmp_path / "records"
    (records / "torn.jsonl").write_bytes(b"{")
    (records / "other.jsonl").write_bytes(record(replace(DRILL, id="another"), "a1", [END]))
    codes = {
        student: code_reckoned((records / f"one-{student}.jsonl").read_bytes())
        for student in ("a1", "b2", "c3")
    }
    codes["b2"] = "AAAA-AAAA"
    rows = "".join(f"{student},{code}\n" for student, code in codes.items())
    (tmp_path / "codes.csv").write_text(f"id,code\n{rows}", "utf-8")
    assert main(["course", str(path), "--out", str(tmp_path / "out")]) == 0
    said = capsys.readouterr().out
    assert "Not marked: 1 file that names no drill: torn.jsonl\n" in said
    assert "Not marked: 1 record of a drill not in the plan: another\n" in said
    assert "4 students, 3 drills. On the roster, and without any marks: 1." in said
    found = csv.DictReader((tmp_path / "out" / "course.csv").open(encoding="utf-8"))
    assert {row["id"]: row["remarks"] for row in found} == {
        "a1": "", "b2": "one: 1 remark", "c3": "", "d4": "", "e5": ""
    }  # fmt: skip
    main(["course", str(path), "--out", str(tmp_path / "out"), "--without-names"])
    said = capsys.readouterr().out
    assert "Not marked: 1 file that names no drill\n" in said
    assert "torn" not in said
