# Sourced by the run scripts: installs what is missing, configures, builds.
# POSIX sh under `set -eu`; the caller has set `root`, the project's folder.
# Everything said here goes to stderr or to a log, so that stdout belongs to the caller.
# Exit statuses: 1 the build failed, 3 something is missing and cannot be installed here.

: "${root:?}"

# The only list of what the project needs: the Debian package and, for a machine where
# dpkg does not know of it, the command, header or runtime of clang that shows that it is there all the same.
needs() {
    case $1 in
    build)
        echo 'g++                 command g++'
        echo 'cmake               command cmake'
        echo 'ninja-build         command ninja'
        echo 'libboost-dev        header  boost/units/quantity.hpp'
        echo 'libeigen3-dev       header  Eigen/Core'
        ;;
    examples)
        echo 'libtomlplusplus-dev header  toml++/toml.h'
        echo 'libcli11-dev        header  CLI/CLI.hpp'
        echo 'libfmt-dev          header  fmt/core.h'
        echo 'nlohmann-json3-dev  header  nlohmann/json.hpp'
        ;;
    tests)
        echo 'doctest-dev         header  doctest/doctest.h'
        echo 'pkgconf             command pkg-config'
        ;;
    clang)
        echo 'clang               command clang++'
        ;;
    bench)
        echo 'libbenchmark-dev    header  benchmark/benchmark.h'
        echo 'python3             command python3'
        ;;
    gates)
        echo 'clang-format        command clang-format'
        echo 'clang-tidy          command clang-tidy'
        echo 'libclang-rt-14-dev  runtime of the sanitizers and of libFuzzer'
        echo 'doxygen             command doxygen'
        echo 'time                command time'
        ;;
    references)
        echo 'units               command units'
        echo 'python3             command python3'
        echo 'python3-numpy       command python3'
        echo 'python3-scipy       command python3'
        echo 'python3-gsw         command python3'
        echo 'python3-mpmath      command python3'
        ;;
    esac
}

say() {
    printf 'hardchine: %s\n' "$*" >&2
}

# Reads lines of needs(), writes those whose package dpkg does not have.
not_installed() {
    if ! command -v dpkg-query >/dev/null 2>&1; then
        cat
        return
    fi
    while read -r package kind thing; do
        status=$(dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null) || status=none
        [ "$status" = installed ] || echo "$package $kind $thing"
    done
}

has_header() {
    for folder in /usr/local/include /usr/include; do
        if [ -e "$folder/$1" ] || [ -e "$folder/eigen3/$1" ]; then return 0; fi
    done
    # Anywhere else the compiler may look (CPATH, a toolchain of its own).
    echo "#include <$1>" | g++ -std=c++20 -x c++ -E - >/dev/null 2>&1
}

# A program with both links. (Headers of the same names come with g++, too.)
has_clang_runtime() {
    linked=$(mktemp) || return 1
    works=0
    echo 'extern "C" int LLVMFuzzerTestOneInput(const unsigned char*, unsigned long) { return 0; }' |
        clang++ -fsanitize=fuzzer,address,undefined -x c++ - -o "$linked" >/dev/null 2>&1 || works=1
    rm -f "$linked"
    return "$works"
}

# Reads lines of needs(), writes those of which neither command, header nor runtime is found.
not_found() {
    while read -r package kind thing; do
        case $kind in
        command) command -v "$thing" >/dev/null 2>&1 && continue ;;
        header) has_header "$thing" && continue ;;
        runtime) has_clang_runtime && continue ;;
        esac
        echo "$package $kind $thing"
    done
}

package_names() {
    while read -r package _; do printf '%s ' "$package"; done
}

# Sets `become` to the words that make a command run as root; fails where there are none.
find_root() {
    become=
    [ "$(id -u)" -ne 0 ] || return 0
    command -v sudo >/dev/null 2>&1 || return 1
    become='sudo -n'
    ! sudo -n true 2>/dev/null || return 0
    # sudo asks for a password on the terminal only: without one do not try.
    (: </dev/tty) 2>/dev/null || return 1
    say 'sudo may ask for your password, to install the packages:' "${missing% }"
    become=sudo
    sudo -v
}

# Administrators' folders are appended because dpkg refuses to work without them and
# `su` may leave them out; the lock's time-out waits for another run of apt.
run_apt() {
    # shellcheck disable=SC2086  # `become` is none, one or two words
    $become env DEBIAN_FRONTEND=noninteractive LC_ALL=C "PATH=$PATH:/usr/local/sbin:/usr/sbin:/sbin" \
        apt-get -o DPkg::Lock::Timeout=300 "$@" </dev/null >>"$log" 2>&1
}

# The package lists are fetched only if apt does not know a package or its copy of the
# lists is too old to download from.
install_missing() {
    install='install -y --no-install-recommends'
    # shellcheck disable=SC2086  # words
    run_apt -s $install $missing || run_apt update || return 1
    # shellcheck disable=SC2086  # words
    run_apt $install $missing || { run_apt update && run_apt $install $missing; }
}

# prepare GROUP...: every package of these groups of needs() is there, or exit 3.
prepare() {
    absent=$(for group in "$@"; do needs "$group"; done | not_installed)
    [ -n "$absent" ] || return 0
    missing=$(printf '%s\n' "$absent" | package_names)
    reason='apt-get is not here'
    if command -v apt-get >/dev/null 2>&1 && command -v dpkg-query >/dev/null 2>&1; then
        reason='you are not root and sudo is not here or not allowed'
        if find_root; then
            say "installing: ${missing% }"
            say "(log: $log)"
            if install_missing; then return 0; fi
            reason='apt-get failed'
            tail -n 20 "$log" >&2
        fi
    fi
    absent=$(printf '%s\n' "$absent" | not_found)
    [ -n "$absent" ] || return 0
    missing=$(printf '%s\n' "$absent" | package_names)
    say "cannot install what is missing: $reason."
    {
        printf '\nMissing (Debian package: what is looked for):\n'
        printf '%s\n' "$absent" | while read -r package kind thing; do
            printf '    %-20s %s %s\n' "$package:" "$kind" "$thing"
        done
        if command -v apt-get >/dev/null 2>&1; then
            printf '\nRun this as root, then start again:\n\n'
            printf '    apt-get update && apt-get install -y --no-install-recommends %s\n\n' "${missing% }"
        else
            printf '\nInstall them the way of this system, then start again.\n\n'
        fi
    } >&2
    exit 3
}

# The log from the first failure that CMake or ninja names, else its end.
show_failure() {
    if grep -qE '^(FAILED|CMake Error)' "$log"; then
        sed -nE '/^(FAILED|CMake Error)/,$p' "$log" | head -n 60 >&2
    else
        tail -n 40 "$log" >&2
    fi
    say "$1 failed; the whole log: $log"
    exit 1
}

processors() {
    nproc 2>/dev/null || getconf _NPROCESSORS_ONLN 2>/dev/null || echo 2
}

# begin NAME: names the build folder and its log.
begin() {
    build=$root/.build/$1
    log=$build.log
    mkdir -p "$root/.build"
    : >"$log"
}

# build COMPILER OPTION...: configures if the settings changed, builds what changed.
build() {
    compiler=$1
    shift
    set -- -S "$root" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release \
        "-DCMAKE_CXX_COMPILER=$compiler" "$@"
    # A tree that was moved, configured otherwise or made with tools that are gone is made
    # anew; ninja itself sees to changed CMake files.
    settings="$* $(command -v "$compiler") $(command -v ninja) CXXFLAGS=${CXXFLAGS-}"
    if [ ! -f "$build/settings" ] || [ "$(cat "$build/settings")" != "$settings" ]; then
        rm -rf "$build"
        say "configuring with $compiler"
        LC_ALL=C cmake "$@" </dev/null >>"$log" 2>&1 || show_failure 'configuring'
        printf '%s\n' "$settings" >"$build/settings"
    fi
    if LC_ALL=C cmake --build "$build" -- -n 2>/dev/null </dev/null | grep -q 'no work to do'; then
        return 0
    fi
    say "building (log: $log)"
    started=$(date +%s)
    LC_ALL=C cmake --build "$build" --parallel "$(processors)" </dev/null >>"$log" 2>&1 ||
        show_failure 'building'
    say "built in $(($(date +%s) - started)) s"
}
