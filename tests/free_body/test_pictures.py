"""Free-body diagrams that a student draws: judged as a student with a geometry of its own does."""

from __future__ import annotations

import itertools
import random
import sys
from collections.abc import Iterator

import pytest
from helpers.material import CATALOGUE
from helpers.picture_students import PictureStudent
from helpers.problem_texts import effort, head, load, newtons, quantity, read_text, segment
from helpers.source import TESTS
from leverstep.course.shelf import load_shelf
from leverstep.diagram.layout import Focus, Picture, drawn
from leverstep.free_body.body_picture import AXIS_ITEM, BodyPicture, pictures_of
from leverstep.free_body.candidates import REACTION
from leverstep.free_body.picture_scene import MadeScene
from leverstep.free_body.picture_told import (
    angle_asked,
    hint_target,
    hints_on,
    missing_told,
    placed_told,
    standing_told,
    verdict_told,
)
from leverstep.free_body.placing import Placing
from leverstep.free_body.placing_words import read_item, read_placings
from leverstep.free_body.word_matching import UnclearWordsError
from leverstep.slips.picture_slips import PictureSlip

BENCHMARKS = str(TESTS / "benchmarks")
SHELF = load_shelf()


def read_placing(one: BodyPicture, text: str) -> Placing:
    """Return the one thing that a text puts somewhere."""
    (placing,) = read_placings(one, text)
    return placing


def picture(ident: str = "elbow-full-pail", seed: str = "7", place: int = 0) -> BodyPicture:
    return pictures_of(SHELF.problems[ident].question(seed))[place]


@pytest.fixture(scope="module")
def tally():
    """Return what came of right and wrong pictures of every problem that is offered."""
    sys.path.insert(0, BENCHMARKS)
    try:
        from own_diagrams import measured

        return measured(1)
    finally:
        sys.path.remove(BENCHMARKS)


def test_a_right_picture_is_right_in_any_order(tally) -> None:
    counts, problems = tally
    assert problems > 85
    assert counts.total("right", "right") > 2000
    assert counts.total("right", "called wrong") == 0
    assert counts.total("whole", "right") > 250
    assert counts.total("whole", "called wrong") == 0


def test_a_wrong_thing_is_always_called_wrong_and_its_slip_named(tally) -> None:
    counts, _ = tally
    assert counts.total("wrong", "called wrong") > 10_000
    assert counts.total("wrong", "called right") == 0
    named, other = counts.total("slip", "named"), counts.total("slip", "another")
    assert named / (named + other) >= 0.97


def test_whatever_one_thing_is_left_out_is_seen(tally) -> None:
    counts, _ = tally
    assert counts.total("missing", "seen") > 600
    assert counts.total("missing", "not seen") == 0


def test_problems_without_forces_that_balance_have_none() -> None:
    assert pictures_of(SHELF.problems["neck-magnifiers"].question("7")) == ()
    assert pictures_of(SHELF.problems["knee-two-pulls-on-kneecap"].question("7")) == ()


def test_no_segment_exerts_a_force_on_a_body_that_it_belongs_to() -> None:
    names = {one.name for one in picture("body-wheelchair-castors").candidates}
    assert "force of the chair on the castors" in names
    assert "force of the chair on the chair and person" not in names


def test_a_chain_has_a_picture_of_each_segment() -> None:
    first, second = pictures_of(SHELF.problems["wrist-then-elbow"].question("7"))
    assert (first.key, second.key) == ("free body1", "free body2")
    assert second.judged(Placing("H_y", "L_f", "unknown")).is_right
    assert second.judged(Placing("H_y", "L_f", "left")).slips == (PictureSlip.WAY,)


@pytest.mark.parametrize("ident", ["plain-lamp-two-cords", "ankle-traction-two-cords"])
def test_a_knot_has_no_length_and_is_not_what_hangs_from_it(ident: str) -> None:
    one = picture(ident)
    names = {each.name for each in one.candidates}
    axis = one.question.problem.axis
    assert not any(f"along the {axis}" in each.label for each in one.pointings)
    assert not any(f"to the {axis}" in each.label for each in one.pointings)
    assert any(name.startswith("horizontal component of the force of the") for name in names)
    assert any(name.startswith(f"force of the {axis} on the") for name in names)


@pytest.mark.parametrize(
    ("ident", "item", "point", "right", "wrong"),
    [
        ("knee-held-how-high", "F_m", "a_m",
         ("segment axis along", "horizontal theta up left", "up left"), ("segment above", "down")),
        ("knee-held-how-high", REACTION, "axis", ("down right", "unknown"), ("up left",)),
        ("elbow-cord-at-an-angle", "F_c", "d_c",
         ("segment alpha axis above", "up left", "unknown"), ("up right", "segment above")),
    ],
)  # fmt: skip
def test_where_the_statement_leaves_an_angle_to_be_found_less_may_be_said(
    ident: str, item: str, point: str, right: tuple[str, ...], wrong: tuple[str, ...]
) -> None:
    one = picture(ident)
    assert all(one.judged(Placing(item, point, way)).is_right for way in right)
    assert not any(one.judged(Placing(item, point, way)).is_right for way in wrong)


ALPHA = 'symbol = "alpha", value = 110, unit = "deg"'
ROUND = f"{{ bearing = {{ {ALPHA} }} }}"
LEANING = f'{{ line = "horizontal", toward = "left", side = "above", angle = {{ {ALPHA} }} }}'


@pytest.mark.parametrize(
    ("way", "text", "is_right"),
    [
        (ROUND, "at alpha, up and left", True),
        (ROUND, "alpha counted from the right upwards and on round", True),
        (ROUND, "110 degrees anticlockwise from the right", True),
        (ROUND, "alpha, counted from the right downwards", False),
        (LEANING, "alpha to the horizontal, up and right", True),
        (LEANING, "alpha to the horizontal, up and left", False),
    ],
)
def test_an_angle_beyond_a_right_one_is_told_by_the_way_it_points(
    way: str, text: str, is_right: bool
) -> None:
    problem = (
        head("A bar", "{W_l} at {d_l}; a cord at {d_c}, {alpha}.")
        + segment("bar", "pivot")
        + effort("F_c", "cord", quantity("d_c", 0.2, "m"), way)
        + load("W_l", "box", newtons(50), quantity("d_l", 0.4, "m"))
        + "[ask]\nratios = false\n"
    )
    (one,) = pictures_of(read_text(problem).question("1"))
    assert one.judged(read_placing(one, f"F_c at d_c, {text}")).is_right is is_right
    told = placed_told(one, one.right_placing("F_c")).partition(": ")[2]
    assert one.judged(read_placing(one, f"F_c at d_c, {told.partition(', ')[2]}")).is_right


def test_every_slip_has_words_that_fit_any_posture() -> None:
    assert [*CATALOGUE.diagram_slips] == [*PictureSlip]
    for ident, words in CATALOGUE.diagram_slips.items():
        assert words.id is ident
        assert words.reason_anywhere.endswith(".")
        for text in (words.look, words.happened, words.worked):
            assert text.endswith((".", "?"))


def test_what_stands_right_is_not_drawn_twice_where_that_is_told() -> None:
    told, hidden = picture(), picture()
    for one, tells in ((told, True), (hidden, False)):
        one.place(Placing("W_l", "d_l", "down"), tells)
    again = Placing("W_l", "d_m", "down")
    assert told.place(again).slips == (PictureSlip.TWICE,)
    assert told.placed["W_l"].is_right
    assert hidden.place(again, tells=False).slips == (PictureSlip.POINT,)
    assert not hidden.placed["W_l"].is_right


@pytest.mark.parametrize("side", ["left", "right"])
def test_where_verdicts_wait_any_quarter_is_asked_about_that_may_have_an_angle(side: str) -> None:
    one = picture("shoulder-level-broom")
    for item in ("F_m", "W_l", "decoy motion"):
        placing = Placing(item, "d_m", f"up {side}")
        assert one.lacks_angle(placing, tells=False)
        asked = f"Up and to the {side}, at which angle? Say that too, and from which line."
        assert angle_asked(one, placing, tells=False) == asked
    assert not one.lacks_angle(Placing(REACTION, "axis", f"down {side}"), tells=False)
    assert not picture().lacks_angle(Placing("W_l", "d_l", f"up {side}"), tells=False)
    sought = picture("elbow-cord-at-an-angle")
    assert not sought.lacks_angle(Placing("F_c", "d_c", f"up {side}"), tells=False)


def every_placing(one: BodyPicture) -> Iterator[Placing]:
    """Yield whatever may be put into a picture."""
    items = [each.item for each in (*one.candidates, *one.distances)]
    points = ("", *(each.key for each in one.places))
    ways = ("", *(each.key for each in one.pointings))
    for parts in itertools.product((*items, AXIS_ITEM), points, ways):
        if one.makes_sense(placing := Placing(*parts)):
            yield placing


def test_the_slips_that_are_possible_are_those_of_all_placings() -> None:
    special = ("knee-held-how-high", "knee-leg-sped-up", "elbow-cord-at-an-angle", "knee-kneecap")
    for ident in (*special, *(card.id for card in SHELF.offered[::12])):
        for one in pictures_of(SHELF.problems[ident].question("1")):
            found = {one.missing_slip(item) for item in one.needed}
            found.update(slip for each in every_placing(one) for slip in one.judged(each).slips)
            assert one.slips_possible == found, ident


def test_what_is_taken_away_is_missing_again() -> None:
    one = picture()
    one.place(Placing("W_l", "d_l", "down"))
    assert "W_l" not in one.missing
    one.take_away("W_l")
    one.take_away("W_l")
    assert "W_l" in one.missing


@pytest.mark.parametrize(
    "placing",
    [
        Placing("W_x", "d_l", "down"),
        Placing("W_l", "d_x", "down"),
        Placing("W_l", "", "down"),
        Placing("W_l", "d_l", ""),
        Placing("W_l", "d_l", "sideways"),
        Placing("W_l", "d_l", "clockwise"),
        Placing(AXIS_ITEM, "axis", "down"),
        Placing(AXIS_ITEM),
        Placing("d_l", "axis"),
        Placing("", "", ""),
    ],
)
def test_what_makes_no_sense_is_known(placing: Placing) -> None:
    assert not picture().makes_sense(placing)


@pytest.mark.parametrize(
    ("ident", "text", "placing"),
    [
        ("elbow-full-pail", "W_l at d_l, down", Placing("W_l", "d_l", "down")),
        ("elbow-full-pail", "w_l at d_l down", Placing("W_l", "d_l", "down")),
        ("elbow-full-pail", "weight of pail at 35 cm, down", Placing("W_l", "d_l", "down")),
        ("elbow-full-pail", "weight of the pail at 35,0 cm, left", Placing("W_l", "d_l", "left")),
        ("elbow-full-pail", "W_f at the centre of mass, down", Placing("W_f", "d_f", "down")),
        ("elbow-full-pail", "flexors at the attachment, up",
         Placing("F_m", "d_m", "up")),
        ("elbow-full-pail", "2 at 2, up", Placing("F_m", "d_m", "up")),
        ("elbow-full-pail", "joint reaction at the elbow, unknown yet",
         Placing(REACTION, "axis", "unknown")),
        ("elbow-full-pail", "reaction at 1, down", Placing(REACTION, "axis", "down")),
        ("elbow-full-pail", "joint reaction at the elbow at 4.6 cm, up and left",
         Placing(REACTION, "d_m", "up left")),
        ("elbow-full-pail", "axis at the elbow", Placing(AXIS_ITEM, "axis")),
        ("elbow-full-pail", "axis at 3", Placing(AXIS_ITEM, "d_f")),
        ("elbow-full-pail", "distance d_l", Placing("d_l")),
        ("elbow-full-pail", "L", Placing("L")),
        ("elbow-full-pail", "force of motion at d_l, right",
         Placing("decoy motion", "d_l", "right")),
        ("elbow-full-pail", "W_l", None),
        ("elbow-full-pail", "weight at d_l, down", None),
        ("elbow-full-pail", "W_l at the moon, down", None),
        ("elbow-full-pail", "W_l at d_l, sideways", None),
        ("elbow-full-pail", "W_l at d_l", None),
        ("elbow-full-pail", "", None),
        ("elbow-full-pail", "0 at 0, down", None),
        ("ankle-forward-lean", "F_m at d_m, at theta to the vertical, up and right",
         Placing("F_m", "d_m", "vertical theta up right")),
        ("ankle-forward-lean", "F_m at d_m, at θ to the horizontal, up left",
         Placing("F_m", "d_m", "horizontal theta up left")),
        ("ankle-forward-lean", "F_m at d_m, 10.5 degrees to the vertical, up and to the right",
         Placing("F_m", "d_m", "vertical theta up right")),
        ("ankle-forward-lean", "F_m at d_m, up and right", Placing("F_m", "d_m", "up right")),
        ("ankle-forward-lean", "F_m at d_m, at theta", None),
        ("elbow-full-teapot", "F_m at d_m, at alpha to the forearm, towards the elbow, up",
         Placing("F_m", "d_m", "segment alpha axis above")),
        ("elbow-full-teapot", "W_f at d_f, perpendicular to the forearm, down",
         Placing("W_f", "d_f", "segment below")),
        ("elbow-both-attachments", "F_m at d_m, towards its other end",
         Placing("F_m", "d_m", "muscle F_m toward")),
        ("elbow-both-attachments", "F_m at d_m, away from its other end",
         Placing("F_m", "d_m", "muscle F_m away")),
        ("elbow-stiff-brace", "C_b, clockwise", Placing("C_b", "", "clockwise")),
        ("elbow-stiff-brace", "moment of the friction, anticlockwise",
         Placing("C_b", "", "anticlockwise")),
        ("elbow-stiff-brace", "C_b", None),
        ("knee-kneecap", "quadriceps tendon, at alpha to the horizontal, up and left",
         Placing("F_q", "axis", "horizontal alpha up left")),
        ("knee-kneecap", "4 at 1, up", Placing("F_q", "axis", "up")),
        ("knee-kneecap", "3, down", Placing("F_t", "axis", "down")),
        ("knee-kneecap", "3", None),
        ("wrist-then-elbow", "net moment, unknown", Placing("net moment", "", "unknown")),
        ("wrist-then-elbow", "M_net1, anticlockwise", Placing("net moment", "", "anticlockwise")),
        ("elbow-pail-of-water", "weight of the pail at the hand, down", None),
        ("elbow-pail-of-water", "weight of the pail at the forearm and hand, down", None),
        ("elbow-pail-of-water", "weight of the pail at the pail, down",
         Placing("W_l", "d_l", "down")),
        ("shoulder-arm-to-the-side", "weight of the bottle at the hand, down", None),
        ("wrist-then-elbow", "weight of the pan at the hand, down", None),
        ("elbow-pail-of-water", "force of the pail on the forearm at 33.5 cm, down", None),
        ("elbow-pail-of-water", "force of the pail at 33.5 cm, down", None),
        ("elbow-pail-of-water", "force of forearm on pail at 33.5 cm, down",
         Placing("decoy reversed", "d_l", "down")),
        ("elbow-pail-of-water", "R at the elbow, unknown", Placing(REACTION, "axis", "unknown")),
        ("elbow-pail-of-water", "R_x at the elbow, left", None),
        ("elbow-pail-of-water", "biceps at 4.2 cm, vertically up", Placing("F_m", "d_m", "up")),
        ("elbow-pail-of-water", "W_l at 0.335 m, down", Placing("W_l", "d_l", "down")),
        ("elbow-pail-of-water", "W_f at 16.8 cm, down", Placing("W_f", "d_f", "down")),
        ("elbow-pail-of-water", "W_f at 17.8 cm, down", None),
        ("elbow-pail-of-water", "W_f at the centre of gravity, down",
         Placing("W_f", "d_f", "down")),
        ("elbow-pail-of-water", "weight of the pail at the centre of gravity, down", None),
        ("elbow-pail-of-water", "W_l at the centre of mass, down", None),
        ("elbow-pail-of-water", "weight of the pail at its centre of gravity, down",
         Placing("W_l", "d_l", "down")),
        ("elbow-pail-of-water", "weight of the pail at the pail's centre of gravity, down",
         Placing("W_l", "d_l", "down")),
        ("elbow-pail-of-water", "weight of the pail at the forearm’s centre of mass, down",
         Placing("W_l", "d_f", "down")),
        ("elbow-pail-of-water", "W_l, d_l, down", Placing("W_l", "d_l", "down")),
        ("elbow-pail-of-water", "pail, 33.5 cm, down", Placing("W_l", "d_l", "down")),
        ("elbow-pail-of-water", "W_l, down", None),
        ("elbow-pail-of-water", "R at axis, unknown", Placing(REACTION, "axis", "unknown")),
        ("elbow-pail-of-water", "distance d_m, d_q", None),
        ("elbow-pail-of-water", "distance dl", Placing("d_l")),
        ("elbow-pail-of-water", "Wl at dl, ↓", Placing("W_l", "d_l", "down")),
        ("elbow-pail-of-water", "W_l at d_l vertically down", Placing("W_l", "d_l", "down")),
        ("shoulder-level-broom", "axis = shoulder", Placing(AXIS_ITEM, "axis")),
        ("shoulder-level-broom", "F_m at d_m,19,0° above the horizontal to the left",
         Placing("F_m", "d_m", "horizontal alpha up left")),
        ("shoulder-level-broom", "F_m at d_m 19° above horizontal to the left",
         Placing("F_m", "d_m", "horizontal alpha up left")),
        ("shoulder-level-broom", "F_m at d_m, alpha below the horizontal, to the right",
         Placing("F_m", "d_m", "horizontal alpha down right")),
        ("shoulder-level-broom", "F_m at d_m, to the upper left", Placing("F_m", "d_m", "up left")),
        ("shoulder-level-broom", "F_m at d_m ↘", Placing("F_m", "d_m", "down right")),
        ("knee-kneecap", "quadriceps tendon ↑", Placing("F_q", "axis", "up")),
        ("elbow-pail-of-water", "axis", None),
        ("hip-one-leg-stance", "axis: left hip", Placing(AXIS_ITEM, "axis")),
        ("hip-one-leg-stance", "axis at the hip joint", Placing(AXIS_ITEM, "axis")),
        ("hip-one-leg-stance", "axis at the right hip", None),
        ("lumbar-flower-pot", "F_m at a_m, parallel to the trunk, towards the pelvis",
         Placing("F_m", "a_m", "segment axis along")),
        ("elbow-both-attachments", "brachialis at d_m, towards the upper arm", None),
        ("finger-key-press", "F_m at d_m, horizontally, straight back towards the hand (left)",
         Placing("F_m", "d_m", "left")),
        ("knee-half-straight", "F_m at d_m, up and back towards the thigh",
         Placing("F_m", "d_m", "up left")),
        ("plain-door-push", "F_g at d_g, at a right angle to the gate, towards the top of the plan",
         Placing("F_g", "d_g", "segment above")),
        ("elbow-how-much", "elbow flexors at d_m, up and back, at alpha to the level forearm",
         Placing("F_m", "d_m", "segment alpha axis above")),
        ("elbow-tilted-forearm", "F_m at d_m, 82.5° to the horizontal, up and back",
         Placing("F_m", "d_m", "vertical theta up left")),
    ],
)  # fmt: skip
def test_words_say_what_is_put_where(ident: str, text: str, placing: Placing | None) -> None:
    one = picture(ident)
    if placing is None:
        with pytest.raises(UnclearWordsError, match=r"\.$"):
            read_placing(one, text)
        return
    read = read_placing(one, text)
    assert read == placing
    assert one.makes_sense(read)


def test_several_distances_may_be_said_in_one_line() -> None:
    wanted = (Placing("d_m"), Placing("d_l"))
    for text in ("distances d_m and d_l", "d_m, d_l", "distance d_m, d_l, d_m"):
        assert read_placings(picture(), text) == wanted
    with pytest.raises(UnclearWordsError, match="one distance at a time"):
        read_item(picture(), "distances d_m and d_l")


@pytest.mark.parametrize(
    ("text", "placing"),
    [
        ("vertically down", Placing("W_l", "d_m", "down")),
        ("↓", Placing("W_l", "d_m", "down")),
        ("W_l, vertically down", Placing("W_l", "d_m", "down")),
        ("weight of the pail down", Placing("W_l", "d_m", "down")),
        ("W_l at d_l, down", Placing("W_l", "d_l", "down")),
        ("R, unknown", Placing(REACTION, "axis", "unknown")),
        ("W_l at 3", None),
        ("F_m, down", None),
        ("flexors", None),
        ("sideways", None),
    ],
)
def test_of_a_force_that_stands_the_direction_is_enough(text: str, placing: Placing | None) -> None:
    one = picture()
    one.place(Placing(REACTION, "axis", "up"))
    one.place(Placing("W_l", "d_m", "up"))
    if placing is not None:
        assert read_placings(one, text) == (placing,)
        return
    with pytest.raises(UnclearWordsError, match=r"\.$"):
        read_placings(one, text)


def test_a_direction_alone_is_of_the_only_force_that_is_wrong_whatever_came_right_since() -> None:
    one = picture()
    one.place(Placing(REACTION, "axis", "up"))
    one.place(Placing(AXIS_ITEM, "axis"))
    one.place(Placing("W_l", "d_l", "down"))
    assert read_placings(one, "straight down") == (Placing(REACTION, "axis", "down"),)


def test_a_direction_alone_is_of_nothing_that_is_not_known_to_be_wrong() -> None:
    one = picture()
    for text, tells in (("down", True), ("up", True), ("up", False)):
        with pytest.raises(UnclearWordsError, match="No force of the list is called"):
            read_placings(one, text, tells)
        one.place(Placing("W_l", "d_l", text), tells)
        one.place(Placing("W_l", "d_l", "down"), tells)


def test_an_angle_that_was_asked_for_may_be_said_alone() -> None:
    one = picture("shoulder-level-broom")
    one.asked = Placing("F_m", "d_m", "up left")
    wanted = (Placing("F_m", "d_m", "horizontal alpha up left"),)
    for text in (
        "19° to the horizontal", "at alpha above the horizontal, to the left",
        "deltoid at 2, 19° to the horizontal",
    ):  # fmt: skip
        assert read_placings(one, text, tells=False) == wanted
    with pytest.raises(UnclearWordsError, match="more than one direction"):
        read_placings(one, "W_l at 2, 19° to the horizontal", tells=False)
    with pytest.raises(UnclearWordsError, match="more than one direction"):
        read_placings(one, "19°", tells=False)
    one.place(Placing("W_l", "d_l", "up"))
    assert one.asked is None


def test_what_a_right_placing_is_told_as_reads_back_as_itself() -> None:
    for card in SHELF.offered:
        for one in pictures_of(SHELF.problems[card.id].question("3")):
            for item in one.needed:
                candidate, placing = one.candidate(item), one.right_placing(item)
                if candidate is None:
                    continue
                place, way = one.place_of(placing), one.pointing_of(placing)
                assert way is not None
                where = f" at {place.label.replace(', ', ' ')}" if place is not None else ""
                text = f"{candidate.name}{where}, {way.label}"
                read = read_placing(one, text)
                assert one.judged(read).is_right, (card.id, text)
                assert read_item(one, candidate.name) == item


def test_any_words_are_read_or_told_of_as_unclear() -> None:
    draw = random.Random(5)
    one = picture("ankle-forward-lean")
    forces, points = ["W_f", "F_m", "3", "pull", "shin"], ["d_m", "2", "99", "²", "the ankle", "é"]
    ways = ["up", "down", "left", "unknown", "theta", "vertical", "10.5", "1e9", "θ", "clockwise"]
    beside = ["at", "at", ",", ",", "the", "of", "axis", "distance", "end", "-", "\x00", "\n"]
    read = unclear = 0
    for _ in range(3000):
        parts = [draw.choice(forces), "at", draw.choice(points), ",", draw.choice(ways)]
        parts += draw.choices(forces + points + ways + beside, k=draw.randint(0, 3))
        if draw.random() < 0.3:
            draw.shuffle(parts)
        text = " ".join(parts)
        try:
            placing = read_placing(one, text)
        except UnclearWordsError as error:
            said = str(error)
            unclear += said.endswith(".")
        else:
            read += 1
            assert one.makes_sense(placing), text
    assert read > 100
    assert read + unclear == 3000


def test_hints_lead_from_where_to_look_to_the_thing_itself() -> None:
    one = picture()
    one.place(Placing("W_l", "d_l", "up"))
    target = hint_target(one)
    assert target == ("W_l", (PictureSlip.NOT_DOWN,))
    look, happened, rule, worked = hints_on(one, target, CATALOGUE)
    assert look == "The weight of the pail: where does the earth pull?"
    assert "a weight that does not point straight down" in happened
    assert "forearm" in rule
    assert worked == "Weight of the pail: 35.0 cm from the elbow, straight down."
    one.place(Placing("W_l", "d_l", "down"))
    target = hint_target(one)
    assert target is not None
    assert target[1][0] in {PictureSlip.FORCE_MISSING, PictureSlip.WEIGHT_MISSING}


def test_no_hint_has_the_way_of_a_reaction_looked_up_in_the_statement() -> None:
    one = picture("body-rope-pulled")
    one.place(Placing(REACTION, "axis", "up"))
    target = hint_target(one)
    assert target == (REACTION, (PictureSlip.REACTION_WAY,))
    look, happened, rule, worked = hints_on(one, target, CATALOGUE)
    assert "must the other forces tell which way it acts" in look
    assert not any("statement" in told for told in (happened, rule, worked))
    assert worked == "Force of the ground on the feet: the feet, direction unknown yet."


def test_every_hint_fills_for_whatever_is_wrong_or_missing() -> None:
    for card in SHELF.offered[::5]:
        for one in pictures_of(SHELF.problems[card.id].question("2")):
            for drawn_wrong in PictureStudent(one.question, one).wrong(random.Random(1)):
                verdict = one.judged(drawn_wrong.placing)
                texts = hints_on(one, (drawn_wrong.placing.item, verdict.slips), CATALOGUE)
                assert all(text and "{" not in text for text in texts)
                assert verdict_told(one, verdict, True, CATALOGUE).startswith("Not yet: ")
            for item in one.needed:
                texts = hints_on(one, (item, (one.missing_slip(item),)), CATALOGUE)
                assert len(texts) == 4


def test_only_at_once_is_a_slip_named() -> None:
    one = picture()
    verdict = one.place(Placing("W_l", "d_m", "down"))
    late, soon = (verdict_told(one, verdict, at_once, CATALOGUE) for at_once in (False, True))
    assert late == "Not yet: the weight of the pail acts, but its point is not right."
    assert soon.startswith(late)
    assert "It looks like this slip: a force at a wrong point." in soon
    assert "the reaction forgotten" in missing_told(one, True, CATALOGUE)
    assert "forgotten" not in missing_told(one, False, CATALOGUE)


def test_what_stands_is_told() -> None:
    one = picture()
    assert standing_told(one) == ("Nothing is drawn yet.",)
    one.place(Placing(REACTION, "axis", "unknown"))
    assert standing_told(one) == ("Joint reaction at the elbow: the elbow, direction unknown yet.",)
    assert placed_told(one, Placing("d_l")) == "the distance d_l"


def test_the_picture_shows_what_is_placed_and_nothing_else() -> None:
    one = picture()
    made = MadeScene(one, tells=True)
    empty = made.scene()
    assert (empty.arrows, empty.measures, empty.has_axis, empty.positive) == ((), (), False, 0)
    one.place(Placing("W_l", "d_m", "up"))
    one.place(Placing("d_l"))
    scene = MadeScene(one, tells=True).scene()
    (arrow,) = scene.arrows
    assert (arrow.symbol, arrow.bearing) == ("7", 90.0)
    assert arrow.station == pytest.approx(0.046)
    assert [measure.symbol for measure in scene.measures] == ["d_l"]
    one.place(Placing("W_l", "d_l", "down"))
    assert [one.symbol for one in MadeScene(one, tells=True).scene().arrows] == ["W_l"]
    assert [one.symbol for one in MadeScene(one, tells=False).scene().arrows] == ["7"]


@pytest.mark.parametrize(
    ("ident", "item", "force", "aside"),
    [
        ("shoulder-level-broom", "d_m", "F_m", "d_m, 3.5 cm"),
        ("ankle-then-knee", "x_g", "", "x_g, 7.5 cm"),
        ("lumbar-bow", "d_u", "", "d_u, 28.5 cm"),
    ],
)
def test_a_distance_beside_the_segment_is_drawn_too_or_told(
    ident: str, item: str, force: str, aside: str
) -> None:
    one = picture(ident)
    one.place(Placing(item))
    scene = MadeScene(one, tells=True).scene()
    assert (scene.arms, scene.asides) == ((), (aside,))
    if force:
        one.place(one.right_placing(force))
        scene = MadeScene(one, tells=True).scene()
        assert ([arm.symbol for arm in scene.arms], scene.asides) == ([item], ())
        assert MadeScene(one, tells=False).scene().arms == ()
    picture_drawn = drawn((scene,), MadeScene(one, tells=True).names(), 43, 14, Focus())
    rows = ["".join(piece.text for piece in row) for row in picture_drawn.rows]
    assert any(item in text for text in (*rows, *picture_drawn.legend))


def test_a_trial_is_drawn_beside_what_stands() -> None:
    one = picture()
    one.place(Placing("W_l", "d_l", "down"))
    scene = MadeScene(one, tells=True).scene(Placing("F_m", "d_m", "up"))
    assert {arrow.symbol for arrow in scene.arrows} == {"W_l", "2"}
    assert set(one.placed) == {"W_l"}


@pytest.mark.parametrize("size", [(40, 8), (44, 14), (60, 18)])
def test_every_picture_can_be_drawn_as_it_grows(size: tuple[int, int]) -> None:
    for card in SHELF.offered[::4]:
        for one in pictures_of(SHELF.problems[card.id].question("3")):
            for item in (None, *one.needed):
                if item is not None:
                    one.place(one.right_placing(item))
                made = MadeScene(one, tells=False)
                rows = drawn((made.scene(),), made.names(), *size, Focus()).rows
                assert {sum(len(piece.text) for piece in row) for row in rows} == {size[0]}
                assert len(rows) == size[1]


def test_no_arrow_runs_through_what_stands_in_a_picture_that_is_being_made() -> None:
    """Of no problem, at 80 × 24: neither with the force without a way alone, nor with all.

    What is said at a point is somewhere, too.
    """
    tried = 0
    for card in SHELF.offered:
        for one in pictures_of(SHELF.problems[card.id].question("2")):
            right = PictureStudent(one.question, one).right()
            for placing in right:
                one.place(placing)
                if placing.pointing == "unknown" or placing is right[-1]:
                    made = MadeScene(one, tells=True)
                    picture_made = drawn((made.scene(),), made.names(), 44, 14, Focus())
                    hold_labels(picture_made, {mark.text for mark in made.scene().marks})
                    tried += 1
    assert tried > len(SHELF.offered)


def hold_labels(made: Picture, at_points: set[str]) -> None:
    """Hold that all labels of a picture stand there whole, and those that stand at points."""
    for label in made.labels:
        end = label.column + len(label.text)
        assert made.lines[label.row][label.column : end] == label.text, made.lines
    assert at_points - {""} <= {label.text for label in made.labels}
