"""Prints least_squares.csv: SciPy's least squares (singular values) for speed and a polynomial current on seeded random runs."""
import numpy as np
import scipy
from scipy.linalg import lstsq

rng = np.random.default_rng(20261125)
print(f"# least_squares.csv made by least_squares.py with NumPy {np.__version__}, SciPy {scipy.__version__} (scipy.linalg.lstsq, gelsd).")
print("# One line a run; the answer stands in every line of its case. Rows [1, s, s t, s t^2], t in hours after the first run,")
print("# degree 0, 1, 2 for 3, 4, 5 and more runs. deviation_factor: root of the first diagonal element of (A^T A)^-1, from the")
print("# singular values; run_deviation: root of the residual sum of squares over runs less unknowns.")
print("case,degree,time_h,direction,ground_speed_kn,speed_kn,a_0,a_1,a_2,apparent_current_kn,deviation_factor,run_deviation_kn")

# The first case: V 26.4 kn, c = 0.85 - 0.30 t + 0.055 t^2, ground speeds rounded to 0.01.
cases = [(np.array([0.0, 0.35, 1.05, 1.30, 2.10]), np.array([1, -1, 1, -1, 1]), np.array([27.25, 25.65, 27.00, 25.85, 26.86]))]
while len(cases) < 40:
    n = int(rng.integers(3, 11))
    t = np.round(np.cumsum(rng.uniform(0.1, 0.7, n)), 4)
    s = rng.choice([-1, 1], n)
    if abs(s.sum()) == n:
        continue
    a = rng.uniform([-2, -0.8, -0.2], [2, 0.8, 0.2])
    v = np.round(rng.uniform(8, 45) + s * np.polyval(a[::-1], t) + rng.normal(0, 0.08, n), 2)
    cases.append((t, s, v))

for number, (t, s, v) in enumerate(cases):
    degree = min(len(t) - 3, 2)
    u = t - t[0]
    A = np.column_stack([np.ones(len(t))] + [s * u**k for k in range(degree + 1)])
    x = lstsq(A, v)[0]
    a = list(x[1:]) + [0.0] * (2 - degree)
    _, sigma, W = np.linalg.svd(A, full_matrices=False)
    factor = np.sqrt(np.sum((W[:, 0] / sigma) ** 2))
    deviation = np.sqrt(np.sum((v - A @ x) ** 2) / (len(t) - degree - 2))
    apparent = np.mean(np.polyval(a[::-1], u))
    answer = ",".join(f"{float(y):.17g}" for y in [x[0], *a, apparent, factor, deviation])
    for i in range(len(t)):
        print(f"{number},{degree},{t[i]:.4f},{'out' if s[i] > 0 else 'back'},{v[i]:.2f},{answer}")
