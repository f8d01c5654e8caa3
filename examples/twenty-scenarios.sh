#!/bin/sh
# Twenty what-ifs of one field, several at a time: five lengths of bed, two tapes, two settings of
# the regulator. Prints the verdict of each, and how many hold.
#
#   sh examples/twenty-scenarios.sh [JOBS]      JOBS at a time; without it 4
set -u

here=$(cd "$(dirname "$0")" && pwd -P) || exit 1
PATH=$PATH:$here/../.build
if ! command -v evenrow >/dev/null; then
    echo "evenrow is not built yet: sh examples/first-plan.sh" >&2
    exit 1
fi
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM

# A scenario is called by its figures: feet of bed, gpm for 100 ft of tape, psi.
for feet in 150 200 250 300 350; do
    for gpm in 0.34 0.45; do
        for psi in 10 12; do
            echo "$feet,$gpm,$psi"
        done
    done
done >"$work/scenarios"

# Works one out, into a file of its own, so that none waits for another. Status 1 is a plan that
# fails, which is an answer; 255 makes xargs stop.
cat >"$work/one.sh" <<'END'
field=$1 work=$2 scenario=$3
IFS=,
set -- $scenario
evenrow check --quiet --set "/zones/0/beds/0/length=$1" --set "/zones/0/beds/1/length=$1" \
    --set "/tapes/low-flow tape/flow=$2" --set "/zones/0/regulator/holds=$3" \
    "$field" >"$work/$scenario"
[ $? -le 1 ] || exit 255
END
xargs -P "${1-4}" -n 1 sh "$work/one.sh" "$here/middle-feed.json" "$work" <"$work/scenarios" ||
    exit 1

while IFS=, read -r feet gpm psi; do
    echo "$feet ft, $gpm gpm/100ft, $psi psi: $(cat "$work/$feet,$gpm,$psi")"
done <"$work/scenarios" >"$work/verdicts"
cat "$work/verdicts"
echo "$(grep -cv ': FAILS' "$work/verdicts") of $(wc -l <"$work/verdicts" | tr -d ' ') hold."
