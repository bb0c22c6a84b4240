/* See outputs.h. */
#include "output/outputs.h"

#include "output/bom.h"
#include "output/compare.h"
#include "output/figures_out.h"
#include "output/findings_csv.h"
#include "output/findings_json.h"
#include "output/findings_sarif.h"
#include "output/findings_text.h"
#include "output/why.h"
#include "output/wires.h"

#include <string.h>

static const char *check_text(Buf *to, const Outcome *outcome, OutputRequest request)
{
    findings_text(to, outcome, (Colour){.on = request.color});
    return NULL;
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
    findings_text_mistakes(to, outcome, (Colour){.on = request.color});
    return NULL;
}

static const char *bom(Buf *to, const Outcome *outcome, OutputRequest request)
{
    (void)request;
    bom_csv(to, outcome);
    return NULL;
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
    {"bom", "csv", false, bom},
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
