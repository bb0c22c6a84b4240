#!/bin/sh
# The settings of docs/git.md, taken from the page as they stand and tried in a repository of their own: differences in
# git's own commands, the hook, merging. Expects GARBOARD and TESTS_DIR.

set -u
page=${TESTS_DIR:?the tests folder}/../docs/git.md
work=$(mktemp -d) || exit 2
trap 'rm -rf "$work"' EXIT
passed=0
failed=0

if ! command -v git >/dev/null; then
    echo "git is not installed"
    echo "[  SKIPPED ] 1 test(s)."
    exit 0
fi

# Nothing of the machine's own settings; `garboard` is the program under test.
mkdir -p "$work/bin" "$work/home" "$work/tmp"
ln -s "${GARBOARD:?the program}" "$work/bin/garboard"
PATH=$work/bin:$PATH
HOME=$work/home
XDG_CONFIG_HOME=$work/home
TMPDIR=$work/tmp
GIT_CONFIG_NOSYSTEM=1
GIT_PAGER=cat
SOURCE_DATE_EPOCH=1803859200 # 2027-03-01
export PATH HOME XDG_CONFIG_HOME TMPDIR GIT_CONFIG_NOSYSTEM GIT_PAGER SOURCE_DATE_EPOCH
unset GIT_DIR GIT_WORK_TREE GIT_INDEX_FILE GIT_EXTERNAL_DIFF
git config --global user.name "A Test"
git config --global user.email test@example.invalid
git config --global init.defaultBranch main
git config --global commit.gpgsign false

# The block of the page that follows <!-- NAME -->.
block() {
    awk -v mark="<!-- $1 -->" '
        $0 == mark { found = 1; next }
        found && /^```/ { if (inside) exit; inside = 1; next }
        inside { print }' "$page" >"$work/block"
    if [ ! -s "$work/block" ]; then
        echo "docs/git.md has no block after <!-- $1 -->" >&2
        exit 2
    fi
    cat "$work/block"
}

# expect NAME STATUS WANTED COMMAND...: its exit status, and a line that it prints on either stream.
expect() {
    name=$1 status=$2 wanted=$3
    shift 3
    "$@" >"$work/out" 2>&1 </dev/null
    got=$?
    if [ $got -eq "$status" ] && grep -q -e "$wanted" "$work/out"; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
        echo "---- $name: exit status $got, not $status, or not \`$wanted\`"
        cat "$work/out"
    fi
}

without() {
    if grep -q -e "$2" "$work/out"; then
        failed=$((failed + 1))
        echo "---- $1: \`$2\`"
        cat "$work/out"
    else
        passed=$((passed + 1))
    fi
}

spec() {
    cat <<END
edition 1
boat wren "Wren" {
  length 7.4 m
  beam 2.6 m
  displacement 2400 kg
  crew 2
  currency EUR
  basis iso
}
item stove "Stove" {
  mass 12 kg
  price 300.00 EUR
  system cabin
  note "Two burners."
  because "It is small."
}
END
}

# A commit of everything, past the hook.
commit() {
    git add --all && git commit --quiet --no-verify --message "$1"
}

# ---- a spec of one file ------------------------------------------------------------------------------------------------

git init --quiet "$work/one" && cd "$work/one" || exit 2
block attributes >.gitattributes
spec >wren.boat
commit one
sed -i 's/mass 12 kg/mass 14 kg/; s/"Two burners."/"Two burners and a grill."/' wren.boat
expect 'hunks name the thing' 0 '^@@ .* @@ ' git diff -U0
expect 'the thing' 0 '@@ item stove' git diff -U0

block difftool >"$work/settings" && sh "$work/settings"
expect 'difftool' 0 'mass  *12 kg -> 14 kg' git difftool -t boat HEAD -- wren.boat

block driver-attributes >>.gitattributes
expect 'the attribute alone changes nothing' 0 '^-  mass 12 kg' git diff
block driver >"$work/settings" && sh "$work/settings"
expect 'external diff' 0 'mass  *12 kg -> 14 kg' git diff -- wren.boat
without 'external diff: no lines' '^-  mass'
expect 'external diff: figures' 0 'loaded-mass .*(+2 kg, +17 %)' git diff -- wren.boat
expect 'lines again' 0 '^-  mass 12 kg' git diff --no-ext-diff -- wren.boat
commit two
expect 'two revisions' 0 'mass  *12 kg -> 14 kg' git diff HEAD~1 HEAD -- wren.boat
expect 'the log has lines' 0 '^-  mass 12 kg' git log -p -1
expect 'the log, if asked' 0 'mass  *12 kg -> 14 kg' git log -p -1 --ext-diff
printf '\n# a comment\n' >>wren.boat
expect 'only a comment' 0 '^no difference' git diff -- wren.boat
git checkout --quiet -- wren.boat

block alias >"$work/settings" && sh "$work/settings"
expect 'the alias' 1 'mass  *12 kg -> 14 kg' git boat-diff HEAD~1 wren.boat
expect 'the alias, a folder' 1 'mass  *12 kg -> 14 kg' git boat-diff HEAD~1 .
expect 'the alias, no difference' 0 '^no difference' git boat-diff HEAD wren.boat
expect 'it leaves nothing behind' 0 '^0$' sh -c 'ls "$TMPDIR" | wc -l | tr -d " "'

# ---- the hook ----------------------------------------------------------------------------------------------------------

block hook >.git/hooks/pre-commit
chmod +x .git/hooks/pre-commit
sed -i 's/300.00 EUR/310.00 EUR/' wren.boat
git add wren.boat
expect 'the hook lets a sound spec through' 0 '0 faults' git commit --message 'a price'
sed -i 's/mass 14 kg/mass 14 kgs/' wren.boat
git add wren.boat
expect 'the hook stops a mistake' 1 'wren.boat:11:11: mistake: ' git commit --message 'a mistake'
expect 'nothing was committed' 0 'a price' git log -1 --format=%s
# What lies in the working tree is not what is committed.
sed -i 's/mass 14 kgs/mass 14 kg/' wren.boat
expect 'the hook looks at the index' 1 'mistake' git commit --message 'a mistake'
git add wren.boat
sed -i 's/mass 14 kg/mass 14 kgs/; s/310.00/320.00/' wren.boat
sed 's/mass 14 kgs/mass 14 kg/' wren.boat >"$work/sound"
cp wren.boat "$work/broken"
cp "$work/sound" wren.boat
git add wren.boat
cp "$work/broken" wren.boat
expect 'the hook is not disturbed by the working tree' 0 '0 faults' git commit --message 'another price'
cp "$work/sound" wren.boat

# The layout, of what is staged.
cp wren.boat "$work/tidy"
sed -i 's/  mass 14 kg/    mass   14 kg/' wren.boat
cp wren.boat "$work/loose"
git add wren.boat
expect 'the hook stops another layout' 1 '^wren.boat$' git commit --message 'loose'
expect 'and says what to do' 1 'lay these out first: garboard format' git commit --message 'loose'
cp "$work/tidy" wren.boat
expect 'it looks at the layout in the index' 1 '^wren.boat$' git commit --message 'loose'
sed -i 's/320.00/325.00/' wren.boat
git add wren.boat
cp "$work/loose" wren.boat
expect 'the layout of the working tree does not matter' 0 '0 faults' git commit --message 'a price'
git checkout --quiet -- wren.boat
mkdir 'spare parts'
printf 'item  lamp {\n mass 1 kg }\n' >'spare parts/lamps, old.boat'
git add 'spare parts'
expect 'a name with blanks' 1 '^spare parts/lamps, old.boat$' git commit --message 'a part'
garboard format 'spare parts/lamps, old.boat'
git add 'spare parts'
expect 'a name with blanks, laid out' 0 '0 faults' git commit --message 'a part'
git rm --quiet 'spare parts/lamps, old.boat'
expect 'a file that is gone is not looked at' 0 '0 faults' git commit --message 'no part'
sed -i 's/  mass 14 kg/    mass   14 kg/' wren.boat
expect 'commit -a' 1 '^wren.boat$' git commit --all --message 'loose'
expect 'commit of one file' 1 '^wren.boat$' git commit --message 'loose' -- wren.boat
git checkout --quiet HEAD -- wren.boat

cat >>wren.boat <<'END'
bank house { chemistry agm; voltage 12 V; capacity 100 Ah; resistance 5 mohm; restrained no }
END
garboard format wren.boat
git add wren.boat
expect 'the hook stops a fault' 1 ' fault: ' git commit --message 'a fault'
{
    block hook | sed '$d'
    block hook-mistakes
} >.git/hooks/pre-commit
expect 'or mistakes only' 0 'a fault' git commit --message 'a fault'
sed -i 's/100 Ah/100 Ampere/' wren.boat
git add wren.boat
expect 'and those it stops' 1 'mistake' git commit --message 'a mistake'
git reset --quiet --hard
expect 'the hook leaves nothing behind' 0 '^0$' sh -c 'ls "$TMPDIR" | wc -l | tr -d " "'
rm .git/hooks/pre-commit

git init --quiet "$work/first" && cd "$work/first" || exit 2
spec >wren.boat
block hook >.git/hooks/pre-commit
chmod +x .git/hooks/pre-commit
git add wren.boat
expect 'the hook in the first commit of all' 0 '0 faults' git commit --message 'one'
cd "$work/one" || exit 2

# ---- merging -----------------------------------------------------------------------------------------------------------

git checkout --quiet -b price
sed -i 's/mass 14 kg/mass 15 kg/' wren.boat
commit 'a mass'
git checkout --quiet main
sed -i 's/"It is small."/"It is small and light."/' wren.boat
commit 'a reason'
expect 'two properties of one block' 0 '' git merge --quiet --no-edit price
expect 'both are there' 0 'mass 15 kg' cat wren.boat
expect 'both' 0 'small and light' cat wren.boat
expect 'the merge checks' 1 ' fault' garboard check wren.boat
expect 'what came from the other side' 1 'mass  *14 kg -> 15 kg' git boat-diff HEAD^1 wren.boat

# Neighbouring lines do not merge, as the page says.
git checkout --quiet -b mass-2
sed -i 's/mass 15 kg/mass 16 kg/' wren.boat
commit 'a mass'
git checkout --quiet main
sed -i 's/325.00 EUR/330.00 EUR/' wren.boat
commit 'a price'
expect 'neighbouring lines' 1 'CONFLICT' git merge --no-edit mass-2
git merge --abort

# Unless it is said that a line is a property.
block merge >"$work/settings" && sh "$work/settings"
expect 'the driver alone changes nothing' 1 'CONFLICT' git merge --no-edit mass-2
git merge --abort
block merge-attributes >>.gitattributes
commit 'attributes'
expect 'neighbouring lines, a property a line' 0 '' git merge --quiet --no-edit mass-2
expect 'the one' 0 'mass 16 kg' cat wren.boat
expect 'the other' 0 'price 330.00 EUR' cat wren.boat
expect 'nothing else is in it' 0 '^0$' sh -c 'tr -d "\001" <wren.boat | cmp - wren.boat && garboard format --check wren.boat | wc -l'
expect 'it leaves nothing behind' 0 '^0$' sh -c 'git status --short | wc -l | tr -d " "'
git checkout --quiet -b mass-3
sed -i 's/mass 16 kg/mass 17 kg/' wren.boat
commit 'a mass'
git checkout --quiet main
sed -i 's/mass 16 kg/mass 18 kg/' wren.boat
commit 'another mass'
expect 'one line that both have changed' 1 'CONFLICT' git merge --no-edit mass-3
expect 'is marked as usual' 0 '^<<<<<<< ours' cat wren.boat
expect 'with no marks of the driver' 0 '^0$' sh -c 'tr -d "\001" <wren.boat | cmp - wren.boat && git status --short | grep -v "^UU" | wc -l'
git merge --abort

# ---- a spec of several files -------------------------------------------------------------------------------------------

git init --quiet "$work/many" && cd "$work/many" || exit 2
mkdir -p spec/parts
spec >spec/wren.boat
sed -i '1a include "parts/lamps.boat"' spec/wren.boat
echo 'item lamp { mass 1 kg }' >spec/parts/lamps.boat
commit one
sed -i 's/mass 1 kg/mass 3 kg/' spec/parts/lamps.boat
block alias >"$work/settings" && sh "$work/settings"
expect 'an included file has changed' 1 'mass  *1 kg -> 3 kg' git boat-diff HEAD spec
without 'with its includes' 'mistake'
expect 'in a folder below' 1 'mass  *1 kg -> 3 kg' sh -c 'cd spec/parts && git boat-diff HEAD spec'

echo "[  PASSED  ] $passed test(s)."
if [ "$failed" -gt 0 ]; then
    echo "[  FAILED  ] $failed test(s)."
    exit 1
fi
