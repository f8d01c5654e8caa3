#!/bin/sh
# Runs the program and compares what it does, to the letter, with what is written down.
#
#   run-cases.sh [--update] PROGRAM [CASE...]
#
# A case is a folder in cases/ROOM/, a room for each command and for what all of them do; its name is
# its own among all:
#   cmd      shell commands; the program is called evenrow, the examples are in examples/
#   status   the exit status wanted (no file: 0)
#   stdout   the standard output wanted (no file: none)
#   stderr   the standard error wanted (no file: none)
# Other files of the folder are input. `rounded` takes the last digits off the numbers that pass
# through it, which differ from one C library to another. Each case runs in an empty folder of its own that
# holds copies of its input. Without CASE all cases run.
# --update writes down what the program does now; look at the difference before you commit it.
set -u

here=$(cd "$(dirname "$0")" && pwd -P) || exit 2
root=$(cd "$here/../.." && pwd -P) || exit 2

update=no
if [ "${1-}" = --update ]; then
    update=yes
    shift
fi
if [ $# -lt 1 ] || [ ! -x "$1" ]; then
    echo "usage: run-cases.sh [--update] PROGRAM [CASE...]" >&2
    exit 2
fi
program=$(cd "$(dirname "$1")" && pwd -P)/$(basename "$1")
shift

scratch=$(mktemp -d "${TMPDIR:-/tmp}/evenrow-cases.XXXXXX") || exit 2
trap 'chmod -R u+w "$scratch"; rm -rf "$scratch"' EXIT
trap 'exit 2' HUP INT TERM
mkdir "$scratch/bin"
ln -s "$program" "$scratch/bin/evenrow"
ln -s "$here/rounded" "$scratch/bin/rounded"

# Runs the case in $case; leaves what it did in $scratch/got.
run() {
    work=$scratch/work
    got=$scratch/got
    rm -rf "$work" "$got"
    mkdir "$work" "$got"
    cp -R "$case/." "$work"
    rm -f "$work/cmd" "$work/status" "$work/stdout" "$work/stderr"
    ln -s "$root/examples" "$work/examples"
    (
        cd "$work" &&
            env -i PATH="$scratch/bin:$PATH" HOME="$work" LC_ALL=C TZ=UTC sh "$case/cmd"
    ) >"$got/stdout" 2>"$got/stderr" </dev/null
    echo $? >"$got/status"
}

# What is wanted of a case, with the defaults put in, in $scratch/want.
wanted() {
    want=$scratch/want
    rm -rf "$want"
    mkdir "$want"
    echo 0 >"$want/status"
    : >"$want/stdout"
    : >"$want/stderr"
    for part in status stdout stderr; do
        if [ -f "$case/$part" ]; then
            cp "$case/$part" "$want/$part"
        fi
    done
}

compare() {
    same=yes
    for part in status stderr stdout; do
        if ! cmp -s "$scratch/want/$part" "$scratch/got/$part"; then
            same=no
            echo "$1: another $part than wanted"
            diff -u "$scratch/want/$part" "$scratch/got/$part" | head -n 60
        fi
    done
    [ $same = yes ]
}

keep() {
    for part in status stdout stderr; do
        rm -f "$case/$part"
        if [ -s "$scratch/got/$part" ]; then
            cp "$scratch/got/$part" "$case/$part"
        fi
    done
    if [ "$(cat "$scratch/got/status")" = 0 ]; then
        rm -f "$case/status"
    fi
}

if [ $# -eq 0 ]; then
    for folder in "$here"/cases/*/*/; do
        set -- "$@" "$(basename "$folder")"
    done
fi
passed=0
failed=0
for name in "$@"; do
    for case in "$here"/cases/*/"$name"; do :; done
    if [ ! -f "$case/cmd" ]; then
        echo "$name: there is no such case"
        failed=$((failed + 1))
        continue
    fi
    run
    wanted
    if compare "$name"; then
        passed=$((passed + 1))
    elif [ $update = yes ]; then
        keep
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
    fi
done
echo "$passed passed, $failed failed"
[ $failed -eq 0 ]
