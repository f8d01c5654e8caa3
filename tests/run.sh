#!/bin/sh
# Installs what is missing, builds, and runs all tests, in stages.
#
#   sh tests/run.sh [--quick]
#   sh tests/run.sh --browser
#   sh tests/run.sh --report [FILE]
#
# --quick: the first stage alone. The last line tells the sum over all stages:
# N passed, N failed. The exit status is 1 if anything failed.
# --browser: only the pictures' labels, measured in a real browser; skipped where there is none.
# --report: only the tests that hold figures against something outside the program; writes what
# each was held against and how far it was off, to standard output or to FILE.
set -u

root=$(cd "$(dirname "$0")/.." && pwd -P) || exit 1
. "$root/tests/prepare.sh"

quick=no
report=no
browser=no
report_file=
case ${1-}:$# in
:0) ;;
--quick:1) quick=yes ;;
--browser:1)
    quick=yes
    browser=yes
    ;;
--report:1 | --report:2)
    quick=yes
    report=yes
    report_file=${2-}
    ;;
*)
    echo "usage: sh tests/run.sh [--quick | --browser | --report [FILE]]" >&2
    exit 2
    ;;
esac

built=$root/.build
logs=$built/logs
passed=0
failed=0
skipped_stages=0

# One stage's line: tell NAME PASSED FAILED [REMARK]
tell() {
    passed=$((passed + $2))
    failed=$((failed + $3))
    printf '%-40s %4d passed, %d failed  (%d s)%s\n' "$1" "$2" "$3" \
        $(($(date +%s) - started)) "${4:+  $4}"
}

skip() {
    skipped_stages=$((skipped_stages + 1))
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

# Every test of a build folder, counted from ctest's own lines.
run_ctest() { # NAME FOLDER LOG
    (cd "$2" && ctest --output-on-failure -j "$(jobs)") >"$3" 2>&1
    status=$?
    good=$(grep -c '^ *[0-9]*/[0-9]* Test  *#.* Passed ' "$3")
    skipped=$(grep -c '^ *[0-9]*/[0-9]* Test  *#.*\*\*\*\(Skipped\|Not Run (Disabled)\)' "$3")
    all=$(grep -c '^ *[0-9]*/[0-9]* Test  *#' "$3")
    bad=$((all - good - skipped))
    if [ $status -ne 0 ] || [ "$all" -eq 0 ]; then
        grep -v -e ' Passed ' -e '^ *Start ' "$3" | tail -n 200 | sed 's/^/    /'
        [ $bad -gt 0 ] || bad=1
    fi
    if [ "$skipped" -gt 0 ]; then
        tell "$1" "$good" $bad "$skipped skipped"
    else
        tell "$1" "$good" $bad
    fi
}

# stage_build NAME FOLDER [OPTION...]: a stage that builds, and counts as one test.
stage_build() {
    name=$1
    folder=$built/$2
    log=$logs/$2-build.log
    shift 2
    started=$(date +%s)
    if build "$folder" -DEVENROW_STRICT=ON -DBUILD_TESTING=ON "$@" >"$log" 2>&1; then
        tell "$name" 1 0
        return 0
    fi
    show_errors "$log"
    tell "$name" 0 1
    return 1
}

stage_tests() { # NAME FOLDER
    started=$(date +%s)
    run_ctest "$1" "$built/$2" "$logs/$2-tests.log"
}

# stage_tool NAME COMMAND...: a stage that is one command, which says nothing bad and ends with 0.
stage_tool() {
    name=$1
    shift
    started=$(date +%s)
    log=$logs/$(echo "$name" | tr ' ,' '__').log
    if "$@" >"$log" 2>&1; then
        tell "$name" 1 0
    else
        show_end "$log"
        tell "$name" 0 1
    fi
}

sources() {
    find "$root/src" "$root/include" "$root/tests" -name '*.[ch]' -print0
}

valgrind_examples() {
    name='valgrind, every example'
    if ! is_here command valgrind; then
        skip "$name" 'valgrind is not here'
        return
    fi
    if [ $gcc_built = no ]; then
        skip "$name" 'there is no program'
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

clang_tidy() {
    find "$root/src" -name '*.c' -print0 |
        xargs -0 -n 4 -P "$(jobs)" clang-tidy -p "$built/clang" --quiet --warnings-as-errors='*'
}

# variableScope: a block of declarations may stand together.
# constParameterPointer: asked by newer versions only.
# knownConditionTrueFalse: sees NULL and 0 as the only values of what it has not followed.
# preprocessorErrorDirective in units.c: it loses count of a macro's arguments that the
# compilers count right.
run_cppcheck() {
    cppcheck --quiet --std=c11 --inline-suppr --error-exitcode=1 -j "$(jobs)" \
        --enable=warning,style,performance,portability \
        --suppress=missingIncludeSystem --suppress=normalCheckLevelMaxBranches \
        --suppress=knownConditionTrueFalse --suppress=variableScope \
        --suppress=constParameterPointer \
        '--suppress=preprocessorErrorDirective:*/src/base/units.c' \
        '-DEVENROW_VERSION=""' -I "$root/include" -I "$root/src" "$root/src"
}

clang_format() {
    sources | xargs -0 clang-format --dry-run --Werror
}

install_missing "$needs_for_build" >&2 || exit 1
install_missing "$needs_for_tests" >&2 || exit 1
install_missing "$needs_for_pictures" >&2 # what is still missing is skipped, and said so
if [ $quick = no ]; then
    install_missing "$needs_for_all_stages" # what is still missing is skipped, and said so
fi
mkdir -p "$logs" || exit 1

compiler=cc
if is_here command gcc; then
    compiler=gcc
fi

# Standard output is the report's alone.
make_report() {
    log=$logs/report-build.log
    echo "Building; then some tests, for a minute at most." >&2
    build "$built/gcc" -DEVENROW_STRICT=ON -DBUILD_TESTING=ON "-DCMAKE_C_COMPILER=$compiler" \
        >"$log" 2>&1 || {
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
}

if [ $report = yes ]; then
    report_status=0
    make_report || report_status=1
    exit $report_status
fi

# Counts each picture that was measured.
measure_in_browser() {
    name='labels, in a browser'
    if ! is_here command chromium; then
        skip "$name" 'chromium is not here'
        return
    fi
    started=$(date +%s)
    log=$logs/browser.log
    # shellcheck disable=SC2046 # field files of our own, without blanks in their names
    (cd "$root" && sh tests/browser/measure.sh "$built/gcc/evenrow" chromium tests/draw/*.json \
        $(grep -l '"zones"' $(grep -l '"version"' examples/*.json))) >"$log" 2>&1
    status=$?
    good=$(grep -c '^PICTURE .*: [1-9][0-9]* labels, 0 faults$' "$log")
    if [ $status -eq 0 ]; then
        tell "$name" "$good" 0
    else
        grep -v ', 0 faults$' "$log" | tail -n 60 | sed 's/^/    /'
        tell "$name" "$good" 1
    fi
}

# Counts each card that was printed.
print_in_browser() {
    name='cards, printed by a browser'
    if ! is_here command chromium; then
        skip "$name" 'chromium is not here'
        return
    fi
    started=$(date +%s)
    log=$logs/cards.log
    # shellcheck disable=SC2046 # as above
    (cd "$root" && sh tests/browser/cards.sh "$built/gcc/evenrow" chromium \
        $(grep -l '"zones"' $(grep -l '"version"' examples/*.json))) >"$log" 2>&1
    status=$?
    good=$(grep -c '^CARD ' "$log")
    [ $status -eq 0 ] || sed 's/^/    /' "$log"
    tell "$name" "$good" $status
}

if [ $browser = yes ]; then
    install_missing "$needs_for_browser"
    if stage_build "$compiler, all warnings are errors" gcc "-DCMAKE_C_COMPILER=$compiler"; then
        measure_in_browser
        print_in_browser
    fi
fi

gcc_built=no
if [ $browser = no ] &&
    stage_build "$compiler, all warnings are errors" gcc "-DCMAKE_C_COMPILER=$compiler"; then
    gcc_built=yes
    stage_tests "$compiler, tests" gcc
fi

if [ $quick = no ]; then
    if stage_build 'sanitizers, build' sanitize -DEVENROW_SANITIZE=ON \
        -DCMAKE_BUILD_TYPE=RelWithDebInfo "-DCMAKE_C_COMPILER=$compiler"; then
        stage_tests 'sanitizers, tests' sanitize
    fi

    if is_here command clang; then
        stage_build 'clang, all warnings are errors' clang -DCMAKE_C_COMPILER=clang
    else
        skip 'clang, all warnings are errors' 'clang is not here'
    fi

    valgrind_examples

    if is_here command clang-tidy && [ -f "$built/clang/compile_commands.json" ]; then
        stage_tool 'clang-tidy' clang_tidy
    else
        skip 'clang-tidy' 'clang-tidy is not here, or clang did not build'
    fi

    if is_here command cppcheck; then
        stage_tool 'cppcheck' run_cppcheck
    else
        skip 'cppcheck' 'cppcheck is not here'
    fi

    # Versions lay out code in slightly different ways; 14 is the one we keep to.
    if is_here command clang-format && clang-format --version | grep -q 'version 14\.'; then
        stage_tool 'clang-format' clang_format
    else
        skip 'clang-format' 'version 14 is not here'
    fi
fi

echo
if [ $skipped_stages -gt 0 ]; then
    echo "Stages skipped: $skipped_stages (see above)"
fi
echo "$passed passed, $failed failed"
[ $failed -eq 0 ]
