#!/bin/sh
# What every command does with the streams it is given.
#
#   sh tests/cli/shell/streams.sh PROGRAM
#
# For each command in the program's own help: its output is plain text without an escape
# sequence; a full disk is noticed and ends with 3; so is a standard output that is closed; and
# when the reader of a pipe has had enough, the program ends without a word.
set -u

program=$(cd "$(dirname "$1")" && pwd -P)/$(basename "$1") || exit 1
root=$(cd "$(dirname "$0")/../../.." && pwd -P) || exit 1
scratch=$(mktemp -d) || exit 1
trap 'rm -rf "$scratch"' EXIT
trap 'exit 1' HUP INT TERM
cd "$root/examples" || exit 1
escape=$(printf '\033')
runs=0
failed=0

fail() {
    echo "evenrow $*"
    failed=$((failed + 1))
}

# Command lines of a command, one a line. A command without any is a fault of this test.
lines_of() {
    case $1 in
    check) echo 'check pond-slope.json' && echo 'check --format json four-faults.json' ;;
    start) echo 'start' ;;
    reach) echo 'reach --tape-flow 0.45' && echo 'reach --tape-flow 0.45 --format csv' ;;
    split) echo 'split --zones 3 bare-field.json' && echo 'split --zones 3 -o - bare-field.json' ;;
    choose) echo 'choose --tapes tape-16mm-12in-0.40 --pipes layflat-2in --zones 3 bare-field.json' ;;
    supply) echo 'supply pond-slope.json' ;;
    season) echo 'season season-pond.json' ;;
    inject) echo 'inject feed-the-tape.json' ;;
    buy) echo 'buy pond-slope.json' ;;
    visit) echo 'visit --form pond-slope.json' && echo 'visit pond-slope.json visit/low-zone.json' ;;
    card) echo 'card pond-slope.json' && echo 'card --format html pond-slope.json' ;;
    compare) echo 'compare pond-slope.json four-faults.json' ;;
    draw) echo 'draw pond-slope.json' ;;
    catalog) echo 'catalog' && echo 'catalog --format csv pipes' ;;
    schema) echo 'schema' ;;
    esac
    echo "$1 --help"
}

# Runs the command line in $1 and leaves its exit status in $status.
evenrow() {
    # shellcheck disable=SC2086 # the line is meant to be split
    "$program" $1 </dev/null
    status=$?
}

# The reader is gone before the program writes.
into_a_closed_pipe() {
    rm -f "$scratch/go"
    mkfifo "$scratch/go"
    {
        read -r _ <"$scratch/go"
        evenrow "$1" 2>"$scratch/errors"
        echo $status >"$scratch/status"
    } | {
        exec </dev/null
        echo go >"$scratch/go"
    }
    status=$(cat "$scratch/status")
}

try() {
    runs=$((runs + 1))
    evenrow "$1" >"$scratch/output" 2>"$scratch/errors"
    [ $status -le 1 ] || fail "$1: status $status: $(cat "$scratch/errors")"
    [ -s "$scratch/output" ] || fail "$1: no output"
    if grep -q "$escape" "$scratch/output" "$scratch/errors"; then
        fail "$1: writes an escape sequence"
    fi
    if [ -c /dev/full ]; then
        evenrow "$1" >/dev/full 2>"$scratch/errors"
        [ $status -eq 3 ] || fail "$1: status $status where the disk is full"
        grep -q '^evenrow: standard output: ' "$scratch/errors" ||
            fail "$1: does not say that the disk is full"
    fi
    evenrow "$1" >&- 2>"$scratch/errors"
    [ $status -eq 3 ] || fail "$1: status $status where standard output is closed"
    into_a_closed_pipe "$1"
    # 128 and SIGPIPE, as for any program; or 3 where that signal was ignored from the start
    [ "$status" -eq 141 ] || [ "$status" -eq 3 ] || fail "$1: status $status when the reader has gone"
    # start tells its verdict there
    if [ "${1%% *}" != start ] && [ -s "$scratch/errors" ]; then
        fail "$1: complains when the reader has gone: $(cat "$scratch/errors")"
    fi
}

"$program" --help >"$scratch/help" || exit 1
commands=$(sed -n '/^Commands$/,/^$/s/^  \([a-z][a-z]*\) .*/\1/p' "$scratch/help")
for command in $commands; do
    lines_of "$command" >"$scratch/lines"
    if [ "$(wc -l <"$scratch/lines")" -lt 2 ]; then
        fail "$command: this test has no command line for it"
    fi
    while read -r line <&3; do
        try "$line"
    done 3<"$scratch/lines"
done
try --help
try --version
try 'help check'

# The signal may be ignored from the start, as some programs that start others do.
trap '' PIPE
into_a_closed_pipe 'check pond-slope.json'
[ "$status" -eq 3 ] || fail "check: status $status when the reader has gone and SIGPIPE is ignored"
[ -s "$scratch/errors" ] && fail "check: complains when SIGPIPE is ignored: $(cat "$scratch/errors")"

echo "$runs command lines tried, $failed faults"
[ $failed -eq 0 ] && [ $runs -ge 20 ]
