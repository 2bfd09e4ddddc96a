"""A teacher's own problems and hints: read beside those that ship, and never in their way."""

from __future__ import annotations

import multiprocessing
import os
from collections.abc import Callable
from pathlib import Path

import pytest
from leverstep.course.places import libraries, own_folders, shipped
from leverstep.course.shelf import load_shelf
from leverstep.faces.commands.cli import main
from leverstep.faces.crash import workers
from leverstep.slips.catalogue import catalogue_in_use, load_catalogue
from leverstep.statics.graph import graph

PAIL = shipped("problems") / "elbow" / "elbow-full-pail.toml"
SLIP = """
[[slip]]
id = "doubled"
name = "twice as much"
kinds = ["moment"]
change = { flip = 2 }
look = "Is it doubled?"
happened = "It seems to be doubled."
reason = "Once is enough."
wrong = false
"""


@pytest.fixture
def library(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return an own folder with a good and a broken problem, and a good and a broken slip."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))
    folder = tmp_path / "mine"
    for part in ("problems", "hints"):
        (folder / part).mkdir(parents=True)
    text = PAIL.read_text("utf-8").replace("elbow-full-pail", "my-pail")
    (folder / "problems" / "my-pail.toml").write_text(text, "utf-8")
    (folder / "problems" / "broken.toml").write_text("id = 3", "utf-8")
    (folder / "hints" / "a-broken.toml").write_text(SLIP.replace("flip", "flop"), "utf-8")
    (folder / "hints" / "b-good.toml").write_text(SLIP, "utf-8")
    monkeypatch.setenv("LEVERSTEP_LIBRARY", str(folder))
    return folder


@pytest.mark.usefixtures("library")
def test_own_problems_stand_beside_those_that_ship() -> None:
    shelf = load_shelf()
    assert shelf.own == {"my-pail"}
    assert {"my-pail", "elbow-full-pail"} <= set(shelf.problems)
    assert {fault.file for fault in shelf.faults} == {"broken.toml"}
    (line,) = shelf.left_out
    assert line.startswith("broken.toml: id: found 3; expected a text (and ")


@pytest.mark.usefixtures("library")
def test_a_broken_own_hint_file_hides_no_other() -> None:
    catalogue = load_catalogue([shipped("hints")], own_folders("hints"))
    assert "doubled" in catalogue.slips
    assert "g-forgotten" not in catalogue.slips
    assert "gravity-forgotten" in catalogue.slips
    assert [fault.file for fault in catalogue.faults] == ["a-broken.toml"]


def test_an_own_problem_never_takes_the_place_of_one_that_ships(library: Path) -> None:
    (library / "problems" / PAIL.name).write_text(PAIL.read_text("utf-8"), "utf-8")
    shelf = load_shelf()
    assert "elbow-full-pail" not in shelf.own
    assert any('"elbow-full-pail" is taken' in fault.found for fault in shelf.faults)


def test_folders_are_named_by_option_variable_and_the_users_data(
    library: Path,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    plain = tmp_path / "plain"
    plain.mkdir()
    text = PAIL.read_text("utf-8")
    (plain / "plain-pail.toml").write_text(text.replace("elbow-full-pail", "plain-pail"), "utf-8")
    at_home = tmp_path / "home" / "library" / "problems"
    at_home.mkdir(parents=True)
    (at_home / "home-pail.toml").write_text(text.replace("elbow-full-pail", "home-pail"), "utf-8")
    of_room, around = [library / "problems", at_home], dict(os.environ)
    assert own_folders("problems") == of_room
    with libraries([plain]):
        assert own_folders("problems") == [plain, *of_room]
    assert main(["problems", "--joint", "elbow", "--library", str(plain)]) == 0
    out = capsys.readouterr().out
    assert out.count("your own: ") == 3
    assert own_folders("problems") == of_room, "the option is for its own call only"
    assert dict(os.environ) == around


def test_each_call_tells_the_slips_of_the_folders_that_it_names(
    library: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Whatever was read for the call before it in the same process."""
    monkeypatch.delenv("LEVERSTEP_LIBRARY")
    call = ["check", "elbow-full-pail", "--seed", "7", "--step", "W_l", "1 N"]
    for named in ([], ["--library", str(library)], []):
        assert main([*call, *named]) == 1
        assert ("a-broken.toml: " in capsys.readouterr().err) == bool(named)
        assert "doubled" not in catalogue_in_use().slips


def test_processes_that_mark_read_the_folders_that_the_call_names(
    library: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Also where a system starts them afresh."""
    monkeypatch.delenv("LEVERSTEP_LIBRARY")
    usual = multiprocessing.get_start_method()
    multiprocessing.set_start_method("spawn", force=True)
    try:
        with libraries([library]), workers() as pool:
            assert pool.submit(own_folders, "hints").result() == [library / "hints"]
    finally:
        multiprocessing.set_start_method(usual, force=True)


@pytest.mark.parametrize(
    ("option", "value", "all_of"),
    [
        ("--joint", "knee", "knee, "),
        ("--class", "2", "class 2, "),
        ("--difficulty", "3", "difficulty 3, "),
        ("--units", "US customary", "US customary, "),
        ("--asks", "distance", "asks for the distance"),
    ],
)
def test_the_list_is_narrowed(
    option: str, value: str, all_of: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["problems", option, value]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert 0 < len(lines) < len(load_shelf().problems)
    assert all(all_of in line for line in lines)


def test_the_class_in_lists_is_that_of_the_working() -> None:
    """The quick class of a list, by plain numbers, agrees with the derivation."""
    compared = 0
    for problem in load_shelf().problems.values():
        question = problem.question("1")
        values = graph(question.derivation).values(question.numbers, {})
        assert problem.lever_class == values.get("class"), problem.id
        compared += "class" in values
    assert compared > 35


def test_a_thousand_problem_files_are_read_with_one_line_for_a_broken_one(tmp_path: Path) -> None:
    text = PAIL.read_text("utf-8")
    for number in range(1000):
        name = f"pail-{number}"
        written = "id = 3" if number == 500 else text.replace("elbow-full-pail", name)
        (tmp_path / f"{name}.toml").write_text(written, "utf-8")
    shelf = load_shelf([tmp_path])
    assert len(shelf.problems) == 999
    assert {fault.file for fault in shelf.faults} == {"pail-500.toml"}


def cards_of(folder: Path) -> dict[str, str]:
    """Return the title of each own problem, as a list shows it."""
    return {card.id: card.title for card in load_shelf().cards if str(folder) in card.path}


def test_a_card_holds_as_long_as_its_file(library: Path) -> None:
    path = library / "problems" / "my-pail.toml"
    assert cards_of(library) == {"my-pail": "A pail in the hand"}
    text = path.read_text("utf-8")
    path.write_text(text.replace("A pail in the hand", "A pail, no less"), "utf-8")
    assert cards_of(library) == {"my-pail": "A pail, no less"}
    path.write_text("id = 3", "utf-8")
    assert cards_of(library) == {}
    assert {fault.file for fault in load_shelf().faults} == {"my-pail.toml", "broken.toml"}
    path.write_text(text, "utf-8")
    assert cards_of(library) == {"my-pail": "A pail in the hand"}


@pytest.mark.parametrize(
    "spoil",
    [
        lambda kept: kept[1:],
        lambda kept: f"[{kept}]",
        lambda kept: kept.replace("A pail in the hand", "\\u001b[31mred"),
        lambda kept: kept.replace('"title"', '"tilte"'),
        lambda kept: kept.replace('"card"', '"crad"'),
        lambda kept: kept.replace("my-pail.toml", "other.toml"),
    ],
)
def test_cards_made_by_another_hand_are_not_believed(
    spoil: Callable[[str], str], library: Path, tmp_path: Path
) -> None:
    load_shelf()
    store = tmp_path / "home" / "cards.json"
    store.write_text(spoil(store.read_text("utf-8")), "utf-8")
    assert cards_of(library) == {"my-pail": "A pail in the hand"}


def test_without_a_place_to_keep_cards_lists_work_all_the_same(
    library: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").touch()
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "file"))
    assert cards_of(library) == {"my-pail": "A pail in the hand"}


@pytest.mark.parametrize("name", [b"a\xb0b", b"a\x1b[2Jb", "a\u202eb".encode(), b"a\nb"])
def test_a_folder_may_have_any_name(
    name: bytes, library: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Also one that is no text at all, or would command the terminal; from the first start on."""
    folder = library.rename(library.parent / os.fsdecode(name))
    monkeypatch.setenv("LEVERSTEP_LIBRARY", str(folder))
    for _ in range(2):
        assert load_shelf().own == {"my-pail"}
        assert main(["problems", "--library", str(folder / "gone")]) == 2
        told = capsys.readouterr().err
        assert told.rstrip("\n").isprintable()
        assert told.endswith("expected a folder of your own problems and hints\n")
