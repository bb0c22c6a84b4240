#!/bin/sh
# Calendar arithmetic against the system's `date`: when service falls due after so many days, weeks, months and years. Days
# of the month up to the 28th, for `date` itself carries a longer month's end into the next one.
set -u

garboard=${GARBOARD:?the program}
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT

if [ "$(date -u -d '2024-02-28 + 1 day' +%F 2>/dev/null)" != 2024-02-29 ]; then
    echo "the system's date does not reckon"
    echo "[  SKIPPED ] 1 test(s)."
    exit 0
fi
{
    echo 'edition 1'
    echo 'boat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us }'
} >"$work/wren.boat"
number=0
for last in 1999-12-28 2000-02-28 2023-02-27 2024-02-28 2026-01-01 2026-10-04 2027-03-15 2099-11-28; do
    for every in '1 day' '45 day' '2 week' '26 week' '1 month' '5 month' '12 month' '18 month' '1 year' '4 year'; do
        number=$((number + 1))
        echo "item thing-$number { service every $every \"Look\" last $last }" >>"$work/wren.boat"
        echo "thing-$number,$(date -u -d "$last + $every" +%F)" >>"$work/wanted"
    done
done
"$garboard" figures --format csv "$work/wren.boat" --as-of 2027-03-01 | tr -d '\r' |
    awk -F, '$2 == "service-due" { print $1 "," $3 }' >"$work/found"
if ! diff "$work/wanted" "$work/found"; then
    echo "these days are not those of the system's date"
    echo "[  FAILED  ] 1 test(s)."
    exit 1
fi
echo "[  PASSED  ] 1 test(s)."
