#!/bin/sh
# Holds that every file of C begins by saying what it is for.
#
#   sh tests/heads.sh   looks at all of src/, include/ and tests/
#
# The first thing in a file is a comment of at least one whole sentence, so that whoever opens the
# file need not work out from its functions why it is there. A word to a tool is no such sentence.

set -eu

cd "$(dirname "$0")/.."

find src include tests -name '*.[ch]' | sort | xargs awk '
function wrong(text) {
    print "heads: " path ":1: " text
    faults++
}
# Judges the file that was read last by its first comment.
function judge() {
    if (path == "") return
    files++
    if (head !~ /^\/\*/) {
        wrong("begins without a comment that says what the file is for")
    } else if (head !~ /\*\//) {
        wrong("its first comment does not end")
    } else if (head ~ /NOLINT/) {
        wrong("begins with a word to a tool, not with what the file is for")
    } else if (head !~ /[A-Za-z].*[.][ \n]/) {
        wrong("its first comment is no sentence")
    }
}
FNR == 1 {
    judge()
    path = FILENAME
    head = ""
    ended = 0
}
!ended {
    head = head $0 "\n"
    ended = head !~ /^\/\*/ || index(head, "*/") > 0
}
END {
    judge()
    # Where no file is found none would ever be wrong.
    if (files < 2) {
        path = "."
        wrong("no files were found")
    }
    printf "%d files, %d wrong\n", files, faults
    exit faults > 0
}'
