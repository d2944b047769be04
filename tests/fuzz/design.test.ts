import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type DesignResult, documentOf, parseDesign } from '../../src/design/resolve.ts';
import { parseDesignText } from '../../src/design/resolve-text.ts';
import { windingFaults } from '../../src/design/wind.ts';
import { designText as printed } from '../../src/state/design-text.ts';
import { bentDesign, designText } from './hostile-design.ts';
import { expectFaults, PATIENCE, share, watched } from './support.ts';

const asJson = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

/** Either faults, or a design that winds or says why not, and comes back the same from its own file. */
function judge(result: DesignResult, text: string): boolean {
  if (!result.ok) {
    expectFaults(result.faults);
    return false;
  }
  const faults = watched(text, () => windingFaults(result.design));
  if (faults.length > 0) expectFaults(faults);
  // Compared as JSON: -0 is printed as 0, which is the same number.
  expect(asJson(parseDesignText(printed(result.document)))).toEqual(asJson(result));
  const whole = parseDesign(documentOf(result.design));
  expect(whole.ok ? [] : whole.faults).toEqual([]);
  expect(whole.ok && asJson({ ...whole.design, assumed: result.design.assumed })).toEqual(asJson(result.design));
  return true;
}

test('a design of any values is read or refused with faults', { timeout: PATIENCE }, () => {
  let accepted = 0;
  fc.assert(
    fc.property(bentDesign, (document) => {
      const text = JSON.stringify(document) ?? 'undefined';
      if (
        judge(
          watched(text, () => parseDesign(document)),
          text,
        )
      )
        accepted++;
    }),
    share(0.075, 0.1),
  );
  // A test of refusals alone would say nothing about round trips.
  expect(accepted).toBeGreaterThan(share(0.075, 0.1).numRuns / 20);
});

test('a file of any text is read or refused with faults', { timeout: PATIENCE }, () => {
  fc.assert(
    fc.property(designText, (text) => {
      judge(
        watched(text, () => parseDesignText(text)),
        text,
      );
    }),
    share(0.075, 0.1),
  );
});
