"""The vocabulary of the layout file's values: what each field holds, said once, beside the field.

A field's type says its kind of quantity; the first plain text in its `Annotated` says what it
is; `Usual` says what is assumed when it is missing and whose value that is. The reader, the
JSON Schema and the reference page of the layout file are all made from these.
"""

from typing import Annotated

from plumbing.frozen import frozen

Vector = tuple[float, float, float]


@frozen
class Quantity:
    """The value is written as number and unit; `kind` is a key of `plumbing.units.KINDS`.

    Attributes
    ----------
    kind : str
        Kind of quantity.
    low, high : float or None
        Bounds in SI, both allowed; outside them the file has a fault.
    """

    kind: str
    low: float | None = None
    high: float | None = None


@frozen
class Usual:
    """What is assumed when the field is missing.

    Attributes
    ----------
    text : str
        The value as it would stand in the file.
    source : str
        Where the usual value is from.
    """

    text: str
    source: str = "common practice"


@frozen
class Also:
    """Another key that builders write for the same value."""

    key: str


@frozen
class Tag:
    """The value is a mapping with this one key naming the kind, as in `shape: {box: ...}`."""

    key: str


@frozen
class Refers:
    """The text names something else in the file.

    Attributes
    ----------
    to : str
        `port` (part.port), or a section of the file such as `joints`, `tubes`, `tanks`,
        `passage` (former.passage), `part` (any part), `solid` (a tank, a former or a zone).
    """

    to: str


Length = Annotated[float, Quantity("length", -100.0, 100.0)]
Size = Annotated[float, Quantity("length", 1e-7, 100.0)]
Bore = Annotated[float, Quantity("length", 1e-4, 0.1)]  # finer, and no fuel passes
Within = Annotated[float, Quantity("length", 0.0, 1.0)]
Volume = Annotated[float, Quantity("volume", 0.0, 1.0)]
Mass = Annotated[float, Quantity("mass", 0.0, 1000.0)]
Time = Annotated[float, Quantity("time", 0.0, 86400.0)]
Use = Annotated[float, Quantity("time", 0.0, 3.6e7)]  # ten thousand hours
Age = Annotated[float, Quantity("age", 0.0)]
Flow = Annotated[float, Quantity("flow", 0.0, 1e-3)]
Pressure = Annotated[float, Quantity("pressure", -1e8, 1e8)]
Drop = Annotated[float, Quantity("pressure", 0.0, 1e8)]
Temperature = Annotated[float, Quantity("temperature", -60.0, 90.0)]
Heat = Annotated[float, Quantity("temperature", -60.0, 1200.0)]
Angle = Annotated[float, Quantity("angle", -6.2831853072, 6.2831853072)]
Density = Annotated[float, Quantity("density", 100.0, 3000.0)]
Viscosity = Annotated[float, Quantity("viscosity", 1e-7, 1e-2)]
Speed = Annotated[float, Quantity("speed", 0.0, 400.0)]
Force = Annotated[float, Quantity("force", 0.0, 10000.0)]
Moment = Annotated[float, Quantity("moment", 0.0)]
Voltage = Annotated[float, Quantity("voltage", 0.0, 1000.0)]
Charge = Annotated[float, Quantity("charge", 0.0)]
Share = Annotated[float, Quantity("share", 0.0, 1.0)]
Damping = Annotated[float, Quantity("share", 0.005, 0.9)]
Count = Annotated[float, Quantity("count", 0.0, 1e4)]
Ratio = Annotated[float, Quantity("ratio", -1e6, 1e6)]
LoadFactor = Annotated[float, Quantity("load factor", -50.0, 50.0)]
Hardness = Annotated[float, Quantity("hardness", 0.0, 100.0)]
LinearMass = Annotated[float, Quantity("linear mass", 0.0)]
Point = Annotated[Vector, Quantity("length", -100.0, 100.0)]
Area = Annotated[float, Quantity("area", 0.0)]
PortName = Annotated[str, Refers("port")]
Inside = Annotated[
    tuple[Annotated[str, Refers("solid")], ...],
    "tanks, formers and zones it stands in or goes through on purpose",
]
