import { expect, test } from 'vitest';
import { type ForceCurves, forceLabels, valueSpan } from '../../src/charts/hold-forces-labels.ts';
import { curveAt, lineFrame } from '../../src/charts/line-chart-frame.ts';

/** Curves of the kind that two magnets give, of any strength and width. */
function curves(strengthN: number, widthMm: number): ForceCurves {
  const offsetMm = Float64Array.from({ length: 45 }, (_, k) => k / 2);
  const of = (value: (u: number) => number) => offsetMm.map((at) => value(at / widthMm));
  return {
    offsetMm,
    restoringN: of((u) => strengthN * u * Math.exp(1 - u * u)),
    pullN: of((u) => 2 * strengthN * (1 - u * u) * Math.exp(-u * u)),
    frictionN: of((u) => 0.5 + 0.3 * strengthN * Math.exp(-u * u)),
    tippingNmm: of((u) => strengthN * u * Math.exp(1 - u)),
    airRestoringN: null,
    restBandMm: 0.3 * widthMm,
    captureMm: 1.4 * widthMm,
  };
}

const CURVES = ['restoring', 'pull', 'friction'] as const;

test.each([260, 340, 366, 540, 760])('at %i px every curve has its name, and near itself', (width) => {
  for (const strength of [0.4, 1.7, 6])
    for (const wide of [2, 5, 9]) {
      const drawn = curves(strength, wide);
      const frame = lineFrame({
        width,
        height: 190,
        xDomain: [0, 22],
        yDomain: valueSpan([drawn.restoringN, drawn.pullN, drawn.frictionN], 0.2),
        left: 50,
        bottom: 8,
      });
      const { boxes } = forceLabels(drawn, frame, (text) => 6.6 * text.length, new Map());
      const lists = { restoring: drawn.restoringN, pull: drawn.pullN, friction: drawn.frictionN };
      for (const id of CURVES) {
        const box = boxes.get(id);
        expect(box, `${id} ${strength} N ${wide} mm`).toBeDefined();
        if (!box) continue;
        const from = Array.from({ length: 41 }, (_, k) => box.x - 12 + (k / 40) * (box.width + 24)).map((px) =>
          Math.abs(frame.y(curveAt(drawn.offsetMm, lists[id], frame.x.invert(px))) - (box.y + box.height / 2)),
        );
        expect(Math.min(...from.filter((gap) => Number.isFinite(gap))), id).toBeLessThan(36);
      }
    }
});
