"""Names people give, which must not make the program claim what it never claims. Pure."""

_CLAIMS = ("safe", "harmless", "edible", "sterile")  # how a word begins, or "un" before it
WHY = "a name may not say that food is safe"


def claims(name: str) -> bool:
    """Whether a sauce, timer or cook of this name would make a sentence that says so."""
    words = "".join(one if one.isalpha() else " " for one in name.casefold()).split()
    return any(word.removeprefix("un").startswith(_CLAIMS) for word in words)


def plain_name(name: str, instead: str) -> str:
    """The name, or `instead` for one that claims: old journals hold any name."""
    return instead if claims(name) else name
