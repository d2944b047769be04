import fc from 'fast-check';
import { expect, test } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { openFile, openText } from '../../src/state/design-file.ts';
import { designText, fileNameOf } from '../../src/state/design-text.ts';
import { hostileText } from '../fuzz/support.ts';

test('what is saved opens again, the same', () => {
  const opened = openText(designText(DEMO_DESIGN));
  expect(opened.ok && opened.document).toEqual(DEMO_DESIGN);
});

test('a wrong file gives one line for each fault, at most twenty', () => {
  const wrong = openText(JSON.stringify({ ...DEMO_DESIGN, colour: 1, placement: { gapMm: -3 } }));
  expect(wrong.ok).toBe(false);
  if (wrong.ok) return;
  expect(wrong.lines).toHaveLength(2);
  expect(wrong.lines.join('\n')).toMatch(/colour: must be/);
  const many = Object.fromEntries(Array.from({ length: 60 }, (_, i) => [`key${i}`, i]));
  const flooded = openText(JSON.stringify({ ...DEMO_DESIGN, ...many }));
  expect(flooded.ok ? 0 : flooded.lines.length).toBe(20);
});

test('text that is no JSON says where', () => {
  const broken = openText('{"format": "offcentre-design",\n "version": }');
  expect(broken.ok ? '' : broken.lines[0]).toMatch(/line 2/);
});

test('a huge file is refused before it is read', async () => {
  const opened = await openFile(new Blob(['x'.repeat(3_000_000)]));
  expect(opened.ok ? '' : opened.lines[0]).toMatch(/far larger/);
});

test('a file in another encoding is refused: its letters would be lost without a word', async () => {
  const text = designText({ ...DEMO_DESIGN, title: 'Größe' });
  const latin = Uint8Array.from(text, (sign) => sign.charCodeAt(0));
  const wide = new Uint8Array(Uint16Array.from(`\ufeff${text}`, (sign) => sign.charCodeAt(0)).buffer);
  for (const bytes of [latin, wide]) {
    const opened = await openFile(new Blob([bytes]));
    expect(opened.ok ? '' : opened.lines).toEqual([
      'That file is no text in UTF-8. If it is a design, save it as UTF-8.',
    ]);
  }
  const marked = await openFile(new Blob(['\ufeff', text]));
  expect(marked.ok && marked.document.title).toBe('Größe');
});

test('files are named after the design', () => {
  expect(fileNameOf('Museum audio guide – “shelf” 2', 'json')).toBe('museum-audio-guide-shelf-2.json');
  expect(fileNameOf('../../x', 'csv')).toBe('x.csv');
  expect(fileNameOf('  ', 'json')).toBe('design.json');
  // A name that one operating system keeps for a device; a letter of two code units where the name is cut.
  expect(fileNameOf('NUL', 'json')).toBe('designnul.json');
  expect(fileNameOf(`${'x'.repeat(59)}\u{20000}y`, 'svg')).toBe(`${'x'.repeat(59)}\u{20000}.svg`);
});

test('a file name holds letters, digits and hyphens, whatever the title', () => {
  fc.assert(
    fc.property(hostileText, (title) => {
      expect(fileNameOf(title, 'json')).toMatch(/^[\p{L}\p{N}-]{1,70}\.json$/u);
    }),
    { seed: 10, numRuns: 300 },
  );
});
