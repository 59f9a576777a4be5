#!/bin/sh
# selftest.sh GUARDS COMPILER: every guard lets a sound tree pass and stops at a planted fault, naming
# it. A guard that cannot fail guards nothing.
set -eu
guards=$1
compiler=$2
tree=$(mktemp -d)
trap 'rm -rf "$tree"' EXIT
failed=0

# A small sound tree, made anew for every fault.
plant() {
    rm -rf "${tree:?}"/* "$tree/.ci"
    mkdir -p "$tree/src/base" "$tree/src/plan" "$tree/src/draw" "$tree/src/window" \
        "$tree/include/lidmark" "$tree/tests/base" "$tree/.ci" "$tree/build"
    echo '#include <stdio.h>' >"$tree/include/lidmark/base.h"
    echo '#include "lidmark/base.h"' >"$tree/include/lidmark/plan.h"
    echo '#include "lidmark/base.h"' >"$tree/src/base/number.c"
    printf '#include <jansson.h>\n#include "lidmark/plan.h"\n' >"$tree/src/plan/read.c"
    printf '#ifndef PAINTER_H\n#define PAINTER_H\n#include "lidmark/plan.h"\n#endif\n' \
        >"$tree/src/draw/painter.h"
    printf '  #  include <cairo/cairo.h>\n#include "draw/painter.h"\n' >"$tree/src/draw/painter.c"
    printf '#include <SDL2/SDL.h>\n#include <sys/stat.h>\n' >"$tree/src/window/window.c"
    echo 'int main(void);' >"$tree/tests/base/test_number.c"
    (cd "$tree" && find src tests -name '*.c' | LC_ALL=C sort) >"$tree/build/list"
    printf '#!/bin/sh\nset -eu\necho fine\n' | tee "$tree/src/run.sh" >"$tree/.ci/run"
    : >"$tree/CMakeLists.txt"
    printf '# to build\ncmake\ngcc\n' >"$tree/src/packages.txt"
    echo '| the tools (cmake, gcc) | free | building |' >"$tree/DEVELOPERS.md"
}

guard() {
    name=$1
    case $name in
    sources) sh "$guards/sources.sh" "$tree" "$tree/build/list" ;;
    headers) sh "$guards/headers.sh" "$tree" "$compiler" ;;
    *) sh "$guards/$name.sh" "$tree" ;;
    esac
}

# stops NAME WORDS: the guard must fail, and its message must hold the words
stops() {
    if said=$(guard "$1" 2>&1); then
        echo "$1: let this pass: $2"
        failed=1
    elif ! printf '%s\n' "$said" | grep -q -e "$2"; then
        echo "$1: stopped, but not because of: $2"
        printf '%s\n' "$said"
        failed=1
    fi
    plant
}

plant
for name in rooms sources headers top scripts documents; do
    if ! said=$(guard $name 2>&1); then
        echo "$name: stopped at a sound tree:"
        printf '%s\n' "$said"
        failed=1
    fi
done

echo '#include "draw/painter.h"' >>"$tree/src/plan/read.c"
stops rooms 'src/plan/read.c:3: draw/painter.h: the room plan may not know the room draw'
echo '#include "lidmark/plan.h"' >>"$tree/src/base/number.c"
stops rooms 'src/base/number.c:2: lidmark/plan.h'
echo '#include "lidmark/plan.h"' >>"$tree/include/lidmark/base.h"
stops rooms 'include/lidmark/base.h:2: lidmark/plan.h'
echo ' # include <jansson.h>' >>"$tree/src/draw/painter.h"
stops rooms 'src/draw/painter.h:5: jansson.h'
echo '#include <cairo.h>' >>"$tree/src/window/window.c"
stops rooms 'src/window/window.c:3: cairo.h'
echo '#include <SDL.h>' >>"$tree/src/draw/painter.c"
stops rooms 'src/draw/painter.c:3: SDL.h'
echo '#include <glib.h>' >>"$tree/src/draw/painter.c"
stops rooms 'src/draw/painter.c:3: glib.h'
echo '#include "painter.h"' >>"$tree/src/draw/painter.c"
stops rooms 'src/draw/painter.c:3: painter.h'
mkdir "$tree/src/attic"
echo 'int x;' >"$tree/src/attic/new.c"
stops rooms 'src/attic/new.c: belongs to no room'

echo 'int x;' >"$tree/src/base/extra.c"
stops sources 'src/base/extra.c: in the tree'
rm "$tree/tests/base/test_number.c"
stops sources 'tests/base/test_number.c: in a list'
echo 'file(GLOB sources *.c)' >"$tree/src/base/CMakeLists.txt"
stops sources 'GLOB'

echo 'size_t count(wchar_t c, uint8_t x);' >>"$tree/include/lidmark/plan.h"
stops headers 'uint8_t'
echo 'struct Twice { int x; };' >>"$tree/include/lidmark/plan.h"
stops headers 'struct Twice'
echo 'void paint(Unknown *x);' >"$tree/src/draw/symbol.h"
stops headers 'Unknown'

: >"$tree/notes.txt"
stops top 'notes.txt'
mkdir "$tree/tools"
stops top 'tools'

echo 'if true; then' >>"$tree/src/run.sh"
stops scripts 'run.sh'
sed -i '/set -eu/d' "$tree/.ci/run"
stops scripts '.ci/run: goes on'

echo 'libgcc' >>"$tree/src/packages.txt"
stops documents 'the package libgcc'
echo 'See [the guide](docs/guide.md#start) and [here](#here), [there](https://example.org/x).' \
    >>"$tree/DEVELOPERS.md"
stops documents 'DEVELOPERS.md: links to docs/guide.md, which'

exit $failed
