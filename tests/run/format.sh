#!/bin/sh
# `garboard format` as a command: exit statuses, what is printed where, files written whole or not at all. What it must keep
# over every spec of the project is in format.py, over generated ones in format_generated.c. Expects GARBOARD and TESTS_DIR.
set -u
: "${GARBOARD:?}" "${TESTS_DIR:?}"
work=$(mktemp -d) || exit 2
trap 'chmod -R u+w "$work"; rm -rf "$work"' EXIT INT TERM
cd "$work" || exit 2
passed=0
failed=0

right() {
    passed=$((passed + 1))
}

wrong() {
    failed=$((failed + 1))
    echo "---- $1"
    cat out err 2>/dev/null | head -n 5
}

# ends WHAT STATUS COMMAND...: the command ends so; what it prints is in out and err
ends() {
    what=$1 wanted=$2
    shift 2
    "$@" >out 2>err
    status=$?
    if [ "$status" -eq "$wanted" ]; then right; else wrong "$what: exit status $status, not $wanted"; fi
}

# holds FILE TEXT: the file holds that text, its line ends written \n
holds() {
    printf "$2" >wanted
    if cmp -s "$1" wanted; then right; else wrong "$what: $1 is not as it should be: $(cat "$1")"; fi
}

begin() {
    rm -rf ./*
    printf 'item   a {\n count   2\n}\n' >loose.boat
    printf 'item a { count 2 }\n' >tidy.boat
    printf 'item   a {\n' >open.boat
}
tidied='item a { count 2 }\n'
loose='item   a {\n count   2\n}\n'

"$GARBOARD" new wren >starter.boat
ends "a starter is laid out as format does" 0 "$GARBOARD" format --check starter.boat

begin
ends "a file is rewritten" 0 "$GARBOARD" format loose.boat
holds loose.boat "$tidied"
holds out ''
holds err ''

begin
printf 'include "loose.boat"\ninclude "tidy.boat"\n' >whole.boat
ends "what a file includes is not touched, and said" 0 "$GARBOARD" format whole.boat
holds loose.boat "$loose"
holds err 'garboard: not touched, for they are files of their own: loose.boat, tidy.boat (included by whole.boat)\n'
ends "what is named beside it is" 0 "$GARBOARD" format whole.boat loose.boat
holds loose.boat "$tidied"
holds err 'garboard: not touched, for they are files of their own: tidy.boat (included by whole.boat)\n'

begin
ends "--check tells and writes nothing" 1 "$GARBOARD" format --check loose.boat tidy.boat
holds out 'loose.boat\n'
holds loose.boat "$loose"
ends "--check of what is laid out" 0 "$GARBOARD" format --check tidy.boat
holds out ''

begin
ends "several files" 0 "$GARBOARD" format loose.boat tidy.boat
holds loose.boat "$tidied"
holds tidy.boat "$tidied"

begin
before=$(ls -i tidy.boat)
touch -d 2020-01-01 tidy.boat
ends "what is laid out is not written again" 0 "$GARBOARD" format tidy.boat
if [ "$(ls -i tidy.boat)" = "$before" ] && [ -z "$(find tidy.boat -newermt 2020-02-01)" ]; then right; else wrong "$what"; fi

begin
ends "braces that do not balance" 1 "$GARBOARD" format open.boat loose.boat
holds err 'garboard: open.boat:1:10: this block is never closed; it is left as it is\n'
holds open.boat 'item   a {\n'
holds loose.boat "$tidied"
ends "the same with --check" 1 "$GARBOARD" format --check open.boat
holds out ''

begin
ends "a file that is not there" 2 "$GARBOARD" format none.boat loose.boat
holds err 'garboard: cannot read none.boat: there is no such file\n'
holds loose.boat "$tidied"
ends "a folder" 2 "$GARBOARD" format .
ends "the worst counts" 2 "$GARBOARD" format --check none.boat open.boat
ends "no file" 2 "$GARBOARD" format
ends "an option that is not its own" 2 "$GARBOARD" format --with a=b loose.boat
ends "its help" 0 "$GARBOARD" format --help

begin
what="standard input"
"$GARBOARD" format - <loose.boat >out 2>err || wrong "$what"
holds out "$tidied"
holds loose.boat "$loose"
"$GARBOARD" format --check - <loose.boat >out 2>err && wrong "$what is checked"
holds out 'standard-input\n'
"$GARBOARD" format --check --stdin-name wren.boat - <loose.boat >out 2>err && wrong "$what is checked by its name"
holds out 'wren.boat\n'
"$GARBOARD" format --stdin-name wren.boat - <open.boat >out 2>err && wrong "$what that does not balance"
holds out ''
holds err 'garboard: wren.boat:1:10: this block is never closed; it is left as it is\n'
printf '' | "$GARBOARD" format - >out 2>err || wrong "nothing in $what"
holds out ''

begin
ln -s loose.boat link.boat
chmod 640 loose.boat
ends "a link" 0 "$GARBOARD" format link.boat
holds loose.boat "$tidied"
if [ -L link.boat ] && [ -n "$(find loose.boat -perm 640)" ]; then right; else wrong "the link or the mode is gone"; fi

begin
mkdir kept
cp loose.boat kept/loose.boat
chmod 500 kept
if [ "$(id -u)" -ne 0 ]; then
    ends "a folder that cannot be written to" 2 "$GARBOARD" format kept/loose.boat
    holds kept/loose.boat "$loose"
fi
if [ -e /dev/full ]; then
    "$GARBOARD" format - <loose.boat >/dev/full 2>err
    if [ $? -eq 2 ]; then right; else wrong "a full disk goes unnoticed"; fi
    "$GARBOARD" format --check loose.boat >/dev/full 2>err
    if [ $? -eq 2 ]; then right; else wrong "a full disk goes unnoticed by --check"; fi
fi
chmod 700 kept
left=$(find . -type f ! -name out ! -name err ! -name wanted | sort | tr '\n' ' ')
if [ "$left" = './kept/loose.boat ./loose.boat ./open.boat ./tidy.boat ' ]; then right; else wrong "left behind: $left"; fi

begin
printf '\357\273\277item a { count 2 }\r\n' >loose.boat
ends "carriage returns and a byte-order mark" 0 "$GARBOARD" format loose.boat
holds loose.boat "$tidied"

"${PYTHON:-/usr/bin/python3}" "$TESTS_DIR/run/format.py" || failed=$((failed + 1))
[ "$failed" -eq 0 ] || echo "[  FAILED  ] $failed test(s)."
echo "[  PASSED  ] $passed test(s)."
[ "$failed" -eq 0 ]
