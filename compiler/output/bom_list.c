/* See bom_list.h. */
#include "output/bom_list.h"

#include "model/money.h"
#include "model/tax.h"
#include "output/bom_days.h"
#include "output/figures_out.h"

#include <math.h>
#include <stdlib.h>

typedef struct Lister {
    Arena *arena;
    const Outcome *outcome;
    BomRequest request;
    BomLine **line_of; /* by the node of the thing */
    BomLine *first;    /* all lines, before they are put into groups */
    BomGroup *materials;
    BomList *list;
} Lister;

/* Which things */

static bool names_only(const Lister *lister, const Case *of, const Entity *entity)
{
    const PropId props_that_name[] = {PROP_COMMON_SUPPLIER, PROP_COMMON_SPACE};
    for (size_t i = 0; i < 2; i++) {
        const Entity *to = entity_reference(entity, props_that_name[i]);
        if (to != NULL && str_equal(entity_name(of->model, to), lister->request.only)) {
            return true;
        }
    }
    return lister->request.only.length == 0;
}

/* What only some options drop is bought with the others: it is listed with those alone. */
static bool is_dropped_in_all(const Lister *lister, const Case *of, const Entity *entity)
{
    for (uint32_t c = 0; c < lister->outcome->case_count; c++) {
        const Entity *same = model_find(lister->outcome->cases[c].model, entity_name(of->model, entity));
        if (same != NULL && same->node == entity->node && !(same->flags & ENTITY_DROPPED)) {
            return false;
        }
    }
    return true;
}

static bool is_listed(const Lister *lister, const Case *of, const Entity *entity)
{
    bool out = entity->flags & ENTITY_DROPPED &&
               !(lister->request.with_dropped && is_dropped_in_all(lister, of, entity));
    bool wanted = !lister->request.to_buy || status_is_to_buy(thing_status(entity));
    return is_bought(entity) && !out && wanted && names_only(lister, of, entity);
}

/* Gathering: in the order of the spec, what only later cases have behind what it follows there. */

/* The price, or else the offer. */
static const Value *price_of(const Entity *entity, Interval *price, bool *quoted)
{
    *quoted = !entity_quantity(entity, PROP_COMMON_PRICE, 0, price);
    PropId id = *quoted ? PROP_COMMON_QUOTE : PROP_COMMON_PRICE;
    return !*quoted || entity_quantity(entity, id, 0, price) ? property_value(entity_property(entity, id), 0) : NULL;
}

/* begun: an earlier case has such a value. */
static void widen(Interval *covered, bool begun, Interval value)
{
    *covered = begun ? interval_hull(*covered, value) : value;
}

static bool is_chosen(const Model *model, NodeId option)
{
    for (uint32_t c = 0; c < model->choice_count; c++) {
        const Choice *choice = &model->choices[c];
        if (choice->chosen >= 0 && choice->options[choice->chosen].node == option) {
            return true;
        }
    }
    return false;
}

/* Past the things of options that this case does not have: an option's things stand behind those of the one before. */
static BomLine **skip_others(BomLine **end, const Model *model)
{
    while (*end != NULL && (*end)->entity->option != 0 && !is_chosen(model, (*end)->entity->option)) {
        end = &(*end)->next;
    }
    return end;
}

static Interval pieces_of(const Purchase *purchase)
{
    return interval_add(purchase->count, purchase->spare);
}

/* What of an amount is no tax; all of it where no rate is stated. */
static Interval net_of(const Model *model, const Entity *entity, Interval amount)
{
    Interval tax;
    return tax_rate(model, entity, &tax) ? interval_divide(amount, interval_add(point(1.0), tax)) : amount;
}

static void widen_price(BomLine *line, const Case *of, const Entity *entity, Interval pieces)
{
    Interval value = {0.0, 0.0};
    bool quoted;
    const Value *asked = price_of(entity, &value, &quoted);
    if (asked == NULL) {
        return;
    }
    widen(&line->price, line->priced, value);
    widen(&line->cost, line->priced, interval_multiply(value, pieces));
    widen(&line->net, line->priced, net_of(of->model, entity, interval_multiply(value, pieces)));
    Interval tax;
    if (tax_rate(of->model, entity, &tax)) {
        widen(&line->tax, line->taxed, tax);
        line->taxed = true;
    }
    if (!line->priced || str_equal(money_currency(of->model, asked), line->currency)) {
        line->currency = money_currency(of->model, asked);
        value = money_as_written(of->model, asked);
        widen(&line->asked, line->priced, value);
        widen(&line->asked_in_all, line->priced, interval_multiply(value, pieces));
    } else { /* an option asks for it in another currency: the boat's covers both */
        line->currency = of->model->currency;
        line->asked = line->price;
        line->asked_in_all = line->cost;
    }
    line->priced = true;
    line->quoted = line->quoted || quoted;
}

/* What one more case says of it: an option may set how many there are as well as what one costs and weighs. */
static void widen_line(BomLine *line, const Case *of, const Entity *entity)
{
    Purchase purchase = purchase_of(entity);
    Interval mass = {0.0, 0.0}, pieces = pieces_of(&purchase);
    widen(&line->purchase.count, line->found_in != 0, purchase.count);
    widen(&line->purchase.spare, line->found_in != 0, purchase.spare);
    widen(&line->pieces, line->found_in != 0, pieces);
    widen_price(line, of, entity, pieces);
    if (!is_ashore(entity) && entity_quantity(entity, PROP_COMMON_MASS, 0, &mass)) {
        widen(&line->mass, line->weighed, mass);
        widen(&line->weight, line->weighed, interval_multiply(mass, pieces));
        line->weighed = true;
    }
}

static void gather_case(Lister *lister, uint32_t number)
{
    const Case *of = &lister->outcome->cases[number];
    BomLine **end = &lister->first;
    for (uint32_t i = 0; i < of->model->entity_count; i++) {
        const Entity *entity = of->model->entities[i];
        if (!is_listed(lister, of, entity)) {
            continue;
        }
        BomLine *line = lister->line_of[entity->node];
        if (line == NULL) {
            end = skip_others(end, of->model);
            line = ARENA_NEW(lister->arena, BomLine);
            *line = (BomLine){.of = of, .entity = entity, .purchase = purchase_of(entity)};
            line->next = *end;
            *end = line;
            lister->line_of[entity->node] = line;
        }
        widen_line(line, of, entity);
        line->found_in |= (CaseSet)1 << number;
        end = &line->next;
    }
}

/* "motor=diesel": the option that it stands in. */
static const char *own_option(Arena *arena, const BomLine *line)
{
    const Model *model = line->of->model;
    const Symbols *symbols = model->tree->symbols;
    for (uint32_t c = 0; c < model->choice_count && line->entity != NULL && line->entity->option != 0; c++) {
        const Choice *choice = &model->choices[c];
        for (uint32_t o = 0; o < choice->option_count && choice->picked < 0; o++) {
            if (choice->options[o].node == line->entity->option) {
                return text_format(arena, "%.*s=%.*s", STR_ARG(symbols_text(symbols, choice->name)),
                                   STR_ARG(symbols_text(symbols, choice->options[o].name)));
            }
        }
    }
    return NULL;
}

/* Also of what stands outside of the options, and one of them has dropped by `set`. */
static void find_options(const Lister *lister, BomLine *line)
{
    const Outcome *outcome = lister->outcome;
    line->only_with = own_option(lister->arena, line);
    if (line->found_in != options_all_cases(outcome) && !outcome->sampled) {
        const char *words = options_words(outcome->options, NULL, line->found_in);
        line->only_with = words != NULL ? words : line->only_with;
    }
}

/* Groups */

static const Entity *heading_of(BomBy by, const Entity *entity)
{
    return by == BOM_BY_SUPPLIER ? entity_reference(entity, PROP_COMMON_SUPPLIER)
           : by == BOM_BY_SPACE  ? entity_reference(entity, PROP_COMMON_SPACE)
                                 : NULL;
}

static bool is_of(const BomGroup *group, BomBy by, System system, const Entity *at)
{
    if (group->materials) {
        return false;
    }
    bool same = (group->at == NULL) == (at == NULL) && (at == NULL || group->at->name == at->name);
    return by == BOM_BY_SYSTEM ? group->system == system : same;
}

static BomGroup *new_group(Lister *lister)
{
    BomGroup **end = &lister->list->groups;
    while (*end != NULL) {
        end = &(*end)->next;
    }
    *end = ARENA_NEW(lister->arena, BomGroup);
    (*end)->end = &(*end)->first;
    return *end;
}

static BomGroup *get_group(Lister *lister, System system, const Entity *at)
{
    for (BomGroup *group = lister->list->groups; group != NULL; group = group->next) {
        if (is_of(group, lister->request.by, system, at)) {
            return group;
        }
    }
    BomGroup *group = new_group(lister);
    group->system = system;
    group->at = at;
    return group;
}

static void put_into(BomGroup *group, BomLine *line)
{
    line->group = group;
    line->next = NULL;
    *group->end = line;
    group->end = &line->next;
}

/* What nothing says is bought, and is not by the metre either, is told apart. */
static bool is_unsaid(const BomLine *line)
{
    return !line->dated && !line->undated && !thing_is_to_order(line->entity, line->purchase.status);
}

static void make_groups(Lister *lister)
{
    BomLine **unsaid = &lister->list->unsaid;
    for (BomLine *line = lister->first, *next; line != NULL; line = next) {
        next = line->next;
        const Entity *entity = line->entity;
        bom_find_day(lister->outcome, line);
        find_options(lister, line);
        if (!lister->request.to_buy || !is_unsaid(line)) {
            put_into(get_group(lister, (System)entity->system, heading_of(lister->request.by, entity)), line);
        } else if (!material_is_thing(entity)) {
            line->next = NULL;
            *unsaid = line;
            unsaid = &line->next;
        }
    }
}

static Material *same_material(Material *first, Str name)
{
    while (first != NULL && !str_equal(first->name, name)) {
        first = first->next;
    }
    return first;
}

/* Adds to what some cases need what another one does: from the least to the most, and nothing where one needs none of it. */
static void merge_materials(Material **all, Material *more)
{
    for (Material *m = *all; m != NULL; m = m->next) {
        const Material *same = same_material(more, m->name);
        m->count = interval_hull(m->count, same != NULL ? same->count : point(0.0));
        m->cases |= same != NULL ? same->cases : 0;
        m->order_by_s = same != NULL ? fmin(m->order_by_s, same->order_by_s) : m->order_by_s;
    }
    Material **after = all; /* a new one stands behind the one that it follows in its own case */
    for (Material *m = more, *next; m != NULL; m = next) {
        next = m->next;
        Material *same = same_material(*all, m->name);
        if (same == NULL) {
            m->count.low = 0.0;
            m->next = *after;
            *after = m;
            same = m;
        }
        after = &same->next;
    }
}

static const Material *materials_of_all(const Lister *lister)
{
    Material *all = NULL;
    for (uint32_t c = 0; c < lister->outcome->case_count; c++) {
        Material *more = materials_of(lister->arena, &lister->outcome->cases[c], lister->request.to_buy);
        for (Material *m = more; m != NULL; m = m->next) {
            m->cases = (CaseSet)1 << c;
        }
        if (c == 0) {
            all = more;
        } else {
            merge_materials(&all, more);
        }
    }
    return all;
}

static void add_materials(Lister *lister)
{
    const Case *of = outcome_first(lister->outcome);
    BomGroup *own = NULL;
    bool apart = lister->request.by == BOM_BY_SUPPLIER || lister->request.by == BOM_BY_SPACE;
    for (const Material *m = materials_of_all(lister); m != NULL; m = m->next) {
        BomLine *line = ARENA_NEW(lister->arena, BomLine);
        *line = (BomLine){.of = of, .material = m, .pieces = m->count, .dated = isfinite(m->order_by_s), .found_in = m->cases};
        find_options(lister, line);
        line->order_by = line->dated ? (Date)floor(m->order_by_s / SECONDS_A_DAY) : 0;
        if (apart && own == NULL) {
            own = new_group(lister);
            own->materials = true;
        }
        put_into(apart ? own : get_group(lister, m->system, NULL), line);
    }
}

/* Sums */

static BomMoney *money_in(Arena *arena, BomSums *sums, Str currency)
{
    BomMoney **end = &sums->asked;
    while (*end != NULL && !str_equal((*end)->currency, currency)) {
        end = &(*end)->next;
    }
    if (*end == NULL) {
        *end = ARENA_NEW(arena, BomMoney);
        (*end)->currency = currency;
    }
    return *end;
}

static void add_thing(Arena *arena, BomSums *sums, const Case *of, const Entity *entity)
{
    Interval value;
    bool quoted;
    Purchase purchase = purchase_of(entity);
    Interval pieces = pieces_of(&purchase);
    const Value *asked = price_of(entity, &value, &quoted);
    if (asked != NULL) {
        BomMoney *money = money_in(arena, sums, money_currency(of->model, asked));
        Interval in_it = interval_multiply(money_as_written(of->model, asked), pieces);
        money->in_case = interval_add(money->in_case, in_it);
        Interval cost = interval_multiply(value, pieces);
        sums->money.in_case = interval_add(sums->money.in_case, cost);
        sums->net.in_case = interval_add(sums->net.in_case, net_of(of->model, entity, cost));
    }
    if (!is_ashore(entity) && entity_quantity(entity, PROP_COMMON_MASS, 0, &value)) {
        sums->mass.in_case = interval_add(sums->mass.in_case, interval_multiply(value, pieces));
    }
}

static void close_money(BomMoney *money, bool first)
{
    money->amount = first ? money->in_case : interval_hull(money->amount, money->in_case);
    money->in_case = point(0.0);
}

/* A currency that only a later case has was asked for nothing in those before: its amount is 0 till then. */
static void close_case(BomSums *sums, bool first)
{
    close_money(&sums->money, first);
    close_money(&sums->net, first);
    close_money(&sums->mass, first);
    for (BomMoney *money = sums->asked; money != NULL; money = money->next) {
        close_money(money, first);
    }
}

static void add_up(Lister *lister)
{
    BomList *list = lister->list;
    for (uint32_t c = 0; c < lister->outcome->case_count; c++) {
        const Case *of = &lister->outcome->cases[c];
        for (uint32_t i = 0; i < of->model->entity_count; i++) {
            const Entity *entity = of->model->entities[i];
            const BomLine *line = lister->line_of[entity->node];
            bool counts = is_listed(lister, of, entity) && !(entity->flags & ENTITY_DROPPED);
            if (counts && line->group != NULL) {
                add_thing(lister->arena, &line->group->sums, of, entity);
                add_thing(lister->arena, &list->sums, of, entity);
            }
        }
        for (BomGroup *group = list->groups; group != NULL; group = group->next) {
            close_case(&group->sums, c == 0);
        }
        close_case(&list->sums, c == 0);
    }
}

static void count_line(Arena *arena, BomSums *sums, const BomLine *line)
{
    if (line->material != NULL) {
        sums->materials = true;
    } else if (!(line->entity->flags & ENTITY_DROPPED)) {
        sums->things++;
        sums->unpriced += !line->priced;
        sums->unweighed += !line->weighed;
        sums->optional = sums->optional || bom_option(arena, line).length > 0;
    }
}

static void count_lines(Arena *arena, BomList *list)
{
    for (BomGroup *group = list->groups; group != NULL; group = group->next) {
        for (const BomLine *line = group->first; line != NULL; line = line->next) {
            count_line(arena, &group->sums, line);
            count_line(arena, &list->sums, line);
        }
    }
}

/* Order */

static double day_of(const BomLine *line)
{
    return line->dated ? (double)line->order_by : INFINITY;
}

/* A line and where it stands: what is of one day stays in the order of the spec. */
typedef struct Placed {
    BomLine *line;
    uint32_t number;
} Placed;

static int by_day(const void *a, const void *b)
{
    const Placed *x = a, *y = b;
    double day_x = day_of(x->line), day_y = day_of(y->line);
    return day_x != day_y ? (day_x > day_y) - (day_x < day_y) : (x->number > y->number) - (x->number < y->number);
}

static void sort_lines(Arena *arena, BomGroup *group)
{
    uint32_t count = 0;
    for (const BomLine *line = group->first; line != NULL; line = line->next) {
        count++;
    }
    Placed *placed = ARENA_ARRAY(arena, Placed, count);
    uint32_t number = 0;
    for (BomLine *line = group->first; line != NULL; line = line->next) {
        placed[number] = (Placed){line, number};
        number++;
    }
    qsort(placed, count, sizeof(Placed), by_day);
    BomLine **end = &group->first;
    for (uint32_t i = 0; i < count; i++) {
        *end = placed[i].line;
        end = &placed[i].line->next;
    }
    *end = NULL;
}

/* What a group is put in order by: its first day, then its system or its place in the spec. */
static double rank_of(const BomList *list, const BomGroup *group)
{
    if (list->request.by == BOM_BY_SYSTEM) {
        return group->system;
    }
    return group->materials ? INFINITY : group->at == NULL ? (double)UINT32_MAX : group->at->index;
}

static bool stands_before(const BomList *list, const BomGroup *a, const BomGroup *b)
{
    double day_a = day_of(a->first), day_b = day_of(b->first);
    bool by_day = list->request.to_buy && a->at != NULL && b->at != NULL && day_a != day_b;
    return by_day ? day_a < day_b : rank_of(list, a) <= rank_of(list, b);
}

static void sort_groups(BomList *list)
{
    BomGroup *rest = list->groups;
    list->groups = NULL;
    while (rest != NULL) {
        BomGroup *group = rest;
        rest = rest->next;
        BomGroup **at = &list->groups;
        while (*at != NULL && stands_before(list, *at, group)) {
            at = &(*at)->next;
        }
        group->next = *at;
        *at = group;
    }
}

BomList *bom_list(Arena *arena, const Outcome *outcome, BomRequest request)
{
    Lister lister = {.arena = arena, .outcome = outcome, .request = request, .list = ARENA_NEW(arena, BomList)};
    lister.list->request = request;
    if (outcome->case_count == 0) {
        return lister.list;
    }
    lister.line_of = ARENA_ARRAY(arena, BomLine *, outcome->spec->tree.count + 1);
    for (uint32_t c = 0; c < outcome->case_count; c++) {
        gather_case(&lister, c);
    }
    make_groups(&lister);
    if (request.to_buy) {
        bom_find_undecided(arena, outcome, lister.line_of);
    }
    if (request.only.length == 0) {
        add_materials(&lister);
    }
    add_up(&lister);
    count_lines(arena, lister.list);
    for (BomGroup *group = lister.list->groups; group != NULL && request.to_buy; group = group->next) {
        sort_lines(arena, group);
    }
    sort_groups(lister.list);
    return lister.list;
}

const char *bom_only_unknown(Arena *arena, const Outcome *outcome, Str only)
{
    const char *unknown = figures_subject_unknown(arena, outcome, only);
    if (unknown != NULL || only.length == 0) {
        return unknown;
    }
    for (uint32_t c = 0; c < outcome->case_count; c++) {
        const Entity *entity = model_find(outcome->cases[c].model, only);
        if (entity != NULL && (entity->kind == KIND_SPACE || entity->kind == KIND_SUPPLIER)) {
            return NULL;
        }
    }
    return text_format(arena, "`%.*s` is neither a space nor a supplier: it has no list", STR_ARG(only));
}

/* Texts of a line */

Str bom_title(Arena *arena, const BomLine *line)
{
    const Figure *fitting = figure_find(line->of->figures, line->entity, FIGURE_FITTING_SIZE, NULL);
    if (fitting == NULL || !fitting->chosen) {
        return line->entity->title;
    }
    return str_from(text_format(arena, "%.*s%s%s (sized)", STR_ARG(line->entity->title),
                                line->entity->title.length > 0 ? ", " : "",
                                figure_text(line->of->figures, fitting)));
}

bool bom_lead(const Entity *entity, Interval *lead_s)
{
    const Entity *supplier = entity_reference(entity, PROP_COMMON_SUPPLIER);
    return entity_quantity(entity, PROP_COMMON_LEAD, 0, lead_s) ||
           (supplier != NULL && entity_quantity(supplier, PROP_SUPPLIER_LEAD, 0, lead_s));
}

Str bom_replaces(const BomLine *line)
{
    const Value *value = property_value(entity_property(line->entity, PROP_COMMON_REPLACES), 0);
    bool named = value_entity(value) != NULL;
    return named                       ? entity_name(line->of->model, value_entity(value))
           : value->kind == VALUE_TEXT ? value->u.text
                                       : (Str){"", 0};
}

Str bom_option(Arena *arena, const BomLine *line)
{
    (void)arena;
    return line->only_with != NULL ? str_from(line->only_with) : (Str){"", 0};
}
