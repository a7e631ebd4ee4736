"""Prints friction_lines.csv: the ITTC 1957 line and the Schoenherr line (constant 0.242) over the Reynolds number."""
import math

import scipy
from scipy.optimize import brentq


def ittc57(Re):
    return 0.075 / (math.log10(Re) - 2.0) ** 2


def schoenherr(Re):
    # The printed form as it stands, root in C_F itself.
    return brentq(lambda C_F: 0.242 / math.sqrt(C_F) - math.log10(Re * C_F), 1e-4, 5e-2, xtol=1e-19, rtol=8.9e-16)


if __name__ == "__main__":
    reynolds = sorted([10.0 ** (5.0 + 5.0 * i / 24.0) for i in range(25)] + [1e6, 1e7, 1e8, 1e9])
    print(f"# friction_lines.csv made by friction_lines.py with SciPy {scipy.__version__} (scipy.optimize.brentq for Schoenherr).")
    print("# ITTC 1957: C_F = 0.075/(log10 Re - 2)^2; Schoenherr: 0.242/sqrt(C_F) = log10(Re C_F).")
    print("Re,CF_ittc57,CF_schoenherr")
    for Re in reynolds:
        print(f"{Re:.17g},{ittc57(Re):.17g},{schoenherr(Re):.17g}")
