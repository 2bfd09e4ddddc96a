"""What is wrong at one place of a problem file hides nothing that is wrong at another."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.material import CATALOGUE
from helpers.problem_texts import changed, read_text
from leverstep.course.faults import FileError
from leverstep.course.places import shipped
from leverstep.vetting.vet import vet_file

CHAIN = (shipped("problems") / "wrist" / "wrist-then-elbow.toml").read_text("utf-8")
SEESAW = (shipped("problems") / "plain" / "plain-seesaw.toml").read_text("utf-8")
FIRST_ASK = '[ask]\nfind = "moment"\n\n[[shown]]'
SECOND_ASK = '[next.ask]\nfind = "moment"'


def faults(text: str, *changes: tuple[str, str]) -> list[str]:
    """Return the faults of a text with some of it replaced, each from its key on."""
    with pytest.raises(FileError) as caught:
        read_text(text, *changes)
    return [str(fault).partition(": ")[2] for fault in caught.value.faults]


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (("[next.joined]", "[next.joint]"), 'next[1].joint: unknown key (did you mean "joined"?)'),
        (("[[next.load]]", "[[next.loads]]"), 'next[1].loads: unknown key (did you mean "load"?)'),
        (("[[next]]\n", "[[nxt]]\n"), 'nxt: unknown key (did you mean "next"?)'),
    ],
)
def test_a_misspelt_table_is_laid_beside_those_of_its_form(
    change: tuple[str, str], told: str
) -> None:
    text = CHAIN.replace("[next.", "[nxt.").replace("[[next.", "[[nxt.") if "nxt" in told else CHAIN
    assert any(one.startswith(told) for one in faults(text, change))


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("reaction = false", "ask.reaction: found False; expected a reaction to be handed on to"),
        (
            'resolve = "along and across"',
            "ask.resolve: found 'along and across'; expected horizontal and vertical components",
        ),
    ],
)
def test_what_leaves_nothing_to_be_handed_on_is_told_where_it_stands(line: str, told: str) -> None:
    (found,) = faults(CHAIN, (FIRST_ASK, FIRST_ASK.replace("[ask]", f"[ask]\n{line}")))
    assert found.startswith(told)


def test_neither_a_name_nor_another_posture_hides_what_can_not_be_worked() -> None:
    found = faults(
        CHAIN,
        ('joint = "wrist"', "joint = 7"),
        (FIRST_ASK, FIRST_ASK.replace('"moment"', '"momnt"\nreaction = false')),
        (SECOND_ASK, SECOND_ASK.replace('"moment"', '"W_g"')),
    )
    places = [one.partition(": ")[0] for one in found]
    assert places == ["joint", "ask.find", "ask.reaction", "next[1].ask.find"]


def test_a_posture_that_can_not_be_read_leaves_what_is_joined_to_it_without_faults() -> None:
    found = faults(CHAIN, ('"W_h"\nname = "hand"', '"W_h"\nname = 3'))
    assert [one.partition(": ")[0] for one in found] == ["load[1].name"]


def test_all_that_keeps_one_posture_from_being_worked_is_told() -> None:
    """Each of these was told alone, once the one before it was mended."""
    asked = 'resolve = "along and across"\nreaction = false\ncompression = true\nfind = "W_cc"'
    found = faults(
        SEESAW,
        ('arm_ratio_of = "W_c"', f'arm_ratio_of = "W_c"\nclass = true\n{asked}'),
        (
            'symbol = "d_y", from = 3.2, to = 3.8, step = 0.05,',
            'across = { symbol = "x_y", value = 3,',
        ),
        (
            ' unit = "ft", beyond = true }\ndirection = "down"\n\n[ask]',
            ' unit = "ft" } }\ndirection = "down"\n\n[ask]',
        ),
        ("{d_y}", "{x_y}"),
    )
    places = [one.partition(": ")[0] for one in found]
    assert places == ["ask.class", "ask.compression", "ask.find", "load[2].at"]


def test_of_one_place_the_fault_that_others_follow_from_is_told() -> None:
    (found,) = faults(SEESAW, ("[ask]", '[ask]\nfind = "moment"'))
    assert found.startswith('ask.find: "moment" beside an [effort]; expected no [effort]')


def test_two_distances_that_follow_from_none_are_both_told() -> None:
    found = faults(
        SEESAW,
        ('from = 4.5, to = 5, step = 0.05, unit = "ft"', 'fraction = 0.8, of = "LL"'),
        ('from = 3.2, to = 3.8, step = 0.05, unit = "ft"', 'fraction = 0.6, of = "LL"'),
    )
    told = '.at: d_{} is a fraction of "LL"; expected a distance of this problem'
    assert [told.format(sign) in one for sign, one in zip("cy", found, strict=True)] == [True] * 2


def test_a_given_that_is_not_stated_hides_no_answer_near_zero(tmp_path: Path) -> None:
    near_balance = (
        ("from = 65, to = 85, step = 0.5", "from = 40.02, to = 80.04, step = 13.34"),
        ("from = 4.5, to = 5, step = 0.05", "value = 4"),
        ("from = 32, to = 42, step = 0.5", "value = 40"),
        ("from = 3.2, to = 3.8, step = 0.05", "value = 4"),
    )
    path = tmp_path / "plain-seesaw.toml"
    path.write_text(changed(SEESAW, ("{m_y}", "his own"), *near_balance), encoding="utf-8")
    keys = [fault.key for fault in vet_file(path, CATALOGUE).faults]
    assert keys[0] == "statement"
    assert "the line F_h" in keys
