#!/bin/sh
# What -o leaves behind: nothing when a signal ends the program while it writes, and of a file that
# it replaces the mode, the owner and the links that lead to it.
#
#   sh tests/cli/shell/whole-files.sh PROGRAM CC
#
# A library put before libc's sends the signal in the middle of writing, and notes that a folder
# was brought down to the disk.
set -u

program=$(cd "$(dirname "$1")" && pwd -P)/$(basename "$1") || exit 1
root=$(cd "$(dirname "$0")/../../.." && pwd -P) || exit 1
scratch=$(mktemp -d) || exit 1
trap 'rm -rf "$scratch"' EXIT
trap 'exit 1' HUP INT TERM
failed=0
tried=0

check() { # what, then a command that is true
    tried=$((tried + 1))
    what=$1
    shift
    "$@" || {
        echo "$what"
        failed=$((failed + 1))
    }
}

cat >"$scratch/fsync.c" <<'END'
#define _POSIX_C_SOURCE 200809L
#include <signal.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>
int fsync(int file)
{
    struct stat what;
    const char *number = getenv("SEND");
    if (number != NULL) {
        raise(atoi(number));
    }
    if (fstat(file, &what) == 0 && S_ISDIR(what.st_mode) && getenv("NOTE") != NULL) {
        write(9, "folder\n", 7);
    }
    return 0;
}
END
"$2" -shared -fPIC -w -o "$scratch/fsync.so" "$scratch/fsync.c" || exit 1
mkdir "$scratch/here" && cd "$scratch/here" || exit 1
field=$root/examples/pond-slope.json

# A signal by name and number.
ended_by() {
    number=$2
    rm -f ./* ./.ev*
    (SEND=$number LD_PRELOAD=$scratch/fsync.so ASAN_OPTIONS=verify_asan_link_order=0 \
        exec "$program" draw -o plan.svg "$field") >"$scratch/out" 2>&1
    status=$?
    check "SIG$1: status $status" [ $status -eq $((128 + number)) ]
    check "SIG$1 leaves $(ls -A)" [ -z "$(ls -A)" ]
}
# Numbers as Linux has them on all but a few machines.
for signal in 'HUP 1' 'INT 2' 'QUIT 3' 'PIPE 13' 'TERM 15' 'XCPU 24' 'XFSZ 25'; do
    # shellcheck disable=SC2086 # a name and a number
    ended_by $signal 2>/dev/null
done

# The file may not grow so far: the system sends the signal itself.
(
    ulimit -f 1
    exec "$program" draw -o plan.svg "$field"
) >"$scratch/out" 2>&1
check "a file that may not grow leaves $(ls -A)" [ -z "$(ls -A)" ]
# Who had the signal ignored gets the file.
(trap '' HUP && SEND=1 LD_PRELOAD=$scratch/fsync.so ASAN_OPTIONS=verify_asan_link_order=0 \
    "$program" draw -o plan.svg "$field") >"$scratch/out" 2>&1
check 'SIGHUP, ignored, ends it all the same' [ -s plan.svg ]

NOTE=1 LD_PRELOAD=$scratch/fsync.so ASAN_OPTIONS=verify_asan_link_order=0 \
    "$program" draw -o folder.svg "$field" 9>"$scratch/note"
check 'the folder is not brought down to the disk' grep -q folder "$scratch/note"

# Links: what they lead to is written, whether it is there or not, and the link stays one.
mkdir deep && ln -s deep/missing.svg link
"$program" draw -o link "$field" 2>"$scratch/errors"
check 'a link to nothing is followed without --force' [ $? -eq 2 ]
check "says nothing of the link: $(cat "$scratch/errors")" grep -q 'link: a link to a file that is not there' "$scratch/errors"
"$program" draw --force -o link "$field" || failed=$((failed + 1))
check 'a link to nothing is replaced' [ -L link ]
check 'what the link leads to is not made' [ -s deep/missing.svg ]
ln -s one two && ln -s two one
"$program" draw --force -o one "$field" 2>/dev/null
check 'a ring of links is replaced' [ -L one ]

# Mode, and hard links.
echo old >kept && chmod 640 kept && ln kept other
"$program" draw --force -o kept "$field" 2>"$scratch/errors"
check 'the mode is lost' [ "$(ls -l kept | cut -c1-10)" = -rw-r----- ]
check 'the other name was written over' [ "$(cat other)" = old ]
check 'says nothing of the other name' grep -q 'kept: the same file had 1 other name (hard links); that one keeps the old text' "$scratch/errors"
if [ "$(id -u)" -eq 0 ]; then
    echo old >theirs && chown 12345:23456 theirs
    "$program" draw --force -o theirs "$field" 2>"$scratch/errors"
    # shellcheck disable=SC2012 # numbers of our own file's owner
    check 'the owner is lost' [ "$(ls -ln theirs | awk '{print $3 ":" $4}')" = 12345:23456 ]
    check "told for nothing: $(cat "$scratch/errors")" [ ! -s "$scratch/errors" ]
fi
check "something is left: $(ls -A)" [ -z "$(find . -name '.evenrow-*')" ]

echo "$tried tried, $failed faults"
[ $failed -eq 0 ] && [ $tried -ge 20 ]
