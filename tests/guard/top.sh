#!/bin/sh
# top.sh ROOT: the top of the repository holds only what belongs there. Says what is wrong and ends
# with 1.
set -eu
wrong=0
cd "$1"
for name in *; do
    case $name in
    README.md | DEVELOPERS.md | LICENSE | CMakeLists.txt) ;;
    src | include | assets | tests | plans | docs) ;;
    build) ;; # what is built, never committed
    *)
        echo "$name: does not belong at the top"
        wrong=1
        ;;
    esac
done
exit $wrong
