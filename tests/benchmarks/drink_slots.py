"""What a drink order means: its words as the slots of the recordings' labels."""

import re

_AMOUNT = r"(?:some |lots of |a lot of |a bit of |a little bit of )?"
_PATTERNS = {
    "size": r"small|medium(?! roast)|large|(?:eight|twelve|sixteen|twenty) ounce",
    "roast": r"(?:light|medium|dark) roast",
    "numberOfShots": r"(?:single|double|triple) shot",
    "coffeeDrink": r"(?:iced |house |drip )?coffee|(?:iced )?mocha|latte|cappuccino"
    r"|espresso|americano",
    "milkAmount": _AMOUNT + r"(?:(?:skim |soy |almond |whole )?milk|cream)",
    "sugarAmount": _AMOUNT + r"(?:(?:brown )?sugar|sweetener)",
}  # fmt: skip


def drink_slots(words: str) -> dict[str, str]:
    """Slot -> its words, for the slots that the order fills."""
    found = {slot: re.search(pattern, words) for slot, pattern in _PATTERNS.items()}
    return {slot: match[0] for slot, match in found.items() if match}
