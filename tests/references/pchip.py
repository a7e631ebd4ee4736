"""Prints pchip.csv, or with --end-slopes pchip_end_slopes.csv: SciPy's monotone cubic through an invented engine-speed table."""
import sys

import scipy
from scipy.interpolate import PchipInterpolator

RPM = [1000, 1500, 2000, 3000, 3500, 4000, 5000, 5800]
SPEED_KN = [5.2, 6.9, 8.3, 16.8, 22.6, 26.9, 34.4, 39.1]
FLOW_GPH = [1.3, 2.6, 4.8, 8.1, 10.2, 13.1, 20.9, 28.4]
# The knots are in the range; the odd values sit close to knots and ends.
QUERY = sorted(set(range(1000, 5801, 100)) | {1001, 1037, 1250, 1499, 1501, 3250, 3465.15, 3871.37, 5791, 5799})

speed = PchipInterpolator(RPM, SPEED_KN)
flow = PchipInterpolator(RPM, FLOW_GPH)
end_slopes = "--end-slopes" in sys.argv[1:]

name = "pchip_end_slopes.csv" if end_slopes else "pchip.csv"
print(f"# {name} made by pchip.py with SciPy {scipy.__version__} (scipy.interpolate.PchipInterpolator, three-point end slopes).")
print("# knots, rpm:", *RPM)
print("# knots, speed in knots:", *SPEED_KN)
print("# knots, flow in US gallons an hour:", *FLOW_GPH)
if end_slopes:
    print("# slopes at the first and last knot, per rpm")
    print("quantity,first_slope,last_slope")
    for quantity, curve in (("speed_kn", speed), ("flow_gph", flow)):
        slope = curve.derivative()
        print(f"{quantity},{float(slope(RPM[0])):.17g},{float(slope(RPM[-1])):.17g}")
else:
    print("rpm,speed_kn,flow_gph")
    for rpm in QUERY:
        print(f"{rpm!r},{float(speed(rpm)):.17g},{float(flow(rpm)):.17g}")
