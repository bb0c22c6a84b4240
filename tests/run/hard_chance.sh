#!/bin/sh
# More specs that are meant to hang or to crash the program: very many of one sort, and what chance makes of the demo
# boats (a byte changed, the end cut off). As in hard.sh, each run must end by itself with exit status 0, 1 or 2, and what
# it prints must be text. Expects GARBOARD and TESTS_DIR.
set -u
: "${GARBOARD:?}" "${TESTS_DIR:?}"
export LC_ALL=C
specs=$TESTS_DIR/../specs
work=$(mktemp -d) || exit 2
trap 'rm -rf "$work"' EXIT INT TERM
cd "$work" || exit 2
passed=0
failed=0

# ends WHAT WORDS COMMAND...: it ends as it must, and WORDS, if any, are in what it prints
ends() {
    what=$1 words=$2
    shift 2
    timeout 120 "$GARBOARD" "$@" --as-of 2027-03-01 --color never >out 2>err
    status=$?
    if [ "$status" -gt 2 ]; then
        echo "---- $what: exit status $status"
        head -c 1000 err
        failed=$((failed + 1))
    elif ! cat out err | iconv -f UTF-8 -t UTF-8 >/dev/null 2>&1; then
        echo "---- $what: what it prints is not UTF-8"
        failed=$((failed + 1))
    elif [ -n "$words" ] && ! grep -q -- "$words" out; then
        echo "---- $what: \`$words\` is not in what it prints:"
        head -n 5 out | cut -c 1-200
        failed=$((failed + 1))
    else
        passed=$((passed + 1))
    fi
}

# made SORT COUNT WORDS: a check of a spec that generate.awk makes
made() {
    awk -v what="$1" -v n="$2" -f "$TESTS_DIR/hard/generate.awk" >made.boat
    ends "$1, $2" "$3" check made.boat
    rm -f made.boat
}

made braces-on-a-line 1000000 brace-open
made closing-braces-on-a-line 10000000 'there are more mistakes'
made text-open 100000000 text-open
made word 100000000 ' faults\?, '
made strange-line 1000000 strange-character
made garbage 1000000 'there are more mistakes'
made long-texts-open 50000 text-open
made unknown-properties 100000 unknown-property
made one-name 100000 name-twice
made feeds-backwards 10000 ' faults\?, '
made jobs 100000 ' faults\?, '
made jobs-loop 10000 ' faults\?, '
made hoses 5000 ' faults\?, '
made choices 1000 'more than 64 combinations'

# What is included is an ordinary file, or it is not read: nothing waits on a pipe or reads a device for ever.
echo 'include "link.boat"' >links.boat
ln -s link.boat link.boat
ends "a link that leads to itself" file-unreadable check links.boat
mkfifo pipe.boat
printf 'include "pipe.boat"\ninclude "/dev/zero"\n' >devices.boat
ends "a pipe and a device that are included" file-unreadable check devices.boat

for seed in 11 12 13 14 15 16; do
    awk -v what=bytes -v n=$((seed * seed * 50)) -v seed="$seed" -f "$TESTS_DIR/hard/generate.awk" >random.boat
    ends "random bytes with control characters, seed $seed" mistake check random.boat
done

# Park and Miller's minimal standard generator again, from a fixed start.
seed=20270301
chance() { # a number below $1, in $picked
    seed=$(((seed * 16807) % 2147483647))
    picked=$((seed % $1))
}
size=$(wc -c <"$specs/plover.boat")
for i in $(seq 1 300); do
    cp "$specs/plover.boat" mutant.boat
    chance "$size"; at=$picked
    chance 256; byte=$picked
    printf "\\$(printf %o "$byte")" | dd of=mutant.boat bs=1 seek="$at" conv=notrunc 2>/dev/null
    what="plover with byte $byte at $at"
    case $((i % 5)) in
    0) ends "$what: book" "" book mutant.boat -o "book$((i % 3))" ;;
    1) ends "$what: figures" "" figures mutant.boat --format json ;;
    2) ends "$what: bom" "" bom mutant.boat ;;
    3) ends "$what: check" "" check mutant.boat --format sarif ;;
    4) ends "$what: check" "" check mutant.boat ;;
    esac
done

# Each file of the big demo boat cut short, while the others are whole.
cp -r "$specs/heron" heron
for file in heron/*.boat; do
    whole=$(wc -c <"$specs/$file")
    cut=0
    while [ "$cut" -lt "$whole" ]; do
        head -c "$cut" "$specs/$file" >"$file"
        ends "$file cut after $cut bytes" "" check heron/heron.boat
        cut=$((cut + 37))
    done
    cp "$specs/$file" "$file"
done

[ "$failed" -eq 0 ] || echo "[  FAILED  ] $failed test(s)."
echo "[  PASSED  ] $passed test(s)."
[ "$failed" -eq 0 ]
