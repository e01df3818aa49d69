"""The console display: what a cook needs at a glance, readable from two metres."""

from assistant.board.display import Board, Display, PlainBoard, open_display
from assistant.board.layout import render
from assistant.board.status_file import StatusFile
from assistant.board.view import BoardView, Due

__all__ = [
    "Board",
    "BoardView",
    "Display",
    "Due",
    "PlainBoard",
    "StatusFile",
    "open_display",
    "render",
]
