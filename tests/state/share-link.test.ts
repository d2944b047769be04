import { expect, test } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { readShareFragment, shareFragment, splitFragment } from '../../src/state/share-link.ts';

test('a link holds the whole design', async () => {
  const document = { ...DEMO_DESIGN, title: 'Größe 12 µm – “quoted”', notes: 'x'.repeat(4000) };
  const fragment = await shareFragment(document, 'pair');
  expect(fragment).toMatch(/^#pair~1\.[A-Za-z0-9_-]+$/);
  expect(splitFragment(fragment).station).toBe('pair');
  const read = await readShareFragment(fragment);
  expect(read.kind).toBe('design');
  expect(read.kind === 'design' ? read.document : null).toEqual(document);
});

test('the demo fits into a link that can be sent', async () => {
  // 2,000 characters: common practice for links in chat and mail, no source; ours stays below twice that.
  expect((await shareFragment(DEMO_DESIGN, 'place')).length).toBeLessThan(4000);
});

test('an ordinary fragment holds none', async () => {
  expect(await readShareFragment('#place')).toEqual({ kind: 'none' });
  expect(await readShareFragment('')).toEqual({ kind: 'none' });
});

test.each([
  ['cut short', async () => (await shareFragment(DEMO_DESIGN, 'pair')).slice(0, -40)],
  ['changed', async () => (await shareFragment(DEMO_DESIGN, 'pair')).replace(/\.(.{30})./, '.$1_')],
  ['not packed data', async () => '#pair~1.AAAA'],
  ['not base64url', async () => '#pair~1.%%%'],
  ['without a version', async () => '#pair~abc'],
  ['of another version', async () => '#pair~7.abcd'],
  ['holding no design', async () => shareFragment({ format: 'other' } as never, 'pair')],
])('a link that is %s gives a sentence, no error', async (_name, make) => {
  const read = await readShareFragment(await make());
  expect(read.kind).toBe('unreadable');
  expect(read.kind === 'unreadable' ? read.message : '').toMatch(/^The design in this link cannot be read: .+\.$/);
});

test.each([
  ['with the tilde written out', (link: string) => link.replace('~', '%7E')],
  ['with the end of its sentence', (link: string) => `${link}.`],
  ['in brackets', (link: string) => `${link}>)`],
  ['with a line end', (link: string) => `${link}%0A`],
  ['pasted twice', (link: string) => `${link}${link}`],
  ['pasted twice with its address', (link: string) => `${link}https://somewhere.example/page${link}`],
])('a link %s still opens: programs that carry links do that to them', async (_name, change) => {
  const link = await shareFragment(DEMO_DESIGN, 'pair');
  const carried = change(link);
  expect(splitFragment(carried).station).toBe('pair');
  const read = await readShareFragment(carried);
  expect(read.kind === 'design' ? read.document : read).toEqual(DEMO_DESIGN);
});

test('a link that unpacks to far more than a design is refused', async () => {
  const fragment = await shareFragment({ ...DEMO_DESIGN, notes: 'a'.repeat(5_000_000) }, 'pair');
  expect(fragment.length).toBeLessThan(20_000);
  expect((await readShareFragment(fragment)).kind).toBe('unreadable');
});
