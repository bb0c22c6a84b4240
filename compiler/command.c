/* See command.h. */
#include "command.h"

#include "command_folder.h"
#include "command_format.h"
#include "command_import.h"
#include "command_options.h"
#include "command_save.h"
#include "command_stream.h"
#include "garboard.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

/* The day to judge by: --as-of, else SOURCE_DATE_EPOCH, else the clock. False after a message. */
static bool find_today(const Options *options, char today[16])
{
    if (options->as_of != NULL) {
        snprintf(today, 16, "%s", options->as_of);
        return true;
    }
    time_t seconds = time(NULL);
    const char *epoch = getenv("SOURCE_DATE_EPOCH");
    if (epoch != NULL && *epoch != 0) {
        char *end;
        long long value = strtoll(epoch, &end, 10);
        if (*end != 0 || value < 0 || value > 200000000000LL) {
            fprintf(stderr, "garboard: SOURCE_DATE_EPOCH is not a number of seconds: `%s`\n", epoch);
            return false;
        }
        seconds = (time_t)value;
    }
    struct tm day;
    if (gmtime_r(&seconds, &day) == NULL || strftime(today, 16, "%Y-%m-%d", &day) == 0) {
        fprintf(stderr, "garboard: today's date cannot be told; `--as-of DATE` says it\n");
        return false;
    }
    return true;
}

/* 1 yes, 0 no, -1 after a message */
static int find_color(const Options *options, int descriptor)
{
    const char *when = options->color != NULL ? options->color : "auto";
    if (strcmp(when, "always") == 0 || strcmp(when, "never") == 0) {
        return strcmp(when, "always") == 0;
    }
    if (strcmp(when, "auto") != 0) {
        fprintf(stderr, "garboard: `--color` is auto, always or never, not `%s`\n", when);
        return -1;
    }
    const char *no_color = getenv("NO_COLOR");
    const char *terminal = getenv("TERM");
    return (no_color == NULL || *no_color == 0) && isatty(descriptor) &&
           !(terminal != NULL && strcmp(terminal, "dumb") == 0);
}

/* How a text is made for where it goes: sentences are folded on a terminal alone. */
static const char *text_for(bool color, int descriptor)
{
    bool wrap = isatty(descriptor);
    return color && wrap ? "text+color+wrap" : color ? "text+color" : wrap ? "text+wrap" : "text";
}

static bool is_pipe(const char *path)
{
    struct stat status;
    return stat(path, &status) == 0 &&
           (S_ISFIFO(status.st_mode) || S_ISCHR(status.st_mode) || S_ISSOCK(status.st_mode));
}

/* A compilation, and the text of standard input that it was made from. */
typedef struct Job {
    GbCompilation *boat;
    char *given;
} Job;

static void job_end(Job *job)
{
    gb_free(job->boat);
    free(job->given);
}

static bool read_given(const Options *options, GbRequest *request, Job *job)
{
    const char *path = options->arguments[0];
    bool standard = strcmp(path, "-") == 0;
    if (!standard && !is_pipe(path)) {
        return true;
    }
    FILE *stream = standard ? stdin : fopen(path, "rb");
    if (stream == NULL) {
        fprintf(stderr, "garboard: cannot read %s: it may not be read\n", path);
        return false;
    }
    if (standard) {
        request->path = options->stdin_name != NULL ? options->stdin_name : "standard-input";
    }
    job->given = stream_read(stream, standard ? "standard input" : path, &request->length);
    request->text = job->given;
    if (!standard) {
        fclose(stream);
    }
    return job->given != NULL;
}

/* Compiles what the options say; EXIT_FINE, or the status to leave with after a message. */
static int compile(const Options *options, Job *job)
{
    char today[16];
    *job = (Job){0};
    if (!find_today(options, today)) {
        return EXIT_UNDONE;
    }
    GbRequest request = {.path = options->arguments[0],
                         .reader = gb_reader_files(),
                         .with = options->with.list,
                         .with_count = options->with.count,
                         .set = options->set.list,
                         .set_count = options->set.count,
                         .basis = options->basis,
                         .today = today,
                         .strict = options->strict};
    if (!read_given(options, &request, job)) {
        return EXIT_UNDONE;
    }
    GbStatus status = gb_compile(&request, &job->boat);
    if (status != GB_DONE) {
        fprintf(stderr, "garboard: %s\n", job->boat != NULL ? gb_error(job->boat) : "out of memory");
        return EXIT_UNDONE;
    }
    return EXIT_FINE;
}

/* An output of the compilation on standard output. EXIT_FINE, or EXIT_UNDONE after a message. */
static int show(Job *job, const char *output, const char *format, const char *argument)
{
    GbText text;
    if (gb_output(job->boat, output, format, argument, &text) != GB_DONE) {
        fprintf(stderr, "garboard: %s\n", gb_error(job->boat));
        return EXIT_UNDONE;
    }
    return stream_print(text.text, text.length) ? EXIT_FINE : EXIT_UNDONE;
}

/*
 * What was tried with --set and --with: at the head of what people read. JSON and SARIF hold it themselves; a CSV has no
 * place for it, so that it is told beside. Where there are mistakes it may be one of them, and is not called done.
 */
static bool print_tried(const Options *options, const Job *job, const char *format)
{
    bool mistaken = gb_summary(job->boat).mistakes > 0;
    bool text = strcmp(format, "text") == 0;
    FILE *to = text ? stdout : stderr;
    const char *begin = text ? "" : "garboard: ";
    if (!text && strcmp(format, "csv") != 0) {
        return true;
    }
    for (size_t i = 0; i < options->set.count; i++) {
        fprintf(to, "%s%s %s\n", begin, mistaken ? "asked for: --set" : "tried with", options->set.list[i]);
    }
    for (size_t i = 0; i < options->with.count; i++) {
        fprintf(to, "%s%s %s\n", begin, mistaken ? "asked for: --with" : "decided for this run:", options->with.list[i]);
    }
    return fflush(to) == 0;
}

/* What is printed of too many combinations, beside outputs that have no place for it. */
static void tell_sampled(const Options *options, const Job *job)
{
    bool csv = options->format != NULL && strcmp(options->format, "csv") == 0;
    bool beside = options->command == COMMAND_WHY || options->command == COMMAND_BOM || options->command == COMMAND_DIFF ||
                  (options->command == COMMAND_FIGURES && csv);
    if (beside && gb_summary(job->boat).sampled) {
        fprintf(stderr, "garboard: the open choices have too many combinations: what follows covers those that were judged, not "
                        "every one\n");
    }
}

/* A value that --set asks for and that cannot be: what was to be tried was not, and the command line is to be mended. */
static int tell_mistaken_sets(const Job *job, int otherwise)
{
    if (gb_summary(job->boat).mistaken_sets == 0) {
        return otherwise;
    }
    fprintf(stderr, "garboard: what `--set` asks for has a mistake, and was not tried\n");
    return EXIT_UNDONE;
}

/* Mistakes in the spec, for commands whose output is something else. */
static int tell_mistakes(const Options *options, Job *job)
{
    tell_sampled(options, job);
    if (gb_summary(job->boat).mistakes == 0) {
        return EXIT_FINE;
    }
    GbText text;
    int color = find_color(options, STDERR_FILENO);
    if (gb_output(job->boat, "mistakes", text_for(color == 1, STDERR_FILENO), NULL, &text) == GB_DONE) {
        fwrite(text.text, 1, text.length, stderr);
    }
    fprintf(stderr, "garboard: what follows rests on a spec with mistakes\n");
    return tell_mistaken_sets(job, EXIT_BROKEN);
}

/* --report FORMAT:FILE */
static int write_reports(const Options *options, Job *job)
{
    for (size_t i = 0; i < options->reports.count; i++) {
        const char *report = options->reports.list[i];
        const char *colon = strchr(report, ':');
        if (colon == NULL || colon[1] == 0) {
            fprintf(stderr, "garboard: `--report %s`: it is FORMAT:FILE, such as json:findings.json\n",
                    report);
            return EXIT_UNDONE;
        }
        char format[16];
        snprintf(format, sizeof format, "%.*s", (int)(colon - report), report);
        GbText text;
        if (gb_output(job->boat, "check", format, NULL, &text) != GB_DONE) {
            fprintf(stderr, "garboard: %s\n", gb_error(job->boat));
            return EXIT_UNDONE;
        }
        if (!save_or_tell(colon + 1, text.text, text.length)) {
            return EXIT_UNDONE;
        }
    }
    return EXIT_FINE;
}

static int run_check(const Options *options, Job *job)
{
    int color = find_color(options, STDOUT_FILENO);
    if (color < 0) {
        return EXIT_UNDONE;
    }
    const char *format = options->format != NULL ? options->format : "text";
    bool text = strcmp(format, "text") == 0;
    if (!print_tried(options, job, format)) {
        return EXIT_UNDONE;
    }
    int status = show(job, "check", text ? text_for(color, STDOUT_FILENO) : format, NULL);
    if (status == EXIT_FINE) {
        status = write_reports(options, job);
    }
    return status != EXIT_FINE ? status : tell_mistaken_sets(job, gb_summary(job->boat).broken ? EXIT_BROKEN : EXIT_FINE);
}

/* Which list of `bom` is asked for, and the format that it has unless the options say; NULL after a message. */
static const char *bom_output(const Options *options, const char **format)
{
    static const char *const by[][2] = {
        {"system", "bom by system"}, {"supplier", "bom by supplier"}, {"space", "bom by space"}};
    *format = "text";
    if (options->to_buy && options->by == NULL) {
        return "bom to buy";
    }
    if (options->to_buy) {
        fprintf(stderr, "garboard: `--to-buy` is a list by supplier, and takes no `--by`\n");
        return NULL;
    }
    for (size_t i = 0; options->by != NULL && i < sizeof by / sizeof by[0]; i++) {
        if (strcmp(options->by, by[i][0]) == 0) {
            return by[i][1];
        }
    }
    if (options->by != NULL) {
        fprintf(stderr, "garboard: `--by` is system, supplier or space, not `%s`\n", options->by);
        return NULL;
    }
    *format = "csv";
    return "bom";
}

static int run_show(const Options *options, Job *job)
{
    const char *format = "text";
    const char *output = command_rows[options->command].word;
    if (options->command == COMMAND_BOM) {
        output = bom_output(options, &format);
    }
    format = options->format != NULL ? options->format : format;
    int color = find_color(options, STDOUT_FILENO);
    bool text = strcmp(format, "text") == 0;
    if (output == NULL || color < 0 || !print_tried(options, job, format)) {
        return EXIT_UNDONE;
    }
    format = text && color ? "text+color" : format;
    int mistakes = tell_mistakes(options, job);
    int status = show(job, output, format, options->arguments[1]);
    return status != EXIT_FINE ? status : mistakes;
}

static int run_book(const Options *options, Job *job)
{
    if (options->output == NULL) {
        fprintf(stderr, "garboard: where to? it is `garboard book SPEC -o DIR`\n");
        return EXIT_UNDONE;
    }
    const GbBookFile *files;
    size_t count;
    int mistakes = tell_mistakes(options, job);
    if (gb_book(job->boat, &files, &count) != GB_DONE) {
        fprintf(stderr, "garboard: %s\n", gb_error(job->boat));
        return EXIT_UNDONE;
    }
    int status = save_book(options->output, files, count, options->check);
    return status != EXIT_FINE ? status : mistakes;
}

static int run_on_spec(const Options *options)
{
    Job job;
    int status = compile(options, &job);
    if (status == EXIT_FINE) {
        switch (options->command) {
        case COMMAND_CHECK: status = run_check(options, &job); break;
        case COMMAND_BOOK: status = run_book(options, &job); break;
        default: status = run_show(options, &job); break;
        }
    }
    job_end(&job);
    return status;
}

/* Comparing two specs */

/* One of the two: a file, or the folder that it stands in, with its own choices decided besides those of both. */
typedef struct Side {
    const char *argument;
    const Texts *own;
    const char *as_of; /* its own day, or NULL */
    char *found; /* the main file of a folder, or NULL */
    Job job;
} Side;

static int compile_side(const Options *options, Side *side)
{
    Options with_own = *options;
    const char *arguments[] = {side->argument, NULL};
    if (!folder_main_file(side->argument, &side->found)) {
        return EXIT_UNDONE;
    }
    arguments[0] = side->found != NULL ? side->found : side->argument;
    const char **with = malloc((options->with.count + side->own->count + 1) * sizeof *with);
    if (with == NULL) {
        fprintf(stderr, "garboard: out of memory\n");
        return EXIT_UNDONE;
    }
    for (size_t i = 0; i < options->with.count; i++) {
        with[i] = options->with.list[i];
    }
    for (size_t i = 0; i < side->own->count; i++) {
        with[options->with.count + i] = side->own->list[i];
    }
    with_own.arguments = arguments;
    with_own.as_of = side->as_of != NULL ? side->as_of : options->as_of;
    with_own.with = (Texts){with, options->with.count + side->own->count};
    int status = compile(&with_own, &side->job);
    free(with);
    return status;
}

static int show_diff(const Options *options, Side sides[2], bool json, int color)
{
    GbText text;
    bool different;
    int mistakes = EXIT_FINE;
    for (int i = 0; i < 2; i++) {
        int told = tell_mistakes(options, &sides[i].job);
        mistakes = told != EXIT_FINE ? told : mistakes;
    }
    const char *format = json ? "json" : color ? "text+color" : "text";
    if (gb_diff(sides[0].job.boat, sides[1].job.boat, format, &text, &different) != GB_DONE) {
        fprintf(stderr, "garboard: %s\n", gb_error(sides[1].job.boat));
        return EXIT_UNDONE;
    }
    if (!stream_print(text.text, text.length)) {
        return EXIT_UNDONE;
    }
    return different ? EXIT_BROKEN : mistakes;
}

/* Whether there are two things to compare; false after a message. */
static bool can_compare(const Options *options)
{
    const char *const *arguments = options->arguments;
    bool one = options->argument_count == 1;
    if (one && options->with_old.count + options->with_new.count == 0) {
        fprintf(stderr, "garboard: with what? it is `garboard diff OLD NEW`, or one spec with --with-old or "
                        "--with-new\n");
        return false;
    }
    if (strcmp(arguments[0], "-") == 0 && (one || strcmp(arguments[1], "-") == 0)) {
        fprintf(stderr, "garboard: only one of the two specs can be standard input\n");
        return false;
    }
    if (options->format != NULL && strcmp(options->format, "text") != 0 &&
        strcmp(options->format, "json") != 0) {
        fprintf(stderr, "garboard: `diff` prints text or json, not `%s`\n", options->format);
        return false;
    }
    return true;
}

static int run_diff(const Options *options)
{
    int color = find_color(options, STDOUT_FILENO);
    if (color < 0 || !can_compare(options)) {
        return EXIT_UNDONE;
    }
    Side sides[2] = {
        {.argument = options->arguments[0], .own = &options->with_old, .as_of = options->as_of_old},
        {.argument = options->arguments[options->argument_count - 1], .own = &options->with_new}};
    int status = compile_side(options, &sides[0]);
    if (status == EXIT_FINE) {
        status = compile_side(options, &sides[1]);
    }
    if (status == EXIT_FINE) {
        bool json = options->format != NULL && strcmp(options->format, "json") == 0;
        status = show_diff(options, sides, json, color);
    }
    for (int i = 0; i < 2; i++) {
        job_end(&sides[i].job);
        free(sides[i].found);
    }
    return status;
}

/* Commands that need no spec. */
static int run_manual(const Options *options)
{
    if (options->from != NULL) {
        return import_table(options);
    }
    if (options->columns.count > 0) {
        fprintf(stderr, "garboard: `--column` tells of a table; which one says `--from FILE`\n");
        return EXIT_UNDONE;
    }
    bool markdown = options->format != NULL && strcmp(options->format, "markdown") == 0;
    if (options->format != NULL && !markdown && strcmp(options->format, "text") != 0) {
        fprintf(stderr, "garboard: `%s` prints text or markdown, not `%s`\n",
                command_rows[options->command].word, options->format);
        return EXIT_UNDONE;
    }
    int color = find_color(options, STDOUT_FILENO);
    if (color < 0) {
        return EXIT_UNDONE;
    }
    const char *output = options->command == COMMAND_NEW     ? "starter"
                         : options->command == COMMAND_RULES ? (markdown ? "rules-reference" : "rules")
                                                             : (markdown ? "reference" : "kinds");
    char *text;
    size_t length;
    GbStatus status = gb_manual(output, options->arguments[0], color == 1, (GbAllocator){0}, &text, &length);
    bool fine = save_or_print(options->output, status == GB_DONE, text, length);
    free(text);
    return fine ? EXIT_FINE : EXIT_UNDONE;
}

int command_run(int count, char **arguments)
{
    Options options;
    int status = EXIT_UNDONE;
    if (options_read(&options, count, arguments)) {
        if (options.help) {
            options_help(options.command);
            status = fflush(stdout) == 0 ? EXIT_FINE : EXIT_UNDONE;
        } else if (options.version) {
            printf("garboard %s\n", gb_version());
            status = fflush(stdout) == 0 ? EXIT_FINE : EXIT_UNDONE;
        } else if (options.command == COMMAND_RULES || options.command == COMMAND_KINDS ||
                   options.command == COMMAND_NEW) {
            status = run_manual(&options);
        } else if (options.command == COMMAND_FORMAT) {
            status = format_files(&options);
        } else if (options.command == COMMAND_DIFF) {
            status = run_diff(&options);
        } else {
            status = run_on_spec(&options);
        }
    }
    free(options.arguments);
    free(options.with.list);
    free(options.with_old.list);
    free(options.with_new.list);
    free(options.set.list);
    free(options.reports.list);
    free(options.columns.list);
    return status;
}
