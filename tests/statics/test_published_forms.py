"""How many published examples check each form that the format has, by what their files say."""

from __future__ import annotations

import tomllib
from collections import Counter
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from helpers.source import TESTS

FILES = [
    tomllib.loads(path.read_text("utf-8")) for path in sorted((TESTS / "published").glob("*.toml"))
]


def inside(value: Any) -> Iterator[dict[str, Any]]:
    """Yield every table of a file, at any depth."""
    if isinstance(value, dict):
        yield value
    for inner in value.values() if isinstance(value, dict) else value:
        if isinstance(inner, dict | list):
            yield from inside(inner)


def says(key: str, *values: object) -> Callable[[dict[str, Any]], bool]:
    """Return whether some table of a file has a key, with one of these values if any are named."""
    return lambda file: any(
        key in table and (not values or table[key] in values) for table in inside(file)
    )


def both(*of: Callable[[dict[str, Any]], bool]) -> Callable[[dict[str, Any]], bool]:
    """Return whether a file is of each of these forms."""
    return lambda file: all(one(file) for one in of)


def is_ratio_of_distances(file: dict[str, Any]) -> bool:
    """Return whether a file asks for a ratio of arms, by which two points move."""
    ratios = [t for t in inside(file) if t.get("relation") == "ratio"]
    return any(t["of"].startswith("d_") for t in ratios)


FORMS: dict[str, Callable[[dict[str, Any]], bool]] = {
    "along and across": says("resolve", "along and across", "both"),
    "centre of mass": says("find", "centre of mass"),
    "base of support": says("find", "line of gravity"),
    "reaction board": both(says("find", "d_w"), says("name", "scale", "board")),
    "resultant": says("find", "resultant"),
    "two unknown forces": says("find", ["T_l", "T_r"]),
    "couple": says("couple"),
    "chain of segments": says("joined"),
    "several postures": both(says("next"), lambda file: not says("joined")(file)),
    "multiples of body weight": says("relation", "body weights"),
    "another unit": says("relation", "other unit"),
    "unknown angle": says("find", "theta", "alpha"),
    "derived distance": lambda file: any(says(how)(file) for how in ("sum", "sine", "cosine")),
    "multiples of a length": says("unit", "L"),
    "fraction": says("fraction", "1/2", "2/3"),
    "angle to the vertical": says("line", "vertical"),
    "bearing": says("bearing"),
    "g in the file": says("gravity"),
    "muscles that share": says("shares"),
    "stress": says("relation", "stress"),
    "muscle by its area": says("specific_tension"),
    "static friction": says("relation", "friction needed"),
    "elastic band": says("stiffness"),
    "moment from I·α": says("relation", "moment sped up"),
    "force from m·a": says("inertia_of"),
    "power": says("relation", "power"),
    "speed of a lever": says("relation", "speed"),
    "ratio of distances moved": is_ratio_of_distances,
}
LEAST = 2


@pytest.mark.parametrize("form", FORMS)
def test_each_form_is_checked_against_two_published_examples(form: str) -> None:
    of_the_form = [file["id"] for file in FILES if FORMS[form](file)]
    assert len(of_the_form) >= LEAST, of_the_form


def test_the_forms_are_told_apart_by_what_files_say() -> None:
    """No form is so wide that most files would be of it."""
    counted = Counter(form for form in FORMS for file in FILES if FORMS[form](file))
    assert max(counted.values()) < len(FILES) / 3, counted
