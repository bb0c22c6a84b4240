/*
 * Cabins: what a heater or a cooler has to give in the spaces that it serves, by the heat that goes through
 * hull, glass and air, and by the thumb of so much for each cubic metre.
 *
 * The first only where each space says how much `skin` it has, for each day that says how cold or hot it is.
 * Several that serve one space share it by what each gives, and in equal parts where one does not say that; those that
 * serve some spaces together and others not help each other out (drive_crossing.c).
 * Rises with skin, glass, volume and the difference of temperature, so each end is one corner.
 *
 * From it how long such a day has them run: days of banks and tanks count with that where the spec states no
 * `use`. So this is the first step of the recipes.
 */
#include "figures/drive_cabins.h"
#include "figures/power.h"
#include "physics/celsius.h"
#include "physics/days.h"

static const double glass_w_per_m2_k = 5.7;

static const Climate climates[] = {
    {KIND_HEATER, PROP_HEATER_SERVES, PROP_HEATER_OUTPUT, FIGURE_HEAT_NEED, FIGURE_HEAT_THUMB, DRIVE_CABIN_WARM,
     DRIVE_AIR_CHANGES_COLD, DRIVE_HEAT_THUMB, false},
    {KIND_COOLER, PROP_COOLER_SERVES, PROP_COOLER_OUTPUT, FIGURE_COOL_NEED, FIGURE_COOL_THUMB, DRIVE_CABIN_COOL,
     DRIVE_AIR_CHANGES_HOT, DRIVE_COOL_THUMB, true},
};

/* Whether something serves a space; without one, whether it serves any of the spaces of a maker. */
static bool serves(const Climate *climate, const Entity *thing, const Entity *maker, const Entity *space)
{
    const Property *list = entity_property(maker, climate->serves);
    bool any = space != NULL && entity_names(thing, climate->serves, space);
    for (uint16_t i = 0; space == NULL && i < list->count && !any; i++) {
        any = entity_names(thing, climate->serves, value_entity(&list->values[i]));
    }
    return any;
}

/* What a space's skin lets through: W/(m2 K). */
static Interval use_skin(Work *work, const Entity *space)
{
    Str built = entity_word(space, PROP_SPACE_BUILT);
    double u = str_is(built, "insulated") ? 0.7 : str_is(built, "cored") ? 1.2 : 5.5;
    const char *what = str_is(built, "insulated") ? "50 mm of insulation"
                       : str_is(built, "cored")   ? "a 25 mm foam core"
                                                  : "a single skin";
    return use_fact(work, text_format(work->figures->arena, "W/(m2 K) through %s", what), point(u),
                    UNIT_ALONE(UNIT_NONE), "from memory")
        .value;
}

Interval use_given(Work *work, const Climate *climate, const Entity *thing, const char *before, Sum *sum)
{
    sum_label(sum, work, before, thing, "output");
    Interval given = use_value(work, thing, climate->output, 0).value;
    sum_count(sum, work, thing);
    return interval_multiply(given, use_count(work, thing).value);
}

/*
 * The part of a space that falls to one of several that serve it, or without a space of what is in all that it
 * serves; nothing is used for a single one. What it gives itself is used once: 1 / (1 + what the others give /
 * what it gives).
 */
static Interval use_part(Work *work, const Climate *climate, const Entity *maker, const Entity *space, Sum *sum)
{
    double count = 0.0;
    bool known = true;
    for (const Entity *e = first_aboard(work->model, climate->kind); e != NULL; e = next_aboard(e)) {
        if (serves(climate, e, maker, space)) {
            count++;
            known = known && states_number(e, climate->output);
        }
    }
    if (count <= 1.0) {
        return point(1.0);
    }
    if (!known) {
        sum_label(sum, work, " / ", space != NULL ? space : maker, "sharers");
        Interval sharers = use_fact(work, "that serve it", point(count), UNIT_ALONE(UNIT_NONE), "counted in the spec").value;
        return interval_divide(point(1.0), sharers);
    }
    Interval own = use_given(work, climate, maker, " x ", sum), others = point(0.0);
    use_given(work, climate, maker, " / (", sum);
    for (const Entity *e = first_aboard(work->model, climate->kind); e != NULL; e = next_aboard(e)) {
        if (e != maker && serves(climate, e, maker, space)) {
            others = interval_add(others, use_given(work, climate, e, " + ", sum));
        }
    }
    buf_text(&sum->formula, ")");
    return interval_divide(point(1.0), interval_add(point(1.0), interval_divide(others, own)));
}

/* Heat in W for each K of difference: skin, glass, air. */
static Interval use_loss(Work *work, const Climate *climate, const Entity *space, Sum *sum)
{
    sum_next(sum);
    sum_label(sum, work, "(", space, "skin");
    Interval skin = use_value(work, space, PROP_SPACE_SKIN, 0).value;
    sum_label(sum, work, " x ", space, "through");
    Interval loss = interval_multiply(skin, use_skin(work, space));
    if (entity_states(space, PROP_SPACE_GLASS)) {
        sum_label(sum, work, " + 5.7 x ", space, "glass");
        Interval glass = use_value(work, space, PROP_SPACE_GLASS, 0).value;
        loss = interval_add(loss, interval_scale(glass, glass_w_per_m2_k));
    }
    sum_label(sum, work, " + 0.335 x ", space, "volume");
    Interval air = use_value(work, space, PROP_SPACE_VOLUME, 0).value;
    sum_label(sum, work, " x ", space, "changes of air");
    Interval changes =
        use_drive_limit(work, "changes of air an hour", climate->changes, UNIT_ALONE(UNIT_NONE));
    buf_text(&sum->formula, ")");
    Interval each = interval_multiply(air, changes);
    return interval_add(loss, interval_corners(air_heat_w(each.low, 1.0, 1.0), air_heat_w(each.high, 1.0, 1.0)));
}

static void add_loss(Work *work, const Climate *climate, const Entity *maker, const Entity *space, Sum *sum)
{
    Interval loss = use_loss(work, climate, space, sum);
    sum_add(sum, interval_multiply(loss, use_part(work, climate, maker, space, sum)));
}

/* Sun through the glass of a space; maker: whose part of it is meant, or NULL for all of it. */
static Interval use_sun(Work *work, const Climate *climate, const Entity *maker, const Entity *space, Sum *sum)
{
    if (!climate->cools || !entity_states(space, PROP_SPACE_GLASS)) {
        return point(0.0);
    }
    sum_next(sum);
    sum_label(sum, work, "", space, "glass again");
    Interval glass = use_value(work, space, PROP_SPACE_GLASS, 0).value;
    sum_label(sum, work, " x ", space, "sun");
    Interval sun =
        use_drive_limit(work, "sun through glass, W/m2", DRIVE_SUN_THROUGH_GLASS, UNIT_ALONE(UNIT_NONE));
    Interval gain = interval_multiply(glass, sun);
    return maker != NULL ? interval_multiply(gain, use_part(work, climate, maker, space, sum)) : gain;
}

/* All of the crew may be where it cools; others that cool there take their part of them. */
static Interval use_people(Work *work, const Climate *climate, const Entity *maker, Sum *sum)
{
    sum_next(sum);
    sum_label(sum, work, "", work->model->boat, "crew");
    Interval crew = use_value(work, work->model->boat, PROP_BOAT_CREW, 0).value;
    sum_label(sum, work, " x ", work->model->boat, "heat of one");
    Interval heat =
        interval_multiply(crew, use_drive_limit(work, "heat of a person", DRIVE_HEAT_OF_A_PERSON, UNIT_ALONE(UNIT_W)));
    return maker != NULL ? interval_multiply(heat, use_part(work, climate, maker, NULL, sum)) : heat;
}

/* The first space from here on in the list of what a maker serves; NULL for a broken name, which waits. */
static const Entity *space_of(Work *work, const Property *list, uint16_t i)
{
    const Value *value = &list->values[i];
    if (value_entity(value) == NULL) {
        use_waiting(work);
        return NULL;
    }
    return value_entity(value);
}

/* How much warmer, or cooler, it is to be inside than such a day is outside. */
static Interval use_difference(Work *work, const Climate *climate, const Entity *day)
{
    double inside = drive_limit(climate->inside)->value + ZERO_CELSIUS_K;
    use_fact(work, "temperature inside", point(inside), UNIT_ALONE(UNIT_CELSIUS),
             drive_limit(climate->inside)->source);
    Interval outside = use_value(work, day, PROP_DAY_TEMPERATURE, 0).value;
    Interval difference = climate->cools ? interval_subtract(outside, point(inside))
                                         : interval_subtract(point(inside), outside);
    return interval_max(difference, point(0.0));
}

/* Heat is told as the owner tells that of the maker. */
static UnitPair heat_unit(const Climate *climate, const Entity *maker)
{
    return unit_of(maker, climate->output, UNIT_ALONE(UNIT_KW));
}

/* How long it runs at full output in such a day; where it gives too little, the whole day. */
static void record_running(Work *work, const Climate *climate, const Entity *maker, const Figure *need)
{
    work_begin(work);
    Interval asked = use_figure(work, need).value;
    Interval given = use_value(work, maker, climate->output, 0).value;
    bool several = entity_states(maker, PROP_COMMON_COUNT);
    given = interval_multiply(given, use_count(work, maker).value);
    Interval time = interval_scale(interval_divide(asked, given), DAY_SECONDS);
    work_record(work, FIGURE_RUNNING_TIME, maker, need->at, interval_min(time, point(DAY_SECONDS)),
                text_format(work->figures->arena, "24 h x {%s} / {output}%s, at most 24 h",
                            figure_rows[need->id].name, several ? " / {count}" : ""));
}

const Figure *running_time(const Figures *figures, const Entity *entity, const Entity *day)
{
    bool climate = entity->kind == KIND_HEATER || entity->kind == KIND_COOLER;
    return climate && !states_use(entity) ? figure_find(figures, entity, FIGURE_RUNNING_TIME, day) : NULL;
}

/* Of those that cross: what all their spaces ask for, allotted. Where all of the crew sits is the worst for it. */
static Interval use_crossed_need(Work *work, const Climate *climate, Crossing *c, const Entity *day, const char **formula)
{
    Sum loss, gain, to;
    Interval crew = point(0.0);
    sum_begin(&loss, work);
    sum_begin_beside(&gain, work);
    sum_begin_beside(&to, work);
    Interval difference = use_difference(work, climate, day);
    for (int s = 0; s < c->allotment.spaces; s++) {
        c->allotment.asks[s] = interval_multiply(use_loss(work, climate, c->spaces[s], &loss), difference);
    }
    for (int s = 0; climate->cools && s < c->allotment.spaces; s++) {
        c->allotment.asks[s] = interval_add(c->allotment.asks[s], use_sun(work, climate, NULL, c->spaces[s], &gain));
    }
    if (climate->cools) {
        crew = use_people(work, climate, NULL, &gain);
    }
    Interval need = climate->cools ? use_allotted_with(work, climate, c, crew, &to) : use_allotted(work, climate, c, &to);
    *formula = text_format(work->figures->arena, "from {inside} to {outside} x (%s)%s%s, allotted to %s", loss.formula.text,
                           climate->cools ? " + " : "", climate->cools ? gain.formula.text : "", to.formula.text);
    return need;
}

static void record_need(Work *work, const Climate *climate, const Entity *maker, const Entity *day)
{
    Crossing crossing;
    if (find_crossing(work->model, climate, maker, &crossing)) {
        const char *formula;
        Interval need = use_crossed_need(work, climate, &crossing, day, &formula);
        Figure *figure = work_record(work, climate->need, maker, day, need, formula);
        figure->unit = heat_unit(climate, maker);
        record_running(work, climate, maker, figure);
        return;
    }
    const Property *list = entity_property(maker, climate->serves);
    Sum loss;
    Sum gain = {.value = point(0.0)};
    sum_begin(&loss, work);
    buf_init(&gain.formula, work->figures->arena);
    Interval difference = use_difference(work, climate, day);
    for (uint16_t i = 0; i < list->count; i++) {
        const Entity *space = space_of(work, list, i);
        if (space != NULL) {
            add_loss(work, climate, maker, space, &loss);
        }
    }
    for (uint16_t i = 0; climate->cools && i < list->count; i++) {
        const Entity *space = space_of(work, list, i);
        if (space != NULL) {
            sum_add(&gain, use_sun(work, climate, maker, space, &gain));
        }
    }
    if (climate->cools) {
        sum_add(&gain, use_people(work, climate, maker, &gain));
    }
    Interval need = interval_add(interval_multiply(loss.value, difference), gain.value);
    if (difference.low <= 0.0) {
        need.low = 0.0; /* where it may be no hotter than that, the day may ask for nothing: see asks_for_it */
    }
    const char *formula =
        text_format(work->figures->arena, "from {inside} to {outside} x (%s)%s%s", loss.formula.text,
                    climate->cools ? " + " : "", climate->cools ? gain.formula.text : "");
    Figure *figure = work_record(work, climate->need, maker, day, need, formula);
    figure->unit = heat_unit(climate, maker);
    record_running(work, climate, maker, figure);
}

/* So much for each cubic metre. */
static void record_crossed_thumb(Work *work, const Climate *climate, const Entity *maker, Crossing *c)
{
    Sum sum, to;
    sum_begin(&sum, work);
    sum_begin_beside(&to, work);
    Interval each = use_fact(work, "for each m3, W", point(drive_limit(climate->by_volume)->value),
                             UNIT_ALONE(UNIT_NONE), drive_limit(climate->by_volume)->source)
                        .value;
    for (int s = 0; s < c->allotment.spaces; s++) {
        sum_next(&sum);
        sum_label(&sum, work, "", c->spaces[s], "volume");
        c->allotment.asks[s] = interval_multiply(each, use_value(work, c->spaces[s], PROP_SPACE_VOLUME, 0).value);
    }
    Interval need = use_allotted(work, climate, c, &to);
    const char *formula = text_format(work->figures->arena, "{each} x (%s), allotted to %s", sum.formula.text, to.formula.text);
    work_record(work, climate->thumb, maker, NULL, need, formula)->unit = heat_unit(climate, maker);
}

static void record_thumb(Work *work, const Climate *climate, const Entity *maker)
{
    Crossing crossing;
    if (find_crossing(work->model, climate, maker, &crossing)) {
        record_crossed_thumb(work, climate, maker, &crossing);
        return;
    }
    const Property *list = entity_property(maker, climate->serves);
    Sum sum;
    sum_begin(&sum, work);
    Interval each = use_fact(work, "for each m3, W", point(drive_limit(climate->by_volume)->value),
                             UNIT_ALONE(UNIT_NONE), drive_limit(climate->by_volume)->source)
                        .value;
    for (uint16_t i = 0; i < list->count; i++) {
        const Entity *space = space_of(work, list, i);
        if (space != NULL) {
            sum_next(&sum);
            sum_label(&sum, work, "", space, "volume");
            Interval volume = use_value(work, space, PROP_SPACE_VOLUME, 0).value;
            sum_add(&sum, interval_multiply(volume, use_part(work, climate, maker, space, &sum)));
        }
    }
    work_record(work, climate->thumb, maker, NULL, interval_multiply(each, sum.value),
                text_format(work->figures->arena, "{each} x (%s)", sum.formula.text))
        ->unit = heat_unit(climate, maker);
}

static bool all_state(const Entity *maker, PropId list_prop, PropId prop)
{
    const Property *list = entity_property(maker, list_prop);
    for (uint16_t i = 0; i < list->count; i++) {
        const Entity *space = value_entity(&list->values[i]);
        if (space != NULL && !entity_states(space, prop)) {
            return false;
        }
    }
    return true;
}

/* A day that is not cold asks for no heat, nor one that is not hot for cooling. */
static bool asks_for_it(const Climate *climate, const Entity *day)
{
    const Value *outside = property_value(entity_property(day, PROP_DAY_TEMPERATURE), 0);
    double inside = drive_limit(climate->inside)->value + ZERO_CELSIUS_K;
    return outside->kind == VALUE_QUANTITY &&
           (climate->cools ? outside->u.quantity.high > inside : outside->u.quantity.low < inside);
}

static void record_climate(Work *work, const Climate *climate)
{
    for (const Entity *e = first_aboard(work->model, climate->kind); e != NULL; e = next_aboard(e)) {
        if (!entity_states(e, climate->serves)) {
            continue;
        }
        record_thumb(work, climate, e);
        if (!all_state(e, climate->serves, PROP_SPACE_SKIN)) {
            continue;
        }
        for (const Entity *day = first_aboard(work->model, KIND_DAY); day != NULL; day = next_aboard(day)) {
            if (asks_for_it(climate, day)) {
                record_need(work, climate, e, day);
            }
        }
    }
}

void figures_climate(Work *work)
{
    for (size_t i = 0; i < sizeof climates / sizeof climates[0]; i++) {
        record_climate(work, &climates[i]);
    }
}
