#!/bin/sh
# Holds what the README quotes from the tests equal to what they printed.
#
#   sh tests/trust/readme.sh [--update] FOLDER
#
# FOLDER holds the lines of the tests, as ctest leaves them in BUILD/tests/trust. In README.md,
# `<!-- report: short -->` is followed by a block with the short report, `<!-- report: PREFIX -->`
# by one with the lines that tests printed after PREFIX and a tab. --update writes the blocks.
set -u

update=no
if [ "${1-}" = --update ]; then
    update=yes
    shift
fi
folder=${1:?"usage: sh tests/trust/readme.sh [--update] FOLDER"}
root=$(cd "$(dirname "$0")/../.." && pwd -P) || exit 1
scratch=$(mktemp -d) || exit 1
trap 'rm -rf "$scratch"' EXIT

# Prints a block; a failure leaves a file behind.
block() {
    case $1 in
    short) sh "$root/tests/trust/report.sh" --short "$folder" ;;
    *) sh "$root/tests/trust/report.sh" --lines "$1" "$folder" ;;
    esac || : >"$scratch/failed"
}

blocks=0
mode=text
while IFS= read -r line || [ -n "$line" ]; do
    case $mode:$line in
    'text:<!-- report: '*' -->')
        name=${line#<!-- report: }
        name=${name% -->}
        mode=report
        ;;
    'report:```'*)
        printf '%s\n' "$line"
        block "$name"
        blocks=$((blocks + 1))
        mode=skip
        continue
        ;;
    'skip:```') mode=text ;;
    skip:*) continue ;;
    esac
    printf '%s\n' "$line"
    echo "$blocks" >"$scratch/blocks"
done <"$root/README.md" >"$scratch/README.md"

if [ "$(cat "$scratch/blocks")" -lt 3 ] || [ -e "$scratch/failed" ]; then
    echo "README.md lost a marker, or the report could not be made from $folder"
    exit 1
fi
if [ $update = yes ]; then
    cp "$scratch/README.md" "$root/README.md"
    exit 0
fi
diff -u "$root/README.md" "$scratch/README.md" || {
    echo "README.md is stale: sh tests/trust/readme.sh --update $folder, then read it"
    exit 1
}
