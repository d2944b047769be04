import type { DesignDocument } from '../../design/schema.ts';

/** A load as the document holds it. */
export type LoadEntry = DesignDocument['demand']['loads'][number];

/** The document with another list of loads. */
export function withLoads(document: DesignDocument, loads: readonly LoadEntry[]): DesignDocument {
  return { ...document, demand: { ...document.demand, loads: [...loads] } };
}

/** A load without the name among those that run beside it; one whose list falls empty has none. */
export function without(load: LoadEntry, name: string): LoadEntry {
  if (!load.alongside?.includes(name)) return load;
  const { alongside, ...rest } = load;
  const left = alongside.filter((other) => other !== name);
  return left.length === 0 ? rest : { ...rest, alongside: left };
}
