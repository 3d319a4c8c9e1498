"""The calibration of the outlook as an SVG: what was said against what came true."""

from __future__ import annotations

WIDTH, HEIGHT, SIDE = 720, 400, 280
LEFT, TOP, GAP = 60, 60, 90


def calibration_svg(found: dict, count: int) -> str:
    """Two square plots side by side: shares of later readings below each percentile, and the stall probability."""
    below = [(float(share), seen) for share, seen in found["share below"].items()]
    stall = [(pair["said"], pair["true"]) for pair in found["stall probability"]]
    sizes = [pair["count"] for pair in found["stall probability"]]
    second = LEFT + SIDE + GAP
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" font-family="sans-serif" '
        'font-size="12" role="img" aria-label="calibration of the outlook">',
        f'<rect width="{WIDTH}" height="{HEIGHT}" fill="#ffffff"/>',
        f'<text x="{LEFT}" y="24" font-size="15">What was said and what came true, {count} made-up ferments</text>',
        *_frame(LEFT, "later readings below the percentile", "percentile of the forecast"),
        *_line(LEFT, below, [4] * len(below)),
        *_frame(second, "truly standing still", "stall probability said"),
        *_line(second, stall, [3 + min(7, size**0.5 / 6) for size in sizes]),
        "</svg>",
    ]
    return "\n".join(parts) + "\n"


def _frame(left: int, title: str, below: str) -> list[str]:
    bottom = TOP + SIDE
    parts = [
        f'<text x="{left}" y="{TOP - 10}" fill="#333">{title}</text>',
        f'<rect x="{left}" y="{TOP}" width="{SIDE}" height="{SIDE}" fill="none" stroke="#999"/>',
        f'<line x1="{left}" y1="{bottom}" x2="{left + SIDE}" y2="{TOP}" stroke="#bbb" stroke-dasharray="5 4"/>',
        f'<text x="{left + SIDE / 2:g}" y="{bottom + 36}" text-anchor="middle" fill="#333">{below}</text>',
    ]
    for tenth in (0, 2, 4, 6, 8, 10):
        across, up = left + SIDE * tenth / 10, bottom - SIDE * tenth / 10
        parts.append(f'<text x="{across:g}" y="{bottom + 18}" text-anchor="middle" fill="#555">{tenth / 10:g}</text>')
        parts.append(f'<text x="{left - 8}" y="{up + 4:g}" text-anchor="end" fill="#555">{tenth / 10:g}</text>')
    return parts


def _line(left: int, pairs: list[tuple[float, float]], radii: list[float]) -> list[str]:
    spots = [(left + SIDE * said, TOP + SIDE * (1 - true)) for said, true in pairs]
    path = " ".join(f"{x:.1f},{y:.1f}" for x, y in spots)
    circles = [
        f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{r:.1f}" fill="#7a4b00" fill-opacity="0.8"/>'
        for (x, y), r in zip(spots, radii, strict=True)
    ]
    return [f'<polyline points="{path}" fill="none" stroke="#7a4b00" stroke-width="1.5"/>', *circles]
