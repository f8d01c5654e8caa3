#!/bin/sh
# Libraries are never taken from the folder that the program lies in or is called from: a planted
# libcjson.so.1 that would end it with status 99 must not be loaded, built or installed.
#
#   sh tests/install/planted.sh BUILD CC
set -u

build=$1
cc=$2
scratch=$(mktemp -d) || exit 1
trap 'rm -rf "$scratch"' EXIT
trap 'exit 1' HUP INT TERM
failed=0

fail() {
    echo "$*"
    failed=$((failed + 1))
}

cat >"$scratch/planted.c" <<'END'
#include <unistd.h>
__attribute__((constructor)) static void planted(void) { _exit(99); }
END
"$cc" -shared -fPIC -o "$scratch/libcjson.so.1" "$scratch/planted.c" || exit 1
cmake --install "$build" --prefix "$scratch/installed" >"$scratch/log" 2>&1 || {
    cat "$scratch/log"
    exit 1
}

mkdir "$scratch/built" "$scratch/here" || exit 1
cp "$build/evenrow" "$scratch/built/" || exit 1
for folder in here built installed/bin; do
    cp "$scratch/libcjson.so.1" "$scratch/$folder/" || exit 1
done
cd "$scratch/here" || exit 1

# The plant works: a program that looks here loads it, and comes to no good end (99, or 127 where
# its functions are missed before it begins).
if ldd "$scratch/built/evenrow" | grep -q libcjson; then
    LD_LIBRARY_PATH=$scratch/here "$scratch/built/evenrow" --version >/dev/null 2>&1
    [ $? -ge 99 ] || fail "the planted library does no harm even where it is asked for"
fi
for program in "$scratch/built/evenrow" "$scratch/installed/bin/evenrow"; do
    PATH=/usr/bin:/bin "$program" --version >/dev/null 2>&1 || fail "$program: loads the planted library"
    if readelf -d "$program" | grep -E 'R(UN)?PATH'; then
        fail "$program: has a path of its own for libraries"
    fi
done

[ $failed -eq 0 ] && echo "planted libraries are not loaded"
[ $failed -eq 0 ]
