#!/bin/sh
# The manual pages tell of every command, option and key that the program has, and nothing that
# formats manual pages has a complaint about them.
#
#   sh tests/cli/shell/man.sh PROGRAM FOLDER
set -u

program=$(cd "$(dirname "$1")" && pwd -P)/$(basename "$1") || exit 1
root=$(cd "$(dirname "$0")/../../.." && pwd -P) || exit 1
cd "$2" || exit 1
scratch=$(mktemp -d) || exit 1
trap 'rm -rf "$scratch"' EXIT
trap 'exit 1' HUP INT TERM
told=0
failed=0

# wants PAGE LINE: the line stands in the page, hyphens as they are.
wants() {
    told=$((told + 1))
    if ! sed 's/\\-/-/g' "$1" | grep -qxF -e "$2"; then
        printf '%s lacks the line: %s\n' "$1" "$2"
        failed=$((failed + 1))
    fi
}

"$program" --help | sed -n '/^Commands$/,/^$/s/^  \([a-z][a-z]*\) .*/\1/p' >"$scratch/commands"
while read -r command; do
    "$program" help "$command" >"$scratch/help"
    wants evenrow.1 ".SS $(sed -n '1s/ \[OPTION\]\.\.\.$//p' "$scratch/help")"
    sed -n '/^Options$/,/^$/s/^  \(-[a-z], \)*--\([a-z-]*\).*/\2/p' "$scratch/help" >"$scratch/options"
    while read -r option; do
        told=$((told + 1))
        sed 's/\\-/-/g' evenrow.1 |
            grep -q -e "^\(\\\\fB-[a-z]\\\\fR, \)*\\\\fB--$option\\\\fR\( .*\)*\$" || {
            echo "evenrow.1 lacks the option --$option"
            failed=$((failed + 1))
        }
    done <"$scratch/options"
done <"$scratch/commands"

# The schema is made from the same tables; its keys are what stands in "properties".
"$program" schema | awk '
    /^ *"properties": \{/ { match($0, /[^ ]/); depth = RSTART + 2; next }
    { match($0, /[^ ]/) }
    RSTART < depth { depth = 0 }
    RSTART == depth && /^ *"[^"]*": / { split($0, part, "\""); print part[2] }' |
    grep -vx note | sort -u >"$scratch/keys"
# That of readings has no schema; the example's keys will do.
tr '{,' '\n\n' <"$root/examples/visit/low-zone.json" | sed -n 's/^ *"\([a-z_]*\)":.*/\1/p' |
    grep -vx note | sort -u >>"$scratch/keys"
while read -r key; do
    wants evenrow-field.5 "\\fB$key\\fR"
done <"$scratch/keys"
if [ "$(wc -l <"$scratch/keys")" -lt 100 ]; then
    echo "fewer than 100 keys in the schema: its form has changed"
    failed=$((failed + 1))
fi

# The examples work as they stand.
examples() {
    sed -n '/^\.nf$/,/^\.fi$/p' "$1" | sed -e '/^\.[nf][fi]$/d' -e 's/\\-/-/g'
}
examples evenrow-field.5 >"$scratch/field.json"
"$program" check --quiet "$scratch/field.json" >"$scratch/verdict" || {
    echo "the example of evenrow-field.5 does not hold"
    failed=$((failed + 1))
}
examples evenrow.1 >"$scratch/lines"
mkdir "$scratch/work"
ln -s "$program" "$scratch/evenrow"
while read -r line; do
    told=$((told + 1))
    (cd "$scratch/work" && PATH=$scratch:$PATH && eval "$line") </dev/null >"$scratch/said" 2>&1
    if [ $? -gt 1 ]; then
        echo "evenrow.1: $line"
        cat "$scratch/said"
        failed=$((failed + 1))
    fi
done <"$scratch/lines"

formatters=
for page in evenrow.1 evenrow-field.5; do
    : >"$scratch/said"
    if command -v mandoc >/dev/null 2>&1; then
        formatters="$formatters mandoc"
        mandoc -Tlint -W warning "$page" >>"$scratch/said" 2>&1
    fi
    if command -v groff >/dev/null 2>&1; then
        formatters="$formatters groff"
        groff -man -ww -Tascii -rLL=80n -P-cbou "$page" >"$scratch/page" 2>>"$scratch/said"
        awk 'length($0) > 80 { print "more than 80 columns: " $0 }' "$scratch/page" >>"$scratch/said"
    fi
    if command -v man >/dev/null 2>&1 && [ "$(wc -l <"$scratch/said")" -eq 0 ]; then
        formatters="$formatters man"
        LC_ALL=C.UTF-8 MANWIDTH=80 man --warnings -E UTF-8 -l -Tutf8 "./$page" 2>>"$scratch/said" \
            >/dev/null
    fi
    if [ -s "$scratch/said" ]; then
        echo "$page:"
        cat "$scratch/said"
        failed=$((failed + 1))
    fi
done
[ -n "$formatters" ] || echo "neither mandoc, groff nor man is here: only the words were looked at"
echo "$told commands, options, keys and examples looked for; formatted by:${formatters:- nothing}"
[ $failed -eq 0 ]
