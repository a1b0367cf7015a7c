# SPDX-License-Identifier: Apache-2.0
"""Pages of the bed: its size, what goes through it, where the head goes, each season."""

from tilewater.documents.paper.blocks import Block, Cell, Column, Heading, Paragraph, Table
from tilewater.documents.report.reading import Reading

LINES = (("criterion", "criterion"), ("spring", "spring"), ("new", "new chips"))
SIZES = (
    ("Length of the floor", "bed.length_bottom_m", ""),
    ("Width of the floor", "bed.width_bottom_m", ""),
    ("Depth of the chips", "bed.media_depth_m", ""),
    ("Side slope of the chips", "bed.side_slope", "side_slope"),
    ("Floor at the inlet", "bed.floor_inlet_m", "elevation"),
    ("Floor at the outlet", "bed.floor_outlet_m", "elevation"),
    ("Chips, neat in place", "bed.media_volume_m3", "volume"),
    ("Chips to order", "quantities.chips-order.quantity", "volume"),
    ("Depth of the cut", "quantities.cut_depth_m", "length"),
)
NODES = (
    ("diversion", "diversion"),
    ("inlet_end", "inlet end of the chips"),
    ("outlet_end", "outlet end of the chips"),
    ("outlet_box", "outlet structure"),
)


def bed_pages(reading: Reading) -> tuple[Block, ...]:
    """The bed and the water through it."""
    return (
        Heading("The bed", 1, new_page=True),
        Table((Column("size"), Column("", "point")), _sizes(reading)),
        Heading("Through the bed", 2),
        Paragraph(
            "The verdict uses the criterion line: aged chips, water of the laboratory's "
            "temperature, at the bypass crest, outlet free. The spring line is the same bed in "
            "cold water, in balance with the bypass while the main runs full."
        ),
        _capacity(reading),
        Heading("Where the head goes", 2),
        _losses(reading),
        *_seasons(reading),
    )


def _sizes(reading: Reading) -> tuple[tuple[Cell, ...], ...]:
    return tuple(
        (label, reading.cell(key, kind)) for label, key, kind in SIZES if key in reading.trace
    )


def _capacity(reading: Reading) -> Table:
    def line(name: str, label: str) -> tuple[Cell, ...]:
        here = f"capacity.{name}"
        return (
            label,
            reading.cell(f"{here}.flow_m3_s"),
            reading.cell(f"{here}.share_of_peak"),
            reading.cell(f"{here}.retention_h", "hours"),
            reading.cell(f"{here}.conductivity_m_s"),
            reading.cell(f"{here}.temperature_c"),
            reading.cell(f"{here}.age_years"),
        )

    heads = ("flow", "of peak", "in the bed", "chips", "water", "age")
    return Table(
        (Column("line"), *(Column(head, "point") for head in heads)),
        tuple(line(name, label) for name, label in LINES),
    )


def _losses(reading: Reading) -> Block:
    """Levels along the way for each line; the head falls from one to the next."""
    rows: list[tuple[Cell, ...]] = []
    for name, label in LINES:
        here = f"capacity.{name}.levels_m"
        keys = [f"{here}.{node}" for node, _ in NODES]
        if not reading.known(*keys):
            continue
        rows.append((label, *(reading.cell(key, "elevation", unit=False) for key in keys)))
    if not rows:
        return Paragraph("Not known: a level along the bed could not be computed.")
    heads = (label for _, label in NODES)
    return Table((Column("line"), *(Column(head, "point") for head in heads)), tuple(rows))


def _seasons(reading: Reading) -> tuple[Block, ...]:
    seasons = reading.trace.names("seasons")
    if not seasons:
        return ()

    def line(season: str) -> tuple[Cell, ...]:
        here = f"seasons.{season}"
        return (
            season,
            reading.cell(f"boards.inlet-{season}.crest_m", "elevation"),
            reading.cell(f"inputs.season.{season}.water_temperature_c"),
            reading.cell(f"{here}.flow_m3_s"),
            reading.cell(f"{here}.share_of_peak"),
        )

    heads = ("bypass crest", "water", "flow", "of peak")
    backward = any(
        reading.known(key) and float(reading.value(key)) < 0
        for key in (f"seasons.{season}.flow_m3_s" for season in seasons)
    )
    note = (
        "Below zero the ditch stands above that crest and its water runs back." if backward else ""
    )
    return (
        Heading("By season", 2),
        Paragraph(f"Aged chips, water at that season's bypass crest. {note}".strip()),
        Table(
            (Column("season"), *(Column(head, "point") for head in heads)),
            tuple(map(line, seasons)),
        ),
    )
