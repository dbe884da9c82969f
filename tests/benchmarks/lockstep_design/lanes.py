"""Lock-step design: shots under way side by side, an event of each in every iteration."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from engine.shot.contacts import part_group
from engine.shot.kernel import INSTANT
from engine.shot.layout import (
    AX,
    BALL_COLUMNS,
    C_I,
    C_J,
    CONTACT_COLUMNS,
    END,
    F_AXIS,
    F_IN,
    FALLS,
    HIT_CUSHION,
    HIT_JAW,
    PHASE,
    POTTED,
    QY,
    ROLLING,
    SLIDING,
    VX,
    WORK_COLUMNS,
    WZ,
    X,
    Y,
)  # fmt: skip
from engine.shot.play import MOST_EVENTS
from tests.benchmarks.lockstep_design.cloth import advance, begin, finish
from tests.benchmarks.lockstep_design.impacts import part_cushions, part_pairs
from tests.benchmarks.lockstep_design.meetings import Surroundings, lean, own_meetings, pair_times

#: Lanes are filled anew, or packed, once this share of their shots has finished.
IDLE = 0.05


@dataclass(frozen=True, slots=True)
class Ends:
    """What N shots with n balls came to: rests (N, n, 2), pocket index or −1, seconds, events."""

    rests_mm: np.ndarray
    potted: np.ndarray
    durations_s: np.ndarray
    events: np.ndarray


class Lanes:
    """Shots under way: state (BALL_COLUMNS, n, lanes) and the next meetings of each."""

    def __init__(
        self, opening: Callable[[int, int], np.ndarray], waiting: range, lanes: int,
        c: np.ndarray, around: Surroundings, ends: Ends,
    ) -> None:  # fmt: skip
        self.opening, self.c, self.around, self.ends = opening, c, around, ends
        lanes = min(lanes, len(waiting))
        self.waiting = waiting[lanes:]
        self.state = opening(waiting.start, waiting.start + lanes)
        self.n = n = self.state.shape[1]
        pairs = [(i, j) for i in range(n) for j in range(i + 1, n)]
        self.first, self.second = (np.array(p, dtype=np.int64) for p in zip(*pairs, strict=True))
        # rows of `when`: each ball's own meeting, then its pairs with later balls
        self.own_row = np.array([i * n - i * (i - 1) // 2 for i in range(n)])
        self.pair_row = self.own_row[self.first] + self.second - self.first
        rows = n + len(pairs)
        self.row_ball, self.row_pair = np.full(rows, -1), np.full(rows, -1)
        self.row_ball[self.own_row] = np.arange(n)
        self.row_pair[self.pair_row] = np.arange(len(pairs))
        self.when = np.full((rows, lanes), np.inf)
        self.cause = np.zeros((n, lanes), dtype=np.int64)
        self.index = np.zeros((n, lanes), dtype=np.int64)
        self.changed = np.ones((n, lanes), dtype=bool)
        self.now = np.zeros(lanes)
        self.events = np.zeros(lanes, dtype=np.int64)
        self.shot = np.arange(waiting.start, waiting.start + lanes)

    def play(self) -> None:
        """Go from event to event until every shot has ended or met the event limit."""
        while len(self.now):
            self._look()
            first = self.when.min(axis=0)
            live = (first < np.inf) & (self.events < MOST_EVENTS)
            if live.mean() <= 1.0 - IDLE or not live.any():
                self._keep_ended(~live)
                if len(self.waiting):
                    self._fill(np.flatnonzero(~live))
                    continue
                self._pack(live)
                first, live = first[live], live[live]
            which = (self.when == first).argmax(axis=0)
            self.now = np.where(live, np.maximum(self.now, first), self.now)
            self.events += live
            self._own_events(np.flatnonzero(live & (self.row_ball[which] >= 0)), which)
            self._contacts(np.flatnonzero(live & (self.row_pair[which] >= 0)), which)

    def _look(self) -> None:
        """Find the meetings of what has changed."""
        count = len(self.now)
        flat = self.state.reshape(BALL_COLUMNS, -1)
        phase = self.state[PHASE]
        moving = (phase == SLIDING) | (phase == ROLLING)
        for i in range(self.n):
            self.when[self.own_row[i], self.changed[i]] = np.inf
        ball, shot = np.nonzero(self.changed & moving)
        time, cause, index = own_meetings(flat[:, ball * count + shot], self.around)
        self.when[self.own_row[ball], shot] = time
        self.cause[ball, shot], self.index[ball, shot] = cause, index
        anew = self.changed[self.first] | self.changed[self.second]
        pair, shot = np.nonzero(anew)
        self.when[self.pair_row[pair], shot] = np.inf
        on_table = phase != POTTED
        anew &= moving[self.first] | moving[self.second]
        anew &= on_table[self.first] & on_table[self.second]
        pair, shot = np.nonzero(anew)
        self.when[self.pair_row[pair], shot] = pair_times(
            flat, self.first[pair] * count + shot, self.second[pair] * count + shot, self.now[shot]
        )
        self.changed[:] = False

    def _own_events(self, shot: np.ndarray, which: np.ndarray) -> None:
        """Cushions, jaws, falls and ends of segments, one in each of the shots."""
        if not len(shot):
            return
        ball = self.row_ball[which[shot]]
        at = ball * len(self.now) + shot
        flat = self.state.reshape(BALL_COLUMNS, -1)
        b = advance(flat, at, self.now[shot], self.c)
        cause, index = self.cause[ball, shot], self.index[ball, shot]
        fallen = cause == FALLS
        hit = np.flatnonzero((cause == HIT_CUSHION) | (cause == HIT_JAW))
        if len(hit):
            rows = b[:, hit]
            nx, ny = self._ways(rows, cause[hit], index[hit])
            part_cushions(rows, nx, ny, self.c)
            b[:, hit] = rows
        finish(b, cause == 0, self.c)
        begin(b, self.c)
        if fallen.any():
            b[VX : WZ + 1, fallen] = 0.0
            b[AX : QY + 1, fallen] = 0.0
            b[PHASE, fallen], b[END, fallen] = POTTED, np.inf
            self.ends.potted[self.shot[shot[fallen]], ball[fallen]] = index[fallen]
        lean(b, self.around)
        flat[:, at] = b
        self.changed[ball, shot] = True

    def _ways(
        self, b: np.ndarray, cause: np.ndarray, index: np.ndarray
    ) -> tuple[np.ndarray, np.ndarray]:
        """Unit ways into the cushion or jaw each row meets."""
        on_face = cause == HIT_CUSHION
        face = self.around.faces[np.where(on_face, index, 0)]
        across = face[:, F_AXIS] == 0.0
        nx = np.where(across, -face[:, F_IN], 0.0)
        ny = np.where(across, 0.0, -face[:, F_IN])
        if on_face.all():
            return nx, ny
        jaw = self.around.jaws[np.where(on_face, 0, index)]
        px, py = jaw[:, 0] - b[X], jaw[:, 1] - b[Y]
        far = np.sqrt(px * px + py * py)
        return np.where(on_face, nx, px / far), np.where(on_face, ny, py / far)

    def _contacts(self, shot: np.ndarray, which: np.ndarray) -> None:
        """Ball-to-ball contacts, one in each of the shots."""
        if not len(shot):
            return
        near = self.when[self.pair_row][:, shot] <= self.now[shot] + INSTANT
        several = near.sum(axis=0) > 1
        for one in shot[several]:
            self._group(one, int(self.row_pair[which[one]]))
        shot = shot[~several]
        pair = self.row_pair[which[shot]]
        flat = self.state.reshape(BALL_COLUMNS, -1)
        balls = (self.first[pair], self.second[pair])
        rows = [advance(flat, k * len(self.now) + shot, self.now[shot], self.c) for k in balls]
        part_pairs(rows[0], rows[1], self.c)
        for ball, b in zip(balls, rows, strict=True):
            begin(b, self.c)
            lean(b, self.around)
            flat[:, ball * len(self.now) + shot] = b
            self.changed[ball, shot] = True

    def _group(self, shot: int, pair: int) -> None:
        """Several contacts in one instant, of one shot: those joined to `pair`, together."""
        near = np.flatnonzero(self.when[self.pair_row, shot] <= self.now[shot] + INSTANT)
        joined = {int(self.first[pair]), int(self.second[pair])}
        while True:
            held = [k for k in near if self.first[k] in joined or self.second[k] in joined]
            balls = joined.union(*({int(self.first[k]), int(self.second[k])} for k in held))
            if balls == joined:
                break
            joined = balls
        members = np.array(sorted(joined))
        state = self.state[:, :, shot]
        b = advance(state, members, np.full(len(members), self.now[shot]), self.c)
        rows = np.ascontiguousarray(b.T)
        place = {ball: row for row, ball in enumerate(members.tolist())}
        contacts = np.zeros((len(held), CONTACT_COLUMNS))
        for row, k in zip(contacts, held, strict=True):
            row[[C_I, C_J]] = place[int(self.first[k])], place[int(self.second[k])]
        part_group(rows, contacts, len(held), self.c, np.zeros((len(rows), WORK_COLUMNS)))
        b = np.ascontiguousarray(rows.T)
        begin(b, self.c)
        lean(b, self.around)
        state[:, members] = b
        self.changed[members, shot] = True

    def _keep_ended(self, ended: np.ndarray) -> None:
        """Write the results of the ended shots."""
        shot = self.shot[ended]
        self.ends.rests_mm[shot] = self.state[X : Y + 1][:, :, ended].transpose(2, 1, 0)
        self.ends.durations_s[shot] = self.now[ended]
        self.ends.events[shot] = self.events[ended]

    def _fill(self, idle: np.ndarray) -> None:
        """Give waiting shots the idle lanes."""
        idle = idle[: len(self.waiting)]
        start = self.waiting.start
        self.waiting = self.waiting[len(idle) :]
        self.state[:, :, idle] = self.opening(start, start + len(idle))
        self.when[:, idle] = np.inf
        self.changed[:, idle] = True
        self.now[idle], self.events[idle] = 0.0, 0
        self.shot[idle] = np.arange(start, start + len(idle))

    def _pack(self, live: np.ndarray) -> None:
        """Drop the lanes whose shots have ended."""
        self.state = np.ascontiguousarray(self.state[:, :, live])
        self.when, self.changed = self.when[:, live], self.changed[:, live]
        self.cause, self.index = self.cause[:, live], self.index[:, live]
        self.now, self.events, self.shot = self.now[live], self.events[live], self.shot[live]
