#!/bin/sh
# Installs what is missing, builds, and tests.
#
#   sh tests/run.sh                   the build and the tests that need little else
#   sh tests/run.sh --all [--no-skips]
#                                     all there is: every test, sanitizers, another compiler,
#                                     valgrind, linters, a browser
#   sh tests/run.sh --browser         pictures, cards and reports alone, in a real browser
#   sh tests/run.sh --seed [N]        laws and reference on other random fields; N is the date
#   sh tests/run.sh --report [FILE]   how far figures are off, and against what
#
# The last line is the sum over all stages: N passed, N failed. The exit status is 1 if anything
# failed. --no-skips: a stage or a test that is skipped counts as a failure, too.
# --report: only the tests that hold figures against something outside the program; writes what
# each was held against and how far it was off, to standard output or to FILE.
set -u

root=$(cd "$(dirname "$0")/.." && pwd -P) || exit 1
. "$root/tests/prepare.sh"

# A run with fewer tests than these has lost some: that is a failure, too.
least_tests_of_all=690
least_tests_of_few=530

what=few
no_skips=no
report_file=
seed=$(date +%Y%m%d)
case ${1-}:${2-}:$# in
::0) ;;
--all::1) what=all ;;
--all:--no-skips:2)
    what=all
    no_skips=yes
    ;;
--browser::1) what=browser ;;
--seed::1) what=seed ;;
--seed:*[!0-9]*:2) what= ;;
--seed:?*:2)
    what=seed
    seed=$2
    ;;
--report::1 | --report:*:2)
    what=report
    report_file=${2-}
    ;;
*) what= ;;
esac
if [ -z "$what" ]; then
    echo "usage: sh tests/run.sh [--all [--no-skips] | --browser | --seed [N] | --report [FILE]]" >&2
    exit 2
fi

built=$root/.build
logs=$built/logs
passed=0
failed=0
skipped=0

# One stage's line: tell NAME PASSED FAILED [REMARK]
tell() {
    passed=$((passed + $2))
    failed=$((failed + $3))
    printf '%-40s %4d passed, %d failed  (%d s)%s\n' "$1" "$2" "$3" \
        $(($(date +%s) - started)) "${4:+  $4}"
}

skip() {
    skipped=$((skipped + 1))
    printf '%-40s skipped: %s\n' "$1" "$2"
}

show_end() {
    grep -v 'warnings generated' "$1" | tail -n 60 | sed 's/^/    /'
}

# The first complaints of a build, rather than its end.
show_errors() {
    grep -A 5 -e 'error' -e 'Error' "$1" | head -n 60 | sed 's/^/    /'
    echo "    (all of it is in $1)"
}

# stage_tests NAME FOLDER LEAST [CTEST'S OPTION...]: the tests of a build folder, counted from
# ctest's own lines. Inside a test that passes, cmocka may have skipped some: they count, too.
stage_tests() {
    name=$1
    folder=$built/$2
    log=$logs/$2-tests.log
    least=$3
    shift 3
    started=$(date +%s)
    (cd "$folder" && ctest --output-on-failure -j "$(jobs)" "$@") >"$log" 2>&1
    status=$?
    good=$(grep -c '^ *[0-9]*/[0-9]* Test  *#.* Passed ' "$log")
    left=$(grep -c '^ *[0-9]*/[0-9]* Test  *#.*\*\*\*\(Skipped\|Not Run (Disabled)\)' "$log")
    all=$(grep -c '^ *[0-9]*/[0-9]* Test  *#' "$log")
    left_inside=$(sed -n 's/^ *\([0-9]*\) SKIPPED TEST.*/\1/p' "$folder/Testing/Temporary/LastTest.log" |
        awk '{ sum += $1 } END { print sum + 0 }')
    bad=$((all - good - left))
    if [ $status -ne 0 ]; then
        grep -v -e ' Passed ' -e '^ *Start ' "$log" | tail -n 200 | sed 's/^/    /'
        [ $bad -gt 0 ] || bad=1
    fi
    if [ "$all" -lt "$least" ]; then
        echo "    $all tests were found, there should be $least or more"
        bad=$((bad + 1))
    fi
    skipped=$((skipped + left + left_inside))
    if [ $((left + left_inside)) -gt 0 ]; then
        tell "$name" "$good" $bad "$((left + left_inside)) skipped"
    else
        tell "$name" "$good" $bad
    fi
}

# stage_build NAME FOLDER [OPTION...]: a stage that builds, and counts as one test.
stage_build() {
    name=$1
    folder=$built/$2
    log=$logs/$2-build.log
    shift 2
    started=$(date +%s)
    if build "$folder" -DBUILD_TESTING=ON "$@" >"$log" 2>&1; then
        tell "$name" 1 0
        return 0
    fi
    show_errors "$log"
    tell "$name" 0 1
    return 1
}

# stage_tool NAME COMMAND...: a stage that is one command, which says nothing bad and ends with 0.
stage_tool() {
    name=$1
    shift
    started=$(date +%s)
    log=$logs/$name.log
    if "$@" >"$log" 2>&1; then
        tell "$name" 1 0
    else
        show_end "$log"
        tell "$name" 0 1
    fi
}

# stage_linter TOOL VERSION COMMAND...: each version of a linter sees other things. The one we
# keep to must see nothing; another only reports.
stage_linter() {
    name=$1
    wanted=$2
    shift 2
    if ! is_here command "$name"; then
        skip "$name" 'it is not here'
    elif "$name" --version | grep -qE "(version|Cppcheck) $wanted([^0-9]|\$)"; then
        stage_tool "$name" "$@"
    else
        started=$(date +%s)
        "$@" >"$logs/$name.log" 2>&1
        tell "$name" 0 0 "not version $wanted, so it only reports: $(
            grep -cE '(warning|error|style|performance|portability):' "$logs/$name.log"
        ) findings in $logs/$name.log"
    fi
}

examples() {
    grep -l '"zones"' $(grep -l '"version"' "$root"/examples/*.json)
}

valgrind_examples() {
    name='valgrind, every example'
    if ! is_here command valgrind; then
        skip "$name" 'valgrind is not here'
        return
    fi
    started=$(date +%s)
    good=0
    bad=0
    for example in "$root"/examples/*.json; do
        for format in text json; do
            log=$logs/valgrind-$(basename "$example" .json)-$format.log
            valgrind --quiet --leak-check=full --show-leak-kinds=all \
                --errors-for-leak-kinds=all --error-exitcode=99 --log-file="$log" \
                "$built/gcc/evenrow" check --format $format "$example" >/dev/null 2>>"$log"
            # 0 and 1 are what a plan that was worked out ends with.
            if [ $? -le 1 ] && ! [ -s "$log" ]; then
                good=$((good + 1))
            else
                show_end "$log"
                bad=$((bad + 1))
            fi
        done
    done
    tell "$name" $good $bad
}

# max-nodes: how far the static analyzer follows one function; with its own 225,000 it takes four
# times as long.
clang_tidy() {
    find "$root/src" -name '*.c' -print0 |
        xargs -0 -n 8 -P "$(jobs)" clang-tidy -p "$built/clang" --quiet --warnings-as-errors='*' \
            --extra-arg=-Xclang --extra-arg=-analyzer-config \
            --extra-arg=-Xclang --extra-arg=max-nodes=50000
}

# variableScope: a block of declarations may stand together.
# constParameterPointer, constParameterCallback: asked by newer versions only; a callback has the
# type of its like.
# unsignedLessThanZero: newer versions see a count as 0 and the loop's end as one.
# knownConditionTrueFalse: sees NULL and 0 as the only values of what it has not followed.
# unusedStructMember: it does not follow offsetof, by which members are told.
# preprocessorErrorDirective in units.c: it loses count of a macro's arguments that the
# compilers count right.
run_cppcheck() {
    cppcheck --quiet --std=c11 --inline-suppr --error-exitcode=1 -j "$(jobs)" \
        --enable=warning,style,performance,portability \
        --suppress=missingIncludeSystem --suppress=normalCheckLevelMaxBranches \
        --suppress=knownConditionTrueFalse --suppress=variableScope \
        --suppress=constParameterPointer --suppress=constParameterCallback \
        --suppress=unsignedLessThanZero --suppress=unusedStructMember \
        '--suppress=preprocessorErrorDirective:*/src/base/units.c' \
        '-DEVENROW_VERSION=""' -I "$root/include" -I "$root/src" "$root/src"
}

clang_format() {
    find "$root/src" "$root/include" "$root/tests" -name '*.[ch]' -print0 |
        xargs -0 clang-format --dry-run --Werror
}

# Standard output is the report's alone.
make_report() {
    report_status=0
    log=$logs/report-build.log
    echo "Building; then some tests, for a minute at most." >&2
    build "$built/gcc" -DBUILD_TESTING=ON "-DCMAKE_C_COMPILER=$compiler" >"$log" 2>&1 || {
        show_errors "$log" >&2
        return 1
    }
    log=$logs/report-tests.log
    (cd "$built/gcc" && ctest --output-on-failure -j "$(jobs)" \
        -L '^(published|reference|laws)$') >"$log" 2>&1 || {
        echo "Tests failed; all of it is in $log" >&2
        report_status=1
    }
    sh "$root/tests/trust/report.sh" "$built/gcc/tests/trust" >"$logs/report.txt" ||
        report_status=1
    if [ -n "$report_file" ]; then
        cp "$logs/report.txt" "$report_file" || return 1
    else
        cat "$logs/report.txt"
    fi
    return $report_status
}

# stage_browser NAME SCRIPT PATTERN [FIELD...]: counts the lines of PATTERN, one for each picture
# or card that was looked at.
stage_browser() {
    name=$1
    script=$2
    pattern=$3
    shift 3
    if ! is_here command chromium; then
        skip "$name" 'chromium is not here'
        return
    fi
    started=$(date +%s)
    log=$logs/$script.log
    # shellcheck disable=SC2046 # field files of our own
    (cd "$root" && sh tests/browser/$script "$built/gcc/evenrow" chromium "$@" \
        $(cd examples && for file in *.json; do
            grep -q '"zones"' "$file" && grep -q '"version"' "$file" && echo "examples/$file"
        done)) >"$log" 2>&1
    status=$?
    good=$(grep -c "$pattern" "$log")
    if [ $status -ne 0 ] || [ "$good" -eq 0 ]; then
        grep -v "$pattern" "$log" | tail -n 60 | sed 's/^/    /'
        status=1
    fi
    tell "$name" "$good" $status
}

in_a_browser() {
    stage_browser 'labels, in a browser' measure.sh '^PICTURE .*: [1-9][0-9]* labels, 0 faults$' \
        tests/draw/*.json
    stage_browser 'cards, printed by a browser' cards.sh '^CARD '
    stage_browser 'reports, in a browser' reports.sh '^REPORT .*: 0 faults$' tests/draw/*.json
}

# Tests named ..._memory let allocations fail, which the sanitizers' allocator does not: they run
# in the first build alone.
# Every stage has a build of its own that does more than it is there for: the one with sanitizers
# compiles cJSON in, the one by clang makes a shared library.
all_stages() {
    stage_build "$compiler, all warnings are errors" gcc -DEVENROW_STRICT=ON \
        "-DCMAKE_C_COMPILER=$compiler" || return
    stage_tests "$compiler, tests" gcc $least_tests_of_all

    if cjson=$(cjson_source "$built/cjson-source" 2>"$logs/cjson.log"); then
        stage_build 'sanitizers, and cJSON in one piece' sanitize -DEVENROW_STRICT=ON \
            -DEVENROW_SANITIZE=ON \
            "-DEVENROW_CJSON_SOURCE=$cjson" "-DCMAKE_C_COMPILER=$compiler" &&
            stage_tests 'sanitizers, tests' sanitize $least_tests_of_few \
                -LE '^(header|draw|shell|trust|reference)$' -E '_memory$'
    else
        show_end "$logs/cjson.log"
        skip 'sanitizers' "cJSON's source cannot be had"
    fi

    if is_here command clang; then
        stage_build 'clang, and a shared library' clang -DEVENROW_STRICT=ON \
            -DBUILD_SHARED_LIBS=ON -DCMAKE_C_COMPILER=clang &&
            stage_tests 'clang, the shared library used' clang 2 -L '^install$'
        stage_linter clang-tidy 14 clang_tidy
    else
        skip 'clang, clang-tidy' 'clang is not here'
    fi
    valgrind_examples
    stage_linter cppcheck 2.10 run_cppcheck
    stage_linter clang-format 14 clang_format
    in_a_browser
}

other_fields() {
    stage_build "build by $compiler" gcc "-DCMAKE_C_COMPILER=$compiler" || return
    echo "Random fields by EVENROW_SEED=$seed: with that number they come again."
    export EVENROW_SEED="$seed"
    stage_tests 'laws and reference' gcc 20 -L '^(laws|reference)$'
}

few_stages() {
    echo "Building evenrow and its tests; this takes a minute or two."
    stage_build "build by $compiler" gcc "-DCMAKE_C_COMPILER=$compiler" || return
    echo "Testing; this takes another minute or two."
    stage_tests 'tests' gcc $least_tests_of_few -LE '^(alloc|draw|header|install|shell)$'
}

mkdir -p "$logs" || exit 1
install_missing "$needs_for_build" >&2 || exit 1
install_missing "$needs_for_tests" >&2 || exit 1
case $what in
all)
    # What is still missing is skipped, and said so.
    install_missing "$needs_for_all_stages" >&2 || [ $no_skips = no ] || exit 1
    ;;
browser) install_missing "$needs_for_browser" >&2 || exit 1 ;;
esac
compiler=cc
if is_here command gcc; then
    compiler=gcc
fi

case $what in
report)
    make_report
    exit
    ;;
browser)
    stage_build "build by $compiler" gcc "-DCMAKE_C_COMPILER=$compiler" && in_a_browser
    ;;
all) all_stages ;;
seed) other_fields ;;
few) few_stages ;;
esac

echo
if [ $skipped -gt 0 ]; then
    echo "Skipped: $skipped (see above)"
    [ $no_skips = no ] || failed=$((failed + skipped))
fi
echo "$passed passed, $failed failed"
[ $failed -eq 0 ]
