#!/bin/sh
# `check --format sarif` against the published JSON Schema of SARIF 2.1.0 (draft 4), and against what its text demands
# beyond the schema: the level of a result that is open, suppressions on all results or on none, fingerprints that differ.
#
# The schema is not part of this project. It is taken from the file named by SARIF_SCHEMA, else from the npm package
# @microsoft/jest-sarif (MIT), which carries it: where that is installed, or else fetched to a temporary folder with npm.
# Without any of them (NO_INSTALL=1 forbids fetching) that part is skipped.
set -u

garboard=${GARBOARD:?the program}
here=${TESTS_DIR:?the tests folder}
python=${PYTHON:-python3}
root=$here/..
package=@microsoft/jest-sarif
release=1.0.0-beta.0
inside=lib/schemas/sarif-2.1.0-rtm.5.json
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT

find_schema() {
    if [ -n "${SARIF_SCHEMA:-}" ]; then
        printf '%s\n' "$SARIF_SCHEMA"
        return
    fi
    command -v npm >/dev/null || return
    installed=$(npm root --global 2>/dev/null)/$package/$inside
    if [ -f "$installed" ]; then
        printf '%s\n' "$installed"
    elif [ -z "${NO_INSTALL:-}" ]; then
        (cd "$work" && timeout 60 npm pack --silent --prefer-offline "$package@$release" >/dev/null 2>&1 &&
            tar -xzf ./*.tgz) 2>/dev/null
        [ ! -f "$work/package/$inside" ] || printf '%s\n' "$work/package/$inside"
    fi
}

cat >"$work/judge.py" <<'EOF'
import json
import sys

document_path, schema_path, wants_fail, wants_open, wants_suppressed = sys.argv[1:]
document = json.load(open(document_path, encoding="utf-8"))
if schema_path:
    import jsonschema
    schema = json.load(open(schema_path, encoding="utf-8"))
    errors = list(jsonschema.Draft4Validator(schema).iter_errors(document))
    for error in errors[:5]:
        print(f"{document_path}: at {list(error.absolute_path)}: {error.message[:300]}")
    if errors:
        sys.exit(1)

(run,) = document["runs"]
rules = run["tool"]["driver"]["rules"]
results = run["results"]
ids = [rule["id"] for rule in rules]
assert len(ids) == len(set(ids)), "a rule stands twice"
assert all(rule["help"]["text"] for rule in rules)
assert run["columnKind"] == "unicodeCodePoints"
fingerprints = [tuple(result["partialFingerprints"].items()) for result in results]
assert len(fingerprints) == len(set(fingerprints)), "two results have one fingerprint"
for result in results:
    assert ids[result["ruleIndex"]] == result["ruleId"]
    # SARIF 2.1.0, 3.27.10: where kind is not `fail`, level is `none`
    assert (result["level"] == "none") == (result["kind"] != "fail"), result
    for location in result["locations"]:
        uri = location["physicalLocation"]["artifactLocation"]["uri"]
        assert "\\" not in uri and " " not in uri
        assert uri.startswith("file:///") or not uri.startswith("/"), uri
# 3.27.23: suppressions are absent from all results of a run, or from none
assert len({"suppressions" in result for result in results}) <= 1
suppressed = [result for result in results if result.get("suppressions")]
assert all(s["kind"] == "inSource" and s["justification"] for r in suppressed for s in r["suppressions"])
kinds = {result["kind"] for result in results}
assert kinds <= {"fail", "open"}
assert ("fail" in kinds) >= (wants_fail == "yes"), kinds
assert ("open" in kinds) >= (wants_open == "yes"), kinds
assert bool(suppressed) == (wants_suppressed == "yes"), suppressed
EOF

cat >"$work/mistakes.boat" <<'EOF'
edition 1
boat wren "Wren" { length 9.5 m; beam 3.1; crew 2; currency EUR; basis us }
item lamp { mass 3 kgs; price 4 EUR }
item lamp2 { mass 3 kgs; price 4 EUR }
EOF
cat >"$work/waived.boat" <<'EOF'
edition 1
boat wren "Wren" { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us }
goal light { mass 10 kg }
item keel { mass 900 kg }
waive goal-missed on light because "An example: nobody can build her lighter."
EOF

cat >"$work/choices.awk" <<'EOF'
BEGIN {
    print "boat wren \"Wren\" { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us }"
    print "choice long {"
    for (o = 1; o <= 70; o++) printf "  option o%d { item lamp { mass %d kg } }\n", o, o
    print "}\nchoice short { option a { item oar { mass 1 kg } }; option b { item oar { mass 2 kg } } }"
}
EOF
awk -f "$work/choices.awk" >"$work/choices.boat"

schema=$(find_schema)
if [ -n "$schema" ] && ! "$python" -c 'import jsonschema' 2>/dev/null; then
    schema=
fi
failed=0
judged=0
# judge SPEC FAIL OPEN SUPPRESSED: whether there must be such results
judge() {
    "$garboard" check "$1" --format sarif --as-of 2027-03-01 >"$work/out.sarif" 2>"$work/err"
    status=$?
    if [ $status -gt 1 ]; then
        echo "$1: exit status $status"
        cat "$work/err"
        failed=1
    elif ! "$python" "$work/judge.py" "$work/out.sarif" "$schema" "$2" "$3" "$4"; then
        echo "$1: see above"
        failed=1
    else
        judged=$((judged + 1))
    fi
}
cd "$root" || exit 1
judge specs/coot.boat no no no
judge specs/heron/heron.boat yes yes "$(grep -q '^waive ' specs/heron/*.boat && echo yes || echo no)"
judge "$work/mistakes.boat" yes no no
judge "$work/waived.boat" no no yes
judge "$work/choices.boat" no no no

# told <spec> <words>: a notification of what was left out
told() {
    "$garboard" check "$1" --format sarif --as-of 2027-03-01 >"$work/out.sarif" 2>"$work/err"
    "$python" -c 'import json, sys
(run,) = json.load(open(sys.argv[1]))["runs"]
told = run["invocations"][0].get("toolExecutionNotifications", [])
sys.exit(not any(sys.argv[2] in each["message"]["text"] for each in told))' "$work/out.sarif" "$2" && return
    echo "$1: nothing tells: $2"
    failed=1
}
told "$work/choices.boat" "no option after the 64th of its choice (6 in all)"
yes 'item lamp { colour red }' | head -n 10002 >"$work/many.boat"
told "$work/many.boat" "there are more mistakes than these 10000"

[ $failed -eq 0 ] || exit 1
if [ -z "$schema" ]; then
    echo "No SARIF schema here: set SARIF_SCHEMA, or install $package@$release with npm"
    echo "[  SKIPPED ] 1 test(s)."
fi
echo "[  PASSED  ] $judged test(s)."
