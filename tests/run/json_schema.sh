#!/bin/sh
# The JSON of `check`, `figures` and `compare` against the schemas in docs/, and against itself: every spec of the project and one
# with mistakes. Judge: python3-jsonschema. Every key that is written must be described.
set -u

garboard=${GARBOARD:?the program}
here=${TESTS_DIR:?the tests folder}
python=${PYTHON:-python3}
root=$here/..
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT

if ! "$python" -c 'import jsonschema' 2>/dev/null; then
    echo "python3-jsonschema is not installed"
    echo "[  SKIPPED ] 1 test(s)."
    exit 0
fi

cat >"$work/judge.py" <<'EOF'
import copy
import json
import sys

import jsonschema

kind, schema_path, document_path = sys.argv[1:]


def closed(schema):
    """The schema, but with no key left undescribed."""
    schema = copy.deepcopy(schema)

    def close(node):
        if isinstance(node, dict):
            if "properties" in node:
                node["additionalProperties"] = False
            for value in node.values():
                close(value)
        elif isinstance(node, list):
            for value in node:
                close(value)

    close(schema)
    return schema


schema = json.load(open(schema_path, encoding="utf-8"))
jsonschema.Draft202012Validator.check_schema(schema)


def no_twins(pairs):
    keys = [key for key, _ in pairs]
    assert len(keys) == len(set(keys)), f"a key stands twice in one object: {keys}"
    return dict(pairs)


text = open(document_path, "rb").read()
text.decode("utf-8")
document = json.loads(text, object_pairs_hook=no_twins,
                      parse_constant=lambda word: sys.exit(f"{word} is no JSON number"))
errors = list(jsonschema.Draft202012Validator(closed(schema)).iter_errors(document))
for error in errors[:5]:
    print(f"{document_path}: at {list(error.absolute_path)}: {error.message[:300]}")
if errors:
    sys.exit(1)


def check(document):
    summary = document["summary"]
    findings = document["findings"]

    def count(severity):
        return sum(1 for f in findings if f["severity"] == severity and f["state"] == "broken"
                   and (f["waived"] is None or f["waived"]["counts"]))

    assert summary["mistakes"] == len(document["mistakes"])
    assert summary["faults"] == count("fault")
    assert summary["warnings"] == count("warning")
    assert summary["advice"] == count("advice")
    assert summary["open"] == sum(1 for f in findings if f["state"] == "open" and f["waived"] is None)
    assert summary["waived"] == sum(1 for f in findings if f["waived"] is not None)
    for thing in findings + document["mistakes"]:
        if thing["line"] is not None:
            assert (thing["line"], thing["column"]) <= (thing["end_line"], thing["end_column"]), thing
    for finding in findings:
        for key in ("value", "limit"):
            ends = finding[key] or {"low": None, "high": None}
            assert None in (ends["low"], ends["high"]) or ends["low"] <= ends["high"], finding


def figures(document):
    seen = set()
    for figure in document["figures"]:
        key = (figure["subject"], figure["name"])
        assert key not in seen, f"{key} stands twice"
        seen.add(key)
        ends = (figure["low"], figure["high"])
        assert None in ends or ends[0] <= ends[1], figure
        assert figure["state"] == "known" or ends == (None, None), figure


def compare(document):
    for choice in document["choices"]:
        names = [option["name"] for option in choice["options"]]
        assert bool(choice["rows"]) == (choice["combinations"] > 0), choice["choice"]
        for row in choice["rows"]:
            assert [cell["option"] for cell in row["cells"]] == names, row
            marks = [cell["mark"] for cell in row["cells"]]
            assert marks.count("best") <= 1 and marks.count("worst") <= 1, row
            assert row["better"] != "neither" or marks == [None] * len(marks), row
        for option in choice["options"]:
            assert (option["dominated_by"] is None) == (option["worse_in"] is None), option
            assert option["dominated_by"] in [None] + [name for name in names if name != option["name"]], option


{"check": check, "figures": figures, "compare": compare}[kind](document)
EOF

cat >"$work/mistakes.boat" <<'EOF'
edition 1
boat wren "Wren \"the small\"" { length 9.5 m; beam 3.1; crew 2; currency EUR; basis us }
item µ { mass 3 kg }
item lamp { mass 3 kgs; price 4 EUR
waive nothing on nobody because "a | b"
EOF
: >"$work/empty.boat"
cat >"$work/choices.awk" <<'EOF'
BEGIN {
    print "boat wren \"Wren\" { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us }"
    print "choice long {"
    for (o = 1; o <= 70; o++) printf "  option o%d { item lamp { mass %d kg } }\n", o, o
    print "}\nchoice short { option a { item oar { mass 1 kg } }; option b { item oar { mass 2 kg } } }"
}
EOF
awk -f "$work/choices.awk" >"$work/choices.boat"
cat >"$work/options.boat" <<'EOF'
edition 1
boat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us }
criterion mend { weight 3 }
criterion calm
item anchor { price 300..500 EUR }
choice cooking "Which \"stove\"?" {
  option gas { item stove { price 400 EUR; mass 20 kg }; set anchor.mass 15 kg; score mend 2 of 5 }
  option spirit { item stove { price >= 300 EUR; mass 8 kg }; score mend 4 of 5; score calm 1 of 5 }
  option raw { item basket }
}
choice hook { option one { item lock { price 3 EUR; mass 1 kg } }; option two { item lock { price 4 EUR; mass 1 kg } } }
EOF

failed=0
judged=0
for spec in "$root"/specs/*.boat "$root"/specs/heron/heron.boat "$work"/*.boat; do
    for kind in check figures compare; do
        "$garboard" "$kind" "$spec" --format json --as-of 2027-03-01 >"$work/out.json" 2>"$work/err"
        status=$?
        if [ $status -gt 1 ]; then
            echo "$kind $spec: exit status $status"
            cat "$work/err"
            failed=1
        elif ! "$python" "$work/judge.py" "$kind" "$root/docs/$kind.schema.json" "$work/out.json"; then
            echo "$kind $spec: see above"
            failed=1
        else
            judged=$((judged + 1))
        fi
    done
done

# said <spec> <key and value>...: what stands in the JSON of its `check`
said() {
    spec=$1
    shift
    "$garboard" check "$spec" --format json --as-of 2027-03-01 >"$work/out.json" 2>"$work/err"
    for words in "$@"; do
        if ! grep -q "$words" "$work/out.json"; then
            echo "$spec: there is no $words"
            failed=1
        fi
    done
}
said "$work/choices.boat" '"sampled": true' '"options_not_judged": 6' '"more_mistakes": false'
said "$work/mistakes.boat" '"sampled": false' '"options_not_judged": 0' '"more_mistakes": false'
yes 'item lamp { colour red }' | head -n 10002 >"$work/many.boat"
said "$work/many.boat" '"more_mistakes": true'
[ $failed -eq 0 ] && [ $judged -ge 18 ] && echo "[  PASSED  ] $judged test(s)."
