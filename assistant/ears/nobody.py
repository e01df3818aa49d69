"""In the place of a first listener where none is installed."""

from assistant.system.child import ChildError


class Nobody:
    """Never free, never answers: the second listener then listens alone."""

    arguments: tuple[object, ...] = ()

    def is_free(self) -> bool:
        """Whether it could take sound: never."""
        return False

    def begin(self, *_: object) -> None:
        """Raises ChildError."""
        raise ChildError("no first listener is installed")

    call = begin

    def end(self, *_: object) -> None:
        """Raises ChildError."""
        raise ChildError("no first listener is installed")

    def leave(self) -> None:
        """Nothing is being done."""

    def close(self) -> None:
        """Nothing runs."""
