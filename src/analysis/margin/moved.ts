import { withValueAt } from '../../design/edit.ts';
import { parsePath, valueAt } from '../../design/path.ts';
import type { Design } from '../../design/types.ts';

/** The design with the number at a path moved by an amount; as it is where the path holds no number. */
export function moved(design: Design, path: string, by: number): Design {
  const parsed = parsePath(path);
  if (!parsed.ok) return design;
  const value = valueAt(design, parsed.segments);
  if (typeof value !== 'number') return design;
  const edited = withValueAt(design, parsed.segments, value + by);
  return edited.ok ? (edited.document as Design) : design;
}
