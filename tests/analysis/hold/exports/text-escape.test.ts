import { describe, expect, it } from 'vitest';
import { csvField, dxfText, plainNumber, xmlText } from '../../../../src/analysis/hold/exports/text-escape.ts';

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
  it('numbers: no exponent, no minus zero', () => {
    expect(plainNumber(1e-9)).toBe('0');
    expect(plainNumber(-1e-9)).toBe('0');
    expect(plainNumber(100)).toBe('100');
    expect(plainNumber(12.34567)).toBe('12.3457');
    expect(() => plainNumber(Number.POSITIVE_INFINITY)).toThrow(/finite/);
  });
});
