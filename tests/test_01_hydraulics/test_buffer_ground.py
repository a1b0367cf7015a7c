# SPDX-License-Identifier: Apache-2.0
"""Layers of a buffer, the seepage face and the gradients at its bank.

h1 and h2 heads, W width, K conductivity, n porosity, q flow per length.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from tests.digits import printed
from tests.oracles.free_surface import exit_height, free_surface
from tilewater.basis.errors import NoSolution, OutOfDomain
from tilewater.hydraulics.groundwater import (
    buffer_flow_dupuit,
    buffer_surface_head_dupuit,
    buffer_travel_time_dupuit,
)
from tilewater.hydraulics.layered_ground import (
    Layers,
    buffer_flow_layered,
    buffer_travel_time_layered,
    conductivity_layered,
    transmissivity_layered,
)
from tilewater.hydraulics.seepage_face import (
    critical_gradient,
    exit_gradient,
    mean_gradient,
    narrow_buffer_findings,
    seepage_exit_height,
    void_ratio_of,
)

THREE = Layers((0.5, 1.1, 2.5), (2e-6, 3e-5, 8e-6))


@pytest.mark.law(of=(buffer_flow_layered, buffer_travel_time_layered, conductivity_layered))
@given(
    h1=st.floats(0.3, 4.0),
    share=st.floats(0.0, 0.98),
    cut=st.floats(0.05, 0.95),
    k=st.floats(1e-7, 1e-3),
)
def test_layers_of_one_soil_are_that_soil(h1, share, cut, k):
    K, h2 = k, share * h1
    layers = Layers((cut * h1, h1), (K, K))
    alike = {"width": 12.0, "length": 80.0}
    one = buffer_flow_dupuit(h1, h2, conductivity=K, **alike)
    assert one == pytest.approx(buffer_flow_layered(h1, h2, layers=layers, **alike), rel=1e-9)
    assert conductivity_layered(h1, layers=layers) == pytest.approx(K)
    time = buffer_travel_time_dupuit(h1, h2, width=12.0, conductivity=K, porosity=0.35)
    assert time == pytest.approx(
        buffer_travel_time_layered(h1, h2, width=12.0, porosity=0.35, layers=layers), rel=1e-7
    )


@pytest.mark.oracle("scipy.integrate.quad", of=(buffer_flow_layered, buffer_travel_time_layered))
@pytest.mark.parametrize(("h1", "h2"), [(1.9, 0.4), (0.9, 0.0), (2.2, 2.1)])
def test_flow_and_time_of_layers_are_their_integrals(h1, h2):
    W, n = 14.0, 0.3

    def thickness_times_k(h: float) -> float:
        return transmissivity_layered(h, layers=THREE)

    breaks = [z for z in THREE.tops if h2 < z < h1] or None
    q = quad(thickness_times_k, h2, h1, points=breaks)[0] / W
    assert q == pytest.approx(
        buffer_flow_layered(h1, h2, width=W, length=1.0, layers=THREE), rel=1e-9
    )
    water = quad(lambda h: h * thickness_times_k(h) / q, h2, h1, points=breaks)[0]
    assert n * water / q == pytest.approx(
        buffer_travel_time_layered(h1, h2, width=W, porosity=n, layers=THREE), rel=1e-9
    )


@pytest.mark.by_hand(of=(transmissivity_layered, conductivity_layered))
def test_transmissivity_worked_once():
    by_hand = 0.5 * 2e-6 + 0.6 * 3e-5 + 0.4 * 8e-6
    assert by_hand == pytest.approx(transmissivity_layered(1.5, layers=THREE))
    assert by_hand / 1.5 == pytest.approx(conductivity_layered(1.5, layers=THREE))


@pytest.mark.law(of=(buffer_flow_layered,))
def test_a_freer_layer_where_water_stands_and_only_there_lets_more_through():
    alike = {"width": 10.0, "length": 1.0}
    dry = Layers((1.0, 3.0), (1e-6, 1e-3))
    tight = Layers((1.0, 3.0), (1e-6, 1e-6))
    assert buffer_flow_layered(1.0, 0.2, layers=dry, **alike) == buffer_flow_layered(
        1.0, 0.2, layers=tight, **alike
    )
    assert buffer_flow_layered(1.4, 0.2, layers=dry, **alike) > buffer_flow_layered(
        1.4, 0.2, layers=tight, **alike
    )
    assert buffer_flow_layered(0.8, 0.8, layers=dry, **alike) == 0
    back = buffer_flow_layered(0.2, 1.4, layers=dry, **alike)
    assert back == -buffer_flow_layered(1.4, 0.2, layers=dry, **alike)


@pytest.mark.published(
    "polubarinova1962",
    "wide dam without tailwater, 0.74 q/K, from memory",
    of=(seepage_exit_height,),
)
def test_face_over_a_dry_stream():
    assert printed("0.74") == seepage_exit_height(2e-6, 0.0, conductivity=2e-6)


@pytest.mark.oracle("free surface in finite differences", of=(seepage_exit_height,))
@pytest.mark.parametrize("stage", [0.0, 0.25, 0.5, 1.0, 2.0])
def test_seepage_face_of_a_wide_buffer(stage):
    # q / K = 1, so that the heads of both ends follow from the width
    width = 4.0 if stage < 2.0 else 6.0
    head = math.sqrt(stage**2 + 2.0 * width)
    found = exit_height(head, stage, width, 110)
    assert found == pytest.approx(seepage_exit_height(1.0, stage, conductivity=1.0), abs=0.025)


@pytest.mark.oracle("free surface in finite differences", of=(buffer_surface_head_dupuit,))
def test_far_from_the_bank_the_water_table_is_that_of_level_flow():
    width, head = 6.0, 1.0
    x, height = free_surface(head, 0.3, width, 40)
    level = buffer_surface_head_dupuit(x, head, 0.3, width=width)
    inner = (x > 0.5 * head) & (x < width - 0.5)
    assert inner.sum() > 100
    assert np.allclose(height[inner], level[inner], rtol=0.02)


@pytest.mark.law(of=(seepage_exit_height, exit_gradient))
@given(q=st.floats(1e-9, 1e-4), h2=st.floats(0.0, 3.0), k=st.floats(1e-7, 1e-3))
def test_face_stands_over_the_stream_and_takes_no_gradient_above_1_36(q, h2, k):
    K = k
    height = seepage_exit_height(q, h2, conductivity=K)
    assert height >= h2
    assert seepage_exit_height(0.0, h2, conductivity=K) == h2
    if height > 0:
        assert exit_gradient(q, height, conductivity=K) <= 1.36


@pytest.mark.by_hand(of=(critical_gradient, void_ratio_of, mean_gradient))
def test_gradients_worked_once():
    assert printed("0.917") == critical_gradient(specific_gravity=2.65, void_ratio=0.8)
    assert 0.8 == pytest.approx(void_ratio_of(0.8 / 1.8))
    assert printed("0.082") == mean_gradient(742.5 - 735.0, 738.0 - 735.0, width=55.0)


@pytest.mark.works(of=(narrow_buffer_findings,))
def test_a_narrow_buffer_is_reported():
    (finding,) = narrow_buffer_findings(2.0, width=2.0)
    assert (finding.code, finding.severity) == ("buffer-narrow-low", "caution")
    assert narrow_buffer_findings(2.0, width=9.0) == ()


@pytest.mark.works(of=(Layers, buffer_travel_time_layered))
def test_what_has_no_meaning_is_refused():
    with pytest.raises(OutOfDomain, match="thickness of a layer is"):
        Layers((1.0, 0.5), (1e-6, 1e-6))
    with pytest.raises(OutOfDomain, match="number of layers is 0"):
        Layers((), ())
    with pytest.raises(NoSolution, match="above the line"):
        buffer_travel_time_layered(0.5, 1.0, width=9.0, porosity=0.3, layers=THREE)
    assert brentq(lambda h: transmissivity_layered(h, layers=THREE) - 1e-6, 0, 1) == pytest.approx(
        0.5
    )
