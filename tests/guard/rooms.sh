#!/bin/sh
# rooms.sh ROOT: a room includes only headers of itself and of rooms before it, and only those system
# headers that the room may use. Says what is wrong and ends with 1.
set -eu
root=$1

# The program below is awk's, not the shell's.
# shellcheck disable=SC2016
find "$root/src" "$root/include" -name '*.[ch]' | LC_ALL=C sort | xargs awk '
BEGIN {
    count = split("base geom plan envelope air findings draw paper app window cli", rooms, " ")
    for (i = 1; i <= count; i++)
        rank[rooms[i]] = i
    # C11
    split("assert complex ctype errno fenv float inttypes iso646 limits locale math setjmp signal " \
          "stdalign stdarg stdatomic stdbool stddef stdint stdio stdlib stdnoreturn string tgmath " \
          "time uchar wchar wctype", names, " ")
    for (i in names)
        system_header[names[i] ".h"] = 1
    # POSIX
    split("dirent fcntl langinfo poll pthread pwd spawn strings sys/mman sys/select sys/stat " \
          "sys/time sys/types sys/wait termios unistd", names, " ")
    for (i in names)
        system_header[names[i] ".h"] = 1
}

# The room a file belongs to: src/<room>/... or include/lidmark/<room>.h.
function room_of(path) {
    if (path ~ /^src\/[^\/]*\//) {
        sub(/^src\//, "", path)
        sub(/\/.*/, "", path)
    } else if (path ~ /^include\/lidmark\/[^\/]*\.h$/) {
        sub(/^include\/lidmark\//, "", path)
        sub(/\.h$/, "", path)
    }
    return path
}

function complain(why) {
    printf "%s:%d: %s: %s\n", path, FNR, included, why
    wrong = 1
}

# Libraries that only some rooms may know.
function library_allowed(header, room) {
    if (header ~ /^jansson/)
        return room == "plan" || room == "findings"
    if (header ~ /^(cairo|pango)/)
        return room == "draw"
    if (header ~ /^fontconfig\//)
        return room == "draw" || room == "window"
    if (header ~ /^SDL2?\// || header ~ /^SDL/)
        return room == "window"
    return 0
}

FNR == 1 {
    path = substr(FILENAME, length(prefix) + 2)
    room = room_of(path)
    if (!(room in rank)) {
        included = path
        complain("belongs to no room")
    }
}

/^[ \t]*#[ \t]*include/ {
    included = $0
    sub(/^[ \t]*#[ \t]*include[ \t]*/, "", included)
    if (included ~ /^</) {
        sub(/^</, "", included)
        sub(/>.*/, "", included)
        if (!(included in system_header) && !library_allowed(included, room))
            complain("the room " room " may not use this header")
        next
    }
    sub(/^"/, "", included)
    sub(/".*/, "", included)
    target = included ~ /^lidmark\// ? room_of("include/" included) : room_of("src/" included)
    if (!(target in rank))
        complain("is no header of a room (write \"room/name.h\" or \"lidmark/room.h\")")
    else if (rank[target] > rank[room])
        complain("the room " room " may not know the room " target)
}

END { exit wrong }
' prefix="$root"
