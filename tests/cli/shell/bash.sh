#!/usr/bin/env bash
# The completion for bash offers the commands, each command's options and their choices as the
# program's help has them, and files.
#
#   bash tests/cli/shell/bash.sh PROGRAM COMPLETION
set -u

if [ "${BASH_VERSINFO[0]}" -lt 4 ]; then
    echo "skipped: the completion is for bash 4 and later"
    exit 77
fi
program=$(cd "$(dirname "$1")" && pwd -P)/$(basename "$1") || exit 1
bash -n "$2" || exit 1
# shellcheck source=/dev/null
source "$2" || exit 1
scratch=$(mktemp -d) || exit 1
trap 'rm -rf "$scratch"' EXIT
trap 'exit 1' HUP INT TERM
tried=0
failed=0

# What is offered for the last of the words, sorted, in one line.
offered() {
    COMP_WORDS=(evenrow "$@")
    COMP_CWORD=$#
    COMPREPLY=()
    _evenrow evenrow "${COMP_WORDS[COMP_CWORD]}" "${COMP_WORDS[COMP_CWORD - 1]}"
    if [ ${#COMPREPLY[@]} -gt 0 ]; then
        printf '%s\n' "${COMPREPLY[@]}" | sort | tr '\n' ' '
    fi
}

sorted() {
    tr ' ' '\n' | sed '/^$/d' | sort | tr '\n' ' '
}

# wants LIST WORD...: just LIST is offered.
wants() {
    local list got
    list=$(sorted <<<"$1")
    shift
    got=$(offered "$@")
    tried=$((tried + 1))
    if [ "$got" != "$list" ]; then
        echo "evenrow $*: offers '$got', should offer '$list'"
        failed=$((failed + 1))
    fi
}

commands=$("$program" --help | sed -n '/^Commands$/,/^$/s/^  \([a-z][a-z]*\) .*/\1/p' | tr '\n' ' ')
wants "$commands help --help --version" ''
wants check che
wants "$commands" help ''
for command in $commands; do
    heads=$("$program" help "$command" | sed -n '/^Options$/,/^$/s/^  \(-.*\)/\1/p')
    wants "$(sed 's/^\(-[a-z]\), /\1\n/' <<<"$heads" | sed 's/^\(--*[a-z-]*\).*/\1/')" "$command" -
    while read -r option choices; do
        [ -n "$option" ] || continue
        wants "${choices//|/ }" "$command" "$option" ''
        wants "${choices//|/ }" "$command" "$option" =
        first=${choices%%|*}
        wants "$first" "$command" "$option" = "$first"
    done < <(sed -n 's/^\(-[a-z], \)*\(--[a-z-]*\) \([a-z]*|[a-z|]*\).*/\2 \3/p' <<<"$heads")
done
wants 'pipes tapes soils crops prices' catalog ''
wants '' check --set ''
wants '' no-such-command -

cd "$scratch" || exit 1
mkdir folder
touch field.json fields.csv notes.txt 'north field.json'
wants 'field.json folder' check f
wants 'field.json folder fields.csv' check --patch f
wants 'field.json folder fields.csv' check --patch = f
wants 'field.json folder fields.csv' check -o f
wants notes.txt check note
COMP_WORDS=(evenrow check no)
COMP_CWORD=2
_evenrow
if [ "${#COMPREPLY[@]}" -ne 1 ] || [ "${COMPREPLY[0]}" != 'north field.json' ]; then
    echo "a name with a space is not one word"
    failed=$((failed + 1))
fi
wants '' start f

echo "$tried completions tried, $failed wrong"
[ $failed -eq 0 ] && [ $tried -ge 40 ]
