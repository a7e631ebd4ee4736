#!/bin/sh
# Fuzzing of the quantity parser and of the trial-file reader under the address and undefined-behaviour sanitizers.
#   fuzz.sh SOURCE SCRATCH [short|long]      20 s or 10 minutes each, side by side
#
# What is found stands in SCRATCH/found, SCRATCH/<target> shows it again with such a file as its argument; put a mended
# one into tests/fuzz/corpus. The corpus is these files, the trial files of the examples and tests, and the wrong files
# that the bad-input test makes from the table of keys.
set -eu
source=$(CDPATH='' cd -- "$1" && pwd -P)
rm -rf "$2"
mkdir -p "$2"
scratch=$(CDPATH='' cd -- "$2" && pwd -P)
length=${3:-short}
seconds=20
[ "$length" = short ] || seconds=600

flags='-std=c++20 -O1 -g1 -fsanitize=fuzzer-no-link,address,undefined -fno-sanitize-recover=all'
link='-fsanitize=fuzzer,address,undefined'
page=$source/examples/trial_page

# Each source once; the linked parser and formatter stand in their own libraries.
{
    echo "quantity $source/tests/fuzz/quantity.cpp"
    echo "trial_file $source/tests/fuzz/trial_file.cpp"
    for part in reduced_day judged_day trial_file toml_block trial_keys; do
        echo "page_$part $page/$part.cpp"
    done
} >"$scratch/list"
# shellcheck disable=SC2016  # expanded by the inner shell
xargs -P "$(nproc)" -L 1 sh -c '
    clang++ $1 -c "$4" -o "$2/$3.o" >"$2/$3.log" 2>&1 || { cat "$2/$3.log"; exit 255; }' \
    sh "$flags -I$source/include -I$page -isystem /usr/include/eigen3" "$scratch" <"$scratch/list"
# shellcheck disable=SC2086  # words
clang++ $link "$scratch/quantity.o" -o "$scratch/quantity"
# shellcheck disable=SC2086  # words
clang++ $link "$scratch/trial_file.o" "$scratch"/page_*.o -lfmt -o "$scratch/trial_file"

mkdir -p "$scratch/found" "$scratch/grown/quantity" "$scratch/grown/trial_file" "$scratch/seeds" "$scratch/tmp"
cp "$page"/*.toml "$source"/tests/trial_page/*.toml "$scratch/seeds"
# The matrix of bad fields: every key of the demo trial with wrong values, taken from its own lines.
number=0
grep -nE '^[a-z_]+ = ' "$page/demo.toml" | cut -d: -f1 >"$scratch/lines"
while read -r line; do
    for value in '"nan kn"' '"-1 kg"' '0'; do
        number=$((number + 1))
        sed "${line}s|=.*|= $value|" "$page/demo.toml" >"$scratch/seeds/bad_$number.toml"
    done
done <"$scratch/lines"

export TMPDIR="$scratch/tmp"
fuzz() { # TARGET LARGEST SEEDS...
    target=$1 largest=$2
    shift 2
    status=0
    "$scratch/$target" -max_total_time="$seconds" -max_len="$largest" -timeout=10 -rss_limit_mb=3000 -seed=1 \
        -print_final_stats=1 -dict="$source/tests/fuzz/$target.dict" -artifact_prefix="$scratch/found/$target-" \
        "$scratch/grown/$target" "$@" >"$scratch/$target.run" 2>&1 || status=$?
    echo "$status" >"$scratch/$target.status"
}
fuzz quantity 64 "$source/tests/fuzz/corpus/quantity" &
fuzz trial_file 8192 "$source/tests/fuzz/corpus/trial_file" "$scratch/seeds" &
wait

said=
for target in quantity trial_file; do
    if [ "$(cat "$scratch/$target.status")" -ne 0 ]; then
        echo "$target: found something; the input is in $scratch/found"
        grep -vE '^(#|INFO)' "$scratch/$target.run" | head -n 40
        exit 1
    fi
    runs=$(sed -n 's/^stat::number_of_executed_units: //p' "$scratch/$target.run")
    cover=$(sed -nE 's/^#[0-9]+.*cov: ([0-9]+) .*/\1/p' "$scratch/$target.run" | tail -n 1)
    said="$said$target $runs inputs, $cover edges; "
done
echo "${said}nothing found in $seconds s each ($(find "$scratch/seeds" "$source/tests/fuzz/corpus" -type f | wc -l) seeds)"
