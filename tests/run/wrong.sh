#!/bin/sh
# Every spec in tests/wrong/ is wrong in the way that its first line says, and `check` says so in the exact words of the
# .says beside it. ACCEPT=1 writes those files anew, to be read. Expects GARBOARD and TESTS_DIR.
#
# Besides: the boat that they include has nothing wrong; each kind of message is met; each mistake says what is right.

set -u
cd "$TESTS_DIR/wrong" || exit 2
scratch=${TMPDIR:-/tmp}/wrong.$$
trap 'rm -rf "$scratch"' EXIT
mkdir -p "$scratch" || exit 2
passed=0
failed=0

pass() {
    passed=$((passed + 1))
}

fail() {
    failed=$((failed + 1))
    echo "---- $1"
}

# What `check` prints of a spec, its standard error included, and the exit status below.
says() {
    "$GARBOARD" check --as-of 2027-03-01 --color never "$1" >"$scratch/said" 2>&1
    echo $? >"$scratch/status"
}

# The boat that the others include.
says with/whole.boat
if [ "$(cat "$scratch/said")" = "0 faults, 0 warnings" ]; then
    pass
else
    fail "with/whole.boat is to be sound, but has findings of its own; every spec here would show them:"
    cat "$scratch/said"
fi

for spec in *.boat; do
    expected=${spec%.boat}.says
    says "$spec"
    if [ "${ACCEPT:-}" = 1 ]; then
        cmp -s "$scratch/said" "$expected" || cp "$scratch/said" "$expected"
    fi
    if [ ! -f "$expected" ]; then
        fail "$spec has no $expected"
    elif ! diff -u "$expected" "$scratch/said" >"$scratch/differs"; then
        fail "$spec: $(sed -n '1s/^# *//p' "$spec")"
        cat "$scratch/differs"
    elif [ "$(cat "$scratch/status")" != 1 ]; then
        fail "$spec: exit status $(cat "$scratch/status"), not 1"
    elif ! sed -n 1p "$spec" | grep -q '^# .*[.:]'; then
        fail "$spec does not say in its first line what is wrong"
    else
        pass
    fi
done

for expected in *.says; do
    [ -f "${expected%.says}.boat" ] || fail "$expected has no spec"
done

# Each row of the catalogue is met.
sed -n 's/^MESSAGE([A-Z0-9_]*, "\([a-z0-9-]*\)".*/\1/p' "$TESTS_DIR/../compiler/text/messages.def" >"$scratch/names"
if [ ! -s "$scratch/names" ]; then
    fail "no names of messages found"
fi
while read -r name; do
    if grep -q "\[$name\]\$" ./*.says; then
        pass
    else
        fail "no wrong spec has a [$name]"
    fi
done <"$scratch/names"

# Each mistake says what would be right.
awk '
    function check() { if (mistake != "" && !right) { print "no right: " mistake; bad = 1 } }
    FNR == 1 { check(); mistake = "" }
    / mistake: .*\[[a-z0-9-]*\]$/ { check(); mistake = $0; right = 0 }
    /^  right: ./ { right = 1 }
    END { check(); exit bad }
' ./*.says >"$scratch/without" && pass || {
    fail "mistakes that do not say what would be right"
    cat "$scratch/without"
}

echo "[  PASSED  ] $passed test(s)."
if [ "$failed" -gt 0 ]; then
    echo "[  FAILED  ] $failed test(s)."
    exit 1
fi
