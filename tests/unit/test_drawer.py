"""Measured bearings of the shop's drawer reach the plan's page of rescues and the reading of the inspection table."""

from __future__ import annotations

from generator.checks import chains
from generator.job.design import work_out
from generator.job.reader import find_job, read_job
from generator.job.shop import read_shop
from generator.job.workshop import drawer_of
from generator.making.rescue import ladders

SHOP = """\
[[ring]]
ring = "6203"
measured_outside = 40.002

[[ring]]
ring = "6003-2RS"
measured_outside = 35.02
"""


def test_a_measured_bearing_of_the_drawer_is_offered_where_it_fits():
    job = read_job(find_job("demo"), shop=read_shop(SHOP))
    assert drawer_of(job) == (("6203", 40.002), ("6003-2RS", 35.02))
    tool = work_out(job).tool
    found = {one.address: one for one in ladders(tool, tuple(chains(tool).values()), drawer_of(job))}
    ways = [way for rung in found["body/pocket_1/diameter"].rungs for way in rung.ways]
    assert any("6003-2RS from the drawer measures 35.020 mm" in way for way in ways)
    assert not any("6203 from the drawer" in way for way in ways)


def test_without_a_shop_the_drawer_is_empty():
    assert drawer_of(read_job(find_job("demo"))) == ()
