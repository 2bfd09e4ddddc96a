"""The pictures of README are those of the program as it is: `python tests/pictures` renews them."""

from __future__ import annotations

import re

import pytest
from helpers.source import ROOT, TESTS
from pictures.scenes import SCENES, picture, words

FOLDER = TESTS / "pictures"
README = ROOT / "README.md"


@pytest.mark.parametrize("name", SCENES)
def test_a_picture_shows_what_the_program_shows(name: str) -> None:
    kept = (FOLDER / f"{name}.svg").read_text(encoding="utf-8")
    assert len(words(kept)) > 20
    assert words(picture(name)) == words(kept)
    assert not re.findall(r'(?:src|href)\s*[=:]|url\("http', kept), "nothing is fetched"
    assert "<circle" not in kept, "no buttons of a window"


def test_readme_shows_each_picture_and_no_other() -> None:
    shown = re.findall(r"!\[[^\]]+\]\(tests/pictures/(\w+)\.svg\)", README.read_text("utf-8"))
    assert sorted(shown) == sorted(SCENES)
    assert {path.stem for path in FOLDER.glob("*.svg")} == set(SCENES)
