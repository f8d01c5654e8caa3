#!/bin/sh
# Holds the README's examples equal to what the program prints.
#
#   sh tests/cli/readme.sh [--update] PROGRAM
#
# In README.md, `<!-- run: COMMAND -->` is followed by a block with the command and its
# standard output; `<!-- file: NAME -->` by a block that the commands after it find as NAME.
# --update writes the output into the README instead of comparing.
set -u

update=no
if [ "${1-}" = --update ]; then
    update=yes
    shift
fi
program=$(cd "$(dirname "$1")" && pwd -P)/$(basename "$1") || exit 1
root=$(cd "$(dirname "$0")/../.." && pwd -P) || exit 1
scratch=$(mktemp -d) || exit 1
trap 'rm -rf "$scratch"' EXIT
mkdir "$scratch/bin" "$scratch/work"
ln -s "$program" "$scratch/bin/evenrow"
ln -s "$root/examples" "$scratch/work/examples"
PATH=$scratch/bin:$PATH
export PATH

runs=0
mode=text
while IFS= read -r line || [ -n "$line" ]; do
    case $mode:$line in
    'text:<!-- run: '*' -->')
        command=${line#<!-- run: }
        command=${command% -->}
        mode=run
        ;;
    'text:<!-- file: '*' -->')
        name=${line#<!-- file: }
        name=${name% -->}
        : >"$scratch/work/$name"
        mode=file
        ;;
    'run:```'*)
        printf '%s\n$ %s\n' "$line" "$command"
        (cd "$scratch/work" && sh -c "$command" </dev/null 2>/dev/null)
        runs=$((runs + 1))
        mode=skip
        continue
        ;;
    'file:```'*) mode=keep ;;
    'keep:```' | 'skip:```') mode=text ;;
    keep:*) printf '%s\n' "$line" >>"$scratch/work/$name" ;;
    skip:*) continue ;;
    esac
    printf '%s\n' "$line"
    echo "$runs" >"$scratch/runs"
done <"$root/README.md" >"$scratch/README.md"

if [ "$(cat "$scratch/runs")" -lt 5 ]; then
    echo "README.md runs fewer commands than it did: the markers are lost"
    exit 1
fi
if [ $update = yes ]; then
    cp "$scratch/README.md" "$root/README.md"
    exit 0
fi
diff -u "$root/README.md" "$scratch/README.md" || {
    echo "README.md is stale: sh tests/cli/readme.sh --update PROGRAM, then read it"
    exit 1
}
