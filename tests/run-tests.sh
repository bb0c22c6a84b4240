#!/bin/sh
# Runs test programs and counts what passed.
#
#   run-tests.sh RESULTS PROGRAM...
#
# Two at a time (as many as there are processors), each with a TMPDIR of its own under RESULTS and its output kept
# there. A program's own counts are read from its output (`[  PASSED  ] N test(s).`); one without such lines is one test.
# A program that fails has failed at least once whatever it printed: a crash, a time-out, a count of zero included.
# Prints a line for each program that passed (VERBOSE=1: its whole output), the whole output of each that did not, and
# last `N passed, N failed`. Exits 1 if anything failed, or if nothing ran.

set -u

if [ "${1:-}" = --one ]; then # the part that runs once a program, in parallel
    log=$2/$(printf '%s' "$3" | tr / _)
    mkdir -p "$log.tmp"
    TMPDIR=$log.tmp timeout "${TEST_TIMEOUT:-900}" "$3" >"$log.log" 2>&1 </dev/null
    echo $? >"$log.status"
    rm -rf "$log.tmp"
    exit 0
fi

results=$1
shift
rm -rf "$results"
mkdir -p "$results"
results=$(cd "$results" && pwd)

# What a test sees does not depend on who runs it. A sanitizer's exit status is none that a test could expect.
unset NO_COLOR SOURCE_DATE_EPOCH CMOCKA_XML_FILE CMOCKA_TEST_FILTER
export CMOCKA_MESSAGE_OUTPUT=STDOUT LC_ALL=C
export ASAN_OPTIONS="exitcode=99:${ASAN_OPTIONS:-}" UBSAN_OPTIONS="exitcode=99:print_stacktrace=1:${UBSAN_OPTIONS:-}"

absolute() {
    case $1 in
    /*) printf '%s\n' "$1" ;;
    *) printf '%s/%s\n' "$PWD" "$1" ;;
    esac
}

for program in "$@"; do
    absolute "$program"
done | tr '\n' '\0' | xargs -0 -r -n 1 -P "$(nproc 2>/dev/null || echo 2)" sh "$0" --one "$results"

# counted WORD LOG: the sum of the numbers in cmocka's `[  WORD  ] N test(s)` lines; nothing if there is none.
counted() {
    sed -n "s/^\[  *$1  *\] *\([0-9][0-9]*\) test(s).*/\1/p" "$2" | awk '{ sum += $1 } END { if (NR) print sum }'
}

all_passed=0
all_failed=0
all_skipped=0
for program in "$@"; do
    log=$results/$(absolute "$program" | tr / _)
    name=${program#*tests/}
    status=$(cat "$log.status" 2>/dev/null || echo 127)
    passed=$(counted PASSED "$log.log")
    failed=$(counted FAILED "$log.log")
    skipped=$(counted SKIPPED "$log.log")
    begun=$(grep -c '^\[=*\] Running ' "$log.log")
    ended=$(grep -c '^\[=*\] .* test(s) run\.' "$log.log")
    if [ "$begun" -gt "$ended" ]; then # left in the middle of a group, perhaps with exit(0)
        passed=$(grep -c '^\[ *OK \]' "$log.log")
        failed=${failed:-1}
    elif [ -z "$passed$failed$skipped" ] && [ "$status" -eq 0 ]; then
        passed=1
    fi
    passed=${passed:-0} failed=${failed:-0} skipped=${skipped:-0}
    [ "$status" -eq 0 ] || [ "$failed" -gt 0 ] || failed=1
    [ $((passed + failed + skipped)) -gt 0 ] || failed=1

    if [ "$failed" -gt 0 ]; then
        printf '%s\n' "---- $name"
        cat "$log.log"
        printf '%s\n' "---- $name: $passed passed, $failed FAILED, exit status $status"
    else
        [ -z "${VERBOSE:-}" ] || cat "$log.log"
        printf '[  PASSED  ] %4d test(s).  %s%s\n' "$passed" "$name" "$([ "$skipped" -eq 0 ] || echo "  ($skipped skipped)")"
    fi
    all_passed=$((all_passed + passed))
    all_failed=$((all_failed + failed))
    all_skipped=$((all_skipped + skipped))
done

[ $all_skipped -eq 0 ] || echo "$all_skipped skipped"
echo "$all_passed passed, $all_failed failed"
[ $all_failed -eq 0 ] && [ $all_passed -gt 0 ]
