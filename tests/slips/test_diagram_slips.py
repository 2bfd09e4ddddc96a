"""What is said of slips in free-body diagrams: data that a teacher's own folder may change."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from helpers.drill_sittings import BEGUN
from helpers.drills import drill_with
from helpers.material import CATALOGUE
from leverstep.course.places import shipped
from leverstep.course.shelf import load_shelf
from leverstep.course.toml import top_keys
from leverstep.dialogue.lookback import look_back
from leverstep.dialogue.sitting_dialogue import SittingDialogue
from leverstep.drill.sitting import Sitting
from leverstep.free_body.body_picture import BodyPicture, pictures_of
from leverstep.free_body.picture_told import amiss, hint_target, hints_on, remembered, verdict_told
from leverstep.free_body.placing import Placing
from leverstep.marking.marking import mark_record
from leverstep.progress.history import History
from leverstep.progress.replay import PractisedPicture
from leverstep.progress.review import drawn_slips
from leverstep.reports.drawn_diagrams import DrawnDiagrams
from leverstep.slips.catalogue import Catalogue, load_catalogue
from leverstep.slips.picture_slips import PictureSlip
from leverstep.vetting.vet import Report
from leverstep.vetting.vet_hints import is_hint_file, vet_hint_files

SHIPPED = (shipped("hints") / "diagram.toml").read_text(encoding="utf-8")
OWN = """
[[diagram_slip]]
id = "force-at-a-wrong-point"
name = "Kraft am falschen Punkt"
look = "{name}: wo greift sie an?"
happened = "{name} greift nicht dort an."
worked = "So ist es richtig: {placed}."
reason = "Am {segment} greift jede Kraft an ihrem Punkt an, nicht am {axis}."
"""
PART = OWN.replace("force-at-a-wrong-point", "component-as-a-force")


def vetted(folder: Path, text: str) -> Report:
    path = folder / "own.toml"
    path.write_text(text, encoding="utf-8")
    assert is_hint_file(top_keys(path))
    (report,) = vet_hint_files([path], {})
    return report


def read(folder: Path, text: str) -> Catalogue:
    (folder / "own.toml").write_text(text, encoding="utf-8")
    return load_catalogue([shipped("hints")], [folder])


def pail() -> BodyPicture:
    (one,) = pictures_of(load_shelf().problems["elbow-full-pail"].question("7"))
    return one


def test_each_slip_is_there_exactly_once() -> None:
    ids = re.findall(r'(?m)^id = "(.*)"$', SHIPPED)
    assert ids == [*PictureSlip]


def test_a_table_of_an_own_folder_is_told_in_place_of_the_one_that_ships(tmp_path: Path) -> None:
    own = read(tmp_path, OWN)
    assert not own.faults
    one = pail()
    verdict = one.place(Placing("W_l", "d_m", "down"))
    assert "slip: Kraft am falschen Punkt." in verdict_told(one, verdict, True, own)
    target = hint_target(one)
    assert target is not None
    look, happened, rule, worked = hints_on(one, target, own)
    assert look == "Weight of the pail: wo greift sie an?"
    assert happened.endswith("Kraft am falschen Punkt. Weight of the pail greift nicht dort an.")
    assert rule == "Am forearm greift jede Kraft an ihrem Punkt an, nicht am elbow."
    right = "weight of the pail: 35.0 cm from the elbow, straight down."
    assert worked == f"So ist es richtig: {right}"
    assert amiss(one, own)[0].slip == "Kraft am falschen Punkt"
    (told,) = remembered(one, one.made, own)
    assert told.endswith(f"Remember: {rule}")
    others = [slip for slip in PictureSlip if slip is not PictureSlip.POINT]
    assert all(own.diagram_slips[slip] == CATALOGUE.diagram_slips[slip] for slip in others)


def test_all_that_names_a_slip_goes_by_the_catalogue_at_hand(tmp_path: Path) -> None:
    """At the sitting, its marks, the figures of the class and the progress of the student."""
    own, name = read(tmp_path, OWN), "Kraft am falschen Punkt"
    drill = drill_with('picture = "asked"\nreasons = "at once"\n')
    sitting = Sitting.start(drill, own, "s01", tmp_path)
    picture = SittingDialogue(sitting).workings[1].picture
    assert picture is not None
    answer = picture.place(Placing("W_l", "d_m", "down"))
    assert name in answer.told
    (back,) = look_back(sitting.benches[1]).drawn
    marked = mark_record(drill, own, "one.jsonl", sitting.place.read_bytes())
    (mark,) = (one for one in marked.pictures if one.is_begun)
    assert name in {one.slip for one in mark.amiss}
    assert back in mark.remember
    assert back.startswith(name)
    diagrams = DrawnDiagrams(own)
    diagrams.add(marked)
    assert name in {one.name for one in diagrams.figures().slips}
    history = History((), drawn=(PractisedPicture(BEGUN, (PictureSlip.POINT,)),))
    assert [one.name for one in drawn_slips(history, own)] == [name]


def test_vetting_remarks_on_a_table_that_takes_the_place_of_one_that_ships(tmp_path: Path) -> None:
    report = vetted(tmp_path, OWN)
    assert report.faults == ()
    (remark,) = report.remarks
    assert 'that ship for "force-at-a-wrong-point"' in str(remark)


@pytest.mark.parametrize(
    ("text", "key", "said"),
    [
        (OWN.replace("{axis}", "{axes}"), "reason", 'did you mean "axis"'),
        (OWN.replace("{axis}", "{name}"), "reason", "{name} stands for nothing"),
        (OWN.replace("{axis}", "axis" * 30), "reason", "at most 120 characters"),
        (OWN.replace("{placed}", "{placed"), "worked", "unmatched brace"),
        (OWN.replace("wrong-point", "wrong-piont"), "id", 'did you mean "force-at-a-wrong-point"'),
        (OWN.replace("happened =", "happend ="), "happened", "missing"),
        (PART, "worked", "{placed} stands for nothing"),
        (re.sub("worked.*", "", PART), "worked", "missing"),
    ],
)  # fmt: skip
def test_what_is_wrong_in_a_table_is_told_and_changes_nothing(
    text: str, key: str, said: str, tmp_path: Path
) -> None:
    first, *_ = vetted(tmp_path, text).faults
    assert first.key == f"diagram_slip[1].{key}"
    assert said in str(first)
    assert read(tmp_path, text).diagram_slips == CATALOGUE.diagram_slips


def test_one_slip_twice_in_a_file_is_a_fault(tmp_path: Path) -> None:
    (fault,) = vetted(tmp_path, OWN + OWN).faults
    assert fault.key == "diagram_slip[2].id"


def test_a_slip_of_which_nothing_is_said_is_a_fault_of_what_ships(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("leverstep.vetting.vet_hints.shipped", tmp_path.joinpath)
    (tmp_path / "hints").mkdir()
    path = tmp_path / "hints" / "diagram.toml"
    last = SHIPPED.rindex("[[diagram_slip]]")
    for text, faults in ((SHIPPED, []), (SHIPPED[:last], ["distance-missing"])):
        path.write_text(text, encoding="utf-8")
        (report,) = vet_hint_files([path], {})
        assert [re.findall('"(.*?)"', str(one))[0] for one in report.faults] == faults
