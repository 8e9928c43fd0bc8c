"""The words of a brief that have a fixed set of meanings."""

from __future__ import annotations

from enum import StrEnum

PAINT_WAYS = ("brush", "brush to line", "roll", "sticks first", "spray", "dip")
"""Ways to paint blocks, as the brief names them."""

GROUND_WAYS = ("lines", "dye", "all over")
"""Ways to colour the front of the backer: where it shows, in a stain that glue holds on, or painted all over."""

FINISHES = ("paint", "stain", "oil", "wax")
"""What a family of shades is made of: opaque paint, or a clear finish on bare wood."""

GLOSSES = ("matt", "satin", "gloss")
"""How much a finished coat shines."""

PRESS_WAYS = ("row by row", "several sets", "face down", "bags", "screws")
"""Ways to press a piece, as the brief names them."""

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


STRIP_NM = 5_000_000
"""Thickness of edge strips that the brief leaves open: thin plywood, our assumption."""


class LengthUnit(StrEnum):
    """The unit that bare numbers are in and that papers are printed in."""

    MM = "mm"
    IN = "in"


class WallBuild(StrEnum):
    """What stands behind the covering."""

    TIMBER_STUDS = "timber studs"
    METAL_STUDS = "metal studs"
    MASONRY = "masonry"


class Wiring(StrEnum):
    """Whose level and upright bands of wiring are kept clear besides what every house has."""

    HOUSE = "house"
    BS_7671 = "BS 7671"
    DIN_18015 = "DIN 18015-3"


class RunKind(StrEnum):
    """What runs in the wall along a line."""

    CABLE = "cable"
    PIPE = "pipe"
    DUCT = "duct"


class FoundBy(StrEnum):
    """How it is known where something runs in the wall."""

    SEEN = "seen"
    DETECTOR = "detector"
    DRAWING = "drawing"
    TOLD = "told"


class ClearKind(StrEnum):
    """What must stay clear: what leads to it in the wall follows from it."""

    SOCKET = "socket"
    SWITCH = "switch"
    TAP = "tap"
    DOOR = "door"
    WINDOW = "window"
    OTHER = "other"


class Below(StrEnum):
    """Who may lie or sit under the piece."""

    NONE = "none"
    BED = "bed"
    SEAT = "seat"


#: Who lies or sits on a piece of furniture that stands there; and furniture of which only the maker knows.
PEOPLE_ON = {"bed": Below.BED, "sofa": Below.SEAT, "bench": Below.SEAT}
PERHAPS_PEOPLE_AT = ("table", "counter", "desk", "other")


class FixtureKind(StrEnum):
    """What is hidden. The kind decides which rules of access, air and refusal apply."""

    THERMOSTAT = "thermostat"
    CHIME = "chime"
    KEYPAD = "keypad"
    ROUTER = "router"
    ELECTRICAL = "electrical enclosure"
    METER = "meter"
    MANIFOLD = "heating manifold"
    VALVES = "valve box"
    CABLE_BOX = "cable box"
    ACCESSORY = "socket or switch"
    HATCH = "hatch"
    CLEANOUT = "chimney cleanout"
    SUPPLY_GRILLE = "supply grille"
    RETURN_GRILLE = "return grille"
    APPLIANCE = "fuel-burning appliance"
    OTHER = "other"


class Medium(StrEnum):
    """What a meter counts, or what a valve shuts off."""

    GAS = "gas"
    WATER = "water"
    ELECTRICITY = "electricity"


class Need(StrEnum):
    """What must still get through to a hidden fixture."""

    AIR = "air"
    SOUND = "sound"
    RADIO = "radio"
    SIGHT = "sight"


class Side(StrEnum):
    """A side of something on the wall, seen from the front."""

    LEFT = "left"
    RIGHT = "right"
    TOP = "top"
    BOTTOM = "bottom"


class Opens(StrEnum):
    """How the piece gives way to what it hides."""

    LIFT_OFF = "lift-off"
    SWING = "swing"


class EdgeStyle(StrEnum):
    """The three ways the outer blocks meet the backer."""

    INSET = "inset"
    OUTRIGGER = "outrigger"
    BANDED = "banded"


class FadeShape(StrEnum):
    """How the colours run over the piece.

    `path`: one ordered scale from the first family's home to the last one's; `free`: each family spreads from its
    own home; `bands`: flat fields of one shade that drift, in the order of the families.
    """

    PATH = "path"
    FREE = "free"
    BANDS = "bands"


class HomeKind(StrEnum):
    """Where a family lives."""

    POINT = "point"
    EDGE = "edge"
    CORNER = "corner"
    MIDDLE = "middle"
    RIM = "rim"
    BETWEEN = "between"


class FixingKind(StrEnum):
    """What goes into the wall."""

    WOOD_SCREW = "wood screw"
    PLUG = "plug and screw"
    HOLLOW = "hollow-wall fixing"
    STEEL = "metal-stud screw"


class Coupling(StrEnum):
    """How well the hands hold, in the words of the lifting equation."""

    GOOD = "good"
    FAIR = "fair"
    POOR = "poor"


class Facing(StrEnum):
    """What is on the other side of the working space before an electrical board, an arm's length away."""

    NOTHING = "nothing"  # wood, plasterboard or open room: neither live nor earthed
    EARTHED = "earthed"  # brick, concrete, tile, metal, a pipe
    LIVE = "live"  # another board with live parts


class OpenedBy(StrEnum):
    """Who opens the piece in everyday use."""

    STANDING = "standing"
    SEATED = "seated"
