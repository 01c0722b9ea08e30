"""Its place makes the helpers in this folder importable by name from every test; the settings are its own."""

from __future__ import annotations

import signal
from collections.abc import Iterator

import pytest
from random_runs import register_profiles

from templates_engine.user_folder import OVERRIDE

register_profiles()


@pytest.hookimpl(tryfirst=True)
def pytest_cmdline_main(config: pytest.Config) -> None:
    """Where tests run beside each other, a core that is done takes some from the other."""
    if getattr(config.option, "numprocesses", None) and config.option.dist == "no":
        config.option.dist = "worksteal"


@pytest.fixture(scope="session", autouse=True)
def no_settings_of_this_machine(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Tests read an empty settings folder, whatever shop file or printers this machine has."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(OVERRIDE, str(tmp_path_factory.mktemp("settings")))
        yield


@pytest.fixture(scope="session", autouse=True)
def programs_started_take_ctrl_c() -> Iterator[None]:
    """A suite run in the background ignores Ctrl-C, and what it starts would do so too."""
    before = signal.getsignal(signal.SIGINT)
    if before is signal.SIG_IGN:
        signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)
