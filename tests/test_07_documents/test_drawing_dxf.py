# SPDX-License-Identifier: Apache-2.0
"""The DXF is sound, in the units that it says, on named layers, and as long as the ground."""

import os
import subprocess
import sys
from collections import Counter
from io import BytesIO
from pathlib import Path

import pytest
from ezdxf import recover
from ezdxf.colors import DXF_DEFAULT_COLORS, int2rgb
from ezdxf.document import Drawing as Document
from ezdxf.entities import DXFEntity

from tests.drawings import BED, one_of_each
from tilewater.basis.units import Foot, System
from tilewater.documents.drawing.dimensions import laid_out
from tilewater.documents.drawing.dxf import to_dxf
from tilewater.documents.drawing.dxf_tables import APP, declare, unit_of_paper
from tilewater.documents.drawing.layers import LAYERS
from tilewater.documents.drawing.marks import MARKS
from tilewater.documents.drawing.metrics import CAP
from tilewater.documents.drawing.model import SMALL, Drawing

GROUNDS: list[tuple[System, Foot, int, float]] = [
    ("us", "international foot", 2, 0.3048),
    ("us", "us survey foot", 21, 1200 / 3937),
    ("si", "international foot", 6, 1.0),
]
HAIR = 1e-9


def read_back(drawing: Drawing) -> Document:
    """The file of a drawing as another program would read it; it must be sound."""
    document, audit = recover.read(BytesIO(to_dxf(drawing)))
    assert [] == audit.errors
    assert [] == audit.fixes
    return document


def on_layer(document: Document, kind: str, layer: str) -> list[DXFEntity]:
    """Entities of a kind on a layer of the model space."""
    return list(document.modelspace().query(f'{kind}[layer=="{layer}"]'))


@pytest.mark.oracle("ezdxf 1.4.5", of=(to_dxf,))
@pytest.mark.parametrize(("units", "foot", "code", "unit"), GROUNDS)
@pytest.mark.parametrize("exaggerated", [True, False])
def test_the_file_is_sound_and_as_long_as_the_ground(
    units: System, foot: Foot, code: int, unit: float, exaggerated: bool
) -> None:
    drawing = one_of_each(exaggerated=exaggerated, units=units, foot=foot)
    document = read_back(drawing)
    assert "AC1027" == document.dxfversion
    assert code == document.header["$INSUNITS"]
    (edge,) = on_layer(document, "LWPOLYLINE", "chips-edge")
    corners = [(x, y) for x, y, *_ in edge.get_points()]  # type: ignore[attr-defined]
    times = drawing.frame.exaggeration
    for (x, y), corner in zip(BED, corners, strict=True):
        assert pytest.approx((x / unit, times * y / unit), rel=HAIR) == corner


@pytest.mark.oracle("ezdxf 1.4.5", of=(to_dxf, laid_out))
@pytest.mark.parametrize("exaggerated", [True, False])
def test_dimensions_measure_the_ground(exaggerated: bool) -> None:
    drawing = one_of_each(exaggerated=exaggerated)
    dimensions = read_back(drawing).modelspace().query("DIMENSION")
    assert 4 == len(dimensions)
    for each in dimensions:
        measured = each.get_measurement() * each.override().get("dimlfac")
        assert pytest.approx(each.dxf.actual_measurement) == measured
        assert each.dxf.text == f"{measured:.2f}"
        assert "ground" == each.dxf.dimstyle


@pytest.mark.works(of=(to_dxf,))
def test_the_picture_of_a_dimension_is_that_of_the_paper() -> None:
    drawing = one_of_each(exaggerated=False)
    document = read_back(drawing)
    (bed,) = (d for d in document.modelspace().query("DIMENSION") if d.dxf.text == "98.43")
    picture = document.blocks.get(bed.dxf.geometry)
    assert {"LINE": 5, "TEXT": 1} == Counter(each.dxftype() for each in picture)
    line = picture[0]
    assert pytest.approx(98.4252, abs=1e-4) == (line.dxf.end - line.dxf.start).magnitude


@pytest.mark.works(of=(declare,))
def test_layers_carry_weights_dashes_and_inks() -> None:
    document = read_back(one_of_each())
    for name, layer in LAYERS.items():
        made = document.layers.get(name)
        assert round(100 * layer.width_mm) == made.dxf.lineweight
        assert (layer.dashes if layer.dashes != "solid" else "Continuous") == made.dxf.linetype
        assert layer.holds == made.description
        shown = "#{:02x}{:02x}{:02x}".format(*made.rgb) if made.rgb else None
        assert shown == (None if layer.aci == 7 else layer.ink)
    used = {entity.dxf.layer for entity in document.modelspace()}
    assert used <= set(LAYERS)


@pytest.mark.oracle("ezdxf 1.4.5", of=(declare,))
def test_numbered_colours_are_the_nearest() -> None:
    def apart(ink: str, number: int) -> int:
        mine = (int(ink[i : i + 2], 16) for i in (1, 3, 5))
        theirs = int2rgb(DXF_DEFAULT_COLORS[number])
        return sum((a - b) ** 2 for a, b in zip(mine, theirs, strict=True))

    for layer in LAYERS.values():
        if layer.aci != 7:
            assert apart(layer.ink, layer.aci) == min(apart(layer.ink, n) for n in range(1, 256))


@pytest.mark.by_hand(of=(to_dxf, unit_of_paper))
def test_texts_are_as_high_on_the_ground_as_the_scale_needs() -> None:
    drawing = one_of_each(exaggerated=False, units="si")
    assert pytest.approx(drawing.frame.scale_x / 1000.0) == unit_of_paper(drawing)
    texts = read_back(drawing).modelspace().query("TEXT")
    (mark,) = (text for text in texts if text.dxf.text == "1184.38")
    assert pytest.approx(SMALL * CAP * drawing.frame.scale_x / 1000.0) == mark.dxf.height
    assert [(1000, "site.ground_m")] == [tuple(tag) for tag in mark.get_xdata(APP)][-1:]


@pytest.mark.works(of=(to_dxf,))
def test_matter_is_hatched_with_its_rows() -> None:
    document = read_back(one_of_each())
    ground, strokes = on_layer(document, "HATCH", "fill-chips")
    assert ground.dxf.solid_fill
    assert not strokes.dxf.solid_fill
    rows = strokes.pattern.lines  # type: ignore[attr-defined]
    assert [-18.0, 38.0] == [row.angle for row in rows]
    box, _ = on_layer(document, "HATCH", "fill-structure")
    assert 2 == len(box.paths.paths)  # type: ignore[attr-defined]


@pytest.mark.works(of=(to_dxf,))
def test_an_exaggerated_file_says_so() -> None:
    told = "Heights are drawn 4 times: y of this file is 4 times the elevation."
    for exaggerated in (True, False):
        document = read_back(one_of_each(exaggerated=exaggerated))
        texts = [text.dxf.text for text in document.modelspace().query("TEXT")]
        properties = dict(document.header.custom_vars)
        assert exaggerated == (told in texts)
        assert exaggerated == (properties.get("heights") == told)
    assert "Scale 1 in = 20 ft" == properties["scale"]


@pytest.mark.works(of=(to_dxf,))
def test_signs_are_blocks_as_large_as_on_paper() -> None:
    drawing = one_of_each()
    document = read_back(drawing)
    inserts = document.modelspace().query("INSERT")
    assert {"sign-benchmark", "sign-north", "sign-level", "sign-dot"} == {
        each.dxf.name for each in inserts
    }
    assert {round(unit_of_paper(drawing), 9)} == {round(each.dxf.xscale, 9) for each in inserts}
    assert set(MARKS) == {b.name[5:] for b in document.blocks if b.name.startswith("sign-")}


@pytest.mark.by_hand(of=(to_dxf,))
def test_the_layout_shows_the_drawing_at_its_scale() -> None:
    drawing = one_of_each(exaggerated=False, units="si")
    layout = read_back(drawing).paperspace("Sheet")
    view = layout.query("VIEWPORT")[-1]
    assert (400.0, 180.0) == (view.dxf.width, view.dxf.height)
    scale = view.dxf.view_height * 1000.0 / view.dxf.height
    assert pytest.approx(drawing.frame.scale_x) == scale


@pytest.mark.works(of=(to_dxf,))
def test_the_same_drawing_gives_the_same_bytes() -> None:
    assert to_dxf(one_of_each()) == to_dxf(one_of_each())
    assert to_dxf(one_of_each()) != to_dxf(one_of_each(units="si"))


@pytest.mark.works(of=(to_dxf,))
def test_another_run_of_the_program_gives_the_same_bytes() -> None:
    script = (
        "import sys; from tests.drawings import one_of_each; "
        "from tilewater.documents.drawing.dxf import to_dxf; "
        "sys.stdout.buffer.write(to_dxf(one_of_each()))"
    )
    for seed in ("1", "2"):
        run = subprocess.run(
            [sys.executable, "-c", script],
            env={**os.environ, "PYTHONHASHSEED": seed},
            cwd=Path(__file__).parents[2],
            capture_output=True,
            check=True,
        )
        assert to_dxf(one_of_each()) == run.stdout


@pytest.mark.oracle("GDAL 3.12", of=(to_dxf,))
def test_an_independent_reader_finds_the_bed(tmp_path: Path) -> None:
    pyogrio = pytest.importorskip("pyogrio", reason="the reader of maps is not installed")
    file = tmp_path / "drawing.dxf"
    file.write_bytes(to_dxf(one_of_each(exaggerated=False)))
    _, bounds = pyogrio.read_bounds(file, where="Layer = 'chips-edge'")
    west, south, east, north = (float(each[0]) for each in bounds)
    assert pytest.approx(30.0 / 0.3048) == east - west
    assert pytest.approx(2.5 / 0.3048) == north - south
