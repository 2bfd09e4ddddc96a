"""Problems of trunks, heads, whole bodies and things, worked on paper from the statement alone."""

from __future__ import annotations

import numpy as np

from helpers.on_paper import (
    CM,
    DOWN,
    INCH,
    LBF,
    LEFT,
    OTHER_G,
    POUND,
    RIGHT,
    UP,
    Answers,
    G,
    Numbers,
    across,
    held,
    moments,
    paper,
    reaction,
    slanting,
    tied,
    way,
)


@paper("body-rope-pulled")
def _(n: Numbers) -> Answers:
    lean, weight = way(90 + n.theta), n.m_p * G
    force, rest = tied(n.d_r * CM * lean, RIGHT, [(n.d_p * CM * lean, weight * DOWN)])
    needed = abs(rest[0]) / rest[1]
    grip = 1.0 if n.mu_s >= needed else -1.0
    return {"F_r": force, "F_k": force / G, "mu_n": needed, "grip": grip, **reaction(rest)}


@paper("body-standing-on-a-board")
def _(n: Numbers) -> Answers:
    return {"d_b": n.m_s * n.d_s / n.m_b * CM, "R_y": (n.m_b - n.m_s) * G}


@paper("body-plank-two-supports")
def _(n: Numbers) -> Answers:
    weight = n.m_b * POUND * G
    force = weight * n.d_b / n.d_f
    return {"F_f": force, "R_y": weight - force}


@paper("body-wheelchair-castors")
def _(n: Numbers) -> Answers:
    force = n.m_b * G * n.d_b / n.d_c
    return {"F_c": force, "R_y": n.m_b * G - force}


@paper("body-bag-in-front")
def _(n: Numbers) -> Answers:
    weights = np.array([n.W_t, n.W_a, n.W_l, n.W_g])
    place = float(weights @ [-n.d_t, n.d_a, n.d_l, n.d_g] / weights.sum())
    return {"x_c": place * CM, "b_edge": min(place + n.x_h, n.x_t - place) * CM}


@paper("body-heavy-pack")
def _(n: Numbers) -> Answers:
    place = (n.m_b * n.d_b - n.m_p * n.d_p) / (n.m_b + n.m_p)
    edge = min(place + n.x_h, n.x_t - place)
    return {"x_c": place * INCH, "b_edge": edge * INCH}


@paper("body-press-up-held")
def _(n: Numbers) -> Answers:
    weight = n.m_b * G
    force = weight * n.d_b / n.d_h
    return {"F_h": force, "R_y": weight - force}


@paper("body-reaction-board")
def _(n: Numbers) -> Answers:
    weight, board = n.m_b * G, n.m_p * G
    return {"d_b": (n.F_s * n.d_s - board * n.d_p) / weight, "R_y": weight + board - n.F_s}


@paper("body-lean-on-wall")
def _(n: Numbers) -> Answers:
    lean, weight = way(n.theta), n.m_p * G
    force, rest = tied(n.d_h * lean, LEFT, [(n.d_p * lean, weight * DOWN)])
    needed = force / weight
    grip = 1.0 if n.mu_s >= needed else -1.0
    return {"F_h": force, "mu_n": needed, "grip": grip, **reaction(rest)}


@paper("body-press-up-top-with-vest")
def _(n: Numbers) -> Answers:
    body = way(n.theta)
    acting = [(n.d_b * body, n.m_b * G * DOWN), (n.d_v * body, n.m_v * G * DOWN)]
    force, rest = tied(n.d_h * body, way(90 + n.alpha), acting)
    return {"F_h": force, **reaction(rest)}


@paper("body-too-far-forward")
def _(n: Numbers) -> Answers:
    legs, trunk = n.x_l * n.L_l, n.L_l + n.x_t * n.L_t
    along = (n.m_l * legs + n.m_t * trunk) / (n.m_l + n.m_t)
    place = along * np.sin(np.radians(n.theta))
    edge = min(abs(place + n.x_h), abs(n.x_f - place))
    return {"x_c": place * CM, "b_edge": edge * CM}


@paper("jaw-muscle-on-a-carrot")
def _(n: Numbers) -> Answers:
    muscle = n.A_m * n.k_m
    push = muscle * n.d_m / n.d_c
    return {"F_m": muscle, "G_c": push, "R_y": push - muscle, "G_p": push / LBF}


@paper("jaw-two-by-bearing")
def _(n: Numbers) -> Answers:
    return reaction(n.F_m * way(n.alpha) + n.F_t * way(n.beta))


@paper("jaw-back-teeth")
def _(n: Numbers) -> Answers:
    force = n.G_n * n.d_n / n.d_m
    return {"F_m": force, "R_y": n.G_n - force}


@paper("jaw-hard-bread")
def _(n: Numbers) -> Answers:
    bite = n.F_m * n.d_m / n.d_b
    return {"F_b": bite, "P_b": bite / LBF, "K_b": bite / G}


@paper("jaw-front-teeth")
def _(n: Numbers) -> Answers:
    pull = n.F_m * LBF * way(n.theta)
    push, rest = tied(n.d_t * RIGHT, DOWN, [(n.d_m * RIGHT, pull)])
    return {"G_t": push, **reaction(rest)}


@paper("jaw-front-then-back")
def _(n: Numbers) -> Answers:
    turning = n.F_m * np.cos(np.radians(n.alpha)) * n.d_m
    return {"F_b": turning / n.d_b, "F_c": turning / n.d_c, "q_F": n.d_b / n.d_c}


@paper("lumbar-two-thirds-up")
def _(n: Numbers) -> Answers:
    trunk = n.L * CM * way(n.beta)
    acting = [(n.d_u * trunk, n.m_u * OTHER_G * DOWN), (n.d_a * trunk, n.m_a * OTHER_G * DOWN)]
    force, rest = tied(n.d_m * trunk, way(180 + n.beta - n.alpha), acting)
    axial, transverse = across(rest, n.beta)
    found = {"F_m": force, "F_k": force / 1000, "R_a": axial, "R_t": transverse}
    return {**found, **reaction(rest)}


@paper("lumbar-close-or-far")
def _(n: Numbers) -> Answers:
    force = (n.m_l * n.d_l + n.m_u * n.d_u) * POUND * G / n.d_m
    return {"F_m": force, "R_y": (n.m_l + n.m_u) * POUND * G + force}


@paper("lumbar-bow")
def _(n: Numbers) -> Answers:
    level = np.cos(np.radians(n.theta)) * CM
    return {"M_net": (n.m_u * n.d_u + n.m_r * n.d_r) * G * level}


@paper("lumbar-crate-beside-body")
def _(n: Numbers) -> Answers:
    upper, crate = n.W_u * n.m_b * G, n.m_l * G
    force = (upper * n.d_u + crate * n.d_l) / n.d_m
    rest = upper + crate + force
    return {"F_m": force, "R_y": rest, "K_R": rest / 1000, "k_R": rest / crate}


@paper("lumbar-level-trunk")
def _(n: Numbers) -> Answers:
    weights = [(n.d_u, n.m_u), (n.d_l, n.m_l)]
    force, rest = slanting(0, n.d_m, n.alpha, weights)
    return {"F_m": force, **reaction(rest)}


@paper("lumbar-near-and-far")
def _(n: Numbers) -> Answers:
    near, far = (n.m_l * G * reach / n.d_m for reach in (n.d_n, n.d_f))
    return {"F_n": near, "F_f": far, "q_F": far / near}


@paper("lumbar-crate-jerked")
def _(n: Numbers) -> Answers:
    upper, crate = n.m_u * G, n.m_l * (G + n.a_l)
    force = (upper * n.d_u + crate * n.d_l) / n.d_m
    return {"F_m": force, "R_y": upper + crate + force}


@paper("lumbar-flower-pot")
def _(n: Numbers) -> Answers:
    trunk = way(n.beta)
    acting = [(n.d_t * trunk, n.W_t * DOWN), (n.d_p * trunk, n.W_p * DOWN)]
    force, rest = held(n.a_m, -trunk, acting)
    axial, transverse = across(rest, n.beta)
    size = float(np.hypot(*rest))
    return {"F_m": force, "R_a": axial, "R_t": transverse, "R": size}


@paper("lumbar-leaning-trunk")
def _(n: Numbers) -> Answers:
    trunk, weight = way(n.beta), n.m_b * G
    loads = [(n.d_t, n.W_t * weight), (n.d_h, n.W_h * weight), (n.d_a, n.m_a * G)]
    acting = [(place * trunk, size * DOWN) for place, size in loads]
    force, rest = held(n.a_m, way(180 + n.theta), acting)
    return {"F_m": force, **reaction(rest)}


@paper("lumbar-over-the-basin")
def _(n: Numbers) -> Answers:
    trunk = way(90 - n.theta)
    force, rest = held(n.a_m, -trunk, [(n.d_t * trunk, n.m_t * G * DOWN)])
    axial, transverse = across(rest, 90 - n.theta)
    size = float(np.hypot(*rest))
    return {"F_m": force, "R_a": axial, "R_t": transverse, "R": size}


@paper("neck-on-a-braking-tram")
def _(n: Numbers) -> Answers:
    head = n.d_h * way(90 - n.theta)
    pull, inertia = way(270 - n.theta), n.m_h * n.a_h
    force, _ = held(n.a_m, pull, [(head, n.m_h * G * DOWN), (head, inertia * RIGHT)])
    return {"F_m": force, "F_i": inertia}


@paper("neck-head-upright")
def _(n: Numbers) -> Answers:
    force = n.W_h * n.d_h / n.d_m
    return {"F_m": force, "R_y": n.W_h + force}


@paper("neck-magnifiers")
def _(n: Numbers) -> Answers:
    turning = n.W_h * n.d_h - n.W_c * n.d_c + n.W_l * n.d_l
    return {"x_c": turning / (n.W_h + n.W_c + n.W_l) * CM}


@paper("neck-helmet")
def _(n: Numbers) -> Answers:
    force = (n.m_h * n.d_h + n.m_l * n.d_l) * POUND * G / n.d_m
    return {"F_m": force, "R_y": (n.m_h + n.m_l) * POUND * G + force}


@paper("neck-nodding")
def _(n: Numbers) -> Answers:
    neck = way(n.theta)
    pull = way(180 + n.theta - n.alpha)
    force, rest = tied(n.d_m * neck, pull, [(n.d_h * neck, n.m_h * G * DOWN)])
    return {"F_m": force, **reaction(rest)}


@paper("neck-two-layers")
def _(n: Numbers) -> Answers:
    outer = n.m_h * G * n.d_h / (n.d_m + n.q_i * n.d_i)
    return {"F_m": outer, "F_i": n.q_i * outer}


@paper("neck-bent-over-a-book")
def _(n: Numbers) -> Answers:
    neck = way(90 - n.theta)
    force, rest = held(n.a_m, -neck, [(n.d_h * neck, n.m_h * G * DOWN)])
    axial, transverse = across(rest, 90 - n.theta)
    size = float(np.hypot(*rest))
    return {"F_m": force, "R_a": axial, "R_t": transverse, "R": size}


@paper("plain-loppers")
def _(n: Numbers) -> Answers:
    times = n.d_h / n.d_b
    force = n.G_b * LBF / times
    return {"F_h": force, "k_F": times, "s_b": n.s_h * INCH / times, "v_b": n.v_h * CM / times}


@paper("plain-rake-on-the-shoulder")
def _(n: Numbers) -> Answers:
    force = (n.W_s * n.d_s + n.W_r * n.d_r) / n.d_h
    return {"F_h": force, "R_y": n.W_s + n.W_r + force}


@paper("plain-crowbar")
def _(n: Numbers) -> Answers:
    force = n.W_l * n.d_l / n.d_h
    return {"F_h": force, "MA": n.d_h / n.d_l, "R_y": n.W_l + force}


@paper("plain-door-push")
def _(n: Numbers) -> Answers:
    girl, boy = n.F_g * UP, n.F_b * way(180 + n.theta)
    turning = moments([(n.d_g * RIGHT, girl), (n.d_b * RIGHT, boy)])
    return {"M_sum": turning * LBF * 12 * INCH}


@paper("plain-lamp-bracket")
def _(n: Numbers) -> Answers:
    force = (n.m_b * n.d_b * n.L + n.m_l * n.d_l) * OTHER_G / n.d_w
    return {"F_w": force, "R_y": (n.m_b + n.m_l) * OTHER_G - force}


@paper("plain-pole-for-two")
def _(n: Numbers) -> Answers:
    front = (n.m_l * n.d_l / n.d_c + n.m_p * n.d_p) * G
    return {"F_c": front, "R_y": (n.m_l + n.m_p) * G - front}


@paper("plain-seesaw-where")
def _(n: Numbers) -> Answers:
    place = (n.m_c * n.d_c + n.m_s * n.d_s) / n.m_b
    return {"d_b": place, "R_y": (n.m_c + n.m_s + n.m_b) * G}


@paper("plain-uneven-barbell")
def _(n: Numbers) -> Answers:
    return {"x_c": (n.m_r * n.d_r - n.m_l * n.d_l) / (n.m_b + n.m_l + n.m_r)}


@paper("plain-wheelbarrow")
def _(n: Numbers) -> Answers:
    force = (n.m_s * n.d_s + n.m_b * n.d_b) * G / n.d_h
    return {"F_h": force, "R_y": (n.m_s + n.m_b) * G - force}


@paper("plain-balance-board")
def _(n: Numbers) -> Answers:
    mass = (n.m_c * n.d_c + n.m_p * n.d_p) / n.d_l
    return {"m_l": mass, "R_y": (mass + n.m_c + n.m_p) * G}


@paper("plain-lamp-two-cords")
def _(n: Numbers) -> Answers:
    cords = np.column_stack([way(180 - n.alpha), way(n.beta)])
    left, right = np.linalg.solve(cords, [0, n.m_w * POUND * G])
    return {"T_l": left, "T_r": right}


@paper("plain-plank-and-buckets")
def _(n: Numbers) -> Answers:
    turning = n.m_n * n.d_n + n.m_f * n.d_f + n.m_p * n.d_p
    force = turning * G / n.d_h
    return {"F_h": force, "R_y": (n.m_n + n.m_f + n.m_p) * G + force}


@paper("plain-seesaw")
def _(n: Numbers) -> Answers:
    force = (n.m_c * n.d_c - n.m_y * n.d_y) * POUND * G / n.d_h
    return {"F_h": force, "R_y": (n.m_c + n.m_y) * POUND * G + force}


@paper("plain-drawbridge")
def _(n: Numbers) -> Answers:
    weights = [(n.d_d * n.L, n.m_d), (n.d_s, n.m_s)]
    force, rest = slanting(n.theta, n.d_c, n.alpha, weights)
    return {"F_c": force, **reaction(rest)}
