"""Prints sea_water.csv: TEOS-10 density at sea pressure 0 from the GSW toolbox."""
import gsw

SALINITIES = [0.0, 5.0, 10.0, 20.0, 30.0, 35.16504, 40.0]
TEMPERATURES = [0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0]

print(f"# sea_water.csv made by sea_water.py with GSW-Python {gsw.__version__} (compiled GSW-C).")
print("# rho = gsw.rho_t_exact(S_A, t, p): absolute salinity S_A, in-situ temperature t (ITS-90), sea pressure p = 0 dbar.")
print("S_A_g_per_kg,t_C,rho_kg_per_m3")
for S_A in SALINITIES:
    for t in TEMPERATURES:
        print(f"{S_A!r},{t!r},{float(gsw.rho_t_exact(S_A, t, 0.0)):.17g}")
