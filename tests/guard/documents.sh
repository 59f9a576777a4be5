#!/bin/sh
# documents.sh ROOT: DEVELOPERS.md names every package of src/packages.txt, and what the documents link
# to is there. Says what is wrong and ends with 1.
set -eu
root=$1
wrong=0

# shellcheck disable=SC2013
for package in $(sed 's/#.*//' "$root/src/packages.txt"); do
    if ! grep -q "[(, ]${package}[), ]" "$root/DEVELOPERS.md"; then
        echo "DEVELOPERS.md: says neither licence nor purpose of the package $package"
        wrong=1
    fi
done

# Links of the form [words](path) or [words](path#place), not to the net.
for document in "$root"/*.md "$root"/docs/*.md; do
    [ -e "$document" ] || continue
    # shellcheck disable=SC2013
    for link in $(sed 's/](/\n](/g' "$document" | sed -n 's/^](\([^)# ]*\)[^)]*).*/\1/p'); do
        case $link in
        *://*) continue ;;
        esac
        if [ ! -e "$(dirname -- "$document")/$link" ]; then
            echo "${document#"$root"/}: links to $link, which is not there"
            wrong=1
        fi
    done
done
exit $wrong
