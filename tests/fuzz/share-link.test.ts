import { deflateRawSync } from 'node:zlib';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { parseDesign } from '../../src/design/resolve.ts';
import { readShareFragment, type SharedDesign, shareFragment, splitFragment } from '../../src/state/share-link.ts';
import { designText } from './hostile-design.ts';
import { hostileText, OBEYED, PATIENCE, share, watchedLater } from './support.ts';

const packed = (text: string | Uint8Array): string => `#place~1.${deflateRawSync(text).toString('base64url')}`;

const fragment: fc.Arbitrary<string> = fc.oneof(
  { weight: 4, arbitrary: designText.map(packed) },
  { weight: 1, arbitrary: fc.uint8Array({ maxLength: 300 }).map((bytes) => packed(bytes)) },
  {
    weight: 2,
    arbitrary: fc
      .tuple(designText, fc.double({ min: 0, max: 1, noNaN: true }), fc.string({ maxLength: 3 }))
      .map(([text, part, put]) => {
        const link = packed(text);
        const at = Math.floor(link.length * part);
        return link.slice(0, at) + put + link.slice(at + 1);
      }),
  },
  {
    weight: 1,
    arbitrary: fc.tuple(designText, fc.double({ min: 0, max: 1, noNaN: true })).map(([text, part]) => {
      const link = packed(text);
      return link.slice(0, Math.floor(link.length * part));
    }),
  },
  { weight: 1, arbitrary: hostileText.map((text) => `#place~1.${text}`) },
  { weight: 1, arbitrary: hostileText.map((text) => `#${text}`) },
  { weight: 1, arbitrary: fc.base64String({ maxLength: 400 }).map((text) => `#pair~1.${text}`) },
);

function expectSentence(shared: SharedDesign): void {
  if (shared.kind !== 'unreadable') return;
  expect(shared.message).toMatch(/^The design in this link cannot be read: .+ Your own design is untouched\.$/);
  expect(shared.message).not.toMatch(OBEYED);
  expect(shared.message.length).toBeLessThan(2500);
}

test('any link is a design, none, or a sentence', { timeout: PATIENCE }, async () => {
  await fc.assert(
    fc.asyncProperty(fragment, async (link) => {
      const shared = await watchedLater(link, () => readShareFragment(link));
      expectSentence(shared);
      if (shared.kind !== 'design') return;
      expect(parseDesign(shared.document).ok).toBe(true);
      const again = await readShareFragment(await shareFragment(shared.document, splitFragment(link).station));
      expect(again).toEqual(shared);
    }),
    share(0.05, 0.07),
  );
});

test.each([
  ['of zeros', Buffer.alloc(64_000_000)],
  ['that begins as a design', Buffer.from(JSON.stringify({ ...DEMO_DESIGN, notes: 'a'.repeat(30_000_000) }))],
  ['of brackets', Buffer.alloc(30_000_000, '[')],
])('a bomb %s is refused without being unpacked', async (_, content) => {
  const link = packed(content);
  expect(link.length).toBeLessThan(200_000);
  const shared = await watchedLater('a bomb', () => readShareFragment(link));
  expect(shared.kind).toBe('unreadable');
});

test('a link of ten million signs is refused unread', async () => {
  const shared = await watchedLater('a long link', () => readShareFragment(`#place~1.${'A'.repeat(10_000_000)}`));
  expect(shared).toEqual({ kind: 'unreadable', message: expect.stringMatching(/far longer than a design can be/) });
});
