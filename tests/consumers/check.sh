#!/bin/sh
# Builds and runs the programs of this folder the way a user of the library would: from an installed copy, inside a tree
# of their own, through pkg-config, from one header, from two files that include everything.
#   check.sh SOURCE SCRATCH CXX [CONSUMER...]
# SOURCE is the project root; SCRATCH is wiped; all consumers unless some are named (their folders' names).
set -eu

usage() {
    sed -n '2,5s/^# \{0,1\}//p' "$0" >&2
    exit 2
}
[ "$#" -ge 3 ] || usage
source=$(CDPATH='' cd -- "$1" && pwd -P)
case $2 in '' | / | "$source" | "$source/") usage ;; esac
mkdir -p "$2"
scratch=$(CDPATH='' cd -- "$2" && pwd -P)
compiler=$3
shift 3
here=$source/tests/consumers
[ "$#" -gt 0 ] || set -- find_package_consumer subproject pkg_config one_header two_units

strict=$(cat "$source/.cmake/warnings.txt")
part() { sed -n "s/.*version_$1 = \([0-9]*\);.*/\1/p" "$source/include/hardchine/version.hpp"; }
major=$(part major)
minor=$(part minor)
patch=$(part patch)

fail() {
    echo "consumer $consumer: $*"
    exit 1
}

# quietly COMMAND...: its output is shown only if it fails.
quietly() {
    if ! LC_ALL=C "$@" >"$work/output.txt" 2>&1 </dev/null; then
        cat "$work/output.txt"
        fail "failed: $*"
    fi
}

configure() {
    quietly cmake -G Ninja "-DCMAKE_CXX_COMPILER=$compiler" -DCMAKE_BUILD_TYPE=Debug "$@"
}

# Installs the library under $work/prefix.
install_library() {
    configure -S "$source" -B "$work/library" "-DCMAKE_INSTALL_PREFIX=$work/prefix" \
        -DHARDCHINE_BUILD_TESTS=OFF -DHARDCHINE_BUILD_EXAMPLES=OFF
    quietly cmake --install "$work/library"
}

# headers_are_below FOLDER FILE: of hardchine's headers, the list of dependencies in FILE names those below FOLDER only.
headers_are_below() {
    found=$(tr ' ' '\n' <"$2" | grep '/hardchine/.*\.hpp$' || true)
    [ -n "$found" ] || fail "no header of hardchine in $2"
    astray=$(printf '%s\n' "$found" | grep -vF "$1/" || true)
    [ -z "$astray" ] || fail "reads headers outside $1: $astray"
}

# refuses VERSION: find_package() wants it and says why it cannot have it.
refuses() {
    if LC_ALL=C cmake -G Ninja "-DCMAKE_CXX_COMPILER=$compiler" "-DCMAKE_PREFIX_PATH=$work/moved" "-DWANTED=$1" \
        -S "$here/find_package_consumer" -B "$work/refused-$1" >"$work/refused-$1.txt" 2>&1 </dev/null; then
        fail "version $major.$minor.$patch was taken where $1 is wanted"
    fi
    # CMake breaks its lines where it likes.
    tr -s ' \n' '  ' <"$work/refused-$1.txt" >"$work/refused-$1.line"
    for words in "compatible with requested version \"$1\"" "hardchine-config.cmake, version: $major.$minor.$patch"; do
        grep -qF -- "$words" "$work/refused-$1.line" || {
            cat "$work/refused-$1.txt"
            fail "version $1 is refused without the words: $words"
        }
    done
}

find_package_consumer() {
    install_library
    # An installed tree may be moved.
    mv "$work/prefix" "$work/moved"
    configure -S "$here/find_package_consumer" -B "$work/build" "-DCMAKE_PREFIX_PATH=$work/moved" \
        "-DWANTED=$major.$minor"
    quietly cmake --build "$work/build"
    quietly "$work/build/my_tool"
    ninja -C "$work/build" -t deps >"$work/deps.txt"
    headers_are_below "$work/moved" "$work/deps.txt"
    refuses "$major.$((minor + 1))"
    refuses "$major.$minor.$((patch + 1))"
    refuses "$((major + 1)).0"
    # Before 1.0 an older minor version is another interface.
    [ "$minor" -eq 0 ] || refuses "$major.$((minor - 1))"
}

subproject() {
    configure -S "$here/subproject" -B "$work/build" "-DHARDCHINE_SOURCE=$source" "-DMY_WARNINGS=$strict"
    quietly cmake --build "$work/build"
    quietly ctest --test-dir "$work/build" --no-tests=error --output-on-failure
    grep -qx '100% tests passed, 0 tests failed out of 1' "$work/output.txt" || {
        cat "$work/output.txt"
        fail "tests of the library are among the consumer's"
    }
}

pkg_config() {
    install_library
    PKG_CONFIG_PATH=$work/prefix/share/pkgconfig
    export PKG_CONFIG_PATH
    build_with_pkg_config "$work/prefix" pkg_config
    version=$(pkg-config --modversion hardchine)
    [ "$version" = "$major.$minor.$patch" ] || fail "pkg-config says version $version"
    if pkg-config --exists "hardchine >= $major.$((minor + 1))"; then
        fail "pkg-config takes $version for $major.$((minor + 1))"
    fi
    # An installed tree may be moved. The other consumer's program, because it compiles faster.
    mv "$work/prefix" "$work/moved"
    PKG_CONFIG_PATH=$work/moved/share/pkgconfig
    build_with_pkg_config "$work/moved" find_package_consumer
}

# build_with_pkg_config PREFIX CONSUMER: the program of CONSUMER in one command, with headers below PREFIX only.
build_with_pkg_config() {
    flags=$(pkg-config --cflags hardchine) || fail 'pkg-config does not find hardchine'
    # shellcheck disable=SC2086  # words
    quietly "$compiler" -std=c++20 -MMD -MF "$work/deps.txt" "$here/$2/main.cpp" $flags -o "$work/my_tool"
    quietly "$work/my_tool"
    headers_are_below "$1" "$work/deps.txt"
}

one_header() {
    # No include folder but the library's own: a header of formulas needs no Eigen.
    # shellcheck disable=SC2086  # words
    quietly "$compiler" -std=c++20 $strict "-I$source/include" "$here/one_header/main.cpp" -o "$work/my_tool"
    quietly "$work/my_tool"
}

two_units() {
    eigen=$(pkg-config --cflags-only-I eigen3 | sed 's/-I/-isystem /g')
    [ -n "$eigen" ] || fail 'pkg-config does not find eigen3'
    for unit in main other; do
        # shellcheck disable=SC2086  # words
        "$compiler" -std=c++20 $strict "-I$source/include" $eigen -c "$here/two_units/$unit.cpp" -o "$work/$unit.o" \
            >"$work/$unit.txt" 2>&1 &
    done
    wait
    for unit in main other; do
        [ -e "$work/$unit.o" ] || {
            cat "$work/$unit.txt"
            fail "$unit.cpp does not compile"
        }
    done
    quietly "$compiler" "$work/main.o" "$work/other.o" -o "$work/my_tool"
    quietly "$work/my_tool"
}

done=
for consumer in "$@"; do
    case $consumer in
    find_package_consumer | subproject | pkg_config | one_header | two_units) ;;
    *) usage ;;
    esac
    work=$scratch/$consumer
    rm -rf "$work"
    mkdir -p "$work"
    "$consumer"
    done="$done $consumer"
done
echo "consumers built and run with $compiler:$done"
