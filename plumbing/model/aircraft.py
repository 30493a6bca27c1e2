"""The aircraft around the plumbing: masses, limits, envelope."""

from typing import Annotated, Literal

from plumbing.frozen import frozen
from plumbing.model.base import Written
from plumbing.model.fields import Length, LoadFactor, Mass, Moment, Point, Size, Speed, Usual
from plumbing.model.tank import Shape


@frozen(kw_only=True)
class LoadFactors(Written):
    """Largest load factors the aircraft is flown to."""

    positive: Annotated[LoadFactor, "largest, pulling", Usual("6 g")] = 6.0
    negative: Annotated[LoadFactor, "most negative, pushing or inverted", Usual("-2 g")] = -2.0
    forward: Annotated[LoadFactor, "take-off or catapult acceleration", Usual("0.8 g")] = 0.8
    braking: Annotated[LoadFactor, "deceleration on wheel brakes", Usual("0.5 g")] = 0.5


@frozen(kw_only=True)
class Aircraft(Written):
    """Masses, centre of gravity and the envelope flown."""

    flown_as: Annotated[Literal["scale", "sport", "aerobatic"], "flight style", Usual("sport")] = (
        "sport"
    )
    category: Annotated[str | None, "national category and scheme, in words"] = None
    dry_mass: Annotated[Mass | None, "ready to fly without fuel"] = None
    dry_cg: Annotated[Point | None, "centre of gravity without fuel, gear down"] = None
    dry_cg_gear_up: Annotated[Point | None, "the same with the gear up"] = None
    cg_limits: Annotated[tuple[Length, Length] | None, "forward and aft limit, as x"] = None
    max_mass: Annotated[Mass | None, "largest take-off mass the class allows"] = None
    half_span: Annotated[Size | None, "fuselage centre line to wing tip"] = None
    mean_chord: Annotated[Size | None, "mean aerodynamic chord"] = None
    lateral_limit: Annotated[Moment | None, "rolling moment the ailerons may trim"] = None
    max_airspeed: Annotated[Speed, "fastest in a dive", Usual("70 m/s")] = 70.0
    load_factors: Annotated[LoadFactors, "load factors flown"] = LoadFactors()
    airframe: Annotated[Shape | None, "what is within its skin, as cross-sections or a mesh"] = None
