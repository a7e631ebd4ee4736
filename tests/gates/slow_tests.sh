#!/bin/sh
# What takes long to compile and is left out of tests/run: the design sweep with its tests, and three tests of lanes.
#   slow_tests.sh SOURCE SCRATCH [short|long]      long: clang++ too
set -eu
source=$(CDPATH='' cd -- "$1" && pwd -P)
mkdir -p "$2"
scratch=$(CDPATH='' cd -- "$2" && pwd -P)
compilers=g++
[ "${3:-short}" = short ] || compilers='g++ clang++'

passed=0
for compiler in $compilers; do
    build=$scratch/$compiler
    cmake -S "$source" -B "$build" -G Ninja "-DCMAKE_CXX_COMPILER=$compiler" -DCMAKE_BUILD_TYPE=Release \
        -DCMAKE_CXX_FLAGS_RELEASE=-O1 -DHARDCHINE_BUILD_TESTS=ON -DHARDCHINE_BUILD_EXAMPLES=ON \
        -DHARDCHINE_QUICK=OFF >"$build.log" 2>&1 || {
        tail -n 20 "$build.log"
        exit 1
    }
    cmake --build "$build" --parallel "$(nproc)" --target design_sweep test_scalar_batch test_scalar_lanes_maths \
        test_resistance_planing_balance >"$build.log" 2>&1 || {
        sed -nE '/^FAILED/,$p' "$build.log" | head -n 40
        exit 1
    }
    LC_ALL=C ctest --test-dir "$build" --no-tests=error --timeout 300 --output-on-failure -j "$(nproc)" \
        -R '^(example_design_sweep_.*|test_scalar_batch|test_scalar_lanes_maths|test_resistance_planing_balance)$' \
        >"$build.log" 2>&1 </dev/null || {
        tail -n 60 "$build.log"
        exit 1
    }
    passed=$((passed + $(grep -c ' Passed ' "$build.log")))
done
echo "$passed tests that tests/run leaves out, with $compilers"
