"""Terms that commands, events and the state share."""

from dataclasses import dataclass
from typing import Literal

Scale = Literal["F", "C"]
Spot = Literal["breast", "thigh", "wing"]
FuelKind = Literal["briquettes", "lump", "chimney"]
Vent = Literal["bottom", "top", "both"]
VentChange = Literal["more", "less", "back"]
SkinState = Literal["off", "on"]
Side = Literal["left", "right"]
TroubleKind = Literal[
    "wing_loose", "leg_loose", "flare_up", "spit_stopped", "drip_pan_full",
    "fire_dying", "rain", "bird_stuck", "thermometer_doubted", "fire_too_hot", "burning",
    "wind", "cold",
]  # fmt: skip
# Those that are told to be over; a reading, a lid or a check answers the others.
EndingKind = Literal[
    "flare_up", "spit_stopped", "rain", "wind", "cold", "wing_loose", "leg_loose", "drip_pan_full"
]  # fmt: skip
Bath = Literal["ice", "boiling"]
Sugar = Literal["none", "some", "high"]
Mark = Literal["sauce", "done"]
Day = Literal[
    "today", "tomorrow", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday",
    "sunday",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Earlier:
    """When something happened that is told later: `ago` minutes before, or `at` minutes
    after midnight, `vague` where morning or evening was left open."""

    ago: float | None = None
    at: int | None = None
    vague: bool = False


@dataclass(frozen=True, slots=True)
class Said:
    """A number as it was spoken and the scale it was meant in."""

    number: float
    scale: Scale
