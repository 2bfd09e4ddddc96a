"""Problems of arms and hands, worked on paper from the statement alone."""

from __future__ import annotations

import numpy as np

from helpers.on_paper import (
    CM,
    DOWN,
    INCH,
    LBF,
    LEFT,
    MM,
    OTHER_G,
    POUND,
    RIGHT,
    UP,
    Answers,
    G,
    Numbers,
    across,
    held,
    paper,
    reaction,
    slanting,
    tied,
    way,
)


@paper("elbow-iron-held-up")
def _(n: Numbers) -> Answers:
    turning = (n.m_f * n.d_f + n.m_l * n.d_l) * G
    biceps = turning / (n.d_m + n.q_b * n.d_b)
    rest = (n.m_f + n.m_l) * G - biceps * (1 + n.q_b)
    return {"F_m": biceps, "F_b": n.q_b * biceps, "R_y": rest}


@paper("elbow-up-from-a-chair")
def _(n: Numbers) -> Answers:
    rest_of_chair = n.F_n * way(180 - n.alpha)
    hand = n.d_n * CM * way(-90 + n.theta)
    force, rest = held(-n.a_m * CM, UP, [(hand, rest_of_chair)])
    return {"F_m": force, "mu_n": 1 / np.tan(np.radians(n.alpha)), **reaction(rest)}


@paper("elbow-any-length")
def _(n: Numbers) -> Answers:
    force = (n.W_f * n.d_f + n.W_l * n.d_l) / n.d_m
    return {"F_m": force, "R_y": n.W_f + n.W_l - force}


@paper("elbow-force-for-range")
def _(n: Numbers) -> Answers:
    times = n.d_l / n.d_m
    found = {"F_m": n.m_l * G * times, "k_F": times}
    return {**found, "s_l": n.s_m * times * CM, "v_l": n.v_m * times * CM}


@paper("elbow-kettlebell")
def _(n: Numbers) -> Answers:
    turning = n.m_f * n.d_f * n.L + n.m_l * (n.L + n.d_g)
    force = turning * G / n.d_m
    return {"F_m": force, "R_y": (n.m_f + n.m_l) * G - force}


@paper("elbow-pail-of-water")
def _(n: Numbers) -> Answers:
    pail = n.m_l * POUND
    force = (n.m_f * n.d_f * n.L + pail * n.d_l) * G / n.d_m
    return {"F_m": force, "R_y": (n.m_f + pail) * G - force}


@paper("elbow-bag-over-forearm")
def _(n: Numbers) -> Answers:
    acting = [(n.d_l * RIGHT, n.m_l * G * DOWN), (n.d_f * RIGHT, n.m_f * G * DOWN)]
    run = np.array([n.a_o - n.d_m, n.h_o])
    force, rest = tied(n.d_m * RIGHT, run / np.hypot(*run), acting)
    return {"F_m": force, **reaction(rest)}


@paper("elbow-how-heavy-a-jug")
def _(n: Numbers) -> Answers:
    jug = (n.F_m * n.d_m - n.m_f * G * n.d_f) / n.d_l
    return {"W_l": jug, "m_l": jug / G, "R_y": n.m_f * G + jug - n.F_m}


@paper("elbow-how-much")
def _(n: Numbers) -> Answers:
    pull = n.F_m * way(180 - n.alpha)
    acting = [(n.d_m * RIGHT, pull), (n.d_f * n.L * RIGHT, n.m_f * G * DOWN)]
    melon, rest = tied(n.d_l * RIGHT, DOWN, acting)
    return {"W_l": melon, "m_l": melon / G, **reaction(rest)}


@paper("elbow-muscle-arm")
def _(n: Numbers) -> Answers:
    turning = (n.m_l * n.d_l + n.m_f * n.d_f * n.L) * INCH * POUND * G
    return {"d_m": turning / (n.F_m * LBF)}


@paper("elbow-pull-in-two-parts")
def _(n: Numbers) -> Answers:
    pull = way(180 - n.alpha)
    acting = [(n.d_l * RIGHT, n.m_l * G * DOWN), (n.d_f * RIGHT, n.m_f * G * DOWN)]
    force, _ = tied(n.d_m * RIGHT, pull, acting)
    along, up = across(force * pull, 0)
    return {"F_m": force, "F_ma": along, "F_mt": up}


@paper("elbow-quick-lift")
def _(n: Numbers) -> Answers:
    force = n.m_f * (G + n.a_f) * n.d_f / n.d_m
    return {"F_m": force, "F_i": n.m_f * n.a_f, "R_y": n.m_f * (G + n.a_f) - force}


@paper("elbow-sinking-in-a-brace")
def _(n: Numbers) -> Answers:
    level = n.C_b / (n.m_f * G * n.d_f * CM)
    return {"theta": np.degrees(np.arccos(level)), "R_y": n.m_f * G}


@paper("elbow-stiff-brace")
def _(n: Numbers) -> Answers:
    force = (n.m_f * G * n.d_f * CM + n.C_b) / (n.d_m * CM)
    return {"F_m": force, "R_y": n.m_f * G - force}


@paper("elbow-stone-held")
def _(n: Numbers) -> Answers:
    force = n.A_m * n.k_m
    stone = (force * n.d_m - n.m_f * G * n.d_f) / n.d_l
    return {"F_m": force, "W_l": stone, "m_l": stone / G}


@paper("elbow-table-push")
def _(n: Numbers) -> Answers:
    scales, weight = n.G_s * LBF, n.m_f * POUND * G
    force = (scales * n.d_s - weight * n.d_f * n.L) / n.d_m
    return {"F_m": force, "R_y": weight - scales - force}


@paper("elbow-cord-at-an-angle")
def _(n: Numbers) -> Answers:
    slant = np.degrees(np.arcsin(n.m_f * G * n.d_f / (n.F_c * n.d_c)))
    rest = -(n.F_c * way(180 - slant) + n.m_f * G * DOWN)
    return {"alpha": slant, **reaction(rest)}


@paper("elbow-hand-barrow")
def _(n: Numbers) -> Answers:
    rear = n.m_p * G * n.d_p / n.d_r
    hand = n.q_h * rear
    return {"F_r": rear, "F_h": hand, "F_m": (hand * n.d_h + n.m_f * G * n.d_f) / n.d_m}


@paper("elbow-level-then-lowered")
def _(n: Numbers) -> Answers:
    weight, low = n.m_l * G, way(-n.beta)
    level = weight * n.d_l / n.d_m
    lowered, _ = tied(n.d_m * low, way(180 - n.beta - n.alpha), [(n.d_l * low, weight * DOWN)])
    return {"F_h": level, "F_d": lowered, "q_F": lowered / level}


@paper("elbow-then-shoulder")
def _(n: Numbers) -> Answers:
    elbow = (n.m_l * n.d_l + n.m_f * n.d_f) * G * CM
    level = np.cos(np.radians(n.beta)) * CM
    weight = (n.m_l + n.m_f) * G
    return {"M_net1": elbow, "M_net2": elbow + level * (weight * n.L_u + n.m_u * G * n.d_u)}


@paper("elbow-tilted-forearm")
def _(n: Numbers) -> Answers:
    arm = way(n.beta)
    weights = [(n.d_l, n.m_l), (n.d_f * n.L, n.m_f)]
    acting = [(place * arm, mass * POUND * G * DOWN) for place, mass in weights]
    force, rest = tied(n.d_m * arm, way(90 + n.theta), acting)
    return {"F_m": force, **reaction(rest)}


@paper("elbow-two-flexors")
def _(n: Numbers) -> Answers:
    turning, share = (n.m_l * n.d_l + n.m_f * n.d_f) * G, n.A_b / n.A_m
    biceps = turning / (n.d_m + share * n.d_b)
    return {"F_m": biceps, "F_b": share * biceps}


@paper("elbow-arm-on-a-photo")
def _(n: Numbers) -> Answers:
    elbow, wrist = np.array([n.x_e, -n.y_e]), np.array([n.x_w, -n.y_w])
    upper, lower = 0.436 * elbow, elbow + 0.682 * (wrist - elbow)
    centre = (0.028 * upper + 0.022 * lower) / 0.05 * CM
    return {"x_c": centre[0], "y_c": centre[1]}


@paper("elbow-both-attachments")
def _(n: Numbers) -> Answers:
    acting = [(0.682 * n.L * RIGHT, 0.022 * n.m_b * G * DOWN), (n.d_l * RIGHT, n.m_l * G * DOWN)]
    run = np.array([n.a_o - n.d_m, n.h_o])
    force, rest = tied(n.d_m * RIGHT, run / np.hypot(*run), acting)
    return {"F_m": force, **reaction(rest)}


@paper("elbow-full-teapot")
def _(n: Numbers) -> Answers:
    weights = [(n.d_f * n.L, n.W_f * n.m_b), (n.d_l, n.m_l)]
    force, rest = slanting(-n.beta, n.d_m, n.alpha, weights)
    return {"F_m": force, **reaction(rest)}


@paper("finger-at-the-spinet")
def _(n: Numbers) -> Answers:
    times = n.d_k / n.a_m
    found = {"F_m": n.G_k * times, "k_F": times}
    return {**found, "s_k": n.s_m * times * MM, "v_k": n.v_m * times * CM}


@paper("finger-in-clay")
def _(n: Numbers) -> Answers:
    force = (n.G_c * n.d_c + n.F_e * n.a_e) / n.a_m
    rest = (force + n.F_e) * RIGHT + n.G_c * DOWN
    return {"F_m": force, "MA": n.G_c / force, "S_m": force / n.A_m, **reaction(rest)}


@paper("finger-on-a-button")
def _(n: Numbers) -> Answers:
    force = n.G_b * n.d_b / n.d_m
    return {"F_m": force, **reaction(force * RIGHT + n.G_b * DOWN)}


@paper("finger-key-press")
def _(n: Numbers) -> Answers:
    tip = n.d_k * way(-n.beta)
    force, rest = held(-n.d_m, LEFT, [(tip, n.G_k * UP)])
    return {"F_m": force, **reaction(rest)}


@paper("finger-hook-bucket")
def _(n: Numbers) -> Answers:
    bone = way(n.theta)
    acting = [(n.d_p * bone, n.m_p * G * DOWN), (n.d_b * bone, n.m_b * G * DOWN)]
    force, rest = tied(n.d_m * bone, way(180 + n.theta - n.alpha), acting)
    return {"F_m": force, **reaction(rest)}


@paper("shoulder-arm-of-any-length")
def _(n: Numbers) -> Answers:
    acting = [(n.d_a * RIGHT, n.W_a * DOWN), (n.d_c * RIGHT, n.W_c * DOWN)]
    force, rest = tied(n.d_m * RIGHT, way(180 - n.theta), acting)
    return {"F_m": force, **reaction(rest)}


@paper("shoulder-ball-swung")
def _(n: Numbers) -> Answers:
    level = np.sin(np.radians(n.theta)) * CM
    holds = (n.m_a * n.d_a + n.m_c * n.d_c) * G * level
    needed = holds + n.I_s * n.q_s
    return {"M_net": holds, "M_q": needed, "P_s": needed * n.omega}


@paper("shoulder-arm-held-out")
def _(n: Numbers) -> Answers:
    turning = n.m_u * n.d_u + n.m_f * n.d_f + n.m_h * n.d_h
    return {"x_c": turning / (n.m_u + n.m_f + n.m_h) * CM}


@paper("shoulder-band-turn")
def _(n: Numbers) -> Answers:
    band = n.k_b * (n.l_b - n.l_0)
    return {"F_b": band, "M_net": band * n.d_b * CM, "R_y": band}


@paper("shoulder-level-broom")
def _(n: Numbers) -> Answers:
    acting = [(n.d_l * RIGHT, n.W_l * DOWN), (n.d_a * RIGHT, n.W_a * DOWN)]
    force, rest = held(n.d_m, way(180 - n.alpha), acting)
    return {"F_m": force, **reaction(rest)}


@paper("shoulder-plate-handed-over")
def _(n: Numbers) -> Answers:
    return {"M_net": (n.m_l * n.d_l + n.m_a * n.d_a) * G * CM, "R_y": (n.m_l + n.m_a) * G}


@paper("shoulder-arm-to-the-side")
def _(n: Numbers) -> Answers:
    weights = [(n.d_l, n.m_l), (n.d_a * n.L, n.m_a)]
    force, rest = slanting(0, n.d_m, n.alpha, weights)
    return {"F_m": force, **reaction(rest)}


@paper("shoulder-band-pull")
def _(n: Numbers) -> Answers:
    band = n.k_b * (n.l_b - n.l_0) * CM
    acting = [(n.d_b * RIGHT, band * DOWN), (n.d_a * RIGHT, n.m_a * G * DOWN)]
    force, rest = tied(n.d_m * RIGHT, way(180 - n.theta), acting)
    return {"F_m": force, **reaction(rest)}


@paper("shoulder-can-held-out")
def _(n: Numbers) -> Answers:
    pull = way(180 - n.alpha)
    acting = [(n.d_l * RIGHT, n.W_l * DOWN), (n.d_a * RIGHT, n.W_a * DOWN)]
    force, _ = tied(n.d_m * RIGHT, pull, acting)
    along, up = across(force * pull, 0)
    return {"F_m": force, "F_ma": along, "F_mt": up}


@paper("shoulder-lantern-held-out")
def _(n: Numbers) -> Answers:
    weights = [(n.d_l, n.m_l * POUND), (n.d_a * n.L, n.m_a * POUND)]
    force, rest = slanting(-n.beta, n.d_m, n.alpha, weights)
    return {"F_m": force, **reaction(rest)}


@paper("shoulder-straight-then-bent")
def _(n: Numbers) -> Answers:
    straight, _ = slanting(0, n.d_m, n.alpha, [(n.d_s, n.m_l), (n.a_s, n.m_a)])
    bent, _ = slanting(0, n.d_m, n.alpha, [(n.d_b, n.m_l), (n.a_b, n.m_a)])
    return {"F_s": straight, "F_b": bent, "q_F": straight / bent}


@paper("shoulder-three-by-bearing")
def _(n: Numbers) -> Answers:
    return reaction(n.F_d * way(n.alpha) + n.F_s * way(n.beta) + n.F_l * way(n.gamma))


@paper("shoulder-two-parts-of-deltoid")
def _(n: Numbers) -> Answers:
    return reaction((n.F_f * way(n.alpha) + n.F_b * way(180 - n.beta)) * LBF)


@paper("shoulder-upper-arm-alone")
def _(n: Numbers) -> Answers:
    weight = n.m_u * G
    needed = (n.F_e + weight * n.d_u) * n.d_e * CM + n.C_f
    return {"M_net": needed, "R_y": n.F_e + weight}


@paper("shoulder-lantern")
def _(n: Numbers) -> Answers:
    weights = [(n.d_a, n.m_a), (n.d_l, n.m_l)]
    force, rest = slanting(n.beta, n.d_m, n.alpha, weights)
    axial, transverse = across(rest, n.beta)
    return {"F_m": force, **reaction(rest), "R_a": axial, "R_t": transverse}


@paper("shoulder-raised-arm-bag")
def _(n: Numbers) -> Answers:
    arm, upper = way(-n.beta), way(90 - n.beta)
    loads = [(n.d_a * n.L, n.W_a * n.m_b), (n.d_s, n.m_s), (n.d_l, n.m_l)]
    acting = [(place * arm, mass * G * DOWN) for place, mass in loads]
    run = (n.a_o - n.d_m) * arm + n.h_o * upper
    force, rest = tied(n.d_m * arm, run / np.hypot(*run), acting)
    return {"F_m": force, **reaction(rest)}


@paper("wrist-bell-held-still")
def _(n: Numbers) -> Answers:
    turning, share = (n.m_h * n.d_h + n.m_l * n.d_l) * G, n.A_b / n.A_m
    short = turning / (n.a_m + share * n.a_b)
    return {"F_m": short, "F_b": share * short}


@paper("wrist-trowel-of-soil")
def _(n: Numbers) -> Answers:
    flexors = n.A_f * n.k_f
    turning = (n.m_h * n.d_h + n.m_t * n.d_t) * OTHER_G + flexors * n.a_f
    return {"F_f": flexors, "F_m": turning / n.a_m}


@paper("wrist-flat-tray")
def _(n: Numbers) -> Answers:
    weight = n.m_h * G
    force = (n.W_t * n.d_t + weight * n.d_h) / n.d_m
    return {"F_m": force, **reaction(force * RIGHT + (n.W_t + weight) * UP)}


@paper("wrist-bent-hand")
def _(n: Numbers) -> Answers:
    forearm, hand = n.L_f * RIGHT, n.L_h * way(-n.theta)
    centre = (0.016 * 0.43 * forearm + 0.006 * (forearm + 0.506 * hand)) / 0.022 * CM
    return {"x_c": centre[0], "y_c": centre[1]}


@paper("wrist-hammer")
def _(n: Numbers) -> Answers:
    weights = [(n.d_t, n.m_t * POUND), (n.d_h, n.m_h * POUND)]
    force, rest = slanting(0, n.d_m, n.alpha, weights)
    return {"F_m": force, **reaction(rest)}


@paper("wrist-then-elbow")
def _(n: Numbers) -> Answers:
    wrist = (n.m_l * n.d_l + n.m_h * n.d_h) * G * CM
    beyond = (n.m_l + n.m_h) * G
    elbow = wrist + (beyond * n.L_f + n.m_f * G * n.d_f) * CM
    return {"M_net1": wrist, "M_net2": elbow, "R_y2": beyond + n.m_f * G}


@paper("wrist-rolling-pin")
def _(n: Numbers) -> Answers:
    weights = [(n.d_h, n.m_h), (n.d_p, n.m_p)]
    force, rest = slanting(n.theta, n.d_m, n.alpha, weights)
    return {"F_m": force, **reaction(rest)}
