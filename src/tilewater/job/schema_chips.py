# SPDX-License-Identifier: Apache-2.0
"""Tables of the job file about chips while they are delivered: sieves, tickets, what is placed."""

from typing import Annotated, Any

from tilewater.job.fields import Quantity, kind_of_thing
from tilewater.job.pairs import Pair, Pairs
from tilewater.job.tables import Number, Table, Word
from tilewater.job.words import Choice, Day, FileName, Text

YES, NO = "yes", "no"
WET, DRY = "wet", "dry"
SEEN = ("soil", "leaves", "nails", "treated_wood")
"""What an eye looks for in a load; any of it rejects the load."""

_share = kind_of_thing("ratio", low="0 %", high="100 %", need="leave", is_obvious=True)
_size = kind_of_thing("size", low="0.01 in", high="12 in", need="leave", is_obvious=True)
_mass = kind_of_thing("mass", low="0 kg", high="1000 kg", need="leave", is_obvious=True)
_volume = kind_of_thing("volume", low="0 CY", high="100000 CY", need="leave", is_obvious=True)


def _seen(title: str) -> Choice:
    return Choice(title, choices=(YES, NO), example=NO, need="leave")


class ChipsSpec(Table):
    """What this job asks of its chips; common practice where nothing is said."""

    fines_size: Annotated[
        Number | None,
        _size("Size below which chips are fines", "0.25 in", help="0.25 in is common practice."),
    ]
    fines_most: Annotated[
        Number | None, _share("Fines at most", "5 %", help="5 % is common practice.")
    ]
    middle_from: Annotated[
        Number | None,
        _size("Smallest of the sizes that most chips have", "0.5 in", help="0.5 in in practice."),
    ]
    middle_to: Annotated[
        Number | None,
        _size("Largest of the sizes that most chips have", "2 in", help="2 in in practice."),
    ]
    middle_least: Annotated[
        Number | None,
        _share("Chips between these two sizes at least", "80 %", help="80 % in practice."),
    ]
    loss_most: Annotated[
        Number | None,
        _share(
            "Loss in sieving at most",
            "1 %",
            help="A test that lost more is void; 1 % is common practice.",
        ),
    ]
    clause: Annotated[
        Word | None,
        Text("Clause that asks for it", example="special provision 7.2 of this job", need="leave"),
    ]
    text_status: Annotated[
        Word | None,
        Choice(
            "How that clause is known",
            choices=("read", "memory", "practice"),
            example="read",
            need="leave",
        ),
    ]


class SieveTest(Table):
    """A sieve test of a load of chips."""

    day: Annotated[Word | None, Day("Day of the test", example="2027-09-27", need="leave")]
    ticket: Annotated[Word | None, Text("Ticket of the truck", example="4471", need="leave")]
    by: Annotated[Word | None, Text("Tested by", example="M. Ostrow", need="leave")]
    retained: Annotated[
        tuple[Pair, ...] | Any,
        Pairs(
            "Sieves and what stayed on each, the pan not counted",
            example="2 in: 1.1 kg, 1 in: 25.3 kg, 0.5 in: 20.5 kg",
            first=Quantity("Sieve", kind="size", low="0.001 in", high="12 in", is_obvious=True),
            second=Quantity("Mass", kind="mass", low="0 kg", high="1000 kg", is_obvious=True),
            least=2,
            may_go_back=True,
            how="weigh what stays on each sieve",
            help="A sieve of No. 10 is written 2 mm.",
        ),
    ]
    pan: Annotated[Number, Quantity("Mass in the pan", kind="mass", example="0.6 kg", low="0 kg")]
    mass_before: Annotated[Number | None, _mass("Mass put on the sieves", "54.0 kg")]
    weighed: Annotated[
        Word | None,
        Choice(
            "How it was weighed",
            choices=(DRY, WET),
            example=WET,
            need="leave",
            help="Dry where nothing is said. Wet masses need one moisture sample.",
        ),
    ]
    moisture_wet: Annotated[Number | None, _mass("Moisture sample before the oven", "2.40 kg")]
    moisture_dry: Annotated[Number | None, _mass("Moisture sample after the oven", "1.50 kg")]
    soil: Annotated[Word | None, _seen("Soil or stones seen in the load")]
    leaves: Annotated[Word | None, _seen("Leaves, needles or green twigs seen in the load")]
    nails: Annotated[Word | None, _seen("Nails, wire, plastic or pallet wood seen in the load")]
    treated_wood: Annotated[Word | None, _seen("Treated or painted wood seen in the load")]
    note: Annotated[Word | None, Text("Note", example="ash and maple, screened", need="leave")]


class Supply(Table):
    """Chips ordered, and the tickets of the trucks that brought them."""

    file: Annotated[
        Word | None,
        FileName(
            "Tickets of the trucks",
            example="chip-tickets.csv",
            need="leave",
            help="Columns ticket, time, volume [CY] or mass [ton], refused with the reason.",
        ),
    ]
    ordered: Annotated[
        Number | None,
        _volume("Chips ordered, as they lie in the truck", "500 CY"),
    ]
    tolerance: Annotated[
        Number | None,
        _share("Shortfall of delivery that is let pass", "5 %", help="5 % where nothing is said."),
    ]
    bulk_density: Annotated[
        Number | None,
        Quantity(
            "Bulk density of chips in the truck, as delivered",
            kind="density",
            example="20 lb/ft3",
            low="5 lb/ft3",
            high="60 lb/ft3",
            need="leave",
            how="weigh a truck of known volume, or fill a box of known volume and weigh it",
            help="Turns tons into cubic yards; wet chips are heavier.",
        ),
    ]
    bulk_density_source: Annotated[
        Word | None,
        Text(
            "Where that density comes from",
            example="truck 4468, 60 CY heaped box, scale ticket",
            need="leave",
        ),
    ]


class ChipsPlaced(Table):
    """How far the bed was filled on a day."""

    day: Annotated[Word, Day("Day", example="2027-09-29")]
    share: Annotated[
        Number,
        Quantity(
            "Share of the bed that is filled to grade",
            kind="ratio",
            example="40 %",
            low="0 %",
            high="100 %",
            is_obvious=True,
            how="tape the filled length, or shoot the top of the chips",
        ),
    ]
    stockpile: Annotated[
        Number | None, _volume("Chips that still lie on the pad", "60 CY", help="None if not said.")
    ]
