#!/bin/sh
# The report on how far the figures can be trusted, from the lines that tests printed (trust.h).
#
#   sh tests/trust/report.sh FOLDER                 the whole report, 80 columns wide
#   sh tests/trust/report.sh --short FOLDER         two lines or so for each subject
#   sh tests/trust/report.sh --lines PREFIX FOLDER  what follows PREFIX and a tab, as it is
#
# FOLDER holds one file for each test program.
set -u

here=$(cd "$(dirname "$0")" && pwd -P) || exit 1
form=whole
prefix=
case ${1-} in
--short)
    form=short
    shift
    ;;
--lines)
    form=lines
    prefix=$2
    shift 2
    ;;
esac
folder=${1:?"usage: sh tests/trust/report.sh [--short | --lines PREFIX] FOLDER"}

# In an order that hangs on no locale and no file system.
lines() {
    for set in published reference laws; do
        for file in "$folder/$set"-*.txt; do
            [ -f "$file" ] && cat "$file"
        done
    done
}

if [ $form = lines ]; then
    lines | awk -v "prefix=$prefix	" 'index($0, prefix) == 1 { print substr($0, length(prefix) + 1) }'
    exit
fi
if [ -z "$(lines)" ]; then
    echo "$folder holds no lines of tests: build, and run ctest there" >&2
    exit 1
fi
LC_ALL=C
export LC_ALL
lines | awk -v form=$form -f "$here/report.awk"
