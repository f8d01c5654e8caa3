#!/bin/sh
# Every picture of every field: it is well-formed XML, a renderer takes it without a complaint,
# and the image has the size that the picture says it has.
#
#   render.sh PROGRAM FIELD...
#
# Ends with 77 where xmllint or rsvg-convert is not here.
set -u

for tool in xmllint rsvg-convert; do
    if ! command -v $tool >/dev/null 2>&1; then
        echo "skipped: $tool is not here"
        exit 77
    fi
done
program=$1
shift
scratch=$(mktemp -d "${TMPDIR:-/tmp}/evenrow-render.XXXXXX") || exit 2
trap 'rm -rf "$scratch"' EXIT
trap 'exit 2' HUP INT TERM
picture=$scratch/picture.svg
image=$scratch/image.png
drawn=0
failed=0

fail() {
    echo "$1"
    failed=$((failed + 1))
}

# The number behind NAME=" in the picture's first element.
measure() {
    sed -n '2s/.* '"$1"'="\([0-9.]*\)".*/\1/p' "$picture"
}

# A big-endian number of 4 bytes at an offset: width and height stand at 16 and 20 of a PNG.
bytes_at() {
    od -A n -t u1 -j "$1" -N 4 "$image" | awk '{print (($1 * 256 + $2) * 256 + $3) * 256 + $4}'
}

check_picture() { # NAME
    xmllint --noout --nonet "$picture" 2>"$scratch/said" || fail "$1: no well-formed XML: $(cat "$scratch/said")"
    rsvg-convert "$picture" -o "$image" 2>"$scratch/said" || fail "$1: not rendered"
    [ ! -s "$scratch/said" ] || fail "$1: $(cat "$scratch/said")"
    for one in width:16 height:20; do
        told=$(measure "${one%:*}")
        made=$(bytes_at "${one#*:}")
        # A renderer rounds up to a whole pixel.
        awk "BEGIN {exit !($told > 0 && $made >= $told && $made < $told + 1)}" ||
            fail "$1: ${one%:*} is $made, and told as $told"
    done
    # Nothing from outside: no address but the name of SVG itself, no script.
    if grep -e 'href' -e '<script' -e '@import' -e '<image' "$picture" ||
        [ "$(grep -c 'http' "$picture")" -ne 1 ]; then
        fail "$1: it is not self-contained"
    fi
    drawn=$((drawn + 1))
}

for field in "$@"; do
    for what in plan pressure supply season; do
        "$program" draw --what $what "$field" >"$picture" 2>"$scratch/said"
        status=$?
        # A season only where the file tells one.
        if [ $what = season ] && ! grep -q '"season"' "$field"; then
            [ $status -eq 2 ] && [ ! -s "$picture" ] || fail "$field: season: status $status"
            continue
        fi
        if [ $status -gt 1 ]; then # 1: the plan that is drawn fails
            fail "$field: $what: status $status: $(cat "$scratch/said")"
            continue
        fi
        check_picture "$(basename "$field"): $what"
    done
done
echo "$drawn pictures, $failed faults"
[ $failed -eq 0 ] && [ $drawn -ge $# ]
