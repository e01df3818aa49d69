"""The readiness list in words: one item at a time, cautions where they matter."""

from collections.abc import Mapping

from assistant.cook.state import Cook
from assistant.sentences.phrasing import degrees

ITEMS = {
    "thermometer": "Thermometer: {boils} in boiling water, or {ice} in ice water."
    " Tell me what it reads.",
    "dry_seasoned": "Birds dry and seasoned. Wash your hands after raw poultry.",
    "tied": "Legs and wings tied tight.",
    "forks": "Forks facing each other, pushed in hard, screws tight.",
    "balance": "Balance: turn the spit by hand; no side may drop.",
    "drip_pan": "Drip pan in the middle, under the birds.",
    "charcoal": "Charcoal on both sides, and outdoors only: it gives off carbon monoxide.",
    "grill_probe": "Grill thermometer away from the coals.",
    "gloves": "Gloves at hand. Spit and lid will burn you.",
    "string": "Spare string within reach.",
    "clean_plate": "A clean plate and a second brush, away from raw poultry.",
}
END = "That was the list."


def item_sentence(facts: Mapping[str, object], state: Cook) -> str:
    """The item `facts` name (see `assistant.cook.readiness.item_facts`), in print."""
    item = facts.get("item")
    if not isinstance(item, str):
        return END
    boils_f = facts.get("boils_f")
    boils = degrees(boils_f, state) if isinstance(boils_f, float) else "the boiling point"
    text = ITEMS[item].format(boils=boils, ice=degrees(32.0, state))
    heaviest = facts.get("heaviest")
    return f"{text} Bird {heaviest} is the heaviest." if item == "balance" and heaviest else text
