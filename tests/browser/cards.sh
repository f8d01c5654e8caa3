#!/bin/sh
# Prints cards for the pump house in a real browser: a page for each set, no more.
#
#   cards.sh PROGRAM BROWSER FIELD...
#
# Prints a line for each card. The exit status is 0 where all have as many pages as sheets.
set -u

program=$1
browser=$2
shift 2
scratch=$(mktemp -d "${TMPDIR:-/tmp}/evenrow-cards.XXXXXX") || exit 2
trap 'rm -rf "$scratch"' EXIT
trap 'exit 2' HUP INT TERM
status=0
for field in "$@"; do
    "$program" card --format html "$field" >"$scratch/card.html"
    rm -f "$scratch/card.pdf"
    # --no-sandbox: the sandbox does not start for root; the page is our own.
    timeout 120 "$browser" --headless --no-sandbox --disable-gpu --disable-dev-shm-usage \
        --no-first-run --user-data-dir="$scratch/profile" --print-to-pdf="$scratch/card.pdf" \
        "file://$scratch/card.html" >"$scratch/said" 2>&1
    sheets=$(grep -c '^<section' "$scratch/card.html")
    pages=$(grep -ac '/Type /Page$' "$scratch/card.pdf")
    echo "CARD $(basename "$field" .json): $sheets sheets, ${pages:-no} pages"
    if [ "$sheets" -eq 0 ] || [ "$sheets" != "$pages" ]; then
        status=1
    fi
done
exit $status
