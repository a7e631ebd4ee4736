#!/bin/sh
# Every public header compiles as the only one of a program, and twice, on both compilers, all warnings being errors.
#   headers.sh SOURCE SCRATCH [short|long]
set -eu
source=$(CDPATH='' cd -- "$1" && pwd -P)
rm -rf "$2"
mkdir -p "$2"
scratch=$(CDPATH='' cd -- "$2" && pwd -P)
compilers='g++ clang++'
warnings=$(cat "$source/.cmake/warnings.txt")
eigen=$(pkg-config --cflags-only-I eigen3 | sed 's/-I/-isystem /g')

for compiler in $compilers; do
    command -v "$compiler" >/dev/null || {
        echo "no $compiler"
        exit 1
    }
done
cd "$source/include"
find . -type f ! -name '*.hpp' >"$scratch/strangers"
if [ -s "$scratch/strangers" ]; then
    echo 'not a header (*.hpp) below include/:'
    cat "$scratch/strangers"
    exit 1
fi
find . -type f -name '*.hpp' | sed 's|^\./||' | sort >"$scratch/headers"
[ -s "$scratch/headers" ] || {
    echo 'no header below include/'
    exit 1
}

# One line a compilation: compiler, header. What a compiler says stands in a file beside the program.
number=0
while read -r header; do
    number=$((number + 1))
    printf '#include <%s>\n#include <%s>\nint main() {}\n' "$header" "$header" >"$scratch/$number.cpp"
    for compiler in $compilers; do echo "$compiler $number $header"; done
done <"$scratch/headers" >"$scratch/list"

# shellcheck disable=SC2016  # expanded by the inner shell
xargs -P "$(nproc)" -L 1 sh -c '
    scratch=$1 flags=$2 compiler=$3 number=$4 header=$5
    $compiler $flags -fsyntax-only "$scratch/$number.cpp" >"$scratch/$number.$compiler" 2>&1 ||
        printf "%s %s %s\n" "$number" "$compiler" "$header" >>"$scratch/failed"' \
    sh "$scratch" "-std=c++20 -I$source/include $eigen $warnings" <"$scratch/list"

if [ -e "$scratch/failed" ]; then
    while read -r number compiler header; do
        echo "$compiler: $header does not compile alone"
        head -n 15 "$scratch/$number.$compiler"
    done <"$scratch/failed"
    echo "$(wc -l <"$scratch/failed") of $(wc -l <"$scratch/list") compilations failed"
    exit 1
fi

# The plain tests build the consumers with one compiler; those that take what a header says run here with the other.
sh "$source/tests/consumers/check.sh" "$source" "$scratch/consumers" clang++ subproject one_header two_units
echo "$(wc -l <"$scratch/headers") headers alone and twice on $compilers, three consumers with clang++"
