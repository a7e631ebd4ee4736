#!/bin/sh
# static.sh SOURCE SCRATCH: layout of every C++ file, order of its includes, and clang-tidy over the public headers
# with the checks that .clang-tidy argues for.
set -eu
source=$(CDPATH='' cd -- "$1" && pwd -P)
scratch=$2
rm -rf "$scratch"
mkdir -p "$scratch"
scratch=$(CDPATH='' cd -- "$scratch" && pwd -P)
cd "$source"
eigen=$(pkg-config --cflags-only-I eigen3 | sed 's/-I/-isystem /g')
status=0

# Layout; clang-format also sorts the includes within a block.
for folder in include examples tests docs bench; do
    [ ! -d "$folder" ] || find "$folder" -name '*.hpp' -o -name '*.cpp'
done | sort >"$scratch/files"
xargs clang-format --dry-run -Werror <"$scratch/files" 2>"$scratch/format" || {
    grep 'error:' "$scratch/format"
    status=1
}

# Between blocks: a source file may begin with the header that it belongs to; own headers otherwise stand last.
# A suppressed finding names the check and says why.
while read -r file; do
    awk -v file="$file" '
        /^[ \t]*#[ \t]*include[ \t]*"/ && (others || file ~ /^include/) && !own { own = FNR }
        /^[ \t]*#[ \t]*include[ \t]*</ {
            others = 1
            if (own) {
                printf "%s:%d: %s stands after the own header of line %d\n", file, FNR, $0, own
                failed = 1
            }
        }
        /NOLINT/ && !/NOLINT(NEXTLINE|BEGIN|END)?\([a-z0-9,. -]+\): [^ ]/ {
            printf "%s:%d: NOLINT without its check and its reason\n", file, FNR
            failed = 1
        }
        /^[ \t]*#[ \t]*pragma[ \t]+(GCC|clang)[ \t]+diagnostic[ \t]+ignored/ && file ~ /^include/ {
            printf "%s:%d: a public header switches a warning off\n", file, FNR
            failed = 1
        }
        END { exit failed }' "$file" || status=1
done <"$scratch/files"

headers=0
: >"$scratch/every_header.hpp"
for header in $(cd include && find . -name '*.hpp' | sort); do
    echo "#include \"${header#./}\"" >>"$scratch/every_header.hpp"
    headers=$((headers + 1))
done
# shellcheck disable=SC2086  # words
clang-tidy --quiet "--config-file=$source/.clang-tidy" "$source/tests/gates/static/calls.cpp" -- -std=c++20 \
    "-I$scratch" "-I$source/include" $eigen >"$scratch/tidy" 2>&1 || {
    grep -E '(error|warning):|^[ ]' "$scratch/tidy" || cat "$scratch/tidy"
    status=1
}
checks=$(clang-tidy "--config-file=$source/.clang-tidy" --list-checks "$source/tests/gates/static/calls.cpp" -- | grep -c '^  ')
echo "$headers headers under $checks checks, $(wc -l <"$scratch/files") files laid out"
exit "$status"
