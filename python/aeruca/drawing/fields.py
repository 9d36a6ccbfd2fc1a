"""Drawings (matplotlib is imported inside, so that the rest works without it)."""

from __future__ import annotations

import textwrap
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from .. import _core
from ..display import sentence_text, species_mathtext

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from ..drawn_fields import DrawnFields

_INK = "#2b2b2b"
_WATER = "#eef2f4"  # dissolved copper: paper with a breath of blue
_PLAIN_SOLID = "#c9c3b5"
_WATER_LINE = "#3c6e8f"

Colour = tuple[float, float, float]


def require_matplotlib() -> Any:
    """Return matplotlib, or say how to get it."""
    try:
        import matplotlib as mpl
    except ImportError as problem:
        message = "drawing needs matplotlib; install it with: pip install matplotlib"
        raise ImportError(message) from problem
    return mpl


def luminance(colour: Colour) -> float:
    """Relative luminance of an sRGB colour, 0 black to 1 white (IEC 61966-2-1)."""
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in colour]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(a: Colour, b: Colour) -> float:
    """Contrast ratio of two colours, 1 to 21: what is left for an eye without hue."""
    high, low = sorted((luminance(a), luminance(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def _mixed(colour: Colour, other: Colour, share: float) -> Colour:
    r, g, b = (c + share * (o - c) for c, o in zip(colour, other, strict=True))
    return (r, g, b)


def field_colours(diagram: DrawnFields) -> dict[str, Colour]:
    """Colour of every field: the mineral's own, muted, apart from its neighbours in lightness."""
    from matplotlib.colors import to_rgb

    colours: dict[str, Colour] = {}
    for field in sorted(diagram.fields, key=lambda f: -f.area_fraction):
        if field.kind != "solid":
            colours[field.species] = to_rgb(_WATER)
            continue
        own = to_rgb(field.colour.split()[-1]) if field.colour else to_rgb(_PLAIN_SOLID)
        # Dark greys are lifted, so that lines and letters stay readable on them.
        grey = max(own) - min(own) < 0.06 and luminance(own) < 0.3
        own = _mixed(own, (1.0, 1.0, 1.0), 0.5 if grey else 0.12)
        nearby = [colours[name] for name in _neighbours(diagram, field.species) if name in colours]
        colours[field.species] = _apart(own, nearby)
    return colours


def _neighbours(diagram: DrawnFields, species: str) -> set[str]:
    pairs = [(edge.left, edge.right) for edge in diagram.edges]
    return {b if a == species else a for a, b in pairs if species in (a, b)}


def _apart(own: Colour, nearby: list[Colour], least: float = 1.2) -> Colour:
    """Lighten a colour in the smallest step that sets it off from its neighbours."""
    for share in (0.0, 0.12, 0.24, 0.36, 0.48):
        tried = _mixed(own, (1.0, 1.0, 1.0), share)
        if all(contrast(tried, colour) >= least for colour in nearby):
            return tried
    return own


def plot_fields(
    diagram: DrawnFields,
    ax: Axes | None = None,
    *,
    uncertainty: bool = False,
    water_lines: bool = True,
    caption: bool = True,
    font_size: float = 10.0,
) -> Axes:
    """Draw stability fields; returns the axes.

    Solids wear the mineral's own colour and a strong outline, dissolved species stay pale.
    ``uncertainty`` bands each straight edge by one standard uncertainty, paler as far as one other
    published constant moves it; ``caption``: conditions, what was left out, the data set.
    """
    require_matplotlib()
    import matplotlib.pyplot as plt

    if ax is None:
        _, ax = plt.subplots(figsize=(7.6, 6.4 if caption else 5.8), layout="constrained")
    (x_title, x_low, x_high), (y_title, y_low, y_high) = diagram.x_axis, diagram.y_axis
    ax.set_xlim(x_low, x_high)
    ax.set_ylim(y_low, y_high)
    ax.set_xlabel(_axis_label(x_title))
    ax.set_ylabel(_axis_label(y_title))
    colours = field_colours(diagram)
    _fill(ax, diagram, colours)
    if uncertainty:
        _bands(ax, diagram)
    _lines(ax, diagram)
    if water_lines:
        _water(ax, diagram, font_size)
    if caption:
        _caption(ax, diagram, font_size)
    ax.figure.canvas.draw()  # layout settled: label boxes can be measured
    _Labels(ax, diagram, colours, font_size).place()
    return ax


def _axis_label(title: str) -> str:
    if title.startswith("Eh"):
        return "Eh / V vs SHE"
    text = title.replace("log10 ", "log$_{10}$ ")
    opened = text.find("(")
    if opened < 0:
        return text
    closed = text.rfind(")")
    words = text[opened + 1 : closed].split(" ")
    words[-1] = species_mathtext(words[-1])
    quantity = text[:opened].replace(" a", " $a$").replace(" f", " $f$")
    return f"{quantity}({' '.join(words)}){text[closed + 1 :]}"


def _fill(ax: Axes, diagram: DrawnFields, colours: dict[str, Colour]) -> None:
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path

    for field in diagram.fields:
        path = Path.make_compound_path(*(Path(_closed(o), closed=True) for o in field.outlines))
        patch = PathPatch(path, facecolor=colours[field.species], edgecolor="none", zorder=1)
        ax.add_patch(patch)


def _closed(outline: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.vstack([outline, outline[:1]])


def _lines(ax: Axes, diagram: DrawnFields) -> None:
    solid = {field.species for field in diagram.fields if field.kind == "solid"}
    for edge, line in zip(diagram.edges, diagram.edge_lines, strict=True):
        strong = edge.left in solid or edge.right in solid
        ax.plot(
            line[:, 0],
            line[:, 1],
            color=_INK,
            linewidth=1.3 if strong else 0.7,
            solid_capstyle="round",
            zorder=3,
        )


def _bands(ax: Axes, diagram: DrawnFields) -> None:
    """One standard uncertainty to either side; paler, as far as other published constants reach."""
    for edge in diagram.edges:
        if not isinstance(edge, _core.Edge):
            continue
        line = edge.line
        stated = (-line.uncertainty, line.uncertainty)
        published = (min(stated[0], line.published_low), max(stated[1], line.published_high))
        for (low, high), alpha in ((published, 0.08), (stated, 0.18)):
            _band(ax, edge, low, high, alpha)


def _band(ax: Axes, edge: _core.Edge, low: float, high: float, alpha: float) -> None:
    across = np.array((1.0, 0.0) if edge.line.vertical else (0.0, 1.0))
    start, end = np.array(edge.from_point), np.array(edge.to_point)
    corners = [start + low * across, end + low * across, end + high * across, start + high * across]
    ax.fill(*np.transpose(corners), facecolor=_INK, alpha=alpha, linewidth=0, zorder=2)


def _water(ax: Axes, diagram: DrawnFields, font_size: float) -> None:
    for water in diagram.water_lines:
        if len(water.part) != 2:
            continue
        ends = water.part[np.argsort(water.part[:, 0])]
        ax.plot(ends[:, 0], ends[:, 1], color=_WATER_LINE, linewidth=1, dashes=(6, 4), zorder=4)
        lift = 0.006 * (diagram.y_axis[2] - diagram.y_axis[1])
        # Far enough in that words above the line stay below the frame.
        at = ends[0] + 0.14 * (ends[1] - ends[0]) + (0, lift)
        gas = species_mathtext(water.gas.removesuffix("(g)"))
        ax.text(
            float(at[0]),
            float(at[1]),
            f"{gas} 1 bar",
            color=_WATER_LINE,
            fontsize=0.75 * font_size,
            rotation=90.0
            if water.line.vertical
            else float(np.degrees(np.arctan(water.line.slope))),
            rotation_mode="anchor",
            transform_rotates_text=True,
            verticalalignment="bottom",
            zorder=4,
        )


def _caption(ax: Axes, diagram: DrawnFields, font_size: float) -> None:
    lines = [diagram.conditions + "."]
    if diagram.left_out:
        by_reason: dict[str, list[str]] = {}
        for name, reason in diagram.left_out.items():
            by_reason.setdefault(reason, []).append(name)
        groups = [f"{', '.join(names)} ({reason})" for reason, names in by_reason.items()]
        lines.append("Left out: " + "; ".join(groups) + ".")
    missed = [warning for warning in diagram.warnings if "too large" in warning]
    lines += [warning[0].upper() + warning[1:] + "." for warning in missed]
    tied = [
        f"{field.species} and {', '.join(rival.species for rival in field.rivals)}"
        for field in diagram.fields
        if field.rivals
    ]
    if tied:
        lines.append("Not told apart within their uncertainty: " + "; ".join(tied) + ".")
    lines.append("What may form in endless time, not how fast. D" + diagram.dataset_line[1:] + ".")
    text = "\n".join(textwrap.fill(sentence_text(line), 100) for line in lines)
    ax.annotate(
        text,
        (0, 0),
        xytext=(0, -3.6 * font_size),
        xycoords="axes fraction",
        textcoords="offset points",
        verticalalignment="top",
        fontsize=0.78 * font_size,
        color="#555555",
    )


@dataclass
class _Box:
    """A label's box in pixels."""

    x: float
    y: float
    width: float
    height: float

    def overlaps(self, other: _Box) -> bool:
        """Whether two boxes share area."""
        return (
            abs(self.x - other.x) * 2 < self.width + other.width
            and abs(self.y - other.y) * 2 < self.height + other.height
        )


class _Labels:
    """Places one label per field: inside when it fits, else beside it with a thin line."""

    def __init__(
        self, ax: Axes, diagram: DrawnFields, colours: dict[str, Colour], font_size: float
    ) -> None:
        from matplotlib.path import Path

        self._ax = ax
        self._fields = sorted(diagram.fields, key=lambda f: -f.area_fraction)
        self._colours = colours
        self._font_size = font_size
        self._taken: list[_Box] = []
        self._water = [
            _Box(x, y, 4, 4)
            for water in diagram.water_lines
            if len(water.part) == 2
            for x, y in ax.transData.transform(
                water.part[0] + np.linspace(0, 1, 150)[:, None] * (water.part[1] - water.part[0])
            )
        ]
        self._paths = {
            field.species: [Path(ax.transData.transform(_closed(o))) for o in field.outlines]
            for field in self._fields
        }

    def place(self) -> None:
        """Place every label, large fields first."""
        outside = [field for field in self._fields if not self._place_inside(field)]
        for field in outside:
            self._place_beside(field)

    def _place_inside(self, field: _core.Field) -> bool:
        name = species_mathtext(field.species)
        texts = [name]
        if field.kind == "solid" and field.formula != field.species:
            texts.insert(0, f"{name}\n{species_mathtext(field.formula)}")
        tries = [(text, 1.0, 0) for text in texts]
        tries += [(name, 0.85, 0), (name, 1.0, 90), (name, 0.8, 90)]
        for text, scale, rotation in tries:
            size = scale * self._font_size
            width, height = self._measure(text, size, rotation)
            box = self._fit(field, width, height)
            if box:
                self._write(field, text, size, rotation, box)
                return True
        return False

    def _measure(self, text: str, size: float, rotation: float) -> tuple[float, float]:
        probe = self._ax.text(0, 0, text, fontsize=size, rotation=rotation, linespacing=1.15)
        extent = probe.get_window_extent()
        probe.remove()
        return extent.width, extent.height

    def _inside(self, field: _core.Field, points: NDArray[np.float64]) -> NDArray[np.bool_]:
        odd = np.zeros(len(points), dtype=bool)
        for path in self._paths[field.species]:
            odd ^= path.contains_points(points)
        return odd

    def _fit(self, field: _core.Field, width: float, height: float) -> _Box | None:
        """Return the roomiest free box of this size in the field; None when there is none."""
        vertices = np.vstack([path.vertices for path in self._paths[field.species]])
        low, high = vertices.min(axis=0), vertices.max(axis=0)
        xs, ys = np.meshgrid(np.linspace(low[0], high[0], 41), np.linspace(low[1], high[1], 41))
        own = self._ax.transData.transform([field.label])
        centres = np.vstack([own, np.column_stack([xs.ravel(), ys.ravel()])])
        for room in (2.2, 1.6, 1.25, 1.08):
            rim = _rim(room * width, room * height)
            points = (centres[:, None, :] + rim[None, :, :]).reshape(-1, 2)
            fits = self._inside(field, points).reshape(len(centres), len(rim)).all(axis=1)
            boxes = [_Box(x, y, width, height) for x, y in centres[fits]]
            free = [box for box in boxes if not any(box.overlaps(o) for o in self._taken)]
            free = [box for box in free if not any(box.overlaps(o) for o in self._water)] or free
            if free:
                middle = np.mean([(box.x, box.y) for box in free], axis=0)
                return min(free, key=lambda box: np.hypot(box.x - middle[0], box.y - middle[1]))
        return None

    def _write(
        self, field: _core.Field, text: str, size: float, rotation: float, box: _Box
    ) -> None:
        from matplotlib.patheffects import withStroke

        ground = self._colours[field.species]
        dark, white = (0.17, 0.17, 0.17), (1.0, 1.0, 1.0)
        ink = _INK if contrast(ground, dark) >= contrast(ground, white) else "white"
        x, y = self._ax.transData.inverted().transform((box.x, box.y))
        self._ax.text(
            x,
            y,
            text,
            fontsize=size,
            rotation=rotation,
            color=ink,
            linespacing=1.15,
            horizontalalignment="center",
            verticalalignment="center",
            path_effects=[withStroke(linewidth=2.5, foreground=ground)],
            zorder=6,
        )
        self._taken.append(box)

    def _place_beside(self, field: _core.Field) -> None:
        """Place the label in the nearest free spot inside one other field, with a thin line."""
        text = species_mathtext(field.species)
        size = 0.85 * self._font_size
        width, height = self._measure(text, size, 0)
        anchor = self._ax.transData.transform(field.label)
        rim = _rim(1.15 * width, 1.3 * height)
        radii = np.arange(1.2, 16) * height
        angles = np.radians(np.arange(0, 360, 15))
        for radius in radii:
            for angle in angles:
                centre = anchor + radius * np.array([np.cos(angle), np.sin(angle)])
                centre[0] += np.sign(np.cos(angle)) * width / 2
                box = _Box(centre[0], centre[1], width, height)
                if any(box.overlaps(other) for other in self._taken):
                    continue
                host = next((f for f in self._fields if self._inside(f, centre + rim).all()), None)
                if host is None or host.species == field.species:
                    continue
                self._write(host, text, size, 0, box)
                self._lead(anchor, box)
                return

    def _lead(self, anchor: NDArray[np.float64], box: _Box) -> None:
        near_x = np.clip(anchor[0], box.x - box.width / 2, box.x + box.width / 2)
        near_y = np.clip(anchor[1], box.y - box.height / 2, box.y + box.height / 2)
        ends = self._ax.transData.inverted().transform(np.array([anchor, [near_x, near_y]]))
        self._ax.plot(ends[:, 0], ends[:, 1], color=_INK, linewidth=0.6, zorder=5)
        self._ax.plot(*ends[0], marker="o", markersize=2.2, color=_INK, zorder=5)


def _rim(width: float, height: float) -> NDArray[np.float64]:
    """Points round a box of this size about the origin."""
    t = np.linspace(-0.5, 0.5, 9)
    low, high = np.full_like(t, -0.5), np.full_like(t, 0.5)
    sides = [(t, low), (t, high), (low, t), (high, t)]
    return np.vstack([np.column_stack(side) for side in sides]) * (width, height)
