/* See generate.h: values in a text, and what may stand in their place. */
#include "generate.h"

#include "base/num.h"
#include "check.h"
#include "physics/conductor.h"

#include <stdlib.h>

const char *generated_text(Generated *g)
{
    Buf text;
    buf_init(&text, &g->arena);
    size_t at = 0;
    for (int i = 0; i < g->count; i++) {
        buf_add(&text, (Str){g->text.text + at, g->holes[i].start - at});
        buf_text(&text, g->holes[i].written);
        at = g->holes[i].end;
    }
    buf_add(&text, (Str){g->text.text + at, g->text.length - at});
    return text.text;
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static bool is_letter(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '%';
}

static size_t skip_number(const char *text, size_t at)
{
    at += text[at] == '-';
    while (is_digit(text[at]) || text[at] == '_' || (text[at] == '.' && is_digit(text[at + 1])) ||
           (text[at] == '/' && is_digit(text[at + 1]))) {
        at++;
    }
    return at;
}

/* Behind a unit or a currency that stands at `at`, blanks before it taken along; `at` itself if there is none. */
static size_t skip_unit(const char *text, size_t at, Str *unit)
{
    size_t from = at;
    while (text[from] == ' ') {
        from++;
    }
    size_t to = from;
    while (is_letter(text[to]) || (to > from && (is_digit(text[to]) || text[to] == '/'))) {
        to++;
    }
    Str word = {text + from, to - from};
    const char *slash = memchr(word.text, '/', word.length);
    Str first = {word.text, slash != NULL ? (size_t)(slash - word.text) : word.length};
    if (unit_find(first) == UNIT_NONE && !str_is(word, "EUR") && !str_is(word, "USD")) {
        return at;
    }
    *unit = word;
    return to;
}

/* A plain number with its unit, and nothing behind it that belongs to it; other forms are left as they are. */
static bool find_extent(Hole *hole, const char *text)
{
    size_t at = skip_number(text, hole->start);
    if (at == hole->start) {
        return false;
    }
    hole->unit_text = (Str){"", 0};
    at = skip_unit(text, at, &hole->unit_text);
    hole->end = at;
    while (text[at] == ' ') {
        at++;
    }
    return !is_digit(text[at]) && text[at] != '+' && strncmp(text + at, "..", 2) != 0;
}

static bool is_known(const Generated *g, size_t start)
{
    for (int i = 0; i < g->count; i++) {
        if (g->holes[i].start == start) {
            return true;
        }
    }
    return false;
}

static void add_hole(Generated *g, const Model *model, const Entity *entity, const Property *property,
                     unsigned slot)
{
    const Value *value = &property->values[slot];
    if (value->kind != VALUE_QUANTITY || value->node == 0 || g->count == MOST_HOLES) {
        return;
    }
    Span span = value_span(model, value);
    size_t start = span.start - model->tree->sources->list[0]->base;
    Hole hole = {.start = start,
                 .thing = str_from(str_copy(&g->arena, entity_name(model, entity))),
                 .prop = (PropId)property->id,
                 .slot = slot,
                 .unit = value->unit,
                 .size = value->flags & VALUE_SIZE,
                 .whole = props[property->id].whole && slot == 0};
    double low = value->u.quantity.low;
    /* How many were ordered and came is known: that is what was bought, and nothing to decide. */
    bool came = entity_states(entity, PROP_COMMON_ARRIVED) || entity_states(entity, PROP_COMMON_FITTED) ||
                entity_states(entity, PROP_COMMON_ORDERED);
    /* A voltage of DC decides what class of system it is, and with it which tables count: no owner leaves it open. */
    bool volts = dimension_equal(unit_dimension(value->unit), unit_dimension(UNIT_ALONE(UNIT_V))) && low < 100.0;
    bool fact = volts || property->id == PROP_COMMON_ARRIVED || property->id == PROP_COMMON_FITTED ||
                (came && (property->id == PROP_COMMON_COUNT || property->id == PROP_COMMON_SPARE));
    if (fact || low != value->u.quantity.high || start >= g->text.length || is_known(g, start) ||
        !find_extent(&hole, g->text.text)) {
        return;
    }
    hole.unit_text = str_from(str_copy(&g->arena, hole.unit_text));
    hole.usual = value->flags & VALUE_MONEY || hole.size ? low : unit_from_si(value->unit, low);
    hole.decided = true;
    hole.undecided = hole.written =
        str_copy(&g->arena, (Str){g->text.text + hole.start, hole.end - hole.start});
    hole.low = hole.high = hole.usual;
    g->holes[g->count++] = hole;
}

static void find_in_block(Generated *g, const Model *model, const Entity *entity, const Block *block)
{
    for (uint32_t p = 0; p < block->count; p++) {
        const Property *property = &block->properties[p];
        for (unsigned slot = 0; slot < property->count; slot++) {
            if (property->values[slot].kind == VALUE_BLOCK) {
                find_in_block(g, model, entity, property->values[slot].u.block);
            } else {
                add_hole(g, model, entity, property, slot);
            }
        }
    }
}

static int by_place(const void *a, const void *b)
{
    size_t x = ((const Hole *)a)->start;
    size_t y = ((const Hole *)b)->start;
    return (x > y) - (x < y);
}

void generate_holes(Generated *g)
{
    Compiled c;
    compile_text(&c, g->text.text);
    for (uint32_t i = 0; i < c.outcome->case_count; i++) {
        const Model *model = c.outcome->cases[i].model;
        for (uint32_t e = 0; e < model->entity_count; e++) {
            find_in_block(g, model, model->entities[e], &model->entities[e]->block);
        }
    }
    qsort(g->holes, (size_t)g->count, sizeof(Hole), by_place);
    compile_free(&c);
}
/* ---- Ranges and what is drawn from them ---- */

static double share(uint64_t *seed)
{
    return random_below(seed, 10001) / 10000.0;
}

const char *hole_number(Generated *g, const Hole *hole, double value, const char *before, const char *after)
{
    Buf text;
    buf_init(&text, &g->arena);
    buf_text(&text, before);
    num_write(&text, value, 9);
    const char *behind = strchr(text.text + strlen(before), '.');
    if (behind != NULL && strlen(behind) == 4) {
        buf_char(&text, '0'); /* three digits behind a point may be read as thousands, which is a mistake */
    }
    if (after[0] == 0 && hole->unit_text.length > 0) {
        buf_format(&text, " %.*s", STR_ARG(hole->unit_text));
    }
    buf_text(&text, after);
    return text.text;
}

/* As it is read back from its text: what the spec then states. */
static double rounded(Generated *g, double value)
{
    Buf text;
    buf_init(&text, &g->arena);
    num_write(&text, value, 9);
    double read = value;
    num_read(buf_str(&text), &read);
    return read;
}

static const Conductor *size_of(const Hole *hole, double area)
{
    Series series = hole->unit.unit == UNIT_AWG   ? SERIES_AWG
                    : hole->unit.unit == UNIT_SAE ? SERIES_SAE
                                                  : SERIES_METRIC;
    return conductor_find(series, area);
}

static void spread_size(Generated *g, Hole *hole, uint64_t *seed)
{
    const Conductor *thin = size_of(hole, hole->usual);
    const Conductor *thick = thin;
    for (int more = 1 + random_below(seed, 3); thick != NULL && more > 0; more--) {
        thick = conductor_next(thick) != NULL ? conductor_next(thick) : thick;
    }
    if (thick == NULL || thick == thin) {
        return;
    }
    hole->low = thin->area_m2;
    hole->high = thick->area_m2;
    size_t word = strcspn(thin->word, " ");
    hole->undecided = text_format(&g->arena, "%.*s..%s", (int)word, thin->word, thick->word);
    hole->decided = false;
}

static bool is_of_volts(const Hole *hole)
{
    return dimension_equal(unit_dimension(hole->unit), unit_dimension(UNIT_ALONE(UNIT_V)));
}

/* A range about the usual value; of volts, now and then twice as many, which is another class of system. */
static void spread_number(Generated *g, Hole *hole, Form form, uint64_t *seed)
{
    double width = fabs(hole->usual) * (0.02 + 0.5 * share(seed));
    width = hole->whole ? 1.0 + random_below(seed, 3) : width;
    double below = hole->whole ? 0.0 : width * share(seed);
    if (is_of_volts(hole) && form == FORM_RANGE && random_below(seed, 2) == 0) {
        below = 0.0;
        width = fabs(hole->usual);
    }
    hole->low = rounded(g, hole->usual - below);
    hole->high = rounded(g, hole->usual - below + width);
    hole->decided = false;
    switch (form) {
    case FORM_TOLERANCE:
        hole->low = hole->usual * 0.9;
        hole->high = hole->usual * 1.1;
        hole->undecided = hole_number(g, hole, hole->usual, "", "");
        hole->undecided = text_format(&g->arena, "%s +/- 10 %%", hole->undecided);
        break;
    case FORM_AT_LEAST:
        hole->high = INFINITY;
        hole->undecided = hole_number(g, hole, hole->low, ">= ", "");
        break;
    case FORM_AT_MOST:
        hole->low = -INFINITY;
        hole->undecided = hole_number(g, hole, hole->high, "<= ", "");
        break;
    case FORM_HOLE:
        hole->low = -INFINITY;
        hole->high = INFINITY;
        hole->undecided = "?";
        break;
    default:
        hole->undecided = hole_number(g, hole, hole->low, "", "..");
        hole->undecided = hole_number(g, hole, hole->high, hole->undecided, "");
        break;
    }
}

static void make_undecided(Generated *g, Hole *hole, uint64_t *seed)
{
    static const Form forms[] = {FORM_RANGE,     FORM_RANGE,    FORM_RANGE,   FORM_RANGE,
                                 FORM_TOLERANCE, FORM_AT_LEAST, FORM_AT_MOST, FORM_HOLE};
    Form form = forms[random_below(seed, (int)(sizeof forms / sizeof forms[0]))];
    if (unit_dimension(hole->unit).tag == TAG_TEMPERATURE && form == FORM_TOLERANCE) {
        form = FORM_RANGE; /* a tenth of so many degrees is another thing than a tenth of a length */
    }
    KindId owner = (KindId)props[hole->prop].owner;
    if (props[hole->prop].limit != LIMIT_NONE && (form == FORM_AT_LEAST || form == FORM_AT_MOST)) {
        form = FORM_RANGE; /* a sign there says which side the limit is of, and leaves nothing open */
    }
    bool sized = owner == KIND_BANK || owner == KIND_TANK || owner == KIND_SOLAR ||
                 owner == KIND_ALTERNATOR || owner == KIND_CHARGER || owner == KIND_GAS_LOCKER;
    if (sized && form == FORM_HOLE) {
        form = FORM_RANGE; /* a size left open is chosen by the program */
    }
    /* How often, left open altogether, does not say either whether it is months or hours of the engine. */
    if (hole->prop == PROP_COMMON_SERVICE && form == FORM_HOLE) {
        form = FORM_RANGE;
    }
    /* Of a propeller, what is left out altogether is proposed: that is another figure. */
    if (owner == KIND_PROPELLER && form > FORM_TOLERANCE) {
        form = FORM_RANGE;
    }
    if (hole->size) {
        spread_size(g, hole, seed);
    } else if (hole->usual != 0.0 && (!hole->whole || form != FORM_TOLERANCE)) {
        spread_number(g, hole, form, seed);
    }
}

static void make_decided(Generated *g, Hole *hole)
{
    hole->decided = true;
    hole->undecided = hole->written =
        str_copy(&g->arena, (Str){g->text.text + hole->start, hole->end - hole->start});
    hole->low = hole->high = hole->usual;
}

/* Bounds that are not there are drawn from what is usual. */
static double draw_number(const Hole *hole, uint64_t *seed)
{
    double usual = fabs(hole->usual);
    double low = !isinf(hole->low)   ? hole->low
                 : isinf(hole->high) ? hole->usual - 0.7 * usual
                                     : hole->high - 0.7 * usual;
    double high = !isinf(hole->high) ? hole->high
                  : isinf(hole->low) ? hole->usual + 2.0 * usual
                                     : hole->low + 2.0 * usual;
    low = hole->usual > 0.0 && low < 0.0 ? 0.1 * hole->high : low;
    high = hole->usual < 0.0 && high > 0.0 ? 0.1 * hole->low : high;
    if (hole->whole) {
        low = fmax(ceil(low), fmin(1.0, high));
        return low + random_below(seed, (int)fmax(floor(high) - low + 1.0, 1.0));
    }
    switch (random_below(seed, 8)) {
    case 0: return low;
    case 1: return high;
    default: return low + (high - low) * share(seed);
    }
}

static const char *draw_size(Generated *g, const Hole *hole, uint64_t *seed)
{
    const Conductor *size = size_of(hole, hole->low);
    for (int more = random_below(seed, 5); more > 0 && size->area_m2 < hole->high * 0.999; more--) {
        size = conductor_next(size);
    }
    return text_format(&g->arena, "%s", size->word);
}

static void draw(Generated *g, Hole *hole, uint64_t *seed)
{
    if (!hole->decided) {
        hole->written =
            hole->size ? draw_size(g, hole, seed) : hole_number(g, hole, draw_number(hole, seed), "", "");
    }
}

void generate_undecided(Generated *g)
{
    for (int i = 0; i < g->count; i++) {
        g->holes[i].written = g->holes[i].undecided;
    }
}
static uint32_t mistakes_of(const char *text)
{
    Compiled c;
    compile_text(&c, text);
    uint32_t count = c.spec->messages.count;
    compile_free(&c);
    return count;
}

void generate_ranges(Generated *g, uint64_t *seed)
{
    uint32_t mistakes = mistakes_of(g->text.text);
    int one_in = g->count > 40 ? 1 + random_below(seed, 6) : 1 + random_below(seed, 2);
    for (int i = 0; i < g->count; i++) {
        Hole *hole = &g->holes[i];
        if (random_below(seed, one_in) != 0) {
            continue;
        }
        make_undecided(g, hole, seed);
        hole->written = hole->undecided;
        uint32_t with = mistakes_of(generated_text(g));
        if (with > mistakes) {
            make_decided(g, hole);
        } else {
            mistakes = with;
        }
    }
}

void generate_exact(Generated *g, uint64_t *seed)
{
    for (int i = 0; i < g->count; i++) {
        draw(g, &g->holes[i], seed);
    }
}
