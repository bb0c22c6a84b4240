#!/bin/sh
# Every CSV of the program: read by the grammar of RFC 4180 (a reader of our own, for Python's takes more than that), and
# by Python's csv; the columns that other tools rely on; no cell that a spreadsheet would take for a formula; the sums.
set -u

garboard=${GARBOARD:?the program}
here=${TESTS_DIR:?the tests folder}
python=${PYTHON:-python3}
root=$here/..
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT

cat >"$work/judge.py" <<'EOF'
import csv
import io
import re
import sys

kind, path = sys.argv[1:]
COLUMNS = {
    "check": "rule,severity,state,subject,message,file,line,column,value,limit,unit,hangs_on,settled_by,remedies,waived_until,"
             "waived_because,source",
    "figures": "subject,figure,low,high,unit,shown,state,formula,inputs,source",
    "bom": "name,title,kind,system,count,spare,status,supplier,price_each_low,price_each_high,currency,"
           "price_total_low,price_total_high,mass_each_kg,mass_total_kg,ordered,promised,arrived,fitted,lead_days,space,"
           "serial,link,discontinued,option,source_file,line,first_promised,arrived_count,fitted_count,order_by,replaces,because,"
           "note,events,tax_percent,price_total_without_tax_low,price_total_without_tax_high",
    "to-buy": "supplier,order_by,days_late,name,title,kind,system,count,price_each_low,price_each_high,price_total_low,"
              "price_total_high,currency,offer,boat_total_low,boat_total_high,boat_currency,lead_days,status,space,link,"
              "option,source_file,line",
    "wires": "feed,from,to,size,conductors,insulation_c,run_m,length_m,current_a,protection,drop_percent,colour,label,"
             "sized_by,current,ground,poles,opens_ma,ends,back_a,rated_by,guarded_by,device_m,interrupts_a,sheath,bundle,"
             "cranking_a,cranking_drop_percent,option",
}


def rfc4180(text):
    """Section 2: records end in CRLF; a quote only around a whole field, doubled inside."""
    rows, row, at = [], [], 0
    while at < len(text):
        if text[at] == '"':
            end = at + 1
            while True:
                end = text.index('"', end)
                if text[end + 1:end + 2] != '"':
                    break
                end += 2
            field, at = text[at + 1:end].replace('""', '"'), end + 1
        else:
            end = re.compile(r"[,\r\n\"]|$").search(text, at).start()
            field, at = text[at:end], end
        row.append(field)
        if text[at:at + 2] == "\r\n":
            rows.append(row)
            row, at = [], at + 2
        else:
            assert text[at:at + 1] == ",", f"neither comma nor CRLF behind a field at {at}: {text[at:at + 20]!r}"
            at += 1
            assert at < len(text), "a record without its end"
    assert not row, "a record without its end"
    return rows


text = open(path, "rb").read().decode("utf-8")
rows = rfc4180(text)
assert rows == list(csv.reader(io.StringIO(text, newline=""), strict=True)), "two readers differ"
assert rows[0] == COLUMNS[kind].split(","), f"other columns: {rows[0]}"
number = re.compile(r"-?[0-9]+(\.[0-9]+)?(e-?[0-9]+)?$")
for row in rows[1:]:
    assert len(row) == len(rows[0]), row
    for cell in row:
        assert cell[:1] not in ("=", "+", "-", "@", "\t", "\r") or number.match(cell), f"a formula: {cell!r}"
        assert not any(ord(c) < 32 and c not in "\t\r\n" for c in cell), cell

table = [dict(zip(rows[0], row)) for row in rows[1:]]
if kind == "bom":
    for row in table:
        if row["price_each_low"] and number.match(row["count"]):
            pieces = float(row["count"]) + float(row["spare"] or 0)
            for end in ("low", "high"):
                if row[f"price_each_{end}"] and row["status"] != "dropped":
                    off = float(row[f"price_total_{end}"]) - pieces * float(row[f"price_each_{end}"])
                    assert abs(off) < 0.006 * max(1.0, pieces), row
        assert row["status"] != "dropped" or not (row["price_total_low"] or row["mass_total_kg"]), row
        assert bool(row["price_each_low"] or row["price_each_high"]) <= bool(row["currency"]), row
if kind == "to-buy":
    for row in table:
        assert row["status"] in ("", "not ordered", "wanted", "returned"), row
        if row["price_each_low"] and number.match(row["count"]):
            off = float(row["price_total_low"]) - float(row["count"]) * float(row["price_each_low"])
            assert abs(off) < 0.006 * max(1.0, float(row["count"])), row
        assert bool(row["price_total_low"]) == bool(row["currency"]) == bool(row["boat_total_low"]), row
if kind == "wires":
    labels = [row["label"] for row in table]
    assert len({(row["feed"], row["option"]) for row in table}) == len(table), "a feed stands twice with the same options"
    by_feed = {}
    for row in table:
        by_feed.setdefault(row["feed"], []).append(row["option"])
    assert all(all(options) for options in by_feed.values() if len(options) > 1), "a feed stands twice, once whatever is picked"
    for row in table:
        if number.match(row["run_m"] or "-"):
            assert abs(float(row["length_m"]) - 2 * float(row["run_m"])) < 1e-4 * max(1.0, float(row["run_m"])), row
        assert row["from"] in row["label"] and row["to"] in row["label"], row
print(len(table))
EOF

cat >"$work/formulas.boat" <<'EOF'
edition 1
boat wren "=1+1" { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us }
item plain "@SUM(A1)" { count 3; spare 2; price 4.05 EUR; mass 1..2 kg; link "=HYPERLINK(1)"; serial "-7" }
item quoted "a \"b\", c | d" { price 12..13.5 EUR }
item gone { price 5 EUR; status dropped }
EOF

failed=0
judged=0
for spec in "$root"/specs/*.boat "$root"/specs/heron/heron.boat "$work/formulas.boat"; do
    for kind in check figures bom to-buy wires; do
        case $kind in
        wires)
            "$garboard" book "$spec" -o "$work/book" --as-of 2027-03-01 >"$work/said" 2>"$work/err"
            status=$?
            cp "$work/book/wires.csv" "$work/out.csv" 2>>"$work/err"
            ;;
        to-buy)
            "$garboard" bom "$spec" --to-buy --format csv --as-of 2027-03-01 >"$work/out.csv" 2>"$work/err"
            status=$?
            ;;
        *)
            "$garboard" "$kind" "$spec" --format csv --as-of 2027-03-01 >"$work/out.csv" 2>"$work/err"
            status=$?
            ;;
        esac
        if [ $status -gt 1 ]; then
            echo "$kind $spec: exit status $status"
            cat "$work/err"
            failed=1
        elif ! "$python" "$work/judge.py" "$kind" "$work/out.csv" >"$work/rows"; then
            echo "$kind $spec: see above"
            failed=1
        else
            judged=$((judged + 1))
        fi
    done
    rm -rf "$work/book"
done
"$garboard" bom "$work/formulas.boat" --as-of 2027-03-01 | grep -q "^plain,'@SUM(A1),item," || {
    echo "the title @SUM(A1) is not defused"
    failed=1
}
[ $failed -eq 0 ] && [ $judged -ge 12 ] && echo "[  PASSED  ] $judged test(s)."
