/*
 * A pump and the hoses around it, and what flows: the operating point at each tap alone and at all together.
 *
 * Solved at the end of all ranges that lets least through and at the one that lets most. Where a pump may draw from
 * several tanks it is taken to draw from one at a time, by the way that lets least through: a valve shuts the others.
 * Records nothing: the recipes are water_pipes.c and water_hoses.c.
 */
#ifndef GARBOARD_FIGURES_PIPE_FLOW_H
#define GARBOARD_FIGURES_PIPE_FLOW_H

#include "figures/pipes.h"
#include "physics/pipe_tree.h"

/* A pump that passes a hose, and what of it flows there. */
typedef struct Mover {
    const Entity *pump;
    Interval flow;
    bool suction; /* it draws through it */
    struct Mover *next;
} Mover;

/* The pump at hand. */
typedef struct Line {
    Work *work;
    Pipes *pipes;
    const Entity *pump;
    uint32_t *taps; /* steps: of each fixture, the worse of its cold and its hot way */
    uint32_t *ways[2]; /* the same, and its other way where nobody can tell yet which is the worse; else the same again */
    uint32_t tap_count;
    uint32_t *pumps_of; /* by Entity.index of a fixture: how many pumps bring water to it by hoses */
    uint32_t *taken;    /* by Entity.index of a fixture: the last walk that has recorded it */
    Interval *passes;   /* by Entity.index of a hose: what flows through it with everything open ... */
    Interval *alone;    /* ... and the most that one tap alone draws through it */
    Mover **movers;     /* the same: the pumps that it serves */
    PipeTreeRoom *room; /* in which what flows with everything open is found */
    size_t room_count;
} Line;

/* A pump's curve, with heads in m. */
typedef struct Curve {
    Interval flow, shut_off, most;
} Curve;

/**
 * Whether a pump has a curve that its flow can be computed from: not one that is worked by hand or foot, unless it states one.
 */
bool pump_has_curve(const Entity *pump);
/* Uses the curve of the line's pump; where no shut-off is stated, the pressure at which it stops stands for it. */
Curve use_curve(Line *line, Sum *sum);
/** Uses what a hose loses: its run, bore, bends and rise. */
void use_hose(Line *line, Sum *sum, const char *before, const Entity *hose);
/** Uses all hoses of its suction, the text `before` in front; of a further tank those that no other has. */
void use_suction(Line *line, Sum *sum, const char *before);
/** Uses the hoses from the pump to a step, the last one first. */
void use_delivery(Line *line, Sum *sum, uint32_t step);

/** What flows to a step while nothing else is open. */
Interval flow_alone(const Line *line, uint32_t step, const Curve *curve);
/** What the taps get, and the pump in all, with everything open; noted with the hoses too. */
void flow_together(Line *line, const Curve *curve, Interval flows[], Interval *all);
/**
 * What the pump holds up at the flow that it moves in all (to its taps; without any to that outlet, or by its other way, 0:
 * none). The stronger the pump, the more; the more its hoses let through, the less: each end is one solution of its own.
 */
Interval head_at_flow(Line *line, uint32_t outlet, uint32_t other, const Curve *curve, Interval flow);
/** Notes with the hoses on its way what a step draws alone; `other`: the same one, or its other way where it may be that. */
void note_alone(Line *line, uint32_t step, uint32_t other, Interval flow);
/** Height and loss of one way of the suction at a flow, in m. */
Interval suction_of(const Line *line, const Suction *way, Interval flow);

/** What the pump moves in all. */
const Figure *pump_flow(const Line *line);
/** Head (as head_at_flow), suction lift, and starts in an hour of the line's pump (water_hoses.c). */
void record_head(Line *line, uint32_t outlet, uint32_t other);
void record_suction(Line *line);
void record_starts(Line *line);
/** Notes which hoses the pump passes, and what flows there. */
void note_moved(Line *line);
/** The speed in each hose that some pump passes. */
void record_speeds(Line *line);

#endif
