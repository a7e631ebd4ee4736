#!/bin/sh
# Takes the C++ blocks out of a page, compiles and runs each.
#   code_blocks.sh PAGE COMPILER FLAG...
# A block with main() is a whole program, and prints what the text block behind it says. Any other is a fragment: it
# goes into a function, or stays as it is if it defines one; where it says "double x = ...;  // 0.1218", x is that to
# the digits shown.
set -eu
page=$1
compiler=$2
shift 2
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT

# n.cpp for each ```cpp block, n.txt for a ```text block whose last block before it was n.cpp; for a fragment n.txt has
# the values that its comments give.
awk -v folder="$folder" '
  function close_fragment(   i, body, name, value, line, at_top) {
    for (i = 1; i <= lines; ++i) body = body text[i] "\n"
    if (body ~ /int main\(/) { printf "%s", body > file; close(file); return }
    print "#include <cstdio>\n#include <string_view>\n#include <hardchine/hardchine.hpp>" > file
    print "[[maybe_unused]] static void warn(std::string_view) {}" > file
    for (i = 1; i <= lines; ++i)
      if (text[i] ~ /^[a-z].*\) \{$/ && text[i] !~ /^(if|for|while|switch|try|do) /) at_top = 1
    if (!at_top) {
      print "using namespace hardchine;" > file
      for (i = 1; i <= lines; ++i) if (text[i] ~ /^#include/) { print text[i] > file; text[i] = "" }
      print "int main() {" > file
    }
    for (i = 1; i <= lines; ++i) print text[i] > file
    if (at_top) print "int main() {" > file
    # The variable and its value: "double NAME = ... ;  // VALUE", over several lines.
    for (i = 1; i <= lines; ++i) {
      line = text[i]
      if (match(line, /double [a-z_]+ =/)) name = substr(line, RSTART + 7, RLENGTH - 9)
      if (name != "" && match(line, /; +\/\/ -?[0-9]+\.[0-9]+/)) {
        value = substr(line, RSTART, RLENGTH)
        sub(/^; +\/\/ /, "", value)
        printf "  std::printf(\"%%.%df\\n\", %s);\n", length(value) - index(value, "."), name > file
        print value > values
        name = ""
      }
    }
    print "}" > file
    close(file)
    close(values)
  }
  mode == "" && /^```cpp$/ {
    file = sprintf("%s/%02d.cpp", folder, ++n); values = sprintf("%s/%02d.values", folder, n)
    mode = "cpp"; lines = 0; fresh = 1; next
  }
  mode == "" && /^```text$/ && fresh { file = sprintf("%s/%02d.txt", folder, n); mode = "text"; fresh = 0; next }
  mode == "" && /^```/ { mode = "other"; fresh = 0; next }
  mode != "" && /^```$/ { if (mode == "cpp") close_fragment(); else if (mode == "text") close(file); mode = ""; next }
  mode == "cpp" { text[++lines] = $0 }
  mode == "text" { print > file }' "$page"

programs=0
fragments=0
failed=0
for program in "$folder"/*.cpp; do
    [ -e "$program" ] || break
    name=$(basename "$program" .cpp)
    # A fragment leaves out what would use its values.
    unused=
    if grep -q '^\[\[maybe_unused\]\] static void warn' "$program"; then
        fragments=$((fragments + 1))
        unused=-Wno-unused-variable
        [ -e "$folder/$name.values" ] || : >"$folder/$name.values"
        mv "$folder/$name.values" "$folder/$name.txt"
    else
        programs=$((programs + 1))
    fi
    # shellcheck disable=SC2086  # none or one word
    if ! "$compiler" -std=c++20 "$@" $unused "$program" -o "$folder/$name"; then
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
echo "$page: $programs programs, $fragments fragments, $failed failures"
[ "$((programs + fragments))" -gt 0 ] && [ "$failed" -eq 0 ]
