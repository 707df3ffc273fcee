"""Every finding that a revolving centre promises is there, and goes wrong when the job is spoilt for it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.checks import check
from tests.helpers import CENTRE, Worked, centre, worked


def resized(job: Worked, **sizes: float) -> Worked:
    """The same job with some sizes at another nominal: what the rules would never choose."""
    for name, nominal in sizes.items():
        address = name.replace("__", "/")
        job.choices.sizes[address] = replace(job.choices.sizes[address], nominal_mm=nominal)
    tool = job.kind.build(job.choices)
    return Worked(job.kind, job.params, job.choices, tool, check(job.kind, job.choices, tool))


def loosened(job: Worked, address: str, half: float) -> Worked:
    """The same job with one size cut no better than +- `half`."""
    job.choices.sizes[address] = replace(job.choices.sizes[address], upper_mm=half, lower_mm=-half)
    tool = job.kind.build(job.choices)
    return Worked(job.kind, job.params, job.choices, tool, check(job.kind, job.choices, tool))


def plain(**tables):
    return worked(CENTRE, centre(**tables))


def equal(**tables):
    return worked(CENTRE, centre(("6003-2RS", "6003-2RS"), **tables))


PROMISED = {
    "bearing stack against pocket depth": (
        "gap", "stack_in_pocket", plain, lambda: loosened(plain(), "pocket_1/depth", 0.05)),
    "bearing stack against pocket depth, screwed cover": (
        "gap", "stack_in_pocket", lambda: plain(cover={"style": "screwed"}),
        lambda: loosened(plain(cover={"style": "screwed"}), "pocket_1/depth", 0.3)),
    "room for the cover in its recess": (
        "gap", "cover_room", plain, lambda: resized(plain(), body__recess_depth=2.6)),
    "inner rings clamped before anything else touches": (
        "gap", "clamp_2", plain, lambda: resized(plain(), seat_2__reach=23.0)),
    "the same at the front seat": (
        "gap", "clamp_1", plain, lambda: resized(plain(), seat_1__reach=10.5)),
    "screw engagement": (
        "gap", "screw_engagement", plain, lambda: plain(retention={"screw_length": 8})),
    "screw end clearance": (
        "gap", "screw_end", plain, lambda: resized(plain(), tapped_hole__thread=12.0)),
    "turned-down head against through bore": (
        "gap", "head_bore", plain, lambda: resized(plain(), screw__head=10.6)),
    "turned-down head keeps its wall": (
        "head_wall", "screw/head", plain, lambda: plain(body={"through_bore": 6})),
    "the key's reach down it": (
        "gap", "key_reach", plain, lambda: plain(retention={"screw": "M6"}, shank={"length": 110})),
    "barrel back face against the quill's face": (
        "gap", "stand_off", plain, lambda: plain(shank={"stand_off": 0.6})),
    "shank end against the ejector nose (depth)": (
        "gap", "ejection", plain, lambda: plain(socket={"ejector_depth": 95})),
    "its bore against the ejector nose (diameter)": (
        "gap", "ejector_on_shank", plain, lambda: plain(socket={"ejector_nose_diameter": 8})),
    "through bore against small end (wall left)": (
        "shank_wall", "body/through_bore", plain, lambda: plain(body={"through_bore": 16})),
    "through bore against tang (tang not split)": (
        "gap", "tang_whole", lambda: plain(shank={"end": "tang"}, body={"through_bore": 3}),
        lambda: plain(shank={"end": "tang"}, body={"through_bore": 6})),
    "cover clear of the turning inner ring": (
        "gap", "cover_inner_face", plain, lambda: resized(plain(), cover__relief_depth=0.05)),
    "cover clear of its land": (
        "gap", "cover_land", plain, lambda: resized(plain(), cover__relief=20.5)),
    "pocket floor clear of the turning inner ring and its land": (
        "gap", "floor_land", equal, lambda: equal(body={"floor_recess_diameter": 20})),
    "pocket floor under the outer ring": (
        "gap", "floor_bears", equal, lambda: equal(body={"floor_recess_diameter": 34})),
    "clamp washer clear of the floor recess": (
        "gap", "washer_recess", plain, lambda: plain(body={"floor_recess_diameter": 14})),
    "second contacts (over-constraint)": (
        "gap", "second_contact_2", equal, lambda: loosened(equal(), "spacer_1/length", 0.3)),
    "second contact behind the last ring": (
        "gap", "float_2", plain, lambda: resized(plain(), pocket_2__depth=22.5)),
    "rings of nominal width replaced by measured ones": (
        "measure", "ring_1", plain, None),
    "the clearance that results": (
        "access", "body", plain, lambda: plain(spindle={"overhang": 8})),
    "lever factor at the front ring": (
        "lever", "stack", plain, lambda: plain(spindle={"overhang": 60}, body={"barrel_length": 36})),
    "point beyond the centre hole": (
        "point", "spindle/point", plain, lambda: plain(passes={"centre_hole": 20})),
    "only the flanks touch": (
        "flank", "spindle/tip", plain, lambda: plain(spindle={"tip": 7})),
    "collar on the ring's face": (
        "collar", "spindle/collar", plain, lambda: plain(spindle={"collar_diameter": 26})),
    "wall round the pocket": (
        "pocket_wall", "body/pocket_1", plain, lambda: plain(body={"barrel_diameter": 40})),
    "wall of the body": (
        "wall", "body", plain, lambda: plain(body={"barrel_diameter": 39})),
    "flats over the pocket": (
        "flats_wall", "body/spanner_flats", plain, lambda: plain(body={"flats_across": 20})),
    "flats that miss the barrel": (
        "cut", "body/spanner_flats", None, lambda: plain(body={"flats_across": 60})),
    "floor of the barrel": (
        "floor_wall", "body/recess_bottom", plain, lambda: worked(
            CENTRE, centre(("6003-2RS", {"spacer": 4.5}, "6001-2RS"), body={"barrel_length": 33}))),
    "bar on the shelf": (
        "bar", "body", lambda: plain(bar={"diameter": 45}), lambda: plain(bar={"diameter": 42})),
    "snap ring within its groove": (
        "gap", "snap_groove", lambda: plain(cover={"style": "snap ring"}),
        lambda: resized(plain(cover={"style": "snap ring"}), snap__width=0.9)),
    "nut on its thread": (
        "gap", "nut_on_thread", lambda: plain(retention={"style": "nut"}),
        lambda: resized(plain(retention={"style": "nut"}), spindle__stud_length=5.0)),
    "circlip against its groove": (
        "gap", "clip_play", lambda: plain(retention={"style": "circlip"}),
        lambda: loosened(plain(retention={"style": "circlip"}), "shim/thickness", 0.2)),
}  # fmt: skip


@pytest.mark.parametrize("phrase", [phrase for phrase, row in PROMISED.items() if row[2] is not None])
def test_a_promised_finding_is_there_and_at_rest(phrase):
    code, address, sound, _ = PROMISED[phrase]
    found = sound().one(code, address)
    assert found.severity == "note"
    assert found.limit
    if code == "gap":
        assert found.worst_low is not None
        assert found.worst_low <= found.worst_high


@pytest.mark.parametrize("phrase", [phrase for phrase, row in PROMISED.items() if row[3] is not None])
def test_a_promised_finding_goes_wrong_when_spoilt(phrase):
    code, address, _, spoil = PROMISED[phrase]
    found = spoil().one(code, address)
    assert found.severity in ("stop", "warn")
    assert found.miss > 0.0
    assert found.advice


def test_every_gap_finding_names_its_contributors():
    for found in plain().findings:
        if found.code == "gap":
            assert found.contributors, found.address
