# Specs that nobody would write, one sort a name:
#
#   awk -v what=NAME -v n=COUNT [-v seed=SEED] -f generate.awk
#
# Nothing here depends on the awk: no extension, and chance from a generator of our own (Park and Miller's minimal
# standard one, x = 16807 x mod 2^31 - 1, exact in doubles).

function chance(limit) # 0 .. limit - 1
{
    seed = (seed * 16807) % 2147483647
    return seed % limit
}

# At least n bytes of a text again and again, on one line.
function line(before, text, after,    all)
{
    all = text
    while (length(all) < n) {
        all = all all
    }
    printf "%s%s%s\n", before, all, after
}

function boat()
{
    print "boat wren { length 7.4 m; beam 2.6 m; crew 2; currency EUR; basis iso; sails no }"
}

function circuit(i, giver)
{
    printf "circuit c%d { fed-by %s; run 1 m; wire 2.5 mm2; protect 10 A breaker }\n", i, giver
}

BEGIN {
    seed = seed == "" ? 1 : seed
    bank = "bank house { chemistry agm; voltage 12 V; capacity 100 Ah }"

    if (what == "braces-on-a-line") {
        line("item a {", "{", "")
    } else if (what == "closing-braces-on-a-line") {
        line("", "}", "")
    } else if (what == "text-open") {
        boat(); line("item a { note \"", "on and on ", "")
    } else if (what == "word") {
        boat(); line("item ", "abcdefghij", " { mass 1 kg }")
    } else if (what == "strange-line") {
        line("", "~=", "")
    } else if (what == "garbage") {
        for (i = 0; i < n; i++) {
            printf "%c%c %d %c %c\n", 97 + chance(26), 97 + chance(26), i, 33 + chance(90), 33 + chance(90)
        }
    } else if (what == "long-texts-open") {
        for (i = 0; i < n; i++) printf "item a%d {\n  note \"\"\"\n}\n", i
    } else if (what == "unknown-properties") {
        boat(); print "item a {"
        for (i = 0; i < n; i++) printf "qwertz%d 5\n", i
        print "}"
    } else if (what == "one-name") {
        boat()
        for (i = 0; i < n; i++) print "item a { mass 1 kg }"
    } else if (what == "feeds-backwards") {
        boat(); print bank
        for (i = n - 1; i > 0; i--) circuit(i, "c" (i - 1))
        circuit(0, "house")
    } else if (what == "jobs") {
        boat()
        for (i = 0; i < n; i++) printf "job j%d { takes 1 d; after j%d }\n", i, i + 1
        printf "job j%d { takes 1 d }\n", n
    } else if (what == "jobs-loop") {
        boat()
        for (i = 0; i < n; i++) printf "job j%d { takes 1 d; after j%d }\n", i, (i + 1) % n
    } else if (what == "hoses") {
        boat()
        for (i = 0; i < n; i++) printf "hose h%d { from h%d; to h%d; bore 13 mm; run 1 m }\n", i, (i + 1) % n, (i + 2) % n
    } else if (what == "choices") {
        boat()
        for (i = 0; i < n; i++) {
            printf "choice q%d {\n", i
            for (j = 0; j < 4; j++) {
                printf "  option o%d { item t%d { mass %d kg; price %d EUR }; set wren.crew %d }\n", j, i, j + 1, j, j + 1
            }
            print "}"
        }
    } else if (what == "bytes") {
        for (i = 0; i < n; i++) printf "%c", chance(256)
    } else {
        print "there is nothing called " what > "/dev/stderr"
        exit 2
    }
}
