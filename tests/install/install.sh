#!/bin/sh
# Installs what was built into a folder with a space in its name, moves that, and uses it from
# outside: the program, and the library by pkg-config and by find_package.
#
#   sh tests/install/install.sh BUILD CC
set -u

build=$1
cc=$2
here=$(cd "$(dirname "$0")" && pwd -P) || exit 1
root=$(cd "$here/../.." && pwd -P) || exit 1
scratch=$(mktemp -d) || exit 1
trap 'rm -rf "$scratch"' EXIT
trap 'exit 1' HUP INT TERM
example=$root/examples/middle-feed.json
failed=0

fail() {
    echo "$*"
    failed=$((failed + 1))
}

cmake --install "$build" --prefix "$scratch/first place" >"$scratch/log" 2>&1 || {
    cat "$scratch/log"
    exit 1
}
prefix="$scratch/moved on"
mv "$scratch/first place" "$prefix" || exit 1

# Everything that should be there, wherever this system keeps its libraries.
library=$(cd "$prefix" && echo lib*/evenrow.nothing lib*/libevenrow.* lib*/*/libevenrow.*)
library=$(cd "$prefix" && for file in $library; do [ -e "$file" ] && dirname "$file"; done | sort -u)
if [ -z "$library" ]; then
    fail "no library was installed"
fi
for file in bin/evenrow include/evenrow/evenrow.h include/evenrow/field.h \
    "$library/pkgconfig/evenrow.pc" "$library/cmake/evenrow/evenrow-config.cmake" \
    share/man/man1/evenrow.1 share/man/man5/evenrow-field.5 \
    share/bash-completion/completions/evenrow share/zsh/site-functions/_evenrow \
    share/fish/vendor_completions.d/evenrow.fish; do
    [ -s "$prefix/$file" ] || fail "$file was not installed"
done
for header in "$root"/include/evenrow/*.h; do
    name=${header##*/}
    cmp -s "$header" "$prefix/include/evenrow/$name" || fail "$name was not installed"
    [ "$name" = evenrow.h ] || grep -q "\"evenrow/$name\"" "$root/include/evenrow/evenrow.h" ||
        fail "evenrow.h does not include $name"
done
# As a whole path: a tree that lies in /evenrow would be found in every lib/cmake/evenrow.
whole() {
    printf '(^|[^[:alnum:]_./-])%s(/|[^[:alnum:]_.-]|$)' "$(printf %s "$1" | sed 's/[][\\.*^$+?(){}|]/\\&/g')"
}
if grep -rlE -e "$(whole "$root")" -e "$(whole "$build")" "$prefix/include" "$prefix/$library/cmake" \
    "$prefix/$library/pkgconfig" "$prefix/share"; then
    fail "these name the folders where they were built"
fi

told=$("$prefix/bin/evenrow" check --quiet "$example") || fail "the installed program fails: $told"

# tries HOW PROGRAM: what it prints must be what the installed program says.
tries() {
    said=$("$2" "$example") || fail "$1: the outside program fails"
    eu=${said#*: }
    case $told in
    "${said%%:*}: "*"$eu"*) ;;
    *) fail "$1: the outside program says '$said', evenrow '$told'" ;;
    esac
}

shared=no
if ls "$prefix/$library"/libevenrow.so* >/dev/null 2>&1; then
    shared=yes
fi
# A shared library is found by the place that is linked in.
if command -v pkg-config >/dev/null 2>&1; then
    PKG_CONFIG_PATH=$prefix/$library/pkgconfig
    export PKG_CONFIG_PATH
    flags=$(pkg-config --cflags --libs evenrow) || fail "pkg-config does not know evenrow"
    # The flags are quoted for a shell.
    eval "\"\$cc\" -std=c11 -o \"\$scratch/by pkg-config\" \"\$here/outside/outside.c\" $flags \
        \"-Wl,-rpath,\$prefix/\$library\"" || fail "by pkg-config: does not build"
    tries "by pkg-config" "$scratch/by pkg-config"
else
    echo "pkg-config is not here: that way is not tried"
fi

if cmake -S "$here/outside" -B "$scratch/by cmake" "-DCMAKE_PREFIX_PATH=$prefix" \
    "-DCMAKE_C_COMPILER=$cc" >"$scratch/log" 2>&1 &&
    cmake --build "$scratch/by cmake" >>"$scratch/log" 2>&1; then
    tries "by find_package" "$scratch/by cmake/outside"
else
    cat "$scratch/log"
    fail "by find_package: does not build"
fi

# A shared library shows what the public headers declare, and nothing else.
if [ $shared = yes ] && command -v nm >/dev/null 2>&1; then
    nm -D --defined-only "$prefix/$library/libevenrow.so" |
        sed -n 's/^[^ ]* [TDBR] \([^@]*\).*/\1/p' | sort >"$scratch/shown"
    [ -s "$scratch/shown" ] || fail "the shared library shows nothing"
    while read -r name; do
        grep -qw "$name" "$prefix"/include/evenrow/*.h || fail "$name is shown, and not public"
    done <"$scratch/shown"
fi

[ $failed -eq 0 ] && echo "installed, moved and used; shared library: $shared"
[ $failed -eq 0 ]
