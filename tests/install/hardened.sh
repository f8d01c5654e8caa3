#!/bin/sh
# What the build asked of compiler and linker, read back from the program.
#
#   sh tests/install/hardened.sh PROGRAM BUILD_TYPE
set -u

program=$1
failed=0

want() {
    echo "$2" | grep -Eq "$3" || {
        echo "$program: $1"
        failed=$((failed + 1))
    }
}

header=$(readelf -hlW "$program") || exit 1
dynamic=$(readelf -dW "$program") || exit 1
symbols=$(readelf --dyn-syms -W "$program") || exit 1
want 'its addresses are fixed (no PIE)' "$header" 'Type: +DYN'
want 'nothing is made read-only once it is loaded (no RELRO)' "$header" 'GNU_RELRO'
want 'functions are bound late (no BIND_NOW)' "$dynamic" 'BIND_NOW|FLAGS_1.*NOW'
want 'no stack protector' "$symbols" '__stack_chk_fail'
if [ "$2" = Release ]; then
    want 'no _FORTIFY_SOURCE' "$symbols" '__[a-z]+_chk(@|$| )'
fi
if echo "$header" | grep 'GNU_STACK' | grep -q E; then
    echo "$program: its stack can be executed"
    failed=$((failed + 1))
fi
[ $failed -eq 0 ] && echo "the program is hardened"
[ $failed -eq 0 ]
