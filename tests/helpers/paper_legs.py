"""Problems of legs, worked on paper from the statement alone."""

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
    angle,
    held,
    moments,
    paper,
    reaction,
    slanting,
    tied,
    way,
)


@paper("ankle-at-the-spinning-wheel")
def _(n: Numbers) -> Answers:
    needed = -(n.G_t * n.d_t - n.m_f * G * n.d_f) * CM
    size = abs(needed)
    power = size * np.radians(n.omega)
    return {"M_net": needed, "F_m": size / (n.a_m * CM), "P_a": power}


@paper("ankle-barrow-pushed")
def _(n: Numbers) -> Answers:
    ground, pull = n.F_g * way(n.alpha), way(n.beta)
    ball = n.d_g * CM * way(-n.theta)
    force, rest = held(-n.a_m * CM, pull, [(ball, ground)])
    share = 100 * force / (n.m_b * G)
    return {"F_m": force, "n_m": share, "mu_n": ground[0] / ground[1], **reaction(rest)}


@paper("ankle-calf-raise")
def _(n: Numbers) -> Answers:
    force, rest = tied(n.d_m * CM * LEFT, UP, [(n.d_a * CM * LEFT, n.F_a * DOWN)])
    return {"F_m": force, "MA": n.F_a / force, "R_y": rest[1]}


@paper("ankle-toes-lifted")
def _(n: Numbers) -> Answers:
    foot, bag = n.m_f * G * DOWN, n.m_s * G * DOWN
    acting = [(n.d_f * CM * RIGHT, foot), (n.d_s * CM * RIGHT, bag)]
    force, rest = tied(n.d_m * CM * RIGHT, UP, acting)
    return {"F_m": force, "MA": (n.m_f + n.m_s) * G / force, "R_y": rest[1]}


@paper("ankle-two-heads-of-calf")
def _(n: Numbers) -> Answers:
    return reaction(n.F_i * way(90 + n.alpha) + n.F_o * way(90 - n.beta))


@paper("ankle-soleus-part")
def _(n: Numbers) -> Answers:
    force = n.F_b * n.d_b / n.d_m
    return {"F_m": force, "F_s": force * n.A_s / (n.A_s + n.A_g)}


@paper("ankle-tendon-stress")
def _(n: Numbers) -> Answers:
    force = n.G_g * n.m_b * G * n.d_g / n.d_m
    return {"F_m": force, "S_t": force / (n.A_t * 100), "n_m": n.G_g * n.d_g / n.d_m}


@paper("ankle-tiptoe-one-foot")
def _(n: Numbers) -> Answers:
    weight = n.G_g * n.m_b * POUND * G
    force = weight * n.d_g / n.d_m
    return {"F_m": force, "R_y": -(force + weight)}


@paper("ankle-traction-two-cords")
def _(n: Numbers) -> Answers:
    cords = np.column_stack([way(n.alpha), way(-n.beta)])
    upper, lower = np.linalg.solve(cords, [n.F_l, n.W_g])
    return {"T_u": upper, "T_v": lower}


@paper("ankle-standing-lean-moment")
def _(n: Numbers) -> Answers:
    weight = n.m_b * G
    turning = weight * (n.G_g * n.d_g - n.W_f * n.d_f * n.L) * CM
    return {"M_net": -turning, "R_y": (n.W_f - n.G_g) * weight}


@paper("ankle-forward-lean")
def _(n: Numbers) -> Answers:
    acting = [(n.d_b * RIGHT, n.G_b * UP), (n.d_f * n.d_b * RIGHT, n.m_f * G * DOWN)]
    force, rest = tied(n.d_m * LEFT, way(90 - n.theta), acting)
    return {"F_m": force, **reaction(rest)}


@paper("ankle-then-knee")
def _(n: Numbers) -> Answers:
    floor, foot = n.F_g * way(90 + n.alpha), n.m_f * G * DOWN
    ankle = -moments([(CM * np.array([n.x_g, -n.y_g]), floor), (n.x_f * CM * RIGHT, foot)])
    shank = way(180 + n.beta) * CM
    acting = [(n.L_s * shank, floor + foot), (n.d_s * shank, n.m_s * G * DOWN)]
    held_up = -(floor + foot)
    found = {"R1": float(np.hypot(*held_up)), "phi_R1": angle(held_up)}
    return {**found, "M_net1": ankle, "M_net2": ankle - moments(acting)}


@paper("hip-band-at-the-ankle")
def _(n: Numbers) -> Answers:
    along, band = -90 + n.theta, n.k_b * (n.l_b - n.l_0) * CM
    leg = way(along) * CM
    acting = [(n.d_l * leg, n.m_l * G * DOWN), (n.d_b * leg, band * LEFT)]
    force, rest = held(n.a_m * CM, way(n.beta), acting)
    axial, transverse = across(rest, along)
    return {"F_b": band, "F_m": force, **reaction(rest), "R_a": axial, "R_t": transverse}


@paper("hip-bent-on-a-board")
def _(n: Numbers) -> Answers:
    place = (n.F_s * n.d_s - n.W_p * n.d_p) / n.W_b
    return {"d_b": place * INCH, "R_y": (n.W_b + n.W_p - n.F_s) * LBF}


@paper("hip-leg-at-the-barre")
def _(n: Numbers) -> Answers:
    needed = n.m_l * OTHER_G * n.d_l * CM * np.cos(np.radians(n.beta))
    power = needed * np.radians(n.omega)
    return {"M_net": needed, "F_f": needed / (n.a_f * CM), "P_h": power}


@paper("hip-squat-on-a-photo")
def _(n: Numbers) -> Answers:
    masses = np.array([n.m_h, n.m_t, n.m_s]) / (n.m_h + n.m_t + n.m_s)
    right, up = masses @ [n.x_h, -n.x_t, n.x_s], masses @ [n.y_h, n.y_t, n.y_s]
    return {"x_c": right * CM, "y_c": up * CM}


@paper("hip-pelvis-held-level")
def _(n: Numbers) -> Answers:
    force = n.W_u * n.d_u / n.d_m
    return {"F_m": force, "R_y": n.W_u + force}


@paper("hip-one-leg-stance")
def _(n: Numbers) -> Answers:
    weight = n.W_u * n.m_b * G * DOWN
    force, rest = tied(n.d_m * LEFT, way(270 - n.theta), [(n.d_u * RIGHT, weight)])
    return {"F_m": force, **reaction(rest)}


@paper("hip-joint-pressure")
def _(n: Numbers) -> Answers:
    weight = n.W_u * n.m_b * G * DOWN
    force, rest = tied(n.d_m * LEFT, way(270 - n.theta), [(n.d_u * RIGHT, weight)])
    size = np.hypot(*rest)
    told = {"n_R": 100 * size / (n.m_b * G), "S_h": size / (100 * n.A_h)}
    return {"F_m": force, **told, **reaction(rest)}


@paper("hip-stick-in-hand")
def _(n: Numbers) -> Answers:
    weight = n.m_b * POUND * G * DOWN
    acting = [(n.d_t * RIGHT, n.W_t * weight), (n.d_l * RIGHT, n.W_l * weight)]
    acting += [(n.d_s * RIGHT, n.G_s * LBF * UP)]
    force, rest = tied(n.d_m * LEFT, way(270 - n.theta), acting)
    return {"F_m": force, **reaction(rest)}


@paper("hip-leg-raise")
def _(n: Numbers) -> Answers:
    weights = [(n.d_l * n.L, n.W_l * n.m_b), (n.d_w, n.m_w)]
    force, rest = slanting(0, n.d_m, n.alpha, weights)
    return {"F_m": force, **reaction(rest)}


@paper("hip-leg-swung-forward")
def _(n: Numbers) -> Answers:
    thigh, shin = n.L_t * way(n.theta_t), n.L_s * way(n.theta_s)
    centre = (0.1 * 0.433 * thigh + 0.061 * (thigh + 0.606 * shin)) / 0.161 * CM
    return {"x_c": centre[0], "y_c": centre[1]}


@paper("hip-lifted-leg")
def _(n: Numbers) -> Answers:
    thigh, shin = n.L_t * way(-n.theta_t), n.L_s * way(270 - n.theta_s)
    centre = (0.1 * 0.433 * thigh + 0.061 * (thigh + 0.606 * shin)) / 0.161 * CM
    return {"x_c": centre[0], "y_c": centre[1]}


@paper("knee-hamstrings-in-two-parts")
def _(n: Numbers) -> Answers:
    pull = way(n.theta)
    force, _ = tied(n.d_m * LEFT, pull, [(n.d_s * LEFT, n.m_s * G * DOWN)])
    along, up = across(force * pull, 180)
    return {"F_m": force, "F_ma": along, "F_mt": up}


@paper("knee-leap-on-a-photo")
def _(n: Numbers) -> Answers:
    masses = np.array([n.m_t, n.m_s, n.m_f]) / (n.m_t + n.m_s + n.m_f)
    right, down = masses @ [n.x_t, n.x_s, n.x_f], masses @ [n.y_t, n.y_s, n.y_f]
    return {"x_c": right * CM, "y_c": -down * CM}


@paper("knee-curl-back")
def _(n: Numbers) -> Answers:
    turning = n.m_w * n.d_w + n.m_s * n.d_s * n.L
    force = turning * POUND * G / n.d_m
    return {"F_m": force, "R_y": (n.m_w + n.m_s) * POUND * G - force}


@paper("knee-stool-hold")
def _(n: Numbers) -> Answers:
    force = (n.m_c * n.d_c + n.m_s * n.d_s) * G / n.a_m
    return {"F_m": force, **reaction(force * RIGHT + (n.m_c + n.m_s) * G * UP)}


@paper("knee-two-pulls-on-kneecap")
def _(n: Numbers) -> Answers:
    return reaction(n.F_i * way(90 - n.alpha) + n.F_o * way(90 + n.beta))


@paper("knee-boot-without-muscle")
def _(n: Numbers) -> Answers:
    level = np.cos(np.radians(n.beta)) * CM
    axial, transverse = across((n.m_s + n.m_b) * G * UP, -n.beta)
    needed = (n.m_s * n.d_s + n.m_b * n.d_b) * G * level
    size = (n.m_s + n.m_b) * G
    return {"M_net": needed, "R_a": axial, "R_t": transverse, "R": size}


@paper("knee-cuff-above-ankle")
def _(n: Numbers) -> Answers:
    acting = [((n.L - n.d_c) * RIGHT, n.m_w * G * DOWN), (n.d_s * n.L * RIGHT, n.m_s * G * DOWN)]
    force, rest = tied(n.d_m * RIGHT, way(180 - n.alpha), acting)
    return {"F_m": force, **reaction(rest)}


@paper("knee-half-straight")
def _(n: Numbers) -> Answers:
    shin = way(-n.beta)
    weights = [(n.d_s * n.L, n.m_s), (n.d_f, n.m_f), (n.d_w, n.m_w)]
    acting = [(place * shin, mass * POUND * G * DOWN) for place, mass in weights]
    force, rest = tied(n.d_m * shin, way(180 - n.beta - n.alpha), acting)
    return {"F_m": force, **reaction(rest)}


@paper("knee-held-how-high")
def _(n: Numbers) -> Answers:
    level = n.F_m * n.a_m / (n.m_s * G * n.d_s)
    return {"theta": np.degrees(np.arccos(level))}


@paper("knee-kneecap")
def _(n: Numbers) -> Answers:
    pulls = n.F_q * way(180 - n.alpha) + n.F_t * way(180 + n.beta)
    return reaction(-pulls)


@paper("knee-kneecap-held")
def _(n: Numbers) -> Answers:
    parts = np.column_stack([way(90 - n.alpha), way(90 + n.beta)])
    inner, outer = np.linalg.solve(parts, [0, n.F_t])
    return {"F_i": inner, "F_o": outer}


@paper("knee-steady-machine")
def _(n: Numbers) -> Answers:
    weight = n.m_s * G * n.d_s * np.cos(np.radians(n.beta))
    needed = (weight + n.F_p * n.d_p) * CM
    return {"M_net": needed, "P_k": needed * np.radians(n.omega)}


@paper("knee-kick-begins")
def _(n: Numbers) -> Answers:
    holds = n.m_s * G * n.d_s * CM * np.cos(np.radians(n.beta))
    needed = holds + n.I_s * n.q_s
    return {"M_k": needed, "F_k": needed / (n.a_k * CM)}


@paper("knee-leg-sped-up")
def _(n: Numbers) -> Answers:
    holds = n.m_s * G * n.d_s * CM * np.cos(np.radians(n.beta))
    return {"M_net": holds, "M_q": holds + n.I_s * np.radians(n.q_s)}


@paper("knee-made-stiff")
def _(n: Numbers) -> Answers:
    weight = n.m_s * G
    force = (weight * n.d_s + n.F_h * n.a_h) / n.a_q
    rest = -(force * way(180 - n.theta) + n.F_h * LEFT + weight * DOWN)
    return {"F_q": force, "MA": weight / force, **reaction(rest)}


@paper("knee-muddy-boot")
def _(n: Numbers) -> Answers:
    shin = way(-n.beta)
    acting = [(n.d_s * shin, n.m_s * G * DOWN), (n.d_b * shin, n.m_b * G * DOWN)]
    force, rest = tied(n.d_m * shin, way(180 - n.beta - n.alpha), acting)
    axial, transverse = across(rest, -n.beta)
    size = float(np.hypot(*rest))
    return {"F_m": force, "R_a": axial, "R_t": transverse, "R": size}


@paper("knee-leg-with-shoe")
def _(n: Numbers) -> Answers:
    shin = n.W_s * n.m_b
    return {"x_c": (shin * n.x_s * n.L_s + n.m_f * n.d_f) / (shin + n.m_f) * CM}


@paper("knee-ski-boot")
def _(n: Numbers) -> Answers:
    weights = [(n.d_s, n.W_s), (n.d_b, n.W_b), (n.d_k, n.W_k)]
    acting = [(place * RIGHT, size * LBF * DOWN) for place, size in weights]
    force, rest = tied(n.d_m * RIGHT, way(180 - n.alpha), acting)
    return {"F_m": force, **reaction(rest)}


@paper("knee-net-moment")
def _(n: Numbers) -> Answers:
    shin, rope = way(-n.beta) * CM, n.F_r * way(180 + n.alpha)
    weight = n.W_s * n.m_b * G * DOWN
    needed = -moments([(n.d_s * n.L * shin, weight), (n.d_r * shin, rope)])
    return {"M_net": needed, **reaction(-(weight + rope))}


@paper("knee-seated-extension")
def _(n: Numbers) -> Answers:
    weights = [(n.d_c, n.m_c * POUND), (n.d_s * n.L, n.m_s)]
    force, rest = slanting(-n.beta, n.d_m, n.alpha, weights)
    return {"F_m": force, **reaction(rest)}


@paper("knee-spring-hinge")
def _(n: Numbers) -> Answers:
    weights = [(n.d_s * CM, n.m_s), (n.d_b * CM, n.m_b)]
    force, rest = slanting(-n.beta, n.d_m * CM, n.alpha, weights, n.C_h)
    return {"F_m": force, **reaction(rest)}
