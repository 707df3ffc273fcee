"""The shop as the making of a tool sees it: machine, dials, chucks, cutters, instruments, and how tapers are cut.

Every figure has a value. Those that nobody gave are named in `Workshop.defaults`, so that a plan can say which of its
numbers rest on them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

__all__ = [
    "BoringBar", "Chuck", "Cutter", "Dial", "Drill", "LeadScrew", "Milling", "Reamer", "Screws", "ShelfBar", "Sleeve",
    "Support", "TailCentre", "TaperMethod", "ToolPost", "Wheel", "Workshop",
]

TaperMethod = Literal["top slide", "set-over", "attachment", "bought shank"]
Support = Literal["ball", "60-degree"]
Screws = Literal["one", "two"]
TailCentre = Literal["dead", "revolving"]
LeadScrew = Literal["metric", "inch"]
Milling = Literal["machine", "slide", "none"]
Wheel = Literal["tool post", "none"]


_CHUCKED_LEAST_MM, _CHUCKED_MM = 10.0, 20.0
"""Length of a straight shank that a drill chuck holds, three diameters between these. Common practice, no source."""
_MORSE_SHANK_MM = {1: 65.5, 2: 80.0, 3: 99.0, 4: 124.0}
"""Length of a drill's Morse shank with its tang. Source: DIN 228 form B, from memory."""


@dataclass(frozen=True, slots=True)
class Dial:
    """A graduated collar: how far the slide moves for one division and for one turn, in mm of travel.

    `reads_diameter` is True where one division stands for twice the travel, as read on the work.
    """

    division_mm: float
    turn_mm: float
    reads_diameter: bool = False


@dataclass(frozen=True, slots=True)
class Drill:
    """A drill: diameter, length of flute and over all in mm, and its shank ("straight", "Morse 2")."""

    diameter_mm: float
    flute_mm: float
    overall_mm: float
    shank: str = "straight"

    @property
    def usable_mm(self) -> float:
        """How deep it goes from one side and still clears its chips: flute less 1.5 diameters.

        Source: table drill_rules, common practice, no source.

        >>> Drill(10.0, 87.0, 133.0).usable_mm
        72.0
        """
        return max(0.0, self.flute_mm - 1.5 * self.diameter_mm)

    @property
    def out_mm(self) -> float:
        """How far it stands out of its chuck or socket: so deep it goes before that meets the work.

        Source: Morse shanks DIN 228 form B from memory; grip of a drill chuck common practice, no source.

        >>> Drill(11.5, 94.0, 142.0).out_mm
        122.0
        """
        taper = next((int(one) for one in self.shank if one.isdigit()), None) if self.shank != "straight" else None
        chucked = min(max(_CHUCKED_LEAST_MM, 3.0 * self.diameter_mm), _CHUCKED_MM)
        held = chucked if taper is None else _MORSE_SHANK_MM.get(taper, self.overall_mm - self.flute_mm)
        return max(0.0, self.overall_mm - held)


@dataclass(frozen=True, slots=True)
class Reamer:
    """A hand or machine reamer: diameter in mm and its class, usually H7."""

    diameter_mm: float
    tolerance_class: str = "H7"


@dataclass(frozen=True, slots=True)
class BoringBar:
    """A boring bar: its diameter, least bore it enters and reach out of its holder in mm, and whether it is carbide."""

    bar_mm: float
    least_bore_mm: float
    reach_mm: float
    carbide: bool = False


@dataclass(frozen=True, slots=True)
class Cutter:
    """A turning tool with its holder; lengths in mm, angles in degrees, seen from above.

    `work` says what it does: "turn", "face", "part", "groove", "thread", "knurl". `approach_deg` is the angle from
    the axis to the leading edge, `trailing_deg` from the finished surface to the trailing edge. `width_mm` is the
    cutting width of a parting or grooving tool, `reach_mm` how deep it goes; both 0 for others. `tip_ahead_mm` is how
    far the tip stands ahead of the shank's end, `tip_beside_mm` beside its flank towards the cut (below zero: inside
    it). Of the holder, as `reckoning.access.Holder` has them and 0 where nobody gave them: `holder_mm` its width along
    the bed, `insert_mm` how far insert and seat reach from the tip towards the tailstock, `out_mm` how far the tip
    stands ahead of the tool post.
    """

    name: str
    work: str
    material: Literal["HSS", "carbide"]
    shank_mm: float
    nose_mm: float = 0.4
    approach_deg: float = 93.0
    trailing_deg: float = 32.0
    tip_ahead_mm: float = 6.0
    tip_beside_mm: float = 4.0
    width_mm: float = 0.0
    reach_mm: float = 0.0
    holder_mm: float = 0.0
    insert_mm: float = 0.0
    out_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class ToolPost:
    """Tool post and top slide in plan, in mm, as `reckoning.access.Holder` has them; 0 leaves a piece out.

    `reach_mm`, `slide_reach_mm`: how far post and slide reach from the tip towards the tailstock. `slide_behind_mm`:
    front of the slide behind the tip; `slide_below_mm`: its top below centre height.
    """

    reach_mm: float = 0.0
    slide_reach_mm: float = 0.0
    slide_behind_mm: float = 0.0
    slide_below_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Sleeve:
    """A taper sleeve: number of the Morse taper outside and inside, and what its bore runs out, in mm."""

    outside_taper: int
    inside_taper: int
    run_out_mm: float


@dataclass(frozen=True, slots=True)
class ShelfBar:
    """A bar on the shelf: diameter in mm, length that is left in mm (None where not known), steel ("" likewise)."""

    diameter_mm: float
    length_mm: float | None = None
    material: str = ""


@dataclass(frozen=True, slots=True)
class Chuck:
    """A chuck: "three-jaw", "four-jaw" or "collet", what it swallows in mm, and the run-out it is known for in mm."""

    kind: str
    most_mm: float
    run_out_mm: float


@dataclass(frozen=True, slots=True)
class Workshop:
    """What stands on the bench. Lengths in mm, speeds in turns a minute; tuples rise.

    `speeds_rpm` holds every step of the gears or, where `has_steps` is False, the two ends of the range.
    `attachment_mm` is the length a taper attachment covers, None without one. `sleeve_run_out_mm` is what socket and
    sleeves add where work is held by its finished taper in the headstock. `post` is None where nobody measured it.
    `set_over_screws` is "two" where two opposed set screws push the tailstock over, "one" where one draws it both ways.
    `tail_centre` is the 60 degree centre in the tailstock; its run-out counts only where it revolves. `furnace_c` is
    the greatest temperature of the furnace in degrees Celsius, None without one, `furnace_mm` the length it takes.
    `bars` are those on the shelf. `taper_method` and the supports are how the user wants tapers cut. `defaults` names
    the fields that nobody gave, `sources` whence each figure comes.
    """

    tailstock_taper: int
    quill_mm: float
    quill_travel_mm: float
    screw_lead_mm: float
    handwheel_mm: float
    centre_height_mm: float
    between_centres_mm: float
    speeds_rpm: tuple[float, ...]
    has_steps: bool
    cross_dial: Dial
    top_dial: Dial
    carriage_dial: Dial | None
    quill_dial: Dial | None
    top_slide_travel_mm: float
    set_over_most_mm: float
    set_over_lead_mm: float
    set_over_screws: Screws
    tail_centre: TailCentre
    tail_centre_run_out_mm: float
    leadscrew: LeadScrew
    leadscrew_pitch_mm: float
    attachment_mm: float | None
    headstock_taper: int
    spindle_bore_mm: float
    sleeve_run_out_mm: float
    chucks: tuple[Chuck, ...]
    steady_most_mm: float | None
    indicator_mm: float
    micrometer_mm: float
    drills: tuple[Drill, ...]
    reamers: tuple[Reamer, ...]
    taps: tuple[str, ...]
    dies: tuple[str, ...]
    cutters: tuple[Cutter, ...]
    boring_bars: tuple[BoringBar, ...]
    milling: Milling
    wheel: Wheel
    furnace_c: float | None
    furnace_mm: float
    sleeves: tuple[Sleeve, ...] = ()
    post: ToolPost | None = None
    bars: tuple[ShelfBar, ...] = ()
    taper_method: TaperMethod = "top slide"
    headstock_support: Support = "60-degree"
    tailstock_support: Support = "ball"
    defaults: frozenset[str] = frozenset()
    sources: Mapping[str, str] = field(default_factory=dict)

    def is_default(self, name: str) -> bool:
        """True for a field that nobody gave."""
        return name in self.defaults
