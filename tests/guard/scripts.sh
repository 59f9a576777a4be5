#!/bin/sh
# scripts.sh ROOT: every shell script can be read by the shell, and says so when it fails (set -eu).
set -eu
wrong=0
find "$1/src" "$1/tests" "$1/.ci" -name '*.sh' -o -path '*/.ci/run' >"${TMPDIR:-/tmp}/scripts.$$"
while read -r script; do
    sh -n "$script" || wrong=1
    if ! grep -q '^set -eu$' "$script"; then
        echo "$script: goes on after a failure (there is no set -eu)"
        wrong=1
    fi
    if [ "$(head -n 1 "$script")" != '#!/bin/sh' ]; then
        echo "$script: does not begin with #!/bin/sh"
        wrong=1
    fi
done <"${TMPDIR:-/tmp}/scripts.$$"
rm -f "${TMPDIR:-/tmp}/scripts.$$"
exit $wrong
