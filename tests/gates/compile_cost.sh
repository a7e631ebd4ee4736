#!/bin/sh
# What including a public header costs, as a ratio to Boost.Units' si.hpp alone measured in the same run, so that a slow
# or busy machine tells the same. Prints user seconds and peak memory of g++ -O0 for each.
#   compile_cost.sh SOURCE SCRATCH [short|long]
# short measures once and again only what is near its limit; long measures everything five times.
set -eu
source=$(CDPATH='' cd -- "$1" && pwd -P)
rm -rf "$2"
mkdir -p "$2"
scratch=$(CDPATH='' cd -- "$2" && pwd -P)
length=${3-short}
compiler=g++
yardstick=boost/units/systems/si.hpp
rounds=5

# A header of one method takes at most twice the yardstick, the umbrella five times. Beyond that only, with the reason:
own_limits() {
    cat <<'END'
5.0 hardchine/hardchine.hpp                 the umbrella
2.2 hardchine/economy/economy_curve.hpp     the interpolator of Boost.Math, and <iostream> with it, is half a yardstick
2.8 hardchine/economy/best_cruise.hpp       the same, and the minimiser of Boost.Math
3.5 hardchine/trial/least_squares_runs.hpp  Eigen/Core alone is more than one and a half yardsticks; it has no lighter part
3.5 hardchine/trial/reduced_runs.hpp        the same: its rule may choose least squares
2.8 hardchine/scalar/batch.hpp              opt in; the standard library's <thread> and <functional> alone are more than a yardstick
2.9 hardchine/trial/findings.hpp            opt in; on numbers only, so all the methods it judges by are compiled there
END
}
limit_of() { own_limits | awk -v h="$1" '$2 == h { limit = $1 } END { print limit ? limit : 2.0 }'; }

command -v time >/dev/null || {
    echo 'no command time (Debian package time)'
    exit 1
}
# A cache of compilations would answer instead of the compiler.
CCACHE_DISABLE=1
export CCACHE_DISABLE

eigen=$(pkg-config --cflags-only-I eigen3 | sed 's/-I/-isystem /g')

# cost HEADER: sets seconds and kilobytes.
cost() {
    echo "#include <$1>" >"$scratch/one.cpp"
    # shellcheck disable=SC2086  # words
    LC_ALL=C command time -q -f '%U %M' -o "$scratch/one.time" \
        "$compiler" -std=c++20 -O0 "-I$source/include" $eigen -c "$scratch/one.cpp" -o "$scratch/one.o" \
        >"$scratch/one.txt" 2>&1 || {
        echo "$1 does not compile"
        cat "$scratch/one.txt"
        exit 1
    }
    read -r seconds kilobytes <"$scratch/one.time"
}

# measure HEADER: appends a line "ratio seconds kilobytes" to its list, the yardstick being measured before and after.
measure() {
    before=$after
    cost "$1"
    mine="$seconds $kilobytes"
    cost "$yardstick"
    after=$seconds
    echo "$mine $before $after" | awk '{ printf "%.3f %.2f %d\n", 2 * $1 / ($3 + $4), $1, $2 }' >>"$(list_of "$1")"
}

list_of() { echo "$scratch/$(echo "$1" | tr '/' '_').list"; }

# median_of HEADER: its ratio.
median_of() {
    sort -n "$(list_of "$1")" |
        awk '{ x[NR] = $1 } END { print NR % 2 ? x[(NR + 1) / 2] : (x[NR / 2] + x[NR / 2 + 1]) / 2 }'
}

more_than() { awk -v a="$1" -v b="$2" 'BEGIN { exit !(a > b) }'; }

cd "$source/include"
find . -type f -name '*.hpp' | sed 's|^\./||' | sort >"$scratch/headers"
[ -s "$scratch/headers" ] || {
    echo 'no header below include/'
    exit 1
}

own_limits | while read -r limit header _; do
    if [ ! -e "$header" ]; then
        echo "a limit of $limit for $header, which is not there"
        exit 1
    fi
done

cost "$yardstick"
cost "$yardstick" # the first one reads the disk
after=$seconds
round=1
while [ "$round" -le "$rounds" ]; do
    while read -r header; do
        # A single measurement of a quiet header is enough.
        if [ "$length" = short ] && [ "$round" -gt 1 ] &&
            ! more_than "$(median_of "$header")" "$(awk -v l="$(limit_of "$header")" 'BEGIN { print 0.85 * l }')"; then
            continue
        fi
        measure "$header"
    done <"$scratch/headers"
    round=$((round + 1))
done

printf '%6s %6s %8s %6s  %s\n' ratio limit 'user s' MB header
over=0
umbrella=none
while read -r header; do
    ratio=$(median_of "$header")
    limit=$(limit_of "$header")
    note=
    if more_than "$ratio" "$limit"; then
        note=' <- above its limit'
        over=$((over + 1))
    fi
    case $header in hardchine/hardchine.hpp) umbrella=$ratio ;; esac
    sort -n -k 2 "$(list_of "$header")" | head -n 1 |
        awk -v r="$ratio" -v l="$limit" -v h="$header$note" '{ printf "%6.2f %6.1f %8.2f %6.0f  %s\n", r, l, $2, $3 / 1024, h }'
done <"$scratch/headers"
if [ "$over" -ne 0 ]; then
    echo "$over headers above their limit"
    exit 1
fi
echo "$(wc -l <"$scratch/headers") headers within their limits; umbrella $umbrella times $yardstick ($after s)"
