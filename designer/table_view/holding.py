"""A distance typed while a ball is in hand: it is then held that far from a cushion."""

from __future__ import annotations

from dataclasses import dataclass, field

from designer.texts import tr
from designer.words.names import cushion_name
from engine.tables import Table
from engine.units import LengthUnit

Point = tuple[float, float]

MM_PER_INCH = 25.4
_LOW, _HIGH = ("left", "bottom"), ("right", "top")


@dataclass
class Holding:
    """What has been typed, along which axis (0 is across), and what is held already.

    The cushion is the nearest of that axis when the first figure is typed. `next_axis` keeps
    what was typed and goes on to the other axis.
    """

    unit: LengthUnit = "mm"
    typed: str = ""
    axis: int = 0
    _from_high: bool = False
    _held: dict[int, tuple[float, bool]] = field(default_factory=dict)

    def type(self, figure: str, start: Point, now: Point, table: Table) -> None:
        """Take one more figure or point; the first fixes axis and cushion."""
        if not self.typed and self.axis not in self._held:
            if not self._held:
                moved = (abs(now[0] - start[0]), abs(now[1] - start[1]))
                self.axis = 0 if moved[0] >= moved[1] else 1
            self._choose_cushion(now, table)
        figure = "." if figure == "," else figure
        if figure != "." or "." not in self.typed:
            self.typed += figure

    def take_back(self) -> None:
        """Take the last figure back."""
        self.typed = self.typed[:-1]

    def next_axis(self, now: Point, table: Table) -> None:
        """Keep what was typed; the next figures are for the other axis."""
        value = self._typed_mm()
        if value is not None:
            self._held[self.axis] = (value, self._from_high)
        self.typed = ""
        self.axis = 1 - self.axis
        self._choose_cushion(now, table)

    @property
    def is_empty(self) -> bool:
        """Whether nothing is held."""
        return not self.typed and not self._held

    def place(self, wanted: Point, table: Table) -> Point:
        """The wanted place with what is held, mm."""
        held = dict(self._held)
        value = self._typed_mm()
        if value is not None:
            held[self.axis] = (value, self._from_high)
        place = list(wanted)
        for axis, (distance, from_high) in held.items():
            size = table.length_mm if axis else table.width_mm
            place[axis] = size - distance if from_high else distance
        return (place[0], place[1])

    def words(self) -> str:
        """What is held, for the coach: "250 mm from the left cushion"."""
        told = [self._told(axis, f"{value:g}", high) for axis, (value, high) in self._held.items()]
        if self.typed:
            told.append(self._told(self.axis, self.typed, self._from_high, self.unit))
        return ", ".join(told)

    @staticmethod
    def _told(axis: int, value: str, high: bool, unit: str = "mm") -> str:
        cushion = cushion_name((_HIGH if high else _LOW)[axis])
        return tr("{value} {unit} from the {cushion}", value=value, unit=unit, cushion=cushion)

    def _choose_cushion(self, now: Point, table: Table) -> None:
        size = table.length_mm if self.axis else table.width_mm
        self._from_high = now[self.axis] > size / 2

    def _typed_mm(self) -> float | None:
        try:
            value = float(self.typed)
        except ValueError:
            return None
        return value * (MM_PER_INCH if self.unit == "inch" else 1.0)
