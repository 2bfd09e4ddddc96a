"""A teacher's own problems and hints: read beside those that ship, and never in their way."""

from __future__ import annotations

import multiprocessing
import os
import pickle
from collections.abc import Callable
from pathlib import Path

import pytest
from helpers.drill_sittings import END, entry, record, small_drill
from leverstep.bench.bench import Bench
from leverstep.bench.replaying import keep_nothing
from leverstep.course.libraries import Libraries, libraries_in_use
from leverstep.course.places import shipped
from leverstep.course.shelf import Shelf, load_shelf
from leverstep.faces.commands.cli import main
from leverstep.faces.crash import workers
from leverstep.faces.material import Material
from leverstep.marking.collecting import gather, mark_all
from leverstep.slips.catalogue import catalogue_in_use
from leverstep.statics.graph import graph
from leverstep.statics.kinds import LEVER_CLASS

DRILL = small_drill(problem="elbow-pail-of-water")
PAIL = shipped("problems") / "elbow" / "elbow-pail-of-water.toml"
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
    text = PAIL.read_text("utf-8").replace("elbow-pail-of-water", "my-pail")
    (folder / "problems" / "my-pail.toml").write_text(text, "utf-8")
    (folder / "problems" / "broken.toml").write_text("id = 3", "utf-8")
    (folder / "hints" / "a-broken.toml").write_text(SLIP.replace("flip", "flop"), "utf-8")
    (folder / "hints" / "b-good.toml").write_text(SLIP, "utf-8")
    monkeypatch.setenv("LEVERSTEP_LIBRARY", str(folder))
    return folder


def shelf_in_use() -> Shelf:
    """Return the problems that a command has which names no library."""
    return Material(libraries_in_use()).shelf


@pytest.mark.usefixtures("library")
def test_own_problems_stand_beside_those_that_ship() -> None:
    shelf = shelf_in_use()
    assert shelf.own == {"my-pail"}
    assert {"my-pail", "elbow-pail-of-water"} <= set(shelf.problems)
    assert {fault.file for fault in shelf.faults} == {"broken.toml"}
    (line,) = shelf.left_out
    assert line.startswith("broken.toml: id: found 3; expected a text (and ")


@pytest.mark.usefixtures("library")
def test_a_broken_own_hint_file_hides_no_other() -> None:
    catalogue = Material(libraries_in_use()).catalogue
    assert "doubled" in catalogue.slips
    assert "g-forgotten" not in catalogue.slips
    assert "gravity-forgotten" in catalogue.slips
    assert [fault.file for fault in catalogue.faults] == ["a-broken.toml"]


def test_an_own_problem_never_takes_the_place_of_one_that_ships(library: Path) -> None:
    (library / "problems" / PAIL.name).write_text(PAIL.read_text("utf-8"), "utf-8")
    shelf = shelf_in_use()
    assert "elbow-pail-of-water" not in shelf.own
    assert any('"elbow-pail-of-water" is taken' in fault.found for fault in shelf.faults)


def test_folders_are_named_by_option_variable_and_the_users_data(
    library: Path,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    plain = tmp_path / "plain"
    plain.mkdir()
    text = PAIL.read_text("utf-8")
    (plain / "plain-pail.toml").write_text(
        text.replace("elbow-pail-of-water", "plain-pail"), "utf-8"
    )
    at_home = tmp_path / "home" / "library" / "problems"
    at_home.mkdir(parents=True)
    (at_home / "home-pail.toml").write_text(
        text.replace("elbow-pail-of-water", "home-pail"), "utf-8"
    )
    of_room, around = [library / "problems", at_home], dict(os.environ)
    assert libraries_in_use().folders("problems") == of_room
    assert libraries_in_use([plain]).folders("problems") == [plain, *of_room]
    assert main(["problems", "--joint", "elbow", "--library", str(plain)]) == 0
    out = capsys.readouterr().out
    assert out.count("your own: ") == 3
    assert libraries_in_use().folders("problems") == of_room, "the option is for its own call only"
    assert dict(os.environ) == around


def test_each_call_tells_the_slips_of_the_folders_that_it_names(
    library: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Whatever was read for the call before it in the same process."""
    monkeypatch.delenv("LEVERSTEP_LIBRARY")
    call = ["check", "elbow-pail-of-water", "--seed", "7", "--step", "W_l", "1 N"]
    for named in ([], ["--library", str(library)], []):
        assert main([*call, *named]) == 1
        assert ("a-broken.toml: " in capsys.readouterr().err) == bool(named)
        assert "doubled" not in Material(libraries_in_use()).catalogue.slips


def a_library(folder: Path, problem: str, slip: str) -> Libraries:
    """Write a library with a problem and a slip of these names, and return it."""
    for part in ("problems", "hints"):
        (folder / part).mkdir(parents=True)
    text = PAIL.read_text("utf-8").replace("elbow-pail-of-water", problem)
    (folder / "problems" / f"{problem}.toml").write_text(text, "utf-8")
    (folder / "hints" / "own.toml").write_text(
        SLIP.replace("doubled", slip).replace("twice as much", f"the slip {slip}"), "utf-8"
    )
    return Libraries((folder,))


def explanations(material: Material, problem: str) -> set[str]:
    """Return the slips behind a moment of twice its size in a problem."""
    bench = Bench(material.shelf.problems[problem].question("7"), material.catalogue, keep_nothing)
    doubled = f"{2 * bench.question.right['M_l']:.6g} N*m"
    found = bench.explained(bench.enter("M_l", doubled)).explanations
    return {finding.slip for one in found for finding in one.findings}


def test_two_libraries_are_used_side_by_side(tmp_path: Path) -> None:
    """Each has its own problems and slips, whatever was read or asked before in the process."""
    one = Material(a_library(tmp_path / "one", "pail-one", "one"))
    other = Material(a_library(tmp_path / "other", "pail-other", "other"))
    plain = Material(Libraries())
    assert [there.shelf.own for there in (one, other, plain)] == [
        {"pail-one"}, {"pail-other"}, set(),
    ]  # fmt: skip
    own = {"one", "other"}
    assert [own & there.catalogue.slips.keys() for there in (one, other, plain)] == [
        {"one"}, {"other"}, set(),
    ]  # fmt: skip
    for _ in range(2):
        assert explanations(one, "pail-one") & own == {"one"}
        assert explanations(other, "pail-other") & own == {"other"}
        for there, slip in ((one, {"one"}), (other, {"other"}), (plain, set[str]())):
            assert explanations(there, "elbow-pail-of-water") & own == slip


def test_catalogues_are_equal_that_hold_the_same_in_the_same_order(tmp_path: Path) -> None:
    one = a_library(tmp_path / "one", "pail-one", "one")
    other = a_library(tmp_path / "other", "pail-other", "other")
    both, turned = Libraries((*one.places, *other.places)), Libraries((*other.places, *one.places))
    first, copy = catalogue_in_use(both), pickle.loads(pickle.dumps(catalogue_in_use(both)))
    assert first is not copy
    assert first == copy
    assert hash(first) == hash(copy)
    assert first != catalogue_in_use(turned)
    assert first != catalogue_in_use(one)


def test_processes_that_mark_look_for_the_slips_that_they_are_handed(tmp_path: Path) -> None:
    """Also where a system starts them afresh, and after a class marked with other slips."""
    libraries = a_library(tmp_path / "mine", "my-pail", "doubled")
    usual = multiprocessing.get_start_method()
    multiprocessing.set_start_method("spawn", force=True)
    typed = entry("M_l", f"{2 * DRILL.tasks('s1')[0].question.right['M_l']:.6g} N*m")
    (tmp_path / "s1.jsonl").write_bytes(record(DRILL, "s1", [typed, END]))
    found = gather([tmp_path / "s1.jsonl"]).records
    try:
        with workers() as pool:
            for named, told in ((libraries, True), (Libraries(), False), (libraries, True)):
                (marked,) = mark_all(DRILL, catalogue_in_use(named), found, pool)
                assert ("doubled" in marked.entries[0].slips) is told
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
        for view in question.views:
            key = view.key(LEVER_CLASS)
            assert view.problem.lever_class == values.get(key), problem.id
            compared += key in values
    assert compared > 35


def test_a_thousand_problem_files_are_read_with_one_line_for_a_broken_one(tmp_path: Path) -> None:
    text = PAIL.read_text("utf-8")
    for number in range(1000):
        name = f"pail-{number}"
        written = "id = 3" if number == 500 else text.replace("elbow-pail-of-water", name)
        (tmp_path / f"{name}.toml").write_text(written, "utf-8")
    shelf = load_shelf([tmp_path])
    assert len(shelf.problems) == 999
    assert {fault.file for fault in shelf.faults} == {"pail-500.toml"}


def cards_of(folder: Path) -> dict[str, str]:
    """Return the title of each own problem, as a list shows it."""
    return {card.id: card.title for card in shelf_in_use().cards if str(folder) in card.path}


def test_a_card_holds_as_long_as_its_file(library: Path) -> None:
    path = library / "problems" / "my-pail.toml"
    assert cards_of(library) == {"my-pail": "A pail of water"}
    text = path.read_text("utf-8")
    path.write_text(text.replace("A pail of water", "A pail, no less"), "utf-8")
    assert cards_of(library) == {"my-pail": "A pail, no less"}
    path.write_text("id = 3", "utf-8")
    assert cards_of(library) == {}
    assert {fault.file for fault in shelf_in_use().faults} == {"my-pail.toml", "broken.toml"}
    path.write_text(text, "utf-8")
    assert cards_of(library) == {"my-pail": "A pail of water"}


@pytest.mark.parametrize(
    "spoil",
    [
        lambda kept: kept[1:],
        lambda kept: f"[{kept}]",
        lambda kept: kept.replace("A pail of water", "\\u001b[31mred"),
        lambda kept: kept.replace('"title"', '"tilte"'),
        lambda kept: kept.replace('"card"', '"crad"'),
        lambda kept: kept.replace("my-pail.toml", "other.toml"),
    ],
)
def test_cards_made_by_another_hand_are_not_believed(
    spoil: Callable[[str], str], library: Path, tmp_path: Path
) -> None:
    shelf_in_use()
    store = tmp_path / "home" / "cards.json"
    store.write_text(spoil(store.read_text("utf-8")), "utf-8")
    assert cards_of(library) == {"my-pail": "A pail of water"}


def test_without_a_place_to_keep_cards_lists_work_all_the_same(
    library: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").touch()
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "file"))
    assert cards_of(library) == {"my-pail": "A pail of water"}


@pytest.mark.parametrize("name", [b"a\xb0b", b"a\x1b[2Jb", "a\u202eb".encode(), b"a\nb"])
def test_a_folder_may_have_any_name(
    name: bytes, library: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Also one that is no text at all, or would command the terminal; from the first start on."""
    folder = library.rename(library.parent / os.fsdecode(name))
    monkeypatch.setenv("LEVERSTEP_LIBRARY", str(folder))
    for _ in range(2):
        assert shelf_in_use().own == {"my-pail"}
        assert main(["problems", "--library", str(folder / "gone")]) == 2
        told = capsys.readouterr().err
        assert told.rstrip("\n").isprintable()
        assert told.endswith("expected a folder of your own problems and hints\n")
