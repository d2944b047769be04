import { describe, expect, it } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { listedInputs } from '../../src/design/listing.ts';
import { parseDesign } from '../../src/design/resolve.ts';
import { STARTING_POINTS } from '../../src/design/starting-points.ts';

function listOf(document: unknown) {
  const parsed = parseDesign(document);
  if (!parsed.ok) throw new Error(parsed.faults[0]?.path);
  return { design: parsed.design, groups: listedInputs(parsed.design) };
}

describe('the list of inputs', () => {
  it('names each with its unit', () => {
    const { groups } = listOf(DEMO_DESIGN);
    const find = (path: string) => groups.flatMap(({ inputs }) => inputs).find((input) => input.path === path);
    expect(find('transmitter.drive.supplyV')).toMatchObject({ text: '5 V ± 3 %', assumed: false });
    expect(find('receiver.coil.outline.shape')?.text).toBe('rounded rectangle');
    expect(find('stack[0].thicknessMm')).toMatchObject({ text: '4 mm ± 0.1 mm', owner: 'oak', words: 'thickness' });
  });

  it('names what has no name of its own by what it is', () => {
    const { groups } = listOf(DEMO_DESIGN);
    const inputs = groups.flatMap(({ inputs }) => inputs);
    const find = (path: string) => inputs.find((input) => input.path === path);
    expect(find('demand.loads[2].through[1].capacityAh')).toMatchObject({
      owner: 'charging\u2019s cell',
      words: 'capacity',
      text: '1.8 Ah',
    });
    // A charger's efficiency is not a converter's, though the keys are the same.
    expect(find('demand.loads[2].through[0].efficiency')).toMatchObject({
      owner: 'charging\u2019s charger',
      words: 'efficiency',
    });
    expect(inputs.map(({ owner }) => owner).filter((owner) => /\d/.test(owner))).toEqual([]);
    const told = inputs.map(({ owner, words }) => `${owner}: ${words}`);
    expect(told.filter((line, i) => told.indexOf(line) !== i && !line.startsWith(':'))).toEqual([]);
  });

  it('marks just those that were not given', () => {
    const { design, groups } = listOf(STARTING_POINTS[0]!.document);
    const marked = groups.flatMap(({ inputs }) => inputs.filter(({ assumed }) => assumed).map(({ path }) => path));
    const listed = new Set(groups.flatMap(({ inputs }) => inputs.map(({ path }) => path)));
    expect(marked.length).toBeGreaterThan(5);
    expect(marked.toSorted()).toEqual((design.assumed ?? []).filter((path) => listed.has(path)).toSorted());
  });

  it('has every input of the format once, and no empty line', () => {
    for (const { document } of STARTING_POINTS) {
      const inputs = listOf(document).groups.flatMap((group) => group.inputs);
      const paths = inputs.map(({ path }) => path);
      expect(new Set(paths).size).toBe(paths.length);
      for (const { words, text, path } of inputs) {
        expect(words, path).not.toBe('');
        expect(text, path).not.toMatch(/^$|object|undefined/);
      }
    }
  });
});
