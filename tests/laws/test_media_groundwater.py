# SPDX-License-Identifier: Apache-2.0
"""Laws of water in media and soil, on beds and fields drawn at random."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tilewater.hydraulics.groundwater import (
    buffer_flow_dupuit,
    buffer_surface_head_dupuit,
    buffer_travel_time_dupuit,
    buffer_travel_time_mceachran,
    drain_flux_hooghoudt,
    drain_flux_kirkham_ponded,
    equivalent_depth_moody,
    equivalent_depth_series,
    water_height_hooghoudt,
)
from tilewater.hydraulics.media import (
    bed_flow_darcy,
    bed_flow_forchheimer,
    bed_surface_depth,
    bed_wet_volume,
    conductivity_share_seen,
    drain_down_time_boussinesq,
    forchheimer_inertia_ward,
)

# A solved flow is close to 1e-12 of Darcy's flow; sums and differences of it lose a little more.
SOLVED = 1e-9

# A film of less than a thousandth of a millimetre is no water in a bed.
depths = st.one_of(st.just(0.0), st.floats(1e-6, 2.0))
conductivities = st.floats(0.005, 0.2)


@st.composite
def beds(draw: st.DrawFn) -> dict[str, float]:
    conductivity = draw(conductivities)
    coefficient = draw(st.floats(0.0, 0.9))
    return {
        "length": draw(st.floats(5.0, 60.0)),
        "width": draw(st.floats(0.5, 15.0)),
        "side_slope": draw(st.floats(0.0, 3.0)),
        "conductivity": conductivity,
        "inertia": float(forchheimer_inertia_ward(conductivity, ward_coefficient=coefficient)),
        "media_depth": draw(st.one_of(st.just(math.inf), st.floats(0.3, 2.0))),
    }


def without_inertia(bed: dict[str, float]) -> dict[str, float]:
    return {name: value for name, value in bed.items() if name != "inertia"}


@pytest.mark.law(of=(bed_flow_forchheimer, bed_flow_darcy))
@given(bed=beds(), up=depths, down=depths)
def test_inertia_only_takes_away(bed: dict[str, float], up: float, down: float) -> None:
    flow = bed_flow_forchheimer(up, down, **bed)
    linear = bed_flow_darcy(up, down, **without_inertia(bed))

    assert abs(flow) <= abs(linear) * (1 + SOLVED) + 1e-15
    assert flow == 0.0 or math.copysign(1.0, flow) == math.copysign(1.0, up - down)


@pytest.mark.law(of=(bed_flow_forchheimer,))
@given(bed=beds(), up=depths, down=depths)
def test_flow_turns_round_with_the_depths(bed: dict[str, float], up: float, down: float) -> None:
    assert bed_flow_forchheimer(up, down, **bed) == -bed_flow_forchheimer(down, up, **bed)


@pytest.mark.law(of=(bed_flow_forchheimer,))
@given(bed=beds(), up=depths, down=depths, more=st.floats(0.01, 1.0))
def test_flow_grows_with_head_and_conductivity_and_falls_with_length(
    bed: dict[str, float], up: float, down: float, more: float
) -> None:
    assume(up > down + 0.01)
    flow = bed_flow_forchheimer(up, down, **bed)

    assert bed_flow_forchheimer(up + more, down, **bed) > flow
    assert bed_flow_forchheimer(up, down * (1 - 0.5 * more), **bed) >= flow * (1 - SOLVED)
    for name, factor in (("conductivity", 1 + more), ("width", 1 + more)):
        assert bed_flow_forchheimer(up, down, **{**bed, name: bed[name] * factor}) > flow
    for name in ("length", "inertia"):
        longer = bed_flow_forchheimer(up, down, **{**bed, name: bed[name] * (1 + more)})
        assert longer <= flow * (1 + SOLVED)


@pytest.mark.law(of=(bed_flow_forchheimer, bed_flow_darcy))
@given(bed=beds(), up=depths, down=depths)
def test_inertia_that_vanishes_leaves_darcy(bed: dict[str, float], up: float, down: float) -> None:
    linear = bed_flow_darcy(up, down, **without_inertia(bed))
    scale = bed_flow_darcy(max(up, down, 0.1), 0.0, **without_inertia(bed))

    for inertia in (0.0, 1e-9):
        assert linear == pytest.approx(
            bed_flow_forchheimer(up, down, **{**bed, "inertia": inertia}),
            rel=1e-8,
            abs=1e-12 * scale,
        )


@pytest.mark.law(of=(bed_wet_volume,))
@given(bed=beds(), up=depths, down=depths)
def test_wet_media_lie_between_two_level_fills(
    bed: dict[str, float], up: float, down: float
) -> None:
    def level(depth: float) -> float:
        h = min(depth, bed["media_depth"])
        return bed["length"] * h * (bed["width"] + bed["side_slope"] * h)

    volume = bed_wet_volume(up, down, **bed)
    low, high = level(min(up, down)), level(max(up, down))

    assert low * (1 - 1e-6) <= volume <= high * (1 + 1e-6)
    assert bed_wet_volume(down, up, **bed) == volume
    assert bed_wet_volume(up, up, **bed) == pytest.approx(level(up), rel=1e-12)


@pytest.mark.law(of=(bed_wet_volume,))
@given(bed=beds(), up=st.floats(0.2, 2.0), down=depths)
def test_level_water_is_the_limit_of_a_falling_surface(
    bed: dict[str, float], up: float, down: float
) -> None:
    hair = 1e-7
    assume(abs(up - bed["media_depth"]) > 1e-3)

    assert bed_wet_volume(up, up, **bed) == pytest.approx(
        bed_wet_volume(up, up - hair, **bed), rel=1e-5
    )


@pytest.mark.law(of=(bed_flow_forchheimer,))
@given(bed=beds(), up=st.floats(0.3, 2.0))
def test_an_empty_outlet_gives_a_finite_flow(bed: dict[str, float], up: float) -> None:
    free = bed_flow_forchheimer(up, 0.0, **bed)

    assert math.isfinite(free)
    assert free == pytest.approx(bed_flow_forchheimer(up, 1e-6, **bed), rel=1e-3)


@pytest.mark.law(of=(bed_surface_depth, bed_flow_forchheimer))
@given(bed=beds(), up=st.floats(0.1, 2.0), down=depths, share=st.floats(0.01, 0.99))
def test_both_halves_of_a_bed_carry_its_flow(
    bed: dict[str, float], up: float, down: float, share: float
) -> None:
    assume(abs(up - down) > 0.02)
    flow = bed_flow_forchheimer(up, down, **bed)
    cut = share * bed["length"]
    between = bed_surface_depth(cut, up, down, **bed)

    assert min(up, down) <= between <= max(up, down)
    first = bed_flow_forchheimer(up, between, **{**bed, "length": cut})
    second = bed_flow_forchheimer(between, down, **{**bed, "length": bed["length"] - cut})
    assert flow == pytest.approx(first, rel=1e-6)
    assert flow == pytest.approx(second, rel=1e-6)


@pytest.mark.law(of=(bed_surface_depth,))
@given(bed=beds(), up=depths, down=depths)
def test_surface_begins_and_ends_with_the_depths(
    bed: dict[str, float], up: float, down: float
) -> None:
    assert up == bed_surface_depth(0.0, up, down, **bed)
    assert down == bed_surface_depth(bed["length"], up, down, **bed)
    assert bed_surface_depth(bed["length"] / 2, up, up, **bed) == up


@pytest.mark.law(of=(bed_flow_darcy, bed_flow_forchheimer))
def test_flow_has_no_jump_where_the_water_passes_the_media() -> None:
    bed = {
        "length": 30.0,
        "width": 9.0,
        "side_slope": 1.0,
        "conductivity": 0.04,
        "inertia": 880.0,
        "media_depth": 1.07,
    }
    heads = np.arange(0.9, 1.3, 0.001)
    flows = np.array([bed_flow_forchheimer(float(h), 0.64, **bed) for h in heads])

    assert np.all(np.diff(flows) > 0.0)
    assert np.diff(flows).max() < 1.35 * np.diff(flows).min()


@pytest.mark.law(of=(bed_flow_darcy,))
def test_many_beds_at_once_are_each_alone() -> None:
    up, down = np.array([1.0, 0.3, 1.4]), np.array([0.3, 1.0, 1.4])
    bed = {
        "length": 30.0,
        "width": 9.0,
        "side_slope": 1.0,
        "conductivity": 0.04,
        "media_depth": 1.07,
    }

    alone = [float(bed_flow_darcy(a, b, **bed)) for a, b in zip(up, down, strict=True)]
    assert alone == list(bed_flow_darcy(up, down, **bed))


@pytest.mark.law(of=(conductivity_share_seen,))
@given(conductivity=conductivities, gradient=st.floats(1e-4, 1.0), steeper=st.floats(1.01, 3.0))
def test_a_steeper_test_shows_less(conductivity: float, gradient: float, steeper: float) -> None:
    media = {"conductivity": conductivity, "inertia": 600.0}
    gentle = conductivity_share_seen(gradient, **media)

    assert 0.0 < conductivity_share_seen(gradient * steeper, **media) < gentle < 1.0


@pytest.mark.law(of=(drain_down_time_boussinesq,))
@given(share=st.floats(0.0, 0.98), more=st.floats(1.001, 3.0))
def test_draining_slows(share: float, more: float) -> None:
    bed = {"depth": 1.0, "length": 30.0, "conductivity": 0.04, "drainable_porosity": 0.45}
    time = drain_down_time_boussinesq(share, **bed)

    assert drain_down_time_boussinesq(share + 0.01, **bed) > time
    assert time * more**2 == pytest.approx(
        drain_down_time_boussinesq(share, **{**bed, "length": 30.0 * more}), rel=1e-12
    )
    assert drain_down_time_boussinesq(0.0, **bed) == 0.0


spacings = st.floats(5.0, 120.0)
radii = st.floats(0.002, 0.1)

# Moody's formulas lie from just below the series to five percent above; a twentieth more is room.
MOODY_BELOW, MOODY_ABOVE = 0.99, 1.06


@pytest.mark.law(of=(equivalent_depth_moody, equivalent_depth_series))
@given(depth=st.floats(0.6, 30.0), spacing=spacings, radius=radii)
def test_equivalent_depth_is_less_than_the_depth(
    depth: float, spacing: float, radius: float
) -> None:
    moody = equivalent_depth_moody(depth, spacing, radius=radius)
    series = equivalent_depth_series(depth, spacing, radius=radius)

    assert 0.0 < moody < depth
    assert 0.0 < series < depth
    assert MOODY_BELOW * series <= moody <= MOODY_ABOVE * series


@pytest.mark.law(of=(equivalent_depth_series,))
@given(depth=st.floats(0.1, 30.0), spacing=spacings, radius=radii, more=st.floats(1.01, 3.0))
def test_equivalent_depth_grows_with_depth_spacing_and_radius(
    depth: float, spacing: float, radius: float, more: float
) -> None:
    assume(depth > 10 * radius)
    d = equivalent_depth_series(depth, spacing, radius=radius)
    endless = math.pi * spacing / 8 / math.log(spacing / (math.pi * radius))
    rounding = 1 + 1e-4  # where the two forms of the series meet

    assert d <= equivalent_depth_series(depth * more, spacing, radius=radius) * rounding
    assert d <= equivalent_depth_series(depth, spacing * more, radius=radius) * rounding
    assert d <= equivalent_depth_series(depth, spacing, radius=min(radius * more, 0.1)) * rounding
    assert d <= endless * rounding


@pytest.mark.law(of=(equivalent_depth_moody, equivalent_depth_series))
def test_equivalent_depth_of_many_drains_at_once() -> None:
    depths_ = np.array([0.0, 0.5, 2.0, 20.0])
    for form in (equivalent_depth_moody, equivalent_depth_series):
        alone = [float(form(float(d), 20.0, radius=0.05)) for d in depths_]
        assert alone == pytest.approx(list(form(depths_, 20.0, radius=0.05)), rel=1e-14)
        assert alone[0] == 0.0


@st.composite
def soils(draw: st.DrawFn) -> dict[str, float]:
    return {
        "spacing": draw(spacings),
        "equivalent_depth": draw(st.floats(0.0, 5.0)),
        "conductivity_below": draw(st.floats(0.0, 1e-4)),
        "conductivity_above": draw(st.floats(1e-8, 1e-4)),
    }


@pytest.mark.law(of=(drain_flux_hooghoudt, water_height_hooghoudt))
@given(soil=soils(), height=st.floats(0.0, 2.0), outlet=st.floats(0.0, 2.0))
def test_height_and_flux_are_each_others_inverse(
    soil: dict[str, float], height: float, outlet: float
) -> None:
    flux = drain_flux_hooghoudt(height, outlet_height=outlet, **soil)
    back = water_height_hooghoudt(flux, outlet_height=outlet, **soil) if flux >= 0 else height

    assert height == pytest.approx(back, rel=1e-6, abs=1e-6)


@pytest.mark.law(of=(drain_flux_hooghoudt,))
@given(
    soil=soils(), height=st.floats(0.0, 2.0), outlet=st.floats(0.0, 2.0), more=st.floats(0.01, 1)
)
def test_flux_grows_with_the_water_table_and_falls_with_the_outlet(
    soil: dict[str, float], height: float, outlet: float, more: float
) -> None:
    flux = drain_flux_hooghoudt(height, outlet_height=outlet, **soil)

    assert drain_flux_hooghoudt(height + more, outlet_height=outlet, **soil) > flux
    assert drain_flux_hooghoudt(height, outlet_height=outlet + more, **soil) < flux
    assert flux == -drain_flux_hooghoudt(outlet, outlet_height=height, **soil)
    assert drain_flux_hooghoudt(height, outlet_height=height, **soil) == 0.0


@pytest.mark.law(of=(drain_flux_kirkham_ponded,))
@given(
    ponding=st.floats(0.0, 0.3),
    outlet=st.floats(0.0, 1.0),
    depth=st.floats(0.6, 2.0),
    below=st.floats(0.0, 5.0),
    spacing=spacings,
)
def test_pond_drains_faster_through_closer_drains_and_deeper_soil(
    ponding: float, outlet: float, depth: float, below: float, spacing: float
) -> None:
    field = {
        "outlet_height": outlet,
        "drain_depth": depth,
        "barrier_depth": depth + below,
        "spacing": spacing,
        "radius": 0.01,
        "conductivity": 1e-5,
    }
    flux = drain_flux_kirkham_ponded(ponding, **field)
    head = ponding + depth - max(0.01, outlet)

    assert math.copysign(1.0, flux) == math.copysign(1.0, head)
    assert abs(flux) >= abs(drain_flux_kirkham_ponded(ponding, **{**field, "spacing": spacing + 1}))
    assert drain_flux_kirkham_ponded(ponding + 0.01, **field) > flux
    deeper = drain_flux_kirkham_ponded(ponding, **{**field, "barrier_depth": depth + below + 1})
    assert abs(deeper) >= abs(flux) * (1 - 1e-9)


@pytest.mark.law(of=(drain_flux_kirkham_ponded,))
def test_many_ponds_at_once_are_each_alone() -> None:
    spacings_ = np.array([3.0, 15.0, 400.0])
    field = {"drain_depth": 1.2, "barrier_depth": 3.2, "radius": 0.01, "conductivity": 1e-5}
    alone = [float(drain_flux_kirkham_ponded(0.0, spacing=float(s), **field)) for s in spacings_]

    assert alone == pytest.approx(
        list(drain_flux_kirkham_ponded(0.0, spacing=spacings_, **field)), rel=1e-13
    )


@pytest.mark.law(of=(buffer_flow_dupuit, buffer_travel_time_dupuit, buffer_travel_time_mceachran))
@given(
    stream=st.floats(0.0, 2.0),
    fall=st.floats(0.01, 2.0),
    width=st.floats(3.0, 60.0),
    factor=st.floats(1.1, 4.0),
)
def test_a_buffer_scales(stream: float, fall: float, width: float, factor: float) -> None:
    line = stream + fall
    soil = {"conductivity": 1e-5, "porosity": 0.35}
    flow = buffer_flow_dupuit(line, stream, width=width, length=100.0, conductivity=1e-5)
    exact = buffer_travel_time_dupuit(line, stream, width=width, **soil)
    linear = buffer_travel_time_mceachran(line, stream, width=width, factor=1.0, **soil)

    assert flow / factor == pytest.approx(
        buffer_flow_dupuit(line, stream, width=factor * width, length=100.0, conductivity=1e-5)
    )
    assert exact * factor**2 == pytest.approx(
        buffer_travel_time_dupuit(line, stream, width=factor * width, **soil)
    )
    assert 1.0 - 1e-12 <= exact / linear <= 4.0 / 3.0 + 1e-12
    assert -flow == buffer_flow_dupuit(stream, line, width=width, length=100.0, conductivity=1e-5)


@pytest.mark.law(of=(buffer_surface_head_dupuit,))
def test_water_table_of_a_buffer_falls_evenly_to_the_stream() -> None:
    heads = buffer_surface_head_dupuit(np.linspace(0.0, 15.0, 151), 1.8, 0.8, width=15.0)

    assert [1.8, 0.8] == pytest.approx([heads[0], heads[-1]], rel=1e-12)
    assert np.all(np.diff(heads) < 0.0)
