#!/bin/sh
# The completion for zsh: every command is completed, and so are each command's options and their
# choices, in a shell that is typed into.
#
#   sh tests/cli/shell/zsh.sh PROGRAM COMPLETION
set -u

if ! command -v zsh >/dev/null 2>&1; then
    echo "skipped: zsh is not here"
    exit 77
fi
program=$(cd "$(dirname "$1")" && pwd -P)/$(basename "$1") || exit 1
folder=$(cd "$(dirname "$2")" && pwd -P) || exit 1
zsh -n "$2" || exit 1
scratch=$(mktemp -d) || exit 1
trap 'rm -rf "$scratch"' EXIT
trap 'exit 1' HUP INT TERM

# What is typed, and the arguments that the program should then get.
{
    "$program" --help | sed -n '/^Commands$/,/^$/s/^  \([a-z][a-z]*\) .*/\1/p' >"$scratch/commands"
    while read -r command; do
        echo "${command%?}|$command"
        echo "help ${command%?}|help $command"
        # whole names: one may be the beginning of another
        "$program" help "$command" | sed -n '/^Options$/,/^$/s/^  \(-[a-z], \)*\(--[a-z-]*\).*/\2/p' |
            grep -x -e --help -e --force -e --strict | while read -r option; do
            echo "$command ${option%?}|$command $option"
        done
    done <"$scratch/commands"
    echo 'check --units=m|check --units=metric'
    echo 'check --format=j|check --format=json'
    echo 'check --units us --format c|check --units us --format csv'
    echo 'catalog soi|catalog soils'
    echo 'check fie|check field.json'
    echo 'check -o fie|check -o field.json'
} >"$scratch/lines"
mkdir "$scratch/work"
touch "$scratch/work/field.json"

cat >"$scratch/type" <<'END'
zmodload zsh/zpty || exit 77
cd $1/work
zpty shell zsh -f -i || exit 77
zpty -w shell "PS1= RPS1= fpath=(${(q)2} \$fpath); autoload -U compinit; compinit -u -D; \
unsetopt ZLE_RPROMPT_INDENT BEEP; evenrow() { print -r -- \"got<\$*>\" >>${(q)1}/got }"
while IFS='|' read -r typed wanted; do
    print -rn -- "" >$1/got
    zpty -w -n shell "evenrow $typed"$'\t\n'
    for wait in {1..100}; do
        [[ -s $1/got ]] && break
        sleep 0.05
        zpty -r -t shell >/dev/null
    done
    got=$(<$1/got)
    got=${got#got<}
    got=${got%>}
    if [[ ${got% } == $wanted ]]; then
        print right
    else
        print -r -- "evenrow $typed: completed to '$got', should be '$wanted'"
    fi
done <$1/lines
zpty -d shell
END
TERM=vt100 HOME=$scratch ZDOTDIR=$scratch zsh -f "$scratch/type" "$scratch" "$folder" >"$scratch/answers"
status=$?
if [ $status -eq 77 ]; then
    echo "skipped: this zsh cannot be typed into by a script; its syntax is right"
    exit 77
fi
right=$(grep -cx right "$scratch/answers")
grep -vx right "$scratch/answers"
echo "$right of $(wc -l <"$scratch/lines") completions right"
[ "$right" -eq "$(wc -l <"$scratch/lines")" ] && [ "$right" -ge 20 ]
