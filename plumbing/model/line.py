"""Lines and the tube they are cut from."""

from typing import Annotated, Literal

from plumbing.frozen import frozen
from plumbing.model.base import Named, Written
from plumbing.model.fields import (
    Age,
    Also,
    Bore,
    Drop,
    Hardness,
    Heat,
    Inside,
    Length,
    LinearMass,
    Point,
    PortName,
    Refers,
    Size,
    Usual,
)


@frozen(kw_only=True)
class Tube(Named):
    """A tube by size and material; the catalogue has the usual ones."""

    outside_diameter: Annotated[Bore, "outer diameter"]
    inside_diameter: Annotated[Bore, "inner diameter"]
    material: Annotated[str, "material, as in the material table"]
    bend_radius: Annotated[Size | None, "smallest bend radius, to the centre line"] = None
    hardness: Annotated[Hardness | None, "Shore A hardness"] = None
    max_temperature: Annotated[Heat | None, "highest service temperature"] = None
    rated_pressure: Annotated[Drop | None, "rated pressure at room temperature"] = None
    roughness: Annotated[Size, "wall roughness", Usual("1.5 um", "drawn tube, handbook value")] = (
        1.5e-6
    )
    linear_mass: Annotated[LinearMass | None, "mass per length"] = None
    source: str = "layout file"


@frozen(kw_only=True)
class Elbow(Written):
    """A fitting inside a line, between its ends."""

    kind: Annotated[
        Literal["elbow-90", "elbow-45", "union", "sleeve", "reducer", "restrictor"], "form"
    ]
    bore: Annotated[Bore, "narrowest bore"]
    at: Annotated[Point | None, "position"] = None


@frozen(kw_only=True)
class Line(Named):
    """A tube from one port to another, with its routed points.

    `cut_length` is the tube as cut; without it the routed length is used and said so.
    """

    from_: Annotated[PortName, "port it starts at, as part.port"]
    to: Annotated[PortName, "port it ends at, as part.port"]
    tube: Annotated[str, Refers("tubes"), "tube, from the catalogue or this file"]
    cut_length: Annotated[Size | None, "length as cut", Also("length")] = None
    route: Annotated[tuple[Point, ...], "corner points between the two ends"] = ()
    bend_radius: Annotated[Size | None, "radius at the corners; default the tube's smallest"] = None
    through: Annotated[tuple[Annotated[str, Refers("passage")], ...], "passages threaded"] = ()
    joint: Annotated[str | None, Refers("joints"), "joint at both ends"] = None
    from_joint: Annotated[str | None, Refers("joints"), "joint at the start"] = None
    to_joint: Annotated[str | None, Refers("joints"), "joint at the end"] = None
    fittings: Annotated[tuple[Elbow, ...], "fittings between the ends"] = ()
    clips: Annotated[Size | None, "spacing of its clips"] = None
    colour: Annotated[str | None, "colour or label"] = None
    age: Annotated[Age | None, "since it was fitted"] = None
    sleeve: Annotated[Literal["fire", "spiral", "braid"] | None, "sleeve over the tube"] = None
    spare: Annotated[Length | None, "extra length for reconnecting"] = None
    under_strap: Annotated[bool | None, "runs under a tank strap"] = None
    hidden_joint: Annotated[bool | None, "has a joint that cannot be seen"] = None
    inside: Inside = ()
