#!/bin/sh
# Breaks the core one line at a time, and wants a test to fail each time.
#
#   sh tests/mutate.sh [NAME...]
#
# The breaks are listed in tests/mutations; with NAMEs only those are made. All is done in a copy
# of the tree in a temporary folder. Each break is put in, built, and tested, the quick tests
# first, until one fails; then it is taken out again. One line is printed for each:
#
#   caught by TEST       as it should be
#   SURVIVED             no test noticed: write one that does
#   STALE                its text is not there just once any more: bring the list up to date
#   DOES NOT COMPILE     or
#   CHANGES NOTHING      no break at all: take another
#
# The exit status is 0 if all were caught. Run by hand: it takes minutes.
set -u

root=$(cd "$(dirname "$0")/.." && pwd -P) || exit 2
table=$root/tests/mutations
# The labels of tests that may catch a break. The cli's come last: what they want is what the
# program once said, so a break that they alone catch is one whose figure nobody has checked.
kinds='unit published laws reference shell'
last_kind=cli
slow=2      # s; among kinds, tests that take longer come after the others
longest=120 # s of processor time; a test that takes more hangs, and so has noticed
memory=4    # GB that a test may take

scratch=$(mktemp -d "${TMPDIR:-/tmp}/evenrow-mutate.XXXXXX") || exit 2
trap 'rm -rf "$scratch"' EXIT
trap 'exit 2' HUP INT TERM
tree=$scratch/tree
built=$scratch/build
log=$scratch/log
touch "$scratch/told"

all_names() { awk '/^[a-z]/ { print $1 }' "$table"; }

# The place, the text to find and the text to put there of a break, a line each.
entry() {
    awk -v name="$1" '
        /^[a-z]/ { inside = $1 == name; if (inside) print $2 }
        inside && /^-/ { print substr($0, 3) }
        inside && /^[+]/ { print substr($0, 3) }' "$table"
}

# The file of a room that holds $old, in the copy: file_with PLACE
file_with() {
    (cd "$root" && find "$1" -name '*.[ch]' -exec grep -l -F -e "$old" {} +) 2>"$log"
}

# Puts $new in the place of $old, which must stand in the file just once: replace FILE
replace() {
    old=$old new=$new awk '
        BEGIN { old = ENVIRON["old"]; new = ENVIRON["new"] }
        {
            at = index($0, old)
            if (at > 0) {
                found += 1 + (index(substr($0, at + 1), old) > 0)
                $0 = substr($0, 1, at - 1) new substr($0, at + length(old))
            }
            print
        }
        END { exit found != 1 }' "$1" >"$scratch/changed"
}

copy_tree() {
    mkdir "$tree" || exit 2
    for path in "$root"/*; do
        case $path in
        */build*) ;;
        *) cp -R "$path" "$tree" || exit 2 ;;
        esac
    done
}

# A shared library: the tests need not be linked again after each break.
configure() {
    cmake -S "$tree" -B "$built" -DCMAKE_BUILD_TYPE=None -DCMAKE_C_FLAGS=-O1 \
        -DEVENROW_OWN_LIBRARY=SHARED -DCMAKE_LINK_DEPENDS_NO_SHARED=ON -DEVENROW_STRICT=OFF
}

build_all() { cmake --build "$built" -j 2; }

build_target() { cmake --build "$built" -j 2 --target "$1"; }

run_ctest() {
    (
        cd "$built" || exit 2
        rm -rf Testing # what it remembers would change the order
        ulimit -S -t $longest
        ulimit -S -v $((memory * 1024 * 1024))
        exec ctest -j 2 "$@"
    ) >"$log" 2>&1
}

# The first test of the log that failed.
first_failed() {
    awk '/ Test +#[0-9]+: / && !/ Passed |Skipped/ { sub(/^.*#[0-9]+: /, ""); print $1; exit }' "$log"
}

# The names of tests that took long, as a pattern.
slow_tests() {
    awk -v slow=$slow '
        / Test +#[0-9]+: .* Passed / {
            seconds = $(NF - 1)
            sub(/^.*#[0-9]+: /, "")
            if (seconds > slow)
                names = names (names == "" ? "" : "|") $1
        }
        END { print "^(" (names == "" ? "-" : names) ")$" }' "$log"
}

# The pattern of some labels: any_of "KIND..."
any_of() { echo "^($(echo "$1" | tr ' ' '|'))\$"; }

# Runs the quick tests kind by kind, then the slow ones, up to the first that fails.
tests_pass() {
    for kind in $kinds; do
        run_ctest --stop-on-failure -L "^$kind\$" -E "$slow_ones" || return 1
    done
    run_ctest --stop-on-failure -L "$(any_of "$kinds")" -R "$slow_ones" &&
        run_ctest --stop-on-failure -L "^$last_kind\$"
}

tell() { # NAME VERDICT
    echo "$2" >>"$scratch/told"
    printf '%-34s %-44s %4d s\n' "$1" "$2" $(($(date +%s) - started))
}

# Builds after a change of a file: build_after FILE
build_after() {
    case $1 in
    *.h) build_all ;;
    src/cli/*) build_target evenrow ;;
    *) build_target libevenrow ;;
    esac >"$log" 2>&1
}

# Whether the library and the program are as without a break.
same_built() {
    cmp -s "$built/libevenrow.so" "$scratch/libevenrow.so" &&
        cmp -s "$built/evenrow" "$scratch/evenrow"
}

try_break() { # NAME
    started=$(date +%s)
    {
        IFS= read -r place
        IFS= read -r old
        IFS= read -r new
    } <<END
$(entry "$1")
END
    file=$(file_with "$place")
    if [ ! -f "$root/$file" ] || ! replace "$root/$file"; then
        tell "$1" STALE
        return
    fi
    cat "$scratch/changed" >"$tree/$file"
    if ! build_after "$file"; then
        tell "$1" 'DOES NOT COMPILE'
    elif same_built; then
        tell "$1" 'CHANGES NOTHING'
    elif tests_pass; then
        tell "$1" SURVIVED
    else
        tell "$1" "caught by $(first_failed)"
    fi
    cat "$root/$file" >"$tree/$file"
    case $file in
    *.h | src/cli/*) build_after "$file" ;; # what else was built with the break
    esac
}

[ $# -gt 0 ] || set -- $(all_names)
for name in "$@"; do
    if [ "$(all_names | grep -c -x -e "$name")" -ne 1 ]; then
        echo "mutate.sh: \"$name\" is not in the list just once" >&2
        exit 2
    fi
done

began=$(date +%s)
copy_tree
root=$scratch/unbroken # what is edited meanwhile in the tree must not matter
cp -R "$tree" "$root" || exit 2
if ! configure >"$log" 2>&1 || ! build_all >"$log" 2>&1; then
    tail -n 20 "$log" >&2
    echo 'mutate.sh: the tree does not build' >&2
    exit 2
fi
cp "$built/libevenrow.so" "$built/evenrow" "$scratch" || exit 2
if ! run_ctest -L "$(any_of "$kinds $last_kind")"; then
    echo "mutate.sh: $(first_failed) fails before anything is broken" >&2
    exit 2
fi
slow_ones=$(slow_tests)

for name in "$@"; do
    try_break "$name"
done

echo
sort "$scratch/told" | awk -v seconds=$(($(date +%s) - began)) '
    /^caught/ { caught++; sub(/-.*/, "", $3); kinds[$3]++; next }
    { others[$0]++ }
    END {
        printf "%d breaks in %d s, %d caught:", NR, seconds, caught
        for (kind in kinds)
            printf " %d by %s tests", kinds[kind], kind
        printf "\n"
        for (other in others) {
            printf "%d: %s\n", others[other], other
            status = 1
        }
        exit status
    }'
