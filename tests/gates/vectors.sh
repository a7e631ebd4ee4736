#!/bin/sh
# Lanes on the vectors that this machine has beyond the plain ones: the same tests with AVX2 and fused multiply-add, and
# with AVX-512.
#   vectors.sh SOURCE SCRATCH [short|long]      long: clang++ too, batch(), and batch() under the sanitizer for threads
#
# The plain tests build for any x86-64: they see neither vectors of four and eight nor products fused with a sum.
# What the machine cannot run is compiled only, and the last line says so.
set -eu
source=$(CDPATH='' cd -- "$1" && pwd -P)
rm -rf "$2"
mkdir -p "$2"
scratch=$(CDPATH='' cd -- "$2" && pwd -P)
tests='scalar/lanes scalar/lanes_maths resistance/planing_balance'
compilers=g++
if [ "${3:-short}" = long ]; then
    tests="$tests scalar/batch"
    compilers='g++ clang++'
fi
[ "$(uname -m)" = x86_64 ] || {
    echo "not an x86-64: nothing beyond what the plain tests build, nothing run"
    exit 0
}
warnings=$(cat "$source/.cmake/warnings.txt")
includes="-I$source/include -I$source/tests $(pkg-config --cflags-only-I eigen3 | sed 's/-I/-isystem /g')"
flags="-std=c++20 $includes $warnings -pthread"

# has WORD...: whether the processor has all of them.
has() {
    for word; do grep -qw "$word" /proc/cpuinfo || return 1; done
}

# compiled COMPILER OPTION...: with what every test program is built with.
compiled() {
    compiler=$1
    shift
    # g++ 12 sees overruns inside its own strings, by the length of a literal: the path of the source is one.
    [ "$compiler" != g++ ] || set -- -Wno-error=array-bounds -Wno-error=restrict -Wno-error=stringop-overflow "$@"
    # shellcheck disable=SC2086  # words
    "$compiler" $flags "-DHARDCHINE_TEST_DATA=\"$source/tests\"" "-DHARDCHINE_SOURCE=\"$source\"" "$@"
}

programs=0 assertions=0
# run NAME COMPILER TEST OPTION...: builds the test program and runs it.
run() {
    name=$scratch/$1 with=$2 test=$3
    shift 3
    echo "$test: $with $*"
    compiled "$with" "$@" "$source/tests/$test.cpp" "$scratch/main.o" -o "$name" || exit 1
    "$name" >"$name.log" 2>&1 || {
        head -n 40 "$name.log"
        tail -n 4 "$name.log"
        echo "$test fails: $with $*"
        exit 1
    }
    programs=$((programs + 1))
    checks=$(sed -nE 's/^\[doctest\] assertions: +([0-9]+) .*/\1/p' "$name.log")
    [ "${checks:-0}" -gt 0 ] || {
        echo "$test: no check ran"
        exit 1
    }
    assertions=$((assertions + checks))
}

# all SET OPTION...: every test by every compiler.
all() {
    set=$1
    shift
    for each in $compilers; do
        for tested in $tests; do run "$(echo "$set.$each.$tested" | tr / _)" "$each" "$tested" -O2 "$@"; done
    done
    sets="$sets $set,"
}

compiled g++ -O0 -c "$source/tests/main.cpp" -o "$scratch/main.o"
sets='' only_compiled=''
if has avx2 fma; then
    all AVX2 -mavx2 -mfma
else
    for each in $compilers; do compiled "$each" -O2 -mavx2 -mfma -fsyntax-only "$source/tests/scalar/lanes.cpp"; done
    only_compiled='AVX2 '
fi
if has avx2 fma avx512f avx512bw avx512cd avx512dq avx512vl; then
    all AVX-512 -march=x86-64-v4
else
    for each in $compilers; do compiled "$each" -O2 -march=x86-64-v4 -fsyntax-only "$source/tests/scalar/lanes.cpp"; done
    only_compiled="${only_compiled}AVX-512 "
fi
if [ "${3:-short}" = long ]; then
    run threads.batch clang++ scalar/batch -O1 -g -fsanitize=thread
    sets="$sets sanitizer for threads,"
fi
echo "$programs programs, $assertions assertions:${sets:- none,} compiled but not run: ${only_compiled:-none}" |
    sed 's/ $//'
