/*
 * The examples of the rules, each spoilt in one place: a thing that an option takes away, a kind or a name with a letter too
 * many, in all of the spec or in one option of it.
 *
 * Of each, everything is made that the program can make of a spec. None of it may fall over a thing that is not there, and
 * what an open finding says of an option must be so: where it is said to hold with it, an owner who takes that option does
 * not find it. The oracle is the whole compilation with the option picked.
 *
 * Of every example one mutation is drawn by a chance that is the same every time; with SPOILT_ALL set, all are made.
 */
#include "check.h"
#include "compile.h"

#include "output/book.h"
#include "output/outputs.h"
#include "rules/settle.h"
#include "tools/diff.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_THINGS = 64 };

/* A thing that the text declares: its kind, its name, and the block behind them. */
typedef struct Declared {
    Str kind, name;
    const char *start, *end;
} Declared;

typedef enum Spoiling {
    DROPPED_BY_OPTION,
    KIND_MISTYPED,
    KIND_MISTYPED_IN_OPTION,
    OTHER_KIND_IN_OPTION,
    NAME_MISTYPED,
    LEFT_OUT,
    SPOILINGS
} Spoiling;

/* ---- Where things stand in a text ---- */

static Str word_at(const char *at)
{
    return (Str){at, strspn(at, "abcdefghijklmnopqrstuvwxyz0123456789-")};
}

/* Behind the brace that closes the one that opens here; texts and comments of the examples have none. */
static const char *behind_block(const char *open)
{
    int depth = 0;
    for (const char *at = open; *at != '\0'; at++) {
        depth += *at == '{';
        depth -= *at == '}';
        if (depth == 0) {
            return at + 1;
        }
    }
    return NULL;
}

static bool is_thing(Str kind)
{
    static const char *const others[] = {"boat", "part", "choice", "edition", "waive", "include", "criterion"};
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
        if (str_is(kind, others[i])) {
            return false;
        }
    }
    return kind.length > 0;
}

/* What begins a line of the text as `KIND NAME ... {`. */
static int find_things(const char *text, Declared things[MOST_THINGS])
{
    int count = 0;
    for (const char *line = text; line != NULL && *line != '\0' && count < MOST_THINGS;) {
        Declared d = {.kind = word_at(line), .start = line};
        if (is_thing(d.kind) && line[d.kind.length] == ' ') {
            d.name = word_at(line + d.kind.length + 1);
            const char *open = strpbrk(line, "{\n");
            d.end = open != NULL && *open == '{' ? behind_block(open) : NULL;
            if (d.end != NULL && d.name.length > 0) {
                things[count++] = d;
            }
        }
        line = strchr(line, '\n');
        line = line != NULL ? line + 1 : NULL;
    }
    return count;
}

/* ---- Spoiling one ---- */

static void add_range(Buf *to, const char *from, const char *end)
{
    buf_add(to, (Str){from, (size_t)(end - from)});
}

/* The thing in the first option, and in the second as another kind of that name. */
static void put_in_options(Buf *to, const char *text, const Declared *d, const char *kind)
{
    const char *name_on = d->start + d->kind.length;
    add_range(to, text, d->start);
    buf_text(to, d->end);
    buf_text(to, "\nchoice zz {\n  option keep {\n    ");
    add_range(to, d->start, d->end);
    buf_text(to, "\n  }\n  option away {\n    ");
    if (kind != NULL) {
        buf_format(to, "%s %.*s { mass 1 kg }\n", kind, STR_ARG(d->name));
    } else {
        buf_add(to, d->kind);
        buf_char(to, 'q');
        add_range(to, name_on, d->end);
    }
    buf_text(to, "\n  }\n}\n");
}

static const char *spoil(Arena *arena, const char *text, const Declared *d, Spoiling how)
{
    Buf to;
    buf_init(&to, arena);
    const char *name_end = d->name.text + d->name.length;
    switch (how) {
    case DROPPED_BY_OPTION:
        buf_format(&to, "%s\nchoice zz {\n  option keep { item zz-a { mass 1 kg } }\n  option away { set %.*s.status dropped }\n}\n", text,
                   STR_ARG(d->name));
        break;
    case KIND_MISTYPED:
        add_range(&to, text, d->start + d->kind.length);
        buf_format(&to, "q%s", d->start + d->kind.length);
        break;
    case KIND_MISTYPED_IN_OPTION: put_in_options(&to, text, d, NULL); break;
    case OTHER_KIND_IN_OPTION: put_in_options(&to, text, d, "item"); break;
    case NAME_MISTYPED:
        add_range(&to, text, name_end);
        buf_format(&to, "q%s", name_end);
        break;
    case LEFT_OUT:
    case SPOILINGS:
        add_range(&to, text, d->start);
        buf_text(&to, d->end);
        break;
    }
    return to.text;
}

/* ---- What the program makes of it ---- */

static void make_everything(Compiled *c, Compiled *before)
{
    Arena *arena = &c->arena;
    if (c->outcome->case_count == 0) {
        return;
    }
    settle_findings(c->outcome);
    for (size_t i = 0; i < output_count; i++) {
        Buf to;
        buf_init(&to, arena);
        OutputRequest request = {.argument = str_from(strcmp(outputs[i].name, "why") == 0 ? "wren.mass" : "")};
        outputs[i].write(&to, c->outcome, request);
    }
    BookFile *files;
    assert_true(book_files(arena, c->outcome, &files) > 0);
    Buf to;
    buf_init(&to, arena);
    const Diff *diff = diff_compute(arena, before->outcome, c->outcome);
    diff_text(&to, diff, (Colour){.on = false});
    diff_json(&to, diff);
}

/* Whether an option was said to make it hold. */
static bool holds_with(const Finding *f, const char *option)
{
    for (const Settle *s = f->verdict == VERDICT_OPEN ? f->settles : NULL; s != NULL; s = s->next) {
        for (const SettleWord *w = s->words; w != NULL && strcmp(s->input, "zz") == 0; w = w->next) {
            if (str_is(w->word, option) && w->told == TOLD_HOLDS) {
                return true;
            }
        }
    }
    return false;
}

static unsigned expect_options_hold(const Compiled *c, const char *text)
{
    static const char *const options[] = {"keep", "away"};
    unsigned asked = 0;
    for (int o = 0; o < 2; o++) {
        char pick[16];
        snprintf(pick, sizeof pick, "zz=%s", options[o]);
        Compiled picked = {0};
        for (const Finding *f = c->outcome->findings; f != NULL; f = f->next) {
            if (!holds_with(f, options[o])) {
                continue;
            }
            if (asked++ == 0 || picked.spec == NULL) {
                compile_text_with(&picked, text, NULL, pick);
            }
            const Model *one = outcome_first(c->outcome)->model, *other = outcome_first(picked.outcome)->model;
            for (const Finding *now = picked.outcome->findings; now != NULL; now = now->next) {
                bool same = now->rule == f->rule && same_name(now->subject, other, f->subject, one) &&
                            same_name(now->at, other, f->at, one) && finding_same_matter(now, f);
                if (same) {
                    fail_msg("%s: said to hold with %s, and found: %s\n%s", f->rule->name, pick, now->message, text);
                }
            }
        }
        if (picked.spec != NULL) {
            compile_free(&picked);
        }
    }
    return asked;
}

typedef struct Counts {
    unsigned specs, asked;
} Counts;

static void try_one(Counts *counts, Compiled *before, const char *example, const Declared *thing, Spoiling how)
{
    const char *text = spoil(&before->arena, example, thing, how);
    Compiled c;
    compile_text(&c, text);
    make_everything(&c, before);
    counts->asked += c.outcome->case_count > 1 ? expect_options_hold(&c, text) : 0;
    counts->specs++;
    compile_free(&c);
}

static void try_example(Counts *counts, const char *example, uint64_t *seed)
{
    Declared things[MOST_THINGS];
    int count = find_things(example, things);
    if (count == 0) {
        return;
    }
    Compiled before;
    compile_text(&before, example);
    if (getenv("SPOILT_ALL") == NULL) {
        int thing = random_below(seed, count);
        try_one(counts, &before, example, &things[thing], (Spoiling)random_below(seed, SPOILINGS));
    } else {
        for (int i = 0; i < count * SPOILINGS; i++) {
            try_one(counts, &before, example, &things[i / SPOILINGS], (Spoiling)(i % SPOILINGS));
        }
    }
    compile_free(&before);
}

static void examples_with_one_thing_spoilt_are_judged_and_written(void **state)
{
    (void)state;
    const char *asked = getenv("SPOILT_SEED"); /* another run */
    uint64_t seed = asked != NULL ? strtoull(asked, NULL, 10) : 20270301;
    Counts counts = {0};
    for (size_t f = 0; f < rule_family_count; f++) {
        for (const Rule *rule = rule_families[f]->rules; rule < rule_families[f]->rules + rule_families[f]->count; rule++) {
            const char *examples[] = {rule->breaks, rule->holds, rule->open};
            for (size_t i = 0; i < sizeof examples / sizeof examples[0]; i++) {
                if (examples[i] != NULL) {
                    try_example(&counts, examples[i], &seed);
                }
            }
        }
    }
    printf("%u specs, %u findings that an option settles\n", counts.specs, counts.asked);
    assert_true(counts.specs > 300 && counts.asked > 20);
}

/* ---- Those that were once fallen over ---- */

#define BOAT "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us }\n"

static void what_an_option_takes_away_is_not_judged_again(void **state)
{
    (void)state;
    static const char *const specs[] = {
        BOAT "space room { volume 2 m3; openings 20..900 cm2 }\n"
             "engine motor { rated 20 kW at 3000 rpm; fuel diesel; space room }\n"
             "choice zz { option keep { item a { mass 1 kg } }\n option away { set motor.status dropped } }\n",
        BOAT "space room { volume 2 m3; openings 20..900 cm2 }\n"
             "choice zz { option keep { engine motor { rated 20 kW at 3000 rpm; fuel diesel; space room } }\n"
             " option away { engin motor { rated 30 kW at 3000 rpm; fuel diesel; space room } } }\n",
        BOAT "item stove { discontinued yes }\n"
             "waive no-parts on stove until 2001-06-30 because \"The maker sells on request.\"\n"
             "choice zz { option keep { item pan { mass 1 kg } }\n option away { set stove.status dropped } }\n",
        BOAT "tank fresh { holds fresh; capacity 100 l; vent 16 mm; fill 38 mm }\n"
             "pump spare-pump { from watr; flow 8 l/min; portable yes }\n",
        BOAT "supplier quay { }\nitem stove { supplier yard; deposit 200 EUR; status lost }\n"
             "choice zz { option keep { supplier yard { lead 3 week } }\n option away { item yard { mass 1 kg } } }\n",
    };
    for (size_t i = 0; i < sizeof specs / sizeof specs[0]; i++) {
        Compiled c;
        compile_text(&c, specs[i]);
        make_everything(&c, &c);
        if (c.outcome->case_count > 1) {
            expect_options_hold(&c, specs[i]);
        }
        compile_free(&c);
    }
}

/* Nobody knows what stands there: that is no option with which a rule holds. */
static void an_option_with_a_mistake_is_not_said_to_make_a_rule_hold(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT "space room { volume 2 m3; openings 20..900 cm2 }\n"
                          "choice zz { option keep { engine motor { rated 20 kW at 3000 rpm; fuel diesel; space room } }\n"
                          " option away { engin motor { rated 30 kW at 3000 rpm; fuel diesel; space room } } }\n");
    settle_findings(c.outcome);
    unsigned found = 0;
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        bool of_motor = f->looked_at != NULL && f->looked_at->kind == KIND_ENGINE;
        found += of_motor;
        assert_false(of_motor && holds_with(f, "away"));
    }
    assert_true(found > 0);
    compile_free(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_an_option_takes_away_is_not_judged_again),
        cmocka_unit_test(an_option_with_a_mistake_is_not_said_to_make_a_rule_hold),
        cmocka_unit_test(examples_with_one_thing_spoilt_are_judged_and_written),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
