"""Kinds of heat a bird may be roasted by, and what sets them apart.

On a motor-driven spit the bird turns between two beds of coals: it sees them
directly, through an open lid too; turning evens their heat round the bird and stirs
the air at its skin; juices and fat run round with it and keep basting a share of the
skin instead of dripping off. An oven has none of these. A grill's indirect side is an oven
that sees a little of the coals: the published chart gives it a column of its own,
a fifth shorter than the oven's for birds of 3 to 5 lb.

The magnitudes are physical; the medians are set so that the spit agrees with reported
cooks (tests/references/spit_cooks.csv), the oven and the indirect grill with their
columns of the chart (tests/references/roasting_times.csv).
"""

from dataclasses import dataclass

from assistant.heat.bird.evidence import HeatKind


@dataclass(frozen=True, slots=True)
class Source:
    """`surface_w_m2k`: convection and radiation of warm walls together. `radiant`: what
    direct radiation adds to the surroundings' rise above the outside air, as a share of
    the air's own rise. `wet`: how far evaporation pulls the surroundings a fresh skin
    feels towards a wet skin's temperature; `basted`: the share of it that stays.
    `kitchens`: how much kitchens differ over this heat, beside charcoal spits; charts read
    in thousands of them leave less open than nine reports do.
    `stouter`: exponent of mass by which heavy birds are thicker than geometric likeness
    makes them: the charts give heavy classes more time, the reported spit cooks do not."""

    surface_w_m2k: float
    radiant: float
    wet: float
    basted: float
    kitchens: float = 1.0
    stouter: float = 0.0


# 18 to 21 W/(m2 K): natural convection and walls at air temperature on a 15 cm bird.
# Turning at a few rounds a minute and the draught of a fire stir a little more.
# Two beds of coals at 900 K, each a fortieth of what the turning skin sees, radiate
# 1.7 kW/m2: at 24 W/(m2 K) as much as air 70 K warmer, two fifths of a 350 to 400 F
# grill's rise. Steam and shade of the drip pan leave less; gas burners are smaller still.
SOURCES: dict[HeatKind, Source] = {
    "charcoal spit": Source(28.0, 0.33, 0.26, 0.60, stouter=0.02),
    "gas spit": Source(25.0, 0.22, 0.26, 0.60, kitchens=1.3, stouter=0.02),
    "indirect": Source(23.5, 0.05, 0.28, 0.25, kitchens=0.75, stouter=0.06),
    "oven": Source(19.5, 0.0, 0.28, 0.25, kitchens=0.75, stouter=0.06),
}
SHADED = 0.08  # of the coals a bird sees, by each neighbour on the spit; a judgement
