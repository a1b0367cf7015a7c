# SPDX-License-Identifier: Apache-2.0
"""The whole job file, `job.toml`: which tables it has, and keys of its values in the trace.

The tables themselves stand in the `schema_...` modules beside this one.
"""

from collections.abc import Iterator, Mapping
from typing import Annotated, Any

from pydantic import Field

from tilewater.job.fields import Ask
from tilewater.job.schema_approvals import Approval, Disturbed, Locate
from tilewater.job.schema_as_built import AsBuilt, BuiltPipe, Photo
from tilewater.job.schema_bed import Bed, BedCell, Boards, Pipe
from tilewater.job.schema_bids import AlternateTable, Bidder, BidItem, BidTable
from tilewater.job.schema_buffer import Buffer
from tilewater.job.schema_buffer_soil import AugerHole, BufferSoil, SlugTest, SoilLayer
from tilewater.job.schema_chips import ChipsPlaced, ChipsSpec, SieveTest, Supply
from tilewater.job.schema_compare import Compare, Raised
from tilewater.job.schema_decisions import (
    AssumeTable,
    Confirm,
    Criteria,
    Estimate,
    Money,
    OverruleTable,
    Practice,
)
from tilewater.job.schema_ditch import Ditch, DitchFlow, Mark
from tilewater.job.schema_drains import Drainage, Main, Spot
from tilewater.job.schema_field import FieldTable
from tilewater.job.schema_holds import Before, Hold
from tilewater.job.schema_main import Pump, Segment, Submain
from tilewater.job.schema_media import Frost, Groundwater, Limits, Media, Weights
from tilewater.job.schema_money import Funding
from tilewater.job.schema_monitor import Lab, Logger, Monitor, ZeroCheck
from tilewater.job.schema_nitrate import Measure, Measured, Nitrate
from tilewater.job.schema_operate import BoardLog, Operate
from tilewater.job.schema_plan import Baseline, Benchmark, Bend, Places, PlanLine
from tilewater.job.schema_renew import Observed, Renew, Signs
from tilewater.job.schema_site import About, Borings, People, Season, Site, Survey
from tilewater.job.schema_stake import Hub, Leg, Stake, Traverse
from tilewater.job.schema_structures import Rating, Structures
from tilewater.job.schema_terrain import TerrainTable
from tilewater.job.schema_tracer import Tracer
from tilewater.job.schema_weather import WeatherTable
from tilewater.job.tables import Member, Named, Table

FORMAT = 1
JOB_FILE = "job.toml"


class JobFile(Table):
    """What was measured and decided for one outlet."""

    format: Annotated[int, Field(description="Format of this file.")] = FORMAT
    job: About
    people: People
    site: Site
    survey: Survey = Field(default_factory=lambda: Survey.model_validate({}))
    borings: Borings = Field(default_factory=lambda: Borings.model_validate({}))
    terrain: TerrainTable = Field(default_factory=lambda: TerrainTable.model_validate({}))
    baseline: Baseline = Field(default_factory=lambda: Baseline.model_validate({}))
    bend: Named[Bend] = Field(default_factory=dict)
    place: Places = Field(default_factory=lambda: Places.model_validate({}))
    line: Named[PlanLine] = Field(default_factory=dict)
    benchmark: Named[Benchmark] = Field(default_factory=dict)
    stake: Stake = Field(default_factory=lambda: Stake.model_validate({}))
    hub: Named[Hub] = Field(default_factory=dict)
    traverse: Traverse = Field(default_factory=lambda: Traverse.model_validate({}))
    leg: Named[Leg] = Field(default_factory=dict)
    weather: WeatherTable = Field(default_factory=lambda: WeatherTable.model_validate({}))
    field: FieldTable = Field(default_factory=lambda: FieldTable.model_validate({}))
    drainage: Drainage
    main: Main
    segment: Named[Segment] = Field(default_factory=dict)
    submain: Named[Submain] = Field(default_factory=dict)
    pump: Pump = Field(default_factory=lambda: Pump.model_validate({}))
    ditch: Ditch
    ditch_flow: Named[DitchFlow] = Field(default_factory=dict)
    mark: Named[Mark] = Field(default_factory=dict)
    season: Named[Season] = Field(default_factory=dict)
    spot: Named[Spot] = Field(default_factory=dict)
    structure: Structures
    rating: Named[Rating] = Field(default_factory=dict)
    practice: Practice = Field(default_factory=lambda: Practice.model_validate({}))
    boards: Boards
    bed: Bed
    cell: Named[BedCell] = Field(default_factory=dict)
    buffer: Buffer = Field(default_factory=lambda: Buffer.model_validate({}))
    buffer_soil: BufferSoil = Field(default_factory=lambda: BufferSoil.model_validate({}))
    auger_hole: Named[AugerHole] = Field(default_factory=dict)
    slug_test: Named[SlugTest] = Field(default_factory=dict)
    soil_layer: Named[SoilLayer] = Field(default_factory=dict)
    raised: Raised = Field(default_factory=lambda: Raised.model_validate({}))
    pipe: Named[Pipe] = Field(default_factory=dict)
    media: Media
    nitrate: Nitrate = Field(default_factory=lambda: Nitrate.model_validate({}))
    measured: Measured = Field(default_factory=lambda: Measured.model_validate({}))
    measure: Named[Measure] = Field(default_factory=dict)
    groundwater: Groundwater
    frost: Frost = Field(default_factory=lambda: Frost.model_validate({}))
    weights: Weights = Field(default_factory=lambda: Weights.model_validate({}))
    limits: Limits = Field(default_factory=lambda: Limits.model_validate({}))
    criteria: Criteria = Field(default_factory=lambda: Criteria.model_validate({}))
    confirm: Named[Confirm] = Field(default_factory=dict)
    overrule: Named[OverruleTable] = Field(default_factory=dict)
    assume: Named[AssumeTable] = Field(default_factory=dict)
    estimate: Estimate
    money: Money
    monitor: Monitor = Field(default_factory=lambda: Monitor.model_validate({}))
    logger: Named[Logger] = Field(default_factory=dict)
    zero_check: Named[ZeroCheck] = Field(default_factory=dict)
    lab: Lab = Field(default_factory=lambda: Lab.model_validate({}))
    approval: Named[Approval] = Field(default_factory=dict)
    locate: Locate = Field(default_factory=lambda: Locate.model_validate({}))
    disturbed: Disturbed = Field(default_factory=lambda: Disturbed.model_validate({}))
    before: Before = Field(default_factory=lambda: Before.model_validate({}))
    hold: Named[Hold] = Field(default_factory=dict)
    chips_spec: ChipsSpec = Field(default_factory=lambda: ChipsSpec.model_validate({}))
    sieve_test: Named[SieveTest] = Field(default_factory=dict)
    supply: Supply = Field(default_factory=lambda: Supply.model_validate({}))
    chips_placed: Named[ChipsPlaced] = Field(default_factory=dict)
    bid: BidTable = Field(default_factory=lambda: BidTable.model_validate({}))
    bid_item: Named[BidItem] = Field(default_factory=dict)
    alternate: Named[AlternateTable] = Field(default_factory=dict)
    bidder: Named[Bidder] = Field(default_factory=dict)
    funding: Named[Funding] = Field(default_factory=dict)
    tracer: Named[Tracer] = Field(default_factory=dict)
    renew: Renew = Field(default_factory=lambda: Renew.model_validate({}))
    signs: Signs = Field(default_factory=lambda: Signs.model_validate({}))
    observed: Named[Observed] = Field(default_factory=dict)
    compare: Compare = Field(default_factory=lambda: Compare.model_validate({}))
    as_built: AsBuilt = Field(default_factory=lambda: AsBuilt.model_validate({}))
    built_pipe: Named[BuiltPipe] = Field(default_factory=dict)
    photo: Named[Photo] = Field(default_factory=dict)
    operate: Operate = Field(default_factory=lambda: Operate.model_validate({}))
    board_log: BoardLog = Field(default_factory=lambda: BoardLog.model_validate({}))


JUDGEMENTS = ("confirm", "overrule", "assume")
"""Tables that are no inputs of the computation but say what the engineer does with it."""


def member_at(path: tuple[str, ...]) -> Member | None:
    """What the job file asks for at a path such as `("spot", "low-1", "ground")`."""
    table: type[Table] = JobFile
    member: Member | None = None
    keys = iter(path)
    for key in keys:
        member = next((m for m in table.members() if m.key == key), None)
        if member is None or member.table is None:
            break
        table = member.table
        if member.is_named:
            next(keys, None)
    return member if member is not None and next(keys, None) is None else None


def asks(
    table: type[Table], given: Mapping[str, Any], above: tuple[str, ...] = ()
) -> Iterator[tuple[tuple[str, ...], Member, Ask]]:
    """Every field that a document answers or should, with its path; names are those given.

    What is no table where one belongs counts as an empty one; reading reports it.
    """
    for member in table.members():
        path = (*above, member.key)
        inside = given.get(member.key) if isinstance(given, Mapping) else None
        inside = inside if isinstance(inside, Mapping) else {}
        if member.ask is not None:
            yield path, member, member.ask
        elif member.is_named:
            for name, named in inside.items():
                yield from asks(member.model, named, (*path, name))
        else:
            yield from asks(member.model, inside, path)


def trace_key(path: tuple[str, ...], ask: Ask) -> str:
    """Key of an input in the trace: `inputs.spot.low-1.ground_m`."""
    return ".".join(("inputs", *path)) + ask.suffix
