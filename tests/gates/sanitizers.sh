#!/bin/sh
# All tests under the address and undefined-behaviour sanitizers, on clang; a finding ends its program.
#   sanitizers.sh SOURCE SCRATCH [short|long]      long adds the four thousand wrong trial files, one program run each
#                                                  (in the short gates fuzz.sh reads every ninth of those with a wrong
#                                                  value, under the same sanitizers), the design sweep and the
#                                                  three tests of lanes that take minutes to compile here (the gate
#                                                  "slow_tests" runs these, without sanitizers), and lists divisions
#                                                  by zero
#
# Division by zero is no error of this library: it is how "none" leaves a formula without a branch (a lane that select()
# does not take, an unset field, the slope of a standing boat). So it is listed on request and refuses nothing.
set -eu
source=$(CDPATH='' cd -- "$1" && pwd -P)
mkdir -p "$2"
build=$(CDPATH='' cd -- "$2" && pwd -P)
length=${3:-short}

# One translation unit at most may use it: its templates take minutes under the sanitizers.
# In a header it would be in every unit that includes it.
multiprecision=$(cd "$source" && grep -rl 'boost/multiprecision' include examples tests docs --include='*.[ch]pp' || true)
units=$(printf '%s\n' "$multiprecision" | grep -c '\.cpp$' || true)
headers=$(printf '%s\n' "$multiprecision" | grep -c '\.hpp$' || true)
if [ "$headers" -ne 0 ] || [ "$units" -gt 1 ]; then
    echo "Boost.Multiprecision in $headers headers and $units translation units; no header and one unit may have it:"
    echo "$multiprecision"
    exit 1
fi

quick=ON
[ "$length" = short ] || quick=OFF
flags='-fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer'
cmake -S "$source" -B "$build" -G Ninja -DCMAKE_CXX_COMPILER=clang++ -DCMAKE_BUILD_TYPE=None \
    -DCMAKE_CXX_FLAGS="$flags" -DHARDCHINE_BUILD_TESTS=ON -DHARDCHINE_BUILD_EXAMPLES=ON \
    "-DHARDCHINE_QUICK=$quick" >"$build/configure.log" 2>&1 || {
    tail -n 20 "$build/configure.log"
    exit 1
}
started=$(date +%s)
cmake --build "$build" --parallel "$(nproc)" >"$build/build.log" 2>&1 || {
    sed -nE '/^FAILED/,$p' "$build/build.log" | head -n 40
    exit 1
}
built=$(($(date +%s) - started))

# The consumers and the blocks of the pages compile programs of their own, without sanitizers: the plain tests run them.
others='test_docs_code_blocks'
[ "$length" = long ] || others="$others|test_trial_page_bad_input"
status=0
ASAN_OPTIONS=detect_leaks=1 UBSAN_OPTIONS=print_stacktrace=1 \
    ctest --test-dir "$build" -LE consumers -E "^($others)\$" --no-tests=error --output-on-failure \
    -j "$(nproc)" >"$build/ctest.log" 2>&1 || status=$?
if [ "$status" -ne 0 ]; then
    grep -E 'runtime error|ERROR: (Address|Leak)Sanitizer|SUMMARY|\(Failed\)|tests failed' "$build/ctest.log" | head -n 40
    echo "the whole log: $build/ctest.log"
    exit 1
fi

if [ "$length" = long ]; then
    cmake -S "$source" -B "$build/zero" -G Ninja -DCMAKE_CXX_COMPILER=clang++ -DCMAKE_BUILD_TYPE=None \
        -DCMAKE_CXX_FLAGS='-fsanitize=float-divide-by-zero' >"$build/configure.log" 2>&1
    cmake --build "$build/zero" --parallel "$(nproc)" >"$build/build.log" 2>&1
    ctest --test-dir "$build/zero" -LE consumers -E "^($others)\$" -V >"$build/zero.log" 2>&1 || true
    echo 'divisions by zero, by place:'
    grep -oE 'include/hardchine/[a-z_/]+\.hpp:[0-9]+:[0-9]+: runtime error: division by zero' "$build/zero.log" |
        sort | uniq -c | sort -rn
fi
tests=$(sed -nE 's/^100% tests passed, 0 tests failed out of ([0-9]+)$/\1/p' "$build/ctest.log")
checks=$(awk '/^\[doctest\] assertions:/ { n += $3 } END { print n + 0 }' \
    "$build/Testing/Temporary/LastTest.log")
echo "$tests tests, $checks assertions without a finding (built in $built s)"
