/* SPDX-License-Identifier: Apache-2.0
 *
 * The field kernel in plain C, the same arithmetic in the same order: a measure of how fast
 * `tilewater.hydrology._field` could be, and a second writing of it. Built with
 * -O3 -march=native -ffp-contract=off. Names follow the Python source.
 */

#include <math.h>
#include <stdint.h>

enum {
    SNOW = 1, FROZEN = 2, STRESSED = 4, UPWARD_LIMITED = 8, INFILTRATION_LIMITED = 16,
    SATURATED = 32, RUNOFF = 64, INLETS_RAN = 128, PONDED = 256, LIMITED = 512, RAISED = 1024,
    HELD = 2048, DELAYED = 4096
};

static const double LEAST_FROST = 1e-6;
static const double LEAST_HEIGHT = 1e-6;
static const double STEEPER = 12.0;
static const double MOST_SHARE = 0.2;
static const double LEAST_TRANSIT = 1e-6;
static const double LEAST_TIME = 0.03;

typedef struct {
    double infiltration, frozen_share, surface_storage, full, lowest, upward, leak, side_leak,
        ditch, frost_kept, snow_cover, frost_limit, loss, delay_square, delay_fifth;
} Soil;

typedef struct {
    double depth, porosity, porosity_inverse, wedge, wedge_inverse, arch_inverse, square,
        linear, pond_rate, radius, laterals, inlets, main;
} Drains;

typedef struct {
    double snow, frost, pond, depletion, ground, transit;
} State;

typedef struct {
    const double *rain, *snowfall, *melt, *temperature, *demand, *root_depth, *available,
        *stress_from, *outlet;
} Weather;

typedef struct {
    double *drain_flow, *inlet_flow, *runoff, *evapotranspiration, *deep_seepage, *side_seepage,
        *snow, *pond, *soil_water, *table_depth;
    int16_t *flags;
} Daily;

typedef struct {
    double height, capacity, ground, slope, kept, gain, highest, flux_highest, free, ground_free;
} Outlet;

typedef struct {
    double flow, ground, pond;
    int flags;
} Drained;

static inline double least(double a, double b) { return b < a ? b : a; }
static inline double most_of(double a, double b) { return b > a ? b : a; }

static double flux_at(double u, double outlet_height, const Drains *drains)
{
    return u * (drains->square * (u + 2.0 * outlet_height) + drains->linear);
}

static double height_of_flux(double flux, double slope, const Drains *drains)
{
    double bottom = slope + sqrt(slope * slope + 4.0 * drains->square * flux);
    return bottom > 0.0 ? 2.0 * flux / bottom : INFINITY;
}

static double gain_in(double time, double slope, const Drains *drains)
{
    if (slope > 0.0) {
        double fallen = -expm1(-slope * time * drains->wedge_inverse);
        return drains->square * fallen / slope;
    }
    return drains->square * time * drains->wedge_inverse;
}

static Outlet outlet_at(double height, double capacity, const Drains *drains)
{
    Outlet outlet;
    double slope = 2.0 * drains->square * height + drains->linear;
    double highest = most_of(0.0, drains->depth - height);
    double free = highest;
    if (capacity < INFINITY)
        free = least(free, height_of_flux(capacity, slope, drains));
    outlet.height = height;
    outlet.capacity = capacity;
    outlet.ground = drains->porosity * height;
    outlet.slope = slope;
    outlet.kept = exp(-slope * drains->wedge_inverse);
    outlet.gain = gain_in(1.0, slope, drains);
    outlet.highest = highest;
    outlet.flux_highest = flux_at(highest, height, drains);
    outlet.free = free;
    outlet.ground_free = drains->porosity * height + drains->wedge * most_of(free, LEAST_HEIGHT);
    return outlet;
}

static double kirkham_phase(double pond, double time, const Outlet *outlet, const Drains *drains,
                            double *spent_all)
{
    double head = drains->depth - most_of(drains->radius, outlet->height);
    double left = pond, spent = 0.0;
    if (head <= 0.0 || outlet->capacity <= 0.0) {
        *spent_all = time;
        return 0.0;
    }
    if (drains->pond_rate * (left + head) > outlet->capacity) {
        double down_to = most_of(0.0, outlet->capacity / drains->pond_rate - head);
        spent = least(time, (left - down_to) / outlet->capacity);
        left = most_of(down_to, left - outlet->capacity * spent);
    }
    if (left > 0.0 && spent < time) {
        double empties = log1p(left / head) / drains->pond_rate;
        if (empties <= time - spent) {
            *spent_all = spent + empties;
            return pond;
        }
        *spent_all = time;
        return pond - left + (left + head) * -expm1(-drains->pond_rate * (time - spent));
    }
    *spent_all = spent;
    return pond - left;
}

static double time_to_fall(double u, double target, double flux, double time, const Drains *drains)
{
    if (u <= target || flux <= 0.0)
        return u > target ? time : 0.0;
    return least(time, (u - target) * drains->wedge / flux);
}

static Drained drain_in_phases(double ground, double pond, int is_full, const Outlet *outlet,
                               const Drains *drains)
{
    Drained drained;
    double left = 1.0, from_pond = 0.0, at_pond = 0.0, at_surface, at_capacity = 0.0;
    double u, flux, end;
    int flags;
    if (is_full && pond > 0.0) {
        from_pond = kirkham_phase(pond, left, outlet, drains, &at_pond);
        left = left - at_pond;
    }
    u = (ground - outlet->ground) * drains->wedge_inverse;
    flux = least(outlet->capacity, outlet->flux_highest);
    at_surface = time_to_fall(u, outlet->highest, flux, left, drains);
    u = u - at_surface * flux * drains->wedge_inverse;
    left = left - at_surface;
    if (left > 0.0 && u > outlet->free) {
        at_capacity = time_to_fall(u, outlet->free, outlet->capacity, left, drains);
        u = u - at_capacity * outlet->capacity * drains->wedge_inverse;
        left = left - at_capacity;
    }
    if (left > 0.0) {
        double kept = exp(-outlet->slope * left * drains->wedge_inverse);
        u = u * kept / (1.0 + u * gain_in(left, outlet->slope, drains));
    }
    end = least(ground, outlet->ground + drains->wedge * u);
    drained.flow = from_pond + (ground - end);
    drained.ground = end;
    drained.pond = pond - from_pond;
    flags = outlet->height > 0.0 && drained.flow > 0.0 ? RAISED : 0;
    if (from_pond > 0.0)
        flags += PONDED;
    if ((at_pond + at_surface > 0.0 && outlet->capacity < outlet->flux_highest)
        || at_capacity > 0.0)
        flags += LIMITED;
    if (outlet->flux_highest <= 0.0)
        flags += HELD;
    drained.flags = flags;
    return drained;
}

static inline Drained drain_freely(double ground, double pond, const Outlet *outlet,
                                   const Drains *drains)
{
    Drained drained = {0.0, ground, pond, 0};
    double u = (ground - outlet->ground) * drains->wedge_inverse;
    if (u > LEAST_HEIGHT) {
        double end =
            outlet->ground + drains->wedge * (u * outlet->kept / (1.0 + u * outlet->gain));
        drained.flow = ground - end;
        drained.ground = end;
        if (outlet->height > 0.0)
            drained.flags = RAISED;
    } else if (outlet->height > 0.0 && ground > LEAST_HEIGHT * drains->wedge) {
        drained.flags = HELD;
    }
    return drained;
}

static Drained drain_beside_inlets(double ground, double pond, int is_full, double inlet_flow,
                                   const Outlet *outlet, const Drains *drains)
{
    double room = least(drains->laterals, drains->main - inlet_flow);
    Outlet today = outlet_at(outlet->height, room, drains);
    if (ground > today.ground_free)
        return drain_in_phases(ground, pond, is_full, &today, drains);
    return drain_freely(ground, pond, &today, drains);
}

static inline double table_height(double ground, const Outlet *outlet, const Drains *drains)
{
    if (ground > outlet->ground) {
        double rise = (ground - outlet->ground) * drains->arch_inverse;
        return outlet->height + least(rise, outlet->highest);
    }
    return ground * drains->porosity_inverse;
}

void run_field(const Weather *weather, long first, long last, State *state, const Soil *soil,
               const Drains *drains, const Daily *daily)
{
    double snow = state->snow, frost = state->frost, pond = state->pond;
    double depletion = state->depletion, ground = state->ground;
    double transit = state->transit;
    double capacity = least(drains->laterals, drains->main);
    Outlet outlet = outlet_at(0.0, capacity, drains);
    for (long day = first; day < last; day++) {
        double temperature = weather->temperature[day], demand;
        double melt = 0.0, from_pond = 0.0, from_table = 0.0, from_roots = 0.0;
        double height, deep_seepage, side_seepage = 0.0, water, inlet_flow = 0.0, runoff = 0.0;
        double passed = 0.0, rise;
        int frozen, flags = 0;
        Drained drained;
        if (weather->outlet[day] != outlet.height)
            outlet = outlet_at(weather->outlet[day], capacity, drains);

        snow = snow + weather->snowfall[day];
        if (snow > 0.0) {
            melt = least(snow, weather->melt[day]);
            snow = snow - melt;
        }
        if (frost > 0.0 || temperature < 0.0) {
            double felt = temperature;
            if (snow > 0.0)
                felt = temperature * exp(-soil->snow_cover * snow);
            frost = soil->frost_kept * frost - felt;
            if (frost < LEAST_FROST)
                frost = 0.0;
        }
        if (snow > 0.0)
            flags += SNOW;
        frozen = frost > soil->frost_limit;
        if (frozen)
            flags += FROZEN;

        demand = snow == 0.0 ? weather->demand[day] : 0.0;
        if (demand > 0.0) {
            double missing = demand;
            if (pond > 0.0) {
                from_pond = least(pond, demand);
                missing = demand - from_pond;
                pond = pond - from_pond;
            }
            from_table = missing;
            rise = drains->depth - weather->root_depth[day] - ground * drains->porosity_inverse;
            if (rise > 0.0) {
                double resisted = rise * rise * rise;
                if (missing * resisted > soil->upward)
                    from_table = soil->upward / resisted;
            }
            if (from_table > ground - soil->lowest)
                from_table = ground - soil->lowest;
            if (from_table < missing) {
                double stress_from = weather->stress_from[day], factor = 1.0;
                flags += UPWARD_LIMITED;
                if (depletion > stress_from) {
                    double available = weather->available[day];
                    flags += STRESSED;
                    factor = most_of(0.0, (available - depletion) / (available - stress_from));
                }
                from_roots = factor * (missing - from_table);
                depletion = depletion + from_roots;
            }
            ground = ground - from_table;
        }
        height = (ground - soil->lowest) * drains->porosity_inverse;
        deep_seepage = soil->leak * height;
        ground = ground - deep_seepage;
        if (soil->side_leak > 0.0 && height * height > soil->ditch) {
            side_seepage = soil->side_leak * (height * height - soil->ditch);
            ground = ground - side_seepage;
        }

        water = weather->rain[day] + melt + pond;
        pond = 0.0;
        if (water > 0.0) {
            double infiltration = water, most = soil->infiltration, room, to_roots;
            if (frozen)
                most = least(most, soil->frozen_share * water);
            room = depletion + (soil->full - (ground + transit));
            if (water > most || water >= room) {
                double standing;
                flags += room <= most ? SATURATED : INFILTRATION_LIMITED;
                infiltration = least(most, room);
                standing = water - infiltration;
                inlet_flow = least(standing, drains->inlets);
                standing = standing - inlet_flow;
                runoff = most_of(0.0, standing - soil->surface_storage);
                if (inlet_flow > 0.0)
                    flags += INLETS_RAN;
                if (runoff > 0.0)
                    flags += RUNOFF;
                pond = standing - runoff;
            }
            to_roots = least(infiltration, depletion);
            depletion = depletion - to_roots;
            passed = infiltration - to_roots;
        }

        transit = transit + passed;
        rise = drains->depth - weather->root_depth[day] - ground * drains->porosity_inverse;
        if (soil->loss <= 0.0 || rise <= 0.0 || (flags & SATURATED) != 0
            || transit <= LEAST_TRANSIT) {
            ground = ground + transit;
            transit = 0.0;
        } else {
            double square = rise * rise;
            double time = square * (soil->delay_square + soil->delay_fifth * square * rise);
            double left = 0.0;
            if (time >= LEAST_TIME) {
                double whole = soil->loss * square;
                double slow = least(transit, MOST_SHARE * whole);
                double kept = exp(-1.0 / time);
                left = slow * kept * whole / (whole + STEEPER * slow * (1.0 - kept));
            }
            if (left <= LEAST_TRANSIT) {
                ground = ground + transit;
                transit = 0.0;
            } else {
                ground = ground + (transit - left);
                transit = left;
                flags += DELAYED;
            }
        }

        if (inlet_flow > 0.0)
            drained = drain_beside_inlets(ground, pond, (flags & SATURATED) != 0, inlet_flow,
                                          &outlet, drains);
        else if (ground > outlet.ground_free)
            drained = drain_in_phases(ground, pond, (flags & SATURATED) != 0, &outlet, drains);
        else
            drained = drain_freely(ground, pond, &outlet, drains);
        ground = drained.ground;
        pond = drained.pond;

        daily->drain_flow[day] = drained.flow;
        daily->inlet_flow[day] = inlet_flow;
        daily->runoff[day] = runoff;
        daily->evapotranspiration[day] = from_pond + from_table + from_roots;
        daily->deep_seepage[day] = deep_seepage;
        daily->side_seepage[day] = side_seepage;
        daily->snow[day] = snow;
        daily->pond[day] = pond;
        daily->soil_water[day] = ground - depletion + transit;
        daily->table_depth[day] = drains->depth - table_height(ground, &outlet, drains);
        daily->flags[day] = (int16_t)(flags + drained.flags);
    }
    state->snow = snow;
    state->frost = frost;
    state->pond = pond;
    state->depletion = depletion;
    state->ground = ground;
    state->transit = transit;
}
