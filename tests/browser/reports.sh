#!/bin/sh
# Looks at every report that can be HTML in a real browser, on a telephone and on a desk: nothing
# is wider than the window, and what a field file calls its zones is text and nothing else.
#
#   reports.sh PROGRAM BROWSER FIELD...
#
# Then a validator of HTML reads them all, where npx can fetch it.
#
# Prints a line for each report and width, and one for the validator. The page also holds one report that is too wide, one with
# a script and one whose text is missing, and all must be found: else the measuring is broken.
set -u

here=$(cd "$(dirname "$0")" && pwd -P) || exit 2
. "$here/browse.sh"
mkdir "$scratch/reports"
wanted=0

escaped() { sed -e 's/&/\&amp;/g' -e 's/</\&lt;/g' -e 's/>/\&gt;/g' -e 's/"/\&quot;/g'; }

page() { # NAME TEXT-THAT-IT-MUST-SHOW, the page on standard input
    printf '<pre class="page" data-name="%s" data-shows="%s">' "$1" "$(printf %s "$2" | escaped)"
    escaped
    printf '</pre>\n'
}

# A hostile name, where the field has one: the first zone's.
first_zone() {
    "$program" check --format csv "$1" | sed -n '2{s/^"\([^"]*\)".*/\1/p;t;s/,.*//p;}' | head -n 1
}

report() { # FIELD SHOWS COMMAND [OPTION...]
    field=$1
    shows=$2
    shift 2
    "$program" "$@" "$field" --format html >"$scratch/one" 2>"$scratch/said"
    status=$?
    # 2: the field says nothing of what the command is about.
    [ $status -ge 2 ] && return
    add "$(basename "$field" .json) $*" "$shows"
}

add() { # NAME SHOWS, the report in $scratch/one
    page "$1" "$2" <"$scratch/one" >>"$scratch/pages"
    wanted=$((wanted + 1))
    cp "$scratch/one" "$scratch/reports/$wanted.html"
}

{
    echo '<p style="width:2000px">wide' | page 'control wide' ''
    echo '<p>a<script></script>' | page 'control script' ''
    echo '<p>b' | page 'control silent' '<b>name</b>'
} >"$scratch/pages"
for field in "$@"; do
    shows=$(first_zone "$field")
    report "$field" "$shows" check
    report "$field" "$shows" check --explain --plot
    report "$field" "$shows" card
    report "$field" "$shows" visit --form
    report "$field" '' split
    report "$field" '' supply
    report "$field" '' reach
    report "$field" '' buy
    report "$field" '' season --explain
    report "$field" '' inject --explain
    report "$field" '' compare
done
for kind in pipes tapes soils crops prices; do
    "$program" catalog $kind --format html >"$scratch/one"
    add "catalog $kind" ''
done
sed -e "/^PAGES\$/{r $scratch/pages" -e 'd;}' "$here/reports.html" >"$scratch/page.html"

found "$scratch/page.html" --window-size=1400,1000 --virtual-time-budget=600000
for control in wide script silent; do
    if [ "$(grep -c "^REPORT control $control [0-9]* px: 1 faults\$" "$scratch/found")" -ne 2 ]; then
        echo "The measuring does not find what it should find: $control."
        exit 1
    fi
done
if command -v npx >"$scratch/said" && npx --yes html-validate@10.17.0 --version >"$scratch/said" 2>&1; then
    if ! npx --yes html-validate@10.17.0 "$scratch"/reports/*.html >"$scratch/said" 2>&1; then
        tail -n 40 "$scratch/said"
        exit 1
    fi
    echo "VALID: $wanted reports"
else
    echo "no validator: npx can't fetch html-validate"
fi
good=$(grep -c '^REPORT .* px: 0 faults$' "$scratch/found")
echo "$wanted reports, $good of twice as many without a fault"
[ "$good" -eq $((2 * wanted)) ]
