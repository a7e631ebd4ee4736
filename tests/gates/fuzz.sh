#!/bin/sh
# Fuzzing of the quantity parser and of the trial-file reader under the address and undefined-behaviour sanitizers.
#   fuzz.sh SOURCE SCRATCH [short|long]      20 s or 10 minutes each, side by side
#
# What is found stands in SCRATCH/found, SCRATCH/<target> shows it again with such a file as its argument; put a mended
# one into tests/fuzz/corpus. The seeds are these files, the trial files of the examples and tests, and of the files that
# tests/trial_page/bad_input.cpp makes from the table of keys, every key with every wrong value, all in the long version
# and every ninth in the short one, which is still each key at least once: more would take the 20 s to read.
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
eigen=$(pkg-config --cflags-only-I eigen3 | sed 's/-I/-isystem /g')
# Folders that the bad-input test is compiled with; the program itself is not run here.
places="-DTRIAL_PAGE_PROGRAM=\"none\" -DTRIAL_PAGE_FOLDER=\"$page\" -DTRIAL_PAGE_TESTS=\"$source/tests/trial_page\""

# Each source once; the linked parser and formatter stand in their own libraries.
{
    echo "quantity $source/tests/fuzz/quantity.cpp"
    echo "trial_file $source/tests/fuzz/trial_file.cpp"
    for part in reduced_day judged_day trial_file toml_block trial_keys; do
        echo "page_$part $page/$part.cpp"
    done
    echo "wrong_files $source/tests/trial_page/bad_input.cpp -fno-sanitize=all"
    echo "wrong_files_main $source/tests/main.cpp -fno-sanitize=all"
} >"$scratch/list"
# shellcheck disable=SC2016  # expanded by the inner shell
xargs -P "$(nproc)" -L 1 sh -c '
    clang++ $1 ${5-} -c "$4" -o "$2/$3.o" >"$2/$3.log" 2>&1 || { cat "$2/$3.log"; exit 255; }' \
    sh "$flags -I$source/include -I$page $eigen $places" "$scratch" <"$scratch/list"
# shellcheck disable=SC2086  # words
clang++ $link "$scratch/quantity.o" -o "$scratch/quantity"
# shellcheck disable=SC2086  # words
clang++ $link "$scratch/trial_file.o" "$scratch"/page_*.o -lfmt -o "$scratch/trial_file"
clang++ -fsanitize=address,undefined "$scratch/wrong_files.o" "$scratch/wrong_files_main.o" "$scratch/page_trial_keys.o" \
    -lfmt -o "$scratch/wrong_files"

mkdir -p "$scratch/found" "$scratch/grown/quantity" "$scratch/grown/trial_file" "$scratch/seeds" "$scratch/tmp"
cp "$page"/*.toml "$source"/tests/trial_page/*.toml "$scratch/seeds"
mkdir "$scratch/wrong"
SEEDS=$scratch/wrong "$scratch/wrong_files" --no-skip --test-case='write every key*' >"$scratch/wrong_files.log" || {
    cat "$scratch/wrong_files.log"
    exit 1
}
every=9
[ "$length" = short ] || every=1
find "$scratch/wrong" -type f | sort | awk -v every="$every" 'NR % every == 0' >"$scratch/wrong.list"
wrong=$(wc -l <"$scratch/wrong.list")
if [ "$wrong" -lt 300 ]; then
    echo "$wrong wrong files from the bad-input test: too few"
    exit 1
fi
xargs cp -t "$scratch/seeds" <"$scratch/wrong.list"

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
    if [ "$(cat "$scratch/$target.status")" != 0 ]; then
        echo "$target: found something; the input is in $scratch/found"
        grep -vE '^(#|INFO)' "$scratch/$target.run" | head -n 40
        exit 1
    fi
    runs=$(sed -n 's/^stat::number_of_executed_units: //p' "$scratch/$target.run")
    if [ "${runs:-0}" -eq 0 ]; then
        echo "$target: no input was run"
        tail -n 20 "$scratch/$target.run"
        exit 1
    fi
    cover=$(sed -nE 's/^#[0-9]+.*cov: ([0-9]+) .*/\1/p' "$scratch/$target.run" | tail -n 1)
    said="$said$target $runs inputs, $cover edges; "
done
echo "${said}nothing found in $seconds s each ($(find "$scratch/seeds" "$source/tests/fuzz/corpus" -type f | wc -l) seeds)"
