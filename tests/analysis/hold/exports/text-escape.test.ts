import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { csvField, dxfText, plainNumber, xmlText } from '../../../../src/analysis/hold/exports/text-escape.ts';
import { hostileText } from '../../../fuzz/support.ts';
import { readXml } from './xml-reader.ts';

describe('escapes', () => {
  it('csv: formulas, quotes, spaces; numbers untouched', () => {
    for (const text of ['=1', '+1', '-1', '@x', '\tx', '\rx']) expect(csvField(text).replace(/^"/, '')[0]).toBe("'");
    expect(csvField('say "hi"')).toBe('"say ""hi"""');
    expect(csvField(' pad ')).toBe('" pad "');
    expect(csvField(-1.5)).toBe('-1.5');
    expect(csvField(Number.NaN)).toBe('');
    expect(csvField('plain')).toBe('plain');
  });
  it('xml: the five and what XML forbids', () => {
    expect(xmlText('<&>"\'')).toBe('&lt;&amp;&gt;&quot;&#39;');
    expect(xmlText('a\u0000\u001f\ufffeb😀')).toBe('ab😀');
    expect(xmlText('a\ud800b')).toBe('ab');
  });
  it('dxf: one line of ASCII, at most 255', () => {
    expect(dxfText('a\r\n  0\nEOF')).toBe('a    0 EOF');
    expect(dxfText('😀')).toBe('\\U+D83D\\U+DE00');
    expect(dxfText('x'.repeat(400))).toHaveLength(255);
  });
  it('csv: hostile text is no formula, whichever sign a spreadsheet takes for the end of a field, and reads back', () => {
    fc.assert(
      fc.property(hostileText, (text) => {
        const record = `5,${csvField(text)},-6`;
        for (const separator of [',', ';', '\t']) {
          for (const cell of record.split(/\r\n|\r|\n/).flatMap((line) => line.split(separator))) {
            const bare = cell.replace(/^[\s"]+/, '');
            // Numbers of ours may begin with a sign; nothing else may.
            if (!/^-?\d+(,|$)/.test(bare)) expect(bare).not.toMatch(/^[=+\-@\uff1d\uff0b\uff0d\uff20]/);
          }
        }
        // Without the apostrophes put in, the text is what it was.
        const field = csvField(text);
        const read = field.startsWith('"') ? field.slice(1, -1).replace(/""/g, '"') : field;
        expect(read.replaceAll("'", '')).toBe(text.replaceAll("'", ''));
      }),
      { seed: 10, numRuns: 500 },
    );
  });
  it('xml: hostile text stays text, in content and in attributes', () => {
    fc.assert(
      fc.property(hostileText, (text) => {
        const safe = xmlText(text);
        const node = readXml(`<a b="${safe}">${safe}</a>`);
        expect(node.children).toEqual([]);
        expect(Object.keys(node.attributes)).toEqual(['b']);
        // What XML 1.0 (fifth edition), 2.2, calls a character is kept.
        expect(node.text).toBe(text.replace(/[^\t\n\r\x20-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu, ''));
      }),
      { seed: 10, numRuns: 500 },
    );
  });
  it('dxf: hostile text stays one line of printable ASCII, no escape cut in two', () => {
    fc.assert(
      fc.property(fc.oneof(hostileText, fc.string({ unit: 'binary', maxLength: 400 })), (text) => {
        const line = dxfText(text);
        expect(line).toMatch(/^[\x20-\x7e]{0,255}$/);
        expect(line.replace(/\\U\+[0-9A-F]{4}/g, '')).not.toMatch(/\\U\+[0-9A-F]{0,3}$/);
      }),
      { seed: 10, numRuns: 500 },
    );
  });
  it('numbers: no exponent, no minus zero', () => {
    expect(plainNumber(1e-9)).toBe('0');
    expect(plainNumber(-1e-9)).toBe('0');
    expect(plainNumber(100)).toBe('100');
    expect(plainNumber(12.34567)).toBe('12.3457');
    expect(() => plainNumber(Number.POSITIVE_INFINITY)).toThrow(/finite/);
  });
});
