#!/bin/sh
# Installs what is missing, builds evenrow, and checks a first plan with it.
#
#   sh examples/first-plan.sh [--one-piece]
#
# --one-piece: the program needs no libcjson where it runs; cJSON's source comes from Debian or
# Ubuntu, with their security patches.
set -u

root=$(cd "$(dirname "$0")/.." && pwd -P) || exit 1
. "$root/tests/prepare.sh"

install_missing "$needs_for_build" || exit 1
cjson=
case ${1-}:$# in
:0) ;;
--one-piece:1)
    install_missing "$needs_for_one_piece" || exit 1
    echo "Bringing cJSON's source ..."
    cjson=$(cjson_source "$root/.build/cjson-source" 2>/dev/null) || {
        echo "cJSON's source cannot be had from apt-get here" >&2
        exit 1
    }
    ;;
*)
    echo "usage: sh examples/first-plan.sh [--one-piece]" >&2
    exit 2
    ;;
esac

echo "Building evenrow ..."
log=$root/.build/build.log
mkdir -p "$root/.build" || exit 1
if ! build "$root/.build" -DBUILD_TESTING=OFF "-DEVENROW_CJSON_SOURCE=$cjson" >"$log" 2>&1; then
    cat "$log" >&2
    echo "The build failed; what it said is above, and in $log" >&2
    exit 1
fi

cd "$root" || exit 1
echo "\$ evenrow check examples/pond-slope.json"
echo
.build/evenrow check examples/pond-slope.json
status=$?
echo
echo "The program is $root/.build/evenrow"
echo "Copy it to a folder of your PATH, or call it by that name."
exit $status
