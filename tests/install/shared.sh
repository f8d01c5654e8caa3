#!/bin/sh
# Builds with a shared library and then does what install.sh does.
#
#   sh tests/install/shared.sh SOURCE BUILD CC
set -u

here=$(cd "$(dirname "$0")" && pwd -P) || exit 1
# Not optimized: what is tried is how it links.
if cmake -S "$1" -B "$2" "-DCMAKE_C_COMPILER=$3" -DBUILD_SHARED_LIBS=ON -DBUILD_TESTING=OFF \
    -DCMAKE_BUILD_TYPE=Debug >"$2.log" 2>&1 && cmake --build "$2" >>"$2.log" 2>&1; then
    exec sh "$here/install.sh" "$2" "$3"
fi
tail -n 40 "$2.log"
exit 1
