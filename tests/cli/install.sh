#!/bin/sh
# install.sh CMAKE BUILD PLAN: installs what was built into an empty place and runs it from there.
set -eu
place=$(mktemp -d)
trap 'rm -rf "$place"' EXIT

"$1" --install "$2" --prefix "$place" >"$place/log"
"$place/bin/lidmark" --version | grep -q '^lidmark [0-9]'
grep -q '^\.SH OPTIONS' "$place/share/man/man1/lidmark.1"
"$place/bin/lidmark" totals --catalog "$place/share/lidmark/catalog.json" "$3" |
    grep -q '^Cabin$'
