#!/bin/sh
# Runs a test and keeps the lines it prints for the report (trust.h).
#
#   sh tests/trust/keep.sh FILE PROGRAM [ARGUMENT...]
#
# Prints what PROGRAM prints and ends with its status.
set -u

file=$1
shift
mkdir -p "$(dirname "$file")" || exit 1
"$@" >"$file.new"
status=$?
cat "$file.new"
# Dropped: what is the test framework's own.
grep -a '	' "$file.new" >"$file"
rm -f "$file.new"
exit $status
