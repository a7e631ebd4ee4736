#!/bin/sh
# Takes the C++ blocks out of a page, compiles each as a whole program, runs it, and compares what it prints with the
# text block that follows.
#   code_blocks.sh PAGE COMPILER FLAG...
set -eu
page=$1
compiler=$2
shift 2
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT

# n.cpp for each ```cpp block, n.txt for a ```text block whose last block before it was n.cpp.
awk -v folder="$folder" '
  file == "" && /^```cpp$/ { file = sprintf("%s/%02d.cpp", folder, ++n); fresh = 1; next }
  file == "" && /^```text$/ && fresh { file = sprintf("%s/%02d.txt", folder, n); fresh = 0; next }
  file == "" && /^```/ { file = "/dev/null"; fresh = 0; next }
  file != "" && /^```$/ { close(file); file = ""; next }
  file != "" { print > file }' "$page"

programs=0
failed=0
for program in "$folder"/*.cpp; do
    [ -e "$program" ] || break
    name=$(basename "$program" .cpp)
    programs=$((programs + 1))
    if ! "$compiler" -std=c++20 "$@" "$program" -o "$folder/$name"; then
        echo "$page: C++ block $name does not compile"
        failed=$((failed + 1))
        continue
    fi
    if ! "$folder/$name" >"$folder/$name.out"; then
        echo "$page: C++ block $name ends with an error"
        failed=$((failed + 1))
    fi
    if [ ! -e "$folder/$name.txt" ]; then
        echo "$page: C++ block $name has no text block behind it"
        failed=$((failed + 1))
    elif ! diff -u "$folder/$name.txt" "$folder/$name.out"; then
        echo "$page: C++ block $name prints something else (-: the page, +: the program)"
        failed=$((failed + 1))
    fi
done
echo "$page: $programs programs, $failed failures"
[ "$programs" -gt 0 ] && [ "$failed" -eq 0 ]
