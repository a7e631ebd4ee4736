#!/bin/sh
# Random inputs over the whole accepted ranges, and what must hold of every answer (tests/random/properties.cpp).
#   random.sh SOURCE SCRATCH [short|long]      a million cases of a fixed seed; ten million of a new one, which is printed
#
# A case that fails is printed with its own seed: SCRATCH/properties again NAME SEED shows its inputs.
set -eu
source=$(CDPATH='' cd -- "$1" && pwd -P)
rm -rf "$2"
mkdir -p "$2"
scratch=$(CDPATH='' cd -- "$2" && pwd -P)
cases=1000000 seed=4
[ "${3:-short}" = short ] || cases=10000000 seed=$(date +%s)

warnings=$(cat "$source/.cmake/warnings.txt")
compilers=g++
[ "${3:-short}" = short ] || compilers='g++ clang++'
for compiler in $compilers; do
    # shellcheck disable=SC2086  # words
    "$compiler" -std=c++20 -O2 -I"$source/include" $warnings -pthread "$source/tests/random/properties.cpp" \
        -o "$scratch/properties"
    "$scratch/properties" "$cases" "$seed"
done
