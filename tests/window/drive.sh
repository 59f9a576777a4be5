#!/bin/sh
# drive.sh STEPS PROGRAM ARGUMENT...
# Runs PROGRAM in a real window on an X server of its own and does the shell file STEPS with it, in the
# words below. STEPS may set size="1280x800" in its first line. Ends with 77 (skipped) where Xvfb or
# xdotool is missing.
#
#   tap X Y | hold X Y | drag X1 Y1 X2 Y2 | wheel X Y N | key NAME... | write TEXT | pause SECONDS
#   shows X Y RRGGBB     the pixel there has that colour
#   differs X Y RRGGBB   it has not
#   alive                the program still runs
#   ends CODE            it ends by itself with that code
set -eu

steps=$1
shift
for tool in Xvfb xdotool import convert; do
    if ! command -v "$tool" >/dev/null; then
        echo "skipped: there is no $tool"
        exit 77
    fi
done

size=$(sed -n 's/^size="\(.*\)"$/\1/p' "$steps")
size=${size:-1280x800}
work=$(mktemp -d)
server=
program=

clean() {
    [ -z "$program" ] || kill "$program" 2>/dev/null || true
    [ -z "$server" ] || kill "$server" 2>/dev/null || true
    wait 2>/dev/null || true
    rm -rf "$work"
}
trap clean EXIT
trap 'exit 1' INT TERM

Xvfb -displayfd 3 -screen 0 "${size}x24" -nolisten tcp 3>"$work/display" 2>"$work/server.txt" &
server=$!
tries=0
while [ ! -s "$work/display" ] && [ $tries -lt 100 ]; do
    sleep 0.1
    tries=$((tries + 1))
done
if [ ! -s "$work/display" ]; then
    echo "skipped: the X server did not begin"
    cat "$work/server.txt"
    exit 77
fi
DISPLAY=:$(cat "$work/display")
SDL_VIDEODRIVER=x11
export DISPLAY SDL_VIDEODRIVER

"$@" >"$work/out.txt" 2>"$work/err.txt" &
program=$!
window=
tries=0
while [ -z "$window" ] && [ $tries -lt 150 ]; do
    window=$(xdotool search --onlyvisible --pid $program 2>/dev/null | head -n 1) || true
    [ -n "$window" ] || sleep 0.1
    tries=$((tries + 1))
done

fail() {
    echo "$1"
    cat "$work/err.txt"
    exit 1
}
[ -n "$window" ] || fail "no window came"
xdotool windowfocus "$window" 2>/dev/null || true
sleep 0.5

pause() { sleep "$1"; }
tap() { xdotool mousemove "$1" "$2" click 1; sleep 0.15; }
hold() { xdotool mousemove "$1" "$2" mousedown 1; sleep 0.7; xdotool mouseup 1; sleep 0.15; }
drag() {
    xdotool mousemove "$1" "$2" mousedown 1
    for i in 1 2 3 4 5 6; do
        xdotool mousemove $(($1 + ($3 - $1) * i / 6)) $(($2 + ($4 - $2) * i / 6))
        sleep 0.03
    done
    xdotool mouseup 1
    sleep 0.15
}
wheel() {
    button=4
    times=$3
    if [ "$times" -lt 0 ]; then
        button=5
        times=$((-times))
    fi
    xdotool mousemove "$1" "$2" click --repeat "$times" --delay 30 $button
    sleep 0.2
}
key() { xdotool key --clearmodifiers "$@"; sleep 0.2; }
write() { xdotool type --delay 20 -- "$*"; sleep 0.2; }
alive() { kill -0 $program 2>/dev/null || fail "the program ended"; }
pixel() {
    sleep 0.3
    import -window root -crop 1x1+"$1"+"$2" +repage "$work/pixel.png"
    convert "$work/pixel.png" -depth 8 rgb:- | od -An -tx1 | tr -d ' \n' | tr a-f A-F
}
shows() {
    is=$(pixel "$1" "$2")
    [ "$is" = "$3" ] || fail "line with shows $1 $2: the pixel is $is, not $3"
}
differs() {
    is=$(pixel "$1" "$2")
    [ "$is" != "$3" ] || fail "line with differs $1 $2: the pixel is $is"
}
ends() {
    tries=0
    while kill -0 $program 2>/dev/null && [ $tries -lt 50 ]; do
        sleep 0.1
        tries=$((tries + 1))
    done
    if kill -0 $program 2>/dev/null; then fail "the program did not end"; fi
    code=0
    wait $program || code=$?
    program=
    [ $code -eq "$1" ] || fail "the program ended with $code, not $1"
}

. "$steps"
