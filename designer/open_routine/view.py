"""How the routine is shown: layers, unit, and which way the table lies on the screen."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace

from designer.drawing.layers import ALL_BUT_MEASUREMENTS, Layers
from designer.texts import mark
from engine.units import LengthUnit


@dataclass(frozen=True, slots=True)
class View:
    """What the coach has chosen to see. `turned` lays the table on its side, baulk on the left;
    `far` shows it from the top end instead of from baulk."""

    layers: Layers = ALL_BUT_MEASUREMENTS
    unit: LengthUnit = "mm"
    turned: bool = True
    far: bool = False

    def with_layer(self, name: str, on: bool) -> View:
        """The same view with one layer switched."""
        return replace(self, layers=replace(self.layers, **{name: on}))


@dataclass(frozen=True, slots=True)
class LayerSwitch:
    """One switch a coach sees, and the layers it turns on and off together.

    It is on when the first of them is: the others can be switched by themselves as well.
    """

    text: str
    names: tuple[str, ...]

    def is_on(self, layers: Layers) -> bool:
        """Whether the layer it is named after is on."""
        return bool(getattr(layers, self.names[0]))


SWITCHES: tuple[LayerSwitch, ...] = (
    LayerSwitch(mark("Lanes"), ("lanes", "corridors", "letters")),
    LayerSwitch(mark("Corridors"), ("corridors",)),
    LayerSwitch(mark("Lane letters"), ("letters",)),
    LayerSwitch(mark("How far lanes may stray"), ("bands",)),
    LayerSwitch(mark("Potting line"), ("potting_line",)),
    LayerSwitch(mark("90-degree line"), ("ninety_line",)),
    LayerSwitch(mark("Contact ball"), ("contact",)),
    LayerSwitch(mark("Gaps"), ("gaps", "verdicts")),
    LayerSwitch(mark("Gap verdicts"), ("verdicts",)),
    LayerSwitch(mark("Measurements"), ("measurements",)),
    LayerSwitch(mark("Ball letters"), ("ball_letters",)),
    LayerSwitch(mark("Table marks"), ("marks",)),
    LayerSwitch(mark("Cloth marks"), ("cloth_marks",)),
)

_LAYER_NAMES = frozenset(field.name for field in fields(Layers))


def layers_off(layers: Layers) -> list[str]:
    """Names of layers that differ from what the designer shows at first, for keeping."""
    return [
        name for name in sorted(_LAYER_NAMES) if getattr(layers, name) != getattr(Layers(), name)
    ]


def layers_from(changed: list[str]) -> Layers:
    """The layers with these switched the other way than at first; unknown names are ignored."""
    known = {name: not getattr(Layers(), name) for name in changed if name in _LAYER_NAMES}
    return replace(Layers(), **known)
