"""One-line bugs that a test must catch: what each changes, and the test that should see it.

`old` stands once in `file`; with `new` in its place the `tests` (a pytest file, with
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


def _bugs(about: str, file: str, tests: str, *changes: tuple[str, str]) -> tuple[Mutant, ...]:
    """Bugs of one file, each seen by the same tests."""
    return tuple(Mutant(about, file, old, new, tests) for old, new in changes)


_DATABASE, _STORE = "assistant/journal/database.py", "assistant/journal/store.py"
_RESCUE, _RESILIENT = "assistant/journal/rescue.py", "assistant/journal/resilient.py"
_FOREIGN, _JSONL = "assistant/journal/foreign.py", "assistant/journal/jsonl.py"
_FILES, _PARTS = "assistant/system/files.py", "assistant/system/parts.py"
_RULES, _NAMING = "assistant/cook/rules/", "assistant/cook/naming.py"
_STATE, _SESSION = "assistant/cook/state.py", "assistant/session/session.py"
_CHILD = "assistant/system/child_python.py"
_TEST_STORE, _TEST_RESILIENT = "tests/journal/test_store.py", "tests/journal/test_resilient.py"
_TEST_RESCUE, _TEST_FOREIGN = "tests/journal/test_rescue.py", "tests/journal/test_foreign.py"
_TEST_DOUBTS, _TEST_FINISH = "tests/cook/rules/test_doubts.py", "tests/cook/rules/test_finish.py"
_TEST_BACK, _TEST_NAMES = "tests/session/test_coming_back.py", "tests/cook/test_naming.py"
_TEST_FILES, _TEST_CHILD = "tests/system/test_files.py", "tests/system/test_child_python.py"
_TEST_LIMITS, _TEST_JSONL = "tests/cook/rules/test_limits.py", "tests/journal/test_jsonl.py"
_CRASHES, _RESCUES = (
    "tests/reliability/test_storage.py -k cut_loses",
    ("tests/reliability/test_storage.py -k rescue"),
)
_CLOSED = "tests/reliability/test_closed.py"
_HOSTILE = "tests/reliability/test_hostile.py"

_LEAK = "__import__('socket').socket()"
_LATER = (
    "recorded = tuple(ev.Recorded(self.state.seq + n, self.now(), e)"
    " for n, e in enumerate(events, 1)); __import__('threading').Timer("
    "0.05, self._log.append, (self.now(), events)).start()"
)

MUTANTS = (
    # A fact is committed, and synced, before a word is said of it.
    *_bugs("commit", _DATABASE, _TEST_STORE + " -k appended",
           ('database.execute("COMMIT")', 'database.execute("ROLLBACK")')),
    *_bugs("commit", _STORE, _TEST_STORE + " -k deleted",
           ('DELETE FROM cooks WHERE number = ?"', 'DELETE FROM cooks WHERE number = -?"')),
    *_bugs("commit", _SESSION, "tests/session/test_order.py",
           ("recorded = self._log.append(self.now(), events)", _LATER)),
    *_bugs("commit", _SESSION, _TEST_BACK,
           ("        self._refresh()\n        self.tick()\n\n    def prior",
            "        self._refresh()\n\n    def prior")),
    *_bugs("fsync", _DATABASE, _TEST_STORE + " -k syncs",
           ('"journal_mode", "wal"', '"journal_mode", "delete"')),
    *_bugs("fsync", _DATABASE, _CRASHES,
           ('SYNCHRONOUS = "full"', 'SYNCHRONOUS = "normal"')),
    *_bugs("fsync", _FILES, _TEST_FILES,
           ("os.fsync(file.fileno())", "file.tell()"),
           ("            sync_folder(path.parent)\n", "            pass\n")),
    *_bugs("fsync", _RESCUE, _RESCUES,
           ("os.fsync(file.fileno())", "file.tell()"),
           ("part.replace(_rescued(path))\n        sync_folder(path.parent)",
            "part.replace(_rescued(path))")),
    # A damaged journal: found, kept, and what can be read carried over.
    *_bugs("rescue", _RESCUE, _HOSTILE + " -k journals",
           ("fresh.merge(cook, recorded)", "len(recorded)"),
           ("fresh.merge(cook, recorded)", "fresh.merge(cook, recorded[:3])"),
           ("MISSES = 1_000", "MISSES = 1")),
    *_bugs("rescue", _RESCUE, _RESCUES,
           ("part.replace(_rescued(path))", "remove(path); part.replace(_rescued(path))"),
           (' or Path(f"{one}-wal").exists()', ""),
           ('("-shm", "-wal")', '("-shm",)'),
           ('for part in ("-wal", ""):', 'for part in ("",):')),
    *_bugs("rescue", _RESILIENT, _RESCUES, ("        rescue.finish(path)\n", "")),
    *_bugs("rescue", _RESCUE, _TEST_RESCUE, ("fresh.set_setting(key, value)", "str(value)")),
    *_bugs("seals", "assistant/journal/codec.py", _TEST_STORE + " -k another_place",
           ("hashlib.blake2b(before + text.encode()", "hashlib.blake2b(text.encode()")),
    *_bugs("seals", "assistant/journal/codec.py", _TEST_RESCUE, ("{row.at_s!r}", "0")),
    *_bugs("seals", "assistant/journal/reader.py", _TEST_RESCUE,
           ("row.seal != codec.seal_after(before, row)", "False")),
    # For its owner only, and gone when it is deleted.
    *_bugs("modes", _DATABASE, _TEST_STORE + " -k fresh_file_is",
           ("os.O_RDWR | os.O_CREAT, 0o600", "os.O_RDWR | os.O_CREAT, 0o644")),
    *_bugs("modes", _DATABASE, _TEST_STORE + " -k others",
           ("path.chmod(0o600)", "path.chmod(0o644)")),
    *_bugs("modes", _STORE, _TEST_STORE + " -k owner",
           ("path.parent.mkdir(mode=0o700", "path.parent.mkdir(mode=0o755")),
    *_bugs("modes", _STORE, _TEST_RESILIENT + " -k owner",
           ('.lock", mode=0o600', '.lock", mode=0o644')),
    *_bugs("modes", _RESCUE, _RESCUES, ("os.O_EXCL, 0o600", "os.O_EXCL, 0o644")),
    *_bugs("modes", _FILES, _TEST_FILES,
           ("stat.S_ISREG(found.st_mode) and", ""),
           ("handle, name = tempfile.mkstemp(dir=path.parent",
            "handle, name = tempfile.mkstemp(dir=None"),
           ("Path(name).unlink()", "Path(name).exists()")),
    *_bugs("deletion", _DATABASE, _TEST_STORE + " -k lies_in",
           ('"secure_delete", "on"', '"secure_delete", "off"')),
    # Nothing reaches out.
    *_bugs("sockets", _STORE, _CLOSED + " -k typed",
           ('    lock = FileLock(f"{path}.lock", mode=0o600)\n',
            '    lock = FileLock(f"{path}.lock", mode=0o600)\n'
            "    __import__('threading').Thread(target=__import__('socket').socket).start()\n")),
    *_bugs("sockets", "assistant/system/child.py", _CLOSED + " -k voice",
           ("    signal.signal(signal.SIGINT, signal.SIG_IGN)", f"    {_LEAK}")),
    *_bugs("sockets", _PARTS, _CLOSED + " -k check",
           ('DOWNLOADERS = {"vosk": "requests"}', "DOWNLOADERS: dict[str, str] = {}")),
    *_bugs("children", _CHILD, _TEST_CHILD + " -k ears", ('"-P", "-m"', '"-m"')),
    *_bugs("children", _CHILD, _TEST_CHILD + " -k elsewhere",
           ("if one and Path(one).is_absolute()", "if one")),
    # What is too much, and what nobody can mean.
    *_bugs("limits", "assistant/system/wire.py", "tests/system/test_wire.py",
           ("if length > LONGEST_BYTES:", "if False:"), ("1 << 24", "1 << 33")),
    *_bugs("limits", _JSONL, _TEST_JSONL,
           ("if path.stat().st_size > LARGEST_BYTES:", "if False:"),
           ("if len(line) > LONGEST_LINE:", "if False:")),
    *_bugs("limits", _RULES + "dinner.py", _TEST_DOUBTS + " -k timers",
           (">= MOST_TIMERS", ">= 10**9")),
    *_bugs("limits", _RULES + "dinner.py", _TEST_LIMITS,
           ("TIMER_MAX_MIN = 24 * 60.0", "TIMER_MAX_MIN = 1e9")),
    *_bugs("limits", _RULES + "plausible.py", _TEST_LIMITS,
           ("MEAT_LOW_F, MEAT_HIGH_F = 28.0, 212.0", "MEAT_LOW_F, MEAT_HIGH_F = 28.0, 999.0"),
           ("    if reading_f < MEAT_LOW_F:", "    if False:"),
           ("GRILL_LOW_F, GRILL_HIGH_F = 32.0, 700.0", "GRILL_LOW_F, GRILL_HIGH_F = 0.0, 700.0")),
    *_bugs("limits", _RULES + "fire.py", _TEST_LIMITS,
           ("if not GRILL_LOW_F <= temperature <= GRILL_HIGH_F:", "if False:"),
           ("if not 0 < count <= FUEL_MAX", "if not 0 < count")),
    *_bugs("limits", _RULES + "birds.py", _TEST_LIMITS,
           ("MASS_LOW_KG, MASS_HIGH_KG = 0.25, 15.0", "MASS_LOW_KG, MASS_HIGH_KG = 0.25, 1e9")),
    *_bugs("limits", _RULES + "talk.py", _TEST_LIMITS,
           ("if not 0 < minutes <= TIMER_MAX_MIN:", "if False:")),
    *_bugs("limits", _FOREIGN, _TEST_FOREIGN,
           ("if not one.at_s <= after.at_s <=", "if not after.at_s <="),
           ("(kind.done_mark_f, 215.0)", "(0.0, 215.0)"),
           ('_within("at_s", entry.at_s, (0.0, LATEST_S))', "pass"),
           ("if not text.isprintable():", "if False:"),
           ("_within(name, value, (1, MOST_BIRDS))", "pass")),
    *_bugs("memory", _SESSION, "tests/reliability/test_long_life.py -k day",
           ("        self._talk = take_in(self._talk, recorded)\n",
            "        self._talk = take_in(self._talk, recorded)\n"
            "        vars(self).setdefault('all', []).append(__import__('os').urandom(20000))\n")),
    # What comes from elsewhere.
    *_bugs("merge", "assistant/journal/reader.py", _TEST_FOREIGN,
           ("and cook.id not in foreign", "")),
    *_bugs("merge", _JSONL, _TEST_JSONL,
           ("    _check_whole(path, cook)\n", "    pass\n"),
           ("journal.merge_all((cook.info, cook.recorded) for cook in cooks)",
            "sum([journal.merge(cook.info, cook.recorded) for cook in cooks])")),
    *_bugs("merge", _STORE, _TEST_JSONL, ("if mine != theirs:", "if False:")),
    # Time, whatever the clock says.
    *_bugs("clock", _RULES + "away.py", _TEST_BACK,
           ("if gap_s < -BEHIND_S:", "if False:"), ("if gap_s > LONG_S:", "if False:"),
           ("boot == state.boot", "False"),
           ("boot is not None and boot == state.boot and", ""),
           ("away_s = 60.0 * minutes", "away_s = minutes")),
    *_bugs("clock", _SESSION, _TEST_BACK,
           ("self._clock.set_now(back.now_s)", "str(back.now_s)")),
    *_bugs("clock", "assistant/system/clock.py", "tests/system/test_clock.py",
           ("self._offset_s = now_s - since_boot()", "self._offset_s += 0.0")),
    # A reading that contradicts another counts, on the side of caution.
    *_bugs("doubt", _STATE, _TEST_DOUBTS,
           ("*(one.temperature_f for one in self.open_doubts)", ""),
           ("doubt.spot in later or", "True or")),
    *_bugs("doubt", _STATE, _TEST_FINISH,
           ("{*list(latest)[:2], *BOTH_SPOTS}", "{*list(latest)[:2]}")),
    *_bugs("doubt", _RULES + "doubts.py", _TEST_DOUBTS,
           ("found[key] = min(f, found.get(key, f))", "found[key] = f"),
           ('"number", "no"}', '"number", "no", "expired"}')),
    *_bugs("doubt", _RULES + "talk.py", _TEST_DOUBTS,
           ("bird, target.happened_s, confirmed=confirmed",
            "bird, target.happened_s, confirmed=True")),
    *_bugs("doubt", _RULES + "due_birds.py", _TEST_DOUBTS,
           ("doubt.at_s + REREAD_S", "doubt.at_s + 1e9")),
    # Never that food is safe, and "both spots" only where both were read.
    *_bugs("wording", _RULES + "finish.py", _TEST_FINISH,
           ("bird.done_mark_f and one.at_s >= since_s", "bird.done_mark_f"),
           ("for spot in BOTH_SPOTS if spot not in fresh",
            "for spot in BOTH_SPOTS if not fresh")),
    *_bugs("wording", _NAMING, _TEST_NAMES,
           ('return any(word.removeprefix("un").startswith(_CLAIMS) for word in words)',
            "return False"),
           ('word.removeprefix("un")', "word")),
    *_bugs("wording", _RULES + "birds.py", _TEST_NAMES, ('plain_name(sauce, "sauce")', "sauce")),
    *_bugs("wording", _RULES + "talk.py", _TEST_DOUBTS,
           ("if not_finished(state):", "if False:")),
    *_bugs("wording", "assistant/sentences/stops.py", _TEST_NAMES,
           (' at both spots"', ' at both spots: the food is completely safe"')),
)  # fmt: skip
