/** A small DXF reader of the tests' own: group pairs, layers and entities, nothing shared with the writer. */

export interface DxfEntity {
  readonly type: string;
  readonly layer: string;
  /** Points of lines, vertices and insertion points. */
  readonly points: [number, number][];
  readonly bulges: number[];
  readonly radius: number;
  readonly closed: boolean;
  readonly text: string;
}

export interface DxfFile {
  readonly version: string;
  readonly header: Map<string, (string | number)[]>;
  readonly layers: string[];
  readonly entities: DxfEntity[];
}

export function readDxf(source: string): DxfFile {
  const lines = source.split(/\r?\n/);
  if (lines.at(-1) === '') lines.pop();
  if (lines.length % 2 !== 0) throw new Error('odd number of lines');
  const pairs: [number, string][] = [];
  for (let k = 0; k < lines.length; k += 2) {
    if (!/^\s*\d+$/.test(lines[k])) throw new Error(`not a group code: ${lines[k]}`);
    pairs.push([Number(lines[k]), lines[k + 1]]);
  }
  if (pairs.at(-1)?.[1] !== 'EOF') throw new Error('no EOF');
  const header = new Map<string, (string | number)[]>();
  const layers: string[] = [];
  const entities: DxfEntity[] = [];
  let version = '';
  let section = '';
  let variable = '';
  let current: DxfEntity | null = null;
  let open: DxfEntity | null = null;
  let record = '';
  for (const [code, value] of pairs) {
    if (code === 999) continue;
    if (code === 0) {
      if (value === 'SECTION' || value === 'ENDSEC' || value === 'EOF') {
        section = '';
        current = null;
        record = value;
        continue;
      }
      record = value;
      if (section === 'ENTITIES') {
        if (value === 'SEQEND') {
          open = null;
          current = null;
          continue;
        }
        if (value === 'VERTEX') {
          if (!open) throw new Error('vertex outside a polyline');
          open.points.push([Number.NaN, Number.NaN]);
          open.bulges.push(0);
          current = null;
          continue;
        }
        current = { type: value, layer: '', points: [], bulges: [], radius: Number.NaN, closed: false, text: '' };
        entities.push(current);
        if (value === 'POLYLINE') open = current;
      }
      continue;
    }
    if (record === 'SECTION' && code === 2 && section === '') {
      section = value;
      continue;
    }
    if (section === 'HEADER') {
      if (code === 9) {
        variable = value;
        header.set(variable, []);
      } else {
        header.get(variable)?.push(code === 1 ? value : Number(value));
        if (variable === '$ACADVER') version = value;
      }
      continue;
    }
    if (section === 'TABLES' && record === 'LAYER' && code === 2) {
      layers.push(value);
      continue;
    }
    if (section !== 'ENTITIES') continue;
    if (record === 'VERTEX' && open) {
      const point = open.points[open.points.length - 1];
      if (code === 10) point[0] = Number(value);
      else if (code === 20) point[1] = Number(value);
      else if (code === 42) open.bulges[open.bulges.length - 1] = Number(value);
      else if (code === 8 && value !== open.layer) throw new Error('vertex on another layer');
      continue;
    }
    if (!current) continue;
    const mutable = current as { -readonly [K in keyof DxfEntity]: DxfEntity[K] };
    if (code === 8) mutable.layer = value;
    else if (code === 40) mutable.radius = Number(value);
    else if (code === 1) mutable.text = value;
    else if (code === 70) mutable.closed = (Number(value) & 1) === 1;
    else if (code === 10 && current.type !== 'POLYLINE') current.points.push([Number(value), Number.NaN]);
    else if (code === 20 && current.type !== 'POLYLINE') current.points[current.points.length - 1][1] = Number(value);
  }
  return { version, header, layers, entities };
}

/** Box of everything drawn on a layer, arcs of bulges by their chords' sagitta points. */
export function layerBox(file: DxfFile, layer: string): [number, number, number, number] {
  const box: [number, number, number, number] = [1e9, 1e9, -1e9, -1e9];
  const add = (x: number, y: number) => {
    box[0] = Math.min(box[0], x);
    box[1] = Math.min(box[1], y);
    box[2] = Math.max(box[2], x);
    box[3] = Math.max(box[3], y);
  };
  for (const e of file.entities) {
    if (e.layer !== layer || e.type === 'TEXT') continue;
    for (const [x, y] of e.points) {
      const r = e.type === 'CIRCLE' ? e.radius : 0;
      add(x - r, y - r);
      add(x + r, y + r);
    }
  }
  return box;
}
