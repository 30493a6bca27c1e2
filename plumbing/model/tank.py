"""Tanks and header tanks: solid, wall, ports, pickups, fixing."""

from typing import Annotated, Literal

from plumbing.frozen import frozen
from plumbing.model.base import Named, Written
from plumbing.model.fields import (
    Age,
    Angle,
    Area,
    Bore,
    Drop,
    Flow,
    Inside,
    Length,
    LoadFactor,
    Mass,
    Point,
    Refers,
    Share,
    Size,
    Tag,
    Usual,
    Vector,
    Volume,
)
from plumbing.model.statement import BUILT, FLOWN, TESTED, Statement

Corner = tuple[Length, Length]


@frozen(kw_only=True)
class Solid(Written):
    """What all solids share: where the centre is and how it is turned."""

    at: Annotated[Point, "centre of the bounding box before turning"]
    roll: Annotated[Angle, "turned about x, starboard down", Usual("0 deg", "drawn upright")] = 0.0
    pitch: Annotated[Angle, "turned about y, nose up", Usual("0 deg", "drawn upright")] = 0.0
    yaw: Annotated[Angle, "turned about z, nose to starboard", Usual("0 deg", "drawn upright")] = (
        0.0
    )


@frozen(kw_only=True)
class Box(Solid):
    """A box with square edges."""

    size: Annotated[tuple[Size, Size, Size], "inner length x, width y, height z"]


@frozen(kw_only=True)
class Cylinder(Solid):
    """A cylinder with flat ends."""

    length: Annotated[Size, "inner length"]
    diameter: Annotated[Size, "inner diameter"]
    axis: Annotated[Literal["x", "y", "z"], "direction of the axis", Usual("x")] = "x"


@frozen(kw_only=True)
class Capsule(Solid):
    """A cylinder with hemispherical ends; the length is over all."""

    length: Annotated[Size, "inner length over all"]
    diameter: Annotated[Size, "inner diameter"]
    axis: Annotated[Literal["x", "y", "z"], "direction of the axis", Usual("x")] = "x"


@frozen(kw_only=True)
class Ellipsoid(Solid):
    """An ellipsoid."""

    size: Annotated[tuple[Size, Size, Size], "inner length x, width y, height z"]


@frozen(kw_only=True)
class Section(Written):
    """One cross-section of a prism, in the plane x = station."""

    station: Annotated[Length, "x of the section, counted from the solid's centre"]
    outline: Annotated[tuple[Corner, ...], "corners as [y, z], in order, all sections alike"]


@frozen(kw_only=True)
class Prism(Solid):
    """A body through cross-sections, as for saddle, nacelle and wing tanks."""

    sections: Annotated[tuple[Section, ...], "two or more, from nose to tail"]


@frozen(kw_only=True)
class Mesh(Solid):
    """A closed mesh from an STL file beside the layout file."""

    file: Annotated[str, "name of the STL file"]
    unit: Annotated[Literal["mm", "cm", "m", "in"], "unit of its numbers", Usual("mm")] = "mm"
    vertices: tuple[Vector, ...] = ()
    faces: tuple[tuple[int, int, int], ...] = ()


Shape = (
    Annotated[Box, Tag("box")]
    | Annotated[Cylinder, Tag("cylinder")]
    | Annotated[Capsule, Tag("capsule")]
    | Annotated[Ellipsoid, Tag("ellipsoid")]
    | Annotated[Prism, Tag("prism")]
    | Annotated[Mesh, Tag("mesh")]
)


@frozen(kw_only=True)
class Wall(Written):
    """What the tank is made of and what it stands."""

    kind: Annotated[
        Literal["blow-moulded", "composite", "printed", "metal", "bag"], "how it is made"
    ]
    material: Annotated[str | None, "material, as in the material table"] = None
    thickness: Annotated[Bore | None, "wall thickness"] = None
    proof_pressure: Annotated[Drop | None, "pressure it was or will be proved to"] = None
    collapse_suction: Annotated[Drop | None, "suction at which it folds, as a positive value"] = (
        None
    )
    stays: Annotated[Share | None, "of a bag: share of its capacity that stays in its folds"] = None
    purged: Annotated[Statement, "of a bag: all air drawn out after filling"] = FLOWN
    sealed_inside: Annotated[Statement, "coated or resin-rich inside"] = BUILT
    leak_tested: Annotated[Statement, "pressure-tested before fitting"] = TESTED
    bonded_flanges: Annotated[Statement, "ports on bonded flanges or hard points"] = BUILT


@frozen(kw_only=True)
class Hole(Written):
    """A round hole in a baffle: fuel passes it as fast as its size lets it."""

    at: Annotated[Corner, "centre [y, z]"]
    diameter: Annotated[Bore, "diameter"]


@frozen(kw_only=True)
class Baffle(Written):
    """A wall inside the tank that fuel passes slowly."""

    at: Annotated[Length, "x of the baffle"]
    open_share: Annotated[Share | None, "open share of its area"] = None
    holes: Annotated[tuple[Hole, ...], "its holes; without any it is open at floor and roof"] = ()


@frozen(kw_only=True)
class Hose(Written):
    """The soft hose between the port and a clunk."""

    length: Annotated[Size, "free length"]
    bore: Annotated[Bore, "inner diameter"]
    outside_diameter: Annotated[Bore | None, "outer diameter"] = None
    material: Annotated[str | None, "material, as in the material table"] = None
    age: Annotated[Age | None, "since it was fitted"] = None
    locked: Annotated[Statement, "wire or collar at both ends"] = BUILT


@frozen(kw_only=True)
class Pickup(Written):
    """How fuel enters the line inside the tank."""

    kind: Annotated[Literal["fixed", "clunk", "fine-pore"], "fixed tube, clunk or fine-pore body"]
    swings: Annotated[bool | None, "a fine-pore body on a hose swings like a clunk"] = None
    rest: Annotated[Point | None, "where a fixed pickup opens"] = None
    reach: Annotated[Size | None, "from the port to the end of a clunk"] = None
    mass: Annotated[Mass | None, "mass of the clunk"] = None
    rounded: Annotated[bool | None, "clunk without sharp edges"] = None
    diameter: Annotated[Size | None, "diameter of the clunk or fine-pore body"] = None
    length: Annotated[Size | None, "length of the fine-pore body"] = None
    pore: Annotated[Size | None, "largest pore of a felt, mesh or membrane"] = None
    area: Annotated[Area | None, "area of the felt, mesh or membrane"] = None
    clean_drop: Annotated[Drop | None, "drop at full flow, clean"] = None
    dirty_drop: Annotated[Drop | None, "drop at full flow when due for change"] = None
    hose: Annotated[Hose | None, "hose from the port to the clunk"] = None
    snag: Annotated[Size | None, "distance from the port at which it could jam"] = None
    joint: Annotated[str | None, Refers("joints"), "joint of the hose at port and clunk"] = None

    @property
    def hangs(self) -> bool:
        """Whether it hangs on a hose and goes where the fuel goes."""
        return self.kind == "clunk" or (self.kind == "fine-pore" and bool(self.swings))


@frozen(kw_only=True)
class Port(Named):
    """A hole in a tank's wall."""

    at: Annotated[Point, "where it passes the wall"]
    bore: Annotated[Bore | None, "narrowest bore of the fitting"] = None
    opens_at: Annotated[Point | None, "where its inner tube ends; default the port itself"] = None
    pickup: Annotated[Pickup | None, "pickup on its inner side"] = None
    capped: Annotated[bool, "closed by a cap in flight", Usual("no", "drawn open")] = False
    tube_material: Annotated[str | None, "material of a tube inside the tank"] = None

    @property
    def inner_end(self) -> Vector:
        """Where its inner end is, unless that hangs on a hose [m]."""
        rest = self.pickup.rest if self.pickup else None
        return rest or self.opens_at or self.at


@frozen(kw_only=True)
class Fixing(Written):
    """How the tank is held."""

    holds: Annotated[LoadFactor | None, "load factor the fixing holds with the tank full"] = None
    straps: Annotated[bool | None, "straps or saddles that spread the load"] = None
    padding: Annotated[Literal["closed-cell", "open-cell", "none"] | None, "padding"] = None
    hatch: Annotated[bool | None, "bung or lid reachable through a hatch"] = None
    bay_drain: Annotated[Size | None, "diameter of the bay's drain hole"] = None
    bay_vented: Annotated[bool | None, "bay ventilated"] = None
    hard_mass_behind: Annotated[bool | None, "an unrestrained hard mass could strike it"] = None
    allowance: Annotated[Length | None, "how far it may be moved within its bay, fore and aft"] = (
        None
    )


@frozen(kw_only=True)
class Tank(Named):
    """A tank, or the header tank (air trap) that is last before the pump.

    A tank for smoke oil, and one for taxiing that is parted before flight, hold no fuel for the
    engines: what draws from them in flight draws air.
    """

    role: Annotated[
        Literal["main", "header", "smoke", "taxi"],
        "main or header tank; or not counted as fuel: smoke oil, or taxi fuel parted before flight",
        Usual("main", "named so"),
    ] = "main"
    shape: Annotated[Shape, "inner solid"]
    ports: Annotated[dict[str, Port], "ports by name"]
    capacity: Annotated[Volume | None, "stated gross capacity, compared with the solid"] = None
    displaced: Annotated[
        Share, "share of the solid taken by foam, baffles, fittings", Usual("1 %")
    ] = 0.01
    fill: Annotated[Share, "share of the capacity filled for flight", Usual("98 %")] = 0.98
    baffles: Annotated[tuple[Baffle, ...], "baffles"] = ()
    foam: Annotated[bool, "filled with open-cell foam for fuel", Usual("no", "not drawn")] = False
    wall: Annotated[Wall | None, "wall"] = None
    fixing: Annotated[Fixing, "fixing and bay"] = Fixing()
    visible: Annotated[bool | None, "contents can be seen in service"] = None
    fill_flow: Annotated[Flow | None, "largest filling flow stated for it"] = None
    empty_mass: Annotated[Mass | None, "mass without fuel"] = None
    inside: Inside = ()

    @property
    def is_bag(self) -> bool:
        """Whether it folds as it empties."""
        return self.wall is not None and self.wall.kind == "bag"

    @property
    def for_engines(self) -> bool:
        """Whether it holds fuel for the engines in flight."""
        return self.role in ("main", "header")

    @property
    def fuel(self) -> float:
        """Share of the capacity that is fuel for the engines in flight."""
        return self.fill if self.for_engines else 0.0
