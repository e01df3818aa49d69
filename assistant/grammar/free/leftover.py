"""What was named in a breath and not told: asked back beside the facts that are clear."""

from collections.abc import Collection

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.open_facts import Fact

_TOLD_BY = {
    "WOOD": (cmd.WoodAdded, "And the wood?"),
    "VENT": (cmd.Vents, "And the vent?"),
    "LID": (cmd.LidOn | cmd.LidOff | cmd.GrillReading | cmd.Vents, "And the lid?"),
    "FUEL": (cmd.FuelAdded | cmd.GrillReading | cmd.WoodAdded | cmd.BirdsOn, "And the coals?"),
    "CHIMNEY": (cmd.FuelAdded, "And the chimney?"),
    "SAUCED": (cmd.Sauced | cmd.BirdSauce, "And the sauce?"),
}
TOPICS = frozenset(_TOLD_BY)


def question_about(
    kinds: Collection[str], birds: Collection[int], facts: tuple[Fact, ...]
) -> str | None:
    """What to ask of kinds of words and of birds that no frame explains; None where the facts
    tell of them as well."""
    asks = [
        question
        for kind, (told_by, question) in _TOLD_BY.items()
        if kind in kinds and not any(isinstance(one, told_by) for one in facts)
    ]
    told = {getattr(one, "bird", None) for one in facts}
    if told and None not in told:
        asks += [f"And bird {bird}?" for bird in sorted({*birds} - told)]
    return " ".join(asks) or None
