import { nothing, type SVGTemplateResult, svg } from 'lit';

const HEAD = 6;

function head(x: number, y: number, ux: number, uy: number): SVGTemplateResult {
  const d = `M${x},${y}L${x - HEAD * ux - 2.4 * uy},${y - HEAD * uy + 2.4 * ux}L${x - HEAD * ux + 2.4 * uy},${y - HEAD * uy - 2.4 * ux}Z`;
  return svg`<path class="dimension arrow" d=${d}></path>`;
}

/**
 * A dimension as on a workshop drawing, from one end to the other, with arrow heads at both; where the ends are closer
 * than the heads need, these stand outside and point inwards. `gap` leaves room for the number, in px, at the middle.
 */
export function dimensionLine(x0: number, y0: number, x1: number, y1: number, gap = 0): SVGTemplateResult {
  const length = Math.hypot(x1 - x0, y1 - y0);
  if (length < 0.5) return svg`<circle class="dimension arrow" cx=${x0} cy=${y0} r="2"></circle>`;
  const ux = (x1 - x0) / length;
  const uy = (y1 - y0) / length;
  const inside = length > 3 * HEAD;
  const half = Math.min(gap / 2, length / 2);
  const mx = (x0 + x1) / 2;
  const my = (y0 + y1) / 2;
  return svg`${
    gap === 0
      ? svg`<line class="dimension" x1=${x0} y1=${y0} x2=${x1} y2=${y1}></line>`
      : svg`<line class="dimension" x1=${x0} y1=${y0} x2=${mx - half * ux} y2=${my - half * uy}></line>
        <line class="dimension" x1=${mx + half * ux} y1=${my + half * uy} x2=${x1} y2=${y1}></line>`
  }
  ${inside ? svg`${head(x0, y0, -ux, -uy)}${head(x1, y1, ux, uy)}` : svg`${head(x0, y0, ux, uy)}${head(x1, y1, -ux, -uy)}`}
  ${
    inside
      ? nothing
      : svg`<line class="dimension" x1=${x0 - 14 * ux} y1=${y0 - 14 * uy} x2=${x0} y2=${y0}></line>
        <line class="dimension" x1=${x1} y1=${y1} x2=${x1 + 14 * ux} y2=${y1 + 14 * uy}></line>`
  }`;
}
