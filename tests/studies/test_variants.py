"""Batches of flight variants against the same flights one by one."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from plumbing import api
from plumbing.errors import SolveError
from plumbing.network import survey
from plumbing.simulation import flight
from plumbing.studies import variants as batch
from plumbing.studies import variants as variants_module
from plumbing.studies.variants import Fates, Variants, fly_variants

LAYOUTS = Path(__file__).parents[2] / "layouts"
COUNT = 12


@pytest.fixture(scope="module", params=["chained-pair", "teed-pair", "twin"])
def rig(request):
    """A layout with its survey and flight: a chain, a tee, and two engines."""
    layout = api.load(LAYOUTS / f"{request.param}.yaml")
    return layout, survey(layout), flight.profile_for(layout)


def variants_of(layout, count=COUNT):
    """Some variants, the first of them as the layout is."""
    random = np.random.default_rng(4)
    own = [tank.fill for tank in layout.tanks.values()]
    fill = np.array(own) * random.uniform(0.5, 1.0, (count, len(own)))
    flow, celsius = random.uniform(0.7, 1.3, count), random.uniform(-5.0, 35.0, count)
    dirt = random.uniform(1.0, 3.0, count)
    flow[0], dirt[0], celsius[0] = 1.0, 1.0, layout.fuel.temperature.usual
    fill[0] = own
    return Variants(flow, celsius, fill, dirt)


def joined(chunks):
    """All chunks as one."""
    found = list(chunks)
    names = ("endurance", "usable", "stranded", "flame_out", "suction", "met")
    return Fates(*(np.concatenate([getattr(one, name) for one in found]) for name in names))


def with_variant(layout, variants, number):
    """The layout changed as one variant says."""
    tanks = {
        name: replace(tank, fill=float(variants.fill[number, column]))
        for column, (name, tank) in enumerate(layout.tanks.items())
    }
    factor = float(variants.flow[number])
    engines = {
        name: replace(one, full_flow=one.full_flow * factor, idle_flow=one.idle_flow * factor)
        for name, one in layout.engines.items()
    }
    temperature = replace(layout.fuel.temperature, usual=float(variants.celsius[number]))
    fuel = replace(layout.fuel, temperature=temperature)
    return replace(layout, tanks=tanks, engines=engines, fuel=fuel)


@pytest.mark.quick("chained-pair")
def test_each_variant_flies_as_it_does_alone(rig):
    """Endurance, usable and stranded fuel and flame-out are those of a single flight."""
    layout, found, profile = rig
    variants = variants_of(layout, 4)
    fates = joined(fly_variants(layout, found, profile, variants))
    for number in range(len(variants)):
        alone = flight.fly(with_variant(layout, variants, number), found, profile)
        stop = min((t for t in alone.flame_out.values() if t is not None), default=np.inf)
        assert fates.endurance[number] == pytest.approx(alone.endurance, rel=1e-6, abs=0.05)
        assert fates.usable[number] == pytest.approx(alone.usable, rel=1e-4)
        assert fates.stranded[number] == pytest.approx(
            list(alone.stranded.values()), abs=1e-4 * alone.on_board
        )
        assert fates.flame_out[number] == pytest.approx(stop, abs=0.05)


@pytest.mark.quick("chained-pair")
def test_chunks_and_processes_change_nothing(rig, monkeypatch):
    """Chunk by chunk, or in two processes, the same numbers come out in the same order.

    What is stranded may differ by less than a step may err: laws are met to a few mPa, and where
    a step ends can depend on the last digits.
    """
    layout, found, profile = rig
    variants = variants_of(layout)
    whole = joined(fly_variants(layout, found, profile, variants))
    monkeypatch.setattr(batch, "CHUNK", 5)
    for workers in (1, 2):
        parts = joined(fly_variants(layout, found, profile, variants, workers))
        assert parts.endurance == pytest.approx(whole.endurance, rel=1e-6)
        assert parts.stranded == pytest.approx(whole.stranded, rel=1e-4, abs=1e-12)
        assert parts.suction == pytest.approx(whole.suction, rel=1e-6)


@pytest.mark.slow
def test_cold_and_dirt_raise_the_suction():
    """Colder fuel and dirtier filters only raise the suction at the pump; they burn no fuel."""
    layout = api.load(LAYOUTS / "chained-pair.yaml")
    fill = np.repeat([[tank.fill for tank in layout.tanks.values()]], 3, axis=0)
    variants = Variants(np.ones(3), np.array([20.0, -5.0, 20.0]), fill, np.array([1.0, 1.0, 3.0]))
    profile = flight.profile_for(layout)
    fates = joined(fly_variants(layout, survey(layout), profile, variants))
    assert fates.suction[1] > fates.suction[0]
    assert fates.suction[2] > fates.suction[0]
    assert fates.endurance == pytest.approx(fates.endurance[0])


@pytest.mark.parametrize(
    ("name", "value"), [("flow", 0.0), ("flow", np.nan), ("fill", 1.1), ("dirt", 0.5)]
)
@pytest.mark.quick("flow-nan")
def test_impossible_variants_are_refused(name, value):
    """A flow of nothing, a tank more than full and a filter cleaner than clean are refused."""
    layout = api.load(LAYOUTS / "chained-pair.yaml")
    variants = variants_of(layout, 3)
    getattr(variants, name)[1] = value
    with pytest.raises(SolveError, match="variant 2 is out of bounds"):
        next(fly_variants(layout, survey(layout), flight.profile_for(layout), variants))


def test_variants_without_a_state_are_told(monkeypatch):
    """`met` is false for them alone."""
    layout = api.load(LAYOUTS / "single-main.yaml")
    usual = variants_module.march

    def march(*given, **more):
        end = usual(*given, **more)
        ended = replace(end.ended, met=np.arange(len(end.time)) != 1)
        more["see"](replace(end, ended=ended))
        return end

    monkeypatch.setattr(variants_module, "march", march)
    found = joined(
        fly_variants(layout, survey(layout), flight.profile_for(layout), variants_of(layout, 3))
    )
    assert found.met.tolist() == [True, False, True]
