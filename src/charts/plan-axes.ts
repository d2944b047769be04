import { ticks } from 'd3-array';
import { type SVGTemplateResult, svg } from 'lit';
import type { Box } from './place-labels.ts';
import type { Projection } from './svg-path.ts';
import { plain, withUnit } from './tick-text.ts';

/** What the axes need of a plan's frame. */
interface AxesFrame extends Projection {
  readonly plot: Box;
  readonly narrow: boolean;
  readonly toMm: (x: number, y: number) => [number, number];
}

/** Grid and numbers along the edges of a plan in mm. */
export function planAxes(frame: AxesFrame): SVGTemplateResult {
  const { plot } = frame;
  const [fromX, toY] = frame.toMm(plot.x, plot.y);
  const [toX, fromY] = frame.toMm(plot.x + plot.width, plot.y + plot.height);
  const count = frame.narrow ? 5 : 9;
  const xs = ticks(fromX, toX, count).filter((v) => frame.x(v) < plot.x + plot.width - 14 && frame.x(v) > plot.x + 6);
  const step = xs.length > 1 ? xs[1] - xs[0] : 5;
  const ys: number[] = [];
  for (let v = Math.ceil(fromY / step) * step; v < toY; v += step) ys.push(Number(v.toFixed(6)));
  return svg`${xs.map(
    (
      v,
      i,
    ) => svg`<line class="grid ${v === 0 ? 'axis' : ''}" x1=${frame.x(v)} x2=${frame.x(v)} y1=${plot.y} y2=${plot.y + plot.height}></line>
        <text class="tick" x=${frame.x(v)} y=${plot.y + plot.height + 17} text-anchor="middle">${
          i === xs.length - 1 ? withUnit(v, 'mm') : plain(v)
        }</text>`,
  )}
    ${ys
      .filter((v) => frame.y(v) > plot.y + 4)
      .map(
        (
          v,
        ) => svg`<line class="grid ${v === 0 ? 'axis' : ''}" x1=${plot.x} x2=${plot.x + plot.width} y1=${frame.y(v)} y2=${frame.y(v)}></line>
        <text class="tick" x=${plot.x - 7} y=${frame.y(v) + 4} text-anchor="end">${plain(v)}</text>`,
      )}`;
}

/** The empty plan: ground, grid and numbers. */
export function planGround(frame: AxesFrame): SVGTemplateResult {
  const { plot } = frame;
  return svg`<rect class="ground" x=${plot.x} y=${plot.y} width=${plot.width} height=${plot.height}></rect>${planAxes(frame)}`;
}
