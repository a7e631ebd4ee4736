#!/bin/sh
# Pairs of almost equal programs (tests/compile_fail, see its README.md): the right one compiles, the wrong one does
# not, and both compilers say what was expected.
#   compile_fail.sh SOURCE SCRATCH [short|long]      long: every message as a user sees it, and a table of its lengths
set -eu
scratch=$2
mode=${3:-short}
rm -rf "$scratch"
mkdir -p "$scratch"
scratch=$(CDPATH='' cd -- "$scratch" && pwd -P)
cd "$1"
# A copy: a header that changes meanwhile would not fit what was made from it.
cp -R include "$scratch/include"
pairs=tests/compile_fail
EIGEN=$(pkg-config --cflags-only-I eigen3 | sed 's/-I/-isystem /g')
export EIGEN
for compiler in g++ clang++; do
    command -v "$compiler" >/dev/null || {
        echo "$compiler is not here"
        exit 1
    }
    mkdir "$scratch/$compiler"
done

# Spelt in any other way a pair would be passed over in silence.
found=0
for file in "$pairs"/*.cpp; do
    spelt=$(grep -cE '^#ifdef WRONG_[a-z0-9_]+$' "$file" || :)
    if [ "$(grep -c WRONG_ "$file" || :)" -ne "$spelt" ]; then
        echo "$file: a pair does not begin with \"#ifdef WRONG_name\" in small letters and nothing behind it:"
        grep -n WRONG_ "$file" | grep -vE ':#ifdef WRONG_[a-z0-9_]+$'
        exit 1
    fi
    found=$((found + spelt))
done
if [ "$found" -lt 30 ]; then
    echo "$pairs: $found pairs, fewer than 30"
    exit 1
fi

# One program a line: compiler, file, pair; the pair "right" is the whole file with nothing wrong in it.
for compiler in g++ clang++; do
    for file in "$pairs"/*.cpp; do
        echo "$compiler $file" >>"$scratch/files"
        echo "$compiler $file right"
        sed -n "s|^#ifdef WRONG_\([a-z0-9_]*\)\$|$compiler $file \1|p" "$file"
    done
done >"$scratch/programs"

# The headers of a file are compiled once for all its pairs, which halves the time; the messages then differ from what
# a user sees only in the lines that say by which way a header was included.
if [ "$mode" = short ]; then
    # shellcheck disable=SC2016 # expanded by the inner sh
    xargs -P "$(nproc)" -L 1 sh -c '
        headers=$1/$2/$(basename "$3" .cpp).hpp
        grep "^#include " "$3" >"$headers"
        "$2" -std=c++20 -I"$1/include" $EIGEN -x c++-header "$headers" -o "$headers.gch"
        ' sh "$scratch" <"$scratch/files" || {
        echo "$pairs: headers that do not compile, see above"
        exit 1
    }
fi
# The messages in English and with plain quotes.
# shellcheck disable=SC2016
xargs -P "$(nproc)" -L 1 sh -c '
    name=$1/$2/$(basename "$3" .cpp)
    include=
    [ ! -e "$name.hpp" ] || include=-include
    status=0
    LC_ALL=C "$2" -std=c++20 -I"$1/include" $EIGEN -fsyntax-only \
        ${include:+"$include" "$name.hpp"} -D"WRONG_$4" "$3" >"$name.$4" 2>&1 || status=$?
    echo "$status" >"$name.$4.status"
    ' sh "$scratch" <"$scratch/programs"

while read -r compiler file pair; do
    message=$scratch/$compiler/$(basename "$file" .cpp).$pair
    awk -v compiler="$compiler" -v file="$file" -v pair="$pair" -v status="$(cat "$message.status")" \
        -f "$pairs/judge.awk" "$file" "$message"
done <"$scratch/programs" >"$scratch/verdicts"

if grep '^failed' "$scratch/verdicts"; then
    echo "$(grep -c '^failed' "$scratch/verdicts") of $(wc -l <"$scratch/programs") programs are not as they must be"
    exit 1
fi
missing=0
for mistake in 'raw number' 'swapped arguments' 'speed for rotation rate' 'degrees as a number' \
    'pounds-mass as force' 'mass for moment' 'gallons as mass' 'missing unit' 'area for length' \
    'temperature without its zero'; do
    for compiler in g++ clang++; do
        grep -q "^fine .* $compiler .* $mistake\$" "$scratch/verdicts" || {
            echo "$pairs: no pair has \"// common: $mistake\" above it"
            missing=1
        }
    done
done
[ "$missing" -eq 0 ] || exit 1

# A verdict: fine, lines from our own line to the useful word, characters in them, compiler, file, pair, mistake.
if [ "$mode" = long ]; then
    printf '%5s  %10s  %-8s  %-36s  %s\n' lines characters compiler pair 'common mistake'
    grep -v ' right$' "$scratch/verdicts" | sort -k 5,6 -k 4,4 |
        while read -r _ lines characters compiler _ pair mistake; do
            printf '%5s  %10s  %-8s  %-36s  %s\n' "$lines" "$characters" "$compiler" "$pair" "$mistake"
        done
fi
awk '$6 != "right" {
         ++pairs[$5 " " $6]
         if ($2 > longest) longest = $2
         if ($7 != "" && $2 > common) common = $2
     }
     END {
         for (pair in pairs) ++n
         printf "%d pairs, 2 compilers; lines to the useful word: at most %d, of the ten common mistakes %d\n", n,
                longest, common
     }' "$scratch/verdicts"
