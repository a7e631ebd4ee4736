#!/bin/sh
# Prints units.csv: one row a unit, its value in the coherent SI unit (m, kg, s, K, rad) as GNU units computes it.
set -eu
LC_ALL=C
export LC_ALL

# -f '' reads the distributed definitions only, never a personal file.
# An unknown unit is answered in words; row refuses those.
in_si() { units -f '' -o '%.17g' -t "$1" "$2" || true; }

row() { # name, expression, SI unit to convert to
  value=$(in_si "$2" "$3")
  case $value in
  *[!0-9.e+-]* | '') echo "units.sh: $1: GNU units answered '$value' for '$2' in '$3'" >&2; exit 1 ;;
  esac
  printf '%s,%s,%s\n' "$1" "$2" "$value"
}

echo "# units.csv made by units.sh with $(units --version | sed -n '1s/ version//p')."
echo "# bare_value: value of the expression in the coherent SI unit (m, kg, s, rad), 17 significant digits."
echo "# rpm is 1/min: revolutions per second (GNU units' own rpm counts 2 pi rad a turn). inHg: mercury at 0 C."
echo "name,expression,bare_value"

row knot 'knot' 'm/s'
row mph 'mile/hour' 'm/s'
row foot_per_second 'foot/second' 'm/s'
row kilometre_per_hour 'km/hour' 'm/s'
row foot 'foot' 'm'
row inch 'inch' 'm'
row statute_mile 'mile' 'm'
row nautical_mile 'nauticalmile' 'm'
row pound_mass 'pound' 'kg'
row short_ton 'shortton' 'kg'
row long_ton 'longton' 'kg'
row tonne 'tonne' 'kg'
row slug 'slug' 'kg'
row pound_force 'pound force' 'N'
row us_gallon 'usgallon' 'm^3'
row imperial_gallon 'brgallon' 'm^3'
row litre 'litre' 'm^3'
row mechanical_horsepower '550 foot pound force/second' 'W'
row metric_horsepower '75 kilogram force meter/second' 'W'
row rpm '1/minute' '1/s'
row degree 'degree' 'radian'
row psi 'pound force/inch^2' 'Pa'
row bar 'bar' 'Pa'
row atm 'atm' 'Pa'
row inch_of_mercury 'inHg' 'Pa'
row standard_gravity 'gravity' 'm/s^2'
row square_foot_per_second 'foot^2/second' 'm^2/s'
row slug_per_cubic_foot 'slug/foot^3' 'kg/m^3'
row pound_per_cubic_foot 'pound/foot^3' 'kg/m^3'
row us_gallon_per_hour 'usgallon/hour' 'm^3/s'
row litre_per_hour 'litre/hour' 'm^3/s'
row imperial_gallon_per_hour 'brgallon/hour' 'm^3/s'
row pound_per_horsepower_hour 'pound/(550 foot pound force hour/second)' 'kg/J'
row gram_per_kilowatt_hour 'gram/(kilowatt hour)' 'kg/J'
row nautical_mile_per_us_gallon 'nauticalmile/usgallon' 'm/m^3'
row statute_mile_per_us_gallon 'mile/usgallon' 'm/m^3'
row litre_per_nautical_mile 'litre/nauticalmile' 'm^3/m'
row kilowatt 'kilowatt' 'W'
row kilonewton 'kilonewton' 'N'
