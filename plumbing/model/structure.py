"""What the lines pass through and must keep away from: formers, passages, zones."""

from dataclasses import field
from typing import Annotated, Literal

from plumbing.frozen import frozen
from plumbing.model.base import Named, Written
from plumbing.model.fields import Angle, Heat, Inside, Length, Point, Size, Tag, Usual
from plumbing.model.statement import BUILT, Statement
from plumbing.model.tank import Corner, Shape


@frozen(kw_only=True)
class Passage(Named):
    """A hole in a former for one or more lines."""

    at: Annotated[tuple[Length, Length], "centre as [y, z] in a former, [x, z] in a rib"]
    diameter: Annotated[Size, "hole diameter"]
    grommet: Annotated[Size | None, "wall thickness of the grommet"] = None
    edge: Annotated[
        Literal["bare", "grommet", "split-tube", "sealed-radius", "liner"] | None, "edge protection"
    ] = None
    sealed: Annotated[Statement, "cut edge sealed against kerosene"] = BUILT
    fire_tight: Annotated[Statement, "fire sleeve or metal, tight"] = BUILT


@frozen(kw_only=True)
class Former(Named):
    """A former, rib or bulkhead: a flat plate square to x (former) or y (rib)."""

    across: Annotated[Literal["x", "y"], "axis it stands square to", Usual("x", "a former")] = "x"
    station: Annotated[Length, "position along that axis"]
    thickness: Annotated[Size, "thickness"]
    material: Annotated[
        Literal["plywood", "balsa", "carbon", "glass", "aluminium", "foam"], "material"
    ]
    outline: Annotated[tuple[Corner, ...], "corners as [y, z] (former) or [x, z] (rib)"] = ()
    firewall: Annotated[bool, "bulkhead to the engine bay", Usual("no", "not drawn")] = False
    keep_clear: Annotated[tuple[tuple[Corner, Corner], ...], "boxes not to be drilled"] = ()
    passages: Annotated[dict[str, Passage], "passages by name"] = field(default_factory=dict)


@frozen(kw_only=True)
class Disc(Named):
    """A rotating disc; fragments leave in its plane."""

    at: Annotated[Point, "centre"]
    radius: Annotated[Size, "radius"]
    axis: Annotated[Literal["x", "y", "z"], "axis of rotation", Usual("x")] = "x"


@frozen(kw_only=True)
class Run(Named):
    """Something long and thin: a wiring loom, a control rod."""

    points: Annotated[tuple[Point, ...], "points along it"]
    diameter: Annotated[Size, "diameter"]


@frozen(kw_only=True)
class Swing(Written):
    """A turn about an axis, such as a leg that retracts."""

    about: Annotated[Point, "a point of the axis"]
    axis: Annotated[Literal["x", "y", "z"], "axis it turns about"]
    by: Annotated[Angle, "how far, right-handed about the axis"]


ZoneBody = Shape | Annotated[Disc, Tag("disc")] | Annotated[Run, Tag("run")]


@frozen(kw_only=True)
class Zone(Named):
    """A region lines and tanks must keep clear of."""

    kind: Annotated[
        Literal[
            "hot",
            "exhaust",
            "disc",
            "wiring",
            "electronics",
            "battery",
            "moving",
            "keep-out",
            "structure",
        ],
        "what is there; structure is anything solid: a spar, a wing tube, a mould",
    ]
    body: Annotated[ZoneBody, "where it is"]
    swings: Annotated[Swing | None, "how it turns; what it sweeps is kept clear"] = None
    slides: Annotated[Point | None, "how far it slides as [x, y, z], after it has turned"] = None
    temperature: Annotated[Heat | None, "surface temperature of a hot zone"] = None
    airflow: Annotated[bool | None, "air moves between it and its neighbours"] = None
    shielded: Annotated[bool | None, "shield between it and the fuel"] = None
    clearance: Annotated[Size | None, "distance to keep; default by kind"] = None
    inside: Inside = ()
