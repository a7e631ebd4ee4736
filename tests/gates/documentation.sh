#!/bin/sh
# documentation.sh SOURCE SCRATCH: the comments of the public headers, the links of the pages, the code, commands and
# outputs that they show.
set -eu
source=$(CDPATH='' cd -- "$1" && pwd -P)
scratch=$2
rm -rf "$scratch"
mkdir -p "$scratch"
scratch=$(CDPATH='' cd -- "$scratch" && pwd -P)
here=$source/tests/gates/documentation
cd "$source"
export LC_ALL=C.UTF-8
# The pages name no generator; a machine without recommended packages has ninja and no make.
export CMAKE_GENERATOR=Ninja
status=0
summary=
fail() {
    echo "$1"
    status=1
}
warnings=$(cat "$source/.cmake/warnings.txt")
eigen=$(pkg-config --cflags-only-I eigen3 | sed 's/-I/-isystem /g')

# The commands of the pages, as written, in a folder with a copy of the project beside the program to build.
commands() {
    page=$1
    folder=$scratch/commands/$(basename "$page" .md)
    mkdir -p "$folder/hardchine"
    for part in CMakeLists.txt .cmake include docs examples tests LICENSE README.md; do
        cp -r "$source/$part" "$folder/hardchine/"
    done
    cp examples/*.cpp "$folder/"
    # The program that the pages call main.cpp: the one under this heading.
    awk '/^## Check a propeller choice/ { found = 1 } found && /^```cpp$/ { inside = 1; next }
         inside && /^```$/ { exit } inside { print }' docs/embedding.md >"$folder/main.cpp"
    awk -f "$here/shell_blocks.awk" "$page" >"$folder/commands.sh"
    if ! (cd "$folder" && sh commands.sh) >"$folder/log" 2>&1; then
        echo "$page: the commands that it shows fail:"
        tail -n 15 "$folder/log"
        return 1
    fi
}
(
    failed=0
    for page in README.md docs/*.md; do
        ! grep -q '^```sh' "$page" || commands "$page" || failed=1
    done
    exit "$failed"
) >"$scratch/commands.log" &
commands_job=$!
for command in examples/run tests/run bench/run .ci/run; do
    [ -x "$command" ] || fail "$command, which README.md or DEVELOPERS.md names, is not there or cannot be run"
done

# Doxygen's own warnings on what a user sees.
mkdir "$scratch/doxygen" "$scratch/all"
{
    cat docs/Doxyfile
    echo "OUTPUT_DIRECTORY = $scratch/doxygen"
    echo 'GENERATE_HTML = NO'
    echo "WARN_LOGFILE = $scratch/doxygen.log"
} | doxygen - >/dev/null || fail 'doxygen ends with an error'
if [ -s "$scratch/doxygen.log" ]; then
    awk '!seen[$0]++' "$scratch/doxygen.log" | sed "s|^$source/||"
    fail "docs/Doxyfile: $(grep -c 'warning:\|error:' "$scratch/doxygen.log") warnings"
fi

# What a comment must say, read from the XML; the inside of headers is there too, to see who can throw.
{
    cat docs/Doxyfile
    echo "OUTPUT_DIRECTORY = $scratch/all"
    echo 'GENERATE_HTML = NO'
    echo 'EXCLUDE_SYMBOLS ='
    echo 'EXTRACT_ALL = YES'
    echo "WARN_LOGFILE = $scratch/all.log"
} | doxygen - >/dev/null || fail 'doxygen ends with an error'
# shellcheck disable=SC2086  # words
if g++ -std=c++20 $warnings "$here/doc_comments.cpp" -o "$scratch/doc_comments"; then
    "$scratch/doc_comments" "$scratch/all/xml" "$source" >"$scratch/comments" || {
        sed '$d' "$scratch/comments"
        status=1
    }
    summary=$(tail -n 1 "$scratch/comments")
else
    fail "$here/doc_comments.cpp does not compile"
fi

# Links and names of files.
find . -name '*.md' -not -path './.build/*' -not -path './.git/*' | sed 's|^\./||' | sort >"$scratch/pages"
# shellcheck disable=SC2046  # no blanks in names of pages
awk -v root=. -f "$here/links.awk" $(cat "$scratch/pages") >"$scratch/links" || {
    sed '$d' "$scratch/links"
    status=1
}
summary="$summary; $(tail -n 1 "$scratch/links")"

# What the programs print, against the stored outputs that the tests of the examples compare with.
awk -f "$here/outputs.awk" examples/expected/*.txt examples/trial_page/*.txt README.md >"$scratch/outputs" || {
    sed '$d' "$scratch/outputs"
    status=1
}
summary="$summary; $(tail -n 1 "$scratch/outputs")"

# C++ blocks of pages that the plain tests do not run already.
for page in README.md docs/*.md; do
    grep -q '^```cpp' "$page" || continue
    ! grep -q "/$page\"" tests/CMakeLists.txt || continue
    # shellcheck disable=SC2086  # words
    sh tests/docs/code_blocks.sh "$page" g++ -Iinclude $eigen $warnings >"$scratch/blocks" 2>&1 || {
        cat "$scratch/blocks"
        status=1
    }
    summary="$summary; $(tail -n 1 "$scratch/blocks")"
done

# What README.md says that compiler and library answer.
awk '/^error:/ { found = 1 } found && /^```/ { exit } found { sub(/^ +/, ""); print }' README.md >"$scratch/answer"
{
    echo '#include <hardchine/propulsion/slip.hpp>'
    echo 'using namespace hardchine;'
    echo 'double s() { return'
    sed -n 2p "$scratch/answer"
    echo '}'
} >"$scratch/rejected.cpp"
if g++ -std=c++20 -Iinclude -fsyntax-only "$scratch/rejected.cpp" >"$scratch/answered" 2>&1; then
    fail 'README.md: what it shows as rejected compiles'
fi
while read -r line; do
    grep -qF -- "$line" "$scratch/answered" || fail "README.md: g++ does not say \"$line\""
done <"$scratch/answer"
words=$(sed -n 's/.*(clang 14: "\(.*\)/\1/p' README.md | sed 's/"*$//')
clang++ -std=c++20 -Iinclude -fsyntax-only "$scratch/rejected.cpp" >"$scratch/answered" 2>&1 || :
if [ -z "$words" ] || ! grep -qF -- "$words" "$scratch/answered"; then
    fail "README.md: clang does not say \"$words\""
fi
g++ -std=c++20 -Iinclude "$here/refusal.cpp" -o "$scratch/refusal"
words=$("$scratch/refusal")
grep -qF -- "\`$words\`" README.md || fail "README.md does not quote the refusal \"$words\""

wait "$commands_job" || {
    cat "$scratch/commands.log"
    status=1
}
echo "$summary" | sed 's/, 0 fa[a-z]*//g'
exit "$status"
