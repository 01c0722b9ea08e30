"""Its place makes the helpers in this folder importable by name from every test; the settings are its own."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from templates_engine.user_folder import OVERRIDE


@pytest.fixture(scope="session", autouse=True)
def no_settings_of_this_machine(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Tests read an empty settings folder, whatever shop file or printers this machine has."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(OVERRIDE, str(tmp_path_factory.mktemp("settings")))
        yield
