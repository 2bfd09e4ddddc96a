"""Lines as they stood on pages of hands that were new, where what was learnt from them is small."""

from __future__ import annotations

import pytest
from leverstep.claims.page_of_claims import judge_page
from leverstep.claims.ways_along import way_along
from leverstep.course.shelf import load_shelf

SHELF = load_shelf()
CAN, POT = ("shoulder-can-held-out", "3129"), ("lumbar-flower-pot", "1171")
TENDON, MACHINE = ("ankle-tendon-stress", "3213"), ("knee-steady-machine", "3185")
BOARD = ("body-reaction-board", "3171")
BITE = ("jaw-muscle-on-a-carrot", "84633")
HEADER = "               F     angle    Fx       Fy"
PARTS = ("elbow-pull-in-two-parts", "1081")
SHANK, KNEECAP = ("knee-half-straight", "804"), ("knee-two-pulls-on-kneecap", "816")
LEAN, TRAY = ("ankle-forward-lean", "3108"), ("wrist-flat-tray", "830")
PACK, PRESS_UP = ("body-heavy-pack", "3164"), ("body-press-up", "205")
HELMET, BREAD = ("neck-helmet", "35"), ("jaw-front-teeth", "53")
HELD, NODDING = ("knee-kneecap-held", "9138"), ("neck-nodding", "9323")
WRIST, LEANING = ("wrist-then-elbow", "9471"), ("lumbar-leaning-trunk", "218")
BEARING, DOOR = ("shoulder-three-by-bearing", "677"), ("plain-door-push", "67")
JAW, ARM = ("jaw-front-teeth", "7351"), ("shoulder-three-by-bearing", "3306")
TIPTOE, TWO_BEARINGS = ("ankle-tiptoe-one-foot", "7713"), ("jaw-two-by-bearing", "8434")
OTHER_PACK = ("body-heavy-pack", "41")
PAIL = ("elbow-full-pail", "3")
ARMS = "muscle     F     angle    Fx       Fy"
PUSH = ("elbow-table-push", "8212")
AXES = "               x                      y"
BOOT, BAG = ("knee-muddy-boot", "3101"), ("body-bag-in-front", "1175")
THREE = ("shoulder-three-by-bearing", "3199")
TORCH, HEADS = ("elbow-then-shoulder", "8175"), ("ankle-two-heads-of-calf", "7212")
CUP, NEAR_FAR = ("shoulder-straight-then-bent", "9434"), ("lumbar-near-and-far", "1012")
CORDS, LAMP = ("ankle-traction-two-cords", "7286"), ("plain-lamp-two-cords", "9360")
FRONT_BACK, STEADY = ("jaw-front-then-back", "8397"), ("knee-steady-machine", "8471")
LAYERS, JAR = ("neck-two-layers", "9286"), ("elbow-force-for-range", "7434")
WALKER = ("body-heavy-pack", "7360")
CALLED = "ok so call the outer pull x, then the inner one is 0.65x"
PULLS, CROSSED = "let a = inner pull, b = outer pull", "a cos 47° = b cos 26°"
ACROSS_UP = "| pull | across (N) | up (N) |"
INNER = "| inner | -177.6 | 301.6 |"
BESIDE = "        straight | bent"


@pytest.mark.parametrize(
    ("question", "lines", "standing"),
    [
        # a component along the segment, and where it points
        (CAN, ["F = 570 N", "stabilising part F·cos 16.0° = 548 N, towards the hand"], "unread"),
        (CAN, ["F = 570 N", "stabilising part F·cos 16.0° = 548 N, to the shoulder"], "right"),
        (CAN, ["F_ma = 548 N away from the shoulder"], "wrong"),
        (CAN, ["F_ma = 548 N towards the shoulder"], "right"),
        # a size by its components is no sum of them
        (THREE, ["x: -39.1 - 73.4 - 62.9 = -175.4", "R = 175.4 + 159.8 = 335.2 N"], "unread"),
        (POT, ["F = 1489 N", "C = 1489 + (350 + 95) sin 52° = 1840 N"], "right"),
        (POT, ["F = 1489 N", "compression 1489 + (350 + 95) cos 52° = 1763 N"], "unread"),
        # which side of the segment a part across it points to
        (BOOT, ["R_t = 90.0 N, the thigh pushes the shin upwards"], "wrong"),
        (BOOT, ["R_t = 90.0 N, the thigh pushes the shin downwards"], "right"),
        # the side on which a part of the body lies is told with the origin
        (BAG, ["trunk | 458 | 2.0 | 916"], "unread"),
        (BAG, ["M_t = 9.16 N m"], "wrong"),
        (BAG, ["trunk is 2.0 cm behind: 458*2.0 = 916 N cm"], "right"),
        (BAG, ["trunk | 458 | -2.0 | -916"], "right"),
        # columns of components, whose signs are those of the axes
        (THREE, [HEADER, "deltoid       120   109     -39.1     113.5"], "right"),
        (THREE, [HEADER, "below          70   206     -62.9      30.7"], "unread"),
        (THREE, [HEADER, "below          70   206     -62.9     -30.7"], "right"),
        # along the segment in other languages, and never by level and upright there
        (PARTS, ["F_m = 59.6 N", "dwars op de onderarm: 59,6 x cos 62 = 28,0 N"], "unread"),
        # letters for the parts of the reaction along and across
        (POT, ["C = compression, S = shear", "S = 215 + 58 = 273 N"], "right"),
        (POT, ["C = compression, S = shear", "C = 1489 + 276 + 75 = 1840 N"], "right"),
        # values with their names behind them
        (POT, ["arms: 25.5 cos 52° = 15.7 cm (trunk), 41.0 cos 52° = 25.2 cm (pot)"], "right"),
        (POT, ["moments: 55.0 N m (trunk); 23.9 N m (pot)"], "right"),
        # a product of letters that nothing is known of, with what it comes to
        (BOARD, ["F·L = 331·2.23 = 738.1 N·m"], "unread"),
        (BOARD, ["F·L = 311·2.23 = 693.5 N·m"], "right"),
        (
            BOARD,
            ["W = 613.1 N", "F·L = 331·2.23 = 738.1 N·m", "x = (738.1 − 105.7) / 613.1 = 1.031 m"],
            "follows",
        ),
        # powers of ten, and areas
        (TENDON, ["A = 0.60 cm² = 0.60 × 10⁻² m²"], "unread"),
        (TENDON, ["A = 0.60 cm² = 0.60 × 10⁻⁴ m²"], "kept"),
        # angular velocity
        (MACHINE, ["ω = 130/57.3 = 2.27 rad/s"], "kept"),
        (MACHINE, ["w = 130 deg/s = 2.27 rad/s"], "kept"),
        (MACHINE, ["130 degrees per second = 2.27 rad/s"], "kept"),
        (MACHINE, ["ω = 130 °/s = const, so no acceleration"], "remark"),
        # what the muscles give, after a wrong sum
        (MACHINE, ["M_sum = 98.1 N m cw"], "wrong"),
        (MACHINE, ["M_sum = 98.1 N m cw", "muscles must give 98.1 Nm ↺ (steady speed)"], "follows"),
        (MACHINE, ["M_sum = 98.1 N m cw", "M_net = +98.1 N m"], "follows"),
        # a balance with its unit
        (MACHINE, ["sum M = 0 N m"], "remark"),
        (MACHINE, ["ΣM = 0 N·m"], "remark"),
        # a force said again in the unit that a line asks for
        (BITE, ["C = 200,4 N", "C = 45,0 lbf"], "right"),
        # brackets of any sort, and dollars between a value and its unit
        (
            SHANK,
            [r"F\sin 21.5^\circ (3.40) = \cos 48^\circ\,[6.7(6.84)+2.3(18.0)+8.0(13.8)]"],
            "right",
        ),
        (SHANK, [r"$F = \frac{132.2}{3.40 (0.3665)} = 106.1$ lbf $= 472$ N"], "right"),
        # a sign that is typed in the column of an axis
        (KNEECAP, [AXES, "outer   370 sin29 = +179.4    370 cos29 = 323.6"], "unread"),
        (KNEECAP, [AXES, "outer   370 sin29 = -179.4    370 cos29 = 323.6"], "right"),
        # a ratio that is named is not its reverse, with a value of the page's own either
        (LEAN, ["F = 1006 N", "The mechanical advantage is 1006 / 345 = 2.92"], "wrong"),
        (LEAN, ["F = 1006 N", "The mechanical advantage is 345 / 1006 = 0.343"], "follows"),
        # the axis of a reaction in words before its letter
        (TRAY, ["Vertical: R = 13.5+4.71 = 18.21 N up"], "right"),
        (TRAY, ["that makes 1.628 N m in all"], "right"),
        # a number of the problem is no wrong value of something else
        (PACK, ["feet go from -1.85 to +7.40", "to the back edge 1.85 - 1.60 = 0.25 in"], "unread"),
        # the weight of someone whole is the body, and the person
        (PACK, ["body: 155 x 3.45 = 534.75 lb in"], "right"),
        (PRESS_UP, ["The weight of the person is 84 kg times 9.81, that gives 824 N."], "right"),
        # all that is worked out in a line is right, or the line is not
        (LEANING, ["3rd class, 17.7 / 3.5 = 5.06"], "unread"),
        (HELMET, ["J x 1.80 = 10.5 x 2.90 + 0.40 x 7.00 = 2.80 + 2.80 = 5.600 lbf in"], "unread"),
        (HELMET, ["J x 1.80 = 10.5 x 2.90 + 0.40 x 7.00 = 30.45 + 2.80 = 33.25 lbf in"], "right"),
        # a ratio by no name is of like things, and one by two names is of these
        (BREAD, ["bite force / muscle force = 73/80 = 0.912"], "unread"),
        # a line that is taken back, with all that it worked out
        (NODDING, ["arm of head = 13.3 sin 40 = 8.55 ... no: 13.3 cos 40 = 10.19 cm"], "right"),
        (NODDING, ["arm of head = 13.3 sin 40 = 8.55 cm"], "wrong"),
        # a letter that is a word too, where it stands as a factor
        (HELD, ["let a = inner pull, b = outer pull", "a cos 47° = b cos 26°"], "wrong"),
        (HELD, ["let a = inner pull, b = outer pull", "a sin 47° = b sin 26°"], "right"),
        # the force on the other body points the other way
        (WRIST, ["force on the hand at the wrist: 23.5 N ↑"], "kept"),
        (WRIST, ["force on the forearm at the wrist: 23.5 N ↑"], "wrong"),
        # a sense that is told by that of the moment before
        (
            LEAN,
            [
                "floor: 345 . 0.133 = 45.9 Nm",
                "Moment of the foot: 10.3 . 0.0665 = 0.685 Nm (it turns in the same sense)",
            ],
            "unread",
        ),
        (
            LEAN,
            ["floor: 345 . 0.133 = 45.9 Nm", "Moment of the foot: 10.3 . 0.0665 = 0.685 Nm"],
            "right",
        ),
        # an angle of the page that is told from another line
        (BEARING, ["atan(97.9/160.5) = 31.4, so its bearing is 180 - 31.4 = 148.6 deg"], "kept"),
        (BEARING, ["so its bearing is 180 - 105 = 75 deg"], "unread"),
        # a ratio by no name, and a sum, are of like things
        (LEANING, ["F = 1771 N", "1771/5.5 = 322"], "unread"),
        # one unit in another
        (DOOR, ["1 lbf ft = 4.448 x 2.3 = 10.230 N m"], "unread"),
        (DOOR, ["1 lbf ft = 4.448 x 0.3048 = 1.3558 N m"], "kept"),
        # the base of support, with where its edges lie, and a coordinate with the sign of its side
        (PACK, ["heels at -1.85 in, toes at +7.40 in => inside the base"], "right"),
        (PACK, ["1.60 lies between, so outside"], "wrong"),
        (PACK, ["x_h = -1.85 in"], "kept"),
        # an axis in short, the sign of a cell, a class in short
        (JAW, ["vert 61 cos 67 = 23.8"], "unread"),
        (JAW, ["3rd cl."], "right"),
        (ARM, [ARMS, "lower      70    216    -56.6    +41.1"], "unread"),
        (ARM, [ARMS, "lower      70    216    -56.6    -41.1"], "right"),
        # numbers of somebody else are known for nothing; a given length follows from no line
        (OTHER_PACK, ["sum = 292.75 lb in", "x = 292.75/182.5 = 1.60 in"], "unread"),
        (
            OTHER_PACK,
            ["x = 292.75/182.5 = 1.60 in", "to the front 7.40 - 1.60 = 5.80 in"],
            "unread",
        ),
        (PAIL, ["F_m = 31.33/0.039 = 803 N ~ 1.1 BW"], "right"),
        (PAIL, ["F_m = 31.33/0.039 = 833 N ~ 1.1 BW"], "wrong"),
        (PAIL, ["weigth of the forarm 16.68 N"], "right"),
        # a wrong value worked out from other numbers than its symbols before
        (
            TIPTOE,
            ["P = 569.5 N", "T = P × 4.83 / 13.97", "T = 569.5 × 4.83 / 13.97 = 196.9 N"],
            "follows",
        ),
        # signs in line below one another
        (JAW, ["F_my   =   61  *  sin 67   =   56.2 lbf"], "right"),
        (TIPTOE, ["R_y       =   -569.5   -   1648   =   -2218 N"], "right"),
        (TIPTOE, ["F_m       =   1648 N"], "right"),
        # a force by its angle alone is a component, whichever axis is meant
        (TWO_BEARINGS, ["masseter: 160cos59 = 82.4 N, 160sin59 = 137.1 N"], "right"),
        # what one unit is, and one figure, prove nothing
        (PUSH, ["all in lb & inches till the end, 1 lb mass weighs 1 lbf"], "unread"),
        # brackets about the unit of gravity
        (MACHINE, ["M_s = 4.8 [kg] · 9.81 [m/s²] · 0.26 [m] · cos 33° = 10.3 [Nm]"], "right"),
        # the joint that a moment is about is no force, and a later one is not the one before
        (TORCH, ["About the elbow the forearm gives 16.19 × 0.178 = 2.88 N m clockwise."], "right"),
        (TORCH, ["Shoulder: 23.06 × 0.166 + 22.07 × 0.0730 = 5.44 N m anticlockwise"], "unread"),
        (TORCH, ["about the shoulder 23.06 × 0.166 + 22.07 × 0.0730 = 5.44 N m"], "unread"),
        (TORCH, ["Shoulder: 23.06 × 0.166 + 22.07 × 0.0730 + 5.49 = 10.93 N m"], "right"),
        # a table whose columns of components are called in other words, and what these add up to
        (HEADS, [ACROSS_UP], "remark"),
        (HEADS, [ACROSS_UP, INNER], "right"),
        (HEADS, [ACROSS_UP, INNER, "| outer | 130.1 | 36.1 |"], "wrong"),
        (
            HEADS,
            [ACROSS_UP, INNER, "| outer | 130.1 | 36.1 |", "| sum | −47.5 | 337.7 |"],
            "follows",
        ),
        (
            HEADS,
            [ACROSS_UP, INNER, "| outer | 36.1 | 130.1 |", "| sum | −213.7 | 431.7 |"],
            "unread",
        ),
        (
            HEADS,
            [ACROSS_UP, INNER, "| outer | 36.1 | 130.1 |", "| sum | −141.5 | 431.7 |"],
            "right",
        ),
        (HEADS, ["muscle   sideways   upwards", "inner   -177.6   301.6"], "right"),
        # two postures in columns beside each other
        (CUP, [BESIDE, "arm 31.4·29.5 = 926 | 31.4·22.0 = 691 (N·cm)"], "right"),
        (CUP, [BESIDE, "cup 5.89·62 = 365 | 5.89·30 = 187"], "unread"),
        (CUP, [BESIDE, "sum 1291 | 868"], "right"),
        (CUP, [BESIDE, "sum 1291 | 858"], "unread"),
        (CUP, ["| | straight | bent |", "| deltoid | 310 N | 208 N |"], "right"),
        (CUP, ["| | straight | bent |", "| deltoid | 310 N | 280 N |"], "unread"),
        (NEAR_FAR, ["   near   far", "moment (N m)   15.3   33.8"], "right"),
        (NEAR_FAR, ["   near   far", "moment (N m)   15.3   38.3"], "unread"),
        # an equation that another is put into
        (CORDS, ["into (2)  0.8290 U - 10.05 + 0.0986 U = 35"], "right"),
        (CORDS, ["put in (2): 0.8290 U - 10.05 + 0.0986 U = 53"], "unread"),
        # what the weight of a pound is
        (LAMP, ["1 lb = 9.81/2.205 = 4.449 N"], "kept"),
        (LAMP, ["1 lb = 9.81 × 2.205 = 4.449 N"], "unread"),
        # a letter that a sentence gives to a force before it goes on
        (LAYERS, [CALLED, "5.2x+2.535x=348.3"], "right"),
        (LAYERS, ["call the inner pull y", "5.2 y + 3.9*0.65 y = 348.3"], "unread"),
        (LAYERS, ["let x be the outer pull", "5.2x+2.535x=348.3"], "right"),
        (LAYERS, [CALLED, "5.2x+3.9x=348.3"], "wrong"),
        (LAYERS, [CALLED, "backwards we have 5.2x + 3.9*0.65x, must be the same"], "kept"),
        (LAYERS, [CALLED, "backwards we have 5.2x + 3.9*x, must be the same"], "unread"),
        # forces in pounds in an equation of both
        (LAMP, ["T1 cos30 = T2 cos54", "T1 sin30 + T2 sin54 = 21.0 lb"], "right"),
        (LAMP, ["T1 cos30 = T2 cos54", "T1 cos30 + T2 sin54 = 21.0 lb"], "unread"),
        (LAMP, ["T1 cos30 = T2 cos54", "T1 sin30 + T2 sin54 = 21.0 N"], "unread"),
        (LAMP, ["T1 cos30 = T2 cos54", "T1 sin30 + T2 sin54 = 93.4 lb"], "unread"),
        # what each value of a line is for
        (TORCH, ["arms: 16.6 cm for the elbow, 7.30 cm for the upper arm"], "right"),
        (TORCH, ["arms: 16.6 cm for the elbow, 8.30 cm for the upper arm"], "unread"),
        # one equation of both sought forces in other numbers, after a wrong one
        (HELD, [PULLS, CROSSED, "so b = a × 0.6820/0.8988 = 0.7588a"], "follows"),
        (HELD, [PULLS, CROSSED, "so b = a × 0.6820/0.8988 = 0.8788a"], "unread"),
        (HELD, [PULLS, CROSSED, "0.682 a - 0.8988 b = 0"], "follows"),
        (HELD, [PULLS, CROSSED, CROSSED], "wrong"),
        # a value of the joint before is none of the next one's muscles
        (TORCH, ["M_net1 = 5.49 N m", "shoulder muscles 5.49 Nm"], "unread"),
        (TORCH, ["M_net1 = 5.49 N m", "shoulder muscles 10.93 Nm"], "right"),
        (TORCH, ["Moment of upper arm: 22.07 × 0.0730 = 1.61"], "right"),
        # what stands in the column of the other posture
        (CUP, [BESIDE, "deltoid 208 | 310"], "unread"),
        # numbers in their order, and forces
        (WALKER, ["x = 2.34 in", "−2.00 < 2.34 < 7.45 → inside the base"], "right"),
        (WALKER, ["x = 2.34 in", "−2.00 < 2.34 < 7.45 → outside the base"], "wrong"),
        (WALKER, ["x = 2.34 in", "2.34 < −2.00 < 7.45"], "unread"),
        (HELD, ["the outer part pulls harder than the inner part"], "kept"),
        (HELD, ["the inner part pulls harder than the outer part"], "remark"),
        # what words fit is not meant where a slip in another gives the number
        (JAR, ["way of the jar: 0.6 x 3.8 : 35 = 0.065 cm"], "unread"),
        # a class in a hurry, and kilowatts
        (FRONT_BACK, ["both 3rd clas bc the muscle is closer"], "right"),
        (STEADY, ["Power = 80.8 x 60 = 4848 W", "it is 4.8 kW"], "follows"),
    ],
)
def test_a_line_comes_out_so(question: tuple[str, str], lines: list[str], standing: str) -> None:
    problem, seed = question
    page = judge_page(SHELF.problems[problem].question(seed), lines)
    assert page.lines[-1].standing == standing


def test_a_force_said_again_in_another_unit_is_the_line_that_asks_for_that() -> None:
    problem, seed = BITE
    page = judge_page(SHELF.problems[problem].question(seed), ["C = 200,4 N", "C = 45,0 lbf"])
    assert [claim.key for line in page.lines for claim in line.claims] == ["G_c", "G_p"]


@pytest.mark.parametrize(
    ("text", "axis", "way"),
    [
        ("548 N towards the hand", "shoulder", 1),
        ("548 N towards the shoulder", "shoulder", -1),
        ("away from the elbow", "elbow", 1),
        ("into the joint", "joint", -1),
        ("away from the hand, towards the shoulder", "elbow", -1),
        ("towards the pelvis", "lumbar", -1),
        ("towards the hand and away from the hand", "elbow", 0),
        ("towards the wall", "elbow", 0),
        ("548 N", "elbow", 0),
    ],
)
def test_words_point_along_a_segment(text: str, axis: str, way: int) -> None:
    assert way_along(text, {axis}) == way
