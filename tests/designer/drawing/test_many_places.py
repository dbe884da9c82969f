"""Many places looked at together are judged as each is alone."""

import numpy as np
import pytest

from designer.drawing.placing import Occupied


def crowded(rng):
    taken = Occupied()
    for _ in range(rng.integers(0, 9)):
        taken.take_circle(tuple(rng.uniform(0, 1000, 2)), rng.uniform(5, 60))
    for _ in range(rng.integers(0, 9)):
        x, y, wide, high = rng.uniform(0, 1000, 4)
        taken.take_box((x, y, x + wide / 5, y + high / 5))
    for _ in range(rng.integers(0, 9)):
        ends = rng.uniform(0, 1000, (2, 2))
        if rng.random() < 0.5:
            # along one of the axes, as most measurements lie
            ends[1, rng.integers(2)] = ends[0, 0]
        taken.take_line([tuple(end) for end in ends])
    return taken


@pytest.mark.parametrize("seed", range(20))
def test_together_as_alone(seed):
    rng = np.random.default_rng(seed)
    taken, radius = crowded(rng), rng.uniform(5, 60)
    places = rng.uniform(0, 1000, (80, 2))
    boxes = np.column_stack((places, places + rng.uniform(5, 200, (80, 2))))
    alone = [taken.box_is_free(tuple(box)) for box in boxes]
    assert taken._free(boxes, None).tolist() == alone
    discs = np.column_stack((places - radius, places + radius))
    alone = [taken.circle_is_free(tuple(at), radius) for at in places]
    assert taken._free(discs, radius).tolist() == alone
