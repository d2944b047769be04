import { describe, expect, test } from 'vitest';
import { allocatePanels, panelPoints, setPanel, transformPanels } from '../../../src/physics/field/panel-set.ts';

/** A trapezoid in the plane z = 2: parallel sides 4 and 2, height 3. */
const TRAPEZOID = [0, 0, 2, 4, 0, 2, 3, 3, 2, 1, 3, 2];

function trapezoid() {
  const set = allocatePanels(1);
  setPanel(set, 0, TRAPEZOID);
  return set;
}

describe('a panel', () => {
  test('has the area, centroid and longest edge of the trapezoid that it is', () => {
    const set = trapezoid();
    expect(set.area[0]).toBeCloseTo(9, 12);
    // Centroid of a trapezoid: h (a + 2 b) / (3 (a + b)) over the longer side. Textbook geometry.
    expect([...set.centre]).toEqual([2, (3 * (4 + 2 * 2)) / (3 * (4 + 2)), 2].map((v) => expect.closeTo(v, 12)));
    expect(set.size[0]).toBeCloseTo(4, 12);
  });

  test('has a right-handed frame and second moments that its points add up to', () => {
    const set = trapezoid();
    const [a, b, n] = [0, 3, 6].map((k) => [...set.frame.subarray(k, k + 3)]);
    expect(a[1] * b[2] - a[2] * b[1]).toBeCloseTo(n[0], 12);
    expect(n).toEqual([0, 0, 1].map((v) => expect.closeTo(v, 12)));
    const points = new Float64Array(4 * 36);
    panelPoints(set, 0, 6, points);
    let [weight, xx, xy] = [0, 0, 0];
    for (let i = 0; i < points.length; i += 4) {
      const [x, y, , w] = points.subarray(i, i + 4);
      weight += w;
      xx += w * (x - set.centre[0]) ** 2;
      xy += w * (x - set.centre[0]) * (y - set.centre[1]);
    }
    expect(weight).toBeCloseTo(1, 12);
    expect(set.moment[0]).toBeCloseTo(xx, 12);
    expect(set.moment[3]).toBeCloseTo(xy, 12);
  });

  test('moved as a whole is the panel of its moved corners', () => {
    // A quarter turn about z, then a shift.
    const matrix = Float64Array.of(0, -1, 0, 1, 0, 0, 0, 0, 1, 10, 20, 30);
    const moved = transformPanels(trapezoid(), matrix, allocatePanels(1));
    const corners = Array.from({ length: 4 }, (_, k) => {
      const [x, y, z] = TRAPEZOID.slice(3 * k, 3 * k + 3);
      return [10 - y, 20 + x, 30 + z];
    });
    const fresh = allocatePanels(1);
    setPanel(fresh, 0, corners.flat());
    for (const key of ['centre', 'area', 'moment', 'frame'] as const)
      expect([...moved[key]], key).toEqual([...fresh[key]].map((v) => expect.closeTo(v, 10)));
  });
});
