#!/bin/sh
# Prints cards for the pump house in a real browser: a page for each set, no more.
#
#   cards.sh PROGRAM BROWSER FIELD...
#
# Prints a line for each card. The exit status is 0 where all have as many pages as sheets.
set -u

here=$(cd "$(dirname "$0")" && pwd -P) || exit 2
. "$here/browse.sh"
status=0
for field in "$@"; do
    "$program" card --format html "$field" >"$scratch/card.html"
    rm -f "$scratch/card.pdf"
    browse "$scratch/card.html" --print-to-pdf="$scratch/card.pdf" >"$scratch/printed"
    sheets=$(grep -c '^<section' "$scratch/card.html")
    pages=$(grep -ac '/Type /Page$' "$scratch/card.pdf")
    echo "CARD $(basename "$field" .json): $sheets sheets, ${pages:-no} pages"
    if [ "$sheets" -eq 0 ] || [ "$sheets" != "$pages" ]; then
        status=1
    fi
done
exit $status
