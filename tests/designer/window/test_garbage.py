"""Garbage is searched for in the thread of the windows alone."""

import gc
import threading

import pytest
from PySide6.QtCore import QObject

from designer.window.garbage import GarbageSearch


class Loop:
    def __init__(self):
        self.itself, self.children = self, []


@pytest.fixture
def threads():
    """Those that searched for garbage."""
    seen = set()

    def note(phase, _told):
        seen.add(threading.current_thread())

    gc.callbacks.append(note)
    yield seen
    gc.callbacks.remove(note)


def make_garbage():
    for _ in range(3 * gc.get_threshold()[0]):
        Loop()


def test_a_worker_never_searches_and_the_window_does(qtbot, threads):
    parent = QObject()
    search = GarbageSearch(parent)
    worker = threading.Thread(target=make_garbage)
    worker.start()
    worker.join()
    assert worker not in threads
    threads.clear()
    search.look()
    assert threads == {threading.main_thread()} and gc.get_count()[0] < gc.get_threshold()[0]


def test_without_it_python_searches_again(qtbot, threads):
    gc.enable()
    parent = QObject()
    GarbageSearch(parent)
    assert not gc.isenabled()
    del parent
    assert gc.isenabled()
    make_garbage()
    gc.disable()
    assert threads


def test_the_application_has_one(qapp):
    from designer.window.start import application

    assert application() is qapp and qapp.findChildren(GarbageSearch) and not gc.isenabled()
