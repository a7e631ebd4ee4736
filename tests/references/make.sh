#!/bin/sh
# Makes the tables of this folder again, in place; with --check in a temporary folder, showing every difference (exit 1 on any).
# Installs nothing. Debian packages: units python3 python3-scipy python3-numpy python3-gsw python3-mpmath
set -eu
here=$(CDPATH='' cd -- "$(dirname -- "$0")" && pwd)
python=${PYTHON:-/usr/bin/python3} # Debian's own interpreter: the one that sees Debian's python3-* packages
packages='units python3 python3-scipy python3-numpy python3-gsw python3-mpmath'
tables='units sea_water pchip pchip_end_slopes planing_roots friction_lines derivatives least_squares speed_power lane_kernels'

check=no
case $#:${1-} in
0:) ;;
1:--check) check=yes ;;
*) echo "usage: make.sh [--check]" >&2; exit 2 ;;
esac

if ! command -v units >/dev/null || ! "$python" -c 'import gsw, mpmath, numpy, scipy' 2>/dev/null; then
  echo "make.sh: something is missing; the Debian packages needed are: $packages" >&2
  exit 2
fi

made=$(mktemp -d)
trap 'rm -rf "$made"' EXIT

for table in $tables; do
  case $table in
  units) sh "$here/units.sh" ;;
  pchip_end_slopes) "$python" -B "$here/pchip.py" --end-slopes ;;
  *) "$python" -B "$here/$table.py" ;;
  esac >"$made/$table.csv"
done

if [ $check = no ]; then
  for table in $tables; do cat "$made/$table.csv" >"$here/$table.csv"; done
  exit 0
fi

status=0
for table in $tables; do
  if diff -u "$here/$table.csv" "$made/$table.csv"; then echo "same: $table.csv"; else status=1; fi
done
exit $status
