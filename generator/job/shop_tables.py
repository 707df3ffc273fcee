"""The tables of a shop file: the lathe, its dials, what lies in the drawers and on the shelf.

Everything may be left out. A list that is given stands for all there is of its kind; an empty one says there is none.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from generator.job.shop_beside import Beside, leadscrew_whole
from generator.job.shop_kinds import (
    Approach,
    Attachment,
    Away,
    BarLength,
    BarSize,
    BedLength,
    Capacity,
    CentreHeight,
    ChuckRunOut,
    Division,
    DivisionOrNone,
    InsertWidth,
    Lead,
    LeastBore,
    MorseName,
    Nose,
    OutOfPost,
    Plunge,
    QuillLength,
    QuillSize,
    Resolution,
    RingCorner,
    RingSize,
    RunOut,
    SetOver,
    ShankName,
    ShankSize,
    Speeds,
    SpindleBore,
    Steady,
    ThreadName,
    TipAhead,
    TipBeside,
    ToolLength,
    ToolSize,
    Trailing,
    TurnOfCarriage,
    WheelSize,
    Width,
    refuse,
)
from generator.making.usual import SLEEVE_RUN_OUT_MM
from generator.making.workshop import LeadScrew, Screws, TailCentre
from generator.parameters.bounds import HolderWidth
from generator.parameters.fields import ForceN, JobModel, SheetWords, Word
from generator.parameters.making import Making

__all__ = [
    "Beside", "BoringTool", "ChuckRow", "CutterRow", "Dials", "DrawerRing", "DrillRow", "Headstock", "Machine",
    "Measuring", "Post", "ReamerRow", "ShelfRow", "Shop", "SleeveRow", "Threads",
]


class Machine(JobModel):
    """The lathe and its tailstock."""

    name: Word | None = Field(None, description="which lathe")
    taper: MorseName | None = Field(None, description='taper of the tailstock quill, "Morse 0" to "Morse 6"')
    ejector_depth: QuillLength | None = Field(
        None, description="quill face to screw nose, quill wound right in"
    )
    ejector_nose_diameter: QuillSize | None = Field(None, description="diameter of the screw nose")
    quill_face_diameter: QuillSize | None = Field(None, description="outside diameter of the quill")
    quill_travel: QuillLength | None = Field(None, description="travel of the quill")
    screw_lead: Lead | None = Field(
        None, description="lead of the tailstock screw: travel of the quill in one turn of the handwheel"
    )
    handwheel_diameter: WheelSize | None = Field(
        None, description="diameter on which the tailstock handwheel is pulled"
    )
    centre_height: CentreHeight | None = Field(
        None, description="spindle axis above the bed, half of the swing"
    )
    between_centres: BedLength | None = Field(None, description="longest work between centres")
    speeds: Speeds | None = Field(
        None, description='spindle speeds: every step as a list, or "50 to 1100" where there are none'
    )
    top_slide_travel: QuillLength | None = Field(None, description="travel of the top slide")
    set_over: SetOver | None = Field(
        None, description='how far the tailstock goes over to each side; "none" where it cannot'
    )
    set_over_lead: Lead | None = Field(
        None, description="lead of the set-over screw: how far one turn of it moves the tailstock across"
    )
    set_over_screws: Screws | None = Field(
        None, description='"two" where two opposed set screws push it over, "one" where one screw draws it both ways'
    )
    tail_centre: TailCentre | None = Field(
        None, description='60 degree centre in the tailstock, "dead" (stands still, greased) or "revolving"'
    )
    tail_centre_runout: RunOut | None = Field(
        None, description="greatest run-out of a revolving centre, indicator on its point"
    )
    leadscrew: LeadScrew | None = Field(None, description='pitch of the leadscrew, "metric" or "inch"')
    leadscrew_pitch: Lead | None = Field(
        None, description='pitch of the leadscrew; 8 threads an inch are "0.125 in"'
    )
    taper_attachment: Attachment | None = Field(
        None, description='length that the taper attachment covers; "none" without one'
    )
    steady: Steady | None = Field(
        None, description='thickest work in the fixed steady; "none" without one'
    )

    @model_validator(mode="after")
    def _screw(self) -> Machine:
        """A pitch is known together with its system, and agrees with it."""
        leadscrew_whole(self.leadscrew, self.leadscrew_pitch)
        return self


class Dials(JobModel):
    """The dials. Measure a whole turn with an indicator and count the divisions on the collar."""

    cross_division: Division | None = Field(
        None, description="cross slide: what one division is marked"
    )
    cross_turn: Lead | None = Field(None, description="cross slide: its travel in one turn")
    cross_reads: Literal["radius", "diameter"] | None = Field(
        None, description='cross slide: what its marks tell, "radius" (its travel) or "diameter" (twice its travel)'
    )
    top_division: Division | None = Field(None, description="top slide: travel in one division")
    top_turn: Lead | None = Field(None, description="top slide: travel in one turn")
    carriage_division: DivisionOrNone | None = Field(
        None, description='carriage: travel in one division; "none" where it has no dial'
    )
    carriage_turn: TurnOfCarriage | None = Field(None, description="carriage: travel in one turn")
    quill_division: DivisionOrNone | None = Field(
        None, description='quill: travel in one division; "none" where it has no dial; a turn is machine.screw_lead'
    )

    @model_validator(mode="after")
    def _whole(self) -> Dials:
        """A dial is known by its division and its turn together, of which the one goes into the other."""
        for name in ("cross", "top", "carriage"):
            division, turn = getattr(self, f"{name}_division"), getattr(self, f"{name}_turn")
            has_none = name == "carriage" and division == 0.0
            if (division is None) != (turn is None) and not has_none:
                missing = f"{name}_{'division' if division is None else 'turn'}"
                refuse(f"a dial needs division and turn; {missing} is missing", "", f"give {missing}")
            if division and turn:
                reads = self.cross_reads == "diameter" and name == "cross"
                divides(name, division / 2.0 if reads else division, turn)
        if (self.cross_division is None) != (self.cross_reads is None):
            missing = "cross_reads" if self.cross_reads is None else "cross_division and cross_turn"
            rule = f"a dial that reads radius or diameter is known only with its divisions; {missing} is missing"
            refuse(rule, "", "move it ten divisions against an indicator, and give what it reads")
        return self


def divides(name: str, division_mm: float, turn_mm: float) -> None:
    """Nothing where a turn holds a whole number of divisions, 5 to 1000 of them; else ValueError."""
    count = turn_mm / division_mm
    if 5 <= round(count) <= 1000 and abs(count - round(count)) <= 0.02:
        return
    rule = f"a turn of the {name} dial holds a whole number of divisions, 5 to 1000"
    cure = "count them on the collar: the division is the travel of a turn over their number"
    refuse(rule, f"{count:.4g} of {division_mm:g} mm in {turn_mm:g} mm", cure)


class Headstock(JobModel):
    """The spindle."""

    taper: MorseName | None = Field(None, description='taper of the spindle, "Morse 3" to "Morse 6" as a rule')
    bore: SpindleBore | None = Field(None, description="through bore of the spindle")
    runout: RunOut | None = Field(
        None, description="what its taper runs out, indicator in the cleaned socket"
    )


class SleeveRow(JobModel):
    """A taper sleeve; by sleeves work is held by its finished taper in the headstock."""

    outside: MorseName = Field(description="its outside taper")
    inside: MorseName = Field(description="its inside taper")
    runout: RunOut = Field(SLEEVE_RUN_OUT_MM, description="what its bore runs out")

    @model_validator(mode="after")
    def _smaller(self) -> SleeveRow:
        """A sleeve is larger outside than inside."""
        if self.inside >= self.outside:
            value = f"{self.inside} in {self.outside}"
            refuse("a sleeve is larger outside than inside", value, "change them over")
        return self


class ChuckRow(JobModel):
    """A chuck or collet holder."""

    kind: Literal["three-jaw", "four-jaw", "collet"] = Field(description='"three-jaw", "four-jaw" or "collet"')
    most: Capacity = Field(description="thickest work that goes into its jaws")
    runout: ChuckRunOut = Field(
        description="what work in it runs out; of a four-jaw, what it can be set to"
    )


class Measuring(JobModel):
    """Indicator and micrometer."""

    indicator: Resolution | None = Field(None, description="one division of the indicator")
    micrometer: Resolution | None = Field(None, description="one division of the micrometer")


class DrillRow(JobModel):
    """Drills of one make. Lengths that are left out are those of the standard: DIN 338, above 13 mm DIN 345."""

    sizes: list[ToolSize] = Field(
        min_length=1, max_length=300, description="diameters; strike out what is not there"
    )
    flute: ToolLength | None = Field(None, description="length of flute, where it is not the standard's")
    overall: ToolLength | None = Field(None, description="length over all, likewise")
    shank: ShankName | None = Field(None, description='"straight", or a taper such as "Morse 2"')

    @model_validator(mode="after")
    def _inside(self) -> DrillRow:
        """The flute is shorter than the drill, and both are given or neither."""
        if (self.flute is None) != (self.overall is None):
            missing = "flute" if self.flute is None else "overall"
            refuse(f"flute and overall stand together; {missing} is missing", "", f"give {missing}")
        if self.flute is not None and self.overall is not None and self.flute >= self.overall:
            rule, value = "the flute is shorter than the drill", f"{self.flute:g} of {self.overall:g} mm"
            refuse(rule, value, "measure again")
        return self


class ReamerRow(JobModel):
    """Reamers of one class."""

    sizes: list[ToolSize] = Field(min_length=1, max_length=300, description="diameters")
    tolerance_class: Literal["H6", "H7", "H8", "H9"] = Field("H7", description="what they cut: H6, H7, H8 or H9")


class Threads(JobModel):
    """Taps and dies."""

    taps: list[ThreadName] | None = Field(None, max_length=200, description="threads for which there are taps")
    dies: list[ThreadName] | None = Field(None, max_length=200, description="threads for which there are dies")


class CutterRow(JobModel):
    """A turning tool in its holder, seen from above."""

    name: Word = Field(description="what you call it")
    work: Literal["turn", "face", "part", "groove", "thread", "knurl"] = Field(
        description='"turn", "face", "part", "groove", "thread" or "knurl"'
    )
    material: Literal["HSS", "carbide"] = Field("HSS", description='"HSS" or "carbide"')
    shank: ShankSize = Field(description="height of the shank")
    nose: Nose = Field(0.4, description="radius of the nose")
    approach: Approach = Field(93.0, description="degrees from the axis to the leading edge")
    trailing: Trailing = Field(32.0, description="degrees from the turned surface to the trailing edge")
    tip_ahead: TipAhead = Field(6.0, description="tip ahead of the holder's front")
    tip_beside: TipBeside = Field(
        4.0, description="tip beside the holder's headstock flank; below zero: inside it"
    )
    width: Width | None = Field(None, description="cutting width, of a parting or grooving tool")
    reach: Plunge | None = Field(None, description="how deep it goes, likewise")
    holder_width: HolderWidth | None = Field(
        None, description="width of the holder along the bed; otherwise that of the shank"
    )
    insert_width: InsertWidth | None = Field(
        None, description="insert and seat, from the tip towards the tailstock; otherwise by the trailing angle"
    )
    out: OutOfPost | None = Field(
        None, description="tip ahead of the tool post; otherwise one and a half shanks"
    )

    @model_validator(mode="after")
    def _deep(self) -> CutterRow:
        """A tool that plunges has a width and a reach."""
        missing = [key for key in ("width", "reach") if getattr(self, key) is None]
        if self.work in ("part", "groove") and missing:
            rule = f"a tool that will {self.work} needs its cutting width and how deep it goes"
            refuse(rule, f"{' and '.join(missing)} missing", f"give {' and '.join(missing)}")
        ahead = max(self.tip_ahead, self.reach or 0.0)
        if self.out is not None and self.out <= ahead:
            rule = "the tip stands further ahead of the tool post than of its holder, and than it plunges"
            refuse(rule, f"out {self.out:g} mm, the other {ahead:g} mm", "measure from the post to the tip")
        return self


class Post(JobModel):
    """Tool post and top slide in plan, for what they meet at the tailstock. What is left out is not in the way."""

    reach: Away | None = Field(
        None, description="how far the tool post reaches from the tip towards the tailstock"
    )
    slide_reach: Away | None = Field(
        None, description="how far the top slide reaches from the tip towards the tailstock"
    )
    slide_behind: Away | None = Field(None, description="front of the top slide behind the tip")
    slide_below: Away | None = Field(
        None, description="top of the top slide below centre height"
    )


class BoringTool(JobModel):
    """A boring bar."""

    bar: ToolSize = Field(description="diameter of the bar")
    least_bore: LeastBore = Field(description="least bore that it enters")
    reach: ToolLength = Field(description="how far it may stand out of its holder: 4 bars in steel")
    carbide: bool = Field(default=False, description="true where the bar itself is carbide")

    @model_validator(mode="after")
    def _enters(self) -> BoringTool:
        """A bar is slimmer than the least bore that it enters; a stub with a cranked head is not, by a little."""
        if self.bar > 2.0 * self.least_bore:
            rule, value = "a bar enters no bore of half its own size", f"{self.bar:g} mm in {self.least_bore:g} mm"
            refuse(rule, value, "measure the bar and the least bore")
        return self


class ShelfRow(JobModel):
    """A bar on the shelf."""

    diameter: BarSize = Field(description="diameter by micrometer or as ordered")
    length: BarLength | None = Field(None, description="length that is left")
    material: Word | None = Field(None, description="steel, if known")


class DrawerRing(JobModel):
    """A bearing in the drawer: readings of a known one, or one of no table with all its sizes."""

    ring: Word = Field(description="designation of the bearing, with suffixes, or a name of your own")
    bore: RingSize | None = Field(None, description="bore of a bearing that no table has")
    outside: RingSize | None = Field(None, description="its outside diameter")
    width: RingSize | None = Field(None, description="its width")
    chamfer: RingCorner | None = Field(None, description="its corner chamfer")
    inner_land: RingSize | None = Field(None, description="outside diameter of its inner ring, by caliper")
    outer_land: RingSize | None = Field(None, description="inside diameter of its outer ring, by caliper")
    dynamic_capacity: ForceN | None = Field(None, description="C as its maker states it")
    static_capacity: ForceN | None = Field(None, description="C0 as its maker states it")
    measured_width: RingSize | None = Field(None, description="width by micrometer")
    measured_bore: RingSize | None = Field(None, description="bore by gauge")
    measured_outside: RingSize | None = Field(None, description="outside diameter by micrometer")

    @model_validator(mode="after")
    def _whole(self) -> DrawerRing:
        """A bearing of no table needs all three sizes, of which the outside must leave room for balls."""
        sizes = (self.bore, self.outside, self.width)
        if any(size is not None for size in sizes) and None in sizes:
            refuse("a bearing of no table needs bore, outside and width", "one is missing", "measure all three")
        if self.bore is not None and self.outside is not None and self.outside < self.bore + 4.0:
            rule, value = "outside must leave room for balls round the bore", f"{self.outside:g} round {self.bore:g} mm"
            refuse(rule, value, "measure outside diameter and bore again")
        return self


class Shop(JobModel):
    """A shop file."""

    units: Literal["mm", "in"] = Field(default="mm", description='unit of bare numbers, "mm" or "in"')
    machine: Machine = Field(default_factory=lambda: Machine())
    dials: Dials = Field(default_factory=lambda: Dials())
    headstock: Headstock = Field(default_factory=lambda: Headstock())
    measuring: Measuring = Field(default_factory=lambda: Measuring())
    making: Making = Field(default_factory=lambda: Making())
    threads: Threads = Field(default_factory=lambda: Threads())
    beside: Beside = Field(default_factory=lambda: Beside())
    post: Post = Field(default_factory=lambda: Post())
    sheet: SheetWords = Field(default_factory=lambda: SheetWords())
    sleeve: list[SleeveRow] | None = Field(None, max_length=50, description="taper sleeves")
    chuck: list[ChuckRow] | None = Field(None, max_length=50, description="chucks and collets")
    drill: list[DrillRow] | None = Field(None, max_length=300, description="drills")
    reamer: list[ReamerRow] | None = Field(None, max_length=100, description="reamers")
    cutter: list[CutterRow] | None = Field(None, max_length=200, description="turning tools")
    boring_bar: list[BoringTool] | None = Field(None, max_length=100, description="boring bars")
    bar: list[ShelfRow] = Field(default_factory=list, max_length=200, description="bars on the shelf")
    ring: list[DrawerRing] = Field(default_factory=list, max_length=500, description="bearings in the drawer")

    @model_validator(mode="after")
    def _quill_dial(self) -> Shop:
        """The dial of the quill tells travel only with the lead of its screw."""
        division, lead = self.dials.quill_division, self.machine.screw_lead
        if division and lead is None:
            rule = "dials.quill_division is known only with the travel of a turn; machine.screw_lead is missing"
            refuse(rule, "", "give screw_lead in [machine]")
        if division and lead is not None:
            divides("quill", division, lead)
        return self
