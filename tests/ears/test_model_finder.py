"""Where a Vosk model may lie, and the one line that says why one will not do."""

from pathlib import Path

import pytest

from assistant.ears.vosk import model_finder
from assistant.ears.vosk.model_finder import NAME_VARIABLE, check_folder, find_vosk_model


def model(folder: Path, *files: str) -> Path:
    for name in files:
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(b"")
    return folder


COMPLETE = ("am/final.mdl", "graph/HCLr.fst", "graph/Gr.fst")


def test_a_dynamic_graph_will_do(tmp_path: Path) -> None:
    assert check_folder(model(tmp_path / "m", *COMPLETE)).trouble is None


@pytest.mark.parametrize(
    ("files", "expected"),
    [
        ((), "no such folder"),
        (("README",), "no final.mdl"),
        (("am/final.mdl", "graph/HCLG.fst"), "no HCLr.fst and Gr.fst"),
        (("am/final.mdl", "graph/HCLr.fst"), "no Gr.fst"),
    ],
)
def test_what_is_lacking_is_one_line(tmp_path: Path, files: tuple[str, ...], expected: str) -> None:
    trouble = check_folder(model(tmp_path / "m", *files)).trouble
    assert trouble is not None
    assert expected in trouble
    assert "\n" not in trouble


def test_the_first_good_model_of_all_places_is_taken(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv(NAME_VARIABLE, raising=False)
    monkeypatch.setattr(model_finder, "places", lambda: (tmp_path / "a", tmp_path / "b"))
    assert find_vosk_model() is None
    model(tmp_path / "a" / "vosk-model-en-large", "am/final.mdl", "graph/HCLG.fst")
    found = find_vosk_model()
    assert found is not None
    assert found.trouble is not None
    good = model(tmp_path / "b" / "vosk-model-small-en-us-0.15", *COMPLETE)
    found = find_vosk_model()
    assert found is not None
    assert (found.path, found.trouble) == (good, None)


def test_a_named_folder_comes_before_all_places(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(NAME_VARIABLE, str(tmp_path / "mine"))
    found = find_vosk_model()
    assert found is not None
    assert found.path == tmp_path / "mine"
    assert found.trouble is not None
