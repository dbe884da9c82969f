"""News from threads for parts of a window that are taken apart meanwhile."""

import threading
import time

from PySide6.QtCore import QCoreApplication, QEvent, QObject

from designer.open_routine.messenger import Messenger
from designer.open_routine.task import Task


class Part(QObject):
    def __init__(self):
        super().__init__()
        self.heard = []
        self.messenger = Messenger(self.hear)

    def hear(self, *news):
        self.heard.append((threading.current_thread() is threading.main_thread(), news))


def test_news_come_later_and_in_the_windows_thread(qtbot):
    part = Part()
    part.messenger.tell(1, "a")
    assert part.heard == []
    worker = threading.Thread(target=part.messenger.tell, args=(2, "b"))
    worker.start()
    worker.join()
    qtbot.waitUntil(lambda: len(part.heard) == 2)
    assert part.heard == [(True, (1, "a")), (True, (2, "b"))]


def test_parts_are_taken_apart_while_work_tells_of_itself(qtbot):
    """Each ends in the midst of news from its thread: the program goes on."""
    ended = []

    def work(progress):
        while progress(0.5):
            time.sleep(0)
        ended.append(True)

    for number in range(40):
        task = Task()
        heard = []
        task.progressed.connect(heard.append)
        assert task.start(work)
        qtbot.waitUntil(lambda heard=heard: bool(heard))
        if number % 2:
            task.close()
        else:
            task.call_off()
        task.deleteLater()
        QCoreApplication.sendPostedEvents(task, QEvent.Type.DeferredDelete)
    qtbot.waitUntil(lambda: len(ended) == 40)
