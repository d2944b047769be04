import type { FlowLoss, FlowNode } from '../analysis/feed/flow.ts';

/** A filled stretch of the picture. Its width across the flow is its watts. */
export interface FlowShape {
  readonly id: string;
  readonly kind: 'stretch' | 'loss';
  readonly side: FlowNode['side'];
  readonly path: string;
}

/** Stretches of one line of a label, set beside each other. */
export type FlowLine = readonly { readonly text: string; readonly role: 'name' | 'watts' | 'band' }[];

export interface FlowLabel {
  readonly id: string;
  readonly kind: 'stretch' | 'loss' | 'end';
  readonly x: number;
  /** Baseline of the first line. */
  readonly y: number;
  readonly anchor: 'start' | 'middle' | 'end';
  readonly lines: readonly FlowLine[];
}

export interface FlowLayout {
  readonly width: number;
  readonly height: number;
  readonly pxPerWatt: number;
  readonly shapes: readonly FlowShape[];
  readonly labels: readonly FlowLabel[];
  /** The slit that stands for the gap between the coils; null where no receiver is in the flow. */
  readonly gap: { readonly x1: number; readonly y1: number; readonly x2: number; readonly y2: number } | null;
}

export interface FlowTexts {
  /** Watts and their band; an empty band prints nothing. */
  readonly watts: (id: string, watts: number) => { readonly text: string; readonly band: string };
  /** Width of a line of a label, px. */
  readonly measure: (text: string) => number;
}

export const LINE_PX = 16;
/** Below this the flow runs down the page instead of across it. */
export const ACROSS_FROM_PX = 900;
const THICKEST = { across: 96, down: 78 } as const;
const BEND = 9;
const TIP = 7;
/** Ribbons thinner than this could not be seen. */
const HAIR = 0.8;

const round = (value: number): number => Math.round(value * 100) / 100;
const at = (x: number, y: number): string => `${round(x)},${round(y)}`;

/** A chain of stretches that do not part, and what they part into. */
interface Run {
  readonly nodes: readonly FlowNode[];
  readonly branches: readonly Run[];
}

function runOf(first: FlowNode): Run {
  const nodes = [first];
  let last = first;
  while (last.next.length === 1) {
    last = last.next[0];
    nodes.push(last);
  }
  // What loses nothing comes first, so that losses never cross another ribbon.
  const lossy = (run: Run): number => (run.nodes.some((node) => node.losses.length > 0) ? 1 : 0);
  const branches = last.next.map(runOf).sort((a, b) => lossy(a) - lossy(b));
  return { nodes, branches };
}

const lossesOf = (run: Run): number => run.nodes.reduce((sum, node) => sum + node.losses.length, 0);

/** Splits a name over two lines where it is too wide. */
function wrapped(name: string, room: number, measure: FlowTexts['measure']): string[] {
  const words = name.split(' ');
  if (measure(name) <= room || words.length === 1) return [name];
  let best = 1;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 1; i < words.length; i += 1) {
    const widest = Math.max(measure(words.slice(0, i).join(' ')), measure(words.slice(i).join(' ')));
    if (widest < least) {
      least = widest;
      best = i;
    }
  }
  return [words.slice(0, best).join(' '), words.slice(best).join(' ')];
}

function linesFor(
  item: Pick<FlowNode | FlowLoss, 'id' | 'name' | 'watts'>,
  texts: FlowTexts,
  room: number,
): FlowLabel['lines'] {
  const { text, band } = texts.watts(item.id, item.watts);
  return [
    ...wrapped(item.name, room, texts.measure).map((line): FlowLine => [{ text: line, role: 'name' }]),
    [{ text, role: 'watts' }],
    ...(band === '' ? [] : [[{ text: band, role: 'band' as const }]]),
  ];
}

/** Lays the flow out across the page where there is room, down the page where there is not. */
export function flowLayout(root: FlowNode, width: number, texts: FlowTexts): FlowLayout {
  return width >= ACROSS_FROM_PX ? acrossLayout(root, width, texts) : downLayout(root, width, texts);
}

function acrossLayout(root: FlowNode, width: number, texts: FlowTexts): FlowLayout {
  const run = runOf(root);
  const pxPerWatt = THICKEST.across / Math.max(root.watts, 1e-9);
  const shapes: FlowShape[] = [];
  const labels: FlowLabel[] = [];
  let gap: FlowLayout['gap'] = null;
  const units = (of: Run): number =>
    of.nodes.reduce((sum, node) => sum + Math.max(node.next.length === 0 ? 0.15 : 0.8, node.losses.length), 0) +
    (of.branches.length === 0 ? 0 : 0.55 + Math.max(...of.branches.map(units)));
  const ends: FlowNode[] = [];
  const collect = (of: Run): void => {
    if (of.branches.length === 0) ends.push(of.nodes[of.nodes.length - 1]);
    of.branches.forEach(collect);
  };
  collect(run);
  const endRoom =
    16 +
    Math.max(...ends.map((end) => Math.max(...linesFor(end, texts, 130).map((line) => texts.measure(lineText(line))))));
  const unit = (width - 2 - endRoom) / units(run);
  // Every end reaches as far to the right as the longest.
  const endX = width - endRoom;
  let low = 0;

  const lay = (of: Run, x0: number, top: number): number => {
    let x = x0;
    let bottom = top + of.nodes[0].watts * pxPerWatt;
    const lane = bottom + BEND + 14;
    // Names of one row stand on one line, whether their watts carry a band or not.
    const tallest = Math.max(
      2,
      ...of.nodes.filter((node) => node.next.length > 0).map((node) => linesFor(node, texts, 1e9).length),
    );
    for (const node of of.nodes) {
      const last = node.next.length === 0;
      const length = last ? Math.max(endX - x, 6) : unit * Math.max(0.8, node.losses.length);
      if (node.side === 'receiver' && gap === null && x > x0) {
        gap = { x1: x, y1: top - 8, x2: x, y2: bottom + 8 };
      }
      let outline = `M${at(x, top)}H${round(x + length)}`;
      let lower = `L${at(x, bottom)}`;
      let edge = bottom;
      node.losses.forEach((loss, i) => {
        const thick = Math.max(loss.watts * pxPerWatt, HAIR);
        const from = x + unit * (i + 0.12);
        lower = `L${at(from, edge - loss.watts * pxPerWatt)}L${at(from, edge)}${lower}`;
        shapes.push({ id: loss.id, kind: 'loss', side: node.side, path: downward(from, edge, thick, lane) });
        const lines = linesFor(loss, texts, unit - 10);
        const half = Math.max(...lines.map((line) => texts.measure(lineText(line)))) / 2;
        labels.push({
          id: loss.id,
          kind: 'loss',
          x: Math.max(half, from + BEND + thick / 2),
          y: lane + TIP + 15,
          anchor: 'middle',
          lines,
        });
        low = Math.max(low, lane + TIP + 15 + 3 * LINE_PX + 4);
        edge -= loss.watts * pxPerWatt;
      });
      outline += `V${round(edge)}${lower}Z`;
      shapes.push({ id: node.id, kind: 'stretch', side: node.side, path: outline });
      if (last) {
        const lines = linesFor(node, texts, 130);
        const middle = (top + edge) / 2;
        labels.push({
          id: node.id,
          kind: 'end',
          x: x + length + 8,
          y: middle - ((lines.length - 1) * LINE_PX) / 2 + 4,
          anchor: 'start',
          lines,
        });
        low = Math.max(low, middle + (lines.length * LINE_PX) / 2 + 4);
      } else {
        const lines = linesFor(node, texts, 1e9);
        const y = top - 9 - (tallest - 1) * LINE_PX;
        labels.push({ id: node.id, kind: 'stretch', x: x + 1, y, anchor: 'start', lines });
      }
      bottom = edge;
      x += length;
    }
    let from = top;
    let row = top;
    let rowEnd = Math.max(bottom, lane - BEND);
    of.branches.forEach((branch, i) => {
      const thick = branch.nodes[0].watts * pxPerWatt;
      if (i > 0) row = rowEnd + 12 + 3 * LINE_PX;
      const to = x + 0.55 * unit;
      const middle = (x + to) / 2;
      shapes.push({
        id: branch.nodes[0].id,
        kind: 'stretch',
        side: branch.nodes[0].side,
        path: `M${at(x, from)}C${at(middle, from)} ${at(middle, row)} ${at(to, row)}V${round(row + thick)}C${at(middle, row + thick)} ${at(middle, from + thick)} ${at(x, from + thick)}Z`,
      });
      rowEnd = lay(branch, to, row);
      from += thick;
    });
    low = Math.max(low, bottom);
    if (of.branches.length > 0) return rowEnd;
    return lossesOf(of) > 0 ? lane + TIP + 15 + 3 * LINE_PX : top + of.nodes[0].watts * pxPerWatt;
  };
  lay(run, 1, 3 * LINE_PX + 14);
  return { width, height: Math.ceil(low + 2), pxPerWatt, shapes, labels, gap };
}

/** A ribbon that leaves the lower edge, turns down and ends in a point. */
function downward(x: number, edge: number, thick: number, lane: number): string {
  const outer = BEND + thick;
  return `M${at(x, edge - thick)}A${round(outer)},${round(outer)} 0 0 1 ${at(x + outer, edge + BEND)}V${round(lane)}L${at(x + BEND + thick / 2, lane + TIP)}L${at(x + BEND, lane)}V${round(edge + BEND)}A${BEND},${BEND} 0 0 0 ${at(x, edge)}Z`;
}

/** The same to the right, from the right edge. */
function rightward(y: number, edge: number, thick: number, lane: number): string {
  const outer = BEND + thick;
  return `M${at(edge - thick, y)}A${round(outer)},${round(outer)} 0 0 0 ${at(edge + BEND, y + outer)}H${round(lane)}L${at(lane + TIP, y + BEND + thick / 2)}L${at(lane, y + BEND)}H${round(edge + BEND)}A${BEND},${BEND} 0 0 1 ${at(edge, y)}Z`;
}

function downLayout(root: FlowNode, width: number, texts: FlowTexts): FlowLayout {
  const thickest = Math.min(THICKEST.down, 0.24 * width);
  const pxPerWatt = thickest / Math.max(root.watts, 1e-9);
  const shapes: FlowShape[] = [];
  const labels: FlowLabel[] = [];
  let gap: FlowLayout['gap'] = null;
  const left = 2;
  const lane = left + thickest + BEND + 12;
  const room = width - lane - TIP - 8;
  let edge = left + thickest;
  let y = 8 + LINE_PX + 6;
  labels.push({ id: root.id, kind: 'stretch', x: left, y: 14, anchor: 'start', lines: joined(root, texts) });

  const peel = (item: FlowNode | FlowLoss, side: FlowNode['side'], kind: 'loss' | 'end'): void => {
    const thick = Math.max(item.watts * pxPerWatt, HAIR);
    shapes.push({
      id: item.id,
      kind: kind === 'loss' ? 'loss' : 'stretch',
      side,
      path: rightward(y, edge, thick, lane),
    });
    const lines = twoLines(item, texts, room);
    const middle = y + BEND + thick / 2;
    labels.push({
      id: item.id,
      kind,
      x: lane + TIP + 6,
      y: middle - ((lines.length - 1) * LINE_PX) / 2 + 4,
      anchor: 'start',
      lines,
    });
    edge -= item.watts * pxPerWatt;
    y += Math.max(BEND + thick + 8, (lines.length + 0.4) * LINE_PX);
  };

  const lay = (of: Run): void => {
    for (const node of of.nodes) {
      const last = node.next.length === 0;
      if (node.side === 'receiver' && gap === null && shapes.length > 0) {
        gap = { x1: left - 2, y1: y - 3, x2: edge + 8, y2: y - 3 };
      }
      const top = y;
      const start = edge;
      const steps: [number, number][] = [];
      if (node.losses.length === 0) y += last ? 16 : 10;
      for (const loss of node.losses) {
        const from = y;
        const before = edge;
        peel(loss, node.side, 'loss');
        steps.push([from, before]);
      }
      const parting = node.next.length > 1 ? of.branches.slice(0, -1) : [];
      for (const branch of parting) {
        steps.push([y, edge]);
        peel(branch.nodes[0], branch.nodes[0].side, 'end');
      }
      let path = `M${at(left, top)}H${round(start)}`;
      steps.forEach(([from, before], i) => {
        const after = i + 1 < steps.length ? steps[i + 1][1] : edge;
        path += `V${round(from)}L${at(before, from)}L${at(after, from)}`;
      });
      shapes.push({ id: node.id, kind: 'stretch', side: node.side, path: `${path}V${round(y)}H${left}Z` });
      if (last) {
        y += LINE_PX + 2;
        labels.push({ id: node.id, kind: 'end', x: left, y, anchor: 'start', lines: joined(node, texts) });
      }
    }
    const tail = of.branches.at(-1);
    if (tail) lay(tail);
  };
  lay(runOf(root));
  return { width, height: Math.ceil(y + 8), pxPerWatt, shapes, labels, gap };
}

/** What a line says, as one text. */
export function lineText(line: FlowLine): string {
  return line.map((part) => part.text).join(' ');
}

/** Watts and band beside each other. */
function wattsLine(item: FlowNode | FlowLoss, texts: FlowTexts): FlowLine {
  const { text, band } = texts.watts(item.id, item.watts);
  return [{ text, role: 'watts' }, ...(band === '' ? [] : [{ text: band, role: 'band' as const }])];
}

/** Name, watts and band on one line. */
function joined(item: FlowNode | FlowLoss, texts: FlowTexts): FlowLabel['lines'] {
  return [[{ text: item.name, role: 'name' }, ...wattsLine(item, texts)]];
}

/** On one line where there is room, else the name over the rest. */
function twoLines(item: FlowNode | FlowLoss, texts: FlowTexts, room: number): FlowLabel['lines'] {
  const one = joined(item, texts);
  return texts.measure(lineText(one[0])) <= room ? one : [[{ text: item.name, role: 'name' }], wattsLine(item, texts)];
}
