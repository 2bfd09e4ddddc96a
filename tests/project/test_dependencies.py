"""What the tutor rests on: a list with hashes that a room is filled from, bounds, and licences."""

from __future__ import annotations

import re
from importlib.metadata import distribution, version
from pathlib import Path

import pytest
from helpers.packages import PROJECT, needed, wanted
from helpers.source import ROOT, SOURCE
from packaging.requirements import Requirement
from packaging.specifiers import SpecifierSet
from packaging.utils import canonicalize_name
from packaging.version import Version

ROOM = SOURCE / "room.txt"
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
SECTION = DEVELOPERS.split("\n## What it rests on\n")[1].split("\n## ")[0]
ENTRY = re.compile(r"([a-z0-9-]+)==(\S+)((?: --hash=sha256:[0-9a-f]{64})+)")
TEXT_OF = {
    "BSD-2-Clause": r"Redistributions in binary form(?!.*\bendorse\b)",
    "BSD-3-Clause": r"Redistributions in binary form.*\bendorse\b",
    "MIT": r"Permission is hereby granted, free of charge",
    "MPL-2.0": r"Mozilla Public License Version 2\.0",
    "PSF-2.0": r"PYTHON SOFTWARE FOUNDATION LICENSE VERSION 2",
}
"""What stands in the text of each licence, and in none of the others."""


def entries() -> dict[str, tuple[Version, str]]:
    """Return each entry of the list: its name, its version, and its hashes as they stand there.

    A line that is none fails the test.
    """
    text = re.sub(r"\s*\\\n\s*", " ", ROOM.read_text(encoding="utf-8"))
    lines = [line for line in text.splitlines() if line and not line.lstrip().startswith("#")]
    found = [ENTRY.fullmatch(line) for line in lines]
    assert None not in found, [line for line in lines if not ENTRY.fullmatch(line)]
    return {one[1]: (Version(one[2]), one[3]) for one in found if one}


def test_each_entry_of_the_list_has_one_version_and_its_hashes() -> None:
    """As `pip install --require-hashes` asks; each is a package of plain Python."""
    listed = entries()
    assert len(listed) == ROOM.read_text("utf-8").count("==") > 10
    for _, hashes in listed.values():
        assert len(hashes.split()) == len(set(hashes.split())) >= 1


def test_the_list_names_no_place_to_fetch_from() -> None:
    assert not re.search(r"://|index|find-links|@|\.(org|com|io)\b", ROOM.read_text("utf-8"))


def test_the_list_fits_what_the_project_asks_for() -> None:
    """Every requirement is in it, within its bounds, and nothing that nobody asks for.

    What a package asks for in turn is known where its listed version is installed.
    """
    listed = entries()
    for one in wanted(PROJECT["dependencies"]):
        assert listed[canonicalize_name(one.name)][0] in one.specifier, one
    if all(Version(version(name)) == listed[name][0] for name in listed):
        assert set(listed) == needed()
    for name, (number, _) in listed.items():
        if Version(version(name)) == number:
            for one in wanted(distribution(name).requires or ()):
                assert listed[canonicalize_name(one.name)][0] in one.specifier, (name, one)


def test_the_list_serves_every_python_that_the_project_does() -> None:
    oldest = PROJECT["requires-python"].removeprefix(">=")
    assert f"--python-version {oldest} " in ROOM.read_text(encoding="utf-8")
    for name, (number, _) in entries().items():
        if Version(version(name)) == number:
            asked = distribution(name).metadata["Requires-Python"]
            assert asked is None or f"{oldest}.0" in SpecifierSet(asked), name


def test_the_list_is_remade_by_the_command_told() -> None:
    """The command that DEVELOPERS tells is the one that stands at its head."""
    (told,) = re.findall(r"^    (uv pip compile .*)$", SECTION, flags=re.M)
    assert f"#    {told}\n" in ROOM.read_text(encoding="utf-8")


@pytest.mark.parametrize("kind", ["dependencies", "test", "coverage"])
def test_no_new_major_version_comes_by_itself(kind: str) -> None:
    """Of packaging each version is a year's, with no more to it than the one before."""
    lines = PROJECT[kind] if kind in PROJECT else PROJECT["optional-dependencies"][kind]
    for one in map(Requirement, lines):
        bounds = {part.operator for part in one.specifier}
        assert {"<", "=="} & bounds or one.name == "packaging", one


@pytest.mark.parametrize("tool", ["ruff", "mypy"])
def test_what_judges_the_code_is_of_one_version(tool: str) -> None:
    """A newer one would ask for another format, or find more, from one day to the next."""
    (one,) = (
        r for r in map(Requirement, PROJECT["optional-dependencies"]["test"]) if r.name == tool
    )
    (part,) = one.specifier
    assert part.operator == "=="
    assert version(tool) == part.version


def licences() -> dict[str, str]:
    """Return the table of licences in DEVELOPERS: package and licence."""
    return dict(re.findall(r"^\| `([\w-]+)` \| ([\w.-]+) \|", SECTION, flags=re.M))


def test_the_table_of_licences_has_every_package_that_a_room_needs() -> None:
    assert set(licences()) == set(entries())
    assert needed() <= set(licences())


@pytest.mark.parametrize("name", sorted(licences()))
def test_a_licence_is_what_the_package_says(name: str) -> None:
    """By its metadata, where it says so there, and by the text that it carries."""
    found = distribution(name)
    said = found.metadata["License-Expression"] or found.metadata["License"]
    classed = [c for c in found.metadata.get_all("Classifier") or () if c.startswith("License")]
    told = licences()[name]
    family = told.split("-")[0]
    assert said or classed
    assert not said or told == said or family == said
    assert not classed or family in classed[0] or "Mozilla Public License 2.0" in classed[0]
    texts = [
        Path(str(file.locate())).read_text(encoding="utf-8")
        for file in found.files or ()
        if re.fullmatch(r"LICEN[CS]E(\.\w+)?", file.name) and ".dist-info" in str(file)
    ]
    assert texts
    assert any(re.search(TEXT_OF[told], text, flags=re.S) for text in texts)


def test_a_licence_is_known_by_its_text_alone() -> None:
    """The texts tell the licences apart, so that a wrong one in the table would be found."""
    texts = {
        told: "".join(
            Path(str(file.locate())).read_text(encoding="utf-8")
            for file in distribution(name).files or ()
            if re.fullmatch(r"LICEN[CS]E", file.name) and ".dist-info" in str(file)
        )
        for name, told in licences().items()
        if name in ("mpmath", "pygments", "rich", "shtab", "typing-extensions")
    }
    assert set(texts) == set(TEXT_OF)
    for told, text in texts.items():
        assert [k for k, pattern in TEXT_OF.items() if re.search(pattern, text, re.S)] == [told]
