#!/bin/sh
# Installs those packages of src/packages.txt that are missing. Asks for root only when some are.
set -eu

list=$(dirname -- "$0")/packages.txt

if ! command -v dpkg-query >/dev/null 2>&1; then
    echo "This is no Debian system: the packages of $list must be there by other means."
    exit 0
fi

missing=
# shellcheck disable=SC2013
for package in $(sed 's/#.*//' "$list"); do
    status=$(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null || true)
    [ "$status" = installed ] || missing="$missing $package"
done
if [ -z "$missing" ]; then
    exit 0
fi

root=
if [ "$(id -u)" -ne 0 ]; then
    root=sudo
    if ! command -v sudo >/dev/null 2>&1; then
        echo "These packages are missing:$missing" >&2
        echo "As root: apt-get update && apt-get install --no-install-recommends$missing" >&2
        exit 1
    fi
    echo "Root is needed to install packages; sudo may ask for your password."
fi
echo "Installing packages:$missing"
export DEBIAN_FRONTEND=noninteractive
# $root and $missing are lists of words.
# shellcheck disable=SC2086
$root apt-get update -q
# shellcheck disable=SC2086
$root apt-get install -q -y --no-install-recommends $missing
