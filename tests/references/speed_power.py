"""Prints speed_power.csv: every speed at which the brake power needed equals the power given, by SciPy's brentq.

Running states by planing_roots.py (nested brentq; scipy.optimize.root for the closed balance); power = drag x speed / OPC
with drag = bare drag (1 + appendage fraction) + 0.5 rho_air C_D A V^2. Speeds are searched from C_v 1 to 8 in steps of 0.04.
"""
import math

import scipy
from scipy.optimize import brentq

from planing_roots import BALANCES, G, INPUTS, RESULTS, RHO, Hull, closed, moment_general, moment_short, paper, row

RHO_AIR = 1.225
ADDED = "opc appendage_fraction frontal_area_m2 air_drag_coefficient".split()
CASES = [
    # name, balance, beta, b, mass, LCG, VCG, eps, f, OPC, appendages, A, C_D, powers in kW
    ("workboat", "exact", 18.0, 3.2, 10500.0, 4.26, 1.14, 9.0, 0.6, 0.55, 0.14, 11.0, 0.7, [150.0, 300.0, 560.0, 900.0]),
    ("workboat", "paper_general", 18.0, 3.2, 10500.0, 4.26, 1.14, 9.0, 0.6, 0.55, 0.14, 11.0, 0.7, [560.0]),
    ("workboat", "paper_short", 18.0, 3.2, 10500.0, 4.26, 1.14, 9.0, 0.6, 0.55, 0.14, 11.0, 0.7, [560.0]),
    ("hump", "exact", 10.4, 1.95, 5860.0, 2.05, 0.80, 0.6, 0.65, 0.55, 0.0, 0.0, 0.0, [260.0]),
]


def bare_drag(h, balance):
    stable, _ = paper(h, moment_short if balance == "paper_short" else moment_general)
    if not stable:
        return None  # slow and stern-heavy: no trim up to 28 degrees
    start = stable[0]
    if balance == "exact":
        solution = closed(h, start)
        if solution is None:
            raise ArithmeticError(f"closed balance not converged at {h.speed_mps} m/s")
    else:
        solution = start
    return dict(zip(RESULTS, row(h, balance, *solution)))


def main():
    print(f"# speed_power.csv made by speed_power.py with SciPy {scipy.__version__} (scipy.optimize.brentq and root).")
    print(f"# rho {RHO} kg/m3, nu 1.19e-6 m2/s, g {G} m/s2, air {RHO_AIR} kg/m3; ITTC 1957 and allowance 0.0004; balances as in planing_roots.csv.")
    print("# one row a root, rising; holds: 1 if the power needed rises through the power given there.")
    print(",".join(["case", "balance", *INPUTS[:7], *ADDED, "brake_power_kW", "root", "roots", "speed_mps", "FnV", "holds"]))
    for name, balance, beta, b, mass, lcg, vcg, eps, f, opc, appendages, area, C_D, powers in CASES:
        def needed(V):
            h = Hull(beta, b, mass, lcg, vcg, eps, f, V, "ittc57", 0.0004, "V1")
            state = bare_drag(h, balance)
            if state is None:
                return None, None
            drag = state["D_N"] * (1.0 + appendages) + 0.5 * RHO_AIR * C_D * area * V * V
            return drag * V / opc, state["FnV"]

        unit = math.sqrt(G * b)
        speeds = [unit * (1.0 + 0.04 * i) for i in range(176)]
        curve = [needed(V)[0] for V in speeds]
        for power in powers:
            roots = []
            for lo, hi, a, c in zip(speeds, speeds[1:], curve, curve[1:]):
                if a is not None and c is not None and (a < 1000.0 * power) != (c < 1000.0 * power):
                    roots.append((brentq(lambda V: needed(V)[0] - 1000.0 * power, lo, hi, xtol=1e-13, rtol=8.9e-16), a < c))
            for i, (V, holds) in enumerate(roots):
                inputs = [beta, b, mass, lcg, vcg, eps, f, opc, appendages, area, C_D, power]
                print(",".join([name, balance, *map(repr, inputs), str(i + 1), str(len(roots)), f"{V:.17g}", f"{needed(V)[1]:.17g}", str(int(holds))]))


if __name__ == "__main__":
    main()
