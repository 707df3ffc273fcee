"""The calculation `set-over`: how far, which way, what to measure, and what a changed support would spoil."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, cast

from generator.reckoning import set_over as s
from generator.reckoning import taper as t
from generator.reckoning.registry import Input, Outcome, Output, Reckoning, refuse

__all__ = ["RECKONING", "taper_of"]

CAUTION = (
    "Caution: set over, the work swings on its points and its carrier moves in and out with every turn. Turn it round "
    "by hand first, lock tailstock and quill, guard the carrier, cut lightly, grease a dead point again between cuts, "
    "and set the tailstock back and prove it parallel before the next job."
)


def taper_of(given: Mapping[str, Any], name: str = "taper") -> tuple[float, tuple[str, ...]]:
    """The taper ratio from a Morse size, a ratio, an angle, or two diameters and their distance; its source.

    Source: ISO 296 for Morse sizes; ISO 3040.
    """
    if given["taper"] is not None:
        from generator.reckoning.grip import morse_of

        morse = morse_of(given["taper"])
        return 1 / morse.ratio, (morse.source,)
    if given["ratio"] is not None:
        return given["ratio"], ()
    if given["one_in"] is not None:
        return 1 / given["one_in"], ()
    if given["half_angle"] is not None:
        return t.taper_of_half_angle(given["half_angle"]), ()
    missing = [key for key in ("large", "small", "length") if given[key] is None]
    if missing:
        cure = 'give taper="Morse 3"; or ratio, one_in or half_angle; or large, small and length'
        refuse(name, "the taper is not known", "", cure)
    if given["large"] <= given["small"]:
        refuse(name, "large must be more than small", f"{given['large']:g} and {given['small']:g} mm", "swap them")
    return t.taper_between(given["large"], given["small"], given["length"]), ()


TAPER_INPUTS = (
    Input("taper", 'Morse taper, such as "Morse 3"', "text"),
    Input("ratio", "diameter gained for each unit of length", "taper", "mm/mm", above=0, most=2),
    Input("one_in", "length in which the diameter changes by one: 20 for a taper of 1:20", "number", least=0.5),
    Input("half_angle", "half angle", "angle", "deg", above=0, most=45),
    Input("large", "large diameter", "length", "mm", above=0),
    Input("small", "small diameter", "length", "mm", above=0),
    Input("length", "length of the taper between them, along the axis", "length", "mm", above=0),
)


def _support(given: Mapping[str, Any], end: str, changed: str = "") -> s.Support:
    form = given[changed] if changed and given[changed] is not None else given[end]
    mouth, pilot, ball = (given[f"{end}_{what}"] for what in ("mouth", "pilot", "ball"))
    pilot = pilot if pilot is not None else mouth / 2.12
    if form == "ball" and ball is None:
        # Bears half-way between pilot and mouth, where neither rim is near.
        ball = (mouth + pilot) / 2 / t.ball_contact_diameter_mm(1.0)
    return s.Support(cast("s.Form", form), mouth, pilot, ball or 0.0)


def _work(given: Mapping[str, Any]) -> Outcome:
    taper, sources = taper_of(given, "set-over")
    head, tail = _support(given, "headstock"), _support(given, "tailstock")
    band = s.band_mm(given["faced"], head, tail)
    amount = t.set_over_mm(band.likely_mm, taper)
    values: dict[str, Any] = {
        "ratio": taper, "half_angle": t.half_angle_deg(taper), "effective_length": band.likely_mm,
        "effective_length_least": band.least_mm, "set_over": amount,
        "set_over_least": t.set_over_mm(band.least_mm, taper),
        "set_over_textbook": given["faced"] * taper / 2, "share": s.share_of_length(amount, band.likely_mm),
        "move": s.direction(small_end_at_tailstock=given["small_end"] == "tailstock"),
    }
    values |= _balls(given)
    over = given["check_over"] or (given["length"] if given["length"] is not None else 50.0)
    values |= {
        "check_over": over, "check_difference": taper * over,
        "error_by_faced_length": s.supported_diameter_error_mm(taper, band.likely_mm, given["faced"], over),
    }
    large = given["large"]
    if large is not None:
        check = s.check_diameters(large, taper, 0.0, over)
        values |= {"check_large": check.near_mm, "check_small": check.far_mm}
    notes = [CAUTION]
    if given["changed_to"] is not None:
        new = s.support_length_mm(given["faced"], head, _support(given, "tailstock", "changed_to"))
        values |= {
            "effective_length_changed": new, "set_over_changed": t.set_over_mm(new, taper),
            "change_error": s.change_error_mm(taper, band.likely_mm, new, over),
        }
    values |= _indicator(given, amount, taper)
    if given["screw_lead"] is not None:
        values["screw_turns"], values["screw_rest"] = s.screw_turns(amount, given["screw_lead"])
    if given["found_difference"] is not None:
        values["set_over_next"] = t.scaled_set_over_mm(
            given["set_over_now"] or amount, values["check_difference"], given["found_difference"]
        )
    if "point" in (head.form, tail.form) and values["share"] > s.MUCH_SHARE:
        notes.append(
            "Over 2 % of the length a 60 degree point bell-mouths its hole and heats; every Morse taper does: balls, "
            "light cuts and fresh grease are advised (common practice, no source)."
        )
    return Outcome(values, sources, tuple(notes))


def _balls(given: Mapping[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for end in ("headstock", "tailstock"):
        if given[end] == "ball" or (end == "tailstock" and given["changed_to"] == "ball"):
            ball = _support(given, end, "changed_to" if end == "tailstock" and given[end] != "ball" else "")
            found |= {f"{end}_ball_used": ball.ball_mm, f"{end}_ball_largest": t.largest_ball_mm(ball.mouth_mm)}
    return found


def _indicator(given: Mapping[str, Any], amount: float, taper: float) -> dict[str, Any]:
    """Setting by a finished taper between the same centres."""
    if given["finished_length"] is None:
        return {}
    length, travel = given["finished_length"], given["travel"]
    own = 1 / given["finished_one_in"] if given["finished_one_in"] is not None else taper
    found = {
        "indicator_rise": s.indicator_rise_mm(amount, length, own, travel),
        "set_over_of_finished": t.set_over_mm(length, own),
    }
    if given["rise_found"] is not None:
        there = s.set_over_of_indicator_mm(given["rise_found"], travel, length, own)
        found |= {"set_over_there": there, "move_further": amount - there}
    return found


_FORMS = ("point", "ball")

RECKONING = Reckoning(
    name="set-over",
    summary="set-over of the tailstock with balls or points, its direction, checks, setting by a finished taper",
    inputs=(
        *TAPER_INPUTS,
        Input("faced", "whole length of the work between its faces", "length", "mm", required=True, above=0),
        Input("headstock", "support at the headstock", "choice", default="point", choices=_FORMS),
        Input("headstock_mouth", "mouth of the centre hole there", "length", "mm", default=5.3, above=0),
        Input("headstock_pilot", "its pilot; mouth / 2.12 without it", "length", "mm", above=0),
        Input("headstock_ball", "ball there; one as large as the mouth without it", "length", "mm", above=0),
        Input("tailstock", "support at the tailstock", "choice", default="point", choices=_FORMS),
        Input("tailstock_mouth", "mouth of the centre hole there", "length", "mm", default=5.3, above=0),
        Input("tailstock_pilot", "its pilot; mouth / 2.12 without it", "length", "mm", above=0),
        Input("tailstock_ball", "ball there; one as large as the mouth without it", "length", "mm", above=0),
        Input("small_end", "where the small end lies", "choice", default="tailstock",
              choices=("tailstock", "headstock")),
        Input("changed_to", "support at the tailstock changed half-way to this", "choice", choices=_FORMS),
        Input("check_over", "distance between two measuring places; the taper's length, or 50, without it", "length",
              "mm", above=0),
        Input("screw_lead", "lead of the set-over screw: travel of the tailstock in one turn", "length", "mm", above=0),
        Input("found_difference", "difference of diameters found there after a cut", "length", "mm", above=0),
        Input("set_over_now", "set-over with which it was cut; the reckoned one without it", "length", "mm", above=0),
        Input("finished_length", "finished taper between the same centres: its length between pivots", "length", "mm",
              above=0),
        Input("finished_one_in", "its taper as 1 in so much; that of the work without it", "number", least=0.5),
        Input("travel", "travel of the carriage along it", "length", "mm", default=50.0, above=0),
        Input("rise_found", "rise of the indicator over that travel, towards the tailstock", "length", "mm"),
    ),
    outputs=(
        Output("ratio", "mm/mm", "diameter gained for each unit of length"),
        Output("half_angle", "deg", "half angle"),
        Output("effective_length", "mm", "length between the pivots"),
        Output("effective_length_least", "mm", "the same with worn holes, apex to apex at a point"),
        Output("set_over", "mm", "set-over"),
        Output("set_over_least", "mm", "set-over for worn holes: begin here and metal is left"),
        Output("set_over_textbook", "mm", "textbook form with the length between faces"),
        Output("share", "", "set-over over length"),
        Output("move", "", "which way the tailstock goes"),
        Output("headstock_ball_used", "mm", "ball reckoned with at the headstock"),
        Output("headstock_ball_largest", "mm", "largest ball for that hole"),
        Output("tailstock_ball_used", "mm", "ball reckoned with at the tailstock"),
        Output("tailstock_ball_largest", "mm", "largest ball for that hole"),
        Output("screw_turns", "", "whole turns of the set-over screw"),
        Output("screw_rest", "deg", "and what is left of a turn"),
        Output("check_over", "mm", "distance between two measuring places"),
        Output("check_difference", "mm", "difference of diameters there"),
        Output("check_large", "mm", "diameter at the large end"),
        Output("check_small", "mm", "diameter that far from it"),
        Output("error_by_faced_length", "mm", "how much too large the difference gets with the faced length"),
        Output("effective_length_changed", "mm", "length between the pivots after the change"),
        Output("set_over_changed", "mm", "set-over wanted after the change"),
        Output("change_error", "mm", "how much too large the difference gets if it is not set again"),
        Output("set_over_next", "mm", "set-over for the next cut"),
        Output("indicator_rise", "mm", "rise wanted along the finished taper, towards the tailstock"),
        Output("set_over_of_finished", "mm", "set-over at which it reads level"),
        Output("set_over_there", "mm", "set-over that is there, from the rise found"),
        Output("move_further", "mm", "how much further to move"),
    ),
    work=_work,
    source=(
        "geometry: length between pivots x sin(half angle); textbook form in F. D. Jones, Turning and Boring; apex "
        "rule: Turning and boring tapers, 1902"
    ),
    validity="Work between centres, tool on centre height in front. Measure at two places and correct after a cut.",
    example={"taper": "Morse 3", "faced": "300 mm", "headstock": "ball", "tailstock": "point"},
)
