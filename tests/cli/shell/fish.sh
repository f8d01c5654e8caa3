#!/bin/sh
# The completion for fish offers the commands, and each command's options as the program's help
# has them.
#
#   sh tests/cli/shell/fish.sh PROGRAM COMPLETION
set -u

if ! command -v fish >/dev/null 2>&1; then
    echo "skipped: fish is not here"
    exit 77
fi
program=$(cd "$(dirname "$1")" && pwd -P)/$(basename "$1") || exit 1
completion=$2
fish --no-config --no-execute "$completion" || exit 1
HOME=$(mktemp -d) || exit 1
export HOME
trap 'rm -rf "$HOME"' EXIT
trap 'exit 1' HUP INT TERM
tried=0
failed=0

"$program" --help | sed -n '/^Commands$/,/^$/s/^  \([a-z][a-z]*\) .*/\1/p' >"$HOME/commands"
# One question each, all put to one fish.
{
    echo "source '$completion'"
    echo "echo '? commands'; complete -C 'evenrow '"
    while read -r command; do
        echo "echo '? $command'; complete -C 'evenrow $command -'; complete -C 'evenrow $command --'"
    done <"$HOME/commands"
    echo "echo '? choices'; complete -C 'evenrow check --format '"
    echo "echo '? kinds'; complete -C 'evenrow catalog '"
} >"$HOME/questions"
fish --no-config "$HOME/questions" >"$HOME/answers" || exit 1

# wants QUESTION: just the words in $HOME/words were offered.
wants() {
    sort -u "$HOME/words" >"$HOME/wanted"
    sed -n "/^? $1\$/,/^? /p" "$HOME/answers" | grep -v '^?' | cut -f 1 | sort -u >"$HOME/got"
    tried=$((tried + 1))
    if ! diff "$HOME/wanted" "$HOME/got"; then
        echo "for $1 (>: what is offered)"
        failed=$((failed + 1))
    fi
}

(cat "$HOME/commands" && echo help) >"$HOME/words"
wants commands
while read -r command <&3; do
    "$program" help "$command" | sed -n '/^Options$/,/^$/s/^  \(-.*\)/\1/p' |
        sed 's/^\(-[a-z]\), \(--.*\)/\2\n\1/' | sed 's/^\(--*[a-z-]*\).*/\1/' >"$HOME/words"
    wants "$command"
done 3<"$HOME/commands"
printf '%s\n' text html json csv >"$HOME/words"
wants choices
printf '%s\n' pipes tapes soils crops prices >"$HOME/words"
wants kinds

echo "$tried completions tried, $failed wrong"
[ $failed -eq 0 ] && [ $tried -ge 10 ]
