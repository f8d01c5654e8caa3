#!/bin/sh
# The examples at the end of each command's help work as they are typed, where examples/ is.
#
#   sh tests/cli/shell/examples.sh PROGRAM
set -u

program=$(cd "$(dirname "$1")" && pwd -P)/$(basename "$1") || exit 1
root=$(cd "$(dirname "$0")/../../.." && pwd -P) || exit 1
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM
mkdir "$work/bin"
ln -s "$program" "$work/bin/evenrow"
PATH=$work/bin:$PATH
export PATH
cp -R "$root/examples" "$work"
cd "$work" || exit 1
tried=0
failed=0
evenrow --help | sed -n '/^Commands$/,/^$/s/^  \([a-z][a-z]*\) .*/\1/p' >commands
while read -r command <&3; do
    evenrow help "$command" | sed -n '/^Examples$/,$s/^  //p' >lines
    if [ "$(wc -l <lines)" -lt 2 ]; then
        echo "$command: fewer than two examples"
        failed=$((failed + 1))
    fi
    while read -r line <&4; do
        tried=$((tried + 1))
        sh -c "$line" >said 2>&1
        status=$?
        # 1: the example's plan fails, which is an answer.
        if [ $status -gt 1 ] || [ "${line#evenrow "$command"}" = "$line" ]; then
            echo "status $status: $line"
            cat said
            failed=$((failed + 1))
        fi
    done 4<lines
done 3<commands
echo "$tried examples tried, $failed wrong"
[ $failed -eq 0 ] && [ $tried -ge 30 ]
