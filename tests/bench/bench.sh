#!/bin/sh
# Measures Garboard against the bounds that it has set itself and prints a table. Run by `make bench`.
#
#   bench.sh BUILD DEMO.boat [OPTION...]      the options are for `check` of the demo
#
# Times are ratios to another program in the same run, on the same machine, taking turns: they hold on any machine.
# Growth is counted in instructions and hardly varies. Judges nothing: its exit status says only whether it could measure.

set -eu

build=$1
demo=$2
shift 2
garboard=$build/garboard
tools=$build/tests/bench
work=$build/bench
mkdir -p "$work"

# A fixed day for what is generated, so that what is late or stale is the same in every run.
as_of=2026-06-01

say() {
    printf '%s\n' "$*" >&2
}

# field LINE COLUMN of spawn's output in $1.
field() {
    printf '%s\n' "$1" | sed -n "$2p" | cut -d ' ' -f "$3"
}

calculate() {
    awk "BEGIN { printf \"$1\", $2 }"
}

# row WHAT VALUE BOUND: bound is an upper one.
row() {
    awk -v what="$1" -v value="$2" -v bound="$3" \
        'BEGIN { printf "%-66s %8s  <= %-5s %s\n", what, value, bound, value + 0 <= bound + 0 ? "met" : "NOT MET" }'
}

size_of() {
    wc -c <"$1" | tr -d ' '
}

generate() {
    "$tools/generate" "$1" "$work/$1.boat" "$work/$1.yaml"
}

# may_measure ARGUMENT...: whether `check` could do the job: faults are part of it, more than that is not.
may_measure() {
    status=0
    "$garboard" check "$@" >"$work/check.out" 2>&1 || status=$?
    if [ "$status" -gt 1 ]; then
        say "bench: \`garboard check $*\` ended with exit status $status:"
        tail -n 5 "$work/check.out" >&2
        exit 2
    fi
}

instructions() {
    valgrind --tool=callgrind --callgrind-out-file=/dev/null "$garboard" check --as-of $as_of "$1" 2>&1 >/dev/null |
        sed -n 's/^==[0-9]*== Collected : \([0-9]*\).*/\1/p'
}

# Of solving alone, not of filling in the nodes.
network_instructions() {
    valgrind --tool=callgrind --callgrind-out-file=/dev/null --toggle-collect=network_solve "$tools/network" once "$1" 2>&1 >/dev/null |
        sed -n 's/^==[0-9]*== Collected : \([0-9]*\).*/\1/p'
}

say "writing specs of 10,000, 100,000 and 1,000,000 lines ..."
for lines in 10000 100000 1000000; do
    generate $lines
done

may_measure --as-of $as_of "$work/10000.boat"
summary=$(tail -n 1 "$work/check.out")
may_measure "$@" "$demo"

say "timing ..."
load=$("$tools/spawn" 15 -- "$garboard" check --as-of $as_of "$work/100000.boat" -- "$tools/yaml_load" "$work/100000.yaml")
check_time=$(field "$load" 1 1)
yaml_time=$(field "$load" 2 1)
# /bin/true as a program, however the shell would do it by itself.
start=$("$tools/spawn" 1000 -- "$garboard" check "$@" "$demo" -- true)
demo_time=$(field "$start" 1 1)
true_time=$(field "$start" 2 1)

year=$("$tools/year" "$demo" 30)
bare_time=$(field "$year" 1 1)
year_time=$(field "$year" 1 2)
network=$("$tools/network" 60)

say "counting instructions ..."
small=$(instructions "$work/10000.boat")
large=$(instructions "$work/100000.boat")
network_small=$(network_instructions 10000)
network_large=$(network_instructions 100000)
if [ -n "${BENCH_FULL:-}" ]; then
    huge=$(instructions "$work/1000000.boat")
fi

say "weighing ..."
weight=$("$tools/spawn" 1 -- "$garboard" check --as-of $as_of "$work/1000000.boat")
peak=$(field "$weight" 1 3)
million_size=$(size_of "$work/1000000.boat")

say ""
row "check of 100,000 lines : loading the same content as YAML (time)" "$(calculate %.2f "$check_time / $yaml_time")" 0.5
row "growth exponent of instructions, 10,000 to 100,000 lines" "$(calculate %.3f "log($large / $small) / log(10)")" 1.05
if [ -n "${BENCH_FULL:-}" ]; then
    row "growth exponent of instructions, 100,000 to 1,000,000 lines" "$(calculate %.3f "log($huge / $large) / log(10)")" 1.05
fi
row "network of 100,000 nodes : one of 10,000 (instructions)" "$(calculate %.2f "$network_large / $network_small")" 12
row "network of 100,000 nodes : lexing its spec twice (time)" "$(calculate %.2f "$(field "$network" 1 1) / $(field "$network" 1 2) / 2")" 1
row "check of the demo boat : true (time)" "$(calculate %.2f "$demo_time / $true_time")" 3
row "a year of the demo's days : its loads summed only (time)" "$(calculate %.2f "$year_time / $bare_time")" 5
row "a year of the demo's days (ms)" "$(calculate %.2f "$year_time / 1000")" 50
row "peak memory : size of a spec of 1,000,000 lines (bytes)" "$(calculate %.1f "$peak / $million_size")" 20

cat <<END

Behind the ratios (this machine, best of the rounds):
  100,000 lines        check $(calculate %.1f "$check_time / 1000") ms for $(size_of "$work/100000.boat") bytes; \
YAML $(calculate %.1f "$yaml_time / 1000") ms for $(size_of "$work/100000.yaml") bytes
  instructions         $(calculate %.1f "$small / 1e6") and $(calculate %.1f "$large / 1e6") million
  demo boat            check $(calculate %.0f "$demo_time") us; true $(calculate %.0f "$true_time") us; \
medians $(calculate %.0f "$(field "$start" 1 2)") and $(calculate %.0f "$(field "$start" 2 2)") us
  a year of days       $(calculate %.2f "$year_time / 1000") ms in steps of 15 minutes for $(field "$year" 1 4) banks; \
bare $(calculate %.2f "$bare_time / 1000") ms for $(field "$year" 1 3) loads
  1,000,000 lines      $(calculate %.1f "$peak / 1e6") MB for $(calculate %.1f "$million_size / 1e6") MB; \
$(calculate %.2f "$(field "$weight" 1 1) / 1e6") s
  network              100,000 nodes $(calculate %.2f "$(field "$network" 1 1) / 1000") ms in $(field "$network" 1 3) rounds; \
its spec of $(field "$network" 1 4) bytes lexed in $(calculate %.2f "$(field "$network" 1 2) / 1000") ms
  10,000 lines end     $summary
END
