/*
 * The first pages of the build book: what it can and cannot say, which rules stand behind it, and the boat at
 * a glance.
 */
#include "output/book_chapters.h"

#include "figures/drive.h"
#include "rules/goal_figures.h"

#include "output/report.h"

#include <string.h>

/* Cautions */

static void write_draft(Book *book)
{
    const Messages *messages = &book->outcome->spec->messages;
    if (book->outcome->mistakes == 0) {
        return;
    }
    markdown_quote(&book->md);
    markdown_strong(&book->md, STR("Draft."));
    markdown_format(
        &book->md,
        " The spec has %s that are to be mended first. What rests on them is not known, and rules that"
        " need it say nothing (%u judgements wait).",
        book->outcome->mistakes == 1 ? "a mistake" : "mistakes", book->outcome->waiting);
    for (const Message *m = messages->first; m != NULL; m = m->next) {
        markdown_item(&book->md, MARKDOWN_BULLET, 0);
        book_prose(book, m->text);
        if (m->placed) {
            markdown_text(&book->md, STR(", in "));
            markdown_code(&book->md, book_place(book, m->at));
        }
    }
}

/* A book of what was only tried must not pass for the book of the boat. */
static void write_tried(Book *book)
{
    const Spec *spec = book->outcome->spec;
    if (spec->set_count == 0) {
        return;
    }
    markdown_quote(&book->md);
    markdown_strong(&book->md, STR("Tried."));
    markdown_text(&book->md, STR(" This is not the book of the spec as it stands. It was made with: "));
    for (uint32_t i = 0; i < spec->set_count; i++) {
        markdown_text(&book->md, i > 0 ? STR(", ") : STR(""));
        markdown_code(&book->md, report_tried(book->outcome, i));
    }
    markdown_text(&book->md, STR("."));
}

/* Which of the subparts on petrol is law for her: I and J hold for engines within the hull, K for outboards too. */
static const char *petrol_text(const Book *book)
{
    bool inboard = false;
    bool petrol = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        const Entity *e = t->entity;
        bool aboard = !(e->flags & ENTITY_DROPPED);
        inboard = inboard || (aboard && e->kind == KIND_ENGINE && is_petrol_inboard(e));
        petrol = petrol || (aboard && e->kind == KIND_ENGINE && str_is(entity_word(e, PROP_ENGINE_FUEL), "petrol"));
    }
    return inboard  ? "She has a petrol engine within her hull: of the regulations for petrol boats (33 CFR 183),"
                      " subparts I (electricity), J (fuel) and K (ventilation) are taken as rules."
           : petrol ? "Her petrol engine is an outboard: of the regulations for petrol boats (33 CFR 183), subpart K"
                      " (ventilation) is taken as a rule; subparts I (electricity) and J (fuel) except outboards,"
                      " and are benchmarks."
                    : "Regulations for petrol boats (33 CFR 183, subparts I, J and K) are benchmarks for this boat:"
                      " the spec names no petrol engine.";
}

static void write_basis(Book *book)
{
    bool us = book->outcome->basis == BASIS_US;
    markdown_heading(&book->md, 3, STR("The rules it was checked against"), NULL);
    markdown_paragraph(&book->md);
    markdown_text(&book->md, STR("Basis "));
    markdown_code(&book->md, str_from(basis_word(book->outcome->basis)));
    markdown_text(&book->md,
                  us ? STR(": US federal regulations (33 CFR parts 159, 181 and 183), and the voluntary"
                           " practice that repeats them.")
                     : STR(": the ISO standards for small craft, mostly from memory: nobody has compared"
                           " them with the printed standards."));
    markdown_text(&book->md, STR(" Every rule that was judged stands with its source in the chapter "));
    markdown_link(&book->md, STR("Sources"), "#sources");
    markdown_text(&book->md,
                  STR("; what is from memory, or common practice without a source, says so there."));
    markdown_heading(&book->md, 3, STR("What is a benchmark here, and not the law"), NULL);
    markdown_item(&book->md, MARKDOWN_BULLET, 0);
    markdown_text(&book->md,
                  STR("Clauses for inspected vessels (46 CFR) are quoted as benchmarks, never as what the"
                      " law asks of a pleasure boat."));
    markdown_item(&book->md, MARKDOWN_BULLET, 0);
    markdown_text(&book->md, str_from(petrol_text(book)));
    markdown_item(&book->md, MARKDOWN_BULLET, 0);
    markdown_text(&book->md, STR("What the owner stated is taken as stated. Nobody has looked at the boat."));
}

static const char *danger_word(Danger danger)
{
    static const char *const words[] = {
        [DANGER_NONE] = "",    [DANGER_MAINS] = "mains", [DANGER_BATTERY] = "battery",
        [DANGER_GAS] = "gas",  [DANGER_FUEL] = "fuel",   [DANGER_FLOODING] = "flooding",
        [DANGER_FIRE] = "fire", [DANGER_DRINKING] = "drinking water"};
    return words[danger];
}

/* Waived faults that could hurt someone stand on the first page, whatever the reason given. */
static void write_waived_dangers(Book *book)
{
    bool any = false;
    for (const Finding *f = book->outcome->findings; f != NULL; f = f->next) {
        if (f->waiver == NULL || f->rule->danger == DANGER_NONE || f->severity != SEVERITY_FAULT) {
            continue;
        }
        if (!any) {
            markdown_heading(&book->md, 3, STR("Faults that the owner has set aside"), NULL);
            book_say(book,
                     "They are faults all the same: they concern what can hurt somebody.");
            any = true;
        }
        markdown_item(&book->md, MARKDOWN_BULLET, 0);
        markdown_format(&book->md, "%s: ", danger_word(f->rule->danger));
        markdown_link(&book->md,
                      str_from(text_format(book->arena, "%s on %.*s", f->rule->name,
                                           STR_ARG(book_name(book, f->subject)))),
                      text_format(book->arena, "#%s", book_finding_id(book, f)));
        markdown_text(&book->md, STR(": "));
        book_prose(book, f->message);
        if (f->waiver->has_until) {
            markdown_format(&book->md, " (until %s)", book_date(book, f->waiver->until).text);
        }
        markdown_text(&book->md, STR(". Reason given: "));
        markdown_text(&book->md, f->waiver->because.length > 0 ? f->waiver->because : STR("none"));
    }
    if (!any) {
        book_say(book, "No fault of mains, batteries, gas, fuel or flooding is set aside.");
    }
}

void book_cautions(Book *book)
{
    write_tried(book);
    write_draft(book);
    book_caution(
        book,
        "Garboard reports departures from the rules it knows. It never says that a boat is safe, or that"
        " she complies with anything. Local codes apply, and licensed people do what the law reserves"
        " for them: shore power, gas, and whatever else it names where you are.");
    book_caution(
        book,
        "Shore power kills. Batteries burn skin, eyes and boats. Gas and fuel vapour explode. A hose that"
        " comes off below the waterline sinks her. Read the caution of a chapter before you work from it.");
    markdown_paragraph(&book->md);
    markdown_text(&book->md, STR("In the tables "));
    markdown_text(&book->md, book_nothing);
    markdown_text(&book->md, STR(" means: not stated. What is marked (assumed) is a default, listed under "));
    markdown_link(&book->md, STR("Assumptions"), "#assumptions");
    markdown_text(&book->md,
                  STR("; (sized) was sized by Garboard; a..b lies somewhere between. The working of every"
                      " number is under "));
    markdown_link(&book->md, STR("The working of every figure"), "#the-working-of-every-figure");
    markdown_text(&book->md, STR(". Dates are judged as on "));
    markdown_text(&book->md, book_date(book, book->outcome->today));
    markdown_text(&book->md, STR(". Names are the spec's own, and the labels of cables and hoses."));
    write_basis(book);
    write_waived_dangers(book);
}

/* The boat at a glance */

static void glance_row(Book *book, const char *what, Str text)
{
    markdown_row(&book->md);
    book_cell(book, str_from(what));
    book_cell(book, text);
}

/* Boats of metal, those with a thruster, those of which how they float is reckoned. */
static bool matters_to_few(PropId prop)
{
    return prop == PROP_BOAT_BUILT || prop == PROP_BOAT_WINDAGE || prop == PROP_BOAT_FREEBOARD || prop == PROP_BOAT_AIR_DRAFT || prop == PROP_BOAT_WATERPLANE ||
           prop == PROP_BOAT_GM;
}

static void write_particulars(Book *book)
{
    static const struct {
        const char *what;
        PropId prop;
    } rows[] = {
        {"Length", PROP_BOAT_LENGTH},
        {"Waterline", PROP_BOAT_WATERLINE},
        {"Beam", PROP_BOAT_BEAM},
        {"Draft", PROP_BOAT_DRAFT},
        {"Freeboard", PROP_BOAT_FREEBOARD},
        {"Height over the water, on her lines", PROP_BOAT_AIR_DRAFT},
        {"Displacement", PROP_BOAT_DISPLACEMENT},
        {"Waterplane coefficient", PROP_BOAT_WATERPLANE},
        {"Metacentric height", PROP_BOAT_GM},
        {"Hull", PROP_BOAT_HULL},
        {"Built of", PROP_BOAT_BUILT},
        {"Windage", PROP_BOAT_WINDAGE},
        {"Crew", PROP_BOAT_CREW},
        {"Waters", PROP_BOAT_WATERS},
        {"Water that she floats in", PROP_BOAT_WATER},
        {"System voltage", PROP_BOAT_SYSTEM_VOLTAGE},
        {"Direct current", PROP_BOAT_DIRECT_CURRENT},
        {"Sails", PROP_BOAT_SAILS},
        {"Heel at which openings are judged", PROP_BOAT_HEEL},
        {"Air", PROP_BOAT_AIR_TEMPERATURE},
        {"Sea water", PROP_BOAT_SEA_TEMPERATURE},
    };
    book_head(book, (const char *const[]){"Particulars", ""}, 2);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        bool said = entity_states(book->boat, rows[i].prop);
        if (rows[i].prop == PROP_BOAT_HEEL && !said) {
            continue; /* its default is one for boats that sail, and another for those that do not */
        }
        if (matters_to_few(rows[i].prop) && !said) {
            continue;
        }
        glance_row(book, rows[i].what, book_property(book, book->boat, rows[i].prop));
    }
}

/* The line of a goal that a finding is about: the rules that judge one line alone need not say which. */
static PropId goal_line(const Finding *f)
{
    return f->about != PROP_NONE                         ? f->about
           : strcmp(f->rule->name, "over-budget") == 0 ? PROP_GOAL_BUDGET
                                                         : PROP_GOAL_ENDURE;
}

/* What is found on that line of a goal, the gravest: how the goal stands is what the findings say, and nothing else. */
static const Finding *goal_finding(const Book *book, const Entity *goal, PropId prop)
{
    const Finding *worst = NULL;
    for (const Finding *f = book->outcome->findings; f != NULL; f = f->next) {
        bool of_line = f->subject != NULL && f->subject->name == goal->name && goal_line(f) == prop;
        if (of_line && (worst == NULL || (worst->verdict != VERDICT_BROKEN && f->verdict == VERDICT_BROKEN))) {
            worst = f;
        }
    }
    return worst;
}

static bool is_known(const Book *book, const Entity *subject, FigureId id, const Entity *at)
{
    Figure merged;
    return outcome_figure(book->outcome, book_name(book, subject), id,
                          at != NULL ? book_name(book, at) : STR(""), &merged);
}

/* What the boat's figure says beside its number: which resource ends it, how much is left out of it. */
static const char *remark_of(const Book *book, const Entity *subject, FigureId id, const Entity *day)
{
    Figure merged = {.remark = NULL};
    Str at = day != NULL ? book_name(book, day) : STR("");
    const Figure *figure = outcome_figure(book->outcome, book_name(book, subject), id, at, &merged)
                               ? &merged
                               : figure_find(book->figures, subject, id, day);
    return figure != NULL && figure->remark != NULL ? figure->remark : "";
}

/* A budget is held against what is paid in vain too. */
static FigureId answer_of(const Book *book, const GoalFigure *row)
{
    bool all = row->figure == FIGURE_COST && book_has_figure(book, book->boat, FIGURE_COST_IN_ALL, NULL);
    return all ? FIGURE_COST_IN_ALL : row->figure;
}

/* The day on which its owner says that a goal was met; NULL where nobody says so. */
static const Value *met_on(const BookThing *goal, const GoalFigure *row)
{
    const Value *met = property_value(entity_property(goal->entity, row->prop), 1);
    return row->prop == PROP_GOAL_READY && met->kind == VALUE_DATE ? met : NULL;
}

static void goal_row(Book *book, const BookThing *goal, const GoalFigure *row)
{
    const Entity *at =
        row->day_slot == GOAL_AT_ITSELF ? goal->entity
        : row->day_slot < 0
            ? NULL
            : value_entity(property_value(entity_property(goal->entity, row->prop), (unsigned)row->day_slot));
    FigureId figure = answer_of(book, row);
    const Finding *finding = goal_finding(book, goal->entity, row->prop);
    const Value *met = met_on(goal, row); /* then the plan says nothing of it: what is still to do is of another day */
    bool known = met != NULL || is_known(book, book->boat, figure, at);
    markdown_row(&book->md);
    book_name_cell(book, goal);
    book_cell(book, goal->entity->title);
    book_cell(book, str_from(text_format(book->arena, "%s %s", props[row->prop].word,
                                         book_property(book, goal->entity, row->prop).text)));
    book_cell(book, met != NULL ? book_date(book, met->u.date) : book_figure(book, book->boat, figure, at));
    const char *state = finding != NULL ? (finding->verdict == VERDICT_BROKEN ? "missed" : "open")
                        : book->outcome->sampled ? "met in the combinations that were judged"
                                                 : "met";
    markdown_cell(&book->md);
    if (!known && finding == NULL) {
        markdown_text(&book->md, STR("not judged"));
    } else if (finding == NULL) {
        markdown_text(&book->md, str_from(state));
    } else {
        markdown_link(&book->md, str_from(state),
                      text_format(book->arena, "#%s", book_finding_id(book, finding)));
    }
    const char *remark = met != NULL ? "" : remark_of(book, book->boat, figure, at);
    if (remark[0] != 0) {
        markdown_text(&book->md, STR("; "));
        book_prose(book, remark);
    }
}

static void write_goals(Book *book)
{
    markdown_heading(&book->md, 3, STR("Goals"), NULL);
    bool any = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (t->entity->kind != KIND_GOAL) {
            continue;
        }
        if (!any) {
            book_head(book, (const char *const[]){"Goal", "What", "Asks", ">Is", "State"}, 5);
            any = true;
        }
        for (size_t i = 0; i < GOAL_FIGURES; i++) {
            if (entity_states(t->entity, goal_figures[i].prop)) {
                goal_row(book, t, &goal_figures[i]);
            }
        }
    }
    if (!any) {
        book_say(book, "The spec states no goal.");
    }
}

static void endurance_of_day(Book *book, const BookThing *day, bool *begun)
{
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (!book_has_figure(book, t->entity, FIGURE_ENDURANCE, day->entity)) {
            continue;
        }
        if (!*begun) {
            book_head(book, (const char *const[]){"Day", "What", "Of", ">Lasts", "Remark"}, 5);
            *begun = true;
        }
        markdown_row(&book->md);
        book_name_cell(book, day);
        book_cell(book, day->entity->title);
        book_name_cell(book, t);
        book_cell(book, book_figure(book, t->entity, FIGURE_ENDURANCE, day->entity));
        book_prose_cell(book, remark_of(book, t->entity, FIGURE_ENDURANCE, day->entity));
    }
}

static void write_endurance(Book *book)
{
    bool begun = false;
    markdown_heading(&book->md, 3, STR("How long she lasts"), NULL);
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (t->entity->kind == KIND_DAY) {
            endurance_of_day(book, t, &begun);
        }
    }
    if (!begun) {
        book_say(book, "Nothing is known of it: it takes a day, and a bank or a tank.");
    }
}

static void write_totals(Book *book)
{
    static const struct {
        const char *what;
        FigureId figure;
        bool where_any; /* told only where there is any */
    } rows[] = {
        {"Everything, contingency included", FIGURE_COST, false},
        {"Committed so far", FIGURE_COMMITTED, false},
        {"Still to buy", FIGURE_STILL_TO_BUY, false},
        {"Contingency", FIGURE_CONTINGENCY, false},
        {"Lost on what went back or never came", FIGURE_LOST_ON_RETURNS, true},
        {"Paid in vain, on top of everything", FIGURE_PAID_IN_VAIN, true},
        {"Mass of her things", FIGURE_MASS, false},
        {"With what is in the tanks", FIGURE_LOADED_MASS, false},
        {"Displacement less that mass", FIGURE_MASS_GAP, false},
    };
    markdown_heading(&book->md, 3, STR("Money and mass"), NULL);
    book_head(book, (const char *const[]){"Total", ">"}, 2);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        if (!rows[i].where_any || book_has_figure(book, book->boat, rows[i].figure, NULL)) {
            glance_row(book, rows[i].what, book_figure(book, book->boat, rows[i].figure, NULL));
        }
    }
}

static void count_row(Book *book, const char *what, uint32_t count)
{
    glance_row(book, what, str_from(text_format(book->arena, "%u", count)));
}

static void say_left_out(Book *book, const char *what)
{
    if (what != NULL) {
        book_say(book, "Not all was looked at: %s.", what);
    }
}

static void write_counts(Book *book)
{
    const Outcome *o = book->outcome;
    markdown_heading(&book->md, 3, STR("Findings, counted"), NULL);
    book_head(book, (const char *const[]){"Findings", ">"}, 2);
    count_row(book, o->waived_faults > 0 ? "Faults, those that are set aside and endanger somebody included" : "Faults", o->faults);
    count_row(book, "Warnings", o->warnings);
    count_row(book, "Advice", o->advice);
    count_row(book, "Open: depends on what is undecided", o->open);
    count_row(book, "Set aside by a waiver", o->waived);
    count_row(book, "Could not be judged: a property is missing", o->unjudged);
    count_row(book, "Could not be judged: a mistake is to be mended", o->waiting);
    say_left_out(book, report_more_mistakes(o));
    say_left_out(book, report_sampled(o));
    markdown_paragraph(&book->md);
    markdown_text(&book->md, STR("What is missing, and what it holds up, is listed under "));
    markdown_link(&book->md, STR("Decisions open"), "#decisions-open");
    markdown_text(&book->md, STR("; the findings stand under "));
    markdown_link(&book->md, STR("Findings and waivers"), "#findings-and-waivers");
    markdown_text(&book->md, STR("."));
}

/* What a surveyor looks for first. */
static void write_faults(Book *book)
{
    const Outcome *o = book->outcome;
    bool begun = false;
    static const Verdict order[] = {VERDICT_BROKEN, VERDICT_OPEN};
    for (size_t i = 0; i < sizeof order / sizeof order[0]; i++) {
        for (const Finding *f = o->findings; f != NULL; f = f->next) {
            if (f->severity != SEVERITY_FAULT || f->waiver != NULL || f->verdict != order[i]) {
                continue;
            }
            if (!begun) {
                markdown_heading(&book->md, 3, STR("The faults"), NULL);
                begun = true;
            }
            book_finding_item(book, f);
        }
    }
}

void book_glance(Book *book)
{
    if (book->boat == NULL) {
        book_say(book, "The spec has no boat.");
        return;
    }
    write_particulars(book);
    write_goals(book);
    write_endurance(book);
    write_totals(book);
    write_counts(book);
    write_faults(book);
}
