#!/bin/sh
# Measures the labels of all pictures in a real browser: none touches another, none leaves its
# picture.
#
#   measure.sh PROGRAM BROWSER FIELD...
#
# Prints a line for each picture. The page also holds a picture with a label on another and one
# that leaves it, and both must be found: else the measuring itself is broken.
set -u

here=$(cd "$(dirname "$0")" && pwd -P) || exit 2
. "$here/browse.sh"
wanted=0

section() { # NAME, the picture on standard input
    printf '<section data-name="%s">\n' "$1"
    sed '1{/^<?xml/d;}'
    printf '</section>\n'
}

{
    section 'control' <<'EOF'
<svg xmlns="http://www.w3.org/2000/svg" width="200" height="60">
<text x="20" y="30" font-size="11">one label</text><text x="40" y="33" font-size="11">on another</text>
<text x="180" y="50" font-size="11">that leaves it</text>
</svg>
EOF
} >"$scratch/pictures"
for field in "$@"; do
    for what in plan pressure supply season; do
        if [ $what = season ] && ! grep -q '"season"' "$field"; then
            continue
        fi
        "$program" draw --what $what "$field" >"$scratch/one.svg" || [ $? = 1 ] || exit 1
        section "$(basename "$field" .json) $what" <"$scratch/one.svg" >>"$scratch/pictures"
        wanted=$((wanted + 1))
    done
done
sed -e "/^PICTURES\$/{r $scratch/pictures" -e 'd;}' "$here/page.html" >"$scratch/page.html"

found "$scratch/page.html"
if ! grep -q '^PICTURE control: 3 labels, 2 faults$' "$scratch/found"; then
    echo "The measuring does not find what it should find."
    exit 1
fi
measured=$(grep -c '^PICTURE' "$scratch/found")
good=$(grep -c '^PICTURE .*: [1-9][0-9]* labels, 0 faults$' "$scratch/found")
echo "$wanted pictures drawn, $((measured - 1)) measured, $good of them without a fault"
[ "$good" -eq "$wanted" ] && [ "$measured" -eq $((wanted + 1)) ]
