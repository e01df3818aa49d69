"""One-line bugs that a test must catch: what each changes, and the test that should see it.

`old` stands once in `file`; with `new` in its place the `tests` (a pytest file or id, with
further words) have to fail.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Mutant:
    """A bug of one line in `file`, of the topic `about`, and what should catch it."""

    about: str
    file: str
    old: str
    new: str
    tests: str


_DATABASE, _STORE = "assistant/journal/database.py", "assistant/journal/store.py"
_RESCUE, _CODEC = "assistant/journal/rescue.py", "assistant/journal/codec.py"
_FOREIGN, _FILES = "assistant/journal/foreign.py", "assistant/system/files.py"
_STATE, _FINISH = "assistant/cook/state.py", "assistant/cook/rules/finish.py"
_TALK, _DOUBTS = "assistant/cook/rules/talk.py", "assistant/cook/rules/doubts.py"
_AWAY, _SESSION = "assistant/cook/rules/away.py", "assistant/session/session.py"
_CHILD, _DUE = "assistant/system/child_python.py", "assistant/cook/rules/due_birds.py"
_TEST_STORE, _TEST_DOUBTS = "tests/journal/test_store.py", "tests/cook/rules/test_doubts.py"
_TEST_BACK, _TEST_FOREIGN = "tests/session/test_coming_back.py", "tests/journal/test_foreign.py"
_TEST_FILES, _TEST_RESCUE = "tests/system/test_files.py", "tests/journal/test_rescue.py"
_TEST_NAMES, _TEST_FINISH = "tests/cook/test_naming.py", "tests/cook/rules/test_finish.py"
_TEST_CHILD, _TEST_CLOCK = "tests/system/test_child_python.py", "tests/system/test_clock.py"

MUTANTS = (
    Mutant("commit", _DATABASE, 'database.execute("COMMIT")', 'database.execute("ROLLBACK")',
           _TEST_STORE + " -k appended"),
    Mutant("commit", _DATABASE, 'SYNCHRONOUS = "full"', 'SYNCHRONOUS = "off"',
           _TEST_STORE + " -k syncs"),
    Mutant("commit", _DATABASE, '"journal_mode", "wal"', '"journal_mode", "delete"',
           _TEST_STORE + " -k syncs"),
    Mutant("commit", _STORE, 'DELETE FROM cooks WHERE number = ?"',
           'DELETE FROM cooks WHERE number = -?"',
           _TEST_STORE + " -k deleted"),
    Mutant("modes", _DATABASE, "os.O_RDWR | os.O_CREAT, 0o600", "os.O_RDWR | os.O_CREAT, 0o644",
           _TEST_STORE + " -k fresh_file_is"),
    Mutant("modes", _DATABASE, "path.chmod(0o600)", "path.chmod(0o644)",
           _TEST_STORE + " -k others"),
    Mutant("modes", _FILES, "stat.S_ISREG(found.st_mode) and", "", _TEST_FILES),
    Mutant("modes", _FILES, "handle, name = tempfile.mkstemp(dir=path.parent",
           "handle, name = tempfile.mkstemp(dir=None", _TEST_FILES),
    Mutant("modes", _FILES, "Path(name).unlink()", "Path(name).exists()", _TEST_FILES),
    Mutant("rescue", _RESCUE, "fresh.merge(cook, recorded)", "len(recorded)", _TEST_RESCUE),
    Mutant("rescue", _RESCUE, 'for part in ("-wal", ""):', 'for part in ("",):', _TEST_RESCUE),
    Mutant("rescue", _RESCUE, "fresh.set_setting(key, value)", "str(value)", _TEST_RESCUE),
    Mutant("rescue", _RESCUE, "os.O_EXCL, 0o600", "os.O_EXCL, 0o644", _TEST_RESCUE),
    Mutant("seals", _CODEC, "hashlib.blake2b(before + text.encode()",
           "hashlib.blake2b(text.encode()",
           _TEST_STORE + " -k another_place"),
    Mutant("seals", _CODEC, "{row.at_s!r}", "0", _TEST_RESCUE),
    Mutant("seals", "assistant/journal/reader.py", "row.seal != codec.seal_after(before, row)",
           "False", _TEST_RESCUE),
    Mutant("limits", "assistant/system/wire.py", "if length > LONGEST_BYTES:", "if False:",
           "tests/system/test_wire.py"),
    Mutant("limits", "assistant/cook/rules/dinner.py", ">= MOST_TIMERS", ">= 10**9",
           _TEST_DOUBTS + " -k timers"),
    Mutant("limits", _FOREIGN, "if not one.at_s <= after.at_s <=", "if not after.at_s <=",
           _TEST_FOREIGN),
    Mutant("limits", _FOREIGN, "(kind.done_mark_f, 215.0)", "(0.0, 215.0)", _TEST_FOREIGN),
    Mutant("limits", _FOREIGN, '_within("at_s", entry.at_s, (0.0, LATEST_S))', "pass",
           _TEST_FOREIGN),
    Mutant("limits", _FOREIGN, "if not text.isprintable():", "if False:", _TEST_FOREIGN),
    Mutant("limits", _FOREIGN, "_within(name, value, (1, MOST_BIRDS))", "pass", _TEST_FOREIGN),
    Mutant("merge", "assistant/journal/reader.py", "and cook.id not in foreign", "",
           _TEST_FOREIGN),
    Mutant("merge", "assistant/journal/jsonl.py", "    _check_whole(path, cook)\n", "    pass\n",
           "tests/journal/test_jsonl.py"),
    Mutant("merge", _STORE, "if mine != theirs:", "if False:", "tests/journal/test_jsonl.py"),
    Mutant("clock", _AWAY, "if gap_s < -BEHIND_S:", "if False:", _TEST_BACK),
    Mutant("clock", _AWAY, "if gap_s > LONG_S:", "if False:", _TEST_BACK),
    Mutant("clock", _AWAY, "boot == state.boot", "False", _TEST_BACK),
    Mutant("clock", _AWAY, "boot is not None and boot == state.boot and", "", _TEST_BACK),
    Mutant("clock", _AWAY, "away_s = 60.0 * minutes", "away_s = minutes", _TEST_BACK),
    Mutant("clock", _SESSION, "self._clock.set_now(back.now_s)", "str(back.now_s)", _TEST_BACK),
    Mutant("clock", "assistant/system/clock.py", "self._offset_s = now_s - since_boot()",
           "self._offset_s += 0.0", _TEST_CLOCK),
    Mutant("doubt", _STATE, "*(one.temperature_f for one in self.open_doubts)", "", _TEST_DOUBTS),
    Mutant("doubt", _STATE, "doubt.spot in later or", "True or", _TEST_DOUBTS),
    Mutant("doubt", _STATE, "{*list(latest)[:2], *BOTH_SPOTS}", "{*list(latest)[:2]}",
           _TEST_FINISH),
    Mutant("doubt", _DOUBTS, "found[key] = min(f, found.get(key, f))", "found[key] = f",
           _TEST_DOUBTS),
    Mutant("doubt", _DOUBTS, '"number", "no"}', '"number", "no", "expired"}', _TEST_DOUBTS),
    Mutant("doubt", _TALK, "bird, target.at_s, confirmed=confirmed",
           "bird, target.at_s, confirmed=True",
           _TEST_DOUBTS),
    Mutant("doubt", _DUE, "doubt.at_s + REREAD_S", "doubt.at_s + 1e9", _TEST_DOUBTS),
    Mutant("wording", _FINISH, "one.at_s >= since_s", "True", _TEST_FINISH),
    Mutant("wording", _FINISH, "for spot in BOTH_SPOTS if spot not in fresh",
           "for spot in BOTH_SPOTS if not fresh", _TEST_FINISH),
    Mutant("wording", "assistant/cook/naming.py",
           'return any(word.removeprefix("un").startswith(_CLAIMS) for word in words)',
           "return False", _TEST_NAMES),
    Mutant("wording", "assistant/cook/naming.py", 'word.removeprefix("un")', "word", _TEST_NAMES),
    Mutant("wording", "assistant/cook/rules/birds.py", 'plain_name(sauce, "sauce")', "sauce",
           _TEST_NAMES),
    Mutant("wording", _TALK, "if not_finished(state):", "if False:", _TEST_DOUBTS),
    Mutant("children", _CHILD, '"-P", "-m"', '"-m"', _TEST_CHILD + " -k ears"),
    Mutant("children", _CHILD, "if one and Path(one).is_absolute()", "if one",
           _TEST_CHILD + " -k elsewhere"),
)  # fmt: skip
