"""Words as written or heard to plain ones: contractions apart, dialect aside."""

from assistant.grammar.clean import cleaned

_WHOLE = {
    "i'm": "i am", "can't": "can not", "won't": "will not", "ain't": "is not",
    "let's": "let us", "o'clock": "o'clock", "ma'am": "madam", "y'all": "you",
    "'em": "them", "em": "them", "aye": "yes", "naw": "no", "nah": "no", "nae": "not",
    "yeah": "yes", "yep": "yes", "yup": "yes", "yea": "yes", "nope": "no", "ok": "okay",
    "okey": "okay", "gonna": "going to", "gotta": "got to", "wanna": "want to",
    "lemme": "let me", "dunno": "do not know", "cannot": "can not", "yin": "one",
    "didnae": "did not", "isnae": "is not", "dont": "do not", "cant": "can not",
    "didnt": "did not", "isnt": "is not", "im": "i am", "ive": "i have", "wasnt": "was not",
    "til": "till", "'til": "till", "goin": "going", "fixin": "fixing", "charcoals": "coals",
    "gimme": "give me", "kinda": "kind of", "sorta": "sort of", "an": "an",
}  # fmt: skip
_ENDINGS = (
    ("n't", " not"), ("'s", " is"), ("'re", " are"), ("'ve", " have"), ("'ll", " will"),
    ("'d", " did"), ("'m", " am"), ("s'", "s"),
)  # fmt: skip


def plain_words(text: str) -> tuple[str, ...]:
    """The words of `text`, digits spelled out, each contraction taken apart.

    A possessive reads as "is": "bird one's breast" is "bird one is breast".
    """
    words: list[str] = []
    for word in cleaned(text):
        words += _plain(word.strip("-").replace("-", " ")).split()
    return tuple(words)


def _plain(word: str) -> str:
    if word in _WHOLE:
        return _WHOLE[word]
    for ending, apart in _ENDINGS:
        if word.endswith(ending) and len(word) > len(ending):
            return _plain(word.removesuffix(ending)) + apart
    if len(word) > 4 and word.endswith("in") and word + "g" in _GERUNDS:
        return word + "g"
    return word


_GERUNDS = frozenset(
    [
        "sitting",
        "reading",
        "coming",
        "getting",
        "resting",
        "carving",
        "burning",
        "turning",
        "raining",
        "flaring",
        "opening",
        "closing",
        "running",
        "eating",
        "looking",
        "starting",
        "holding",
        "fixing",
        "putting",
        "taking",
        "pulling",
        "going",
        "leaving",
        "brushing",
        "glazing",
        "basting",
        "cooking",
        "showing",
        "hitting",
        "climbing",
        "dropping",
        "falling",
        "dying",
        "shutting",
        "adding",
        "throwing",
        "setting",
        "stopping",
        "smoking",
        "dripping",
        "floating",
        "flopping",
        "hanging",
        "reaching",
        "pushing",
        "saying",
        "doing",
        "checking",
        "roasting",
        "charring",
        "sticking",
        "spinning",
        "pouring",
        "drizzling",
        "moving",
        "working",
        "being",
        "giving",
        "making",
        "serving",
        "lighting",
        "sauceing",
        "saucing",
    ]
)
