#!/bin/sh
# On a terminal, too, nothing but plain text: no colour, and no escape sequence in the line that
# tells how far a long search has come, which leaves nothing behind.
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

# What is left on the screen of lines that are written over one another: after each piece that
# follows a carriage return, one line with what the row then shows, without blanks at its end.
rows() { # FILE
    tr -d '\004\010' <"$1" | awk '{
        row = ""
        pieces = split($0, piece, "\r")
        for (i = 1; i <= pieces; i++) {
            if (piece[i] == "") continue
            row = piece[i] substr(row, length(piece[i]) + 1)
            shown = row
            sub(/ +$/, "", shown)
            print shown
        }
    }'
}

# Each row is what was written last: no end of a longer line behind it. The row of the search is
# wiped before the answer.
judge_rows() { # FILE
    rows "$1" | awk '
        / designs, about / {
            told++
            if ($0 !~ /^[0-9]+ of [0-9]+ designs, about [0-9]+ s left; Ctrl-C stops with the best so far$/) bad = 1
            wiped = 0
            next
        }
        told && $0 == "" { wiped = 1 }
        told && $0 != "" && !wiped { bad = 1 }
        END { exit !(told >= 2 && !bad) }'
}

printf '1 of 10 designs, about 10 s left; Ctrl-C stops with the best so far\r2 of 10 designs, about 9 s left; Ctrl-C stops with the best so far\r\n' >planted
if judge_rows planted; then
    echo "the test does not see the end of a longer line"
    failed=1
fi

# A search of hours, stopped once it has told three times how far it has come.
: >seen
TERM=xterm script -qefc 'echo $$ >process; exec ./evenrow choose --threads 1 --zones 1-42 --tapes "*" bare-field.json' \
    seen >/dev/null 2>&1 </dev/null &
waited=0
while [ "$(tr '\r' '\n' <seen 2>/dev/null | grep -c ' designs, about ')" -lt 3 ]; do
    if [ $waited -ge 1200 ]; then
        echo "in two minutes the search has not told how far it has come"
        failed=1
        break
    fi
    sleep 0.1
    waited=$((waited + 1))
done
kill -INT "$(cat process)"
wait
grep -q "$escape" seen && failed=1
if ! judge_rows seen; then
    echo "the line that tells how far the search has come is not wiped, or not whole:"
    rows seen | head -n 12
    failed=1
fi
[ $failed -eq 0 ] && echo "plain text on a terminal"
[ $failed -eq 0 ]
