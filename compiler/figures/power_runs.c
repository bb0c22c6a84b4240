/* See power_runs.h. */
#include "figures/power_runs.h"

void outcomes_forget(Outcomes *out, const Group *group)
{
    for (int b = 0; b < group->bank_count; b++) {
        out->lowest[b] = out->end[b] = out->balance[b] = out->endurance[b] = no_band;
        out->noted[WORSE][b] = out->noted[BETTER][b] = false;
    }
    for (int s = 0; s < group->source_count; s++) {
        out->refused[s] = no_band;
    }
    for (int l = 0; l < group->link_count; l++) {
        out->spared[l] = no_band;
    }
}

Outcomes *new_outcomes(Arena *arena, const Group *group)
{
    Outcomes *out = ARENA_NEW(arena, Outcomes);
    out->refused = ARENA_ARRAY(arena, Band, group->source_count);
    out->spared = ARENA_ARRAY(arena, Band, group->link_count);
    outcomes_forget(out, group);
    return out;
}

void note_lowest(Outcomes *out, const Group *group, int corner, const double lowest[], const double at[])
{
    for (int b = 0; b < group->bank_count; b++) {
        bool first = !out->noted[corner][b];
        if (first || (corner == WORSE ? lowest[b] < out->lowest[b].low : lowest[b] > out->lowest[b].high)) {
            out->lowest_at[corner][b] = at[b];
        }
        out->noted[corner][b] = true;
        widen(&out->lowest[b], lowest[b]);
    }
}

void use_state(Work *work, State state)
{
    if (state == STATE_WAITING) {
        use_waiting(work);
    } else if (state == STATE_MISSING) {
        use_figure(work, NULL);
    }
}

/* Whether all is known of a bank that its part of a run needs; of a whole cruise its days say the rest. */
static bool is_known(const Work *work, const GroupBank *bank, const Entity *day)
{
    static const FigureId daily[] = {FIGURE_DAILY_USE, FIGURE_DAILY_CHARGE};
    bool known = bank->state == STATE_KNOWN;
    for (size_t i = 0; day != NULL && i < sizeof daily / sizeof daily[0]; i++) {
        const Figure *figure = figure_find(work->figures, bank->entity, daily[i], day);
        known = known && (figure == NULL || figure->state == STATE_KNOWN);
    }
    return known;
}

/*
 * All that a run of a bank rests on besides its own day's use and charge: its partners' too. Where no bank charges another,
 * one source charges both and gives either its share, and that is all that joins them; but they are run together, and where
 * nobody can tell of one, nothing was run.
 */
void use_banks(Work *work, const Group *group, int b, const Entity *day)
{
    for (int i = 0; i < group->bank_count; i++) {
        const GroupBank *bank = group->banks[i];
        if (i != b && group->link_count == 0 && is_known(work, bank, day)) {
            continue;
        }
        if (bank->volts.high <= 0.0) {
            use_no_voltage(work, bank->entity); /* nobody can tell: no charge, and no emptiness either */
        }
        use_figure(work, bank->capacity);
        if (day != NULL) {
            use_figure(work, figure_find(work->figures, bank->entity, FIGURE_DAILY_USE, day));
            use_figure(work, figure_find(work->figures, bank->entity, FIGURE_DAILY_CHARGE, day));
        }
        if (i == b) {
            use_figure(work, bank->acceptance);
            use_bank_value(work, bank->entity, PROP_BANK_CHARGE_EFFICIENCY, BATTERY_CHARGE_EFFICIENCY,
                           UNIT_ALONE(UNIT_PERCENT));
            use_peukert(work, bank->entity);
            use_taper(work, bank->entity);
        } else {
            use_state(work, bank->state);
        }
    }
    for (int i = 0; i < group->link_count; i++) {
        use_value(work, group->converters[i], PROP_CONVERTER_OUTPUT, 0);
        if (group->links[WORSE][i].drains) {
            use_value(work, group->converters[i], PROP_CONVERTER_OUTPUT, 1);
        }
    }
}

static void write_clock(Buf *to, double steps)
{
    int minutes = (int)(steps * (DAY_STEP_S / 60.0) + 0.5);
    int days = minutes / 1440;
    buf_format(to, "%02d:%02d", minutes / 60 % 24, minutes % 60);
    if (days > 0) {
        buf_format(to, " of day %d", days + 1);
    }
}

/* "lowest at 06:15; at best 07:00 of day 2" */
const char *when_lowest(Arena *arena, const Group *group, const Outcomes *out, int b, const char *cold)
{
    Buf text;
    buf_init(&text, arena);
    buf_text(&text, "lowest at ");
    write_clock(&text, out->lowest_at[WORSE][b]);
    if (out->lowest[b].low != out->lowest[b].high && out->lowest_at[WORSE][b] != out->lowest_at[BETTER][b]) {
        buf_text(&text, "; in the better case at ");
        write_clock(&text, out->lowest_at[BETTER][b]);
    }
    if (cold != NULL) {
        buf_format(&text, "; %s", cold);
    }
    if (group->cut) {
        buf_text(&text, "; more than 16 banks charge one another: what passes between them is left out");
    }
    return text.text;
}

const char run_formula[] = "run in steps of 15 minutes: loads at their hours by Peukert, what sources offer, what the "
                                  "bank takes as it fills";

Interval energy_of(const Group *group, int b, Band charge_c)
{
    Interval volts = group->banks[b]->volts;
    return band_interval((Band){day_energy_j(fmin(charge_c.low * volts.low, charge_c.low * volts.high)),
                                day_energy_j(fmax(charge_c.high * volts.low, charge_c.high * volts.high))});
}

/* The first of several entries of one source. */
bool is_first_of_source(const Group *group, int s)
{
    for (int i = 0; i < s; i++) {
        if (group->sources[i].feed->giver == group->sources[s].feed->giver) {
            return false;
        }
    }
    return true;
}

/* What a source that feeds several banks was refused by all of them. */
Interval refused_of(const Group *group, int s, const Outcomes *out)
{
    Interval joule = point(0.0);
    for (int i = s; i < group->source_count; i++) {
        if (group->sources[i].feed->giver == group->sources[s].feed->giver) {
            Interval part = energy_of(group, group->sources[i].bank, out->refused[i]);
            joule = interval_add(joule, part);
        }
    }
    return joule;
}

/* What is left of an offer: never less than nothing, though both are ranges. */
Interval left_of(Interval offered, Interval refused)
{
    return interval_max(interval_subtract(offered, refused), point(0.0));
}

/* What adding up in a hundred steps leaves of nothing is nothing. */
Interval without_dust(Interval part, double of)
{
    double dust = 1e-9 * of;
    bool exact = interval_is_point(part);
    part.low = part.low < dust ? 0.0 : part.low;
    return exact ? point(part.low) : part;
}
