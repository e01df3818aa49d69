"""The readiness list in words: one item at a time, cautions where they matter."""

from assistant.cook.state import Cook
from assistant.cook.vocabulary.answers import ListItem
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


def item_sentence(here: ListItem, state: Cook) -> str:
    """An item in print, or that the list is over."""
    if here.item is None:
        return END
    boils = degrees(here.boils_f, state)
    text = ITEMS[here.item].format(boils=boils, ice=degrees(32.0, state))
    if here.item == "balance" and here.heaviest:
        return f"{text} Bird {here.heaviest} is the heaviest."
    return text
