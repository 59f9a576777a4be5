#!/bin/sh
# no_display.sh PROGRAM: without a display it says so and ends with 1, whatever SDL would take instead.
set -eu

code=0
out=$(env -u DISPLAY -u WAYLAND_DISPLAY -u SDL_VIDEODRIVER "$1" 2>&1) || code=$?
if [ $code -ne 1 ]; then
    echo "it ended with $code: $out"
    exit 1
fi
case $out in
*"there is no display"*) exit 0 ;;
esac
echo "it did not say why: $out"
exit 1
