/** The plan as a DXF drawing: release 12 ASCII, which every drawing program reads. Millimetres. */
import { type PlanLayer, type PlanShape, planBox, roundedCorners } from './plan-shapes.ts';
import { dxfText } from './text-escape.ts';

/** Layer name and colour number of each kind of shape. */
export const DXF_LAYERS: Readonly<Record<PlanLayer, { readonly name: string; readonly colour: number }>> = {
  transmitterCoil: { name: 'TRANSMITTER_COIL', colour: 30 },
  receiverCoil: { name: 'RECEIVER_COIL', colour: 5 },
  device: { name: 'DEVICE', colour: 8 },
  recess: { name: 'RECESS', colour: 7 },
  magnets: { name: 'MAGNETS', colour: 6 },
  safeOutline: { name: 'SAFE_OUTLINE', colour: 3 },
  collapseOutline: { name: 'COLLAPSE', colour: 1 },
  wakeOutline: { name: 'WAKE_LIMIT', colour: 4 },
  restBand: { name: 'REST_BAND', colour: 2 },
  marks: { name: 'MARKS', colour: 9 },
};

/** tan of a sixteenth turn: the bulge of a quarter circle (tan of a quarter of the included angle). */
const QUARTER_BULGE = Math.tan(Math.PI / 8);

/**
 * DXF release 12 of the shapes, with centre marks, a 50 mm check bar and a line of text saying the unit.
 * @param title goes into a comment and a text; may hold anything.
 *
 * Circles are CIRCLE entities, rounded rectangles and outlines closed POLYLINEs with true arcs (bulges) at the corners,
 * coordinates with 6 decimals (1 nm). Source: Autodesk DXF reference for release 12, ENTITIES and HEADER sections (from
 * memory; read back by an independent reader in the tests).
 */
export function planDxf(shapes: readonly PlanShape[], title: string): string {
  const out: string[] = [];
  const put = (code: number, value: string | number) => {
    out.push(String(code).padStart(3), typeof value === 'number' ? dxfNumber(value, code === 42 ? 12 : 6) : value);
  };
  const int = (code: number, value: number) => out.push(String(code).padStart(3), String(value).padStart(6));
  const box = planBox(shapes);
  const barY = box.fromY - 12;
  const all: PlanShape[] = [...shapes, ...markShapes(barY)];
  const extent = planBox(all);

  put(999, dxfText(`Offcentre plan, millimetres: ${title}`));
  put(0, 'SECTION');
  put(2, 'HEADER');
  put(9, '$ACADVER');
  put(1, 'AC1009');
  put(9, '$INSUNITS');
  int(70, 4);
  for (const [name, x, y] of [
    ['$EXTMIN', extent.fromX, extent.fromY],
    ['$EXTMAX', extent.toX, extent.toY],
    ['$LIMMIN', extent.fromX, extent.fromY],
    ['$LIMMAX', extent.toX, extent.toY],
  ] as const) {
    put(9, name);
    put(10, x);
    put(20, y);
    if (name.startsWith('$EXT')) put(30, 0);
  }
  put(0, 'ENDSEC');

  put(0, 'SECTION');
  put(2, 'TABLES');
  put(0, 'TABLE');
  put(2, 'LTYPE');
  int(70, 1);
  put(0, 'LTYPE');
  put(2, 'CONTINUOUS');
  int(70, 64);
  put(3, 'Solid line');
  int(72, 65);
  int(73, 0);
  put(40, 0);
  put(0, 'ENDTAB');
  const layers = Object.values(DXF_LAYERS);
  put(0, 'TABLE');
  put(2, 'LAYER');
  int(70, layers.length + 1);
  for (const layer of [{ name: '0', colour: 7 }, ...layers]) {
    put(0, 'LAYER');
    put(2, layer.name);
    int(70, 0);
    int(62, layer.colour);
    put(6, 'CONTINUOUS');
  }
  put(0, 'ENDTAB');
  put(0, 'ENDSEC');

  put(0, 'SECTION');
  put(2, 'ENTITIES');
  const polyline = (layer: string, points: ArrayLike<number>, bulges: readonly number[] | null, closed: boolean) => {
    put(0, 'POLYLINE');
    put(8, layer);
    int(66, 1);
    put(10, 0);
    put(20, 0);
    put(30, 0);
    int(70, closed ? 1 : 0);
    for (let k = 0; k < points.length; k += 2) {
      put(0, 'VERTEX');
      put(8, layer);
      put(10, points[k]!);
      put(20, points[k + 1]!);
      put(30, 0);
      const bulge = bulges?.[k / 2] ?? 0;
      if (bulge !== 0) put(42, bulge);
    }
    put(0, 'SEQEND');
    put(8, layer);
  };
  for (const shape of all) {
    const layer = DXF_LAYERS[shape.layer].name;
    if (shape.kind === 'circle') {
      put(0, 'CIRCLE');
      put(8, layer);
      put(10, shape.x);
      put(20, shape.y);
      put(30, 0);
      put(40, shape.radius);
    } else if (shape.kind === 'polyline') polyline(layer, shape.points, null, shape.closed);
    else if (shape.cornerRadius > 0)
      polyline(
        layer,
        roundedCorners(shape),
        Array.from({ length: 8 }, (_, k) => (k % 2 === 0 ? QUARTER_BULGE : 0)),
        true,
      );
    else {
      const corners = roundedCorners(shape);
      polyline(
        layer,
        Float64Array.from([0, 1, 4, 5, 8, 9, 12, 13], (k) => corners[k]),
        null,
        true,
      );
    }
  }
  const note = (text: string, y: number) => {
    put(0, 'TEXT');
    put(8, DXF_LAYERS.marks.name);
    put(10, -25);
    put(20, y);
    put(30, 0);
    put(40, 2.5);
    put(1, dxfText(text));
  };
  note('50 mm', barY + 2);
  note(title, barY - 5);
  note('All lengths in millimetres', barY - 9);
  put(0, 'ENDSEC');
  put(0, 'EOF');
  return `${out.join('\r\n')}\r\n`;
}

/** Cross at the transmitter's axis and the 50 mm check bar. */
export function markShapes(barY: number): PlanShape[] {
  const line = (...points: number[]): PlanShape => ({
    layer: 'marks',
    kind: 'polyline',
    points: Float64Array.from(points),
    closed: false,
  });
  return [
    line(-5, 0, 5, 0),
    line(0, -5, 0, 5),
    line(-25, barY, 25, barY),
    line(-25, barY - 1.5, -25, barY + 1.5),
    line(25, barY - 1.5, 25, barY + 1.5),
  ];
}

function dxfNumber(value: number, digits: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`a drawing coordinate must be finite; received ${value}`);
  const text = value.toFixed(digits);
  return /^-0\.0*$/.test(text) ? text.slice(1) : text;
}
