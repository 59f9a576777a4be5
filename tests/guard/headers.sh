#!/bin/sh
# headers.sh ROOT COMPILER [FLAGS...]: every header compiles on its own and twice, and the public ones
# do so without any library. Says what is wrong and ends with 1.
set -eu
root=$1
compiler=$2
shift 2
wrong=0
unit=$(mktemp -d)
trap 'rm -rf "$unit"' EXIT

# compiles HEADER FLAGS...
compiles() {
    header=$1
    shift
    printf '#include "%s"\n#include "%s"\n' "$header" "$header" >"$unit/alone.c"
    "$compiler" -std=c11 -D_POSIX_C_SOURCE=200809L -Wall -Wextra -Wpedantic -Wundef \
        -Wstrict-prototypes -Werror -fsyntax-only -I"$root/include" "$@" "$unit/alone.c" ||
        wrong=1
}

cd "$root"
for header in include/lidmark/*.h; do
    compiles "${header#include/}"
done
for header in src/*/*.h; do
    [ -e "$header" ] && compiles "${header#src/}" -I"$root/src" "$@"
done
exit $wrong
