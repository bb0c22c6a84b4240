#!/bin/sh
# Currency codes against the list of ISO 4217 that the system's package of ISO codes carries (Debian: iso-codes): each is read,
# as the boat's own and with a rate. What has not its form, three capitals, is a mistake. Without the list that part is skipped.
set -u
garboard=${GARBOARD:?the program}
python=${PYTHON:-python3}
list=${ISO_4217:-/usr/share/iso-codes/json/iso_4217.json}
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
failed=0
passed=0

boat() {
    echo "edition 1"
    echo "boat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency $1; basis us }"
}

# is CODE YES-OR-NO: whether it is read as a boat's currency
is() {
    boat "$1" >"$work/one.boat"
    "$garboard" figures "$work/one.boat" --as-of 2027-03-01 >/dev/null 2>"$work/err"
    read=yes
    grep -q 'mistake' "$work/err" && read=no
    if [ "$read" = "$2" ]; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
        echo "\`$1\`: read is $read"
        cat "$work/err"
    fi
}
for code in eur EU EURO E1R; do is "$code" no; done

if [ -f "$list" ]; then
    codes=$("$python" -c 'import json, sys; print(*[c["alpha_3"] for c in json.load(open(sys.argv[1]))["4217"]])' "$list")
    set -- $codes
    [ $# -gt 150 ] || { echo "only $# codes in $list"; failed=$((failed + 1)); }
    {
        echo "edition 1"
        echo "boat wren {"
        echo "  length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us"
        for code in $codes; do [ "$code" = EUR ] || [ "$code" = AWG ] || echo "  rate 2 $code per EUR"; done
        echo "}"
        for code in $codes; do [ "$code" = AWG ] || echo "item thing-$code { price 10 $code }"; done
    } | sed 's/; /\n  /g' >"$work/all.boat"
    "$garboard" bom "$work/all.boat" --to-buy --format csv --as-of 2027-03-01 >"$work/out" 2>"$work/err"
    for code in $codes; do
        [ "$code" = AWG ] && continue # a wire gauge in this language, before the florin of Aruba
        worth=5.00
        [ "$code" = EUR ] && worth=10.00
        if grep -q ",10.00,10.00,10.00,10.00,$code,,$worth,$worth,EUR," "$work/out"; then
            passed=$((passed + 1))
        else
            failed=$((failed + 1))
            echo "\`$code\` is not read, or not told as it was written"
        fi
    done
else
    echo "skipped: there is no $list"
fi
[ "$failed" -eq 0 ] || { head -5 "$work/err"; echo "[  FAILED  ] $failed test(s)."; }
echo "[  PASSED  ] $passed test(s)."
[ "$failed" -eq 0 ]
