"""Public limits, each once, with its source; how they are applied stands elsewhere.

All are consumer guidance. Local codes and licensed practice come first, and nothing here
ever says that food is safe.
"""

POULTRY_F = 165.0  # every part of every bird: USDA FSIS, FoodSafety.gov chart
WHOLE_CUT_F = 145.0  # beef, pork, veal, lamb, then at least 3 min of rest: USDA FSIS
HOT_HELD_F = 140.0  # hot food kept at this or above until served: USDA FSIS
CHILL_S = 2 * 3600.0  # leftovers into the cold after leaving the heat: USDA FSIS
CHILL_IN_HEAT_S = 3600.0  # the same in air above `HOT_AIR_F`: USDA FSIS
HOT_AIR_F = 90.0
LEAST_GRILL_F = 325.0  # roast poultry no cooler than this: FoodSafety.gov charts
TURKEY_REST_MIN = 20.0  # USDA FSIS; it asks no rest of other poultry
DAY_S = 86400.0
FRIDGE_LB_A_DAY = (4.0, 5.0)  # thawing at 40 F or below, about 24 h for each: USDA FSIS
WATER_S_A_LB = 1800.0  # thawing in cold water, about 30 min a pound: USDA FSIS
WATER_CHANGE_S = 1800.0  # that water changed every 30 min: USDA FSIS
RAW_KEEPS_S = 2 * DAY_S  # raw or thawed poultry in the refrigerator, 1 to 2 days: USDA FSIS


def chill_limit_s(outside_f: float) -> float:
    """Return how long after leaving the heat food has to be in the cold, seconds."""
    return CHILL_IN_HEAT_S if outside_f > HOT_AIR_F else CHILL_S
