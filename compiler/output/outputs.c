/* See outputs.h. */
#include "output/outputs.h"

#include "output/bom.h"
#include "output/bom_text.h"
#include "output/compare.h"
#include "output/figures_out.h"
#include "output/findings_csv.h"
#include "output/findings_json.h"
#include "output/findings_sarif.h"
#include "output/findings_text.h"
#include "output/why.h"
#include "output/wires.h"
#include "text/wrap.h"

#include <string.h>

/* Sentences of any length, folded if that is asked for. */
static const char *write_sentences(Buf *to, const Outcome *outcome, OutputRequest request,
                                   void (*write)(Buf *to, const Outcome *outcome, Colour colour))
{
    Colour colour = {.on = request.color};
    if (!request.wrap) {
        write(to, outcome, colour);
        return NULL;
    }
    Buf whole;
    buf_init(&whole, to->arena);
    write(&whole, outcome, colour);
    text_wrap(to, buf_str(&whole), WRAP_COLUMNS);
    return NULL;
}

static const char *check_text(Buf *to, const Outcome *outcome, OutputRequest request)
{
    return write_sentences(to, outcome, request, findings_text);
}

static const char *check_json(Buf *to, const Outcome *outcome, OutputRequest request)
{
    (void)request;
    findings_json(to, outcome);
    return NULL;
}

static const char *check_csv(Buf *to, const Outcome *outcome, OutputRequest request)
{
    (void)request;
    findings_csv(to, outcome);
    return NULL;
}

static const char *check_sarif(Buf *to, const Outcome *outcome, OutputRequest request)
{
    (void)request;
    findings_sarif(to, outcome);
    return NULL;
}

static const char *mistakes_text(Buf *to, const Outcome *outcome, OutputRequest request)
{
    return write_sentences(to, outcome, request, findings_text_mistakes);
}

/* Lists of the bill of materials: all of it, or what one space holds or one supplier sells. */

static const char *write_list(Buf *to, const Outcome *outcome, OutputRequest request, BomRequest wanted,
                              void (*write)(Buf *to, const Outcome *outcome, const BomList *list))
{
    const char *unknown = bom_only_unknown(outcome->arena, outcome, request.argument);
    if (unknown == NULL) {
        wanted.only = request.argument;
        write(to, outcome, bom_list(to->arena, outcome, wanted));
    }
    return unknown;
}

static void list_csv(Buf *to, const Outcome *outcome, const BomList *list)
{
    (void)outcome;
    bom_csv_of(to, list);
}

/* The functions of one way of grouping, by its name here and its BomBy. */
#define LISTS_BY(NAME, BY)                                                                                        \
    static const char *bom_##NAME##_csv(Buf *to, const Outcome *outcome, OutputRequest request)                   \
    {                                                                                                             \
        return write_list(to, outcome, request, (BomRequest){.by = (BY), .with_dropped = true}, list_csv);        \
    }                                                                                                             \
    static const char *bom_##NAME##_text(Buf *to, const Outcome *outcome, OutputRequest request)                  \
    {                                                                                                             \
        return write_list(to, outcome, request, (BomRequest){.by = (BY)}, bom_text);                              \
    }
LISTS_BY(written, BOM_AS_WRITTEN)
LISTS_BY(system, BOM_BY_SYSTEM)
LISTS_BY(supplier, BOM_BY_SUPPLIER)
LISTS_BY(space, BOM_BY_SPACE)

static const BomRequest shopping = {.by = BOM_BY_SUPPLIER, .to_buy = true};

static const char *shopping_text(Buf *to, const Outcome *outcome, OutputRequest request)
{
    return write_list(to, outcome, request, shopping, to_buy_text);
}

static const char *shopping_csv(Buf *to, const Outcome *outcome, OutputRequest request)
{
    return write_list(to, outcome, request, shopping, to_buy_csv);
}

static const char *wires(Buf *to, const Outcome *outcome, OutputRequest request)
{
    (void)request;
    wires_csv(to, outcome);
    return NULL;
}

/* All figures, or those of one subject. */
static const char *all_figures(Buf *to, const Outcome *outcome, OutputRequest request,
                               void (*write)(Buf *, const Outcome *, Str))
{
    if (request.argument.length > 0) {
        const char *unknown = figures_subject_unknown(outcome->arena, outcome, request.argument);
        if (unknown != NULL) {
            return unknown;
        }
    }
    write(to, outcome, request.argument);
    return NULL;
}

static const char *all_figures_text(Buf *to, const Outcome *outcome, OutputRequest request)
{
    return all_figures(to, outcome, request, figures_text);
}

static const char *all_figures_json(Buf *to, const Outcome *outcome, OutputRequest request)
{
    return all_figures(to, outcome, request, figures_json);
}

static const char *all_figures_csv(Buf *to, const Outcome *outcome, OutputRequest request)
{
    return all_figures(to, outcome, request, figures_csv);
}

static const char *why(Buf *to, const Outcome *outcome, OutputRequest request)
{
    return why_text(to, outcome, request.argument);
}

static const char *comparison_text(Buf *to, const Outcome *outcome, OutputRequest request)
{
    compare_text(to, outcome, (Colour){.on = request.color});
    return NULL;
}

static const char *comparison_json(Buf *to, const Outcome *outcome, OutputRequest request)
{
    (void)request;
    compare_json(to, outcome);
    return NULL;
}

static const char *comparison_csv(Buf *to, const Outcome *outcome, OutputRequest request)
{
    (void)request;
    compare_csv(to, outcome);
    return NULL;
}

const Output outputs[] = {
    {"check", "text", true, check_text},
    {"check", "json", true, check_json},
    {"check", "csv", true, check_csv},
    {"check", "sarif", true, check_sarif},
    {"mistakes", "text", false, mistakes_text},
    {"bom", "csv", false, bom_written_csv},
    {"bom", "text", false, bom_written_text},
    {"bom by system", "csv", false, bom_system_csv},
    {"bom by system", "text", false, bom_system_text},
    {"bom by supplier", "csv", false, bom_supplier_csv},
    {"bom by supplier", "text", false, bom_supplier_text},
    {"bom by space", "csv", false, bom_space_csv},
    {"bom by space", "text", false, bom_space_text},
    {"bom to buy", "text", false, shopping_text},
    {"bom to buy", "csv", false, shopping_csv},
    {"wires", "csv", false, wires},
    {"figures", "text", false, all_figures_text},
    {"figures", "json", false, all_figures_json},
    {"figures", "csv", false, all_figures_csv},
    {"why", "text", false, why},
    {"compare", "text", false, comparison_text},
    {"compare", "json", false, comparison_json},
    {"compare", "csv", false, comparison_csv},
};
const size_t output_count = sizeof outputs / sizeof outputs[0];

const Output *output_find(const char *name, const char *format)
{
    for (size_t i = 0; i < output_count; i++) {
        if (strcmp(outputs[i].name, name) == 0 && (format == NULL || strcmp(outputs[i].format, format) == 0)) {
            return &outputs[i];
        }
    }
    return NULL;
}
