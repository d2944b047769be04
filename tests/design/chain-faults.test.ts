import { describe, expect, test } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { type Change, changed, lines } from './changed.ts';
import { resolved } from './least.ts';

const BOOST = 'demand.away.through[0]';
const CELL = 'demand.loads[2].through[1]';

describe('a chain that contradicts itself gets one line, with its path', () => {
  test.each<[Change, string]>([
    [
      [BOOST, { kind: 'boost' }],
      `${BOOST}.outputV: must be a number from 0.5 to 60 V, or a feedback divider that sets it; received nothing.`,
    ],
    [
      [`${BOOST}.outputV`, 5.1],
      `${BOOST}.outputV: must be what the feedback divider sets, 5 V, within 1 %; received 5.1 V. Leave outputV out, or change the divider.`,
    ],
    [
      [`${BOOST}.feedback.top.resistorKohm`, 9000],
      `${BOOST}.feedback: must be a divider that sets 0.5 to 60 V; received 360.6 V.`,
    ],
    [[`${CELL}.emptyV`, 4.3], `${CELL}.emptyV: must be less than chargeVoltageV (4.2 V); received 4.3 V.`],
    [
      [`${CELL}.restV`, [[0, 3.4]]],
      `${CELL}.restV: must be at least two pairs, the first at charge 0, the last at 1; received 1 from 0 to 0.`,
    ],
    [
      [
        `${CELL}.restV`,
        [
          [0, 3.4],
          [0.5, 3.3],
          [1, 4.2],
        ],
      ],
      `${CELL}.restV[1][1]: must be at least 3.4 V: the voltage at rest does not fall with charge; received 3.3 V.`,
    ],
    [
      [
        `${CELL}.restV`,
        [
          [0, 3.4],
          [0.5, 3.7],
          [0.5, 3.8],
          [1, 4.2],
        ],
      ],
      `${CELL}.restV[2][0]: must be more than 0.5, the charge before; received 0.5.`,
    ],
    [
      [
        `${CELL}.restV`,
        [
          [0, 3.4],
          [1, 4.3],
        ],
      ],
      `${CELL}.restV[1][1]: must be at most chargeVoltageV (4.2 V); received 4.3 V.`,
    ],
  ])('%j', (change, line) => {
    expect(lines(changed(change))).toEqual([line]);
  });
});

test('an output voltage is what the divider sets, where it is not given', () => {
  const [step] = resolved(DEMO_DESIGN).design.demand.away.through;
  // 0.6 V (1 + 110 / 15): closed form, evaluated by hand.
  expect(step.outputV).toBeCloseTo(5, 9);
  const [stated] = resolved(changed([`${BOOST}.outputV`, 4.99])).design.demand.away.through;
  expect(stated.outputV).toBe(4.99);
});

test('an empty cell is a sixth below its charge voltage, or where its curve begins', () => {
  const cellOf = (...changes: Change[]) => resolved(changed(...changes)).design.demand.loads[2].through[1];
  expect(cellOf()).toMatchObject({ emptyV: 3.5, cutoffA: 0.09, restV: [] });
  const curve = [
    [0, 3.2],
    [1, 4.2],
  ];
  expect(cellOf([`${CELL}.restV`, curve])).toMatchObject({ emptyV: 3.2 });
});
