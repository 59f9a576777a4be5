#!/bin/sh
# Runs every test of Lidmark: sh tests/run.sh
#
# Installs missing packages (src/packages.txt), builds in build/tests with warnings as errors and the
# address and undefined-behaviour sanitizers, runs all tests; where clang is installed, builds with it
# too. Ends with 0 only when all of that went well.
set -eu

here=$(CDPATH='' cd -- "$(dirname -- "$0")" && pwd)
root=$(dirname -- "$here")
jobs=$(getconf _NPROCESSORS_ONLN)
started=$(date +%s)

# say WHAT: the step that begins, with the time it began at
say() {
    printf '== %s (after %d s)\n' "$1" "$(($(date +%s) - started))"
}

say "Packages"
sh "$root/src/packages.sh"

say "Building with sanitizers in build/tests"
cmake -S "$root" -B "$root/build/tests" -G Ninja \
    -D LIDMARK_WERROR=ON -D LIDMARK_SANITIZE=address,undefined
cmake --build "$root/build/tests" --parallel "$jobs"

say "Testing"
ctest --test-dir "$root/build/tests" --output-on-failure --no-tests=error --parallel "$jobs"

if command -v clang >/dev/null 2>&1; then
    say "Building with clang in build/clang"
    CC=clang cmake -S "$root" -B "$root/build/clang" -G Ninja \
        -D CMAKE_BUILD_TYPE=Debug -D LIDMARK_WERROR=ON -D LIDMARK_BENCH=ON
    cmake --build "$root/build/clang" --parallel "$jobs"
else
    say "There is no clang here: the build with it is left out"
fi

say "All tests passed"
