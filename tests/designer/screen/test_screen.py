"""Is there a screen, and which system libraries are missing?"""

from __future__ import annotations

import sys
from importlib.util import find_spec
from pathlib import Path

import pytest

from designer.screen import (
    find_screen,
    libraries,
    missing_libraries,
    missing_text,
    packages_of,
    provide,
)
from designer.setup_here import system_packages


@pytest.mark.parametrize(
    ("env", "platform", "answers", "present", "way"),
    [
        ({}, "linux", True, False, "system"),
        ({"DISPLAY": ""}, "linux", True, False, "system"),
        ({"DISPLAY": ":0"}, "linux", True, True, "x11"),
        ({"DISPLAY": ":0"}, "linux", False, False, "system"),
        ({"WAYLAND_DISPLAY": "wayland-0"}, "linux", True, True, "wayland"),
        ({"DISPLAY": ":0", "WAYLAND_DISPLAY": "wayland-0"}, "linux", False, True, "wayland"),
        ({"DISPLAY": ":0", "BAIZEWRIGHT_SCREEN": "no"}, "linux", True, False, "system"),
        ({"DISPLAY": ":0", "BAIZEWRIGHT_SCREEN": "yes"}, "linux", False, True, "x11"),
        ({}, "darwin", False, True, "system"),
        ({}, "win32", False, True, "system"),
        ({"BAIZEWRIGHT_SCREEN": "no"}, "win32", False, False, "system"),
    ],
)
def test_screen(env, platform, answers, present, way):
    screen = find_screen(env, platform, lambda: answers)
    assert (screen.present, screen.way) == (present, way)
    assert screen.reason


@pytest.mark.skipif(sys.platform != "linux", reason="X displays are Linux's")
def test_a_display_nobody_serves_is_no_screen(monkeypatch):
    monkeypatch.setenv("DISPLAY", ":4711")
    if not libraries.loads("libxcb.so.1"):
        pytest.skip("no library to ask with")
    screen = find_screen({"DISPLAY": ":4711"})
    assert not screen.present
    assert ":4711" in screen.reason


def test_exactly_the_missing_ones_are_named(monkeypatch):
    gone = {"libxcb-cursor.so.0", "libxcb-icccm.so.4", "libgthread-2.0.so.0", "libglib-2.0.so.0"}
    missing = missing_libraries("x11", lambda name: name not in gone, "linux")
    assert set(missing) == gone
    monkeypatch.setattr(provide.shutil, "which", lambda _: "/usr/bin/apt-get")
    monkeypatch.setattr(system_packages.os, "geteuid", lambda: 1000, raising=False)
    text = missing_text(missing)
    assert text.endswith("sudo apt-get install -y libglib2.0-0 libxcb-cursor0 libxcb-icccm4")


def test_without_apt_the_files_are_named_too(monkeypatch):
    monkeypatch.setattr(provide.shutil, "which", lambda _: None)
    text = missing_text(["libEGL.so.1"])
    assert "libEGL.so.1" in text and "libegl1" in text and "apt-get" not in text


def test_wayland_and_offscreen_need_no_x11_library():
    assert missing_libraries("wayland", lambda name: "xcb" not in name, "linux") == ()
    assert missing_libraries("offscreen", lambda name: "xcb" not in name, "linux") == ()


def test_other_systems_bring_their_own():
    assert missing_libraries("x11", lambda _: False, "darwin") == ()
    assert missing_libraries("system", lambda _: False, "linux") == ()


def test_root_gets_them_installed(monkeypatch):
    there: set[str] = set()
    monkeypatch.setattr(
        provide,
        "missing_libraries",
        lambda way: missing_libraries(way, lambda name: name in there, "linux"),
    )
    monkeypatch.setattr(system_packages, "may_install", lambda: True)
    asked = []

    def install(packages, why):
        asked.extend(packages)
        there.update(libraries.PACKAGES)

    monkeypatch.setattr(system_packages, "install", install)
    assert provide.provide_libraries("x11") == ()
    assert "libxcb-keysyms1" in asked and "libwayland-client0" not in asked


RUN_TIME = {"libc.so.6", "libm.so.6", "libstdc++.so.6", "libgcc_s.so.1", "ld-linux-x86-64.so.2"}
RUN_TIME |= {"libpthread.so.0", "libdl.so.2", "librt.so.1", "ld-linux-aarch64.so.1"}


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux leaves them to the system")
@pytest.mark.parametrize(
    ("way", "plugin"),
    [("x11", "libqxcb.so"), ("offscreen", "libqoffscreen.so"), ("wayland", "libqwayland*.so")],
)
def test_the_lists_hold_all_that_qts_own_files_ask_for(way, plugin):
    """Follow the requests from the plugin and the widgets through Qt's own folder."""
    import importlib.util

    reader = Path(__file__).with_name("elf.py")
    spec = importlib.util.spec_from_file_location("elf_reader", reader)
    elf = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(elf)

    qt = Path(find_spec("PySide6").origin).parent / "Qt"
    waiting = [*(qt / "plugins/platforms").glob(plugin), qt / "lib/libQt6Widgets.so.6"]
    assert len(waiting) >= 2
    seen, asked = set(), set()
    while waiting:
        file = waiting.pop()
        if file in seen:
            continue
        seen.add(file)
        for name in elf.needed(file):
            own = qt / "lib" / name
            if own.exists():
                waiting.append(own)
            else:
                asked.add(name)
    assert "libEGL.so.1" in asked
    assert asked - RUN_TIME <= set(libraries.WAYS[way])
    assert packages_of(sorted(asked - RUN_TIME))
