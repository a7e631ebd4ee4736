"""Prints planing_roots.csv: equilibrium of prismatic planing hulls by the 1964 method of Savitsky (Marine Technology 1(1), 71-95).

Paper forms: trim is the outer unknown, the mean wetted length ratio lambda is found inside (two nested brentq).
Closed balance: scipy.optimize.root on the printed equations (29)-(31) with trim, lambda and thrust as unknowns.
With --against FILE the hulls of FILE are solved instead and the largest relative difference of each column is printed.
"""
import csv
import math
import random
import sys
from collections import namedtuple

import scipy
from scipy.optimize import brentq, root

from friction_lines import ittc57, schoenherr

RHO, NU, G = 1025.0, 1.19e-6, 9.80665
INPUTS = "beta_deg beam_m mass_kg lcg_m vcg_m eps_deg f_m speed_mps friction delta_CF".split()
RESULTS = "Cv FnV CL_beta CL_0 lambda tau_deg V1_mps Re CF Df_N D_N N_N T_N Lk_m Lc_m draft_m lp_m".split()
BALANCES = "paper_general", "paper_short", "exact"
Hull = namedtuple("Hull", INPUTS + ["bottom_velocity"])
Friction = namedtuple("Friction", "V1 Re CF Df defined")
LAST_BITS = {"xtol": 1e-16, "rtol": 8.9e-16}


def sin(deg): return math.sin(math.radians(deg))
def cos(deg): return math.cos(math.radians(deg))
def tan(deg): return math.tan(math.radians(deg))


def C_v(h): return h.speed_mps / math.sqrt(G * h.beam_m)
def pressure_area(h): return 0.5 * RHO * h.speed_mps**2 * h.beam_m**2
def weight(h): return h.mass_kg * G


def flat_lift(h, tau, lam):  # (15)
    return tau**1.1 * (0.0120 * lam**0.5 + 0.0055 * lam**2.5 / C_v(h) ** 2)


def with_deadrise(h, C_L0):  # (16)
    return C_L0 - 0.0065 * h.beta_deg * C_L0**0.60


def flat_lift_of_load(h, C_Lb):  # (16) inverted
    k = 0.0065 * h.beta_deg
    if k == 0.0:
        return C_Lb
    return brentq(lambda C_L0: with_deadrise(h, C_L0) - C_Lb, k**2.5, 2.0 * C_Lb + (2.0 * k) ** 2.5, **LAST_BITS)


def wetted_length_at(h, tau, C_L0):  # (15) solved for lambda at a given trim
    dynamic, buoyant = 0.0120 * tau**1.1, 0.0055 * tau**1.1 / C_v(h) ** 2
    least = min((0.5 * C_L0 / dynamic) ** 2, (0.5 * C_L0 / buoyant) ** 0.4)
    most = min((C_L0 / dynamic) ** 2, (C_L0 / buoyant) ** 0.4)
    return brentq(lambda lam: flat_lift(h, tau, lam) - C_L0, 0.999 * least, 1.001 * most, **LAST_BITS)


def pressure_centre(h, lam):  # (28), from the transom
    return lam * h.beam_m * (0.75 - 1.0 / (5.21 * (C_v(h) / lam) ** 2 + 2.39))


def friction(h, tau, lam):  # (18)-(25)
    ratio = 1.0
    if h.bottom_velocity == "V1":
        ratio -= with_deadrise(h, 0.0120 * lam**0.5 * tau**1.1) / (lam * cos(tau))
    if ratio <= 0.0:
        return Friction(0.0, 0.0, 0.0, 0.0, False)
    V1 = h.speed_mps * math.sqrt(ratio)
    Re = V1 * lam * h.beam_m / NU
    CF = (ittc57 if h.friction == "ittc57" else schoenherr)(Re)
    Df = (CF + h.delta_CF) * 0.5 * RHO * V1**2 * lam * h.beam_m**2 / cos(h.beta_deg)
    return Friction(V1, Re, CF, Df, True)


def friction_arm(h): return h.vcg_m - 0.25 * h.beam_m * tan(h.beta_deg)


def moment_general(h, tau, lam):  # (35)
    W, D_f = weight(h), friction(h, tau, lam).Df
    c = h.lcg_m - pressure_centre(h, lam)
    return W * ((1.0 - sin(tau) * sin(tau + h.eps_deg)) * c / cos(tau) - h.f_m * sin(tau)) + D_f * (friction_arm(h) - h.f_m)


def moment_short(h, tau, lam):  # (37)
    return weight(h) * (h.lcg_m - pressure_centre(h, lam))


def paper(h, moment):
    """All trims of 0.3 to 28 degrees at which the bow-down moment rises through zero, and whether any falls through it."""
    C_L0 = flat_lift_of_load(h, weight(h) / pressure_area(h))
    trims = [0.3 * (28.0 / 0.3) ** (i / 160.0) for i in range(161)]
    m = lambda tau: moment(h, tau, wetted_length_at(h, tau, C_L0)) / (weight(h) * h.beam_m)
    values = [m(tau) for tau in trims]
    steps = list(zip(trims, trims[1:], values, values[1:]))
    stable = [brentq(m, lo, hi, **LAST_BITS) for lo, hi, a, b in steps if a <= 0.0 < b]
    return [(tau, wetted_length_at(h, tau, C_L0)) for tau in stable], any(a > 0.0 >= b for _, _, a, b in steps)


def closed_residuals(h, unknowns):  # (29)-(31); the load on the bottom follows from trim and lambda by (15), (16)
    tau, lam, thrust_ratio = (float(u) for u in unknowns)
    if not (0.05 < tau < 45.0 and 1e-3 < lam < 50.0):
        return [1e3, 1e3, 1e3]
    W, T, D_f = weight(h), weight(h) * thrust_ratio, friction(h, tau, lam).Df
    L = with_deadrise(h, flat_lift(h, tau, lam)) * pressure_area(h)
    N = (L + D_f * sin(tau)) / cos(tau)
    c = h.lcg_m - pressure_centre(h, lam)
    return [
        (N * cos(tau) + T * sin(tau + h.eps_deg) - D_f * sin(tau) - W) / W,
        (T * cos(tau + h.eps_deg) - D_f * cos(tau) - N * sin(tau)) / W,
        (N * c + D_f * friction_arm(h) - T * h.f_m) / (W * h.beam_m),
    ]


def closed(h, start):
    tau, lam = start
    x = [tau, lam, sin(tau) + friction(h, tau, lam).Df / weight(h)]
    for _ in range(3):  # a restart renews the difference Jacobian close to the root
        x = root(lambda u: closed_residuals(h, u), x, method="hybr", tol=1e-15).x
    return tuple(float(u) for u in x) if max(map(abs, closed_residuals(h, x))) < 1e-13 else None


def row(h, balance, tau, lam, thrust_ratio=None):
    W, b, eps = weight(h), h.beam_m, h.eps_deg
    fr = friction(h, tau, lam)
    if balance == "exact":
        C_L0 = flat_lift(h, tau, lam)
        C_Lb = with_deadrise(h, C_L0)
        T = W * thrust_ratio
        D = T * cos(tau + eps)
        N = (C_Lb * pressure_area(h) + fr.Df * sin(tau)) / cos(tau)
    else:
        C_Lb = W / pressure_area(h)
        C_L0 = flat_lift_of_load(h, C_Lb)
        T = W * sin(tau) + fr.Df
        D = W * tan(tau) + fr.Df / cos(tau)
        N = W * (1.0 - sin(tau) * sin(tau + (eps if balance == "paper_general" else 0.0))) / cos(tau)
    if h.beta_deg == 0.0:  # flat bottom: the wave rise is wetted length beyond the still-water length l_1 b
        keel = chine = lam * b
        l_1 = lam - 0.30 if lam >= 1.3 else (1.60 - math.sqrt(2.56 - 1.20 * lam)) / 0.60
        draft = l_1 * b * sin(tau)
    else:
        half = b * tan(h.beta_deg) / (2.0 * math.pi * tan(tau))
        keel, chine = lam * b + half, lam * b - half
        draft = keel * sin(tau)
    F_nV = h.speed_mps / math.sqrt(G * (h.mass_kg / RHO) ** (1.0 / 3.0))
    return [C_v(h), F_nV, C_Lb, C_L0, lam, tau, fr.V1, fr.Re, fr.CF, fr.Df, D, N, T, keel, chine, draft, pressure_centre(h, lam)]


def solve(h):
    """Rows of the three balances, or the reason for dropping the hull."""
    solutions = []
    for moment in (moment_general, moment_short):
        stable, falling = paper(h, moment)
        if len(stable) != 1 or falling:
            return "no single stable equilibrium"
        solutions.append(stable[0])
    exact = closed(h, solutions[0])
    again = closed(h, solutions[1])
    if exact is None or again is None or any(abs(p - q) > 1e-12 * abs(p) for p, q in zip(exact, again)):
        return "closed balance not converged to 1e-12 from both starts"
    solutions.append(exact)
    if not all(friction(h, *s[:2]).defined for s in solutions):
        return "bottom velocity undefined"
    return [row(h, balance, *s) for balance, s in zip(BALANCES, solutions)]


def random_hull(rng, number):
    b = round(rng.uniform(1.0, 6.0), 2)
    return Hull(
        beta_deg=0.0 if number % 10 == 0 else round(rng.uniform(0.0, 30.0), 1),
        beam_m=b,
        mass_kg=float(round(rng.uniform(0.15, 1.0) * RHO * b**3)),
        lcg_m=round(rng.uniform(0.8, 3.0) * b, 2),
        vcg_m=round(rng.uniform(0.1, 0.6) * b, 2),
        eps_deg=round(rng.uniform(-5.0, 12.0), 1),
        f_m=round(rng.uniform(-0.2, 0.4) * b, 2),
        speed_mps=round(rng.uniform(1.2, 8.0) * math.sqrt(G * b), 2),
        friction=rng.choice(["ittc57", "schoenherr"]),
        delta_CF=rng.choice([0.0, 0.0004]),
        bottom_velocity=rng.choice(["V1", "V"]),
    )


def table(wanted=72, seed=1964):
    rng, dropped, lines, number = random.Random(seed), {}, [], 0
    while len(lines) < 3 * wanted:
        number += 1
        h = random_hull(rng, number)
        rows = solve(h)
        if not isinstance(rows, str) and not all(1.0 <= r[RESULTS.index("tau_deg")] <= 15.0 for r in rows):
            rows = "trim outside 1-15 deg"
        if isinstance(rows, str):
            dropped[rows] = dropped.get(rows, 0) + 1
            continue
        inputs = [v if isinstance(v, str) else repr(v) for v in h[:-1]]
        for balance, r in zip(BALANCES, rows):
            lines.append(",".join([f"R{number}", balance, *inputs, *(f"{v:.17g}" for v in r), h.bottom_velocity]))
    print(f"# planing_roots.csv made by planing_roots.py with SciPy {scipy.__version__} (scipy.optimize.brentq and root); seed {seed}.")
    print(f"# rho {RHO} kg/m3, nu {NU} m2/s, g {G} m/s2; angles in degrees; f positive when the thrust line passes below the centre of gravity.")
    print("# paper_general: equation (35); paper_short: (37); exact: (29)-(31) closed, CL_beta on weight - T sin(tau+eps).")
    print("# bottom_velocity: velocity in the friction and in V1_mps: V1 by (24), or V the speed itself.")
    print(f"# {number} hulls drawn, {wanted} kept;", "; ".join(f"dropped, {why}: {n}" for why, n in sorted(dropped.items())))
    print(",".join(["case", "balance", *INPUTS, *RESULTS, "bottom_velocity"]))
    print("\n".join(lines))


def against(path):
    with open(path, newline="") as file:
        given = list(csv.DictReader(line for line in file if not line.startswith("#")))
    worst = {}
    for g in given:
        h = Hull(*(g[k] if k == "friction" else float(g[k]) for k in INPUTS), g.get("bottom_velocity", "V1"))
        rows = solve(h)
        if isinstance(rows, str):
            sys.exit(f"{g['case']}: {rows}")
        for name, value in zip(RESULTS, rows[BALANCES.index(g["balance"])]):
            difference = abs(value / float(g[name]) - 1.0)
            worst[name] = max(worst.get(name, (0.0, "")), (difference, f"{g['case']} {g['balance']}"))
    for name, (difference, where) in worst.items():
        print(f"{name:8} {difference:.2e}  {where}")


if __name__ == "__main__":
    against(sys.argv[2]) if sys.argv[1:2] == ["--against"] else table()
