#!/bin/sh
# On a terminal, too, nothing but plain text: no colour, and no escape sequence in the line that
# tells how far a long search has come.
#
#   sh tests/cli/shell/terminal.sh PROGRAM
set -u

program=$(cd "$(dirname "$1")" && pwd -P)/$(basename "$1") || exit 1
root=$(cd "$(dirname "$0")/../../.." && pwd -P) || exit 1
if ! script -qec true /dev/null >/dev/null 2>&1 </dev/null; then
    echo "skipped: no 'script' here that makes a terminal"
    exit 77
fi
scratch=$(mktemp -d) || exit 1
trap 'rm -rf "$scratch"' EXIT
trap 'exit 1' HUP INT TERM
ln -s "$program" "$scratch/evenrow"
cd "$scratch" || exit 1
cp "$root"/examples/*.json .
escape=$(printf '\033')
failed=0

on_terminal() { # COMMAND: what the terminal got, in `seen`
    TERM=xterm-256color script -qec "$1" seen >/dev/null 2>&1 </dev/null
    if grep -q "$escape" seen; then
        echo "$1: writes an escape sequence"
        failed=1
    fi
}

on_terminal './evenrow --help'
grep -q Commands seen || failed=1
on_terminal './evenrow check four-faults.json'
grep -q '^FAILS' seen || failed=1
on_terminal './evenrow chek'
grep -q 'did you mean' seen || failed=1
on_terminal './evenrow choose --threads 1 --zones 2-8 bare-field.json'
grep -q '^BEST' seen || grep -q "$(printf '\r')BEST" seen || failed=1
tr '\r' '\n' <seen >lines
if ! grep -q ' designs, about .* left; ' lines; then
    echo "the search was over before it told how far it had come: that line was not seen"
elif ! sed -n '/ left; /,$p' lines | grep -q '^   *$'; then
    echo "the line that tells how far the search has come is not wiped"
    failed=1
fi
# One that was longer leaves nothing behind.
if awk '/ left; /{ if (length($0) < before) short = 1; before = length($0) } END { exit !short }' lines; then
    echo "a shorter line leaves the end of a longer one"
    failed=1
fi
[ $failed -eq 0 ] && echo "plain text on a terminal"
[ $failed -eq 0 ]
