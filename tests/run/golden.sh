#!/bin/sh
# Compares what the program prints of the demo boats with what was read by eye and accepted: tests/golden/BOAT/.
# ACCEPT=1 writes the present outputs there instead; read the difference before you commit it.
set -u
: "${GARBOARD:?}" "${TESTS_DIR:?}"
cd "$TESTS_DIR/.." || exit 2
work=$(mktemp -d) || exit 2
trap 'rm -rf "$work"' EXIT INT TERM
passed=0
failed=0

# one BOAT SPEC: every output of one boat, as files in $work/BOAT
outputs() {
    boat=$1
    spec=$2
    out=$work/$boat
    mkdir -p "$out"
    as_of='--as-of 2027-03-01'
    "$GARBOARD" check "$spec" $as_of --color never >"$out/check.txt" 2>&1
    echo "exit $?" >>"$out/check.txt"
    "$GARBOARD" check "$spec" $as_of --format json >"$out/check.json" 2>&1
    "$GARBOARD" check "$spec" $as_of --format sarif >"$out/check.sarif" 2>&1
    "$GARBOARD" figures "$spec" $as_of >"$out/figures.txt" 2>&1
    "$GARBOARD" figures "$spec" $as_of --format json >"$out/figures.json" 2>&1
    "$GARBOARD" compare "$spec" $as_of --color never >"$out/compare.txt" 2>&1
    echo "exit $?" >>"$out/compare.txt"
    "$GARBOARD" bom "$spec" $as_of --to-buy >"$out/to-buy.txt" 2>&1
    echo "exit $?" >>"$out/to-buy.txt"
    "$GARBOARD" bom "$spec" $as_of --by space >"$out/by-space.txt" 2>&1
    echo "exit $?" >>"$out/by-space.txt"
    "$GARBOARD" book "$spec" $as_of -o "$out/book" >"$out/book.txt" 2>&1
    echo "exit $?" >>"$out/book.txt"
}

for pair in heron:specs/heron/heron.boat plover:specs/plover.boat coot:specs/coot.boat; do
    boat=${pair%%:*}
    outputs "$boat" "${pair#*:}"
    if [ "${ACCEPT:-}" = 1 ]; then
        rm -rf "$TESTS_DIR/golden/$boat"
        mkdir -p "$TESTS_DIR/golden"
        cp -R "$work/$boat" "$TESTS_DIR/golden/$boat"
    fi
    for file in $(cd "$work/$boat" && find . -type f | sort); do
        if cmp -s "$work/$boat/$file" "$TESTS_DIR/golden/$boat/$file"; then
            passed=$((passed + 1))
        else
            failed=$((failed + 1))
            echo "differs from the accepted one: $boat/$file"
            diff "$TESTS_DIR/golden/$boat/$file" "$work/$boat/$file" | head -n 20
        fi
    done
    for file in $(cd "$TESTS_DIR/golden/$boat" && find . -type f | sort); do
        if [ ! -f "$work/$boat/$file" ]; then
            failed=$((failed + 1))
            echo "accepted once, written no longer: $boat/$file"
        fi
    done
done

[ "$failed" -eq 0 ] || echo "[  FAILED  ] $failed test(s)."
echo "[  PASSED  ] $passed test(s)."
[ "$failed" -eq 0 ]
