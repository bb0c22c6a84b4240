#!/bin/sh
# Where outputs cannot go: a clear error, exit status 2, and what was there before untouched. And the command line itself.
set -u
: "${GARBOARD:?}" "${TESTS_DIR:?}"
work=$(mktemp -d) || exit 2
trap 'umount "$work/small" 2>/dev/null; rm -rf "$work"' EXIT INT TERM
spec=$TESTS_DIR/../specs/coot.boat
today='--as-of 2027-03-01'
passed=0
failed=0

# ends WHAT STATUS WORDS COMMAND...: the command ends so, and says the words on standard error or output
ends() {
    what=$1 wanted=$2 words=$3
    shift 3
    "$@" >"$work/out" 2>"$work/err"
    status=$?
    if [ "$status" != "$wanted" ]; then
        echo "$what: exit status $status, not $wanted"; cat "$work/err"
        failed=$((failed + 1))
    elif [ -n "$words" ] && ! cat "$work/out" "$work/err" | grep -q -- "$words"; then
        echo "$what: does not say \`$words\`:"; cat "$work/err"
        failed=$((failed + 1))
    else
        passed=$((passed + 1))
    fi
}

# same WHAT A B
same() {
    if cmp -s "$2" "$3"; then passed=$((passed + 1)); else echo "$1: differs"; failed=$((failed + 1)); fi
}

ends "no such folder above" 2 "book" "$GARBOARD" book "$spec" $today -o "$work/no/book"
echo precious >"$work/file"
ends "a file where the folder is to be" 2 "" "$GARBOARD" book "$spec" $today -o "$work/file"
ends "that file is as it was" 0 precious cat "$work/file"
mkdir "$work/mine"; echo precious >"$work/mine/book.md"; echo mine >"$work/mine/other.txt"
ends "a folder with another book.md" 2 "book.md" "$GARBOARD" book "$spec" $today -o "$work/mine"
ends "that file is as it was" 0 precious cat "$work/mine/book.md"
ends "and nothing was added" 0 "^2$" sh -c "ls '$work/mine' | wc -l"
ends "a book" 0 "" "$GARBOARD" book "$spec" $today -o "$work/book"
echo mine >"$work/book/other.txt"
ends "the book again" 0 "" "$GARBOARD" book "$spec" $today -o "$work/book"
ends "other files stay" 0 mine cat "$work/book/other.txt"
ends "nothing is stale" 0 "" "$GARBOARD" book "$spec" $today -o "$work/book" --check
ends "nor is it by another way to the spec" 0 "" sh -c "cd '$(dirname "$spec")' && '$GARBOARD' book '$(basename "$spec")' $today -o '$work/book' --check"
ends "by another basis it is" 1 "book.md" "$GARBOARD" book "$spec" $today --basis us -o "$work/book" --check
echo edited >>"$work/book/bom.csv"
ends "a file that was edited by hand" 2 "bom.csv" "$GARBOARD" book "$spec" $today --basis us -o "$work/book"
ends "a full disk for standard output" 2 "disk is full" sh -c "'$GARBOARD' check '$spec' $today >/dev/full"
ends "a report into a missing folder" 2 "" "$GARBOARD" check "$spec" $today --report "json:$work/no/x.json"
ends "a report" 0 "" "$GARBOARD" check "$spec" $today --report "json:$work/x.json"
ends "holds what the format gives" 0 '"format": 1' cat "$work/x.json"
mkdir "$work/small"
if [ "$(id -u)" = 0 ] && mount -t tmpfs -o size=32k tmpfs "$work/small" 2>/dev/null; then
    ends "a disk that fills up" 2 "" "$GARBOARD" book "$spec" $today -o "$work/small/book"
    ends "leaves nothing behind" 0 "" sh -c "! ls '$work/small/book/book.md' 2>/dev/null"
    umount "$work/small"
else
    echo "a full disk was not tried: no small file system could be mounted"
fi
if [ "$(id -u)" = 0 ] && command -v setpriv >/dev/null; then
    chmod 755 "$work"; mkdir "$work/closed"; chmod 555 "$work/closed"; cp "$GARBOARD" "$work/program"; cp "$spec" "$work/coot.boat"
    ends "a folder that may not be written" 2 "" setpriv --reuid 65534 --clear-groups "$work/program" book "$work/coot.boat" $today -o "$work/closed/book"
fi

ends "an unknown command" 2 'did you mean `check`' "$GARBOARD" chek "$spec"
ends "an unknown option" 2 'did you mean `--basis`' "$GARBOARD" check "$spec" --bassis us
ends "an abbreviated option" 2 "no option" "$GARBOARD" check "$spec" --str
ends "an option that the command does not take" 2 'takes no `--strict`' "$GARBOARD" bom "$spec" --strict
ends "nothing at all" 2 "garboard check" "$GARBOARD"
ends "a spec that is not there" 2 "no such file" "$GARBOARD" check "$work/none.boat"
ends "a folder for a spec" 2 "folder" "$GARBOARD" check "$work"
ends "a day that is none" 2 "date" "$GARBOARD" check "$spec" --as-of tomorrow
ends "a basis that is none" 2 'us' "$GARBOARD" check "$spec" --basis eu
ends "an unknown figure" 2 "" "$GARBOARD" why "$spec" $today coot.masss

"$GARBOARD" check "$TESTS_DIR/../specs/heron/heron.boat" $today --format json >"$work/one"
"$GARBOARD" check "$TESTS_DIR/../specs/heron/heron.boat" $today --format json >"$work/two"
same "two runs" "$work/one" "$work/two"
(cd "$TESTS_DIR/../specs/heron" && "$GARBOARD" figures heron.boat $today) >"$work/one"
(cd / && "$GARBOARD" figures "$TESTS_DIR/../specs/heron/heron.boat" $today) >"$work/two"
same "from two folders" "$work/one" "$work/two"
(cd / && "$GARBOARD" figures - --stdin-name "$TESTS_DIR/../specs/heron/heron.boat" $today <"$TESTS_DIR/../specs/heron/heron.boat") >"$work/two"
same "from standard input, includes found" "$work/one" "$work/two"
ends "warnings do not break" 0 "" sh -c "'$GARBOARD' new wren | '$GARBOARD' check - --as-of 2027-03-01 --strict"
ends "SOURCE_DATE_EPOCH is today" 1 "late" env SOURCE_DATE_EPOCH=1803859200 "$GARBOARD" check "$TESTS_DIR/../specs/heron/heron.boat"
ends "a choice decided" 1 "decided for this run: engine-size=lean" "$GARBOARD" check "$TESTS_DIR/../specs/heron/heron.boat" $today --with engine-size=lean
ends "an option that is none" 2 "the choice has no option of that name" "$GARBOARD" check "$TESTS_DIR/../specs/heron/heron.boat" $today --with engine-size=leen
# A book of what is not whole: things whose own block is a mistake, and a tank that no sheet can show.
cat >"$work/open.boat" <<'END'
bank house {
at 4 m 0 m -0.1 m;
through-hull th {
height -0.3 m;
boat wren "Wren" {
END
ends "a book of blocks that are never closed" 1 "never closed" "$GARBOARD" book "$work/open.boat" $today -o "$work/open"
cat >"$work/long.boat" <<'END'
edition 1
boat wren { length 11 m; beam 3.4 m; waterline 10 m; draft 0.9 m; freeboard 1 m; crew 2; currency EUR; basis iso }
tank fresh { holds fresh; at 2 m 0.3 m -0.2 m; size 1.2 m by 1 m by 999999999999999 m }
END
ends "a tank longer than any sheet" 0 "" timeout 30 "$GARBOARD" book "$work/long.boat" $today -o "$work/long"

[ "$failed" -eq 0 ] || echo "[  FAILED  ] $failed test(s)."
echo "[  PASSED  ] $passed test(s)."
[ "$failed" -eq 0 ]
