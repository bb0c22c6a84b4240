/* See command_options.h. Long options are spelled out: no abbreviations; near misses are named. */
#include "command_options.h"

#include "language/suggest.h"

#include <setjmp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const CommandRow command_rows[COMMAND_COUNT] = {
    [COMMAND_CHECK] = {"check", "SPEC", "what is broken, what is open, what cannot be judged yet", 1, 1},
    [COMMAND_BOOK] = {"book", "SPEC -o DIR", "writes the build book with its pictures and lists", 1, 1},
    [COMMAND_BOM] = {"bom", "SPEC [NAME]", "the bill of materials, or of one space or supplier, or what is left to buy", 1, 2},
    [COMMAND_FIGURES] = {"figures", "SPEC [SUBJECT]", "every computed number, or those of one thing", 1, 2},
    [COMMAND_WHY] = {"why", "SPEC SUBJECT.FIGURE", "the working of one number", 2, 2},
    [COMMAND_COMPARE] = {"compare", "SPEC", "the open choices side by side: what each option does to the boat", 1, 1},
    [COMMAND_DIFF] = {"diff", "OLD NEW", "what differs: things, figures, money and findings", 1, 2},
    [COMMAND_FORMAT] = {"format", "SPEC...", "rewrites each file in its canonical layout", 1, COMMAND_MANY},
    [COMMAND_RULES] = {"rules", "[RULE]", "the rules, or all about one", 0, 1},
    [COMMAND_KINDS] = {"kinds", "[KIND]", "the language's own manual, or all about one kind of thing", 0, 1},
    [COMMAND_NEW] = {"new", "NAME", "prints a starter spec that checks, or one made of a spreadsheet", 1, 1},
};

enum { ON_OUTPUT = 1 << COMMAND_BOM | 1 << COMMAND_FIGURES | 1 << COMMAND_WHY | 1 << COMMAND_COMPARE };
enum { ON_SPEC = 1 << COMMAND_CHECK | 1 << COMMAND_BOOK | ON_OUTPUT };
enum { ON_SPECS = ON_SPEC | 1 << COMMAND_DIFF };
enum { ON_MANUAL = 1 << COMMAND_RULES | 1 << COMMAND_KINDS };

/* What --format takes. */
static const struct {
    unsigned commands; /* bit n: command n */
    const char *words;
    const char *called; /* the commands */
} formats[] = {
    {1 << COMMAND_CHECK, "text, json, sarif or csv", "check"},
    {1 << COMMAND_FIGURES | 1 << COMMAND_COMPARE, "text, json or csv", "figures, compare"},
    {1 << COMMAND_BOM, "csv or text", "bom"},
    {1 << COMMAND_DIFF, "text or json", "diff"},
    {1 << COMMAND_RULES | 1 << COMMAND_KINDS, "text or markdown", "rules, kinds"},
};
enum { FORMATS = sizeof formats / sizeof formats[0] };

typedef enum OptionKind { OPTION_TEXT, OPTION_TEXTS, OPTION_FLAG } OptionKind;

typedef struct OptionRow {
    const char *word;
    const char *value;  /* what follows it, in capitals; NULL for a flag */
    const char *help;   /* NULL: by formats */
    unsigned commands;  /* bit n: command n takes it; 0: all */
    OptionKind kind;
    size_t offset;      /* in Options */
} OptionRow;

static const OptionRow option_rows[] = {
    {"--with", "CHOICE=OPTION", "decides a choice for this run; may repeat", ON_SPECS, OPTION_TEXTS, offsetof(Options, with)},
    {"--with-old", "CHOICE=OPTION", "decides a choice of the old spec alone; may repeat", 1 << COMMAND_DIFF, OPTION_TEXTS,
     offsetof(Options, with_old)},
    {"--with-new", "CHOICE=OPTION", "decides a choice of the new spec alone; may repeat", 1 << COMMAND_DIFF, OPTION_TEXTS,
     offsetof(Options, with_new)},
    {"--set", "THING.PROPERTY=VALUE", "tries a value without editing; may repeat", ON_SPEC, OPTION_TEXTS,
     offsetof(Options, set)},
    {"--as-of", "DATE", "judges by this day (else SOURCE_DATE_EPOCH, else today)", ON_SPECS, OPTION_TEXT,
     offsetof(Options, as_of)},
    {"--as-of-old", "DATE", "judges the old spec by that day, and the new one by today or --as-of", 1 << COMMAND_DIFF, OPTION_TEXT,
     offsetof(Options, as_of_old)},
    {"--basis", "us|iso", "judges by this basis instead of the boat's own", ON_SPECS, OPTION_TEXT, offsetof(Options, basis)},
    {"--strict", NULL, "warnings count as faults", 1 << COMMAND_CHECK, OPTION_FLAG, offsetof(Options, strict)},
    {"--format", "FORMAT", NULL,
     1 << COMMAND_CHECK | 1 << COMMAND_FIGURES | 1 << COMMAND_BOM | 1 << COMMAND_COMPARE | 1 << COMMAND_DIFF | ON_MANUAL,
     OPTION_TEXT, offsetof(Options, format)},
    {"--to-buy", NULL, "only what is left to buy: a shopping list by supplier, as text", 1 << COMMAND_BOM, OPTION_FLAG,
     offsetof(Options, to_buy)},
    {"--by", "WHAT", "groups the bill of materials by system, supplier or space, as text", 1 << COMMAND_BOM, OPTION_TEXT,
     offsetof(Options, by)},
    {"--report", "FORMAT:FILE", "writes another format to a file beside; may repeat", 1 << COMMAND_CHECK, OPTION_TEXTS,
     offsetof(Options, reports)},
    {"--color", "auto|always|never", "colour on the terminal; NO_COLOR is honoured", 0, OPTION_TEXT, offsetof(Options, color)},
    {"--stdin-name", "PATH", "what standard input (`-`) is called, and where its includes are found",
     ON_SPECS | 1 << COMMAND_FORMAT, OPTION_TEXT,
     offsetof(Options, stdin_name)},
    {"--from", "FILE", "makes the spec of a table of things, as comma-separated values", 1 << COMMAND_NEW, OPTION_TEXT,
     offsetof(Options, from)},
    {"--column", "PROPERTY=HEADING", "what a column of that table holds, such as `price=Cost each`; may repeat",
     1 << COMMAND_NEW, OPTION_TEXTS, offsetof(Options, columns)},
    {"-o", "PATH", "the folder of the book; the file of a starter", 1 << COMMAND_BOOK | 1 << COMMAND_NEW, OPTION_TEXT,
     offsetof(Options, output)},
    {"--check", NULL, "only tells which files are stale (book), or would be laid out anew (format)",
     1 << COMMAND_BOOK | 1 << COMMAND_FORMAT, OPTION_FLAG,
     offsetof(Options, check)},
    {"--help", NULL, "this; `-h` too", 0, OPTION_FLAG, offsetof(Options, help)},
    {"--version", NULL, "the version of the program", 0, OPTION_FLAG, offsetof(Options, version)},
};
enum { OPTION_COUNT = sizeof option_rows / sizeof option_rows[0] };

static bool takes(const OptionRow *row, CommandId command)
{
    return row->commands == 0 || row->commands & 1u << command;
}

/* "did you mean" for a word of the command line; the few bytes that it needs come from an arena of its own. */
static void tell_near(const char *word, const char *const *words, size_t count)
{
    Arena arena;
    jmp_buf failure;
    arena_init(&arena, allocator_standard(), &failure);
    if (setjmp(failure) == 0) {
        Suggestions near = suggest_begin(str_from(word));
        for (size_t i = 0; i < count; i++) {
            suggest_offer(&near, str_from(words[i]));
        }
        Buf text;
        buf_init(&text, &arena);
        if (suggest_write(&text, &near)) {
            fprintf(stderr, "garboard: did you mean %s?\n", text.text);
        }
    }
    arena_free(&arena);
}

static CommandId find_command(const char *word)
{
    const char *words[COMMAND_COUNT];
    size_t count = 0;
    for (int c = COMMAND_NONE + 1; c < COMMAND_COUNT; c++) {
        words[count++] = command_rows[c].word;
        if (strcmp(command_rows[c].word, word) == 0) {
            return (CommandId)c;
        }
    }
    fprintf(stderr, "garboard: there is no command `%s`\n", word);
    tell_near(word, words, count);
    fprintf(stderr, "garboard: see `garboard --help`\n");
    return COMMAND_NONE;
}

static const OptionRow *find_option(const char *word, size_t length)
{
    const char *words[OPTION_COUNT];
    for (int i = 0; i < OPTION_COUNT; i++) {
        words[i] = option_rows[i].word;
        if (strlen(words[i]) == length && strncmp(words[i], word, length) == 0) {
            return &option_rows[i];
        }
    }
    fprintf(stderr, "garboard: there is no option `%.*s`\n", (int)length, word);
    char copy[64];
    snprintf(copy, sizeof copy, "%.*s", (int)length, word);
    tell_near(copy, words, OPTION_COUNT);
    return NULL;
}

static bool add_text(Texts *texts, const char *value)
{
    const char **list = realloc(texts->list, (texts->count + 1) * sizeof *list);
    if (list == NULL) {
        fprintf(stderr, "garboard: out of memory\n");
        return false;
    }
    texts->list = list;
    texts->list[texts->count++] = value;
    return true;
}

static bool store(Options *options, const OptionRow *row, const char *value)
{
    char *field = (char *)options + row->offset;
    if (row->kind == OPTION_FLAG) {
        bool yes = true;
        memcpy(field, &yes, sizeof yes);
        return true;
    }
    if (row->kind == OPTION_TEXTS) {
        Texts texts;
        memcpy(&texts, field, sizeof texts);
        bool fine = add_text(&texts, value);
        memcpy(field, &texts, sizeof texts);
        return fine;
    }
    const char *before;
    memcpy(&before, field, sizeof before);
    if (before != NULL) {
        fprintf(stderr, "garboard: `%s` is given twice\n", row->word);
        return false;
    }
    memcpy(field, &value, sizeof value);
    return true;
}

/* `--option value` or `--option=value`; *at moves on over what is used. */
static bool read_option(Options *options, int count, char **arguments, int *at)
{
    const char *word = strcmp(arguments[*at], "-h") == 0 ? "--help" : arguments[*at];
    const char *equals = strncmp(word, "--", 2) == 0 ? strchr(word, '=') : NULL;
    size_t length = equals != NULL ? (size_t)(equals - word) : strlen(word);
    const OptionRow *row = find_option(word, length);
    if (row == NULL) {
        return false;
    }
    if (options->command != COMMAND_NONE && !takes(row, options->command)) {
        fprintf(stderr, "garboard: `%s` takes no `%s`\n", command_rows[options->command].word, row->word);
        return false;
    }
    const char *value = equals != NULL ? equals + 1 : NULL;
    if (row->kind == OPTION_FLAG) {
        if (value != NULL) {
            fprintf(stderr, "garboard: `%s` takes no value\n", row->word);
            return false;
        }
    } else if (value == NULL) {
        if (*at + 1 >= count) {
            fprintf(stderr, "garboard: `%s` needs a value: %s %s\n", row->word, row->word, row->value);
            return false;
        }
        value = arguments[++*at];
    }
    return store(options, row, value);
}

static bool read_argument(Options *options, const char *word)
{
    if (options->command == COMMAND_NONE && strcmp(word, "help") == 0) {
        options->help = true;
        return true;
    }
    if (options->command == COMMAND_NONE) {
        options->command = find_command(word);
        return options->command != COMMAND_NONE;
    }
    const CommandRow *row = &command_rows[options->command];
    if (options->argument_count == row->most) {
        fprintf(stderr, "garboard: too much: `%s`; it is `garboard %s %s`\n", word, row->word, row->form);
        return false;
    }
    options->arguments[options->argument_count++] = word;
    return true;
}

static bool complete(const Options *options)
{
    if (options->help || options->version) {
        return true;
    }
    if (options->command == COMMAND_NONE) {
        options_help(COMMAND_NONE);
        return false;
    }
    const CommandRow *row = &command_rows[options->command];
    if (options->argument_count < row->least) {
        fprintf(stderr, "garboard: something is missing; it is `garboard %s %s`\n", row->word, row->form);
        return false;
    }
    return true;
}

/* Options may stand before the command: whether it takes them is known only then. */
static bool fit_command(const Options *options)
{
    const Options none = {0};
    for (int i = 0; i < OPTION_COUNT && options->command != COMMAND_NONE; i++) {
        const OptionRow *row = &option_rows[i];
        size_t size = row->kind == OPTION_FLAG ? sizeof(bool) : row->kind == OPTION_TEXT ? sizeof(char *) : sizeof(Texts);
        bool given = memcmp((const char *)options + row->offset, (const char *)&none + row->offset, size) != 0;
        if (given && !takes(row, options->command)) {
            fprintf(stderr, "garboard: `%s` takes no `%s`\n", command_rows[options->command].word, row->word);
            return false;
        }
    }
    return true;
}

bool options_read(Options *options, int count, char **arguments)
{
    memset(options, 0, sizeof *options);
    options->arguments = calloc((size_t)(count > 0 ? count : 0) + 2, sizeof *options->arguments);
    if (options->arguments == NULL) {
        fprintf(stderr, "garboard: out of memory\n");
        return false;
    }
    bool only_arguments = false;
    for (int i = 1; i < count; i++) {
        const char *word = arguments[i];
        bool fine;
        if (!only_arguments && strcmp(word, "--") == 0) {
            only_arguments = true;
            continue;
        }
        if (!only_arguments && word[0] == '-' && word[1] != 0) {
            fine = read_option(options, count, arguments, &i);
        } else {
            fine = read_argument(options, word);
        }
        if (!fine) {
            return false;
        }
    }
    return complete(options) && fit_command(options);
}

/* Of one command its own formats, else those of all. */
static void print_formats(CommandId command)
{
    bool any = false;
    for (int i = 0; i < FORMATS; i++) {
        if (command != COMMAND_NONE && formats[i].commands & 1u << command) {
            printf("%s\n", formats[i].words);
        } else if (command == COMMAND_NONE) {
            printf("%s%s (%s)", any ? "; " : "", formats[i].words, formats[i].called);
            any = true;
        }
    }
    fputs(any ? "\n" : "", stdout);
}

static void help_options(CommandId command)
{
    for (int i = 0; i < OPTION_COUNT; i++) {
        const OptionRow *row = &option_rows[i];
        if (command == COMMAND_NONE || takes(row, command)) {
            char left[64];
            snprintf(left, sizeof left, "%s%s%s", row->word, row->value != NULL ? " " : "", row->value != NULL ? row->value : "");
            printf("  %-27s ", left);
            if (row->help != NULL) {
                printf("%s\n", row->help);
            } else {
                print_formats(command);
            }
        }
    }
}

void options_help(CommandId command)
{
    if (command != COMMAND_NONE) {
        printf("garboard %s %s\n  %s\n\n", command_rows[command].word, command_rows[command].form, command_rows[command].help);
        help_options(command);
        return;
    }
    printf("Garboard checks a plain-text boat spec and writes the build book.\n\n");
    for (int c = COMMAND_NONE + 1; c < COMMAND_COUNT; c++) {
        printf("  garboard %-8s %-20s %s\n", command_rows[c].word, command_rows[c].form, command_rows[c].help);
    }
    printf("\n");
    help_options(COMMAND_NONE);
    printf("\nA spec of `-` is standard input. Exit status: 0 nothing broken; 1 a fault, a difference or a mistake in the spec;\n"
           "2 the job could not be done; 3 a defect of the program.\n");
}
