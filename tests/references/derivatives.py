"""Prints derivatives.csv: values and derivatives of test expressions in 30-digit arithmetic."""
import mpmath
from mpmath import atan, cos, exp, log, log10, sin, sqrt, tan

mpmath.mp.dps = 30

# x and every constant is the double nearest to the decimal shown, taken exactly, so that a program in double starts from the same numbers.
def power(x, p):
    return mpmath.power(x, mpmath.mpf(p))


EXPRESSIONS = [
    ("exp(x)", lambda x: exp(x), [-3.5, 0.3, 2.75]),
    ("log(x)", lambda x: log(x), [0.02, 0.9, 37.5]),
    ("log10(x)", lambda x: log10(x), [0.04, 2.5, 3.2e8]),
    ("sqrt(x)", lambda x: sqrt(x), [1e-6, 0.7, 1234.5]),
    ("x^0.6", lambda x: power(x, 0.6), [0.001, 0.085, 4.2]),
    ("x^1.1", lambda x: power(x, 1.1), [0.5, 2.3, 14.0]),
    ("sin(x)", lambda x: sin(x), [-2.0, 0.04, 1.5]),
    ("cos(x)", lambda x: cos(x), [-0.8, 0.07, 3.0]),
    ("tan(x)", lambda x: tan(x), [-1.2, 0.05, 0.35]),
    ("atan(x)", lambda x: atan(x), [-5.0, 0.12, 40.0]),
    ("exp(sin(x))*x^1.1", lambda x: exp(sin(x)) * power(x, 1.1), [0.25, 1.7, 6.0]),
    ("0.075/(log10(x)-2)^2", lambda x: mpmath.mpf(0.075) / (log10(x) - 2) ** 2, [1e6, 2.4e8]),
    ("0.75-1/(5.21*x^2+2.39)", lambda x: mpmath.mpf(0.75) - 1 / (mpmath.mpf(5.21) * x**2 + mpmath.mpf(2.39)), [0.3, 2.1]),
    ("sqrt(1-0.1*x/cos(x))", lambda x: sqrt(1 - mpmath.mpf(0.1) * x / cos(x)), [0.06, 1.1]),
    ("x-0.195*x^0.6", lambda x: x - mpmath.mpf(0.195) * power(x, 0.6), [0.03, 0.2]),
    ("log(1+tan(x)^2)*atan(sqrt(x))", lambda x: log(1 + tan(x) ** 2) * atan(sqrt(x)), [0.2, 1.3]),
    ("sin(x)/x", lambda x: sin(x) / x, [0.01, 4.4]),
]

print(f"# derivatives.csv made by derivatives.py with mpmath {mpmath.__version__} (mpmath.diff at 30 digits, 25 printed).")
print("# x and the constants in expr are the doubles nearest to the decimals shown; log is natural; ^ is power.")
print("expr,x,value,derivative")
for text, f, points in EXPRESSIONS:
    for x in points:
        exact = mpmath.mpf(x)
        value, derivative = (mpmath.nstr(v, 25, min_fixed=0, max_fixed=0) for v in (f(exact), mpmath.diff(f, exact)))
        print(f"{text},{x!r},{value},{derivative}")
