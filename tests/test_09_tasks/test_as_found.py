# SPDX-License-Identifier: Apache-2.0
"""A practice that others built and nobody has a design of: what shots of it tell, and what not."""

from datetime import date
from pathlib import Path

import pytest

from tests.jobs import FOOT, INCH
from tilewater.tasks.built_part import built_part
from tilewater.tasks.inspecting import Inspected, inspect_job

SHOTS = """P,N,E,Z,D
1,5000.00,7000.00,998.40,corner
2,5000.00,7080.00,998.42,corner
3,5018.00,7080.00,998.38,corner
4,5018.00,7000.00,998.40,corner
5,5009.00,7020.00,1001.42,top of chips
6,5009.00,7060.00,1001.38,top of chips
7,5009.00,7040.00,1003.05,ground
8,5009.00,7100.00,998.60,sill inlet
9,5009.20,7100.10,1004.10,rim inlet
10,5009.00,7100.20,1001.27,boards inlet
11,5009.00,6980.00,998.40,sill outlet
12,5009.10,6980.10,1003.80,rim outlet
13,5009.00,6980.20,1000.06,boards outlet
14,5009.00,6950.00,998.30,flowline return
15,5030.00,6990.00,1000.00,mystery
"""

TABLES = {
    "job": {"title": "Old bed at Tarrow Creek"},
    "people": dict.fromkeys(
        ("owner", "tenant", "neighbour_upstream", "drainage_district", "easements")
    ),
    "site": {
        "vertical_datum": "NAVD88",
        "foot": "international foot",
        "soil_type": None,
        "ground_at_bed": None,
        "utilities": None,
    },
    "drainage": {
        "area": "40 acre",
        "coefficient": "3/8 in/day",
        "lateral_depth": "4 ft",
        "lateral_spacing": "60 ft",
        "depth_to_barrier": None,
        "conductivity": None,
        "design_water_height": None,
        "surface_inlets": "none",
    },
    "main": {
        "diameter": "8 in",
        "material": "corrugated plastic",
        "slope": "0.2 %",
        "invert_outlet": None,
        "station_outlet": None,
        "invert_diversion": None,
        "station_diversion": None,
    },
    "ditch": {"bottom": None, "stage": None},
    "structure.inlet": {
        **dict.fromkeys(("sill", "rim", "ground", "floor", "box_length", "box_width")),
        "box_weight": None,
        "crest_width": "1.17 ft",
    },
    "structure.outlet": {
        **dict.fromkeys(("sill", "rim", "ground", "floor", "box_length", "box_width")),
        "box_weight": None,
        "crest_width": "1.17 ft",
    },
    "boards": {"inlet": None, "outlet": None},
    "bed": {
        **dict.fromkeys(("size", "length_bottom", "width_bottom", "media_depth", "lining")),
        **dict.fromkeys(("floor_inlet", "floor_outlet", "cover_depth", "outlet_invert")),
        "return_invert": None,
        "side_slope": "0:1",
        "return": "own outlet",
    },
    "media": {
        "conductivity_new": "9.5 cm/s",
        "conductivity_aged": "4.2 cm/s",
    },
    "groundwater": dict.fromkeys(("building", "finished", "flotation")),
    "estimate": dict.fromkeys(("prices", "price_year")),
    "money": dict.fromkeys(("rate", "years", "media_years", "upkeep_usd_per_year")),
    "as_built": {"shots": "found.csv", "found": "as found", "taken_on": "2031-06-04"},
    "as_built.columns": {"point": "P", "north": "N", "east": "E", "height": "Z", "note": "D"},
}
NUMBERS = {"media": "aged_years = 9.25", "boards": 'heights = ["7 in", "5 in"]'}


def found(folder: Path) -> Inspected:
    """A look at the practice that was found."""
    lines = ["format = 1"]
    for table, values in TABLES.items():
        lines += ["", f"[{table}]"]
        lines += [f'{key} = "{value or "unknown"}"' for key, value in values.items()]
        lines += [NUMBERS[table]] if table in NUMBERS else []
    for use in ("feed", "return"):
        lines += ["", f"[pipe.{use}]", f'use = "{use}"', 'diameter = "6 in"']
        lines += ['length = "20 ft"', 'kind = "solid"']
    folder.mkdir()
    (folder / "job.toml").write_text("\n".join(lines) + "\n", encoding="utf-8")
    (folder / "found.csv").write_text(SHOTS, encoding="utf-8")
    return inspect_job(folder, date(2031, 6, 4), only="built")


@pytest.mark.by_hand(of=(built_part,))
def test_sizes_crests_and_chips_are_reckoned_from_shots(tmp_path: Path) -> None:
    looked = found(tmp_path / "old-bed")
    (part,) = looked.parts
    assert part.title == "As found"
    assert not part.short
    record = part.record
    levels = {(row["part"], row["what"]): row for row in record["levels"]}
    assert levels["bed", "length"]["built_m"] == pytest.approx(80 * FOOT)
    assert levels["bed", "width"]["built_m"] == pytest.approx(18 * FOOT)
    floor = (998.40 + 998.42 + 998.38 + 998.40) / 4
    chips = (1001.42 + 1001.38) / 2
    assert levels["bed", "chips, deep"]["built_m"] == pytest.approx((chips - floor) * FOOT)
    assert levels["bed", "floor"]["off_m"] is None
    inlet = next(row for row in record["boards"] if row["name"] == "inlet-design")
    assert sum(inlet["after"]["stack_in"]) == pytest.approx(32)  # 7 + 5 x 5, nearest below 32.04
    assert inlet["after"]["crest_m"] == pytest.approx((998.60 + 32 / 12) * FOOT)
    assert inlet["after"]["rim_down_in"] * INCH == pytest.approx(
        (1004.10 - 998.60) * FOOT - 32 * INCH
    )
    volume = next(row for row in record["numbers"] if row["key"] == "bed.media_volume_m3")
    assert volume["before"] is None
    assert volume["after"] == pytest.approx(80 * 18 * 3.0 * FOOT**3, rel=1e-6)


@pytest.mark.works(of=(built_part,))
def test_the_rest_is_not_known_with_what_to_measure(tmp_path: Path) -> None:
    looked = found(tmp_path / "old-bed")
    (part,) = looked.parts
    record = part.record
    flow = next(row for row in record["numbers"] if row["key"] == "capacity.criterion.flow_m3_s")
    assert flow["after"] is None
    unknown = {row["key"]: row["measure"] for row in record["unknown"]}
    assert "shoot it once the structure stands" in unknown["inputs.structure.inlet.floor_m"]
    assert "inputs.structure.inlet.sill_m" not in unknown
    assert record["parts"] == []
    assert [row["point"] for row in record["unmatched"]] == ["15"]
    assert {note.code for note in looked.notes} >= {"as-built-of-nothing", "as-built-no-check"}
    assert not list((tmp_path / "old-bed").glob("results/*"))
