# awk -f shell_blocks.awk PAGE: a script of the page's shell blocks in their order. A CMake block becomes the
# CMakeLists.txt of the folder, put into a project if it is a piece of one. Lines that start the project's own run
# scripts are left out: they install packages and run everything else; documentation.sh asks whether they are there.
BEGIN { print "set -eu" }
!inside && /^```(sh|cmake)$/ { inside = 1; kind = $0; sub(/^```/, "", kind); text = ""; next }
!inside && /^```/ { inside = 1; kind = ""; next }
inside && /^```$/ {
  inside = 0
  if (kind == "sh") { printf "%s", text; ++blocks }
  if (kind == "cmake") {
    ++blocks
    print "rm -rf build\ncat >CMakeLists.txt <<'END_OF_BLOCK'"
    whole = text ~ /cmake_minimum_required/
    if (!whole) print "cmake_minimum_required(VERSION 3.21)\nproject(my_tool LANGUAGES CXX)\nadd_executable(my_tool main.cpp)"
    printf "%s", text
    print "END_OF_BLOCK"
    if (!whole) print "cmake -S . -B build \"-DCMAKE_PREFIX_PATH=$PWD/prefix\""
  }
  next
}
inside && /^(examples|tests|bench|\.ci)\/run/ { next }
inside { text = text $0 "\n" }
END { if (!blocks) print "false" }
