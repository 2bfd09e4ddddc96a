"""Vetting: every fault of a file of problems or of hints is told, and what ships has none."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from helpers.material import CATALOGUE
from helpers.problem_texts import head, load, newtons, quantity, segment
from leverstep.course.places import shipped
from leverstep.course.shelf import load_shelf, problem_files
from leverstep.course.toml import top_keys
from leverstep.faces.commands.cli import main
from leverstep.vetting.vet import Report, vet_file, vet_files
from leverstep.vetting.vet_hints import is_hint_file, vet_hint_files
from leverstep.working.cautions import CAUTION
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working

GOOD = """
id = "good"
title = "A bag on a stick"
joint = "plain"
difficulty = 1
statement = "A bag of {m_l} hangs {d_l} from the pivot; a hand pulls up {d_h} from it."

[segment]
name = "stick"
axis = "pivot"

[effort]
symbol = "F_h"
name = "hand"
at = { symbol = "d_h", from = 0.8, to = 1.0, step = 0.1, unit = "m" }
direction = "up"

[[load]]
symbol = "W_l"
name = "bag"
mass = { from = 5, to = 9, step = 1, unit = "kg" }
at = { symbol = "d_l", from = 40, to = 60, step = 1, unit = "cm" }
direction = "down"
"""
HELPER = """
[[load]]
symbol = "W_k"
name = "bucket"
mass = { from = 5, to = 9, step = 1, unit = "kg" }
at = { symbol = "d_k", from = 40, to = 60, step = 1, unit = "cm", beyond = true }
direction = "down"
"""


def vetted(tmp_path: Path, text: str) -> Report:
    path = tmp_path / "good.toml"
    path.write_text(text, encoding="utf-8")
    return vet_file(path, CATALOGUE)


@pytest.mark.parametrize(
    "path", list(problem_files([shipped("problems")])), ids=lambda path: path.stem
)
def test_what_ships_has_no_fault(path: Path) -> None:
    report = vet_file(path, CATALOGUE)
    assert report.faults == ()
    assert report.spans


def test_a_good_file_is_told_its_answers(tmp_path: Path) -> None:
    report = vetted(tmp_path, GOOD)
    assert report.faults == ()
    spans = {span.step.key: span.text for span in report.spans}
    # Weights of 5 to 9 kg at 40 to 60 cm against an arm of 0.8 to 1 m.
    assert spans["W_l"] == "49.1 to 88.3 N"
    assert spans["class"] == "second"
    assert spans["R_dir"] == "up"


@pytest.mark.parametrize(
    ("old", "new", "key", "found"),
    [
        ("{d_l}", "some way", "statement", "d_l is given but not stated"),
        ("stick", 7, "", ""),
        ('direction = "up"', 'direction = "down"', "effort.direction", "turns the same way"),
        ("to = 9", "to = 8.5", "load[1].mass.step", "found 1"),
        ('id = "good"', 'id = "bad"', "id", 'found "bad"'),
    ],
)
def test_what_reading_finds_is_told(
    tmp_path: Path, old: str, new: object, key: str, found: str
) -> None:
    text = GOOD.replace(old, str(new)) if isinstance(new, str) else GOOD.replace('"stick"', "7")
    report = vetted(tmp_path, text)
    assert report.faults
    assert any(f.key == (key or "segment.name") and found in f.found for f in report.faults)


def test_a_load_that_may_win_against_the_other_is_a_fault(tmp_path: Path) -> None:
    """With some numbers the hand would have to push down."""
    text = GOOD.replace("stick", "stick").replace("{d_h} from it.", "{d_h} from it; {m_k}, {d_k}.")
    report = vetted(tmp_path, text + HELPER)
    (fault,) = report.faults
    assert "F_h would have to turn the other way" in fault.found
    assert "m_l " in fault.key


def test_numbers_that_are_the_same_for_all_have_no_list(tmp_path: Path) -> None:
    text = re.sub(r"from = (\S+), to = \S+, step = \S+,", r"value = \1,", GOOD + HELPER)
    text = text.replace("{d_h} from it.", "{d_h} from it; {m_k}, {d_k}.").replace(
        "value = 5", "value = 4", 1
    )
    (fault,) = vetted(tmp_path, text).faults
    assert str(fault).startswith(f"{tmp_path / 'good.toml'}: the numbers: F_h would have to turn")


def test_a_far_end_that_may_lie_on_the_other_side_of_the_near_one_is_a_fault(
    tmp_path: Path,
) -> None:
    far = (
        'direction = { line = "segment", toward = "axis", side = "above", far_end = { '
        'along = { symbol = "a_o", from = 10, to = HIGH, step = 10, unit = "cm" }, '
        'off = { symbol = "h_o", value = 50, unit = "cm" } } }'
    )
    text = GOOD.replace('direction = "up"', far).replace("{d_h} from", "{d_h}, {a_o}, {h_o} from")
    assert vetted(tmp_path, text.replace("HIGH", "60")).faults == ()
    (fault,) = vetted(tmp_path, text.replace("HIGH", "110")).faults
    assert fault.found == "the far end of F_h lies toward the other end of the segment"


def test_a_reaction_that_may_vanish_is_a_fault(tmp_path: Path) -> None:
    """Where hand and bag may share a point, nothing is left for the pivot."""
    text = GOOD.replace("from = 0.8, to = 1.0, step = 0.1", "from = 0.4, to = 0.8, step = 0.1")
    report = vetted(tmp_path, text)
    assert {fault.key for fault in report.faults} == {"the line R_y"}


def test_a_reaction_that_is_nothing_with_all_numbers_is_an_answer(tmp_path: Path) -> None:
    """Hand and bag share a point: the pivot bears nothing, and its reaction points nowhere."""
    point = 'symbol = "d_h", from = 0.8, to = 1.0, step = 0.1'
    text = GOOD.replace(point, 'symbol = "d_h", value = 0.5')
    text = text.replace(
        'symbol = "d_l", from = 40, to = 60, step = 1', 'symbol = "d_l", value = 50'
    )
    report = vetted(tmp_path, f"{text}\n[ask]\nratios = false\n")
    assert report.faults == ()
    told = {span.step.key: span.text for span in report.spans}
    assert (told["R_y"], told["R_dir"]) == ("0 N", "none")
    assert report.problem is not None
    for typed, is_right in (("none", True), ("nowhere", True), ("up", False)):
        verdict = Working(report.problem.question("1")).enter("R_dir", typed)
        assert (verdict.outcome is Outcome.RIGHT) is is_right, typed


def test_angles_that_change_a_sign_are_a_fault(tmp_path: Path) -> None:
    """An effort that may pass the axis on its other side has no working for some numbers."""
    text = GOOD.replace(
        'direction = "up"',
        'direction = { line = "horizontal", toward = "right", side = "above", '
        'angle = { symbol = "alpha", from = 20, to = 60, step = 5, unit = "deg" } }',
    ).replace("pulls up", "pulls at {alpha}, the stick at {theta}")
    text = text.replace(
        'axis = "pivot"',
        'axis = "pivot"\ninclination = { symbol = "theta", from = 30, to = 50, step = 5, '
        'unit = "deg" }',
    )
    report = vetted(tmp_path, text)
    assert report.faults


def test_a_slip_that_passes_for_right_is_a_remark(tmp_path: Path) -> None:
    """At an arm of one metre, leaving the arm out changes nothing."""
    report = vetted(tmp_path, GOOD)
    assert any('"the arm left out" gives a right value' in r.found for r in report.remarks)
    none = vetted(tmp_path, GOOD.replace("from = 0.8, to = 1.0", "from = 0.7, to = 0.9"))
    assert not any("the arm left out" in remark.found for remark in none.remarks)


SHALLOW = """
[effort.direction]
line = "horizontal"
toward = "left"
side = "above"
angle = { symbol = "alpha", value = 8, unit = "deg" }
"""


def test_a_class_and_an_advantage_that_books_have_not_together_are_a_remark(
    tmp_path: Path,
) -> None:
    """The hand is further out than the bag, and so shallow that it has a shorter arm."""
    text = GOOD.replace('direction = "up"\n', SHALLOW).replace("from it.", "from it at {alpha}.")
    (remark,) = [one for one in vetted(tmp_path, text).remarks if one.key == "the line class"]
    assert "with 200 of 200 numbers the class is second and MA 0.2" in remark.found
    assert "common practice has it above 1" in remark.found
    none = [vetted(tmp_path, GOOD), vetted(tmp_path, f"{text}\n[ask]\nclass = false\n")]
    assert not any(one.key == "the line class" for report in none for one in report.remarks)


def test_two_files_of_one_id_are_a_fault(tmp_path: Path) -> None:
    for folder in ("a", "b"):
        (tmp_path / folder).mkdir()
        (tmp_path / folder / "good.toml").write_text(GOOD, encoding="utf-8")
    first, second = vet_files(problem_files([tmp_path]), CATALOGUE)
    assert first.faults == ()
    assert '"good" is taken by' in second.faults[0].found


ARM = (
    'step = 0.1, unit = "m" }',
    'step = 0.1, unit = "m", perpendicular = true, turns = "counter-clockwise" }',
)
SLANTED = (
    'direction = { line = "segment", toward = "axis", side = "SIDE", angle = { symbol = "alpha", '
)
SLANTED += 'value = 15, unit = "deg" } }'


def test_a_turn_against_direction_and_side_is_a_fault(tmp_path: Path) -> None:
    assert vetted(tmp_path, GOOD.replace(*ARM)).faults == ()
    down = GOOD.replace(*ARM).replace('direction = "up"', 'direction = "down"')
    (fault,) = vetted(tmp_path, down).faults
    assert (fault.key, fault.found) == (
        "effort.at.turns",
        'F_h is said to turn "counter-clockwise", but by its direction, on the near side of the '
        'axis, it turns "clockwise"',
    )
    far = down.replace("perpendicular = true,", "perpendicular = true, beyond = true,")
    assert vetted(tmp_path, far).faults == ()


def test_a_turn_that_leaves_no_balance_is_the_fault_that_is_told(tmp_path: Path) -> None:
    as_the_bag = (ARM[0], ARM[1].replace("counter-clockwise", "clockwise"))
    (fault,) = vetted(tmp_path, GOOD.replace(*as_the_bag)).faults
    assert fault.key == "effort.at.turns"


def test_a_turn_that_a_slanting_force_may_have_is_a_remark(tmp_path: Path) -> None:
    text = GOOD.replace(*ARM).replace("pulls up", "pulls at {alpha}")
    for side, remarked in (("above", False), ("below", True)):
        slanted = text.replace('direction = "up"', SLANTED.replace("SIDE", side))
        report = vetted(tmp_path, slanted)
        assert report.faults == ()
        assert any("unless its line of action" in one.found for one in report.remarks) is remarked


BALANCED = (
    head(
        "Two equal bags on a stick",
        "A bag of {W_l} hangs {d_l} from the pivot, one of {W_k} {d_k} from it.",
    )
    + segment("stick", "pivot")
    + load("W_l", "bag", newtons(40), quantity("d_l", 0.5, "m"))
    + load("W_k", "other bag", newtons(40), quantity("d_k", 0.5, "m", beyond=True))
    + """[ask]
find = "moment sum"
"""
)


def test_a_slip_is_counted_once_for_each_question(tmp_path: Path) -> None:
    """Any power of ten of nothing is nothing."""
    report = vetted(tmp_path, BALANCED)
    assert report.faults == ()
    told = [remark.found for remark in report.remarks if remark.key == "the line M_sum"]
    assert 'with 12 of 12 numbers the slip "a power of ten" gives a right value' in told


def test_a_class_that_varies_is_a_remark(tmp_path: Path) -> None:
    wide = GOOD.replace("from = 40, to = 60", "from = 40, to = 160")
    wide = wide.replace("from = 0.8, to = 1.0", "from = 0.8, to = 0.9")
    report = vetted(tmp_path, wide)
    assert next(span.text for span in report.spans if span.step.key == "class") == "second or third"
    (remark,) = (one for one in report.remarks if one.key == "the line class")
    third, second = map(int, re.findall(r"third with (\d+), second with (\d+)", remark.found)[0])
    assert third + second == 200
    assert not any(one.key == "the line class" for one in vetted(tmp_path, GOOD).remarks)


def test_a_joint_nearly_called_as_another_is_a_remark(tmp_path: Path) -> None:
    joints = {card.joint for card in load_shelf().cards}
    for joint, remarked in (("sholder", True), ("shoulder", False), ("rib cage", False)):
        path = tmp_path / "good.toml"
        path.write_text(GOOD.replace('"plain"', f'"{joint}"'), encoding="utf-8")
        (report,) = vet_files([path], CATALOGUE, joints)
        found = [remark.found for remark in report.remarks if remark.key == "joint"]
        assert (
            found
            == ['no problem that ships has the joint "sholder" (did you mean "shoulder"?)']
            * remarked
        )


def test_a_drill_is_vetted_with_its_own_constants_and_tolerance(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "good.toml").write_text(GOOD, encoding="utf-8")
    drill = tmp_path / "levers.toml"
    assert main(["drill", "new", str(drill), str(tmp_path / "good.toml")]) == 0
    text = drill.read_text("utf-8").replace("# tolerance = 0.01 ", "tolerance = 0.05 ")
    drill.write_text(text.replace("[problems]", "[constants]\ng = 10\n[problems]"), "utf-8")
    capsys.readouterr()
    assert main(["vet", str(drill)]) == 0
    out = capsys.readouterr().out
    assert "W_l      50.0 to 90.0 N" in out
    assert "tolerance = 0.05" in drill.read_text("utf-8")


SLIP = """
[[slip]]
id = "doubled"
name = "twice as much"
kinds = ["moment"]
change = { flip = 2 }
look = "Is it doubled?"
happened = "It seems to be doubled."
reason = "Once is enough."
wrong = { problem = "elbow-full-pail", seed = "7", line = "M_f", entry = "-5.631 N m" }
"""
SHELF = load_shelf([shipped("problems")]).problems


def vetted_hints(tmp_path: Path, text: str) -> Report:
    path = tmp_path / "mine.toml"
    path.write_text(text, encoding="utf-8")
    assert is_hint_file(top_keys(path))
    (report,) = vet_hint_files([path], SHELF)
    assert report.file == str(path)
    return report


def test_the_hints_that_ship_have_no_fault() -> None:
    """Every slip that ships is told for its wrong line, and one has none."""
    reports = list(vet_hint_files(problem_files([shipped("hints")]), SHELF))
    assert len(reports) > 5
    assert not any(report.faults for report in reports)
    assert sum(len(report.remarks) for report in reports) == 1


MISCONCEPTION = """
[[misconception]]
id = "sum-of-arms"
kinds = ["sum"]
thought = "The arms are added, and the forces with them."
told = "Moments are added, each with its sign."
"""


@pytest.mark.parametrize(
    ("old", "new", "key", "said"),
    [
        ('"sum"', '"sums"', "kinds", 'found "sums"'),
        ("sum-of-arms", "always-saves", "id", '"always-saves" is taken'),
        ("with them.", "with them", "thought", "expected a sentence with a full stop"),
        ("sign.", f"sign{' and' * 30}.", "told", "at most 120 characters"),
        ("The arms", "The {arm}s", "thought", "{arm} stands for nothing"),
        (
            "The arms are added, and the forces with them.",
            "Moments about the same axis are added, each with its sign.",
            "thought",
            'it is right for "sum"',
        ),
    ],
)
def test_a_misconception_is_short_false_and_new(
    old: str, new: str, key: str, said: str, tmp_path: Path
) -> None:
    assert vetted_hints(tmp_path, MISCONCEPTION).faults == ()
    (fault,) = vetted_hints(tmp_path, MISCONCEPTION.replace(old, new)).faults
    assert fault.key == f"misconception[1].{key}"
    assert said in str(fault)


def test_a_good_hint_file_has_no_fault(tmp_path: Path) -> None:
    report = vetted_hints(tmp_path, SLIP)
    assert (report.faults, report.remarks) == ((), ())


@pytest.mark.parametrize(
    ("old", "new", "key", "said"),
    [
        ("full-pail", "ful-pail", "problem", 'did you mean "elbow-full-pail"'),
        ('"M_f"', '"M_x"', "line", 'found "M_x"'),
        ("-5.631", "-2.8155", "entry", '"-2.8155 N m": right; expected the slip "twice as much"'),
        ("-5.631 N m", "-5.631", "entry", "not read, the unit is missing"),
        ("-5.631", "-999.9", "entry", "is explained by no slip"),
        ("-5.631", "2.816", "entry", 'is told as "the sign of one moment"'),
    ],
)
def test_a_wrong_line_that_does_not_show_its_slip_is_a_fault(
    tmp_path: Path, old: str, new: str, key: str, said: str
) -> None:
    (fault,) = vetted_hints(tmp_path, SLIP.replace(old, new)).faults
    assert fault.key == f"slip[1].wrong.{key}"
    assert said in str(fault)


def test_a_slip_without_a_wrong_line_is_a_remark(tmp_path: Path) -> None:
    report = vetted_hints(tmp_path, re.sub(r"(?m)^wrong = .*", "wrong = false", SLIP))
    assert report.faults == ()
    assert [remark.key for remark in report.remarks] == ["slip[1].wrong"]


def test_an_own_slip_is_tried_beside_those_that_ship(tmp_path: Path) -> None:
    """Two slips of one id are a fault, and a rarer slip does not hide a commoner one."""
    (fault,) = vetted_hints(tmp_path, SLIP.replace("doubled", "gravity-forgotten")).faults
    assert fault.key == "slip[1].id"
    rare = SLIP.replace("flip = 2", "flip = -1").replace("-5.631", "2.816")
    (fault,) = vetted_hints(tmp_path, rare.replace("look =", "often = 1\nlook =")).faults
    assert 'told as "the sign of one moment"' in fault.found


def test_an_own_slip_that_takes_the_place_of_one_that_ships_is_remarked_on(tmp_path: Path) -> None:
    same = SLIP.replace("flip = 2", "flip = -1").replace("-5.631", "2.816")
    report = vetted_hints(tmp_path, same.replace("look =", "often = 3\nlook ="))
    assert report.faults == ()
    of_any_force, of_inertia = report.remarks
    assert 'the same as "the sign of one moment"' in of_any_force.found
    assert 'the same as "inertia the way of the motion"' in of_inertia.found
    assert vetted_hints(tmp_path, SLIP).remarks == ()


def test_the_command_vets_problems_and_hints_of_one_folder(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for name, text in (("good", GOOD), ("mine", SLIP), ("step", "[[step]]\nkind = 1")):
        (tmp_path / f"{name}.toml").write_text(text, encoding="utf-8")
    assert main(["vet", str(tmp_path / "mine.toml")]) == 0
    assert capsys.readouterr().out == f"{tmp_path / 'mine.toml'}: no faults\n"
    assert main(["vet", str(tmp_path)]) == 2
    out = capsys.readouterr().out
    assert "good.toml: no faults" in out
    assert "mine.toml: no faults" in out
    assert 'step.toml: step[1].kind: unknown key (did you mean "kinds"?)' in out
    assert main(["vet", "--json", str(tmp_path)]) == 2
    told = {Path(one["file"]).name: one for one in json.loads(capsys.readouterr().out)}
    assert set(told) == {"good.toml", "mine.toml", "step.toml"}
    assert told["mine.toml"] == {
        "file": str(tmp_path / "mine.toml"), "faults": [], "remarks": [], "answers": [],
        "caution": CAUTION,
    }  # fmt: skip


def test_the_command_tells_faults_and_exits_with_two(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    good, bad = tmp_path / "good.toml", tmp_path / "bad.toml"
    good.write_text(GOOD, encoding="utf-8")
    bad.write_text("id = 3", encoding="utf-8")
    assert main(["vet", str(good)]) == 0
    assert "good.toml: no faults" in capsys.readouterr().out
    assert main(["vet", "--json", str(tmp_path)]) == 2
    told = {Path(one["file"]).name: one for one in json.loads(capsys.readouterr().out)}
    assert told["good.toml"]["faults"] == []
    weight = told["good.toml"]["answers"][0]
    assert (weight["line"], weight["unit"]) == ("W_l", "N")
    assert (weight["low"], weight["high"]) == pytest.approx((49.05, 88.29))
    assert len(told["bad.toml"]["faults"]) > 3


def test_what_the_picture_can_not_show_is_a_fault_told_once(tmp_path: Path) -> None:
    """A bird far above and a string that leads away from the floor; a post that is seen is none."""
    shown = """
[[shown]]
surface = "floor"
at = "axis"
direction = "down"
length = { times = 0.3, of = "d_h" }

[[shown]]
outline = "post"
at = "axis"
direction = "down"
until = "floor"

[[shown]]
point = "bird"
at = "F_h"
direction = "up"
length = { times = 30, of = "d_h" }

[[shown]]
outline = "string"
at = "W_l"
direction = "up"
until = "floor"
"""
    report = vetted(tmp_path, GOOD + shown)
    file = str(tmp_path / "good.toml")
    assert [str(fault) for fault in report.faults] == [
        f'{file}: shown: the point "bird": it lies outside the picture; '
        "expected a place near the segment",
        f'{file}: shown: the outline "string": it leads past the floor; '
        "expected a way that meets it",
    ]
