#!/bin/sh
# packages.sh ROOT: src/packages.sh asks for root only when a package is missing, and then only for
# what is missing. dpkg-query, id, sudo and apt-get are played by stand-ins that write down what was
# asked of them.
set -eu
script=$1/src/packages.sh
stage=$(mktemp -d)
trap 'rm -rf "$stage"' EXIT
failed=0

mkdir "$stage/bin"
for tool in sh dirname sed; do
    ln -s "$(command -v $tool)" "$stage/bin/$tool"
done
cat >"$stage/bin/dpkg-query" <<'END'
#!/bin/sh
for package; do :; done
case " $MISSING " in
*" $package "*) exit 1 ;;
*" half:$package "*) printf 'config-files' ;;
*) printf 'installed' ;;
esac
END
# shellcheck disable=SC2016
printf '#!/bin/sh\necho "$USER_ID"\n' >"$stage/bin/id"
printf '#!/bin/sh\necho "apt-get $*" >>"%s/log"\n' "$stage" >"$stage/bin/apt-get"
chmod +x "$stage/bin/dpkg-query" "$stage/bin/id" "$stage/bin/apt-get"

# check WHAT USER_ID MISSING EXIT LOG: runs the script and compares its exit code and what it asked for
check() {
    : >"$stage/log"
    code=0
    PATH="$stage/bin" USER_ID=$2 MISSING=$3 sh "$script" >"$stage/said" 2>&1 || code=$?
    if [ "$code" != "$4" ] || [ "$(cat "$stage/log")" != "$5" ]; then
        echo "$1: exit $code, asked for:"
        cat "$stage/log" "$stage/said"
        failed=1
    fi
}

check "nothing missing" 1000 "" 0 ""
check "nothing missing, root" 0 "" 0 ""
check "missing, no sudo" 1000 "cmake" 1 ""
grep -q 'apt-get install .* cmake$' "$stage/said" || failed=1
check "missing, root" 0 "cmake half:gcc" 0 "apt-get update -q
apt-get install -q -y --no-install-recommends cmake gcc"

printf '#!/bin/sh\necho sudo >>"%s/log"\nexec "$@"\n' "$stage" >"$stage/bin/sudo"
chmod +x "$stage/bin/sudo"
check "nothing missing, sudo there" 1000 "" 0 ""
check "missing, with sudo" 1000 "libgsl-dev" 0 "sudo
apt-get update -q
sudo
apt-get install -q -y --no-install-recommends libgsl-dev"

rm "$stage/bin/dpkg-query"
check "no Debian" 1000 "cmake" 0 ""

exit $failed
