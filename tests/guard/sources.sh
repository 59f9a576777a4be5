#!/bin/sh
# sources.sh ROOT LIST: the C sources in the tree are those that the lists of the build name (LIST,
# one path from ROOT a line, sorted), and no list is made by looking what is there. Says what is wrong
# and ends with 1.
set -eu
root=$1
list=$2
wrong=0

found=$(cd "$root" && find src tests -name '*.c' | LC_ALL=C sort)
if ! difference=$(printf '%s\n' "$found" | diff - "$list"); then
    printf '%s\n' "$difference" |
        sed -n -e 's/^< \(.*\)/\1: in the tree, but in no list of the build/p' \
            -e 's/^> \(.*\)/\1: in a list of the build, but not in the tree/p'
    wrong=1
fi
if find "$root" \( -path "$root/build" -o -path "$root/.git" \) -prune -o \
    \( -name CMakeLists.txt -o -name '*.cmake' \) -exec grep -n 'GLOB.*\*\.[ch]' {} +; then
    echo "sources are listed by hand, not by GLOB"
    wrong=1
fi
exit $wrong
