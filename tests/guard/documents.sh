#!/bin/sh
# documents.sh ROOT: DEVELOPERS.md names every package of src/packages.txt. Says what is wrong and ends
# with 1.
set -eu
wrong=0
# shellcheck disable=SC2013
for package in $(sed 's/#.*//' "$1/src/packages.txt"); do
    if ! grep -q "[(, ]${package}[), ]" "$1/DEVELOPERS.md"; then
        echo "DEVELOPERS.md: says neither licence nor purpose of the package $package"
        wrong=1
    fi
done
exit $wrong
