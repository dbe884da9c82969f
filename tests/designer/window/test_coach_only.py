"""What a coach writes for the coach's sheet alone reaches no pupil by any way out of the program.

The note of a shot and the notes of the routine carry words found nowhere else; every output a
pupil is shown is read for them, and must be the same without them.
"""

import io
from dataclasses import replace

import pypdf
import pytest
from PySide6.QtWidgets import QWidget

from designer.drawing import Layers, build_drawing
from designer.exporting.diagram import diagram_bytes
from designer.exporting.film import film_bytes
from designer.handouts import handout_pdf
from designer.handouts.plan import lesson_plan_pdf
from designer.lesson.lesson import Lesson
from designer.open_routine.player import FASTEST
from designer.overlay import photo_drawing
from engine.answers import answer
from engine.photo import fit_camera
from engine.plans import lesson_plan_of
from engine.routine.values import Shot
from engine.storage import Plan, PlanItem
from tests.designer.handouts.test_players_secrets import MADE, strings_of
from tests.designer.pdf_pages import page_texts
from tests.engine.photo.cases import TABLE, plain_case
from tests.engine.photo.darkroom import Lens, Pose
from tests.shares import share

NOTE, NOTES, TITLE = "Quokka, for the coach", "Zeppelin, of the routine", "Narwhal by screw"
SECRETS = ("quokka", "zeppelin")
ON_PAPER = [("full", "none"), ("full", "upside-down"), ("full", "last-page"),
            ("steps", "none"), ("record", "none"), ("card", "none"), ("strip", "none")]  # fmt: skip


@pytest.fixture
def routine(routine):
    """The blue with its words, then a shot that asks nothing and one that cannot be played."""
    (shot,) = routine.shots
    near = replace(routine.ball("red-2"), x_mm=1240.0, y_mm=1250.0)
    lanes = shot.lanes
    return replace(
        routine,
        balls=tuple(near if ball.id == near.id else ball for ball in routine.balls),
        shots=(
            replace(shot, question="Which way off the blue?", answer="Screw it.", note=NOTE),
            Shot("aimed", aim_deg=60.0, lanes=lanes, title=TITLE, note=NOTE),
            Shot("no-cut", "black", "bottom-left", lanes=lanes, title=TITLE, note=NOTE),
        ),
        notes=NOTES,
    )


def without(routine):
    """The same routine with nothing written for the coach alone."""
    shots = tuple(replace(shot, note="") for shot in routine.shots)
    return replace(routine, shots=shots, notes="")


def untold(text, secrets=SECRETS):
    return not [secret for secret in secrets if secret in text.lower()]


def words_of(widget):
    """Every text of a window that is shown, spoken or told by a tip."""
    told = []
    for part in [widget, *widget.findChildren(QWidget)]:
        told += [part.accessibleName(), part.accessibleDescription(), part.toolTip()]
        told += [part.windowTitle(), part.statusTip(), part.whatsThis()]
        told.append(part.text() if hasattr(part, "text") else "")
    return " ".join(told)


def words_in(data):
    """Every text of a PDF file: its pages, its outline, its structure and what is told of it."""
    reader = pypdf.PdfReader(io.BytesIO(data))
    told = [str(value) for value in (reader.metadata or {}).values()]
    return " ".join([*page_texts(data), *told, *strings_of(reader.trailer["/Root"])])


def test_the_lesson_never_tells_it(qtbot, window, session):
    session.show_shot(session.routine.shots[0].id)
    lesson = window.begin_lesson()
    assert isinstance(lesson, Lesson)
    for step in range(3):
        assert lesson.number == step + 1
        assert untold(words_of(lesson), (*SECRETS, "narwhal", "screw"))
        for _ in range(max(len(lesson.asked.order), 1)):
            lesson.play_next()
            assert untold(words_of(lesson)), "not with a lane either"
        lesson.play_next()
        assert untold(words_of(lesson)), "not with the answer either"
        assert lesson.asked.is_done and lesson.verdict.text()
        lesson.go(1)
    lesson.close()


@pytest.mark.parametrize(("sheet", "answers"), share(ON_PAPER, 4))
@pytest.mark.slow
def test_no_sheet_of_a_player_tells_it(routine, sheet, answers):
    found = answer(routine)
    made, bare = (
        handout_pdf([(one, found)], "a4", "player", made_at=MADE, sheet=sheet, answers=answers,
                    booklet=True)
        for one in (routine, without(routine))
    )  # fmt: skip
    assert untold(words_in(made)) and made == bare


@pytest.mark.slow
def test_the_booklet_of_a_plan_for_players_does_not_tell_it(routine):
    plan = Plan("Tuesday", "2026-04-07", "Maren Tolliver", "Pace.", (PlanItem("a.json"),))
    made, bare = (
        lesson_plan_pdf(lesson_plan_of(plan, [one]), [answer(one)], "a4", "player", made_at=MADE)
        for one in (routine, without(routine))
    )
    assert untold(words_in(made)) and made == bare


@pytest.mark.slow
def test_the_coachs_sheet_does_tell_it(routine):
    told = words_in(handout_pdf([(routine, answer(routine))], made_at=MADE)).lower()
    assert all(secret in told for secret in SECRETS)


@pytest.mark.parametrize("ending", [".svg", ".png", ".pdf"])
@pytest.mark.slow
def test_no_exported_picture_tells_it(make_session, routine, ending):
    made, bare = (diagram_bytes(make_session(one), ending) for one in (routine, without(routine)))
    text = words_in(made) if ending == ".pdf" else made.decode("latin-1")
    assert untold(text)
    if ending != ".pdf":  # a PDF carries the time it was made
        assert made == bare


def test_no_film_tells_it(make_session, routine):
    films = []
    for one in (routine, without(routine)):
        session = make_session(one)
        session.player.speed = FASTEST
        assert session.player.open()
        films.append(film_bytes(session, ".gif", 160))
    assert untold(films[0].decode("latin-1")) and films[0] == films[1]


@pytest.mark.slow
def test_no_drawing_tells_it_on_the_table_or_over_a_photograph(routine):
    found = answer(routine)
    camera = fit_camera(TABLE, plain_case(Pose((900, 4700, 1500), (900, 1700, 0), (1200, 1600),
                                               26.0, 0.0, Lens()))).camera  # fmt: skip
    for shot in routine.shots:
        drawn = build_drawing(routine, found, Layers(), "mm", shot=shot.id)
        assert untold(repr(drawn))
        assert repr(drawn) == repr(build_drawing(without(routine), found, Layers(), "mm",
                                                 shot=shot.id))  # fmt: skip
        assert untold(repr(photo_drawing(routine, found, camera, shot=shot.id)))
