#!/bin/sh
# Pairs of specs in tests/diff/, and the exact words in which `diff` tells what differs: NAME.old.boat and NAME.new.boat
# (or the folders NAME.old and NAME.new, or the arguments in NAME.arguments) give NAME.says, both streams and the exit
# status. ACCEPT=1 writes those files anew, to be read. Expects GARBOARD and TESTS_DIR.
#
# Besides: every pair turned round, and its JSON, which must be what docs/diff.schema.json describes and agree with the
# exit status; a spec differs in nothing from itself; what is asked for wrongly.

set -u
cd "$TESTS_DIR/diff" || exit 2
python=${PYTHON:-python3}
scratch=${TMPDIR:-/tmp}/diff.$$
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

difference() {
    "$GARBOARD" diff --as-of 2027-03-01 --color never "$@"
}

# What a pair is called on the command line: OLD and NEW, or the arguments as they stand.
arguments() {
    if [ -f "$1.arguments" ]; then
        cat "$1.arguments"
    elif [ -d "$1.old" ]; then
        echo "$1.old $1.new/"
    else
        echo "$1.old.boat $1.new.boat"
    fi
}

for name in $(ls | sed -n 's/\.old\(\.boat\)\{0,1\}$//p; s/\.arguments$//p'); do
    set -- $(arguments "$name")
    difference "$@" >"$scratch/out" 2>"$scratch/err"
    status=$?
    cat "$scratch/err" "$scratch/out" >"$scratch/said"
    echo "exit $status" >>"$scratch/said"
    if [ "${ACCEPT:-}" = 1 ]; then
        cmp -s "$scratch/said" "$name.says" || cp "$scratch/said" "$name.says"
    fi
    if [ ! -f "$name.says" ]; then
        fail "$name has no $name.says"
    elif ! diff -u "$name.says" "$scratch/said" >"$scratch/differs"; then
        fail "$name"
        cat "$scratch/differs"
    elif awk 'length($0) > 80 { long = 1 } END { exit !long }' "$scratch/out"; then
        fail "$name: lines of more than 80 columns"
    else
        pass
    fi
    # The other way round it differs as well, or not at all.
    if [ ! -f "$name.arguments" ]; then
        difference "$2" "$1" >"$scratch/turned" 2>&1
        [ $? -eq $status ] && pass || fail "$name turned round: another exit status"
    fi
    difference --format json "$@" >"$scratch/$name.json" 2>"$scratch/err"
    [ $? -eq $status ] && pass || fail "$name --format json: another exit status"
done

for said in *.says; do
    [ -e "${said%.says}.old.boat" ] || [ -e "${said%.says}.old" ] || [ -e "${said%.says}.arguments" ] ||
        fail "$said has no pair"
done

# JSON against its schema, every key described; and against itself.
cat >"$scratch/judge.py" <<'END'
import copy
import json
import sys

import jsonschema

schema = json.load(open(sys.argv[1], encoding="utf-8"))
jsonschema.Draft202012Validator.check_schema(schema)


def close(node):
    if isinstance(node, dict):
        if "properties" in node and "object" in (node.get("type") or ()):
            node["additionalProperties"] = False
        for value in node.values():
            close(value)
    elif isinstance(node, list):
        for value in node:
            close(value)


closed = copy.deepcopy(schema)
close(closed)
validator = jsonschema.Draft202012Validator(closed)
bad = 0
for path in sys.argv[2:]:
    document = json.load(open(path, encoding="utf-8"),
                         parse_constant=lambda word: sys.exit(f"{word} is no JSON number"))
    for error in list(validator.iter_errors(document))[:3]:
        print(f"{path}: at {list(error.absolute_path)}: {error.message[:300]}")
        bad += 1
    lists = [document[key] for key in ("things", "choices", "waivers", "figures", "bom", "goals")]
    lists += [document["findings"][key] for key in ("new", "changed", "gone")]
    assert document["different"] == any(lists), path
    for counted in ("faults", "warnings", "advice"):
        severity = counted.rstrip("s")
        sign = {"new": 1, "gone": -1}
        change = 0
        for key in ("new", "changed", "gone"):
            for pair in document["findings"][key]:
                for side, by in (("old", -1), ("new", 1)):
                    finding = pair[side]
                    if finding and (finding["severity"], finding["state"], finding["waived"]) == (
                            severity, "broken", False):
                        change += by
        assert document["new"][counted] - document["old"][counted] == change, (path, counted)
    for figure in document["figures"]:
        for end in ("low", "high"):
            change = figure["change"][end]
            if change is not None:
                moved = figure["new"][end] - figure["old"][end]
                assert abs(moved - change) <= 1e-9 * max(abs(moved), 1e-9), (path, figure)
sys.exit(1 if bad else 0)
END
if "$python" -c 'import jsonschema' 2>/dev/null; then
    "$python" "$scratch/judge.py" "$TESTS_DIR/../docs/diff.schema.json" "$scratch"/*.json && pass || fail "the JSON"
else
    echo "python3-jsonschema is not installed: the JSON was not judged"
fi

# A spec differs in nothing from itself, laid out by `format` or not, whatever it looks like.
same() {
    if difference "$1" "$2" >"$scratch/said" 2>/dev/null || {
        [ $? -eq 1 ] && grep -q '^no difference: ' "$scratch/said"
    }; then
        pass
    else
        fail "$1 differs from itself ($2)"
        head -n 20 "$scratch/said"
    fi
}
for spec in "$TESTS_DIR"/../specs/*.boat "$TESTS_DIR"/../specs/heron "$TESTS_DIR"/golden/*/*.boat \
    "$TESTS_DIR"/diff/*.boat "$TESTS_DIR"/wrong/*.boat; do
    [ -e "$spec" ] && same "$spec" "$spec"
done
for spec in plover coot; do
    "$GARBOARD" format - <"$TESTS_DIR/../specs/$spec.boat" >"$scratch/$spec.boat" 2>/dev/null &&
        same "$TESTS_DIR/../specs/$spec.boat" "$scratch/$spec.boat"
done

# Asked for wrongly: exit status 2, nothing on standard output, and words that say what is missing.
refused() {
    words=$1
    shift
    "$GARBOARD" diff "$@" >"$scratch/out" 2>"$scratch/err" </dev/null
    if [ $? -ne 2 ] || [ -s "$scratch/out" ] || ! grep -q "$words" "$scratch/err"; then
        fail "diff $*: not refused with \`$words\`"
        cat "$scratch/out" "$scratch/err"
    else
        pass
    fi
}
mkdir -p "$scratch/none" "$scratch/two"
cp options.boat "$scratch/two/a.boat"
cp options.boat "$scratch/two/b.boat"
mkdir -p "$scratch/without"
cp with/boat.boat "$scratch/without/b.boat"
cp with/hull.boat "$scratch/without/hull.boat"
refused 'it is `garboard diff OLD NEW`' options.boat
refused 'only one of the two specs can be standard input' - -
refused 'only one of the two specs can be standard input' - --with-new lamp-kind=fine
refused 'prints text or json' options.boat options.boat --format csv
refused 'there is no such file' options.boat nowhere.boat
refused 'states a boat' "$scratch/none" options.boat
refused 'both .*/two/a.boat and .*/two/b.boat have `edition`' options.boat "$scratch/two"
refused 'decided as CHOICE=OPTION' options.boat --with-old lamp-kind
refused 'no option of that name; it has `plain` or `fine`' options.boat --with-new lamp-kind=finer
refused 'no choice of that name; it has `lamp-kind`' options.boat --with-old lamp-knid=fine

# Standard input as one of the two, and a folder named by where one stands.
difference --stdin-name here.boat - renamed.old.boat <renamed.old.boat >"$scratch/out" 2>&1 && pass ||
    fail "standard input"
difference "$scratch/without" "$scratch/without/b.boat" >"$scratch/out" 2>/dev/null
grep -q '^no difference' "$scratch/out" && pass || fail "a folder whose main file has no edition"
(cd folders.old && difference . ../folders.old >"$scratch/out" 2>&1) && pass || fail "the folder that one stands in"

echo "[  PASSED  ] $passed test(s)."
if [ "$failed" -gt 0 ]; then
    echo "[  FAILED  ] $failed test(s)."
    exit 1
fi
