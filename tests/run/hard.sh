#!/bin/sh
# Specs that are meant to hang or to crash the program: each must end by itself with exit status 0, 1 or 2, and what it
# prints must be text. The limit is against hanging only.
set -u
: "${GARBOARD:?}" "${TESTS_DIR:?}"
work=$(mktemp -d) || exit 2
trap 'rm -rf "$work"' EXIT INT TERM
passed=0
failed=0
boat='boat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us }'

# hard WHAT FILE [WORDS]: WORDS must be in the output
hard() {
    timeout 120 "$GARBOARD" check "$2" --as-of 2027-03-01 --color never >"$work/out" 2>"$work/err"
    status=$?
    if [ "$status" -gt 2 ]; then
        echo "$1: exit status $status"
        head -c 300 "$work/err"
        failed=$((failed + 1))
    elif ! iconv -f UTF-8 -t UTF-8 "$work/out" >/dev/null 2>&1; then
        echo "$1: what it prints is not UTF-8"
        failed=$((failed + 1))
    elif [ -n "${3:-}" ] && ! grep -q "$3" "$work/out"; then
        echo "$1: \`$3\` is not in what it prints:"
        head -n 5 "$work/out" | cut -c 1-200
        failed=$((failed + 1))
    else
        passed=$((passed + 1))
    fi
}

# many COUNT TEXT: the text so many times, in one line
many() {
    awk -v n="$1" -v t="$2" 'BEGIN { for (i = 0; i < n; i++) printf "%s", t }'
}

{ echo "$boat"; printf 'item a '; many 10000 '{ b '; many 10000 '} '; echo; } >"$work/braces.boat"
hard "10,000 nested braces" "$work/braces.boat" 'too-deep'
{ echo "$boat"; printf 'item a '; many 10000 '{ b '; echo; } >"$work/open.boat"
hard "10,000 nested braces, never closed" "$work/open.boat" 'brace-open'
{ echo "$boat"; yes '}' | head -n 100000; } >"$work/close.boat"
hard "100,000 stray closing braces" "$work/close.boat" 'brace-close'

{ echo "$boat"; printf '# '; head -c 100000000 /dev/zero | tr '\0' 'x'; echo; } >"$work/line.boat"
hard "a comment of 100 MB" "$work/line.boat" '0 faults'
{ echo "$boat"; printf 'item a { mass '; head -c 100000000 /dev/zero | tr '\0' '7'; echo ' kg }'; } >"$work/line.boat"
hard "a number of 100 MB" "$work/line.boat" 'number-long'
{ echo "$boat"; printf 'item a { note "'; head -c 100000000 /dev/zero | tr '\0' 'x'; echo '" }'; } >"$work/line.boat"
hard "a text of 100 MB" "$work/line.boat" '0 faults'
{ echo "$boat"; printf 'item a { note '; many 5000000 'a, '; echo '}'; } >"$work/line.boat"
hard "a list of five million words" "$work/line.boat" 'mistake'
rm -f "$work/line.boat"

{ echo "$boat"; awk 'BEGIN { for (i = 0; i < 300000; i++) print "@ % ; 1 2 \" } {" }'; } >"$work/garbage.boat"
hard "300,000 lines of garbage" "$work/garbage.boat" 'mistake'
{ echo "$boat"; awk 'BEGIN { for (i = 0; i < 100000; i++) printf "load l%d { fed-by no%d; draw 1 A }\n", i, i }'; } >"$work/names.boat"
hard "100,000 unknown names" "$work/names.boat" 'unknown-name'
{ echo "$boat"; echo 'bank b { chemistry agm; voltage 12 V; capacity 100 Ah }'; echo 'panel p0 { fed-by b; run 1 m }'
    awk 'BEGIN { for (i = 1; i < 10000; i++) printf "panel p%d { fed-by p%d; run 1 m }\n", i, i - 1 }'; } >"$work/chain.boat"
hard "a chain of 10,000 panels" "$work/chain.boat" 'wire-unprotected'
{ echo "$boat"; awk 'BEGIN { for (i = 0; i < 10000; i++) printf "panel p%d { fed-by p%d; run 1 m }\n", i, (i + 9999) % 10000 }'; } >"$work/loop.boat"
hard "a loop of 10,000 panels" "$work/loop.boat" 'feed-loop'
{ echo "$boat"; awk 'BEGIN { for (c = 0; c < 20; c++) { printf "choice c%d {\n", c; for (o = 0; o < 4; o++) printf "  option o%d { item i%d { mass %d kg } }\n", o, c, o; print "}" } }'; } >"$work/choices.boat"
hard "20 open choices of 4 options" "$work/choices.boat" 'fault'

for i in $(seq 1 1000); do echo "include \"i$((i + 1)).boat\"" >"$work/i$i.boat"; done
{ echo "$boat"; echo 'include "i1.boat"'; } >"$work/includes.boat"
hard "1,000 files that include each other" "$work/includes.boat" 'mistake'
echo 'include "y.boat"' >"$work/x.boat"
echo 'include "z.boat"' >"$work/y.boat"
{ echo "$boat"; echo 'include "x.boat"'; } >"$work/z.boat"
hard "three files in a circle" "$work/z.boat" 'include-cycle'
{ echo "$boat"; echo 'include "self2.boat"'; } >"$work/self.boat"
ln -s self.boat "$work/self2.boat"
hard "a file that includes itself by another name" "$work/self.boat" 'include-cycle'

for seed in 1 2 3 4 5 6 7 8; do
    awk -v s="$seed" 'BEGIN { srand(s); for (i = 0; i < 4000; i++) printf "%c", int(rand() * 255) + 1 }' >"$work/random.boat"
    hard "random bytes, $seed" "$work/random.boat"
done
size=$(wc -c <"$TESTS_DIR/../specs/plover.boat")
at=0
while [ "$at" -lt "$size" ]; do
    head -c "$at" "$TESTS_DIR/../specs/plover.boat" >"$work/cut.boat"
    hard "plover cut after $at bytes" "$work/cut.boat"
    at=$((at + 97))
done

[ "$failed" -eq 0 ] || echo "[  FAILED  ] $failed test(s)."
echo "[  PASSED  ] $passed test(s)."
[ "$failed" -eq 0 ]
