"""Prints lane_kernels.csv: the polynomials of the functions of scalar/lanes.hpp, minimax by Remez exchange in 60 digits.

Each polynomial approximates g(z) on [0, z_end] or [-r, r] so that the largest error of the function that it serves,
relative to that function, is least. Coefficients are then rounded to double; `error` is the largest relative error of
the function with the rounded coefficients in exact arithmetic.
"""
import mpmath
from mpmath import atan, atanh, cos, exp, log, mpf, pi, sin, sqrt, tan

mpmath.mp.dps = 60


def solve_levelled(g, weight, degree_from, degree, points):
    """Coefficients and level of the polynomial whose weighted error alternates at `points`."""
    n = degree - degree_from + 1
    rows = [[x**k for k in range(degree_from, degree + 1)] + [(-1) ** i / weight(x)] for i, x in enumerate(points)]
    answer = mpmath.lu_solve(mpmath.matrix(rows), mpmath.matrix([g(x) for x in points]))
    return [answer[i] for i in range(n)], answer[n]


def value(coefficients, degree_from, x):
    total = mpf(0)
    for c in reversed(coefficients):
        total = total * x + c
    return total * x**degree_from


def remez(g, weight, low, high, degree_from, degree):
    """Minimax coefficients of x^degree_from ... x^degree for g, weighted."""
    n = degree - degree_from + 2
    points = [(low + high) / 2 - (high - low) / 2 * cos(pi * i / (n - 1)) for i in range(n)]
    for _ in range(30):
        coefficients, level = solve_levelled(g, weight, degree_from, degree, points)
        error = lambda x: (value(coefficients, degree_from, x) - g(x)) * weight(x)
        samples = [(low + high) / 2 - (high - low) / 2 * cos(pi * i / 400) for i in range(401)]
        errors = [error(x) for x in samples]
        extrema = []  # the largest of each run of one sign
        for x, e in zip(samples, errors):
            if extrema and (e > 0) == (extrema[-1][1] > 0):
                if abs(e) > abs(extrema[-1][1]):
                    extrema[-1] = (x, e)
            else:
                extrema.append((x, e))
        while len(extrema) > n:
            extrema.pop(0 if abs(extrema[0][1]) < abs(extrema[-1][1]) else -1)
        if len(extrema) < n:
            break
        points = [x for x, _ in extrema]
        if max(abs(e) for _, e in extrema) < abs(level) * mpf("1.001"):
            break
    return coefficients


def largest_error(g, weight, low, high, coefficients):
    samples = [(low + high) / 2 - (high - low) / 2 * cos(pi * i / 4000) for i in range(4001)]
    return max(abs((value(coefficients, 0, x) - g(x)) * weight(x)) for x in samples)


# exp(r) = 1 + r + r^2 q(r), |r| up to half of ln 2 (a little more: the multiple of ln 2 is rounded in double).
half_ln2 = log(mpf(2)) / 2 * (1 + mpf(2) ** -20)
def exp_rest(r):
    return mpf(1) / 2 if r == 0 else (exp(r) - 1 - r) / r**2 if abs(r) > mpf("1e-8") else 1 / mpf(2) + r / 6 + r**2 / 24 + r**3 / 120
# log((1+s)/(1-s)) = 2 s + s R(s^2), R(z) = z L(z).
z_log = ((sqrt(mpf(2)) - 1) / (sqrt(mpf(2)) + 1)) ** 2
def log_rest(z):
    s = sqrt(z)
    return mpf(2) / 3 + 2 * z / 5 + 2 * z**2 / 7 if s < mpf("1e-10") else (2 * atanh(s) / s - 2) / z
# sin r = r + r^3 S(r^2), cos r = 1 - r^2/2 + r^4 C(r^2), |r| up to pi/4 (a little more, as for exp).
z_sin = (pi / 4 * (1 + mpf(2) ** -20)) ** 2
def sin_rest(z):
    r = sqrt(z)
    return -mpf(1) / 6 + z / 120 - z**2 / 5040 if r < mpf("1e-10") else (sin(r) / r - 1) / z
def cos_rest(z):
    r = sqrt(z)
    return mpf(1) / 24 - z / 720 + z**2 / 40320 if r < mpf("1e-10") else (cos(r) - 1 + z / 2) / z**2
# atan t = t + t^3 A(t^2), |t| up to tan(pi/8).
z_atan = (tan(pi / 8) * (1 + mpf(2) ** -20)) ** 2
def atan_rest(z):
    t = sqrt(z)
    return -mpf(1) / 3 + z / 5 - z**2 / 7 if t < mpf("1e-10") else (atan(t) / t - 1) / z

relative_to = {
    "exp": (exp_rest, lambda r: r**2 / exp(r), -half_ln2, half_ln2, 9),
    "log": (log_rest, lambda z: z / 2 if z == 0 else z * sqrt(z) / (2 * atanh(sqrt(z))), mpf(0), z_log, 6),
    "sin": (sin_rest, lambda z: z if z == 0 else z * sqrt(z) / sin(sqrt(z)), mpf(0), z_sin, 5),
    "cos": (cos_rest, lambda z: z**2 / cos(sqrt(z)), mpf(0), z_sin, 5),
    "atan": (atan_rest, lambda z: z if z == 0 else z * sqrt(z) / atan(sqrt(z)), mpf(0), z_atan, 11),
}

if __name__ == "__main__":
    print(f"# lane_kernels.csv made by lane_kernels.py with mpmath {mpmath.__version__} (Remez exchange in 60 digits, rounded to double).")
    print("# error: largest error of the function with these coefficients, relative to it, in units of 2^-53.")
    print("kernel,power,coefficient,error")
    for name, (g, weight, low, high, degree) in relative_to.items():
        # The weight vanishes at zero: there the error does not count, and Remez must not divide by it.
        safe = lambda x, weight=weight: weight(x) if weight(x) > mpf(10) ** -12 else mpf(10) ** -12
        coefficients = [mpf(float(c)) for c in remez(g, safe, low, high, 0, degree)]
        error = mpmath.nstr(largest_error(g, weight, low, high, coefficients) * 2**53, 3)
        for power, c in enumerate(coefficients):
            print(f"{name},{power},{float(c)!r},{error}")
