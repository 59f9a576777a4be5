#!/bin/sh
# Builds Lidmark and opens a plan in it: sh src/run.sh [PLAN]
#
# Installs missing packages (src/packages.txt), builds in build/, and opens the window. Where there is
# no display, writes the plan's sheets and schedule into build/ and prints its totals instead. Without
# PLAN a house of plans/ is taken.
set -eu

here=$(CDPATH='' cd -- "$(dirname -- "$0")" && pwd)
root=$(dirname -- "$here")
plan=${1:-$root/plans/two-storey.lidmark}

sh "$root/src/packages.sh"

echo "Building Lidmark in build/"
[ -e "$root/build/CMakeCache.txt" ] || cmake -S "$root" -B "$root/build" -G Ninja
cmake --build "$root/build" --target lidmark --parallel "$(getconf _NPROCESSORS_ONLN)"
lidmark=$root/build/src/cli/lidmark

if [ -n "${DISPLAY:-}${WAYLAND_DISPLAY:-}" ]; then
    echo "Opening $plan"
    exec "$lidmark" "$plan" --samples "$root/plans"
fi

name=$(basename -- "$plan" .lidmark)
echo "There is no display: writing build/$name.pdf and build/$name.csv instead of opening a window."
"$lidmark" sheets "$plan" -o "$root/build/$name.pdf"
"$lidmark" schedule "$plan" -o "$root/build/$name.csv"
"$lidmark" totals "$plan"
