# SPDX-License-Identifier: Apache-2.0
"""The table of the job file about soil and crops of the field, for the daily drain flow."""

from typing import Annotated, Any

from tilewater.hydrology.crops import CROPS
from tilewater.hydrology.field_defaults import field_default_words
from tilewater.job.fields import Quantity, Wrong
from tilewater.job.schema_site import length
from tilewater.job.tables import Number, Table
from tilewater.job.words import Texts


def _soil(title: str, slug: str, kind: str, example: str, **more: Any) -> Quantity:
    """A value of the soil that the model has a default for; the help says which and on what."""
    default = field_default_words(slug)
    help_ = f"{default.typed} when it is left out; {default.label}."
    return Quantity(title, kind=kind, example=example, help=help_, need="leave", **more)


class _Crops(Texts):
    """Names of crops that the model knows, in turn."""

    @property
    def allowed(self) -> str:
        return ", ".join(CROPS)

    def read(self, raw: Any, setting: Any) -> Any:
        names = tuple(str(name) for name in super().read(raw, setting))
        for name in names:
            if name not in CROPS:
                raise Wrong(f"'{name}' is no crop known here. Known: {self.allowed}.")
        return names


class FieldTable(Table):
    """Soil and crops of the field, for the years of drain flow that the weather gives."""

    rotation: Annotated[
        tuple[str, ...] | None,
        _Crops(
            "Crops of the field, one a year in turn",
            example="corn, soybean",
            need="leave",
            help="Corn and soybean when it is left out.",
        ),
    ]
    first_crop_year: Annotated[
        Number | None,
        Quantity(
            "A year with the first of these crops",
            kind="years",
            example="2024",
            low="1800",
            high="2200",
            need="leave",
            help="The first year of the weather when it is left out.",
        ),
    ]
    root_limit: Annotated[
        Number | None,
        length(
            "Depth below which no root goes",
            "3 ft",
            low="0.2 ft",
            high="20 ft",
            need="leave",
            help="A hard or acid layer. The crop's own depth, and no deeper than the laterals, "
            "when it is left out.",
            how="dig where the crop stands thin",
        ),
    ]
    drainable_porosity: Annotated[
        Number | None,
        _soil(
            "Water that a fall of the water table sets free, over the soil",
            "drainable-porosity",
            "number",
            "0.05",
            low="0.005",
            high="0.4",
            how="watch the table fall between two drains that run, and measure their flow",
        ),
    ]
    water_capacity: Annotated[
        Number | None,
        _soil(
            "Water between field capacity and wilting, over the soil",
            "water-capacity",
            "number",
            "0.17",
            low="0.02",
            high="0.5",
            how="the soil survey prints it by layer",
        ),
    ]
    infiltration: Annotated[
        Number | None,
        _soil(
            "Most that the ground takes of a day's rain",
            "infiltration",
            "depth_rate",
            "60 mm/day",
            low="1 mm/day",
            high="1000 mm/day",
        ),
    ]
    surface_storage: Annotated[
        Number | None,
        _soil(
            "Water that hollows hold before any runs off",
            "surface-storage",
            "depth",
            "10 mm",
            low="0 mm",
            high="200 mm",
        ),
    ]
    deep_seepage: Annotated[
        Number | None,
        _soil(
            "Water that goes to the deep ground while the table is level with the drains",
            "deep-seepage",
            "depth_rate",
            "25 mm/yr",
            low="0 mm/yr",
            high="1000 mm/yr",
        ),
    ]
    upward_flux_at_one_metre: Annotated[
        Number | None,
        _soil(
            "Most that rises to roots one metre above the water table",
            "upward-flux-at-one-metre",
            "depth_rate",
            "1 mm/day",
            low="0 mm/day",
            high="20 mm/day",
        ),
    ]
    loss_at_one_metre: Annotated[
        Number | None,
        _soil(
            "Water that a suction of one metre takes from full soil, over the soil",
            "loss-at-one-metre",
            "number",
            "0.05",
            low="0",
            high="0.4",
            how="a laboratory drains a core of the subsoil at 0.1 bar",
        ),
    ]
    inlet_flow: Annotated[
        Number | None,
        Quantity(
            "Most that the surface inlets let into the drains",
            kind="flow",
            example="0.4 cfs",
            low="0 cfs",
            need="leave",
            help="As much as the main carries when it is left out and their water is not kept out.",
        ),
    ]
