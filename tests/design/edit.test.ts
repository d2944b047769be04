import { expect, test } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { withValueAt } from '../../src/design/edit.ts';
import { parsePath } from '../../src/design/path.ts';
import { faultLine } from '../../src/numerics/errors.ts';
import { lines } from './changed.ts';

test('withValueAt changes one value, keeps the original, and says where a path leaves the format', () => {
  const edit = (path: string, value: unknown) => {
    const parsed = parsePath(path);
    if (!parsed.ok) throw new Error(path);
    const result = withValueAt(DEMO_DESIGN, parsed.segments, value);
    return result.ok ? lines(result.document).join('\n') || 'fine' : faultLine(result.fault);
  };
  const before = JSON.stringify(DEMO_DESIGN);
  expect(edit('transmitter.drive.supplyV', 9)).toBe('fine');
  expect(edit('transmitter.metal.thicknessMm', 1)).toMatch(/^transmitter\.metal\.outline: must be/);
  expect(edit('stack[4]', { name: 'tape', thicknessMm: 0.005 })).toBe('fine');
  expect(edit('stack[9].thicknessMm', 1)).toBe(
    'stack[9]: must be an entry from [0] to [3], or [4] to add one; received [9].',
  );
  expect(edit('transmitter.coil.tunrs', 3)).toBe(
    'transmitter.coil.tunrs: must be a key that the design format knows; received "tunrs". Did you mean turns?',
  );
  expect(edit('stack.name', 'x')).toBe('stack.name: must be an entry of a list, such as stack[0]; received "name".');
  expect(edit('title.x', 'x')).toBe('title.x: must be the end of the path: title has nothing below it; received "x".');
  expect(JSON.stringify(DEMO_DESIGN)).toBe(before);
});
