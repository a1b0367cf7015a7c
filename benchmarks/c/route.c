/* SPDX-License-Identifier: Apache-2.0
 *
 * The route kernel in plain C, the same arithmetic in the same order: a measure of how fast
 * `tilewater.practices.bed._route` could be, and a second writing of it. Built with
 * -O3 -march=native -ffp-contract=off. Names follow the Python source.
 */

#include <math.h>
#include <stdint.h>

static const double DAY = 86400.0;
static const double LEAST_FLOW = 1e-9;
static const double LIMITED_BELOW = 0.5;

typedef struct {
    double conductivity_new, decline_per_day, inertia_scale, gradient, porosity, dead_share,
        rate_g_per_m3_day, log_q10, reference, flush, flush_left_per_day, rate_decline_per_day,
        half_saturation_mg_per_l;
    int64_t tanks, renew_days;
    double nitrate_factor, flow_factor;
} BedYears;

typedef struct {
    const double *inflow, *nitrate, *temperature, *viscosity_ratio, *stage;
    const int64_t *setting;
    double most;
} DaySeries;

typedef struct {
    const double *conductivity, *stage, *capacity, *under, *over;
    int64_t media, stages, under_knots, over_knots;
    double most;
} FlatTable;

typedef struct {
    double conductivity_20, rate, flush;
    int64_t days;
} BedState;

typedef struct {
    double past_medium, past_stage;
} Place;

typedef struct {
    double bed_flow, level, wet_volume;
} Divided;

typedef struct {
    double bed_flow, removed;
    int limited;
} RoutedDay;

static inline double least(double a, double b) { return b < a ? b : a; }
static inline double most_of(double a, double b) { return b > a ? b : a; }

static double shown_conductivity(double conductivity, double inertia, double gradient)
{
    double over = conductivity * conductivity * inertia * gradient;
    return 2.0 * conductivity / (1.0 + sqrt(1.0 + 4.0 * over));
}

static double nitrate_left(double inlet, double days, double rate, double half_saturation,
                           int64_t tanks)
{
    double left = inlet, step;
    if (half_saturation <= 0.0)
        return most_of(0.0, inlet - rate * days);
    if (isinf(half_saturation))
        return inlet * exp(-0.1 * rate * days);
    step = rate * days / (double)tanks;
    for (int64_t tank = 0; tank < tanks; tank++) {
        double b = half_saturation - left + step;
        left = 0.5 * (sqrt(b * b + 4.0 * half_saturation * left) - b);
    }
    return left;
}

static BedState first_state(const BedYears *bed)
{
    BedState state = {bed->conductivity_new, bed->rate_g_per_m3_day, bed->flush, 0};
    return state;
}

static BedState next_state(BedState state, const BedYears *bed)
{
    if (state.days + 1 >= bed->renew_days)
        return first_state(bed);
    state.conductivity_20 *= bed->decline_per_day;
    state.rate *= bed->rate_decline_per_day;
    state.flush *= bed->flush_left_per_day;
    state.days += 1;
    return state;
}

static int64_t place_before(const double *knots, int64_t count, double value)
{
    int64_t place = 0;
    while (place < count - 2 && knots[place + 1] <= value)
        place++;
    return place;
}

static double share_past(const double *knots, int64_t place, double value)
{
    double low = knots[place];
    double share = (value - low) / (knots[place + 1] - low);
    return least(1.0, most_of(0.0, share));
}

static double between(const double *values, Place place, int64_t next_stage, int64_t next_medium)
{
    double low = values[0], high = values[next_medium];
    low += place.past_stage * (values[next_stage] - low);
    high += place.past_stage * (values[next_medium + next_stage] - high);
    return low + place.past_medium * (high - low);
}

static Divided divide(double inflow, double conductivity, double stage, int64_t setting,
                      const FlatTable *table)
{
    const double *stages = table->stage + setting * table->stages, *values = table->under;
    int64_t i = place_before(table->conductivity, table->media, conductivity);
    int64_t j = place_before(stages, table->stages, stage);
    Place place = {share_past(table->conductivity, i, conductivity), share_past(stages, j, stage)};
    int64_t corner = (setting * table->media + i) * table->stages + j, knots = table->under_knots;
    double capacity = between(table->capacity + corner, place, 1, table->stages);
    double flow = least(inflow, table->most), share = 0.0;
    if (flow > capacity) {
        values = table->over;
        knots = table->over_knots;
        share = (flow - capacity) / (table->most - capacity);
    } else if (capacity > 0.0) {
        share = flow / capacity;
    }
    double way = (double)(knots - 1) * sqrt(share);
    int64_t knot = (int64_t)way < knots - 2 ? (int64_t)way : knots - 2;
    double c = way - (double)knot;
    const double *here = values + 3 * (corner * knots + knot);
    int64_t next_stage = 3 * knots, next_medium = 3 * knots * table->stages;
    double level = between(here + 1, place, next_stage, next_medium);
    level += c * (between(here + 4, place, next_stage, next_medium) - level);
    double wet = between(here + 2, place, next_stage, next_medium);
    wet += c * (between(here + 5, place, next_stage, next_medium) - wet);
    if (flow > capacity) {
        double low = between(here, place, next_stage, next_medium);
        low += c * (between(here + 3, place, next_stage, next_medium) - low);
        flow = least(flow, low);
    }
    Divided divided = {flow, level, wet};
    return divided;
}

static inline double inflow_at(int64_t day, const DaySeries *series, double factor)
{
    double inflow = series->inflow[day];
    return least(inflow * factor, most_of(series->most, inflow));
}

static RoutedDay route_at(int64_t day, const DaySeries *series, const BedYears *bed,
                          const BedState *state, const FlatTable *table)
{
    RoutedDay none = {0.0, 0.0, 0}, routed;
    double inflow = inflow_at(day, series, bed->flow_factor), stage = series->stage[day];
    double nitrate = series->nitrate[day] * bed->nitrate_factor;
    double inertia = bed->inertia_scale / sqrt(state->conductivity_20);
    double shown = shown_conductivity(state->conductivity_20 * series->viscosity_ratio[day],
                                      inertia, bed->gradient);
    Divided divided = divide(inflow, shown, stage, series->setting[day], table);
    if (divided.bed_flow <= LEAST_FLOW)
        return none;
    double live = bed->porosity * (1.0 - bed->dead_share);
    double days = live * divided.wet_volume / (divided.bed_flow * DAY);
    double warm = exp(bed->log_q10 * 0.1 * (series->temperature[day] - bed->reference));
    double rate = state->rate * (1.0 + state->flush) * warm / live;
    double left = nitrate_left(nitrate, days, rate, bed->half_saturation_mg_per_l, bed->tanks);
    routed.bed_flow = divided.bed_flow;
    routed.removed = divided.bed_flow * DAY * (nitrate - left);
    routed.limited = left < LIMITED_BELOW && nitrate >= LIMITED_BELOW;
    return routed;
}

/* Sums by year: inflow, through the bed, load, load treated, removed, days limited. */
void route_years(const DaySeries *series, const int64_t *year, int64_t days, const BedYears *bed,
                 const FlatTable *table, double (*out)[6])
{
    BedState state = first_state(bed);
    for (int64_t day = 0; day < days; day++) {
        double inflow = inflow_at(day, series, bed->flow_factor);
        if (inflow > LEAST_FLOW) {
            RoutedDay routed = route_at(day, series, bed, &state, table);
            double water = routed.bed_flow * DAY, *sums = out[year[day]];
            double load = series->nitrate[day] * bed->nitrate_factor;
            sums[0] += inflow * DAY;
            sums[1] += water;
            sums[2] += inflow * DAY * load;
            sums[3] += water * load;
            sums[4] += routed.removed;
            if (routed.limited)
                sums[5] += 1.0;
        }
        state = next_state(state, bed);
    }
}
