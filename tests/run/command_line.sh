#!/bin/sh
# The command line as an owner, a shell script and a build server use it: exit statuses, colour, values that are tried, more
# reports beside, standard input, links where outputs go, and that nothing but the spec and the options decides what is
# printed. What cannot be written is in bad_output.sh. Expects GARBOARD and TESTS_DIR.
set -u
: "${GARBOARD:?}" "${TESTS_DIR:?}"
work=$(mktemp -d) || exit 2
trap 'rm -rf "$work"' EXIT INT TERM
cd "$work" || exit 2
today='--as-of 2027-03-01'
heron=$TESTS_DIR/../specs/heron/heron.boat
passed=0
failed=0
unset NO_COLOR SOURCE_DATE_EPOCH

right() {
    passed=$((passed + 1))
}

wrong() {
    failed=$((failed + 1))
    echo "---- $1"
    [ $# -lt 2 ] || head -n 5 "$2" | cut -c 1-200
}

# ends WHAT STATUS COMMAND...: the command ends so; what it prints is in out and err
ends() {
    what=$1 wanted=$2
    shift 2
    "$@" >out 2>err
    status=$?
    if [ "$status" -eq "$wanted" ]; then right; else wrong "$what: exit status $status, not $wanted" err; fi
}

# says WORDS [FILE]: the last command printed them there
says() {
    if grep -q -e "$1" "${2:-out}"; then right; else wrong "$what: \`$1\` is not in ${2:-out}:" "${2:-out}"; fi
}

says_not() {
    if grep -q -e "$1" "${2:-out}"; then wrong "$what: \`$1\` is in ${2:-out}"; else right; fi
}

silent() {
    if [ -s "$1" ]; then wrong "$what: something is in $1:" "$1"; else right; fi
}

same() {
    if cmp -s "$2" "$3"; then right; else wrong "$1: $2 and $3 differ"; fi
}

# Specs in which nothing is wrong; a warning; a fault; a mistake.
cp -r "$TESTS_DIR/wrong/with" .
sound=with/whole.boat
printf 'include "with/boat.boat"\nitem old { price 5 EUR; promised 2027-01-02; ordered 2026-12-01 }\n' >warning.boat
printf 'include "with/boat.boat"\nload lamp { draw 1 A }\n' >fault.boat
printf 'include "with/boat.boat"\nitem lamp { mass 1 amp }\n' >mistake.boat

# Exit statuses
ends "nothing wrong" 0 "$GARBOARD" check $sound $today; says '^0 faults, 0 warnings$'; silent err
ends "a warning" 0 "$GARBOARD" check warning.boat $today; says '1 warning'
ends "a warning, strictly" 1 "$GARBOARD" check warning.boat $today --strict; says 'warnings count as faults'
ends "a fault" 1 "$GARBOARD" check fault.boat $today; says '1 fault'
ends "a mistake" 1 "$GARBOARD" check mistake.boat $today; says '^1 mistake'
ends "figures in spite of a mistake" 1 "$GARBOARD" figures mistake.boat $today
says 'unit-unknown' err; says 'rests on a spec with mistakes' err; says_not 'unit-unknown'
ends "a bill of materials in spite of a mistake" 1 "$GARBOARD" bom mistake.boat $today; says 'unit-unknown' err
ends "a book in spite of a mistake" 1 "$GARBOARD" book mistake.boat $today -o wrong-book; says 'unit-unknown' err
ends "figures of a spec with a fault" 0 "$GARBOARD" figures fault.boat $today; silent err
ends "a working" 0 "$GARBOARD" why $sound wren.mass $today
ends "help" 0 "$GARBOARD" --help; says 'garboard check'; silent err
ends "help of a command" 0 "$GARBOARD" check --help; says '--strict'; says_not '-o PATH'
says 'text, json, sarif or csv$'; says_not 'markdown'
ends "help of all" 0 "$GARBOARD" -h; says 'garboard check'; says 'text, json, sarif or csv (check); .*markdown (rules, kinds)$'; silent err
ends "help of a command in short" 0 "$GARBOARD" bom -h; says '--to-buy'; says_not '--strict'
ends "help asked for in a word" 0 "$GARBOARD" help; says 'garboard check'; silent err
ends "help of a command in a word" 0 "$GARBOARD" help book; says '^garboard book'; says_not '--strict'
ends "help of no command" 2 "$GARBOARD" help nix; says 'no command `nix`' err
ends "the version" 0 "$GARBOARD" --version; says '^garboard [0-9]'
ends "an option given twice" 2 "$GARBOARD" check $sound $today $today; says 'given twice' err; silent out
ends "an option without its value" 2 "$GARBOARD" check $sound --as-of; says 'needs a value' err
ends "a flag with a value" 2 "$GARBOARD" check $sound --strict=yes; says 'takes no value' err
ends "too many arguments" 2 "$GARBOARD" check $sound fault.boat; says 'too much' err
ends "too few" 2 "$GARBOARD" why $sound; says 'something is missing' err
ends "an option before its command" 0 "$GARBOARD" --as-of 2027-03-01 check $sound
ends "a value behind an equals sign" 0 "$GARBOARD" check $sound --as-of=2027-03-01
ends "arguments only, behind two dashes" 2 "$GARBOARD" check -- --strict; says 'no such file' err
ends "an unknown format" 2 "$GARBOARD" check $sound $today --format yaml; silent out
ends "an unknown colour" 2 "$GARBOARD" check $sound $today --color sometimes; says 'auto, always or never' err

# Colour
escape=$(printf '\033')
ends "colour by itself, not on a terminal" 1 "$GARBOARD" check fault.boat $today; says_not "$escape"; mv out plain
ends "colour always" 1 "$GARBOARD" check fault.boat $today --color always; says "$escape"
sed "s/$escape\[[0-9;]*m//g" out >stripped
same "colour says nothing more" plain stripped
ends "colour never" 1 "$GARBOARD" check fault.boat $today --color never; says_not "$escape"
ends "colour asked for wins over NO_COLOR" 1 env NO_COLOR=1 "$GARBOARD" check fault.boat $today --color always
says "$escape"
if command -v script >/dev/null; then
    script -qec "TERM=xterm '$GARBOARD' check fault.boat $today" /dev/null >out 2>err </dev/null
    what="on a terminal"; says "$escape"
    script -qec "TERM=xterm NO_COLOR=1 '$GARBOARD' check fault.boat $today" /dev/null >out 2>err </dev/null
    what="on a terminal, with NO_COLOR"; says_not "$escape"
    script -qec "TERM=dumb '$GARBOARD' check fault.boat $today" /dev/null >out 2>err </dev/null
    what="on a terminal without colours"; says_not "$escape"
fi
ends "no colour in other formats" 1 "$GARBOARD" check fault.boat $today --color always --format json
says_not "$escape"

# Lists of the bill of materials
printf 'include "with/boat.boat"\nsupplier shop\nspace loft\nitem old { price 5 EUR; supplier shop; space loft }\n' >wanted.boat
ends "a shopping list" 0 "$GARBOARD" bom wanted.boat $today --to-buy; says '^  \[ \]  1  item old  *5.00 EUR$'; silent err
ends "a shopping list as CSV" 0 "$GARBOARD" bom wanted.boat $today --to-buy --format csv; says '^shop,,,old,,item,'
ends "a bill by supplier" 0 "$GARBOARD" bom wanted.boat $today --by supplier; says '^shop$'
ends "what stands in one space" 0 "$GARBOARD" bom wanted.boat loft $today; says '^old,'; says_not '^lamps,'
ends "the list of a thing that has none" 2 "$GARBOARD" bom wanted.boat old $today; says 'neither a space nor a supplier' err
ends "the list of nothing" 2 "$GARBOARD" bom wanted.boat lofft $today; says 'did you mean `loft`' err; silent out
ends "an unknown grouping" 2 "$GARBOARD" bom wanted.boat $today --by colour; says 'system, supplier or space' err
ends "two groupings" 2 "$GARBOARD" bom wanted.boat $today --to-buy --by space; says 'takes no `--by`' err

# Values that are tried
ends "a value that is tried" 0 "$GARBOARD" figures $sound wren $today --set lamps.mass='2 kg' --set house.mass='50 kg'
says '^tried with lamps.mass=2 kg$'; says '^tried with house.mass=50 kg$'
ends "it is told to other programs" 0 "$GARBOARD" check $sound $today --set lamps.mass='2 kg' --format json
says '"lamps.mass 2 kg"'
ends "beside a CSV, which has no place for it" 0 "$GARBOARD" bom $sound $today --set lamps.mass='2 kg'
says '^garboard: tried with lamps.mass=2 kg$' err; says_not 'tried'
ends "in SARIF, as a property of the run" 0 "$GARBOARD" check $sound $today --set lamps.mass='2 kg' --format sarif
says '"lamps.mass 2 kg"'; silent err
ends "and in the book" 0 "$GARBOARD" book $sound $today --set lamps.mass='2 kg' -o tried-book
says 'It was made with: `lamps.mass 2 kg`' tried-book/book.md
ends "a figure as it is" 0 "$GARBOARD" figures $sound water-tank $today --format csv; says '^water-tank,volume,120,120,l,'
ends "it changes with a value" 0 "$GARBOARD" figures $sound water-tank $today --format csv --set water-tank.capacity='200 l'
says '^water-tank,volume,200,200,l,'
ends "a value with a mistake" 2 "$GARBOARD" check $sound $today --set house.mass='50 l'; says 'unit-other'
for path in feeds feeds.positive; do
    ends "a value of the cable of what charges" 0 "$GARBOARD" figures "$heron" main-alternator $today \
        --with engine-size=lean --set main-alternator.$path.wire='50 mm2'
    says 'wire-size@positive *50 mm2'
done
ends "a value of nothing" 2 "$GARBOARD" check $sound $today --set hose.mass='50 kg'; says 'unknown-name'
for more in '50 kg; count 5' '50 kg } load lamp {' '50 kg # in all'; do
    ends "a value with more behind it" 2 "$GARBOARD" check $sound $today --set "house.mass=$more"; says 'it takes one value' err
done
ends "a value without its form" 2 "$GARBOARD" check $sound $today --set house; says 'THING.PROPERTY=VALUE' err
ends "an option that is set" 2 "$GARBOARD" check $sound $today --set galley=gas; says 'with CHOICE=OPTION' err
ends "an option of no choice" 2 "$GARBOARD" check $sound $today --with galley=gas; silent out
says '`--with galley=gas`: the spec has no choice of that name$' err
cat >refund.boat <<'END'
include "with/boat.boat"
choice cook { option small { item stove { price 500 EUR } }
  option big { item stove { price 900 EUR; ordered 2027-02-01 } }
}
waive bought-before-chosen on stove until 2027-10-01 because "Refundable."
END
ends "a waiver that one option alone needs" 0 "$GARBOARD" check refund.boat $today; says_not 'waiver-idle'
ends "another option tried" 0 "$GARBOARD" check refund.boat $today --with cook=small; says_not 'waiver-idle'
ends "a choice by another name" 2 "$GARBOARD" check refund.boat $today --with cooks=small
says 'no choice of that name; it has `cook`$' err
ends "an option by another name" 2 "$GARBOARD" book refund.boat $today --with cook=large -o large-book
says 'no option of that name; it has `small` or `big`$' err; test ! -e large-book
ends "an option of one of two" 2 "$GARBOARD" diff refund.boat $today --with-old cook=small --with-new cook=large; silent out
printf 'include "with/boat.boat"\nchoice cook { option small { }; option 2 { } }\n' >broken-option.boat
ends "an option that a mistake may hide" 1 "$GARBOARD" check broken-option.boat $today --with cook=large
says '^asked for: --with cook=large$'; says 'pick-unknown'
ends "a choice without its form" 2 "$GARBOARD" check $sound $today --with engine; says 'CHOICE=OPTION' err
ends "a figure by its speed" 0 "$GARBOARD" why "$heron" 'main-engine.needed-power@6 kn' $today --with engine-size=lean
says '^main-engine.needed-power@passage = '; says '^main-engine.needed-power@reach = '
ends "a figure by a speed that nothing speaks of" 2 "$GARBOARD" why "$heron" main-engine.needed-power@7kn $today --with engine-size=lean
says 'no figure `needed-power@7kn`; it has `needed-power@passage`, `needed-power@reach`$' err
ends "the day" 0 "$GARBOARD" check warning.boat --as-of 2026-12-31; says ' 0 warnings'
ends "the day, by SOURCE_DATE_EPOCH" 0 env SOURCE_DATE_EPOCH=1798675200 "$GARBOARD" check warning.boat
says ' 0 warnings' # 2026-12-31
ends "the option wins over it" 0 env SOURCE_DATE_EPOCH=1798675200 "$GARBOARD" check warning.boat $today; says '1 warning'
ends "no number of seconds" 2 env SOURCE_DATE_EPOCH=tomorrow "$GARBOARD" check $sound; says 'SOURCE_DATE_EPOCH' err

# A file that an editor saved with two bytes a letter
printf '\377\376i\0t\0e\0m\0 \0a\0\n\0' >utf16.boat
ends "a spec in UTF-16" 1 "$GARBOARD" check utf16.boat $today; says 'this file is UTF-16'; says '^1 mistake, '

# Options side by side
ends "nothing to compare" 0 "$GARBOARD" compare $sound $today; says '^nothing to compare: '; silent err
"$GARBOARD" new wren >options.boat
cat >>options.boat <<'END'
choice stove-kind {
  option gas { item gas-stove { price 400 EUR; mass 9 kg } }
  option spirit { item spirit-stove { price 300 EUR; mass 9 kg } }
}
END
ends "two options" 0 "$GARBOARD" compare options.boat $today; says '^stove-kind$'; says '[0-9] EUR, best'; silent err
says '`gas` is dominated by `spirit`'
ends "two options as CSV" 0 "$GARBOARD" compare options.boat $today --format csv; says '^stove-kind,spirit,cost,'
ends "a choice decided for the run" 0 "$GARBOARD" compare options.boat $today --with stove-kind=gas
says '^decided for this run: stove-kind=gas$'; says '^nothing to compare: '
ends "a choice decided, for other programs" 0 "$GARBOARD" compare options.boat $today --with stove-kind=gas --format json
says '"stove-kind=gas"'
ends "options in colour" 0 "$GARBOARD" compare options.boat $today --color always; says "$escape"
ends "options in no format" 2 "$GARBOARD" compare options.boat $today --format sarif; silent out
ends "options of a spec with a mistake" 1 "$GARBOARD" compare mistake.boat $today

# Reports beside
ends "three reports" 1 "$GARBOARD" check fault.boat $today --report json:a.json --report sarif:a.sarif --report csv:a.csv
mv out plain
for format in json sarif csv; do
    "$GARBOARD" check fault.boat $today --format $format >out
    same "the report as $format" a.$format out
done
"$GARBOARD" check fault.boat $today >out
same "what goes to the terminal beside" plain out
ends "a report without its file" 2 "$GARBOARD" check $sound $today --report json; says 'FORMAT:FILE' err
ends "a report in no format" 2 "$GARBOARD" check $sound $today --report yaml:a.yaml
if [ -e a.yaml ]; then wrong "a report in no format left a file"; else right; fi

# Standard input
"$GARBOARD" check fault.boat $today >plain
ends "from standard input, under its name" 1 sh -c "'$GARBOARD' check - --stdin-name fault.boat $today <fault.boat"
same "it is as from the file" plain out
ends "from standard input, under no name" 1 sh -c "'$GARBOARD' check - $today <fault.boat"; says '^standard-input:2:'
ends "includes are found beside the name" 1 sh -c "cd / && '$GARBOARD' check - --stdin-name '$work/fault.boat' $today <'$work/fault.boat'"
says_not 'file-unreadable'
mkfifo pipe
cat fault.boat >pipe &
ends "a pipe for a spec" 1 "$GARBOARD" check pipe $today; says 'unpowered'
wait

# Links where outputs go
mkdir real
ln -s real link
ends "a book into a linked folder" 0 "$GARBOARD" book $sound $today -o link
ends "lies where the link leads" 0 test -f real/book.md
mkdir linked; echo precious >precious; ln -s ../precious linked/book.md
ends "a link in place of a file of the book" 2 "$GARBOARD" book $sound $today -o linked; says 'book.md' err
ends "what it leads to is as it was" 0 grep -qx precious precious
ln -s nowhere loose
ends "a link to nothing" 2 "$GARBOARD" book $sound $today -o loose
ends "nothing was made where it leads" 1 test -e nowhere
ln -s nowhere loose.boat
ends "a starter where a link is" 2 "$GARBOARD" new tern -o loose.boat; says 'there already' err
ends "nothing was made there either" 1 test -e nowhere
ends "a starter" 0 "$GARBOARD" new tern -o tern.boat
ends "not twice" 2 "$GARBOARD" new tern -o tern.boat; says 'there already' err
ends "the starter checks" 0 "$GARBOARD" check tern.boat $today --strict
ends "a starter without a name for it" 2 "$GARBOARD" new 'not a name'; silent out

# The same from everywhere
cp -r "$TESTS_DIR/../specs/heron" heron
(cd heron && "$GARBOARD" check heron.boat $today --color never) >here
(cd / && "$GARBOARD" check "$work/heron/heron.boat" $today --color never) | sed "s|$work/heron/||g" >afar
(cd with && "$GARBOARD" check ../heron/heron.boat $today --color never) | sed 's|\.\./heron/||g' >beside
same "a check from the folder and from the root" here afar
same "a check from the folder and from beside" here beside
for run in one two; do
    "$GARBOARD" book heron/heron.boat $today -o "book-$run" >/dev/null 2>&1
done
ends "two books are one" 0 diff -r book-one book-two
comma=$(locale -a 2>/dev/null | grep -m 1 -E '^(de|fr|nl|da|sv|it|es)_') || comma=de_DE.UTF-8
LC_ALL=$comma LANG=$comma TZ=Pacific/Auckland "$GARBOARD" book heron/heron.boat $today -o book-comma >/dev/null 2>&1
ends "a book where numbers have commas ($comma)" 0 diff -r book-one book-comma
ends "nothing of this machine is in the book" 1 grep -r -q "$work" book-one
"$GARBOARD" figures "$heron" $today --format json >one
env -i "$GARBOARD" figures "$heron" $today --format json >two
same "without any environment" one two

[ "$failed" -eq 0 ] || echo "[  FAILED  ] $failed test(s)."
echo "[  PASSED  ] $passed test(s)."
[ "$failed" -eq 0 ]
