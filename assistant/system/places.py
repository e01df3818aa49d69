"""Where things lie on this computer."""

from pathlib import Path

import platformdirs


def data_folder() -> Path:
    """The user's data folder for Turnspit (`XDG_DATA_HOME` is honoured)."""
    return Path(platformdirs.user_data_dir("turnspit", appauthor=False))


def config_folder() -> Path:
    """The user's configuration folder for Turnspit (`XDG_CONFIG_HOME` is honoured)."""
    return Path(platformdirs.user_config_dir("turnspit", appauthor=False))


def journal_path() -> Path:
    """The journal's file."""
    return data_folder() / "journal.sqlite3"


def shipped(folder: str) -> Path:
    """A folder that comes with the program ("grammars", "demo_sessions"): inside the
    installed package, or beside it in a checkout."""
    installed = Path(__file__).parents[1] / "_data" / folder
    return installed if installed.is_dir() else Path(__file__).parents[2] / folder
