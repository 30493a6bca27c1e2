"""What is missing and has a usual value is assumed, and said."""

import pytest
from layout_samples import DEMOS, right

from plumbing import quantities, units
from plumbing.layout import load
from plumbing.layout.forms import fields_of
from plumbing.layout.reader import CONVENTIONS
from plumbing.layout.reference import _classes
from plumbing.physics.fuel import liquid

RULE = "30 to 50 ml/min per kgf covers engines tested independently over seven years, as posted"
KNOWN = (
    "44 N: 145 ml/min as measured and posted; 157 N: 450 g/min in a published table, at 0.80 kg/L"
)


def assumed(layout):
    """Assumptions of a layout by path."""
    return {one.what: one for one in layout.assumptions}


def test_each_once():
    """No assumption is listed twice."""
    layout = right()
    assert len(assumed(layout)) == len(layout.assumptions)


def test_usual_values():
    """Usual values are listed as they would stand in the file, with their source."""
    found = assumed(right())
    assert found["tanks.main.fill"].value == "98 %"
    assert found["fuel.oil"].value == "5 %"
    assert found["aircraft.load-factors.positive"].source == "common practice"
    assert "tanks.main.fill" not in assumed(right(("    ports:", "    fill: 95 %\n    ports:")))


def test_conventions_are_not_listed():
    """How a file is read is no assumption about an aircraft."""
    tank = [path for path in assumed(right()) if path.startswith(("tanks.", "flights."))]
    assert not [path for path in tank if path.endswith((".roll", ".pitch", ".foam", ".role"))]


def test_usual_texts_are_the_defaults():
    """Every usual value, read as the file would be, is the value the model takes."""
    for cls in _classes():
        for field in fields_of(cls).values():
            if field.usual and isinstance(field.default, float):
                value = quantities.parse(field.usual.text, field.form.quantity.kind)
                assert value == pytest.approx(field.default), (cls, field.name)
            elif field.usual and isinstance(field.default, bool):
                assert {"yes": True, "no": False}[field.usual.text] is field.default


def test_conventions_are_used():
    """Every convention is one of the model's own."""
    sources = {f.usual.source for c in _classes() for f in fields_of(c).values() if f.usual}
    assert sources > CONVENTIONS


@pytest.mark.outside(RULE, quantity="fuel flow by thrust")
@pytest.mark.parametrize("thrust", [20, 45, 60, 100, 120, 160, 200, 230, 300])
def test_flow_from_thrust(thrust):
    """Assumed fuel flow lies in the published range for small turbines."""
    layout = right(("thrust: 60 N", f"thrust: {thrust} N"))
    flow = layout.engines["engine"].full_flow
    assert flow is not None
    per_kgf = flow * 6e7 / (thrust / 9.80665)
    assert 30.0 <= per_kgf <= 50.0


@pytest.mark.outside(KNOWN, quantity="fuel flow of two engines")
@pytest.mark.parametrize(("thrust", "flow"), [(44.0, 145.0), (157.0, 450.0 / 0.80)])
def test_flow_of_known_engines(thrust, flow):
    """The rule meets known engines within its stated 12 %."""
    found = right(("thrust: 60 N", f"thrust: {thrust} N")).engines["engine"].full_flow
    assert found is not None
    assert found * 6e7 == pytest.approx(flow, rel=0.15)


def test_engine_is_complete():
    """After reading, an engine has flows and pressures, and says which were assumed."""
    layout = right()
    engine = layout.engines["engine"]
    assert engine.idle_flow == pytest.approx(0.15 * engine.full_flow)
    assert engine.feed_pressure_full == 400e3
    assert assumed(layout)["engines.engine.full-flow"].value == "220 ml/min"
    stated = right(("thrust: 60 N", "thrust: 60 N, full-flow: 230 ml/min, idle-flow: 30 ml/min"))
    assert "engines.engine.full-flow" not in assumed(stated)
    assert stated.engines["engine"].full_flow == pytest.approx(230e-6 / 60)


def test_fuel_is_complete():
    """After reading, fuel and oil have a density and two viscosities."""
    layout = right()
    kerosene = liquid("kerosene")
    assert layout.fuel.density_15 == kerosene.density_15
    assert [point.value for point in layout.fuel.viscosity] == [kerosene.nu_cold, kerosene.nu_warm]
    assert layout.fuel.oil_density == liquid("turbine-oil").density_15
    assert assumed(layout)["fuel.viscosity"].source == kerosene.source
    diesel = right(("feed-order", "fuel: {kind: diesel}\nfeed-order"))
    assert diesel.fuel.density_15 == liquid("diesel").density_15


def test_bores():
    """A port without a bore takes that of the joint on it, else stays without one."""
    layout = right()
    ports = layout.tanks["main"].ports
    assert ports["feed"].bore == pytest.approx(3.6e-3)
    assert ports["vent"].bore is None
    assert assumed(layout)["tanks.main.ports.feed.bore"].source == "the joint on it"


def test_reach():
    """A clunk without a reach reaches as far as its hose and itself."""
    layout = right(("reach: 120 mm", "hose: {length: 100 mm, bore: 4 mm}"))
    pickup = layout.tanks["main"].ports["feed"].pickup
    assert pickup is not None
    assert pickup.reach == pytest.approx(0.12)


def test_cut_length():
    """Without a cut length none is made up; that the route is used instead is said."""
    layout = right()
    assert layout.lines["feed"].cut_length is None
    distance = (0.4**2 + 0.04**2) ** 0.5
    expected = units.show(distance, "length")
    assert assumed(layout)["lines.feed.cut-length"].value == expected
    assert "lines.vent.cut-length" not in assumed(layout)


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_lists_stay_readable(path):
    """A complete layout has few assumptions left."""
    assert len(load(path).assumptions) <= 45
